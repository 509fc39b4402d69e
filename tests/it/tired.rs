//! Nights in a row, duty without rest and handovers, against a watcher that goes minute by minute by what clocks show, over both changes
//! of the clocks and zones off the full hour.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::check_plan;
use fieldsheaf::ground::TimeZone;
use fieldsheaf::plan::{Clock, Instant, LocalTime};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

/// Zones with the day after which their clocks change, or any day.
const ZONES: [(&str, &str); 6] = [
    ("America/Denver", "2027-03-12"),
    ("America/Denver", "2027-11-05"),
    ("Australia/Lord_Howe", "2027-04-02"),
    ("Australia/Lord_Howe", "2027-10-01"),
    ("Asia/Kathmandu", "2027-01-16"),
    ("America/St_Johns", "2027-11-05"),
];
const MEMBERS: [&str; 3] = ["qsa", "qsb", "qsc"];
const POSTS: [&str; 2] = ["desk", "gate"];

/// The same numbers in each run: a step of a multiplicative generator (Park and Miller, 1988).
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0 * 48271 % 2_147_483_647;
        self.0 % limit
    }
}

struct Stood {
    post: usize,
    member: usize,
    from: Instant,
    to: Instant,
}

/// What a plan allows, in minutes; and nights.
struct Allowed {
    longest: i64,
    rest: i64,
    nights: usize,
    handover: i64,
}

impl Stood {
    fn has(&self, minute: Instant) -> bool {
        self.from <= minute && minute < self.to
    }
}

/// A plan of some days with duties that begin mostly in the evening, and its duties in time.
fn planted(dice: &mut Dice, (name, day): (&str, &str), allowed: &Allowed) -> (String, Vec<Stood>) {
    let clock = Clock::in_zone(TimeZone::named(name).unwrap());
    let head = HEAD.replace("America/Denver", name).replace("review-by = 2027-06-01", "review-by = 2028-01-01");
    let mut text = format!(
        "{head}[duty-limits]\nlongest = \"{} min\"\nrest = \"{} min\"\nnights = {}\nhandover = \"{} min\"\n",
        allowed.longest, allowed.rest, allowed.nights, allowed.handover
    );
    for id in MEMBERS {
        writeln!(text, "[[member]]\nid = \"{id}\"\nname = \"Member {id}\"\nclass = \"none\"\nconfirmed = 2026-10-01")
            .unwrap();
    }
    for id in POSTS {
        writeln!(text, "[[post]]\nid = \"{id}\"\nname = \"{id}\"").unwrap();
    }
    let first = clock.instant(LocalTime::parse(&format!("{day} 12:00")).unwrap());
    let mut stood = Vec::new();
    for _ in 0..24 {
        let (post, member) = (dice.below(2), dice.below(3));
        let from = first.after(i64::try_from(dice.below(5) * 1440 + dice.below(48) * 15).unwrap());
        let to = from.after(i64::try_from(60 + dice.below(60) * 15).unwrap());
        // What is written is read by the clock once more: a time that comes twice is its first.
        let (from, to) = (clock.local(from), clock.local(to));
        let (post, member) = (usize::try_from(post).unwrap(), usize::try_from(member).unwrap());
        writeln!(
            text,
            "[[duty]]\npost = \"{}\"\nmember = \"{}\"\nfrom = \"{from}\"\nto = \"{to}\"",
            POSTS[post], MEMBERS[member]
        )
        .unwrap();
        let (from, to) = (clock.instant(from), clock.instant(to));
        if from < to {
            stood.push(Stood { post, member, from, to });
        }
    }
    (text, stood)
}

/// Every run of nights that is too long: member, how many, first and last night.
fn tired(stood: &[Stood], clock: Clock, most: usize) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let first = stood.iter().map(|one| one.from).min().unwrap();
    let last = stood.iter().map(|one| one.to).max().unwrap();
    for (member, id) in MEMBERS.iter().enumerate() {
        let own: Vec<&Stood> = stood.iter().filter(|one| one.member == member).collect();
        let mut minutes: BTreeMap<String, i64> = BTreeMap::new();
        let mut minute = first;
        while minute < last {
            let shown = clock.local(minute).to_string();
            let (day, time) = shown.split_once(' ').unwrap();
            if time < "06:00" && own.iter().any(|one| one.has(minute)) {
                *minutes.entry(day.to_owned()).or_default() += 1;
            }
            minute = minute.after(1);
        }
        let nights: Vec<&String> = minutes.iter().filter(|(_, minutes)| **minutes >= 120).map(|(day, _)| day).collect();
        let day_after = |day: &str| {
            let noon = clock.instant(LocalTime::parse(&format!("{day} 12:00")).unwrap()).after(1440);
            clock.local(noon).to_string()[..10].to_owned()
        };
        for (place, begin) in nights.iter().enumerate() {
            if place > 0 && day_after(nights[place - 1]) == **begin {
                continue;
            }
            let mut end = place;
            while nights.get(end + 1).is_some_and(|next| day_after(nights[end]) == **next) {
                end += 1;
            }
            if end - place + 1 > most {
                found.insert(format!(
                    "Member {id} stands {} nights in a row, from that of {begin} to that of {}",
                    end - place + 1,
                    nights[end]
                ));
            }
        }
    }
    found
}

