//! A layout's TOML, read key by key; what is not written comes from its `base`.

use super::imprint::Imprint;
use super::layout::{
    DENSE_FLOOR, DIALLED_FLOOR, Layout, RowSet, Sizes, TEXT_FLOOR, TableLayout, TableSet, built_in, names,
};
use super::rules::{LAYOUT_BELOW_FLOOR, LAYOUT_UNREADABLE};
use crate::compose::{KINDS, tables};
use crate::formats::{Duplex, FORMATS, Format, named};
use crate::ground::{At, FileId, Files, Finding, Findings, Length, Span, nearest};
use crate::source::{
    Anything, Declared, KeySchemas, MISSING_KEY, Meant, Node, Reading, Schemas, Tried, Value, parse, record, record_of,
    schema_of,
};

/// Least distance of two writing lines, for a hand in a glove, and what is usual.
const WRITING_FLOOR: Length = Length::mm(7);
const WRITING: Length = Length::hundredths_mm(750);
/// More columns of text than this nobody reads.
const MOST_COLUMNS: u8 = 4;

type Field<T> = Option<Tried<T>>;

record! {
    /// A layout.
    struct WrittenLayout = "layout" {
        /// The built-in layout whose words count where this one has none, as `full`; nothing but what is usual when left out.
        base: Field<String>,
        /// How paper is parted, as `half`; the base's, without which it must be there, when left out.
        format: Field<String>,
        /// Whether the page lies on its side, of full and wall; the base's, or false, when left out.
        is_turned: Field<bool>,
        /// Whether what is dialled may be 8 pt (1.9 mm) and not 10.5 pt (2.5 mm); the base's, or false, when left out.
        is_dense: Field<bool>,
        /// How a sheet is turned over, so that backs lie exactly behind fronts, as `short-edge`; the format's own way when left out.
        duplex: Field<String>,
        /// White around the text, 5 mm at least, 3 mm on cards, as `12 mm`; the format's usual one when left out.
        margin: Field<Length>,
        /// White at the left, where sheets are punched, 5 mm at least, 3 mm on cards, as `12 mm`; the format's usual one, or the margin where that is more, when left out.
        binding: Field<Length>,
        /// Columns of text on pages, 4 at most, as `2`; the base's, or 1, when left out.
        columns: Field<u8>,
        /// Sections that come first, the others after them as usual, as `people`; the base's when left out.
        order: Vec<At<String>>,
        /// Sections that go on below the one before and open no panel, as `people`; the base's when left out.
        follows: Vec<At<String>>,
        /// Sections that are never parted over two panels, as `people`; the base's when left out.
        whole: Vec<At<String>>,
        /// Sections that stand in a column at the right, beside all others, whose strips are then low, as `people`; the base's when left out.
        beside: Vec<At<String>>,
        /// Sections on the last panel of a folded sheet, before how it is folded, as `set`; the base's when left out.
        back: Vec<At<String>>,
        /// What stands at the right of the title: number, and any word of the foot, as `number`; the base's, or the format's usual one, when left out.
        head: Field<Vec<At<String>>>,
        /// From line to line where one writes, 7 mm at least, as `8 mm`; the base's, or 7.5 mm, when left out.
        writing_line: Field<Length>,
        /// Sizes of text, read by [`sizes`].
        _text as "text": Option<At<Anything>>,
        /// Lines of the foot, read by [`foot`].
        _foot as "foot": Option<At<Anything>>,
        /// Tables, read by [`table`].
        _table as "table": Option<At<Anything>>,
    }

    /// Sizes of text.
    #[derive(Default)]
    struct WrittenText = "text" {
        /// Of titles, as `12 pt`; the base's or the usual one when left out.
        title: Field<Length>,
        /// Of headings, as `12 pt`; the base's or the usual one when left out.
        heading: Field<Length>,
        /// Of a row's number, as `12 pt`; the base's or the usual one when left out.
        row: Field<Length>,
        /// Of names, as `12 pt`; the base's or the usual one when left out.
        name: Field<Length>,
        /// Of what is dialled, as `12 pt`; the base's or the usual one when left out.
        dialled: Field<Length>,
        /// Of words in a table, as `12 pt`; the base's or the usual one when left out.
        word: Field<Length>,
        /// Of paragraphs, as `12 pt`; the base's or the usual one when left out.
        body: Field<Length>,
        /// Of what is small, as `12 pt`; the base's or the usual one when left out.
        small: Field<Length>,
        /// Of the foot, as `12 pt`; the base's or the usual one when left out.
        foot: Field<Length>,
    }

