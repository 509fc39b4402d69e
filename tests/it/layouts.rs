//! A team's own layouts: what they may say, which mistakes are found at their lines, and where panels then stand on sheets.
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test fails by panicking, and measures dots"
)]

use crate::support::geometry::{judge, judge_sheets, runs};
use crate::support::judged;
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::block::Role;
use fieldsheaf::ground::Length;
use fieldsheaf::sheet::{Duplex, Glyphs, Job, Mark, Placed};
use std::fmt::Write;

/// A plan with so many channels and one document.
fn plan(channels: usize, document: &str) -> String {
    let mut text = HEAD.to_owned();
    for index in 0..channels {
        writeln!(
            text,
            "[[channel]]\nid = \"c{index}\"\nrow = {}\nname = \"CH {index}\"\nspoken = \"{} Channel\"\nsimplex = \"146.{:04} MHz\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}",
            index + 1,
            index + 1,
            4000 + 75 * index
        )
        .unwrap();
    }
    if channels > 0 {
        text += "[[net]]\nid = \"n\"\nname = \"The net\"\nspoken = \"The Net\"\npurpose = \"All traffic\"\nprimary = \"c0\"\n";
    }
    text + document
}

fn card(layout: &str, more: &str) -> String {
    format!("[[document]]\nid = \"card\"\nkind = \"channel-card\"\nlayout = \"{layout}\"\naudience = \"team\"\n{more}")
}

fn shelf(channels: usize, layout: &str, more: &str) -> Shelf {
    Shelf::new().with("plan.toml", plan(channels, &card("ours.toml", more))).with("ours.toml", layout)
}

fn job(channels: usize, layout: &str, more: &str) -> Job {
    let world = shelf(channels, layout, more);
    fieldsheaf::jobs(&world, "plan.toml").unwrap().pop().unwrap_or_else(|| refused(&world))
}

fn refused(world: &Shelf) -> Job {
    let outcome = fieldsheaf::check(world, "plan.toml").unwrap();
    let errors = outcome.findings.iter().filter(|finding| finding.is_error());
    let messages: Vec<&String> = errors.map(|finding| &finding.message).collect();
    panic!("refused: {messages:?}")
}

/// Each mistake alone, with the rule that finds it and the line of the layout at which.
#[test]
fn mistakes_are_found_at_their_lines() {
    let cases = [
        ("base = \"fold-9\"\n", "layout-unreadable", 1),
        ("base = \"fold-8\"\nis-turned = true\n", "layout-unreadable", 2),
        ("base = \"fold-8\"\nduplex = \"long-edge\"\n", "layout-unreadable", 2),
        ("base = \"booklet\"\nduplex = \"none\"\n", "layout-unreadable", 2),
        ("base = \"full\"\nduplex = \"sideways\"\n", "layout-unreadable", 2),
        ("base = \"full\"\ncolumns = 9\n", "layout-unreadable", 2),
        ("base = \"card\"\ncolumns = 2\n", "layout-unreadable", 2),
        ("base = \"full\"\nmargin = \"2 mm\"\n", "layout-below-floor", 2),
        ("base = \"full\"\n\nwriting-line = \"5 mm\"\n", "layout-below-floor", 3),
        ("base = \"full\"\n[text]\nbody = \"6 pt\"\n", "layout-below-floor", 3),
        ("base = \"full\"\n[text]\ndialled = \"9 pt\"\n", "layout-below-floor", 3),
        ("base = \"full\"\nformat = \"fold-3\"\n", "layout-unreadable", 2),
        ("base = \"full\"\nmargins = \"20 mm\"\n", "unknown-key", 2),
        ("base = \"full\"\nmargin = 20\n", "bare-number", 2),
        ("is-dense = true\n", "missing-key", 1),
        ("base = \"full\"\norder = [\"channel\"]\n", "layout-unreadable", 2),
        (
            "base = \"full\"\n[[table]]\nkey = \"plan\"\ngrid = [\"row\"]\nfirst = [\"remark\"]\n",
            "layout-unreadable",
            5,
        ),
        ("base = \"full\"\nfollows = [\"netz\"]\n", "layout-unreadable", 2),
        ("base = \"full\"\nwhole = [\"net\"]\n", "layout-unreadable", 2),
        ("base = \"full\"\nhead = [\"holder\"]\n", "layout-unreadable", 2),
        ("base = \"full\"\nhead = [\"number\", \"date\"]\n", "layout-unreadable", 2),
        (
            "base = \"full\"\n[[foot]]\nleft = [\"edition\", \"audience\", \"holder\", \"validity\"]\n",
            "layout-unreadable",
            2,
        ),
        ("base = \"full\"\n[[foot]]\nright = [\"kode\"]\n", "layout-unreadable", 3),
        ("base = \"full\"\n[[foot]]\nright = [\"number\"]\n", "layout-unreadable", 3),
        ("base = \"full\"\n[foot]\nleft = [\"edition\"]\n", "layout-unreadable", 2),
        ("base = \"full\"\nfoot = \"none\"\n", "bad-value", 2),
        ("base = \"full\"\n[table]\nkey = \"chanels\"\n", "layout-unreadable", 3),
        ("base = \"full\"\n[[table]]\nkey = \"chanels\"\n", "layout-unreadable", 3),
        ("base = \"full\"\n[[table]]\nkey = \"plan\"\ngrid = [\"row\", \"nome\"]\n", "layout-unreadable", 4),
    ];
    for (layout, rule, line) in cases {
        let outcome = fieldsheaf::check(&shelf(3, layout, ""), "plan.toml").unwrap();
        let found: Vec<(&str, usize)> = outcome
            .findings
            .iter()
            .filter(|finding| finding.is_error())
            .filter_map(|finding| {
                let (file, line, _) = outcome.files.place(finding.span)?;
                (file == "ours.toml").then_some((finding.rule.name, line))
            })
            .collect();
        assert!(found.contains(&(rule, line)), "{layout:?}: {found:?}");
    }
}

