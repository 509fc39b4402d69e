//! The shift on paper: who relieves whom, against a checker that goes minute by minute; and a site of which little is known, sheet by
//! sheet.

use crate::support::every::county_of;
use crate::support::shelf::Shelf;
use fieldsheaf::compose::block::{Block, Document, Text};
use fieldsheaf::compose::{document, tasks};
use fieldsheaf::ground::{Findings, Id};
use fieldsheaf::plan::{Clock, Instant, Period, Plan};
use fieldsheaf::reckon::{gaps, hours, occasions, reliefs, stands_at, stretches};
use std::fmt::Write;

/// Zones with a change of the clocks in the plan's night, and some off the full hour; each with the evening and the morning.
const NIGHTS: [(&str, &str, &str); 6] = [
    ("America/Denver", "2027-03-13", "2027-03-14"),
    ("America/Denver", "2027-11-06", "2027-11-07"),
    ("Australia/Lord_Howe", "2027-04-03", "2027-04-04"),
    ("Australia/Lord_Howe", "2027-10-02", "2027-10-03"),
    ("Asia/Kathmandu", "2027-01-16", "2027-01-17"),
    ("America/St_Johns", "2027-11-06", "2027-11-07"),
];

/// The same numbers in each run: a step of a multiplicative generator (Park and Miller, 1988).
struct Dice(u64);

impl Dice {
    fn next(&mut self, below: u64) -> u64 {
        self.0 = self.0 * 48271 % 2_147_483_647;
        self.0 % below
    }
}

fn plan_of(zone: &str, duties: &[(usize, String, String)], within: (&str, &str)) -> Plan {
    let mut text = format!(
        "[plan]\ntitle = \"A plan\"\nshort = \"PLAN\"\nteam = \"A team\"\nprofile = \"us\"\ninvented = true\ntime-zone = \"{zone}\"\n\
         [incident]\nname = \"Night\"\nnumber = \"1\"\nfrom = \"{}\"\nto = \"{}\"\n[[post]]\nid = \"gate\"\nname = \"Gate\"\n",
        within.0, within.1
    );
    for member in 0..4 {
        writeln!(text, "[[member]]\nid = \"m{member}\"\nname = \"Member {member}\"").unwrap();
    }
    for (member, from, to) in duties {
        writeln!(text, "[[duty]]\npost = \"gate\"\nmember = \"m{member}\"\nfrom = \"{from}\"\nto = \"{to}\"").unwrap();
    }
    let mut found = Findings::default();
    let world = Shelf::new().with("plan.toml", text);
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    fieldsheaf::plan::build(&world, &mut records, &mut found)
}

fn has(period: Period, minute: Instant) -> bool {
    period.from.minutes_to(minute) >= 0 && minute.minutes_to(period.to) > 0
}

