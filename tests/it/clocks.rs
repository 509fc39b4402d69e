//! A night in which clocks change, on paper: every sheet gives one time for one instant, and tells which of two it is.

use crate::support::around::{findings, plan_around};
use crate::support::papers::{papers, says, told};
use crate::support::shelf::Shelf;

/// A plan in Chicago: one post, two members, and a net that meets on Sunday nights.
fn plan(valid: (&str, &str), duties: [(&str, &str); 2]) -> Shelf {
    let [(first, goes), (comes, last)] = duties;
    plan_around(&format!(
        r#"[plan]
title = "Example plan"
short = "EXAMPLE"
team = "Example team"
profile = "us"
invented = true
time-zone = "America/Chicago"
[edition]
number = 7
issued = {from}
valid-from = {from}
review-by = {to}
prepared-by = "qra"
approved-by = "qra"
[incident]
name = "Flood"
from = "{first}"
to = "{last}"
[[channel]]
id = "tac"
row = 1
name = "TAC"
spoken = "Tactical"
simplex = "146.550 MHz"
verified = {{ on = {from}, by = "qra" }}
[[net]]
id = "main"
name = "Main net"
primary = "tac"
control = "gate"
schedule = [{{ day = "Sunday", at = "01:30" }}]
[[place]]
id = "mill"
code = "MIL"
tactical = "Mill"
kind = "shelter"
visited-on = {from}
[[post]]
id = "gate"
name = "Gate"
place = "mill"
nets = ["main"]
[[member]]
id = "qsa"
call = "WZ7QSA"
name = "Ines Varga"
class = "general"
expires = 2032-04-01
confirmed = {from}
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Ek"
class = "general"
expires = 2032-04-01
confirmed = {from}
[[duty]]
post = "gate"
member = "qsa"
from = "{first}"
to = "{goes}"
[[duty]]
post = "gate"
member = "qsb"
from = "{comes}"
to = "{last}"
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
each = "member"
[[document]]
id = "site"
kind = "site-sheet"
audience = "team"
[[document]]
id = "duty"
kind = "duty-sheet"
audience = "team"
[[document]]
id = "reach"
kind = "reach-us"
audience = "public"
[[document]]
id = "log"
kind = "form"
form = "ics-201"
audience = "team"
"#,
        from = valid.0,
        to = valid.1
    ))
}

/// Forward on 2028-03-12 at 02:00: 02:15 and 02:30 are never shown, and read as 03:15 and 03:30.
#[test]
fn an_hour_that_never_comes_is_printed_on_no_paper() {
    let duties = [("2028-03-11 18:00", "2028-03-12 02:30"), ("2028-03-12 02:15", "2028-03-12 12:00")];
    let world = plan(("2028-03-01", "2028-06-01"), duties);
    let papers = papers(&world);
    for (paper, said) in &papers {
        assert!(!said.contains("02:30") && !said.contains("02:15"), "{paper}\n{said}");
    }
    let across = "8 h 30 min: Sun at 02:00 the clocks go forward 1 h to 03:00";
    says(&papers, "card-qsa", &format!("2028-03-11 18:00 to 2028-03-12 03:30 ({across})"));
    says(&papers, "card-qsb", "2028-03-12 03:15 to 12:00, the post closes");
    says(&papers, "site", &format!("Saturday 2028-03-11 18:00 to Sunday 03:30 ({across})"));
    says(&papers, "duty", across);
    says(&papers, "duty", "Sun 2028-03-12 03:15 to 12:00");
    let never = |time| format!("clocks in America/Chicago show 2028-03-12 {time} never");
    let write = |time| format!("write \"2028-03-12 {time}\"");
    assert_eq!(
        told(&world, "local-time-unclear"),
        [(never("02:30"), write("03:30")), (never("02:15"), write("03:15"))]
    );
}

