//! One thing of a plan that is another than before, and what that means to whoever holds an old sheet.

/// What a change means to whoever holds the old sheet, the most dangerous first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Danger {
    /// A radio that is set by the old sheet sends elsewhere, or is not let in.
    Sent,
    /// A radio that is set by the old sheet hears nothing.
    Heard,
    /// A net meets elsewhere, or moves on otherwise.
    Moves,
    /// What the old sheet names is no more.
    Removed,
    /// It is called otherwise, on paper or on the air.
    Renamed,
    /// Others may send, or with another power.
    MaySend,
    /// It is new.
    Added,
    /// Whom to call, and how.
    Contact,
    /// All else.
    Text,
}

impl Danger {
    /// All of them, the most dangerous first.
    pub const ALL: [Self; 9] = [
        Self::Sent,
        Self::Heard,
        Self::Moves,
        Self::Removed,
        Self::Renamed,
        Self::MaySend,
        Self::Added,
        Self::Contact,
        Self::Text,
    ];

    /// In words, for a heading.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Sent => "set the radio again: what it sends",
            Self::Heard => "set the radio again: what it hears",
            Self::Moves => "where nets meet and move on",
            Self::Removed => "no more",
            Self::Renamed => "called otherwise",
            Self::MaySend => "who may send, and with what power",
            Self::Added => "new",
            Self::Contact => "whom to call",
            Self::Text => "other facts",
        }
    }

    /// As one word, for other programs.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sent => "sent",
            Self::Heard => "heard",
            Self::Moves => "moves",
            Self::Removed => "removed",
            Self::Renamed => "renamed",
            Self::MaySend => "may-send",
            Self::Added => "added",
            Self::Contact => "contact",
            Self::Text => "text",
        }
    }
}

/// One thing that is another than before.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Change {
    /// What it means to the holder of an old sheet.
    pub danger: Danger,
    /// The kind of its record: `channel`.
    pub kind: String,
    /// The record's id; none where its kind has no ids.
    pub id: Option<String>,
    /// What the record is called, in the old plan where it stands there.
    pub called: String,
    /// The key, or what a radio is set by; none where the whole record came or went.
    pub key: Option<String>,
    /// The value before; none where there was none.
    pub old: Option<String>,
    /// The value now; none where there is none.
    pub new: Option<String>,
}

/// Kinds of records of which nobody is told: what they say stands on papers, or is the coordinator's work with the plan.
const OF_THE_PLAN: [&str; 6] = ["document", "kit", "accept", "key", "neighbour", "pool"];

/// Keys that say when something was looked at.
const LOOKED_AT: [&str; 5] = ["verified", "confirmed", "visited-on", "phone-confirmed", "checked"];

/// Keys of a channel that say how a radio is set: told by what they come to.
pub const SETS_A_CHANNEL: [&str; 17] = [
    "rx", "tx", "shift", "simplex", "pool", "dial", "output", "input", "tone-in", "tone-out", "tx-tone", "rx-tone",
    "mode", "width", "emission", "power", "call",
];

impl Change {
    /// Whether whoever works by the old sheet does something otherwise for it: not for a paper that is new, nor for the day of a check.
    #[must_use]
    pub fn is_news(&self) -> bool {
        // What a repeater or a gateway is set to is told of each channel that goes by it.
        let is_told = ["repeater", "gateway"].contains(&self.kind.as_str())
            && self.key.as_deref().is_some_and(|key| SETS_A_CHANNEL.contains(&key));
        let is_day = self.key.as_deref().is_some_and(|key| LOOKED_AT.contains(&key));
        let bare = |value: &Option<String>| value.as_deref().map(without_days);
        let is_another = self.key.is_none() || bare(&self.old) != bare(&self.new);
        !OF_THE_PLAN.contains(&self.kind.as_str()) && !is_day && !is_told && is_another
    }
}

/// A value without the days of checks inside it.
fn without_days(value: &str) -> String {
    let is_day = |part: &&str| {
        let key = part.trim_start_matches(['{', '[', ' ']).split(" = ").next();
        !key.is_some_and(|key| LOOKED_AT.contains(&key))
    };
    value.split([',', '}']).filter(is_day).collect::<Vec<_>>().join(",")
}

/// A value as people write it: a text without its quotes.
pub(super) fn plainly(value: &str) -> String {
    let text = value.strip_prefix('"').and_then(|text| text.strip_suffix('"')).filter(|text| !text.contains('\\'));
    text.unwrap_or(value).to_owned()
}
