//! How a format looks: text sizes, and where the columns of each table stand. The program's own layouts and a team's are one kind of file.

use super::imprint::Imprint;
use super::pen::Style;
use super::strip_form::{PAGE, StripForm, WALL};
use crate::compose::block::{Role, TypeSize, Weight};
use crate::compose::{TableKind, UsualSet};
use crate::formats::{Duplex, Format};
use crate::ground::Length;
use crate::plan::Variant;
use crate::sheet::{Face, Mark};
use crate::tables::layouts;
use std::sync::Arc;

/// Least size of what is dialled or keyed: 10.5 pt are figures 2.55 mm high in our typeface.
pub(super) const DIALLED_FLOOR: Length = Length::twentieths_pt(210);
/// The same on a layout that declares itself dense: 8 pt, 1.94 mm.
pub(super) const DENSE_FLOOR: Length = Length::twentieths_pt(160);
/// Least size of all other text.
pub(super) const TEXT_FLOOR: Length = Length::pt(7);
/// Least size of all text in large print.
const LARGE_FLOOR: Length = Length::pt(14);
/// The size that strips and captions are drawn for; other layouts scale them.
pub(super) const SMALL: Length = Length::pt(8);

/// The least thickness of a line in red or dim light.
const NIGHT_LINE: Length = Length::twentieths_pt(15);

/// Sizes of text by what it is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Sizes {
    pub title: Length,
    pub heading: Length,
    pub number: Length,
    pub name: Length,
    pub dialled: Length,
    pub word: Length,
    pub body: Length,
    pub small: Length,
    pub foot: Length,
}

impl Sizes {
    const fn of(&self, size: TypeSize) -> Length {
        match size {
            // On a page, whose titles are 16 pt, a sign has 72 pt and 24 pt: read from 20 and 7 m by who reads 1 in 300 (by eye).
            TypeSize::Sign => self.title.fraction(9, 2),
            TypeSize::SignWords => self.title.fraction(3, 2),
            TypeSize::Title => self.title,
            TypeSize::Heading => self.heading,
            TypeSize::Number => self.number,
            TypeSize::Name => self.name,
            TypeSize::Dialled => self.dialled,
            TypeSize::Word => self.word,
            TypeSize::Body => self.body,
            TypeSize::Small => self.small,
            TypeSize::Foot => self.foot,
        }
    }

    fn each(self, change: impl Fn(Length) -> Length) -> Self {
        Self {
            title: change(self.title),
            heading: change(self.heading),
            number: change(self.number),
            name: change(self.name),
            dialled: change(self.dialled),
            word: change(self.word),
            body: change(self.body),
            small: change(self.small),
            foot: change(self.foot),
        }
    }
}

/// A layout.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Layout {
    /// How paper is parted.
    pub format: &'static dyn Format,
    /// Whether a page lies on its side.
    pub is_turned: bool,
    /// Whether what is dialled may stand at 8 pt, as on the strips of a chart.
    pub is_dense: bool,
    /// How the printer is to turn the sheet.
    pub duplex: Duplex,
    /// White around the text of a panel.
    pub margin: Length,
    /// White at the left of it, where sheets are punched; of both sides where they are printed on both.
    pub binding: Length,
    /// Columns of text side by side, on pages.
    pub columns: u8,
    /// Keys of sections that come first, in this order.
    pub order: Vec<String>,
    /// Keys of sections that go on below the one before them instead of opening a panel.
    pub follows: Vec<String>,
    /// Keys of sections that are not parted: they stand on one panel.
    pub whole: Vec<String>,
    /// Keys of sections that stand in a column at the right, under the title; strips are then so low that one sheet has all of them.
    pub beside: Vec<String>,
    /// Keys of sections that stand on the last panel of a folded sheet, before how it is folded.
    pub back: Vec<String>,
    /// What stands at the right of a panel's title.
    pub head: Vec<Imprint>,
    /// The lines at the foot of a panel: what stands together, from left to right. Nothing that is known is left out.
    pub foot: Vec<Vec<Vec<Imprint>>>,
    /// From one writing line of a form to the next.
    pub writing_line: Length,
    /// Whether strokes and lines are heavier, for red and dim light.
    pub is_heavy: bool,
    /// Whether all stands closer, where that spares a panel or a page.
    pub is_close: bool,
    /// Whether the lines of rows stand closer, where that spares a sheet.
    pub has_close_rows: bool,
    /// Whether a form can be filled in on a screen.
    pub is_fillable: bool,
    pub(super) sizes: Sizes,
    /// One list for all variants: there is one for each document of a kit.
    pub(super) tables: Arc<[TableLayout]>,
}

