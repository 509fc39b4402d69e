//! Frequencies from a pool: found where they are known to exist, the conflict named where they cannot, and the files otherwise untouched.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::checks::{Allotment, Allotted};
use std::fmt::Write;

/// A pool of `holes` frequencies that do not overlap, from 146.410 MHz in steps of 20 kHz without the calling frequency's neighbours.
fn pool(holes: usize) -> Vec<String> {
    let free = (0..).map(|n| 146_410 + 20 * n).filter(|khz: &i32| (khz - 146_520).abs() >= 20);
    free.take(holes).map(|khz| format!("{}.{:03} MHz", khz / 1000, khz % 1000)).collect()
}

/// A county in which `wishes` channels all meet and `taken` of the pool's frequencies are fixed.
fn county(wishes: usize, holes: usize, taken: usize) -> String {
    let pool = pool(holes);
    let mut text = HEAD.to_owned();
    writeln!(text, "[[pool]]\nid = \"simplex\"\nfrequencies = {pool:?}").unwrap();
    for index in 0..wishes + taken {
        let names =
            ["Alfa", "Bison", "Cedar", "Dingo", "Ember", "Fjord", "Gravel", "Heron", "Iron", "Jolly", "Kilo", "Lemon"];
        writeln!(
            text,
            "[[channel]]\nid = \"c-{index}\"\nrow = {}\nname = \"C {index}\"\nspoken = \"{}\"",
            index + 1,
            names[index]
        )
        .unwrap();
        match index.checked_sub(wishes) {
            Some(fixed) => writeln!(text, "simplex = \"{}\"", pool[holes - 1 - fixed]).unwrap(),
            None => writeln!(text, "simplex = \"allot\"   # to be chosen\npool = \"simplex\"").unwrap(),
        }
        writeln!(text, "verified = {{ on = 2026-10-01, by = \"qra\" }}").unwrap();
    }
    text
}

