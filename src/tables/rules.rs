//! What can be wrong with a table.

use crate::ground::{OWN_FORMAT, Rule, Severity};

/// The rules of this floor.
pub const RULES: &[&Rule] = &[&TABLE_ROW_UNSOURCED, &TABLE_ROW_SWAPPED];

/// A row that does not say where it is from.
pub const TABLE_ROW_UNSOURCED: Rule = Rule {
    name: "table-row-unsourced",
    severity: Severity::Error,
    waivable: false,
    source: OWN_FORMAT,
    since: "0.1.0",
    doc: r"
Finds: a row of a table (a band, a privilege, a tone list) without its source or its confidence.
Costs: a finding that rests on it could not be argued with.

Right: add `source` and `confidence` (read, second-hand, memory or computed) to the row.
",
};

/// A row whose edges are the wrong way round.
pub const TABLE_ROW_SWAPPED: Rule = Rule {
    name: "table-row-swapped",
    severity: Severity::Error,
    waivable: false,
    source: OWN_FORMAT,
    since: "0.1.0",
    doc: r"
Finds: a row of a table whose `high` lies below its `low`.
Costs: a stretch that holds nothing, so that a rule would find no fault anywhere.

Right: write the lower edge as `low`.
",
};
