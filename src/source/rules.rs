//! What can be wrong before anything is understood: files, syntax, keys, values.

use crate::ground::{Rule, Severity};

/// The rules of this floor.
pub const RULES: &[&Rule] = &[
    &SYNTAX,
    &NESTING_TOO_DEEP,
    &BAD_VALUE,
    &BARE_NUMBER,
    &UNKNOWN_KEY,
    &UNKNOWN_RECORD,
    &MISSING_KEY,
    &FILE_UNREADABLE,
    &FILE_TOO_LARGE,
    &MORE_THAN_TAKEN,
    &FILE_NOT_TEXT,
    &INCLUDE_LEAVES_FOLDER,
    &INCLUDE_CIRCLE,
    &INCLUDE_FINDS_NOTHING,
    &COLUMN_UNKNOWN,
    &COLUMN_REPEATED,
    &COLUMN_NOT_READ,
    &ROW_UNEVEN,
    &TABLE_UNREADABLE,
    &SHEET_UNKNOWN,
    &SHEET_NOT_NAMED,
];

/// The text is not TOML.
pub const SYNTAX: Rule = Rule::of_format(
    "syntax",
    r#"
Finds: text that is not TOML, such as a quote that is not closed.
Costs: what follows the fault may be read wrongly or not at all, so findings that only follow from it are held back.

Wrong:
```toml
[[radio]]
id = "ht-dual"
name = "Dual-band hand-held"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W" most        # syntax
```
Right: write `power = "5 W"`.
"#,
);

/// Tables and lists in each other without end.
pub const NESTING_TOO_DEEP: Rule = Rule::of_format(
    "nesting-too-deep",
    r#"
Finds: tables and lists that nest deeper than 32 levels; every dot of a key is a level too. Nothing of such a file is read.
Costs: no record is like this, so it is a slip or a trap, and a reader of it would run out of memory.

Wrong:
```toml
x = [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]   # nesting-too-deep
```
Right: remove the value.
"#,
);

/// A value that its key does not take.
pub const BAD_VALUE: Rule = Rule::of_format(
    "bad-value",
    r#"
Finds: a value that its key does not take: a frequency that is none, a word that is not in the list, a list where a text is wanted.
Costs: the value would be guessed, and a guess on paper is worse than a blank.

Wrong:
```toml
[[radio]]
id = "ht-dual"
name = "Dual-band hand-held"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "five watts"        # bad-value
```
Right: write `power = "5 W"`.
"#,
);

/// A number without its unit.
pub const BARE_NUMBER: Rule = Rule::of_format(
    "bare-number",
    r#"
Finds: a number without a unit where the unit matters, and a number from somebody's list of tones.
Costs: 12 is a different tone in different makers' lists, and 7245 is kilohertz to one reader and megahertz to another.

Wrong:
```toml
[[radio]]
id = "ht-dual"
name = "Dual-band hand-held"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = 5                   # bare-number
```
Right: write `power = "5 W"`.
"#,
);

/// A key that the record does not have.
pub const UNKNOWN_KEY: Rule = Rule::of_format(
    "unknown-key",
    r#"
Finds: a key that the record does not have, mostly a slip of the keyboard.
Costs: the value would be dropped in silence.

Wrong:
```toml
[[radio]]
id = "ht-dual"
name = "Dual-band hand-held"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W"
tolerence = "2.5 ppm"      # unknown-key
```
Right: write `tolerance`.
"#,
);

/// A kind of record that does not exist.
pub const UNKNOWN_RECORD: Rule = Rule::of_format(
    "unknown-record",
    r#"
Finds: a kind of record that does not exist, mostly a slip of the keyboard.
Costs: the whole record would be dropped in silence.

Wrong:
```toml
[[chanel]]                 # unknown-record
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
```
Right: write `[[channel]]`.
"#,
);

/// A key that the record must have.
pub const MISSING_KEY: Rule = Rule::of_format(
    "missing-key",
    r#"
Finds: a record without a key that it must have.
Costs: the paper would have a hole where an operator needs a value.

Wrong:
```toml
[[radio]]                  # missing-key
id = "ht-dual"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W"
```
Right: add `name = "Dual-band hand-held"`.
"#,
);

/// A file that cannot be read.
pub const FILE_UNREADABLE: Rule = Rule::of_format(
    "file-unreadable",
    r#"
Finds: a file that is named but is not there, or cannot be read.
Costs: its records would be missing from every sheet.

Wrong:
```toml
include = ["chanels.toml"]   # file-unreadable
```
Right: write the name of the file as it is.
"#,
);

/// A file over the limit.
pub const FILE_TOO_LARGE: Rule = Rule::of_format(
    "file-too-large",
    r"
Finds: a file of more than 16 MiB. A county's largest file is far under 1 MiB, so this is a wrong file.
Costs: memory and time, and never a plan.

Right: name the file that was meant.
",
);

