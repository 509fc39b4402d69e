//! What head and foot of a panel can say: layouts arrange it.

use crate::compose::block::{Foot, Text};
use crate::formats::Format;
use crate::ground::Span;

/// What head and foot of a panel can say.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Imprint {
    /// Which panel of how many it is.
    Number,
    /// Plan and edition, printed bold.
    Edition,
    /// Whose it is, in short, or else who may read it.
    Copy,
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
    pub const ALL: [(Self, &str); 8] = [
        (Self::Number, "number"),
        (Self::Edition, "edition"),
        (Self::Copy, "copy"),
        (Self::Audience, "audience"),
        (Self::Code, "code"),
        (Self::Words, "words"),
        (Self::Holder, "holder"),
        (Self::Validity, "validity"),
    ];

    /// Those that a foot can say.
    pub fn of_foot() -> impl Iterator<Item = (Self, &'static str)> {
        Self::ALL.into_iter().filter(|(said, _)| *said != Self::Number)
    }

    /// Whether a foot leaves it out, though two stations compare it first. Whose a copy is, in short, stands for holder and audience.
    pub fn is_missed(self, said: &[Self]) -> bool {
        match self {
            Self::Number | Self::Copy => false,
            Self::Holder | Self::Audience => !said.contains(&self) && !said.contains(&Self::Copy),
            _ => !said.contains(&self),
        }
    }

    /// The usual foot. Of a panel: edition and audience, code; holder, the words of the code; from when to when. Of a whole page all
    /// on one line, with its number.
    pub fn usual_foot(format: &dyn Format) -> Vec<Vec<Vec<Self>>> {
        if format.is_whole() {
            let whose = vec![Self::Edition, Self::Audience, Self::Holder];
            return vec![vec![whose, vec![Self::Validity], vec![Self::Code, Self::Words], vec![Self::Number]]];
        }
        vec![
            vec![vec![Self::Edition, Self::Audience], vec![Self::Code]],
            vec![vec![Self::Holder], vec![Self::Words]],
            vec![vec![Self::Validity], Vec::new()],
        ]
    }

    /// What usually stands beside the title: the panel's number; on a whole page, which has that in its foot, plan and edition.
    pub fn usual_head(format: &dyn Format) -> Vec<Self> {
        vec![if format.is_whole() { Self::Edition } else { Self::Number }]
    }

    /// Its text, empty where there is none.
    pub(super) fn text(self, foot: &Foot, number: &str) -> Text {
        let code = foot.read_back.as_ref();
        match self {
            Self::Number => Text::own(number),
            Self::Edition => Text::strong(foot.edition.words(), Span::NOWHERE),
            Self::Copy => Text::own(foot.short_holder.clone().unwrap_or_else(|| foot.audience.clone())),
            Self::Audience => {
                let number = foot.copy.map(|number| format!(" {number}")).unwrap_or_default();
                Text::own(format!("{}{number}", foot.audience))
            }
            Self::Code => {
                code.map_or_else(|| Text::own(""), |code| Text::own("read-back ").then_strong(code.letters.clone()))
            }
            Self::Words => Text::own(code.map_or("", |code| code.words.as_str())),
            Self::Holder => Text::own(foot.holder.as_deref().unwrap_or(foot.shared)),
            Self::Validity => Text::own(foot.validity.clone()),
        }
    }
}
