//! What the law says of a channel, whoever asks: found once for all copies that say it.

use super::{Sent, Transmission, Within, may_send, service_row, spots, within};
use crate::ground::{Power, Stretch};
use crate::plan::{Channel, Plan};
use crate::tables::{Class, LawArea, Profile, Tables};

/// The law on a channel, without any member.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ChannelLaw {
    /// Ids of the classes that may send on it.
    allowed: Vec<String>,
    /// The lowest of them, by its place in the profile.
    least: Option<usize>,
}

/// How much may be sent on a channel, whoever sends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ChannelLimit {
    /// The most power that the law leaves everybody where people may stand; none where nothing binds.
    pub most: Option<Power>,
    /// What is occupied on the frequency to send.
    pub stretch: Option<Stretch>,
}

impl ChannelLaw {
    /// Asks the law about a channel, class by class.
    #[must_use]
    pub fn of(tables: &Tables, profile: &Profile, plan: &Plan, channel: &Channel) -> Self {
        let sent = Transmission::on(plan, channel).map(|sent| sent.sent());
        let opened = |sent: &Sent<'_>| -> Vec<usize> {
            let all = profile.classes.iter().enumerate();
            all.filter(|(_, class)| may_send(tables, profile, class, sent).is_ok()).map(|(place, _)| place).collect()
        };
        // A meeting place of which no class may use all has a finding of its own: what is asked then is its middle.
        let all = channel.around.and_then(|around| Some(Sent { strays: [around.value; 2], ..sent? }));
        let allowed = all.iter().chain(&sent).map(opened).find(|allowed| !allowed.is_empty()).unwrap_or_default();
        let id = |place: &usize| profile.classes.get(*place).map(|class| class.id.clone());
        Self { allowed: allowed.iter().filter_map(id).collect(), least: allowed.first().copied() }
    }

    /// The lowest class that may send.
    #[must_use]
    pub fn least<'a>(&self, profile: &'a Profile) -> Option<&'a Class> {
        profile.classes.get(self.least?)
    }

    /// Whether a class of this id may send.
    #[must_use]
    pub fn is_open_to(&self, class: &str) -> bool {
        self.allowed.iter().any(|known| known == class)
    }
}

impl ChannelLimit {
    /// Asks the law what it leaves everybody.
    #[must_use]
    pub fn of(tables: &Tables, profile: &Profile, plan: &Plan, channel: &Channel) -> Self {
        // As the checks reckon it; of a plan that was checked there is always an answer where something is sent.
        let on = |send| Transmission::heard_on(plan, channel).moved(send).occupies(profile, &tables.modes).ok();
        let stretch = channel.send.and_then(|send| on(send.value));
        Self { most: most(profile, plan, channel, stretch), stretch }
    }
}

fn most(profile: &Profile, plan: &Plan, channel: &Channel, stretch: Option<Stretch>) -> Option<Power> {
    if !channel.service.is_amateur() {
        return service_row(profile, channel)?.most.map(|most| most.power);
    }
    let (stretch, spots) = (stretch?, spots(plan, channel));
    let is_there = |area: &LawArea| spots.iter().any(|spot| within(area, spot) == Within::Yes);
    let binding = profile.power_limits.iter().filter(|limit| {
        limit.classes.is_empty() && limit.edges.overlaps(&stretch) && limit.area.as_ref().is_none_or(is_there)
    });
    binding.map(|limit| limit.most.power).min()
}
