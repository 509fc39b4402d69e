//! Who may send on what: one verdict for each member and channel, with the reason.

use super::equipment::{can_work, radios};
use super::{Barred, ChannelLaw, FoundOnce, Term, authority, authority_until};
use crate::ground::Day;
use crate::plan::{Channel, Member, Plan};
use crate::tables::{Class, Profile, Tables};
use std::sync::Arc;

/// What a member may do on a channel.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Verdict {
    /// Send and hear.
    Sends,
    /// Hear alone: nobody sends on this channel.
    ListenChannel,
    /// Hear alone: no licence.
    NoLicence,
    /// Hear alone: the licence has ended by the day asked for.
    Ended,
    /// Hear alone: the class does not reach; the lowest that does, where one does.
    Class(Option<String>),
    /// Hear alone: no authority in the channel's service.
    Barred(Barred),
    /// Hear alone, or not even that: none of the member's radios, which the plan knows, both hears and sends there.
    NoRadio,
}

/// What verdicts rest on.
#[derive(Clone, Copy)]
pub struct Eligibility<'a> {
    /// All tables.
    pub tables: &'a Tables,
    /// Whose law.
    pub profile: &'a Profile,
    /// Whose radios.
    pub plan: &'a Plan,
    /// The day on which a licence must still run: the first of the edition. None: licences are not asked for their end.
    pub day: Option<Day>,
    /// What was found of this plan before.
    pub known: &'a FoundOnce,
}

/// A channel with what the law says of it, found once for all members.
pub struct OnChannel<'a> {
    rests_on: Eligibility<'a>,
    channel: &'a Channel,
    law: Arc<ChannelLaw>,
}

impl<'a> Eligibility<'a> {
    /// Asks the law about a channel of the plan.
    #[must_use]
    pub fn on(self, channel: &'a Channel) -> OnChannel<'a> {
        let find = || ChannelLaw::of(self.tables, self.profile, self.plan, channel);
        OnChannel { rests_on: self, channel, law: self.known.law(channel, find) }
    }
}

impl<'a> OnChannel<'a> {
    /// The channel.
    #[must_use]
    pub const fn channel(&self) -> &'a Channel {
        self.channel
    }

    /// The lowest class that may send here; none when no class may, or when the channel is listened to alone.
    #[must_use]
    pub fn least(&self) -> Option<&'a Class> {
        self.law.least(self.rests_on.profile)
    }

    /// What a member may do here. Law comes before equipment. A member without radios in the plan is not judged by them; a
    /// channel of another service takes authority there and no amateur licence, and a radio that is made for that service.
    #[must_use]
    pub fn verdict(&self, member: &Member) -> Verdict {
        self.verdict_on(member, self.rests_on.day)
    }

    /// The same on another day.
    #[must_use]
    pub fn verdict_on(&self, member: &Member, day: Option<Day>) -> Verdict {
        if self.channel.send.is_none() {
            return Verdict::ListenChannel;
        }
        if !self.channel.service.is_amateur() {
            return match authority(self.rests_on.plan, self.channel, member, day) {
                Ok(()) => self.with_radio(member),
                Err(barred) => Verdict::Barred(barred),
            };
        }
        let class = member.class.as_ref().filter(|class| self.rests_on.profile.class(class.as_str()).is_some());
        let Some(class) = class else { return Verdict::NoLicence };
        if day.is_some_and(|day| Term::of_member(member).has_ended(day)) {
            return Verdict::Ended;
        }
        if !self.law.is_open_to(class.as_str()) {
            return Verdict::Class(self.least().map(|class| class.name.clone()));
        }
        self.with_radio(member)
    }

    fn with_radio(&self, member: &Member) -> Verdict {
        let radios = radios(self.rests_on.plan, member);
        let is_equipped = radios.is_empty() || radios.iter().any(|radio| can_work(radio, self.channel));
        if is_equipped { Verdict::Sends } else { Verdict::NoRadio }
    }

    /// The last day on which a member who may send here on the day asked for may still do so; none where nothing ends it.
    #[must_use]
    pub fn until(&self, member: &Member) -> Option<Day> {
        if self.channel.service.is_amateur() {
            return Term::of_member(member).last_day();
        }
        authority_until(self.rests_on.plan, self.channel, member, self.rests_on.day?)
    }

    /// Whether the law opens the channel to a class.
    #[must_use]
    pub fn is_open_to(&self, class: &Class) -> bool {
        self.law.is_open_to(&class.id)
    }
}
