//! A day and a time of day, whose zone cannot be left unsaid.

use super::{FieldKind, FieldRoom};
use crate::ground::{At, Words};
use crate::source::{Reading, record, words_of};

words_of! {
    /// The zone of a date and time on a form.
    pub enum FieldZone {
        /// Local time: the word is printed.
        Local = "local",
        /// UTC: the word is printed.
        Utc = "UTC",
        /// One of them is ticked.
        Ticks = "ticks",
    }
}

record! {
    /// A day and a time of day.
    pub struct Moment = "field" {
        /// A date and time is written there, in this zone; none when left out.
        date_time: Option<At<FieldZone>>,
    }
}

impl FieldKind for Moment {
    const ASKED_BY: &'static str = "date-time";

    fn is_asked(&self) -> bool {
        self.date_time.is_some()
    }

    fn room(self, _: &At<Words>, _: &mut Reading<'_>) -> FieldRoom {
        let zone = self.date_time.map_or(FieldZone::Local, |zone| zone.value);
        let (at_end, end_boxes) = match zone {
            FieldZone::Ticks => {
                (String::new(), vec![FieldZone::Local.word().to_owned(), FieldZone::Utc.word().to_owned()])
            }
            said => (said.word().to_owned(), Vec::new()),
        };
        FieldRoom { rows: 1, at_end, end_boxes, ..FieldRoom::empty("date-time") }
    }
}
