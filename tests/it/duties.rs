//! Duties and rehearsals against a watcher that knows no shortcut: minute by minute, through nights in which the clocks change.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::{
    self,
    block::{Block, MatrixCell, Text},
};
use fieldsheaf::ground::{Finding, Findings, Id};
use fieldsheaf::plan::{self, Clock, Plan};
use fieldsheaf::reckon::{Eligibility, FoundOnce, Loss, NetOutcome, Staff, Whereabouts, losses, rehearse};
use fieldsheaf::tables::Tables;
use fieldsheaf::{check_plan, source};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

/// Numbers that look random and are the same on every run: Knuth's MMIX generator.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % limit
    }
}

/// A night in Denver: its evening's date, the next day's, and how many hours its clocks go forward at 02:00.
#[derive(Clone, Copy)]
struct Night {
    days: [&'static str; 2],
    forward: i64,
}

const NIGHTS: [Night; 3] = [
    Night { days: ["2027-01-16", "2027-01-17"], forward: 0 },
    Night { days: ["2027-03-13", "2027-03-14"], forward: 1 },
    Night { days: ["2027-11-06", "2027-11-07"], forward: -1 },
];

/// Minutes of the clock from the evening's midnight to 02:00 of the next day.
const CHANGE: i64 = 26 * 60;

impl Night {
    /// What a clock shows, counted from the evening's midnight, as minutes that have passed since.
    fn passed(self, shown: i64) -> i64 {
        let has_changed = shown >= CHANGE + self.forward.max(0) * 60;
        if has_changed { shown - self.forward * 60 } else { shown }
    }

    /// What the clock shows after so many minutes.
    fn shown(self, passed: i64) -> i64 {
        if passed >= CHANGE { passed + self.forward * 60 } else { passed }
    }

    fn written(self, shown: i64) -> String {
        let day = self.days[usize::from(shown >= 24 * 60)];
        let minutes = shown % (24 * 60);
        format!("{day} {:02}:{:02}", minutes / 60, minutes % 60)
    }

    /// What is printed: in the hour that comes twice with which of the two, and with UTC, of which summer time is 6 h behind.
    fn told(self, passed: i64) -> String {
        let written = self.written(self.shown(passed));
        let utc = format!("{:02}:{:02}", (passed / 60 + 6) % 24, passed % 60);
        match (passed - CHANGE).div_euclid(60) {
            -1 if self.forward < 0 => format!("{written} MDT ({utc} UTC)"),
            0 if self.forward < 0 => format!("{written} MST ({utc} UTC)"),
            _ => written,
        }
    }

    /// `2027-03-13 18:00 to 2027-03-14 06:00`.
    fn words(self, (from, to): (i64, i64)) -> String {
        let (from, to) = (self.told(from), self.told(to));
        if from[..10] == to[..10] { format!("{from} to {}", &to[11..]) } else { format!("{from} to {to}") }
    }
}

#[derive(Clone, Copy, Debug)]
struct Stood {
    post: usize,
    member: usize,
    /// Minutes that have passed since the evening's midnight.
    from: i64,
    to: i64,
}

const POSTS: [&str; 3] = ["desk", "gate", "barn"];
const MEMBERS: [&str; 4] = ["qsa", "qsb", "qsc", "qsd"];
/// `desk` and `gate` are in one hall, the barn is elsewhere.
const PLACES: [&str; 3] = ["hall", "hall", "barn"];

fn people() -> String {
    let mut text = HEAD.to_owned();
    for (index, id) in MEMBERS.iter().enumerate() {
        // One without radios in the plan, one for two meters, one for both bands, one without a class.
        let radios = [None, Some("ht-2m"), Some("ht-dual"), Some("ht-dual")][index];
        let class = if ["qsa", "qsd"].contains(id) { "none" } else { "technician" };
        writeln!(text, "[[member]]\nid = \"{id}\"\nname = \"{id}\"\nclass = \"{class}\"\nconfirmed = 2026-10-01")
            .unwrap();
        if class != "none" {
            writeln!(text, "call = \"WZ7{}\"\nexpires = 2030-04-01", id.to_uppercase()).unwrap();
        }
        if let Some(radio) = radios {
            writeln!(text, "radio = [\"{radio}\"]").unwrap();
        }
    }
    for place in ["hall", "barn"] {
        writeln!(text, "[[place]]\nid = \"{place}\"\ncode = \"{}\"\ntactical = \"{place}\"", place[..3].to_uppercase())
            .unwrap();
        writeln!(text, "kind = \"other\"\nvisited-on = 2026-10-01").unwrap();
    }
    for (post, place) in POSTS.iter().zip(PLACES) {
        writeln!(text, "[[post]]\nid = \"{post}\"\nname = \"{post}\"\nplace = \"{place}\"\nnets = [\"n\"]").unwrap();
    }
    text
}

const RADIO: &str = r#"
[[radio]]
id = "ht-2m"
name = "Two meters"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W"
[[radio]]
id = "ht-dual"
name = "Two bands"
covers = ["144 MHz to 148 MHz", "420 MHz to 450 MHz"]
modes = ["FM"]
power = "5 W"
[[repeater]]
id = "hill"
call = "WZ7QUR"
place = "barn"
output = "146.940 MHz"
input = "-600 kHz"
tone-in = "103.5 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qra" }
[[channel]]
id = "a"
row = 1
name = "A"
spoken = "Alpha"
repeater = "hill"
next = "b"
[[channel]]
id = "b"
row = 2
name = "B"
spoken = "Bravo"
simplex = "446.050 MHz"
verified = { on = 2026-10-04, by = "qra" }
[[net]]
id = "n"
name = "The net"
spoken = "The Net"
primary = "a"
alternate = "b"
rejoin = "listen on A at each full hour"
"#;

