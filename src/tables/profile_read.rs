//! A profile, read from its rows: the built-in ones and a team's own file alike.

use super::area_lines::draw_lines;
use super::profile::Profile;
use super::profile_kinds::{Rows, kinds};
use super::profile_rows::UsualWidth;
use super::profile_sound;
use super::row::{Cite, nodes, row};
use super::rules::{TABLE_KEY_UNUSED, TABLE_KIND_UNKNOWN};
use super::service::Service;
use crate::ground::{At, Day, Finding, Findings, Span, nearest};
use crate::source::{Node, Reading, Tried, UNKNOWN_KEY, record, record_of};
use std::sync::{Arc, OnceLock};

record! {
    /// `[profile]`, as written.
    pub struct WrittenProfile = "row of a table" {
        /// As plans write it.
        id: String,
        /// The profile whose rows and words count where this one has none.
        base: Option<At<String>>,
        /// The profile whose band plan counts where this one has none.
        band_plan: Option<At<String>>,
        /// What a width is that a plan leaves out.
        width: Option<UsualWidth>,
        /// Whether distances over ground are printed in miles too.
        miles: bool,
        /// Name of the country.
        name: String,
        /// The rule set with its date, as printed.
        rule_set: String,
        /// Last day on which somebody looked for changes.
        checked_on: Option<Tried<Day>>,
        /// Day by which somebody must look again.
        review_by: Option<Tried<Day>>,
        /// Where the rule set is from.
        cite: Cite,
        /// Language of the words, as `en-US`.
        language: Option<Tried<String>>,
        /// Usual paper.
        paper: Option<Tried<String>>,
        /// The identification rule in a sentence.
        identification: Option<Tried<String>>,
        /// The identification rule in a few words.
        identification_short: Option<Tried<String>>,
        /// Precedence words, highest first.
        precedence: Option<Tried<Vec<At<String>>>>,
        /// Words that no name said on the air may have.
        forbidden: Option<Tried<Vec<At<String>>>>,
        /// Whose privileges count, in a sentence.
        control_operator: Option<Tried<String>>,
    }
}

/// Reports kinds of rows that there are not, and keys that a kind does not use: a limit under a wrong name would bind nothing.
/// Gives back the places of such keys.
fn look_for_strangers(root: &Node, found: &mut Findings) -> Vec<Span> {
    let (kinds, mut unused) = (kinds(), Vec::new());
    for (key, _) in root.entries().unwrap_or_default().iter().filter(|(key, _)| key.text != "profile") {
        let Some((_, keys)) = kinds.iter().find(|(kind, _)| *kind == key.text) else {
            let finding = Finding::new(&TABLE_KIND_UNKNOWN, key.span, format!("a profile has no rows `{}`", key.text))
                .label("no kind of row");
            let names = || kinds.iter().map(|(kind, _)| *kind);
            found.push(match nearest(&key.text, names()) {
                Some(name) => finding.help(format!("did you mean `{name}`?")).fix(key.span, name),
                None => finding.note(format!("kinds of rows: {}", names().collect::<Vec<_>>().join(", "))),
            });
            continue;
        };
        let is_of_others = |key: &str| kinds.iter().any(|(_, others)| others.contains(&key));
        for (written, _) in nodes(root, &key.text).iter().flat_map(|row| row.entries().unwrap_or_default()) {
            if !keys.contains(&written.text.as_str()) && is_of_others(&written.text) {
                let what = format!("a row `{}` does not use `{}`", key.text, written.text);
                let finding = Finding::new(&TABLE_KEY_UNUSED, written.span, what).label("changes nothing here");
                found.push(finding.note(format!("its keys: {}", keys.join(", "))));
                unused.push(written.span);
            }
        }
    }
    unused
}

/// The profiles on which another may rest.
pub(super) struct KnownProfiles<'a> {
    /// Their ids.
    pub ids: Vec<&'static str>,
    /// The one of an id.
    pub named: &'a dyn Fn(&str) -> Option<&'a Profile>,
}

/// Whether a profile's rows are looked at for what no other check of them sees.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Trust {
    /// They are: a team's file may write anything, and a test asks of ours.
    Asked,
    /// A test holds them.
    Held,
}

