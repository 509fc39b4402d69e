//! What people type: other words for our keys, the other spelling, values of the wrong kind, characters that are not seen.

use crate::support::around::{findings, plan_around};
use fieldsheaf::plan;
use fieldsheaf::source;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Every finding as `rule line:column message / help`, of the example alone.
fn said(example: &str) -> Vec<String> {
    let (files, found) = findings(&plan_around(example));
    let say = |finding: &fieldsheaf::ground::Finding| {
        let (file, line, column) = files.place(finding.span)?;
        let help = finding.help.as_deref().unwrap_or("-");
        (file == "example.toml").then(|| format!("{} {line}:{column} {} / {help}", finding.rule.name, finding.message))
    };
    found.iter().filter_map(say).collect()
}

/// Words that no message may have: types of the program and of what it is made with.
const INNER_WORDS: &[&str] = &[
    "u8",
    "u16",
    "u32",
    "u64",
    "i64",
    "usize",
    "f64",
    "bool",
    "boolean",
    "string",
    "String",
    "sequence",
    "seq",
    "map",
    "newtype",
    "struct",
    "enum",
    "variant",
    "tuple",
    "visitor",
    "integer",
    "float",
    "Option",
    "Vec",
    "Some",
    "None",
    "deserialize",
    "expected",
    "invalid",
    "Written",
    "Cell",
    "$fieldsheaf-cell",
];

fn has_word(text: &str, word: &str) -> bool {
    let is_letter = |c: char| c.is_alphanumeric() || c == '_' || c == '$';
    text.split(|c: char| !is_letter(c)).any(|part| part == word)
}

/// What a property of the schema is made of: its keys, where it is a record, its items, where it is a list.
struct Schema(Value);

impl Schema {
    fn resolved<'a>(&'a self, node: &'a Value) -> &'a Value {
        if let Some(name) = node.get("$ref").and_then(Value::as_str) {
            return &self.0["$defs"][name.rsplit('/').next().unwrap()];
        }
        let any = node.get("anyOf").and_then(Value::as_array);
        any.map_or(node, |options| self.resolved(&options[0]))
    }

    /// Every key with the text that leads to it: a table around a place for its value.
    fn walk(&self, node: &Value, around: &str, found: &mut Vec<(String, String)>) {
        let node = self.resolved(node);
        if let Some(items) = node.get("items") {
            self.walk(items, &around.replace("%", "[%]"), found);
            return;
        }
        let Some(properties) = node.get("properties").and_then(Value::as_object) else { return };
        for (key, value) in properties {
            let place = around.replace('%', &format!("{{ {key} = % }}"));
            found.push((format!("{around} {key}"), place.clone()));
            if around.matches('{').count() < 5 {
                self.walk(value, &place, found);
            }
        }
    }
}

/// Every key of every record, with every kind of value: what is refused is refused in plain words, at its place.
#[test]
fn every_key_refuses_a_wrong_value_in_plain_words() {
    let schema = Schema(plan::schema());
    let mut places = Vec::new();
    for (kind, node) in schema.0["properties"].as_object().unwrap() {
        // One table reads like another.
        let is_other_table = node["$ref"] == "#/$defs/table" && kind != "channels";
        if kind != "include" && !is_other_table {
            schema.walk(node, &format!("{kind} = %"), &mut places);
        }
    }
    let kinds: BTreeSet<&str> =
        places.iter().filter_map(|(_, place)| place.split_once(' ')).map(|(kind, _)| kind).collect();
    assert_eq!(kinds, plan::RECORD_KINDS.iter().copied().chain(["channels"]).collect());
    let values = [
        "7",
        "-7",
        "70000",
        "99999999999",
        "1.5",
        "nan",
        "true",
        "\"\\\\\"",
        "\"#\"",
        "[]",
        "[[[7]]]",
        "{ zz = 7 }",
        "2026-01-01",
        "07:30:00",
    ];
    let mut faults = Vec::new();
    let mut refused = 0;
    for (name, place) in &places {
        for value in values {
            let text = place.replace('%', value) + "\n";
            let mut found = fieldsheaf::ground::Findings::default();
            let world = crate::support::shelf::Shelf::new().with("plan.toml", text.as_str());
            let mut records = source::read(&world, "plan.toml", &mut found).unwrap();
            plan::build(&world, &mut records, &mut found);
            let of_values = |found: &fieldsheaf::ground::Findings| {
                found
                    .iter()
                    .filter(|f| ["bad-value", "bare-number"].contains(&f.rule.name))
                    .cloned()
                    .collect::<Vec<_>>()
            };
            let all = of_values(&found);
            for finding in &all {
                refused += 1;
                if let Some(fix) = &finding.fix {
                    let mut mended = text.clone();
                    mended.replace_range(fix.span.start as usize..fix.span.end as usize, &fix.text);
                    let mut after = fieldsheaf::ground::Findings::default();
                    let world = crate::support::shelf::Shelf::new().with("plan.toml", mended);
                    let mut records = source::read(&world, "plan.toml", &mut after).unwrap();
                    plan::build(&world, &mut records, &mut after);
                    if of_values(&after).len() >= all.len() || after.iter().any(|f| f.rule.name == "syntax") {
                        faults.push(format!("{name} = {value}: {} is proposed", fix.text));
                    }
                }
                let words = format!("{} {}", finding.message, finding.help.as_deref().unwrap_or_default());
                if let Some(word) = INNER_WORDS.iter().find(|word| has_word(&words, word)) {
                    faults.push(format!("{name} = {value}: {word}: {words}"));
                }
            }
        }
    }
    assert!(refused > 2000, "{refused}");
    assert!(faults.is_empty(), "{} faults: {:#?}", faults.len(), faults.iter().take(20).collect::<Vec<_>>());
}

