//! Five hundred plans on every format, both papers and all variants: the promises of the paper, counted.

use crate::support::every::{made_of, order};
use crate::support::geometry::{judge, judge_sheets, runs};
use crate::support::shelf::{Shelf, head};
use fieldsheaf::compose::block::Role;
use fieldsheaf::compose::{KINDS, Kind};
use fieldsheaf::typeset::layout_names as names;
use rayon::iter::{IntoParallelIterator, ParallelIterator};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::io::Write as _;
use std::sync::LazyLock;

const PLANS: usize = 500;

/// Numbers that look random and are the same on every run: Knuth's MMIX generator.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % limit
    }

    fn pick<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.below(words.len())]
    }
}

/// A head with long words, and a phone.
fn long_head() -> String {
    let title = ("Example plan", "A plan with a title as long as committees like them");
    let phone = "phone = [{ number = \"+1 406 555 0101\", audience = \"team\", confirmed = 2026-10-01 }]\n";
    head(&[title, ("number = 7", "number = 12")]) + phone
}

/// Every kind with the layouts on which twenty channels can be set; those of a team are below.
static SETS: LazyLock<Vec<(&'static Kind, Vec<&'static str>)>> = LazyLock::new(|| {
    let mut plan = long_head();
    let mut dice = Dice(1);
    (0..20).for_each(|index| channel(&mut plan, index, &mut dice));
    plan.push_str(NET);
    let is_set = |kind: &Kind, layout: &str| {
        let made_of = made_of(kind);
        let text = format!("{plan}{made_of}{}", order(kind, "d", "team", &format!("layout = \"{layout}\"\n")));
        let outcome = fieldsheaf::check(&world(text), "plan.toml").unwrap();
        outcome.findings.errors() == 0
    };
    let layouts = || names().chain(["columns.toml", "both.toml"]);
    KINDS.iter().map(|kind| (*kind, layouts().filter(|layout| is_set(kind, layout)).collect())).collect()
});

const NET: &str = "[[net]]\nid = \"n\"\nname = \"Net\"\nspoken = \"Net\"\nprimary = \"c0\"\npurpose = \"Everything\"\n";

fn world(plan: String) -> Shelf {
    Shelf::new().with("plan.toml", plan).with("columns.toml", COLUMNS).with("both.toml", BOTH)
}

const COLUMNS: &str = "base = \"full\"\ncolumns = 2\norder = [\"nets\"]\nduplex = \"long-edge\"\n";
const BOTH: &str = "base = \"card\"\nduplex = \"short-edge\"\n";

/// The name of a channel: most in Latin letters, some read from right to left.
fn called(index: usize) -> String {
    match index % 11 {
        5 => format!("אות {index}"),
        8 => format!("قناة {index}"),
        _ => format!("CH {index}"),
    }
}

fn channel(text: &mut String, index: usize, dice: &mut Dice) {
    let long = ["", " and the Wide River Valley", " Elementary", " North"];
    let way = match dice.below(4) {
        0 => {
            let hundreds_of_hertz = 1_464_000 + dice.below(200) * 75;
            let (megahertz, rest) = (hundreds_of_hertz / 10_000, hundreds_of_hertz % 10_000);
            format!("simplex = \"{megahertz}.{rest:04} MHz\"\ntx-tone = \"100.0 Hz\"")
        }
        1 => format!("dial = \"{}.0 kHz\"\nside = \"LSB\"\npower = \"100 W\"", 7180 + dice.below(110)),
        2 => "rx = \"162.4000 MHz\"\ntx = \"none\"\nservice = \"weather\"\nrx-tone = \"156.7 Hz\"".to_owned(),
        _ => format!(
            "rx = \"444.{0:04} MHz\"\ntx = \"449.{0:04} MHz\"\ntx-tone = \"DCS 023 normal\"\nrx-tone = \"123.0 Hz\"",
            dice.below(390) * 25
        ),
    };
    let note =
        if dice.below(3) == 0 { "note = \"Keep it short; ask for the duty officer at the été hall\"\n" } else { "" };
    writeln!(
        text,
        "[[channel]]\nid = \"c{index}\"\nrow = {}\nname = \"{}\"\nspoken = \"{} Channel{}\"\n{way}\n{note}verified = {{ on = 2026-10-01, by = \"qra\" }}",
        index + 1,
        called(index),
        index + 1,
        dice.pick(&long)
    )
    .unwrap();
}

