//! The kinds of rows that a profile may have.

use super::call_form::{CallForm, CallRegion, ClosedCalls};
use super::profile_rows::{
    Band, Calling, Class, Custom, EmissionRow, Exclusion, LimitedSegment, LinePoint, OtherService, PowerLimit,
    Privilege, Raster, Segment, ServiceChannel,
};
use super::row::rows;
use crate::ground::Findings;
use crate::source::{Declared, Meant, Node};

/// The list of the kinds of rows: of each, whose rows count where a profile has none of its own.
macro_rules! kinds {
    ($($(#[doc = $doc:literal])* $field:ident: $type:ident = $kind:literal of $base:ident,)*) => {
        /// The rows of a profile, in file order.
        #[derive(Clone, Debug)]
        pub struct Rows { $($(#[doc = $doc])* pub $field: Vec<$type>,)* }

        impl Rows {
            pub(super) fn read(root: &Node, base: Option<&Self>, band_plan: Option<&Self>, found: &mut Findings) -> Self {
                let of = Bases { base, band_plan };
                Self { $($field: match root.get($kind) {
                    Some(_) => rows(root, $kind, found),
                    None => of.$base.map(|base| base.$field.clone()).unwrap_or_default(),
                },)* }
            }
        }

        /// The kinds of rows and the keys that each may have.
        pub(super) fn kinds() -> Vec<(&'static str, Vec<&'static str>)> {
            vec![$(($kind, keys_of::<$type>()),)*]
        }
    };
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
    /// Other services, and what authority to transmit in them takes.
    services: OtherService = "service" of base,
    /// Their channels.
    service_channels: ServiceChannel = "service-channel" of base,
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
