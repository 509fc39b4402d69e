//! What can be wrong with a table.

use crate::ground::Rule;

/// The rules of this floor.
pub const RULES: &[&Rule] = &[
    &TABLE_ROW_UNSOURCED,
    &TABLE_ROW_SWAPPED,
    &TABLE_ROWS_CONTRADICT,
    &TABLE_ROWS_MISSING,
    &TABLE_NAME_UNKNOWN,
    &TABLE_KIND_UNKNOWN,
    &TABLE_KEY_UNUSED,
    &PROFILE_UNREADABLE,
    &SERVICE_UNKNOWN,
    &STANDARD_UNKNOWN,
];

/// A row that does not say where it is from.
pub const TABLE_ROW_UNSOURCED: Rule = Rule::of_format(
    "table-row-unsourced",
    r"
Finds: a row of a table (a band, a privilege, a tone list) without its source or its confidence.
Costs: a finding that rests on it could not be argued with.

Right: add `source` and `confidence` (read, second-hand, memory or computed) to the row.
",
);

/// A row whose edges are the wrong way round.
pub const TABLE_ROW_SWAPPED: Rule = Rule::of_format(
    "table-row-swapped",
    r"
Finds: a row of a table whose `high` lies below its `low`.
Costs: a stretch that holds nothing, so that a rule would find no fault anywhere.

Right: write the lower edge as `low`.
",
);

/// Two rows that cannot both hold.
pub const TABLE_ROWS_CONTRADICT: Rule = Rule::of_format(
    "table-rows-contradict",
    r#"
Finds: two rows of one kind in a profile that give one signal two limits: power limits of the same classes that overlap, unless the narrower one lies within the wider and is lower; one type of emission with two widths; two usual shifts; bands that overlap; two services of one id, or two that classes are of.
Costs: whichever row is read first would decide what is lawful.

Right: keep one of them, or end the first stretch where the second begins.
"#,
);

/// A profile that leaves a question open.
pub const TABLE_ROWS_MISSING: Rule = Rule::of_format(
    "table-rows-missing",
    r#"
Finds: a profile without classes, bands, privileges or emissions, or without the service that they are of.
Costs: a rule that finds no row finds no fault either.

Right: add the rows, or name a profile to take them from: `base = "us"`.
"#,
);

/// A row that names nothing.
pub const TABLE_NAME_UNKNOWN: Rule = Rule::of_format(
    "table-name-unknown",
    r#"
Finds: a row of a profile that names a class or a service which the profile does not have, a base that is no profile, a paper that no table has.
Costs: a privilege of a class that nobody holds, a limit that binds nobody.

Right: write the name as its own row has it.
"#,
);

/// Rows of no kind.
pub const TABLE_KIND_UNKNOWN: Rule = Rule::of_format(
    "table-kind-unknown",
    r#"
Finds: a kind of rows in a profile that there is not, as `[[privilage]]`.
Costs: the rows would be left out, and with them what they allow or limit.

Right: write the kind as the finding lists it.
"#,
);

/// A key that changes nothing.
pub const TABLE_KEY_UNUSED: Rule = Rule::of_format(
    "table-key-unused",
    r#"
Finds: a key that another kind of rows has, in a row that does not use it, as `width` in a power limit.
Costs: the limit that somebody wrote there would bind nothing.

Right: move it to a row of the kind that uses it.
"#,
);

/// A team's profile that cannot be read.
pub const PROFILE_UNREADABLE: Rule = Rule::of_format(
    "profile-unreadable",
    r#"
Finds: a profile file of the plan that cannot be read: it is not there, lies outside the plan's folder, or is not UTF-8 text.
Costs: nothing could be checked against the law.

Right: write the file's name as it is, `profile = "county.toml"`.
"#,
);

/// A service that the profile does not have.
pub const SERVICE_UNKNOWN: Rule = Rule::of_format(
    "service-unknown",
    r#"
Finds: a service that the plan's profile does not have.
Costs: nobody could say who may send there, on which channels and with how much.

Wrong:
```toml
[[channel]]
id = "family-3"
row = 3
name = "FRS 3"
spoken = "Family Three"
service = "fsr"             # service-unknown
simplex = "462.6125 MHz"
width = "narrow"
power = "2 W"
```
Right: write the service as the profile has it, `service = "frs"`; or add a `[[service]]` row in a profile of your own.
"#,
);

/// A standard channel that the profile does not have.
pub const STANDARD_UNKNOWN: Rule = Rule::of_format(
    "standard-unknown",
    r#"
Finds: a channel whose `standard` is none of the names that the plan's profile publishes.
Costs: a row of the card without a frequency; or, were it guessed, with a wrong one.

Wrong:
```toml
[[channel]]
row = 3
standard = "VTAC15"         # standard-unknown
```
Right: write the name as the profile has it, `standard = "VTAC14"`; or leave `standard` out and write name, service and frequency.
"#,
);
