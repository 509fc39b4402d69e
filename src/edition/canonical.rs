//! A document as text in which only content counts, one text for one content.
//!
//! First line `fieldsheaf canonical 2`; then lines `path<TAB>value` in reading order, each ended by a line feed. A path is
//! made of the program's own words and of places counted from 1 (`section/1/block/2/table/row/3/hear`), so none stands twice,
//! and a part that is not there has no line, while an empty one has an empty value. A cell whose print is not its value has
//! both: the value in base units under `.../value`. Values are in Unicode NFC, a space that may not be broken as a space;
//! backslash, tab, line feed and carriage return are written `\\`, `\t`, `\n`, `\r`.
//!
//! Every part of a document is taken apart here without a rest, so that a new one does not compile until it has its line.
//!
//! Everything that is printed is content: the plan's title, a form's own edition, a day that a finding quotes on the check sheet.
//! No content: the number and the days of the edition (where one stands inside a text it is written `\e`), the code, layout,
//! paper and number of copies, how large or strong a text is, from which record it comes.

use super::canonical_lines::Lines;
use super::path::joined;
use crate::compose::block::{
    Block, Cell, Column, Document, ExerciseMark, FieldBlock, FieldLine, Folding, Foot, FormBlock, Front, Join,
    LaneForm, Legend, LegendEntry, Matrix, MatrixCell, MatrixColumn, MatrixRow, Notice, Paragraph, Row, Saying,
    Section, Strip, StripCell, StripFlag, StripGap, StripLane, StripScale, Symbol, Table, Tick, TreeBlock, TreeGuard,
    TreeNode, WordEntry, WordList,
};
use crate::ground::{Bug, on_all_threads};
use crate::plan::{FieldColumn, FieldRoom};
use sha2::{Digest, Sha256};

/// First line of every canonical text; a change of the format changes it.
pub const CANONICAL: &str = "fieldsheaf canonical 2";

/// So many sections are told on all threads.
const MANY: usize = 64;

/// The canonical text of a document under a rule set (`47 CFR Part 97 as of 2026-02-13`). A document for one holder says whose it is.
///
/// # Errors
/// When two parts of a document have one path: a bug, since then two contents could have one text.
pub fn canonical(document: &Document, rule_set: &str) -> Result<String, Bug> {
    let Document {
        kind,
        title,
        foot,
        once,
        sections,
        stem: _,
        language: _,
        layout: _,
        variant: _,
        paper: _,
        copies: _,
    } = document;
    let Foot {
        edition,
        audience,
        holder,
        copy: _,
        short_holder: _,
        shared: _,
        validity: _,
        exercise,
        invented,
        read_back: _,
        own: _,
    } = foot;
    let mut lines = Lines::after(CANONICAL);
    lines.add("rules", rule_set);
    lines.add("kind", kind);
    lines.add("title", title);
    lines.say("plan", edition);
    lines.add("audience", audience);
    if let Some(ExerciseMark { word, real }) = exercise {
        lines.add("exercise", word);
        real.iter().for_each(|words| lines.say("exercise/real", words));
    }
    invented.iter().for_each(|words| lines.add("invented", words));
    if let Some(holder) = holder {
        lines.add("holder", holder);
    }
    for (place, text) in counted(once) {
        lines.say(("once", place), text);
    }
    let told = |lines: &mut Lines, (place, section): (usize, &Section)| {
        lines.section(&joined(("section", place)), section);
    };
    let part = |section: (usize, &Section)| {
        let mut lines = Lines::default();
        told(&mut lines, section);
        lines
    };
    match sections.len() {
        // Sites of a state, each with sections of its own.
        MANY.. => {
            let parts = on_all_threads(counted(sections), MANY / 4, part);
            parts.into_iter().for_each(|part| lines.append(part));
        }
        _ => counted(sections).for_each(|section| told(&mut lines, section)),
    }
    lines.end()
}

/// SHA-256 of a canonical text, as 32 bytes.
#[must_use]
pub fn hash(canonical: &str) -> [u8; 32] {
    Sha256::digest(canonical.as_bytes()).into()
}

/// As people count.
fn counted<T>(list: &[T]) -> impl Iterator<Item = (usize, &T)> {
    (1..).zip(list)
}

