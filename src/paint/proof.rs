//! Pictures of finished sheets: as they are, after a photocopier, and under a red lamp.
//!
//! The picture is made from the PDF's bytes by another library than wrote them, so that it shows what a reader will see.

use crate::ground::{Bug, Length};
use crate::sheet::{Area, Size};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
use image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};

/// Light that a copier loses, and dark that it runs together, of 255 (common practice, no source).
const BURNT: u8 = 232;
const CLOGGED: u8 = 40;
/// How bright paper looks under a red headlamp, of 255.
const LAMP: u16 = 150;

/// Grey pixels, row by row, 0 black.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Picture {
    /// In pixels.
    pub width: u32,
    /// In pixels.
    pub height: u32,
    grey: Vec<u8>,
}

/// The pages of a PDF at so many dots an inch. Hue is not kept: our sheets have none.
///
/// # Errors
/// When the bytes cannot be read back, or a page is coloured: both are our own mistakes.
pub fn pictures(pdf: &[u8], dpi: u16) -> Result<Vec<Picture>, Bug> {
    let read = Pdf::new(pdf.to_vec()).map_err(|_| Bug::new("a finished sheet cannot be read back"))?;
    let scale = f32::from(dpi) / 72.0;
    let settings = PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    let cache = RenderCache::new();
    let picture = |page| {
        let pixels = render(page, &cache, &InterpreterSettings::default(), &RenderSettings::default(), &settings);
        let bytes = pixels.data_as_u8_slice();
        let is_grey = bytes.chunks_exact(4).all(|pixel| matches!(pixel, [r, g, b, _] if r == g && g == b));
        let grey = bytes.chunks_exact(4).filter_map(|pixel| pixel.first().copied()).collect();
        let picture = Picture { width: u32::from(pixels.width()), height: u32::from(pixels.height()), grey };
        is_grey.then_some(picture).ok_or_else(|| Bug::new("a sheet is coloured"))
    };
    read.pages().iter().map(picture).collect()
}

impl Picture {
    /// As it is, as PNG.
    ///
    /// # Errors
    /// When the picture cannot be encoded.
    pub fn png(&self) -> Result<Vec<u8>, Bug> {
        self.encoded(&self.grey, ExtendedColorType::L8)
    }

    /// After a black-and-white photocopy: light greys are lost, dark ones run together.
    ///
    /// # Errors
    /// When the picture cannot be encoded.
    pub fn copied(&self) -> Result<Vec<u8>, Bug> {
        let copied: Vec<u8> = self.grey.iter().map(|level| photocopied(*level)).collect();
        self.encoded(&copied, ExtendedColorType::L8)
    }

    /// Under a red headlamp: no other light comes back from the paper.
    ///
    /// # Errors
    /// When the picture cannot be encoded.
    pub fn red(&self) -> Result<Vec<u8>, Bug> {
        let lit = |level: &u8| [u8::try_from(u16::from(*level) * LAMP / 255).unwrap_or(u8::MAX), 0, 0];
        let red: Vec<u8> = self.grey.iter().flat_map(lit).collect();
        self.encoded(&red, ExtendedColorType::Rgb8)
    }

    /// A part of a page of `size`, upright.
    #[must_use]
    pub fn part(&self, area: Area, size: Size, is_turned: bool) -> Self {
        let (left, right) = (at(area.left, size.width, self.width), at(area.right, size.width, self.width));
        let (top, bottom) = (at(area.top, size.height, self.height), at(area.bottom, size.height, self.height));
        let width = usize::try_from(self.width).unwrap_or(1).max(1);
        let mut grey: Vec<u8> = self
            .grey
            .chunks_exact(width)
            .skip(top)
            .take(bottom.saturating_sub(top))
            .flat_map(|row| row.get(left..right).unwrap_or_default())
            .copied()
            .collect();
        if is_turned {
            grey.reverse();
        }
        let side = |from: usize, to: usize| u32::try_from(to.saturating_sub(from)).unwrap_or(0);
        Self { width: side(left, right), height: side(top, bottom), grey }
    }

    /// The grey of a pixel; none outside.
    #[must_use]
    pub fn level(&self, x: u32, y: u32) -> Option<u8> {
        let inside = x < self.width && y < self.height;
        let index = u64::from(y) * u64::from(self.width) + u64::from(x);
        self.grey.get(usize::try_from(index).ok()?).copied().filter(|_| inside)
    }

    fn encoded(&self, bytes: &[u8], color: ExtendedColorType) -> Result<Vec<u8>, Bug> {
        let mut png = Vec::new();
        PngEncoder::new(&mut png)
            .write_image(bytes, self.width, self.height, color)
            .map_err(|fault| Bug::new(format!("a picture cannot be written: {fault}")))?;
        Ok(png)
    }
}

/// What a copier makes of a grey: the ends are lost, the middle keeps its order.
fn photocopied(level: u8) -> u8 {
    let range = u16::from(BURNT - CLOGGED);
    let kept = u16::from(level.clamp(CLOGGED, BURNT) - CLOGGED);
    u8::try_from(kept * 255 / range).unwrap_or(u8::MAX)
}

/// The pixel at a place of a page.
fn at(place: Length, of: Length, pixels: u32) -> usize {
    let grains = i128::from(place.as_grains()) * i128::from(pixels);
    let pixel = (grains + i128::from(of.as_grains()) / 2) / i128::from(of.as_grains().max(1));
    usize::try_from(pixel.clamp(0, i128::from(pixels))).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::{Picture, photocopied};
    use crate::ground::Length;
    use crate::sheet::{Area, Size};

    #[test]
    fn a_part_is_cut_to_the_pixel_and_stood_upright() {
        let picture = Picture { width: 4, height: 2, grey: vec![0, 1, 2, 3, 4, 5, 6, 7] };
        let size = Size { width: Length::mm(4), height: Length::mm(2) };
        let area = Area { left: Length::mm(2), top: Length::ZERO, right: Length::mm(4), bottom: Length::mm(2) };
        assert_eq!(picture.part(area, size, false).grey, [2, 3, 6, 7]);
        assert_eq!(picture.part(area, size, true).grey, [7, 6, 3, 2]);
    }

    /// By hand: paper gives back 150 of 255, and no light that is not red; a grey in proportion, ink nothing.
    #[test]
    fn a_red_lamp_gives_back_red_alone_in_proportion() {
        let picture = Picture { width: 5, height: 1, grey: vec![255, 204, 128, 51, 0] };
        let lit = image::load_from_memory(&picture.red().unwrap()).unwrap();
        let pixels: Vec<[u8; 3]> = lit.to_rgb8().pixels().map(|pixel| pixel.0).collect();
        assert_eq!(pixels, [[150, 0, 0], [120, 0, 0], [75, 0, 0], [30, 0, 0], [0, 0, 0]]);
    }

    #[test]
    fn a_copier_keeps_order_and_loses_the_ends() {
        assert_eq!((photocopied(0), photocopied(40), photocopied(232), photocopied(255)), (0, 0, 255, 255));
        assert!((0..255_u8).all(|level| photocopied(level) <= photocopied(level + 1)));
    }
}
