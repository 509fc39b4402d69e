//! What feeds what in a station: each part with its source, the voltage that reaches it, and what its current is at that source.
//!
//! No part is followed twice, whatever the plan says: parts that feed each other in a circle have no source.

use crate::ground::{At, Current, Id, Voltage};
use crate::plan::{Charging, PartCable, PartKind, Plan, Station, StationPart};
use std::collections::BTreeMap;

/// How much of what it takes an inverter or a converter gives, in thousandths, where nothing is said (common practice, no source).
pub const USUAL_EFFICIENCY: i64 = 850;

/// A part with its place in the station.
#[derive(Clone, Debug)]
pub struct WiredPart<'a> {
    /// The part.
    pub part: &'a StationPart,
    /// What feeds it, counted from 0; none where nothing does.
    pub feeder: Option<usize>,
    /// What else charges it, counted from 0, where it is a battery.
    pub chargers: Vec<(usize, &'a Charging)>,
    /// The battery, mains or panel that its current comes from, counted from 0; none where there is none.
    pub source: Option<usize>,
    /// The voltage that it gives to what it feeds; none where nobody knows.
    pub gives: Option<Voltage>,
    /// Whether it feeds itself by others.
    pub is_in_circle: bool,
    /// How much of its source's current one of its own is.
    at_source: f64,
}

/// A cable of a station, from one part to another.
#[derive(Clone, Copy, Debug)]
pub struct Lead<'a> {
    /// Where it comes from, counted from 0.
    pub from: usize,
    /// Where it ends, counted from 0.
    pub to: usize,
    /// The cable.
    pub cable: &'a PartCable,
    /// What names where it comes from.
    pub named: &'a At<Id>,
}

/// All parts of a station in its order, and the order in which they are drawn.
pub struct Wiring<'a> {
    /// In the order of the plan.
    pub nodes: Vec<WiredPart<'a>>,
    /// Each with how many feed it one after the other; what is fed stands below what feeds it.
    pub drawn: Vec<(usize, usize)>,
    /// By part, what all that it feeds draws of it at once.
    given: Vec<Current>,
    /// By part, the voltage that was made last on the way to it, and what is lost since.
    ways: Vec<Option<(Voltage, i64)>>,
}

