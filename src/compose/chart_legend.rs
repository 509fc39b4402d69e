//! How a chart is read, and what it leaves to the law and the coordinator.

use super::band_lanes::{held, letters};
use super::block::{Arrows, Block, FlagSign, Legend, LegendEntry, Paragraph, Role, Sample, Shade, Text};
use crate::audience::View;
use crate::tables::Band;

/// The legend of the strips of some bands.
pub(super) fn legend(view: &View<'_>, bands: &[&Band]) -> Vec<Block> {
    let profile = view.profile();
    let is_in = |at| bands.iter().any(|band| band.edges.has(at));
    let mut entries = vec![
        (Sample::Bar, "you hear here; the bar is as wide as the signal"),
        (Sample::Join, "repeater: send at the arrow; shift in kHz"),
    ];
    if profile.callings.iter().any(|row| is_in(row.frequency)) {
        entries.push((Sample::Sign(FlagSign::Filled), "calling frequency"));
    }
    if profile.emergencies.iter().any(|row| is_in(row.frequency)) {
        entries.push((
            Sample::Sign(FlagSign::Dotted),
            if profile.language == "en-US" { "emergency center" } else { "emergency centre" },
        ));
    }
    if profile.customs.iter().any(|row| bands.iter().any(|band| row.edges.overlaps(&band.edges))) {
        entries.push((Sample::Arrows(Arrows::Down), "repeater outputs: you hear"));
        entries.push((Sample::Arrows(Arrows::Up), "repeater inputs: you send"));
        entries.push((Sample::Arrows(Arrows::Both), "hear and send"));
    }
    entries.push((Sample::Shade(Shade::Open), "open to voice"));
    entries.push((Sample::Shade(Shade::Limited), "no voice; in the band plan no FM"));
    entries.push((Sample::Shade(Shade::Closed), "closed"));
    let entry = |(sample, words): (Sample, &str)| LegendEntry { sample, words: Text::own(words) };
    let legend = Legend { entries: entries.into_iter().map(entry).collect() };
    let small = |words: String| Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Small });
    let mut blocks = vec![Block::Legend(legend)];
    blocks.push(small(law(view, bands)));
    blocks
}

/// Which letter is which class, whose law it is, and what is advice.
fn law(view: &View<'_>, bands: &[&Band]) -> String {
    let profile = view.profile();
    let letters = letters(&profile.classes);
    let held: Vec<&str> = held(view).iter().map(|class| class.id.as_str()).collect();
    let named = profile
        .classes
        .iter()
        .zip(&letters)
        .filter(|(class, letter)| held.contains(&class.id.as_str()) && **letter != class.name);
    let named: Vec<String> = named.map(|(class, letter)| format!("{letter} {}", class.name)).collect();
    let mut parts: Vec<String> = Vec::new();
    if !named.is_empty() {
        parts.push(format!("{}: the class of whoever is in control decides.", named.join(", ")));
    }
    parts.push("Limits of width and power are not drawn.".to_owned());
    if profile.customs.iter().any(|row| bands.iter().any(|band| row.edges.overlaps(&band.edges))) {
        parts.push("The band plan is voluntary: ask your coordinator.".to_owned());
    }
    let second: Vec<String> =
        bands.iter().filter(|band| band.status.as_deref() == Some("secondary")).map(|band| band.name.clone()).collect();
    if let Some((last, others)) = second.split_last() {
        let bands = if others.is_empty() { last.clone() } else { format!("{} and {last}", others.join(", ")) };
        parts.push(format!("On {bands} other services come first."));
    }
    parts.join(" ")
}