/// Random duties in a night, each beginning at a minute of its own.
fn planted(dice: &mut Dice, night: Night, has_incident: bool) -> (String, Vec<Stood>) {
    let mut text = people() + RADIO;
    if has_incident {
        writeln!(text, "[incident]\nname = \"Night\"").unwrap();
        writeln!(text, "from = \"{}\"\nto = \"{}\"", night.written(18 * 60), night.written(32 * 60)).unwrap();
    }
    let mut stood = Vec::new();
    for index in 0..2 + dice.below(6) {
        let at = |dice: &mut Dice, offset: usize| 17 * 60 + i64::try_from(15 * dice.below(64) + offset).unwrap();
        let from = at(dice, index);
        let to = from + 15 + i64::try_from(15 * dice.below(30)).unwrap();
        let (post, member) = (dice.below(3), dice.below(4));
        writeln!(text, "[[duty]]\npost = \"{}\"\nmember = \"{}\"", POSTS[post], MEMBERS[member]).unwrap();
        writeln!(text, "from = \"{}\"\nto = \"{}\"", night.written(from), night.written(to)).unwrap();
        let (from, to) = (night.passed(from), night.passed(to));
        // A duty that the change of the clocks leaves no minute is not stood.
        if from < to {
            stood.push(Stood { post, member, from, to });
        }
    }
    (text, stood)
}

/// When posts are meant to be stood, minute by minute.
fn is_meant(stood: &[Stood], night: Night, has_incident: bool, minute: i64) -> bool {
    if has_incident {
        return (night.passed(18 * 60)..night.passed(32 * 60)).contains(&minute);
    }
    // Within one night no day passes without anybody.
    stood.iter().any(|duty| duty.from <= minute) && stood.iter().any(|duty| duty.to > minute)
}

/// Runs of minutes for which something holds.
fn runs(holds: impl Fn(i64) -> bool) -> Vec<(i64, i64)> {
    let mut runs: Vec<(i64, i64)> = Vec::new();
    for minute in (0..48 * 60).filter(|minute| holds(*minute)) {
        match runs.last_mut() {
            Some(last) if last.1 == minute => last.1 += 1,
            _ => runs.push((minute, minute + 1)),
        }
    }
    runs
}

fn is_at(duty: &Stood, minute: i64) -> bool {
    duty.from <= minute && minute < duty.to
}

#[test]
fn gaps_at_posts_are_those_that_a_watch_of_every_minute_finds() {
    let mut dice = Dice(7);
    let mut gaps = 0;
    for run in 0..120 {
        let (night, has_incident) = (NIGHTS[run % 3], run % 2 == 0);
        let (text, stood) = planted(&mut dice, night, has_incident);
        let mut expected = BTreeSet::new();
        for (post, name) in POSTS.iter().enumerate() {
            let here = |minute: i64| stood.iter().any(|duty| duty.post == post && is_at(duty, minute));
            let meant = |minute: i64| is_meant(&stood, night, has_incident, minute);
            // Without a period only the duties say that a post is meant to be stood.
            if !has_incident && !(0..48 * 60).any(|minute| here(minute) && meant(minute)) {
                continue;
            }
            for gap in runs(|minute| meant(minute) && !here(minute)) {
                expected.insert(format!("from {} nobody stands at post {name}", night.words(gap)));
            }
        }
        gaps += expected.len();
        let outcome = check_plan(&Shelf::new().with("plan.toml", text.clone()), "plan.toml").unwrap();
        let found = outcome.findings.iter().filter(|finding| finding.rule.name == "post-unstaffed");
        assert_eq!(found.map(|finding| finding.message.clone()).collect::<BTreeSet<_>>(), expected, "{text}");
    }
    assert!(gaps > 300, "{gaps} gaps");
}

#[test]
fn members_at_two_posts_are_those_that_a_watch_of_every_minute_finds() {
    let mut dice = Dice(11);
    let (mut near, mut apart) = (0, 0);
    for run in 0..120 {
        let night = NIGHTS[run % 3];
        let (text, stood) = planted(&mut dice, night, false);
        // Every two posts at which a member is seen in one minute, by the stretches of such minutes.
        let mut expected = BTreeSet::new();
        for (member, name) in MEMBERS.iter().enumerate() {
            let is_there = |post: usize, minute: i64| {
                stood.iter().any(|d| (d.member, d.post) == (member, post) && is_at(d, minute))
            };
            for (one, other) in (0..POSTS.len()).flat_map(|one| (one + 1..POSTS.len()).map(move |other| (one, other))) {
                let rule = if PLACES[one] == PLACES[other] { "member-at-two-posts" } else { "member-at-two-places" };
                for both in runs(|minute| is_there(one, minute) && is_there(other, minute)) {
                    let names = BTreeSet::from([POSTS[one], POSTS[other]]);
                    expected.insert((rule, format!("from {} {name} stands at ", night.words(both)), names));
                }
            }
        }
        let outcome = check_plan(&Shelf::new().with("plan.toml", text.clone()), "plan.toml").unwrap();
        let told = outcome.findings.iter().filter(|finding| finding.rule.name.starts_with("member-at-two-p"));
        let said = |finding: &Finding| {
            let (when, posts) = finding.message.split_once(" stands at ").unwrap();
            let (one, other) = posts.split_once(" and at ").unwrap();
            let other = other.split_once(" at once").unwrap().0;
            let name = |said: &str| *POSTS.iter().find(|post| **post == said).unwrap();
            (finding.rule.name, format!("{when} stands at "), BTreeSet::from([name(one), name(other)]))
        };
        let found: BTreeSet<_> = told.map(said).collect();
        assert_eq!(found, expected, "{text}");
        apart += found.iter().filter(|(rule, ..)| *rule == "member-at-two-places").count();
        near += found.iter().filter(|(rule, ..)| *rule == "member-at-two-posts").count();
    }
    assert!(near > 15 && apart > 40, "{near} near, {apart} apart");
}

fn built(text: &str) -> Plan {
    let shelf = Shelf::new().with("plan.toml", text);
    let mut found = Findings::default();
    let mut records = source::read(&shelf, "plan.toml", &mut found).unwrap();
    plan::build(&shelf, &mut records, &mut found)
}

/// Who is where after a loss: by name, what the minute's people come to.
type Where = (BTreeMap<String, &'static str>, &'static str);

