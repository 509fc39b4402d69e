//! What a sheet of contacts shows of a member or a function to its readers.

use crate::ground::Audience;
use crate::plan::{Contact, Member, Phone};

/// How much of a contact a reader sees.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Seen {
    /// Name and number.
    Number,
    /// The name; there is no number to show or to hide.
    NoNumber,
    /// The name, and that its number is not on this copy.
    NameAlone,
    /// Nothing.
    Hidden,
}

/// What readers of `audience` see of a member: a number or an address that they may read shows its name as well.
#[must_use]
pub fn seen(member: &Member, audience: &Audience) -> Seen {
    let may_read = |phone: &Phone| audience.may_read(phone.number.value.audience());
    let is_written_to = member.email.as_ref().is_some_and(|email| audience.may_read(email.value.audience()));
    match (member.phones.iter().any(may_read), is_written_to || audience.may_read(&member.name_audience)) {
        (true, _) => Seen::Number,
        (false, true) if member.phones.is_empty() => Seen::NoNumber,
        (false, true) => Seen::NameAlone,
        (false, false) => Seen::Hidden,
    }
}

/// The same of a function at a place.
#[must_use]
pub fn contact_seen(contact: &Contact, audience: &Audience) -> Seen {
    let may_read = audience.may_read(contact.phone.value.audience());
    // Under a function's name a member's own number is nobody's to read.
    if may_read && contact.phone.value.is_withheld() {
        return Seen::NameAlone;
    }
    match (may_read, audience.may_read(&contact.name_audience)) {
        (true, _) => Seen::Number,
        (false, true) => Seen::NameAlone,
        (false, false) => Seen::Hidden,
    }
}
