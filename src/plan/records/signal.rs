//! What several records say alike: how a signal is made, what a repeater hears, and who found a fact to be so.

use super::Member;
use crate::ground::{At, Day, Finding, Frequency, Refusal, Shift, Span, Words};
use crate::plan::notations::{RepeaterInput, WidthWord};
use crate::plan::reference::Ref;
use crate::plan::rules::SHIFT_LEAVES_RADIO;
use crate::plan::terms::Mode;
use crate::source::{Partly, Reading, SettledBy, record};
use crate::tables::Tables;

record! {
    /// Who found a fact to be so, and when.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Evidence = "evidence" {
        /// The day on which it was found so, as `2026-10-04`.
        on: At<Day>,
        /// The member who found it; nobody is named when left out.
        by: Option<At<Ref<Member>>>,
    }

    /// The parts of a signal, as written.
    pub struct WrittenSignal = "signal" {
        /// How it is modulated; FM, but SSB under a dial frequency and data through a gateway, when left out.
        mode: Option<At<Mode>>,
        /// Its width, as the profile's words or a figure; what the profile says when left out.
        width: Option<At<WidthWord>>,
        /// Emission designator, in place of mode and width, as `16K0F3E`; mode and width say it when left out.
        emission: Option<At<Words>>,
        /// The record.
        span: Span,
    }
}

/// How a signal is made, as far as the plan says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signal {
    /// The mode.
    pub mode: At<Mode>,
    /// wide, narrow or a width; as the profile has it by default.
    pub width: At<WidthWord>,
    /// Designator, where one is written; it then decides the width.
    pub emission: Option<At<Words>>,
    /// Audio frequency of a data signal above an HF dial.
    pub audio: Option<At<Frequency>>,
}

impl Partly for Signal {
    type Written = WrittenSignal;
}

/// The mode counts where neither a mode nor a designator is written.
impl SettledBy<Mode> for Signal {
    fn settle(written: WrittenSignal, by: Mode, of: &mut Reading<'_>) -> Option<Self> {
        let width = if of.habits.is_narrow { WidthWord::Narrow } else { WidthWord::Wide };
        let named = written.emission.as_ref().and_then(|words| mode_of(words.as_str()));
        Some(Self {
            mode: written.mode.unwrap_or(At::new(named.unwrap_or(by), written.span)),
            width: written.width.unwrap_or(At::new(width, written.span)),
            emission: written.emission,
            audio: None,
        })
    }
}

/// The mode that a designator is of, where it is of one alone: `16K0F3E` is FM, `8K10F1E` could be several.
fn mode_of(emission: &str) -> Option<Mode> {
    let symbols = emission.trim().get(4..)?;
    let fitting = Tables::built_in().modes.fitting(symbols);
    let [only] = fitting.as_slice() else { return None };
    Mode::ALL.iter().copied().find(|mode| mode.word() == *only)
}

/// What a repeater hears, and how far that is from what it sends.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    at: At<Frequency>,
    /// From output to input.
    pub shift: At<Shift>,
}

impl std::ops::Deref for Input {
    type Target = At<Frequency>;
    fn deref(&self) -> &At<Frequency> {
        &self.at
    }
}

impl Input {
    /// The input of a repeater with this output.
    pub(super) fn of(output: At<Frequency>, written: At<RepeaterInput>, of: &mut Reading<'_>) -> Option<Self> {
        let (at, shift) = match written.value {
            RepeaterInput::Frequency(frequency) => (frequency, frequency - output.value),
            RepeaterInput::Shift(shift) => (moved(&output, &written.with(shift), of)?, shift),
            RepeaterInput::Usual => {
                let shift = usual(&output, &written, of)?;
                (moved(&output, &written.with(shift), of)?, shift)
            }
            RepeaterInput::Unknown => return None,
        };
        Some(Self { at: written.with(at), shift: written.with(shift) })
    }
}

/// What a repeater hears, where somebody knows: one whose input is unknown can only be listened to.
#[derive(Clone, Copy, Debug)]
pub struct KnownInput {
    input: Option<Input>,
    /// Where it is said.
    pub span: Span,
}

impl std::ops::Deref for KnownInput {
    type Target = Option<Input>;
    fn deref(&self) -> &Option<Input> {
        &self.input
    }
}

impl KnownInput {
    /// The input of a repeater with this output.
    pub(super) fn of(output: At<Frequency>, written: At<RepeaterInput>, of: &mut Reading<'_>) -> Option<Self> {
        let input = match written.value {
            RepeaterInput::Unknown => None,
            _ => Some(Input::of(output, written, of)?),
        };
        Some(Self { input, span: written.span })
    }
}

impl Partly for KnownInput {
    type Written = At<RepeaterInput>;
}

impl SettledBy<At<Frequency>> for KnownInput {
    fn settle(written: At<RepeaterInput>, by: At<Frequency>, of: &mut Reading<'_>) -> Option<Self> {
        Self::of(by, written, of)
    }
}

impl Partly for Option<Input> {
    type Written = Option<At<RepeaterInput>>;
}

impl SettledBy<At<Frequency>> for Option<Input> {
    fn settle(written: Option<At<RepeaterInput>>, by: At<Frequency>, of: &mut Reading<'_>) -> Option<Self> {
        match written {
            Some(written) if written.value != RepeaterInput::Unknown => Input::of(by, written, of).map(Some),
            _ => Some(None),
        }
    }
}

/// The shift that is usual for an output, by the narrowest stretch of the band plan that has one.
fn usual(output: &At<Frequency>, written: &At<RepeaterInput>, of: &mut Reading<'_>) -> Option<Shift> {
    let rows = of.habits.shifts.iter().filter(|(edges, _)| edges.has(output.value));
    let narrowest = rows.min_by_key(|(edges, _)| (edges.high() - edges.low()).size()).map(|(_, shift)| *shift);
    if narrowest.is_none() {
        let what = format!("the band plan has no usual shift for {}", output.value);
        let refusal = Refusal::new(what).help("write the shift as \"-600 kHz\", or the input as a frequency");
        of.refuse(written.span, refusal);
    }
    narrowest
}

/// Where a shift leads.
pub(super) fn moved(from: &At<Frequency>, shift: &At<Shift>, of: &mut Reading<'_>) -> Option<Frequency> {
    let to = from.value.moved(shift.value);
    if to.is_none() {
        let what = format!("{} from {} leads to no frequency", shift.value, from.value);
        of.found.push(Finding::new(&SHIFT_LEAVES_RADIO, shift.span, what).label("moves it out of all radio"));
    }
    to
}
