//! How each unit is written: as text with its unit, never as a bare number.

use super::field::plain_field;
use super::node::Node;
use super::reading::Reading;
use super::schema::Schemas;
use super::written::{Written, text_values, word};
use crate::ground::{
    Audience, CallSign, Celsius, Charge, Course, Current, Day, Decibels, Distance, FieldLimit, Frequency, Gain, Gauge,
    Height, Id, Lapse, Length, LineLoss, Position, Power, PublicKey, Refusal, Run, Share, Shift, Speed, Stretch,
    Tolerance, Tone, Voltage, Width, Words,
};

text_values! {
    Frequency, "Frequency", "a frequency with its unit", "146.940 MHz", Self::refuse_number;
    Shift, "Shift", "a shift with sign and unit", "-600 kHz", |n| without_unit(n, "kHz");
    Width, "Width", "a width with its unit", "12.5 kHz", |n| without_unit(n, "kHz");
    Power, "Power", "a power with its unit", "25 W", |n| without_unit(n, "W");
    Lapse, "Lapse", "a length of time with its unit", "2 min", |n| without_unit(n, "min");
    Speed, "Speed", "a speed in baud", "1200 baud", |n| without_unit(n, "baud");
    Gain, "Gain", "decibels", "2.15 dBi", |n| without_unit(n, "dBi");
    Decibels, "Decibels", "decibels that something keeps back", "80 dB", |n| without_unit(n, "dB");
    Height, "Height", "a height with its unit", "18 m", |n| without_unit(n, "m");
    Distance, "Distance", "a distance over ground", "322 km", |n| without_unit(n, "km");
    Tolerance, "Tolerance", "a frequency tolerance in parts per million", "2.5 ppm", |n| without_unit(n, "ppm");
    Length, "Length", "a length on paper", "5 mm", |n| without_unit(n, "mm");
    LineLoss, "LineLoss", "what 100 m lose at a frequency", "8.9 dB at 150 MHz", |n| without_unit(n, "dB at 150 MHz");
    FieldLimit, "FieldLimit", "a limit by frequency, f in megahertz", "f/1500 mW/cm2", |n| without_unit(n, "mW/cm2");
    Charge, "Charge", "what a battery holds, with its unit", "9 Ah", |n| without_unit(n, "Ah");
    Current, "Current", "a current with its unit", "1.6 A", |n| without_unit(n, "A");
    Voltage, "Voltage", "a voltage with its unit", "13.8 V", |n| without_unit(n, "V");
    Share, "Share", "a share in percent", "25 %", |n| without_unit(n, "%");
    Celsius, "Celsius", "degrees Celsius", "-5 C", |n| without_unit(n, "C");
    Run, "Run", "how long a cable is", "3 m", |n| without_unit(n, "m");
    Gauge, "Gauge", "a wire's gauge or area", "12 AWG", |n| without_unit(n, "AWG");
    Stretch, "Stretch", "two frequencies with `to` between them", "144 MHz to 148 MHz", text_wanted;
    Tone, "Tone", "a tone, an access code, carrier, off or unknown", "103.5 Hz", Self::refuse_number;
    Position, "Position", "degrees or a grid reference", "47.1234, -109.4321", text_wanted;
    CallSign, "CallSign", "a call sign", "WZ7QRA", text_wanted;
    Id, "Id", "an id: small letters, digits and hyphens", "cold-ridge", text_wanted;
    Audience, "Audience", "public, team, leads, coordinator or agency/ID", "team", text_wanted;
    Words, "Words", "text to print", "Cold Ridge", text_wanted;
    PublicKey, "PublicKey", "the public half of a signing key", "public-d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a-4f", text_wanted;
    Day, "Day", "a date as year-month-day", "2026-12-01", text_wanted;
}

plain_field!(Course, Day, Distance, FieldLimit, Frequency, Lapse, Length, Position, Power, Shift, Tone, Width);

impl Written for Course {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let all = [("great-circle", Self::GreatCircle), ("parallel", Self::Parallel), ("meridian", Self::Meridian)];
        let word = word("course", &all.map(|(word, _)| word), node, of)?;
        all.into_iter().find(|(own, _)| *own == word).map(|(_, course)| course)
    }
    fn schema(_: &mut Schemas) -> serde_json::Value {
        serde_json::json!({ "enum": ["great-circle", "parallel", "meridian"] })
    }
}

fn without_unit(number: &str, unit: &str) -> Refusal {
    Refusal::new(format!("{number} has no unit")).write(format!("{number} {unit}")).bare_number()
}

fn text_wanted(number: &str) -> Refusal {
    Refusal::new(format!("the number {number} stands where text is wanted")).write(number)
}
