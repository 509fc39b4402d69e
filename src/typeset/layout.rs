//! How a format looks: text sizes, and where the columns of each table stand. Read from TOML, the program's own and a team's.

use super::mark::Face;
use super::pen::Style;
use super::rules::{LAYOUT_BELOW_FLOOR, LAYOUT_UNREADABLE, UNKNOWN_LAYOUT};
use crate::compose::block::Role;
use crate::ground::{At, FileId, Files, Finding, Findings, Length, Span, World, nearest};
use crate::source::{Cell, MISSING_KEY, Node, Value, parse, record};
use serde::Deserialize;

/// The layouts that come with the program.
const BUILT_IN: [(&str, &str); 5] = [
    ("fold-8", include_str!("../../layouts/fold-8.toml")),
    ("card", include_str!("../../layouts/card.toml")),
    ("full", include_str!("../../layouts/full.toml")),
    ("chart", include_str!("../../layouts/chart.toml")),
    ("full-wide", include_str!("../../layouts/full-wide.toml")),
];

/// No layout needs more.
const FILE_LIMIT: u64 = 1 << 20;

/// Least size of what is dialled or keyed: 10.5 pt are figures 2.55 mm high in our typeface.
const DIALLED_FLOOR: Length = Length::twentieths_pt(210);
/// The same on a layout that declares itself dense: 8 pt, 1.94 mm.
const DENSE_FLOOR: Length = Length::twentieths_pt(160);
/// Least size of all other text.
const TEXT_FLOOR: Length = Length::pt(7);

/// How paper is parted.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Format {
    /// One sheet, one cut, eight panels.
    Fold8,
    /// ISO/IEC 7810 ID-1 cards, several on a sheet.
    Card,
    /// One panel a page.
    Full,
}

/// Sizes of text by what it is.
#[derive(Clone, Copy, Debug)]
pub struct Sizes {
    title: Length,
    heading: Length,
    slot: Length,
    name: Length,
    dialled: Length,
    word: Length,
    body: Length,
    small: Length,
    foot: Length,
}

/// A layout.
#[derive(Clone, Debug)]
pub struct Layout {
    /// How paper is parted.
    pub format: Format,
    /// Whether a full page lies on its side.
    pub is_turned: bool,
    /// Whether what is dialled may stand at 8 pt, as on the strips of a chart.
    pub is_dense: bool,
    sizes: Sizes,
    tables: Vec<TableLayout>,
}

/// Where the columns of a table stand.
#[derive(Clone, Debug)]
pub struct TableLayout {
    /// Key of the table.
    pub key: String,
    /// In rows of several lines, or in a grid.
    pub set: TableSet,
}

/// The two ways to set a table.
#[derive(Clone, Debug)]
pub enum TableSet {
    /// A first line in aligned columns, further lines below it.
    Rows {
        /// First line from the left edge.
        left: Vec<String>,
        /// First line, aligned to the right edge.
        right: Vec<String>,
        /// Further lines: what stands left, what stands right.
        below: Vec<(Vec<String>, Vec<String>)>,
    },
    /// Columns side by side, each cell broken into lines.
    Grid(Vec<String>),
}

impl TableSet {
    /// Every column that has a place.
    pub fn columns(&self) -> impl Iterator<Item = &str> {
        let (grid, rows) = match self {
            Self::Grid(columns) => (Some(columns), None),
            Self::Rows { left, right, below } => (None, Some((left, right, below))),
        };
        let below = rows.into_iter().flat_map(|(_, _, below)| below).flat_map(|(left, right)| left.iter().chain(right));
        let first = rows.into_iter().flat_map(|(left, right, _)| left.iter().chain(right));
        grid.into_iter().flatten().chain(first).chain(below).map(String::as_str)
    }
}

type Field<T> = Option<Cell<T>>;

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenLayout {
    format: Field<String>,
    is_turned: Field<bool>,
    is_dense: Field<bool>,
    #[serde(rename = "text")]
    _text: Field<serde::de::IgnoredAny>,
    #[serde(rename = "table")]
    _table: Field<serde::de::IgnoredAny>,
}

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenText {
    title: Field<Length>,
    heading: Field<Length>,
    slot: Field<Length>,
    name: Field<Length>,
    dialled: Field<Length>,
    word: Field<Length>,
    body: Field<Length>,
    small: Field<Length>,
    foot: Field<Length>,
}

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenTable {
    key: Field<String>,
    left: Field<Vec<Cell<String>>>,
    right: Field<Vec<Cell<String>>>,
    below: Field<Vec<Cell<WrittenLine>>>,
    grid: Field<Vec<Cell<String>>>,
}

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenLine {
    left: Field<Vec<Cell<String>>>,
    right: Field<Vec<Cell<String>>>,
}

