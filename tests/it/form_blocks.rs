//! The forms that come with the program against published ones, and what they have from a plan against what is worked out apart here.

use crate::support::every::county;
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::form_names;
use fieldsheaf::ground::Findings;
use fieldsheaf::plan::{Channel, Plan, WidthWord};
use std::collections::{BTreeMap, BTreeSet};

/// The canonical text of a document that a plan orders.
fn text(world: &Shelf) -> String {
    let outcome = fieldsheaf::check(world, "plan.toml").unwrap();
    let errors: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(errors, Vec::<&str>::new());
    let jobs = fieldsheaf::jobs(world, "plan.toml").unwrap();
    jobs.into_iter().find(|job| job.stem == "it").unwrap().canonical.unwrap()
}

fn order(form: &str, more: &str) -> String {
    format!("[[document]]\nid = \"it\"\nkind = \"form\"\nform = \"{form}\"\n{more}")
}

/// `1. Incident Name` for each block with a number, and the headings of the table with the most columns.
fn blocks_and_columns(text: &str) -> (Vec<String>, Vec<String>) {
    let lines: Vec<(&str, &str)> = text.lines().filter_map(|line| line.split_once('\t')).collect();
    let mut blocks = Vec::new();
    let mut columns: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for (path, value) in &lines {
        let parts: Vec<&str> = path.split('/').collect();
        if parts.len() > 2 && parts[parts.len() - 2] == "field" {
            let number = lines.iter().find(|(other, _)| *other == format!("{path}/number")).map(|(_, number)| *number);
            if let Some(number) = number.filter(|number| number.parse::<u16>().is_ok()) {
                blocks.push(format!("{number}. {value}"));
            }
        }
        if parts.len() > 2 && parts[parts.len() - 2] == "ruled" {
            columns.entry(&path[..path.rfind('/').unwrap()]).or_default().push((*value).to_owned());
        }
    }
    (blocks, columns.into_values().max_by_key(Vec::len).unwrap_or_default())
}

#[test]
fn blocks_and_columns_are_those_of_the_published_forms() {
    let published: toml::Table = include_str!("../refs/forms.toml").parse().unwrap();
    let known: BTreeSet<String> = form_names().into_iter().map(|(id, _)| id).collect();
    assert!(published.len() >= 9);
    for (form, rows) in &published {
        assert!(known.contains(form), "{form}");
        let list = |key: &str| -> Option<Vec<String>> {
            let list = rows.get(key)?.as_array().unwrap();
            Some(list.iter().map(|item| item.as_str().unwrap().to_owned()).collect())
        };
        let world = Shelf::new().with("plan.toml", HEAD.to_owned() + &order(form, "audience = \"public\"\n"));
        let (blocks, columns) = blocks_and_columns(&text(&world));
        assert_eq!(blocks, list("blocks").unwrap(), "{form}");
        if let Some(published) = list("columns") {
            // A form may have a second table.
            let all = text(&world);
            let have: Vec<String> = if columns.len() == published.len() { columns } else { Vec::new() };
            let is_there = |heading: &String| all.lines().any(|line| line.ends_with(&format!("\t{heading}")));
            assert!(have == published || published.iter().all(is_there), "{form}: {have:?}");
        }
    }
}

/// The message that goes by radio: its letters in order, the four words with what they mean, and no place for a patient's name.
#[test]
fn the_message_has_a_part_of_its_own_for_the_radio_operator() {
    for form in ["ics-213", "message"] {
        let world = Shelf::new().with("plan.toml", HEAD.to_owned() + &order(form, "audience = \"public\"\n"));
        let text = text(&world);
        let letters: Vec<&str> = text
            .lines()
            .filter_map(|line| line.split_once('\t'))
            .filter(|(path, value)| path.ends_with("/number") && value.chars().all(|c| c.is_ascii_uppercase()))
            .map(|(_, value)| value)
            .collect();
        assert_eq!(letters, ["A", "B", "C", "D", "E", "F", "G", "H"], "{form}");
        assert!(text.contains("/title\tRadio operator\n"), "{form}");
        assert!(text.contains("\tRead aloud A to E, then 1 to 8."), "{form}: {text}");
        assert!(text.contains("Everybody can hear this: no patient names."), "{form}");
        assert!(text.contains("20 a minute") && text.contains("common practice, no source"), "{form}");
        let meanings = text.lines().filter(|line| line.contains("/ticks/meaning/")).count();
        assert_eq!(meanings, 4, "{form}");
    }
}

