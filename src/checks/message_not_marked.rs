//! A message of an exercise says that it is one.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{MarkWord, subject};

/// A message of an exercise says that it is one.
pub(super) const RULE: Rule = Rule::error(
    "message-not-marked",
    "the ARRL's precedences, second-hand: in a drill TEST or EXERCISE stands beside them",
    DOC,
);

const DOC: &str = r#"
Finds: in a plan with an `[[exercise]]`, or with an `[incident]` that is one, a `[[message]]` whose precedence does not bear the word that marks it as no real one; where the exercise orders a word by `mark`, that word.
Costs: somebody who hears it takes it for real, and sends an ambulance.

Wrong:
```toml
[[exercise]]
name = "Long night"
from = "2026-12-05 08:00"
to = "2026-12-05 12:00"
real-emergency = "real emergency, real emergency"
mark = "TEST"

[[message]]
id = "beds"
number = 12
precedence = "Routine"      # message-not-marked
station-of-origin = "WZ7QRA"
place-of-origin = "Sorrel MT"
date = "DEC 5"
to = ["Duty officer"]
text = "TWELVE BEDS FREE"
signature = "Abel Quist"
```
Right: `precedence = "TEST Routine"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let ordered = plan.exercise.as_ref().and_then(|exercise| exercise.mark);
    let is_exercise = plan.exercise.is_some() || plan.incident.as_ref().is_some_and(|incident| incident.is_exercise);
    if !is_exercise {
        return;
    }
    let word = ordered.map_or(MarkWord::Exercise, |mark| mark.value).word();
    for message in plan.messages.iter() {
        let written = &message.precedence;
        let is_marked = match (written.value.drill, ordered) {
            (Some(own), Some(_)) => own == word,
            (Some(_), None) => true,
            (None, _) => false,
        };
        if is_marked {
            continue;
        }
        let said = written.value.drill.map_or_else(|| "no word".to_owned(), |own| format!("the word {own}"));
        let what = format!(
            "message {} of an exercise has {said} before its precedence, in place of {word}",
            message.number.value
        );
        let finding = Finding::new(&RULE, written.span, what).label("does not say that it is an exercise");
        let finding = finding.write(format!("{word} {}", written.value.word)).on(subject(message));
        let order = ordered.map(|mark| mark.span).or(plan.exercise.as_ref().map(|exercise| exercise.name.span));
        found.push(match order {
            Some(span) => finding.and(span, "orders the word"),
            None => finding,
        });
    }
}
