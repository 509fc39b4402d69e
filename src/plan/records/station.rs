//! Stations: what plugs into what.

use super::{Battery, Place, Post};
use crate::ground::{
    At, Current, Finding, Findings, Gauge, Id, Lapse, Power, Run, Share, Span, Voltage, Words, nearest,
};
use crate::plan::reference::Ref;
use crate::plan::register::subject;
use crate::plan::rules::DANGLING_ID;
use crate::plan::terms::PartKind;
use crate::source::record;

record! {
    /// `[[station]]`: a set of equipment, each part with what feeds it.
    #[derive(Clone, Debug)]
    pub struct Station = "station" {
        /// Unique among stations, as `shelter-set`; made of its name when left out.
        id: At<Id>,
        /// Name in the team, as `Shelter set`.
        name: At<Words>,
        /// Where it stands; where its first post is when left out.
        place: Option<At<Ref<Place>>>,
        /// The posts that are stood with it; none when left out.
        posts: Vec<At<Ref<Post>>>,
        /// For how much of the time its radios send, as `25 %`; a quarter, as in a busy net, when left out.
        sending: Option<At<Share>>,
        /// For how much of the time its radios are heard to speak, as `10 %`; as much as they send when left out.
        receiving: Option<At<Share>>,
        /// How long it must run without being charged, as `24 h`; as long as the longest duty at its posts when left out.
        hours: Option<At<Lapse>>,
        /// What it is made of; nothing when left out.
        parts as "part": Vec<StationPart>,
        /// The record.
        span: Span,
    }

    /// A part of a station, with the cable that feeds it.
    #[derive(Clone, Debug)]
    pub struct StationPart = "part" {
        /// Unique in this station, as `lamp`.
        id: At<Id>,
        /// What it is called, as `Desk lamp`; its id's words when left out.
        name: At<Words> = super::words_of(&id),
        /// What it is, as `light`.
        kind: At<PartKind>,
        /// The battery that it is, where it is one; none when left out.
        battery: Option<At<Ref<Battery>>>,
        /// The part of this station that feeds it, or charges it, as `box`; nothing when left out.
        from: Option<At<Id>>,
        /// The voltage that it gives; that which feeds it when left out.
        voltage: Option<At<Voltage>>,
        /// The least voltage that it takes, as `11.7 V`; not judged when left out.
        lowest: Option<At<Voltage>>,
        /// The most voltage that it takes, as `15.8 V`; not judged when left out.
        highest: Option<At<Voltage>>,
        /// What it draws while it waits, as `0.3 A`; a finding asks for it where it is a load when left out.
        idle: Option<At<Current>>,
        /// What it draws while a station is heard to speak, as `0.8 A`; as much as it draws idle when left out.
        receiving: Option<At<Current>>,
        /// What it draws while it sends, as `9 A`; as much as it draws idle when left out.
        sending: Option<At<Current>>,
        /// What it draws while it sends with low power, as `3 A`; nothing is said of low power when left out.
        sending_low: Option<At<Current>>,
        /// For how much of the time it is switched on, as `50 %`; all the time when left out.
        used: Option<At<Share>>,
        /// The most that it gives, of a panel in full sun, as `100 W`; not judged when left out.
        power: Option<At<Power>>,
        /// How much of what it takes it gives, of an inverter or a converter, as `90 %`; 85 % when left out.
        efficiency: Option<At<Share>>,
        /// The connectors that it has for others, as `blade pair`; not judged when left out.
        sockets: Vec<At<Words>>,
        /// The cable from what feeds it.
        cable: PartCable,
        /// What else charges it, where it is a battery: a panel's controller beside a charger on the mains; nothing else when left out.
        charged_by: Vec<Charging>,
    }

    /// What else charges a battery, with the cable between them.
    #[derive(Clone, Debug)]
    pub struct Charging = "charged-by" {
        /// The part of this station that charges it as well, as `box`.
        from: At<Id>,
        /// The cable from there.
        cable: PartCable,
    }

    /// A cable to a part.
    #[derive(Clone, Debug)]
    pub struct PartCable = "cable" {
        /// The connector at the end of its cable, as `blade pair`; not judged when left out.
        plug: Option<At<Words>>,
        /// The wire of its cable, as `12 AWG`; no loss is reckoned when left out.
        wire: Option<At<Gauge>>,
        /// How long its cable is; no loss is reckoned when left out.
        length: Option<At<Run>>,
        /// The fuse where its cable begins, as `15 A`; none when left out.
        fuse: Option<At<Current>>,
    }
}

impl Station {
    /// Reports parts that feed others and are not there: a part is known in its station alone.
    pub(in crate::plan) fn look_up_parts(&self, found: &mut Findings) {
        let ids: std::collections::BTreeSet<&str> = self.parts.iter().map(|part| part.id.as_str()).collect();
        let feeders = |part: &'_ StationPart| -> Vec<At<Id>> {
            part.from.iter().cloned().chain(part.charged_by.iter().map(|other| other.from.clone())).collect()
        };
        for id in self.parts.iter().flat_map(feeders) {
            if ids.contains(id.as_str()) {
                continue;
            }
            let what = format!("no part of {} has the id `{}`", self.name.value, id.value);
            let finding = Finding::new(&DANGLING_ID, id.span, what).label("no such part here").on(subject(self));
            found.push(match nearest(id.as_str(), ids.iter().copied()) {
                Some(name) => finding.did_you_mean(name),
                None => finding.help("name the `id` of another part of the station"),
            });
        }
    }
}