    /// A table.
    struct WrittenTable = "table" {
        /// The key of the table, as `contacts`; a finding asks for it when left out.
        key: Field<String>,
        /// Columns at the left of the first line of a row, as `name`; none when left out.
        left: Vec<At<String>>,
        /// Columns at the right of the first line, as `phone`; none when left out.
        right: Vec<At<String>>,
        /// Further lines of a row, or of a list's; none when left out.
        below: Vec<WrittenFootLine>,
        /// The line over the figures where some name has no room beside them; each name by itself when left out.
        above: Option<WrittenFootLine>,
        /// The table under whose columns this one's stand, as `contacts`; none when left out.
        like: Field<String>,
        /// Columns side by side, in place of lines, as `name`; lines when left out.
        grid: Vec<At<String>>,
        /// Columns side by side on close lines, in place of a grid, as `name`; lines when left out.
        list: Vec<At<String>>,
        /// Columns that get all the width that they want before the others, as `role`; none when left out.
        first: Vec<At<String>>,
    }

    /// A line of a foot or below a row.
    struct WrittenFootLine = "line-of-layout" {
        /// What stands at the left, as `code`; nothing when left out.
        left: Vec<At<String>>,
        /// What stands at the right, as `code`; nothing when left out.
        right: Vec<At<String>>,
    }
}

/// JSON Schema of a layout, from the types that read it.
#[must_use]
pub fn schema() -> serde_json::Value {
    let (mut keys, mut schemas) = (KeySchemas::default(), Schemas::default());
    WrittenLayout::describe(&mut keys, &mut schemas);
    keys.key(
        "text",
        &["Sizes of text, 7 pt at least; those of the base, or the usual ones, when left out."],
        schema_of::<WrittenText>(&mut schemas),
    );
    let line = schema_of::<WrittenFootLine>(&mut schemas);
    keys.key(
        "foot",
        &["Lines of the foot; between them they have all its six words; the format's usual ones when left out."],
        list_of(line),
    );
    let table = schema_of::<WrittenTable>(&mut schemas);
    keys.key(
        "table",
        &["Where the columns of a table stand; as its kind of document sets it when left out."],
        list_of(table),
    );
    keys.into_document("layout", WrittenLayout::DOC, schemas)
}

fn list_of(items: serde_json::Value) -> serde_json::Value {
    serde_json::json!({ "type": "array", "items": items })
}

/// Reads one table of a layout.
fn read_table<T: Meant>(node: &Node, found: &mut Findings) -> Option<T> {
    Reading::alone("layout", node.span, found, |of| record_of(node, of))
}

/// Reads a layout that comes with the program.
pub(super) fn read_built_in(name: &str, text: &str, files: &mut Files, found: &mut Findings) -> Option<Layout> {
    let id = files.add(format!("<built in>/layouts/{name}.toml"), text.to_owned());
    read(id, text, files, found)
}

