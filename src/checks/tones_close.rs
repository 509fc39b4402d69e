//! Repeaters that hear one input open on tones that a decoder can tell apart.

use super::Facts;
use super::many::{MOST_EACH, Spectrum, first_few, likewise, naming};
use crate::ground::{At, Finding, Findings, Rule, Stretch, Tone};
use crate::plan::{Repeater, subject};
use crate::reckon::{Transmission, can_meet, dcs_bits, heard};

/// Repeaters that hear one input open on tones that a decoder can tell apart.
pub(super) const RULE: Rule = Rule::warning(
    "tones-close",
    "common practice, no source: adjacent tones of the standard set lie about 3.5 % apart",
    DOC,
);

const DOC: &str = r#"
Finds: two repeaters whose inputs overlap and that open on the same tone or code, on CTCSS tones less than 2.5 % apart, or on a DCS code and another that is the same bits inverted. Of one that is close to more than eight others a single finding tells.
Costs: one station opens both, and two nets hear halves of each other.

Wrong:
```toml
[[repeater]]
id = "west-side"
call = "WZ7QUX"
output = "146.940 MHz"      # channels-overlap
input = "-600 kHz"
tone-in = "103.5 Hz"        # tones-close
tone-out = "off"
verified = { on = 2026-10-04, by = "qra" }
```
Right: agree on a tone at least one place further in the standard set, `tone-in = "114.8 Hz"`.
"#;

/// Below this difference of two tones, in thousandths of the lower, a decoder may take one for the other.
const APART: u32 = 25;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let with_input: Vec<(&Repeater, Stretch)> = facts
        .plan
        .repeaters
        .iter()
        .filter_map(|repeater| {
            let input = Transmission::input_of(facts.plan, repeater)?;
            Some((repeater, facts.occupies(&input).ok()?))
        })
        .collect();
    let mut spectrum = Spectrum::default();
    for (second, theirs) in &with_input {
        let near = spectrum.near(&[*theirs]).filter_map(|index| with_input.get(index));
        let near = near.filter(|(_, ours)| ours.overlaps(theirs)).filter_map(|(first, ours)| {
            let (tones, how) = close(first, second)?;
            can_meet(heard(facts.plan, first), heard(facts.plan, second)).then_some(Near {
                first,
                ours: *ours,
                tones,
                how,
            })
        });
        let near = first_few(near);
        match near.as_slice() {
            few if few.len() <= MOST_EACH => {
                few.iter().for_each(|one| found.push(finding((second, theirs), one, &[])));
            }
            [one, ..] => found.push(finding((second, theirs), one, &near)),
            [] => {}
        }
        spectrum.put(&[*theirs]);
    }
}

/// An earlier repeater that a decoder may take for the later one.
struct Near<'a> {
    first: &'a Repeater,
    ours: Stretch,
    /// What opens the first, and the second.
    tones: [At<Tone>; 2],
    how: String,
}

/// A finding of two; with it stand all that the second may be taken for where these are many.
fn finding((second, theirs): (&Repeater, &Stretch), near: &Near<'_>, all: &[Near<'_>]) -> Finding {
    let Near { first, ours, tones: [our_tone, their_tone], how } = near;
    let what = format!(
        "repeater {} opens on {} and repeater {} on {}: {how}, and their inputs overlap{}",
        second.name.value,
        their_tone.value,
        first.name.value,
        our_tone.value,
        likewise(all)
    );
    let finding = Finding::new(&RULE, their_tone.span, what)
        .label("opens this one")
        .and(our_tone.span, "opens that one")
        .note(format!("inputs {ours} and {theirs}"))
        .help("agree on tones further apart, or accept it where one cannot hear the other's stations")
        .on(subject(second))
        .on(subject(*first));
    naming(finding, all.iter().skip(1).map(|near| Some(subject(near.first))))
}

/// The tones of two repeaters of which a decoder may take one for the other, and why.
fn close(first: &Repeater, second: &Repeater) -> Option<([At<Tone>; 2], String)> {
    first.tones.tone_in.all().find_map(|ours| {
        let mut all = second.tones.tone_in.all();
        all.find_map(|theirs| Some(([ours, theirs], confusable(ours.value, theirs.value)?)))
    })
}

/// Why a decoder may take one for the other; none when it does not.
fn confusable(one: Tone, other: Tone) -> Option<String> {
    match (one, other) {
        (Tone::Ctcss(a), Tone::Ctcss(b)) => {
            let thousandths = u32::from(a.abs_diff(b)) * 1000 / u32::from(a.min(b)).max(1);
            match a == b {
                true => Some("the same tone".to_owned()),
                false => (thousandths < APART).then(|| format!("{}.{} % apart", thousandths / 10, thousandths % 10)),
            }
        }
        (Tone::Dcs { .. }, Tone::Dcs { .. }) if one != other => {
            (dcs_bits(one) == dcs_bits(other)).then(|| "the same bits".to_owned())
        }
        _ => (one == other && one.is_set()).then(|| "the same code".to_owned()),
    }
}
