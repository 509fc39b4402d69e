//! Names that are said on the air cannot be taken for each other.

use super::Facts;
use super::spoken::names;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::Spoken;

/// Names that are said on the air cannot be taken for each other.
pub(super) const RULE: Rule = Rule::warning(
    "names-sound-alike",
    "Double Metaphone word by word, and one letter of difference in words of four letters or more",
    DOC,
);

const DOC: &str = r#"
Finds: two spoken channel or net names or tactical calls that sound alike or differ by one letter.
Costs: on a poor signal half the stations go to the wrong channel, or two places answer one call.

Wrong:
```toml
[[channel]]
id = "main"
row = 2
name = "MAIN"
spoken = "Main"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "state"
row = 3
name = "STATE"
spoken = "Maine"            # names-sound-alike
simplex = "146.430 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose another name for one of them, `spoken = "State"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let names: Vec<_> =
        names(facts.plan).into_iter().map(|(name, on)| (name, on, Spoken::new(name.as_str()))).collect();
    for (index, (second, on, sound)) in names.iter().enumerate() {
        for (first, other, first_sound) in names.iter().take(index) {
            let Some(how) = first_sound.alike(sound) else { continue };
            let what = format!("\"{}\" and \"{}\" {how}", second.value, first.value);
            found.push(
                Finding::new(&RULE, second.span, what)
                    .label("can be taken for the other")
                    .and(first.span, "the other name")
                    .help("choose another name for one of them")
                    .on(on.clone())
                    .on(other.clone()),
            );
        }
    }
}
