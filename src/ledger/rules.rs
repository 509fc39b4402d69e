//! What can be wrong between a plan and the editions of it that were issued.

use crate::ground::Rule;

/// The rules of this floor.
pub const RULES: &[&Rule] = &[
    &EDITIONS_UNREADABLE,
    &EDITION_ISSUED_OTHERWISE,
    &EDITION_NUMBER_FELL,
    &EDITION_NOT_ENTERED,
    &ISSUED_PLAN_CHANGED,
    &CHANGED_FACT_UNCHECKED,
];

/// The file of editions is not as it was written.
pub const EDITIONS_UNREADABLE: Rule = Rule::of_format(
    "editions-unreadable",
    r#"
Finds: an `editions.toml` that is not as `fieldsheaf issue` wrote it: a seal that does not fit what stands above it, numbers that do not rise, keys of another hand.
Costs: nobody can tell any more whether a number was given out already, and with which content.
Right: put the file back as it was, from version control or another member's copy.
"#,
);

/// A number that was given out with other content.
pub const EDITION_ISSUED_OTHERWISE: Rule = Rule::of_format(
    "edition-issued-otherwise",
    r#"
Finds: a plan whose edition has the number of one that was issued, while a paper of it says something else than it did then.
Costs: two contents under one number: stations that compare the edition alone take an old sheet for the new one, and send where nobody listens.
Right: raise the number: `number = 8`; or take the change back until the next edition.
"#,
);

/// A number below one that was given out.
pub const EDITION_NUMBER_FELL: Rule = Rule::of_format(
    "edition-number-fell",
    r#"
Finds: an edition with a lower number than one that was issued.
Costs: "the highest edition that is valid now counts" is how operators choose between two sheets: they would keep the old one.
Right: go on from the last number in `editions.toml`: `number = 8`.
"#,
);

/// A plan that was issued and of which nothing was entered.
pub const EDITION_NOT_ENTERED: Rule = Rule::of_format(
    "edition-not-entered",
    r#"
Finds: a plan in the folder `issued` with a higher number than any in `editions.toml`: the end of that file was cut off, or `issue` was stopped and the plan changed before it was run again.
Costs: a number that was given out would be given out again, with other content.
Right: put `editions.toml` back with its last entry, from version control or another member's copy; or remove that plan, if no paper of it was ever handed over.
"#,
);

/// The plan of an edition is not as it was issued.
pub const ISSUED_PLAN_CHANGED: Rule = Rule::of_format(
    "issued-plan-changed",
    r#"
Finds: a plan in the folder `issued` that is not the one whose hash `editions.toml` has.
Costs: what changed since the last edition would be told wrong: in change sheets, bulletins and corrections by pen.
Right: put the file back as it was, from version control or the coordinator's copy; or remove it, and nothing is told of changes.
"#,
);

/// A fact that changed while nobody says that it was looked at.
pub const CHANGED_FACT_UNCHECKED: Rule = Rule::warning(
    "changed-fact-unchecked",
    "common practice, no source: who changes a value says when it was seen to be so",
    r#"
Finds: a frequency, tone, call, phone number, room or entrance that is another than in the last edition issued before, while its
`verified`, `confirmed` or `visited-on` is the day that it had then.
Costs: a typing error passes for news: the old value was checked on that day, the new one by nobody.
Right: look, ask or call; then write that day, as `verified = { on = 2027-01-10, by = "qra" }`, or take the change back.
"#,
);