/// Names of the built-in layouts.
pub fn names() -> impl Iterator<Item = &'static str> {
    BUILT_IN.iter().map(|(name, _)| *name)
}

/// The layout that a document asks for: a built-in one by its name, or a TOML file of the plan's folder.
pub fn find(asked: &At<String>, world: &dyn World, files: &mut Files, found: &mut Findings) -> Option<Layout> {
    let name = asked.as_str();
    if let Some((_, text)) = BUILT_IN.iter().find(|(known, _)| *known == name) {
        let id = files.add(format!("<built in>/layouts/{name}.toml"), (*text).to_owned());
        return read(id, text, found);
    }
    let is_file = std::path::Path::new(name).extension().is_some_and(|ending| ending == "toml");
    if !is_file {
        found.push(unknown(asked));
        return None;
    }
    let text = match world.read(name, FILE_LIMIT).map(String::from_utf8) {
        Ok(Ok(text)) => text,
        Ok(Err(_)) => return refuse(asked, "is not UTF-8 text", found),
        Err(fault) => return refuse(asked, &fault.to_string(), found),
    };
    let id = files.add(name, text.clone());
    read(id, &text, found)
}

fn unknown(asked: &At<String>) -> Finding {
    let all = names().collect::<Vec<_>>().join(", ");
    let help = match nearest(asked.as_str(), names()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("write one of {all}, or the name of a .toml file in the plan's folder"),
    };
    Finding::new(&UNKNOWN_LAYOUT, asked.span, format!("no layout is called \"{}\"", asked.value))
        .label("names no layout")
        .help(help)
}

fn refuse(asked: &At<String>, why: &str, found: &mut Findings) -> Option<Layout> {
    let what = format!("the layout file \"{}\" {why}", asked.value);
    found.push(Finding::new(&LAYOUT_UNREADABLE, asked.span, what).label("cannot be read"));
    None
}

fn read(file: FileId, text: &str, found: &mut Findings) -> Option<Layout> {
    let root = parse(file, text, found);
    let head = record::<WrittenLayout>(&root, found)?;
    let start = Span { file, start: 0, end: 0 };
    let is_dense = head.written.is_dense.and_then(Cell::at).is_some_and(|flag| flag.value);
    let sizes = sizes(&root, start, is_dense, found);
    let format = need(head.written.format, "format", start, found).and_then(|word| format_of(&word, found));
    let mut tables = Vec::new();
    if let Some(Node { value: Value::List(nodes), .. }) = root.get("table") {
        tables.extend(nodes.iter().filter_map(|node| table(node, found)));
    }
    Some(Layout {
        format: format?,
        is_dense,
        is_turned: head.written.is_turned.and_then(Cell::at).is_some_and(|flag| flag.value),
        sizes: sizes?,
        tables,
    })
}

fn need<T>(field: Field<T>, key: &str, span: Span, found: &mut Findings) -> Option<At<T>> {
    if field.is_none() {
        let finding = Finding::new(&MISSING_KEY, span, format!("a layout has no `{key}`")).label("this part");
        found.push(finding.help(format!("add `{key} = ...`")));
    }
    field.and_then(Cell::at)
}

fn format_of(word: &At<String>, found: &mut Findings) -> Option<Format> {
    match word.as_str() {
        "fold-8" => Some(Format::Fold8),
        "card" => Some(Format::Card),
        "full" => Some(Format::Full),
        other => {
            let what = format!("\"{other}\" is no format of paper");
            let finding = Finding::new(&LAYOUT_UNREADABLE, word.span, what).label("is no format");
            found.push(finding.help("write fold-8, card or full"));
            None
        }
    }
}