/// By the words of the cards alone: A, and when it is dead B, which takes a radio for 70 cm. Then what becomes of the net.
fn followed(stood: &[Stood], minute: i64, loss: &str) -> Where {
    let mut seen = BTreeMap::new();
    let here: Vec<&Stood> = stood.iter().filter(|duty| is_at(duty, minute)).collect();
    let is_lost = |duty: &Stood| loss == format!("all at {}", PLACES[duty.post]);
    for duty in &here {
        let name = MEMBERS[duty.member];
        let own = || here.iter().filter(|own| own.member == duty.member);
        // At one post all hear what one of them hears, and only qsb has no radio for B.
        let mut mates = here.iter().filter(|mate| own().any(|own| own.post == mate.post));
        let hears = loss == "all at hall" || mates.any(|mate| MEMBERS[mate.member] != "qsb");
        let end = match () {
            () if own().any(|own| is_lost(own)) => "lost",
            () if !hears => "deaf",
            () if ["qsa", "qsd"].contains(&name) => "listens",
            () => "sends",
        };
        seen.insert(name.to_owned(), end);
    }
    let with = |ends: &[&str]| seen.values().filter(|end| ends.contains(end)).count();
    let there: BTreeSet<usize> = here
        .iter()
        .filter(|duty| ["listens", "sends"].contains(&seen[MEMBERS[duty.member]]))
        .map(|duty| duty.post)
        .collect();
    let outcome = match there.len().min(with(&["listens", "sends"])) {
        _ if seen.is_empty() => "",
        0 if with(&["deaf"]) == 0 => "gone",
        0 => "nowhere",
        1 => "alone",
        _ if with(&["sends"]) == 0 => "silent",
        _ => "meets",
    };
    (seen, outcome)
}

/// What is kept while people come and go.
fn counted(standing: &Whereabouts<'_>) -> (Option<String>, [usize; 5]) {
    let Whereabouts { on, astray, deaf, lost, stations, was } = standing;
    (on.map(|on| on.id.value.to_string()), [*astray, *deaf, *lost, *stations, *was])
}

#[test]
fn a_rehearsal_tells_of_every_minute_who_is_where() {
    let mut dice = Dice(13);
    let tables = Tables::built_in();
    let profile = tables.profile("us").unwrap();
    let mut told = BTreeMap::<&str, usize>::new();
    for run in 0..90 {
        let night = NIGHTS[run % 3];
        let (text, stood) = planted(&mut dice, night, false);
        if stood.is_empty() {
            continue;
        }
        let plan = built(&text);
        let (clock, staff) = (Clock::of(&plan), Staff::of(&plan));
        let net = plan.nets.named(&Id::parse("n").unwrap()).unwrap();
        let midnight = clock.instant(plan::LocalTime::parse(&night.written(0)).unwrap());
        let all: Vec<Loss> = losses(&plan);
        let known = FoundOnce::default();
        for loss in &all {
            let rests_on = Eligibility { tables, profile, plan: &plan, day: None, known: &known };
            let rehearsal = rehearse(rests_on, &staff, net, loss).unwrap();
            let mut by_minute: BTreeMap<i64, Where> = BTreeMap::new();
            let mut last = i64::MIN;
            rehearsal.each(|here| {
                let met = here.met();
                assert_eq!(
                    counted(&here.standing),
                    counted(&met.whereabouts()),
                    "kept, and reckoned from who stands\n{text}"
                );
                let when = met.when.unwrap();
                let (from, to) = (midnight.minutes_to(when.from), midnight.minutes_to(when.to));
                assert!(last <= from && from < to, "stretches in order of time");
                last = to;
                let mut seen = BTreeMap::new();
                let mut see = |member: &plan::Member, end| {
                    seen.insert(member.name.to_string(), end);
                };
                met.present.iter().for_each(|member| see(member, "sends"));
                met.listening.iter().for_each(|member| see(member, "listens"));
                met.lost.iter().for_each(|member| see(member, "lost"));
                met.apart.iter().for_each(|(member, apart)| {
                    assert_eq!(format!("{apart:?}"), "Deaf(\"B\")", "{text}");
                    see(member, "deaf");
                });
                let outcome = match met.outcome() {
                    NetOutcome::Meets(_) => "meets",
                    NetOutcome::Silent(_) => "silent",
                    NetOutcome::Alone(_) => "alone",
                    NetOutcome::Nowhere => "nowhere",
                    NetOutcome::Gone => "gone",
                    NetOutcome::Unnamed(_) => "unnamed",
                };
                *told.entry(outcome).or_default() += 1;
                let seen = (seen, outcome);
                by_minute.extend((from..to).map(|minute| (minute, seen.clone())));
                true
            });
            for minute in 0..60 * 60 {
                let seen = by_minute.get(&minute).cloned().unwrap_or_default();
                assert_eq!(seen, followed(&stood, minute, &loss.words), "{minute} without {}\n{text}", loss.words);
            }
        }
        assert!(all.len() >= 2, "{all:?}");
    }
    let least = ["meets", "silent", "alone", "nowhere", "gone"].map(|outcome| told.get(outcome).copied().unwrap_or(0));
    assert!(least.iter().all(|count| *count >= 5), "{told:?}");
}

