//! The card read back as a radio would be set by it: from what is printed alone, a row and what is said once above it, channel by channel,
//! against the plan. For the county and for two hundred plans nobody wrote.

use crate::support::every::{county, order};
use crate::support::geometry::{judge, runs};
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::KINDS;
use fieldsheaf::compose::block::Role;
use fieldsheaf::ground::{Findings, Frequency, Length, Tone};
use fieldsheaf::plan::{Channel, Mode, Plan, Route, WidthWord};
use fieldsheaf::sheet::{Glyphs, Job};
use rayon::iter::{IntoParallelIterator, ParallelIterator};
use std::collections::BTreeMap;
use std::fmt::Write;

/// What a radio is set to, and where its user goes when nobody answers.
#[derive(PartialEq, Eq, Debug, Default)]
struct Set {
    hear: String,
    send: Option<String>,
    tone: Option<String>,
    hear_tone: String,
    emission: String,
    power: Option<String>,
    next: Option<String>,
    after: Option<String>,
}

/// What a row says, and what is said above it, as printed.
#[derive(Default)]
struct Printed<'a> {
    row: Vec<&'a Glyphs>,
    above: Vec<&'a Glyphs>,
}

/// The rows of the card by their names.
fn printed(job: &Job) -> BTreeMap<String, Printed<'_>> {
    let mut rows = BTreeMap::new();
    for panel in &job.panels {
        let mut tables: BTreeMap<(u16, u16), Vec<&Glyphs>> = BTreeMap::new();
        for run in runs(panel) {
            if let Some(cell) = run.place.cell {
                tables.entry((cell.table, cell.row)).or_default().push(run);
            }
        }
        for ((table, _), row) in &tables {
            let Some(name) = row.iter().find(|run| run.role == Role::Name) else { continue };
            let above = tables.get(&(*table, 0)).cloned().unwrap_or_default();
            let known = rows.insert(name.text.to_string(), Printed { row: row.clone(), above });
            assert!(known.is_none(), "{} stands twice on {}", name.text, job.stem);
        }
    }
    rows
}

fn said(runs: &[&Glyphs]) -> String {
    let words = runs.iter().filter(|run| matches!(run.role, Role::Body | Role::Warning));
    words.map(|run| run.text.trim()).collect::<Vec<_>>().join(" ")
}

/// A number with one of these units.
fn measured(words: &str, units: &[&str]) -> Option<String> {
    let words: Vec<&str> = words.split(' ').map(|word| word.trim_matches([',', ';', ':', '.'])).collect();
    let pair = words.windows(2).find(|pair| {
        pair[0].starts_with(|c: char| c.is_ascii_digit()) && pair[0].parse::<f64>().is_ok() && units.contains(&pair[1])
    })?;
    Some(pair.join(" "))
}

const EMISSIONS: [&str; 6] = ["packet on FM ±2.5", "packet on FM ±5", "FM ±2.5", "FM ±5", "AM", "voice"];

fn emission(words: &str) -> Option<String> {
    EMISSIONS.iter().find(|known| words.contains(*known)).map(|known| (*known).to_owned())
}

/// The row as its user understands it: what it does not say is said above.
fn understood(printed: &Printed<'_>) -> Set {
    let (row, above) = (said(&printed.row), said(&printed.above));
    let of = |role: Role| printed.row.iter().find(|run| run.role == role).map(|run| run.text.to_string());
    let is_dial = printed.above.iter().any(|run| &*run.text == "dial kHz");
    let words: Vec<&str> = printed.row.iter().filter(|run| run.role == Role::Word).map(|run| &*run.text).collect();
    let is_silent = words.iter().any(|word| ["listen only", "do not send"].contains(word));
    // A figure behind the words "hear tone" is the tone to hear; any other is sent.
    let label = |run: &&&Glyphs| &*run.text == "hear tone";
    let labelled = printed.row.iter().find(label).map(|run| run.place.cell);
    let tones = || printed.row.iter().filter(|run| run.role == Role::Tone);
    let heard = tones().find(|run| Some(run.place.cell) == labelled).map(|run| run.text.to_string());
    let sent = tones().find(|run| Some(run.place.cell) != labelled).map(|run| run.text.to_string());
    let hear = of(Role::Hear).unwrap();
    let in_hertz = |text: &str| Frequency::parse(&format!("{text} {}", if is_dial { "kHz" } else { "MHz" })).unwrap();
    let word_of = |units: &[&str]| words.iter().find_map(|word| measured(word, units));
    let next = of(Role::Next);
    let hear_word = |words: &str| {
        ["hear tone off", "hear tone unknown"].iter().find(|known| words.contains(*known)).map(|w| (*w).to_owned())
    };
    Set {
        send: if is_dial { (!is_silent).then(|| hear.clone()) } else { of(Role::Send) }
            .map(|text| in_hertz(&text).as_hertz().to_string()),
        hear: in_hertz(&hear).as_hertz().to_string(),
        tone: match is_dial {
            true => words.iter().find(|word| ["LSB", "USB", "CW"].contains(*word)).map(|word| (*word).to_owned()),
            false if is_silent => None,
            false => {
                sent.or_else(|| words.iter().find(|word| ["off", "unknown"].contains(*word)).map(|w| (*w).to_owned()))
            }
        },
        hear_tone: match is_dial {
            true => String::new(),
            false => heard.or_else(|| hear_word(&row)).or_else(|| hear_word(&above)).unwrap_or_default(),
        },
        emission: emission(&row).or_else(|| emission(&above)).unwrap_or_default(),
        power: match (is_silent, is_dial) {
            (true, _) => None,
            (false, true) => word_of(&["W", "kW", "mW"]),
            (false, false) if row.contains("power unknown") => None,
            (false, false) => measured(&row, &["W", "kW", "mW"]).or_else(|| measured(&above, &["W", "kW", "mW"])),
        },
        after: next.as_ref().and_then(|_| match row.contains("any time") {
            true => None,
            false => measured(&row, &["s", "min", "h"]).or_else(|| measured(&above, &["s", "min", "h"])),
        }),
        next,
    }
}