/// Every minute of the occasion: who stands then, by each duty's own ends alone.
#[test]
fn duties_are_what_a_checker_finds_minute_by_minute() {
    let (mut relieved, mut left, mut uncovered) = (0, 0, 0);
    for (seed, (zone, evening, morning)) in NIGHTS.iter().enumerate() {
        for round in 0..12 {
            let mut dice = Dice(1 + seed as u64 * 1000 + round);
            let mut time = |day: &str| format!("{day} {:02}:{:02}", dice.next(24), dice.next(4) * 15);
            let mut duties = Vec::new();
            for n in 0..6 {
                let (from, to) = (time(if n % 3 == 2 { morning } else { evening }), time(morning));
                duties.push((n % 4, from, to));
            }
            let within = (format!("{evening} 12:00"), format!("{morning} 12:00"));
            let plan = plan_of(zone, &duties, (&within.0, &within.1));
            let post = plan.posts.named(&Id::parse("gate").unwrap()).unwrap();
            let stands = stands_at(&plan, post);
            let occasions = occasions(&plan);
            let [whole] = hours(&plan, post, &occasions)[..] else { panic!("one stretch") };
            let clock = Clock::of(&plan);
            let gaps = gaps(&stands, whole);
            let parts = stretches(stands.iter().map(|stand| stand.period), whole);
            assert_eq!(
                parts.iter().map(|part| part.from.minutes_to(part.to)).sum::<i64>(),
                whole.from.minutes_to(whole.to)
            );
            // Minutes, each a step of what every clock shows.
            let long = whole.from.minutes_to(whole.to);
            let mut minute = whole.from;
            for _ in 0..long {
                let there: Vec<usize> = (0..stands.len()).filter(|n| has(stands[*n].period, minute)).collect();
                assert_eq!(
                    there.is_empty(),
                    gaps.iter().any(|gap| has(gap.period, minute)),
                    "{zone} {}",
                    clock.local(minute)
                );
                uncovered += usize::from(there.is_empty());
                let part = parts.iter().find(|part| has(**part, minute)).unwrap();
                let of_part: Vec<usize> = (0..stands.len()).filter(|n| stands[*n].period.meets(*part)).collect();
                assert_eq!(there, of_part, "{zone} {}", clock.local(minute));
                minute = minute.after(1);
            }
            for relief in reliefs(&stands) {
                let end = relief.of.period.to;
                let there: Vec<_> = stands.iter().filter(|stand| has(stand.period, end)).collect();
                let latest = there.iter().map(|stand| stand.period.from).max();
                assert_eq!(relief.by.map(|by| by.period.from), latest, "{zone}");
                let by = relief.by.map(|by| by.period);
                let (mut both, mut minute) = (0, relief.of.period.from);
                while minute < end {
                    both += i64::from(by.is_some_and(|by| has(by, minute)));
                    minute = minute.after(1);
                }
                assert_eq!(relief.overlap(), both, "{zone}");
                relieved += usize::from(by.is_some());
                left += usize::from(by.is_none());
            }
        }
    }
    assert!(relieved > 50 && left > 50 && uncovered > 1000, "{relieved} {left} {uncovered}");
}

const DOCUMENTS: &str = r#"
[[document]]
id = "sites"
kind = "site-sheet"
audience = "team"
each = "place"

[[document]]
id = "call"
kind = "contact-card"
audience = "coordinator"
each = "place"

[[document]]
id = "again"
kind = "recheck-sheet"
audience = "team"
"#;

/// All words of a document, a line for each text and each row of a table.
fn lines(document: &Document) -> Vec<String> {
    let block = |block: &Block| match block {
        Block::Heading(text) => vec![text.words()],
        Block::Paragraph(paragraph) => vec![paragraph.text.words()],
        Block::Table(table) => {
            let cells = |cells: &[(&str, _)]| {
                let texts =
                    cells.iter().map(|(_, cell): &(&str, fieldsheaf::compose::block::Cell)| Text::words(&cell.text));
                texts.collect::<Vec<_>>().join(" | ")
            };
            table.rows.iter().map(|row| cells(&row.cells)).collect()
        }
        _ => Vec::new(),
    };
    document.sections.iter().flat_map(|section| &section.blocks).flat_map(block).collect()
}

