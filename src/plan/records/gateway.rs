//! Gateways.

use super::one_or_more::OneOrMore;
use super::signal::{Evidence, Signal};
use super::{Place, words_of};
use crate::ground::{At, CallSign, Frequency, Id, Lapse, Power, Span, Speed, Tolerance, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::{Control, GatewayKind, Mode};
use crate::source::record;
use crate::tables::{OfAmateur, Service};
use std::sync::Arc;

record! {
    /// `[[gateway]]`: packet node, mailbox or other digital gateway.
    #[derive(Clone, Debug)]
    pub struct Gateway = "gateway" {
        /// Unique among gateways, as `box`; made of its name, or its call sign, when left out.
        id: At<Id>,
        /// Call sign with SSID, as `WZ7QUR-1`.
        call: At<CallSign>,
        /// Name as known, as `Mail Box`; the id's words when left out.
        name: At<Words> = words_of(&id),
        /// Where it stands; nowhere known, so that no site counts it, when left out.
        place: Option<At<Ref<Place>>>,
        /// Radio service; amateur when left out.
        service: At<Arc<Service>> = OfAmateur,
        /// What it sends and receives: one frequency, or a list of several in the order in which they are tried, of which a channel uses
        /// the first unless it picks another, as `["145.050 MHz", "144.930 MHz"]`.
        frequency: At<OneOrMore<Frequency>>,
        /// Data speed in baud; none is printed when left out.
        speed: Option<At<Speed>>,
        /// Call sign to go through, as `WZ7QUR-2`; none when left out.
        via: Option<At<CallSign>>,
        /// What it is, printed with its channels, as `internet-link`; not printed when left out.
        kind: Option<At<GatewayKind>>,
        /// Whether it is of no use without the internet; false, but true of an internet link, when left out.
        needs_internet: At<bool> = kind.is_some_and(|kind| kind.value == GatewayKind::InternetLink),
        /// Whether somebody is at its controls, as `automatic`.
        control: At<Control>,
        /// data unless another is written.
        signal: Signal = Mode::Data,
        /// Transmitter output; 50 W is taken where a site is reckoned when left out.
        power: Option<At<Power>>,
        /// How far it may be off its frequency; 0 when left out.
        tolerance: Option<At<Tolerance>>,
        /// How long it runs without utility power, as `12 h`; not at all when left out.
        backup_power: Option<At<Lapse>>,
        /// Who connected to it and when; a finding asks for it when left out.
        verified: Option<Evidence>,
        /// The record.
        span: Span,
    }
}