impl<'a> Wiring<'a> {
    /// The wiring of a station.
    #[must_use]
    pub fn of(plan: &'a Plan, station: &'a Station) -> Self {
        let mut by_id: BTreeMap<&Id, usize> = BTreeMap::new();
        for (at, part) in station.parts.iter().enumerate() {
            by_id.entry(&part.id.value).or_insert(at);
        }
        let known = |id: &At<Id>| by_id.get(&id.value).copied();
        let feeder = |part: &StationPart| part.from.as_ref().and_then(known);
        let charger = |other: &'a Charging| Some((known(&other.from)?, other));
        let chargers = |part: &'a StationPart| match part.kind.value {
            PartKind::Battery => part.charged_by.iter().filter_map(charger).collect(),
            _ => Vec::new(),
        };
        let mut nodes: Vec<WiredPart<'a>> = station
            .parts
            .iter()
            .map(|part| WiredPart {
                part,
                feeder: feeder(part),
                chargers: chargers(part),
                source: None,
                gives: None,
                is_in_circle: false,
                at_source: 1.0,
            })
            .collect();
        for (at, is_reached) in reached(&nodes).into_iter().enumerate() {
            if let Some(node) = nodes.get_mut(at) {
                node.is_in_circle = !is_reached;
            }
        }
        let order = from_sources(&nodes);
        // What a controller charges feeds what else hangs on it.
        let mut charged: BTreeMap<usize, usize> = BTreeMap::new();
        for (at, node) in nodes.iter().enumerate().filter(|(_, node)| node.part.kind.value == PartKind::Battery) {
            for feeder in node.feeders() {
                charged.entry(feeder).or_insert(at);
            }
        }
        for (at, _) in &order {
            settle(&mut nodes, *at, &charged, plan);
        }
        let rest = (0..nodes.len()).filter(|at| nodes.get(*at).is_some_and(|node| node.is_in_circle)).map(|at| (at, 0));
        let drawn = order.iter().copied().chain(rest).collect();
        let mut wiring = Self { nodes, drawn, given: Vec::new(), ways: Vec::new() };
        wiring.given = wiring.drawn_by_fed();
        wiring.ways = wiring.ways();
        wiring
    }

    /// Every cable, in the order in which the parts that they lead to are drawn.
    pub fn leads(&self) -> impl Iterator<Item = Lead<'a>> + '_ {
        self.drawn.iter().flat_map(|(to, _)| self.leads_to(*to))
    }

    /// The cables that lead to a part: that of what feeds it, then those of what else charges it.
    pub fn leads_to(&self, to: usize) -> impl Iterator<Item = Lead<'a>> + '_ {
        let node = self.nodes.get(to);
        let fed = node.and_then(|node| {
            Some(Lead { from: node.feeder?, to, cable: &node.part.cable, named: node.part.from.as_ref()? })
        });
        let charged = node.into_iter().flat_map(move |node| {
            let lead = move |(from, other): &(usize, &'a Charging)| Lead {
                from: *from,
                to,
                cable: &other.cable,
                named: &other.from,
            };
            node.chargers.iter().map(lead)
        });
        fed.into_iter().chain(charged)
    }

    /// What feeds a part.
    #[must_use]
    pub fn feeder(&self, node: &WiredPart<'a>) -> Option<&WiredPart<'a>> {
        self.nodes.get(node.feeder?)
    }

    /// The voltage at a part's own plug while all of the station draws its most at once: what was made last on the way from the source, less what
    /// every cable since takes, nothing at least. None where nobody knows what is given.
    #[must_use]
    pub fn left(&self, at: usize) -> Option<Voltage> {
        let (gives, lost) = (*self.ways.get(at)?)?;
        Some(Voltage::grains(gives.as_grains().saturating_sub(lost).max(0)))
    }

    /// By part, the voltage that was made last on the way to it, and what all cables since take; a feeder stands before what it feeds.
    fn ways(&self) -> Vec<Option<(Voltage, i64)>> {
        let mut ways: Vec<Option<(Voltage, i64)>> = vec![None; self.nodes.len()];
        for (at, _) in &self.drawn {
            let way = self.way(*at, &ways);
            if let Some(own) = ways.get_mut(*at) {
                *own = way;
            }
        }
        ways
    }

    fn way(&self, at: usize, ways: &[Option<(Voltage, i64)>]) -> Option<(Voltage, i64)> {
        let node = self.nodes.get(at).filter(|node| !node.is_in_circle)?;
        let given = self.given.get(at).copied().unwrap_or(Current::grains(0));
        let lost = lost(&node.part.cable, self.flows_into(at, given)).map_or(0, Voltage::as_grains);
        let from = self.nodes.get(node.feeder?)?;
        if from.feeder.is_none() || from.part.voltage.is_some() || from.part.kind.value != PartKind::Distribution {
            return Some((from.gives?, lost));
        }
        let (gives, before) = (*ways.get(node.feeder?)?)?;
        Some((gives, before.saturating_add(lost)))
    }

    /// What flows into a part while all that hangs on it and it itself draw their most.
    #[must_use]
    pub fn flow(&self, at: usize) -> Current {
        let is_in_circle = self.nodes.get(at).is_none_or(|node| node.is_in_circle);
        let given = self.given.get(at).copied().unwrap_or(Current::grains(0));
        if is_in_circle { Current::grains(0) } else { self.flows_into(at, given) }
    }

    /// A current of a part as its source gives it, rounded up.
    #[must_use]
    pub fn at_source(&self, node: &WiredPart<'a>, current: Current) -> Current {
        #[expect(clippy::cast_precision_loss, reason = "a thousand amperes are far below 2^53")]
        let drawn = current.as_grains() as f64 * node.at_source;
        #[expect(clippy::cast_possible_truncation, reason = "too much for any source saturates")]
        Current::grains(libm::ceil(drawn - 1e-6) as i64)
    }

    /// By part, what all that it feeds draws of it at once, each at its most, through boxes and controllers as far as nothing makes another
    /// voltage; what does so draws by its own power.
    #[must_use]
    pub fn drawn_by_fed(&self) -> Vec<Current> {
        let mut sums = vec![0_i64; self.nodes.len()];
        // What is fed stands behind what feeds it: from the end, all that hangs on a part is known when it comes.
        for (at, _) in self.drawn.iter().rev() {
            let Some(node) = self.nodes.get(*at).filter(|node| !node.is_in_circle) else { continue };
            let (own, below) = (most(node.part).map_or(0, Current::as_grains), sums.get(*at).copied().unwrap_or(0));
            // A battery is charged by what stands before it, not drawn on.
            let is_battery = node.part.kind.value == PartKind::Battery;
            let passed = if is_battery { 0 } else { own.saturating_add(self.taken(*at, below)) };
            if let Some(sum) = node.feeder.and_then(|feeder| sums.get_mut(feeder)) {
                *sum = sum.saturating_add(passed);
            }
        }
        sums.into_iter().map(Current::grains).collect()
    }

    /// What flows into a part for what it gives to others and for what it draws itself, each at its most.
    #[must_use]
    pub fn flows_into(&self, at: usize, given: Current) -> Current {
        let own = self.nodes.get(at).and_then(|node| most(node.part)).map_or(0, Current::as_grains);
        // What charges a battery is not what it gives.
        let is_battery = self.nodes.get(at).is_some_and(|node| node.part.kind.value == PartKind::Battery);
        Current::grains(if is_battery { own } else { own.saturating_add(self.taken(at, given.as_grains())) })
    }

    /// What a part takes for a current that it gives.
    fn taken(&self, at: usize, given: i64) -> i64 {
        let Some(node) = self.nodes.get(at) else { return 0 };
        #[expect(clippy::cast_precision_loss, reason = "what hangs on one inverter is far below 2^53")]
        let taken = given as f64 * made(node, &self.nodes);
        #[expect(clippy::cast_possible_truncation, reason = "too much for any source saturates")]
        let taken = libm::ceil(taken - 1e-6) as i64;
        taken
    }
}