const CHANNEL: &str = "[[channel]]\nid = \"tac\"\nrow = 3\nname = \"TAC\"\nspoken = \"Tactical\"\nsimplex = \"146.550 MHz\"\nverified = { on = 2026-10-01, by = \"qra\" }\n";

#[test]
fn refusals_say_the_kind_and_the_range() {
    let with = |from: &str, to: &str| said(&CHANNEL.replace(from, to));
    let row = |value: &str| with("row = 3", &format!("row = {value}"));
    let range = "stands where a whole number from 1 to 999 is wanted / -";
    assert_eq!(row("70000"), [format!("bad-value 3:7 70000 {range}")]);
    assert_eq!(row("-1"), [format!("bad-value 3:7 -1 {range}")]);
    assert_eq!(row("1.5"), [format!("bad-value 3:7 1.5 {range}")]);
    assert_eq!(row("\"3\""), [format!("bad-value 3:7 text {range}")]);
    assert_eq!(row("[3]"), [format!("bad-value 3:7 a list {range}")]);
    assert_eq!(with("\"TAC\"", "[\"TAC\"]"), ["bad-value 4:8 a list stands where text to print is wanted / -"]);
    assert_eq!(with("\"TAC\"", "7"), ["bad-value 4:8 the number 7 stands where text is wanted / write \"7\""]);
    assert_eq!(
        with("\"146.550 MHz\"", "{ mhz = 146 }"),
        ["bad-value 6:11 a table stands where a frequency, or allot is wanted / -"]
    );
    assert_eq!(
        with("\"tac\"", "\"X1\""),
        ["bad-value 2:6 \"X1\" is not an id: small letters, digits and hyphens, 40 characters at most / write \"x1\""]
    );
    assert_eq!(with("\"tac\"", "\"North_County (2)\"")[0].rsplit(" / ").next(), Some("write \"north-county-2\""));
}

/// Each whole number of the format has a range of its own. Where the number tells one thing from others, the nearest one is not
/// what was meant; where it is an amount, it is.
#[test]
fn a_whole_number_is_refused_by_the_range_of_its_key() {
    let channel = |key: &str, value: &str| {
        let more = if key == "row" { String::new() } else { format!("{key} = {value}\n") };
        let row = if key == "row" { value } else { "3" };
        said(&(CHANNEL.replace("row = 3", &format!("row = {row}")) + &more))
    };
    let field = |more: &str| {
        said(&format!(
            "[[form]]\nid = \"f\"\ntitle = \"F\"\nedition = \"1\"\nline = [{{ field = [{{ label = \"A\", {more} }}] }}]\n"
        ))
    };
    let table = |share: &str| field(&format!("columns = [{{ heading = \"B\", share = {share} }}]"));
    let order = |copies: &str| {
        said(&format!(
            "[[document]]\nid = \"d\"\nkind = \"form\"\nform = \"log\"\naudience = \"public\"\ncopies = {copies}\n"
        ))
    };
    let edition = |number: &str| {
        said(&format!(
            "[edition]\nnumber = {number}\nissued = 2026-11-20\nvalid-from = 2026-12-01\nreview-by = 2027-06-01\n\
             prepared-by = \"qra\"\napproved-by = \"qra\"\n"
        ))
    };
    let cases = [
        (channel("row", "0"), "0", "1 to 999", "-"),
        (channel("row", "1000"), "1000", "1 to 999", "-"),
        (channel("time-slot", "3"), "3", "1 to 2", "-"),
        (channel("talkgroup", "16777216"), "16777216", "1 to 16777215", "-"),
        (field("number = 0"), "0", "1 to 999", "-"),
        (field("share = 13"), "13", "1 to 12", "write 12"),
        (field("share = 0"), "0", "1 to 12", "write 1"),
        (field("lines = 2001"), "2001", "1 to 2000", "write 2000"),
        (field("words = 11"), "11", "1 to 10", "write 10"),
        (field("words = 5, word-lines = 0"), "0", "1 to 2000", "write 1"),
        (field("columns = [{ heading = \"B\", share = 6 }], rows = -4"), "-4", "1 to 2000", "write 1"),
        (table("70000"), "70000", "1 to 60", "write 60"),
        (order("1001"), "1001", "1 to 1000", "write 1000"),
        (order("70000"), "70000", "1 to 1000", "write 1000"),
        (edition("0"), "0", "1 to 99999999", "-"),
    ];
    for (said, value, range, help) in cases {
        let [one] = &said[..] else { panic!("{value}, {range}: {said:?}") };
        let (_, message) = one.split_once(' ').and_then(|(_, rest)| rest.split_once(' ')).unwrap();
        assert_eq!(message, format!("{value} stands where a whole number from {range} is wanted / {help}"));
    }
}

