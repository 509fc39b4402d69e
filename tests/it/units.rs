//! Units: what is read, printed and read again is the same; nonsense is refused with a reason.

use fieldsheaf::ground::{
    Audience, CallSign, Day, Decimal, Frequency, Gain, Height, Id, Lapse, Length, Power, Refusal, Shift, Speed, Tone,
    Width, Words,
};
use proptest::prelude::{any, proptest};
use std::fmt::{Debug, Display};

/// Printed values read back as themselves.
fn comes_back<T: Display + Debug + PartialEq>(value: &T, read: fn(&str) -> Result<T, Refusal>) {
    let text = value.to_string();
    assert_eq!(read(&text).as_ref(), Ok(value), "printed as {text:?}");
}

proptest! {
    #[test]
    fn frequencies_come_back(hertz in 1_u64..=Frequency::HIGHEST) {
        let value = Frequency::hertz(hertz).unwrap();
        comes_back(&value, Frequency::parse);
        assert_eq!(Frequency::parse(&format!("{} MHz", value.to_mhz())), Ok(value));
        assert_eq!(Frequency::parse(&format!("{} kHz", value.to_khz())), Ok(value));
    }

    #[test]
    fn shifts_come_back(hertz in -100_000_000_i64..100_000_000) {
        comes_back(&Shift::hertz(hertz), Shift::parse);
    }

    #[test]
    fn widths_powers_and_lapses_come_back(n in 1_u64..=1_000_000_000, seconds in 1_u64..=315_360_000) {
        comes_back(&Width::hertz(n), Width::parse);
        comes_back(&Power::milliwatts(n), Power::parse);
        comes_back(&Lapse::seconds(seconds), Lapse::parse);
    }

    #[test]
    fn decimals_never_lose_a_digit(grains in any::<i32>(), least in 0_usize..6) {
        let text = Decimal::print(i64::from(grains), 1000, least);
        assert_eq!(Decimal::parse(&text).unwrap().to_grains(1000), Some(i64::from(grains)));
    }

    #[test]
    fn no_text_makes_a_unit_panic(text in ".{0,40}") {
        let _ = (Frequency::parse(&text), Shift::parse(&text), Width::parse(&text), Power::parse(&text));
        let _ = (Lapse::parse(&text), Speed::parse(&text), Gain::parse(&text), Height::parse(&text), Length::parse(&text));
        let _ = (Tone::parse(&text), CallSign::parse(&text), Id::parse(&text), Audience::parse(&text));
        let _ = (Words::parse(&text), Day::parse(&text));
    }
}

#[test]
fn every_tone_comes_back() {
    for tenths in 500..=3000_u16 {
        comes_back(&Tone::Ctcss(tenths), Tone::parse);
    }
    for code in (0..=0o777_u16).map(|octal| format!("{octal:03o}").parse::<u16>().unwrap()) {
        for is_inverted in [false, true] {
            comes_back(&Tone::Dcs { code, is_inverted }, Tone::parse);
        }
    }
    for code in 0..=0xfff_u16 {
        comes_back(&Tone::Nac(code), Tone::parse);
    }
    for code in 0..=15_u8 {
        comes_back(&Tone::ColourCode(code), Tone::parse);
        comes_back(&Tone::Can(code), Tone::parse);
    }
    for code in 0..=63_u8 {
        comes_back(&Tone::Ran(code), Tone::parse);
    }
    for word in [Tone::Off, Tone::Carrier, Tone::Unknown, Tone::Burst(1750)] {
        comes_back(&word, Tone::parse);
    }
}

#[test]
fn tones_outside_their_range_are_refused() {
    for text in [
        "CC 16",
        "RAN 64",
        "CAN 16",
        "NAC 29",
        "NAC 1293",
        "D089N",
        "D023",
        "49.9 Hz",
        "300.1 Hz",
        "103.55 Hz",
        "12",
        "",
    ] {
        assert!(Tone::parse(text).is_err(), "{text:?}");
    }
}

#[test]
fn a_list_number_is_told_apart_from_a_missing_unit() {
    assert!(Tone::refuse_number("12").what.contains("place in a list"));
    assert!(Tone::refuse_number("103.5").help.is_some_and(|help| help == "write \"103.5 Hz\""));
}

