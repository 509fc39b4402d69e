//! What can be wrong with an order for a document.

use crate::ground::Rule;

/// The rules of this floor.
pub const RULES: &[&Rule] = &[
    &UNKNOWN_DOCUMENT_KIND,
    &UNKNOWN_FORM,
    &DOCUMENT_EACH_NOT_POSSIBLE,
    &UNKNOWN_PAPER,
    &EXERCISE_MISSING,
    &DOCUMENT_TOO_OPEN,
    &FILE_NAME_TAKEN,
    &FILE_NAME_RESERVED,
    &KIT_CANNOT_GIVE,
    &KIT_TOO_OPEN,
    &KIT_MIXES_PAPER,
];

/// A kind that is not in the list.
pub const UNKNOWN_DOCUMENT_KIND: Rule = Rule::of_format(
    "unknown-document-kind",
    r#"
Finds: a `[[document]]` of a kind that this program does not make.
Costs: the sheet would be missing from the kit.

Wrong:
```toml
[[document]]
id = "card"
kind = "chanel-card"       # unknown-document-kind
audience = "team"
```
Right: write the kind as listed: `kind = "channel-card"`.
"#,
);

/// A form that neither the plan nor the program has.
pub const UNKNOWN_FORM: Rule = Rule::of_format(
    "unknown-form",
    r#"
Finds: a `[[document]]` of the kind form that names no form, or one that neither the plan nor this program has.
Costs: an empty pad where the team expects its message form.

Wrong:
```toml
[[document]]
id = "message-pad"
kind = "form"
form = "mesage"            # unknown-form
audience = "public"
```
Right: name a form of the plan or a built-in one: `form = "message"`.
"#,
);

/// For every member or place what can only be made once, or the other way round.
pub const DOCUMENT_EACH_NOT_POSSIBLE: Rule = Rule::of_format(
    "document-each-not-possible",
    r#"
Finds: a `[[document]]` asked for each member or place although its kind is not made that way, or `together` although it is made once.
Costs: sixty copies of one chart, each with another name on it.

Wrong:
```toml
[[document]]
id = "chart"
kind = "frequency-chart"
audience = "team"
each = "member"            # document-each-not-possible
```
Right: leave `each` out, or write `each = "once"`.
"#,
);

/// A paper that no table has.
pub const UNKNOWN_PAPER: Rule = Rule::of_format(
    "unknown-paper",
    r#"
Finds: a `[[document]]` for a paper that the paper table does not have.
Costs: sheets that no printer of the team takes.

Wrong:
```toml
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
paper = "leter"            # unknown-paper
```
Right: write a paper of the table: `paper = "letter"`.
"#,
);

/// A paper of an exercise without one.
pub const EXERCISE_MISSING: Rule = Rule::of_format(
    "exercise-missing",
    r#"
Finds: a `[[document]]` of a kind that is for exercises, in a plan without `[[exercise]]`.
Costs: the sheet could say neither that it is for an exercise nor which words mean a real emergency.

Wrong:
```toml
[[document]]
id = "players"
kind = "player-plan"       # exercise-missing
audience = "team"
```
Right: write the exercise, with the words that mean a real emergency.
"#,
);

/// A document for readers to whom what it speaks of is closed.
pub const DOCUMENT_TOO_OPEN: Rule = Rule::of_format(
    "document-too-open",
    r#"
Finds: a `[[document]]` for wider readers than its kind can be made for: a check sheet quotes the whole plan, a rehearsal report and an eligibility matrix speak of members and their duties.
Costs: the sheet would show what its readers may not see, or speak of a team without its people.

Wrong:
```toml
[[document]]
id = "check"
kind = "check-sheet"
audience = "team"          # document-too-open
```
Right: write `audience = "coordinator"` for a check sheet, and `audience = "team"` or closer for the others.
"#,
);

/// Two documents whose files would have one name.
pub const FILE_NAME_TAKEN: Rule = Rule::of_format(
    "file-name-taken",
    r#"
Finds: two `[[document]]` or `[[kit]]` that make a file of one name: the copy of `sheet` for the member `qra` is `sheet-qra.pdf`, and so is a document `sheet-qra`.
Costs: one of the two takes the other's place, and under the name for everybody lies the coordinator's copy.

Wrong:
```toml
[[document]]
id = "sheet"
kind = "channel-card"
audience = "coordinator"
each = "member"

[[document]]
id = "sheet-qra"           # file-name-taken
kind = "channel-card"
audience = "public"
```
Right: another id, such as `sheet-for-all`.
"#,
);

/// A file that one common system cannot hold.
pub const FILE_NAME_RESERVED: Rule = Rule::of_format(
    "file-name-reserved",
    r#"
Finds: a `[[document]]` whose file would have a name that Windows keeps for devices: con, prn, aux, nul, com1 to com9, lpt1 to lpt9.
Costs: the kit cannot be copied to such a machine, or the sheet is missing there without a word.

Wrong:
```toml
[[document]]
id = "aux"                 # file-name-reserved
kind = "channel-card"
audience = "team"
```
Right: give the document another id, `id = "aux-sheet"`.
"#,
);

/// A kit that cannot be put together.
pub const KIT_CANNOT_GIVE: Rule = Rule::of_format(
    "kit-cannot-give",
    r#"
Finds: a `[[kit]]` without documents, for nobody, or with a document that is made for each member in a kit that is not (for places the same).
Costs: a set in which a paper is missing, or that holds somebody else's copy.

Wrong:
```toml
[[document]]
id = "own-card"
kind = "channel-card"
audience = "team"
each = "member"

[[kit]]
id = "all-papers"
documents = [
    "own-card",                # kit-cannot-give
]
```
Right: write `each = "member"` in the kit too, or leave the document out.
"#,
);

/// A kit for readers who may not read all of it.
pub const KIT_TOO_OPEN: Rule = Rule::of_format(
    "kit-too-open",
    r#"
Finds: a `[[kit]]` for wider readers than one of its documents.
Costs: the set would hand somebody what they may not see.

Wrong:
```toml
[[document]]
id = "leads-only"
kind = "contact-card"
audience = "leads"

[[kit]]
id = "team-set"
audience = "team"
documents = [
    "leads-only",              # kit-too-open
]
```
Right: write `audience = "leads"` in the kit, or leave the document out.
"#,
);

/// A kit that no printer prints in one run.
pub const KIT_MIXES_PAPER: Rule = Rule::of_format(
    "kit-mixes-paper",
    r#"
Finds: a `[[kit]]` whose documents stand on different paper, or are turned over different edges: one file has one way to be printed.
Costs: the printer takes the paper that it has, and every second page of some documents stands upside down.

Wrong:
```toml
[[document]]
id = "chart"
kind = "frequency-chart"
layout = "wall-chart"
audience = "team"

[[kit]]
id = "wall-set"
documents = [
    "chart",                   # kit-mixes-paper
]
```
Right: leave the document out and print it by itself, or give it the paper and the layout of the others.
"#,
);
