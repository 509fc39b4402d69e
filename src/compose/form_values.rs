//! What a form has from the plan beforehand, for one copy. Nothing is known without a plan, and then the block is written in by hand.

use super::block::Text;
use super::duty_words::{moment, period_in_zone};
use super::foot::{member_words, named_to, who};
use super::form_duty::{control, net_of, of_duty};
use crate::audience::{Holder, View};
use crate::ground::{At, Id};
use crate::plan::{Incident, LocalTime, Net, Plan, PlanValue};
use crate::reckon::way;
use crate::tables::Profile;

/// What a form is filled from.
#[derive(Clone, Copy)]
pub struct FilledFrom<'a> {
    /// Whose words it has.
    pub profile: &'a Profile,
    /// The plan as its readers may see it; none of a blank form.
    pub view: Option<&'a View<'a>>,
    /// The net that the document names.
    pub net: Option<&'a Id>,
    /// Its number, as printed.
    pub serial: Option<&'a str>,
}

impl FilledFrom<'_> {
    /// A value; none where the plan does not say it, or these readers may not know it.
    pub fn value(&self, value: PlanValue) -> Option<Text> {
        if value == PlanValue::Serial {
            return self.serial.map(Text::own);
        }
        let view = self.view?;
        let plan = view.plan();
        let (head, edition, incident) = (plan.head.as_ref(), plan.edition.as_ref(), plan.incident.as_ref());
        let said = |words: &At<crate::ground::Words>| Text::plain(words.as_str(), words.span);
        let at = |time: &At<LocalTime>| Text::plain(moment(time.value, plan), time.span);
        match value {
            PlanValue::PlanTitle => head.map(|head| said(&head.title)),
            PlanValue::PlanShort => head.map(|head| said(&head.short)),
            PlanValue::PlanTeam => head.map(|head| said(&head.team)),
            PlanValue::EditionNumber => {
                edition.map(|edition| Text::of_edition(edition.number.value.to_string(), edition.number.span))
            }
            PlanValue::EditionIssued => {
                edition.map(|edition| Text::of_edition(edition.issued.value.to_string(), edition.issued.span))
            }
            PlanValue::EditionPreparedBy => edition.and_then(|edition| who(&edition.prepared_by, view)),
            PlanValue::EditionApprovedBy => edition.and_then(|edition| who(&edition.approved_by, view)),
            PlanValue::IncidentName => incident.map(|incident| said(&incident.name)),
            PlanValue::IncidentNumber => incident.and_then(|incident| incident.number.as_ref()).map(said),
            PlanValue::IncidentPeriod => incident.map(|incident| period(incident, plan)),
            PlanValue::IncidentFrom => incident.map(|incident| at(&incident.from)),
            PlanValue::IncidentTo => incident.map(|incident| at(&incident.to)),
            PlanValue::NetName => self.net().map(|net| said(&net.name)),
            PlanValue::NetSpoken => self.net().map(|net| said(&net.spoken)),
            PlanValue::NetChannels => self.net().and_then(|net| channels(net, plan)),
            PlanValue::NetFallbacks => self.net().map(|net| fallbacks(net, plan)),
            PlanValue::NetControl => self.net().and_then(|net| control(net, plan)),
            PlanValue::NetOperator => self.operator(),
            PlanValue::PlaceName => match view.holder()? {
                Holder::Place(place) if place.name.value == place.tactical.value => Some(said(&place.tactical)),
                Holder::Place(place) => Some(said(&place.tactical).then(format!(", {}", place.name.value))),
                Holder::Member(_) | Holder::Message(_) => None,
            },
            PlanValue::PlaceCode => match view.holder()? {
                Holder::Place(place) => Some(said(&place.code)),
                Holder::Member(_) | Holder::Message(_) => None,
            },
            PlanValue::MemberName => match view.holder()? {
                Holder::Member(member) => view.name(member).map(|name| Text::plain(name, member.name.span)),
                Holder::Place(_) | Holder::Message(_) => None,
            },
            PlanValue::MemberCall => match view.holder()? {
                Holder::Member(member) => member.call.as_ref().map(|call| Text::plain(call.to_string(), call.span)),
                Holder::Place(_) | Holder::Message(_) => None,
            },
            PlanValue::MemberWho => match view.holder()? {
                Holder::Member(member) => {
                    let words = view.name(member).map_or_else(|| named_to(member, view), |_| member_words(member));
                    Some(Text::plain(words, member.span))
                }
                Holder::Place(_) | Holder::Message(_) => None,
            },
            PlanValue::DutyPlace
            | PlanValue::DutyFrom
            | PlanValue::DutyTo
            | PlanValue::DutyRelief
            | PlanValue::DutyNet => of_duty(value, view),
            PlanValue::LiaisonFirst => net_of(0, self.net, view),
            PlanValue::LiaisonSecond => net_of(1, self.net, view),
            PlanValue::MemberRole => match view.holder()? {
                Holder::Member(member) => {
                    let first = member.roles.first()?;
                    let roles: Vec<&str> = member.roles.iter().map(|role| role.as_str()).collect();
                    Some(Text::plain(roles.join(", "), first.span))
                }
                Holder::Place(_) | Holder::Message(_) => None,
            },
            // What a message says stands in its parts.
            _ => None,
        }
    }

    fn net(&self) -> Option<&Net> {
        self.view?.plan().nets.named(self.net?)
    }

    /// The holder of a member's copy; else who stands at the net's control, where the whole period has one.
    fn operator(&self) -> Option<Text> {
        let view = self.view?;
        if let Some(Holder::Member(member)) = view.holder() {
            let call = member.call.as_ref().map(|call| format!(" {}", call.value)).unwrap_or_default();
            return Some(Text::plain(format!("{}{call}", named_to(member, view)), member.span));
        }
        let post = self.net()?.control.as_ref()?;
        let mut duties = view.plan().duties.iter().filter(|duty| duty.post.value == post.value);
        let first = duties.next()?;
        duties.all(|duty| duty.member.value == first.member.value).then(|| who(&first.member, view)).flatten()
    }
}

/// `2026-12-05 06:00 to 2026-12-06 06:00 (America/Denver)`.
fn period(incident: &Incident, plan: &Plan) -> Text {
    Text::plain(period_in_zone(incident.from.value, incident.to.value, plan), incident.from.span)
}

/// `CMD 1, then TAC 1`.
pub(super) fn channels(net: &Net, plan: &Plan) -> Option<Text> {
    let legs = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel.value));
    let names: Vec<&str> = legs.map(|channel| channel.name.as_str()).collect();
    (!names.is_empty()).then(|| Text::plain(names.join(", then "), net.span))
}

/// `TAC 1, then TAC 3`: where its people go from its first channel on, as rows and net lead them.
fn fallbacks(net: &Net, plan: &Plan) -> Text {
    let names: Vec<&str> = way(plan, net).0.iter().skip(1).map(|channel| channel.name.as_str()).collect();
    let words = if names.is_empty() { "no other channel: stay".to_owned() } else { names.join(", then ") };
    Text::plain(words, net.span)
}