/// What newcomers type leads to the key that is meant, and what is proposed is typed in its place.
#[test]
fn other_words_lead_to_our_keys() {
    let with = |line: &str| said(&CHANNEL.replace("verified", &format!("{line}\nverified")));
    let cases = [
        ("offset = \"-600 kHz\"", "offset", "shift"),
        ("tone = \"103.5 Hz\"", "tone", "tx-tone"),
        ("tx_tone = \"103.5 Hz\"", "tx_tone", "tx-tone"),
        ("Power = \"5 W\"", "Power", "power"),
        ("bandwidth = \"narrow\"", "bandwidth", "width"),
    ];
    for (line, typed, ours) in cases {
        assert_eq!(with(line), [format!("unknown-key 7:1 unknown key `{typed}` / write `{ours}`")], "{line}");
    }
    assert_eq!(
        with("frequency = \"146.550 MHz\""),
        ["unknown-key 7:1 unknown key `frequency` / leave it out: `simplex` is written already"]
    );
    let member = "[[member]]\nid = \"qsb\"\ncallsign = \"WZ7QSB\"\nname = \"Abel Quist\"\nconfirmed = 2026-10-01\n";
    assert_eq!(said(member)[0], "unknown-key 3:1 unknown key `callsign` / write `call`");
    let licence = member.replace("callsign", "call") + "license = \"General\"\n";
    assert_eq!(
        said(&licence),
        ["bad-value 6:11 text stands under `license`, where a list is wanted / write `class` in place of `license`"]
    );
    let place = |kind: &str| {
        said(&format!(
            "[[place]]\nid = \"hq\"\ncode = \"HQX\"\ntactical = \"Headquarters\"\nkind = \"{kind}\"\nvisited-on = 2026-10-01\n"
        ))
    };
    assert_eq!(place("eoc"), ["bad-value 5:8 unknown word \"eoc\" / write \"operations-centre\""]);
    assert_eq!(place("Hospital"), ["bad-value 5:8 unknown word \"Hospital\" / write \"hospital\""]);
    assert_eq!(said("[[site]]\nid = \"hq\"\n"), ["unknown-record 1:3 unknown record `site` / write `place`"]);
}

/// British and American spelling are one word: keys, records and words.
#[test]
fn both_spellings_are_taken() {
    let place = |kind: &str| {
        said(&format!(
            "[[place]]\nid = \"hq\"\ncode = \"HQX\"\ntactical = \"Headquarters\"\nkind = \"{kind}\"\nvisited-on = 2026-10-01\ntransmit = {{ allowed = \"roof\", agreed-by = \"Facilities\", on = 2026-10-01 }}\n"
        ))
    };
    for kind in ["blood-center", "blood-centre", "operations-center", "operations-centre"] {
        assert_eq!(place(kind), Vec::<String>::new(), "{kind}");
    }
    let member = |key: &str| {
        format!(
            "[[member]]\nid = \"qsb\"\ncall = \"WZ7QSB\"\nname = \"Abel Quist\"\nconfirmed = 2026-10-01\n{key} = [{{ service = \"amateur\", class = \"General\", expires = 2030-01-01 }}]\n"
        )
    };
    assert_eq!(said(&member("license")), Vec::<String>::new());
    assert_eq!(said(&member("licence")), Vec::<String>::new());
    let twice = member("licence") + "license = []\n";
    assert_eq!(said(&twice), ["bad-value 7:1 `license` is written twice, in two spellings / keep one of them"]);
    let neighbour = "[[neighbor]]\nname = \"Birch\"\noutput = \"146.550 MHz\"\n";
    let found = said(&(CHANNEL.to_owned() + neighbour));
    assert!(found.len() == 1 && found[0].starts_with("neighbour-on-frequency 6:11 "), "{found:?}");
}

