//! Gateways.

use super::signal::{Evidence, Signal};
use super::{Place, words_of};
use crate::ground::{At, CallSign, Frequency, Id, Lapse, Power, Span, Speed, Tolerance, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::{Control, Mode, Service};
use crate::source::record;

record! {
    /// `[[gateway]]`: packet node, mailbox or other digital gateway.
    #[derive(Clone, Debug)]
    pub struct Gateway = "gateway" {
        /// Unique among gateways.
        id: At<Id>,
        /// Call sign with SSID.
        call: At<CallSign>,
        /// Name as known; the id's words when left out.
        name: At<Words> = words_of(&id),
        /// A place's id.
        place: Option<At<Ref<Place>>>,
        /// Radio service.
        service: At<Service> = Service::Amateur,
        /// What it sends and receives.
        frequency: At<Frequency>,
        /// Data speed.
        speed: Option<At<Speed>>,
        /// Call signs to go through, in order.
        via: Option<At<CallSign>>,
        /// Whether it is of use without the internet.
        needs_internet: Option<At<bool>>,
        /// attended or automatic.
        control: At<Control>,
        /// data unless another is written.
        signal: Signal = Mode::Data,
        /// Transmitter output.
        power: Option<At<Power>>,
        /// How far it may be off its frequency.
        tolerance: Option<At<Tolerance>>,
        /// How long it runs without mains.
        backup_power: Option<At<Lapse>>,
        /// Connected to and confirmed.
        verified: Option<Evidence>,
        /// The record.
        span: Span,
    }
}