#[test]
fn a_layout_upon_a_base_differs_in_what_it_writes_alone() {
    let full = job(12, "base = \"full\"\n", "");
    let larger = job(12, "base = \"full\"\nmargin = \"30 mm\"\n[text]\nname = \"20 pt\"\n", "");
    let name = |job: &Job| runs(&job.panels[0]).into_iter().find(|run| &*run.text == "CH 0").unwrap().size;
    let number = |job: &Job| runs(&job.panels[0]).into_iter().find(|run| run.role == Role::Hear).unwrap().size;
    assert_eq!((name(&full), name(&larger)), (Length::pt(11), Length::pt(20)));
    assert_eq!(number(&full), number(&larger));
    assert_eq!(larger.panels[0].safe.left, Length::mm(30));
}

#[test]
fn columns_are_filled_in_order_and_the_last_ones_are_even() {
    let job = job(20, "base = \"full\"\ncolumns = 2\norder = [\"nets\"]\n", "");
    judge(&job, false);
    judge_sheets(&job, 1);
    let first: Vec<&str> = runs(&job.panels[0]).into_iter().map(|run| &*run.text).collect();
    let at = |words: &str| first.iter().position(|text| *text == words).unwrap();
    assert!(at("Nets") < at("CH 0") && at("CH 0") < at("CH 12"), "nets come first: {first:?}");
    // The ends of the two columns of the last page lie less than a row apart.
    let last = job.panels.last().unwrap();
    let middle = last.size.width / 2;
    let foot = last.safe.bottom - Length::mm(15);
    let end = |is_right: bool| {
        let own = runs(last).into_iter().filter(|run| (run.at.x > middle) == is_right && run.at.y < foot);
        own.map(|run| run.at.y).max().unwrap()
    };
    let apart = (end(true) - end(false)).max(end(false) - end(true));
    assert!(apart < Length::mm(45), "{apart} apart");
}

