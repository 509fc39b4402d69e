//! How far people keep from the antennas of a place while they send: a sign to post, and the figures behind it.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet, WantedAt};
use crate::compose::power_words::{body, places, small};
use crate::ground::{Audience, Decibels, Gain, Id, Power, Share, Span};
use crate::plan::{Antenna, Each, Mode, Place, Plan};
use crate::reckon::{Clearance, KeepOff, Keyed, Radiated, SiteEnd, Sites, feed_loss, from_patients, limit_at};
use crate::tables::{ExposureLimit, Profile, Tables};
use std::collections::BTreeSet;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "keep-off",
    title: "Keep-off sign",
    about: "for each place where the team sends: how far people keep from its antennas, public and those who know, by channel and power, and from patients' equipment",
    layout: "full",
    each: &[Each::Place, Each::Once],
    widest: Audience::Public,
    sections: &["keep-off", "no-sender"],
    tables: &[&CLEARANCES],
    compose: Compose::Where(
        compose,
        WantedAt { at: senders, others: "nothing of the team's sends there, by what the plan says" },
    ),
};

/// What sends there.
const CLEARANCES: TableKind = TableKind {
    key: "clearances",
    columns: &[
        Column::must("sends", "sends", Role::Name),
        Column::must("power", "power", Role::Body),
        Column::must("antenna", "antenna", Role::Body),
        Column::must("public", "everybody", Role::Body),
        Column::must("controlled", "who knows of it", Role::Body),
        Column::may("exempt", "exempt from", Role::Body).where_used(),
        Column::may("patients", "patients' equipment", Role::Body).where_used(),
    ],
    set: UsualSet::Grid,
};

/// Power where the plan says none (common practice, no source): that of a mobile radio.
const TAKEN: Power = Power::milliwatts(50_000);

/// How the figures are reckoned.
const NOTE: &str = "Reckoned as if the transmitter were keyed all the time, with 2.56 for reflection by the ground (OET Bulletin 65), single sideband with a fifth and Morse with two \
                    fifths of its power; no power given: 50 W; no gain given: a half-wave dipole; feed loss not known: none; by its maker's figure it goes by the root of the frequency. Never nearer than the wavelength through 2 pi, where \
                    nothing can be reckoned (*). From the antenna itself, in all directions. An estimate: the license holder answers for the station and evaluates it.";

/// Where patients are.
const PATIENTS: &str = "Distance of IEC 60601-1-2, editions of 2001 and 2007, as makers' manuals have it; the edition of 2014 has none. No distance is a guarantee.";

/// What else hurts at antennas.
const CAUTION: &str = "No antenna near power lines, nor where it could fall on one. In lightning: away from antennas and cables. Roofs and masts are for those who are trained and \
                       allowed to, with the site's consent. Local codes and what the site's staff say come first.";

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let limits = &view.profile().exposure_limits;
    let sites = Sites::asked_for(plan, view.profile(), &view.tables().modes);
    let mut sections = Vec::new();
    for place in places(view) {
        // Of a plan that was checked every signal can be reckoned.
        let Ok(site) = sites.at(place) else { continue };
        let own = site.senders.iter().filter(|end| is_own(end));
        let rows: Vec<Sender<'_>> = own.map(|end| Sender::of(plan, place, end, limits)).collect();
        if !rows.is_empty() {
            let mut section = section(place, &rows);
            section.blocks.extend([small(CAUTION), small(limit_words(&rows)), small(NOTE)]);
            sections.push(section);
        }
    }
    if sections.is_empty() {
        let blocks = vec![body(Text::own("Nothing of the team's sends here, by what the plan says.")), small(CAUTION)];
        sections.push(Section { key: "no-sender", title: Text::own("Keep off"), blocks });
    }
    sections
}

/// Whether the team sends there itself.
fn is_own(end: &SiteEnd) -> bool {
    end.keyed != Keyed::Others && !end.is_distant
}

