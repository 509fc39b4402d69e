//! A sender or a receiver at a place.

use super::intermod::SiteSignal;
use super::{Transmission, Unreckoned};
use crate::ground::{Frequency, Id, Power, Span, Subject, Width};
use crate::plan::Plan;
use crate::tables::{Modes, Profile};

/// A sender or a receiver at a place.
#[derive(Clone, Debug)]
pub struct SiteEnd {
    /// As printed.
    pub name: String,
    /// The signal.
    pub signal: SiteSignal,
    /// What it is of, where it is a record.
    pub subject: Option<Subject>,
    /// Where the plan says that it is here.
    pub span: Span,
    /// The channel, where it is a radio on one.
    pub channel: Option<Id>,
    /// The most it sends with, where the plan says so.
    pub power: Option<Power>,
    /// Who keys it.
    pub keyed: Keyed,
    /// Whether it is heard elsewhere, within range of what stands here.
    pub is_distant: bool,
}

/// Who keys a radio at a place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Keyed {
    /// Somebody's hand.
    Hand {
        /// The channels by which `turns` may name it.
        channels: Vec<Id>,
        /// The one net that brings it here: a net is on one of its channels at a time.
        net: Option<Id>,
        /// Whether the place monitors it: worked at the same time as all else that it monitors.
        is_monitored: bool,
    },
    /// Itself, whenever it is called: a repeater, a link, an automatic gateway. No agreement on turns holds it back.
    Itself,
    /// Others, who agree on nothing with the team.
    Others,
}

/// By what a site is reckoned.
#[derive(Clone, Copy)]
pub(super) struct By<'a> {
    pub plan: &'a Plan,
    pub profile: &'a Profile,
    pub modes: &'a Modes,
}

impl SiteEnd {
    /// A transmission as it is sent or heard at a place.
    pub(super) fn of(sent: &Transmission<'_>, keyed: Keyed, by: By<'_>) -> Result<Self, Unreckoned> {
        let stretch = sent.occupies(by.profile, by.modes)?;
        let width = (stretch.high() - stretch.low()).size();
        let at = Frequency::hertz(stretch.low().as_hertz() + width / 2).unwrap_or(stretch.low());
        Ok(Self {
            name: sent.name(),
            signal: SiteSignal { at, width: Width::hertz(width), owner: None },
            subject: sent.from.subject(),
            span: sent.frequency.span,
            channel: sent.from.on_channel().map(|channel| channel.id.value.clone()),
            power: sent.power().map(|power| power.value),
            keyed,
            is_distant: false,
        })
    }
}
