//! Paper sizes.

use super::row::{Cite, Field, need, rows};
use crate::ground::{Findings, Length};
use crate::source::Node;
use serde::Deserialize;

/// A paper or card, upright.
#[derive(Clone, Debug)]
pub struct Paper {
    /// As plans write it: `letter`.
    pub id: String,
    /// As printed.
    pub name: String,
    /// Shorter side; the longer for cards.
    pub width: Length,
    /// The other side.
    pub height: Length,
    /// Where from.
    pub cite: Cite,
}

/// All papers.
#[derive(Clone, Debug)]
pub struct Papers {
    list: Vec<Paper>,
}

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenPaper {
    id: Field<String>,
    name: Field<String>,
    width: Field<Length>,
    height: Field<Length>,
    source: Field<String>,
    confidence: Field<String>,
}

impl Papers {
    pub(super) fn read(root: &Node, found: &mut Findings) -> Self {
        let mut list = Vec::new();
        for (w, span) in rows::<WrittenPaper>(root, "paper", found) {
            let (id, name) = (need(w.id, "id", span, found), need(w.name, "name", span, found));
            let (width, height) = (need(w.width, "width", span, found), need(w.height, "height", span, found));
            let cite = Cite::read(w.source, w.confidence, span, found);
            if let (Some(id), Some(name), Some(width), Some(height), Some(cite)) = (id, name, width, height, cite) {
                list.push(Paper { id: id.value, name: name.value, width: width.value, height: height.value, cite });
            }
        }
        Self { list }
    }

    /// The paper of this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Paper> {
        self.list.iter().find(|paper| paper.id == id)
    }

    /// Papers that a printer takes.
    pub fn sheets(&self) -> impl Iterator<Item = &Paper> {
        self.list.iter().filter(|paper| paper.id != "id-1")
    }
}