/// The places where the team sends. Where nothing can be reckoned an error stands already.
fn senders(plan: &Plan, profile: &Profile) -> BTreeSet<Id> {
    let sites = Sites::asked_for(plan, profile, &Tables::built_in().modes);
    let sends = |place: &&Place| sites.at(place).is_ok_and(|site| site.senders.iter().any(is_own));
    plan.places.iter().filter(sends).map(|place| place.id.value.clone()).collect()
}

/// Whose limits these are: each source once, with how well it is known.
fn limit_words(senders: &[Sender<'_>]) -> String {
    let mut said: Vec<String> = Vec::new();
    for row in senders.iter().filter_map(|sender| sender.limit) {
        let of_those = row.controlled_over.unwrap_or(row.public_over);
        let words = format!(
            "Limits of {}, averaged over {} for everybody and over {} for those who know of it and can go away.",
            row.cite.said(),
            row.public_over,
            of_those
        );
        if !said.contains(&words) {
            said.push(words);
        }
    }
    if senders.iter().any(|sender| sender.limit.is_none()) {
        said.push("Not known: the rules in use here have no limit at that frequency; ask the authority before anybody comes near.".to_owned());
    }
    if senders.iter().any(|sender| sender.keep.is_some_and(|keep| keep.exempt.is_some())) {
        said.push("Exempt from evaluation where nobody comes nearer than that.".to_owned());
    }
    said.join(" ")
}

/// What sends at a place, with what one keeps.
struct Sender<'a> {
    name: String,
    span: Span,
    power: Power,
    is_taken: bool,
    antenna: Option<&'a Antenna>,
    /// Whether the plan says so of it; else it is the one of those that it could be by which people keep farthest.
    is_named: bool,
    keep: Option<KeepOff>,
    limit: Option<&'a ExposureLimit>,
    loss: Option<Decibels>,
    patients: Option<Clearance>,
}

impl<'a> Sender<'a> {
    fn of(plan: &Plan, place: &'a Place, end: &SiteEnd, limits: &'a [ExposureLimit]) -> Self {
        let channel = end.channel.as_ref().and_then(|id| plan.channels.named(id));
        let mode = channel.map_or(Mode::Fm, |channel| channel.signal.mode.value);
        let limit = place.transmit.as_ref().and_then(|limit| limit.max).map(|max| max.value);
        let own = match (end.power, limit) {
            (Some(power), Some(limit)) => Some(power.min(limit)),
            (power, limit) => power.or(limit),
        };
        let (antenna, is_named) = antenna(place, end, channel.map(|channel| &channel.id.value));
        let (gain, loss): (Option<Gain>, Option<Decibels>) = antenna
            .map_or((None, None), |antenna| (antenna.gain.map(|gain| gain.value), feed_loss(antenna, end.signal.at)));
        let power = own.unwrap_or(TAKEN);
        let always = Share::grains(1000);
        let keep = Radiated::of(power, (mode, always), gain, loss, end.signal.at).keep_off(limits);
        let patients = place.kind.value.is_medical().then(|| from_patients(power, end.signal.at)).flatten();
        Self {
            name: end.name.clone(),
            span: end.span,
            power,
            is_taken: own.is_none(),
            antenna,
            is_named,
            keep,
            limit: limit_at(limits, end.signal.at),
            loss,
            patients,
        }
    }
}