/// Reads a layout. None, with findings, when something in it is wrong.
pub(super) fn read(file: FileId, text: &str, files: &mut Files, found: &mut Findings) -> Option<Layout> {
    let before = found.errors();
    let root = parse(file, text, found);
    let written = read_table::<WrittenLayout>(&root, found)?;
    let start = Span { file, start: 0, end: 0 };
    let base = match written.base {
        Some(cell) => Some(base(&cell.at()?, files, found)?),
        None => None,
    };
    let base = base.as_ref();
    let format = match (written.format, base) {
        (None, Some(base)) => Some(At::new(base.format, start)),
        (field, _) => need(field, "format", start, found).and_then(|word| format_of(&word, found)),
    }?;
    let flag = |field: Field<bool>, base: Option<bool>| {
        field.and_then(Tried::at).unwrap_or(At::new(base.unwrap_or(false), start))
    };
    let is_turned = flag(written.is_turned, base.map(|base| base.is_turned && format.value.may_turn()));
    if is_turned.value && !format.value.may_turn() {
        found.push(no_turning(format.value, is_turned.span));
    }
    let is_dense = flag(written.is_dense, base.map(|base| base.is_dense)).value;
    let sizes = sizes(&root, (start, is_dense), base.map(|base| base.sizes), found);
    let duplex = duplex(written.duplex, format.value, found);
    let margin = at_least(written.margin, ("margin", format.value.least_margin()), found);
    let margin = margin.unwrap_or(format.value.margin());
    let binding = at_least(written.binding, ("binding", format.value.least_margin()), found);
    let writing_line = at_least(written.writing_line, ("writing-line", WRITING_FLOOR), found);
    let columns = columns(written.columns, format.value, found);
    let mut keys = |field, of_base: fn(&Layout) -> &Vec<String>| match sections(field, found) {
        keys if keys.is_empty() => base.map(|base| of_base(base).clone()).unwrap_or_default(),
        keys => keys,
    };
    let order = keys(written.order, |base| &base.order);
    let follows = keys(written.follows, |base| &base.follows);
    let whole = keys(written.whole, |base| &base.whole);
    let beside = keys(written.beside, |base| &base.beside);
    let back = keys(written.back, |base| &base.back);
    let head = head(written.head, found);
    let foot = foot(&root, found);
    // Who arranges one of them keeps the number in the other; who arranges none has the base's, where that is parted alike.
    let of_base = base.filter(|base| head.is_none() && foot.is_none() && base.format.word() == format.value.word());
    let head = head.or(of_base.map(|base| base.head.clone())).unwrap_or_else(|| match foot {
        Some(_) => vec![Imprint::Number],
        None => Imprint::usual_head(format.value),
    });
    let foot = foot.or(of_base.map(|base| base.foot.clone())).unwrap_or_else(|| Imprint::usual_foot(format.value));
    let own = root.get("table").map(each).unwrap_or_default().iter().filter_map(|node| table(node, found)).collect();
    let tables = with_others(own, base, format.value);
    let layout = Layout {
        format: format.value,
        is_dense,
        is_turned: is_turned.value,
        duplex,
        margin,
        binding: binding.unwrap_or(format.value.binding().map_or(margin, |usual| usual.max(margin))),
        columns: columns.or(base.map(|base| base.columns)).unwrap_or(1),
        order,
        follows,
        whole,
        beside,
        back,
        head,
        foot,
        writing_line: writing_line.or(base.map(|base| base.writing_line)).unwrap_or(WRITING),
        is_heavy: false,
        is_close: false,
        has_close_rows: false,
        is_fillable: false,
        sizes: sizes?,
        tables: tables.into(),
    };
    (found.errors() == before).then_some(layout)
}

/// The tables of a layout, those that it does not write from its base, and those that neither writes as they are usually set.
fn with_others(own: Vec<TableLayout>, base: Option<&Layout>, format: &dyn Format) -> Vec<TableLayout> {
    let of_base = base.into_iter().flat_map(|base| base.tables.iter().cloned());
    let usual = tables().filter_map(|table| TableLayout::usual(table, format));
    let mut all = own;
    for table in of_base.chain(usual) {
        if all.iter().all(|known| known.key != table.key) {
            all.push(table);
        }
    }
    all
}

/// The built-in layout that another one is written upon.
fn base(asked: &At<String>, files: &mut Files, found: &mut Findings) -> Option<Layout> {
    let name = asked.as_str();
    let Some(text) = built_in(name) else {
        let what = format!("no built-in layout is called \"{name}\"");
        let all = names().collect::<Vec<_>>().join(", ");
        let help =
            nearest(name, names()).map_or(format!("write one of {all}"), |near| format!("did you mean \"{near}\"?"));
        found.push(Finding::new(&LAYOUT_UNREADABLE, asked.span, what).label("is no layout to build upon").help(help));
        return None;
    };
    read_built_in(name, text, files, found)
}

fn need<T>(field: Field<T>, key: &str, span: Span, found: &mut Findings) -> Option<At<T>> {
    if field.is_none() {
        let finding = Finding::new(&MISSING_KEY, span, format!("a layout has no `{key}`")).label("this part");
        found.push(finding.help(format!("add `{key} = ...`, or a `base`")));
    }
    field.and_then(Tried::at)
}

fn format_of(word: &At<String>, found: &mut Findings) -> Option<At<&'static dyn Format>> {
    let format = named(word.as_str());
    if format.is_none() {
        let what = format!("\"{}\" is no format of paper", word.value);
        let all = FORMATS.iter().map(|format| format.word()).collect::<Vec<_>>().join(", ");
        let finding = Finding::new(&LAYOUT_UNREADABLE, word.span, what).label("is no format");
        found.push(finding.help(format!("write one of {all}")));
    }
    format.map(|format| word.with(format))
}

fn no_turning(format: &dyn Format, span: Span) -> Finding {
    let what = format!("the page of the format {} lies as its folds and cuts want it", format.word());
    Finding::new(&LAYOUT_UNREADABLE, span, what).label("cannot be turned").help("leave is-turned out")
}