impl Lines {
    fn section(&mut self, path: &str, section: &Section) {
        let Section { key, title, blocks } = section;
        self.add(path, key);
        self.say((&path, "title"), title);
        for (place, block) in counted(blocks) {
            self.block(&joined((&path, "block", place)), block);
        }
    }

    fn block(&mut self, path: &str, block: &Block) {
        match block {
            Block::Heading(text) => self.say((&path, "heading"), text),
            Block::Paragraph(Paragraph { text, role: _ }) => self.say((&path, "paragraph"), text),
            Block::Table(table) => self.table(&joined((&path, "table")), table),
            Block::Matrix(matrix) => self.matrix(&joined((&path, "matrix")), matrix),
            Block::Form(form) => self.form(&joined((&path, "form")), form),
            Block::Strip(strip) => self.strip(&joined((&path, "strip")), strip),
            Block::Tree(tree) => self.tree(&joined((&path, "tree")), tree),
            Block::Legend(legend) => self.legend(&joined((&path, "legend")), legend),
            Block::Symbol(Symbol { payload, caption }) => {
                self.say((&path, "symbol"), payload);
                self.say((&path, "symbol/caption"), caption);
            }
            Block::Front(front) => self.front(&joined((&path, "front")), front),
            Block::Notice(Notice { words, lines, arrow }) => {
                self.say((&path, "notice"), words);
                for (place, line) in counted(lines) {
                    self.say((&path, "notice", place), line);
                }
                if let Some(arrow) = arrow {
                    self.add((&path, "notice/arrow"), arrow.word());
                }
            }
            Block::Folding(Folding { format, words }) => {
                self.add((&path, "folding"), format);
                self.say((&path, "folding/words"), words);
            }
            Block::WordList(WordList { columns }) => {
                self.add((&path, "list"), "");
                for (place, WordEntry { word, meaning }) in counted(&columns.concat()) {
                    self.say((&path, "list", place), word);
                    self.say((&path, "list", place, "meaning"), meaning);
                }
            }
        }
    }

    /// Its code is no content: it is made of it.
    fn front(&mut self, path: &str, front: &Front) {
        let Front { name, edition, title, dates, read_first, code: _, holder, beside, lines } = front;
        let said = [("edition", edition), ("title", title), ("dates", dates), ("first", read_first)];
        self.say(path, name);
        for (word, text) in said.into_iter().chain([("holder", holder), ("beside", beside)]) {
            self.say((&path, word), text);
        }
        for (place, text) in counted(lines) {
            self.say((&path, "line", place), text);
        }
    }

    /// What is said instead of rows is content where there are none.
    fn table(&mut self, path: &str, table: &Table) {
        let Table { key, columns, rows, said, said_of_next: _, own, when_empty } = table;
        self.add(path, key);
        for Column { key, heading, is_must: _, role: _, align: _, is_unbroken: _, is_where_used: _ } in columns {
            let key = self.word(key);
            self.add((path, "column", key), heading);
        }
        for (place, text) in counted(said) {
            self.say((&path, "said", place), text);
        }
        for (place, row) in counted(rows) {
            self.row(&joined((&path, "row", place)), row);
        }
        for place in own {
            self.add((path, "own", place + 1), "");
        }
        if rows.is_empty() {
            self.say((&path, "empty"), when_empty);
        }
    }

    fn row(&mut self, path: &str, row: &Row) {
        let Row { label, cells, record: _, span: _ } = row;
        self.add(path, label);
        for (column, Cell { text, base, role: _ }) in cells {
            let column = self.word(column);
            self.say((path, column), text);
            if let Some(base) = base {
                self.add((path, column, "value"), base);
            }
        }
    }

    /// A sign is told by its word, so that it is no cell of the same word.
    fn matrix(&mut self, path: &str, matrix: &Matrix) {
        let Matrix { key, heads, columns, rows, counted: of, counts, legend } = matrix;
        self.add(path, key);
        for (place, words) in counted(heads) {
            self.add((&path, "head", place), words);
        }
        for (place, MatrixColumn { number, name, lines }) in counted(columns) {
            let path = joined((&path, "column", place));
            self.say(&path, name);
            self.add((&path, "number"), number);
            counted(lines).for_each(|(place, line)| self.say((&path, "line", place), line));
        }
        for (place, row) in counted(rows) {
            self.matrix_row(&joined((&path, "row", place)), row);
        }
        let of: Vec<&str> = of.iter().map(|sign| sign.word()).collect();
        self.say((&path, "counts"), counts);
        self.add((&path, "counts/of"), &of.join(" "));
        for (place, (sign, words)) in counted(legend) {
            self.say((&path, "legend", place), words);
            if let Some(sign) = sign {
                self.add((&path, "legend", place, "sign"), sign.word());
            }
        }
    }