/// Where the columns of a table stand.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TableLayout {
    /// Key of the table.
    pub key: String,
    /// In rows of several lines, or in a grid.
    pub set: TableSet,
}

/// The two ways to set a table.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum TableSet {
    /// A first line in aligned columns, further lines below it.
    Rows(RowSet),
    /// Columns side by side on close lines, in as many columns of text as there is room for.
    List {
        /// From left to right.
        columns: Vec<String>,
        /// What stands on lines of its own below them, where a row has it.
        below: Vec<String>,
    },
    /// Columns side by side, each cell broken into lines.
    Grid {
        /// From left to right.
        columns: Vec<String>,
        /// Those that get all the width that they want before the others.
        first: Vec<String>,
    },
}

/// What stands left and what stands right on a line.
pub(super) type Line = (Vec<String>, Vec<String>);

/// Where the columns of rows of several lines stand.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct RowSet {
    /// First line from the left edge.
    pub left: Vec<String>,
    /// First line: columns of figures.
    pub right: Vec<String>,
    /// Further lines: what stands left, what stands right.
    pub below: Vec<Line>,
    /// The line over the figures where some name finds no room beside them, for all rows; each by itself where it is empty.
    pub above: Line,
    /// The table whose columns it takes where both stand in one passage.
    pub like: Option<String>,
}

impl TableLayout {
    /// How a table is set where no layout says it. None of columns side by side on panels, which are too narrow for them.
    pub(super) fn usual(table: &TableKind, format: &dyn Format) -> Option<Self> {
        let owned = |keys: &[&str]| keys.iter().map(|key| (*key).to_owned()).collect::<Vec<_>>();
        let grid = |columns: Vec<String>| TableSet::Grid { columns, first: Vec::new() };
        let set = match &table.set {
            UsualSet::Rows { left, right, below, above: (over, onward), like } => TableSet::Rows(RowSet {
                left: owned(left),
                right: owned(right),
                below: below.iter().map(|(left, right)| (owned(left), owned(right))).collect(),
                above: (owned(over), owned(onward)),
                like: like.map(str::to_owned),
            }),
            UsualSet::Grid | UsualSet::GridOf(_) | UsualSet::ListOf(_) if format.has_panels() => return None,
            UsualSet::Grid => grid(table.columns.iter().map(|column| column.key.to_owned()).collect()),
            UsualSet::GridOf(columns) => grid(owned(columns)),
            UsualSet::ListOf(columns) => TableSet::List { columns: owned(columns), below: Vec::new() },
        };
        Some(Self { key: table.key.to_owned(), set })
    }
}

impl TableSet {
    /// Every column that has a place.
    pub fn columns(&self) -> impl Iterator<Item = &str> {
        let (grid, under, rows) = match self {
            Self::Grid { columns, .. } => (Some(columns), None, None),
            Self::List { columns, below } => (Some(columns), Some(below), None),
            Self::Rows(RowSet { left, right, below, .. }) => (None, None, Some((left, right, below))),
        };
        let below = rows.into_iter().flat_map(|(_, _, below)| below).flat_map(|(left, right)| left.iter().chain(right));
        let first = rows.into_iter().flat_map(|(left, right, _)| left.iter().chain(right));
        grid.into_iter().chain(under).flatten().chain(first).chain(below).map(String::as_str)
    }
}

/// Names of the built-in layouts.
pub fn names() -> impl Iterator<Item = &'static str> {
    layouts().map(|(name, _)| name)
}

/// The text of a built-in layout.
pub(super) fn built_in(name: &str) -> Option<&'static str> {
    layouts().find(|(known, _)| *known == name).map(|(_, text)| text)
}

/// How much of the usual air there is where all stands closer: a rule and text keep half a millimeter.
const CLOSE: (i64, i64) = (3, 5);

/// How large a title is there on a page: 12 pt in the place of 16.
const CLOSE_TITLE: (i64, i64) = (12, 16);

impl Layout {
    /// How a table is set; none when the layout does not know it.
    #[must_use]
    pub fn table(&self, key: &str) -> Option<&TableLayout> {
        self.tables.iter().find(|table| table.key == key)
    }

