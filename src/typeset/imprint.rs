//! What head and foot of a panel can say: layouts arrange it.

use crate::compose::block::{Foot, Text};
use crate::ground::Span;

/// What head and foot of a panel can say.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Imprint {
    /// Which panel of how many it is.
    Number,
    /// Plan and edition, printed bold.
    Edition,
    /// Who may read it.
    Audience,
    /// The read-back code.
    Code,
    /// The words of the code.
    Words,
    /// Whose it is.
    Holder,
    /// From when to when.
    Validity,
}

impl Imprint {
    /// All, with the words by which a layout names them.
    pub const ALL: [(Self, &str); 7] = [
        (Self::Number, "number"),
        (Self::Edition, "edition"),
        (Self::Audience, "audience"),
        (Self::Code, "code"),
        (Self::Words, "words"),
        (Self::Holder, "holder"),
        (Self::Validity, "validity"),
    ];

    /// Those that no foot leaves out: two stations compare them first.
    pub fn of_foot() -> impl Iterator<Item = (Self, &'static str)> {
        Self::ALL.into_iter().filter(|(said, _)| *said != Self::Number)
    }

    /// The usual foot: edition and audience, code; holder, the words of the code; from when to when.
    pub fn usual_foot() -> Vec<(Vec<Self>, Vec<Self>)> {
        vec![
            (vec![Self::Edition, Self::Audience], vec![Self::Code]),
            (vec![Self::Holder], vec![Self::Words]),
            (vec![Self::Validity], Vec::new()),
        ]
    }

    /// Its text, empty where there is none.
    pub(super) fn text(self, foot: &Foot, number: &str) -> Text {
        let code = foot.read_back.as_ref();
        match self {
            Self::Number => Text::own(number),
            Self::Edition => Text::strong(foot.edition.words(), Span::NOWHERE),
            Self::Audience => Text::own(foot.audience.clone()),
            Self::Code => {
                code.map_or_else(|| Text::own(""), |code| Text::own("read-back ").then_strong(code.letters.clone()))
            }
            Self::Words => Text::own(code.map_or("", |code| code.words.as_str())),
            Self::Holder => Text::own(foot.holder.as_deref().unwrap_or("shared sheet")),
            Self::Validity => Text::own(foot.validity.clone()),
        }
    }
}