/// A blood center without a jack, with a connector that nobody knows, a member's own number in place of a desk's, visited 26 months
/// before the issue: what is found, and what stands on each sheet.
#[test]
fn what_is_not_known_of_a_site_is_said_on_each_sheet() {
    let county = county_of(DOCUMENTS);
    let own = county.text("places.toml");
    let from = own.find("id = \"blood\"").unwrap();
    let to = from + own[from..].find("[[place]]").unwrap();
    let mut place = own[from..to].to_owned();
    for (old, new) in [
        ("jack = \"Window pass-through\"\n", ""),
        ("connector = \"N female\"", "connector = \"connector unknown\""),
        ("adapter = \"N male to BNC female\"\n", ""),
        ("visited-on = 2026-09-14", "visited-on = 2024-09-14"),
        ("+1 406 555 0147", "+1 406 555 0112"),
    ] {
        assert!(place.contains(old), "{old}");
        place = place.replace(old, new);
    }
    let world = county.with("places.toml", format!("{}{place}{}", &own[..from], &own[to..]));
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let orders = tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found).unwrap();
    let is_there = |rule: &str| found.iter().any(|f| f.rule.name == rule && f.message.contains("Blood Center"));
    for rule in ["evidence-old", "site-number-private", "jack-unknown"] {
        assert!(is_there(rule), "{rule} in {:?}", found.iter().map(|f| &f.message).collect::<Vec<_>>());
    }
    let help = found.iter().find(|f| f.rule.name == "jack-unknown").and_then(|f| f.help.clone()).unwrap();
    assert!(help.contains("`jack = \"Panel R2\"`") && help.contains("`connector = \"N female\"`"), "{help}");

    let copies = orders.iter().flat_map(|task| task.copies());
    let is_blood = |holder: Option<&Id>| holder.is_none_or(|id| id.as_str() == "blood");
    let sheets: Vec<Document> =
        copies.filter(|copy| is_blood(copy.holder.as_ref())).map(|copy| document(&checked, &copy, None)).collect();
    let sheet = |kind: &str| lines(sheets.iter().find(|sheet| sheet.kind == kind).unwrap());
    let site = sheet("site-sheet");
    for line in [
        "Antenna jack | UNKNOWN: ask at the desk",
        "Connector | UNKNOWN: ask at the desk",
        "Bring | UNKNOWN: ask at the desk",
        "Ask | Dispatcher, number UNKNOWN: ask the coordinator",
        "Last visit | visited 2024-09-14 by WZ7QSB Tomas Lind: long ago, look at everything before you need it",
        "Alder General | Medical desk | 706 m, 0.4 mi | 032\u{b0} | 021\u{b0}",
    ] {
        assert!(site.iter().any(|told| told == line), "{line} in {site:#?}");
    }
    for sheet in &sheets {
        // The member's own row, of whom the number is, has it.
        let words = lines(sheet).into_iter().filter(|line| !line.contains("WZ7QRI"));
        let shown: Vec<String> = words.filter(|line| line.contains("555 0112")).collect();
        assert_eq!(shown, [""; 0], "{} shows a member's own number", sheet.kind);
    }
    let asked = "Blood Center | BLD | ask the coordinator | Dispatcher";
    assert!(sheet("contact-card").iter().any(|told| told == asked), "{:#?}", sheet("contact-card"));
    assert!(site.iter().all(|line| !line.trim().is_empty() && !line.ends_with("| ")), "{site:#?}");
    let again = sheet("recheck-sheet");
    for line in [
        "Blood Center | Antenna jack: unknown",
        "Blood Center | Connector: unknown",
        "Blood Center | Bring: unknown",
        "Blood Center | Number of Dispatcher: a member's own is written, ask for the desk's",
        "Blood Center | All of it: last visit 2024-09-14, 797 days before the issue",
    ] {
        assert!(again.iter().any(|told| told.starts_with(line)), "{line} in {again:#?}");
    }
}

/// Where control falls to when it is silent: said on the sheet of that site and on the card of who stands there, and on no other.
#[test]
fn whose_control_of_a_net_falls_to_is_told_so() {
    let order = "\n[[document]]\nid = \"sites\"\nkind = \"site-sheet\"\neach = \"place\"\naudience = \"team\"\n\
                 [[document]]\nid = \"cards\"\nkind = \"channel-card\"\neach = \"member\"\naudience = \"team\"\n\
                 [[document]]\nid = \"keep-off\"\nkind = \"keep-off\"\neach = \"place\"\naudience = \"public\"\n";
    let world = county_of(order);
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let orders = tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found).unwrap();
    let holders = |part: &str, kind: &str| {
        let copies = orders.iter().flat_map(|task| task.copies()).filter(|copy| copy.document.as_str() == kind);
        let says = copies.filter(|copy| {
            let said = fieldsheaf::edition::canonical(&document(&checked, copy, None), "rules").unwrap();
            said.replace('\u{a0}', " ").contains(part)
        });
        says.map(|copy| copy.holder.unwrap().to_string()).collect::<Vec<String>>()
    };
    // Command's control is at Operations; the medical desk at Alder works another net.
    assert_eq!(holders("Command net, on CMD 1: yours after 1 min without Operations desk.", "sites"), ["alder"]);
    assert_eq!(holders("control Operations desk, if silent after 1 min you, on CMD 1", "cards"), ["qrc", "qsa"]);
    assert_eq!(
        holders("control Operations desk, if silent after 2 min you, on", "cards"),
        ["qrd", "qre", "qrs", "qry"]
    );
    // No sign for a place where the team does not send.
    let without = ["grange", "larkspur", "northgate", "pavilion", "quarry-hill"];
    let signs = holders("", "keep-off");
    let places: Vec<String> = checked.plan().places.iter().map(|place| place.id.value.to_string()).collect();
    let expected: Vec<&String> = places.iter().filter(|id| !without.contains(&id.as_str())).collect();
    assert_eq!(signs.iter().collect::<Vec<_>>(), expected);
    assert_eq!(places.len(), signs.len() + without.len());
}

