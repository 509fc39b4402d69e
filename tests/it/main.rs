//! All tests of the library and the program, but the fuzzing ones, as one program: it is linked once. `cargo test --test it rules`
//! runs those of `rules.rs`.
#![allow(
    clippy::panic,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

#[path = "../support/mod.rs"]
mod support;

mod air;
mod allot;
mod audit;
mod batteries;
mod blank;
mod bounds;
mod bulletins;
mod changes_told;
mod charts;
mod circles;
mod clocks;
mod codes;
mod collisions;
mod compare;
mod compared;
mod content;
mod defaults;
mod demo;
mod disk;
mod duties;
mod duty_sheet;
mod edition;
mod editions;
mod exercises;
mod explain;
mod floors;
mod form_blocks;
mod form_file;
mod form_messages;
mod form_paper;
mod forms;
mod grids;
mod handed_out;
mod helps;
mod keys;
mod kills;
mod kinds;
mod kits;
mod known_to_forms;
mod law;
mod layouts;
mod line_a;
mod mutations;
mod national;
mod numbers;
mod own_card;
mod paint;
mod paper;
mod people;
mod profiles;
mod program;
mod proof;
mod proposals;
mod radio;
mod read_back;
mod readme;
mod real;
mod reckoned;
mod reference_rows;
mod renewals;
mod rules;
mod secrets;
mod services;
mod sheets;
mod shift;
mod short_names;
mod signatures;
mod silence;
mod sink;
mod sites;
mod source;
mod spreadsheets;
mod stacks;
mod stand_ins;
mod structure;
mod successor;
mod symbols;
mod tables;
mod tired;
mod typed;
mod units;
mod zones;
