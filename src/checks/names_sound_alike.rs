//! Names that are said on the air cannot be taken for each other.

use super::Facts;
use super::many::{MOST_EACH, first_few, likewise, naming};
use super::spoken::names;
use crate::ground::{At, Finding, Findings, Rule, Subject, Words};
use crate::plan::subject;
use crate::reckon::Spoken;
use std::collections::BTreeSet;

/// Names that are said on the air cannot be taken for each other.
pub(super) const RULE: Rule = Rule::warning(
    "names-sound-alike",
    "Double Metaphone word by word, and one letter of difference in words of four letters or more",
    DOC,
);

const DOC: &str = r#"
Finds: two spoken channel or net names or tactical calls that sound alike or differ by one letter. Of one that is like more than eight others a single finding tells.
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
    let given: BTreeSet<Subject> =
        facts.plan.channels.iter().filter(|channel| channel.has_published_name()).map(subject).collect();
    let names: Vec<Named<'_>> = names(facts.plan)
        .into_iter()
        .map(|(name, on)| Named { name, sound: Spoken::new(name.as_str()), is_given: given.contains(&on), on })
        .collect();
    for (index, second) in names.iter().enumerate() {
        // Names that an agency gave to both cannot be chosen otherwise.
        let before = names.iter().take(index).filter(|first| !(first.is_given && second.is_given));
        let alike = first_few(before.filter_map(|first| Some((first, first.sound.alike(&second.sound)?))));
        match alike.as_slice() {
            few if few.len() <= MOST_EACH => few.iter().for_each(|first| found.push(finding(second, first, &[]))),
            [first, ..] => found.push(finding(second, first, &alike)),
            [] => {}
        }
    }
}

/// A name that is said on the air.
struct Named<'a> {
    name: &'a At<Words>,
    on: Subject,
    sound: Spoken,
    /// Whether it is that of a published channel.
    is_given: bool,
}

/// An earlier name, and how it is like a later one.
type Alike<'b, 'a> = (&'b Named<'a>, &'static str);

/// A finding of two; with it stand all that are like the second where these are many.
fn finding(second: &Named<'_>, (first, how): &Alike<'_, '_>, all: &[Alike<'_, '_>]) -> Finding {
    let what = format!("\"{}\" and \"{}\" {how}{}", second.name.value, first.name.value, likewise(all));
    let finding = Finding::new(&RULE, second.name.span, what)
        .label("can be taken for the other")
        .and(first.name.span, "the other name")
        .help("choose another name for one of them")
        .on(second.on.clone())
        .on(first.on.clone());
    naming(finding, all.iter().skip(1).map(|(first, _)| Some(first.on.clone())))
}