/// Nine people with other radios at six posts of three places, who relieve each other at any minute and stand at two posts at once: what is kept
/// while they come and go is at each stretch what is reckoned from who stands then.
#[test]
fn what_is_kept_while_people_come_and_go_is_what_is_reckoned_anew() {
    let mut dice = Dice(29);
    let tables = Tables::built_in();
    let profile = tables.profile("us").unwrap();
    let mut told = [0_usize; 5];
    for run in 0..24 {
        let mut text = HEAD.to_owned() + RADIO;
        text += "[[radio]]\nid = \"ht-70cm\"\nname = \"Upper band\"\ncovers = [\"420 MHz to 450 MHz\"]\nmodes = [\"FM\"]\npower = \"5 W\"\n";
        text += "[[channel]]\nid = \"c\"\nrow = 9\nname = \"C\"\nspoken = \"Channel C\"\nsimplex = \"147.450 MHz\"\nverified = { on = 2026-10-04, by = \"qra\" }\n";
        // Where the first channel is the only one, its loss leads nowhere.
        let others = ["", "alternate = \"b\"\ncontingency = \"c\""][run % 2];
        text = text.replace("alternate = \"b\"", others).replace("next = \"b\"\n", "");
        for place in 0..3 {
            write!(text, "[[place]]\nid = \"at-{place}\"\ncode = \"AT{place}\"\ntactical = \"At {place}\"\nkind = \"other\"\nvisited-on = 2026-10-01\n").unwrap();
        }
        for post in 0..6 {
            write!(
                text,
                "[[post]]\nid = \"post-{post}\"\nname = \"Post {post}\"\nplace = \"at-{}\"\nnets = [\"n\"]\n",
                post % 3
            )
            .unwrap();
        }
        for member in 0..9 {
            let radio = ["ht-2m", "ht-dual", "ht-70cm"][dice.below(3)];
            write!(text, "[[member]]\nid = \"m{member}\"\nname = \"M {member}\"\nclass = \"none\"\nconfirmed = 2026-10-01\nradio = [\"{radio}\"]\n")
                .unwrap();
        }
        for _ in 0..[12, 40, 90][run % 3] {
            let from = 17 * 60 + i64::try_from(dice.below(960)).unwrap();
            let to = from + 1 + i64::try_from(dice.below(300)).unwrap();
            let night = NIGHTS[0];
            let (post, member) = (dice.below(6), dice.below(9));
            write!(
                text,
                "[[duty]]\npost = \"post-{post}\"\nmember = \"m{member}\"\nfrom = \"{}\"\nto = \"{}\"\n",
                night.written(from),
                night.written(to)
            )
            .unwrap();
        }
        let plan = built(&text);
        let staff = Staff::of(&plan);
        let net = plan.nets.named(&Id::parse("n").unwrap()).unwrap();
        let known = FoundOnce::default();
        for loss in &losses(&plan) {
            let rests_on = Eligibility { tables, profile, plan: &plan, day: None, known: &known };
            let Some(rehearsal) = rehearse(rests_on, &staff, net, loss) else { continue };
            let mut all = Vec::new();
            rehearsal.each(|here| {
                let met = here.met();
                let (on, sums) = counted(&here.standing);
                assert_eq!((on, sums), counted(&met.whereabouts()), "without {}\n{text}", loss.words);
                assert_eq!(here.is_fallen_apart(), met.is_fallen_apart());
                told.iter_mut().zip(sums).for_each(|(told, sum)| *told += usize::from(sum > 0));
                if rehearsal.is_dead || sums[2] > 0 {
                    all.push((met.when, sums));
                }
                true
            });
            let mut changed = Vec::new();
            rehearsal.each_changed(|here| {
                changed.push((here.met().when, counted(&here.standing).1));
                true
            });
            assert_eq!(all, changed, "without {}\n{text}", loss.words);
        }
    }
    assert!(told.iter().all(|told| *told >= 100), "astray, deaf, lost, stations, before: {told:?}");
}

/// 1,000 channels, 5,000 members with a duty each in staggered shifts: no net is asked where no loss touches it, nor more often than its people change.
#[test]
fn a_large_plan_is_rehearsed_no_more_often_than_its_people_change() {
    let mut text = HEAD.to_owned() + &RADIO[..RADIO.find("[[repeater]]").unwrap()];
    for n in 0..1000 {
        writeln!(text, "[[channel]]\nid = \"c{n}\"\nrow = {}\nname = \"C {n}\"\nspoken = \"Channel {n}\"", n % 999 + 1)
            .unwrap();
        match n % 2 {
            0 => writeln!(text, "repeater = \"r{n}\"").unwrap(),
            _ => writeln!(text, "simplex = \"146.550 MHz\"\nverified = {{ on = 2026-10-04, by = \"qra\" }}").unwrap(),
        }
        if n % 2 == 0 {
            writeln!(
                text,
                "[[repeater]]\nid = \"r{n}\"\ncall = \"WZ7QUR\"\noutput = \"146.940 MHz\"\ninput = \"-600 kHz\""
            )
            .unwrap();
            writeln!(
                text,
                "tone-in = \"103.5 Hz\"\ntone-out = \"off\"\nverified = {{ on = 2026-10-04, by = \"qra\" }}"
            )
            .unwrap();
        }
    }
    for n in 0..40 {
        writeln!(text, "[[net]]\nid = \"n{n}\"\nname = \"Net {n}\"\nspoken = \"Net {n}\"\nprimary = \"c{}\"", n * 2)
            .unwrap();
        writeln!(text, "alternate = \"c{}\"\nrejoin = \"listen\"\ncontrol = \"p{n}\"", n * 2 + 1).unwrap();
    }
    for n in 0..200 {
        writeln!(text, "[[post]]\nid = \"p{n}\"\nname = \"Post {n}\"\nnets = [\"n{}\"]", n % 40).unwrap();
    }
    for n in 0..5000 {
        let radio = ["ht-2m", "ht-dual"][n % 2];
        writeln!(
            text,
            "[[member]]\nid = \"m{n}\"\nname = \"Member {n}\"\nradio = [\"{radio}\"]\nconfirmed = 2026-10-01"
        )
        .unwrap();
        let (hour, minute) = (n / 400, n % 60);
        writeln!(
            text,
            "[[duty]]\npost = \"p{}\"\nmember = \"m{n}\"\nfrom = \"2026-12-05 {hour:02}:{minute:02}\"",
            n % 200
        )
        .unwrap();
        writeln!(text, "to = \"2026-12-05 {:02}:{minute:02}\"", hour + 8).unwrap();
    }
    let plan = built(&text);
    assert_eq!((plan.channels.len(), plan.members.len(), plan.duties.len()), (1000, 5001, 5000));
    let tables = Tables::built_in();
    let known = FoundOnce::default();
    let rests_on =
        Eligibility { tables, profile: tables.profile("us").unwrap(), plan: &plan, day: None, known: &known };
    let staff = Staff::of(&plan);
    let (mut nets, mut stretches) = (0, 0);
    for loss in losses(&plan) {
        for net in plan.nets.iter() {
            let Some(rehearsal) = rehearse(rests_on, &staff, net, &loss) else { continue };
            nets += 1;
            rehearsal.each(|here| {
                stretches += usize::from(here.standing.was > 0);
                true
            });
        }
    }
    // Each net by its own repeater, and all of them by the mains.
    assert_eq!(nets, 80);
    // 125 duties a net begin and end once each: no more stretches than that.
    assert!((4000..80 * 250).contains(&stretches), "{stretches}");
}