/// Members with more minutes of duty than allowed that no rest parts.
fn restless(stood: &[Stood], allowed: &Allowed) -> BTreeMap<usize, usize> {
    let mut found = BTreeMap::new();
    let first = stood.iter().map(|one| one.from).min().unwrap();
    let last = stood.iter().map(|one| one.to).max().unwrap();
    for member in 0..MEMBERS.len() {
        let own: Vec<&Stood> = stood.iter().filter(|one| one.member == member).collect();
        let (mut on, mut off, mut is_told) = (0, 0, false);
        let mut minute = first;
        while minute <= last {
            if own.iter().any(|one| one.has(minute)) {
                on += 1;
                off = 0;
                if on > allowed.longest && !is_told {
                    is_told = true;
                    *found.entry(member).or_default() += 1;
                }
            } else {
                off += 1;
                if off >= allowed.rest {
                    (on, is_told) = (0, false);
                }
            }
            minute = minute.after(1);
        }
    }
    found
}

/// How many reliefs of a post are too short, of how many; and the time together at the first that is.
fn hasty(stood: &[Stood], post: usize, wanted: i64) -> Option<(usize, usize, i64)> {
    let own: Vec<&Stood> = stood.iter().filter(|one| one.post == post).collect();
    let mut ends: Vec<&Stood> = own.clone();
    ends.sort_by_key(|one| (one.from, one.to));
    let mut short = Vec::new();
    let mut all = 0;
    for leaves in ends {
        let there: Vec<&&Stood> = own.iter().filter(|one| one.has(leaves.to)).collect();
        let Some(comes) = there.into_iter().max_by_key(|one| (one.from, one.to)) else { continue };
        if comes.member == leaves.member {
            continue;
        }
        all += 1;
        let (mut both, mut minute) = (0, leaves.from);
        while minute < leaves.to {
            both += i64::from(comes.has(minute));
            minute = minute.after(1);
        }
        if both < wanted {
            short.push(both);
        }
    }
    Some((short.len(), all, *short.first()?))
}

#[test]
fn nights_rest_and_handover_are_what_a_watcher_finds_minute_by_minute() {
    let (mut runs, mut spells, mut handed) = (0, 0, 0);
    for (seed, zone) in ZONES.into_iter().enumerate() {
        for round in 0..8 {
            let mut dice = Dice(7 + seed as u64 * 1000 + round);
            let allowed = Allowed {
                longest: 480 + 60 * i64::try_from(dice.below(8)).unwrap(),
                rest: 240 + 60 * i64::try_from(dice.below(8)).unwrap(),
                nights: 1 + usize::try_from(dice.below(3)).unwrap(),
                handover: 5 + i64::try_from(dice.below(60)).unwrap(),
            };
            let (text, stood) = planted(&mut dice, zone, &allowed);
            let outcome = check_plan(&Shelf::new().with("plan.toml", text.clone()), "plan.toml").unwrap();
            let said = |rule: &str| {
                let of_rule = outcome.findings.iter().filter(|finding| finding.rule.name == rule);
                of_rule.map(|finding| finding.message.clone()).collect::<Vec<_>>()
            };
            let clock = Clock::in_zone(TimeZone::named(zone.0).unwrap());
            let nights: BTreeSet<String> = said("too-many-nights").into_iter().collect();
            assert_eq!(nights, tired(&stood, clock, allowed.nights), "{text}");
            runs += nights.len();

            let told = said("duty-without-rest");
            for (member, id) in MEMBERS.iter().enumerate() {
                let of_member = told.iter().filter(|message| message.contains(&format!("Member {id} "))).count();
                assert_eq!(of_member, restless(&stood, &allowed).get(&member).copied().unwrap_or(0), "{id}\n{text}");
                spells += of_member;
            }

            let told = said("handover-too-short");
            for (post, id) in POSTS.iter().enumerate() {
                let of_post: Vec<&String> =
                    told.iter().filter(|message| message.starts_with(&format!("at {id} "))).collect();
                let Some((short, all, both)) = hasty(&stood, post, allowed.handover) else {
                    assert!(of_post.is_empty(), "{of_post:?}\n{text}");
                    continue;
                };
                let [message] = of_post[..] else { panic!("{of_post:?}\n{text}") };
                let head = format!("has {both} min together, less than {} min", allowed.handover);
                assert!(message.contains(&head), "{message}: {head}\n{text}");
                let tail = match (short, all) {
                    (1, 1) => "min".to_owned(),
                    (1, all) => format!("; 1 relief of {all} is too short"),
                    (short, all) => format!("; {short} reliefs of {all} are too short"),
                };
                assert!(message.ends_with(&tail), "{message}: {tail}");
                handed += 1;
            }
        }
    }
    assert!(runs > 20 && spells > 20 && handed > 20, "{runs} {spells} {handed}");
}
