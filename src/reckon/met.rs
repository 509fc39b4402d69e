//! What becomes of a net after a loss, in a stretch of time with the same people.

use crate::plan::{Channel, Member, Period};

/// Where a net is after a loss, in a stretch of time with the same people.
#[derive(Clone)]
pub struct Met<'a> {
    /// From when to when; none where the plan names nobody who works the net.
    pub when: Option<Period>,
    /// Where most of its people are or, where nobody is named, where its cards lead; none where nobody finds a channel that lives.
    pub on: Option<&'a Channel>,
    /// Who sends there.
    pub present: Vec<&'a Member>,
    /// Who hears it but may not send, or cannot.
    pub listening: Vec<&'a Member>,
    /// Who is elsewhere or nowhere.
    pub apart: Vec<(&'a Member, Apart)>,
    /// Who was posted at the place that is lost.
    pub lost: Vec<&'a Member>,
    /// How many stations are there: posts, or people where these are fewer.
    pub stations: usize,
    /// How many there were before the loss.
    pub was: usize,
}

/// How many of a net's people are where after a loss, in a stretch of time with the same people.
#[derive(Clone, Copy)]
pub struct Whereabouts<'a> {
    /// Where most of them are; none where nobody finds a channel that lives.
    pub on: Option<&'a Channel>,
    /// How many are on another channel, or at the end of what the card says.
    pub astray: usize,
    /// How many are sent to a channel that nobody's radio at the own post hears.
    pub deaf: usize,
    /// How many were posted at the place that is lost.
    pub lost: usize,
    /// How many stations are there: posts, or people where these are fewer.
    pub stations: usize,
    /// How many there were before the loss.
    pub was: usize,
}

impl Whereabouts<'_> {
    /// Whether the net is not together by a fault of the plan. What nobody's radio at a post hears is one of the radios. Where the loss
    /// takes one of two stations the other has nobody to meet, and no card could help it; nor could one help a station that was
    /// alone before.
    #[must_use]
    pub fn is_fallen_apart(&self) -> bool {
        let all_are_there = self.astray + self.deaf == 0;
        match self.on {
            None if all_are_there => self.was >= 2,
            Some(_) if self.stations < 2 => self.astray > 0 || (self.was >= 3 && all_are_there),
            None | Some(_) => self.astray > 0,
        }
    }
}

/// What becomes of a net after a loss.
#[derive(Clone, Copy)]
pub enum NetOutcome<'a> {
    /// Two stations or more hear each other there, one person at least may send.
    Meets(&'a Channel),
    /// Two stations or more are there, and nobody may send.
    Silent(&'a Channel),
    /// One station is there alone, with nobody to talk to.
    Alone(&'a Channel),
    /// Nobody finds a channel that lives.
    Nowhere,
    /// All its people are lost with the place.
    Gone,
    /// The plan names nobody: only where its cards lead is known.
    Unnamed(Option<&'a Channel>),
}

impl<'a> Met<'a> {
    /// Of a net for which nobody is named: where its cards lead.
    #[must_use]
    pub fn unnamed(on: Option<&'a Channel>) -> Self {
        let (present, listening, apart, lost) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { when: None, on, present, listening, apart, lost, stations: 0, was: 0 }
    }

    /// How many are where.
    #[must_use]
    pub fn whereabouts(&self) -> Whereabouts<'a> {
        let deaf = self.apart.iter().filter(|(_, apart)| matches!(apart, Apart::Deaf(_))).count();
        let (astray, lost) = (self.apart.len() - deaf, self.lost.len());
        Whereabouts { on: self.on, astray, deaf, lost, stations: self.stations, was: self.was }
    }

    /// Whether the net is not together by a fault of the plan; of a net for which nobody is named nobody can say.
    #[must_use]
    pub fn is_fallen_apart(&self) -> bool {
        self.when.is_some() && self.whereabouts().is_fallen_apart()
    }

    /// What becomes of the net.
    #[must_use]
    pub fn outcome(&self) -> NetOutcome<'a> {
        match self.on {
            on if self.when.is_none() => NetOutcome::Unnamed(on),
            None if self.apart.is_empty() => NetOutcome::Gone,
            None => NetOutcome::Nowhere,
            Some(on) if self.stations < 2 => NetOutcome::Alone(on),
            Some(on) if self.present.is_empty() => NetOutcome::Silent(on),
            Some(on) => NetOutcome::Meets(on),
        }
    }
}

/// Where somebody is who is not with the net.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Apart {
    /// On another channel that lives.
    On(String),
    /// At the end of what the card says; the last channel tried.
    Nowhere(String),
    /// Sent to a channel that nobody's radio at the own post hears.
    Deaf(String),
}

impl Apart {
    /// In words after a name: `is on TAC 1`.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::On(channel) => format!("is on {channel}"),
            Self::Nowhere(channel) => format!("finds nothing after {channel}"),
            Self::Deaf(channel) => format!("has no radio for {channel}"),
        }
    }
}
