//! After any single loss a net comes together again by what the cards say.

use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::plan::{Net, subject};
use crate::reckon::{Eligibility, Loss, Met, losses, rehearse};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// After any single loss a net comes together again by what the cards say.
pub(super) const RULE: Rule = Rule {
    name: "net-does-not-rejoin",
    severity: Severity::Warning,
    waivable: true,
    source: "a rehearsal of the plan's own words",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a loss (a repeater, a gateway, a place, mains power, the internet) after which a net whose people follow only their cards does not come together: they run out of channels, end on different ones, or are sent to one that their radios do not have.
Costs: the net falls apart at the moment for which it was planned.

Wrong:
```toml
[[channel]]
id = "cmd"
slot = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"             # net-does-not-rejoin
control = "desk"

[[post]]
id = "desk"
name = "Net control"
nets = ["county"]

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: add an `alternate` that everybody in the net can hear, best a simplex channel.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    let Facts { tables, profile, plan, .. } = facts;
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
    let losses = losses(plan);
    for net in plan.nets.iter() {
        for loss in &losses {
            let Some(met) = rehearse(Eligibility { tables, profile, plan, day }, net, loss) else { continue };
            if met.on.is_some() && met.apart.is_empty() {
                continue;
            }
            // The first loss says it; others with the same end would only repeat it.
            found.push(finding(net, loss, &met));
            break;
        }
    }
}

fn finding(net: &Net, loss: &Loss, met: &Met<'_>) -> Finding {
    let apart: Vec<String> =
        met.apart.iter().map(|(member, apart)| format!("{} {}", member.name.value, apart.words())).collect();
    let what = match met.on {
        Some(on) => {
            format!("without {}, {} meets on {}, but {}", loss.words, net.name.value, on.name.value, apart.join(", "))
        }
        None => format!("without {}, {} does not come together: {}", loss.words, net.name.value, apart.join(", ")),
    };
    let at = net.legs.first().map_or(net.span, |leg| leg.channel.span);
    let finding = Finding::new(&RULE, at, what).label("is dead then");
    let finding = finding
        .help(
            "add a channel that everybody in the net can hear, best a simplex one; `rehearsal-report` shows every loss",
        )
        .on(subject(net));
    met.apart
        .iter()
        .fold(finding, |finding, (member, _)| finding.and(member.id.span, "not with the net").on(subject(*member)))
}
