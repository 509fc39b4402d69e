//! What a row from memory says of a channel of another service warns.

use super::{Facts, service_channel_unknown, service_limit_exceeded};
use crate::ground::{Findings, Rule};

/// What a row from memory says of a channel of another service warns.
pub(super) const RULE: Rule =
    Rule::warning("service-row-unproved", "the rows of the profile that are from memory", DOC);

const DOC: &str = r#"
Finds: what `service-channel-unknown` and `service-limit-exceeded` find, where the profile's row is from memory for just that: nobody has seen the figure in print, so that it cannot refuse a plan.
Costs: if the row is right, an unlawful signal.

Wrong:
```toml
[[channel]]
id = "block"
row = 2
name = "MURS 1"
spoken = "Murs One"
service = "murs"
simplex = "151.820 MHz"
width = "16 kHz"            # service-row-unproved
power = "2 W"
```
Right: keep to the row, `width = "narrow"`, or read the rule and accept this with its paragraph as the reason.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    service_channel_unknown::each(facts, (&RULE, true), found);
    service_limit_exceeded::each(facts, (&RULE, true), found);
}
