//! What stays together on a panel: a row, a paragraph, a line of a form.

use super::layout::Layout;
use super::pen::Pen;
use super::rules::TEXT_DOES_NOT_FIT;
use super::setting::Setting;
use super::symbol_code::Symbols;
use crate::compose::block::{Section, Text};
use crate::ground::{Finding, Findings, Length, Span};
use crate::sheet::{Mark, Point};
use std::rc::Rc;

/// Where blocks are set, and with what.
pub(super) struct Room<'a> {
    /// The layout.
    pub layout: &'a Layout,
    /// The pen.
    pub pen: &'a Pen,
    /// The symbols of the order.
    pub symbols: &'a Symbols,
    /// Where the text begins on a panel.
    pub at: Point,
    /// Width of the text.
    pub width: Length,
    /// Height of an empty panel's text; of the first page, where what is said once stands below it.
    pub height: Length,
    /// How much higher the pages behind the first are.
    pub more: Length,
    /// How far above the text a front begins, where a title would stand.
    pub head: Length,
    /// All sections that are set with the one at hand.
    pub passage: &'a [Section],
    /// Where the document was asked for.
    pub asked: Span,
    /// The column beside what is set here, where the sheet has one.
    pub beside: Option<BesideColumn>,
    /// Whether nobody waits for what is set here: other work may be taken up meanwhile.
    pub is_alone: bool,
}

/// The column beside others, measured on its panel.
#[derive(Clone, Copy, Debug)]
pub(super) struct BesideColumn {
    pub left: Length,
    pub width: Length,
    pub top: Length,
    pub bottom: Length,
}

/// Something that is never parted.
#[derive(Clone, Debug, Default)]
pub(super) struct Piece {
    /// Its marks.
    pub setting: Setting,
    /// Where to point when it does not fit.
    pub span: Span,
    /// What it is in a finding: its first words.
    pub words: String,
    /// Air before it, left out at the top of a panel.
    pub before: Length,
    /// More air over it at the top of a panel.
    pub top: Length,
    /// How far above the text it begins at the top of a panel, in the place of a title; nothing for most.
    pub rise: Length,
    /// Whether it is a heading.
    pub is_heading: bool,
    /// Whether it is the title of a section that follows another.
    pub is_title: bool,
    /// Printed over it when it comes first on a panel or in its table: the headings of its columns.
    pub head: Option<Rc<Setting>>,
    /// Another head under which it may stand as well.
    pub also: Option<Rc<Setting>>,
    /// Names the row in the panel's title.
    pub label: String,
    /// Whether it opens a panel.
    pub begins_panel: bool,
    /// Whether the next piece must stand on the same panel.
    pub keeps_next: bool,
    /// Whether a frame stands around it.
    pub is_framed: bool,
    /// Whether it is a row of a table, which a rule closes.
    pub is_row: bool,
    /// Whether that rule is left out: a matrix is ruled in fives.
    pub is_open: bool,
    /// Whether it holds tables of its own, one beside the other: a list.
    pub is_list: bool,
    /// The rows to write on in it, which a form may have fewer of.
    pub rows: Option<PieceRows>,
}

/// Rows of one height, all of which must stand on one panel.
#[derive(Clone, Copy, Debug)]
pub(super) struct PieceRows {
    /// The key of the form that asks for them; none where each is wanted.
    pub key: Option<&'static str>,
    /// How many there are.
    pub count: u16,
    /// How high one is.
    pub height: Length,
    /// How much lower the piece can become by them; what stands beside them is as high then.
    pub spare: Length,
    /// Whether they may go on over pages.
    pub can_continue: bool,
}

impl PieceRows {
    /// How many may stay where the piece must become lower by `excess`; none where it cannot.
    pub fn left(self, excess: Length) -> Option<u16> {
        let height = self.height.as_grains().max(1);
        let out = (excess.max(Length::ZERO).as_grains() + height - 1) / height;
        let left = self.count.checked_sub(u16::try_from(out).ok()?).filter(|left| *left > 0)?;
        (excess <= self.spare).then_some(left)
    }

