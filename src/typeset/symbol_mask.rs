//! Which of eight masks a symbol takes: the one with the fewest stretches, blocks and finder-like rows (ISO/IEC 18004, 7.8.3).
//!
//! The choice is that of the encoder, which takes most of a symbol's time for it; all modules of a row at once, and what masks
//! do to a symbol of a size known, it takes little.

use crate::ground::{Later, Shelf};
use qrcode::bits::Bits;
use qrcode::canvas::{Canvas, MaskPattern};
use qrcode::ec::construct_codewords;
use qrcode::{Color, EcLevel};
use std::ops::{BitAnd, BitOr, BitXor, Not};
use std::sync::{Arc, LazyLock};

/// A symbol.
pub(super) struct Code {
    /// Modules a side.
    pub side: usize,
    /// Row by row, dark is true.
    pub dark: Later<Vec<bool>>,
}

const MASKS: [MaskPattern; 8] = [
    MaskPattern::Checkerboard,
    MaskPattern::HorizontalLines,
    MaskPattern::VerticalLines,
    MaskPattern::DiagonalLines,
    MaskPattern::LargeCheckerboard,
    MaskPattern::Fields,
    MaskPattern::Diamonds,
    MaskPattern::Meadow,
];

/// What each mask turns over in the symbols of a size, whatever they hold: found by the first of that size.
static TURNED: LazyLock<Shelf<usize, Arc<[MaskGrid]>>> = LazyLock::new(Shelf::default);

/// The symbol of some bits, at level M, under the mask that readers like best; of two as good the first.
pub(super) fn masked(bits: Bits) -> Option<Code> {
    let version = bits.version();
    let (data, corrections) = construct_codewords(&bits.into_bytes(), version, EcLevel::M).ok()?;
    let side = usize::try_from(version.width()).ok()?;
    let dark = Later::made_by(move || {
        let mut canvas = Canvas::new(version, EcLevel::M);
        canvas.draw_all_functional_patterns();
        canvas.draw_data(&data, &corrections);
        under_the_best(&canvas, side)
    });
    Some(Code { side, dark })
}

/// The modules of a canvas under the best of the masks.
fn under_the_best(canvas: &Canvas, side: usize) -> Vec<bool> {
    let dark = |canvas: Canvas| canvas.into_colors().into_iter().map(|color| color == Color::Dark).collect::<Vec<_>>();
    let under = |mask: MaskPattern| {
        let mut canvas = canvas.clone();
        canvas.apply_mask(mask);
        dark(canvas)
    };
    let plain = MaskGrid::of(&dark(canvas.clone()), side);
    let turned = TURNED.get(side, || MASKS.map(|mask| plain.turned_by(&MaskGrid::of(&under(mask), side))).into());
    let best = MASKS.into_iter().zip(turned.iter()).min_by_key(|(_, turned)| plain.turned_by(turned).penalty());
    best.map_or_else(Vec::new, |(mask, _)| under(mask))
}

/// The modules of a symbol by rows and by columns.
struct MaskGrid {
    rows: Vec<ModuleLine>,
    columns: Vec<ModuleLine>,
}

impl MaskGrid {
    fn of(dark: &[bool], side: usize) -> Self {
        let (mut rows, mut columns) = (vec![ModuleLine::default(); side], vec![ModuleLine::default(); side]);
        for (y, (row, modules)) in rows.iter_mut().zip(dark.chunks(side.max(1))).enumerate() {
            for ((x, column), _) in columns.iter_mut().enumerate().zip(modules).filter(|(_, is_dark)| **is_dark) {
                *row = *row | ModuleLine::one(x);
                *column = *column | ModuleLine::one(y);
            }
        }
        Self { rows, columns }
    }

    /// Dark where one of two is and not the other: what parts them, and what gives the one from the other.
    fn turned_by(&self, other: &Self) -> Self {
        let turned =
            |lines: &[ModuleLine], other: &[ModuleLine]| lines.iter().zip(other).map(|(a, b)| *a ^ *b).collect();
        Self { rows: turned(&self.rows, &other.rows), columns: turned(&self.columns, &other.columns) }
    }

