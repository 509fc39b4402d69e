//! At one place no harmonic of a transmitter falls on a receiver.

use super::Facts;
use super::possible_product::look;
use crate::ground::{Findings, Rule};
use crate::reckon::Site;

/// At one place no harmonic of a transmitter falls on a receiver.
pub(super) const RULE: Rule =
    Rule::warning("harmonic-on-receiver", "n x f for n = 2 to 5, common practice, no source", DOC);

const DOC: &str = r#"
Finds: a place where a harmonic (2 to 5 times the frequency, as much wider) of a transmitter may fall on a receiver there. The third harmonic of 2 m falls into 70 cm.
Costs: perhaps a 70 cm net that is deaf whenever packet sends.

Wrong:
```toml
[[place]]
id = "hq"
code = "HQX"
tactical = "Headquarters"
kind = "operations-centre"
visited-on = 2026-10-04
monitors = ["packet", "link"]   # harmonic-on-receiver

[[channel]]
id = "packet"
row = 2
name = "PKT"
spoken = "Packet"
simplex = "144.950 MHz"
mode = "data"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "link"
row = 3
name = "LINK"
spoken = "Link"
simplex = "434.850 MHz"
verified = { on = 2026-10-01, by = "qra" }
```
Right: move one of them by more than the widened width, or fit a low-pass filter behind the transmitter.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    look(facts, &RULE, Site::harmonics, found);
}