    fn matrix_row(&mut self, path: &str, row: &MatrixRow) {
        let MatrixRow { label, head, cells, notes, begins, record: _, span: _ } = row;
        self.add(path, label);
        self.add((&path, "begins"), if *begins { "yes" } else { "no" });
        counted(head).for_each(|(place, words)| self.say((&path, "head", place), words));
        for (place, cell) in counted(cells) {
            match cell {
                MatrixCell::Sign(sign) => self.add((&path, "sign", place), sign.word()),
                MatrixCell::Words(words) => self.say((&path, "cell", place), words),
            }
        }
        counted(notes).for_each(|(place, words)| self.say((&path, "note", place), words));
    }

    fn form(&mut self, path: &str, form: &FormBlock) {
        let FormBlock { lines } = form;
        self.add(path, "");
        for (place, FieldLine { title, begins_page: _, is_added, fields }) in counted(lines) {
            let path = joined((&path, "line", place));
            self.add(&path, if *is_added { "added" } else { "" });
            title.iter().for_each(|title| self.say((&path, "title"), title));
            for (place, field) in counted(fields) {
                self.field(&joined((&path, "field", place)), field);
            }
        }
    }

    fn field(&mut self, path: &str, field: &FieldBlock) {
        let FieldBlock { number, label, help, share, room, filled, ticked, cells } = field;
        self.say(path, label);
        if let Some(number) = number {
            self.add((&path, "number"), number);
        }
        self.add((&path, "share"), &share.to_string());
        self.room(path, room);
        for (word, text) in [("help", help), ("filled", filled)] {
            if let Some(text) = text {
                self.say((&path, word), text);
            }
        }
        counted(ticked).for_each(|(place, word)| self.add((&path, "ticked", place), word));
        for (row, cells) in counted(cells) {
            for (column, cell) in counted(cells) {
                let Some(Cell { text, base, role: _ }) = cell else { continue };
                let path = joined((&path, "row", row, column));
                self.say(&path, text);
                base.iter().for_each(|base| self.add((&path, "value"), base));
            }
        }
    }

    fn room(&mut self, path: &str, room: &FieldRoom) {
        let FieldRoom {
            kind,
            printed,
            boxes,
            meanings,
            rows,
            rows_key: _,
            is_filling,
            least: _,
            at_end,
            end_boxes,
            ..
        } = room;
        // Row labels, and what is printed of records, stand among the cells of the field.
        let FieldRoom { words, columns, row_labels: _, rows_from: _, is_numbered, is_continued, .. } = room;
        let path = joined((path, self.word(kind)));
        let words = if *words > 0 { format!("{words} ") } else { String::new() };
        let rows = if *rows > 0 { rows.to_string() } else { String::new() };
        self.add(&path, &format!("{words}{rows}{}", if *is_filling { " or more" } else { "" }));
        for (place, FieldColumn { heading, share, boxes, cells: _, is_summed, from: _ }) in counted(columns) {
            self.add((&path, place), heading);
            self.add((&path, place, "share"), &share.to_string());
            for (tick, words) in counted(boxes) {
                self.add((&path, place, "tick", tick), words);
            }
            if *is_summed {
                self.add((&path, place, "total"), "");
            }
        }
        for (place, word) in counted(boxes) {
            self.add((&path, columns.len() + place), word);
        }
        for (place, words) in counted(meanings) {
            self.add((&path, "meaning", place), words);
        }
        for (place, words) in counted(end_boxes) {
            self.add((&path, "end", place), words);
        }
        let said = [("text", printed.as_str()), ("end", at_end.as_str())];
        for (word, words) in said.into_iter().filter(|(_, words)| !words.is_empty()) {
            self.add((&path, word), words);
        }
        let marks = [("numbered", *is_numbered), ("continues", *is_continued)];
        for (word, _) in marks.into_iter().filter(|(_, is_so)| *is_so) {
            self.add((&path, word), "");
        }
    }

