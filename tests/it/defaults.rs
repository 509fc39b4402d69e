//! `[defaults.channel]`: what counts in the records of a file, by value.

use crate::support::around::{findings, plan_around};
use crate::support::shelf::Shelf;
use fieldsheaf::ground::Findings;
use fieldsheaf::{plan, source};

fn plan_of(world: &Shelf) -> plan::Plan {
    let mut found = Findings::default();
    let mut records = source::read(world, "plan.toml", &mut found).unwrap();
    plan::build(world, &mut records, &mut found)
}

const DEFAULTS: &str = r#"
[defaults.channel]
service = "murs"
power = "1 W"
verified = { on = 2026-10-01, by = "qra" }
"#;

const CHANNELS: &str = r#"
[[channel]]
id = "one"
row = 2
name = "ONE"
spoken = "One"
simplex = "151.820 MHz"
width = "narrow"
[[channel]]
id = "two"
row = 3
name = "TWO"
spoken = "Two"
simplex = "151.880 MHz"
width = "narrow"
power = "500 mW"
[[channel]]
id = "three"
row = 4
name = "THREE"
spoken = "Three"
standard = "GMRS 15"
"#;

#[test]
fn what_a_record_says_itself_comes_first_then_what_is_published_then_the_defaults() {
    let plan = plan_of(&plan_around(&format!("{DEFAULTS}{CHANNELS}")));
    let told: Vec<(&str, String, &str)> = plan
        .channels
        .iter()
        .map(|channel| {
            let power = channel.power.as_ref().map_or_else(String::new, |power| power.value.to_string());
            (channel.id.value.as_str(), power, channel.service.value.id.as_str())
        })
        .collect();
    let wanted = [("one", "1 W", "murs"), ("three", "1 W", "gmrs"), ("two", "0.5 W", "murs")];
    assert_eq!(told, wanted.map(|(id, power, service)| (id, power.to_owned(), service)));
}

/// Each line that is wrong: the rule, and what the finding says.
#[test]
fn what_cannot_be_a_default_is_told_where_it_stands() {
    for (wrong, rule, words) in [
        ("[defaults]\nchannel = 5", "bad-value", "a table of keys"),
        ("[defaults.chanel]\npower = \"5 W\"", "bad-value", "`chanel` is no kind of record of which a plan has many"),
        ("[defaults.edition]\nnumber = 3", "bad-value", "`edition` is no kind of record"),
        ("[defaults.place]\nname = \"Here\"", "defaults-of-nothing", "no [[place]] is written in it"),
        ("[defaults.channel]\npwoer = \"5 W\"", "unknown-key", "unknown key `pwoer`"),
    ] {
        let example = if wrong.contains("pwoer") { format!("{wrong}{CHANNELS}") } else { wrong.to_owned() };
        let (files, found) = findings(&plan_around(&example));
        let ours: Vec<_> = found.iter().filter(|finding| finding.rule.name == rule).collect();
        assert!(!ours.is_empty(), "{wrong}: {:?}", found.iter().map(|f| (f.rule.name, &f.message)).collect::<Vec<_>>());
        assert!(ours.iter().any(|finding| finding.message.contains(words)), "{wrong}: {}", ours[0].message);
        assert_eq!(
            files.place(ours[0].span).map(|(name, line, _)| (name, line <= 2)),
            Some(("example.toml", true)),
            "{wrong}"
        );
    }
}

#[test]
fn defaults_larger_than_are_taken_are_refused_with_the_cap() {
    let long = "x".repeat(3000);
    let (_, found) = findings(&plan_around(&format!("[defaults.channel]\nnotes = \"{long}\"{CHANNELS}")));
    let refused: Vec<&str> =
        found.iter().map(|f| f.message.as_str()).filter(|m| m.contains("2048 are taken")).collect();
    assert_eq!(refused.len(), 1, "{:?}", found.iter().map(|f| &f.message).collect::<Vec<_>>());
}
