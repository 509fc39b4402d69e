//! What every panel and every sheet must keep, whatever stands on them.

use fieldsheaf::compose::block::Role;
use fieldsheaf::ground::Length;
use fieldsheaf::sheet::{Area, Glyphs, Job, Line, Mark, Page, Panel, Placed, Point, SignMark, Slope};

/// Ink of a run: its width by the height of its capitals and figures; descenders may reach into the air below. Of a steep one the
/// upright box around it.
pub fn ink(run: &Glyphs) -> Area {
    let corners = corners(run);
    let (xs, ys) = (corners.map(|corner| corner.x), corners.map(|corner| corner.y));
    let least = |of: [Length; 4]| of.into_iter().min().unwrap();
    let most = |of: [Length; 4]| of.into_iter().max().unwrap();
    Area { left: least(xs), right: most(xs), top: least(ys), bottom: most(ys) }
}

/// The corners of a run's ink, around it.
fn corners(run: &Glyphs) -> [Point; 4] {
    let high = run.size.fraction(689, 1000);
    let (along, up) = match run.slope {
        Slope::Level => ((run.width, Length::ZERO), (Length::ZERO, high)),
        // Cosine and sine of 60 degrees.
        Slope::Steep => {
            let sine = |length: Length| length.fraction(866, 1000);
            ((run.width / 2, sine(run.width)), (Length::ZERO - sine(high), high / 2))
        }
    };
    let moved = |at: Point, by: (Length, Length)| Point { x: at.x + by.0, y: at.y - by.1 };
    let (start, end) = (run.at, moved(run.at, along));
    [start, end, moved(end, up), moved(start, up)]
}

/// Whether two shapes with straight sides lie on each other: no side of either parts them.
fn lie_on_each_other(one: &[Point], other: &[Point]) -> bool {
    let grains = |point: &Point| (i128::from(point.x.as_grains()), i128::from(point.y.as_grains()));
    let parts = |shape: &[Point]| {
        (0..shape.len()).any(|side| {
            let (from, to) = (grains(&shape[side]), grains(&shape[(side + 1) % shape.len()]));
            let across = |point: &Point| {
                let (x, y) = grains(point);
                (to.0 - from.0) * (y - from.1) - (to.1 - from.1) * (x - from.0)
            };
            let reach = |shape: &[Point]| {
                let values = || shape.iter().map(across);
                (values().min().unwrap(), values().max().unwrap())
            };
            let ((a, b), (c, d)) = (reach(one), reach(other));
            b <= c || d <= a
        })
    };
    !parts(one) && !parts(other)
}

/// Where a sign stands.
fn sign_area(sign: &SignMark) -> Area {
    let half = sign.size / 2;
    let Point { x, y } = sign.at;
    Area { left: x - half, right: x + half, top: y - half, bottom: y + half }
}

fn is_over(run: &Glyphs, area: &Area) -> bool {
    let Area { left, top, right, bottom } = *area;
    let box_of = [(left, top), (right, top), (right, bottom), (left, bottom)].map(|(x, y)| Point { x, y });
    ink(run).overlaps(area) && lie_on_each_other(&corners(run), &box_of)
}

pub fn runs(panel: &Panel) -> Vec<&Glyphs> {
    let mut runs = Vec::new();
    for mark in panel.marks() {
        if let Mark::Glyphs(run) = mark {
            runs.push(run);
        }
    }
    runs
}

/// Nothing over anything, nothing outside, no size below its floor: 1.9 mm for what is dialled on a dense sheet, 2.5 mm on all others.
pub fn judge(job: &Job, is_dense: bool) {
    let floor = Length::hundredths_mm(if is_dense { 190 } else { 250 });
    for panel in &job.panels {
        let runs = runs(panel);
        let outer = Area { left: Length::ZERO, top: Length::ZERO, right: panel.size.width, bottom: panel.size.height };
        for (index, run) in runs.iter().enumerate() {
            let area = ink(run);
            assert!(panel.safe.holds(&area), "{} \"{}\" leaves the safe area", job.stem, run.text);
            for other in runs.iter().skip(index + 1) {
                assert!(
                    !area.overlaps(&ink(other)) || !lie_on_each_other(&corners(run), &corners(other)),
                    "{}, {}: \"{}\" stands on \"{}\"",
                    job.stem,
                    panel.title,
                    run.text,
                    other.text
                );
            }
            let has_digit = run.text.contains(|c: char| c.is_ascii_digit());
            if run.role.is_dialled() && has_digit {
                // Figures are as high as capitals in our typeface.
                assert!(run.size.fraction(689, 1000) >= floor, "{} \"{}\" is too small", job.stem, run.text);
            }
            assert!(run.size >= Length::pt(7), "{} \"{}\" is below 7 pt", job.stem, run.text);
            assert!(run.role != Role::Hear || run.glyphs.iter().all(|glyph| glyph.id != 0));
        }
        for mark in panel.marks() {
            match mark {
                Mark::Line(line) => {
                    let crossed = runs.iter().find(|run| crosses(line, &ink(run)));
                    assert!(crossed.is_none(), "{}: a line through \"{}\"", job.stem, crossed.unwrap().text);
                    assert!(line.thickness >= Length::twentieths_pt(7), "{}: a line too thin to print", job.stem);
                    for end in [line.from, line.to] {
                        assert!(
                            outer.holds(&Area { left: end.x, right: end.x, top: end.y, bottom: end.y }),
                            "{}",
                            job.stem
                        );
                    }
                }
                Mark::Fill(fill) => {
                    assert!(outer.holds(&fill.area), "{}: a fill leaves its panel", job.stem);
                    let under = runs.iter().find(|run| fill.area.overlaps(&ink(run)));
                    assert!(under.is_none(), "{}: a fill under \"{}\"", job.stem, under.unwrap().text);
                }
                Mark::Patterned(patterned) => {
                    assert!(outer.holds(&patterned.area), "{}: a pattern leaves its panel", job.stem);
                    let under = runs.iter().find(|run| patterned.area.overlaps(&ink(run)));
                    assert!(under.is_none(), "{}: a pattern under \"{}\"", job.stem, under.unwrap().text);
                }
                Mark::Modules(modules) => {
                    let side = modules.module * i64::try_from(modules.side).unwrap();
                    let area = Area {
                        left: modules.at.x,
                        top: modules.at.y,
                        right: modules.at.x + side,
                        bottom: modules.at.y + side,
                    };
                    assert!(panel.safe.holds(&area), "{}: a symbol leaves its panel", job.stem);
                    assert!(runs.iter().all(|run| !area.overlaps(&ink(run))), "{}: words on a symbol", job.stem);
                }
                Mark::Sign(sign) => {
                    let area = sign_area(sign);
                    assert!(panel.safe.holds(&area), "{}: a sign leaves its panel", job.stem);
                    let under = runs.iter().find(|run| is_over(run, &area));
                    assert!(under.is_none(), "{}: a sign on \"{}\"", job.stem, under.unwrap().text);
                }
                Mark::Entry(entry) => assert!(outer.holds(&entry.area), "{}: an entry leaves its panel", job.stem),
                Mark::Glyphs(_) | Mark::Outline(_) => {}
            }
        }
    }
}