    /// What speaks against a symbol: three points and more for a stretch of five or more alike, three for each block of four alike,
    /// forty for each row that looks like a finder, and what dark and light are apart, in half percents.
    fn penalty(&self) -> u32 {
        let whole = (0..self.rows.len()).map(ModuleLine::one).fold(ModuleLine::default(), |whole, one| whole | one);
        let blocks: u32 =
            self.rows.iter().zip(self.rows.iter().skip(1)).map(|(upper, lower)| blocks(*upper, *lower, whole)).sum();
        let dark: u32 = self.rows.iter().map(|row| row.count()).sum();
        let all = u32::try_from(self.rows.len().pow(2)).unwrap_or(u32::MAX).max(1);
        let lines = self.rows.iter().chain(&self.columns).map(|line| stretches(*line, whole) + finders(*line));
        lines.sum::<u32>() + blocks + (dark * 200 / all).abs_diff(100)
    }
}

/// Two points and one for each module behind the fourth of a stretch.
fn stretches(line: ModuleLine, whole: ModuleLine) -> u32 {
    let of = |alike: ModuleLine| {
        // Where five alike begin; and, of a stretch, the first of these places.
        let fives = (1..5).fold(alike, |fives, away| fives & alike.moved_back(away));
        let firsts = fives & !fives.moved_on(1);
        fives.count() + 2 * firsts.count()
    };
    of(line) + of(!line & whole)
}

fn blocks(upper: ModuleLine, lower: ModuleLine, whole: ModuleLine) -> u32 {
    let of = |alike: ModuleLine| 3 * (alike & alike.moved_back(1)).count();
    of(upper & lower) + of(!(upper | lower) & whole)
}

/// Dark, light, three dark, light, dark; with light for four modules on a side of it, or the edge of the symbol.
fn finders(line: ModuleLine) -> u32 {
    let dark = |away: u32| line.moved_back(away);
    let seven = line & !dark(1) & dark(2) & dark(3) & dark(4) & !dark(5) & dark(6);
    let before = (1..5).fold(ModuleLine::default(), |any, away| any | line.moved_on(away));
    let behind = (7..11).fold(ModuleLine::default(), |any, away| any | dark(away));
    40 * (seven & !(before & behind)).count()
}

/// A row or column, a bit for each module, dark is one: the first 128 and the rest of at most 177.
#[derive(Clone, Copy, Default)]
struct ModuleLine(u128, u128);

impl ModuleLine {
    const fn one(at: usize) -> Self {
        if at < 128 { Self(1 << at, 0) } else { Self(0, 1 << (at - 128)) }
    }

    /// What stands so many modules behind each.
    const fn moved_back(self, by: u32) -> Self {
        Self(self.0 >> by | self.1 << (128 - by), self.1 >> by)
    }

    /// What stands so many modules before each.
    const fn moved_on(self, by: u32) -> Self {
        Self(self.0 << by, self.1 << by | self.0 >> (128 - by))
    }

    const fn count(self) -> u32 {
        self.0.count_ones() + self.1.count_ones()
    }
}

impl BitAnd for ModuleLine {
    type Output = Self;

    fn bitand(self, other: Self) -> Self {
        Self(self.0 & other.0, self.1 & other.1)
    }
}

impl BitOr for ModuleLine {
    type Output = Self;

    fn bitor(self, other: Self) -> Self {
        Self(self.0 | other.0, self.1 | other.1)
    }
}

impl BitXor for ModuleLine {
    type Output = Self;

    fn bitxor(self, other: Self) -> Self {
        Self(self.0 ^ other.0, self.1 ^ other.1)
    }
}

impl Not for ModuleLine {
    type Output = Self;

    fn not(self) -> Self {
        Self(!self.0, !self.1)
    }
}

#[cfg(test)]
mod tests {
    use super::masked;
    use qrcode::bits::encode_auto;
    use qrcode::{Color, EcLevel, QrCode};

    /// The encoder's own choice, for texts of all lengths up to the largest symbol, of 177 modules a side.
    #[test]
    fn the_mask_is_that_of_the_encoder() {
        let text = "BEGIN:VCARD\r\nN:Varga;Ines\r\nTEL:+1 406 555 0110\r\n146.9400 -600 CMD 1 100.0 ";
        for length in (1..2300).step_by(37) {
            let text: String = text.chars().cycle().skip(length).take(length).collect();
            let bits = || encode_auto(text.as_bytes(), EcLevel::M).unwrap();
            let theirs = QrCode::with_bits(bits(), EcLevel::M).unwrap();
            let theirs: Vec<bool> = theirs.to_colors().into_iter().map(|color| color == Color::Dark).collect();
            assert_eq!(*masked(bits()).unwrap().dark, theirs, "{length}");
        }
    }
}
