//! Formal messages.

use crate::ground::{At, CallSign, Id, Words};
use crate::plan::notations::LocalTime;
use crate::plan::radiogram::{FiledTime, Handling, MonthDay, Precedence, WordCheck};
use crate::source::{Whole, record};

record! {
    /// `[[message]]`: a formal message as it is sent, in the parts of a radiogram.
    #[derive(Clone, Debug)]
    pub struct Message = "message" {
        /// Unique among messages, as `beds`.
        id: At<Id>,
        /// Its number, which the station of origin gives and nobody changes, as `12`.
        number: At<Whole<u32, 1, 9999, true>>,
        /// How urgent it is, in a word of the profile's scale; in an exercise with the word that marks it as no real one, as `TEST Routine`.
        precedence: At<Precedence>,
        /// Handling instructions, each with its number or date, as `HXC`; none when left out.
        handling: Vec<At<Handling>>,
        /// The station that sent it first, as `WZ7QRA`.
        station_of_origin: At<CallSign>,
        /// The count of its text, which every station compares, as `15`; counted, and printed so, when left out.
        check: Option<At<WordCheck>>,
        /// Where it comes from, as `Sorrel MT`.
        place_of_origin: At<Words>,
        /// The moment at which it was filed, in local time: time filed and date are judged by it, as `2026-12-05 18:15`; not judged when left
        /// out.
        filed: Option<At<LocalTime>>,
        /// The time filed as it is sent, with its zone, as `0115Z`; not sent when left out.
        time_filed: Option<At<FiledTime>>,
        /// The date as it is sent, in the zone of the time filed, as `DEC 6`.
        date: At<MonthDay>,
        /// The address, a line each, as `Duty officer`.
        to: At<Vec<At<Words>>>,
        /// The text, without punctuation: X stands for a full stop, as `TWELVE BEDS FREE X SEND WATER`.
        text: At<Words>,
        /// Who signs it, as `Abel Quist`.
        signature: At<Words>,
    }
}
