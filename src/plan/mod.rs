//! Records -> the plan as meant: ids resolved, repeater views derived, defaults applied.

mod build;
mod links;
mod mean_forms;
mod mean_people;
mod mean_radio;
mod model;
mod need;
mod register;
mod rules;
mod terms;
#[cfg(test)]
mod tests;
pub mod written;

pub use build::{RECORD_KINDS, build, builtin_forms, schema};
pub use model::{
    Accept, Agreement, Antenna, Channel, Contact, DocumentOrder, Duty, Edition, Evidence, Form, FormField,
    FormFieldKind, Gateway, Head, Incident, Leg, Licence, Member, Neighbour, Net, Other, Phone, Place, Plan, Pool,
    Post, Radio, Repeater, Route, Signal, Spacing, TransmitLimit, Wish,
};
pub use register::{Record, Register, subject};
pub use rules::RULES;
pub use terms::{
    Control, Each, LocalTime, Mode, PlaceKind, Service, Side, Simplex, StationKind, Transmit, WaiverSubject, WidthWord,
};
