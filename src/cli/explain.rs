//! What a finding means, and what may be written: the rules, the keys, the kinds of documents, the layouts and profiles.

use super::reference::{ReferenceKey, ReferenceTable, tables};
use super::{CommandEnd, say};
use crate::compose::KINDS;
use crate::ground::{Failure, Rule, nearest};
use crate::tables::Tables;
use std::fmt::Write;

/// Explains one thing, or everything.
pub fn explain(name: Option<&str>, is_markdown: bool) -> Result<CommandEnd, Failure> {
    let everything = Everything::new();
    let text = match name {
        Some(name) => everything.named(name, is_markdown).ok_or_else(|| everything.unknown(name))?,
        None if is_markdown => everything.pages().iter().map(ExplainPage::markdown).collect::<Vec<_>>().join("\n"),
        None => everything.pages().iter().map(ExplainPage::plain).collect::<Vec<_>>().join("\n"),
    };
    say::out(&text).map(|()| CommandEnd::Clean)
}

/// A heading, what it is about, and a list under it.
struct ExplainPage {
    /// Empty where the page goes on with the one before.
    heading: String,
    about: String,
    /// The names of the list's columns.
    columns: Vec<&'static str>,
    rows: Vec<Vec<String>>,
}

impl ExplainPage {
    /// For a terminal: the first column in a line of its own, the others below it.
    fn plain(&self) -> String {
        let mut text = format!("{}\n", self.heading);
        wrapped(&mut text, 0, &self.about);
        for row in &self.rows {
            let mut cells = row.iter();
            put(&mut text, format_args!("\n  {}\n", cells.next().map_or("", String::as_str)));
            cells.for_each(|cell| wrapped(&mut text, 6, cell));
        }
        text
    }

    fn markdown(&self) -> String {
        let mut text = format!("## {}\n\n{}\n\n", self.heading, self.about);
        put(&mut text, format_args!("| {} |\n|{}\n", self.columns.join(" | "), "---|".repeat(self.columns.len())));
        for row in &self.rows {
            let cells: Vec<String> = row.iter().map(|cell| cell.replace('|', "\\|")).collect();
            put(&mut text, format_args!("| {} |\n", cells.join(" | ")));
        }
        text
    }
}

/// All that there is to explain.
struct Everything {
    rules: Vec<&'static Rule>,
    tables: Vec<ReferenceTable>,
}

impl Everything {
    fn new() -> Self {
        let mut all = tables(&crate::plan::schema());
        all.extend(tables(&crate::typeset::layout_schema()));
        Self { rules: crate::rules(), tables: all }
    }

    fn pages(&self) -> Vec<ExplainPage> {
        let mut pages = vec![rules(&self.rules)];
        pages.extend(self.tables.iter().map(keys));
        pages.extend([kinds(), layouts(), profiles()]);
        pages
    }

    /// What bears a name: a rule, a table, a key of one or of all tables, a kind or a layout.
    fn named(&self, name: &str, is_markdown: bool) -> Option<String> {
        if let Some(rule) = self.rules.iter().find(|rule| rule.name == name) {
            return Some(page(rule));
        }
        let mut pages: Vec<ExplainPage> = self.tables.iter().filter(|table| table.name == name).map(keys).collect();
        let (of, key) = name.rsplit_once('.').unwrap_or(("", name));
        for table in self.tables.iter().filter(|table| of.is_empty() || table.name == of) {
            let rows: Vec<&ReferenceKey> = table.keys.iter().filter(|own| own.name == key).collect();
            if !rows.is_empty() {
                pages.push(page_of(table, rows.into_iter()));
            }
        }
        for list in [kinds(), layouts(), profiles()] {
            let is_meant = |row: &Vec<String>| row.first().is_some_and(|first| first == name);
            let rows: Vec<Vec<String>> = list.rows.iter().filter(|row| is_meant(row)).cloned().collect();
            if !rows.is_empty() {
                pages.push(ExplainPage { rows, ..list });
            }
        }
        let written = pages.iter().map(if is_markdown { ExplainPage::markdown } else { ExplainPage::plain });
        (!pages.is_empty()).then(|| written.collect::<Vec<_>>().join("\n"))
    }

    fn unknown(&self, name: &str) -> Failure {
        let rules = self.rules.iter().map(|rule| rule.name);
        let tables = self.tables.iter().map(|table| table.name.as_str());
        let keys = self.tables.iter().flat_map(|table| table.keys.iter().map(|key| key.name.as_str()));
        let kinds = KINDS.iter().map(|kind| kind.name);
        let layouts = crate::tables::layouts().map(|(name, _)| name);
        let help = match nearest(name, rules.chain(tables).chain(keys).chain(kinds).chain(layouts)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`fieldsheaf explain` lists them all".to_owned(),
        };
        Failure::new(name, format!("no finding and no key is called this; {help}"))
    }
}

