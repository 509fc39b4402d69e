//! Caps: how much of anything is taken from outside. One table, so that each is stated once and refused by its figure.

use std::ops::RangeInclusive;

/// One cap: what is counted, and the least and most that is taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Cap {
    /// What is counted, as a person says it.
    pub of: &'static str,
    /// The least that is taken.
    pub least: u64,
    /// The most that is taken.
    pub most: u64,
}

impl Cap {
    const fn up_to(of: &'static str, most: u64) -> Self {
        Self { of, least: 0, most }
    }

    /// Whether so many are taken.
    #[must_use]
    pub fn takes(&self, count: u64) -> bool {
        (self.least..=self.most).contains(&count)
    }

    /// From the least to the most, for a reader of arguments.
    #[must_use]
    pub fn range(&self) -> RangeInclusive<i64> {
        let signed = |count: u64| i64::try_from(count).unwrap_or(i64::MAX);
        signed(self.least)..=signed(self.most)
    }
}

/// Copies of one document: a pad for a year, and a file of some thousand pages at most.
pub const COPIES: Cap = Cap { of: "copies of one document", least: 1, most: 1000 };
/// The highest number on a numbered form: nine digits still fit the foot.
pub const SERIAL: Cap = Cap { of: "the number of a numbered form", least: 0, most: 999_999_999 };
/// Threads of a build: more than any machine of a team has cores.
pub const THREADS: Cap = Cap { of: "threads of a build", least: 1, most: 256 };
/// Dots an inch of a proof: under 36 nothing can be read, over 600 a wall sheet takes gigabytes.
pub const PROOF_DOTS: Cap = Cap { of: "dots an inch of a proof", least: 36, most: 600 };
/// Bytes of a file of the plan. A county's largest is under 100 kB; this leaves room for a state's roster.
pub const PLAN_FILE: Cap = Cap::up_to("bytes of a file of the plan", 16 << 20);
/// Bytes of all files of a plan: its records, layouts and profile.
pub const PLAN_BYTES: Cap = Cap::up_to("bytes of all files of a plan", 64 << 20);
/// Bytes that the rows of a profile have from the keys of their groups: a short file repeats no more than this.
pub const ROW_BYTES_SHARED: Cap = Cap::up_to("bytes that rows of a profile have from their groups (`each`)", 1 << 20);
/// Words and signs of all files: each may become a value, and a value takes far more memory than its bytes. Twenty thousand
/// members have two million.
pub const PLAN_SIGNS: Cap = Cap::up_to("words and signs of all files of a plan", 5_000_000);
/// Records of a plan: ten times those of a state.
pub const RECORDS: Cap = Cap::up_to("records of a plan", 200_000);
/// Rows of a table, headings and what stands above them included: as many as there may be records.
pub const TABLE_ROWS: Cap = Cap::up_to("rows of a table", 200_000);
/// Columns of a table: a person reads twenty.
pub const TABLE_COLUMNS: Cap = Cap::up_to("columns of a table", 256);
/// Cells of a table, empty ones between others included: each takes memory.
pub const TABLE_CELLS: Cap = Cap::up_to("cells of a table", 4_000_000);
/// Bytes of what counts by default in the records of a kind: each of them takes as much.
pub const DEFAULTS: Cap = Cap::up_to("bytes of the defaults of a kind of record", 2048);
/// Bytes of those parts of a spreadsheet that are read, as unpacked: a hundred thousand rows of ten cells have fifty million.
pub const UNPACKED: Cap = Cap::up_to("bytes of a spreadsheet as unpacked", 128 << 20);
/// How many times its packed size a part of a spreadsheet may have: sheets of equal rows have a hundred times, traps a thousand.
pub const UNPACKED_TIMES: Cap = Cap::up_to("times the packed size of a part of a spreadsheet", 400);
/// Documents of a plan, one for each holder: five kinds for twenty thousand members.
pub const DOCUMENTS: Cap = Cap::up_to("documents of a plan, counted for each holder", 100_000);
/// Pages of one document with all its copies: nobody prints more, and each takes memory.
pub const PAGES: Cap = Cap::up_to("pages of one document", 200_000);
/// Rows to write on in one form: a page has forty.
pub const FORM_ROWS: Cap = Cap::up_to("rows of one form", 2000);
/// What sends at one place: the work grows with its cube.
pub const SITE_SENDERS: Cap = Cap::up_to("transmitters at one place", 250);
/// Three of what sends at a place, over all places: each three make products. Five hundred sites of twenty make four million.
pub const SITE_THREES: Cap = Cap::up_to("threes of transmitters at all places", 200_000_000);
/// Millimeters of a length on paper: a wall sheet has under two thousand.
pub const LENGTH_MM: Cap = Cap::up_to("millimeters of a length on paper", 10_000);
/// Files of a plan.
pub const PLAN_FILES: Cap = Cap::up_to("files of a plan", 1000);
/// Files and folders looked at for patterns: a plan has tens, and a wrong folder, such as a whole home, is told apart.
pub const PLAN_ENTRIES: Cap = Cap::up_to("files and folders in a plan's folder", 10_000);
/// Levels of tables and lists in each other, in a file of the plan. A record has ten at most, and whoever reads deeper ones would
/// run out of stack.
pub const NESTING: Cap = Cap::up_to("levels of tables and lists in each other", 32);
/// Characters of a name that is compared with others to find what was meant: the work grows with their square.
pub const COMPARED: Cap = Cap::up_to("characters of a name that is compared with others", 64);
/// Bytes of a manifest: thirty thousand files and more.
pub const MANIFEST_BYTES: Cap = Cap::up_to("bytes of a manifest", 16 << 20);
/// Bytes of a file of a key or of a signature: some hundreds are needed.
pub const SIGNATURE_BYTES: Cap = Cap::up_to("bytes of a key or a signature", 4096);
/// Bytes of a bulletin that is read back: a hundred times what one that can be sent has.
pub const BULLETIN_BYTES: Cap = Cap::up_to("bytes of a bulletin that is read back", 1 << 20);
/// Bytes of the journal of a stopped build: it names the files of an edition and of those that were stopped before.
pub const JOURNAL_BYTES: Cap = Cap::up_to("bytes of a stopped build's journal", 32 << 20);
/// Bytes of one file of a finished folder.
pub const KIT_FILE: Cap = Cap::up_to("bytes of a finished file", 1 << 30);
/// Files and folders in a finished folder.
pub const KIT_ENTRIES: Cap = Cap::up_to("files in a finished folder", 100_000);
/// How long a build waits for another that writes the same folder.
pub const LOCK_SECONDS: Cap = Cap::up_to("seconds of waiting for another build", 20);

/// All of them.
pub const CAPS: &[&Cap] = &[
    &COPIES,
    &SERIAL,
    &THREADS,
    &PROOF_DOTS,
    &PLAN_FILE,
    &PLAN_BYTES,
    &ROW_BYTES_SHARED,
    &PLAN_SIGNS,
    &RECORDS,
    &TABLE_ROWS,
    &TABLE_COLUMNS,
    &DEFAULTS,
    &TABLE_CELLS,
    &UNPACKED,
    &UNPACKED_TIMES,
    &DOCUMENTS,
    &PAGES,
    &FORM_ROWS,
    &SITE_SENDERS,
    &SITE_THREES,
    &LENGTH_MM,
    &PLAN_FILES,
    &PLAN_ENTRIES,
    &NESTING,
    &COMPARED,
    &MANIFEST_BYTES,
    &SIGNATURE_BYTES,
    &BULLETIN_BYTES,
    &JOURNAL_BYTES,
    &KIT_FILE,
    &KIT_ENTRIES,
    &LOCK_SECONDS,
];
