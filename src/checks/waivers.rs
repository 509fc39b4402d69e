//! `[[accept]]`: findings that somebody answers for, and what can be wrong with that.

use crate::ground::{Finding, Findings, Rule, Severity, Subject, Waived};
use crate::plan::{Accept, Plan};
use crate::source::quoted;
use std::collections::{BTreeMap, BTreeSet};

/// Rules about waivers themselves.
pub(super) const RULES: &[&Rule] = &[
    &WAIVER_FINDS_NOTHING,
    &WAIVER_NOT_ALLOWED,
    &WAIVER_ENDED,
    &WAIVER_WITHOUT_REASON,
    &WAIVER_SAYS_NOTHING,
    &WAIVER_SAYS_OTHERWISE,
];

/// A waiver that no finding needs.
pub(super) const WAIVER_FINDS_NOTHING: Rule = Rule {
    severity: Severity::Warning,
    ..Rule::of_format(
        "waiver-finds-nothing",
        r#"
Finds: an `[[accept]]` whose finding does not occur on exactly the records that it names, in any order.
Costs: a reason on the check sheet that answers nothing, and perhaps a misspelt name that lets the real finding stand.

Wrong:
```toml
[[accept]]
finding = "unusual-shift"   # waiver-finds-nothing
on = ["repeater/cold-ridge"]
reason = "The coordinator assigned it"
by = "qra"
until = 2027-06-01
```
Right: remove the record, or write finding and records as `--format long` prints them below the finding.
"#,
    )
};

/// A waiver of what cannot be waived.
pub(super) const WAIVER_NOT_ALLOWED: Rule = Rule::of_format(
    "waiver-not-allowed",
    r#"
Finds: an `[[accept]]` for a finding that may not be waived: law never is, nor anything that would leave the paper wrong.
Costs: somebody would answer for what nobody may allow.

Wrong:
```toml
[[radio]]
id = "ht"
name = "Hand-held"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W"

[[channel]]
id = "cmd-x"
row = 2
name = "CMD 2"
spoken = "Command Two"
simplex = "148.500 MHz"     # transmit-leaves-band
verified = { on = 2026-10-01, by = "qra" }

[[accept]]
finding = "transmit-leaves-band"   # waiver-not-allowed
on = ["channel/cmd-x"]
reason = "We need it"
by = "qra"
until = 2027-06-01
```
Right: mend what was found.
"#,
);

/// A waiver past its day.
pub(super) const WAIVER_ENDED: Rule = Rule::of_format(
    "waiver-ended",
    r#"
Finds: an `[[accept]]` whose `until` lies before the day of issue of this edition.
Costs: an exception that was meant to end goes on unseen.

Wrong:
```toml
[[accept]]
finding = "unusual-shift"
on = ["repeater/cold-ridge"]
reason = "The coordinator assigned it"
by = "qra"
until = 2026-01-01          # waiver-ended
```
Right: look again, then write a later day or mend the plan.
"#,
);

/// A waiver that nobody gave a reason for.
pub(super) const WAIVER_WITHOUT_REASON: Rule = Rule::of_format(
    "waiver-without-reason",
    r#"
Finds: an `[[accept]]` whose `reason` has no word, such as the dots of the record that `--format long` prints. It accepts nothing.
Costs: the check sheet would show that somebody answers for a fault, and not why.

Wrong:
```toml
[[repeater]]
id = "orchard"
call = "WZ7QUX"
output = "146.760 MHz"
input = "+600 kHz"          # unusual-shift
tone-in = "100.0 Hz"
tone-out = "off"
verified = { on = 2026-10-01, by = "qra" }

[[accept]]
finding = "unusual-shift"
on = ["repeater/orchard"]
reason = "..."              # waiver-without-reason
by = "qra"
until = 2027-06-01
```
Right: `reason = "Assigned this way to protect Quarry"`.
"#,
);

/// A waiver that accepts a fault of any size.
pub(super) const WAIVER_SAYS_NOTHING: Rule = Rule {
    severity: Severity::Warning,
    ..Rule::of_format(
        "waiver-says-nothing",
        r#"
Finds: an `[[accept]]` without `says`: it accepts whatever the finding says of its records.
Costs: who answered for an hour without a net control answers for a whole day once somebody changes the duties, and nobody is told.

Wrong:
```toml
[[repeater]]
id = "orchard"
call = "WZ7QUX"
output = "146.760 MHz"
input = "+600 kHz"          # unusual-shift
tone-in = "100.0 Hz"
tone-out = "off"
verified = { on = 2026-10-01, by = "qra" }

[[accept]]
finding = "unusual-shift"   # waiver-says-nothing
on = ["repeater/orchard"]
reason = "Assigned this way to protect Quarry"
by = "qra"
until = 2027-06-01
```
Right: add the line `says = "..."` as `--format long` or this finding prints it.
"#,
    )
};