    /// A finding with how many rows fit and what to type.
    pub fn tell(self, left: u16, mut finding: Finding) -> Finding {
        let Self { key, count, can_continue, .. } = self;
        finding.message.push_str(&format!("; {left} of its {count} rows fit"));
        let fewer = key.map(|key| format!("write `{key} = {left}`"));
        let over = can_continue.then(|| "over pages needs `continues = true`".to_owned());
        let ways: Vec<String> = fewer.into_iter().chain(over).collect();
        finding.help(format!("{}, or take a larger layout", ways.join("; ")))
    }
}

impl Piece {
    /// Takes another piece in at its right; what was read in this one comes first.
    pub fn stand_beside(&mut self, other: &Self, x: Length) {
        let blocks = |marks: &[Mark]| marks.iter().filter_map(Mark::block).max().unwrap_or(0);
        let after = blocks(&self.setting.marks) + 1;
        let moved = other.setting.at(Point { x, y: Length::ZERO }).map(|mark| mark.read_after(after));
        self.setting.marks.extend(moved);
        self.setting.height = self.setting.height.max(other.setting.height);
    }

    /// All that it needs below another piece: air, headings where they do not stand over that one, and itself.
    pub fn whole(&self, before: Option<&Self>) -> Length {
        let is_under = |head: &Rc<Setting>| {
            let heads = before.into_iter().flat_map(|before| before.head.iter().chain(&before.also));
            heads.into_iter().any(|known| Rc::ptr_eq(known, head))
        };
        let head = self.head.as_ref().filter(|head| !is_under(head)).map_or(Length::ZERO, |head| head.height);
        self.before + head + self.setting.height
    }
}

/// How high pieces are one below the other, the first below another.
pub(super) fn stacked<'a>(pieces: impl Iterator<Item = &'a Piece>) -> Length {
    let (mut height, mut before) = (Length::ZERO, None);
    for piece in pieces {
        height += piece.whole(before);
        before = Some(piece);
    }
    height
}

/// No two rules are nearer to each other.
pub(super) const RULES_APART: Length = Length::mm(4);

/// Between text and the rule of the foot.
const CLEAR: Length = Length::hundredths_mm(50);

impl Room<'_> {
    /// What stays free under a piece: on a panel a rule closes what is a row, and text keeps clear of the foot; on a page a frame keeps as
    /// clear of it as any rule.
    pub fn clear_under(&self, piece: &Piece) -> Length {
        match (piece.is_framed, self.layout.format.has_panels()) {
            (true, false) => RULES_APART,
            (_, true) if !piece.is_row => self.layout.air(CLEAR),
            _ => Length::ZERO,
        }
    }

    /// Reports a piece that is higher than an empty panel.
    pub fn too_high(&self, piece: &Piece, needed: Length, found: &mut Findings) {
        let finding = does_not_fit(&piece.words, piece.span, self.asked, "high", self.height);
        let rows = piece.rows.and_then(|rows| Some((rows, rows.left(needed - self.height)?)));
        found.push(match rows {
            Some((rows, left)) => rows.tell(left, finding),
            None => finding,
        });
    }

    /// Reports a text that is wider than its place.
    pub fn too_wide(&self, text: &Text, place: Length, found: &mut Findings) {
        found.push(does_not_fit(&text.words(), text.span, self.asked, "wide", place));
    }
}

/// A finding about a text and the place it has.
pub(super) fn does_not_fit(words: &str, span: Span, asked: Span, what: &str, place: Length) -> Finding {
    let short: String = words.chars().take(60).collect();
    let millimetres = place.as_grains() / 7200;
    let message = format!("\"{short}\" does not fit into its place, {millimetres} mm {what}");
    let at = if span == Span::NOWHERE { asked } else { span };
    Finding::new(&TEXT_DOES_NOT_FIT, at, message)
        .label("too long for its place")
        .and(asked, "on this document")
        .help("write a shorter text, or take a larger layout")
}
