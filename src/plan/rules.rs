//! What can be wrong while records become a plan.

use crate::ground::Rule;

/// The rules of this floor.
pub const RULES: &[&Rule] = &[
    &DUPLICATE_ID,
    &DANGLING_ID,
    &REPEATED_TABLE,
    &NO_PLAN_TABLE,
    &CHANNEL_WITHOUT_FREQUENCY,
    &CHANNEL_WITH_TWO_ROUTES,
    &SHIFT_LEAVES_RADIO,
    &ZONE_UNKNOWN,
    &MEMBER_WITH_TWO_LICENCES,
    &LINK_WITHOUT_PAIR,
    &SPACING_WITHOUT_PAIR,
    &FORM_LINE_TOO_WIDE,
    &FORM_FIELD_UNCLEAR,
    &FORM_NUMBER_DUPLICATE,
    &FORM_NUMBERS_OUT_OF_ORDER,
    &FORM_BASE_UNKNOWN,
    &FORM_BASE_CIRCULAR,
    &FORM_BLOCK_UNMARKED,
    &FORM_READS_NO_BLOCK,
    &FORM_LABEL_LONG,
    &DEFAULTS_OF_NOTHING,
];

/// Two records of one kind with one id.
pub const DUPLICATE_ID: Rule = Rule::of_format(
    "duplicate-id",
    r#"
Finds: two records of one kind with the same id.
Costs: whatever refers to the id could mean either.

Wrong:
```toml
[[radio]]
id = "ht-dual"
name = "Dual-band hand-held"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W"

[[radio]]
id = "ht-dual"             # duplicate-id
name = "Second hand-held"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W"
```
Right: give the second record another id.
"#,
);

