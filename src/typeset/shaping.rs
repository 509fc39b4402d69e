//! Letters -> glyphs: kerning, tabular figures, a slashed zero; letters of another script from a face that has them.
//!
//! Hebrew and Arabic words run from right to left inside lines that run from left to right. Figures, Latin words and punctuation
//! stay where they are typed, also beside such words: the whole of UAX 9 would set "NAME 1 146.3400" as "146.3400 1 NAME", and
//! on these sheets a number that changes its place is a fault.

use crate::ground::Shelf;
use crate::sheet::{Face, Glyph};
use harfrust::{Buffer, Direction, Feature, Font, Script, ShapeOptions, ShapePlan, ShaperFont, Tag};
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::{Arc, LazyLock};

/// All cuts, read once: a font file that comes with the program is always readable.
static FONTS: LazyLock<BTreeMap<Face, Font>> = LazyLock::new(|| {
    let font = |face: Face| Some((face, Font::new(face.bytes(), 0)?));
    Face::ALL.into_iter().filter_map(font).collect()
});

/// By what rules a cut sets a script to one side or the other: to find them takes longer than to set a word by them.
static PLANS: LazyLock<Plans> = LazyLock::new(Shelf::default);

/// By cut, script, and whether it runs from left to right.
type Plans = Shelf<(Face, Option<Script>, bool), Arc<ShapePlan>>;

/// Letters, figures and signs that nearly every sheet has.
const USUAL: &str = " !\"#&'()+,-./0123456789:;=?ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz%±–";

/// Those letters in the cuts that nearly every sheet has, each shaped by itself.
static ALPHABET: LazyLock<Vec<(Glyph, String)>> = LazyLock::new(|| {
    let of_letter = |letter: char, face: Face| {
        let letter = letter.to_string();
        shape(&letter, face).into_iter().map(move |glyph| (glyph, glyph.of(&letter).to_owned()))
    };
    let glyphs = |face: Face| USUAL.chars().flat_map(move |letter| of_letter(letter, face));
    [Face::Regular, Face::Bold].into_iter().flat_map(glyphs).collect()
});

/// The glyphs of the letters that nearly every sheet has, with their letters.
pub(super) fn alphabet() -> &'static [(Glyph, String)] {
    &ALPHABET
}

/// The glyphs of a text on one line, left to right as seen. A letter that no face has is glyph 0 of the wanted one.
pub(super) fn shape(text: &str, face: Face) -> Vec<Glyph> {
    let plain = stretch(text, face, Direction::LeftToRight);
    if plain.iter().all(|glyph| glyph.id != 0) && !text.contains(is_backward) {
        return plain;
    }
    let mut glyphs = Vec::new();
    for (run, direction) in runs(text) {
        let mut stretches = of_one_face(text, run, face);
        if direction == Direction::RightToLeft {
            stretches.reverse();
        }
        for (range, face) in stretches {
            let from = u32::try_from(range.start).unwrap_or(u32::MAX);
            let shaped = stretch(text.get(range).unwrap_or_default(), face, direction);
            glyphs.extend(shaped.into_iter().map(|glyph| Glyph { at: from.saturating_add(glyph.at), ..glyph }));
        }
    }
    glyphs
}

/// Whether a letter is of a script that is written from right to left (the blocks of Hebrew to Arabic, and their forms).
fn is_backward(letter: char) -> bool {
    letter.is_alphabetic()
        && matches!(letter, '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFF}')
}

/// What may stand between two letters of a name that runs from right to left without parting it.
fn is_inside(letter: char) -> bool {
    matches!(letter, '\'' | '"' | '-' | '\u{5BE}' | '\u{5F3}' | '\u{5F4}' | '\u{200C}' | '\u{200D}')
}

/// The runs of one direction, in the order in which they are typed.
fn runs(text: &str) -> Vec<(Range<usize>, Direction)> {
    let mut runs: Vec<(Range<usize>, Direction)> = Vec::new();
    // The end of the last backward letter, while what follows it may still stand inside a name.
    let mut open: Option<usize> = None;
    let mut before = None;
    let mut letters = text.char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        let end = at + letter.len_utf8();
        // Quotes around a word stand outside it; a mark of abbreviation stands between two letters.
        let is_before_letter = letter != '"' || letters.peek().is_some_and(|(_, next)| is_backward(*next));
        let is_inside = before.is_some_and(is_backward) && is_before_letter && is_inside(letter);
        if is_backward(letter) {
            match runs.last_mut().filter(|_| open.is_some()) {
                Some((name, _)) => name.end = end,
                None => runs.push((at..end, Direction::RightToLeft)),
            }
            open = Some(end);
        } else if open.is_none() || !(letter == ' ' || is_inside) {
            let from = open.take().unwrap_or(at);
            match runs.last_mut().filter(|(_, direction)| *direction == Direction::LeftToRight) {
                Some((known, _)) => known.end = end,
                None => runs.push((from..end, Direction::LeftToRight)),
            }
        }
        before = Some(letter);
    }
    if let Some(from) = open.filter(|from| *from < text.len()) {
        runs.push((from..text.len(), Direction::LeftToRight));
    }
    runs
}

/// Parts of a run, each in the first face that has its letters; what none has stays with the wanted one.
fn of_one_face(text: &str, run: Range<usize>, wanted: Face) -> Vec<(Range<usize>, Face)> {
    let mut stretches: Vec<(Range<usize>, Face)> = Vec::new();
    let start = run.start;
    for (at, letter) in text.get(run).unwrap_or_default().char_indices() {
        let range = start + at..start + at + letter.len_utf8();
        let has = |face: &Face| {
            stretch(letter.encode_utf8(&mut [0; 4]), *face, Direction::LeftToRight).iter().all(|g| g.id != 0)
        };
        let face = wanted.with_others().into_iter().find(has).unwrap_or(wanted);
        match stretches.last_mut() {
            Some((known, same)) if *same == face => known.end = range.end,
            _ => stretches.push((range, face)),
        }
    }
    stretches
}

