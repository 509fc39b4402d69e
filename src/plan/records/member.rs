//! Members and their licences.

use super::Radio;
use crate::ground::{At, Audience, CallSign, Day, Finding, Id, Private, Span, Words};
use crate::plan::reference::Ref;
use crate::plan::rules::MEMBER_WITH_TWO_LICENCES;
use crate::source::{BAD_VALUE, Meant, Reading, record};
use crate::tables::Service;
use std::sync::Arc;

record! {
    /// `[[member]]`, or a row of the roster.
    pub struct WrittenMember = "member" {
        /// Unique among members, as `qra`; made of the call sign, or the name, when left out.
        id: At<Id>,
        /// Call sign; an unlicensed helper's none when left out.
        call: Option<At<CallSign>>,
        /// Name as printed, as `Ines Varga`.
        name: At<Words>,
        /// Who may read the name where all numbers are closed to them; team when left out.
        name_audience: Option<At<Audience>>,
        /// Licence class in the profile's words, as `general`; an unlicensed helper's none when left out.
        class: Option<At<Words>>,
        /// Last day of the licence, as `2031-04-01`; not judged when left out.
        expires: Option<At<Day>>,
        /// Day on which renewal was applied for, as `2026-10-01`; none when left out.
        renewal_filed: Option<At<Day>>,
        /// Licences of any service; call, class and expires of the member are short for the amateur one; none when left
        /// out.
        licences as "licence": Vec<WrittenLicence>,
        /// What the member does in the team, as `Coordinator`; nothing when left out.
        roles as "role": Vec<At<Words>>,
        /// Phone numbers; none when left out.
        phones as "phone": Vec<WrittenPhone>,
        /// Who may read the numbers that do not say it themselves; coordinator when left out.
        phone_audience: Option<At<Audience>>,
        /// When the numbers were last tried that do not say it themselves, as `2026-10-01`; the member's confirmed
        /// counts when left out.
        phone_confirmed: Option<At<Day>>,
        /// Electronic mail address, as `ines@example.org`; none when left out.
        email: Option<At<Words>>,
        /// Who may read the address; coordinator when left out.
        email_audience: Option<At<Audience>>,
        /// Day on which the member last confirmed all of this, as `2026-10-01`; a finding asks for it, unless each
        /// number has a day, when left out.
        confirmed: Option<At<Day>>,
        /// The radios that the member has, as `two-meter`; not judged by radios when left out.
        radios as "radio": Vec<At<Ref<Radio>>>,
        /// The record.
        span: Span,
    }

    /// A licence that a member holds.
    pub struct WrittenLicence = "licence" {
        /// Radio service, as `gmrs`.
        service: At<Arc<Service>>,
        /// Call sign of that service, as `WQAA000`; none when left out.
        call: Option<At<Words>>,
        /// Class, in the amateur service, as `general`; none when left out.
        class: Option<At<Words>>,
        /// Last day of the licence, as `2031-04-01`; not judged when left out.
        expires: Option<At<Day>>,
        /// Day on which renewal was applied for, as `2026-10-01`; none when left out.
        renewal_filed: Option<At<Day>>,
        /// Its table.
        span: Span,
    }

    /// A member's number.
    pub struct WrittenPhone = "phone" {
        /// The number, as dialled from outside, as `+1 406 555 0101`.
        number: At<Words>,
        /// Who may read it; the member's phone-audience, or coordinator, when left out.
        audience: Option<At<Audience>>,
        /// When it was last tried, as `2026-10-01`; the member's phone-confirmed, then confirmed, when left out.
        confirmed: Option<At<Day>>,
    }
}

/// A person of the team.
#[derive(Clone)]
pub struct Member {
    /// The id.
    pub id: At<Id>,
    /// Name.
    pub name: At<Words>,
    /// Who may read the name where all numbers are closed to them.
    pub name_audience: Audience,
    /// Call sign; none for an unlicensed helper.
    pub call: Option<At<CallSign>>,
    /// Amateur licence class in the profile's words; none for an unlicensed helper.
    pub class: Option<At<Words>>,
    /// Day on which the licence ends.
    pub expires: Option<At<Day>>,
    /// Renewal was applied for on this day.
    pub renewal_filed: Option<At<Day>>,
    /// Licences of other services than amateur.
    pub licences: Vec<Licence>,
    /// Functions in the team.
    pub roles: Vec<At<Words>>,
    /// Numbers.
    pub phones: Vec<Phone>,
    /// Electronic mail.
    pub email: Option<At<Private<Words>>>,
    /// When the member last confirmed the record.
    pub confirmed: Option<At<Day>>,
    /// Radios.
    pub radios: Vec<At<Ref<Radio>>>,
    /// The record.
    pub span: Span,
}