/// What a rule says of a plan: line and message.
fn said(text: &str, rule: &str) -> Vec<(usize, String)> {
    let outcome = check_plan(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap();
    let of_rule = outcome.findings.iter().filter(|finding| finding.rule.name == rule);
    of_rule.map(|finding| (outcome.files.place(finding.span).unwrap().1, finding.message.clone())).collect()
}

/// The line of a text that has this in it.
fn line(text: &str, part: &str) -> usize {
    text.lines().position(|line| line.contains(part)).unwrap() + 1
}

fn duty(post: &str, member: &str, times: &str) -> String {
    let (from, to) = times.split_once(" to ").unwrap();
    format!("[[duty]]\npost = \"{post}\"\nmember = \"{member}\"\nfrom = \"{from}\"\nto = \"{to}\"\n")
}

#[test]
fn a_gap_is_said_to_the_minute_with_the_duties_around_it_and_what_to_type() {
    let before = duty("desk", "qsc", "2026-12-05 00:00 to 2026-12-05 06:00");
    let after = duty("desk", "qra", "2026-12-05 08:00 to 2026-12-06 00:00");
    let text = people() + RADIO + &before + &after;
    let outcome = check_plan(&Shelf::new().with("plan.toml", text.clone()), "plan.toml").unwrap();
    let finding = outcome.findings.iter().find(|finding| finding.rule.name == "post-unstaffed").unwrap();
    assert_eq!(finding.message, "from 2026-12-05 06:00 to 08:00 nobody stands at post desk");
    let at = |span| outcome.files.place(span).unwrap().1;
    assert_eq!(at(finding.span), line(&text, "to = \"2026-12-05 06:00\""));
    assert_eq!(
        finding.related.iter().map(|place| at(place.span)).collect::<Vec<_>>(),
        [line(&text, "from = \"2026-12-05 08:00\"")]
    );
    let help = finding.help.as_deref().unwrap();
    assert!(
        help.contains("`post = \"desk\"`, a `member` who is free then, rested, and may work its nets, as qsb (\"qsb\"), `from = \"2026-12-05 06:00\"` and `to = \"2026-12-05 08:00\"`"),
        "{help}"
    );
    // What the help says is right: the duty that it asks for leaves no gap, nor do the post's own hours.
    let filled = text.clone() + &duty("desk", "qsb", "2026-12-05 06:00 to 2026-12-05 08:00");
    assert_eq!(said(&filled, "post-unstaffed"), []);
    let closed = text.replace("name = \"desk\"\n", "name = \"desk\"\nfrom = \"2026-12-05 08:00\"\n");
    assert_eq!(said(&closed, "post-unstaffed"), []);
    // In an incident the edges count as well, to the minute, and a control post has a rule of its own.
    let incident = text + "[incident]\nname = \"Storm\"\nfrom = \"2026-12-04 23:00\"\nto = \"2026-12-06 00:30\"\n";
    let edges: Vec<String> = said(&incident, "post-unstaffed").into_iter().map(|(_, message)| message).collect();
    assert_eq!(
        edges,
        [
            "from 2026-12-04 23:00 to 2026-12-06 00:30 nobody stands at post gate",
            "from 2026-12-04 23:00 to 2026-12-06 00:30 nobody stands at post barn",
            "from 2026-12-04 23:00 to 2026-12-05 00:00 nobody stands at post desk",
            "from 2026-12-05 06:00 to 08:00 nobody stands at post desk",
            "from 2026-12-06 00:00 to 00:30 nobody stands at post desk",
        ]
    );
    let controlled = incident.replace("rejoin = ", "control = \"desk\"\nrejoin = ");
    assert!(said(&controlled, "post-unstaffed").iter().all(|(_, message)| !message.ends_with("desk")));
    assert_eq!(
        said(&controlled, "net-control-unstaffed")[0].1,
        "from 2026-12-04 23:00 to 2026-12-05 00:00 nobody stands at post desk, which controls The net"
    );
}

#[test]
fn what_a_post_cannot_do_is_said_once_a_shift_over_all_its_nets() {
    // qsb has two meters alone, and the second net's channels are on 70 cm; from 18:15 on qsd, without a licence, is alone.
    let more = r#"
[[channel]]
id = "c"
row = 3
name = "C"
spoken = "Charlie"
simplex = "446.100 MHz"
verified = { on = 2026-10-04, by = "qra" }
[[net]]
id = "m"
name = "Other net"
spoken = "Other Net"
primary = "c"
control = "desk"
[[post]]
id = "tower"
name = "tower"
nets = ["n"]
"#;
    let duties = duty("desk", "qsb", "2026-12-05 06:00 to 2026-12-05 18:15")
        + &duty("desk", "qsd", "2026-12-05 18:00 to 2026-12-06 06:00")
        + &duty("tower", "qsc", "2026-12-05 06:00 to 2026-12-06 06:00");
    let text = people() + RADIO + more + &duties;
    assert_eq!(
        said(&text, "no-radio-for-duty"),
        [(
            text.lines().count() - duties.lines().count() + line(&duties, "member = \"qsb\""),
            "from 2026-12-05 06:00 to 18:00 nobody at desk (qsb) has a radio for C, B of Other net, The net: FM on 446.100 MHz".to_owned()
        )]
    );
    assert_eq!(
        said(&text, "nobody-may-use").into_iter().map(|(_, message)| message).collect::<Vec<_>>(),
        ["from 2026-12-05 18:15 to 2026-12-06 06:00 nobody at desk (qsd) may send on C, A, B of Other net, The net"]
    );
    // The same cause is no second finding of the rehearsal.
    assert_eq!(said(&text, "net-does-not-rejoin"), []);
}

/// One station of three is a fault of the plan, said and printed in strong words; one of two has nobody to meet, whatever cards say: that is
/// neither found nor cried out.
#[test]
fn one_of_three_posts_does_not_meet_and_one_of_two_has_nobody_to_meet() {
    // The repeater stands in the barn, and so does qsc, for the second half with qsb; qsa is at the desk. Without the barn one is left.
    let loft = "[[post]]\nid = \"loft\"\nname = \"loft\"\nplace = \"barn\"\nnets = [\"n\"]\n";
    let two = duty("desk", "qsa", "2026-12-05 06:00 to 2026-12-05 18:00")
        + &duty("barn", "qsc", "2026-12-05 06:00 to 2026-12-05 18:00");
    let text = people() + RADIO + loft + &two;
    assert_eq!(said(&text, "net-does-not-rejoin"), []);
    let at_barn =
        |text: &str| -> Vec<String> { report(text).into_iter().filter(|row| row.starts_with("all at barn")).collect() };
    let able = |text: &str| text.replace("class = \"none\"", "class = \"technician\"\nexpires = 2030-04-01");
    let left = "all at barn | B | The net loses qsc; one post is left.";
    assert_eq!(at_barn(&able(&text)), [left]);
    let three = text + &duty("loft", "qra", "2026-12-05 12:00 to 2026-12-05 18:00");
    let found = said(&three, "net-does-not-rejoin");
    let message = "without all at barn, The net from 2026-12-05 12:00 to 18:00 does not come together: only qsa is on B; lost with the place: Ines Varga, qsc";
    assert_eq!(found, [(line(&three, "primary = \"a\""), message.to_owned())]);
    assert_eq!(
        at_barn(&able(&three)),
        [
            "all at barn | B | The net, 2026-12-05 06:00 to 12:00: lost with it: qsc; one post is left. 2026-12-05 12:00 to 18:00: does not meet: one post alone on B; lost with it: Ines Varga, qsc."
        ]
    );
    // The same where the repeater lives elsewhere, and only the people are lost.
    let lives = three.replacen("place = \"barn\"\noutput", "output", 1);
    assert_ne!(lives, three);
    assert_eq!(
        said(&lives, "net-does-not-rejoin")[0].1,
        "without all at barn, The net from 2026-12-05 12:00 to 18:00 does not come together: only qsa is on A; lost with the place: Ines Varga, qsc"
    );
}

#[test]
fn all_people_of_a_net_at_one_place_are_lost_with_it() {
    // The repeater elsewhere lives.
    let one_place = duty("desk", "qsa", "2026-12-05 06:00 to 2026-12-05 18:00")
        + &duty("gate", "qsc", "2026-12-05 06:00 to 2026-12-05 18:00");
    assert_eq!(
        said(&(people() + RADIO + &one_place), "net-does-not-rejoin")[0].1,
        "without all at hall, The net from 2026-12-05 06:00 to 18:00 has nobody left; lost with the place: qsa, qsc"
    );
}

/// A gap is told though a channel, a member and a repeater are faulty; not where a post or a duty is, which might fill it.
#[test]
fn a_gap_is_told_though_other_records_are_faulty() {
    let stood = duty("desk", "qsc", "2026-12-05 00:00 to 2026-12-05 06:00")
        + &duty("desk", "qra", "2026-12-05 08:00 to 2026-12-05 12:00");
    let text = people() + RADIO + &stood;
    let gap = "from 2026-12-05 06:00 to 08:00 nobody stands at post desk";
    let told = |text: &str| said(text, "post-unstaffed").into_iter().map(|(_, message)| message).collect::<Vec<_>>();
    for (from, to) in [
        ("output = \"146.940 MHz\"", "output = \"146.940\""),
        ("simplex = \"446.050 MHz\"", "simplex = \"446.050 MHz\"\nfoo = 1"),
        ("id = \"qsd\"", "id = \"qs d\""),
        ("covers = [\"144 MHz to 148 MHz\"]", "covers = [\"144 MHz\"]"),
    ] {
        assert_eq!(told(&text.replacen(from, to, 1)), [gap], "{to}");
    }
    for (from, to) in [
        ("from = \"2026-12-05 08:00\"", "from = \"2026-12-05 8\""),
        ("id = \"barn\"\nname", "id = \"ba rn\"\nname"),
        ("[[duty]]", "[[dutty]]"),
        ("post = \"desk\"", "post = \"dusk\""),
        ("time-zone = \"America/Denver\"", "time-zone = \"Denver\""),
        ("covers = [\"144 MHz to 148 MHz\"]", "covers = [\"144 MHz"),
    ] {
        let faulty = text.replacen(from, to, 1);
        assert_ne!(faulty, text);
        assert_eq!(told(&faulty), [""; 0], "{to}");
    }
}

/// qsb and qsc alone work the net, and the licence of qsb ends at midnight in the middle of the night's shift.
#[test]
fn who_may_send_is_asked_for_the_day_of_the_duty() {
    let plan = |expires: &str| {
        let duties = duty("desk", "qsb", "2026-12-04 20:00 to 2026-12-05 06:00")
            + &duty("barn", "qsc", "2026-12-04 20:00 to 2026-12-05 06:00");
        let own = format!("call = \"WZ7QSB\"\nexpires = {expires}\n");
        (people() + RADIO + &duties).replacen("call = \"WZ7QSB\"\nexpires = 2030-04-01\n", &own, 1)
    };
    let text = plan("2026-12-04");
    let at = text.lines().position(|line| line == "member = \"qsb\"").unwrap() + 1;
    assert_eq!(
        said(&text, "nobody-may-use"),
        [(at, "from 2026-12-05 00:00 to 06:00 nobody at desk (qsb) may send on A, B of The net".to_owned())]
    );
    assert_eq!(
        said(&text, "authority-ends-before-duty"),
        [(
            at,
            "the licence of qsb ends on 2026-12-04, and qsb has duty at desk from 2026-12-04 20:00 to 2026-12-05 06:00"
                .to_owned()
        )]
    );
    assert!(said(&plan("2026-12-05"), "nobody-may-use").is_empty());
    assert!(said(&plan("2026-12-05"), "authority-ends-before-duty").is_empty());
    // With a licensed member beside the post's own the paper is printed, and the rehearsal has qsb listen from midnight on.
    let beside = plan("2026-12-04") + &duty("desk", "qra", "2026-12-04 20:00 to 2026-12-05 06:00");
    let at_hill: Vec<String> = report(&beside).into_iter().filter(|row| row.starts_with("repeater Hill")).collect();
    assert_eq!(at_hill, ["repeater Hill | B | The net, 2026-12-05 00:00 to 06:00: only listening: qsb.",]);
}

/// The card of a holder without a radio for B leads on: "B: not in your radio", then C after both waits. So does the rehearsal where B is dead.
#[test]
fn a_dead_channel_that_the_own_radio_lacks_is_passed_over() {
    let seventy = "[[repeater]]\nid = \"barn-70\"\ncall = \"WZ7QUS\"\nplace = \"barn\"\noutput = \"444.300 MHz\"\ninput = \"+5 MHz\"\n\
                   tone-in = \"103.5 Hz\"\ntone-out = \"off\"\nverified = { on = 2026-10-04, by = \"qra\" }\n";
    let third = "[[channel]]\nid = \"c\"\nrow = 3\nname = \"C\"\nspoken = \"Charlie\"\nsimplex = \"146.550 MHz\"\n\
                 verified = { on = 2026-10-04, by = \"qra\" }\n";
    let radio = RADIO.replacen("simplex = \"446.050 MHz\"", "repeater = \"barn-70\"\nnext = \"c\"", 1);
    let duties = duty("desk", "qsb", "2026-12-05 06:00 to 2026-12-05 18:00")
        + &duty("gate", "qra", "2026-12-05 06:00 to 2026-12-05 18:00")
        + &duty("barn", "qsc", "2026-12-05 06:00 to 2026-12-05 18:00");
    let text = people() + &radio + seventy + third + &duties;
    let rows = report(&text);
    let at_barn = rows.iter().find(|row| row.starts_with("all at barn")).unwrap();
    assert_eq!(at_barn, "all at barn | C | The net loses qsc.", "{rows:#?}");
    // While B lives the net is there, and one without a radio for it is not with it.
    let at_hill = rows.iter().find(|row| row.starts_with("repeater Hill")).unwrap();
    let missing = "repeater Hill | B | The net, 2026-12-05 06:00 to 18:00: qsb has no radio for B.";
    assert_eq!(at_hill, missing, "{rows:#?}");
}

/// The rows of the rehearsal report: what is lost, where each net meets, and what is said below the row.
fn report(text: &str) -> Vec<String> {
    let mut rows = Vec::new();
    for block in blocks(text, "rehearsal-report") {
        if let Block::Matrix(matrix) = block {
            for row in matrix.rows {
                let cells = row.cells.into_iter().map(|cell| match cell {
                    MatrixCell::Words(words) => words,
                    MatrixCell::Sign(sign) => panic!("{sign:?}"),
                });
                let all = row.head.into_iter().chain(cells).chain(row.notes);
                let words: Vec<String> = all.map(|text| text.words().replace('\u{a0}', " ")).collect();
                rows.push(words.join(" | "));
            }
        }
    }
    rows
}

/// What a document of a kind holds.
fn blocks(text: &str, kind: &str) -> Vec<Block> {
    let text = format!("{text}[[document]]\nid = \"r\"\nkind = \"{kind}\"\naudience = \"leads\"\n");
    let shelf = Shelf::new().with("plan.toml", text);
    let mut found = Findings::default();
    let mut records = source::read(&shelf, "plan.toml", &mut found).unwrap();
    let plan = plan::build(&shelf, &mut records, &mut found);
    let profile = Tables::built_in().profile("us").cloned();
    let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found).expect("a plan without error");
    let tasks = compose::tasks(checked.plan(), checked.profile(), &mut found);
    let document = compose::shared_document(&checked, &tasks[0], None);
    document.sections.into_iter().flat_map(|section| section.blocks).collect()
}

