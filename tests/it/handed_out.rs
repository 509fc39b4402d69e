//! Who holds what over three editions: numbers of copies that are kept, old copies and sets to be asked back, what a lost copy showed.

use super::editions::{issued, with};
use crate::support::geometry::runs;
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::sheet::Job;
use fieldsheaf::{check, jobs};
use std::collections::BTreeMap;

const TEAM: &str = r#"
[[member]]
id = "qrb"
call = "WZ7QRB"
name = "Abel Quist"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
phone = [{ number = "+1 406 555 0102", audience = "team", confirmed = 2026-10-01 }]

[[member]]
id = "qrc"
call = "WZ7QRC"
name = "Tomas Lind"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
phone = [{ number = "+1 406 555 0103", audience = "leads", confirmed = 2026-10-01 }]

[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
name = "Mercy Hospital"
kind = "hospital"
position = "47.1234, -109.4321"
visited-on = 2026-10-04
contact = [{ role = "House supervisor", phone = "+1 406 555 0141", audience = "leads", confirmed = 2026-10-04 }]

[[place]]
id = "hall"
code = "HAL"
tactical = "Hall"
name = "Town Hall"
kind = "shelter"
position = "47.2234, -109.4321"
visited-on = 2026-10-04

[[channel]]
id = "tac"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.560 MHz"
verified = { on = 2026-10-04, by = "qra" }

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "tac"

[[post]]
id = "desk"
name = "Mercy desk"
place = "mercy"
nets = ["command"]

[[duty]]
post = "desk"
member = "qrb"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"

[[document]]
id = "own"
kind = "channel-card"
audience = "team"
each = "member"

[[document]]
id = "contacts"
kind = "contact-card"
audience = "leads"

[[document]]
id = "log"
kind = "form"
form = "log"
audience = "team"

[[document]]
id = "site"
kind = "site-sheet"
audience = "team"
each = "place"
together = true

[[document]]
id = "recall"
kind = "recall-sheet"
audience = "leads"

[[document]]
id = "list"
kind = "distribution-list"
audience = "leads"

[[document]]
id = "print"
kind = "printing-guide"
audience = "coordinator"

[[document]]
id = "changes"
kind = "change-sheet"
audience = "leads"

[[kit]]
id = "bag"
documents = ["log", "site"]
each = "member"
audience = "team"
"#;

fn said(job: &Job) -> String {
    let all =
        job.panels.iter().flat_map(|panel| runs(panel).into_iter().map(|run| run.text.to_string()).collect::<Vec<_>>());
    all.collect::<Vec<_>>().join(" ")
}

fn by_stem(world: &Shelf) -> BTreeMap<String, Job> {
    let outcome = check(world, "plan.toml").unwrap();
    let errors: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(errors, Vec::<&str>::new());
    jobs(world, "plan.toml").unwrap().into_iter().map(|job| (job.stem.clone(), job)).collect()
}

fn numbers(shelf: &Shelf, document: &str) -> BTreeMap<String, String> {
    let text = shelf.text("editions.toml");
    let last = text.rsplit("[[issued]]").next().unwrap();
    let lines = last.lines().filter(|line| {
        [format!("file = \"{document}"), format!("kit = \"{document}\"")]
            .iter()
            .any(|start| line.contains(start.as_str()))
    });
    let copies = lines.flat_map(|line| line.split("{ number = \"").skip(1));
    let copy = |copy: &str| {
        let (number, rest) = copy.split_once("\", holder = \"").unwrap();
        (rest.split('"').next().unwrap().to_owned(), number.to_owned())
    };
    copies.map(copy).collect()
}

fn of(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
    pairs.iter().map(|(holder, number)| ((*holder).to_owned(), (*number).to_owned())).collect()
}

/// A member leaves, another comes: nobody else's number is another, and none is given twice, on paper and in the ledger.
#[test]
fn a_copy_keeps_its_number_and_none_is_given_twice() {
    let first = issued(Shelf::new().with("plan.toml", format!("{HEAD}{TEAM}")));
    let all = [("qra", "1"), ("qrb", "2"), ("qrc", "3")];
    assert_eq!((numbers(&first, "own"), numbers(&first, "bag")), (of(&all), of(&all)));
    let next = with(&first, "plan.toml", "number = 7", "number = 8");
    let duty = next.text("plan.toml").find("[[duty]]").unwrap();
    let text = next.text("plan.toml");
    let (above, below) = text.split_at(duty);
    let below = below.replace("member = \"qrb\"", "member = \"qrc\"");
    let start = above.find("[[member]]\nid = \"qrb\"").unwrap();
    let end = above.find("[[member]]\nid = \"qrc\"").unwrap();
    let next = next.with("plan.toml", format!("{}{}{below}", &above[..start], &above[end..]));

    let sheets = by_stem(&next);
    let recall = said(&sheets["recall"]);
    for words in [
        "own WZ7QRB",
        "bag: the whole set WZ7QRB",
        "all else of the team's papers WZ7QRB any",
        "Who leaves gives back what stays valid, too: log",
        "contacts, edition 7 numbers of 2 members and 1 contact at sites the coordinator; then WZ7QRB, Tomas Lind, Mercy",
        "contacts, edition 8 numbers of 1 member and 1 contact at sites the coordinator; then Tomas Lind, Mercy",
        "No phone number or address of anybody is on these; tell the coordinator: log, own, site.",
    ] {
        assert!(recall.contains(words), "{words}: {recall}");
    }
    let list = said(&sheets["list"]);
    assert!(list.contains("bag: team copy, codes by its cover"), "{list}");
    // Who takes the duty over takes its site's sheet over.
    assert!(list.contains("3 WZ7QRC Tomas Lind destroy its cover, site"), "{list}");
    assert!(!list.contains("WZ7QRB"), "{list}");
    let guide = said(&sheets["print"]);
    for words in ["bag-qra.pdf and 1 more of bag letter 2 to 3 each once: 2 files", "How to fold: fold-8"] {
        assert!(guide.contains(words), "{words}: {guide}");
    }
    let changes = said(&sheets["changes"]);
    let duty = "Mercy desk, 2026-12-05 06:00 to 18:00 member WZ7QRB WZ7QRC";
    assert!(changes.contains(duty) && !changes.contains("qrb"), "{changes}");
    assert!(changes.contains("Set bag : other papers for WZ7QRC Tomas Lind, WZ7QRB (take back)."), "{changes}");

    let second = issued(next);
    assert_eq!(numbers(&second, "own"), of(&[("qra", "1"), ("qrc", "3")]));
    let third = with(&second, "plan.toml", "number = 8", "number = 9");
    let third = with(
        &third,
        "plan.toml",
        "[[member]]\nid = \"qrc\"",
        "[[member]]\nid = \"qaa\"\nname = \"Ada Lind\"\nconfirmed = 2026-10-01\n\n[[member]]\nid = \"qrc\"",
    );
    assert!(said(&by_stem(&third)["own-qaa"]).contains("copy 4"));
    assert!(said(&by_stem(&third)["own-qrc"]).contains("copy 3"));
    let third = issued(third);
    let now = of(&[("qra", "1"), ("qrc", "3"), ("qaa", "4")]);
    assert_eq!((numbers(&third, "own"), numbers(&third, "bag")), (now.clone(), now));
}

/// Of many holders a change sheet says how many there are: their names stand on the list of all copies.
#[test]
fn a_change_sheet_counts_holders_where_they_are_many() {
    let first = issued(Shelf::new().with("plan.toml", format!("{HEAD}{TEAM}")));
    let come = |count: usize| -> String {
        let next = with(&first, "plan.toml", "number = 7", "number = 8");
        let member = |n: usize| format!("[[member]]\nid = \"z{n}\"\nname = \"Mara Quell\"\nconfirmed = 2026-10-01\n\n");
        let new: String = (0..count).map(member).collect();
        said(
            &by_stem(&with(&next, "plan.toml", "[[place]]\nid = \"hall\"", &format!("{new}[[place]]\nid = \"hall\"")))
                ["changes"],
        )
    };
    let (eight, nine) = (come(8), come(9));
    let words = "9 of 12 holders: 9 new; named on the distribution list";
    assert!(nine.contains(words) && nine.contains(&format!("Set bag : other papers for {words}.")), "{nine}");
    assert!(!eight.contains("distribution list") && eight.contains("Mara Quell (new, own "), "{eight}");
}

/// A new place alone: the sheets of the others say what they said, and stay.
#[test]
fn a_sheet_whose_own_code_is_the_same_stays_valid() {
    let first = issued(Shelf::new().with("plan.toml", format!("{HEAD}{TEAM}")));
    let next = with(&first, "plan.toml", "number = 7", "number = 8");
    let new = "[[place]]\nid = \"barn\"\ncode = \"BRN\"\ntactical = \"Barn\"\nname = \"Old Barn\"\nkind = \"shelter\"\nvisited-on = 2026-10-04\n\n[[place]]\nid = \"hall\"";
    let next = with(&next, "plan.toml", "[[place]]\nid = \"hall\"", new);
    let sheets = by_stem(&next);
    let changes = said(&sheets["changes"]);
    assert!(changes.contains("place Old Barn all of it not there tactical call Barn, code BRN"), "{changes}");
    let row = changes.split("site new: give out").nth(1).unwrap_or_else(|| panic!("{changes}"));
    assert!(row.contains("Barn (new, own "), "{row}");
    assert!(!row.contains("Mercy") && !row.contains("Hall"), "{row}");
    let recall = said(&sheets["recall"]);
    assert!(!recall.contains("site Mercy") && !recall.contains("site Hall"), "{recall}");
}
