//! On 60 m voice is sent on the upper sideband.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Side, subject};

/// On 60 m voice is sent on the upper sideband.
pub(super) const RULE: Rule = Rule::warning(
    "sixty-meters-lower-sideband",
    "47 CFR 97.307(f)(14) as it stood before 2026; the present text was not seen in full",
    DOC,
);

const DOC: &str = r#"
Finds: a 60 m channel with the lower sideband.
Costs: half of the signal leaves the channel, and nobody there listens to that side.

Wrong:
```toml
[[channel]]
id = "sixty"
row = 2
name = "HF 60"
spoken = "Sixty"
dial = "5360.0 kHz"
side = "LSB"                # sixty-meters-lower-sideband
power = "9 W"
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `side = "USB"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.service.is_amateur()) {
        let Some(side) = channel.written_side() else { continue };
        let is_sixty = facts.profile.bands.iter().any(|band| band.id == "60m" && band.edges.has(channel.hear.value));
        if side.value != Side::Lsb || !is_sixty {
            continue;
        }
        let what = format!(
            "channel {} sends LSB on {}, where the upper sideband is used",
            channel.name.value, channel.hear.value
        );
        found.push(
            Finding::new(&RULE, side.span, what)
                .label("the other side")
                .and(channel.hear.span, "on 60 m")
                .help("write `side = \"USB\"`")
                .fix(side.span, "\"USB\"")
                .on(subject(channel)),
        );
    }
}
