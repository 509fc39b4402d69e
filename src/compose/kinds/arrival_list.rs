//! What to do on arrival and on leaving, line by line.

use crate::audience::View;
use crate::compose::block::{Section, Text};
use crate::compose::kind::{Compose, Kind};
use crate::compose::list_words::{heading, lines, practice};
use crate::ground::Audience;
use crate::plan::Each;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "arrival-list",
    title: "On arrival and on leaving",
    about: "what to do on arrival at a place, when net control is silent, and on leaving, line by line",
    layout: "fold-4",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["arrive", "leave"],
    tables: &[],
    compose: Compose::View(compose),
};

/// Common practice, no source.
const ARRIVE: [&str; 9] = [
    "Sign in at the desk; say who you are, for whom, until when.",
    "Ask for whoever the site sheet names; ask about each UNKNOWN.",
    "See the room, the jack, the outlet, the way out.",
    "Ask what may be sent where, before the first transmission.",
    "Antenna first, then power, then radio; low power first.",
    "Compare edition and code with net control.",
    "Check in: tactical call, your call sign, your post.",
    "Begin the log; time of arrival is its first line.",
    "Tell the switchboard where you are. Put up the signs.",
];

/// Common practice, no source.
const LEAVE: [&str; 7] = [
    "Hand over by the handover sheet, both stay for some minutes.",
    "No relief: tell net control before you go, not after.",
    "Check out: tactical call, time.",
    "Power off, radio off, antenna off; leave the site's own as it was.",
    "Return keys and badge. Take down the signs.",
    "Close the log, sign it, give it to who collects it.",
    "Write down what was new about the site, for the re-check sheet.",
];

fn compose(_: &View<'_>) -> Vec<Section> {
    vec![arrive(), leave()]
}

/// Where net control is silent (common practice, no source): who takes over stands on the sheet of the site.
const SILENT: [&str; 3] = [
    "Call twice, a minute apart. Note the time; wait as long as the site sheet says.",
    "You are named there: \u{201c}Net control does not answer. This is (your place, call sign). I am net control of (net) until relieved.\u{201d} Call the roll.",
    "Another is named: answer. Nobody takes over: go where the arrow on the card points.",
];

/// What to do first, and when nobody leads.
pub(super) fn arrive() -> Section {
    Section {
        key: "arrive",
        title: Text::own("On arrival"),
        blocks: lines(&ARRIVE)
            .chain([heading("If net control is silent")])
            .chain(lines(&SILENT))
            .chain([practice()])
            .collect(),
    }
}

/// What to do last.
pub(super) fn leave() -> Section {
    Section { key: "leave", title: Text::own("On leaving"), blocks: lines(&LEAVE).chain([practice()]).collect() }
}
