//! How long what was seen, tried or agreed to holds.

use crate::ground::Day;

/// Days after which evidence is old (common practice, no source): seasons change sites, and people change jobs.
pub const EVIDENCE_DAYS: i64 = 365;

/// Whether evidence of a day is old on the day of issue.
#[must_use]
pub fn is_old(on: Day, issued: Day) -> bool {
    issued.days_since(on) > EVIDENCE_DAYS
}