/// The nets go on below the channels where the layout lets them; the panel keeps the range of its channels alone as its title.
#[test]
fn a_section_follows_on_the_same_panel() {
    let titles = |layout: &str| {
        let job = job(3, layout, "");
        judge(&job, false);
        job.panels.iter().map(|panel| panel.title.clone()).take(3).collect::<Vec<_>>()
    };
    let order = "order = [\"channels\", \"nets\"]\n";
    let apart = format!("base = \"fold-8\"\n{order}follows = [\"say\"]\n");
    assert_eq!(titles(&apart), ["Channels 1–3", "Nets", "EXAMPLE"]);
    let follows = format!("base = \"fold-8\"\n{order}follows = [\"nets\"]\n");
    assert_eq!(titles(&follows), ["Channels 1–3", "EXAMPLE", "What to say"]);
    let job = job(3, &follows, "");
    let texts: Vec<&str> = runs(&job.panels[0]).into_iter().map(|run| &*run.text).collect();
    let at = |words: &str| texts.iter().position(|text| *text == words).unwrap();
    assert!(at("CH 2") < at("Nets") && at("Nets") < at("The"), "{texts:?}");
}

/// A section that must be whole goes to a panel of its own where it would be parted, and is a finding where none holds it.
#[test]
fn a_whole_section_is_not_parted() {
    let first_of = |channels: usize, whole: &str| {
        let layout = format!("base = \"fold-8\"\norder = [\"channels\", \"nets\"]\nfollows = [\"nets\"]\n{whole}");
        let job = job(channels, &layout, "");
        let with = |words: &str| {
            job.panels.iter().position(|panel| runs(panel).iter().any(|run| &*run.text == words)).unwrap()
        };
        (with(&format!("CH {}", channels - 1)), with("Nets"))
    };
    for channels in 1..20 {
        let (last, net) = first_of(channels, "whole = [\"nets\"]\n");
        assert!(net == last || net == last + 1, "{channels}");
    }
    let outcome =
        fieldsheaf::check(&shelf(40, "base = \"fold-8\"\nwhole = [\"channels\"]\n", ""), "plan.toml").unwrap();
    let found = outcome.findings.iter().find(|finding| finding.rule.name == "text-does-not-fit").unwrap();
    assert!(found.message.starts_with("\"Channels\" does not fit on one panel"), "{}", found.message);
}

/// Columns that are wider than the page though all their texts are broken: said with both widths, and nothing is cut off.
#[test]
fn columns_that_do_not_fit_side_by_side_are_refused_with_their_width() {
    let text = "[[document]]\nid = \"p\"\nkind = \"channel-plan\"\nlayout = \"full\"\nvariant = \"large-print\"\naudience = \"team\"\n";
    let world = Shelf::new().with("plan.toml", plan(1, text));
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let found: Vec<(&str, &str)> =
        outcome.findings.iter().map(|finding| (finding.rule.name, finding.message.as_str())).collect();
    let what = "the columns of the table `plan` take 253 mm side by side, and there are 187 mm";
    assert_eq!(found, [("text-does-not-fit", what)]);
}

/// One word of 200 letters: what is too wide by it points at it, in a drawing as in a table.
#[test]
fn what_is_too_wide_by_one_word_points_at_it() {
    let name = "N".repeat(200);
    let text = format!(
        "{}[[post]]\nid = \"a\"\nname = \"Desk\"\n[[member]]\nid = \"qsb\"\nname = \"{name}\"\nclass = \"none\"\nconfirmed = 2026-10-01\n\
         [[duty]]\npost = \"a\"\nmember = \"qsb\"\nfrom = \"2026-12-05 00:00\"\nto = \"2026-12-05 06:00\"\n\
         [[document]]\nid = \"d\"\nkind = \"duty-sheet\"\naudience = \"team\"\n",
        HEAD
    );
    let outcome = fieldsheaf::check(&Shelf::new().with("plan.toml", text.clone()), "plan.toml").unwrap();
    let wide = outcome.findings.iter().filter(|finding| finding.rule.name == "text-does-not-fit");
    let mut told = Vec::new();
    for finding in wide {
        let line = |span| text.lines().nth(outcome.files.place(span).unwrap().1 - 1).unwrap();
        let lines: Vec<&str> =
            std::iter::once(finding.span).chain(finding.related.iter().map(|r| r.span)).map(line).collect();
        let is_of_name = |line: &&str| line.contains("qsb") || line.contains("NNN") || line.starts_with("[[duty]]");
        let is_named = finding.message.contains("NNN") || lines.iter().any(is_of_name);
        assert!(is_named, "{}: {lines:?}", finding.message);
        told.push(finding.message.split(',').next().unwrap().chars().take(40).collect::<String>());
    }
    // The drawing, and two of the three tables: nobody relieves anybody.
    assert_eq!(told.len(), 3, "{told:?}");
}

