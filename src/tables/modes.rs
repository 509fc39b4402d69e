//! What a mode is unless the plan says otherwise.

use super::row::{Cite, rows};
use crate::ground::{Findings, Width};
use crate::source::{Node, record};

record! {
    /// One mode in one width.
    #[derive(Clone, Debug)]
    pub struct ModeForm = "row of a table" {
        /// As plans write it: `FM`.
        mode: String,
        /// `wide` or `narrow`.
        width: String,
        /// Emission designator.
        emission: String,
        /// As a card prints it: `FM ±5`.
        words: String,
        /// `A` or `D`.
        class: String,
        /// Where from.
        cite: Cite,
    }

    /// What designators are of a mode.
    #[derive(Clone, Debug)]
    pub struct ModeSymbols = "row of a table" {
        /// As plans write it.
        mode: String,
        /// The symbols of designators.
        emissions: Vec<String>,
        /// Where from.
        _cite: Cite,
    }
}

impl ModeForm {
    /// How wide it is, by its designator; none where that is none.
    fn width(&self) -> Option<Width> {
        let notation = self.emission.get(..4)?;
        let (letter, unit) =
            [('H', "Hz"), ('K', "kHz"), ('M', "MHz")].into_iter().find(|(letter, _)| notation.contains(*letter))?;
        let number = notation.replace(letter, ".");
        Width::parse(&format!("{} {unit}", number.trim_end_matches('.'))).ok()
    }
}

/// All modes.
#[derive(Clone, Debug)]
pub struct Modes {
    forms: Vec<ModeForm>,
    symbols: Vec<ModeSymbols>,
}

impl Modes {
    pub(super) fn read(root: &Node, found: &mut Findings) -> Self {
        Self { forms: rows(root, "mode", found), symbols: rows(root, "symbols", found) }
    }

    /// A mode in one width; its wide form where it has no narrow one.
    #[must_use]
    pub fn form(&self, mode: &str, is_narrow: bool) -> Option<&ModeForm> {
        let of = |width: &str| self.forms.iter().find(|form| form.mode == mode && form.width == width);
        if is_narrow { of("narrow").or_else(|| of("wide")) } else { of("wide") }
    }

    /// The widest form of a mode that keeps within a width; none where none does.
    #[must_use]
    pub fn widest_within(&self, mode: &str, most: Width) -> Option<&ModeForm> {
        let forms = self.forms.iter().filter(|form| form.mode == mode);
        forms.filter(|form| form.width().is_some_and(|width| width <= most)).max_by_key(|form| form.width())
    }

    /// Whether the symbols of a designator (`F3E`, further symbols allowed) are of a mode.
    #[must_use]
    pub fn fits(&self, mode: &str, symbols: &str) -> bool {
        self.fitting(symbols).contains(&mode)
    }

    /// The modes that the symbols of a designator are of.
    #[must_use]
    pub fn fitting(&self, symbols: &str) -> Vec<&str> {
        let three = symbols.get(..3).unwrap_or(symbols);
        let is_of = |known: &&ModeSymbols| known.emissions.iter().any(|of| of == three);
        self.symbols.iter().filter(is_of).map(|known| known.mode.as_str()).collect()
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = &ModeForm> {
        self.forms.iter()
    }
}
