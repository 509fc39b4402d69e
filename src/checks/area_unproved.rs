//! A limit that is bound to an area asks where the station stands.

use super::Facts;
use super::amateur::senders;
use crate::ground::{Finding, Findings, Rule};
use crate::reckon::{Spot, Transmission, Within, from_line, within};
use crate::tables::{Cite, LawArea, Profile};

/// A limit that is bound to an area asks where the station stands.
pub(super) const RULE: Rule =
    Rule::warning("area-unproved", "the rows of the profile; us: 47 CFR 97.303(m), 97.313(f), (g)", DOC);

const DOC: &str = r#"
Finds: a station that sends where a limit or a ban is bound to an area, while the plan does not say enough to tell whether it stands there: no `position` of its place, no `region` of the plan; an area that this program only knows roughly; or a place within 2 km of a line whose points have been read in two ways.
Costs: a limit that nobody looked at.

Wrong:
```toml
[[repeater]]
id = "high"
call = "WZ7QUX"
output = "444.100 MHz"      # area-unproved
input = "+5 MHz"
tone-in = "100.0 Hz"
tone-out = "off"
power = "100 W"
verified = { on = 2026-10-04, by = "qra" }
```
Right: write the state in `[plan]`, `region = "US-MT"`, and the place of the repeater with its `position`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let Ok(reaches) = facts.reaches(&sender) else { continue };
        let bound = bound(facts.profile, &sender, &reaches);
        if bound.is_empty() {
            continue;
        }
        let spots = sender.spots();
        // Where one area certainly holds it, that is an error of its own.
        let is_open = |area: &LawArea| matches!(verdict(area, &spots), Within::Unknown | Within::Near);
        let open: Vec<_> = bound.into_iter().filter(|(area, ..)| is_open(area)).collect();
        let Some((area, limit, cite)) = open.first() else { continue };
        let others = if open.len() > 1 { format!(", as in {} other areas", open.len() - 1) } else { String::new() };
        let (why, help) = why(area, &spots);
        let what = format!(
            "{} sends on {}: in {} {limit}{others}, and {why}",
            sender.words(),
            sender.frequency.value,
            area.name
        );
        found.push(
            Finding::new(&RULE, sender.frequency.span, what)
                .label("depends on the place")
                .note(cite.source.clone())
                .help(help)
                .on_all(sender.from.subject()),
        );
    }
}

/// The rows bound to an area that would bind the sender there, with what they say.
fn bound<'a>(
    profile: &'a Profile,
    sender: &Transmission<'_>,
    reaches: &crate::ground::Stretch,
) -> Vec<(&'a LawArea, String, &'a Cite)> {
    let banned = profile.exclusions.iter().filter(|row| row.edges.overlaps(reaches));
    let mut bound: Vec<_> = banned.map(|row| (&row.area, "nobody may transmit there".to_owned(), &row.cite)).collect();
    for limit in profile.power_limits.iter().filter(|limit| limit.edges.overlaps(reaches)) {
        let is_over = sender.power().is_some_and(|power| power.value > limit.most.power);
        if let Some(area) = limit.area.as_ref().filter(|_| is_over) {
            bound.push((area, format!("the limit is {}", limit.most.power), &limit.cite));
        }
    }
    bound
}

/// Why it is not settled whether a station stands in an area, and what to do.
fn why(area: &LawArea, spots: &[Spot<'_>]) -> (String, &'static str) {
    let near = spots.iter().filter(|spot| within(area, spot) == Within::Near);
    let near = near.filter_map(|spot| Some((from_line(area, spot)?, spot.name?))).min();
    if let Some((far, name)) = near {
        let why = format!("the place {name} stands {far} from its line, too near to be sure of the side");
        return (
            why,
            "ask the frequency coordinator on which side it stands, then accept this, or move to another band",
        );
    }
    let help = if area.is_rough {
        "look at the rule for the exact line, then accept this or move the station"
    } else {
        "write `region` in [plan], and the station's place with its `position`"
    };
    ("the plan does not show that it stands elsewhere".to_owned(), help)
}

fn verdict(area: &LawArea, spots: &[Spot<'_>]) -> Within {
    spots.iter().map(|spot| within(area, spot)).max().unwrap_or(Within::No)
}