/// A document: its id tells whether it is dense, and how often each of its panels stands on the sheets.
fn document(text: &mut String, index: usize, dice: &mut Dice) -> String {
    let (kind, layouts) = &SETS[dice.below(SETS.len())];
    let layout = dice.pick(layouts);
    let paper = dice.pick(&["letter", "a4"]);
    let variant = dice.pick(&["", "", "large-print", "night", "dense"]);
    let name = format!("{}-on-{}-{paper}-{variant}", kind.name, layout.trim_end_matches(".toml"))
        .trim_end_matches('-')
        .to_owned();
    let varied = if variant.is_empty() { String::new() } else { format!("variant = \"{variant}\"\n") };
    let more = format!("layout = \"{layout}\"\npaper = \"{paper}\"\n{varied}");
    text.push_str(made_of(kind));
    text.push_str(&order(kind, &format!("d{index}"), "team", &more));
    name
}

#[derive(Default)]
struct Count {
    panels: usize,
    sheets: usize,
    documents: BTreeMap<String, usize>,
    refused: BTreeMap<String, usize>,
}

/// One plan with three documents, each judged by itself: what does not fit on one is no reason not to judge the others.
fn audit(seed: usize) -> Count {
    let mut dice = Dice(u64::try_from(seed).unwrap() * 7919 + 1);
    let channels = if seed % 100 == 99 { 500 } else { [0, 1, 3, 9, 20, 40][seed % 6] };
    let mut plan = long_head();
    for index in 0..channels {
        channel(&mut plan, index, &mut dice);
    }
    if channels > 0 {
        plan.push_str(NET);
    }
    let mut count = Count::default();
    for index in 0..3 {
        let mut text = plan.clone();
        let name = document(&mut text, index, &mut dice);
        let world = world(text);
        let Some(job) = fieldsheaf::jobs(&world, "plan.toml").unwrap().pop() else {
            let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
            let errors: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.rule.name).collect();
            assert!(
                errors.iter().all(|name| ["text-does-not-fit", "code-too-dense"].contains(name)),
                "{seed} {name}: {errors:?}"
            );
            *count.refused.entry(name).or_default() += 1;
            continue;
        };
        let is_dense = name.ends_with("-dense") || name.contains("-on-chart-") || name.contains("-on-wall-chart-");
        judge(&job, is_dense);
        judge_sheets(&job, if name.contains("-pad-") { 2 } else { 1 });
        if name.ends_with("large-print") {
            let small = job.panels.iter().flat_map(runs).find(|run| run.size < fieldsheaf::ground::Length::pt(14));
            assert!(small.is_none(), "{seed} {name}: {small:?}");
        }
        if name.starts_with("channel-card") {
            let names: Vec<&str> =
                job.panels.iter().flat_map(runs).filter(|run| run.role == Role::Name).map(|run| &*run.text).collect();
            for channel in 0..channels {
                let row = called(channel);
                assert_eq!(names.iter().filter(|known| **known == row).count(), 1, "{seed} {name}: {row}");
            }
        }
        count.panels += job.panels.len();
        count.sheets += job.pages.len();
        *count.documents.entry(name).or_default() += 1;
    }
    count
}

#[test]
fn five_hundred_plans_keep_the_promises_of_the_paper() {
    let counts: Vec<Count> = (0..PLANS).into_par_iter().map(audit).collect();
    let mut all = Count::default();
    for count in counts {
        all.panels += count.panels;
        all.sheets += count.sheets;
        for (name, times) in count.documents {
            *all.documents.entry(name).or_default() += times;
        }
        for (name, times) in count.refused {
            *all.refused.entry(name).or_default() += times;
        }
    }
    let set: usize = all.documents.values().sum();
    let refused: usize = all.refused.values().sum();
    say(&format!(
        "{PLANS} plans: {set} documents of {} sorts, {} sheets, {} panels; {refused} refused: {:?}",
        all.documents.len(),
        all.sheets,
        all.panels,
        all.refused
    ));
    assert!(set >= PLANS * 2, "only {set} documents were set, {refused} refused: {:?}", all.refused);
    for format in names().chain(["columns", "both"]) {
        for paper in ["letter", "a4"] {
            let sort = format!("-on-{format}-{paper}");
            assert!(all.documents.keys().any(|name| name.contains(&sort)), "no {sort} was judged");
        }
    }
    for kind in KINDS {
        let is_judged = all.documents.keys().any(|name| name.starts_with(&format!("{}-on-", kind.name)));
        assert!(is_judged, "no {} was judged", kind.name);
    }
    for variant in ["large-print", "night", "dense"] {
        assert!(all.documents.keys().any(|name| name.ends_with(variant)), "no {variant} was judged");
    }
}

/// The figures, for whoever runs it with `--nocapture`.
fn say(words: &str) {
    let mut out = std::io::stderr();
    writeln!(out, "{words}").unwrap();
}
