//! Records -> the plan as meant: ids resolved, repeater views derived, defaults applied.

mod build;
mod links;
mod mean_forms;
mod mean_people;
mod mean_radio;
mod model;
mod model_people;
mod model_radio;
mod need;
mod register;
mod rules;
mod terms;
#[cfg(test)]
mod tests;
pub mod written;
mod written_people;
mod written_radio;

pub use build::{RECORD_KINDS, build, builtin_forms, schema};
pub use model::{Accept, DocumentOrder, Edition, Form, FormField, FormFieldKind, Head, Incident, Leg, Net, Plan};
pub use model_people::{
    Agreement, Antenna, Contact, Duty, Licence, Member, Other, Phone, Place, Post, Spacing, TransmitLimit,
};
pub use model_radio::{Channel, Evidence, Gateway, Link, Neighbour, Pool, Radio, Repeater, Route, Signal, Wish};
pub use register::{Record, Register, subject};
pub use rules::RULES;
pub use terms::{
    Control, Each, LocalTime, Mode, PlaceKind, Service, Side, Simplex, StationKind, Transmit, Variant, WaiverSubject,
    WidthWord,
};
