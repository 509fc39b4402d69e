//! What transmits, where and how: the one answer that all rules and sheets take it from.

use super::{Coverage, Heard, Sent, Spot, Spots, Unreckoned, heard, neighbour_heard, occupied_by, spot, spots};
use super::{tolerance_on, widened};
use crate::ground::{At, Frequency, Power, Stretch, Subject, Tolerance, Width};
use crate::plan::{Channel, Gateway, Link, Neighbour, Place, Plan, Ref, Repeater, Side, Signal, subject};
use crate::tables::{Modes, Profile};

/// What transmits.
#[derive(Clone, Copy, Debug)]
pub enum Transmitter<'a> {
    /// The radios of whoever works a channel.
    Channel(&'a Channel),
    /// A repeater; its input is sent by the people around it.
    Repeater(&'a Repeater),
    /// A gateway, and whoever calls it.
    Gateway(&'a Gateway),
    /// A link's radio on one of its two channels, with where the link names that.
    Link(&'a Link, &'a At<Ref<Channel>>, &'a Channel),
    /// Another team's.
    Neighbour(&'a Neighbour),
}

/// Which frequency of a pair.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum End {
    /// What the repeater sends.
    Output,
    /// What it hears.
    Input,
}

impl End {
    /// In a sentence.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Output => "output",
            Self::Input => "input",
        }
    }
}

/// A signal of the plan on one frequency: what sends it, how, and from where.
#[derive(Clone, Copy)]
pub struct Transmission<'a> {
    /// What sends it.
    pub from: Transmitter<'a>,
    /// Which end of it, where it has two.
    pub end: Option<End>,
    /// What it is sent on, as dialled.
    pub frequency: At<Frequency>,
    /// How it is made.
    pub signal: &'a Signal,
    /// On which side of an HF dial.
    pub side: Option<Side>,
    plan: &'a Plan,
}

/// All that transmits in a plan: on channels, through repeaters and gateways or not, what stands there itself, links, and neighbours.
#[must_use]
pub fn transmissions(plan: &Plan) -> Vec<Transmission<'_>> {
    let mut all: Vec<Transmission<'_>> =
        plan.channels.iter().filter_map(|channel| Transmission::on(plan, channel)).collect();
    for repeater in plan.repeaters.iter() {
        all.extend(Transmission::of_repeater(plan, repeater));
    }
    all.extend(plan.gateways.iter().flat_map(|gateway| Transmission::of_gateway(plan, gateway)));
    for link in plan.links.iter() {
        let joined = link.joins.iter().filter_map(|joins| Some((joins, plan.channels.get(joins)?)));
        all.extend(joined.filter_map(|(joins, channel)| {
            Some(Transmission::on(plan, channel)?.sent_by(Transmitter::Link(link, joins, channel)))
        }));
    }
    all.extend(plan.neighbours.iter().flat_map(|neighbour| Transmission::of_neighbour(plan, neighbour)));
    all
}

/// Each transmission of the plan's own once, by the record that decides it: what is sent through a repeater or gateway is told of
/// there, and what a link sends on its channels.
pub fn own_transmissions(plan: &Plan) -> impl Iterator<Item = Transmission<'_>> {
    transmissions(plan).into_iter().filter(|sent| match sent.from {
        Transmitter::Channel(channel) => channel.repeater().is_none() && channel.gateway().is_none(),
        Transmitter::Repeater(_) | Transmitter::Gateway(_) => true,
        Transmitter::Link(..) | Transmitter::Neighbour(_) => false,
    })
}

impl<'a> Transmission<'a> {
    /// What is sent on a channel; none where one listens only.
    #[must_use]
    pub fn on(plan: &'a Plan, channel: &'a Channel) -> Option<Self> {
        Some(Self { frequency: channel.send?, ..Self::heard_on(plan, channel) })
    }

    /// What is heard on a channel, whoever sends it.
    #[must_use]
    pub fn heard_on(plan: &'a Plan, channel: &'a Channel) -> Self {
        let (signal, side) = (&channel.signal, channel.side());
        Self { from: Transmitter::Channel(channel), end: None, frequency: channel.hear, signal, side, plan }
    }