fn proposed(text: &str) -> (fieldsheaf::Proposal, Option<Allotment>) {
    let mut proposal = fieldsheaf::allot(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap();
    let allotment = proposal.allotment.take();
    (proposal, allotment)
}

fn written(proposal: &fieldsheaf::Proposal, channels: &[Allotted]) -> String {
    let texts = fieldsheaf::checks::allotted_texts(&proposal.outcome.files, channels);
    assert_eq!(texts.len(), 1);
    texts.into_iter().next().unwrap().1
}

#[test]
fn twenty_counties_with_a_known_answer_get_one_without_error_or_overlap() {
    let mut tried = 0;
    // As many frequencies as channels: there is an answer by counting, and none to spare.
    for (wishes, taken) in
        (2..=7).flat_map(|wishes| (0..=3).map(move |taken| (wishes, taken))).filter(|(w, t)| w + t <= 8)
    {
        let text = county(wishes, wishes + taken, taken);
        let (proposal, allotment) = proposed(&text);
        let Some(Allotment::Found { channels, is_best }) = allotment else { panic!("{wishes} and {taken}") };
        assert_eq!(channels.len(), wishes);
        let text = written(&proposal, &channels);
        let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap();
        let found: Vec<&str> = outcome.findings.iter().map(|finding| finding.rule.name).collect();
        assert_eq!(found, Vec::<&str>::new(), "{wishes} and {taken}");
        assert!(is_best);
        tried += 1;
    }
    assert!(tried >= 20, "{tried}");
}

#[test]
fn too_few_frequencies_are_proved_and_named() {
    for wishes in 2..=6 {
        let (_, allotment) = proposed(&county(wishes, wishes - 1, 0));
        let Some(Allotment::Nothing { why, is_proved }) = allotment else { panic!("{wishes} into {}", wishes - 1) };
        assert!(is_proved && why.contains("can meet C 0"), "{why}");
    }
    // A pool outside the band is ruled out by name.
    let outside = county(2, 2, 0).replace("146.410 MHz", "148.410 MHz").replace("146.430 MHz", "148.430 MHz");
    let (_, allotment) = proposed(&outside);
    let Some(Allotment::Nothing { why, is_proved: true }) = allotment else { panic!("outside") };
    assert!(why.contains("transmit-leaves-band"), "{why}");
}

/// 2 x 146.430 - 146.550 and the like: of two frequencies the one without a product on the site's receiver is taken.
#[test]
fn a_product_at_a_site_decides_between_two_frequencies() {
    let text = HEAD.to_owned()
        + r#"[[pool]]
id = "simplex"
frequencies = ["146.430 MHz", "147.570 MHz"]
[[place]]
id = "hq"
code = "HQX"
tactical = "Headquarters"
kind = "operations-centre"
visited-on = 2026-10-01
monitors = ["tac"]
other = [{ name = "Pager", sends = "152.480 MHz" }, { name = "Works", hears = "158.530 MHz" }]
[[channel]]
id = "tac"
row = 1
name = "TAC"
spoken = "Tactical"
simplex = "allot"
pool = "simplex"
verified = { on = 2026-10-01, by = "qra" }
"#;
    let (_, allotment) = proposed(&text);
    let Some(Allotment::Found { channels, is_best: true }) = allotment else { panic!("there is one") };
    // 2 x 152.480 - 146.430 = 158.530 falls on the works' receiver.
    assert_eq!(channels[0].frequency.to_string(), "147.570 MHz");
}

/// Two narrow channels 12.5 kHz apart do not overlap, but the band's spacing is 15 kHz: they are not chosen together.
#[test]
fn two_of_one_choice_do_not_lie_side_by_side_where_they_need_not() {
    let narrow = |text: String| {
        let pool = "[\"146.5500 MHz\", \"146.5625 MHz\", \"146.5800 MHz\"]";
        let text = text.replace(&format!("{:?}", self::pool(3)), pool);
        text.replace("pool = \"simplex\"\n", "pool = \"simplex\"\nwidth = \"narrow\"\n")
    };
    let (_, allotment) = proposed(&narrow(county(2, 3, 0)));
    let Some(Allotment::Found { channels, is_best: true }) = allotment else { panic!("there is one") };
    let apart = (channels[0].frequency - channels[1].frequency).size();
    assert!(apart >= 15_000, "{apart} Hz apart");
    // Three need all three: it is said that this is the best there is.
    let (_, allotment) = proposed(&narrow(county(3, 3, 0)));
    assert!(matches!(allotment, Some(Allotment::Found { is_best: true, .. })));
}

#[test]
fn nothing_but_the_word_changes_in_the_file() {
    let text = county(3, 4, 1);
    let (proposal, allotment) = proposed(&text);
    let Some(Allotment::Found { channels, .. }) = allotment else { panic!("there is one") };
    let changed = written(&proposal, &channels);
    let differing: Vec<(&str, &str)> = text.lines().zip(changed.lines()).filter(|(old, new)| old != new).collect();
    assert_eq!(differing.len(), 3);
    for (old, new) in differing {
        assert_eq!(old, "simplex = \"allot\"   # to be chosen");
        assert!(new.starts_with("simplex = \"146.") && new.ends_with("MHz\"   # to be chosen"), "{new}");
    }
    assert_eq!(text.lines().count(), changed.lines().count());
}

/// A pool that begins at 1 Hz: what a signal cannot occupy, or no rule can judge, is never proposed.
#[test]
fn nothing_is_proposed_that_no_rule_can_judge() {
    let with = |pool: &str, more: &str| {
        format!(
            "{HEAD}[[pool]]\nid = \"simplex\"\n{pool}\n[[channel]]\nid = \"tac\"\nrow = 1\nname = \"TAC\"\nspoken = \"Tactical\"\nsimplex = \"allot\"\npool = \"simplex\"\n{more}verified = {{ on = 2026-10-01, by = \"qra\" }}\n"
        )
    };
    let (_, allotment) = proposed(&with("stretch = \"1 Hz to 10 kHz\"\nstep = \"10 Hz\"", ""));
    let Some(Allotment::Nothing { why, is_proved: true }) = allotment else { panic!("{allotment:?}") };
    assert_eq!(why, "no frequency of its pool is open to TAC: signal-leaves-radio, transmit-leaves-band");
    let (_, allotment) = proposed(&with("frequencies = [\"1 Hz\", \"7 kHz\", \"146.430 MHz\", \"300 GHz\"]", ""));
    let Some(Allotment::Found { channels, .. }) = allotment else { panic!("{allotment:?}") };
    assert_eq!((channels[0].frequency.to_string().as_str(), channels[0].open), ("146.430 MHz", 1));
    assert_eq!(channels[0].ruled_out, [("signal-leaves-radio", 3)].into());
    // A stretch that is cut short in silence would propose from its lower end alone.
    let (proposal, allotment) = proposed(&with("stretch = \"1 Hz to 148 MHz\"\nstep = \"5 kHz\"", ""));
    assert!(allotment.is_none());
    let said: Vec<&str> = proposal.outcome.findings.iter().map(|finding| finding.message.as_str()).collect();
    assert!(said.contains(&"a stretch of 29600 steps; 2000 are the most that a pool may have"), "{said:?}");
}

/// What the team's own people may not send on is no frequency for their net.
#[test]
fn a_frequency_that_nobody_of_the_team_may_use_is_not_proposed() {
    let text = format!("{HEAD}[[pool]]\nid = \"hf\"\nfrequencies = [\"29.660 MHz\", \"52.550 MHz\"]\n[[channel]]\nid = \"tac\"\nrow = 1\nname = \"TAC\"\nspoken = \"Tactical\"\nsimplex = \"allot\"\npool = \"hf\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n[[net]]\nid = \"local\"\nname = \"Local\"\nspoken = \"Local\"\nprimary = \"tac\"\n")
        .replace("\"extra\"", "\"technician\"");
    let (proposal, allotment) = proposed(&text);
    let Some(Allotment::Found { channels, .. }) = allotment else {
        panic!("{allotment:?} {:?}", proposal.outcome.findings)
    };
    assert_eq!(channels[0].frequency.to_string(), "52.550 MHz");
}

/// Many channels that stand in each other's way are counted, not all named; a rule that warns ten times is named once.
#[test]
fn what_is_said_is_bounded() {
    let (_, allotment) = proposed(&county(11, 10, 0));
    let Some(Allotment::Nothing { why, .. }) = allotment else { panic!("eleven into ten") };
    assert!(why.contains("C 5, 4 more on the air"), "{why}");
}
