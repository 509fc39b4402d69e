//! Every published channel of another service, as a plan of one channel: as published it passes, under its name and typed by hand; beside its
//! frequency, wider or stronger it is refused, or warns where the figure is from memory.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::ground::{Finding, Frequency, Power, Severity, Width};
use fieldsheaf::tables::{StandardUse, Tables};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};

const ROWS: &str = include_str!("../refs/other_services.csv");

/// A row of the published table.
struct Row {
    profile: &'static str,
    service: &'static str,
    name: &'static str,
    hear: u64,
    /// Nothing where one listens alone.
    send: u64,
    mode: &'static str,
    /// Nothing where the row does not limit it, as the power in milliwatts.
    width: u64,
    power: u64,
    tone: Option<&'static str>,
    /// How well frequency, width and power are known.
    known: [&'static str; 3],
}

fn rows() -> Vec<Row> {
    let lines = ROWS.lines().filter(|line| !line.starts_with('#')).skip(1);
    let row = |line: &'static str| {
        let cells: Vec<&str> = line.split(';').collect();
        let number = |at: usize| cells[at].parse().unwrap();
        Row {
            profile: cells[0],
            service: cells[1],
            name: cells[2],
            hear: number(3),
            send: number(4),
            mode: cells[5],
            width: number(6),
            power: number(7),
            tone: Some(cells[8]).filter(|tone| *tone != "-"),
            known: [cells[9], cells[10], cells[11]],
        }
    };
    lines.map(row).collect()
}

impl Row {
    /// The frequencies typed by hand, each so many hertz beside.
    fn typed(&self, beside: u64) -> String {
        let (hear, send) = (self.hear + beside, self.send + beside);
        let line = match (self.mode, self.send) {
            (_, 0) => format!("rx = \"{hear} Hz\"\ntx = \"none\"\n"),
            ("SSB", _) => format!("dial = \"{hear} Hz\"\nside = \"USB\"\n"),
            _ if hear == send => format!("simplex = \"{hear} Hz\"\n"),
            _ => format!("rx = \"{hear} Hz\"\ntx = \"{send} Hz\"\n"),
        };
        format!("name = \"C\"\nservice = \"{}\"\nmode = \"{}\"\n{line}", self.service, self.mode)
    }

    /// The name of the channel, and its mode where a name has more than one.
    fn named(&self) -> String {
        let side = if self.mode == "SSB" { "side = \"USB\"\n" } else { "" };
        format!("standard = \"{}\"\nmode = \"{}\"\n{side}", self.name, self.mode)
    }

    fn width(&self, more: u64) -> String {
        if self.width == 0 { String::new() } else { format!("width = \"{} Hz\"\n", self.width + more) }
    }

    fn power(&self, more: u64) -> String {
        if self.power == 0 { String::new() } else { format!("power = \"{} mW\"\n", self.power + more) }
    }

    /// What is said of a plan with one channel by rules about other services: severity, rule and message; errors of any rule.
    fn said(&self, channel: &str) -> Vec<String> {
        let authority = ["marine", "aviation", "interop"].map(|service| {
            format!("[[agreement]]\nid = \"{service}\"\nwith = \"Alder {service}\"\nservice = \"{service}\"\nsigned = 2026-01-01\nexpires = 2030-01-01\n")
        });
        let head = match self.profile {
            "us" => {
                let licence = "licence = [{ service = \"gmrs\", call = \"WQAA000\", expires = 2030-01-01 }]\n";
                format!("{}{licence}{}", HEAD.replace("[edition]", "region = \"US-CO\"\n[edition]"), authority.concat())
            }
            profile => {
                HEAD.replace("\"us\"", &format!("\"{profile}\"")).replace("WZ7QRA", "DA0QRA").replace("extra", "any")
            }
        };
        let head = if self.profile == "de" { head.replace("\"any\"", "\"a\"") } else { head };
        let plan = format!("{head}[[channel]]\nid = \"c\"\nrow = 1\nspoken = \"Channel One\"\n{channel}");
        let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
        let is_ours = |finding: &&Finding| {
            let ours =
                ["service-channel-unknown", "service-limit-exceeded", "service-row-unproved", "heard-beside-channel"];
            finding.severity() == Severity::Error || ours.contains(&finding.rule.name)
        };
        let said = |finding: &Finding| {
            let (severity, rule) = (finding.severity().word(), finding.rule.name);
            format!("{severity} {rule}: {} / {}", finding.message, finding.note.clone().unwrap_or_default())
        };
        outcome.findings.iter().filter(is_ours).map(said).collect()
    }