/// Whether a line passes through an area: at a hundred points from end to end.
pub fn crosses(line: &Line, area: &Area) -> bool {
    let (from, to) = (line.from, line.to);
    let is_near = from.x.min(to.x) < area.right
        && from.x.max(to.x) > area.left
        && from.y.min(to.y) < area.bottom
        && from.y.max(to.y) > area.top;
    if !is_near {
        return false;
    }
    (0..=100).any(|n| {
        let x = line.from.x + (line.to.x - line.from.x).fraction(n, 100);
        let y = line.from.y + (line.to.y - line.from.y).fraction(n, 100);
        area.left < x && x < area.right && area.top < y && y < area.bottom
    })
}

/// Every panel so many times on the sheets, inside them, and over no other.
pub fn judge_sheets(job: &Job, times: usize) {
    let mut count = vec![0; job.panels.len()];
    for page in &job.pages {
        let whole = Area { left: Length::ZERO, top: Length::ZERO, right: page.size.width, bottom: page.size.height };
        let mut areas: Vec<Area> = Vec::new();
        for placed in &page.placed {
            count[placed.panel] += 1;
            let size = job.panels[placed.panel].size;
            let area = Area {
                left: placed.at.x,
                top: placed.at.y,
                right: placed.at.x + size.width,
                bottom: placed.at.y + size.height,
            };
            assert!(whole.holds(&area), "{}: a panel leaves its sheet", job.stem);
            assert!(areas.iter().all(|other| !other.overlaps(&area)), "{}: panels over each other", job.stem);
            areas.push(area);
        }
    }
    job.pages.iter().for_each(|page| judge_page(job, page));
    assert!(count.iter().all(|count| *count == times), "{}: {count:?}", job.stem);
}

/// What a page bears beside its panels keeps 5 mm from the edge where it is text, and touches no text of a panel.
fn judge_page(job: &Job, page: &Page) {
    let edge = Length::mm(5);
    let inner = Area { left: edge, top: edge, right: page.size.width - edge, bottom: page.size.height - edge };
    let said: Vec<Area> = page.placed.iter().flat_map(|placed| said(&job.panels[placed.panel], placed)).collect();
    for mark in &page.marks {
        let (area, words) = match mark {
            Mark::Glyphs(run) => (ink(run), &*run.text),
            Mark::Line(line) => {
                let (a, b, half) = (line.from, line.to, line.thickness / 2);
                let area = Area {
                    left: a.x.min(b.x) - half,
                    top: a.y.min(b.y) - half,
                    right: a.x.max(b.x) + half,
                    bottom: a.y.max(b.y) + half,
                };
                (area, "a line")
            }
            _ => continue,
        };
        if matches!(mark, Mark::Glyphs(_)) {
            assert!(inner.holds(&area), "{}: \"{words}\" stands in the margin of the sheet", job.stem);
        }
        assert!(said.iter().all(|text| !text.overlaps(&area)), "{}: {words} stands on a panel's text", job.stem);
    }
    let own: Vec<Area> = page
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Glyphs(run) => Some(ink(run)),
            _ => None,
        })
        .collect();
    for (index, one) in own.iter().enumerate() {
        assert!(
            own.iter().skip(index + 1).all(|other| !one.overlaps(other)),
            "{}: words on words at the foot",
            job.stem
        );
    }
}

/// Ink of a placed panel's text on its page.
fn said(panel: &Panel, placed: &Placed) -> Vec<Area> {
    let moved = |run: &Glyphs| {
        let Area { left, top, right, bottom } = ink(run);
        let (left, right) =
            if placed.is_turned { (panel.size.width - right, panel.size.width - left) } else { (left, right) };
        let (top, bottom) =
            if placed.is_turned { (panel.size.height - bottom, panel.size.height - top) } else { (top, bottom) };
        let at = placed.at;
        Area { left: at.x + left, top: at.y + top, right: at.x + right, bottom: at.y + bottom }
    };
    runs(panel).into_iter().map(moved).collect()
}