#[test]
fn the_report_has_a_row_for_each_stretch_of_time_and_never_calls_an_unnamed_net_present() {
    let duties = duty("desk", "qsa", "2026-12-05 06:00 to 2026-12-05 18:00")
        + &duty("gate", "qsb", "2026-12-05 06:00 to 2026-12-05 12:00")
        + &duty("barn", "qsc", "2026-12-05 06:00 to 2026-12-05 12:00")
        + &duty("barn", "qra", "2026-12-05 13:00 to 2026-12-05 18:00");
    let unnamed = "[[net]]\nid = \"o\"\nname = \"Open net\"\nspoken = \"Open Net\"\nprimary = \"a\"\nrejoin = \"no\"\nalternate = \"b\"\n";
    let text = people() + RADIO + unnamed + &duties;
    let text = text.replace("class = \"none\"", "class = \"technician\"\nexpires = 2030-04-01");
    assert_eq!(
        report(&text),
        [
            "repeater Hill | B | B | The net, 2026-12-05 06:00 to 12:00: qsb has no radio for B; on B together with Open net, 3 posts in all. 2026-12-05 12:00 to 18:00: on B together with Open net, 3 posts in all. | Open net: its people are not named; on B together with The net, 3 posts in all.",
            "all at barn | B | B | The net, 2026-12-05 06:00 to 12:00: does not meet: one post alone on B; qsb has no radio for B; lost with it: qsc; on B together with Open net, 3 posts in all. 2026-12-05 12:00 to 13:00: on B together with Open net, 3 posts in all. 2026-12-05 13:00 to 18:00: lost with it: Ines Varga; on B together with Open net, 3 posts in all; one post is left. | Open net: its people are not named; on B together with The net, 3 posts in all.",
            "all at hall | A, or nobody left | stays | The net, 2026-12-05 06:00 to 12:00: does not meet: one post alone on A; lost with it: qsa, qsb; on A together with Open net, 3 posts in all. 2026-12-05 12:00 to 13:00: lost with it: qsa. 2026-12-05 13:00 to 18:00: lost with it: qsa; on A together with Open net, 3 posts in all; one post is left.",
        ]
    );
}

