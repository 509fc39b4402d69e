//! What forms, site sheets and helps have of the plan: who is in a net, a member's first duty, who controls a station, the place's antennas.

use crate::support::around::{findings, plan_around};
use fieldsheaf::compose::block::{Block, Document};
use fieldsheaf::compose::{document, tasks};
use fieldsheaf::ground::Findings;
use std::collections::BTreeMap;

const PLAN: &str = r#"
[[place]]
id = "court"
code = "CRT"
tactical = "Court House"
kind = "operations-centre"
jack = "none"
entrance = "Basement door"
visited-on = 2026-10-01
contact = [{ role = "House supervisor", phone = "+1 406 555 0150", audience = "team", confirmed = 2026-10-01 }]
[[place]]
id = "school"
code = "SCH"
tactical = "Shelter"
kind = "shelter"
jack = "none"
visited-on = 2026-10-01
[[gateway]]
id = "box"
call = "WZ7QUT-1"
name = "Mailbox"
place = "court"
frequency = "145.050 MHz"
control = "attended"
verified = { on = 2026-10-01, by = "qra" }
[[gateway]]
id = "node"
call = "WZ7QRA-2"
name = "Node"
place = "school"
frequency = "145.090 MHz"
control = "automatic"
verified = { on = 2026-10-01, by = "qra" }
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }
[[net]]
id = "command"
name = "Command net"
primary = "cmd"
alternate = "tac"
rejoin = "CMD 1 at each full hour"
control = "desk"
[[net]]
id = "aid"
name = "Aid net"
primary = "tac"
control = "shelter"
[[post]]
id = "desk"
name = "Net control"
place = "court"
nets = ["command"]
[[post]]
id = "shelter"
name = "Shelter radio"
place = "school"
nets = ["aid", "command"]
[[member]]
id = "qsa"
call = "WZ7QSA"
name = "Abel Quist"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Bea Ro"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
[[duty]]
post = "shelter"
member = "qsa"
from = "2026-12-06 06:00"
to = "2026-12-06 12:00"
[[duty]]
post = "desk"
member = "qsa"
from = "2026-12-05 06:00"
to = "2026-12-05 12:00"
[[duty]]
post = "desk"
member = "qsb"
from = "2026-12-05 11:45"
to = "2026-12-05 18:00"
[[document]]
id = "roster"
kind = "form"
form = "check-in-roster"
audience = "team"
net = "aid"
[[document]]
id = "assign"
kind = "form"
form = "assignment"
audience = "team"
net = "command"
each = "member"
[[document]]
id = "liaison"
kind = "form"
form = "liaison-sheet"
audience = "team"
net = "command"
each = "place"
[[document]]
id = "script"
kind = "form"
form = "net-script"
audience = "team"
net = "command"
[[document]]
id = "site"
kind = "site-sheet"
audience = "team"
each = "place"
"#;

/// What each copy says, by document and holder: `label: what is filled in | ticks`, rows of tables, headings and paragraphs.
fn papers() -> BTreeMap<String, Vec<String>> {
    let world = plan_around(PLAN);
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let orders = tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let said: Vec<String> = found.iter().map(|finding| finding.message.clone()).collect();
    let checked =
        fieldsheaf::checks::run(plan, profile, &records.files, &mut found).unwrap_or_else(|| panic!("{said:?}"));
    let copies = orders.iter().flat_map(|task| task.copies());
    let named = copies.map(|copy| {
        let holder = copy.holder.as_ref().map(|holder| format!("-{holder}")).unwrap_or_default();
        (format!("{}{holder}", copy.document), lines(&document(&checked, &copy, None)))
    });
    named.collect()
}

fn lines(document: &Document) -> Vec<String> {
    let mut lines = Vec::new();
    for section in &document.sections {
        lines.push(section.title.words());
        for block in &section.blocks {
            match block {
                Block::Paragraph(said) => lines.push(said.text.words()),
                Block::Heading(text) => lines.push(text.words()),
                Block::Form(form) => {
                    for field in form.lines.iter().flat_map(|line| &line.fields) {
                        let cells = field.cells.iter().map(|row| {
                            let cells =
                                row.iter().map(|cell| cell.as_ref().map_or("-".into(), |cell| cell.text.words()));
                            cells.collect::<Vec<_>>().join(" | ")
                        });
                        let filled = field.filled.as_ref().map(|text| text.words()).unwrap_or_default();
                        lines.push(format!("{}: {filled}{}", field.label.words(), field.ticked.join(",")));
                        lines.extend(cells);
                    }
                }
                _ => {}
            }
        }
    }
    lines.into_iter().map(|line| line.replace('\u{a0}', " ")).collect()
}

