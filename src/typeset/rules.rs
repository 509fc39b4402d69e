//! What can be wrong with a layout, or with text for its place.

use super::symbol::CODE_TOO_DENSE;
use crate::ground::{Rule, Severity};

/// The rules of this floor.
pub const RULES: &[&Rule] = &[
    &UNKNOWN_LAYOUT,
    &LAYOUT_UNREADABLE,
    &LAYOUT_BELOW_FLOOR,
    &LAYOUT_LACKS_COLUMN,
    &TEXT_DOES_NOT_FIT,
    &GLYPH_MISSING,
    &PAD_HOLDS_PART,
    &CODE_TOO_DENSE,
];

/// A layout that is neither built in nor a file.
pub const UNKNOWN_LAYOUT: Rule = Rule::of_format(
    "unknown-layout",
    r#"
Finds: a `[[document]]` with a layout that this program does not have.
Costs: the sheet would be missing from the kit.

Wrong:
```toml
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
layout = "fold-9"          # unknown-layout
```
Right: write a built-in layout, `layout = "fold-8"`, or the name of your own, `layout = "layouts/ours.toml"`.
"#,
);

/// A team's own layout file that cannot be read.
pub const LAYOUT_UNREADABLE: Rule = Rule::of_format(
    "layout-unreadable",
    r#"
Finds: a layout file that is not there, is no text, or asks for a base, a format of paper, a way to turn the sheet or a number of columns that there is not.
Costs: the sheet would be missing from the kit.

Wrong:
```toml
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
layout = "ours.toml"       # layout-unreadable
```
Right: write the name of the file as it is, from the plan's folder on.
"#,
);

/// A size that tired eyes cannot read.
pub const LAYOUT_BELOW_FLOOR: Rule = Rule::of_format(
    "layout-below-floor",
    r#"
Finds: a layout with text smaller than the floor: 10.5 pt for what is dialled (8 pt on a layout that declares `is-dense`), 7 pt for all else; a margin below 5 mm (3 mm on cards), writing lines nearer than 7 mm.
Costs: a digit misread by headlamp.

Wrong:
```toml
[[channel]]
id = "sim"
row = 2
name = "SIM 1"
spoken = "Simplex One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[document]]
id = "chart"
kind = "frequency-chart"
audience = "team"
layout = "full-wide"       # layout-below-floor
```
Right: write the floor or more; what then does not fit goes to the next panel. For a chart take a dense layout: `layout = "chart"`.
"#,
);

/// A layout that leaves out what must be on paper.
pub const LAYOUT_LACKS_COLUMN: Rule = Rule::of_format(
    "layout-lacks-column",
    r#"
Finds: a layout that has no place for a column that must be printed, or for a whole table.
Costs: a card without its tones.

Wrong:
```toml
[[document]]
id = "check"
kind = "check-sheet"
audience = "coordinator"
layout = "fold-8"          # layout-lacks-column
```
Right: name the column in the layout's table, or take a layout that has it: `layout = "full"`.
"#,
);

/// Text larger than its box.
pub const TEXT_DOES_NOT_FIT: Rule = Rule::of_format(
    "text-does-not-fit",
    r#"
Finds: a text that is wider or higher than the place that the layout gives it, even on an empty panel.
Costs: clipped or shrunk text; this program does neither.

Wrong:
```toml
[[channel]]
id = "long"
row = 2
name = "THE-CHANNEL-OF-ALL-THE-HOSPITALS-IN-THE-WHOLE-COUNTY"   # text-does-not-fit
spoken = "Hospitals"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[document]]
id = "card"
kind = "channel-card"
audience = "team"
```
Right: write a shorter text, or take a larger layout.
"#,
);

/// A character that the typeface lacks.
pub const GLYPH_MISSING: Rule = Rule::of_format(
    "glyph-missing",
    r#"
Finds: a character that the typeface does not have.
Costs: an empty box on paper where a name should be.

Wrong:
```toml
[[channel]]
id = "kanji"
row = 2
name = "指揮"               # glyph-missing
spoken = "Command"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[document]]
id = "card"
kind = "channel-card"
audience = "team"
```
Right: write it in Latin, Greek or Cyrillic letters.
"#,
);

/// A form of several pages on a pad.
pub const PAD_HOLDS_PART: Rule = Rule {
    severity: Severity::Warning,
    ..Rule::of_format(
        "pad-holds-part",
        r#"
Finds: a pad, each sheet of which is cut to several copies of one page, of a form that takes more pages than one.
Costs: a stack that is cut holds the first pages alone; whoever writes on it finds out where the form goes on when the second stack is missing.

Wrong:
```toml
[[document]]
id = "messages"
kind = "form"
form = "message"
audience = "team"
layout = "pad"             # pad-holds-part
```
Right: take the whole page, `layout = "full"`, or a form that stands on half a page, as `radiogram` and `log` do.
"#,
    )
};
