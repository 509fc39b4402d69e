//! One canonical text for one content: whatever changes on a sheet changes the text, on every kind of document of the county and on
//! thousands of small documents that are as alike as they can be.

use crate::support::every::{county, orders};
use fieldsheaf::compose::block::{
    Arrows, Block, Cell, CellHalf, Column, Document, FieldBlock, FieldLine, FlagSign, Folding, Foot, FormBlock, Front,
    Join, LaneForm, Legend, LegendEntry, Matrix, MatrixCell, MatrixColumn, MatrixRow, Notice, Paragraph, Role, Row,
    Run, Sample, Saying, Section, Shade, Sign, Strip, StripCell, StripFlag, StripGap, StripLane, StripScale, Symbol,
    Table, Text, Tick, TreeBlock, TreeGuard, TreeNode, WordEntry, WordList,
};
use fieldsheaf::compose::{Frozen, KINDS, shared_document};
use fieldsheaf::edition::{canonical, hash};
use fieldsheaf::ground::{At, Findings, Span};
use fieldsheaf::plan::{FieldColumn, FieldRoom};
use std::collections::{BTreeMap, BTreeSet};

const RULES: &str = "rules";

fn text(document: &Document) -> String {
    canonical(document, RULES).unwrap()
}

/// One document of each kind, and of each form, composed from the county without a holder.
fn documents() -> Vec<Document> {
    let world = county(&orders("team", ""));
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let profile = fieldsheaf::tables::Tables::built_in().profile("us").cloned();
    let tasks = fieldsheaf::compose::tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found).unwrap();
    let rules = fieldsheaf::rules();
    let frozen = Frozen {
        findings: &found,
        files: &records.files,
        rules: &rules,
        without_rows: &[],
        since: &fieldsheaf::compose::Since::default(),
    };
    let keys: BTreeMap<_, _> = tasks.iter().map(|task| (task.shared_key().clone(), task)).collect();
    keys.values().map(|task| shared_document(&checked, task, Some(&frozen))).collect()
}

