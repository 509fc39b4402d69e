//! The tables that come with the program: whole, and as published.

use fieldsheaf::ground::{Frequency, Length, Shift, Stretch, Tone};
use fieldsheaf::tables::Tables;

#[test]
fn every_built_in_row_loads_with_its_source() {
    assert_eq!(Tables::faults(), Vec::<String>::new());
    let us = Tables::built_in().profile("us").unwrap();
    // 182 rows of 97.301 in three regions are 64 in Region 2; the 60 m change adds a segment and four channels.
    assert_eq!((us.bands.len(), us.privileges.len(), us.emissions.len()), (30, 69, 47));
}

#[test]
fn tones_are_the_fifty_and_the_hundred_and_four() {
    let tones = &Tables::built_in().tones;
    assert_eq!(tones.counts(), (50, 104));
    assert!(tones.is_standard(Tone::Ctcss(1035)) && !tones.is_standard(Tone::Ctcss(1030)));
    assert_eq!(tones.nearest(Tone::Ctcss(1030)), Some(Tone::Ctcss(1035)));
    assert_eq!(tones.nearest(Tone::Ctcss(1008)), Some(Tone::Ctcss(1000)));
    assert!(
        tones.is_standard(Tone::Dcs { code: 23, is_inverted: true })
            && !tones.is_standard(Tone::Dcs { code: 24, is_inverted: false })
    );
}

#[test]
fn papers_have_their_published_sizes() {
    let papers = &Tables::built_in().papers;
    let size = |id: &str| papers.get(id).map(|paper| (paper.width, paper.height));
    // ISO 216:2007 and ISO/IEC 7810; ANSI letter is 8.5 x 11 in (all from memory).
    assert_eq!(size("a4"), Some((Length::mm(210), Length::mm(297))));
    assert_eq!(size("letter"), Some((Length::hundredths_mm(21590), Length::hundredths_mm(27940))));
    assert_eq!(size("id-1"), Some((Length::hundredths_mm(8560), Length::hundredths_mm(5398))));
}

#[test]
fn the_read_back_letters_are_sixteen_different_consonants() {
    let letters = Tables::built_in().spelling.read_back_letters();
    assert_eq!(letters.len(), 16);
    assert!(
        letters.windows(2).all(|pair| pair[0] < pair[1]) && !letters.iter().any(|c| "AEIOUYQ0123456789".contains(*c))
    );
}

#[test]
fn usual_shifts_follow_the_sub_band() {
    let us = Tables::built_in().profile("us").unwrap();
    let shift = |text: &str| us.usual_shift(Frequency::parse(text).unwrap()).map(|(_, shift)| shift);
    assert_eq!(shift("146.940 MHz"), Some(Shift::hertz(-600_000)));
    assert_eq!(shift("147.180 MHz"), Some(Shift::hertz(600_000)));
    assert_eq!(shift("444.825 MHz"), Some(Shift::hertz(5_000_000)));
    assert_eq!(shift("224.500 MHz"), Some(Shift::hertz(-1_600_000)));
    assert_eq!(shift("146.520 MHz"), None);
}

#[test]
fn repeaters_stand_in_their_segments_alone() {
    let us = Tables::built_in().profile("us").unwrap();
    let may = |text: &str| us.repeater_may_stand(&Stretch::parse(text).unwrap());
    assert!(may("146.932 MHz to 146.948 MHz") && may("145.484 MHz to 145.500 MHz"));
    assert!(
        !may("145.492 MHz to 145.508 MHz") && !may("145.990 MHz to 146.006 MHz") && !may("144.390 MHz to 144.400 MHz")
    );
}