/// What a card prints of its first net: when it moves on in the grid, and what stands in words.
fn panel(text: &str) -> (String, Vec<String>) {
    let blocks = blocks(text, "channel-card");
    let plain = |text: &Text| text.words().replace('\u{a0}', " ");
    let change = blocks.iter().find_map(|block| match block {
        Block::Table(table) if table.key == "nets" => table.rows[0].cell("change").map(|cell| plain(&cell.text)),
        _ => None,
    });
    let words = blocks.iter().find_map(|block| match block {
        Block::Paragraph(paragraph) => plain(&paragraph.text).strip_prefix("The: ").map(str::to_owned),
        _ => None,
    });
    (change.unwrap_or_default(), words.unwrap().split("; ").map(str::to_owned).collect())
}

const MOVING: &str = r#"
[[radio]]
id = "ht-2m"
name = "Two meters"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "5 W"
[[radio]]
id = "ht-dual"
name = "Two bands"
covers = ["144 MHz to 148 MHz", "420 MHz to 450 MHz"]
modes = ["FM"]
power = "5 W"
[[channel]]
id = "a"
row = 1
name = "A"
spoken = "Alpha"
simplex = "146.550 MHz"
next = "b"
after = "2 min"
verified = { on = 2026-10-04, by = "qra" }
[[channel]]
id = "b"
row = 2
name = "B"
spoken = "Bravo"
simplex = "146.430 MHz"
verified = { on = 2026-10-04, by = "qra" }
[[channel]]
id = "c"
row = 3
name = "C"
spoken = "Charlie"
simplex = "147.570 MHz"
verified = { on = 2026-10-04, by = "qra" }
[[net]]
id = "n"
name = "The net"
spoken = "The net"
primary = "a"
alternate = "b"
contingency = "c"
trigger = "no answer for 5 minutes"
rejoin = "5 minutes on A at each full hour"
control = "desk"
"#;

