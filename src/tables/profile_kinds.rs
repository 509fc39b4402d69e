//! The kinds of rows that a profile may have.

use super::call_form::{CallForm, CallRegion, ClosedCalls};
use super::profile_merge::merged;
use super::profile_rows::{
    Allowance, Band, Calling, Class, Custom, EmissionRow, Exclusion, ExposureLimit, LimitedSegment, LinePoint,
    PowerLimit, Privilege, Raster, Segment, ServiceChannel,
};
use super::row::rows;
use super::service::Service;
use crate::ground::{Findings, on_two_threads};
use crate::source::{Declared, Meant, Node};
use std::sync::{Arc, Mutex, PoisonError};

/// The list of the kinds of rows: of each, on whose rows a profile's own are set.
macro_rules! kinds {
    ($($(#[doc = $doc:literal])* $field:ident: $type:ty = $kind:literal onto $base:ident,)*) => {
        /// The rows of a profile, in file order.
        #[derive(Clone, Debug)]
        pub struct Rows { $($(#[doc = $doc])* pub $field: Vec<$type>,)* }

        impl Rows {
            pub(super) fn read(root: &Node, base: Option<&Self>, band_plan: Option<&Self>, found: &mut Findings) -> Self {
                let bases = Bases { base, band_plan };
                $(let $field = Mutex::default();)*
                let each: &[&(dyn Fn() + Sync)] = &[$(&|| own(root, $kind, &$field),)*];
                on_two_threads(each, |read| read());
                Self { $($field: merged(bases.$base.map_or(&[], |base| &*base.$field), heard($field, found)),)* }
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
    classes: Class = "class" onto base,
    /// Bands, in table order.
    bands: Band = "band" onto base,
    /// Who may transmit where.
    privileges: Privilege = "privilege" onto base,
    /// What may be transmitted where.
    emissions: EmissionRow = "emission" onto base,
    /// How much.
    power_limits: PowerLimit = "power-limit" onto base,
    /// What countries allot of a band, in the place of its rows.
    allotments: Allowance = "allotment" onto base,
    /// How strong a field may be where people are; empty when the profile says nothing of it.
    exposure_limits: ExposureLimit = "exposure-limit" onto base,
    /// Where nobody may transmit.
    exclusions: Exclusion = "exclusion" onto base,
    /// Lines that bound areas, point by point.
    line_points: LinePoint = "line-point" onto base,
    /// Radio services, and what authority to transmit in them takes.
    services: Arc<Service> = "service" onto base,
    /// Channels of those that have channels.
    service_channels: ServiceChannel = "service-channel" onto base,
    /// Where automatically controlled data stations may stand; empty when the profile says nothing of them.
    automatic_segments: Segment = "automatic-segment" onto base,
    /// Where repeaters may stand.
    repeater_segments: Segment = "repeater-segment" onto base,
    /// Where auxiliary stations may stand.
    auxiliary_segments: LimitedSegment = "auxiliary-segment" onto base,
    /// Where beacons under automatic control may stand.
    beacon_segments: LimitedSegment = "beacon-segment" onto base,
    /// The band plan.
    customs: Custom = "custom" onto band_plan,
    /// Steps between channels.
    rasters: Raster = "raster" onto band_plan,
    /// Calling frequencies.
    callings: Calling = "calling" onto band_plan,
    /// Centres of activity for emergency traffic, open to all.
    emergencies: Calling = "emergency" onto band_plan,
    /// Shapes of the country's amateur call signs; empty when the profile says nothing of them.
    call_forms: CallForm = "call-form" onto base,
    /// Call signs that nobody is given.
    closed_calls: ClosedCalls = "closed-calls" onto base,
    /// Which numeral was given where.
    call_regions: CallRegion = "call-region" onto base,
}

/// A profile's own rows of a kind, and what was found in them.
type OwnRows<T> = Mutex<(Vec<T>, Findings)>;

fn own<T: Meant + Send>(root: &Node, kind: &str, into: &OwnRows<T>) {
    let mut found = Findings::default();
    let rows = rows(root, kind, &mut found);
    *into.lock().unwrap_or_else(PoisonError::into_inner) = (rows, found);
}

/// The rows, what was found in them told in the order of the kinds.
fn heard<T>(own: OwnRows<T>, found: &mut Findings) -> Vec<T> {
    let (rows, own) = own.into_inner().unwrap_or_else(PoisonError::into_inner);
    found.append(own);
    rows
}

/// The keys of a kind of row, beside source and confidence.
fn keys_of<T: Meant>() -> Vec<&'static str> {
    let mut keys = Vec::new();
    <T::Written as Declared>::keys(&mut keys);
    keys.retain(|key| !["source", "confidence"].contains(key));
    keys
}
