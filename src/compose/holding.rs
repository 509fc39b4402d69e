//! What a channel is to whoever holds a personal copy: one sends where law and radio let one, and follows a net by listening elsewhere.

use super::block::{Cell, Role, Text};
use super::channel_words::{barred_words, lacking_then, send, tone};
use super::site_words::silent_duties;
use crate::audience::{Holder, View};
use crate::ground::{Day, Span};
use crate::plan::Channel;
use crate::reckon::{OnChannel, Term, Verdict, hears};

/// What somebody may and can do on a channel.
pub(super) struct Holding {
    verdict: Verdict,
    is_heard: bool,
    /// The last day on which the holder may send in another service, where it lies before the review; an amateur licence's is said
    /// above all rows.
    until: Option<Day>,
    /// Whether all duty of the holder is at places where nothing may be sent.
    is_silenced: bool,
}

impl Holding {
    /// What the holder of this copy may and can do. None on a copy that is nobody's own: what it says holds for all.
    pub fn of(channel: &Channel, view: &View<'_>) -> Option<Self> {
        let Some(Holder::Member(member)) = view.holder() else { return None };
        let here = on(channel, view);
        let verdict = here.verdict(member);
        let is_ending = verdict == Verdict::Sends && !channel.service.is_amateur();
        let until = here.until(member).filter(|last| is_ending && is_before_review(*last, view));
        let is_silenced = silent_duties(view).1;
        Some(Self { verdict, is_heard: hears(view.plan(), member, channel), until, is_silenced })
    }

    /// Whether no own radio hears it.
    pub const fn is_deaf(&self) -> bool {
        !self.is_heard
    }

    /// Whether the holder may send there, and has a radio that can.
    pub fn sends(&self) -> bool {
        self.verdict == Verdict::Sends && !self.is_silenced
    }

    /// What stands where the frequency to send would, where none may.
    fn words(&self) -> Option<&'static str> {
        match self.verdict {
            Verdict::Sends if !self.is_silenced => None,
            _ if !self.is_heard => Some("not in your radio"),
            Verdict::Sends => Some("do not send"),
            _ => Some("listen only"),
        }
    }

    /// Why not, in strong words, where the row must say it: what holds for all rows is said above them.
    pub fn why(&self, channel: &Channel, view: &View<'_>) -> Option<Text> {
        if let Some(last) = self.until.filter(|_| !self.is_silenced) {
            return Some(
                Text::strong(format!("after {last} listen only"), channel.span).then(lacking_then(last, channel, view)),
            );
        }
        let words = match &self.verdict {
            Verdict::Class(_) => "your class may not send here".to_owned(),
            Verdict::Barred(barred) => barred_words(*barred, channel),
            Verdict::NoRadio if self.is_heard => "no radio of yours sends here".to_owned(),
            Verdict::NoRadio | Verdict::Sends | Verdict::ListenChannel | Verdict::NoLicence | Verdict::Ended => {
                return None;
            }
        };
        Some(Text::strong(words, channel.span))
    }
}

fn on<'a>(channel: &'a Channel, view: &View<'a>) -> OnChannel<'a> {
    let day = view.plan().edition.as_ref().map(|edition| edition.valid_from.value);
    view.eligibility(day).on(channel)
}

fn is_before_review(day: Day, view: &View<'_>) -> bool {
    view.plan().edition.as_ref().is_some_and(|edition| day < edition.review_by.value)
}

/// The frequency to send, or the words that stand for it.
pub(super) fn own_send(channel: &Channel, view: &View<'_>, holding: Option<&Holding>) -> Cell {
    match holding.and_then(Holding::words) {
        Some(words) => Cell { text: Text::plain(words, channel.span), role: Role::Word, base: None },
        None => send(channel, view),
    }
}

/// The tone to send; the sideband also where one only listens, since one hears nothing without it.
pub(super) fn own_tone(channel: &Channel, holding: Option<&Holding>) -> Option<Cell> {
    let is_set = |holding: &Holding| holding.sends() || (channel.side().is_some() && holding.is_heard);
    tone(channel).filter(|_| holding.is_none_or(is_set))
}

/// By which radios a personal copy says what is in one's radio; nothing where the plan knows none of them.
pub(super) fn own_radios(view: &View<'_>) -> Option<Text> {
    let Some(Holder::Member(member)) = view.holder() else { return None };
    let radios = member.radios.iter().filter_map(|id| view.plan().radios.get(&id.value));
    let names: Vec<&str> = radios.map(|radio| radio.name.as_str()).collect();
    let span = member.radios.first()?.span;
    let text = Text::plain(format!("Your radios: {}", names.join(", ")), span);
    (!names.is_empty()).then_some(text)
}

/// What holds for every amateur channel of this copy, said once above them.
pub(super) fn holds_for_all(view: &View<'_>) -> Option<Text> {
    let Some(Holder::Member(member)) = view.holder() else { return None };
    // Words of our own, without a place in the plan: all whose license is the same have the panel in common.
    let channels = || view.plan().channels.iter().filter(|channel| channel.service.is_amateur());
    let mut verdicts = channels()
        .map(|channel| on(channel, view).verdict(member))
        .filter(|verdict| matches!(verdict, Verdict::NoLicence | Verdict::Ended | Verdict::Sends));
    let last = Term::of_member(member).last_day().filter(|last| is_before_review(*last, view));
    match (verdicts.next()?, last) {
        (Verdict::NoLicence, _) => Some(
            Text::strong("No amateur license", Span::NOWHERE)
                .then(": listen only without a licensed operator in control"),
        ),
        (Verdict::Ended, _) => {
            Some(Text::strong("Your license has ended", Span::NOWHERE).then(": listen only on amateur channels"))
        }
        (_, Some(last)) => Some(
            Text::strong(format!("Your license ends {last}"), Span::NOWHERE)
                .then(": after that day listen only on amateur channels"),
        ),
        (_, None) => None,
    }
}