fn sizes(root: &Node, start: Span, is_dense: bool, found: &mut Findings) -> Option<Sizes> {
    let Some(node) = root.get("text") else {
        found.push(Finding::new(&MISSING_KEY, start, "a layout has no `[text]`").help("add the sizes of text"));
        return None;
    };
    let written = record::<WrittenText>(node, found)?.written;
    let mut size = |field: Field<Length>, key: &str, floor: Length| {
        let size = need(field, key, node.span, found)?;
        if size.value >= floor {
            return Some(size.value);
        }
        let what = format!("{key} is {:.1} pt, and the floor is {:.1} pt", size.value.to_pt(), floor.to_pt());
        let finding = Finding::new(&LAYOUT_BELOW_FLOOR, size.span, what).label("too small to read");
        found.push(finding.help(format!("write \"{:.1} pt\" or more", floor.to_pt())));
        None
    };
    let dialled = size(written.dialled, "dialled", if is_dense { DENSE_FLOOR } else { DIALLED_FLOOR });
    let mut text = |field, key| size(field, key, TEXT_FLOOR);
    let title = text(written.title, "title");
    let heading = text(written.heading, "heading");
    let slot = text(written.slot, "slot");
    let name = text(written.name, "name");
    let word = text(written.word, "word");
    let body = text(written.body, "body");
    let small = text(written.small, "small");
    let foot = text(written.foot, "foot");
    Some(Sizes {
        title: title?,
        heading: heading?,
        slot: slot?,
        name: name?,
        dialled: dialled?,
        word: word?,
        body: body?,
        small: small?,
        foot: foot?,
    })
}

fn table(node: &Node, found: &mut Findings) -> Option<TableLayout> {
    let written = record::<WrittenTable>(node, found)?.written;
    let key = need(written.key, "key", node.span, found)?.value;
    let words = |field: Field<Vec<Cell<String>>>| -> Vec<String> {
        field.and_then(|cell| cell.value).unwrap_or_default().into_iter().filter_map(|cell| cell.value).collect()
    };
    let grid = words(written.grid);
    if !grid.is_empty() {
        return Some(TableLayout { key, set: TableSet::Grid(grid) });
    }
    let lines = written.below.and_then(|cell| cell.value).unwrap_or_default();
    let below = lines.into_iter().filter_map(|cell| cell.value).map(|line| (words(line.left), words(line.right)));
    let set = TableSet::Rows { left: words(written.left), right: words(written.right), below: below.collect() };
    Some(TableLayout { key, set })
}

impl Layout {
    /// How a table is set; none when the layout does not know it.
    #[must_use]
    pub fn table(&self, key: &str) -> Option<&TableLayout> {
        self.tables.iter().find(|table| table.key == key)
    }

    /// The style of a role.
    #[must_use]
    pub(crate) fn style(&self, role: Role) -> Style {
        let sizes = &self.sizes;
        let (face, size) = match role {
            Role::Title => (Face::Bold, sizes.title),
            Role::Heading => (Face::Regular, sizes.heading),
            Role::Slot => (Face::Regular, sizes.slot),
            Role::Name => (Face::Bold, sizes.name),
            Role::Hear => (Face::Medium, sizes.dialled),
            Role::Send | Role::Tone | Role::Phone => (Face::Regular, sizes.dialled),
            Role::Word => (Face::Regular, sizes.word),
            Role::Call | Role::Body | Role::Warning => (Face::Regular, sizes.body),
            Role::Small | Role::Label => (Face::Regular, sizes.small),
            Role::Foot => (Face::Regular, sizes.foot),
            Role::FootStrong => (Face::Bold, sizes.foot),
        };
        Style { face, size, role }
    }
}

#[cfg(test)]
mod tests {
    use super::{find, names};
    use crate::ground::{At, Failure, Files, Findings, ReadFault, Span, World};

    struct Empty;
    impl World for Empty {
        fn read(&self, _: &str, _: u64) -> Result<Vec<u8>, ReadFault> {
            Err(ReadFault::Missing)
        }
        fn list(&self) -> Result<Vec<String>, Failure> {
            Ok(Vec::new())
        }
        fn today(&self) -> chrono::NaiveDate {
            chrono::NaiveDate::default()
        }
    }

    #[test]
    fn built_in_layouts_have_no_fault() {
        for name in names() {
            let (mut files, mut found) = (Files::default(), Findings::default());
            let asked = At::new(name.to_owned(), Span::NOWHERE);
            assert!(find(&asked, &Empty, &mut files, &mut found).is_some(), "{name}");
            assert_eq!(found.iter().map(|f| f.message.clone()).collect::<Vec<_>>(), Vec::<String>::new(), "{name}");
        }
    }
}
