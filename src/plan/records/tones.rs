//! What opens a repeater, and what it sends with its signal.

use super::channel_line::ChannelLine;
use super::one_or_more::OneOrMore;
use super::signal::{KnownInput, Signal};
use crate::ground::{At, Finding, Tone};
use crate::plan::rules::CHANNEL_WITH_TWO_ROUTES;
use crate::source::{Partly, Reading, SettledBy, Tried, record};

record! {
    /// A repeater's tones, as written.
    pub struct WrittenTones = "tones" {
        /// What opens the repeater: the tone or code that a radio sends, or a list where several open it, of which the first is
        /// set unless a channel picks another, as `["103.5 Hz", "141.3 Hz"]`; a finding asks for it, but nothing opens it in a mode
        /// without access codes, when left out.
        tone_in: Option<Tried<OneOrMore<Tone>>>,
        /// What the repeater sends: the tone that a radio may listen for; off or unknown where it is so, as `off`; unknown in a
        /// channel, off in a mode without access codes, and asked for otherwise, when left out.
        tone_out: Option<Tried<Tone>>,
    }
}

/// A repeater's tones.
#[derive(Clone, Debug)]
pub struct RepeaterTones {
    /// What opens it.
    pub tone_in: OneOrMore<Tone>,
    /// What it sends.
    pub tone_out: At<Tone>,
}

impl RepeaterTones {
    /// In a mode without access codes nothing opens a repeater but its signal; of one whose input nobody knows no tone is asked.
    fn settled(
        written: WrittenTones,
        (signal, input): (&Signal, &KnownInput),
        sends: Option<At<Tone>>,
        of: &mut Reading<'_>,
    ) -> Option<Self> {
        let has_codes = signal.mode.value.has_access_codes();
        let tone_in = match written.tone_in {
            Some(written) => written.at().map(|tones| tones.value),
            None if !has_codes => Some(OneOrMore::one(At::new(Tone::Carrier, of.span))),
            None if input.is_none() => Some(OneOrMore::one(At::new(Tone::Unknown, of.span))),
            None => {
                of.missing("tone-in");
                None
            }
        };
        let usual = if has_codes { sends } else { Some(At::new(Tone::Off, of.span)) };
        let tone_out = match (written.tone_out, usual) {
            (Some(written), _) => written.at(),
            (None, Some(usual)) => Some(usual),
            (None, None) => {
                of.missing("tone-out");
                None
            }
        };
        Some(Self { tone_in: tone_in?, tone_out: tone_out? })
    }
}

impl Partly for RepeaterTones {
    type Written = WrittenTones;
}

impl SettledBy<(&Signal, &KnownInput)> for RepeaterTones {
    fn settle(written: WrittenTones, by: (&Signal, &KnownInput), of: &mut Reading<'_>) -> Option<Self> {
        Self::settled(written, by, None, of)
    }
}

impl Partly for Option<RepeaterTones> {
    type Written = WrittenTones;
}

/// Those of the repeater that a channel has for its own; refused where it has none.
impl SettledBy<(&ChannelLine, &Signal)> for Option<RepeaterTones> {
    fn settle(written: WrittenTones, (line, signal): (&ChannelLine, &Signal), of: &mut Reading<'_>) -> Option<Self> {
        if let Some((output, input)) = line.own_pair() {
            let unknown = Some(output.with(Tone::Unknown));
            return RepeaterTones::settled(written, (signal, input), unknown, of).map(Some);
        }
        let keys = [
            ("tone-in", "tx-tone", written.tone_in.map(|tones| tones.span)),
            ("tone-out", "rx-tone", written.tone_out.map(|tone| tone.span)),
        ];
        for (key, instead, span) in keys.into_iter().filter_map(|(key, instead, span)| Some((key, instead, span?))) {
            let what = format!("`{key}` is said of a repeater, and this channel has no `output`");
            let finding = Finding::new(&CHANNEL_WITH_TWO_ROUTES, span, what).label("of no repeater of its own");
            let help = format!("write `{instead}`, or `output` with the frequency that the repeater sends");
            of.found.push(finding.help(help));
        }
        Some(None)
    }
}