/// A licence of another service than amateur.
#[derive(Clone, Debug)]
pub struct Licence {
    /// Radio service.
    pub service: At<Arc<Service>>,
    /// Call sign of that service.
    pub call: Option<At<Words>>,
    /// Day on which it ends.
    pub expires: Option<At<Day>>,
    /// Renewal was applied for on this day.
    pub renewal_filed: Option<At<Day>>,
}

/// A member's number.
#[derive(Clone)]
pub struct Phone {
    /// The number.
    pub number: At<Private<Words>>,
    /// When it was last tried; the member's own day when left out.
    pub confirmed: Option<At<Day>>,
}

impl Meant for Member {
    type Written = WrittenMember;

    fn mean(mut written: WrittenMember, of: &mut Reading<'_>) -> Option<Self> {
        let licences = std::mem::take(&mut written.licences);
        let (amateur, others): (Vec<_>, Vec<_>) =
            licences.into_iter().partition(|licence| licence.service.is_amateur());
        look_for_second(&written, &amateur, of);
        let amateur = amateur.into_iter().next();
        let (call, class, expires, renewal_filed) = match amateur {
            Some(licence) => (licence.call, licence.class, licence.expires, licence.renewal_filed),
            None => (None, None, None, None),
        };
        let closed = |value: At<Words>, audience: Option<Audience>| {
            At::new(Private::new(value.value, audience.unwrap_or(Audience::Coordinator)), value.span)
        };
        let (of_all, tried) = (written.phone_audience, written.phone_confirmed);
        let phone = |phone: WrittenPhone| Phone {
            number: closed(phone.number, phone.audience.or_else(|| of_all.clone()).map(|audience| audience.value)),
            confirmed: phone.confirmed.or(tried),
        };
        let email_audience = written.email_audience.map(|audience| audience.value);
        Some(Self {
            id: written.id,
            name: written.name,
            name_audience: written.name_audience.map_or(Audience::Team, |audience| audience.value),
            call: written.call.or_else(|| call_of(call, of)),
            class: written.class.or(class).and_then(|class| class_of(class, of)),
            expires: written.expires.or(expires),
            renewal_filed: written.renewal_filed.or(renewal_filed),
            licences: others.into_iter().map(licence).collect(),
            roles: written.roles,
            phones: written.phones.into_iter().map(phone).collect(),
            email: written.email.map(|email| closed(email, email_audience)),
            confirmed: written.confirmed,
            radios: written.radios,
            span: written.span,
        })
    }
}

impl Member {
    /// Whether a number, the address or the name is open to a reader.
    #[must_use]
    pub fn is_open_to(&self, reader: &Audience) -> bool {
        let numbers = self.phones.iter().map(|phone| phone.number.value.audience());
        let address = self.email.as_ref().map(|email| email.value.audience());
        numbers.chain(address).chain([&self.name_audience]).any(|mark| reader.may_read(mark))
    }
}

fn licence(written: WrittenLicence) -> Licence {
    let WrittenLicence { service, call, expires, renewal_filed, .. } = written;
    Licence { service, call, expires, renewal_filed }
}

/// Reports an amateur licence that is written twice: short and in the list, or twice in the list.
fn look_for_second(written: &WrittenMember, amateur: &[WrittenLicence], of: &mut Reading<'_>) {
    let Some(second) = amateur.last().map(|last| last.span) else { return };
    let short = [written.class.as_ref().map(|at| at.span), written.expires.as_ref().map(|at| at.span)];
    let first = short.into_iter().flatten().chain(amateur.iter().map(|licence| licence.span)).next();
    if let Some(first) = first.filter(|first| *first != second) {
        let what = "a member has an amateur licence twice";
        let finding = Finding::new(&MEMBER_WITH_TWO_LICENCES, second, what).label("names it again");
        of.found.push(finding.and(first, "named here first").help("keep one of them"));
    }
}

/// The class by its id where the profile has it; as written where not, which is a finding. An empty class and "none" both say:
/// unlicensed helper.
fn class_of(written: At<Words>, of: &Reading<'_>) -> Option<At<Words>> {
    let is_meant = |word: &String| word.to_lowercase() == written.as_str().to_lowercase();
    let known = of.habits.classes.iter().find(|names| names.iter().any(is_meant));
    match known.and_then(|[id, _]| Words::parse(id).ok()) {
        Some(id) => Some(written.with(id)),
        None => Some(written).filter(|written| !written.as_str().eq_ignore_ascii_case("none")),
    }
}

/// An amateur call sign that is written with its licence, where the calls of all services are words.
fn call_of(words: Option<At<Words>>, of: &mut Reading<'_>) -> Option<At<CallSign>> {
    let words = words?;
    match CallSign::parse(words.as_str()) {
        Ok(call) => Some(words.with(call)),
        Err(refusal) => {
            of.found.push(Finding::new(&BAD_VALUE, words.span, refusal.what).label("cannot be taken"));
            None
        }
    }
}