fn plan_of(world: &Shelf) -> Plan {
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(world, "plan.toml", &mut found).unwrap();
    fieldsheaf::plan::build(world, &mut records, &mut found)
}

/// Megahertz with four decimals, or as many as the value has; written apart from the program's.
fn megahertz(hertz: u64) -> String {
    let mut decimals = format!("{:06}", hertz % 1_000_000);
    while decimals.len() > 4 && decimals.ends_with('0') {
        decimals.pop();
    }
    format!("{}.{decimals}", hertz / 1_000_000)
}

/// What the dial of a sideband radio reads for it, in kilohertz with one decimal; nothing elsewhere.
fn on_the_dial(channel: &Channel, hertz: u64) -> String {
    let is_sideband = channel.side().is_some();
    assert!(!is_sideband || hertz.is_multiple_of(100), "{hertz} Hz wants another decimal");
    if is_sideband { format!(" dial {}.{} kHz", hertz / 1_000, hertz % 1_000 / 100) } else { String::new() }
}

fn expected(channel: &Channel) -> BTreeMap<usize, String> {
    let width = match (channel.signal.mode.value.word(), channel.signal.width.value) {
        ("FM", WidthWord::Wide) => " W",
        ("FM", WidthWord::Narrow) => " N",
        _ => "",
    };
    let tone = |tone: &fieldsheaf::ground::Tone| match tone.to_string().as_str() {
        "off" | "carrier" => "off".to_owned(),
        "unknown" => "unknown".to_owned(),
        ctcss if ctcss.ends_with(" Hz") && !ctcss.contains("burst") => ctcss.trim_end_matches(" Hz").to_owned(),
        // The sense of a code stands among the remarks.
        dcs if dcs.starts_with("DCS ") => dcs.split(' ').take(2).collect::<Vec<_>>().join(" "),
        other => other.to_owned(),
    };
    let digital = ["P25", "DMR", "NXDN", "M17", "D-STAR", "C4FM", "dPMR", "TETRA", "data"];
    let row = channel.row.as_ref().map(|row| row.value.get().to_string()).unwrap_or_default();
    let any = |words: Option<&str>| words.unwrap_or("any").to_owned();
    let mut cells = BTreeMap::from([
        (2, row),
        (3, any(channel.function.as_ref().map(|words| words.as_str()))),
        (4, channel.name.to_string()),
        (5, any(channel.assignment.as_ref().map(|words| words.as_str()))),
        (6, megahertz(channel.hear.value.as_hertz()) + width + &on_the_dial(channel, channel.hear.value.as_hertz())),
        (7, tone(&channel.hear_tone.value)),
        (8, "do not send".to_owned()),
        (9, "do not send".to_owned()),
        (10, if digital.contains(&channel.signal.mode.value.word()) { "D" } else { "A" }.to_owned()),
    ]);
    if let Some(send) = channel.send {
        cells.insert(8, megahertz(send.value.as_hertz()) + width + &on_the_dial(channel, send.value.as_hertz()));
        cells.insert(9, tone(&channel.send_tone.value));
    }
    cells
}

