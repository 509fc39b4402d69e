//! Rows of a long table, set on all threads: a document of hundreds of pages is one piece of work for whoever waits for it.

use super::piece::Room;
use crate::ground::Findings;
use rayon::iter::{IndexedParallelIterator, IntoParallelRefIterator, ParallelIterator};

/// So many rows are set at a time by one thread.
const AT_A_TIME: usize = 64;

/// Whether so many rows are work for several threads. Never where others wait for what is set here: a thread that waits for a part of
/// its own work takes up other work, and that may be theirs.
pub(super) fn is_long(rows: usize, room: &Room<'_>) -> bool {
    room.is_alone && rows >= AT_A_TIME * 2
}

/// What is made of each row, and what is found in it, in the order of rows.
pub(super) fn each_row<T: Sync, R: Send>(
    rows: &[T],
    room: &Room<'_>,
    found: &mut Findings,
    set: impl Fn(&T, &mut Findings) -> R + Sync,
) -> Vec<R> {
    if !is_long(rows.len(), room) {
        return rows.iter().map(|row| set(row, found)).collect();
    }
    let apart = |row: &T| {
        let mut found = Findings::default();
        (set(row, &mut found), found)
    };
    let parts: Vec<(R, Findings)> = rows.par_iter().with_min_len(AT_A_TIME).map(apart).collect();
    let told = |(set, told): (R, Findings)| {
        told.iter().for_each(|finding| found.push(finding.clone()));
        set
    };
    parts.into_iter().map(told).collect()
}