    /// The layout for readers or light of a kind: all sizes follow, the floors too.
    #[must_use]
    pub fn varied(&self, variant: Option<Variant>) -> Self {
        let mut layout = self.clone();
        match variant {
            None => {}
            Some(Variant::LargePrint) => {
                layout.sizes = self.sizes.each(|size| size.fraction(14, 10).max(LARGE_FLOOR));
                // A page has the room for figures of 22 pt and names of 18 pt; a panel has not.
                if !self.format.has_panels() {
                    layout.sizes.dialled = self.sizes.dialled.fraction(44, 23);
                    layout.sizes.name = self.sizes.name.fraction(18, 11).max(LARGE_FLOOR);
                }
                layout.writing_line = self.writing_line.fraction(14, 10);
            }
            Some(Variant::Night) => {
                // What is dialled becomes 12 pt on a folded sheet, all else 8 pt at least; titles are large enough, and have the least room.
                let Sizes { title, .. } = self.sizes;
                layout.sizes = Sizes {
                    title,
                    dialled: self.sizes.dialled.fraction(8, 7),
                    name: self.sizes.name.fraction(8, 7),
                    foot: self.sizes.foot,
                    ..self.sizes.each(|size| size.fraction(16, 15).max(SMALL))
                };
                layout.is_heavy = true;
            }
            Some(Variant::Dense) => {
                layout.sizes = self.sizes.each(|size| size.fraction(85, 100).max(TEXT_FLOOR));
                layout.sizes.dialled = layout.sizes.dialled.max(DENSE_FLOOR);
                layout.is_dense = true;
            }
        }
        layout
    }

    /// The same for copies that are told apart by their numbers: where a sheet would bear a panel twice, it bears two.
    #[must_use]
    pub fn numbered(self) -> Self {
        let halves = crate::formats::FORMATS.iter().copied().find(|format| format.word() == "half");
        let format = halves.filter(|_| self.format.word() == "pad").unwrap_or(self.format);
        Self { format, ..self }
    }

    /// The same for a form that can be filled in on a screen.
    #[must_use]
    pub fn fillable(self) -> Self {
        Self { is_fillable: true, ..self }
    }

    /// The measures of its strips.
    pub(super) fn strip_form(&self) -> &'static StripForm {
        if self.beside.is_empty() { &PAGE } else { &WALL }
    }

    /// How much larger than drawn strips and captions are: numerator and denominator.
    #[must_use]
    pub(crate) fn scale(&self) -> (i64, i64) {
        (self.sizes.small.max(SMALL).as_grains(), SMALL.as_grains())
    }

    /// Air that grows with the text where that is larger than usual.
    #[must_use]
    pub(crate) fn air(&self, usual: Length) -> Length {
        let (numerator, denominator) = self.scale();
        let air = usual.fraction(numerator, denominator);
        if self.is_close { air.fraction(CLOSE.0, CLOSE.1) } else { air }
    }

    /// The same layout with less air between and in its rows; words keep as far from figures as ever.
    #[must_use]
    pub(super) fn with_close_rows(&self) -> Self {
        Self { has_close_rows: true, ..self.clone() }
    }

    /// The same layout with less air.
    #[must_use]
    pub(super) fn closer(&self) -> Self {
        Self { is_close: true, ..self.clone() }
    }

    /// The same layout with less air, and smaller titles over sections that follow others on a page.
    #[must_use]
    pub(super) fn close_page(&self) -> Self {
        let title = self.sizes.title.fraction(CLOSE_TITLE.0, CLOSE_TITLE.1).max(self.sizes.name);
        let sizes = Sizes { title, ..self.sizes };
        Self { sizes, is_close: true, ..self.clone() }
    }

    /// The same layout with the usual air: what is drawn keeps its measures.
    #[must_use]
    pub(super) fn at_ease(&self) -> Self {
        Self { is_close: false, ..self.clone() }
    }

    /// A mark with its line as heavy as red or dim light needs it.
    #[must_use]
    pub(super) fn stroke(&self, mut mark: Mark) -> Mark {
        if let Mark::Line(line) = &mut mark
            && self.is_heavy
        {
            line.thickness = line.thickness.max(NIGHT_LINE);
        }
        mark
    }

    /// The style of a role.
    #[must_use]
    pub(crate) fn style(&self, role: Role) -> Style {
        // In red or dim light no stroke is thin, and what comes first still does.
        let face = match (role.weight(), self.is_heavy) {
            (Weight::Regular, false) => Face::Regular,
            (Weight::Medium, false) | (Weight::Regular, true) => Face::Medium,
            (Weight::Medium, true) | (Weight::Bold, _) => Face::Bold,
        };
        Style { face, size: self.sizes.of(role.size()), role }
    }
}
