//! Records -> the plan as meant: ids resolved, channels built from what their repeaters give, defaults applied, every value with
//! its place. A record with a refused value is left out; its id stays known, so that nothing else is reported in its wake.

mod build;
mod change;
mod changes;
mod clock;
mod defaults;
mod duty_changes;
mod fields;
mod gather;
mod notations;
mod propose;
mod radiogram;
mod records;
mod reference;
mod register;
mod rules;
mod sequence;
mod terms;
#[cfg(test)]
mod tests;
mod told;

pub use build::{build, build_told, builtin_form, builtin_forms, forms_of, messages_of, order_for, schema};
pub use change::{Change, Danger, SETS_A_CHANNEL};
pub use changes::{DANGERS, Sides, as_set, changes};
pub use clock::{Clock, ClockChange, Instant, Period, Shown};
pub use fields::{BlockMark, FieldColumn, FieldRoom, PlanValue, ReadStretch, RowSource, RowValue};
pub use notations::{LocalTime, Simplex, TimeOfDay, Transmit, WaiverReason, WaiverSubject, WidthWord};
pub use propose::{Around, PlanProposal, propose};
pub use radiogram::{FiledTime, Handling, MonthDay, Precedence, WordCheck};
pub use records::{
    Accept, Agreement, Antenna, Battery, Channel, Charging, Contact, Copies, DocumentOrder, Draft, Duty, DutyLimits,
    Edition, Evidence, Exercise, Form, FormField, FormLine, Gateway, Head, HeldForm, Incident, Inject, Input, KitOrder,
    KnownInput, Leg, Licence, Link, Meeting, Member, Message, Neighbour, Net, Network, Objective, OneOrMore, Other,
    PartCable, PathTest, Phone, Place, Plan, Pool, Post, RECORD_KINDS, Radio, Repeater, RepeaterTones, Route, Serial,
    Signal, SigningKey, Spacing, Station, StationPart, TransmitLimit, WORDS_A_MINUTE, Wish,
};
pub use reference::{Record, Ref};
pub use register::{Register, subject};
pub use rules::RULES;
pub use sequence::Sequence;
pub use terms::{
    Chemistry, Control, Delivery, Each, FieldMeaning, GatewayKind, Heard, Linking, MarkWord, MeetingDay, Mode,
    PartKind, PlaceKind, PositionFormat, Side, StationKind, Status, Variant,
};
pub use told::{PlainRecords, ToldPlan, ToldRecord, plain_records};