/// A column that is put first stands on one line, and the others break for it.
#[test]
fn a_column_put_first_gets_its_width() {
    let lines = |first: &str| {
        let note = "a note that takes more than one line where others want room as well";
        let more = format!("note = \"{note}\"\nfunction = \"{}\"\n", "Command and all that belongs to it in the north");
        let grid = "grid = [\"row\", \"function\", \"name\", \"assignment\", \"rx\", \"rx-tone\", \"tx\", \"tx-tone\", \"mode\", \"remarks\"]";
        let layout = format!("base = \"full-wide\"\n[[table]]\nkey = \"plan\"\n{grid}\n{first}");
        let text =
            plan(3, "[[document]]\nid = \"p\"\nkind = \"channel-plan\"\nlayout = \"ours.toml\"\naudience = \"team\"\n");
        let text = text.replace("spoken = \"1 Channel\"\n", &format!("spoken = \"1 Channel\"\n{more}"));
        let world = Shelf::new().with("plan.toml", text).with("ours.toml", layout);
        let job = fieldsheaf::jobs(&world, "plan.toml").unwrap().pop().unwrap();
        judge(&job, false);
        let count = |word: &str| runs(&job.panels[0]).iter().filter(|run| run.text.contains(word)).count();
        let whole = |words: &str| runs(&job.panels[0]).iter().any(|run| run.text.contains(words));
        (whole("Command and all that belongs to it in the north"), whole(note), count("note"))
    };
    assert_eq!(lines(""), (true, false, 1));
    assert_eq!(lines("first = [\"remarks\"]\n"), (false, true, 1));
}

/// Head and foot may be arranged; what two stations compare is on every panel all the same.
#[test]
fn head_and_foot_are_arranged_by_the_layout() {
    let layout = "base = \"full-wide\"\nhead = [\"holder\", \"number\"]\n[[foot]]\nleft = [\"edition\", \"audience\", \"holder\"]\nright = [\"validity\", \"code\", \"words\"]\n";
    let (usual, ours) = (job(3, "base = \"full-wide\"\n", ""), job(3, layout, ""));
    judge(&ours, false);
    let text =
        |job: &Job| runs(&job.panels[0]).into_iter().map(|run| run.text.to_string()).collect::<Vec<_>>().join("|");
    let (before, after) = (text(&usual), text(&ours));
    assert!(after.contains("any member|, page 1 of ") && !before.contains("any member|, page 1 of "), "{after}");
    let is_code = |run: &Glyphs| run.text.len() == 4 && run.text.chars().all(|c| c.is_ascii_uppercase());
    for job in [&usual, &ours] {
        let foot = job.panels[0].foot.iter();
        assert!(foot.into_iter().any(|mark| matches!(mark, Mark::Glyphs(run) if is_code(run))), "the code");
    }
    for part in ["EXAMPLE edition 7", "team copy", "any member", "valid from"] {
        assert!(before.contains(part) && after.contains(part), "{part}: {before} {after}");
    }
    let line = |job: &Job| {
        let mut lines: Vec<Length> = job.panels[0]
            .foot
            .iter()
            .filter_map(|mark| match mark {
                Mark::Glyphs(run) => Some(run.at.y),
                _ => None,
            })
            .collect();
        lines.sort_unstable();
        lines.dedup();
        lines.len()
    };
    // The usual foot of a page is one line; that the plan is invented stands at its head, and below a foot that is arranged.
    assert_eq!((line(&usual), line(&ours)), (1, 2));
}

