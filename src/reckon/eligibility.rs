//! Who may send on what: one verdict for each member and channel, with the reason.

use super::{Barred, Term, Transmission, authority, authority_until, may_send};
use crate::ground::{Day, Power, Tolerance};
use crate::plan::{Channel, Member, Plan, Radio, Service};
use crate::tables::{Class, Profile, Tables};

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
}

/// A channel with the classes that may send on it, found once for all members.
pub struct OnChannel<'a> {
    rests_on: Eligibility<'a>,
    channel: &'a Channel,
    allowed: Vec<&'a str>,
    least: Option<&'a Class>,
}

impl<'a> Eligibility<'a> {
    /// Asks the law about a channel, class by class.
    #[must_use]
    pub fn on(self, channel: &'a Channel) -> OnChannel<'a> {
        let sent = Transmission::on(self.plan, channel).map(|sent| sent.sent());
        let may =
            |class: &&Class| sent.as_ref().is_some_and(|sent| may_send(self.tables, self.profile, class, sent).is_ok());
        let allowed: Vec<&Class> = self.profile.classes.iter().filter(may).collect();
        let least = allowed.first().copied();
        OnChannel { rests_on: self, channel, allowed: allowed.iter().map(|class| class.id.as_str()).collect(), least }
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
    pub const fn least(&self) -> Option<&'a Class> {
        self.least
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
        if self.channel.service.value != Service::Amateur {
            let Eligibility { profile, plan, .. } = self.rests_on;
            return match authority(profile, plan, self.channel, member, day) {
                Ok(()) => self.with_radio(member),
                Err(barred) => Verdict::Barred(barred),
            };
        }
        let class = member.class.as_ref().filter(|class| self.rests_on.profile.class(class.as_str()).is_some());
        let Some(class) = class else { return Verdict::NoLicence };
        if day.is_some_and(|day| Term::of_member(member).has_ended(day)) {
            return Verdict::Ended;
        }
        if !self.allowed.contains(&class.as_str()) {
            return Verdict::Class(self.least.map(|class| class.name.clone()));
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
        match self.channel.service.value {
            Service::Amateur => Term::of_member(member).last_day(),
            _ => authority_until(self.rests_on.profile, self.rests_on.plan, self.channel, member, self.rests_on.day?),
        }
    }

    /// Whether the law opens the channel to a class.
    #[must_use]
    pub fn is_open_to(&self, class: &Class) -> bool {
        self.allowed.contains(&class.id.as_str())
    }
}

/// A member's radios that the plan knows.
fn radios<'a>(plan: &'a Plan, member: &Member) -> Vec<&'a Radio> {
    member.radios.iter().filter_map(|id| plan.radios.get(&id.value)).collect()
}

/// Whether an own radio hears a channel. Who has none in the plan is not judged; nor is a channel of another service: many radios
/// hear far beyond where they send, and the plan does not say how far.
#[must_use]
pub fn hears(plan: &Plan, member: &Member, channel: &Channel) -> bool {
    let radios = radios(plan, member);
    let is_judged = channel.service.value == Service::Amateur && !radios.is_empty();
    !is_judged || radios.iter().any(|radio| can_hear(radio, channel))
}

/// The most power that an own radio has on a channel; none where radios are not judged, or none sends there.
#[must_use]
pub fn own_power(plan: &Plan, member: &Member, channel: &Channel) -> Option<Power> {
    let radios = radios(plan, member).into_iter().filter(|radio| can_work(radio, channel));
    radios.map(|radio| radio.power.value).max()
}

/// Whether a radio both hears and sends on a channel.
#[must_use]
pub fn can_work(radio: &Radio, channel: &Channel) -> bool {
    can_send(radio, channel) && can_hear(radio, channel)
}

/// Whether a radio hears a channel: it covers the frequency and has the mode. Radios hear where they send, and often further,
/// which the plan does not say.
#[must_use]
pub fn can_hear(radio: &Radio, channel: &Channel) -> bool {
    let covers = radio.covers.iter().any(|stretch| stretch.value.has(channel.hear.value));
    covers && radio.modes.iter().any(|mode| mode.value == channel.signal.mode.value)
}

/// The tolerance that a channel's signal is widened by: the largest of the radios that send there; 0 where the plan says nothing.
#[must_use]
pub fn tolerance_on(plan: &Plan, channel: &Channel) -> Tolerance {
    let radios = plan.radios.iter().filter(|radio| radio.tolerance.is_some() && can_send(radio, channel));
    radios.filter_map(|radio| radio.tolerance).map(|tolerance| tolerance.value).max().unwrap_or_default()
}

/// Whether a radio is made for a service. Other services take equipment that is certified for them (us: 47 CFR 95.361, 95.1761, from
/// memory), which an amateur radio is not, whatever it covers.
fn is_made_for(radio: &Radio, service: Service) -> bool {
    let services = &radio.services;
    (services.is_empty() && service == Service::Amateur) || services.iter().any(|known| known.value == service)
}

/// Whether a radio sends on a channel's frequency in its mode and service; a listening channel asks nothing of it.
#[must_use]
pub fn can_send(radio: &Radio, channel: &Channel) -> bool {
    let Some(send) = channel.send else { return true };
    if !is_made_for(radio, channel.service.value) {
        return false;
    }
    let covers = radio.covers.iter().any(|stretch| stretch.value.has(send.value));
    covers && radio.modes.iter().any(|mode| mode.value == channel.signal.mode.value)
}
