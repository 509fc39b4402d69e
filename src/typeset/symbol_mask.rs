//! Which of eight masks a symbol takes: the one with the fewest stretches, blocks and finder-like rows (ISO/IEC 18004, 7.8.3).
//!
//! The choice is that of the encoder, which takes most of a symbol's time for it; row by row it takes a tenth.

use qrcode::bits::Bits;
use qrcode::canvas::{Canvas, MaskPattern};
use qrcode::ec::construct_codewords;
use qrcode::{Color, EcLevel};

/// The modules of a symbol.
pub(super) struct Code {
    /// Modules a side.
    pub side: usize,
    /// Row by row, dark is true.
    pub dark: Vec<bool>,
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

/// The symbol of some bits, at level M, under the mask that readers like best; of two as good the first.
pub(super) fn masked(bits: Bits) -> Option<Code> {
    let version = bits.version();
    let (data, corrections) = construct_codewords(&bits.into_bytes(), version, EcLevel::M).ok()?;
    let mut canvas = Canvas::new(version, EcLevel::M);
    canvas.draw_all_functional_patterns();
    canvas.draw_data(&data, &corrections);
    let side = usize::try_from(version.width()).ok()?;
    let under = |mask: MaskPattern| {
        let mut canvas = canvas.clone();
        canvas.apply_mask(mask);
        let dark = canvas.into_colors().into_iter().map(|color| color == Color::Dark).collect();
        Code { side, dark }
    };
    MASKS.into_iter().map(under).min_by_key(penalty)
}

/// What speaks against a mask: three points and more for a stretch of five or more alike, three for each block of four alike, forty for
/// each row that looks like a finder, and what dark and light are apart, in half percents.
fn penalty(code: &Code) -> usize {
    let rows: Vec<&[bool]> = code.dark.chunks(code.side).collect();
    let turned: Vec<bool> =
        (0..code.side).flat_map(|x| rows.iter().map(move |row| row.get(x).copied().unwrap_or_default())).collect();
    let lines = || rows.iter().copied().chain(turned.chunks(code.side));
    let blocks: usize = rows.windows(2).map(blocks).sum();
    let dark = code.dark.iter().filter(|dark| **dark).count();
    let balance = (dark * 200 / code.dark.len().max(1)).abs_diff(100);
    lines().map(|line| stretches(line) + finders(line)).sum::<usize>() + blocks + balance
}

fn stretches(line: &[bool]) -> usize {
    line.chunk_by(|a, b| a == b).filter(|alike| alike.len() >= 5).map(|alike| alike.len() - 2).sum()
}

fn blocks(rows: &[&[bool]]) -> usize {
    let [upper, lower] = rows else { return 0 };
    let is_block =
        |(upper, lower): &(&[bool], &[bool])| matches!((upper, lower), ([a, b], [c, d]) if a == b && b == c && c == d);
    3 * upper.windows(2).zip(lower.windows(2)).filter(is_block).count()
}

const FINDER: [bool; 7] = [true, false, true, true, true, false, true];

/// Light for four modules on a side of it, or the edge of the symbol.
fn finders(line: &[bool]) -> usize {
    let is_light = |modules: Option<&[bool]>| !modules.unwrap_or_default().contains(&true);
    let is_free = |at: usize| {
        let behind = at + FINDER.len();
        is_light(line.get(at.saturating_sub(4)..at)) || is_light(line.get(behind..line.len().min(behind + 4)))
    };
    40 * line.windows(FINDER.len()).enumerate().filter(|(at, seven)| **seven == FINDER && is_free(*at)).count()
}

#[cfg(test)]
mod tests {
    use super::masked;
    use qrcode::bits::encode_auto;
    use qrcode::{Color, EcLevel, QrCode};

    /// The encoder's own choice, for texts of all lengths up to a symbol of 113 modules a side.
    #[test]
    fn the_mask_is_that_of_the_encoder() {
        let text = "BEGIN:VCARD\r\nN:Varga;Ines\r\nTEL:+1 406 555 0110\r\n146.9400 -600 CMD 1 100.0 ";
        for length in (1..700).step_by(13) {
            let text: String = text.chars().cycle().skip(length).take(length).collect();
            let bits = || encode_auto(text.as_bytes(), EcLevel::M).unwrap();
            let theirs = QrCode::with_bits(bits(), EcLevel::M).unwrap();
            let theirs: Vec<bool> = theirs.to_colors().into_iter().map(|color| color == Color::Dark).collect();
            assert_eq!(masked(bits()).unwrap().dark, theirs, "{length}");
        }
    }
}