/// Worked with paper: the outermost sheet has the last page left of the first, and behind the first the second.
#[test]
fn a_booklet_is_in_order_when_it_is_folded() {
    for channels in [3, 30, 60] {
        let job = job(channels, "base = \"booklet\"\n", "");
        judge_sheets(&job, 1);
        assert_eq!(job.duplex, Duplex::ShortEdge);
        let count = job.panels.len();
        assert_eq!(count % 4, 0, "pages in fours");
        let mut order = vec![0; count];
        // Leaf by leaf from the outside in: a sheet gives the pages of its right half from the front and of its left half from the back.
        for (sheet, sides) in job.pages.chunks(2).enumerate() {
            let half = |side: usize, is_right: bool| {
                let page = &sides[side];
                let is_here = |placed: &&Placed| (placed.at.x >= page.size.width / 2) == is_right;
                page.placed.iter().find(is_here).unwrap().panel
            };
            order[2 * sheet] = half(0, true);
            order[2 * sheet + 1] = half(1, false);
            order[count - 2 - 2 * sheet] = half(1, true);
            order[count - 1 - 2 * sheet] = half(0, false);
        }
        assert_eq!(order, (0..count).collect::<Vec<_>>());
    }
}

/// A leaf has its back exactly behind its front, whichever way the sheet is turned.
#[test]
fn backs_lie_behind_fronts_to_the_grain() {
    for (turn, is_upright_axis) in [("long-edge", true), ("short-edge", false)] {
        for base in ["card", "index"] {
            // Index cards lie on a page on its side.
            let is_upright_axis = is_upright_axis == (base == "card");
            let job = job(40, &format!("base = \"{base}\"\nduplex = \"{turn}\"\n"), "");
            judge_sheets(&job, 1);
            let mut leaves = 0;
            for sides in job.pages.chunks(2) {
                for front in &sides[0].placed {
                    let back = sides[1].placed.iter().find(|back| back.panel == front.panel + 1);
                    let Some(back) = back else {
                        assert_eq!(front.panel + 1, job.panels.len(), "only the last leaf has an empty back");
                        continue;
                    };
                    let (page, size) = (sides[0].size, job.panels[front.panel].size);
                    let mirrored = match is_upright_axis {
                        true => (page.width - front.at.x - size.width, front.at.y),
                        false => (front.at.x, page.height - front.at.y - size.height),
                    };
                    assert_eq!((back.at.x, back.at.y), mirrored, "{turn} {base}");
                    leaves += 1;
                }
            }
            assert!(leaves > 5, "{leaves} leaves");
        }
    }
}

/// The stack is cut once for each place; the piles, laid on each other in order of their places, are in reading order.
#[test]
fn a_cut_stack_is_in_order() {
    for (layout, channels) in [("base = \"half\"\n", 80), ("base = \"card\"\n", 60), ("base = \"index\"\n", 33)] {
        let job = job(channels, layout, "");
        judge_sheets(&job, 1);
        assert!(job.pages.len() > 1, "{layout}");
        let mut places: Vec<_> = job.pages[0].placed.iter().map(|placed| (placed.at.y, placed.at.x)).collect();
        places.sort_unstable();
        let pile = |place: &(Length, Length)| -> Vec<usize> {
            let on = |page: &fieldsheaf::sheet::Page| {
                page.placed.iter().find(|placed| (placed.at.y, placed.at.x) == *place).map(|placed| placed.panel)
            };
            job.pages.iter().filter_map(on).collect()
        };
        let stack: Vec<usize> = places.iter().flat_map(pile).collect();
        assert_eq!(stack, (0..job.panels.len()).collect::<Vec<_>>(), "{layout}");
    }
}