    /// The one finding that a change must bring: its rule by how well the figure is known, its message, and that its note says how well.
    fn must_say(&self, channel: &str, (rule, known): (&str, &str), message: &str) -> Option<String> {
        let (severity, rule) = match (known, rule) {
            (_, "heard-beside-channel") => ("warning", rule),
            ("memory", _) => ("warning", "service-row-unproved"),
            _ => ("error", rule),
        };
        let said = self.said(channel);
        let is_it = |said: &String| {
            said.starts_with(&format!("{severity} {rule}: ")) && said.contains(message) && said.contains(known)
        };
        let is_it = said.len() == 1 && said.iter().all(is_it);
        (!is_it).then(|| format!("{} {}: {severity} {rule} {message} {known}, not {said:#?}", self.profile, self.name))
    }
}

/// What every row that differs says, all together.
fn faults(of: impl Fn(&Row) -> Vec<String> + Sync + Send) -> Vec<String> {
    let rows = rows();
    assert!(rows.len() > 750, "{} rows", rows.len());
    rows.par_iter().flat_map_iter(of).collect()
}

#[test]
fn a_published_channel_has_its_published_values_under_its_name() {
    let hertz = |value: u64| Frequency::hertz(value);
    let wrong = faults(|row| {
        let profile = Tables::built_in().profile(row.profile).unwrap();
        let Some(standard) = profile.standard(row.name) else { return vec![format!("no {}", row.name)] };
        let published: &StandardUse = standard.in_mode(Some(row.mode));
        let is_it = Some(published.hear) == hertz(row.hear)
            && published.send == hertz(row.send)
            && published.service.id == row.service
            && published.has_mode(row.mode)
            && (row.width == 0 || published.width == Some(Width::hertz(row.width)))
            && (row.power == 0 || published.power.is_some_and(|power| power <= Power::milliwatts(row.power)))
            && published.tone.map(|tone| tone.to_string()) == row.tone.map(str::to_owned);
        (!is_it).then(|| format!("{}: {published:?}", row.name)).into_iter().collect()
    });
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_published_channel_passes_by_its_name_and_typed_by_hand() {
    let wrong = faults(|row| {
        let by_hand = row.typed(0) + &row.width(0) + &row.power(0);
        let all = [row.named(), by_hand].map(|channel| row.said(&channel));
        all.into_iter().flatten().map(|said| format!("{} {}: {said}", row.profile, row.name)).collect()
    });
    assert!(wrong.is_empty(), "{} of them:\n{:#?}", wrong.len(), &wrong[..wrong.len().min(20)]);
}

#[test]
fn beside_a_published_channel_is_none() {
    let wrong = faults(|row| {
        let channel = row.typed(1250) + &row.width(0) + &row.power(0);
        let [hear, send] = [row.hear, row.send].map(|value| Frequency::hertz(value + 1250).unwrap());
        let service = row.service;
        let (rule, message) = match row.send {
            0 => ("heard-beside-channel", format!("channel C listens on {hear}, which is no channel of {service}")),
            _ if hear == send => {
                ("service-channel-unknown", format!("channel C sends on {send}, which is no channel of {service}"))
            }
            _ => (
                "service-channel-unknown",
                format!("channel C hears {hear} and sends {send}, which is no pair of {service}"),
            ),
        };
        // What is heard cites the row; how well that is known changes nothing.
        let known = if row.send == 0 { "" } else { row.known[0] };
        row.must_say(&channel, (rule, known), &message).into_iter().collect()
    });
    assert!(wrong.is_empty(), "{} of them:\n{:#?}", wrong.len(), &wrong[..wrong.len().min(20)]);
}

#[test]
fn a_hertz_wider_or_a_milliwatt_more_than_published_is_too_much() {
    let wrong = faults(|row| {
        let (mut wrong, sends) = (Vec::new(), row.send > 0);
        if row.width > 0 && sends {
            let message = format!(" is {} wide, where ", Width::hertz(row.width + 1));
            wrong.extend(row.must_say(
                &(row.named() + &row.width(1)),
                ("service-limit-exceeded", row.known[1]),
                &message,
            ));
        }
        if row.power > 0 && sends {
            let message = format!(" allows {}, where ", Power::milliwatts(row.power + 1));
            wrong.extend(row.must_say(
                &(row.named() + &row.power(1)),
                ("service-limit-exceeded", row.known[2]),
                &message,
            ));
        }
        wrong
    });
    assert!(wrong.is_empty(), "{} of them:\n{:#?}", wrong.len(), &wrong[..wrong.len().min(20)]);
}

const TABLE: &str = "[channels]\nfile = \"list.csv\"\ncolumns = { standard = \"Channel\", power = { heading = \"Watts\", unit = \"W\" } }\n\
     defaults = { service = \"amateur\", mode = \"FM\", width = \"wide\", power = \"3 W\" }\n";

/// What a table says by default of all its rows stands behind what is published of one; its own cells, and less power, stay.
#[test]
fn names_of_published_channels_are_enough_for_a_table() {
    let list = "Channel,Watts\nfrs 5,\nMarine 75 coast,8\nweather 162.55,\nCB 9,\ngmrs 20 repeater,\nMarine 22a,\n";
    let world = Shelf::new().with("plan.toml", HEAD.to_owned() + TABLE).with("list.csv", list);
    let mut found = fieldsheaf::ground::Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    assert_eq!(found.errors(), 0, "{found:?}");
    let said = plan.channels.iter().map(|channel| {
        let send = channel.send.map_or_else(|| "nothing".to_owned(), |send| send.value.to_string());
        let (mode, width) = (channel.signal.mode.value, channel.signal.width.value);
        let power =
            channel.power.filter(|_| channel.send.is_some()).map_or_else(String::new, |power| power.value.to_string());
        format!("{}: {} {} {send} {mode} {width:?} {power}", channel.id.value, channel.name.value, channel.hear.value)
    });
    assert_eq!(
        said.collect::<Vec<_>>(),
        [
            "cb-9: CB 9 27.065 MHz 27.065 MHz AM Wide 3 W",
            "frs-5: FRS 5 462.6625 MHz 462.6625 MHz FM Narrow 2 W",
            "gmrs-20r: GMRS 20R 462.675 MHz 467.675 MHz FM Wide 3 W",
            "marine-22a: Marine 22A 157.100 MHz 157.100 MHz FM Wide 3 W",
            "marine-75-coast: Marine 75 coast 156.775 MHz 156.775 MHz FM Wide 8 W",
            "weather-162-550: Weather 162.550 162.550 MHz nothing FM Wide ",
        ]
    );
}

/// A name that is not published is one finding, at its cell, with the nearest names; what the row lacks besides is none.
#[test]
fn an_unknown_name_has_the_nearest_ones() {
    let said = |list: &str| {
        let world = Shelf::new().with("plan.toml", HEAD.to_owned() + TABLE).with("list.csv", list);
        let outcome = fieldsheaf::check_plan(&world, "plan.toml").unwrap();
        let errors = outcome.findings.iter().filter(|finding| finding.severity() == Severity::Error);
        let line = |finding: &Finding| {
            let (file, line, _) = outcome.files.place(finding.span).unwrap();
            format!(
                "{file}:{line} {}: {} / {}",
                finding.rule.name,
                finding.message,
                finding.help.clone().unwrap_or_default()
            )
        };
        errors.map(line).collect::<Vec<_>>()
    };
    assert_eq!(
        said("Channel,Watts\nFRS 5,\nVTAC15,\n"),
        [
            "list.csv:3 standard-unknown: the profile us has no channel \"VTAC15\" / did you mean one of these: VTAC11, VTAC12, VTAC13?"
        ]
    );
    assert_eq!(
        said("Channel,Watts\nmurs 6,\n"),
        [
            "list.csv:2 standard-unknown: the profile us has no channel \"murs 6\" / did you mean one of these: MURS 1, MURS 2, MURS 3?"
        ]
    );
}
