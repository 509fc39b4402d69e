//! Who could stand a time in which nobody does, against a watch of every minute.

use crate::support::shelf::Shelf;
use fieldsheaf::ground::{Findings, Id};
use fieldsheaf::plan::{Clock, Instant, LocalTime, Period, Plan};
use fieldsheaf::reckon::{Eligibility, FoundOnce, Staff, StandIns};
use fieldsheaf::tables::Tables;
use std::fmt::Write;

const LONGEST: i64 = 6 * 60;
const REST: i64 = 3 * 60;

/// A gate that nobody stands from 06:00 to 06:00, and a hut that is stood by four members at these quarters of an hour after midnight.
fn plan_of(duties: &[(usize, u64, u64)]) -> Plan {
    let mut text =
        "[plan]\ntitle = \"A plan\"\nshort = \"PLAN\"\nteam = \"A team\"\nprofile = \"us\"\ninvented = true\n\
                    time-zone = \"America/Denver\"\n[duty-limits]\nlongest = \"6 h\"\nrest = \"3 h\"\n\
                    [[post]]\nid = \"gate\"\nname = \"Gate\"\n[[post]]\nid = \"hut\"\nname = \"Hut\"\n"
            .to_owned();
    for member in 0..4 {
        writeln!(text, "[[member]]\nid = \"m{member}\"\nname = \"Member {member}\"").unwrap();
    }
    let time = |quarter: u64| format!("2027-01-{} {:02}:{:02}", 16 + quarter / 96, quarter % 96 / 4, quarter % 4 * 15);
    for (member, from, to) in duties {
        let (from, to) = (time(*from), time(*to));
        writeln!(text, "[[duty]]\npost = \"hut\"\nmember = \"m{member}\"\nfrom = \"{from}\"\nto = \"{to}\"").unwrap();
    }
    let mut found = Findings::default();
    let world = Shelf::new().with("plan.toml", text);
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    fieldsheaf::plan::build(&world, &mut records, &mut found)
}

#[test]
fn parts_and_rests_are_those_that_a_watch_of_every_minute_finds() {
    let tables = Tables::built_in();
    let profile = tables.profile("us").unwrap();
    let mut seed = 11_u64;
    let mut dice = |below: u64| {
        seed = seed * 48271 % 2_147_483_647;
        seed % below
    };
    let (mut parted, mut rested, mut nobody) = (0, 0, 0);
    for _ in 0..400 {
        let mut duties = Vec::new();
        for n in 0..8 {
            let from = dice(160);
            duties.push((n % 4, from, from + 4 + dice(28)));
        }
        let plan = plan_of(&duties);
        let clock = Clock::of(&plan);
        let at = |text: &str| clock.instant(LocalTime::parse(text).unwrap());
        let begin = at("2027-01-16 08:00").after(15 * i64::try_from(dice(20)).unwrap());
        let gap = Period { from: begin, to: begin.after(60 * (3 + i64::try_from(dice(9)).unwrap())) };
        let (known, staff) = (FoundOnce::default(), Staff::of(&plan));
        let all = StandIns::of(Eligibility { tables, profile, plan: &plan, day: None, known: &known });
        let post = plan.posts.named(&Id::parse("gate").unwrap()).unwrap();
        let midnight = at("2027-01-16 00:00");
        let is_busy = |member: &Id, minute: Instant| {
            let quarter = midnight.minutes_to(minute).div_euclid(15);
            let own = duties.iter().filter(|(who, ..)| format!("m{who}") == member.as_str());
            own.into_iter()
                .any(|(_, from, to)| (i64::try_from(*from).unwrap()..i64::try_from(*to).unwrap()).contains(&quarter))
        };
        let free = |member: &Id, from: Instant, to: Instant| {
            (0..from.minutes_to(to)).all(|minute| !is_busy(member, from.after(minute)))
        };

        let parts = all.in_parts(post, &staff, gap);
        let mut reached = gap.from;
        for (place, (member, part)) in parts.iter().enumerate() {
            let id = &member.id.value;
            assert_eq!(part.from, reached);
            reached = part.to;
            assert!((1..=LONGEST).contains(&part.from.minutes_to(part.to)), "{part:?}");
            assert!(free(id, part.from.after(-REST), part.to.after(REST)), "{id} {part:?} {duties:?}");
            let others = parts.iter().take(place).filter(|(other, _)| other.id.value == *id);
            assert!(others.into_iter().all(|(_, other)| other.to.minutes_to(part.from) >= REST));
        }
        assert!(parts.is_empty() || reached == gap.to, "{duties:?}");
        parted += usize::from(parts.len() > 1);

        // Minutes that each is off around the whole time, on the side that has fewer.
        let mut longest: Option<i64> = None;
        for member in plan.members.iter().filter(|member| free(&member.id.value, gap.from, gap.to)) {
            let id = &member.id.value;
            let before = (0..4000).take_while(|n| !is_busy(id, gap.from.after(-1 - n))).count();
            let after = (0..4000).take_while(|n| !is_busy(id, gap.to.after(*n))).count();
            longest = longest.max(i64::try_from(before.min(after)).ok());
        }
        let is_too_long = gap.from.minutes_to(gap.to) > LONGEST;
        let told = all.most_rested(post, &staff, gap).map(|(_, off)| off.min(4000));
        assert_eq!(told, longest.filter(|_| !is_too_long), "{gap:?} {duties:?}");
        let whole = all.for_post(post, &staff, gap);
        assert_eq!(whole.is_empty(), is_too_long || longest.is_none_or(|longest| longest < REST));
        rested += usize::from(told.is_some_and(|off| off < REST));
        nobody += usize::from(told.is_none());
    }
    assert!(parted > 10 && rested > 10 && nobody > 10, "{parted} {rested} {nobody}");
}