/// The copies of all in one file: cut as a stack, each holder's cards lie together, and no leaf bears two holders' cards.
#[test]
fn the_copies_of_all_come_out_of_the_stack_holder_by_holder() {
    let mut text = plan(7, "");
    for index in 0..5 {
        let call = char::from(b'B' + index);
        text += &format!(
            "[[member]]\nid = \"m{index}\"\ncall = \"WZ7QS{call}\"\nname = \"Member {index}\"\nclass = \"extra\"\nexpires = 2030-01-01\n"
        );
    }
    let order = "each = \"member\"\ntogether = true\n";
    for (layout, sides) in [
        ("base = \"card\"\n", 1),
        ("base = \"card\"\nduplex = \"long-edge\"\n", 2),
        ("base = \"fold-8\"\n", 1),
        ("base = \"booklet\"\n", 2),
    ] {
        let world = Shelf::new().with("plan.toml", text.clone() + &card("ours.toml", order)).with("ours.toml", layout);
        let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
        let [job] = jobs.as_slice() else { panic!("{layout}: {} files", jobs.len()) };
        judge_sheets(job, 1);
        assert_eq!(job.stem, "card");
        let holder = |panel: usize| job.panels[panel].holder.clone().unwrap();
        let in_order: Vec<String> = (0..job.panels.len()).map(holder).collect();
        let mut holders = in_order.clone();
        holders.dedup();
        assert_eq!(holders.len(), 6, "{layout}: {holders:?}");
        for leaf in job.pages.chunks(sides) {
            for front in &leaf[0].placed {
                let page = leaf[0].size;
                let behind = leaf.get(1).and_then(|back| {
                    back.placed.iter().find(|placed| {
                        placed.at.y == front.at.y
                            && placed.at.x == page.width - front.at.x - job.panels[front.panel].size.width
                    })
                });
                assert!(behind.is_none_or(|behind| holder(behind.panel) == holder(front.panel)), "{layout}");
            }
        }
    }
    let once = Shelf::new().with("plan.toml", text + &card("card", "together = true\n"));
    let outcome = fieldsheaf::check(&once, "plan.toml").unwrap();
    let names: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.rule.name).collect();
    assert_eq!(names, ["document-each-not-possible"]);
}

#[test]
fn a_pad_bears_one_form_twice_on_each_sheet() {
    let document = "[[document]]\nid = \"pad\"\nkind = \"form\"\nform = \"message\"\nlayout = \"pad\"\naudience = \"public\"\ncopies = 3\n";
    let world = Shelf::new().with("plan.toml", plan(0, document));
    let job = fieldsheaf::jobs(&world, "plan.toml").unwrap().pop().unwrap();
    assert_eq!(job.pages.len(), 3 * job.panels.len());
    for page in &job.pages {
        assert_eq!(page.placed.len(), 2);
        assert_eq!(page.placed[0].panel, page.placed[1].panel);
    }
}

#[test]
fn variants_change_sizes_and_strokes_and_nothing_else() {
    let full = "base = \"full\"\n";
    let least = |job: &Job| job.panels.iter().flat_map(runs).map(|run| run.size).min().unwrap();
    let (usual, large) = (job(9, full, ""), job(9, full, "variant = \"large-print\"\n"));
    assert!(least(&usual) < Length::pt(14) && least(&large) >= Length::pt(14));
    let night = job(9, full, "variant = \"night\"\n");
    let regular = |job: &Job| {
        let faces = job.panels.iter().flat_map(runs).map(|run| run.face);
        faces.filter(|face| *face == fieldsheaf::sheet::Face::Regular).count()
    };
    assert!(regular(&usual) > 0 && regular(&night) == 0, "no thin strokes at night");
    let words = |job: &Job| {
        let mut words: Vec<String> = job
            .panels
            .iter()
            .flat_map(runs)
            .filter(|run| run.role.is_dialled())
            .map(|run| run.text.to_string())
            .collect();
        words.sort();
        words
    };
    for variant in ["large-print", "night", "dense"] {
        let varied = job(9, full, &format!("variant = \"{variant}\"\n"));
        judge(&varied, variant == "dense");
        assert_eq!(words(&varied), words(&usual), "{variant}");
    }
}

/// A net with its rule for moving on is read at one glance: no panel has the one without the other.
#[test]
fn a_net_is_not_parted_on_panels() {
    let net = |n: usize| {
        format!(
            "[[net]]\nid = \"x{n}\"\nname = \"Net {n}\"\nspoken = \"Number {n}\"\nprimary = \"c{n}\"\nalternate = \"c8\"\n\
             purpose = \"Hospitals and blood centers, requests for beds, oxygen and transport\"\ntrigger = \"no answer for 3 minutes\"\n\
             rejoin = \"5 minutes on the primary at each full hour\"\n"
        )
    };
    let nets: String = (1..8).map(net).collect();
    for base in ["fold-8", "fold-4", "card", "index"] {
        let world = Shelf::new().with("plan.toml", plan(9, &(card(base, "") + &nets)));
        let job = fieldsheaf::jobs(&world, "plan.toml").unwrap().pop().unwrap_or_else(|| refused(&world));
        let mut seen = 0;
        for panel in &job.panels {
            let words = runs(panel).iter().map(|run| run.text.trim()).collect::<Vec<_>>().join(" ");
            let count = |part: &str| words.matches(part).count();
            assert_eq!(count("Hospitals and blood"), count("if all fail"), "{base}: {}", panel.title);
            seen += count("if all fail");
        }
        assert_eq!(seen, 7, "{base}");
    }
}

