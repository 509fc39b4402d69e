//! A member's own card, read back as its holder would: what may be sent, with which power, and where to go when nobody answers.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::checks::{self, CheckedPlan};
use fieldsheaf::cli::DiskWorld;
use fieldsheaf::compose::block::{Block, Document, Role, Row, Table, Text};
use fieldsheaf::compose::{document, tasks};
use fieldsheaf::ground::{Findings, Tolerance, Width, World};
use fieldsheaf::plan::{Channel, Member, Plan, Radio};
use fieldsheaf::reckon::{Sent, authority, can_hear, can_send, may_send, tolerance_on};
use fieldsheaf::tables::{Tables, named};
use std::collections::BTreeMap;
use std::path::Path;

fn checked(world: &dyn World, root: &str) -> CheckedPlan {
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(world, root, &mut found).unwrap();
    let plan = fieldsheaf::plan::build(world, &mut records, &mut found);
    let profile = named(&plan.head.as_ref().unwrap().profile, world, &mut records.files, &mut found);
    let checked = checks::run(plan, profile, &records.files, &mut found);
    let errors: Vec<&str> = found.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    checked.unwrap_or_else(|| panic!("{errors:?}"))
}

/// Every member's own card, by the member's id.
fn cards(checked: &CheckedPlan) -> BTreeMap<String, Document> {
    of_kind(checked, "channel-card")
}

/// Every member's own list to scan.
fn symbols(checked: &CheckedPlan) -> BTreeMap<String, Document> {
    of_kind(checked, "channel-symbols")
}

fn of_kind(checked: &CheckedPlan, kind: &str) -> BTreeMap<String, Document> {
    let mut found = Findings::default();
    let own = tasks(checked.plan(), checked.profile(), &mut found);
    let own = own.into_iter().filter(|task| task.holder.is_some());
    let cards = own.map(|task| (task.holder.as_ref().unwrap().to_string(), document(checked, &task, None)));
    cards.filter(|(_, card)| card.kind == kind).collect()
}

/// The rows of a card, those on the dial behind the others.
fn rows(card: &Document) -> Vec<&Row> {
    tables(card).flat_map(|table| &table.rows).collect()
}

fn tables(card: &Document) -> impl Iterator<Item = &Table> {
    let blocks = card.sections.iter().flat_map(|section| &section.blocks);
    blocks.filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    })
}

/// What is said above the rows.
fn above(card: &Document, key: &str) -> Vec<String> {
    tables(card).filter(|table| table.key == key).flat_map(|table| &table.said).map(Text::words).collect()
}

/// What the front says to its holder.
fn front(card: &Document) -> &[Text] {
    match card.sections.first().and_then(|section| section.blocks.first()) {
        Some(Block::Front(front)) => &front.lines,
        _ => panic!("a front first on {}", card.kind),
    }
}

fn cell(card: &Document, channel: &str, key: &str) -> String {
    let of = |row: &&Row| row.record.as_ref().is_some_and(|record| record.id.as_str() == channel);
    let row = rows(card).into_iter().find(of).unwrap();
    row.cell(key).map(|cell| cell.text.words().replace('\u{a0}', " ")).unwrap_or_default()
}

/// Where to go from a row, and when: before the arrow, behind it, and below it.
fn onward(card: &Document, channel: &str) -> [String; 3] {
    ["after", "next", "lost"].map(|key| cell(card, channel, key))
}

fn radios<'a>(plan: &'a Plan, member: &Member) -> Vec<&'a Radio> {
    member.radios.iter().filter_map(|id| plan.radios.get(&id.value)).collect()
}