/// A part of a document that a reader sees.
enum Part<'a> {
    Words(&'a mut String),
    Text(&'a mut Text),
    Long(&'a mut i64),
    Short(&'a mut u8),
    Count(&'a mut u16),
    Shade(&'a mut Shade),
    FlagSign(&'a mut FlagSign),
    Form(&'a mut LaneForm),
    Arrows(&'a mut Arrows),
    Half(&'a mut Option<CellHalf>),
    Sample(&'a mut Sample),
    Flag(&'a mut bool),
    Sign(&'a mut Sign),
}

/// Changes a part a little.
fn turn(part: Part<'_>) {
    match part {
        Part::Words(words) => words.push('#'),
        // The number of the edition stands beside the content: what comes behind it does not.
        Part::Text(text) => text.runs.push(Text::own("#").runs.remove(0)),
        Part::Long(number) => *number ^= 1,
        Part::Short(number) => *number ^= 1,
        Part::Count(number) => *number ^= 1,
        Part::Shade(shade) => *shade = if *shade == Shade::Closed { Shade::Open } else { Shade::Closed },
        Part::Flag(flag) => *flag = !*flag,
        Part::Sign(sign) => *sign = if *sign == Sign::Ring { Sign::Dot } else { Sign::Ring },
        Part::FlagSign(sign) => *sign = if *sign == FlagSign::Bar { FlagSign::Filled } else { FlagSign::Bar },
        Part::Form(form) => *form = if *form == LaneForm::Bar { LaneForm::Ribbon } else { LaneForm::Bar },
        Part::Arrows(arrows) => *arrows = if *arrows == Arrows::Up { Arrows::Down } else { Arrows::Up },
        Part::Half(half) => *half = if half.is_none() { Some(CellHalf::Lower) } else { None },
        Part::Sample(sample) => *sample = if *sample == Sample::Bar { Sample::Join } else { Sample::Bar },
    }
}

/// Shows every part of a document to `on`, in order.
fn visit(document: &mut Document, on: &mut dyn FnMut(Part<'_>)) {
    on(Part::Words(&mut document.title));
    on(Part::Text(&mut document.foot.edition));
    on(Part::Words(&mut document.foot.audience));
    document.once.iter_mut().for_each(|text| on(Part::Text(text)));
    for section in &mut document.sections {
        on(Part::Text(&mut section.title));
        section.blocks.iter_mut().for_each(|block| visit_block(block, on));
    }
}

fn visit_block(block: &mut Block, on: &mut dyn FnMut(Part<'_>)) {
    match block {
        Block::Heading(text) => on(Part::Text(text)),
        Block::Paragraph(paragraph) => on(Part::Text(&mut paragraph.text)),
        Block::Symbol(symbol) => {
            on(Part::Text(&mut symbol.payload));
            on(Part::Text(&mut symbol.caption));
        }
        Block::Table(table) => {
            if table.rows.is_empty() {
                on(Part::Text(&mut table.when_empty));
            }
            table.said.iter_mut().for_each(|text| on(Part::Text(text)));
            for row in &mut table.rows {
                on(Part::Words(&mut row.label));
                for (_, cell) in &mut row.cells {
                    on(Part::Text(&mut cell.text));
                    cell.base.iter_mut().for_each(|base| on(Part::Words(base)));
                }
            }
        }
        Block::Form(form) => {
            for line in &mut form.lines {
                line.title.iter_mut().for_each(|title| on(Part::Text(title)));
                on(Part::Flag(&mut line.is_added));
                line.fields.iter_mut().for_each(|field| visit_field(field, on));
            }
        }
        // Where its arrow points is said in its lines as well.
        Block::Notice(Notice { words, lines, arrow: _ }) => {
            std::iter::once(words).chain(lines).for_each(|text| on(Part::Text(text)));
        }
        Block::Folding(Folding { format: _, words }) => on(Part::Text(words)),
        Block::Matrix(matrix) => visit_matrix(matrix, on),
        Block::Tree(TreeBlock { key: _, nodes }) => {
            for node in nodes {
                on(Part::Text(&mut node.name));
                on(Part::Count(&mut node.level));
                node.lines.iter_mut().chain(&mut node.beside).for_each(|text| on(Part::Text(text)));
                if let Some(TreeGuard { short, words }) = &mut node.on_line {
                    on(Part::Text(short));
                    on(Part::Text(words));
                }
            }
        }
        Block::Strip(strip) => visit_strip(strip, on),
        Block::Front(Front { name, edition, title, dates, read_first, code: _, holder, beside, lines }) => {
            let said = [name, edition, title, dates, read_first, holder, beside];
            said.into_iter().chain(lines).for_each(|text| on(Part::Text(text)));
        }
        Block::WordList(WordList { columns }) => {
            for WordEntry { word, meaning } in columns.iter_mut().flatten() {
                on(Part::Text(word));
                on(Part::Text(meaning));
            }
        }
        Block::Legend(legend) => {
            for entry in &mut legend.entries {
                on(Part::Text(&mut entry.words));
                on(Part::Sample(&mut entry.sample));
            }
        }
    }
}

fn visit_matrix(matrix: &mut Matrix, on: &mut dyn FnMut(Part<'_>)) {
    for column in &mut matrix.columns {
        on(Part::Words(&mut column.number));
        on(Part::Text(&mut column.name));
        column.lines.iter_mut().for_each(|line| on(Part::Text(line)));
    }
    for row in &mut matrix.rows {
        on(Part::Words(&mut row.label));
        on(Part::Flag(&mut row.begins));
        row.head.iter_mut().chain(&mut row.notes).for_each(|text| on(Part::Text(text)));
        for cell in &mut row.cells {
            match cell {
                MatrixCell::Sign(sign) => on(Part::Sign(sign)),
                MatrixCell::Words(words) => on(Part::Text(words)),
            }
        }
    }
    matrix.counted.iter_mut().for_each(|sign| on(Part::Sign(sign)));
    on(Part::Text(&mut matrix.counts));
    for (sign, words) in &mut matrix.legend {
        sign.iter_mut().for_each(|sign| on(Part::Sign(sign)));
        on(Part::Text(words));
    }
}

fn visit_field(field: &mut FieldBlock, on: &mut dyn FnMut(Part<'_>)) {
    on(Part::Text(&mut field.label));
    on(Part::Short(&mut field.share));
    field.help.iter_mut().chain(&mut field.filled).for_each(|text| on(Part::Text(text)));
    field.number.iter_mut().for_each(|number| on(Part::Words(number)));
    for cell in field.cells.iter_mut().flatten().flatten() {
        on(Part::Text(&mut cell.text));
    }
    // How high a row is, is no content; labels, records and cells of a table stand among the cells of the field.
    let FieldRoom { kind: _, printed, boxes, meanings, rows, rows_key: _, is_filling, least: _, .. } = &mut field.room;
    boxes.iter_mut().chain(meanings).for_each(|words| on(Part::Words(words)));
    on(Part::Words(printed));
    on(Part::Count(rows));
    on(Part::Flag(is_filling));
    let FieldRoom { at_end, end_boxes, words, columns, row_labels: _, rows_from: _, .. } = &mut field.room;
    on(Part::Words(at_end));
    end_boxes.iter_mut().for_each(|words| on(Part::Words(words)));
    on(Part::Short(words));
    for FieldColumn { heading, share, boxes, cells: _, is_summed, from: _ } in columns {
        on(Part::Words(heading));
        on(Part::Short(share));
        boxes.iter_mut().for_each(|words| on(Part::Words(words)));
        on(Part::Flag(is_summed));
    }
    let FieldRoom { is_numbered, is_continued, .. } = &mut field.room;
    on(Part::Flag(is_numbered));
    on(Part::Flag(is_continued));
}

fn visit_strip(strip: &mut Strip, on: &mut dyn FnMut(Part<'_>)) {
    on(Part::Words(&mut strip.key));
    on(Part::Text(&mut strip.title));
    strip.notes.iter_mut().for_each(|note| on(Part::Text(note)));
    on(Part::Text(&mut strip.crowded));
    on(Part::Words(&mut strip.unit));
    on(Part::Long(&mut strip.low));
    on(Part::Long(&mut strip.high));
    on(Part::Flag(&mut strip.is_even));
    on(Part::Words(&mut strip.join_name));
    for gap in &mut strip.gaps {
        on(Part::Long(&mut gap.from));
        on(Part::Long(&mut gap.to));
    }
    if let Some(scale) = &mut strip.scale {
        on(Part::Long(&mut scale.values));
        on(Part::Short(&mut scale.breaks));
    }
    for tick in &mut strip.ticks {
        on(Part::Long(&mut tick.at));
        on(Part::Flag(&mut tick.is_middle));
        tick.label.iter_mut().for_each(|label| on(Part::Words(label)));
    }
    for flag in &mut strip.flags {
        on(Part::Words(&mut flag.number));
        [&mut flag.name, &mut flag.figure, &mut flag.word, &mut flag.detail]
            .into_iter()
            .for_each(|text| on(Part::Text(text)));
        [&mut flag.at, &mut flag.from, &mut flag.to].into_iter().for_each(|value| on(Part::Long(value)));
        on(Part::FlagSign(&mut flag.sign));
    }
    for join in &mut strip.joins {
        [&mut join.name, &mut join.figure, &mut join.shift].into_iter().for_each(|text| on(Part::Text(text)));
        on(Part::Long(&mut join.down));
        on(Part::Long(&mut join.up));
    }
    for saying in &mut strip.sayings {
        on(Part::Text(&mut saying.words));
        on(Part::Long(&mut saying.from));
        on(Part::Long(&mut saying.to));
    }
    for lane in &mut strip.lanes {
        on(Part::Words(&mut lane.name));
        on(Part::Form(&mut lane.form));
        for cell in &mut lane.cells {
            on(Part::Text(&mut cell.label));
            on(Part::Long(&mut cell.from));
            on(Part::Long(&mut cell.to));
            on(Part::Shade(&mut cell.shade));
            on(Part::Arrows(&mut cell.arrows));
            on(Part::Half(&mut cell.half));
        }
    }
}

/// Turns the part at a place; gives how many parts there are.
fn turned(document: &mut Document, place: usize) -> usize {
    let mut count = 0;
    visit(document, &mut |part| {
        if count == place {
            turn(part);
        }
        count += 1;
    });
    count
}

/// Every text that was seen, by its hash, with the document that it is of: no two have one.
#[derive(Default)]
struct Seen(BTreeMap<[u8; 32], String>);

impl Seen {
    fn first(&mut self, document: &Document, what: &str) {
        let what = format!("{}, {what}", document.kind);
        if let Some(other) = self.0.insert(hash(&text(document)), what.clone()) {
            panic!("one text for {other} and for {what}");
        }
    }
}

#[test]
fn whatever_is_changed_on_a_sheet_of_the_county_changes_its_text() {
    let documents = documents();
    let kinds: BTreeSet<&str> = documents.iter().map(|document| document.kind).collect();
    assert_eq!(kinds, KINDS.iter().map(|kind| kind.name).collect(), "every kind");
    let mut seen = Seen::default();
    let mut parts = 0;
    for document in documents {
        seen.first(&document, &document.title);
        let count = turned(&mut document.clone(), usize::MAX);
        for place in 0..count {
            let mut other = document.clone();
            turned(&mut other, place);
            seen.first(&other, &format!("part {place}"));
        }
        parts += count;
    }
    assert!(parts > 2000, "{parts} parts");
}

#[test]
fn what_changes_places_on_a_sheet_of_the_county_changes_its_text() {
    let mut swaps = 0;
    for document in documents() {
        let original = text(&document);
        let mut differs = |other: Document, what: String| {
            swaps += 1;
            assert_ne!(text(&other), original, "{}: {what}", document.kind);
        };
        for (number, section) in document.sections.iter().enumerate() {
            if number > 0 && said(&document.sections[number - 1]) != said(section) {
                let mut other = document.clone();
                other.sections.swap(number - 1, number);
                differs(other, format!("section {number}"));
            }
            for (place, block) in section.blocks.iter().enumerate() {
                if place > 0 && section.blocks[place - 1] != *block {
                    let mut other = document.clone();
                    other.sections[number].blocks.swap(place - 1, place);
                    differs(other, format!("block {place} of section {number}"));
                }
                let Block::Table(table) = block else { continue };
                for (row, column, cell) in cells(table) {
                    let mut other = document.clone();
                    let Block::Table(turned) = &mut other.sections[number].blocks[place] else { continue };
                    let below = turned.rows[row + 1].cells.iter_mut().find(|(key, _)| *key == column);
                    let Some((_, below)) = below.filter(|(_, below)| below.text.words() != cell.text.words()) else {
                        continue;
                    };
                    let here = std::mem::replace(below, cell.clone());
                    turned.rows[row].cells.iter_mut().find(|(key, _)| *key == column).unwrap().1 = here;
                    differs(other, format!("{column} of rows {row} and {}", row + 1));
                }
            }
        }
    }
    assert!(swaps > 500, "{swaps} swaps");
}

/// The cells of a table that have one below, with row and column.
fn cells(table: &Table) -> impl Iterator<Item = (usize, &'static str, &Cell)> {
    let last = table.rows.len().saturating_sub(1);
    let rows = table.rows.iter().take(last).enumerate();
    rows.flat_map(|(row, cells)| cells.cells.iter().map(move |(column, cell)| (row, *column, cell)))
}

fn said(section: &Section) -> String {
    format!("{} {}", section.title.words(), section.blocks.len())
}

/// Numbers that look random and are the same on every run: Knuth's MMIX generator.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % limit
    }

    fn word(&mut self) -> String {
        const WORDS: [&str; 12] =
            ["", "a", "b", "a\tb", "\\e", "e", "\\", "a\nonce/1\tb", "\r", "section/1/title", " | ", "é"];
        WORDS[self.below(WORDS.len())].to_owned()
    }

    fn text(&mut self) -> Text {
        let run = |dice: &mut Self| Run { is_of_edition: dice.below(6) == 0, ..Text::own(dice.word()).runs.remove(0) };
        Text { runs: (0..self.below(3)).map(|_| run(self)).collect(), span: Span::NOWHERE }
    }

    fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        (self.below(2) == 0).then(|| make(self))
    }

    fn few<T>(&mut self, make: impl Fn(&mut Self) -> T) -> Vec<T> {
        (0..self.below(3)).map(|_| make(self)).collect()
    }

    fn long(&mut self) -> i64 {
        i64::try_from(self.below(12)).unwrap()
    }

    fn short(&mut self) -> u8 {
        u8::try_from(self.below(3)).unwrap()
    }

    fn key(&mut self) -> &'static str {
        ["title", "row", "value"][self.below(3)]
    }

    fn document(&mut self) -> Document {
        Document {
            kind: self.key(),
            stem: String::new(),
            title: self.word(),
            language: String::new(),
            layout: At::new(String::new(), Span::NOWHERE),
            variant: None,
            paper: "letter",
            copies: 1,
            foot: Foot {
                edition: self.text(),
                audience: self.word(),
                holder: self.maybe(Self::word),
                ..Foot::default()
            },
            once: self.few(Self::text),
            sections: self.few(|dice| Section { key: dice.key(), title: dice.text(), blocks: dice.few(Self::block) }),
        }
    }

    fn block(&mut self) -> Block {
        match self.below(12) {
            10 => Block::Tree(self.tree()),
            8 => Block::Matrix(self.matrix()),
            9 => Block::Legend(Legend {
                entries: self.few(|dice| {
                    let sample =
                        [Sample::Bar, Sample::Shade(Shade::Closed), Sample::Arrows(Arrows::Both)][dice.below(3)];
                    LegendEntry { sample, words: dice.text() }
                }),
            }),
            0 => Block::Heading(self.text()),
            1 => Block::Paragraph(Paragraph { text: self.text(), role: Role::Body }),
            2 => Block::Symbol(Symbol { payload: self.text(), caption: self.text() }),
            3 => Block::Table(self.table()),
            6 => Block::Front(self.front()),
            7 => Block::WordList(WordList {
                columns: vec![self.few(|dice| WordEntry { word: dice.text(), meaning: dice.text() })],
            }),
            4 => Block::Form(FormBlock { lines: self.few(|dice| dice.field_line()) }),
            _ => self.strip().block(),
        }
    }

    fn sign(&mut self) -> Sign {
        [Sign::Filled, Sign::Ring, Sign::Dot, Sign::Dash][self.below(4)]
    }

    fn tree(&mut self) -> TreeBlock {
        let node = |dice: &mut Self| TreeNode {
            level: u16::try_from(dice.below(3)).unwrap(),
            name: dice.text(),
            lines: dice.few(Self::text),
            on_line: dice.maybe(|dice| TreeGuard { short: dice.text(), words: dice.text() }),
            beside: dice.few(Self::text),
            record: None,
            span: Span::NOWHERE,
        };
        TreeBlock { key: self.key(), nodes: self.few(node) }
    }

    fn matrix(&mut self) -> Matrix {
        let cell = |dice: &mut Self| match dice.below(2) {
            0 => MatrixCell::Sign(dice.sign()),
            _ => MatrixCell::Words(dice.text()),
        };
        Matrix {
            key: self.key(),
            heads: self.few(|dice| ["", "a"][dice.below(2)]),
            columns: self.few(|dice| MatrixColumn {
                number: dice.word(),
                name: dice.text(),
                lines: dice.few(Self::text),
            }),
            rows: self.few(|dice| MatrixRow {
                label: dice.word(),
                head: dice.few(Self::text),
                cells: dice.few(cell),
                notes: dice.few(Self::text),
                begins: dice.below(2) == 0,
                record: None,
                span: Span::NOWHERE,
            }),
            counted: self.few(Self::sign),
            counts: self.text(),
            legend: self.few(|dice| (dice.maybe(Self::sign), dice.text())),
        }
    }

    fn front(&mut self) -> Front {
        Front {
            name: self.text(),
            edition: self.text(),
            title: self.text(),
            dates: self.text(),
            read_first: self.text(),
            code: None,
            holder: self.text(),
            beside: self.text(),
            lines: self.few(Self::text),
        }
    }

    fn table(&mut self) -> Table {
        let column = |key| Column::must(key, ["", "a"][usize::from(key == "row")], Role::Body);
        let rows = self.few(|dice| {
            let cell = |dice: &mut Self| Cell { text: dice.text(), role: Role::Body, base: dice.maybe(Self::word) };
            let cells = ["row", "value"].into_iter().filter_map(|key| Some((key, dice.maybe(cell)?))).collect();
            Row { label: dice.word(), record: None, span: Span::NOWHERE, cells }
        });
        let columns = ["row", "value"].into_iter().filter(|_| self.below(2) == 0).map(column).collect();
        // What would be said without rows is no content where there are some.
        let when_empty = if rows.is_empty() { self.text() } else { Text::default() };
        let own = if rows.is_empty() || self.below(2) == 0 { Vec::new() } else { vec![0] };
        Table { key: self.key(), columns, rows, said: self.few(Self::text), said_of_next: Vec::new(), own, when_empty }
    }

    fn field_line(&mut self) -> FieldLine {
        FieldLine {
            title: self.maybe(Self::text),
            begins_page: false,
            is_added: self.below(2) == 0,
            fields: self.few(Self::field),
        }
    }

    fn field(&mut self) -> FieldBlock {
        let room = FieldRoom {
            printed: self.word(),
            meanings: self.few(Self::word),
            end_boxes: self.few(Self::word),
            at_end: self.word(),
            is_numbered: self.below(2) == 0,
            is_continued: self.below(2) == 0,
            boxes: self.few(Self::word),
            rows: u16::from(self.short()),
            is_filling: self.below(2) == 0,
            words: self.short(),
            columns: self.few(|dice| FieldColumn {
                boxes: dice.few(Self::word),
                is_summed: dice.below(2) == 0,
                ..FieldColumn::new(dice.word(), dice.short())
            }),
            ..FieldRoom::empty(self.key())
        };
        FieldBlock {
            number: self.maybe(Self::word),
            label: self.text(),
            help: self.maybe(Self::text),
            share: self.short(),
            room,
            filled: self.maybe(Self::text),
            ticked: self.few(Self::word),
            cells: self.few(|dice| {
                dice.few(|dice| dice.maybe(|dice| Cell { text: dice.text(), role: Role::Body, base: None }))
            }),
        }
    }

    fn strip(&mut self) -> Strip {
        Strip {
            key: self.word(),
            title: self.text(),
            notes: self.few(Self::text),
            crowded: self.text(),
            unit: self.word(),
            low: self.long(),
            high: self.long(),
            gaps: self.few(|dice| StripGap { from: dice.long(), to: dice.long() }),
            scale: self.maybe(|dice| StripScale { values: dice.long(), breaks: dice.short() }),
            ticks: self.few(|dice| Tick {
                at: dice.long(),
                label: dice.maybe(Self::word),
                is_middle: dice.below(2) == 0,
            }),
            is_even: self.below(2) == 0,
            flags: self.few(Self::flag),
            join_name: self.word(),
            joins: self.few(|dice| Join {
                down: dice.long(),
                up: dice.long(),
                name: dice.text(),
                figure: dice.text(),
                shift: dice.text(),
            }),
            sayings: self.few(|dice| Saying { from: dice.long(), to: dice.long(), words: dice.text() }),
            lanes: self.few(|dice| StripLane {
                name: dice.word(),
                form: [LaneForm::Ribbon, LaneForm::Bar][dice.below(2)],
                cells: dice.few(Self::strip_cell),
            }),
        }
    }

    fn flag(&mut self) -> StripFlag {
        StripFlag {
            at: self.long(),
            from: self.long(),
            to: self.long(),
            sign: [FlagSign::Bar, FlagSign::Filled, FlagSign::Dotted][self.below(3)],
            number: self.word(),
            name: self.text(),
            figure: self.text(),
            word: self.text(),
            detail: self.text(),
        }
    }

    fn strip_cell(&mut self) -> StripCell {
        StripCell {
            from: self.long(),
            to: self.long(),
            half: self.maybe(|dice| [CellHalf::Upper, CellHalf::Lower][dice.below(2)]),
            shade: [Shade::Open, Shade::Limited, Shade::Closed][self.below(3)],
            arrows: [Arrows::None, Arrows::Down, Arrows::Up, Arrows::Both][self.below(4)],
            label: self.text(),
        }
    }
}

/// A text as one run of each sort, an edition's number as a sign that no other text holds.
fn plain(text: &mut Text) {
    let runs = text.runs.iter().filter(|run| !run.text.is_empty());
    let words: String = runs.map(|run| if run.is_of_edition { "\0" } else { &*run.text }).collect();
    *text = Text::own(words.replace("\0\0", "\0"));
}

const ROUNDS: usize = 15_000;

/// Small documents of few words: many are alike, and many differ only by where a word stands.
#[test]
fn small_documents_have_one_text_where_they_are_one_and_two_where_they_are_two() {
    let mut dice = Dice(7);
    let mut by_text: BTreeMap<String, Document> = BTreeMap::new();
    let mut by_content: BTreeMap<String, String> = BTreeMap::new();
    for round in 0..ROUNDS {
        let document = match round % 4 {
            0 => dice.document(),
            // One part of a sheet at a time, so that the same comes often.
            _ => {
                let blocks = dice.few(Dice::block);
                let section = Section { key: "row", title: Text::default(), blocks };
                Document { kind: "row", sections: vec![section], ..empty() }
            }
        };
        let text = text(&document);
        let mut content = document;
        visit(&mut content, &mut |part| {
            if let Part::Text(text) = part {
                plain(text);
            }
        });
        let written = format!("{content:?}");
        assert_eq!(by_content.entry(written).or_insert_with(|| text.clone()), &text, "two texts for one content");
        let known = by_text.entry(text).or_insert_with(|| content.clone());
        assert_eq!(*known, content, "one text for two contents");
    }

    let alike = ROUNDS - by_text.len();
    assert!(by_text.len() > 5_000 && alike > 1_000, "{} contents, {alike} seen before", by_text.len());
}

fn empty() -> Document {
    let mut document = Dice(1).document();
    document.title.clear();
    document.foot = Foot::default();
    document.once.clear();
    document
}