/// More of something than the program takes.
pub const MORE_THAN_TAKEN: Rule = Rule::of_format(
    "more-than-taken",
    r#"
Finds: more than is taken of what grows with a plan: bytes, words and records of all its files, documents for all holders, pages of a document, rows of a form, radios at a place. Each limit is ten times what a large county has.
Costs: time and memory without end, so nothing is made rather than a part of it.

Wrong:
```toml
[[form]]
id = "tally"
title = "Tally"
edition = "1"
[[form.line]]
field = [{ label = "A", lines = 250 }]
[[form.line]]
field = [{ label = "B", lines = 250 }]
[[form.line]]
field = [{ label = "C", lines = 250 }]
[[form.line]]
field = [{ label = "D", lines = 250 }]
[[form.line]]
field = [{ label = "E", lines = 250 }]
[[form.line]]
field = [{ label = "F", lines = 250 }]
[[form.line]]
field = [{ label = "G", lines = 250 }]
[[form.line]]
field = [{ label = "H", lines = 250 }]
[[form.line]]
field = [{ label = "I", lines = 1 }]     # more-than-taken
```
Right: ask for less, as the help says.
"#,
);

/// A file that is not UTF-8.
pub const FILE_NOT_TEXT: Rule = Rule::of_format(
    "file-not-text",
    r"
Finds: a file that is not UTF-8 text, such as a roster saved in an older encoding.
Costs: names with accents would print wrongly.

Right: save the file as UTF-8.
",
);

/// A name that leaves the folder.
pub const INCLUDE_LEAVES_FOLDER: Rule = Rule::of_format(
    "include-leaves-folder",
    r#"
Finds: a file name, a pattern or a link that leads out of the plan's folder.
Costs: the plan would be different on another machine, and a plan from a stranger could read your files.

Wrong:
```toml
include = ["../other/channels.toml"]   # include-leaves-folder
```
Right: copy the file into the plan's folder.
"#,
);

/// Files that include each other.
pub const INCLUDE_CIRCLE: Rule = Rule::of_format(
    "include-circle",
    r#"
Finds: a file that includes itself, directly or by way of others.
Costs: nobody can tell which file comes first.

Wrong:
```toml
include = ["plan.toml"]    # include-circle
```
Right: remove the name.
"#,
);

/// A pattern without a file.
pub const INCLUDE_FINDS_NOTHING: Rule = Rule::of_format(
    "include-finds-nothing",
    r#"
Finds: an include pattern that matches no file.
Costs: records that somebody believes to be in the plan are not.

Wrong:
```toml
include = ["nothing-here/*.toml"]   # include-finds-nothing
```
Right: write the folder's name as it is, or remove the pattern.
"#,
);

/// A mapped heading that is not there.
pub const COLUMN_UNKNOWN: Rule = Rule::of_format(
    "column-unknown",
    r"
Finds: a column that the plan maps, or says not to read, and that the table does not have; headings that another mark parts than the one that is said.
Costs: a name, a frequency or a licence class would be missing in every row.

Right: write the heading as it stands in the table.
",
);

/// A mapped heading that is there twice.
pub const COLUMN_REPEATED: Rule = Rule::of_format(
    "column-repeated",
    r#"
Finds: a heading that the plan maps and that stands above two columns of the table.
Costs: which of the two is read would be a guess.

Right: say which is meant, `{ heading = "N/W", nth = 2 }`, or give one of them another heading in the table.
"#,
);

/// A column that nothing reads.
pub const COLUMN_NOT_READ: Rule = Rule {
    severity: Severity::Note,
    ..Rule::of_format(
        "column-not-read",
        r"
Finds: columns of a table that no key of the plan is mapped to.
Costs: mostly nothing; but what somebody keeps in such a column is on no sheet.

Right: map the column to a key, or name it in `ignore`.
",
    )
};

/// A row with more or fewer cells than headings.
pub const ROW_UNEVEN: Rule = Rule::of_format(
    "row-uneven",
    r"
Finds: a row of a CSV file with more or fewer cells than there are headings.
Costs: every value after the gap would be another record's or another column's.

Right: add the missing separator, or put quotes around a cell that holds one.
",
);

/// A spreadsheet that cannot be read.
pub const TABLE_UNREADABLE: Rule = Rule::of_format(
    "table-unreadable",
    r"
Finds: a table without headings, and a spreadsheet that is damaged, under a password, or of an older form than XLSX and ODS.
Costs: its records would be missing from every sheet.

Right: open it in a spreadsheet program, and save it as XLSX, ODS or CSV without a password.
",
);

/// A sheet that is not there.
pub const SHEET_UNKNOWN: Rule = Rule::of_format(
    "sheet-unknown",
    r"
Finds: a sheet that the plan names and that the spreadsheet does not have.
Costs: its records would be missing, or those of another sheet be taken.

Right: write the name as it stands on the sheet.
",
);

/// Several sheets, of which none is named.
pub const SHEET_NOT_NAMED: Rule = Rule {
    severity: Severity::Note,
    ..Rule::of_format(
        "sheet-not-named",
        r"
Finds: a spreadsheet with several sheets where the plan names none: the first is read.
Costs: whoever moves the sheets changes the plan.

Right: add `sheet` with its name.
",
    )
};