/// How the sheet is turned, as far as the format can be.
fn duplex(field: Field<String>, format: &dyn Format, found: &mut Findings) -> Duplex {
    let possible = format.duplex();
    let usual = possible.first().copied().unwrap_or(Duplex::Simplex);
    let Some(word) = field.and_then(Tried::at) else { return usual };
    let Some(duplex) = Duplex::named(word.as_str()) else {
        let what = format!("\"{}\" is no way to turn a sheet", word.value);
        let finding = Finding::new(&LAYOUT_UNREADABLE, word.span, what).label("is no way to turn");
        found.push(finding.help("write none, long-edge or short-edge"));
        return usual;
    };
    if !possible.contains(&duplex) {
        let what = format!("the format {} cannot be printed with duplex = \"{}\"", format.word(), duplex.word());
        let finding = Finding::new(&LAYOUT_UNREADABLE, word.span, what).label("cannot be turned so");
        found.push(finding.help("leave duplex out"));
    }
    duplex
}

/// A length that may not be less than a floor.
fn at_least(field: Field<Length>, (key, floor): (&str, Length), found: &mut Findings) -> Option<Length> {
    let length = field?.at()?;
    if length.value < floor {
        let what = format!("{key} is {}, and the floor is {floor}", length.value);
        let finding = Finding::new(&LAYOUT_BELOW_FLOOR, length.span, what).label("too little");
        found.push(finding.help(format!("write \"{} mm\" or more", floor.as_grains() / Length::mm(1).as_grains())));
    }
    Some(length.value)
}

fn columns(field: Field<u8>, format: &dyn Format, found: &mut Findings) -> Option<u8> {
    let columns = field?.at()?;
    let most = if format.has_panels() { 1 } else { MOST_COLUMNS };
    if !(1..=most).contains(&columns.value) {
        let what = format!("{} columns of text, where the format {} has 1 to {most}", columns.value, format.word());
        found.push(Finding::new(&LAYOUT_UNREADABLE, columns.span, what).label("cannot be set"));
    }
    Some(columns.value)
}

fn sizes(root: &Node, (start, is_dense): (Span, bool), base: Option<Sizes>, found: &mut Findings) -> Option<Sizes> {
    let node = root.get("text");
    if node.is_none() && base.is_none() {
        found.push(
            Finding::new(&MISSING_KEY, start, "a layout has no `[text]`").help("add the sizes of text, or a `base`"),
        );
        return None;
    }
    let written = match node {
        Some(node) => read_table::<WrittenText>(node, found)?,
        None => WrittenText::default(),
    };
    let span = node.map_or(start, |node| node.span);
    let mut size = |field: Field<Length>, of_base: Option<Length>, (key, floor): (&str, Length)| {
        let size = match (field, of_base) {
            (None, Some(size)) => At::new(size, span),
            (field, _) => need(field, key, span, found)?,
        };
        if size.value >= floor {
            return Some(size.value);
        }
        let what = format!("{key} is {:.1} pt, and the floor is {:.1} pt", size.value.to_pt(), floor.to_pt());
        let finding = Finding::new(&LAYOUT_BELOW_FLOOR, size.span, what).label("too small to read");
        found.push(finding.help(format!("write \"{:.1} pt\" or more", floor.to_pt())));
        None
    };
    let floor = if is_dense { DENSE_FLOOR } else { DIALLED_FLOOR };
    let dialled = size(written.dialled, base.map(|base| base.dialled), ("dialled", floor));
    let mut text = |field, of_base, key| size(field, of_base, (key, TEXT_FLOOR));
    let title = text(written.title, base.map(|base| base.title), "title");
    let heading = text(written.heading, base.map(|base| base.heading), "heading");
    let number = text(written.row, base.map(|base| base.number), "row");
    let name = text(written.name, base.map(|base| base.name), "name");
    let word = text(written.word, base.map(|base| base.word), "word");
    let body = text(written.body, base.map(|base| base.body), "body");
    let small = text(written.small, base.map(|base| base.small), "small");
    let foot = text(written.foot, base.map(|base| base.foot), "foot");
    Some(Sizes {
        title: title?,
        heading: heading?,
        number: number?,
        name: name?,
        dialled: dialled?,
        word: word?,
        body: body?,
        small: small?,
        foot: foot?,
    })
}

/// Keys of sections, each of which some kind of document has.
fn sections(written: Vec<At<String>>, found: &mut Findings) -> Vec<String> {
    let known = || KINDS.iter().flat_map(|kind| kind.sections).copied();
    let mut keys = Vec::new();
    for key in written {
        misspelt(&key, "section", known(), found);
        keys.push(key.value);
    }
    keys
}