fn keyed(tone: Tone) -> String {
    match tone {
        Tone::Ctcss(tenths) => format!("{}.{}", tenths / 10, tenths % 10),
        Tone::Dcs { code, is_inverted } => format!("D{code:03}{}", if is_inverted { 'I' } else { 'N' }),
        Tone::Unknown => "unknown".to_owned(),
        _ => "off".to_owned(),
    }
}

/// What the plan means for a member of the team, worked out without the card's own words.
fn meant(channel: &Channel, plan: &Plan) -> Set {
    let is_dial = matches!(channel.route, Route::Dial(_));
    let width = if channel.signal.width.value == WidthWord::Narrow { "FM ±2.5" } else { "FM ±5" };
    let hear_tone = match channel.hear_tone.value {
        tone @ (Tone::Ctcss(_) | Tone::Dcs { .. }) => keyed(tone),
        tone => format!("hear tone {}", keyed(tone)),
    };
    Set {
        hear: channel.hear.value.as_hertz().to_string(),
        send: channel.send.map(|send| send.value.as_hertz().to_string()),
        tone: match channel.side() {
            Some(side) => Some(side.word().to_owned()),
            None => channel.send.map(|_| keyed(channel.send_tone.value)),
        },
        hear_tone: if is_dial { String::new() } else { hear_tone },
        emission: match (is_dial, channel.signal.mode.value) {
            (true, _) => "voice".to_owned(),
            (false, Mode::Data) => format!("packet on {width}"),
            (false, _) => width.to_owned(),
        },
        power: channel.power.filter(|_| channel.send.is_some()).map(|power| power.value.to_string()),
        next: channel.next.as_ref().map(|next| plan.channels.get(&next.value).unwrap().name.to_string()),
        after: channel.after.filter(|_| channel.next.is_some()).map(|after| after.value.to_string()),
    }
}

fn plan_of(world: &Shelf) -> Plan {
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(world, "plan.toml", &mut found).unwrap();
    fieldsheaf::plan::build(world, &mut records, &mut found)
}

/// Reads every card of a plan back, and gives how many rows were read. None where the plan is refused.
fn read_back(world: &Shelf) -> Option<usize> {
    let plan = plan_of(world);
    let jobs = fieldsheaf::jobs(world, "plan.toml").unwrap();
    let cards: Vec<&Job> = jobs.iter().filter(|job| job.stem.starts_with("read-")).collect();
    let mut count = 0;
    for job in &cards {
        judge(job, false);
        near(job);
        let rows = printed(job);
        for channel in plan.channels.iter() {
            let name = channel.name.as_str();
            let row = rows.get(name).unwrap_or_else(|| panic!("{name} is not on {}", job.stem));
            let words = || format!("{name} on {}: {} | {}", job.stem, said(&row.row), said(&row.above));
            assert_eq!(understood(row), meant(channel, &plan), "{}", words());
            count += 1;
        }
    }
    (!cards.is_empty()).then_some(count)
}

