//! What the duty sheet says of hours, gaps and time on duty, by value.

use crate::support::around::findings;
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::{document, tasks};
use fieldsheaf::ground::Findings;

const SHEET: &str = "[[document]]\nid = \"duty\"\nkind = \"duty-sheet\"\naudience = \"team\"\n";

fn post(id: &str, hours: &str) -> String {
    format!("[[post]]\nid = \"{id}\"\nname = \"{}\"\n{hours}", id.to_uppercase())
}

fn duty(post: &str, member: &str, from: &str, to: &str) -> String {
    format!("[[duty]]\npost = \"{post}\"\nmember = \"{member}\"\nfrom = \"{from}\"\nto = \"{to}\"\n")
}

fn member(id: &str) -> String {
    format!("[[member]]\nid = \"{id}\"\nname = \"Name {id}\"\nclass = \"none\"\nconfirmed = 2026-10-01\n")
}

/// The sheet's canonical text.
fn sheet(parts: &[String]) -> String {
    let world = shelf(parts);
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let orders = tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found)
        .unwrap_or_else(|| panic!("{:?}", found.iter().map(|f| &f.message).collect::<Vec<_>>()));
    let said = fieldsheaf::edition::canonical(&document(&checked, &orders[0], None), "rules").unwrap();
    said.replace('\u{a0}', " ")
}

fn shelf(parts: &[String]) -> Shelf {
    Shelf::new().with("plan.toml", format!("{HEAD}{}{SHEET}", parts.concat()))
}

/// The values of a canonical text whose paths end so.
fn values<'a>(said: &'a str, table: &str, end: &str) -> Vec<&'a str> {
    let pairs = said.lines().filter_map(|line| line.split_once('\t'));
    let own = pairs.filter(|(path, _)| path.starts_with(table) && path.contains("/row/") && path.ends_with(end));
    own.map(|(_, value)| value).collect()
}

const INCIDENT: &str = "[incident]\nname = \"Flood\"\nfrom = \"2027-01-02 00:00\"\nto = \"2027-01-04 00:00\"\n";

/// A closes at 18:00, six hours after its only duty ends: those are nobody's, and no hour after them.
#[test]
fn a_post_has_nobody_until_it_closes_and_not_longer() {
    let hours = "from = \"2027-01-02 00:00\"\nto = \"2027-01-02 18:00\"\n";
    let said = sheet(&[
        INCIDENT.to_owned(),
        member("m1"),
        member("m2"),
        post("a", hours),
        post("b", ""),
        duty("a", "m1", "2027-01-02 00:00", "2027-01-02 12:00"),
        duty("b", "m2", "2027-01-02 00:00", "2027-01-04 00:00"),
    ]);
    assert_eq!(values(&said, "section/1/", "row/1/cell/1"), ["Name m1"], "{said}");
    assert_eq!(values(&said, "section/1/", "row/1/cell/2"), ["NOBODY"]);
    assert_eq!(values(&said, "section/1/", "row/1/cell/3"), ["\u{2013}"]);
    assert_eq!(values(&said, "section/1/", "row/2/cell/3"), ["Name m2"]);
    let gap = values(&said, "section/2/", "/length");
    assert_eq!(gap[..2], ["12 h", "6 h"]);
    assert_eq!(values(&said, "section/2/", "/relief")[1], "the post closes");
}

/// Without an incident a post without any duty is not meant to be stood, as no rule says that it is.
#[test]
fn a_post_without_a_duty_is_closed_where_no_incident_says_otherwise() {
    let parts = [member("m1"), post("a", ""), post("c", ""), duty("a", "m1", "2027-01-02 00:00", "2027-01-02 12:00")];
    let said = sheet(&parts);
    assert_eq!(values(&said, "section/1/", "row/2/cell/1"), ["\u{2013}"], "{said}");
    assert_eq!(values(&said, "section/2/", "/who"), ["Name m1"]);
    let (_, found) = findings(&shelf(&parts));
    assert_eq!(found.iter().filter(|finding| finding.rule.name == "post-unstaffed").count(), 0);
}

/// Ten hours written three times are ten hours.
#[test]
fn duties_at_once_are_no_more_time() {
    let twice = duty("a", "m1", "2027-01-02 00:00", "2027-01-02 10:00");
    let said = sheet(&[member("m1"), post("a", ""), twice.clone(), twice.clone(), twice]);
    assert_eq!(values(&said, "section/4/", "/time"), ["10 h"], "{said}");
    assert_eq!(values(&said, "section/4/", "/duties"), ["3"]);
    assert_eq!(values(&said, "section/1/", "/cell/1"), ["Name m1"]);
}

/// On 2027-03-14 clocks in Denver go from 02:00 to 03:00.
#[test]
fn a_duty_of_no_time_and_one_with_seconds_are_refused_with_what_to_type() {
    let told = |from: &str, to: &str, rule: &str| {
        let (_, found) = findings(&shelf(&[member("m1"), post("a", ""), duty("a", "m1", from, to)]));
        let own = found.iter().filter(|finding| finding.rule.name == rule);
        own.map(|finding| (finding.message.clone(), finding.help.clone().unwrap_or_default())).collect::<Vec<_>>()
    };
    let late = |what: &str, help: &str| vec![(what.to_owned(), help.to_owned())];
    assert_eq!(
        told("2027-03-14 02:30", "2027-03-14 03:30", "duty-times-out-of-order"),
        late(
            "no time passes in a duty at a from 2027-03-14 02:30 to 2027-03-14 03:30: the clocks change",
            "clocks show 2027-03-14 03:30 and 2027-03-14 03:30 then: write a later `to`"
        )
    );
    assert_eq!(
        told("2027-01-02 10:00", "2027-01-02 10:00", "duty-times-out-of-order"),
        late("a duty at a ends at 2027-01-02 10:00, as it begins", "a night ends on the next day: write that day")
    );
    assert_eq!(
        told("2027-01-02 10:00", "2027-01-02 10:00:29", "bad-value"),
        late(
            "\"2027-01-02 10:00:29\" has seconds, and plans are read to the minute",
            "write it as \"2027-01-02 10:00\""
        )
    );
}