    fn strip(&mut self, path: &str, strip: &Strip) {
        let Strip { key, title, notes, crowded, unit, low, high, gaps, scale, is_even, join_name, .. } = strip;
        let Strip { ticks, flags, joins, sayings, lanes, .. } = strip;
        self.add(path, key);
        self.say((&path, "title"), title);
        for (place, note) in counted(notes) {
            self.say((&path, "note", place), note);
        }
        self.say((&path, "crowded"), crowded);
        self.add((&path, "edges"), &format!("{low} {high} {unit}"));
        self.add((&path, "scale"), if *is_even { "even" } else { "uneven" });
        if let Some(StripScale { values, breaks }) = scale {
            self.add((&path, "scale/line"), &format!("{values} {breaks}"));
        }
        for (place, StripGap { from, to }) in counted(gaps) {
            self.add((&path, "gap", place), &format!("{from} {to}"));
        }
        for (place, Tick { at, label, is_middle }) in counted(ticks) {
            self.add((&path, "tick", place), &format!("{at}{}", if *is_middle { " middle" } else { "" }));
            if let Some(label) = label {
                self.add((&path, "tick", place, "label"), label);
            }
        }
        for (place, flag) in counted(flags) {
            self.flag(&joined((&path, "flag", place)), flag);
        }
        self.add((&path, "join"), join_name);
        for (place, Join { down, up, name, figure, shift }) in counted(joins) {
            let path = joined((&path, "join", place));
            self.add(&path, &format!("{down} {up}"));
            for (word, text) in [("name", name), ("send", figure), ("shift", shift)] {
                self.say((&path, word), text);
            }
        }
        for (place, Saying { from, to, words }) in counted(sayings) {
            self.say((&path, "saying", place), words);
            self.add((&path, "saying", place, "edges"), &format!("{from} {to}"));
        }
        for (place, StripLane { name, form, cells }) in counted(lanes) {
            let path = joined((&path, "lane", place));
            self.add(&path, name);
            self.add((&path, "form"), if *form == LaneForm::Ribbon { "ribbon" } else { "bar" });
            for (place, cell) in counted(cells) {
                self.cell(&joined((&path, place)), cell);
            }
        }
    }

    fn cell(&mut self, path: &str, cell: &StripCell) {
        let StripCell { from, to, half, shade, arrows, label } = cell;
        self.say(path, label);
        let half = half.map(|half| format!(" {}", half.word())).unwrap_or_default();
        self.add((&path, "edges"), &format!("{from} {to}{half}"));
        self.add((&path, "shade"), shade.word());
        self.add((&path, "arrows"), arrows.word());
    }

    fn flag(&mut self, path: &str, flag: &StripFlag) {
        let StripFlag { at, from, to, sign, number, name, figure, word, detail } = flag;
        self.add(path, &format!("{from} {at} {to}"));
        self.add((&path, "sign"), sign.word());
        self.add((&path, "number"), number);
        for (part, text) in [("name", name), ("hear", figure), ("word", word), ("detail", detail)] {
            self.say((&path, part), text);
        }
    }

    fn tree(&mut self, path: &str, tree: &TreeBlock) {
        let TreeBlock { key, nodes } = tree;
        self.add(path, key);
        for (place, TreeNode { level, name, lines, on_line, beside, record: _, span: _ }) in counted(nodes) {
            let path = joined((&path, "node", place));
            self.say(&path, name);
            self.add((&path, "level"), &level.to_string());
            counted(lines).for_each(|(place, line)| self.say((&path, "line", place), line));
            if let Some(TreeGuard { short, words }) = on_line {
                self.say((&path, "on-line"), short);
                self.say((&path, "on-line/words"), words);
            }
            counted(beside).for_each(|(place, line)| self.say((&path, "beside", place), line));
        }
    }

    fn legend(&mut self, path: &str, legend: &Legend) {
        let Legend { entries } = legend;
        self.add(path, "");
        for (place, LegendEntry { sample, words }) in counted(entries) {
            self.say((&path, place), words);
            self.add((&path, place, "sample"), sample.word());
        }
    }
}
