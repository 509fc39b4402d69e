//! The shift on paper: who relieves whom, against a checker that goes minute by minute; and a site of which little is known, sheet by
//! sheet.

use crate::support::every::county_of;
use crate::support::shelf::Shelf;
use fieldsheaf::audience::view;
use fieldsheaf::compose::block::Block;
use fieldsheaf::ground::{Audience, Findings, Id};
use fieldsheaf::plan::Plan;
use fieldsheaf::reckon::{Clock, Instant, Period, gaps, hours, occasions, reliefs, stands_at, stretches};

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
        text.push_str(&format!("[[member]]\nid = \"m{member}\"\nname = \"Member {member}\"\n"));
    }
    for (member, from, to) in duties {
        text.push_str(&format!("[[duty]]\npost = \"gate\"\nmember = \"m{member}\"\nfrom = \"{from}\"\nto = \"{to}\"\n"));
    }
    let mut found = Findings::default();
    let world = Shelf::of(&[("plan.toml", &text)]);
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
            let parts = stretches(&stands, whole);
            assert_eq!(parts.iter().map(|part| part.from.minutes_to(part.to)).sum::<i64>(), whole.from.minutes_to(whole.to));
            // Minutes, each a step of what every clock shows.
            let long = whole.from.minutes_to(whole.to);
            let mut minute = whole.from;
            for _ in 0..long {
                let there: Vec<usize> = (0..stands.len()).filter(|n| has(stands[*n].period, minute)).collect();
                assert_eq!(there.is_empty(), gaps.iter().any(|gap| has(gap.period, minute)), "{zone} {}", clock.local(minute));
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
id = "again"
kind = "recheck-sheet"
audience = "team"
"#;
