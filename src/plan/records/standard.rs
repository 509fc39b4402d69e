//! Channels that name a standard one: what the profile says of it is written into them, where they do not say it themselves.

use super::channel::Draft;
use super::channel_line::WAYS;
use crate::ground::{Power, Span, Width};
use crate::plan::reference::Record;
use crate::source::{Key, Node, Value, WrittenRecord, respelled};
use crate::tables::{Profile, StandardUse, Tables};

/// Writes into each channel that names a standard one what the profile has of it and the channel does not say. What counts by
/// default stands behind what is published.
pub fn fill_standards(list: &mut [WrittenRecord], profile: &Profile) {
    for record in list.iter_mut().filter(|record| record.kind.text == <Draft as Record>::KIND) {
        let Some(span) = record.node.get("standard").map(|node| node.span) else { continue };
        let Some(written) = record.node.get("standard").and_then(Node::text).map(str::to_owned) else { continue };
        let Value::Table(entries) = &mut record.node.value else { continue };
        let own = record.own;
        let mut draft = UnsaidKeys { entries, span };
        let Some(standard) = profile.standard(&written) else {
            // The name is reported when it is read, and the record refused: what it lacks besides is no second fault.
            draft.add("name", &written);
            draft.add_way("rx", "1 MHz");
            draft.add("tx", "none");
            continue;
        };
        let published = standard.in_mode(draft.mode());
        draft.drop_defaults(published, own);
        draft.add("name", &standard.name);
        draft.fill(published);
    }
}

/// The keys of a channel, of which those that it does not say are filled.
struct UnsaidKeys<'a> {
    entries: &'a mut Vec<(Key, Node)>,
    /// The name of the standard channel: the place of all that comes from it.
    span: Span,
}

impl UnsaidKeys<'_> {
    fn get(&self, key: &'static str) -> Option<&Node> {
        let is_it = |text: &str| text == key || respelled(text, &[key]).is_some();
        self.entries.iter().find(|(own, _)| is_it(&own.text)).map(|(_, node)| node)
    }

    fn add(&mut self, key: &'static str, text: &str) {
        if self.get(key).is_none() {
            let node = Node { value: Value::Text(text.to_owned()), span: self.span };
            self.entries.push((Key { text: key.to_owned(), span: self.span }, node));
        }
    }

    fn add_way(&mut self, key: &'static str, text: &str) {
        if WAYS.iter().all(|way| self.get(way).is_none()) {
            self.add(key, text);
        }
    }

    /// The mode that the channel says itself.
    fn mode(&self) -> Option<&str> {
        let of_emission = || {
            let symbols = self.get("emission")?.text()?.trim().get(4..)?;
            Tables::built_in().modes.fitting(symbols).first().copied()
        };
        let is_sideband = self.get("side").is_some() || self.get("dial").is_some();
        self.get("mode").and_then(Node::text).or_else(of_emission).or(is_sideband.then_some("SSB"))
    }

    /// Takes out what counts by default, behind the channel's own keys, and the published row says otherwise. A power below the published
    /// one stays.
    fn drop_defaults(&mut self, published: &StandardUse, own: usize) {
        let is_stronger = |node: &Node| {
            let power = node.text().and_then(|text| Power::parse(text).ok());
            power.zip(published.power).is_some_and(|(power, most)| power > most)
        };
        let mut at = 0;
        self.entries.retain(|(key, node)| {
            at += 1;
            let is_published = match key.text.as_str() {
                "service" | "shift" => true,
                "mode" | "emission" => !published.modes.is_empty(),
                "width" => published.width.is_some(),
                "tx-tone" => published.tone.is_some(),
                "power" => is_stronger(node),
                _ => false,
            };
            at <= own || !is_published
        });
    }

    fn fill(&mut self, published: &StandardUse) {
        // A repeater or gateway says all of this itself.
        if self.get("repeater").is_some() || self.get("gateway").is_some() {
            return;
        }
        self.add("service", &published.service.id);
        let is_silent = published.send.is_none() || self.get("tx").and_then(Node::text) == Some("none");
        let says_send = self.get("tx").is_some() || self.get("shift").is_some();
        let (hear, send) = (published.hear, published.send.filter(|_| !is_silent).unwrap_or(published.hear));
        let mode = self.mode().or(published.modes.first().map(String::as_str)).unwrap_or("FM").to_owned();
        if mode == "SSB" {
            published.side.into_iter().for_each(|side| self.add("side", side));
            self.add_way("dial", &hear.to_string());
        } else if is_silent || says_send || hear != send {
            self.add_way("rx", &hear.to_string());
            if !says_send && self.get("rx").is_some() {
                self.add("tx", &if is_silent { "none".to_owned() } else { send.to_string() });
            }
        } else {
            self.add_way("simplex", &hear.to_string());
        }
        if self.get("emission").is_none() {
            self.add("mode", &mode);
            published.width.into_iter().for_each(|width| self.add("width", &width_word(&mode, width)));
        }
        if !is_silent && self.get("output").is_none() {
            published.tone.into_iter().for_each(|tone| self.add("tx-tone", &tone.to_string()));
            published.power.into_iter().for_each(|power| self.add("power", &power.to_string()));
        }
    }
}

/// The profile's word for the widest signal of a mode that keeps within a width, which a radio has in its menu; else the width.
fn width_word(mode: &str, most: Width) -> String {
    let form = Tables::built_in().modes.widest_within(mode, most);
    form.map_or_else(|| most.to_string(), |form| form.width.clone())
}
