//! Places, members, nets, posts, duties, orders and waivers as meant.

use super::model::{Accept, DocumentOrder, Edition, Head, Incident, Leg, Net};
use super::model_people::{
    Agreement, Antenna, Contact, Duty, Licence, Member, Other, Phone, Place, Post, Spacing, TransmitLimit,
};
use super::need::{Need, list, may};
use super::rules::{MEMBER_WITH_TWO_LICENCES, SPACING_WITHOUT_PAIR, ZONE_UNKNOWN};
use super::terms::{Each, PlaceKind, Service};
use super::written::{
    Field, WrittenAccept, WrittenAgreement, WrittenAntenna, WrittenContact, WrittenDocument, WrittenDuty,
    WrittenEdition, WrittenHead, WrittenIncident, WrittenLicence, WrittenMember, WrittenNet, WrittenOther,
    WrittenPhone, WrittenPlace, WrittenPost, WrittenSpacing, WrittenTransmitLimit,
};
use crate::ground::caps::{COPIES, Cap};
use crate::ground::{At, Audience, CallSign, Day, Finding, Id, Private, Words, nearest};
use crate::source::{BAD_VALUE, Cell};

pub(super) fn head(written: WrittenHead, need: &mut Need<'_>) -> Option<Head> {
    let (title, short) = (need.key(written.title, "title"), need.key(written.short, "short"));
    let (team, profile) = (need.key(written.team, "team"), need.key(written.profile, "profile"));
    let zone = need.key(written.time_zone, "time-zone")?;
    let time_zone = match zone.as_str().parse::<chrono_tz::Tz>() {
        Ok(known) => zone.with(known),
        Err(_) => {
            let what = format!("no time zone is called \"{}\"", zone.value);
            let finding = Finding::new(&ZONE_UNKNOWN, zone.span, what).label("not in the time zone database");
            let names = chrono_tz::TZ_VARIANTS.iter().map(|zone| zone.name());
            need.found.push(match nearest(zone.as_str(), names) {
                Some(name) => finding.did_you_mean(name),
                None => finding.help("write it as \"America/Denver\""),
            });
            return None;
        }
    };
    Some(Head {
        title: title?,
        short: short?,
        team: team?,
        profile: profile?,
        region: may(written.region),
        is_invented: may(written.invented).is_some_and(|invented| invented.value),
        time_zone,
        span: need.span,
    })
}

pub(super) fn edition(written: WrittenEdition, need: &mut Need<'_>) -> Option<Edition> {
    let (number, issued) = (need.key(written.number, "number"), need.key(written.issued, "issued"));
    let (valid_from, review_by) =
        (need.key(written.valid_from, "valid-from"), need.key(written.review_by, "review-by"));
    let (prepared_by, approved_by) =
        (need.key(written.prepared_by, "prepared-by"), need.key(written.approved_by, "approved-by"));
    Some(Edition {
        number: number?,
        issued: issued?,
        valid_from: valid_from?,
        review_by: review_by?,
        prepared_by: prepared_by?,
        approved_by: approved_by?,
        span: need.span,
    })
}

pub(super) fn incident(written: WrittenIncident, need: &mut Need<'_>) -> Option<Incident> {
    let (name, from, to) = (need.key(written.name, "name"), need.key(written.from, "from"), need.key(written.to, "to"));
    let is_exercise = may(written.exercise).is_some_and(|exercise| exercise.value);
    Some(Incident { name: name?, number: may(written.number), from: from?, to: to?, is_exercise })
}