/// By law and by radio, worked out without the card's own helpers.
fn sends(checked: &CheckedPlan, member: &Member, channel: &Channel) -> bool {
    let (plan, profile, tables) = (checked.plan(), checked.profile(), Tables::built_in());
    let Some(send) = channel.send else { return false };
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
    if channel.service.id != "amateur" {
        let own = radios(plan, member);
        let is_made_for = |radio: &&Radio| {
            let named = if channel.service.takes_approved { &radio.approved_for } else { &radio.services };
            named.iter().any(|service| service.value == channel.service.value)
        };
        let covers = |radio: &Radio| radio.covers.iter().any(|stretch| stretch.value.has(send.value));
        let is_equipped = own.is_empty() || own.into_iter().filter(is_made_for).any(covers);
        return authority(plan, channel, member, day).is_ok() && is_equipped;
    }
    let Some(class) = member.class.as_ref().and_then(|class| profile.class(class.as_str())) else { return false };
    let tolerance: Tolerance = tolerance_on(plan, channel);
    let sent = Sent {
        dial: send.value,
        signal: &channel.signal,
        side: channel.side(),
        tolerance,
        strays: [Width::hertz(0); 2],
    };
    let radios = radios(plan, member);
    let is_equipped =
        radios.is_empty() || radios.iter().any(|radio| can_send(radio, channel) && can_hear(radio, channel));
    member.expires.is_none_or(|end| day.is_none_or(|day| end.value >= day))
        && may_send(tables, profile, class, &sent).is_ok()
        && is_equipped
}