impl WiredPart<'_> {
    /// All that feeds or charges it.
    pub fn feeders(&self) -> impl Iterator<Item = usize> + '_ {
        self.feeder.into_iter().chain(self.chargers.iter().map(|(at, _)| *at))
    }
}

/// What a cable takes of the voltage there and back; none where its wire or its length is not known.
#[must_use]
pub fn lost(cable: &PartCable, drawn: Current) -> Option<Voltage> {
    Some(super::drop(cable.wire?.value, cable.length?.value, drawn))
}

/// The most that a part draws at once; none where no current of it is known.
#[must_use]
pub fn most(part: &StationPart) -> Option<Current> {
    [part.idle, part.receiving, part.sending].into_iter().flatten().map(|current| current.value).max()
}

/// Those that something feeds without a circle, with how many stand before each: a feeder stands before what it feeds.
fn from_sources(nodes: &[WiredPart<'_>]) -> Vec<(usize, usize)> {
    let mut fed: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (at, node) in nodes.iter().enumerate().filter(|(_, node)| !node.is_in_circle) {
        if let Some(feeder) = node.feeder {
            fed.entry(feeder).or_default().push(at);
        }
    }
    let is_first = |(_, node): &(usize, &WiredPart<'_>)| node.feeder.is_none() && !node.is_in_circle;
    let first = nodes.iter().enumerate().filter(is_first).map(|(at, _)| (at, 0));
    let mut open: Vec<(usize, usize)> = first.collect();
    open.reverse();
    let mut order = Vec::new();
    while let Some((at, depth)) = open.pop() {
        order.push((at, depth));
        open.extend(fed.get(&at).into_iter().flatten().rev().map(|fed| (*fed, depth + 1)));
    }
    order
}

/// By part, whether all that feeds it begins somewhere: not so in a circle, and not behind one.
fn reached(nodes: &[WiredPart<'_>]) -> Vec<bool> {
    let mut fed: Vec<Vec<usize>> = vec![Vec::new(); nodes.len()];
    let mut waits: Vec<usize> = vec![0; nodes.len()];
    for (at, (node, waits)) in nodes.iter().zip(&mut waits).enumerate() {
        for feeder in node.feeders() {
            if let Some(fed) = fed.get_mut(feeder) {
                fed.push(at);
                *waits += 1;
            }
        }
    }
    let mut open: Vec<usize> = (0..nodes.len()).filter(|at| waits.get(*at) == Some(&0)).collect();
    let mut reached = vec![false; nodes.len()];
    while let Some(at) = open.pop() {
        if let Some(own) = reached.get_mut(at) {
            *own = true;
        }
        for fed in fed.get(at).into_iter().flatten() {
            let Some(waits) = waits.get_mut(*fed) else { continue };
            *waits -= 1;
            if *waits == 0 {
                open.push(*fed);
            }
        }
    }
    reached
}

/// Source, voltage and share of current of a part whose feeder is settled.
fn settle(nodes: &mut [WiredPart<'_>], at: usize, charged: &BTreeMap<usize, usize>, plan: &Plan) {
    let Some(node) = nodes.get(at) else { return };
    let (part, feeder) = (node.part, node.feeder.and_then(|feeder| nodes.get(feeder)));
    let battery = part.battery.as_ref().and_then(|id| plan.batteries.get(&id.value));
    let gives = part.voltage.map(|voltage| voltage.value).or_else(|| battery.map(crate::plan::Battery::nominal));
    let charges = matches!(part.kind.value, PartKind::ChargeController | PartKind::Charger);
    let gives = gives.or_else(|| match charges {
        // What it charges says at what voltage it does.
        true => {
            let charged = nodes.get(*charged.get(&at)?)?.part.battery.as_ref()?;
            plan.batteries.get(&charged.value).map(crate::plan::Battery::nominal)
        }
        false => feeder.and_then(|feeder| feeder.gives).filter(|_| !part.kind.value.makes_voltage()),
    });
    let (source, at_source) = match feeder {
        _ if part.kind.value.is_source() => (Some(at), 1.0),
        None => (None, 1.0),
        Some(feeder) => {
            let source = node.feeder.and_then(|feeder| charged.get(&feeder).copied()).or(feeder.source);
            (source, feeder.at_source * made(feeder, nodes))
        }
    };
    if let Some(node) = nodes.get_mut(at) {
        (node.source, node.gives, node.at_source) = (source, gives, at_source);
    }
}

/// How much a feeder takes for one that it gives: more than one where it makes a higher voltage, and by what it loses.
fn made(feeder: &WiredPart<'_>, nodes: &[WiredPart<'_>]) -> f64 {
    if !feeder.part.kind.value.makes_voltage() {
        return 1.0;
    }
    let taken = feeder.feeder.and_then(|at| nodes.get(at)).and_then(|node| node.gives);
    let efficiency = feeder.part.efficiency.map_or(USUAL_EFFICIENCY, |share| share.value.as_grains()).max(1);
    #[expect(clippy::cast_precision_loss, reason = "volts and shares in thousandths are small")]
    let ratio = |one: i64, other: i64| one as f64 / other as f64;
    let volts = feeder.gives.zip(taken).map_or(1.0, |(gives, taken)| ratio(gives.as_grains(), taken.as_grains()));
    volts * ratio(1000, efficiency)
}
