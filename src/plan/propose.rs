//! A plan for a table that a team has: which headings are which keys, by a list of words and by what stands below them.

use super::records::RECORD_KINDS;
use crate::ground::{Decimal, Frequency, Id, Words};
use crate::source::{Glance, headings, quoted};
use crate::tables::{Tables, USUAL_PROFILE};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

/// What is proposed.
pub struct PlanProposal {
    /// The plan's root file.
    pub text: String,
    /// What could not be mapped, and what else is to be looked at; a line each.
    pub left: Vec<String>,
}

/// What the plan around the table is called, and when it begins.
pub struct Around<'a> {
    /// The folder's name.
    pub name: &'a str,
    /// The table's file.
    pub file: &'a str,
    /// Today, and the day by which it is to be looked at again.
    pub days: [chrono::NaiveDate; 2],
}

/// A sheet whose columns are understood.
struct Mapped<'a> {
    kind: &'static str,
    glance: &'a Glance,
    heading_row: usize,
    /// Keys with what is said of them.
    columns: Vec<(String, String)>,
    defaults: Vec<String>,
    /// Titles and remarks between the rows.
    skip: Vec<String>,
    /// The id of its first record.
    first: Option<Id>,
}

/// Proposes a plan. None where no sheet looks like channels, people or places.
#[must_use]
pub fn propose(glances: &[Glance], around: &Around<'_>) -> Option<PlanProposal> {
    let mut left = Vec::new();
    let mut mapped: Vec<Mapped<'_>> = Vec::new();
    for glance in glances {
        let sheet = glance.sheet.as_ref().map_or_else(|| around.file.to_owned(), |name| format!("sheet {name}"));
        match SheetSeen::of(glance).and_then(|sheet| Some((sheet.mapped()?, sheet))) {
            Some((one, _)) if mapped.iter().any(|other| other.kind == one.kind) => {
                left.push(format!("{sheet}: looks like {}s as well, and is not read", one.kind));
            }
            Some((one, read)) => {
                left.extend(read.left(&one).into_iter().map(|line| format!("{sheet}: {line}")));
                mapped.push(one);
            }
            None => left.push(format!("{sheet}: no headings of channels, people or places were found")),
        }
    }
    (!mapped.is_empty()).then(|| PlanProposal { text: text(&mapped, around), left })
}

/// A sheet with its headings and what stands below them.
struct SheetSeen<'a> {
    glance: &'a Glance,
    kind: &'static str,
    heading_row: usize,
    headings: &'a [String],
    below: Vec<&'a [String]>,
    /// What stands alone in its row, where most rows have more.
    alone: Vec<&'a str>,
}

/// How many titles between rows are proposed to be skipped; more are no titles.
const TITLES: usize = 20;

impl<'a> SheetSeen<'a> {
    /// The row of the first ten with most headings of one kind, and that kind.
    fn of(glance: &'a Glance) -> Option<Self> {
        let rows = glance.rows.iter().take(10).enumerate();
        let scored = rows.flat_map(|(at, (_, cells))| {
            ["channel", "member", "place"].map(|kind| {
                let known: BTreeSet<&str> = cells.iter().filter_map(|cell| key_of(kind, cell)).collect();
                let has_name =
                    known.iter().any(|key| ["name", "name-next", "tactical", "call", "standard"].contains(key));
                (known.len() * usize::from(has_name), at, kind)
            })
        });
        let (score, at, kind) = scored.max_by_key(|(score, at, _)| (*score, usize::MAX - at))?;
        let (_, headings) = glance.rows.get(at)?;
        let below: Vec<&[String]> = glance.rows.iter().skip(at + 1).map(|(_, cells)| cells.as_slice()).collect();
        let (lone, full): (Vec<&[String]>, Vec<&[String]>) = below.iter().partition(|row| only(row).is_some());
        let (below, lone) = if lone.len() < full.len() { (full, lone) } else { (below, Vec::new()) };
        let alone = lone.into_iter().filter_map(only).collect();
        let kind = RECORD_KINDS.iter().find(|own| **own == kind)?;
        (score >= 2).then_some(Self { glance, kind, heading_row: at, headings, below, alone })
    }