/// The blood center's night has nobody: each member who is proposed is free from eight hours before it to eight hours after it, minute by
/// minute, may send on a channel of its net and has a radio that does; the duty sheet names the same.
#[test]
fn who_could_fill_a_gap_is_free_rested_and_may_work_the_net() {
    let order = "\n[[document]]\nid = \"duties\"\nkind = \"duty-sheet\"\naudience = \"team\"\n";
    let county = county_of(order);
    let own = county.text("nets.toml");
    let duty = own.find("post = \"blood-radio\"\nmember = \"qro\"").or_else(|| own.find("member = \"qro\"")).unwrap();
    let (from, to) = (own[..duty].rfind("[[duty]]").unwrap(), own[duty..].find("[[duty]]").unwrap() + duty);
    let world = county.with("nets.toml", format!("{}{}", &own[..from], &own[to..]));
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let orders = tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found).unwrap();
    let gap = found.iter().find(|finding| finding.rule.name == "post-unstaffed").unwrap();
    let help = gap.help.clone().unwrap();
    let proposed: Vec<&str> = help.split("(\"").skip(1).map(|part| part.split('"').next().unwrap()).collect();
    assert!(!proposed.is_empty() && proposed.len() <= 3, "{help}");

    let plan = checked.plan();
    let clock = Clock::of(plan);
    let all = fieldsheaf::reckon::stands(plan);
    let post = plan
        .posts
        .named(&Id::parse("blood").unwrap())
        .or_else(|| plan.posts.iter().find(|post| post.place.as_ref().is_some_and(|at| at.as_str() == "blood")));
    let net = plan.nets.named(&post.unwrap().nets[0].value).unwrap();
    let sheet = orders.iter().flat_map(|task| task.copies()).find(|copy| copy.holder.is_none()).unwrap();
    let duties = lines(&document(&checked, &sheet, None));
    let row = duties.iter().find(|line| line.contains("NOBODY") && line.contains("could stand: ")).unwrap();
    for id in proposed {
        let member = plan.members.named(&Id::parse(id).unwrap()).unwrap();
        assert!(row.contains(member.name.as_str()), "{row}");
        let mut minute = clock.instant(fieldsheaf::plan::LocalTime::parse("2027-01-16 10:00").unwrap());
        let mut busy = 0;
        // From eight hours before 18:00 to eight hours after 06:00.
        for _ in 0..28 * 60 {
            busy += all.iter().filter(|s| s.duty.member.value == member.id.value && has(s.period, minute)).count();
            minute = minute.after(1);
        }
        assert_eq!(busy, 0, "{id} is on duty near it");
        let reaches = net.legs.iter().filter_map(|leg| plan.channels.named(&leg.channel.value)).any(|channel| {
            member.radios.iter().filter_map(|radio| plan.radios.named(&radio.value)).any(|radio| {
                let send = channel.send.unwrap_or(channel.hear).value;
                radio.covers.iter().any(|stretch| stretch.value.has(send) && stretch.value.has(channel.hear.value))
            })
        });
        assert!(reaches && member.class.is_some(), "{id}");
    }
}
