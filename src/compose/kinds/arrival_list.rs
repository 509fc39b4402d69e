//! What to do on arrival and on leaving, line by line.

use crate::audience::View;
use crate::compose::block::{Block, Role, Section, Text};
use crate::compose::kind::{Compose, Kind};
use crate::compose::list_words::{heading, lines, practice, say};
use crate::compose::net_calls::called_there;
use crate::compose::net_words::{goes_alone, taken_on};
use crate::ground::Audience;
use crate::plan::{Each, Net};
use crate::reckon::silence;

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

fn compose(view: &View<'_>) -> Vec<Section> {
    let nets: Vec<Block> = view.plan().nets.iter().filter_map(|net| silent(net, view)).collect();
    vec![arrive(&SILENT, nets), leave()]
}

/// Where net control is silent (common practice, no source): who takes over, after how long and where stands below, net by net.
const SILENT: [&str; 3] = [
    "Call twice, a minute apart. Note the time; wait as long as it says below.",
    "You are named there: \u{201c}Net control does not answer. This is (your place, call sign). I am net control of (net) until relieved.\u{201d} Call the roll.",
    "Another is named: answer. Nobody is named: go where it says below, with the others.",
];

/// The same where nets have no room: cards and scripts say it.
pub(super) const SILENT_BY_CARD: [&str; 3] = [
    "Call twice, a minute apart. Note the time; wait as long as your card or the net script says.",
    SILENT[1],
    "Another is named: answer. Nobody is named: go with the others where your net goes next.",
];

/// What to do first, and when nobody leads.
pub(super) fn arrive(silent: &[&str], nets: Vec<Block>) -> Section {
    Section {
        key: "arrive",
        title: Text::own("On arrival"),
        blocks: lines(&ARRIVE)
            .chain([heading("If net control is silent")])
            .chain(lines(silent))
            .chain(nets)
            .chain([practice()])
            .collect(),
    }
}

/// `Command net: after 1 min Alder General takes over on CMD 1.`, or what all do where nobody is named. None of a net without control,
/// or without a channel.
fn silent(net: &Net, view: &View<'_>) -> Option<Block> {
    let plan = view.plan();
    net.control.as_ref()?;
    let silence = silence(plan, net)?;
    let text = Text::strong(format!("{}: ", net.name.value), net.name.span);
    let text = match (silence.next, silence.after) {
        (Some(post), after) => {
            let after = after.map_or_else(|| "when it does not answer".to_owned(), |after| format!("after {after}"));
            let text = text.then(format!("{after} ")).then_text(called_there(post, plan));
            text.then(format!(" takes over {}.", taken_on(&silence)))
        }
        (None, _) => text.then(format!("nobody is named; {}.", goes_alone(&silence))),
    };
    Some(say(text, Role::Body))
}

/// What to do last.
pub(super) fn leave() -> Section {
    Section { key: "leave", title: Text::own("On leaving"), blocks: lines(&LEAVE).chain([practice()]).collect() }
}