#[test]
fn of_two_texts_about_moving_on_the_row_counts_and_is_printed() {
    let agreed = people() + MOVING;
    let agreed = agreed.replace("nets = [\"n\"]\n", "").replace("5 minutes\"", "2 minutes\"");
    assert_eq!(said(&agreed, "trigger-contradicts-row"), []);
    let usual = ["if all fail, 5 minutes on A at each full hour", "control desk, at hall"].map(str::to_owned);
    let printed = |moving: Option<&str>| {
        let words: Vec<String> = moving.map(str::to_owned).into_iter().chain(usual.clone()).collect();
        ("2 min".to_owned(), words)
    };
    // The time stands in the grid: the same words are not said again.
    assert_eq!(panel(&agreed), printed(None));

    let later = agreed.replace("for 2 minutes", "for 5 minutes");
    let outcome = check_plan(&Shelf::new().with("plan.toml", later.clone()), "plan.toml").unwrap();
    let finding = outcome.findings.iter().find(|finding| finding.rule.name == "trigger-contradicts-row").unwrap();
    let at = |span| outcome.files.place(span).unwrap().1;
    assert_eq!(
        finding.message,
        "the row of A moves on after 2 min, but The net after 5 min: \"no answer for 5 minutes\""
    );
    assert_eq!((at(finding.span), at(finding.related[0].span)), (line(&later, "trigger = "), line(&later, "after = ")));
    assert_eq!(finding.help.as_deref(), Some("write `after = \"5 min\"` in the row, or 2 min in the trigger"));
    assert_eq!(panel(&later), printed(Some("move on: no answer on A for 2 min")));
    assert_eq!(said(&later.replace("\"2 min\"", "\"5 min\""), "trigger-contradicts-row"), []);

    let timeless = agreed.replace("no answer for 2 minutes", "two calls in vain");
    assert_eq!(
        said(&timeless, "trigger-contradicts-row"),
        [(
            line(&timeless, "trigger = "),
            "the row of A moves on after 2 min, but The net at \"two calls in vain\", which names no time".to_owned()
        )]
    );
    let mended = timeless.replace("two calls in vain", "two calls in vain, or no answer for 2 min");
    assert_eq!(said(&mended, "trigger-contradicts-row"), []);

    let elsewhere = agreed.replace("next = \"b\"", "next = \"c\"");
    assert_eq!(panel(&elsewhere), printed(Some("move on: from A to C, as its row says")));
}

#[test]
fn behind_the_last_channel_something_is_said() {
    let silent = (people() + MOVING).replace("rejoin", "# rejoin");
    assert_eq!(
        said(&silent, "last-channel-leads-nowhere"),
        [(
            line(&silent, "contingency = "),
            "The net ends on C: nothing says where to listen, or when, if nobody answers there".to_owned()
        )]
    );
    let back = silent.replace("name = \"C\"\n", "name = \"C\"\nnext = \"a\"\n");
    assert_eq!(said(&back, "last-channel-leads-nowhere"), []);
}

#[test]
fn net_control_that_no_sheet_lets_one_reach_is_said() {
    // qsd has no call sign, and a number for the leads alone.
    let phone =
        "id = \"qsd\"\nphone = [{ number = \"+1 406 555 0131\", audience = \"leads\", confirmed = 2026-10-01 }]\n";
    let text =
        people().replace("id = \"qsd\"\n", phone).replace("name = \"desk\"\nplace = \"hall\"", "name = \"desk\"");
    let text = text + MOVING + &duty("desk", "qsd", "2026-12-05 06:00 to 2026-12-05 18:00");
    let sheet =
        |audience| format!("{text}[[document]]\nid = \"s\"\nkind = \"contact-card\"\naudience = \"{audience}\"\n");
    let message = "no sheet says how to reach desk, which controls The net: it has no place, and nobody with a call sign or phone on a sheet stands there";
    assert_eq!(said(&sheet("team"), "net-control-unreachable"), [(line(&text, "control = "), message.to_owned())]);
    assert_eq!(said(&sheet("leads"), "net-control-unreachable"), []);
}

#[test]
fn a_time_that_clocks_show_twice_or_never_is_said_with_its_zone() {
    let text = people() + MOVING + &duty("gate", "qsb", "2027-03-14 02:30 to 2027-11-07 01:15");
    assert_eq!(
        said(&text, "local-time-unclear"),
        [
            (line(&text, "from = \"2027"), "clocks in America/Denver show 2027-03-14 02:30 never".to_owned()),
            (line(&text, "to = \"2027"), "clocks in America/Denver show 2027-11-07 01:15 twice".to_owned()),
        ]
    );
}