    /// What stands in a column, where something does.
    fn values(&self, column: usize) -> impl Iterator<Item = &'a str> {
        self.below.iter().filter_map(move |row| row.get(column)).map(String::as_str).filter(|text| !text.is_empty())
    }

    /// The columns by key, each the first of its key.
    fn keys(&self) -> BTreeMap<&'static str, usize> {
        let mut keys = BTreeMap::new();
        for (at, heading) in self.headings.iter().enumerate() {
            if let Some(key) = key_of(self.kind, heading) {
                keys.entry(self.beside(key, at)).or_insert(at);
            }
        }
        keys
    }

    /// A tone under a heading that stands above two columns belongs to the frequency before it.
    fn beside(&self, key: &'static str, at: usize) -> &'static str {
        if key != "tx-tone" || self.nth(at).is_none() {
            return key;
        }
        let before = self.headings.iter().take(at).rev().filter_map(|heading| key_of(self.kind, heading));
        match before.into_iter().find(|key| ["rx", "output", "tx"].contains(key)) {
            Some("rx" | "output") => "rx-tone",
            _ => key,
        }
    }

    /// Which of several columns with its heading a column is, counted from one; none where it has the heading alone.
    fn nth(&self, at: usize) -> Option<usize> {
        let heading = self.headings.get(at)?;
        let same = |headings: &[String]| headings.iter().filter(|other| *other == heading).count();
        (same(self.headings) > 1).then(|| same(self.headings.get(..=at).unwrap_or_default()))
    }

    fn mapped(&self) -> Option<Mapped<'a>> {
        let mut keys: BTreeMap<&'static str, usize> = self.keys();
        let mut defaults = Vec::new();
        match self.kind {
            "channel" => {
                self.route(&mut keys, &mut defaults)?;
                if !keys.contains_key("service") {
                    defaults.extend(self.service(&keys));
                }
            }
            "place" => {
                if !keys.contains_key("tactical") {
                    let name = keys.remove("name")?;
                    keys.insert("tactical", name);
                }
                let tactical = *keys.get("tactical")?;
                keys.entry("code").or_insert(tactical);
                if !keys.contains_key("kind") {
                    defaults.push("kind = \"other\"".to_owned());
                }
            }
            _ => {}
        }
        let next = ["name", "position"].map(|key| (key, keys.remove(next_of(key))));
        for (key, next) in next.iter().filter_map(|(key, next)| Some((*key, (*next)?))) {
            keys.entry(key).or_insert(next);
        }
        keys.retain(|key, at| self.column(key, *at, None).is_some());
        let column = |(key, at): (&&'static str, &usize)| {
            let next = next.iter().find(|(own, _)| own == key).and_then(|(_, next)| *next);
            let next = next.filter(|next| next != at);
            Some(((*key).to_owned(), self.column(key, *at, next)?))
        };
        let columns = keys.iter().filter_map(column).collect();
        let named = ["call", "name"].iter().find_map(|key| keys.get(key));
        let first = named.and_then(|at| self.values(*at).next()).and_then(Id::of_name);
        let skip = self.titles();
        Some(Mapped {
            kind: self.kind,
            glance: self.glance,
            heading_row: self.heading_row,
            columns,
            defaults,
            skip,
            first,
        })
    }

    /// What is to be skipped: texts that stand alone, once each; numbers are those of empty lines.
    fn titles(&self) -> Vec<String> {
        let titles: BTreeSet<&str> = self.alone.iter().copied().filter(|text| Decimal::parse(text).is_none()).collect();
        if titles.len() > TITLES { Vec::new() } else { titles.into_iter().map(quoted).collect() }
    }

    /// How the channels of a list name their frequencies.
    fn route(&self, keys: &mut BTreeMap<&'static str, usize>, defaults: &mut Vec<String>) -> Option<()> {
        let is_full = |at: &usize| self.values(*at).count() == self.below.len();
        let hear = keys.remove("output").or_else(|| keys.get("rx").copied());
        // A standard channel has both frequencies of its own: what it sends is no default's to say.
        let is_standard = keys.contains_key("standard");
        let Some(hear) = hear.filter(|_| !keys.contains_key("simplex")) else {
            return (is_standard || keys.contains_key("simplex")).then_some(());
        };
        let (send, shift, tone) = (keys.get("tx"), keys.get("shift"), keys.get("tx-tone"));
        // A sheet shows no plus: a number without a sign is one upwards, as far as none is as large as a frequency.
        let is_signed = |at: &usize| {
            let grains = |text: &str| Decimal::parse(text).and_then(|number| number.to_grains(1_000_000));
            let small = |text: &str| grains(text).is_some_and(|grains| grains.abs() < 50_000_000);
            self.values(*at).all(|text| text.starts_with(['+', '-', '0']) || small(text))
        };
        if send.is_some() {
            keys.insert("rx", hear);
            defaults.extend((!is_standard).then(|| "tx = \"none\"".to_owned()));
            keys.remove("shift");
        } else if let (Some(shift), Some(tone)) =
            (shift.filter(|at| is_full(at) && is_signed(at)), tone.filter(|at| is_full(at)))
        {
            let (shift, tone) = (*shift, *tone);
            keys.retain(|key, _| !["rx", "shift", "tx-tone"].contains(key));
            keys.extend([("output", hear), ("input", shift), ("tone-in", tone)]);
        } else if shift.is_some_and(is_signed) {
            keys.insert("rx", hear);
            defaults.push("shift = \"0 Hz\"".to_owned());
        } else {
            keys.retain(|key, _| !["rx", "shift"].contains(key));
            keys.insert("simplex", hear);
        }
        Some(())
    }

    /// The service that most frequencies of a list are of, where none is an amateur's, as the usual profile has them.
    fn service(&self, keys: &BTreeMap<&'static str, usize>) -> Option<String> {
        let profile = Tables::built_in().profile(USUAL_PROFILE)?;
        let at = *["rx", "output", "simplex"].into_iter().find_map(|key| keys.get(key))?;
        let unit = self.unit("rx", at)?;
        let frequency = |text: &str| Frequency::parse(&format!("{text} {unit}")).ok();
        let heard: Vec<Frequency> = self.values(at).filter_map(frequency).collect();
        if heard.iter().any(|heard| profile.bands.iter().any(|band| band.edges.has(*heard))) {
            return None;
        }
        let has = |service: &str, heard: &Frequency| {
            profile.service_channels.iter().any(|row| row.service == service && row.frequency == *heard)
        };
        let count = |service: &str| heard.iter().filter(|heard| has(service, heard)).count();
        let ids = profile.services.iter().map(|service| (count(&service.id), service.id.as_str()));
        let (_, service) = ids.filter(|(count, _)| *count > 0).max_by_key(|(count, _)| *count)?;
        Some(format!("service = \"{service}\""))
    }

    /// The unit that the bare numbers of a column have; none where it has no such.
    fn unit(&self, key: &str, at: usize) -> Option<&'static str> {
        let numbers: Vec<Decimal> = self.values(at).filter_map(Decimal::parse).collect();
        let least = |most: i64| {
            numbers
                .iter()
                .all(|number| number.to_grains(1_000_000_000).is_some_and(|n| n.abs() <= most * 1_000_000_000))
        };
        let said = self.headings.get(at).and_then(|heading| said_unit(key, heading));
        match key {
            _ if numbers.is_empty() => None,
            _ if said.is_some() => said,
            "rx" | "tx" | "output" | "simplex" => Some(if least(3000) {
                "MHz"
            } else if least(3_000_000) {
                "kHz"
            } else {
                "Hz"
            }),
            "shift" | "input" => Some(if least(50) { "MHz" } else { "kHz" }),
            "tx-tone" | "rx-tone" | "tone-in" => Some("Hz"),
            "width" => Some("kHz"),
            "power" => Some("W"),
            "elevation" => Some("m"),
            _ => None,
        }
    }

    /// Words of a column's cells that mean others of ours, each as it first stands there.
    fn words(&self, key: &str, at: usize) -> Vec<String> {
        let section = if key.contains("tone") { "tone-words".to_owned() } else { format!("{key}-words") };
        let meant = |text: &str| headings(&section).find(|(theirs, _)| *theirs == text.to_lowercase());
        let mut seen = BTreeSet::new();
        let values = self.values(at).filter_map(|text| Some((text, meant(text)?)));
        let new = values.filter(|(text, (theirs, ours))| text != ours && seen.insert(*theirs));
        new.map(|(text, (_, ours))| format!("{} = {}", quoted(text), quoted(ours))).collect()
    }

    /// A column as it is written: its heading, with a unit where its values are bare numbers, and what words in it mean. None where
    /// its values are of no use.
    fn column(&self, key: &str, at: usize, next: Option<usize>) -> Option<String> {
        let heading = quoted(self.headings.get(at)?);
        self.values(at).next()?;
        let next =
            next.and_then(|next| self.headings.get(next)).map(|next| format!(", followed-by = {}", quoted(next)));
        let next = next.unwrap_or_default();
        let nth = self.nth(at).map(|nth| format!(", nth = {nth}")).unwrap_or_default();
        let unit = self.unit(key, at).map(|unit| format!(", unit = \"{unit}\"")).unwrap_or_default();
        let words = self.words(key, at).join(", ");
        let words = if words.is_empty() { words } else { format!(", words = {{ {words} }}") };
        let is_shift = !unit.is_empty() && (key == "input" || key == "shift");
        let signed = if is_shift { ", signed = true" } else { "" };
        let more = format!("{nth}{next}{unit}{signed}{words}");
        Some(if more.is_empty() { heading } else { format!("{{ heading = {heading}{more} }}") })
    }

    /// Which rows are listened to alone, since nothing stands where the frequency to send would.
    fn listened(&self) -> Option<String> {
        let keys = self.keys();
        let (name, send) = (*keys.get("name")?, *keys.get("tx")?);
        let empty = |row: &&&[String]| row.get(send).is_none_or(String::is_empty);
        let rows: Vec<String> =
            self.below.iter().filter(empty).filter_map(|row| row.get(name)).map(|name| quoted(name)).collect();
        let shown = rows.iter().take(5).cloned().collect::<Vec<_>>().join(", ");
        let more = if rows.len() > 5 { format!(" and {} more", rows.len() - 5) } else { String::new() };
        let heading = self.headings.get(send)?;
        (!rows.is_empty()).then(|| {
            format!(
                "nothing below {}: {shown}{more} listen only; where they send, type the frequency in the table",
                quoted(heading)
            )
        })
    }

    /// What is not read, and what rests on a guess.
    fn left(&self, mapped: &Mapped<'_>) -> Vec<String> {
        let is_read = |heading: &&String| mapped.columns.iter().any(|(_, said)| said.contains(&quoted(heading)));
        let open: Vec<String> = self
            .headings
            .iter()
            .filter(|heading| !heading.is_empty() && !is_read(heading))
            .map(|text| quoted(text))
            .collect();
        let mut left = Vec::new();
        if !open.is_empty() {
            left.push(format!("not mapped: {}", open.join(", ")));
        }
        let is_said = |(key, said): &&(String, String)| {
            let own = self.headings.iter().find(|heading| said.contains(&quoted(heading)) && !heading.is_empty());
            own.and_then(|heading| said_unit(key, heading)).is_some()
        };
        let guessed = mapped.columns.iter().filter(|column| column.1.contains("unit = ") && !is_said(column));
        left.extend(guessed.map(|(key, said)| format!("numbers without a unit: `{key} = {said}`; see that it is so")));
        let service = mapped.defaults.iter().filter(|said| said.starts_with("service = "));
        left.extend(service.map(|said| format!("known frequencies of another service: `{said}`; see that it is so")));
        let worded = mapped.columns.iter().filter(|(_, said)| said.contains("words = ") && !said.contains("unit = "));
        left.extend(worded.map(|(key, said)| format!("words of its own: `{key} = {said}`; see that it is so")));
        if !mapped.skip.is_empty() {
            left.push(format!(
                "rows with one cell alone are not read: `skip = [{}]`; see that they are titles",
                mapped.skip.join(", ")
            ));
        }
        if mapped.defaults.iter().any(|said| said == "tx = \"none\"") {
            left.extend(self.listened());
        }
        left
    }
}