/// The page of one rule.
fn page(rule: &Rule) -> String {
    let waiver = if rule.waivable { "may be accepted with a reason" } else { "cannot be accepted" };
    format!(
        "{}[{}], since {}; {waiver}\n\n{}\n\nSource: {}\n",
        rule.severity.word(),
        rule.name,
        rule.since,
        rule.doc.trim(),
        rule.source
    )
}

fn rules(rules: &[&Rule]) -> ExplainPage {
    let row = |rule: &&Rule| {
        let accepted = if rule.waivable { "may be accepted" } else { "cannot be accepted" };
        let (_, doc) = rule.doc.split_once("Finds: ").unwrap_or_default();
        let finds = doc.split("\nCosts: ").next().unwrap_or_default().replace('\n', " ");
        vec![
            rule.name.to_owned(),
            format!("{}, {accepted}", rule.severity.word()),
            finds,
            format!("Source: {}", rule.source),
        ]
    };
    ExplainPage {
        heading: "Findings".to_owned(),
        about: "What is looked for. `fieldsheaf explain NAME` shows an example of each, and what is right.".to_owned(),
        columns: vec!["Finding", "Weight", "What it finds", "Source"],
        rows: rules.iter().map(row).collect(),
    }
}

fn keys(table: &ReferenceTable) -> ExplainPage {
    page_of(table, table.keys.iter())
}

fn page_of<'a>(table: &ReferenceTable, keys: impl Iterator<Item = &'a ReferenceKey>) -> ExplainPage {
    let row = |key: &ReferenceKey| {
        let left_out = match (&key.left_out, key.is_must) {
            (_, true) => "must be there".to_owned(),
            (Some(left_out), false) => format!("left out: {left_out}"),
            (None, false) => "may be left out".to_owned(),
        };
        vec![format!("{} = {}", key.name, key.example), key.takes.clone(), left_out, key.meaning.clone()]
    };
    ExplainPage {
        heading: table.heading.clone(),
        about: table.about.clone(),
        columns: vec!["Example", "Takes", "When left out", "What it says"],
        rows: keys.map(row).collect(),
    }
}

fn kinds() -> ExplainPage {
    let row = |kind: &&crate::compose::Kind| {
        vec![kind.name.to_owned(), kind.about.to_owned(), format!("usual layout: {}", kind.layout)]
    };
    ExplainPage {
        heading: "Documents".to_owned(),
        about: "The kinds that a `[[document]]` may have.".to_owned(),
        columns: vec!["Kind", "What it is", "Layout"],
        rows: KINDS.iter().map(row).collect(),
    }
}

/// The first line of a layout says what it is.
fn layouts() -> ExplainPage {
    let about = |text: &str| text.lines().next().unwrap_or_default().trim_start_matches("# ").to_owned();
    ExplainPage {
        heading: "Layouts".to_owned(),
        about: "What a `[[document]]` may name as its layout, beside a file of the plan's folder.".to_owned(),
        columns: vec!["Layout", "What it is"],
        rows: crate::tables::layouts().map(|(name, text)| vec![name.to_owned(), about(text)]).collect(),
    }
}

fn profiles() -> ExplainPage {
    let row = |profile: &std::sync::Arc<crate::tables::Profile>| {
        let classes: Vec<&str> = profile.classes.iter().map(|class| class.id.as_str()).collect();
        let width = format!("a width left out is {}", format!("{:?}", profile.usual_width).to_lowercase());
        vec![profile.id.clone(), profile.name.clone(), format!("classes: {}", classes.join(", ")), width]
    };
    ExplainPage {
        heading: "Profiles".to_owned(),
        about: "What `profile` in `[plan]` may name, beside a file of the plan's folder; classes from the lowest to the highest."
            .to_owned(),
        columns: vec!["Profile", "Country", "Classes", "Width"],
        rows: Tables::built_in().profiles.iter().map(row).collect(),
    }
}

/// Characters of a line on a terminal.
const WIDTH: usize = 80;

/// Words in lines that begin `indent` characters in.
fn wrapped(text: &mut String, indent: usize, words: &str) {
    let mut at = 0;
    for word in words.split_whitespace() {
        let length = word.chars().count();
        let goes_on = at > 0 && at + 1 + length <= WIDTH;
        match (goes_on, at) {
            (true, _) => text.push(' '),
            (false, 0) => text.extend(std::iter::repeat_n(' ', indent)),
            (false, _) => put(text, format_args!("\n{:indent$}", "")),
        }
        text.push_str(word);
        at = length + if goes_on { at + 1 } else { indent };
    }
    if at > 0 {
        text.push('\n');
    }
}

fn put(text: &mut String, words: std::fmt::Arguments<'_>) {
    // Writing to a string does not fail.
    let _ = text.write_fmt(words);
}