/// No text of a row is nearer than 1.5 mm to a figure that is dialled or keyed.
fn near(job: &Job) {
    for panel in &job.panels {
        let all: Vec<&Glyphs> = runs(panel).into_iter().filter(|run| run.place.cell.is_some()).collect();
        let figures = all.iter().filter(|run| run.role.is_dialled() && run.text.contains(|c: char| c.is_ascii_digit()));
        for figure in figures {
            let beside = all.iter().filter(|run| {
                run.at != figure.at && (run.at.y - figure.at.y).max(figure.at.y - run.at.y) < Length::mm(1)
            });
            for other in beside {
                let gap = (other.at.x - figure.at.x - figure.width).max(figure.at.x - other.at.x - other.width);
                let (one, two) = (&figure.text, &other.text);
                assert!(gap >= Length::hundredths_mm(149), "{}: \"{two}\" is {gap} from {one}", job.stem);
            }
        }
    }
}

/// The card on the pocket sheet, at night, and on a page in large print.
fn cards() -> String {
    let kind = KINDS.iter().find(|kind| kind.name == "channel-card").unwrap();
    let more = ["", "variant = \"night\"\n", "layout = \"full\"\nvariant = \"large-print\"\n", "paper = \"a4\"\n"];
    more.iter().enumerate().map(|(n, more)| order(kind, &format!("read-{n}"), "team", more)).collect()
}

#[test]
fn a_radio_set_by_the_countys_card_is_set_as_the_plan_means() {
    assert_eq!(read_back(&county(&cards())), Some(33 * 4));
}

/// The county's card is one sheet, and two at night.
#[test]
fn the_countys_channels_take_one_pocket_sheet() {
    let jobs = fieldsheaf::jobs(&county(&cards()), "plan.toml").unwrap();
    let pages = |stem: &str| jobs.iter().find(|job| job.stem == stem).unwrap().pages.len();
    assert_eq!((pages("channel-card"), pages("read-1")), (1, 2));
}

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

/// A plan of some channels, with whatever a row can have.
fn random(seed: usize) -> Shelf {
    let mut dice = Dice(u64::try_from(seed).unwrap() * 104_729 + 7);
    let mut text = HEAD.to_owned();
    let count = 1 + dice.below(36);
    for index in 0..count {
        let step = index * 75;
        let way = match dice.below(6) {
            0 | 1 => format!("simplex = \"146.{:04} MHz\"", 4000 + step),
            2 => format!("dial = \"{}.0 kHz\"\nside = \"LSB\"", 7180 + index * 3),
            3 => format!(
                "rx = \"162.{:04} MHz\"\ntx = \"none\"\nservice = \"weather\"\nwidth = \"narrow\"",
                4000 + step % 1500
            ),
            _ => format!("rx = \"444.{:04} MHz\"\ntx = \"449.{:04} MHz\"", step * 3, step * 3),
        };
        let (is_dial, is_heard) = (way.starts_with("dial"), way.contains("none"));
        let long = dice.pick(&["", " and the Wide River Valley", " North", " Elementary School Gymnasium"]);
        write!(
            text,
            "[[channel]]\nid = \"c{index}\"\nrow = {}\nname = \"{} {index}\"\nspoken = \"{} Channel{long}\"\n{way}\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n",
            index + 1,
            dice.pick(&["CH", "TAC", "LONGER"]),
            index + 1,
        )
        .unwrap();
        if !is_dial {
            let tones = ["", "rx-tone = \"100.0 Hz\"\n", "rx-tone = \"DCS 023 inverted\"\n", "rx-tone = \"unknown\"\n"];
            text += dice.pick(&tones);
        }
        if !is_dial && !is_heard {
            text +=
                dice.pick(&["", "tx-tone = \"103.5 Hz\"\n", "tx-tone = \"DCS 023 normal\"\n", "tx-tone = \"off\"\n"]);
            text += dice.pick(&["", "width = \"narrow\"\n"]);
        }
        if !is_heard {
            text += dice.pick(&["", "power = \"25 W\"\n", "power = \"5 W\"\n", "power = \"25 W\"\n"]);
        }
        text += dice.pick(&[
            "",
            "",
            "note = \"keep it short; ask for the duty officer at the hall\"\n",
            "note = \"north side\"\n",
        ]);
        text += dice.pick(&["", "function = \"Shelters\"\n", "function = \"Hospitals and blood centers\"\n"]);
        if dice.below(2) == 0 && count > 1 {
            writeln!(text, "next = \"c{}\"", (index + 1 + dice.below(count - 1)) % count).unwrap();
            text += dice.pick(&["", "after = \"2 min\"\n", "after = \"90 s\"\n"]);
        }
    }
    Shelf::new().with("plan.toml", text + &cards())
}

#[test]
fn a_radio_set_by_the_card_of_any_plan_is_set_as_the_plan_means() {
    let read: Vec<Option<usize>> = (0..260).into_par_iter().map(|seed| read_back(&random(seed))).collect();
    let plans = read.iter().flatten().count();
    assert!(plans >= 200, "{plans} plans were read back");
    assert!(read.into_iter().flatten().sum::<usize>() > 8000);
}
