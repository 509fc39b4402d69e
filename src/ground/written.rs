//! How each unit is read by serde and described in the JSON Schema: as text with its unit, never as a bare number.

use super::{
    Audience, CallSign, Decibels, Distance, Frequency, Gain, Height, Id, Lapse, Length, Position, Power, Refusal,
    Shift, Speed, Tolerance, Tone, Width,
};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Error, Visitor};
use std::borrow::Cow;
use std::fmt;

/// Reads text through `read`; a number through `refuse`, which says what to type.
struct TextVisitor<T> {
    read: fn(&str) -> Result<T, Refusal>,
    refuse: fn(&str) -> Refusal,
    what: &'static str,
    example: &'static str,
}

impl<T> TextVisitor<T> {
    /// Why a number is refused; with a text to write only where that would be taken.
    fn refused(&self, number: &str) -> Refusal {
        let refusal = (self.refuse)(number);
        let proposed = refusal.fix.as_deref().map(|text| text.trim_matches('"'));
        match proposed {
            Some(text) if (self.read)(text).is_err() => {
                Refusal { fix: None, ..refusal }.help(format!("write it as \"{}\"", self.example))
            }
            _ => refusal,
        }
    }
}

impl<T> Visitor<'_> for TextVisitor<T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.what)
    }
    fn visit_str<E: Error>(self, text: &str) -> Result<T, E> {
        (self.read)(text).map_err(E::custom)
    }
    fn visit_i64<E: Error>(self, number: i64) -> Result<T, E> {
        Err(E::custom(self.refused(&number.to_string())))
    }
    fn visit_u64<E: Error>(self, number: u64) -> Result<T, E> {
        Err(E::custom(self.refused(&number.to_string())))
    }
    fn visit_f64<E: Error>(self, number: f64) -> Result<T, E> {
        Err(E::custom(self.refused(&number.to_string())))
    }
    fn visit_bool<E: Error>(self, flag: bool) -> Result<T, E> {
        Err(E::custom(Refusal::new(format!("{flag} stands where {} is wanted", self.what))))
    }
}

/// Implements reading and schema for a unit: its type, how to read it, how to refuse a number, what it is, an example.
macro_rules! written_as_text {
    ($($type:ty, $read:expr, $refuse:expr, $name:literal, $what:literal, $example:literal;)*) => {$(
        impl<'de> Deserialize<'de> for $type {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                deserializer.deserialize_any(TextVisitor { read: $read, refuse: $refuse, what: $what, example: $example })
            }
        }
        impl JsonSchema for $type {
            fn schema_name() -> Cow<'static, str> {
                $name.into()
            }
            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({ "type": "string", "description": $what, "examples": [$example] })
            }
        }
    )*};
}

written_as_text! {
    Frequency, Frequency::parse, Frequency::refuse_number, "Frequency", "a frequency with its unit", "146.940 MHz";
    Shift, Shift::parse, |n| without_unit(n, "kHz"), "Shift", "a shift with sign and unit", "-600 kHz";
    Width, Width::parse, |n| without_unit(n, "kHz"), "Width", "a width with its unit", "12.5 kHz";
    Power, Power::parse, |n| without_unit(n, "W"), "Power", "a power with its unit", "25 W";
    Lapse, Lapse::parse, |n| without_unit(n, "min"), "Lapse", "a length of time with its unit", "2 min";
    Speed, Speed::parse, |n| without_unit(n, "baud"), "Speed", "a speed in baud", "1200 baud";
    Gain, Gain::parse, |n| without_unit(n, "dBi"), "Gain", "decibels", "2.15 dBi";
    Decibels, Decibels::parse, |n| without_unit(n, "dB"), "Decibels", "decibels that something keeps back", "80 dB";
    Height, Height::parse, |n| without_unit(n, "m"), "Height", "a height with its unit", "18 m";
    Distance, Distance::parse, |n| without_unit(n, "km"), "Distance", "a distance over ground", "322 km";
    Tolerance, Tolerance::parse, |n| without_unit(n, "ppm"), "Tolerance", "a frequency tolerance in parts per million", "2.5 ppm";
    Length, Length::parse, |n| without_unit(n, "mm"), "Length", "a length on paper", "5 mm";
    super::Stretch, super::Stretch::parse, text_wanted, "Stretch", "two frequencies with `to` between them", "144 MHz to 148 MHz";
    Tone, Tone::parse, Tone::refuse_number, "Tone", "a tone, an access code, carrier, off or unknown", "103.5 Hz";
    Position, Position::parse, text_wanted, "Position", "degrees or a grid reference", "47.1234, -109.4321";
    CallSign, CallSign::parse, text_wanted, "CallSign", "a call sign", "WZ7QRA";
    Id, Id::parse, text_wanted, "Id", "an id: small letters, digits and hyphens", "cold-ridge";
    Audience, Audience::parse, text_wanted, "Audience", "public, team, leads, coordinator or agency/ID", "team";
    super::Words, super::Words::parse, text_wanted, "Words", "text to print", "Cold Ridge";
    super::Day, super::Day::parse, text_wanted, "Day", "a date as year-month-day", "2026-12-01";
}

fn without_unit(number: &str, unit: &str) -> Refusal {
    Refusal::new(format!("{number} has no unit")).write(format!("{number} {unit}")).bare_number()
}

fn text_wanted(number: &str) -> Refusal {
    Refusal::new(format!("the number {number} stands where text is wanted")).write(number)
}
