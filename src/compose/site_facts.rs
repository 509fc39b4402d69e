//! What one must know of a place to work there, each with what the plan says, or that it is unknown: the site sheet prints it, the
//! re-check sheet asks for it.

use super::block::Text;
use super::foot::who;
use super::position_words::position_formats;
use super::power_words::lasts_words;
use super::site_words::{antenna_lacks, antenna_words, limit_text};
use crate::audience::View;
use crate::ground::{At, Day, Words};
use crate::plan::{Antenna, Contact, Place, Ref, Station};
use crate::reckon::{Seen, Wiring, budgets, contact_seen, is_old, is_unstaffed, known, place_of, says_none};

/// Something that one must know.
pub(super) struct SiteFact {
    /// What it is, as the first word of a line.
    pub(super) what: String,
    /// What the plan says; none where it says nothing.
    pub(super) said: Option<Text>,
    /// Whether somebody at the place could say it.
    pub(super) is_asked_there: bool,
}

/// All of them, in the order in which one needs them on arrival. Where only repeaters stand there is no desk and no jack.
pub(super) fn site_facts(place: &Place, view: &View<'_>) -> Vec<SiteFact> {
    let fact = |what: &str, said| SiteFact { what: what.to_owned(), said, is_asked_there: true };
    let mut facts = vec![fact("Door", words(&place.entrance)), fact("After hours", words(&place.after_hours))];
    if !is_unstaffed(place) {
        let (connector, bring) = plugged(place);
        facts.extend([
            fact("Room", words(&place.room)),
            fact("Antenna jack", words(&place.jack)),
            fact("Connector", connector),
            fact("Bring", bring),
            fact("Power that stays on", words(&place.outlets)),
        ]);
        facts.push(SiteFact {
            what: "On battery".to_owned(),
            said: Some(on_battery(place, view)),
            is_asked_there: false,
        });
    }
    let antenna =
        |antenna: &Antenna| fact(&format!("Antenna {}", antenna.id.value), Some(antenna_words(antenna, view.plan())));
    match place.antennas.as_slice() {
        [] if says_none(place.jack.as_ref()) => {
            facts.push(fact("Antenna", Some(Text::plain("none there: what one brings", place.span))));
        }
        [] => facts.push(fact("Antenna", None)),
        all => facts.extend(all.iter().map(antenna)),
    }
    if place.transmit.is_some() || !is_unstaffed(place) {
        facts.push(fact("Transmitting", place.transmit.as_ref().map(|limit| limit_text(place, limit, view))));
    }
    // Where nobody is known to ask, nobody there is told to be asked who that is.
    facts.push(SiteFact { what: "Ask".to_owned(), said: asked(place, view), is_asked_there: false });
    let position = place.position.as_ref();
    let position = position.map(|at| position_formats(view.plan(), at));
    let visited = place.visited_on.map(|on| visited(place, on, view));
    facts.push(SiteFact { what: "Position".to_owned(), said: position, is_asked_there: false });
    facts.push(SiteFact { what: "Last visit".to_owned(), said: visited, is_asked_there: false });
    facts
}

/// The connector, and what one brings for it: nothing but an antenna where there is no jack.
fn plugged(place: &Place) -> (Option<Text>, Option<Text>) {
    if says_none(place.jack.as_ref()) {
        return (
            Some(Text::plain("none", place.span)),
            words(&place.adapter).or_else(|| Some(Text::plain("an antenna and its feed line", place.span))),
        );
    }
    let bring = words(&place.adapter).or_else(|| {
        let connector = known(place.connector.as_ref())?;
        Some(Text::plain(format!("a cable or adapter that fits {}", connector.value), connector.span))
    });
    (words(&place.connector), bring)
}

/// `visited 2026-09-14 by WZ7QSB Tomas Lind`; where that is over a year ago, that it is.
fn visited(place: &Place, on: At<Day>, view: &View<'_>) -> Text {
    let text = Text::plain(format!("visited {}", on.value), on.span);
    let by = place.visited_by.as_ref().and_then(|by| who(by, view));
    let text = by.map_or_else(|| text.clone(), |by| text.clone().then(" by ").then_text(by));
    let issued = view.plan().edition.as_ref().map(|edition| edition.issued.value);
    match issued.is_some_and(|issued| is_old(on.value, issued)) {
        true => text.then_strong(": long ago, look at everything before you need it"),
        false => text,
    }
}

