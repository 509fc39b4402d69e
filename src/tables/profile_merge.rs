//! Which row of a base a profile's own row stands in the place of.

use super::call_form::{CallForm, CallRegion, ClosedCalls};
use super::profile_rows::{
    Allowance, Band, Calling, Class, Custom, EmissionRow, Exclusion, ExposureLimit, LimitedSegment, LinePoint,
    PowerLimit, Privilege, Raster, Segment, ServiceChannel,
};
use super::service::Service;
use std::sync::Arc;

/// A row that may stand upon those of a base.
pub(super) trait Merged: Clone {
    /// Whether this row stands in the place of one of the base.
    fn replaces(&self, base: &Self) -> bool;
}

/// The base's rows without those that own ones replace, then the own ones.
pub(super) fn merged<T: Merged>(base: &[T], own: Vec<T>) -> Vec<T> {
    let is_replaced = |row: &&T| own.iter().any(|own| own.replaces(row));
    let mut all: Vec<T> = base.iter().filter(|row| !is_replaced(row)).cloned().collect();
    all.extend(own);
    all
}

/// For each kind of row, what both must have alike.
macro_rules! alike {
    ($($type:ty: |$own:ident, $base:ident| $is_alike:expr;)*) => {
        $(impl Merged for $type {
            fn replaces(&self, base: &Self) -> bool {
                let ($own, $base) = (self, base);
                $is_alike
            }
        })*
    };
}

alike! {
    Class: |own, base| own.id == base.id;
    Band: |own, base| own.id == base.id;
    Privilege: |own, base| own.edges == base.edges && own.centre == base.centre;
    EmissionRow: |own, base| own.edges == base.edges;
    // Another class, area or measure is another limit: both bind.
    PowerLimit: |own, base| {
        let area = |row: &Self| row.area.as_ref().map(|area| area.name.clone());
        own.edges == base.edges
            && own.classes == base.classes
            && own.most.measure == base.most.measure
            && area(own) == area(base)
    };
    // The limits of a country are one table.
    ExposureLimit: |_own, _base| true;
    Exclusion: |own, base| own.edges == base.edges && own.area.name == base.area.name;
    LinePoint: |own, base| own.line == base.line;
    Arc<Service>: |own, base| own.id == base.id;
    // The channels of a service are one list.
    ServiceChannel: |own, base| own.service == base.service;
    Allowance: |own, base| own.country == base.country && own.band == base.band;
    Segment: |own, base| own.edges == base.edges;
    LimitedSegment: |own, base| own.edges == base.edges;
    // A band plan is advice: who plans a stretch anew plans all of it.
    Custom: |own, base| own.edges.holds(&base.edges);
    Raster: |own, base| own.edges.holds(&base.edges);
    Calling: |own, base| own.frequency == base.frequency;
    CallForm: |own, base| own.name == base.name;
    ClosedCalls: |own, base| {
        own.prefixes == base.prefixes && own.digits == base.digits && own.suffixes == base.suffixes
    };
    CallRegion: |own, base| own.digits == base.digits;
}