/// The panel that tells what a folded sheet is: what has no room there in large type goes to one more panel before it, and the scale
/// bar never runs into the foot.
#[test]
fn what_is_said_of_a_sheet_fits_on_it_in_any_type() {
    let exercise =
        "[incident]\nname = \"Ice storm\"\nfrom = \"2026-12-05 06:00\"\nto = \"2026-12-06 06:00\"\nexercise = true\n";
    let title = "Emergency communications plan of all the hospitals, shelters and blood centers of a large county and its neighbors to the north";
    let mut spread = 0;
    for base in ["fold-8", "fold-4", "booklet"] {
        for variant in ["", "variant = \"large-print\"\n", "variant = \"night\"\n"] {
            // An eighth of a sheet is too narrow for its foot in large type, and that is a finding.
            if base == "fold-8" && variant.contains("large") {
                continue;
            }
            let text = plan(9, &(card(base, variant) + exercise)).replace("Example plan", title);
            let world = Shelf::new().with("plan.toml", text);
            let job = fieldsheaf::jobs(&world, "plan.toml").unwrap().pop().unwrap_or_else(|| refused(&world));
            judge(&job, false);
            judge_sheets(&job, 1);
            let of_sheet = |panel: &&fieldsheaf::sheet::Panel| {
                ["Sheet ", "How to fold", "This booklet"].iter().any(|title| panel.title.starts_with(title))
            };
            let bars = job.panels.iter().flat_map(runs).filter(|run| run.text.starts_with("50 mm")).count();
            let size = if base == "fold-4" { 4 } else { 8 };
            assert!(base == "booklet" || bars == job.panels.len() / size, "{base}: a bar on each sheet");
            assert!(of_sheet(&job.panels.last().unwrap()), "{base}: the last panel is that of the sheet");
            spread += usize::from(job.panels.iter().filter(of_sheet).count() > bars);
        }
    }
    assert!(spread > 0, "large type takes two panels somewhere");
}

/// Where poppler finds each word of a page, in points: left, top, right, bottom, word.
fn boxes(pdf: &[u8], page: usize) -> Option<Vec<([f64; 4], String)>> {
    let number = (page + 1).to_string();
    let html = judged("pdftotext", &["-bbox", "-f", &number, "-l", &number], pdf, &["-"])?;
    let value = |line: &str, key: &str| -> f64 {
        let from = line.find(&format!("{key}=\"")).unwrap() + key.len() + 2;
        line[from..].split('"').next().unwrap().parse().unwrap()
    };
    let word = |line: &str| {
        let at = [value(line, "xMin"), value(line, "yMin"), value(line, "xMax"), value(line, "yMax")];
        let text = line.split('>').nth(1).unwrap().split('<').next().unwrap();
        (at, text.to_owned())
    };
    Some(html.lines().filter(|line| line.trim_start().starts_with("<word")).map(word).collect())
}

const MM: f64 = 72.0 / 25.4;

/// By another reader's measure: no word within 3 mm of a fold or cut of the pocket book.
#[test]
fn folds_are_free_of_text_by_another_readers_measure() {
    let job = job(33, "base = \"fold-8\"\n", "");
    let pdf = fieldsheaf::paint::pdf(&job).unwrap();
    let Some(words) = boxes(&pdf, 0) else { return };
    assert!(words.len() > 200);
    let page = job.pages[0].size;
    let (width, height) = (page.width.to_pt(), page.height.to_pt());
    for ([left, top, right, bottom], word) in &words {
        for fold in [width / 4.0, width / 2.0, width * 0.75] {
            assert!(*right < fold - 2.99 * MM || *left > fold + 2.99 * MM, "{word} on a fold");
        }
        assert!(*bottom < height / 2.0 - 3.0 * MM || *top > height / 2.0 + 3.0 * MM, "{word} on the cut");
        assert!(*left > 4.9 * MM && *right < width - 4.9 * MM, "{word} in the margin");
    }
}

