//! Who may send on what: one verdict for each member and channel, with the reason.

use super::{Sent, least_class, may_send};
use crate::ground::Day;
use crate::plan::{Channel, Member, Plan, Radio, Service};
use crate::tables::{Profile, Tables};

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
    /// Hear alone: none of the member's radios, which the plan knows, sends there.
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

impl Eligibility<'_> {
    /// What a member may do on a channel. Law comes before equipment. A member without radios in the plan is not judged by them; a
    /// service that anybody may use needs no amateur licence, and a radio of its own that the plan does not list.
    #[must_use]
    pub fn verdict(&self, member: &Member, channel: &Channel) -> Verdict {
        let Some(send) = channel.send else { return Verdict::ListenChannel };
        if channel.service.value != Service::Amateur {
            return Verdict::Sends;
        }
        let Some(class) = member.class.as_ref().and_then(|class| self.profile.class(class.as_str())) else {
            return Verdict::NoLicence;
        };
        if self.has_ended(member) {
            return Verdict::Ended;
        }
        let sent = Sent { dial: send.value, signal: &channel.signal, side: channel.side() };
        if may_send(self.tables, self.profile, class, &sent).is_err() {
            let least = least_class(self.tables, self.profile, channel);
            return Verdict::Class(least.map(|class| class.name.clone()));
        }
        let radios: Vec<&Radio> = member.radios.iter().filter_map(|id| self.plan.radios.get(&id.value)).collect();
        let is_equipped = radios.is_empty() || radios.iter().any(|radio| can_send(radio, channel));
        if is_equipped { Verdict::Sends } else { Verdict::NoRadio }
    }

    /// A renewal filed in time keeps the authority.
    fn has_ended(&self, member: &Member) -> bool {
        let (Some(day), Some(end)) = (self.day, member.expires) else { return false };
        end.value < day && member.renewal_filed.is_none_or(|filed| filed.value > end.value)
    }
}

/// Whether a radio sends on a channel's frequency in its mode; a listening channel asks nothing of it.
#[must_use]
pub fn can_send(radio: &Radio, channel: &Channel) -> bool {
    let Some(send) = channel.send else { return true };
    let covers = radio.covers.iter().any(|stretch| stretch.value.has(send.value));
    covers && radio.modes.iter().any(|mode| mode.value == channel.signal.mode.value)
}