/// `Operations set on Box 20: 20 Ah, lasts 10.1 h sending 25 %, change after 8.1 h`, for each battery of each station that stands there; room to write it where none does.
fn on_battery(place: &Place, view: &View<'_>) -> Text {
    let plan = view.plan();
    let is_here = |station: &&Station| place_of(plan, station).is_some_and(|own| own.id.value == place.id.value);
    let lasts = |station: &Station| {
        let budgets = budgets(plan, station, &Wiring::of(plan, station)).into_iter();
        let words = budgets.map(|budget| {
            let lasts = lasts_words(station, &budget);
            format!("{} on {}: {lasts}", station.name.value, budget.battery.name.value)
        });
        words.collect::<Vec<_>>()
    };
    let all: Vec<String> = plan.stations.iter().filter(is_here).flat_map(lasts).collect();
    match all.is_empty() {
        true => Text::plain("________ h: the plan has no battery for a station here", place.span),
        false => Text::plain(all.join("; "), place.span),
    }
}

fn words(value: &Option<At<Words>>) -> Option<Text> {
    known(value.as_ref()).map(|value| Text::plain(value.as_str(), value.span))
}

/// Functions with the numbers that this copy may show; none where the plan names nobody.
fn asked(place: &Place, view: &View<'_>) -> Option<Text> {
    let (hidden, shown): (Vec<_>, Vec<_>) =
        place.contacts.iter().partition(|contact| contact_seen(contact, view.audience()) == Seen::Hidden);
    if shown.is_empty() && !hidden.is_empty() {
        return Some(Text::plain("not on this copy", place.span));
    }
    let contact = |text: Option<Text>, contact: &&Contact| {
        let role = format!("{}, ", contact.role.value);
        let text = match text {
            Some(text) => text.then(format!("; {role}")),
            None => Text::plain(role, contact.span),
        };
        Some(match view.open(&contact.phone.value) {
            Some(number) => text.then(number.as_str()),
            None if contact.phone.value.is_withheld() => text.then_strong("number UNKNOWN: ask the coordinator"),
            None => text.then("number not on this copy"),
        })
    };
    shown.iter().fold(None, contact)
}

/// What somebody must find out at a place before the next duty there: what is unknown, and what is old.
pub(super) fn to_find_out(place: &Place, view: &View<'_>) -> Vec<String> {
    let unknown = site_facts(place, view).into_iter().filter(|fact| fact.said.is_none());
    let mut all: Vec<String> = unknown.map(|fact| format!("{}: unknown", fact.what)).collect();
    let antennas = place.antennas.iter().filter_map(|antenna| Some((antenna, antenna_lacks(antenna)?)));
    all.extend(antennas.map(|(antenna, lacks)| format!("Antenna {}: {lacks} unknown", antenna.id.value)));
    if let Some(limit) = place.transmit.as_ref().filter(|limit| !limit.is_nowhere()) {
        let lacks = [
            ("greatest power", limit.max.is_none()),
            ("who agreed", limit.agreed_by.is_none()),
            ("day of the agreement", limit.on.is_none()),
        ];
        all.extend(lacks.iter().filter(|(_, lacks)| *lacks).map(|(what, _)| format!("Transmitting: {what} unknown")));
    }
    all.extend(own_power_unknown(place, view));
    let Some(issued) = view.plan().edition.as_ref().map(|edition| edition.issued.value) else { return all };
    if let Some(on) = place.visited_on.filter(|on| is_old(on.value, issued)) {
        all.push(format!("All of it: last visit {}, {} days before the issue", on.value, issued.days_since(on.value)));
    }
    if let Some(on) = place.transmit.as_ref().and_then(|limit| limit.on).filter(|on| is_old(on.value, issued)) {
        all.push(format!("Transmitting: agreed on {}, over a year ago", on.value));
    }
    for contact in place.contacts.iter().filter(|one| contact_seen(one, view.audience()) != Seen::Hidden) {
        match contact.confirmed {
            tried if contact.phone.value.is_withheld() => {
                let old = tried.filter(|on| is_old(on.value, issued));
                let old = old.map(|on| format!(" (last tried {})", on.value)).unwrap_or_default();
                let role = &contact.role.value;
                all.push(format!("Number of {role}: a member's own is written, ask for the desk's{old}"));
            }
            None => all.push(format!("Number of {}: never tried", contact.role.value)),
            Some(on) if is_old(on.value, issued) => {
                all.push(format!("Number of {}: last tried {}", contact.role.value, on.value));
            }
            Some(_) => {}
        }
    }
    all
}

/// `Teal Bluff on its own power: unknown`, of what works there by itself.
fn own_power_unknown(place: &Place, view: &View<'_>) -> Vec<String> {
    let is_here = |at: Option<&At<Ref<Place>>>| at.is_some_and(|at| *at.value == place.id.value);
    let (repeaters, gateways) = (view.plan().repeaters.iter(), view.plan().gateways.iter());
    let repeaters = repeaters.filter(|one| is_here(one.place.as_ref()) && one.backup_power.is_none());
    let gateways = gateways.filter(|one| is_here(one.place.as_ref()) && one.backup_power.is_none());
    let names = repeaters.map(|one| one.name.as_str()).chain(gateways.map(|one| one.name.as_str()));
    names.map(|name| format!("{name} on its own power: unknown")).collect()
}