    /// Both ends of a repeater; its output alone where its input is unknown.
    pub fn of_repeater(plan: &'a Plan, repeater: &'a Repeater) -> impl Iterator<Item = Self> {
        std::iter::once(Self::output_of(plan, repeater)).chain(Self::input_of(plan, repeater))
    }

    /// What a repeater sends.
    #[must_use]
    pub const fn output_of(plan: &'a Plan, repeater: &'a Repeater) -> Self {
        Self {
            from: Transmitter::Repeater(repeater),
            end: Some(End::Output),
            frequency: repeater.output,
            signal: &repeater.signal,
            side: None,
            plan,
        }
    }

    /// What is sent to a repeater; none where its input is unknown.
    #[must_use]
    pub fn input_of(plan: &'a Plan, repeater: &'a Repeater) -> Option<Self> {
        let frequency = *(*repeater.input)?;
        Some(Self { end: Some(End::Input), frequency, ..Self::output_of(plan, repeater) })
    }

    /// What a gateway sends and hears, on each of its frequencies.
    pub fn of_gateway(plan: &'a Plan, gateway: &'a Gateway) -> impl Iterator<Item = Self> {
        let (from, signal) = (Transmitter::Gateway(gateway), &gateway.signal);
        let frequencies = gateway.frequency.value.all();
        frequencies.map(move |frequency| Self { from, end: None, frequency, signal, side: None, plan })
    }

    /// What another team's station sends and hears.
    pub fn of_neighbour(plan: &'a Plan, neighbour: &'a Neighbour) -> impl Iterator<Item = Self> {
        let (from, signal) = (Transmitter::Neighbour(neighbour), &neighbour.signal);
        let input = neighbour.input.map(|input| (End::Input, *input));
        let ends = [Some((End::Output, neighbour.output)), input].into_iter().flatten();
        ends.map(move |(end, frequency)| Self { from, end: Some(end), frequency, signal, side: None, plan })
    }

    /// The same, sent by something else.
    #[must_use]
    pub const fn sent_by(self, from: Transmitter<'a>) -> Self {
        Self { from, ..self }
    }

    /// The same on another frequency.
    #[must_use]
    pub const fn moved(self, to: Frequency) -> Self {
        Self { frequency: At::new(to, self.frequency.span), ..self }
    }

    /// What it is called at a place: `CMD 1`, `Fern input`.
    #[must_use]
    pub fn name(&self) -> String {
        match self.end {
            Some(end) => format!("{} {}", self.from.name(), end.word()),
            None => self.from.name(),
        }
    }

    /// What it is in a sentence: `channel CMD 1`, `the input of repeater Fern`.
    #[must_use]
    pub fn words(&self) -> String {
        match self.end {
            Some(end) => format!("the {} of {}", end.word(), self.from.words()),
            None => self.from.words(),
        }
    }

    /// Whether a repeater stands behind it, which the law keeps out of more.
    #[must_use]
    pub const fn is_repeater(&self) -> bool {
        matches!(self.from, Transmitter::Repeater(_))
    }

    /// Where its frequency was decided, when another key says so: a repeater's input is shifted from its output.
    #[must_use]
    pub const fn decided_by(&self) -> Option<At<Frequency>> {
        match (self.from, self.end) {
            (Transmitter::Repeater(repeater), Some(End::Input)) => Some(repeater.output),
            _ => None,
        }
    }

    /// The most it is sent with, where the plan says so.
    #[must_use]
    pub fn power(&self) -> Option<At<Power>> {
        match (self.from, self.end) {
            (Transmitter::Channel(channel), _) => channel.power,
            (Transmitter::Repeater(repeater), Some(End::Input)) => {
                self.through(repeater).filter_map(|channel| channel.power).max_by_key(|power| power.value)
            }
            (Transmitter::Repeater(repeater), _) => repeater.power,
            (Transmitter::Gateway(gateway), _) => gateway.power,
            (Transmitter::Link(link, ..), _) => link.power,
            (Transmitter::Neighbour(_), _) => None,
        }
    }

