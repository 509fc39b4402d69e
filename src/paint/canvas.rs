//! Marks -> one content stream. Flips the vertical axis; nobody else does.

use super::fonts::resource_name;
use super::operands::{pt, rounded, thousandths};
use super::pattern::{DOT, HATCH, dots, hatch};
use super::readings::Readings;
use super::structure::TaggedPart;
use crate::compose::block::Sign;
use crate::ground::Length;
use crate::sheet::{
    Face, Fill, Glyph, Glyphs, Line, Mark, Modules, Outline, Pattern, Patterned, Point, SignMark, Slope,
};
use pdf_writer::types::LineCapStyle;
use pdf_writer::{Content, Name, Str, TextStr};

/// A content stream under construction, as high as its page or panel.
pub(super) struct Canvas<'a> {
    content: Content,
    readings: &'a Readings,
    height: Length,
    ink: Ink,
}

/// What the reader of the stream has set at this point.
#[derive(Clone, Copy)]
struct Ink {
    black: u8,
    thickness: Length,
    dash: Option<(Length, Length)>,
    font: Option<(Face, Length)>,
}

/// The state at the start of every stream (ISO 32000-1, tables 52 and 104): black, 1 pt, no dashes, no font.
const FRESH: Ink = Ink { black: 100, thickness: Length::pt(1), dash: None, font: None };

impl<'a> Canvas<'a> {
    /// An empty stream of this height.
    pub fn new(height: Length, readings: &'a Readings) -> Self {
        Self { content: Content::new(), readings, height, ink: FRESH }
    }

    /// The bytes of the stream.
    pub fn finish(self) -> Vec<u8> {
        self.content.finish().into_vec()
    }