#[test]
fn ics_205_of_the_county_has_every_channel_as_a_field_radio_is_set() {
    let world = county(&order("ics-205", "audience = \"team\"\n"));
    let plan = plan_of(&world);
    let text = text(&world);
    let mut rows: BTreeMap<usize, BTreeMap<usize, String>> = BTreeMap::new();
    for (path, value) in text.lines().filter_map(|line| line.split_once('\t')) {
        let parts: Vec<&str> = path.split('/').collect();
        if let [.., "row", row, column] = parts[..] {
            rows.entry(row.parse().unwrap()).or_default().insert(column.parse().unwrap(), value.to_owned());
        }
    }
    let mut channels: Vec<&Channel> = plan.channels.iter().collect();
    channels.sort_by_key(|channel| channel.row.as_ref().map_or(u16::MAX, |row| row.value.get()));
    assert_eq!((rows.len(), channels.len()), (33, 33));
    for (channel, cells) in channels.iter().zip(rows.values()) {
        for (column, value) in expected(channel) {
            assert_eq!(cells.get(&column), Some(&value), "{} column {column}", channel.id.value);
        }
        assert!(!cells[&11].is_empty(), "{}: no remark", channel.id.value);
        if let Some(sense) =
            channel.send_tone.value.to_string().strip_prefix("DCS ").and_then(|code| code.split(' ').nth(1))
        {
            assert!(cells[&11].contains(&format!("DCS {sense}")), "{}", cells[&11]);
        }
        assert!(!cells.contains_key(&1), "the plan knows no zones");
    }
    // Values that have more than four decimals keep them.
    assert_eq!(megahertz(446_006_250), "446.00625");
    assert_eq!(megahertz(146_940_000), "146.9400");
}

/// Whoever may not read a number finds none, and is told how many are left out.
#[test]
fn the_communications_list_shows_its_readers_what_is_theirs() {
    let open = |audience: &str| text(&county(&order("ics-205a", &format!("audience = \"{audience}\"\n"))));
    let (public, coordinator) = (open("public"), open("coordinator"));
    let phones = |text: &str| text.matches("555 01").count() + text.matches("555-01").count();
    assert!(phones(&coordinator) > 10, "{}", phones(&coordinator));
    assert_eq!(phones(&public), 0);
    assert!(public.contains("more, not on this copy."), "{public}");
}

#[test]
fn a_log_has_its_net_and_a_numbered_form_its_place() {
    let log = text(&county(&order("log", "net = \"command\"\naudience = \"team\"\n")));
    assert!(log.contains("/filled\tCommand net\n"), "{log}");
    assert!(log.lines().any(|line| line.contains("/filled\t2027-01-16 06:00") && line.contains(" to ")), "{log}");
    // No two copies of a batch have one number, whatever stands on a sheet.
    let more = "audience = \"public\"\neach = \"place\"\ntogether = true\ncopies = 3\nserial = 8\nlayout = \"pad\"\n";
    let world = county(&order("site-status", more));
    let plan = plan_of(&world);
    let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
    let job = jobs.iter().find(|job| job.stem == "it").unwrap();
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for page in &job.pages {
        for placed in &page.placed {
            let panel = &job.panels[placed.panel];
            let first = panel.title == job.panels[0].title;
            let holder = panel.holder.clone().unwrap();
            let number = holder.split_once("number ").unwrap().1.to_owned();
            *seen.entry(format!("{number} {first} {}", placed.panel)).or_default() += 1;
        }
    }
    assert!(seen.values().all(|times| *times == 1), "{seen:?}");
    let numbers: BTreeSet<&str> = seen.keys().map(|key| key.rsplitn(3, ' ').nth(2).unwrap()).collect();
    let mut wanted = BTreeSet::new();
    for place in plan.places.iter() {
        wanted.extend((8..11).map(|number| format!("{} {number:04}", place.code.value)));
    }
    assert_eq!(numbers, wanted.iter().map(String::as_str).collect());
}

#[test]
fn a_net_that_a_form_does_not_speak_of_is_refused() {
    let world = county(&order("radiogram", "net = \"command\"\naudience = \"team\"\n"));
    let outcome = fieldsheaf::check_plan(&world, "plan.toml").unwrap();
    let said: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(said, ["form radiogram has no value of a net, and it names one"]);
}
