//! `[[accept]]`: findings that somebody answers for, and what can be wrong with that.

use crate::ground::{Finding, Findings, OWN_FORMAT, Rule, Severity, Subject, Waived};
use crate::plan::{Accept, Plan};

/// Rules about waivers themselves.
pub(super) const RULES: &[&Rule] = &[&WAIVER_FINDS_NOTHING, &WAIVER_NOT_ALLOWED, &WAIVER_ENDED];

/// A waiver that no finding needs.
pub(super) const WAIVER_FINDS_NOTHING: Rule = Rule {
    name: "waiver-finds-nothing",
    severity: Severity::Warning,
    waivable: false,
    source: OWN_FORMAT,
    since: "0.1.0",
    doc: r#"
Finds: an `[[accept]]` whose finding does not occur on the records that it names.
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
Right: remove the record, or write the finding and the record as the finding shows them.
"#,
};

/// A waiver of what cannot be waived.
pub(super) const WAIVER_NOT_ALLOWED: Rule = Rule {
    name: "waiver-not-allowed",
    severity: Severity::Error,
    waivable: false,
    source: OWN_FORMAT,
    since: "0.1.0",
    doc: r#"
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
slot = 2
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
};

/// A waiver past its day.
pub(super) const WAIVER_ENDED: Rule = Rule {
    name: "waiver-ended",
    severity: Severity::Error,
    waivable: false,
    source: OWN_FORMAT,
    since: "0.1.0",
    doc: r#"
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
};

/// Marks findings that a waiver covers. May be called again when later floors have found more.
pub fn apply(plan: &Plan, found: &mut Findings) {
    for accept in &plan.accepts {
        if has_ended(accept, plan) {
            continue;
        }
        for finding in found.iter_mut().filter(|finding| is_waivable(finding.rule) && is_meant(accept, finding)) {
            finding.waived = Some(Waived {
                reason: accept.reason.to_string(),
                by: accept.by.to_string(),
                until: accept.until.to_string(),
            });
        }
    }
}

fn is_waivable(rule: &Rule) -> bool {
    rule.waivable
}

fn is_meant(accept: &Accept, finding: &Finding) -> bool {
    let is_named = |subject: &Subject| accept.on.iter().any(|on| on.text == subject.to_string());
    finding.rule.name == accept.finding.as_str() && finding.on.iter().any(is_named)
}

fn has_ended(accept: &Accept, plan: &Plan) -> bool {
    plan.edition.as_ref().is_some_and(|edition| accept.until.value < edition.issued.value)
}

/// Reports waivers that are not allowed, have ended or find nothing.
pub(super) fn check(plan: &Plan, found: &mut Findings) {
    let mut own = Findings::default();
    for accept in &plan.accepts {
        if has_ended(accept, plan) {
            own.push(ended(accept, plan));
            continue;
        }
        let meant = found.iter().find(|finding| is_meant(accept, finding));
        match meant {
            Some(finding) if !is_waivable(finding.rule) => own.push(not_allowed(accept, finding)),
            Some(_) => {}
            None if plan.is_whole => own.push(finds_nothing(accept)),
            None => {}
        }
    }
    found.append(own);
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

fn finds_nothing(accept: &Accept) -> Finding {
    let on: Vec<String> = accept.on.iter().map(|on| on.text.clone()).collect();
    let what = format!("no {} is found on {}", accept.finding.value, on.join(", "));
    Finding::new(&WAIVER_FINDS_NOTHING, accept.finding.span, what).label("accepts nothing").help("remove this record")
}
