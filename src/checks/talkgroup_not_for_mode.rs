//! Time slots and talkgroups are of the modes that have them, and in their range.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Mode, subject};

/// Time slots and talkgroups are of the modes that have them, and in their range.
pub(super) const RULE: Rule = Rule::error(
    "talkgroup-not-for-mode",
    "ETSI TS 102 361-1 (slots 1 and 2; talkgroups 1 to 16776415), TIA-102.BAAC (1 to 65535), NXDN TS 1-A (1 to 65535): from memory",
    DOC,
);

const DOC: &str = r#"
Finds: a time slot on a channel that is not DMR; a talkgroup in a mode without talkgroups, or outside its range.
Costs: the radio cannot be set to it, so nobody hears anybody.

Wrong:
```toml
[[channel]]
id = "wide"
row = 2
name = "WIDE"
spoken = "Wide"
simplex = "446.075 MHz"
mode = "P25"
talkgroup = 65536           # talkgroup-not-for-mode
verified = { on = 2026-10-01, by = "qra" }
```
Right: write a talkgroup that P25 has, 1 to 65535; a time slot belongs to DMR alone.
"#;

/// The highest talkgroup of a mode; none in a mode without talkgroups.
const fn highest(mode: Mode) -> Option<u32> {
    match mode {
        Mode::Dmr => Some(16_776_415),
        Mode::P25 | Mode::Nxdn => Some(65_535),
        _ => None,
    }
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let mode = channel.signal.mode.value;
        if let Some(slot) = channel.time_slot.filter(|_| mode != Mode::Dmr) {
            let what = format!("channel {} has a time slot, which {mode} does not have", channel.name.value);
            let finding = Finding::new(&RULE, slot.span, what).label("no such slot").on(subject(channel));
            found.push(finding.help("leave it out"));
        }
        let Some(group) = channel.talkgroup else { continue };
        match highest(mode) {
            Some(highest) if (1..=highest).contains(&group.value.get()) => {}
            Some(highest) => {
                let what =
                    format!("channel {} has talkgroup {}; {mode} has 1 to {highest}", channel.name.value, group.value);
                found.push(Finding::new(&RULE, group.span, what).label("no such talkgroup").on(subject(channel)));
            }
            None => {
                let what = format!("channel {} has a talkgroup, which {mode} does not have", channel.name.value);
                let finding = Finding::new(&RULE, group.span, what).label("of another mode").on(subject(channel));
                found.push(finding.help("leave it out, or write the mode that it belongs to"));
            }
        }
    }
}
