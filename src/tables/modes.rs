//! What a mode is unless the plan says otherwise.

use super::row::{Cite, Field, list, need, rows};
use crate::ground::Findings;
use crate::source::{Cell, Node};
use serde::Deserialize;

/// One mode in one width.
#[derive(Clone, Debug)]
pub struct ModeForm {
    /// As plans write it: `FM`.
    pub mode: String,
    /// `wide` or `narrow`.
    pub width: String,
    /// Emission designator.
    pub emission: String,
    /// As a card prints it: `FM ±5 kHz`.
    pub words: String,
    /// `A` or `D`.
    pub class: String,
    /// Where from.
    pub cite: Cite,
}

/// All modes.
#[derive(Clone, Debug)]
pub struct Modes {
    forms: Vec<ModeForm>,
    /// Each mode with the symbols of designators that are of it.
    symbols: Vec<(String, Vec<String>)>,
}

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenSymbols {
    mode: Field<String>,
    emissions: Field<Vec<Cell<String>>>,
    source: Field<String>,
    confidence: Field<String>,
}

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenMode {
    mode: Field<String>,
    width: Field<String>,
    emission: Field<String>,
    words: Field<String>,
    class: Field<String>,
    source: Field<String>,
    confidence: Field<String>,
}

impl Modes {
    pub(super) fn read(root: &Node, found: &mut Findings) -> Self {
        let mut forms = Vec::new();
        for (w, span) in rows::<WrittenMode>(root, "mode", found) {
            let mut text = |field, key| need(field, key, span, found).map(|text: crate::ground::At<String>| text.value);
            let (mode, width) = (text(w.mode, "mode"), text(w.width, "width"));
            let (emission, words, class) =
                (text(w.emission, "emission"), text(w.words, "words"), text(w.class, "class"));
            let cite = Cite::read(w.source, w.confidence, span, found);
            if let (Some(mode), Some(width), Some(emission), Some(words), Some(class), Some(cite)) =
                (mode, width, emission, words, class, cite)
            {
                forms.push(ModeForm { mode, width, emission, words, class, cite });
            }
        }
        let mut symbols = Vec::new();
        for (w, span) in rows::<WrittenSymbols>(root, "symbols", found) {
            let mode = need(w.mode, "mode", span, found);
            let cite = Cite::read(w.source, w.confidence, span, found);
            if let (Some(mode), Some(_)) = (mode, cite) {
                symbols.push((mode.value, list(w.emissions)));
            }
        }
        Self { forms, symbols }
    }

    /// A mode in one width; its wide form where it has no narrow one.
    #[must_use]
    pub fn form(&self, mode: &str, is_narrow: bool) -> Option<&ModeForm> {
        let of = |width: &str| self.forms.iter().find(|form| form.mode == mode && form.width == width);
        if is_narrow { of("narrow").or_else(|| of("wide")) } else { of("wide") }
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
        let is_of = |known: &&(String, Vec<String>)| known.1.iter().any(|of| of == three);
        self.symbols.iter().filter(is_of).map(|(mode, _)| mode.as_str()).collect()
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = &ModeForm> {
        self.forms.iter()
    }
}