/// A waiver of a finding that has changed.
pub(super) const WAIVER_SAYS_OTHERWISE: Rule = Rule {
    severity: Severity::Warning,
    ..Rule::of_format(
        "waiver-says-otherwise",
        r#"
Finds: an `[[accept]]` whose finding still occurs on its records, and says something else than `says`: another figure, other hours. It accepts nothing.
Costs: none while it is told: what was accepted is no longer what there is.

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

[[accept]]
finding = "names-sound-alike"
on = ["channel/main", "channel/state"]
says = "\"Mane\" and \"Main\" sound alike"   # waiver-says-otherwise
reason = "Heard apart in three exercises"
by = "qra"
until = 2027-06-01
```
Right: look at the finding again; if it may stay as it is now, write `says` as it is printed.
"#,
    )
};

/// Marks findings that a waiver covers. May be called again when later floors have found more.
pub fn apply(plan: &Plan, found: &mut Findings) {
    let mut waivers: BTreeMap<Meant, Vec<&Accept>> = BTreeMap::new();
    for accept in plan.accepts.iter().filter(|accept| !has_ended(accept, plan) && has_reason(accept)) {
        waivers.entry(meant(accept)).or_default().push(accept);
    }
    found.waive(|finding| {
        let accepts = waivers.get(&meant_by(finding)).filter(|_| finding.rule.waivable)?;
        let accept = accepts.iter().find(|accept| covers(accept, finding))?;
        Some(Waived { reason: accept.reason.to_string(), by: accept.by.to_string(), until: accept.until.to_string() })
    });
}

/// A finding as a waiver means it: its name and exactly the records that it concerns, in any order.
type Meant = (String, BTreeSet<String>);

fn meant(accept: &Accept) -> Meant {
    (accept.finding.to_string(), accept.on.iter().map(|on| on.text.clone()).collect())
}

fn meant_by(finding: &Finding) -> Meant {
    (finding.rule.name.to_owned(), finding.on.iter().map(Subject::to_string).collect())
}

/// Whether a waiver of a finding's name and records accepts what it says now: a figure that has changed may have grown.
fn covers(accept: &Accept, finding: &Finding) -> bool {
    accept.says.as_ref().is_none_or(|says| says.value == finding.message)
}

/// Whether somebody wrote why: any letter will do, for no program can judge a reason.
fn has_reason(accept: &Accept) -> bool {
    accept.reason.as_str().chars().any(char::is_alphabetic)
}

/// Who answers for what is accepted, and until when, as a new waiver proposes them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Answering {
    by: String,
    until: String,
}

impl Answering {
    /// Those of a plan's edition: who prepared it, and the day of its review.
    #[must_use]
    pub fn of(plan: &Plan) -> Option<Self> {
        let edition = plan.edition.as_ref()?;
        Some(Self { by: edition.prepared_by.to_string(), until: edition.review_by.to_string() })
    }

    /// The `[[accept]]` of a finding, ready but for its reason. None for what may not be accepted, or is already.
    #[must_use]
    pub fn record(&self, finding: &Finding) -> Option<String> {
        if !finding.rule.waivable || finding.waived.is_some() {
            return None;
        }
        let (name, on) = meant_by(finding);
        let Self { by, until } = self;
        Some(format!(
            "[[accept]]\nfinding = \"{name}\"\non = {}\nsays = {}\nreason = \"...\"\nby = \"{by}\"\nuntil = {until}\n",
            written(&on),
            quoted(&finding.message)
        ))
    }
}

/// Records as `on` has them: `["place/saddle", "repeater/north"]`.
fn written(on: &BTreeSet<String>) -> String {
    let quoted: Vec<String> = on.iter().map(|on| format!("\"{on}\"")).collect();
    format!("[{}]", quoted.join(", "))
}

fn has_ended(accept: &Accept, plan: &Plan) -> bool {
    plan.edition.as_ref().is_some_and(|edition| accept.until.value < edition.issued.value)
}

/// Reports waivers that are not allowed, have ended, say no reason or find nothing.
pub(super) fn check(plan: &Plan, found: &mut Findings) {
    let mut known: BTreeMap<String, BTreeMap<BTreeSet<String>, Vec<&Finding>>> = BTreeMap::new();
    for finding in found.iter() {
        let (name, on) = meant_by(finding);
        known.entry(name).or_default().entry(on).or_default().push(finding);
    }
    let mut own = Findings::default();
    for accept in &plan.accepts {
        if has_ended(accept, plan) {
            own.push(ended(accept, plan));
            continue;
        }
        if !has_reason(accept) {
            own.push(without_reason(accept));
            continue;
        }
        let (name, on) = meant(accept);
        let of_name = known.get(&name);
        let exact = of_name.and_then(|of_name| of_name.get(&on)).map_or(&[][..], Vec::as_slice);
        let near: Vec<_> = of_name.into_iter().flatten().filter(|(set, _)| !set.is_disjoint(&on)).collect();
        let first = exact.first().or_else(|| near.first().and_then(|(_, findings)| findings.first()));
        match first {
            Some(finding) if !finding.rule.waivable => own.push(not_allowed(accept, finding)),
            _ if exact.is_empty() && plan.is_whole => {
                own.push(finds_nothing(accept, &near.into_iter().map(|(set, _)| set).collect::<Vec<_>>()));
            }
            _ => said(accept, exact).filter(|_| plan.is_whole).into_iter().for_each(|finding| own.push(finding)),
        }
    }
    found.append(own);
}

/// What is wrong with what a waiver says of the findings on its records.
fn said(accept: &Accept, exact: &[&Finding]) -> Option<Finding> {
    let first = exact.first()?;
    let messages: BTreeSet<&str> = exact.iter().map(|finding| finding.message.as_str()).collect();
    let now = quoted(&first.message);
    let one = messages.len() == 1;
    let name = &accept.finding.value;
    let Some(says) = &accept.says else {
        let what = format!("the waiver of {name} accepts whatever the finding says of these records");
        let finding = Finding::new(&WAIVER_SAYS_NOTHING, accept.finding.span, what).label("of any size");
        let finding = finding.and(first.span, "found here");
        return Some(match one {
            true => finding.help(format!("add `says = {now}`")),
            false => {
                finding.help("write a record for each that may stay; without this one, `--format long` prints them")
            }
        });
    };
    if messages.contains(says.as_str()) {
        return None;
    }
    let what = format!("the waiver of {name} accepts another fault than there is now: {}", first.message);
    let finding =
        Finding::new(&WAIVER_SAYS_OTHERWISE, says.span, what).label("no longer so").and(first.span, "found here");
    Some(match one {
        true => {
            finding.help(format!("look again; if it may stay as it is now, write `says = {now}`")).fix(says.span, now)
        }
        false => finding.help("look again; `--format long` prints a record for each"),
    })
}

fn ended(accept: &Accept, plan: &Plan) -> Finding {
    let issued = plan.edition.as_ref().map(|edition| edition.issued);
    let day = issued.map_or_else(String::new, |issued| issued.to_string());
    let what = format!(
        "the waiver of {} ended on {}, before this edition's issue on {day}",
        accept.finding.value, accept.until.value
    );
    let finding = Finding::new(&WAIVER_ENDED, accept.until.span, what).label("has passed");
    let finding = match issued {
        Some(issued) => finding.and(issued.span, "day of issue"),
        None => finding,
    };
    finding.help("look at the finding again, then write a later day or remove the record")
}

fn not_allowed(accept: &Accept, meant: &Finding) -> Finding {
    let what = format!("{} may not be waived", accept.finding.value);
    let finding = Finding::new(&WAIVER_NOT_ALLOWED, accept.finding.span, what).label("asks to accept it");
    finding
        .and(meant.span, "found here")
        .note(format!("the rule rests on {}", meant.rule.source))
        .help("mend what was found")
}

fn without_reason(accept: &Accept) -> Finding {
    let what = format!("the waiver of {} says \"{}\", which is no reason", accept.finding.value, accept.reason.value);
    Finding::new(&WAIVER_WITHOUT_REASON, accept.reason.span, what)
        .label("still to be written")
        .help("write in words why this may stay, for whoever reads the check sheet")
}

/// Most sets of records that a message shows.
const SHOWN: usize = 3;

/// `near`: the exact sets of records on which the finding does occur, as far as one of the waiver's is among them.
fn finds_nothing(accept: &Accept, near: &[&BTreeSet<String>]) -> Finding {
    let (name, on) = meant(accept);
    let what = format!("no {name} is found on exactly {}", written(&on));
    let finding = Finding::new(&WAIVER_FINDS_NOTHING, accept.finding.span, what).label("accepts nothing");
    let names = accept.on.first().filter(|_| !near.is_empty());
    let finding = names.into_iter().fold(finding, |finding, on| finding.and(on.span, "names too many or too few"));
    let shown: Vec<String> = near.iter().take(SHOWN).map(|set| written(set)).collect();
    let more = near.len().saturating_sub(SHOWN);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    match shown.as_slice() {
        [] => finding.help("remove this record"),
        [one] => {
            finding.note(format!("it is found on {one}")).help(format!("write `on = {one}`, or remove this record"))
        }
        several => finding
            .note(format!("it is found on {}{more}", several.join("; ")))
            .help("write a record for each that may stay; `--format long` prints them"),
    }
}