    /// Draws marks in order.
    pub fn marks<'m>(&mut self, marks: impl IntoIterator<Item = &'m Mark>) {
        for mark in marks {
            match mark {
                Mark::Glyphs(run) => self.glyphs(run, false),
                Mark::Line(line) => self.line(line),
                Mark::Fill(fill) => self.fill(fill),
                Mark::Patterned(patterned) => self.patterned(patterned),
                Mark::Outline(outline) => self.outline(outline),
                Mark::Modules(modules) => self.modules(modules),
                Mark::Sign(sign) => self.sign(sign),
                Mark::Entry(_) => {}
            }
        }
    }

    /// Draws marks in order, each stretch under the tag of its part and the next number from `first` on; what only guides
    /// the eye under none. Gives the parts in the order of their numbers.
    pub fn tagged(&mut self, marks: &[Mark], first: i32) -> Vec<TaggedPart> {
        let mut number = first;
        let mut taken = Vec::new();
        let parts: Vec<(Option<TaggedPart>, &Mark)> = marks.iter().map(|mark| (TaggedPart::of(mark), mark)).collect();
        for stretch in parts.chunk_by(|(a, _), (b, _)| a == b) {
            match stretch.first().and_then(|(part, _)| part.as_ref()) {
                Some(part) => {
                    let mut open = self.content.begin_marked_content_with_properties(Name(part.tag().as_bytes()));
                    open.properties().identify(number);
                    number += 1;
                    taken.push(part.clone());
                }
                None => {
                    self.content.begin_marked_content(Name(b"Artifact"));
                }
            }
            for (index, (_, mark)) in stretch.iter().enumerate() {
                match mark {
                    Mark::Glyphs(run) => {
                        let next = stretch.get(index + 1).map(|(_, mark)| *mark);
                        self.glyphs(run, next.is_some_and(|next| is_elsewhere(next, run)));
                    }
                    other => self.marks([*other]),
                }
            }
            self.content.end_marked_content();
        }
        taken
    }

    /// Draws a form that repeats what was read before.
    pub fn repeated(&mut self, name: &str) {
        self.content.begin_marked_content(Name(b"Artifact"));
        self.form(name);
        self.content.end_marked_content();
    }

    /// Draws inside another frame of the given height and puts everything back.
    pub fn framed<T>(&mut self, frame: [f32; 6], height: Length, draw: impl FnOnce(&mut Self) -> T) -> T {
        let (outer_height, outer_ink) = (self.height, self.ink);
        self.content.save_state();
        self.content.transform(frame);
        (self.height, self.ink) = (height, FRESH);
        let done = draw(self);
        self.content.restore_state();
        (self.height, self.ink) = (outer_height, outer_ink);
        done
    }

    /// Draws a form of the resources.
    fn form(&mut self, name: &str) {
        self.content.x_object(Name(name.as_bytes()));
    }

    fn up(&self, y: Length) -> f32 {
        pt(self.height - y)
    }

    fn set_black(&mut self, black: u8) {
        if self.ink.black != black {
            self.content.set_fill_gray(f32::from(100_u8.saturating_sub(black)) / 100.0);
            self.ink.black = black;
        }
    }

    fn set_stroke(&mut self, thickness: Length, dash: Option<(Length, Length)>) {
        if self.ink.thickness != thickness {
            self.content.set_line_width(pt(thickness));
            self.ink.thickness = thickness;
        }
        if self.ink.dash != dash {
            let lengths = dash.map_or_else(Vec::new, |(on, off)| vec![pt(on), pt(off)]);
            self.content.set_dash_pattern(lengths, 0.0);
            self.ink.dash = dash;
        }
    }

    /// One path for the whole area. A dot is the round end of a line that is next to nothing long: short to say, and round on every printer.
    fn patterned(&mut self, patterned: &Patterned) {
        match patterned.pattern {
            Pattern::Hatch => {
                let strokes = hatch(patterned.area);
                if strokes.is_empty() {
                    return;
                }
                self.set_stroke(HATCH, None);
                for (from, to) in strokes {
                    self.content.move_to(pt(from.x), self.up(from.y));
                    self.content.line_to(pt(to.x), self.up(to.y));
                }
                self.content.stroke();
            }
            Pattern::Dots => {
                let dots = dots(patterned.area);
                if dots.is_empty() {
                    return;
                }
                self.set_stroke(DOT, None);
                self.content.set_line_cap(LineCapStyle::RoundCap);
                for at in dots {
                    let (x, y) = (pt(at.x), self.up(at.y));
                    self.content.move_to(x, y);
                    self.content.line_to(rounded(x + 0.01), y);
                }
                self.content.stroke();
                self.content.set_line_cap(LineCapStyle::ButtCap);
            }
        }
    }

    fn line(&mut self, line: &Line) {
        self.set_stroke(line.thickness, line.dash);
        self.content.move_to(pt(line.from.x), self.up(line.from.y));
        self.content.line_to(pt(line.to.x), self.up(line.to.y));
        self.content.stroke();
    }

    fn fill(&mut self, fill: &Fill) {
        self.set_black(fill.black);
        self.rectangle(fill.area.left, fill.area.top, fill.area.right, fill.area.bottom);
        self.content.fill_nonzero();
    }

    /// Edges are rounded, not sizes, so that neighbours meet without a gap.
    fn rectangle(&mut self, left: Length, top: Length, right: Length, bottom: Length) {
        let (x, y) = (pt(left), self.up(bottom));
        self.content.rect(x, y, rounded(pt(right) - x), rounded(self.up(top) - y));
    }

    fn outline(&mut self, outline: &Outline) {
        let Some((first, others)) = outline.corners.split_first() else { return };
        self.set_black(outline.black);
        self.content.move_to(pt(first.x), self.up(first.y));
        for corner in others {
            self.content.line_to(pt(corner.x), self.up(corner.y));
        }
        self.content.close_path();
        self.content.fill_nonzero();
    }

    fn sign(&mut self, sign: &SignMark) {
        let (Point { x, y }, half) = (sign.at, sign.size / 2);
        match sign.sign {
            Sign::Filled => {
                self.set_black(100);
                self.rectangle(x - half, y - half, x + half, y + half);
                self.content.fill_nonzero();
            }
            Sign::Ring => {
                self.set_stroke(SignMark::STROKE, None);
                self.circle(sign.at, half - SignMark::STROKE / 2);
                self.content.stroke();
            }
            Sign::Dot => {
                self.set_black(100);
                self.circle(sign.at, half);
                self.content.fill_nonzero();
            }
            Sign::Dash => {
                self.set_stroke(SignMark::STROKE, None);
                self.content.move_to(pt(x - half), self.up(y));
                self.content.line_to(pt(x + half), self.up(y));
                self.content.stroke();
            }
        }
    }

    /// The path of a circle: four curves, each within 0.03 % of its quarter (the usual 0.5523).
    fn circle(&mut self, Point { x, y }: Point, radius: Length) {
        let arm = radius.fraction(5523, 10_000);
        self.content.move_to(pt(x + radius), self.up(y));
        let quarters = [
            [(x + radius, y + arm), (x + arm, y + radius), (x, y + radius)],
            [(x - arm, y + radius), (x - radius, y + arm), (x - radius, y)],
            [(x - radius, y - arm), (x - arm, y - radius), (x, y - radius)],
            [(x + arm, y - radius), (x + radius, y - arm), (x + radius, y)],
        ];
        for [a, b, c] in quarters {
            let (a, b, c) = ((pt(a.0), self.up(a.1)), (pt(b.0), self.up(b.1)), (pt(c.0), self.up(c.1)));
            self.content.cubic_to(a.0, a.1, b.0, b.1, c.0, c.1);
        }
        self.content.close_path();
    }

    /// One path for the whole symbol, so that no renderer draws seams between modules; in units of a module, so that the many
    /// rectangles are short to say.
    fn modules(&mut self, modules: &Modules) {
        if modules.side == 0 || !modules.dark.contains(&true) {
            return;
        }
        self.set_black(100);
        #[expect(clippy::cast_possible_truncation, reason = "a module is about a point wide")]
        let module = modules.module.to_pt() as f32;
        self.content.save_state();
        self.content.transform([module, 0.0, 0.0, -module, pt(modules.at.x), self.up(modules.at.y)]);
        for ModuleBar { left, top, width, height } in bars(modules) {
            self.content.rect(units(left), units(top), units(width), units(height));
        }
        self.content.fill_nonzero();
        self.content.restore_state();
    }

    /// A run; with a space behind it where it goes on in the next line, so that nobody hears two words as one.
    fn glyphs(&mut self, run: &Glyphs, goes_on: bool) {
        if run.glyphs.is_empty() {
            return;
        }
        let mut pieces = pieces(run, self.readings);
        if let Some(space) = self.readings.space(run.face).filter(|_| goes_on) {
            match pieces.last_mut().filter(|piece| piece.face == run.face) {
                Some(piece) => piece.codes.extend(space.to_be_bytes()),
                None => pieces.push(RunPiece { face: run.face, back: 0, rise: 0, codes: space.to_be_bytes().to_vec() }),
            }
        }
        self.set_black(100);
        let is_spelled = !self.readings.reads(run);
        if is_spelled {
            let mut span = self.content.begin_marked_content_with_properties(Name(b"Span"));
            span.properties().actual_text(TextStr(&run.text));
        }
        self.content.begin_text();
        let Point { x, y } = run.at;
        match run.slope {
            Slope::Level => self.content.next_line(pt(x), self.up(y)),
            // Cosine and sine of 60 degrees.
            Slope::Steep => self.content.set_text_matrix([0.5, 0.866, -0.866, 0.5, pt(x), self.up(y)]),
        };
        for pieces in pieces.chunk_by(|a, b| a.face == b.face) {
            let face = pieces.first().map_or(run.face, |piece| piece.face);
            // The font outlives the text object; the place in it begins at the origin each time.
            if self.ink.font != Some((face, run.size)) {
                self.content.set_font(Name(resource_name(face).as_bytes()), pt(run.size));
                self.ink.font = Some((face, run.size));
            }
            self.show(pieces, run.size);
        }
        self.content.end_text();
        if is_spelled {
            self.content.end_marked_content();
        }
    }

    fn show(&mut self, pieces: &[RunPiece], size: Length) {
        let mut rise = 0;
        for level in pieces.chunk_by(|a, b| a.rise == b.rise) {
            let wanted = level.first().map_or(0, |piece| piece.rise);
            if wanted != rise {
                self.content.set_rise(rounded(thousandths(wanted) / 1000.0 * pt(size)));
                rise = wanted;
            }
            let mut shown = self.content.show_positioned();
            let mut items = shown.items();
            for piece in level {
                if piece.back != 0 {
                    items.adjust(rounded(thousandths(piece.back)));
                }
                items.show(Str(&piece.codes));
            }
        }
        if rise != 0 {
            self.content.set_rise(0.0);
        }
    }
}

