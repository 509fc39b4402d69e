//! Signals wider than the band's own spacing are told of once.

use super::Facts;
use super::many::{Spectrum, first_few};
use super::overlaps::{Overlap, keep_spacing, overlap, stations};
use crate::ground::{Finding, Findings, Rule, Severity, Width};

/// Signals wider than the band's own spacing are told of once.
pub(super) const RULE: Rule = Rule {
    severity: Severity::Note,
    ..Rule::warning(
        "wider-than-spacing",
        "the rows of the profile: channel spacing of the band plan, common practice, no source",
        DOC,
    )
};

const DOC: &str = r#"
Finds: FM channels that lie the spacing of the band plan apart, or more, and overlap all the same, since their signals are wider than that; once for the whole plan.
Costs: nothing where they are worked far apart; in one room, the one is heard as crackle on the other.

Wrong:
```toml
[[channel]]
id = "tac-1"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "tac-2"
row = 3
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.565 MHz"     # wider-than-spacing
verified = { on = 2026-10-01, by = "qra" }
```
Right: nothing to type; where both are worked in one room, move one of them further.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let stations = stations(facts);
    let (mut spectrum, mut first_pair, mut pairs) = (Spectrum::default(), None, 0_usize);
    for second in &stations {
        let occupied = second.occupied();
        let near = spectrum.near(&occupied).filter_map(|index| stations.get(index));
        let met =
            first_few(near.filter_map(|first| overlap(second, first, |one, other| keep_spacing(facts, one, other))));
        pairs += met.len();
        first_pair = first_pair.or(met.into_iter().next());
        spectrum.put(&occupied);
    }
    if let Some(pair) = first_pair {
        found.push(finding(&pair, pairs));
    }
}

fn finding((second, first, [their, our]): &Overlap<'_, '_>, pairs: usize) -> Finding {
    let apart = (their.sent.frequency.value - our.sent.frequency.value).size();
    let more = match pairs {
        1 => String::new(),
        2 => ", as one pair more is".to_owned(),
        _ => format!(", as {} pairs more are", pairs - 1),
    };
    let what = format!(
        "{} and {} are the spacing of the band plan apart, {}, and overlap since their signals are wider{more}",
        first.of.words(),
        second.of.words(),
        Width::hertz(apart)
    );
    Finding::new(&RULE, their.sent.frequency.span, what)
        .label(format!("occupies {}", their.stretch))
        .and(our.sent.frequency.span, format!("occupies {}", our.stretch))
        .note("radios tell them apart by their tuning; side by side in one room they may not")
        .on_all(second.of.subject())
        .on_all(first.of.subject())
}