/// The one text of a row that has no other.
fn only(row: &[String]) -> Option<&str> {
    let mut texts = row.iter().filter(|text| !text.is_empty());
    texts.next().filter(|_| texts.next().is_none()).map(String::as_str)
}

/// How headings name the column that goes on with that of a key.
fn next_of(key: &str) -> &'static str {
    if key == "name" { "name-next" } else { "position-next" }
}

/// Units as headings name them, each with ours and the keys that take it.
const UNITS: [(&str, &str, &[&str]); 11] = [
    ("mhz", "MHz", FREQUENCIES),
    ("khz", "kHz", FREQUENCIES),
    ("hz", "Hz", &["rx", "tx", "output", "simplex", "tx-tone", "rx-tone", "tone-in"]),
    ("w", "W", &["power"]),
    ("watts", "W", &["power"]),
    ("mw", "mW", &["power"]),
    ("m", "m", &["elevation"]),
    ("meters", "m", &["elevation"]),
    ("ft", "ft", &["elevation"]),
    ("feet", "ft", &["elevation"]),
    ("ft.", "ft", &["elevation"]),
];

const FREQUENCIES: &[&str] = &["rx", "tx", "output", "simplex", "shift", "input", "width"];

/// A heading in small letters, without what parts its words.
fn plain(heading: &str) -> String {
    heading.replace(['_', '(', ')', '[', ']', '/', ','], " ").to_lowercase()
}