    /// How far it may be off. People call a gateway with radios of their own.
    #[must_use]
    pub fn tolerance(&self) -> Tolerance {
        let on = |channel| tolerance_on(self.plan, channel);
        let tolerance = match (self.from, self.end) {
            (Transmitter::Channel(channel) | Transmitter::Link(.., channel), _) => Some(on(channel)),
            (Transmitter::Repeater(repeater), Some(End::Input)) => self.through(repeater).map(on).max(),
            (Transmitter::Repeater(repeater), _) => repeater.tolerance.map(|tolerance| tolerance.value),
            (Transmitter::Gateway(gateway), _) => {
                gateway.tolerance.map(|tolerance| tolerance.value).max(self.into(gateway).map(on).max())
            }
            (Transmitter::Neighbour(_), _) => None,
        };
        tolerance.unwrap_or_default()
    }

    /// As the law counts it, whoever sends.
    #[must_use]
    pub fn sent(&self) -> Sent<'a> {
        Sent {
            dial: self.frequency.value,
            signal: self.signal,
            side: self.side,
            tolerance: self.tolerance(),
            strays: [Width::hertz(0); 2],
        }
    }

    /// What it occupies.
    ///
    /// # Errors
    /// When that cannot be reckoned.
    pub fn occupies(&self, profile: &Profile, modes: &Modes) -> Result<Stretch, Unreckoned> {
        occupied_by(profile, modes, self.frequency.value, self.signal, self.side)
    }

    /// The same, with its tolerance on both sides.
    ///
    /// # Errors
    /// When that cannot be reckoned.
    pub fn reaches(&self, profile: &Profile, modes: &Modes) -> Result<Stretch, Unreckoned> {
        widened(&self.occupies(profile, modes)?, self.tolerance())
    }

    /// What to add to a message about an edge: the tolerance, where there is one.
    #[must_use]
    pub fn with_tolerance(&self) -> String {
        let tolerance = self.tolerance();
        if tolerance.is_none() { String::new() } else { format!(" with {tolerance} of tolerance") }
    }

    /// Where it is heard: a pair where its repeater counts. None: everywhere.
    #[must_use]
    pub fn heard(&self, coverage: &Coverage<'a>) -> Spots<'a> {
        self.from.heard(self.plan, coverage)
    }

    /// Every spot where whoever sends it may stand.
    #[must_use]
    pub fn spots(&self) -> Vec<Spot<'a>> {
        let plan = self.plan;
        match (self.from, self.end) {
            (Transmitter::Channel(channel), _) => spots(plan, channel),
            (Transmitter::Repeater(repeater), Some(End::Input)) => {
                self.through(repeater).flat_map(|channel| spots(plan, channel)).collect()
            }
            (Transmitter::Gateway(gateway), _) => {
                let users = self.into(gateway).flat_map(|channel| spots(plan, channel));
                std::iter::once(self.own_spot()).chain(users).collect()
            }
            _ => vec![self.own_spot()],
        }
    }

    /// The spot of the place where the transmitter itself stands.
    #[must_use]
    pub fn own_spot(&self) -> Spot<'a> {
        spot(self.plan, self.from.place().map(|place| &*place.value))
    }

    /// The channels through a repeater.
    fn through(&self, repeater: &'a Repeater) -> impl Iterator<Item = &'a Channel> {
        let is_through = |channel: &&Channel| channel.repeater().is_some_and(|id| id.value == repeater.id.value);
        self.plan.channels.iter().filter(is_through)
    }

    /// The channels into a gateway.
    fn into(&self, gateway: &'a Gateway) -> impl Iterator<Item = &'a Channel> {
        let is_into = |channel: &&Channel| channel.gateway().is_some_and(|id| id.value == gateway.id.value);
        self.plan.channels.iter().filter(is_into)
    }
}

impl<'a> Transmitter<'a> {
    /// What it is in a sentence.
    #[must_use]
    pub fn words(&self) -> String {
        let kind = match self {
            Self::Channel(_) => "channel",
            Self::Repeater(_) => "repeater",
            Self::Gateway(_) => "gateway",
            Self::Link(..) => "link",
            Self::Neighbour(_) => "the neighbour",
        };
        format!("{kind} {}", self.name())
    }

    /// What it is called; a link with the channel on which it sends.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Channel(channel) => channel.name.to_string(),
            Self::Repeater(repeater) => repeater.name.to_string(),
            Self::Gateway(gateway) => gateway.name.to_string(),
            Self::Link(link, _, channel) => format!("{} on {}", link.name.value, channel.name.value),
            Self::Neighbour(neighbour) => neighbour.name.to_string(),
        }
    }

    /// Its record as findings name it; none for a neighbour, which has no id.
    #[must_use]
    pub fn subject(&self) -> Option<Subject> {
        match self {
            Self::Channel(channel) => Some(subject(*channel)),
            Self::Repeater(repeater) => Some(subject(*repeater)),
            Self::Gateway(gateway) => Some(subject(*gateway)),
            Self::Link(link, ..) => Some(subject(*link)),
            Self::Neighbour(_) => None,
        }
    }

    /// The channel, where it is people's radios on one.
    #[must_use]
    pub const fn channel(&self) -> Option<&'a Channel> {
        match self {
            Self::Channel(channel) => Some(channel),
            _ => None,
        }
    }

    /// The channel on which it sends, by people's radios or a link's.
    #[must_use]
    pub const fn on_channel(&self) -> Option<&'a Channel> {
        match self {
            Self::Channel(channel) | Self::Link(.., channel) => Some(channel),
            _ => None,
        }
    }

    /// The repeater, where it is one.
    #[must_use]
    pub const fn repeater(&self) -> Option<&'a Repeater> {
        match self {
            Self::Repeater(repeater) => Some(repeater),
            _ => None,
        }
    }

    /// Whether it is of the amateur service, on which the profile's own rows are about.
    #[must_use]
    pub fn is_amateur(&self) -> bool {
        let service = match self {
            Self::Channel(channel) | Self::Link(.., channel) => &channel.service,
            Self::Repeater(repeater) => &repeater.service,
            Self::Gateway(gateway) => &gateway.service,
            Self::Neighbour(_) => return true,
        };
        service.is_amateur()
    }

    /// The repeater or gateway that it is, or that it goes through.
    #[must_use]
    pub fn relay(&self, plan: &'a Plan) -> Option<Self> {
        match self {
            Self::Repeater(_) | Self::Gateway(_) => Some(*self),
            Self::Channel(channel) => {
                let repeater = || Some(Self::Repeater(plan.repeaters.get(channel.repeater()?)?));
                let gateway = || Some(Self::Gateway(plan.gateways.get(channel.gateway()?)?));
                repeater().or_else(gateway)
            }
            Self::Link(..) | Self::Neighbour(_) => None,
        }
    }

    /// The place where it stands, where the plan says so.
    #[must_use]
    pub const fn place(&self) -> Option<&'a At<Ref<Place>>> {
        match self {
            Self::Repeater(repeater) => repeater.place.as_ref(),
            Self::Gateway(gateway) => gateway.place.as_ref(),
            Self::Link(link, ..) => link.place.as_ref(),
            Self::Channel(_) | Self::Neighbour(_) => None,
        }
    }

    /// Where it is heard. None: everywhere.
    #[must_use]
    pub fn heard(&self, plan: &'a Plan, coverage: &Coverage<'a>) -> Spots<'a> {
        let around = |heard: Heard<'a>| heard.map(|spot| vec![spot]);
        match self {
            Self::Channel(channel) => coverage.spots_of(channel),
            Self::Repeater(repeater) => around(heard(plan, repeater)),
            Self::Neighbour(neighbour) => around(neighbour_heard(neighbour)),
            Self::Gateway(_) | Self::Link(..) => None,
        }
    }
}
