//! How far people keep from the antennas of a place while they send: a sign to post, and the figures behind it.

use crate::audience::View;
use crate::compose::block::{Column, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{body, places, small, warning};
use crate::ground::{Audience, Decibels, Gain, Power, Share, Span};
use crate::plan::{Antenna, Each, Mode, Place, Plan};
use crate::reckon::{KeepOff, Keyed, Radiated, SiteEnd, Sites, from_patients};

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
    compose: Compose::View(compose),
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
        Column::must("exempt", "exempt from", Role::Body),
        Column::may("patients", "patients' equipment", Role::Body).where_used(),
    ],
    set: UsualSet::Grid,
};

/// Power where the plan says none (common practice, no source): that of a mobile radio.
const TAKEN: Power = Power::milliwatts(50_000);

/// What the figures rest on.
const NOTE: &str = "Limits of 47 CFR 1.1310(e)(1), averaged over 30 minutes for everybody and over 6 for those who know of it and can go away; other countries have limits of \
                    their own. Reckoned as if the transmitter were keyed all the time, with 2.56 for reflection by the ground (OET Bulletin 65), single sideband with a fifth and \
                    Morse with two fifths of its power; no power given: 50 W; no gain given: a half-wave dipole; no feed loss given: none. Never nearer than the wavelength \
                    through 2 pi, where nothing can be reckoned (*). Exempt from evaluation under 47 CFR 1.1307(b)(3)(i)(C) where nobody comes nearer than that. \
                    From the antenna itself, in all directions. An estimate: the license holder answers for the station and evaluates it.";

/// Where patients are.
const PATIENTS: &str = "Patients' equipment: the distance of IEC 60601-1-2, editions of 2001 and 2007 (the edition of 2014 has none): ask clinical engineering; until told otherwise \
                        keep it. No distance is a guarantee.";

/// What else hurts at antennas.
const CAUTION: &str = "No antenna near power lines, nor where it could fall on one. In lightning: away from antennas and cables. Roofs and masts are for those who are trained and \
                       allowed to, with the site's consent. Local codes and what the site's staff say come first.";

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let sites = Sites::asked_for(plan, view.profile(), &view.tables().modes);
    let mut sections = Vec::new();
    for place in places(view) {
        // Of a plan that was checked every signal can be reckoned.
        let Ok(site) = sites.at(place) else { continue };
        let own = site.senders.iter().filter(|end| end.keyed != Keyed::Others && !end.is_distant);
        let rows: Vec<Sender<'_>> = own.filter_map(|end| Sender::of(plan, place, end)).collect();
        if !rows.is_empty() {
            sections.push(section(place, &rows));
        }
    }
    if sections.is_empty() {
        let blocks = vec![body(Text::own("Nothing of the team's sends here, by what the plan says."))];
        sections.push(Section { key: "no-sender", title: Text::own("Keep off"), blocks });
    }
    if let Some(last) = sections.last_mut() {
        last.blocks.extend([small(CAUTION), small(NOTE)]);
    }
    sections
}

/// What sends at a place, with what one keeps.
struct Sender<'a> {
    name: String,
    span: Span,
    power: Power,
    is_taken: bool,
    antenna: Option<&'a Antenna>,
    keep: KeepOff,
    patients: Option<String>,
}

impl<'a> Sender<'a> {
    fn of(plan: &Plan, place: &'a Place, end: &SiteEnd) -> Option<Self> {
        let channel = end.channel.as_ref().and_then(|id| plan.channels.named(id));
        let mode = channel.map_or(Mode::Fm, |channel| channel.signal.mode.value);
        let limit = place.transmit.as_ref().and_then(|limit| limit.max).map(|max| max.value);
        let own = match (end.power, limit) {
            (Some(power), Some(limit)) => Some(power.min(limit)),
            (power, limit) => power.or(limit),
        };
        let antenna = antenna(place, end, channel.map(|channel| &channel.id.value));
        let (gain, loss): (Option<Gain>, Option<Decibels>) = antenna.map_or((None, None), |antenna| {
            (antenna.gain.map(|gain| gain.value), antenna.feed_loss.map(|loss| loss.value))
        });
        let power = own.unwrap_or(TAKEN);
        let always = Share::grains(1000);
        let keep = Radiated::of(power, (mode, always), gain, loss, end.signal.at).keep_off()?;
        let patients = place.kind.value.is_medical().then(|| from_patients(power, end.signal.at)).flatten();
        Some(Self {
            name: end.name.clone(),
            span: end.span,
            power,
            is_taken: own.is_none(),
            antenna,
            keep,
            patients: patients.map(|apart| apart.to_string()),
        })
    }
}

/// The antenna that names what sends; else the one with the most gain, the careful one.
fn antenna<'a>(place: &'a Place, end: &SiteEnd, channel: Option<&crate::ground::Id>) -> Option<&'a Antenna> {
    let id = end.subject.as_ref().map(|subject| subject.to_string());
    let is_named = |antenna: &&Antenna| {
        let by_channel = antenna.channels.iter().any(|own| channel.is_some_and(|id| **own == *id));
        let is = |kind: &str, own: &str| id.as_deref() == Some(format!("{kind}/{own}").as_str());
        by_channel
            || antenna.repeaters.iter().any(|own| is("repeater", own.as_str()))
            || antenna.gateways.iter().any(|own| is("gateway", own.as_str()))
    };
    let strongest =
        || place.antennas.iter().max_by_key(|antenna| antenna.gain.map_or(215, |gain| gain.value.over_isotropic()));
    place.antennas.iter().find(is_named).or_else(strongest)
}

fn section(place: &Place, senders: &[Sender<'_>]) -> Section {
    let farthest = senders.iter().map(|sender| sender.keep.public).max();
    let headline = farthest.map(|apart| warning(format!("Keep {apart} away from the antennas while a radio sends.")));
    let mut blocks: Vec<_> = headline.into_iter().collect();
    blocks.push(CLEARANCES.of(senders.iter().map(row).collect(), ""));
    if place.kind.value.is_medical() {
        blocks.push(warning(PATIENTS));
    }
    let title = format!("Keep off: {}", place.tactical.value);
    Section { key: "keep-off", title: Text::plain(title, place.tactical.span), blocks }
}

fn row(sender: &Sender<'_>) -> Row {
    let cell = |key, words: String| CLEARANCES.cell(key, Text::own(words));
    let near = if sender.keep.is_near { "*" } else { "" };
    let power = if sender.is_taken { format!("{}, not given", sender.power) } else { sender.power.to_string() };
    let antenna = sender.antenna.map_or_else(|| "not given".to_owned(), |antenna| antenna.id.to_string());
    let mut cells = vec![
        CLEARANCES.cell("sends", Text::plain(sender.name.as_str(), sender.span)),
        cell("power", power),
        cell("antenna", antenna),
        cell("public", format!("{}{near}", sender.keep.public)),
        cell("controlled", format!("{}{near}", sender.keep.controlled)),
        cell("exempt", sender.keep.exempt.to_string()),
    ];
    cells.extend(sender.patients.as_ref().map(|apart| cell("patients", apart.clone())));
    Row { label: String::new(), record: None, span: sender.span, cells }
}