/// Dark modules side by side, as far down as the same ones are dark.
struct ModuleBar {
    left: usize,
    top: usize,
    width: usize,
    height: usize,
}

fn bars(modules: &Modules) -> Vec<ModuleBar> {
    let mut done = Vec::new();
    let mut open: Vec<ModuleBar> = Vec::new();
    for (row, dark) in modules.dark.chunks(modules.side).enumerate() {
        let mut next = Vec::new();
        let mut left = 0;
        for run in dark.chunk_by(|a, b| a == b) {
            if run.first() == Some(&true) {
                let same = open.iter().position(|bar| bar.left == left && bar.width == run.len());
                let bar = same.map(|at| open.swap_remove(at));
                next.push(match bar {
                    Some(bar) => ModuleBar { height: bar.height + 1, ..bar },
                    None => ModuleBar { left, top: row, width: run.len(), height: 1 },
                });
            }
            left += run.len();
        }
        done.append(&mut open);
        open = next;
    }
    done.append(&mut open);
    done.sort_by_key(|bar| (bar.top, bar.left));
    done
}

/// A count of modules as an operand.
fn units(count: usize) -> f32 {
    f32::from(u16::try_from(count).unwrap_or(u16::MAX))
}

/// Whether a mark is text on another line than a run.
fn is_elsewhere(mark: &Mark, run: &Glyphs) -> bool {
    matches!(mark, Mark::Glyphs(next) if next.at.y != run.at.y)
}

/// Codes of one face that follow each other at their declared advances.
struct RunPiece {
    face: Face,
    /// How far the pen first goes back, in font units.
    back: i32,
    /// How far above the baseline, in font units.
    rise: i32,
    /// Two bytes a glyph.
    codes: Vec<u8>,
}

fn pieces(run: &Glyphs, readings: &Readings) -> Vec<RunPiece> {
    let mut pieces: Vec<RunPiece> = Vec::new();
    let mut pen = 0;
    for (x, glyph) in run.as_read() {
        let Glyph { face, id, .. } = *glyph;
        let (dx, dy) = (i32::from(glyph.dx), i32::from(glyph.dy));
        let back = pen - (x + dx);
        match pieces.last_mut() {
            Some(piece) if back == 0 && piece.rise == dy && piece.face == face => piece.codes.extend(id.to_be_bytes()),
            _ => pieces.push(RunPiece { face, back, rise: dy, codes: id.to_be_bytes().to_vec() }),
        }
        pen = x + dx + readings.advance(face, id);
    }
    pieces
}
