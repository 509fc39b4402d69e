//! A channel that names a standard one says nothing else of it than was published.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Span};
use crate::plan::{Channel, subject};
use crate::tables::StandardUse;

/// A channel that names a standard one says nothing else of it than was published.
pub(super) const RULE: Rule = Rule::of_format("channel-contradicts-standard", DOC);

const DOC: &str = r#"
Finds: a channel with a `standard` whose service, mode, frequencies or tone to send, written beside it, are not those of the profile's row. To listen to it alone is no contradiction, nor is less power, another name, or what the row does not say.
Costs: the card says "as published" of a channel on which nobody else is.

Wrong:
```toml
[[channel]]
row = 2
standard = "FRS 5"
simplex = "462.6125 MHz"    # channel-contradicts-standard
```
Right: leave `simplex` out: FRS 5 is 462.6625 MHz. A channel of the team's own has a name, a service and a frequency, and no `standard`.
"#;

/// One thing that is said otherwise.
struct Otherwise {
    at: Span,
    key: &'static str,
    says: String,
    published: String,
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let Some((standard, published)) = channel.standard.as_ref().zip(channel.published()) else { continue };
        for Otherwise { at, key, says, published: ours } in otherwise(channel, published) {
            let what =
                format!("channel {} {says}, where {} as published {ours}", channel.name.value, standard.value.name);
            found.push(
                Finding::new(&RULE, at, what)
                    .label("says otherwise")
                    .and(standard.span, "the published channel")
                    .note(format!("{} ({})", published.cite.source, published.cite.confidence))
                    .help(format!("leave `{key}` out, or leave `standard` out if it is a channel of your own"))
                    .on(subject(channel)),
            );
        }
    }
}

/// What is said otherwise: of the frequencies one, and what follows from another service is not said again.
fn otherwise(channel: &Channel, published: &StandardUse) -> Vec<Otherwise> {
    let says = |at, key, says: String, published: String| Otherwise { at, key, says, published };
    let service = &channel.service;
    if *service.value != *published.service {
        let is = |service: &crate::tables::Service| format!("is of the {} service", service.name);
        return vec![says(service.span, "service", is(&service.value), is(&published.service))];
    }
    let mut all = Vec::new();
    let mode = channel.signal.mode;
    if !published.has_mode(mode.value.word()) {
        all.push(says(mode.span, "mode", format!("is {}", mode.value), format!("is {}", published.modes.join(" or "))));
    }
    if channel.hear.value != published.hear {
        let hears = |what| format!("hears {what}");
        all.push(says(channel.hear.span, way(channel), hears(channel.hear.value), hears(published.hear)));
    } else if let Some(send) = channel.send.filter(|send| Some(send.value) != published.send) {
        let sends = published.send.map_or_else(|| "is listened to alone".to_owned(), |send| format!("sends {send}"));
        all.push(says(send.span, "tx", format!("sends {}", send.value), sends));
    } else if let Some(tone) = published.tone.filter(|tone| channel.send.is_some() && channel.send_tone.value != *tone)
    {
        let own = channel.send_tone;
        all.push(says(own.span, "tx-tone", format!("sends {}", own.value), format!("sends {tone}")));
    }
    all
}

/// The key that says what is heard.
fn way(channel: &Channel) -> &'static str {
    if channel.repeater().is_some() {
        "repeater"
    } else if channel.gateway().is_some() {
        "gateway"
    } else if channel.side().is_some() {
        "dial"
    } else if channel.has_one_frequency() {
        "simplex"
    } else {
        "rx"
    }
}
