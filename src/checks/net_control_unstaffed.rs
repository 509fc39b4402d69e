//! Somebody stands at net control all the time.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, listed};
use crate::plan::subject;

/// Somebody stands at net control all the time.
pub(super) const RULE: Rule = Rule::warning("net-control-unstaffed", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a post that controls a net and at which nobody stands for some time: within the incident's period or, in a plan without `[incident]`, from its first duty to its last (where nobody at all has duty for a day, another occasion begins). Two at one post and shifts that overlap are right. A plan without any `[[duty]]` is not judged.
Costs: stations call net control, and nobody answers.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "cmd"
control = "eoc"

[[post]]
id = "eoc"
name = "EOC"
nets = ["command"]

[[duty]]
post = "eoc"
member = "qra"
from = "2026-12-05 00:00"
to = "2026-12-05 06:00"     # net-control-unstaffed

[[duty]]
post = "eoc"
member = "qra"
from = "2026-12-05 08:00"
to = "2026-12-05 18:00"
```
Right: write who stands there in between or, where the net is not open then, the hours of the post: `from = "2026-12-05 08:00"` in `[[post]]`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let staff = facts.staff();
    for unstaffed in facts.unstaffed() {
        let post = unstaffed.post;
        let nets = staff.controlled_by(&post.id.value);
        let Some(control) = nets.iter().find_map(|net| net.control.as_ref()) else { continue };
        let names: Vec<&str> = nets.iter().map(|net| net.name.as_str()).collect();
        let what = format!(
            "from {} nobody stands at post {}, which controls {}",
            unstaffed.when,
            post.name.value,
            listed(&names)
        );
        let finding: Finding = unstaffed.finding(facts.plan, &RULE, what, control.span);
        found.push(nets.iter().fold(finding, |finding, net| finding.on(subject(*net))));
    }
}