pub(super) fn place(written: WrittenPlace, need: &mut Need<'_>) -> Option<Place> {
    let (id, code) = (need.key(written.id, "id"), need.key(written.code, "code"));
    let (tactical, kind) = (need.key(written.tactical, "tactical"), need.key(written.kind, "kind"));
    let contacts = records(written.contact, need, "contact", contact);
    let antennas = records(written.antenna, need, "antenna", antenna);
    let others = records(written.other, need, "other", other);
    let spacings = records(written.spacing, need, "spacing", spacing);
    let turns =
        list(written.turns).into_iter().map(|group| group.value.into_iter().filter_map(Cell::at).collect()).collect();
    let transmit = written.transmit.and_then(|cell| transmit_limit(cell, need));
    let tactical = tactical?;
    Some(Place {
        name: may(written.name).unwrap_or_else(|| tactical.clone()),
        id: id?,
        code: code?,
        tactical,
        kind: kind.unwrap_or(At::new(PlaceKind::Other, need.span)),
        agency: may(written.agency),
        position: may(written.position),
        region: may(written.region),
        elevation: may(written.elevation),
        entrance: may(written.entrance),
        room: may(written.room),
        jack: may(written.jack),
        connector: may(written.connector),
        visited_on: may(written.visited_on),
        transmit,
        contacts,
        monitors: list(written.monitors),
        turns,
        others,
        antennas,
        spacings,
        span: need.span,
    })
}