/// What a head or a foot says, by the words of the layout, of what it can say.
fn said(words: Vec<At<String>>, what: &str, can: &[(Imprint, &str)], found: &mut Findings) -> Vec<Imprint> {
    let mut all = Vec::new();
    for word in words {
        misspelt(&word, what, can.iter().map(|(_, name)| *name), found);
        all.extend(can.iter().filter(|(_, name)| *name == word.as_str()).map(|(said, _)| *said));
    }
    all
}

/// What stands beside a panel's title: its number at least, or nobody could put dropped cards in order.
fn head(field: Field<Vec<At<String>>>, found: &mut Findings) -> Option<Vec<Imprint>> {
    let span = field.as_ref()?.span;
    let said = said(field?.value.unwrap_or_default(), "part of a head", &Imprint::ALL, found);
    if !said.contains(&Imprint::Number) {
        found.push(left_out("head", "number", span));
    }
    Some(said)
}

/// The lines of the foot. They may be arranged, but say all that two stations compare.
fn foot(root: &Node, found: &mut Findings) -> Option<Vec<Vec<Vec<Imprint>>>> {
    let node = root.get("foot")?;
    let can: Vec<(Imprint, &str)> = Imprint::of_foot().collect();
    let mut lines = Vec::new();
    for node in each(node) {
        let WrittenFootLine { left, right } = read_table(node, found)?;
        let mut side = |words| said(words, "part of a foot", &can, found);
        lines.push(vec![side(left), side(right)]);
    }
    let all: Vec<Imprint> = lines.iter().flatten().flatten().copied().collect();
    for (part, word) in can {
        if part.is_missed(&all) {
            found.push(left_out("foot", word, node.span));
        }
    }
    Some(lines)
}

/// The records of a list; a single one written as `[foot]` in place of `[[foot]]` is meant the same.
fn each(node: &Node) -> &[Node] {
    if let Value::List(nodes) = &node.value { nodes } else { std::slice::from_ref(node) }
}

fn left_out(place: &str, word: &str, span: Span) -> Finding {
    let what = format!("the {place} of this layout leaves out `{word}`");
    Finding::new(&LAYOUT_UNREADABLE, span, what).label("this part").help(format!("add \"{word}\" to it"))
}

fn words(written: Vec<At<String>>) -> Vec<String> {
    written.into_iter().map(|word| word.value).collect()
}

/// Reports a word that none of the known ones is.
fn misspelt<'a>(word: &At<String>, what: &str, known: impl Iterator<Item = &'a str> + Clone, found: &mut Findings) {
    if known.clone().any(|name| name == word.as_str()) {
        return;
    }
    let finding = Finding::new(&LAYOUT_UNREADABLE, word.span, format!("no {what} is called \"{}\"", word.value));
    let help =
        nearest(word.as_str(), known).map_or("leave it out".to_owned(), |near| format!("did you mean \"{near}\"?"));
    found.push(finding.label(format!("is no {what}")).help(help));
}

/// A table of some kind of document, and columns that it has.
fn table(node: &Node, found: &mut Findings) -> Option<TableLayout> {
    let written = read_table::<WrittenTable>(node, found)?;
    let key = need(written.key.clone(), "key", node.span, found)?;
    misspelt(&key, "table", tables().map(|table| table.key), found);
    if let Some(known) = tables().find(|table| table.key == key.as_str()) {
        let lines = written.below.iter().chain(&written.above).flat_map(|line| [&line.left, &line.right]);
        let lists =
            [&written.left, &written.right, &written.grid, &written.list, &written.first].into_iter().chain(lines);
        for column in lists.flatten() {
            misspelt(column, "column", known.columns.iter().map(|column| column.key), found);
        }
    }
    if let Some(like) = written.like.clone().and_then(Tried::at) {
        misspelt(&like, "table", tables().map(|table| table.key), found);
    }
    let key = key.value;
    let grid = words(written.grid);
    if !grid.is_empty() {
        return Some(TableLayout { key, set: TableSet::Grid { columns: grid, first: words(written.first) } });
    }
    let line = |line: WrittenFootLine| (words(line.left), words(line.right));
    let list = words(written.list);
    if !list.is_empty() {
        let below = written.below.into_iter().map(line).flat_map(|(left, right)| left.into_iter().chain(right));
        return Some(TableLayout { key, set: TableSet::List { columns: list, below: below.collect() } });
    }
    let set = RowSet {
        left: words(written.left),
        right: words(written.right),
        below: written.below.into_iter().map(line).collect(),
        above: written.above.map(line).unwrap_or_default(),
        like: written.like.and_then(Tried::at).map(|key| key.value),
    };
    Some(TableLayout { key, set: TableSet::Rows(set) })
}
