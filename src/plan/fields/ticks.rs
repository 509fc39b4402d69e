//! Boxes to tick.

use super::{FieldKind, FieldRoom};
use crate::ground::Finding;
use crate::ground::{At, Words};
use crate::plan::rules::FORM_FIELD_UNCLEAR;
use crate::plan::terms::FieldMeaning;
use crate::source::{Reading, record};

record! {
    /// Boxes to tick.
    pub struct TickBoxes = "field" {
        /// Words beside boxes to tick, as `open`; no boxes when left out.
        ticks: Vec<At<Words>>,
        /// What each of the ticks means, in their order, as `life is in danger`; nothing is printed when left out.
        means: Vec<At<Words>>,
        /// The boxes are the profile's words for this, its own ticks where the profile has none; its own ticks alone
        /// when left out.
        meaning: Option<At<FieldMeaning>>,
    }
}

impl FieldKind for TickBoxes {
    const ASKED_BY: &'static str = "ticks (or meaning)";

    fn is_asked(&self) -> bool {
        !self.ticks.is_empty() || self.meaning.is_some()
    }

    /// Where neither it nor the profile has words, people write one.
    fn room(self, label: &At<Words>, of: &mut Reading<'_>) -> FieldRoom {
        let (ticks, means) = (self.ticks.len(), self.means.len());
        if let Some(first) = self.means.first().filter(|_| ticks != means) {
            let what = format!("\"{}\" has {ticks} ticks and says what {means} of them mean", label.value);
            let finding = Finding::new(&FORM_FIELD_UNCLEAR, first.span, what).label("the first of what they mean");
            of.found.push(finding.help("write one text in `means` for each tick"));
        }
        match self.ticks.is_empty() {
            true => FieldRoom::lines(1),
            false => FieldRoom {
                meanings: self.means.iter().map(|words| words.to_string()).collect(),
                ..FieldRoom::ticks(self.ticks.iter().map(|words| words.to_string()).collect())
            },
        }
    }

    fn meaning(&self) -> Option<FieldMeaning> {
        self.meaning.map(|meaning| meaning.value)
    }
}

impl FieldRoom {
    /// Boxes to tick, with their words.
    #[must_use]
    pub fn ticks(boxes: Vec<String>) -> Self {
        Self { boxes, ..Self::empty("ticks") }
    }
}
