//! What several tests share: shaped text by hand, pictures of a PDF, and the outside tools where they are installed.
#![allow(dead_code, reason = "the fuzzing program uses a part")]

pub mod around;
pub mod book;
pub mod desk;
pub mod every;
pub mod faulty;
pub mod geometry;
pub mod golden;
pub mod papers;
pub mod shelf;
pub mod small_team;

use fieldsheaf::compose::block::Role;
use fieldsheaf::ground::{Length, Span};
use fieldsheaf::sheet::{Face, Glyph, Glyphs, Mark, Point, ReadPlace, Slope};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

/// One line of regular text with its baseline starting at `x`, `y`, shaped without the typeset floor.
pub fn line(text: &str, x: Length, y: Length, size: Length) -> Mark {
    let bytes: &[u8] = include_bytes!("../../fonts/FiraSansCondensed_400Regular.ttf");
    let font = harfrust::Font::new(bytes, 0).unwrap();
    let shaper = harfrust::ShaperFont::new(&font);
    let mut buffer = harfrust::Buffer::new();
    buffer.push_str(text);
    buffer.guess_segment_properties();
    harfrust::shape(&shaper, &mut buffer, harfrust::ShapeOptions::new()).unwrap();
    let starts: Vec<usize> = buffer.glyph_infos().iter().map(|info| info.cluster as usize).collect();
    let mut glyphs = Vec::new();
    for (n, (info, place)) in buffer.glyph_infos().iter().zip(buffer.glyph_positions()).enumerate() {
        let start = starts[n];
        let is_first = n == 0 || starts[n - 1] != start;
        let end = starts.iter().copied().find(|next| *next > start).unwrap_or(text.len());
        glyphs.push(Glyph {
            face: Face::Regular,
            at: u32::try_from(start).unwrap(),
            id: u16::try_from(info.glyph_id).unwrap(),
            advance: place.x_advance.try_into().unwrap(),
            dx: place.x_offset.try_into().unwrap(),
            dy: place.y_offset.try_into().unwrap(),
            length: if is_first { u16::try_from(end - start).unwrap() } else { 0 },
        });
    }
    let units: i64 = glyphs.iter().map(|glyph| i64::from(glyph.advance)).sum();
    Mark::Glyphs(Glyphs {
        at: Point { x, y },
        face: Face::Regular,
        size,
        role: Role::Body,
        text: text.into(),
        span: Span::NOWHERE,
        glyphs: glyphs.into(),
        width: size.fraction(units, 1000),
        place: ReadPlace::default(),
        slope: Slope::Level,
    })
}

/// What a tool prints for a PDF given on a file; `None`, said on stderr, where the tool is not installed.
///
/// A tool that refuses the file fails the test.
pub fn judged(tool: &str, before: &[&str], pdf: &[u8], after: &[&str]) -> Option<String> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("judged.pdf");
    written(&path, pdf);
    let run = Command::new(tool).args(before).arg(&path).args(after).stdin(Stdio::null()).output();
    let output = match run {
        Err(fault) if fault.kind() == std::io::ErrorKind::NotFound => {
            let mut out = std::io::stderr();
            writeln!(out, "skipped: {tool} not installed").unwrap();
            return None;
        }
        run => run.unwrap(),
    };
    let (said, complained) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    assert!(output.status.success(), "{tool} refused the file: {said}{complained}");
    // mutool warns of its own build ("ICC support is not available"); that says nothing about the file.
    assert!(!complained.to_lowercase().contains("error"), "{tool} complained: {complained}");
    Some(said.into_owned())
}

#[expect(clippy::disallowed_methods, reason = "a test hands a file to a tool")]
fn written(path: &Path, bytes: &[u8]) {
    std::fs::write(path, bytes).unwrap();
}

/// Grey pixels of a page, row by row, 0 black; with its width and height. Dots are per point.
pub fn picture(pdf: &[u8], page: usize, dots: f32) -> image::GrayImage {
    let read = hayro::hayro_syntax::Pdf::new(pdf.to_vec()).expect("hayro reads our PDF");
    let settings =
        hayro::PixmapSettings { x_scale: dots, y_scale: dots, bg_color: hayro::vello_cpu::color::palette::css::WHITE };
    let cache = hayro::RenderCache::new();
    let interpreter = hayro::hayro_interpret::InterpreterSettings::default();
    let render = hayro::RenderSettings::default();
    let pixels = hayro::render(&read.pages()[page], &cache, &interpreter, &render, &settings);
    let (width, height) = (u32::from(pixels.width()), u32::from(pixels.height()));
    let bytes = pixels.data_as_u8_slice();
    image::GrayImage::from_fn(width, height, |x, y| image::Luma([bytes[(y * width + x) as usize * 4]]))
}