/// By another reader's measure: each card's number stands on the back where it stands on the front, mirrored, within 0.1 mm.
#[test]
fn both_sides_register_by_another_readers_measure() {
    let job = job(40, "base = \"card\"\nduplex = \"long-edge\"\n", "");
    let pdf = fieldsheaf::paint::pdf(&job).unwrap();
    let (Some(front), Some(back)) = (boxes(&pdf, 0), boxes(&pdf, 1)) else { return };
    // "card 1 of 20" ends at the right edge of its card's text; so does "card 2 of 20" behind it.
    let ends = |words: &[([f64; 4], String)]| -> Vec<(usize, f64)> {
        words
            .windows(4)
            .filter(|four| four[0].1 == "card" && four[2].1 == "of")
            .map(|four| (four[1].1.parse().unwrap(), four[3].0[2]))
            .collect()
    };
    let (front, back) = (ends(&front), ends(&back));
    assert!(front.len() >= 4 && back.len() >= 4, "{front:?} {back:?}");
    let page = job.pages[0].size.width.to_pt();
    let (card, margin) = (85.6 * MM, 3.0 * MM);
    for (number, right) in front {
        let left_of_card = right + margin - card;
        let Some((_, behind)) = back.iter().find(|(other, _)| *other == number + 1) else { continue };
        let left_behind = behind + margin - card;
        assert!(
            (left_of_card + left_behind + card - page).abs() < 0.1 * MM,
            "card {number}: {left_of_card} {left_behind}"
        );
    }
}

/// Heights of figures as another reader draws them, in millimetres: at least 2.5 for what is dialled.
#[test]
fn dialled_figures_are_high_enough_as_another_reader_draws_them() {
    let job = job(20, "base = \"fold-8\"\n", "");
    let pdf = fieldsheaf::paint::pdf(&job).unwrap();
    let Some(words) = boxes(&pdf, 0) else { return };
    let Some(picture) = poppler_picture(&pdf) else { return };
    let scale = f64::from(DOTS) / 72.0;
    let mut measured = 0;
    for ([left, top, right, bottom], _) in words.iter().filter(|(_, word)| word.len() == 8 && word.starts_with("146."))
    {
        let range = |from: f64, to: f64| (from * scale).floor() as u32..(to * scale).ceil() as u32;
        let inked = |y: &u32| range(*left, *right).any(|x| picture.get_pixel(x, *y).0[0] < 128);
        let rows: Vec<u32> = range(*top, *bottom).filter(inked).collect();
        let height = f64::from(rows.last().unwrap() - rows.first().unwrap() + 1) / f64::from(DOTS) * 25.4;
        assert!(height >= 2.5, "{height} mm");
        measured += 1;
    }
    assert!(measured >= 20, "{measured} frequencies measured");
}

const DOTS: u16 = 600;

/// The first page as poppler draws it.
fn poppler_picture(pdf: &[u8]) -> Option<image::GrayImage> {
    let folder = tempfile::tempdir().unwrap();
    let stem = folder.path().join("page");
    judged("pdftoppm", &["-r", &DOTS.to_string(), "-gray", "-singlefile", "-png"], pdf, &[stem.to_str().unwrap()])?;
    Some(image::open(stem.with_extension("png")).unwrap().to_luma8())
}

/// A folder of the plan may bear any name: what stands in it is the team's all the same, and is held to the columns that there are.
#[test]
fn a_file_named_like_one_of_the_programs_own_is_checked_like_any_other() {
    for name in ["ours.toml", "<built in>/layouts/ours.toml"] {
        let order = card(name, "");
        let layout = "base = \"full\"\n[[table]]\nkey = \"channels\"\ngrid = [\"row\", \"heer\"]\n";
        let world = Shelf::new().with("plan.toml", plan(2, &order)).with(name, layout);
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        let unreadable = outcome.findings.iter().filter(|finding| finding.rule.name == "layout-unreadable");
        let told: Vec<_> = unreadable.map(|found| (found.message.as_str(), outcome.files.place(found.span))).collect();
        assert_eq!(told, [("no column is called \"heer\"", Some((name, 4, 16)))]);
    }
}
