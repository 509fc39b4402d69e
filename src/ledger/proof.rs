//! Pictures of every sheet and panel of a kit, and one page that shows them: for the coordinator's eyes before printing.

use super::kit::{Kit, KitFile};
use crate::ground::{Audience, Bug, Finding, Findings, on_all_threads};
use crate::paint::{Picture, ProofDocument, ProofHead, pictures, proof_page};
use crate::sheet::Size;
use std::collections::BTreeMap;

/// What one document shows.
struct ShownDocument {
    files: Vec<(String, Vec<u8>)>,
    pages: Vec<(Size, Vec<u8>)>,
}

/// The proofs of a kit as a kit of their own: `NAME_1.png`, `NAME_1_copied.png`, `NAME_1_red.png` for each side of a sheet,
/// `NAME_panel_1.png` for each panel, and `proof.html`. No id holds a low line, so that no two pictures have one name.
///
/// # Errors
/// When a finished sheet cannot be read back: a bug.
pub fn proofs(kit: &Kit, found: &Findings, dpi: u16) -> Result<Kit, Bug> {
    let shown = on_all_threads(&kit.files, 1, |file| shown(file, dpi));
    let shown = shown.into_iter().collect::<Result<Vec<ShownDocument>, Bug>>()?;
    let mut files = Vec::new();
    let mut documents = Vec::new();
    for (file, ShownDocument { files: pictures, pages }) in kit.files.iter().zip(shown) {
        files.extend(pictures.into_iter().map(|(name, bytes)| proof_file(name, bytes)));
        documents.push(ProofDocument { name: &file.name, pages, panels: &file.placements });
    }
    let head = ProofHead {
        edition: format!("{} edition {}", kit.plan, kit.edition),
        rules: &kit.rule_set,
        dpi,
        findings: found.iter().map(finding).collect(),
    };
    files.push(proof_file("proof.html".to_owned(), proof_page(&head, &documents).into_bytes()));
    Ok(kit.with(files))
}

fn finding(finding: &Finding) -> (String, &'static str, String) {
    let severity = finding.severity().word().to_owned();
    let severity = if finding.waived.is_some() { format!("accepted {severity}") } else { severity };
    (severity, finding.rule.name, finding.message.clone())
}

fn shown(file: &KitFile, dpi: u16) -> Result<ShownDocument, Bug> {
    let stem = file.name.strip_suffix(".pdf").unwrap_or(&file.name);
    let sides = pictures(&file.bytes, dpi)?;
    let mut shown = ShownDocument { files: Vec::new(), pages: Vec::new() };
    for (number, side) in sides.iter().enumerate() {
        let number = number + 1;
        shown.files.push((format!("{stem}_{number}_copied.png"), side.copied()?));
        shown.files.push((format!("{stem}_{number}_red.png"), side.red()?));
        let png = side.png()?;
        shown.files.push((format!("{stem}_{number}.png"), png.clone()));
        shown.pages.extend(file.pages.get(number - 1).map(|size| (*size, png)));
    }
    for (number, panel) in file.placements.iter().enumerate() {
        let side: Option<(&Picture, &Size)> = Option::zip(sides.get(panel.page), file.pages.get(panel.page));
        let (side, size) = side.ok_or_else(|| Bug::new("a panel stands on a page that is not there"))?;
        let part = side.part(panel.area, *size, panel.is_turned);
        shown.files.push((format!("{stem}_panel_{}.png", number + 1), part.png()?));
    }
    Ok(shown)
}

fn proof_file(name: String, bytes: Vec<u8>) -> KitFile {
    KitFile {
        name,
        bytes,
        written: None,
        kind: "proof".to_owned(),
        audience: Audience::Coordinator,
        holder: None,
        placements: Vec::new(),
        pages: Vec::new(),
        parts: Vec::new(),
        code: None,
        content: None,
        holder_content: BTreeMap::new(),
        holder_code: BTreeMap::new(),
    }
}
