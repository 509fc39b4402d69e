//! The only thing that a document may see.

use crate::checks::{CheckedPlan, OpenPlan};
use crate::ground::{Audience, Day, Id, Pass, Position, Private};
use crate::plan::{Channel, Clock, Duty, Member, Message, Period, Place, Plan, Post};
use crate::reckon::{ChannelLimit, Eligibility, Sun, runs, stands_at};
use crate::tables::{Profile, Tables};

/// A checked plan and the one pass that opens its private values, for one audience and, where personal, one holder.
pub struct View<'a> {
    checked: &'a CheckedPlan,
    open: &'a OpenPlan,
    audience: Audience,
    holder: Option<Holder<'a>>,
    pass: Pass,
}

/// For whom a sheet is made.
#[derive(Clone, Copy)]
pub enum Holder<'a> {
    /// A person.
    Member(&'a Member),
    /// A place where it stays.
    Place(&'a Place),
    /// A message that goes from hand to hand: the sheet that is filled in with it.
    Message(&'a Message),
}

impl Holder<'_> {
    /// The holder's id.
    #[must_use]
    pub const fn id(&self) -> &Id {
        match self {
            Self::Member(member) => &member.id.value,
            Self::Place(place) => &place.id.value,
            Self::Message(message) => &message.id.value,
        }
    }
}

/// The plan as `audience` may see it.
#[must_use]
pub fn view(checked: &CheckedPlan, audience: Audience) -> View<'_> {
    let (open, pass) = (checked.open_to(&audience), Pass::for_audience(audience.clone()));
    View { checked, open, audience, holder: None, pass }
}

impl<'a> View<'a> {
    /// The same view for the member of this id. Who has a copy of their own belongs to the team, so it reaches the team's records;
    /// private values stay closed as for the audience. Without such a member the view stays without a holder.
    #[must_use]
    pub fn for_member(mut self, id: &Id) -> Self {
        if !self.audience.may_read(&Audience::Team) {
            self.open = self.checked.open_to(&Audience::Team);
        }
        self.holder = self.checked.plan().members.named(id).map(Holder::Member);
        self
    }

    /// The same view for the place of this id. Without such a place the view stays without a holder.
    #[must_use]
    pub fn for_place(mut self, id: &Id) -> Self {
        self.holder = self.checked.plan().places.named(id).map(Holder::Place);
        self
    }

    /// The same view for the message of this id. Without one that these readers may know the view stays without a holder.
    #[must_use]
    pub fn for_message(mut self, id: &Id) -> Self {
        self.holder = self.plan().messages.named(id).map(Holder::Message);
        self
    }

    /// The plan without the records that stand above the audience; private values of the others are closed.
    #[must_use]
    pub const fn plan(&self) -> &'a Plan {
        &self.open.plan
    }

    /// Who may send on what, on a day: what the law says of a channel is found once for all papers of these readers.
    #[must_use]
    pub fn eligibility(&self, day: Option<Day>) -> Eligibility<'a> {
        let (tables, profile, plan) = (self.tables(), self.profile(), self.plan());
        Eligibility { tables, profile, plan, day, known: &self.open.known }
    }

    /// The lowest class that a member has of those whom the readers may know, by its place in the profile.
    #[must_use]
    pub fn lowest_class(&self) -> Option<usize> {
        self.open.known.lowest_class(self.plan(), self.profile())
    }

    /// How much may be sent on a channel of the plan.
    #[must_use]
    pub fn limit(&self, channel: &Channel) -> ChannelLimit {
        let find = || ChannelLimit::of(self.tables(), self.profile(), self.plan(), channel);
        self.open.known.limit(channel, find)
    }

    /// The sun over a position on a day, in the plan's local time.
    #[must_use]
    pub fn sun(&self, day: Day, at: &Position) -> Option<Sun> {
        self.open.known.sun(Clock::of(self.plan()), day, at)
    }

    /// The duties of the member for whom it is made; none where it is made for nobody or a place.
    #[must_use]
    pub fn own_duties(&self) -> Vec<&'a Duty> {
        match self.holder {
            Some(Holder::Member(member)) => self.open.known.duties_of(&self.open.plan, &member.id.value),
            _ => Vec::new(),
        }
    }

    /// The duties at a post, in the plan's order.
    #[must_use]
    pub fn duties_at(&self, post: &Id) -> Vec<&'a Duty> {
        self.open.known.duties_at(&self.open.plan, post)
    }

    /// When a post is stood, without by whom, reliefs passed over: that may be told to everybody, whatever else of duties is closed to them.
    #[must_use]
    pub fn hours_stood(&self, post: &Post) -> Vec<Period> {
        let periods: Vec<Period> = stands_at(self.checked.plan(), post).iter().map(|stand| stand.period).collect();
        runs(&periods)
    }

    /// The profile that the plan was checked against.
    #[must_use]
    pub fn profile(&self) -> &'a Profile {
        self.checked.profile()
    }

    /// The tables that the plan was checked against.
    #[must_use]
    pub const fn tables(&self) -> &'static Tables {
        self.checked.tables()
    }

    /// Whether the edition is a draft: sheets say so in the place of the word before its number.
    #[must_use]
    pub const fn is_draft(&self) -> bool {
        self.checked.is_draft()
    }

    /// Who may read what is made from this view.
    #[must_use]
    pub const fn audience(&self) -> &Audience {
        &self.audience
    }

    /// For whom it is made; none for a sheet that is the same for everybody.
    #[must_use]
    pub const fn holder(&self) -> Option<Holder<'a>> {
        self.holder
    }

    /// The name of a member, where this audience may read it.
    #[must_use]
    pub fn name<'m>(&self, member: &'m Member) -> Option<&'m str> {
        self.audience.may_read(&member.name_audience).then(|| member.name.as_str())
    }

    /// A private value, where this audience may read it.
    #[must_use]
    pub fn open<'p, T>(&self, value: &'p Private<T>) -> Option<&'p T> {
        value.open(&self.pass)
    }
}

#[cfg(test)]
mod tests {
    use super::view;
    use crate::checks::CheckedPlan;
    use crate::ground::{Audience, Private};

    /// Rows: the reader; columns: the mark, in the order of `MARKS`. Worked by hand from the order of audiences.
    const MAY_READ: [(&str, [bool; 6]); 6] = [
        ("public", [true, false, false, false, false, false]),
        ("team", [true, true, false, false, false, false]),
        ("leads", [true, true, true, false, true, true]),
        ("coordinator", [true, true, true, true, true, true]),
        ("agency/mercy", [true, false, false, false, true, false]),
        ("agency/saint-odo", [true, false, false, false, false, true]),
    ];
    const MARKS: [&str; 6] = ["public", "team", "leads", "coordinator", "agency/mercy", "agency/saint-odo"];

    #[test]
    fn opens_what_the_order_of_audiences_says_and_nothing_else() {
        let checked = CheckedPlan::blank("us").unwrap();
        for (reader, expected) in MAY_READ {
            let view = view(&checked, Audience::parse(reader).unwrap());
            for (mark, is_readable) in MARKS.iter().zip(expected) {
                let private = Private::new("555-0100", Audience::parse(mark).unwrap());
                assert_eq!(view.open(&private).is_some(), is_readable, "{reader} reading {mark}");
            }
        }
    }
}
