//! Whether a licence class may be the control operator of a signal, by the rows of a profile.
//!
//! Amateur service only. Privileges are those of the control operator (47 CFR 97.105, 97.115).

use super::{Emission, emission_of, occupied_by, strayed, widened};
use crate::ground::{Frequency, Stretch, Tolerance, Width, article};
use crate::plan::{Side, Signal};
use crate::tables::{Cite, Class, EmissionRow, EmissionType, Modes, PowerLimit, Profile, Tables};

/// A signal with the radio's dial where it is sent.
#[derive(Clone, Copy, Debug)]
pub struct Sent<'a> {
    /// As dialled.
    pub dial: Frequency,
    /// How it is made.
    pub signal: &'a Signal,
    /// The sideband, on an HF dial.
    pub side: Option<Side>,
    /// How far the radio may be off.
    pub tolerance: Tolerance,
    /// How far from the dial, below it and above, whoever sends may go.
    pub strays: [Width; 2],
}

/// Why a class may not send.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Refused {
    /// In words that follow a frequency: "is outside what a Technician may use".
    pub reason: String,
    /// The row relied on; none where no row says anything of the stretch.
    pub cite: Option<Cite>,
}

impl Refused {
    fn new(reason: impl Into<String>, cite: Option<&Cite>) -> Self {
        Self { reason: reason.into(), cite: cite.cloned() }
    }
}

/// Whether `class` may be in control of what is sent.
///
/// # Errors
/// Why not, with the row relied on.
pub fn may_send(tables: &Tables, profile: &Profile, class: &Class, sent: &Sent<'_>) -> Result<(), Refused> {
    let Sent { dial, signal, side, tolerance, strays } = *sent;
    let unclear = |what: String| Refused::new(what, None);
    let emission = emission_of(signal, &tables.modes).map_err(|refusal| unclear(refusal.what))?;
    let stretch = occupied_by(profile, &tables.modes, dial, signal, side)
        .and_then(|stretch| if is_channel(profile, &stretch) { Ok(stretch) } else { widened(&stretch, tolerance) })
        .and_then(|stretch| strayed(&stretch, strays))
        .map_err(|_| unclear("leaves all radio".to_owned()))?;
    holds_privilege(profile, class, &stretch)?;
    let kind = emission.emission_type();
    if kind == EmissionType::Cw {
        return Ok(());
    }
    let allowing = |row: &&EmissionRow| row.types.contains(&kind) && is_row_for(row, class, &emission);
    if Stretch::are_covering(profile.emissions.iter().filter(allowing).map(|row| row.edges), &stretch) {
        return Ok(());
    }
    let near = profile.emissions.iter().find(|row| row.edges.overlaps(&stretch));
    let words = format!("is not open to {} sent by {} {}", kind.term(), article(&class.name), class.name);
    Err(Refused::new(words, near.map(|row| &row.cite)))
}

/// Whether a stretch is one that the law names by its centre: the law sets the dial there, and no edge is near.
fn is_channel(profile: &Profile, stretch: &Stretch) -> bool {
    profile.privileges.iter().any(|row| row.centre.is_some() && row.edges.holds(stretch))
}

fn holds_privilege(profile: &Profile, class: &Class, stretch: &Stretch) -> Result<(), Refused> {
    let rows = || profile.privileges.iter().filter(|row| row.classes.contains(&class.id));
    if Stretch::are_covering(rows().map(|row| row.edges), stretch) {
        return Ok(());
    }
    let near = rows().find(|row| row.edges.overlaps(stretch));
    let any = profile.privileges.iter().find(|row| row.edges.overlaps(stretch));
    let who = format!("{} {}", article(&class.name), class.name);
    let (reason, cite) = match near {
        Some(row) => (format!("reaches past what {who} may use, {}", row.edges), Some(&row.cite)),
        None => (format!("is outside what {who} may use"), any.map(|row| &row.cite)),
    };
    Err(Refused::new(reason, cite))
}

fn is_row_for(row: &EmissionRow, class: &Class, emission: &Emission) -> bool {
    let is_limited = row.ssb_only_for.contains(&class.id) && !emission.is_ssb_phone();
    !row.not_for.contains(&class.id) && !is_limited
}

/// The most power that the law leaves `class` where `stretch` lies, beside what binds everybody; none where nothing does.
#[must_use]
pub fn class_limit<'a>(profile: &'a Profile, class: &Class, stretch: &Stretch) -> Option<&'a PowerLimit> {
    let binds = |limit: &&PowerLimit| limit.classes.contains(&class.id) && limit.edges.overlaps(stretch);
    profile.power_limits.iter().filter(binds).min_by_key(|limit| limit.most.power)
}

/// The mode table's form of a signal, for its printed words.
#[must_use]
pub fn mode_words(signal: &Signal, modes: &Modes) -> String {
    use crate::plan::WidthWord;
    let is_narrow = signal.width.value == WidthWord::Narrow;
    let words =
        modes.form(signal.mode.word(), is_narrow).map_or_else(|| signal.mode.to_string(), |form| form.words.clone());
    match signal.width.value {
        WidthWord::Exact(width) => format!("{} {width}", signal.mode.value),
        WidthWord::Wide | WidthWord::Narrow => words,
    }
}
