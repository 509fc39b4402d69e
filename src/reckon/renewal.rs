//! When a licence ends: a renewal that was applied for in time keeps it going.

use crate::ground::{At, Day};
use crate::plan::{Licence, Member};
use crate::tables::Service;

/// Most days before the end of a licence on which its renewal is applied for: an earlier one was that of the term before. This program's
/// own limit; in the us an application may come 90 days before the end (47 CFR 1.949, from memory).
const EARLIEST: i64 = 365;

/// The end of a licence as the plan writes it.
#[derive(Clone, Copy, Debug)]
pub struct Term {
    /// Its last day, where one is written.
    pub expires: Option<At<Day>>,
    /// The day on which its renewal was applied for.
    pub renewal_filed: Option<At<Day>>,
}

impl Term {
    /// That of a member's amateur licence.
    #[must_use]
    pub const fn of_member(member: &Member) -> Self {
        Self { expires: member.expires, renewal_filed: member.renewal_filed }
    }

    /// That of a licence of another service.
    #[must_use]
    pub const fn of(licence: &Licence) -> Self {
        Self { expires: licence.expires, renewal_filed: licence.renewal_filed }
    }

    /// That of what lets a member send in a service, where the plan has it.
    #[must_use]
    pub fn in_service(member: &Member, service: &Service) -> Option<Self> {
        if service.is_amateur() {
            return Some(Self::of_member(member));
        }
        member.licences.iter().find(|licence| *licence.service.value == *service).map(Self::of)
    }

    /// The day after which the holder may send no more. None where no end is written, and where the renewal was applied for on
    /// or before it: that keeps the authority (us: 47 CFR 1.934, from memory). One that came later, or for an earlier term, keeps
    /// nothing.
    #[must_use]
    pub fn last_day(self) -> Option<Day> {
        let expires = self.expires?.value;
        let before = self.renewal_filed.map(|filed| expires.days_since(filed.value));
        let is_in_time = before.is_some_and(|days| (0..=EARLIEST).contains(&days));
        (!is_in_time).then_some(expires)
    }

    /// Why a renewal that was applied for keeps nothing.
    #[must_use]
    pub fn filed_in_vain(self) -> Option<(At<Day>, &'static str)> {
        let (filed, last) = (self.renewal_filed?, self.last_day()?);
        let is_late = filed.value > last;
        let words = if is_late {
            "filed too late to keep the authority"
        } else {
            "filed more than a year before: for an earlier term"
        };
        Some((filed, words))
    }

    /// Whether the holder may send no more on `day`.
    #[must_use]
    pub fn has_ended(self, day: Day) -> bool {
        self.last_day().is_some_and(|last| last < day)
    }
}