/// Records inside a record: each asks for its own keys at its own place.
fn records<W, T>(
    field: Field<Vec<Cell<W>>>,
    need: &mut Need<'_>,
    kind: &'static str,
    mean: fn(W, &mut Need<'_>) -> Option<T>,
) -> Vec<T> {
    let mut understood = Vec::new();
    for written in list(field) {
        let mut inner = Need { kind, span: written.span, profile: need.profile, found: &mut *need.found };
        understood.extend(mean(written.value, &mut inner));
    }
    understood
}

fn contact(written: WrittenContact, need: &mut Need<'_>) -> Option<Contact> {
    let (role, phone) = (need.key(written.role, "role"), need.key(written.phone, "phone"));
    let phone = phone?;
    let audience = may(written.audience).map_or(Audience::Coordinator, |audience| audience.value);
    Some(Contact {
        role: role?,
        name_audience: may(written.name_audience).map_or_else(|| audience.clone(), |audience| audience.value),
        phone: At::new(Private::new(phone.value, audience), phone.span),
        confirmed: may(written.confirmed),
        span: need.span,
    })
}

fn antenna(written: WrittenAntenna, need: &mut Need<'_>) -> Option<Antenna> {
    Some(Antenna {
        id: need.key(written.id, "id")?,
        kind: may(written.kind),
        gain: may(written.gain),
        height: may(written.height),
        feed_loss: may(written.feed_loss),
        channels: list(written.channels),
        repeaters: list(written.repeaters),
        gateways: list(written.gateways),
    })
}

fn other(written: WrittenOther, need: &mut Need<'_>) -> Option<Other> {
    let name = need.key(written.name, "name")?;
    Some(Other { name, sends: may(written.sends), hears: may(written.hears), width: may(written.width) })
}

fn spacing(written: WrittenSpacing, need: &mut Need<'_>) -> Option<Spacing> {
    let (distance, isolation) = (may(written.distance), may(written.isolation));
    if distance.is_none() && isolation.is_none() {
        need.missing("distance");
    }
    let is_stacked = may(written.stacked).is_some_and(|stacked| stacked.value);
    let of = need.key(written.of, "of")?;
    let span = of.span;
    let of: Vec<At<Id>> = of.value.into_iter().filter_map(Cell::at).collect();
    let Ok(of) = <[At<Id>; 2]>::try_from(of) else {
        let finding = Finding::new(&SPACING_WITHOUT_PAIR, span, "a spacing is of something else than two antennas");
        need.found.push(finding.label("not two").help("name two antennas of the place: `of = [\"low\", \"high\"]`"));
        return None;
    };
    Some(Spacing { of, distance, is_stacked, isolation, filter: may(written.filter) })
}

fn transmit_limit(cell: Cell<WrittenTransmitLimit>, need: &mut Need<'_>) -> Option<TransmitLimit> {
    let written = cell.value?;
    Some(TransmitLimit {
        allowed: need.key(written.allowed, "transmit.allowed")?,
        agreed_by: may(written.agreed_by),
        on: may(written.on),
        max: may(written.max),
    })
}

pub(super) fn member(written: WrittenMember, need: &mut Need<'_>) -> Option<Member> {
    let (id, name) = (need.key(written.id, "id"), need.key(written.name, "name"));
    let (audience, confirmed) = (written.phone_audience, written.phone_confirmed);
    let phones = records(all_phones(written.phone, &audience, &confirmed), need, "phone", phone);
    let email_audience = may(written.email_audience).map_or(Audience::Coordinator, |audience| audience.value);
    let licences = list(written.licence.clone());
    let (amateur, others): (Vec<_>, Vec<_>) =
        licences.into_iter().partition(|licence| licence.value.is_of(Service::Amateur));
    let short = [written.class.as_ref().map(|cell| cell.span), written.expires.as_ref().map(|cell| cell.span)];
    let firsts = short.into_iter().flatten().chain(amateur.iter().map(|licence| licence.span));
    let places: Vec<_> = firsts.collect();
    let second = amateur.last().map(|last| last.span);
    if let (Some(first), Some(second)) = (places.first().filter(|first| Some(**first) != second), second) {
        let what = "a member has an amateur licence twice".to_owned();
        let finding = Finding::new(&MEMBER_WITH_TWO_LICENCES, second, what).label("names it again");
        need.found.push(finding.and(*first, "named here first").help("keep one of them"));
    }
    let amateur = amateur.into_iter().next().map(|licence| licence.value).unwrap_or_default();
    let licences = others.into_iter().filter_map(|licence| self::licence(licence, need)).collect();
    Some(Member {
        id: id?,
        name: name?,
        name_audience: may(written.name_audience).map_or(Audience::Team, |audience| audience.value),
        call: may(written.call).or_else(|| call_of(amateur.call.clone(), need)),
        class: may(written.class.or(amateur.class)).and_then(|class| class_of(class, need)),
        expires: may(written.expires.or(amateur.expires)),
        renewal_filed: may(written.renewal_filed.or(amateur.renewal_filed)),
        licences,
        roles: list(written.role),
        phones,
        email: may(written.email).map(|email| At::new(Private::new(email.value, email_audience), email.span)),
        confirmed: may(written.confirmed),
        radios: list(written.radio),
        span: need.span,
    })
}

/// The class by its id where the profile has it; as written where not, which is a finding. An empty class and "none" both say:
/// unlicensed helper.
fn class_of(written: At<Words>, need: &Need<'_>) -> Option<At<Words>> {
    let known = need.profile.and_then(|profile| profile.class_meant(written.as_str()));
    match known.and_then(|class| Words::parse(&class.id).ok()) {
        Some(id) => Some(written.with(id)),
        None => Some(written).filter(|written| !written.as_str().eq_ignore_ascii_case("none")),
    }
}

fn licence(written: At<WrittenLicence>, need: &mut Need<'_>) -> Option<Licence> {
    let mut inner = Need { kind: "licence", span: written.span, profile: need.profile, found: &mut *need.found };
    let licence = written.value;
    Some(Licence {
        service: inner.key(licence.service, "service")?,
        call: may(licence.call),
        expires: may(licence.expires),
        renewal_filed: may(licence.renewal_filed),
    })
}

/// An amateur call sign that is written with its licence, where the calls of all services are words.
fn call_of(written: Field<Words>, need: &mut Need<'_>) -> Option<At<CallSign>> {
    let words = may(written)?;
    match CallSign::parse(words.as_str()) {
        Ok(call) => Some(words.with(call)),
        Err(refusal) => {
            need.found.push(Finding::new(&BAD_VALUE, words.span, refusal.what).label("cannot be taken"));
            None
        }
    }
}

pub(super) fn agreement(written: WrittenAgreement, need: &mut Need<'_>) -> Option<Agreement> {
    let (id, with) = (need.key(written.id, "id"), need.key(written.with, "with"));
    let (service, signed) = (need.key(written.service, "service"), need.key(written.signed, "signed"));
    let expires = need.key(written.expires, "expires");
    Some(Agreement {
        id: id?,
        with: with?,
        service: service?,
        channels: list(written.channels),
        members: list(written.members),
        signed: signed?,
        expires: expires?,
        max: may(written.max),
        span: need.span,
    })
}

/// A member's numbers, with what the member says of all of them where they say nothing themselves.
fn all_phones(
    mut phones: Field<Vec<Cell<WrittenPhone>>>,
    audience: &Field<Audience>,
    confirmed: &Field<Day>,
) -> Field<Vec<Cell<WrittenPhone>>> {
    let written = phones.iter_mut().filter_map(|cell| cell.value.as_mut()).flatten();
    for phone in written.filter_map(|cell| cell.value.as_mut()) {
        phone.audience = phone.audience.take().or_else(|| audience.clone());
        phone.confirmed = phone.confirmed.take().or_else(|| confirmed.clone());
    }
    phones
}

fn phone(written: WrittenPhone, need: &mut Need<'_>) -> Option<Phone> {
    let number = need.key(written.number, "number")?;
    let audience = may(written.audience).map_or(Audience::Coordinator, |audience| audience.value);
    let private = At::new(Private::new(number.value, audience), number.span);
    Some(Phone { number: private, confirmed: may(written.confirmed) })
}

pub(super) fn net(written: WrittenNet, need: &mut Need<'_>) -> Option<Net> {
    let (id, name, spoken) =
        (need.key(written.id, "id"), need.key(written.name, "name"), need.key(written.spoken, "spoken"));
    let primary = need.key(written.primary, "primary");
    let legs = [
        ("primary", primary),
        ("alternate", may(written.alternate)),
        ("contingency", may(written.contingency)),
        ("emergency", may(written.emergency)),
    ];
    Some(Net {
        id: id?,
        name: name?,
        spoken: spoken?,
        purpose: may(written.purpose),
        legs: legs.into_iter().filter_map(|(name, channel)| Some(Leg { name, channel: channel? })).collect(),
        trigger: may(written.trigger),
        rejoin: may(written.rejoin),
        control: may(written.control),
        span: need.span,
    })
}

pub(super) fn post(written: WrittenPost, need: &mut Need<'_>) -> Option<Post> {
    let (id, name) = (need.key(written.id, "id"), need.key(written.name, "name"));
    Some(Post {
        id: id?,
        name: name?,
        place: may(written.place),
        nets: list(written.nets),
        from: may(written.from),
        to: may(written.to),
        span: need.span,
    })
}

pub(super) fn duty(written: WrittenDuty, need: &mut Need<'_>) -> Option<Duty> {
    let (post, member) = (need.key(written.post, "post"), need.key(written.member, "member"));
    let (from, to) = (need.key(written.from, "from"), need.key(written.to, "to"));
    Some(Duty { post: post?, member: member?, from: from?, to: to?, span: need.span })
}

pub(super) fn document(written: WrittenDocument, need: &mut Need<'_>) -> Option<DocumentOrder> {
    let (id, kind) = (need.key(written.id, "id"), need.key(written.kind, "kind"));
    Some(DocumentOrder {
        id: id?,
        kind: kind?,
        layout: may(written.layout),
        variant: may(written.variant),
        audience: may(written.audience).unwrap_or_else(|| At::new(Audience::Coordinator, need.span)),
        each: may(written.each).unwrap_or(At::new(Each::Once, need.span)),
        together: may(written.together),
        paper: may(written.paper),
        form: may(written.form),
        copies: may(written.copies).filter(|copies| is_taken(*copies, need)),
        span: need.span,
    })
}

fn is_taken(copies: At<u16>, need: &mut Need<'_>) -> bool {
    let Cap { of, least, most } = COPIES;
    let is_taken = COPIES.takes(u64::from(copies.value));
    if !is_taken {
        let what = format!("{} {of}, and {least} to {most} are taken", copies.value);
        let help = format!("write copies = {}", u64::from(copies.value).clamp(least, most));
        need.found.push(Finding::new(&BAD_VALUE, copies.span, what).label("cannot be taken").help(help));
    }
    is_taken
}

pub(super) fn accept(written: WrittenAccept, need: &mut Need<'_>) -> Option<Accept> {
    let (finding, reason) = (need.key(written.finding, "finding"), need.key(written.reason, "reason"));
    let (by, until) = (need.key(written.by, "by"), need.key(written.until, "until"));
    if written.on.is_none() {
        need.missing("on");
    }
    let on = list(written.on);
    Some(Accept { finding: finding?, on, reason: reason?, by: by?, until: until?, span: need.span })
}