/// The antenna that names what sends, and true; else the one with the most gain, the careful one, of those that it could be: no radio on a
/// channel is on an antenna of which the plan says that repeaters or gateways alone are.
fn antenna<'a>(place: &'a Place, end: &SiteEnd, channel: Option<&Id>) -> (Option<&'a Antenna>, bool) {
    let id = end.subject.as_ref().map(|subject| subject.to_string());
    let is = |kind: &str, own: &str| id.as_deref() == Some(format!("{kind}/{own}").as_str());
    let is_named = |antenna: &&Antenna| {
        let by_channel = antenna.channels.iter().any(|own| channel.is_some_and(|id| **own == *id));
        by_channel
            || antenna.repeaters.iter().any(|own| is("repeater", own.as_str()))
            || antenna.gateways.iter().any(|own| is("gateway", own.as_str()))
    };
    let could_be = |antenna: &&Antenna| {
        let is_of_others = !(antenna.repeaters.is_empty() && antenna.gateways.is_empty());
        channel.is_none() || !antenna.channels.is_empty() || !is_of_others
    };
    let named = place.antennas.iter().find(is_named);
    let strongest = || {
        let others = place.antennas.iter().filter(could_be);
        others.max_by_key(|antenna| antenna.gain.map_or(215, |gain| gain.value.over_isotropic()))
    };
    (named.or_else(strongest), named.is_some())
}

fn section(place: &Place, senders: &[Sender<'_>]) -> Section {
    let sign = |words: String, role| Block::Paragraph(Paragraph { text: Text::own(words), role });
    let mut blocks = Vec::new();
    let farthest = senders.iter().filter_map(|sender| sender.keep).map(|keep| keep.public).max();
    match farthest {
        Some(apart) => {
            blocks.push(sign("Keep away".to_owned(), Role::Sign));
            blocks.push(sign(apart.to_string(), Role::Sign));
            blocks.push(sign("from these antennas while a radio sends.".to_owned(), Role::SignWords));
        }
        None => {
            blocks.push(sign("Keep away".to_owned(), Role::Sign));
            blocks.push(sign("from these antennas: nobody knows how far is far enough.".to_owned(), Role::SignWords));
        }
    }
    if let Some(apart) = senders.iter().filter_map(|sender| sender.patients).max() {
        let words =
            format!("{apart} from patients' equipment: ask clinical engineering; until told otherwise keep it.");
        blocks.push(sign(words, Role::SignWords));
    }
    blocks.push(CLEARANCES.of(senders.iter().map(row).collect(), ""));
    if place.kind.value.is_medical() {
        blocks.push(small(PATIENTS));
    }
    let title = format!("Keep off: {}", place.tactical.value);
    Section { key: "keep-off", title: Text::plain(title, place.tactical.span), blocks }
}

/// `2.15 dBi`.
fn gain_words(antenna: &Antenna) -> String {
    antenna.gain.map_or_else(|| "gain not given".to_owned(), |gain| gain.value.to_string())
}

fn row(sender: &Sender<'_>) -> Row {
    let cell = |key, words: String| CLEARANCES.cell(key, Text::own(words));
    let apart = |of: fn(KeepOff) -> Clearance| match sender.keep {
        Some(keep) => format!("{}{}", of(keep), if keep.is_near { "*" } else { "" }),
        None => "not known".to_owned(),
    };
    let power = if sender.is_taken { format!("{}, not given", sender.power) } else { sender.power.to_string() };
    let loss = sender.loss.map_or_else(|| "feed loss not known".to_owned(), |loss| format!("feed loses {loss}"));
    let antenna = match sender.antenna {
        None => "not given".to_owned(),
        Some(antenna) => {
            let before = if sender.is_named { "" } else { "not given; taken: " };
            format!("{before}{}, {}, {loss}", antenna.id.value, gain_words(antenna))
        }
    };
    let mut cells = vec![
        CLEARANCES.cell("sends", Text::plain(sender.name.as_str(), sender.span)),
        cell("power", power),
        cell("antenna", antenna),
        cell("public", apart(|keep| keep.public)),
        cell("controlled", apart(|keep| keep.controlled)),
    ];
    cells.extend(sender.keep.and_then(|keep| keep.exempt).map(|apart| cell("exempt", apart.to_string())));
    cells.extend(sender.patients.map(|apart| cell("patients", apart.to_string())));
    Row { label: String::new(), record: None, span: sender.span, cells }
}