#[test]
fn frequencies_print_as_cards_need_them() {
    let print = |text: &str| Frequency::parse(text).map(|f| (f.to_mhz(), f.to_khz(), f.to_string()));
    let expect = |a: &str, b: &str, c: &str| Ok((a.to_owned(), b.to_owned(), c.to_owned()));
    assert_eq!(print("146.94 MHz"), expect("146.9400", "146940.0", "146.940 MHz"));
    assert_eq!(print("462562.5 kHz"), expect("462.5625", "462562.5", "462.5625 MHz"));
    assert_eq!(print("155.7525 MHz"), expect("155.7525", "155752.5", "155.7525 MHz"));
    assert_eq!(print("145.00625 MHz"), expect("145.00625", "145006.25", "145.00625 MHz"));
    assert_eq!(print("7245 kHz"), expect("7.2450", "7245.0", "7.245 MHz"));
    assert_eq!(print("1810 kHz"), expect("1.8100", "1810.0", "1810.0 kHz"));
}

#[test]
fn nonsense_frequencies_are_refused_with_a_reason() {
    for text in [
        "146.940",
        "146,940 MHz",
        "-146 MHz",
        "0 MHz",
        "301 GHz",
        "146.9400001 MHz",
        "1e3 kHz",
        "MHz",
        "146.940 mhz",
        "146. MHz",
    ] {
        assert!(Frequency::parse(text).is_err_and(|refusal| !refusal.what.is_empty()), "{text:?}");
    }
}

#[test]
fn lengths_add_up_exactly() {
    // ISO 31-era definitions: 1 in = 25.4 mm exactly, 72 pt = 1 in (PDF user space, ISO 32000-1 8.3.2.3).
    assert_eq!(Length::inches(5), Length::mm(127));
    assert_eq!(Length::pt(72), Length::inches(1));
    assert_eq!(Length::parse("0.35 pt"), Ok(Length::twentieths_pt(7)));
    assert_eq!(Length::parse("2.75 in"), Ok(Length::hundredths_mm(6985)));
    assert!(Length::parse("5").is_err() && Length::parse("5 cm").is_err());
}

#[test]
fn call_signs_have_their_shape() {
    for text in ["WZ7QRA", "K7QSB", "KZ0QTC", "wz7qum-1", "WZ7QUM-15", "2E0QRA", "F5QRB"] {
        assert!(CallSign::parse(text).is_ok(), "{text:?}");
    }
    for text in ["", "W7", "7QRA", "WZ7QRA-16", "WZ7QRA1", "WZ7-QRA", "Mercy", "WZ7QRABC", "12QRA"] {
        assert!(CallSign::parse(text).is_err(), "{text:?}");
    }
    assert_eq!(CallSign::parse("WZ7QUM-1").map(|call| call.suffix().to_owned()).as_deref(), Ok("QUM"));
}

#[test]
fn audiences_are_ordered_and_agencies_stand_beside_them() {
    let of = |text: &str| Audience::parse(text).unwrap();
    let reads = |reader: &str, mark: &str| of(reader).may_read(&of(mark));
    for (reader, marks) in [
        ("public", "public"),
        ("team", "public team"),
        ("leads", "public team leads agency/mercy-health agency/other"),
        ("coordinator", "public team leads coordinator agency/mercy-health agency/other"),
        ("agency/mercy-health", "public agency/mercy-health"),
    ] {
        for mark in ["public", "team", "leads", "coordinator", "agency/mercy-health", "agency/other"] {
            assert_eq!(reads(reader, mark), marks.split(' ').any(|m| m == mark), "{reader} reads {mark}");
        }
    }
}

#[test]
fn ids_and_words_refuse_what_cannot_be_printed_or_named() {
    for text in ["", "Cold", "cold ridge", "-cold", "cold-", "cold--ridge", "käse"] {
        assert!(Id::parse(text).is_err(), "{text:?}");
    }
    assert!(Words::parse("line\nbreak").is_err());
    assert!(Words::parse("turn\u{202e}ed").is_err());
    assert!(Words::parse(&"x".repeat(10_000)).is_err_and(|refusal| refusal.what.contains("10000 characters")));
}
