//! The other service whose channel a frequency is, where the plan takes it for amateur: what to write.

use super::Facts;
use super::trial::is_clean_as;
use super::trials::Proposing;
use crate::ground::{Frequency, Rule, Span};
use crate::plan::{Channel, WidthWord};
use crate::reckon::has_mode;
use crate::tables::{Authority, PowerMeasure, Service, ServiceChannel};
use std::sync::Arc;

/// What somebody meant.
pub(super) struct MeantService<'a> {
    /// The channel of the other service.
    pub row: &'a ServiceChannel,
    /// What to type.
    pub help: String,
    /// The same as data, where it stands in one place and no rule speaks against it.
    pub fix: Option<(Span, String)>,
}

/// The rows of other services that somebody uses who hears and sends on these.
pub(super) fn rows_at(facts: Facts<'_>, hear: Frequency, send: Frequency) -> Vec<&ServiceChannel> {
    let may_send = |row: &&ServiceChannel| {
        facts.profile.service(&row.service).is_some_and(|service| !service.is_listened_to_alone())
    };
    facts.profile.service_channels.iter().filter(|row| row.is_used_by(hear, send)).filter(may_send).collect()
}

/// What `channel`, which is written as amateur, is meant to be; none where its frequency is no other service's.
pub(super) fn meant<'a>(
    facts: Facts<'a>,
    channel: &Channel,
    rule: &Rule,
    proposing: &mut Proposing<'_>,
) -> Option<MeantService<'a>> {
    let mut rows = rows_at(facts, channel.hear.value, channel.send?.value);
    rows.retain(|row| has_mode(row, channel));
    // Two services may share a channel: the name says which.
    rows.sort_by_key(|row| !row.name.eq_ignore_ascii_case(channel.name.as_str()));
    for row in &rows {
        let changes = Changes::to(facts, row, channel)?;
        if is_clean_as(facts, &changes.made_to(channel), rule, proposing) {
            return Some(MeantService { row, help: format!("write {}", changes.words()), fix: changes.fix(channel) });
        }
    }
    let row = rows.first()?;
    let takes = match facts.profile.service(&row.service).and_then(|service| service.authority) {
        Some(Authority::Licence) => "; it takes a `licence` of that service, or an `[[agreement]]` with who holds one",
        Some(Authority::Agreement) => "; it takes an `[[agreement]]` with who holds the licence",
        _ => "",
    };
    Some(MeantService { row, help: format!("write {}{takes}", Changes::to(facts, row, channel)?.words()), fix: None })
}

/// What is written otherwise.
struct Changes {
    service: Arc<Service>,
    width: Option<WidthWord>,
    power: Option<crate::ground::Power>,
}

impl Changes {
    /// What makes a channel one of a row's service, within its limits.
    fn to(facts: Facts<'_>, row: &ServiceChannel, channel: &Channel) -> Option<Self> {
        let service = Arc::clone(facts.profile.service(&row.service)?);
        let modes = &crate::tables::Tables::built_in().modes;
        let width = crate::reckon::emission_of(&channel.signal, modes).ok().map(|emission| emission.width());
        let is_wide = Option::zip(width, row.width).is_some_and(|(width, most)| width > most);
        let output = row.most.filter(|most| most.measure == PowerMeasure::Output).map(|most| most.power);
        Some(Self {
            service,
            width: is_wide.then_some(WidthWord::Narrow),
            power: Option::zip(channel.power, output).and_then(|(power, most)| (power.value > most).then_some(most)),
        })
    }

    fn made_to(&self, channel: &Channel) -> Channel {
        let mut channel = channel.clone();
        channel.service.value = Arc::clone(&self.service);
        channel.signal.width.value = self.width.unwrap_or(channel.signal.width.value);
        if let (Some(power), Some(at)) = (self.power, channel.power.as_mut()) {
            at.value = power;
        }
        channel
    }

    fn lines(&self) -> Vec<String> {
        let service = Some(format!("service = \"{}\"", self.service));
        let width = self.width.map(|_| "width = \"narrow\"".to_owned());
        let power = self.power.map(|power| format!("power = \"{power}\""));
        [service, width, power].into_iter().flatten().collect()
    }

    fn words(&self) -> String {
        let lines: Vec<String> = self.lines().iter().map(|line| format!("`{line}`")).collect();
        lines.join(" and ")
    }

    /// Lines below the record's header, where none of the keys stands there already.
    fn fix(&self, channel: &Channel) -> Option<(Span, String)> {
        let header = channel.span;
        let is_header = header.end - header.start == HEADER;
        if channel.service.span != header && self.lines().len() == 1 {
            return Some((channel.service.span, format!("\"{}\"", self.service)));
        }
        let is_written = channel.service.span != header
            || (self.width.is_some() && channel.signal.width.span != header)
            || self.power.is_some();
        let below = Span { start: header.end, ..header };
        (is_header && !is_written).then(|| (below, format!("\n{}", self.lines().join("\n"))))
    }
}

/// Bytes of `[[channel]]`: a record in one line with others has no line of its own to write below.
const HEADER: u32 = 11;