/// Back on 2027-11-07 at 02:00 CDT to 01:00 CST: each of the two is told from the other, with its UTC.
#[test]
fn an_hour_that_comes_twice_is_told_which_it_is() {
    let duties = [("2027-11-06 18:00", "2027-11-07 01:30-06:00"), ("2027-11-07 01:15-06:00", "2027-11-07 12:00")];
    let world = plan(("2027-11-01", "2027-12-01"), duties);
    let papers = papers(&world);
    let across = "8 h 30 min: Sun at 02:00 the clocks go back 1 h to 01:00";
    says(&papers, "card-qsa", &format!("2027-11-06 18:00 to 2027-11-07 01:30 CST (07:30 UTC) ({across})"));
    says(&papers, "card-qsb", "2027-11-07 01:15 CST (07:15 UTC) to 12:00, the post closes");
    says(&papers, "site", "Sunday 2027-11-07 01:15 CST (07:15 UTC) to 12:00");
    says(
        &papers,
        "reach",
        "Saturday 2027-11-06 18:00 to Sunday 12:00 (19 h: Sun at 02:00 the clocks go back 1 h to 01:00)",
    );
    says(&papers, "duty", "Sun 2027-11-07 01:15 CST to 12:00");
    says(&papers, "duty", "2027-11-07 Sun 01:30 CST");
    says(&papers, "duty", "Sun 01:15 CST to Sun 01:30 CST");
    says(
        &papers,
        "card-qsa",
        "Sunday 01:30 (UTC 07:30, in summer time 06:30), on 2027-11-07 it comes twice: 01:30 CDT (06:30 UTC) counts, not 01:30 CST (07:30 UTC)",
    );
    let met = "clocks in America/Chicago show 2027-11-07 01:30 twice".to_owned();
    let meet = "meet at another time of day: at = \"02:00\"".to_owned();
    assert_eq!(told(&world, "local-time-unclear"), [(met, meet)]);
}

/// Without an offset the first is meant; the help names both as they would be typed.
#[test]
fn the_help_names_both_times_to_type() {
    let duties = [("2027-11-06 18:00", "2027-11-07 01:30"), ("2027-11-07 01:15", "2027-11-07 12:00")];
    let world = plan(("2027-11-01", "2027-12-01"), duties);
    says(&papers(&world), "card-qsb", "2027-11-07 01:15 CDT (06:15 UTC) to 12:00 (11 h 45 min: Sun at 02:00");
    let helps: Vec<String> = told(&world, "local-time-unclear").into_iter().map(|(_, help)| help).collect();
    assert_eq!(
        helps,
        [
            "meet at another time of day: at = \"02:00\"",
            "write to = \"2027-11-07 01:30-05:00\", which is 06:30 UTC, or to = \"2027-11-07 01:30-06:00\", which is 07:30 UTC",
            "write from = \"2027-11-07 01:15-05:00\", which is 06:15 UTC, or from = \"2027-11-07 01:15-06:00\", which is 07:15 UTC",
        ]
    );
}

/// An offset that is not in force is refused with those that are, and read as if it were not there: nothing else is found in its wake.
#[test]
fn an_offset_that_is_not_in_force_is_refused() {
    let found = |first: &str, comes: &str| {
        let duties = [(first, "2027-11-07 01:30-06:00"), (comes, "2027-11-07 12:00")];
        let world = plan(("2027-11-01", "2027-12-01"), duties);
        let helps: Vec<String> = told(&world, "offset-not-in-force").into_iter().map(|(_, help)| help).collect();
        let (_, all) = findings(&world);
        (helps, all.iter().map(|finding| finding.rule.name).filter(|name| *name != "offset-not-in-force").count())
    };
    let clean = found("2027-11-06 18:00-05:00", "2027-11-07 01:15-06:00");
    assert_eq!(clean.0, [""; 0]);
    // The incident begins with the first duty.
    let (helps, others) = found("2027-11-06 18:00-06:00", "2027-11-07 01:15-06:00");
    assert_eq!((helps, others), (vec!["write \"2027-11-06 18:00-05:00\"".to_owned(); 2], clean.1));
    let (helps, _) = found("2027-11-06 18:00", "2027-11-07 01:15-07:00");
    assert_eq!(helps, ["write \"2027-11-07 01:15-05:00\" or \"2027-11-07 01:15-06:00\""]);
}