/// The unit that a heading says.
fn said_unit(key: &str, heading: &str) -> Option<&'static str> {
    let plain = plain(heading);
    let unit = |word: &str| UNITS.iter().find(|(text, _, keys)| *text == word && keys.contains(&key));
    plain.split_whitespace().find_map(unit).map(|(_, unit, _)| *unit)
}

fn key_of(kind: &str, heading: &str) -> Option<&'static str> {
    let plain = plain(heading);
    let known = |words: &[&str]| headings(kind).find(|(text, _)| *text == words.join(" ")).map(|(_, key)| key);
    let among = |text: &str| {
        let mut words: Vec<&str> = text.split_whitespace().collect();
        known(&words).or_else(|| {
            words.retain(|word| UNITS.iter().all(|(unit, ..)| unit != word));
            known(&words)
        })
    };
    among(&plain).or_else(|| among(&plain.replace('.', " ")))
}

fn text(mapped: &[Mapped<'_>], around: &Around<'_>) -> String {
    let title = Words::parse(around.name).map_or_else(|_| "Our plan".to_owned(), |words| words.to_string());
    let short: String = title.chars().filter(|c| c.is_alphanumeric()).take(12).collect::<String>().to_uppercase();
    let first = mapped.iter().find(|one| one.kind == "member").and_then(|one| one.first.clone());
    let who = first.as_ref().map_or("coordinator", Id::as_str);
    let [today, review] = around.days;
    let mut text = format!(
        "[plan]\ntitle = {}\nshort = {}\nteam = \"Write your team's name\"\nprofile = \"us\"\ntime-zone = \"America/Denver\"\n[edition]\nnumber = 1\nissued = {today}\nvalid-from = {today}\nreview-by = {review}\nprepared-by = \"{who}\"\napproved-by = \"{who}\"\n",
        quoted(&format!("{title} communications plan")),
        quoted(if short.is_empty() { "PLAN" } else { &short }),
    );
    for one in mapped {
        write_table(&mut text, one, around.file);
    }
    if first.is_none() {
        text += "\n[[member]]\nid = \"coordinator\"\nname = \"Write your name\"\n";
    }
    if mapped.iter().any(|one| one.kind == "channel") {
        text += "\n[[document]]\nkind = \"channel-card\"\naudience = \"team\"\n";
    }
    if first.is_some() {
        text += "[[document]]\nkind = \"contact-card\"\naudience = \"coordinator\"\n";
    }
    text
}

fn write_table(text: &mut String, one: &Mapped<'_>, file: &str) {
    let _ = write!(text, "\n[{}s]\nfile = {}\n", one.kind, quoted(file));
    if let Some(sheet) = &one.glance.sheet {
        let _ = writeln!(text, "sheet = {}", quoted(sheet));
    } else if one.glance.separator != ',' {
        let _ = writeln!(text, "separator = {}", quoted(&one.glance.separator.to_string()));
    }
    if one.heading_row > 0 {
        let number = one.glance.rows.get(one.heading_row).map_or(1, |(number, _)| *number);
        let _ = writeln!(text, "heading-row = {number}");
    }
    let columns: Vec<String> = one.columns.iter().map(|(key, said)| format!("{key} = {said}")).collect();
    let _ = writeln!(text, "columns = {{ {} }}", columns.join(", "));
    if !one.skip.is_empty() {
        let _ = writeln!(text, "skip = [{}]", one.skip.join(", "));
    }
    if !one.defaults.is_empty() {
        let _ = writeln!(text, "defaults = {{ {} }}", one.defaults.join(", "));
    }
}
