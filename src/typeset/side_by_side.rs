//! Rows of a long table, set on all threads: a document of hundreds of pages is one piece of work for whoever waits for it.

use super::piece::Room;
use super::setting::Setting;
use crate::compose::block::Row;
use crate::ground::{Findings, on_all_threads};

/// So many rows are set at a time by one thread.
const AT_A_TIME: usize = 64;

/// Whether so many rows are work for several threads. Never where others wait for what is set here: a thread that waits for a part of
/// its own work takes up other work, and that may be theirs.
pub(super) fn is_long(rows: usize, room: &Room<'_>) -> bool {
    room.is_alone && rows >= AT_A_TIME * 2
}

/// What is made of each row, and what is found in it, in the order of rows.
pub(super) fn each_row(
    rows: &[Row],
    room: &Room<'_>,
    found: &mut Findings,
    set: impl Fn(&Row, &mut Findings) -> Option<Setting> + Sync,
) -> Vec<Option<Setting>> {
    if !is_long(rows.len(), room) {
        return rows.iter().map(|row| set(row, found)).collect();
    }
    let apart = |row: &Row| {
        let mut found = Findings::default();
        (set(row, &mut found), found)
    };
    let parts = on_all_threads(rows, AT_A_TIME, apart);
    let told = |(set, told): (Option<Setting>, Findings)| {
        told.iter().for_each(|finding| found.push(finding.clone()));
        set
    };
    parts.into_iter().map(told).collect()
}