/// Words of one face and direction.
fn stretch(text: &str, face: Face, direction: Direction) -> Vec<Glyph> {
    let Some(font) = FONTS.get(&face) else { return Vec::new() };
    let shaper = ShaperFont::new(font);
    let mut buffer = Buffer::new();
    buffer.push_str(text);
    buffer.set_direction(direction);
    buffer.guess_segment_properties();
    let features = [Feature::new(Tag::new(b"tnum"), 1, ..), Feature::new(Tag::new(b"zero"), 1, ..)];
    let plan = || Arc::new(ShapePlan::new(font, direction, buffer.script(), buffer.language(), &features));
    let plan = PLANS.get((face, buffer.script(), direction == Direction::LeftToRight), plan);
    if harfrust::shape(&shaper, &mut buffer, ShapeOptions::new().features(&features).plan(Some(&plan))).is_err() {
        return Vec::new();
    }
    let starts: Vec<usize> =
        buffer.glyph_infos().iter().filter_map(|info| usize::try_from(info.cluster).ok()).collect();
    let mut sorted = starts.clone();
    sorted.sort_unstable();
    let glyphs = buffer.glyph_infos().iter().zip(buffer.glyph_positions()).zip(&starts).enumerate();
    glyphs
        .map(|(n, ((info, place), start))| {
            let is_first = n == 0 || starts.get(n - 1) != Some(start);
            let end = sorted.get(sorted.partition_point(|next| next <= start)).copied().unwrap_or(text.len());
            Glyph {
                face,
                at: u32::try_from(*start).unwrap_or(u32::MAX),
                id: u16::try_from(info.glyph_id).unwrap_or_default(),
                advance: units(place.x_advance),
                dx: units(place.x_offset),
                dy: units(place.y_offset),
                length: if is_first { u16::try_from(end - start).unwrap_or(u16::MAX) } else { 0 },
            }
        })
        .collect()
}

/// A distance as a face keeps it.
fn units(distance: i32) -> i16 {
    i16::try_from(distance).unwrap_or(if distance < 0 { i16::MIN } else { i16::MAX })
}

#[cfg(test)]
mod tests {
    use super::shape;
    use crate::sheet::Face;

    fn seen(text: &str) -> String {
        shape(text, Face::Bold).iter().map(|glyph| glyph.of(text)).collect()
    }

    /// Words turn round, and nothing else: a figure beside a name never changes its place.
    #[test]
    fn words_run_from_right_to_left_and_figures_stay() {
        assert_eq!(seen("WZ7QSB"), "WZ7QSB");
        assert_eq!(seen("אבג"), "גבא");
        assert_eq!(seen("אבג דה"), "הד גבא", "a name of two words");
        assert_eq!(seen("אב-גד \"הו\" ה\"ו"), "דג-בא \"וה\" ו\"ה", "quotes around a word stay, inside it they turn");
        assert_eq!(seen("call אבג now"), "call גבא now");
        assert_eq!(seen("אבג WZ7QSB דה"), "גבא WZ7QSB הד");
        assert_eq!(seen("אבג 1 146.3400, MED 1"), "גבא 1 146.3400, MED 1");
        assert_eq!(seen("אבג 1: send 146.3400"), "גבא 1: send 146.3400");
        assert_eq!(seen("אבג (2)"), "גבא (2)");
        assert_eq!(seen("אב, גד"), "בא, דג");
    }

    #[test]
    fn letters_come_from_the_first_face_that_has_them() {
        let faces =
            |text: &str, face| shape(text, face).iter().map(|glyph| (glyph.face, glyph.id != 0)).collect::<Vec<_>>();
        assert_eq!(faces("aΩж", Face::Regular), [(Face::Regular, true); 3]);
        assert_eq!(faces("aא", Face::Medium), [(Face::Medium, true), (Face::Hebrew, true)]);
        assert_eq!(faces("א", Face::SemiBold), [(Face::HebrewBold, true)]);
        assert!(faces("سلام", Face::Bold).iter().all(|glyph| *glyph == (Face::ArabicBold, true)));
        assert_eq!(faces("漢", Face::Bold), [(Face::Bold, false)], "what no face has is found out, not left away");
    }

    /// Arabic letters join: the same letter has another form at the beginning, inside and at the end of a word.
    #[test]
    fn arabic_letters_join() {
        let forms = shape("ههه", Face::Regular);
        assert_eq!(forms.len(), 3);
        let ids: std::collections::BTreeSet<u16> = forms.iter().map(|glyph| glyph.id).collect();
        assert_eq!(ids.len(), 3);
    }

    #[test]
    fn every_face_has_a_thousand_units_in_an_em() {
        for face in Face::ALL {
            let head = u32::from_be_bytes(table(face.bytes(), *b"head")) as usize;
            assert_eq!(face.bytes()[head + 18..head + 20], 1000_u16.to_be_bytes(), "{face:?}");
        }
    }

    fn table(bytes: &[u8], tag: [u8; 4]) -> [u8; 4] {
        let at = (12..).step_by(16).find(|at| bytes[*at..at + 4] == tag).unwrap();
        bytes[at + 8..at + 12].try_into().unwrap()
    }
}
