//! What holds for every format of [`FORMATS`].

use super::{Duplex, FORMATS, Format, Stack};
use crate::ground::{Area, Length, Size};
use crate::tables::{Paper, Tables};
use std::collections::BTreeSet;
use std::ops::Range;

const BAND: Length = Length::mm(12);

/// Each format on both papers, as it lies and turned, in every way to print it.
fn each(mut judge: impl FnMut(&dyn Format, Size, Duplex)) {
    for format in FORMATS {
        for paper in ["letter", "a4"] {
            let paper: &Paper = Tables::built_in().papers.get(paper).unwrap();
            for is_turned in [false, true].into_iter().take(if format.may_turn() { 2 } else { 1 }) {
                format.duplex().iter().for_each(|duplex| judge(*format, format.page(paper, is_turned), *duplex));
            }
        }
    }
}

/// Two holders with as many panels as two and as three sheets fold into, or as anybody may have.
fn holders(format: &dyn Format) -> Vec<Range<usize>> {
    let (one, other) = format.gathering().map_or((3, 4), |gathering| (gathering.panels * 2, gathering.panels * 3));
    vec![0..one, one..one + other]
}

#[test]
fn every_panel_has_its_places_on_the_page_and_over_no_other() {
    each(|format, page, duplex| {
        let panel = format.panel(page, BAND);
        let holders = holders(format);
        let sides = |copies| format.sides(&Stack { page, panel, band: BAND, holders: &holders, duplex, copies });
        let often = |copies| {
            let count = |panel| sides(copies).iter().flat_map(|side| &side.placed).filter(|p| p.panel == panel).count();
            (0..holders[1].end).map(count).collect::<Vec<_>>()
        };
        let (once, thrice) = (often(1), often(3));
        assert!(once.iter().all(|count| *count > 0 && *count == once[0]), "{format:?}: {once:?}");
        assert_eq!(thrice, once.iter().map(|count| count * 3).collect::<Vec<_>>(), "{format:?}");
        for side in sides(1) {
            let whole = Area { right: page.width, bottom: page.height, ..Area::default() };
            assert!(whole.holds(&side.trim), "{format:?}");
            let area = |at: crate::ground::Point| Area {
                left: at.x,
                top: at.y,
                right: at.x + panel.width,
                bottom: at.y + panel.height,
            };
            for (index, placed) in side.placed.iter().enumerate() {
                assert!(side.trim.holds(&area(placed.at)), "{format:?}: panel {} leaves the trim", placed.panel);
                let others = side.placed.iter().skip(index + 1);
                assert!(others.clone().all(|other| !area(placed.at).overlaps(&area(other.at))), "{format:?}");
            }
            assert!(side.guides.iter().all(|guide| whole.holds(&Area {
                left: guide.from.x,
                top: guide.from.y,
                right: guide.to.x,
                bottom: guide.to.y
            })));
            // The band at the bottom stays free where it says what the sheet is.
            let is_free = side.trim.bottom <= page.height - BAND;
            assert!(is_free || format.gathering().is_some() || side.trim == whole, "{format:?}");
        }
    });
}

/// A folded sheet or a leaf is nobody else's; stacks of cards are cut, and their sheets may be shared.
#[test]
fn no_leaf_is_shared_by_two_holders() {
    each(|format, page, duplex| {
        let holders = holders(format);
        let stack = Stack { page, panel: format.panel(page, BAND), band: BAND, holders: &holders, duplex, copies: 1 };
        let of = |panel: usize| holders.iter().position(|own| own.contains(&panel));
        if format.gathering().is_some() {
            for side in format.sides(&stack) {
                let owners: BTreeSet<_> = side.placed.iter().map(|placed| of(placed.panel)).collect();
                assert_eq!(owners.len(), 1, "{format:?}");
            }
        }
    });
}

#[test]
fn words_are_told_apart_and_the_least_margin_is_kept() {
    let words: BTreeSet<&str> = FORMATS.iter().map(|format| format.word()).collect();
    assert_eq!(words.len(), FORMATS.len());
    for format in FORMATS {
        assert!(format.margin() >= format.least_margin(), "{format:?}");
        assert!(!format.duplex().is_empty() && !format.unit().is_empty(), "{format:?}");
    }
}