#[test]
fn forms_are_filled_with_what_the_plan_knows_of_their_holder_and_net() {
    let papers = papers();
    let has = |id: &str, line: &str| {
        assert!(papers[id].iter().any(|told| told == line), "{id} does not say {line:?}: {:#?}", papers[id]);
    };
    // Of the two of the plan with duties one stands at a post of the Aid net, and the third member has none.
    has("roster", "WZ7QSA | Quist, Abel | Shelter | - | - | - | - | - | -");
    let listed = papers["roster"].iter().filter(|line| line.starts_with("WZ7"));
    assert_eq!(listed.count(), 1, "{:#?}", papers["roster"]);
    // The first duty by time stands second in the plan.
    for line in [
        "Name, call sign: WZ7QSA Abel Quist",
        "Go to: Court House, Net control; Basement door (first of 2 duties, see the duty sheet)",
        "From: 2026-12-05 06:00local",
        "Until: 2026-12-05 12:00local",
        "Relieved by: WZ7QSB Bea Ro, 15 min together",
        "Net there, channel: Command net, CMD 1",
    ] {
        has("assign-qsa", line);
    }
    has("assign-qra", "Go to: ");
    let filled =
        ["Command net: CMD 1, control Net control, Court House", "Aid net: TAC 1, control Shelter radio, Shelter"];
    for net in filled {
        assert!(papers["liaison-school"].iter().any(|line| line.ends_with(net)), "{:#?}", papers["liaison-school"]);
    }
    // Where it goes is not where it is.
    has("script", "If this channel fails we go to: TAC 1");
}

#[test]
fn who_controls_a_station_is_whoever_holds_its_call_sign() {
    let papers = papers();
    let court = &papers["site-court"];
    let stands = |lines: &[String], line: &str| lines.iter().any(|told| told == line);
    assert!(
        stands(court, "Attended at Court House") && !stands(court, "Working by itself at Court House"),
        "{court:#?}"
    );
    let from = court.iter().position(|line| line == "Who controls Mailbox, WZ7QUT-1:").expect("its call sign");
    assert_eq!(court[from + 1], "UNKNOWN: ask the coordinator");
    assert!(!court.iter().any(|line| line.contains("controls") && line.contains("House supervisor")), "{court:#?}");
    let school = &papers["site-school"];
    assert!(stands(school, "Working by itself at Shelter"), "{school:#?}");
    assert!(stands(school, "Who controls Node, WZ7QRA-2: WZ7QRA Ines Varga"), "{school:#?}");
}

/// A place without antennas, with one that both use, and with one for one of them: what is proposed is typed, and nothing of it dangles.
#[test]
fn the_help_of_two_radios_in_one_band_works_when_it_is_typed() {
    let plan = |antennas: &str| {
        format!(
            "[[place]]\nid = \"hq\"\ncode = \"HQX\"\ntactical = \"Headquarters\"\nkind = \"operations-centre\"\njack = \"none\"\n\
             visited-on = 2026-10-04\nmonitors = [\"tac-1\", \"tac-2\"]\n{antennas}\n[[channel]]\nid = \"tac-1\"\nrow = 2\nname = \"TAC 1\"\n\
             spoken = \"Tactical One\"\nsimplex = \"146.430 MHz\"\npower = \"25 W\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n\
             [[channel]]\nid = \"tac-2\"\nrow = 3\nname = \"TAC 2\"\nspoken = \"Tactical Two\"\nsimplex = \"147.570 MHz\"\npower = \"25 W\"\n\
             verified = {{ on = 2026-10-01, by = \"qra\" }}\n"
        )
    };
    let help = |antennas: &str| {
        let (_, found) = findings(&plan_around(&plan(antennas)));
        let own = found.iter().find(|finding| finding.rule.name == "same-band-at-site");
        own.and_then(|finding| finding.help.clone()).expect("a help")
    };
    let two = "antenna = [{ id = \"low\", channels = [\"tac-1\"] }, { id = \"top\", channels = [\"tac-2\"] }]";
    for antennas in ["", two] {
        let help = help(antennas);
        let keys: Vec<&str> = help.split('`').filter(|part| part.contains(" = [")).collect();
        assert_eq!(keys.len(), if antennas.is_empty() { 2 } else { 1 }, "{help}");
        let (_, found) = findings(&plan_around(&plan(&format!("{antennas}\n{}", keys.join("\n")))));
        let faults = found.iter().filter(|finding| {
            ["dangling-id", "syntax", "same-band-at-site", "unknown-key"].contains(&finding.rule.name)
        });
        let faults: Vec<String> = faults.map(|finding| finding.message.clone()).collect();
        assert_eq!(faults, [""; 0], "{help}");
    }
    let one = help("antenna = [{ id = \"low\", channels = [\"tac-1\"] }]");
    assert!(one.contains("`{ id = \"tac-2\", channels = [\"tac-2\"] }` added to `antenna` of Headquarters"), "{one}");
    assert!(["[\"low\", \"tac-2\"]", "[\"tac-2\", \"low\"]"].iter().any(|pair| one.contains(pair)), "{one}");
}
