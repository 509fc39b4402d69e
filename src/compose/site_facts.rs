//! What one must know of a place to work there, each with what the plan says, or that it is unknown: the site sheet prints it, the
//! re-check sheet asks for it.

use super::block::Text;
use super::foot::who;
use crate::audience::View;
use crate::ground::{At, Span, Words};
use crate::plan::{Place, PlaceKind};
use crate::reckon::{Seen, contact_seen, is_old};

/// Something that one must know.
pub(super) struct SiteFact {
    /// What it is, as the first word of a line.
    pub(super) what: &'static str,
    /// What the plan says; none where it says nothing.
    pub(super) said: Option<Text>,
    /// Whether somebody at the place could say it.
    pub(super) is_asked_there: bool,
}

/// All of them, in the order in which one needs them on arrival. Where only repeaters stand there is no desk and no jack.
pub(super) fn site_facts(place: &Place, view: &View<'_>) -> Vec<SiteFact> {
    let fact = |what, said| SiteFact { what, said, is_asked_there: true };
    let mut facts = vec![fact("Door", words(&place.entrance)), fact("After hours", words(&place.after_hours))];
    if !is_unstaffed(place) {
        let connector = words(&place.connector);
        let bring = words(&place.adapter).or_else(|| {
            let connector = place.connector.as_ref()?;
            Some(Text::plain(format!("a cable or adapter that fits {}", connector.value), connector.span))
        });
        facts.extend([
            fact("Room", words(&place.room)),
            fact("Antenna jack", words(&place.jack)),
            fact("Connector", connector),
            fact("Bring", bring),
            fact("Power that stays on", words(&place.outlets)),
        ]);
    }
    facts.push(fact("Ask", asked(place, view)));
    let position = place.position.as_ref().map(|at| Text::plain(at.value.to_string(), at.span));
    let visited = place.visited_on.map(|on| {
        let by = place.visited_by.as_ref().and_then(|by| who(by, view));
        let text = Text::plain(format!("visited {}", on.value), on.span);
        by.map_or_else(|| text.clone(), |by| text.clone().then(" by ").then_text(by))
    });
    facts.push(SiteFact { what: "Position", said: position, is_asked_there: false });
    facts.push(SiteFact { what: "Last visit", said: visited, is_asked_there: false });
    facts
}

/// Whether nobody is there to be asked.
pub(super) fn is_unstaffed(place: &Place) -> bool {
    place.kind.value == PlaceKind::RepeaterSite
}

fn words(value: &Option<At<Words>>) -> Option<Text> {
    value.as_ref().map(|value| Text::plain(value.as_str(), value.span))
}

/// Functions with the numbers that this copy may show; none where the plan names nobody.
fn asked(place: &Place, view: &View<'_>) -> Option<Text> {
    let (hidden, shown): (Vec<_>, Vec<_>) =
        place.contacts.iter().partition(|contact| contact_seen(contact, view.audience()) == Seen::Hidden);
    if shown.is_empty() && !hidden.is_empty() {
        return Some(Text::plain("not on this copy", place.span));
    }
    let mut all = shown.iter().map(|contact| {
        let number = view.open(&contact.phone.value).map(Words::as_str);
        let number = number.map_or_else(|| "number not on this copy".to_owned(), str::to_owned);
        format!("{}, {number}", contact.role.value)
    });
    let first = all.next()?;
    let span = place.contacts.first().map_or(Span::NOWHERE, |contact| contact.span);
    Some(Text::plain(all.fold(first, |said, next| format!("{said}; {next}")), span))
}

/// What somebody must find out at a place before the next duty there: what is unknown, and what is old.
pub(super) fn to_find_out(place: &Place, view: &View<'_>) -> Vec<String> {
    let unknown = site_facts(place, view).into_iter().filter(|fact| fact.said.is_none());
    let mut all: Vec<String> = unknown.map(|fact| format!("{}: unknown", fact.what)).collect();
    if place.antennas.is_empty() {
        all.push("Antenna: unknown".to_owned());
    }
    match &place.transmit {
        None if !is_unstaffed(place) => all.push("Transmitting: what is allowed is unknown".to_owned()),
        Some(limit) if limit.on.is_none() => all.push("Transmitting: day of the agreement unknown".to_owned()),
        _ => {}
    }
    let Some(issued) = view.plan().edition.as_ref().map(|edition| edition.issued.value) else { return all };
    if let Some(on) = place.visited_on.filter(|on| is_old(on.value, issued)) {
        all.push(format!("All of it: last visit {}, {} days before the issue", on.value, issued.days_since(on.value)));
    }
    if let Some(on) = place.transmit.as_ref().and_then(|limit| limit.on).filter(|on| is_old(on.value, issued)) {
        all.push(format!("Transmitting: agreed on {}, over a year ago", on.value));
    }
    for contact in place.contacts.iter().filter(|one| contact_seen(one, view.audience()) != Seen::Hidden) {
        match contact.confirmed {
            None => all.push(format!("Number of {}: never tried", contact.role.value)),
            Some(on) if is_old(on.value, issued) => {
                all.push(format!("Number of {}: last tried {}", contact.role.value, on.value));
            }
            Some(_) => {}
        }
    }
    all
}
