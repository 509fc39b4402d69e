//! Standard channels: what a profile publishes under a name, so that a plan need write the name alone.

use super::profile_kinds::Rows;
use super::profile_rows::{Calling, ServiceChannel};
use super::row::Cite;
use super::service::Service;
use crate::ground::{Frequency, Power, Tone, Width};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A channel that the profile knows by name.
#[derive(Clone, Debug)]
pub struct Standard {
    /// As its users call it, in the numbering that was asked for.
    pub name: String,
    /// By its row; by the first of them where modes have rows of their own.
    usual: StandardUse,
    /// By the others.
    others: Vec<StandardUse>,
}

/// What a row says of a channel.
#[derive(Clone, Debug)]
pub struct StandardUse {
    /// Whose channel it is.
    pub service: Arc<Service>,
    /// What a radio hears.
    pub hear: Frequency,
    /// What it sends; none where one listens alone.
    pub send: Option<Frequency>,
    /// Modes that it is for, the usual one first; empty for all.
    pub modes: Vec<String>,
    /// The sideband, where the row says it.
    pub side: Option<&'static str>,
    /// Widest signal; none when the row does not say.
    pub width: Option<Width>,
    /// What is sent with the signal; none when the row does not say.
    pub tone: Option<Tone>,
    /// The power to use; none when the row does not say.
    pub power: Option<Power>,
    /// More about it.
    pub note: Option<String>,
    /// Where from.
    pub cite: Cite,
}

impl Standard {
    /// What it is in a mode: by the row for that mode, else by the first.
    #[must_use]
    pub fn in_mode(&self, mode: Option<&str>) -> &StandardUse {
        let is_for = |one: &&StandardUse| mode.is_some_and(|mode| one.has_mode(mode));
        std::iter::once(&self.usual).chain(&self.others).find(is_for).unwrap_or(&self.usual)
    }
}

impl StandardUse {
    /// Whether it is for a mode.
    #[must_use]
    pub fn has_mode(&self, mode: &str) -> bool {
        self.modes.is_empty() || self.modes.iter().any(|known| known == mode)
    }

    fn of(row: &ServiceChannel, service: &Arc<Service>, send: Option<Frequency>) -> Self {
        let is_sent = !row.is_listen_only && !service.is_listened_to_alone();
        Self {
            service: Arc::clone(service),
            hear: row.frequency,
            send: send.filter(|_| is_sent),
            modes: row.modes.clone(),
            side: None,
            width: row.width,
            tone: row.tone,
            power: row.usual.or(row.most.map(|most| most.power)),
            note: row.note.clone(),
            cite: row.cite.clone(),
        }
    }

    fn of_calling(row: &Calling, service: &Arc<Service>) -> Self {
        // A sideband is that of the custom where the row has the mode alone: the lower one below 10 MHz.
        let side = match row.mode.as_str() {
            "USB" => Some("USB"),
            "LSB" => Some("LSB"),
            "SSB" => Some(if row.frequency.as_hertz() < 10_000_000 { "LSB" } else { "USB" }),
            _ => None,
        };
        Self {
            service: Arc::clone(service),
            hear: row.frequency,
            send: Some(row.frequency),
            modes: vec![if side.is_some() { "SSB".to_owned() } else { row.mode.clone() }],
            side,
            width: None,
            tone: None,
            power: None,
            note: None,
            cite: row.cite.clone(),
        }
    }
}

/// All of a profile, by their names as compared.
pub(super) type Standards = BTreeMap<String, Arc<Standard>>;

/// A name as it is compared: without spaces and hyphens, in small letters, its frequency without idle zeros.
pub(super) fn compared(name: &str) -> String {
    let is_part = |letter: &char| !letter.is_whitespace() && !['-', '_'].contains(letter);
    let text: String = name.chars().filter(is_part).collect::<String>().to_lowercase();
    let text = text.strip_suffix("mhz").unwrap_or(&text);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { text }.to_owned()
}

/// All standard channels of a profile's rows.
pub(super) fn standards_of(rows: &Rows, amateur: &Arc<Service>) -> Standards {
    let mut all: BTreeMap<String, Standard> = BTreeMap::new();
    let mut add = |known_as: &str, name: String, usual: StandardUse| match all.get_mut(&compared(known_as)) {
        Some(standard) => standard.others.push(usual),
        None => drop(all.insert(compared(known_as), Standard { name, usual, others: Vec::new() })),
    };
    for row in &rows.service_channels {
        let Some(service) = rows.services.iter().find(|service| service.id == row.service) else { continue };
        for name in std::iter::once(&row.name).chain(&row.also) {
            let alone = if row.is_pair_only { row.input } else { Some(row.frequency) };
            add(name, name.clone(), StandardUse::of(row, service, alone));
            // With and without its repeater are two channels of a radio.
            if let Some(input) = row.input.filter(|_| !row.is_pair_only) {
                for with_repeater in ["R", " repeater"] {
                    let pair = StandardUse::of(row, service, Some(input));
                    add(&format!("{name}{with_repeater}"), format!("{name}R"), pair);
                }
            }
        }
    }
    for (word, rows) in [("Calling", &rows.callings), ("Emergency", &rows.emergencies)] {
        for row in rows {
            let mhz = row.frequency.to_mhz();
            let name = format!("{word} {}", mhz.strip_suffix('0').unwrap_or(&mhz));
            add(&name, name.clone(), StandardUse::of_calling(row, amateur));
        }
    }
    all.into_iter().map(|(known_as, standard)| (known_as, Arc::new(standard))).collect()
}