/// A table of words is right when every line of it leads to a key, a record or a word that there is.
#[test]
fn every_line_of_the_table_leads_to_something_that_there_is() {
    let schema = plan::schema();
    let kebab = |name: &str| {
        let mut text = String::new();
        for letter in name.trim_start_matches("Written").chars() {
            if letter.is_uppercase() && !text.is_empty() {
                text.push('-');
            }
            text.extend(letter.to_lowercase());
        }
        text
    };
    let mut known: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (name, node) in schema["$defs"].as_object().unwrap() {
        let keys = node.get("properties").and_then(Value::as_object).map(|keys| keys.keys().cloned().collect());
        let consts =
            |options: &Vec<Value>| options.iter().filter_map(|o| Some(o["const"].as_str()?.to_owned())).collect();
        let words = node.get("oneOf").and_then(Value::as_array).map(consts);
        known.insert(kebab(name), keys.or(words).unwrap_or_default());
    }
    known.insert("record".to_owned(), plan::RECORD_KINDS.iter().map(|kind| (*kind).to_owned()).collect());
    let mut count = 0;
    for (section, theirs, ours) in source::aliases().filter(|(section, ..)| *section != "spelling") {
        if let Some(record) = section.strip_suffix("-text") {
            assert!(
                known[record].contains(&theirs.to_owned()) && known[record].contains(&ours.to_owned()),
                "{section}"
            );
            continue;
        }
        let keys = known.get(section).unwrap_or_else(|| panic!("no record or list `{section}`"));
        assert!(keys.contains(&ours.to_owned()), "[{section}] {theirs} = \"{ours}\"");
        assert!(!keys.contains(&theirs.to_owned()), "[{section}] {theirs} is a key itself");
        count += 1;
    }
    assert!(count > 250, "{count}");
}

/// Two names that look the same would evade every rule about names: refused where they stand, with what to type.
#[test]
fn characters_that_are_not_seen_are_refused_in_names() {
    let named = |name: &str| said(&CHANNEL.replace("\"TAC\"", &format!("\"{name}\"")));
    let unseen = [
        '\u{200b}',
        '\u{61c}',
        '\u{ad}',
        '\u{2060}',
        '\u{feff}',
        '\u{200d}',
        '\u{200e}',
        '\u{202e}',
        '\u{2066}',
        '\u{34f}',
        '\u{fe0f}',
        '\u{3164}',
        '\u{e0020}',
    ];
    for c in unseen {
        let code = format!("U+{:04X}", u32::from(c));
        let wanted = format!("bad-value 4:8 \"TA\u{fffd}C\" holds {code}, which is not seen / write \"TAC\"");
        assert_eq!(named(&format!("TA{c}C")), [wanted]);
    }
    for c in ['\u{a0}', '\u{2003}', '\u{202f}', '\u{3000}', '\u{2800}'] {
        let code = format!("U+{:04X}", u32::from(c));
        let wanted =
            format!("bad-value 4:8 \"TAC{c}1\" holds {code}, which looks like a space and is none / write \"TAC 1\"");
        assert_eq!(named(&format!("TAC{c}1")), [wanted]);
    }
    // Letters that run from right to left are letters.
    for name in ["\u{5de}\u{5e4}\u{5e7}\u{5d3}\u{5d4}", "\u{642}\u{64a}\u{627}\u{62f}\u{629}", "Caf\u{e9} 2"] {
        assert_eq!(named(name), Vec::<String>::new(), "{name}");
    }
    // In the roster, in texts that are no names, and in a list.
    let roster = "[plan]\ntitle = \"T\"\nshort = \"T\"\nteam = \"T\"\nprofile = \"us\"\ntime-zone = \"America/Denver\"\nroster = { file = \"p.csv\", columns = { name = \"Name\", call = \"Call\" } }\n";
    let world = plan_around(roster).with("p.csv", "Name,Call\nAbel\u{200b} Quist,WZ7QSB\n");
    let (files, found) = findings(&world);
    let of_roster = found.iter().find(|finding| finding.rule.name == "bad-value").unwrap();
    assert_eq!(files.place(of_roster.span), Some(("p.csv", 2, 1)));
    assert_eq!(of_roster.help.as_deref(), Some("write \"Abel Quist\""));
    let include = said(
        "[plan]\ntitle = \"T\"\nshort = \"T\"\nteam = \"T\"\nprofile = \"u\u{200b}s\"\ntime-zone = \"America/Denver\"\n",
    );
    assert_eq!(include[0], "bad-value 5:11 \"u\u{fffd}s\" holds U+200B, which is not seen / write \"us\"");
}