/// An id that no record has.
pub const DANGLING_ID: Rule = Rule::of_format(
    "dangling-id",
    r#"
Finds: a reference to an id that no record of that kind has.
Costs: a channel without its repeater, a net without its channel.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-rigde"    # dangling-id
```
Right: write the id as the record has it.
"#,
);

/// A table that may stand once only.
pub const REPEATED_TABLE: Rule = Rule::of_format(
    "repeated-table",
    r#"
Finds: a second `[plan]`, `[edition]` or `[incident]` table in another file of the plan.
Costs: nobody can tell which one counts.

Wrong:
```toml
[[edition]]                # repeated-table
number = 1
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"

[[edition]]
number = 2
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"
```
Right: keep one.
"#,
);

/// No [plan] or [edition].
pub const NO_PLAN_TABLE: Rule = Rule::of_format(
    "no-plan-table",
    r"
Finds: a plan without its `[plan]` or `[edition]` table.
Costs: no sheet could say which plan and which edition it belongs to.

Right: add the table; `fieldsheaf new FOLDER` writes an example.
",
);

/// A channel that says nowhere what to hear.
pub const CHANNEL_WITHOUT_FREQUENCY: Rule = Rule::of_format(
    "channel-without-frequency",
    r#"
Finds: a channel that names neither repeater, gateway, simplex, dial nor rx; an rx without tx; a dial without its side.
Costs: a row without a number to set.

Wrong:
```toml
[[channel]]                # channel-without-frequency
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
```
Right: add `simplex = "146.560 MHz"`.
"#,
);

/// A channel that says it twice.
pub const CHANNEL_WITH_TWO_ROUTES: Rule = Rule::of_format(
    "channel-with-two-routes",
    r#"
Finds: a channel that names more than one of repeater, output, gateway, simplex, dial and rx; one that says what its own repeater hears, needs or is called, and not what that sends (`output`); `direct` where no `repeater` is named.
Costs: two frequencies for one row, and no way to tell which is meant.

Wrong:
```toml
[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.560 MHz"
rx = "146.580 MHz"         # channel-with-two-routes
tx = "none"
```
Right: keep one.
"#,
);

/// A shift that leads to no frequency.
pub const SHIFT_LEAVES_RADIO: Rule = Rule::of_format(
    "shift-leaves-radio",
    r#"
Finds: a shift that leads below 1 Hz or above 300 GHz.
Costs: there is no such frequency.

Wrong:
```toml
[[repeater]]
id = "cold-ridge"
output = "146.940 MHz"
input = "-600 MHz"         # shift-leaves-radio
tone-in = "103.5 Hz"
tone-out = "off"
```
Right: write `input = "-600 kHz"`.
"#,
);

/// A time zone nobody knows.
pub const ZONE_UNKNOWN: Rule = Rule::of_format(
    "zone-unknown",
    r"
Finds: a time zone name that the time zone database does not have.
Costs: times on duty lists and incident forms would be an hour or a day wrong.

Right: write the zone's full name, as `America/Denver`.
",
);

/// One amateur licence written twice.
pub const MEMBER_WITH_TWO_LICENCES: Rule = Rule::of_format(
    "member-with-two-licences",
    r#"
Finds: a member whose amateur licence is written twice: as `class` or `expires`, and again in the list `licence`.
Costs: nobody can tell which class and which day count.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Abel Quist"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01
licence = [{ service = "amateur", class = "general", expires = 2031-04-01 }]   # member-with-two-licences
```
Right: keep one of them.
"#,
);

/// A link that joins something else than two channels.
pub const LINK_WITHOUT_PAIR: Rule = Rule::of_format(
    "link-without-pair",
    r#"
Finds: a link whose `joins` names one channel, three, or one twice.
Costs: nobody can tell what it sends on.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[link]]
id = "yard"
call = "WZ7QRA"
joins = ["cmd"]   # link-without-pair
```
Right: name the two channels that it joins.
"#,
);

/// What is not between two antennas.
pub const SPACING_WITHOUT_PAIR: Rule = Rule::of_format(
    "spacing-without-pair",
    r#"
Finds: a `spacing` whose `of` names one antenna or three.
Costs: nobody can tell which radios it keeps apart.

Wrong:
```toml
[[place]]
id = "hq"
code = "HQX"
tactical = "Headquarters"
kind = "operations-centre"
visited-on = 2026-10-04
antenna = [{ id = "low" }, { id = "high" }]
spacing = [{ of = ["low"], distance = "10 m" }]   # spacing-without-pair
```
Right: name the two antennas; one twice where two radios share it and what lies between their jacks was measured.
"#,
);

/// Fields wider than their line.
pub const FORM_LINE_TOO_WIDE: Rule = Rule::of_format(
    "form-line-too-wide",
    r#"
Finds: fields of one line whose shares add up to more than twelve twelfths, or columns of one table with more than 60 parts.
Costs: fields would overlap.

Wrong:
```toml
[[form]]
id = "note"
title = "Note"
edition = "1"
line = [
    { field = [
        { label = "To", share = 8 },
        { label = "From", share = 8 },   # form-line-too-wide
    ] },
]
```
Right: make the shares of a line add up to twelve.
"#,
);

/// A field of two kinds at once.
pub const FORM_FIELD_UNCLEAR: Rule = Rule::of_format(
    "form-field-unclear",
    r#"
Finds: a field that asks for two kinds of room at once (lines, ticks or a meaning, words, columns, squares, a signature, a date and time, a text), or a table
whose cells, labels or values contradict each other.
Costs: nobody can tell what to print.

Wrong:
```toml
[[form]]
id = "note"
title = "Note"
edition = "1"
line = [
    { field = [
        { label = "To", lines = 2, words = 5 },   # form-field-unclear
    ] },
]
```
Right: keep one of them.
"#,
);

/// Two blocks of one number.
pub const FORM_NUMBER_DUPLICATE: Rule = Rule::of_format(
    "form-number-duplicate",
    r#"
Finds: two blocks of a form with one number.
Costs: "block two" read over the air is written into the wrong one.

Wrong:
```toml
[[form]]
id = "note"
title = "Note"
edition = "1"
line = [
    { field = [{ number = 1, label = "To", share = 6 }, { number = 2, label = "At", share = 6 }] },
    { field = [{ number = 2, label = "From" }] },   # form-number-duplicate
]
```
Right: number the blocks anew.
"#,
);

/// Numbers that do not follow the page.
pub const FORM_NUMBERS_OUT_OF_ORDER: Rule = Rule::warning(
    "form-numbers-out-of-order",
    "common practice, no source",
    r#"
Finds: a block of a form whose number is lower than that of a block before it, from the top left to the bottom right.
Costs: who copies a form over the air searches the page for the next number, and words go into the wrong block.

Wrong:
```toml
[[form]]
id = "note"
title = "Note"
edition = "1"
line = [
    { field = [{ number = 1, label = "To", share = 6 }, { number = 3, label = "At", share = 6 }] },
    { field = [{ number = 2, label = "From" }] },   # form-numbers-out-of-order
]
```
Right: number the blocks in the order in which they stand. Where a published form is numbered by columns, accept it.
"#,
);

/// A base that is no form.
pub const FORM_BASE_UNKNOWN: Rule = Rule::of_format(
    "form-base-unknown",
    r#"
Finds: a form whose `base` names no form of the plan or of this program. A form has the blocks of its base, and below them its own.
Costs: a form is printed without the fields that somebody relied on.

Wrong:
```toml
[[form]]
id = "county-message"
title = "County message"
edition = "1"
base = "mesage"            # form-base-unknown
line = [{ field = [{ label = "County number" }] }]
```
Right: name a form of `fieldsheaf form --list` or of the plan; the published form that it is like, in words, stands in `follows`.
"#,
);

/// A base that leads back to its form.
pub const FORM_BASE_CIRCULAR: Rule = Rule::of_format(
    "form-base-circular",
    r#"
Finds: a form that is its own base, or the base of its base.
Costs: nobody can tell which blocks it has.

Wrong:
```toml
[[form]]
id = "first"
title = "First"
edition = "1"
base = "first"            # form-base-circular
line = [{ field = [{ label = "To" }] }]
```
Right: leave `base` out of one of the forms, and write its fields out.
"#,
);

/// A block that cannot be called on the air.
pub const FORM_BLOCK_UNMARKED: Rule = Rule::warning(
    "form-block-unmarked",
    "common practice, no source",
    r#"
Finds: a block among those that a form reads aloud (`read-aloud`) that has neither a number nor a letter.
Costs: who copies the form over the air hears words and does not know into which block they belong.

Wrong:
```toml
[[form]]
id = "note"
title = "Note"
edition = "1"
read-aloud = ["1 to 2"]
line = [
    { field = [{ number = 1, label = "To", share = 6 }, { label = "At", share = 6 }] },   # form-block-unmarked
    { field = [{ number = 2, label = "From" }] },
]
```
Right: give it a number or a letter, or say `silent = true` where it is not read.
"#,
);

/// A block that is read and is not there.
pub const FORM_READS_NO_BLOCK: Rule = Rule::of_format(
    "form-reads-no-block",
    r#"
Finds: a form that reads a block aloud which it does not have, or one block twice.
Costs: the other station waits for words that do not come.

Wrong:
```toml
[[form]]
id = "note"
title = "Note"
edition = "1"
read-aloud = ["1 to 3"]            # form-reads-no-block
line = [
    { field = [{ number = 1, label = "To" }] },
    { field = [{ number = 2, label = "From" }] },
]
```
Right: name blocks that the form has, each once, in the order in which they are said.
"#,
);

/// A label that is a sentence.
pub const FORM_LABEL_LONG: Rule = Rule::warning(
    "form-label-long",
    "common practice, no source",
    r#"
Finds: a block of a form whose label has more than 60 characters.
Costs: the label takes the room to write, and who fills the form in reads it slowly.

Wrong:
```toml
[[form]]
id = "note"
title = "Note"
edition = "1"
line = [
    { field = [{ label = "Write here to which station, post or person this message is to be taken" }] },   # form-label-long
]
```
Right: `label = "To"`, and the rest as `help`.
"#,
);

/// Defaults of a kind of which their file writes no record.
pub const DEFAULTS_OF_NOTHING: Rule = Rule::of_format(
    "defaults-of-nothing",
    r#"
Finds: `[defaults.channel]` (or of another kind) in a file that writes no such record.
Costs: what was meant to count everywhere counts nowhere, and nobody is told.

Wrong:
```toml
[defaults.channel]              # defaults-of-nothing
verified = { on = 2026-10-01, by = "qra" }
```
Right: write it into the file that has the `[[channel]]` records; rows of a spreadsheet have the `defaults` of their table.
"#,
);