/// On each card of the county, for each channel: a frequency to send stands there if, and only if, the holder may send it and has
/// a radio that can; it is the channel's own. Else words stand there, and no tone to send.
#[test]
fn a_frequency_to_send_stands_only_where_the_holder_may_and_can() {
    let (world, root) =
        DiskWorld::open(&Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river")).unwrap();
    let checked = checked(&world, &root);
    let plan = checked.plan();
    let cards = cards(&checked);
    assert_eq!(cards.len(), plan.members.len());
    let (mut numbers, mut words) = (0, BTreeMap::<String, usize>::new());
    for member in plan.members.iter() {
        let card = &cards[member.id.value.as_str()];
        for channel in plan.channels.iter() {
            let on = format!("{} of {}", channel.name.value, member.name.value);
            let own = rows(card).into_iter().find(|row| row.record.as_ref().unwrap().id == channel.id.value);
            let row = own.unwrap();
            // On the dial one sends where one hears, with a power, or with words in its place.
            let on_dial = || row.cell("power").or_else(|| row.cell("side"));
            let send = row.cell("send").or_else(on_dial).unwrap();
            if sends(&checked, member, channel) {
                let said = (send.role, send.text.words());
                match channel.side() {
                    Some(_) => assert!(said.1.ends_with(" W"), "{on}: {said:?}"),
                    None => assert_eq!(said, (Role::Send, channel.send.unwrap().value.to_mhz()), "{on}"),
                }
                numbers += 1;
                continue;
            }
            assert_eq!(send.role, Role::Word, "{on}");
            let said = send.text.words();
            assert!(!said.contains(|c: char| c.is_ascii_digit()), "{on}: {said}");
            assert!(row.cell("tone").is_none(), "{on}: a tone to send");
            let own = radios(plan, member);
            let is_deaf =
                channel.service.id == "amateur" && !own.is_empty() && !own.iter().any(|radio| can_hear(radio, channel));
            assert_eq!(said == "not in your radio", is_deaf, "{on}: {said}");
            *words.entry(said).or_default() += 1;
        }
    }
    assert!(numbers > 300, "{numbers}");
    let kinds: Vec<&str> = words.keys().map(String::as_str).collect();
    assert_eq!(kinds, ["listen only", "not in your radio"]);
}

/// What the county's paper says, by hand from its files: a Technician with a two-meter hand-held of 5 W, and an unlicensed helper.
#[test]
fn a_card_speaks_of_the_radios_of_its_holder() {
    let (world, root) =
        DiskWorld::open(&Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river")).unwrap();
    let checked = checked(&world, &root);
    let cards = cards(&checked);
    let nadia = &cards["qrh"];
    assert_eq!(cell(nadia, "cmd-1", "send"), "146.3400");
    assert_eq!(above(nadia, "channels")[0], "Unless a row says otherwise: hear tone off, FM ±5, 5 W");
    assert_eq!(cell(nadia, "cmd-1", "set"), "");
    assert_eq!(cell(nadia, "med-3", "send"), "not in your radio");
    assert_eq!(onward(nadia, "shl-1"), ["5 min", "SHL 2", "SHL 2: not in your radio; after 10 min SHL 3"]);
    assert_eq!(onward(nadia, "med-2"), ["", "MED 3", ""], "where the net goes, for who is not there anyway");
    assert_eq!(cell(nadia, "hf-40", "side"), "not in your radio");
    assert_eq!(above(nadia, "dial").last().unwrap(), "your class may not send here");
    // An FRS radio is in the plan, and not hers; Bram's is his.
    assert_eq!(
        (cell(nadia, "frs-1", "send"), cell(nadia, "frs-1", "warn")),
        ("listen only".to_owned(), "no radio of yours sends here".to_owned())
    );
    assert_eq!(cell(&cards["qrg"], "frs-1", "send"), "462.5625");
    assert_eq!(cell(nadia, "wx-1", "send"), "listen only");
    let noel = &cards["noel"];
    assert_eq!(cell(noel, "cmd-1", "send"), "listen only", "no radios in the plan: not judged by them");
    assert_eq!(cell(noel, "cmd-1", "warn"), "", "said once above the rows");
    let license = "No amateur license: listen only without a licensed operator in control";
    assert!(front(noel).iter().any(|line| line.words() == license), "{:?}", front(noel));
}

const NETS: &str = r#"
[[radio]]
id = "ht-2m"
name = "Two-meter hand-held"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W"
[[radio]]
id = "ssb"
name = "Forty-meter set"
covers = ["7 MHz to 7.3 MHz"]
modes = ["SSB"]
power = "20 W"
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01
radio = ["ht-2m", "ssb"]
[[channel]]
id = "one"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
power = "25 W"
next = "two"
after = "2 min"
verified = { on = 2026-10-01, by = "qra" }
[[channel]]
id = "two"
row = 2
name = "TAC 2"
spoken = "Tactical Two"
simplex = "446.050 MHz"
next = "three"
after = "90 s"
verified = { on = 2026-10-01, by = "qra" }
[[channel]]
id = "three"
row = 3
name = "TAC 3"
spoken = "Tactical Three"
simplex = "446.100 MHz"
next = "forty"
after = "1 h"
verified = { on = 2026-10-01, by = "qra" }
[[channel]]
id = "forty"
row = 4
name = "HF 40"
spoken = "Forty"
dial = "7245.0 kHz"
side = "LSB"
power = "100 W"
next = "five"
after = "5 min"
verified = { on = 2026-10-01, by = "qra" }
[[channel]]
id = "five"
row = 5
name = "TAC 5"
spoken = "Tactical Five"
simplex = "146.580 MHz"
power = "3 W"
verified = { on = 2026-10-01, by = "qra" }
[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "one"
alternate = "two"
contingency = "forty"
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
each = "member"
[[document]]
id = "symbols"
kind = "channel-symbols"
audience = "team"
each = "member"
"#;

#[test]
fn a_net_is_followed_by_listening_and_what_is_not_heard_is_waited_out() {
    let text = format!("{HEAD}{NETS}");
    let plan = |text: &str| checked(&Shelf::new().with("plan.toml", text), "plan.toml");
    let with_all = plan(&text);
    let cards = cards(&with_all);
    let tomas = &cards["qsb"];
    // 2 min on TAC 1, 90 s on TAC 2, an hour on TAC 3; then a channel that he hears and may not send on.
    assert_eq!(
        onward(tomas, "one"),
        ["2 min", "TAC 2", "TAC 2: not in your radio; after 210 s TAC 3: not in your radio; after 3810 s HF 40"]
    );
    assert_eq!(cell(tomas, "forty", "power"), "listen only");
    assert_eq!(cell(tomas, "forty", "side"), "LSB", "one hears nothing without the side");
    assert_eq!(cell(tomas, "forty", "warn"), "your class may not send here");
    assert_eq!(onward(tomas, "forty"), ["", "TAC 5", ""], "5 min, as all on the dial");
    let shared = above(tomas, "channels");
    assert_eq!(shared[0], "Unless a row says otherwise: hear tone off, FM ±5, 3 W");
    assert_eq!(shared[1], "No answer in 90 s: go to the channel after the arrow");
    assert_eq!(cell(tomas, "one", "set"), "5 W");
    assert_eq!(cell(tomas, "five", "set"), "", "the channel's limit is lower than the radio's");
    let grid = tomas.sections[0].blocks.iter().find_map(|block| match block {
        Block::Table(table) => Some(&table.rows[0]),
        _ => None,
    });
    let leg = |key: &str| grid.unwrap().cell(key).unwrap().text.words().replace('\u{a0}', " ");
    assert_eq!(["first", "second", "third"].map(leg), ["TAC 1", "(TAC 2)", "HF 40"]);
    assert!(front(tomas).iter().any(|line| line.words() == "In brackets: not in your radio."));
    // Ines has no radio in the plan: nothing is said of it, nor skipped.
    assert_eq!(onward(&cards["qra"], "one"), ["2 min", "TAC 2", ""]);
    assert_eq!(cell(&cards["qra"], "two", "send"), "446.0500");
    // Where a row on the way says no time, nothing is added up.
    let untimed = plan(&text.replace("after = \"90 s\"\n", ""));
    assert_eq!(
        onward(&self::cards(&untimed)["qsb"], "one")[2],
        "TAC 2: not in your radio; later TAC 3: not in your radio; later HF 40"
    );
}

/// Whoever scans the card gets what stands on it, row by row.
#[test]
fn the_list_to_scan_says_what_the_rows_say() {
    let checked = checked(&Shelf::new().with("plan.toml", format!("{HEAD}{NETS}")), "plan.toml");
    let symbols = symbols(&checked);
    let list = |holder: &str| -> String {
        let card = &symbols[holder];
        let blocks = card.sections.iter().flat_map(|section| &section.blocks);
        let payloads = blocks.filter_map(|block| match block {
            Block::Symbol(symbol) => Some(symbol.payload.words()),
            _ => None,
        });
        payloads.collect::<Vec<_>>().join("\n") + "\n"
    };
    let tomas = list("qsb");
    for line in [
        "\n1 TAC 1|146.5500|same|off|FM +-5, 5 W\n",
        "\n2 TAC 2|446.0500|not in your radio||FM +-5\n",
        "\n4 HF 40|7245.0 kHz|listen only|LSB||your class may not send here\n",
    ] {
        assert!(tomas.contains(line), "{line} in {tomas}");
    }
    assert!(tomas.starts_with("EXAMPLE edition 7\nhear|send|tone|set\n"), "{tomas}");
    assert!(list("qra").contains("\n4 HF 40|7245.0 kHz|same|LSB|100 W\n"), "{}", list("qra"));
}

/// The holder of a public copy is not its only reader: foot and content name whom those readers may know.
#[test]
fn a_name_that_the_readers_of_a_copy_may_not_know_is_not_in_its_foot() {
    let order = |audience: &str| {
        format!("[[document]]\nid = \"own\"\nkind = \"channel-card\"\naudience = \"{audience}\"\neach = \"member\"\n")
    };
    let member = |call: &str| {
        let head = format!(
            "{HEAD}[[member]]\nid = \"sec\"\nname = \"Olaf Brand\"\nname-audience = \"leads\"\n{call}confirmed = 2026-10-01\n"
        );
        head + "phone = [{ number = \"+1 406 555 0103\", audience = \"leads\" }]\n"
    };
    let licensed = "call = \"WZ7QRB\"\nclass = \"general\"\nexpires = 2030-04-01\n";
    for (audience, call, holder) in [
        ("public", licensed, "WZ7QRB"),
        ("team", licensed, "WZ7QRB"),
        ("leads", licensed, "WZ7QRB Olaf Brand"),
        ("public", "", "for sec"),
        ("coordinator", "", "Olaf Brand"),
    ] {
        let checked = checked(&Shelf::new().with("plan.toml", member(call) + &order(audience)), "plan.toml");
        let card = &cards(&checked)["sec"];
        assert_eq!(card.foot.holder.as_deref(), Some(holder), "{audience}");
        let said = fieldsheaf::edition::canonical(card, "rules").unwrap();
        assert_eq!(said.contains("Brand"), holder.contains("Brand"), "{audience}: {said}");
    }
}

/// Licences and an agreement that end before the review of 2027-06-01.
const ENDING: &str = r#"
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2026-12-03
confirmed = 2026-10-01
[[member]]
id = "qsc"
call = "WZ7QSC"
name = "Lena Brandt"
class = "technician"
expires = 2030-04-01
licence = [{ service = "gmrs", call = "WQAA000", expires = 2027-01-31 }]
confirmed = 2026-10-01
[[member]]
id = "qsd"
call = "WZ7QSD"
name = "Abel Quist"
class = "technician"
expires = 2027-01-01
renewal-filed = 2026-11-01
licence = [{ service = "gmrs", call = "WQAA001", expires = 2030-01-31 }]
confirmed = 2026-10-01
[[agreement]]
id = "club"
with = "Radio club"
service = "gmrs"
signed = 2026-01-10
expires = 2027-03-31
members = ["qra", "qsb"]
[[channel]]
id = "tac"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
power = "5 W"
verified = { on = 2026-10-01, by = "qra" }
[[channel]]
id = "gmrs"
row = 2
name = "GMRS 1"
spoken = "Family One"
service = "gmrs"
simplex = "462.5625 MHz"
power = "5 W"
[[document]]
id = "own"
kind = "channel-card"
audience = "team"
each = "member"
[[document]]
id = "all"
kind = "channel-card"
audience = "team"
[[document]]
id = "who"
kind = "eligibility-matrix"
audience = "team"
"#;

/// The last day stands on the own card: of the amateur licence above the rows, of another service in its row; both in strong words.
#[test]
fn a_card_says_the_last_day_on_which_its_holder_may_send() {
    let checked = checked(&Shelf::new().with("plan.toml", format!("{HEAD}{ENDING}")), "plan.toml");
    let cards = cards(&checked);
    let strong = |text: &Text| -> (String, String) {
        let runs = text.runs.iter().filter(|run| run.is_strong).map(|run| &*run.text);
        (runs.collect(), text.words())
    };
    let above = |card: &Document| front(card).iter().find(|line| line.runs[0].is_strong).map(strong);
    let own = |strong: &str, all: &str| Some((strong.to_owned(), all.to_owned()));
    assert_eq!(
        above(&cards["qsb"]),
        own(
            "Your license ends 2026-12-03",
            "Your license ends 2026-12-03: after that day listen only on amateur channels"
        )
    );
    // One goes on beyond the review, one was renewed in time.
    assert_eq!([above(&cards["qsc"]), above(&cards["qsd"])], [None, None]);
    assert_eq!(cell(&cards["qsb"], "tac", "send"), "146.5500");
    let row = |member: &str| {
        let row = rows(&cards[member]).into_iter().find(|row| row.label == "2").unwrap();
        row.cell("warn").map(|cell| strong(&cell.text))
    };
    let after = |day: &str| {
        own(&format!("after {day} listen only"), &format!("after {day} listen only without a GMRS license"))
    };
    assert_eq!([row("qsb"), row("qsc"), row("qsd")], [after("2027-03-31"), after("2027-01-31"), None]);
    // What is nobody's own says the first day on which somebody of the team no longer may.
    let mut found = Findings::default();
    let shared = tasks(checked.plan(), checked.profile(), &mut found).into_iter().filter(|task| task.holder.is_none());
    let shared: Vec<Document> = shared.map(|task| document(&checked, &task, None)).collect();
    let card = shared.iter().find(|document| document.kind == "channel-card").unwrap();
    assert_eq!(cell(card, "gmrs", "warn"), "after 2027-01-31 listen only without a GMRS license");
    let who = shared.iter().find(|document| document.kind == "eligibility-matrix").unwrap();
    let said = who.sections.iter().flat_map(|section| &section.blocks).filter_map(|block| match block {
        Block::Paragraph(paragraph) => Some(paragraph.text.words().replace('\u{a0}', " ")),
        _ => None,
    });
    let said: Vec<String> = said.collect();
    assert_eq!(
        said[..2],
        [
            "Nobody has a listed radio for GMRS 1. ",
            "Ends before the review: Tomas Lind until 2026-12-03 on amateur channels; Lena Brandt until 2027-01-31 on GMRS 1; Tomas Lind, Ines Varga until 2027-03-31 on GMRS 1."
        ]
    );
}

const DUTIES: &str = r#"
[incident]
name = "Ice storm"
from = "2027-01-16 06:00"
to = "2027-01-18 06:00"
[[channel]]
id = "one"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
power = "25 W"
verified = { on = 2026-10-01, by = "qra" }
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "hospital"
visited-on = 2026-10-04
transmit = { allowed = "Nowhere.", agreed-by = "Clinical engineering", on = 2026-10-04 }
[[post]]
id = "ward"
name = "Ward"
place = "mercy"
[[post]]
id = "gate"
name = "Gate"
[[duty]]
post = "ward"
member = "qra"
from = "2027-01-16 06:00"
to = "2027-01-17 06:00"
[[document]]
id = "own"
kind = "channel-card"
audience = "coordinator"
each = "member"
"#;

/// Nobody sends from a place that allows it nowhere, whether or not its post works a net.
#[test]
fn a_card_offers_nothing_to_send_for_duty_where_nothing_may_be_sent() {
    let of = |more: &str| {
        let checked = checked(&Shelf::new().with("plan.toml", format!("{HEAD}{DUTIES}{more}")), "plan.toml");
        let card = cards(&checked).remove("qra").unwrap();
        let warnings = front(&card).iter().map(Text::words).filter(|line| line.starts_with("Send nothing")).collect();
        (cell(&card, "one", "send"), above(&card, "channels")[0].clone(), warnings)
    };
    let silent =
        |times: &str| format!("Send nothing at Mercy, where you are on duty {times}: the site allows it nowhere");
    let (send, set, warnings) = of("");
    assert_eq!((send.as_str(), warnings), ("do not send", vec![silent("2027-01-16 06:00 to 2027-01-17 06:00")]));
    assert!(!set.contains("25 W"), "{set}");
    // Elsewhere the frequency is needed: where and when it is not to be sent stands above it.
    let elsewhere =
        "[[duty]]\npost = \"gate\"\nmember = \"qra\"\nfrom = \"2027-01-17 06:00\"\nto = \"2027-01-17 18:00\"\n";
    let again = "[[duty]]\npost = \"ward\"\nmember = \"qra\"\nfrom = \"2027-01-17 18:00\"\nto = \"2027-01-18 06:00\"\n";
    let (send, set, warnings) = of(&(elsewhere.to_owned() + again));
    let both = "2027-01-16 06:00 to 2027-01-17 06:00, 2027-01-17 18:00 to 2027-01-18 06:00";
    assert_eq!((send.as_str(), warnings), ("146.5500", vec![silent(both)]));
    assert!(set.contains("25 W"), "{set}");
}

/// A net on several channels at once meets on those of `also` too: whoever works the net has them beside a bar.
#[test]
fn a_channel_that_a_net_names_besides_bears_the_bar_of_who_works_it() {
    let channel = |id: &str, row: u8, mhz: &str| {
        format!(
            "[[channel]]\nid = \"{id}\"\nrow = {row}\nname = \"{}\"\nsimplex = \"{mhz} MHz\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n",
            id.to_uppercase()
        )
    };
    let channels = [("tac", 1, "146.550"), ("uhf", 2, "446.050"), ("far", 3, "446.100")]
        .map(|(id, row, mhz)| channel(id, row, mhz));
    let of = |also: &str| {
        let net = format!("[[net]]\nid = \"ward\"\nname = \"Ward net\"\nprimary = \"tac\"\n{also}");
        let duty = "[[post]]\nid = \"desk\"\nname = \"Desk\"\nnets = [\"ward\"]\n[[duty]]\npost = \"desk\"\nmember = \"qra\"\nfrom = \"2027-01-16 06:00\"\nto = \"2027-01-16 18:00\"\n";
        let order = "[[document]]\nid = \"own\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n";
        let checked = checked(
            &Shelf::new().with("plan.toml", format!("{HEAD}{}{net}{duty}{order}", channels.concat())),
            "plan.toml",
        );
        let card = cards(&checked).remove("qra").unwrap();
        let table = tables(&card).find(|table| table.key == "channels").unwrap();
        let barred = |place: &usize| table.rows[*place].record.as_ref().unwrap().id.to_string();
        let said =
            front(&card).iter().map(Text::words).find(|line| line.starts_with("Your channels have a bar")).unwrap();
        (table.own.iter().map(barred).collect::<Vec<_>>(), said)
    };
    let (own, said) = of("also = [\"uhf\"]\n");
    assert_eq!((own, said.as_str()), (vec!["tac".to_owned(), "uhf".to_owned()], "Your channels have a bar: 1, 2"));
    let (own, said) = of("");
    assert_eq!((own, said.as_str()), (vec!["tac".to_owned()], "Your channels have a bar: 1"));
}