impl Profile {
    /// Reads a profile. None when its head is not whole; a row that is not whole is left out and reported.
    ///
    /// With `base`, the id of one of `known`, what the file does not write is the base's: its head, and each row in
    /// whose place it sets none. Name, rule set, source and confidence are the file's own in any case. With `band-plan`
    /// the rows of the band plan are that profile's, in the same way.
    pub(super) fn read(root: &Node, (known, trust): (&KnownProfiles<'_>, Trust), found: &mut Findings) -> Option<Self> {
        if trust == Trust::Held {
            return Self::read_whole(root, known, found).map(|(profile, _)| profile);
        }
        let unused = look_for_strangers(root, found);
        let mut own = Findings::default();
        let read = Self::read_whole(root, known, &mut own);
        if let Some((profile, head)) = &read {
            profile_sound::check(profile, *head, &mut own);
        }
        own.retain(|finding| *finding.rule != UNKNOWN_KEY || !unused.contains(&finding.span));
        found.append(own);
        read.map(|(profile, _)| profile)
    }

    /// A profile, and where its head stands.
    fn read_whole(root: &Node, known: &KnownProfiles<'_>, found: &mut Findings) -> Option<(Self, Span)> {
        let node = nodes(root, "profile").first()?;
        let head: WrittenProfile = row(node, found, |of| record_of(node, of))?;
        let base = named(head.base.as_ref(), known, found)?;
        let band_plan = named(head.band_plan.as_ref(), known, found)?.or(base);
        let rows = Rows::read(root, base.map(|base| &base.rows), band_plan.map(|profile| &profile.rows), found);
        let amateur = profile_sound::amateur(&rows, node.span, found)?;
        let mut profile = row(node, found, |of| Self::of(head, base, (amateur, rows), of))?;
        draw_lines(&mut profile.rows, node.span, found);
        Some((profile, node.span))
    }

    /// A profile with its head: what that leaves out is the base's.
    fn of(
        head: WrittenProfile,
        base: Option<&Self>,
        (amateur, rows): (Arc<Service>, Rows),
        of: &mut Reading<'_>,
    ) -> Option<Self> {
        let list = |field: Option<Tried<Vec<At<String>>>>, base: Option<&Vec<String>>| match (field, base) {
            (None, Some(base)) => base.clone(),
            (field, _) => field.and_then(|cell| cell.value).into_iter().flatten().map(|at| at.value).collect(),
        };
        let language = or_base(head.language, "language", base.map(|base| &base.language), of);
        let paper = or_base(head.paper, "paper", base.map(|base| &base.paper), of);
        let identification = or_base(head.identification, "identification", base.map(|base| &base.identification), of);
        let short = base.map(|base| &base.identification_short);
        let identification_short = or_base(head.identification_short, "identification-short", short, of);
        let operator = base.map(|base| &base.control_operator);
        let control_operator = or_base(head.control_operator, "control-operator", operator, of);
        let checked_on = or_base(head.checked_on, "checked-on", base.map(|base| &base.checked_on), of);
        let review_by = or_base(head.review_by, "review-by", base.map(|base| &base.review_by), of);
        Some(Self {
            id: head.id,
            name: head.name,
            rule_set: head.rule_set,
            checked_on: checked_on?,
            review_by: review_by?,
            cite: head.cite,
            language: language?,
            paper: paper?,
            identification: identification?,
            identification_short: identification_short?,
            precedence: list(head.precedence, base.map(|base| &base.precedence)),
            forbidden: list(head.forbidden, base.map(|base| &base.forbidden)),
            control_operator: control_operator?,
            usual_width: head.width.or(base.map(|base| base.usual_width)).unwrap_or(UsualWidth::Wide),
            has_miles: head.miles || base.is_some_and(|base| base.has_miles),
            amateur,
            standards: OnceLock::new(),
            rows,
        })
    }
}

/// A key of the head, which must be there unless the base has it.
fn or_base<T: Clone>(field: Option<Tried<T>>, key: &str, base: Option<&T>, of: &mut Reading<'_>) -> Option<T> {
    match base {
        Some(base) if field.is_none() => Some(base.clone()),
        _ => of.must(field, key).map(|at| at.value),
    }
}

/// The known profile that a key of the head names. None when it names none that there is.
fn named<'a>(
    name: Option<&At<String>>,
    known: &KnownProfiles<'a>,
    found: &mut Findings,
) -> Option<Option<&'a Profile>> {
    let Some(name) = name else { return Some(None) };
    let profile = (known.named)(&name.value);
    if profile.is_none() {
        profile_sound::unknown_base(name, &known.ids, found);
    }
    profile.map(Some)
}
