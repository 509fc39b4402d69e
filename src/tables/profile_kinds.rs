//! The kinds of rows that a profile may have.

use super::call_form::{CallForm, CallRegion, ClosedCalls};
use super::profile_rows::{
    Band, Calling, Class, Custom, EmissionRow, Exclusion, LimitedSegment, LinePoint, PowerLimit, Privilege, Raster,
    Segment, ServiceChannel,
};
use super::row::rows;
use super::service::Service;
use crate::ground::Findings;
use crate::source::{Declared, Meant, Node};
use std::sync::Arc;

/// The list of the kinds of rows: of each, whose rows count where a profile has none of its own.
macro_rules! kinds {
    ($($(#[doc = $doc:literal])* $field:ident: $type:ty = $kind:literal $how:ident $base:ident,)*) => {
        /// The rows of a profile, in file order.
        #[derive(Clone, Debug)]
        pub struct Rows { $($(#[doc = $doc])* pub $field: Vec<$type>,)* }

        impl Rows {
            pub(super) fn read(root: &Node, base: Option<&Self>, band_plan: Option<&Self>, found: &mut Findings) -> Self {
                let bases = Bases { base, band_plan };
                Self { $($field: $how(root, $kind, bases.$base.map(|base| &*base.$field), found),)* }
            }
        }

        /// The kinds of rows and the keys that each may have.
        pub(super) fn kinds() -> Vec<(&'static str, Vec<&'static str>)> {
            vec![$(($kind, keys_of::<$type>()),)*]
        }
    };
}

/// A profile's own rows, where it has any; else those of the profile that it rests on.
fn of<T: Meant + Clone>(root: &Node, kind: &str, base: Option<&[T]>, found: &mut Findings) -> Vec<T> {
    if root.get(kind).is_some() { rows(root, kind, found) } else { base.map(<[T]>::to_vec).unwrap_or_default() }
}

/// The rows of the profile that it rests on, but for those that an own one stands in place of, and its own after them.
fn onto<T: Overruling + Clone>(root: &Node, kind: &str, base: Option<&[T]>, found: &mut Findings) -> Vec<T> {
    let own: Vec<T> = rows(root, kind, found);
    let is_left = |row: &&T| !own.iter().any(|own| own.overrules(row));
    let left: Vec<T> = base.unwrap_or_default().iter().filter(is_left).cloned().collect();
    left.into_iter().chain(own).collect()
}

/// A row that may stand in place of one of the profile that its own rests on.
trait Overruling: Meant {
    /// Whether it stands in place of `base`.
    fn overrules(&self, base: &Self) -> bool;
}

impl Overruling for Arc<Service> {
    fn overrules(&self, base: &Self) -> bool {
        self.id == base.id
    }
}

/// The channels of a service are one list.
impl Overruling for ServiceChannel {
    fn overrules(&self, base: &Self) -> bool {
        self.service == base.service
    }
}

struct Bases<'a> {
    base: Option<&'a Rows>,
    band_plan: Option<&'a Rows>,
}

kinds! {
    /// Licence classes, lowest first.
    classes: Class = "class" of base,
    /// Bands, in table order.
    bands: Band = "band" of base,
    /// Who may transmit where.
    privileges: Privilege = "privilege" of base,
    /// What may be transmitted where.
    emissions: EmissionRow = "emission" of base,
    /// How much.
    power_limits: PowerLimit = "power-limit" of base,
    /// Where nobody may transmit.
    exclusions: Exclusion = "exclusion" of base,
    /// Lines that bound areas, point by point.
    line_points: LinePoint = "line-point" of base,
    /// Radio services, and what authority to transmit in them takes.
    services: Arc<Service> = "service" onto base,
    /// Channels of those that have channels.
    service_channels: ServiceChannel = "service-channel" onto base,
    /// Where automatically controlled data stations may stand; empty when the profile says nothing of them.
    automatic_segments: Segment = "automatic-segment" of base,
    /// Where repeaters may stand.
    repeater_segments: Segment = "repeater-segment" of base,
    /// Where auxiliary stations may stand.
    auxiliary_segments: LimitedSegment = "auxiliary-segment" of base,
    /// Where beacons under automatic control may stand.
    beacon_segments: LimitedSegment = "beacon-segment" of base,
    /// The band plan.
    customs: Custom = "custom" of band_plan,
    /// Steps between channels.
    rasters: Raster = "raster" of band_plan,
    /// Calling frequencies.
    callings: Calling = "calling" of band_plan,
    /// Centres of activity for emergency traffic, open to all.
    emergencies: Calling = "emergency" of band_plan,
    /// Shapes of the country's amateur call signs; empty when the profile says nothing of them.
    call_forms: CallForm = "call-form" of base,
    /// Call signs that nobody is given.
    closed_calls: ClosedCalls = "closed-calls" of base,
    /// Which numeral was given where.
    call_regions: CallRegion = "call-region" of base,
}

/// The keys of a kind of row, beside source and confidence.
fn keys_of<T: Meant>() -> Vec<&'static str> {
    let mut keys = Vec::new();
    <T::Written as Declared>::keys(&mut keys);
    keys.retain(|key| !["source", "confidence"].contains(key));
    keys
}
