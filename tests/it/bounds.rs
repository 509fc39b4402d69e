//! More than is taken of anything is a finding at its place, with its count and the cap; up to the cap it is taken.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose;
use fieldsheaf::ground::caps::{FORM_ROWS, PLAN_SIGNS, RECORDS};
use fieldsheaf::ground::{Files, Findings, Length, World};
use fieldsheaf::reckon::{Eligibility, FoundOnce, GoingOn, Sites, Staff, losses, rehearse};
use fieldsheaf::tables::Tables;
use fieldsheaf::{plan, source};
use std::fmt::Write;

/// `place message` of every finding of the name.
fn said(files: &Files, found: &Findings, name: &str) -> Vec<String> {
    let place =
        |span| files.place(span).map_or(String::new(), |(file, line, column)| format!("{file}:{line}:{column}"));
    let of_name = found.iter().filter(|finding| finding.rule.name == name);
    of_name.map(|finding| format!("{} {}", place(finding.span), finding.message)).collect()
}

/// What is found when a plan is read and understood, and how many documents it orders.
fn understood(world: &Shelf) -> (Files, Findings, usize) {
    let mut found = Findings::default();
    let mut records = source::read(world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let tasks = profile.map_or(0, |profile| compose::tasks(&plan, &profile, &mut found).len());
    (records.files, found, tasks)
}

/// A file of another kind has a fault at each byte: a hundred are told, the others counted, and of a long one the first alone is looked for.
#[test]
fn faults_of_syntax_are_counted_beyond_a_hundred() {
    let all = |text: String| {
        let mut found = Findings::default();
        let records = source::read(&Shelf::new().with("plan.toml", text), "plan.toml", &mut found).unwrap();
        said(&records.files, &found, "syntax")
    };
    let told = all("=".repeat(1000));
    assert_eq!(told.len(), 101, "{told:#?}");
    assert_eq!(told[100], "plan.toml:1:102 from here on there are 900 faults of this kind more");
    assert_eq!(all("=".repeat(100)).len(), 100);
    let told = all("=".repeat((1 << 18) + 1));
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!(told[0].starts_with("plan.toml:1:2 "), "{told:#?}");
}

#[test]
fn the_bytes_of_all_files_have_a_total() {
    let mut files = Files::default();
    for name in ["a", "b", "c", "d"] {
        let text = "x".repeat(16 << 20);
        assert_eq!(files.too_much(&text), None);
        files.add(name, text);
    }
    let why = "with it there are 67108865 bytes of all files of a plan, and 67108864 are taken";
    assert_eq!(files.too_much("x").unwrap(), why);
}

#[test]
fn a_file_of_nothing_but_line_ends_is_refused_where_it_is_asked_for() {
    let most = usize::try_from(PLAN_SIGNS.most).unwrap();
    let root = format!("include = [\"a.toml\", \"b.toml\"]\n{HEAD}");
    let world = Shelf::new().with("plan.toml", root).with("a.toml", "\n".repeat(most)).with("b.toml", "[[nett]]\n");
    let (files, found, _) = understood(&world);
    let told = said(&files, &found, "more-than-taken");
    assert_eq!(told.len(), 1, "{told:?}");
    let count: u64 = told[0].split(' ').find_map(|word| word.parse().ok()).unwrap();
    assert!((PLAN_SIGNS.most + 100..PLAN_SIGNS.most + 300).contains(&count), "{told:?}");
    let end = format!("{count} words and signs of all files of a plan, and 5000000 are taken");
    assert_eq!(told[0], format!("plan.toml:1:12 a.toml is not read: with it there are {end}"));
    // The others are read.
    assert_eq!(said(&files, &found, "unknown-record"), ["b.toml:1:3 unknown record `nett`"]);
    let (files, found, _) = understood(&Shelf::new().with("plan.toml", "\n".repeat(most + 1)));
    let why = "plan.toml is not read: with it there are 5000001 words and signs of all files of a plan, and 5000000 are taken";
    assert_eq!(said(&files, &found, "more-than-taken"), [format!("plan.toml:1:1 {why}")]);
}

#[test]
fn a_roster_a_profile_and_a_layout_count_as_well() {
    let most = usize::try_from(PLAN_SIGNS.most).unwrap();
    let signs = || ",".repeat(most);
    let roster = HEAD.replacen("[edition]", "roster = { file = \"r.csv\", columns = { name = \"N\" } }\n[edition]", 1);
    let (files, found, _) = understood(&Shelf::new().with("plan.toml", roster).with("r.csv", signs()));
    let told = said(&files, &found, "more-than-taken");
    assert!(
        told.len() == 1 && told[0].starts_with("plan.toml:9:19 r.csv is not read: with it there are 5000"),
        "{told:?}"
    );
    let profile = HEAD.replacen("profile = \"us\"", "profile = \"p.toml\"", 1);
    let (files, found, _) = understood(&Shelf::new().with("plan.toml", profile).with("p.toml", signs()));
    let told = said(&files, &found, "profile-unreadable");
    assert!(told.len() == 1 && told[0].contains("\"p.toml\" is not read: with it there are 5000"), "{told:?}");
    let order = "[[document]]\nid = \"c\"\nkind = \"frequency-chart\"\naudience = \"team\"\nlayout = \"l.toml\"\n";
    // A layout has a limit of its own, so that most of the signs stand in the plan here.
    let comment = ",".repeat(most - 50_000);
    let world = Shelf::new().with("plan.toml", format!("{HEAD}{order}# {comment}")).with("l.toml", "#".repeat(100_000));
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let told = said(&outcome.files, &outcome.findings, "layout-unreadable");
    assert!(told.len() == 1 && told[0].contains("\"l.toml\" is not read: with it there are 50"), "{told:?}");
}

#[test]
fn records_beyond_the_cap_are_refused_at_the_first() {
    let most = usize::try_from(RECORDS.most).unwrap();
    let head = "{ title = \"T\", short = \"T\", team = \"T\", profile = \"us\", time-zone = \"America/Denver\" },\n";
    let world =
        |count: usize| Shelf::new().with("plan.toml", format!("plan = [{head}{}]\n", "{},\n".repeat(count - 1)));
    let (files, found, _) = understood(&world(most + 2));
    let what = format!("plan.toml:{}:1 the plan has 200002 records, and 200000 are taken", most + 1);
    assert_eq!(said(&files, &found, "more-than-taken"), [what]);
    assert_eq!(said(&files, &found, "repeated-table").len(), most - 1);
    let (files, found, _) = understood(&world(most));
    assert_eq!(said(&files, &found, "more-than-taken"), Vec::<String>::new());
}

#[test]
fn documents_are_counted_for_each_holder_before_any_is_made() {
    let rows: String = (0..2000).fold(String::from("Name,Call\n"), |mut rows, n| {
        let _ = writeln!(rows, "Member {n},WZ7{}{}{}", letter(n / 676), letter(n / 26), letter(n));
        rows
    });
    let columns = "roster = { file = \"r.csv\", columns = { name = \"Name\", call = \"Call\" } }\n[edition]";
    let head = HEAD.replacen("[edition]", columns, 1);
    let orders: String = (0..52).fold(String::new(), |mut orders, n| {
        let id = format!("[[document]]\nid = \"d{n:02}\"\nkind = \"channel-card\"\n");
        let together = if n == 3 { "together = true\n" } else { "" };
        let _ = write!(orders, "{id}audience = \"team\"\neach = \"member\"\n{together}");
        orders
    });
    let start = head.split("[[member]]").next().unwrap().to_owned() + &orders;
    let line = 1 + start.lines().position(|line| line == "id = \"d50\"").unwrap();
    let (files, found, tasks) = understood(&Shelf::new().with("plan.toml", start).with("r.csv", rows));
    let why = "with d50 there are 102000 documents of a plan, counted for each holder, and 100000 are taken";
    assert_eq!(said(&files, &found, "more-than-taken"), [format!("plan.toml:{line}:6 {why}")]);
    // Forty-nine orders with a file for each, and one whose copies stand together.
    assert_eq!(tasks, 49 * 2000 + 1);
}

fn letter(n: usize) -> char {
    char::from(b'A' + u8::try_from(n % 26).unwrap())
}

#[test]
fn rows_of_a_form_are_counted_over_all_its_fields() {
    let form = |last: u64| {
        let fields = (0..8).fold(String::new(), |mut text, n| {
            let kind = [
                "lines = 250",
                "words = 5\nword-lines = 250",
                "rows = 250\ncolumns = [{ heading = \"A\", share = 12 }]",
            ];
            let _ = writeln!(text, "[[form.line]]\n[[form.line.field]]\nlabel = \"F{n}\"\n{}", kind[n % 3]);
            text
        });
        let last = format!("[[form.line]]\n[[form.line.field]]\nlabel = \"Last\"\nlines = {last}\n");
        format!("{HEAD}[[form]]\nid = \"tally\"\ntitle = \"Tally\"\nedition = \"1\"\n{fields}{last}")
    };
    let text = form(3);
    let line = 1 + text.lines().position(|line| line == "label = \"Last\"").unwrap();
    let (files, found, _) = understood(&Shelf::new().with("plan.toml", text));
    let what =
        format!("plan.toml:{line}:9 with \"Last\" there are 2003 rows of one form, and {} are taken", FORM_ROWS.most);
    assert_eq!(said(&files, &found, "more-than-taken"), [what]);
    let seven = form(3).replacen("[[form.line]]\n[[form.line.field]]\nlabel = \"F0\"\nlines = 250\n", "", 1);
    let (files, found, _) = understood(&Shelf::new().with("plan.toml", seven));
    assert_eq!(said(&files, &found, "more-than-taken"), Vec::<String>::new());
}

/// A report of one page for each of 401 places, and 500 copies of them: 200,500 pages.
#[test]
fn pages_of_one_document_are_counted_with_its_copies() {
    let places: String = (0..401).fold(String::new(), |mut places, n| {
        let (a, b, c) = (letter(n / 26), letter(n), letter(n / 5));
        let _ = writeln!(
            places,
            "[[place]]\nid = \"p{n}\"\ncode = \"{a}{b}{c}\"\ntactical = \"Place {n}\"\nkind = \"other\""
        );
        places
    });
    let order = "[[document]]\nid = \"report\"\nkind = \"interference-report\"\naudience = \"team\"\neach = \"place\"\ntogether = true\ncopies = ";
    let check = |copies: u32| {
        let text = format!("{HEAD}{order}{copies}\n{places}");
        let line = 1 + text.lines().position(|line| line.starts_with("kind = \"interference")).unwrap();
        let outcome = fieldsheaf::check(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap();
        (line, said(&outcome.files, &outcome.findings, "more-than-taken"))
    };
    let (line, told) = check(500);
    let what = "a file of the kind interference-report would have 200500 pages or more, and 200000 are taken";
    assert_eq!(told, [format!("plan.toml:{line}:8 {what}")]);
    assert_eq!(check(498).1, Vec::<String>::new());
}

#[test]
fn lengths_on_paper_end_at_ten_meters() {
    let most = Length::mm(10_000);
    for text in ["10000 mm", "-10000 mm"] {
        assert_eq!(Length::parse(text).unwrap().as_grains().abs(), most.as_grains(), "{text}");
    }
    for text in ["10000.01 mm", "-10000.01 mm", "999999999999 pt", "394 in"] {
        let refused = Length::parse(text).unwrap_err();
        assert_eq!(refused.what, format!("\"{text}\" is longer than 10000 mm, the most that is taken"));
    }
    let order = "[[document]]\nid = \"c\"\nkind = \"frequency-chart\"\naudience = \"team\"\nlayout = \"l.toml\"\n";
    let world = Shelf::new()
        .with("plan.toml", format!("{HEAD}{order}"))
        .with("l.toml", "base = \"chart\"\nmargin = \"999999999999 pt\"\n");
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let what = "l.toml:2:10 \"999999999999 pt\" is longer than 10000 mm, the most that is taken";
    assert_eq!(said(&outcome.files, &outcome.findings, "bad-value"), [what]);
}

/// Channels 25 kHz apart at one place, all worked at once.
fn crowded(count: u32) -> Shelf {
    let ids: Vec<String> = (0..count).map(|n| format!("c{n}")).collect();
    let channels = ids.iter().enumerate().fold(String::new(), |mut text, (n, id)| {
        let at = 144_500 + n * 13;
        let (mhz, khz) = (at / 1000, at % 1000);
        let _ =
            writeln!(text, "[[channel]]\nid = \"{id}\"\nrow = {}\nname = \"C {n}\"\nspoken = \"Channel {n}\"", n + 1);
        let _ = writeln!(text, "simplex = \"{mhz}.{khz:03} MHz\"");
        text
    });
    let place = "[[place]]\nid = \"hill\"\ncode = \"HIL\"\ntactical = \"Hill\"\nkind = \"other\"\nmonitors = ";
    let order = "[[document]]\nid = \"report\"\nkind = \"interference-report\"\naudience = \"team\"\n";
    Shelf::new().with("plan.toml", format!("{HEAD}{channels}{place}{ids:?}\n{order}"))
}

#[test]
fn of_a_crowded_site_the_report_shows_the_nearest_and_sums_up_the_rest() {
    let jobs = fieldsheaf::jobs(&crowded(40), "plan.toml").unwrap();
    let text = jobs[0].canonical.clone().unwrap();
    let summed = text.lines().find(|line| line.contains("more possible products, none nearer than")).unwrap_or(&text);
    let count: usize = summed.split(' ').find_map(|word| word.replace(',', "").parse().ok()).expect(summed);
    assert!(count > 1000, "{summed}");
    assert!(jobs[0].pages.len() < 20, "{} pages", jobs[0].pages.len());
}

/// A row is never parted, and a page has no room for the names of a state's channels: what one day brought stands in several.
#[test]
fn what_was_heard_in_one_day_stands_in_as_many_rows_as_it_needs() {
    let channel = |n: usize| {
        format!(
            "[[channel]]\nid = \"c{n}\"\nrow = {}\nname = \"STATE {n}\"\nspoken = \"{} Channel\"\nsimplex = \"{}.{:03} MHz\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n",
            n + 1,
            n + 1,
            420 + n * 25 / 1000,
            n * 25 % 1000
        )
    };
    let channels: String = (1..=950).map(channel).collect();
    let order = "[[document]]\nid = \"sheet\"\nkind = \"check-sheet\"\naudience = \"coordinator\"\n";
    let jobs =
        fieldsheaf::jobs(&Shelf::new().with("plan.toml", format!("{HEAD}{order}{channels}")), "plan.toml").unwrap();
    let text = jobs[0].canonical.clone().unwrap();
    let rows: Vec<usize> =
        text.lines().filter(|line| line.contains("channels STATE")).map(|line| line.matches("STATE").count()).collect();
    assert_eq!(rows, [100, 100, 100, 100, 100, 100, 100, 100, 100, 50]);
}

#[test]
fn more_transmitters_than_are_taken_are_a_finding_at_the_place() {
    let world = crowded(251);
    let outcome = fieldsheaf::check_plan(&world, "plan.toml").unwrap();
    let told = said(&outcome.files, &outcome.findings, "more-than-taken");
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].ends_with("at Hill there are 251 transmitters at one place, and 250 are taken"), "{told:?}");
}

/// 250 at a place are taken, and twelve such places; products of the thirteenth are not reckoned.
#[test]
fn transmitters_at_many_crowded_places_have_a_total() {
    let ids: Vec<String> = (0..250).map(|n| format!("c{n}")).collect();
    let more = (1..14).fold(String::new(), |mut text, n| {
        let code = letter(n);
        let _ = writeln!(
            text,
            "[[place]]\nid = \"p{n:02}\"\ncode = \"P{code}X\"\ntactical = \"Place {n}\"\nkind = \"other\""
        );
        let _ = writeln!(text, "monitors = {ids:?}\nturns = [{ids:?}]");
        text
    });
    let root = String::from_utf8(crowded(250).read("plan.toml", u64::MAX).unwrap()).unwrap();
    let root = root.split("[[place]]").next().unwrap().to_owned();
    let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", root + &more), "plan.toml").unwrap();
    let told = said(&outcome.files, &outcome.findings, "more-than-taken");
    let what = "with the 250 transmitters at Place 13 there are more than 200000000 threes of transmitters at all places, the most that are taken";
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].ends_with(what), "{told:?}");
}

/// What is found of a rule: its message and how many records it names.
fn told(world: &Shelf, name: &str) -> Vec<(String, usize)> {
    let outcome = fieldsheaf::check_plan(world, "plan.toml").unwrap();
    let of_name = outcome.findings.iter().filter(|finding| finding.rule.name == name);
    of_name.map(|finding| (finding.message.clone(), finding.on.len())).collect()
}

/// Of channels 13 kHz apart two neighbours lie on each other and make no pair: the last of ten is deafened by eight, and each
/// pair is told; the last of eleven by nine, and one finding tells of them all and names each, so that a waiver covers no tenth.
#[test]
fn a_radio_that_many_deafen_has_one_finding_and_a_waiver_of_it_names_them_all() {
    let few = told(&crowded(10), "same-band-at-site");
    assert_eq!((few.len(), few.iter().filter(|(_, names)| *names == 3).count()), (36, 36));
    let many = told(&crowded(11), "same-band-at-site");
    let (of_many, single): (Vec<_>, Vec<_>) = many.iter().partition(|(message, _)| message.contains("likewise"));
    assert_eq!((single.len(), of_many.len()), (36, 1));
    let (message, names) = of_many[0];
    assert!(message.starts_with("at Hill C 0 with 50 W") && message.contains("and C 10 work at once"), "{message}");
    assert!(message.ends_with("no distance is written; likewise for 8 further transmitters and C 10"), "{message}");
    assert_eq!(*names, 11, "the place, the receiver and nine senders");
    assert_eq!(told(&crowded(200), "same-band-at-site").len(), 36 + 190);
}

/// Up to eight nets that fall back to one channel each two are told; of nine one finding tells, and names them all.
#[test]
fn many_nets_on_one_channel_have_one_finding_that_names_them_all() {
    let world = |count: usize| {
        let channel = |id: &str, row: usize| {
            let at = 146_400 + 20 * row;
            format!(
                "[[channel]]\nid = \"{id}\"\nrow = {row}\nname = \"C {row}\"\nspoken = \"{row} Channel\"\nsimplex = \"146.{} MHz\"\n",
                at - 146_000
            )
        };
        let nets = (0..count).fold(channel("back", 1), |mut text, n| {
            let id = format!("c{n}");
            text += &channel(&id, n + 2);
            let _ = writeln!(text, "[[net]]\nid = \"n{n}\"\nname = \"Net {n}\"\nspoken = \"{n} Net\"\nprimary = \"{id}\"\nalternate = \"back\"");
            text
        });
        Shelf::new().with("plan.toml", format!("{HEAD}{nets}"))
    };
    let few = told(&world(8), "nets-share-fallback");
    assert_eq!((few.len(), few.iter().filter(|(_, names)| *names == 2).count()), (28, 28));
    let all = "9 nets fall back to channel C 1: Net 0, Net 1, Net 2, Net 3, Net 4, Net 5, Net 6, Net 7, Net 8";
    assert_eq!(told(&world(9), "nets-share-fallback"), [(all.to_owned(), 9)]);
}

/// So many channels, all on one frequency or 12.5 kHz apart by turns.
fn together(count: usize, is_apart: bool) -> Shelf {
    let channels = (0..count).fold(String::new(), |mut text, n| {
        let (a, b, c) = (letter(n / 676), letter(n / 26), letter(n));
        let at = if is_apart && n % 2 == 1 { "146.5625" } else { "146.5500" };
        let _ = writeln!(text, "[[channel]]\nid = \"c{n:04}\"\nrow = {}\nname = \"{a}{b}{c}\"", n % 999 + 1);
        let _ = writeln!(text, "spoken = \"{a}{b}{c}\"\nsimplex = \"{at} MHz\"\nwidth = \"narrow\"");
        text
    });
    Shelf::new().with("plan.toml", format!("{HEAD}{channels}"))
}

/// Up to eight that a channel overlaps each two are told; of more one finding tells, with the first, and names at most 64 of them.
#[test]
fn channels_on_one_frequency_have_one_finding_each_and_not_one_for_each_two() {
    let few = told(&together(9, false), "channels-overlap");
    assert_eq!((few.len(), few.iter().filter(|(_, names)| *names == 2).count()), (36, 36));
    let many = told(&together(10, false), "channels-overlap");
    let (of_many, single): (Vec<_>, Vec<_>) = many.iter().partition(|(message, _)| message.contains("it does so"));
    assert_eq!((single.len(), of_many.len(), of_many[0].1), (36, 1, 10));
    let stretch = "(146.5444 MHz to 146.5556 MHz)";
    let expected = format!("channel AAJ {stretch} and channel AAA {stretch} overlap; it does so with 8 others");
    assert_eq!(of_many[0].0, expected);
    let all = told(&together(300, false), "channels-overlap");
    assert_eq!(all.len(), 36 + 291);
    let most: Vec<_> = all.iter().filter(|(message, _)| message.ends_with("with 64 others and more")).collect();
    assert_eq!((most.len(), most.iter().map(|(_, names)| *names).max()), (300 - 65, Some(65)));
}

#[test]
fn channels_beside_many_others_have_one_finding_each() {
    let few = told(&together(16, true), "adjacent-channel");
    assert_eq!((few.len(), few.iter().filter(|(_, names)| *names == 2).count()), (64, 64));
    let all = told(&together(300, true), "adjacent-channel");
    assert_eq!(all.len(), 150, "one for each of the lower");
    assert!(
        all.iter().all(|(message, names)| message.ends_with("with 64 others and more") && *names == 65),
        "{:?}",
        all[0]
    );
    let first = "channel AAA and channel AAB lie 12.5 kHz apart, where the spacing is";
    assert!(all.iter().any(|(message, _)| message.starts_with(first)), "{:?}", all[0]);
}

#[test]
fn names_that_are_like_many_others_have_one_finding_each() {
    let world = |count: usize| {
        let places = (0..count).fold(String::new(), |mut text, n| {
            let (a, b, c) = (letter(n / 676), letter(n / 26), letter(n));
            let name = "i".repeat(n + 1);
            let _ = writeln!(
                text,
                "[[place]]\nid = \"p{n:03}\"\ncode = \"{a}{b}{c}\"\ntactical = \"Rec{name}f\"\nkind = \"other\""
            );
            text
        });
        Shelf::new().with("plan.toml", format!("{HEAD}{places}"))
    };
    assert_eq!(told(&world(9), "names-sound-alike").len(), 36);
    let all = told(&world(40), "names-sound-alike");
    assert_eq!(
        (all.len(), all.iter().filter(|(message, _)| message.contains("it does so with")).count()),
        (36 + 31, 31)
    );
}

#[test]
fn repeaters_that_open_on_the_tone_of_many_others_have_one_finding_each() {
    let world = |count: usize| {
        let repeaters = (0..count).fold(String::new(), |mut text, n| {
            let _ = writeln!(
                text,
                "[[repeater]]\nid = \"r{n:03}\"\ncall = \"WZ7QUR\"\noutput = \"146.940 MHz\"\ninput = \"-600 kHz\""
            );
            let _ = writeln!(text, "tone-in = \"100.0 Hz\"\ntone-out = \"off\"");
            text
        });
        Shelf::new().with("plan.toml", format!("{HEAD}{repeaters}"))
    };
    assert_eq!(told(&world(9), "tones-close").len(), 36);
    let all = told(&world(80), "tones-close");
    assert_eq!((all.len(), all.iter().map(|(_, names)| *names).max()), (36 + 71, Some(65)));
    assert_eq!(
        all.iter().filter(|(message, _)| message.ends_with("overlap; it does so with 64 others and more")).count(),
        15
    );
}

/// The plan of a text, its profile and the tables.
fn plan_of(text: String) -> plan::Plan {
    let mut found = Findings::default();
    let mut records = source::read(&Shelf::new().with("plan.toml", text), "plan.toml", &mut found).unwrap();
    let plan = plan::build(&Shelf::new(), &mut records, &mut found);
    assert_eq!(found.errors(), 0, "{:?}", found.iter().next());
    plan
}

/// So many places in reach of each other, each with two repeaters, and channels through them.
fn paired_sites(count: usize) -> plan::Plan {
    let text = (0..count).fold(HEAD.to_owned(), |mut text, n| {
        let (a, b, c) = (letter(n / 676), letter(n / 26), letter(n));
        let _ = writeln!(
            text,
            "[[place]]\nid = \"p{n}\"\ncode = \"{a}{b}{c}\"\ntactical = \"Place {n}\"\nkind = \"other\""
        );
        for k in 0..2 {
            let (own, row) = (2 * n + k, (2 * n + k) % 999 + 1);
            let at = 146_000_000 + own * 2_500;
            let _ = writeln!(text, "[[repeater]]\nid = \"r{own}\"\ncall = \"WZ7QUR\"\nplace = \"p{n}\"");
            let _ = writeln!(text, "output = \"{}.{:06} MHz\"\ninput = \"+5 MHz\"", at / 1_000_000, at % 1_000_000);
            let _ =
                writeln!(text, "tone-in = \"100.0 Hz\"\ntone-out = \"off\"\n[[channel]]\nid = \"c{own}\"\nrow = {row}");
            let _ = writeln!(text, "name = \"C {own}\"\nspoken = \"C {own}\"\nrepeater = \"r{own}\"");
        }
        text
    });
    plan_of(text)
}

/// Of what is heard elsewhere a site keeps that on which its products may fall, not all that is in reach.
#[test]
fn what_sites_keep_of_receivers_elsewhere_grows_with_the_sites() {
    let kept = |count: usize| {
        let plan = paired_sites(count);
        let (profile, tables) = (plan.profile.clone().unwrap(), Tables::built_in());
        let sites = Sites::of(&plan, &profile, &tables.modes);
        let distant = |place| sites.at(place).unwrap().receivers.iter().filter(|end| end.is_distant).count();
        plan.places.iter().map(distant).sum::<usize>()
    };
    let (some, twice) = (kept(100), kept(200));
    assert!(some > 100 && twice < 5 * some / 2, "{some}, {twice}");
}

/// A net of so many posts, with one member each; every fifth shares the place of the one before it. `hours` says from when to when each stands.
fn posts_of_one_net(count: usize, hours: impl Fn(usize) -> (usize, usize)) -> plan::Plan {
    let channel = "[[channel]]\nid = \"a\"\nrow = 1\nname = \"A\"\nspoken = \"A\"\nsimplex = \"146.55 MHz\"\n";
    let net = "[[net]]\nid = \"net\"\nname = \"Net\"\nspoken = \"Net\"\nprimary = \"a\"\n";
    let text = (0..count).fold(format!("{HEAD}{channel}{net}"), |mut text, n| {
        let (a, b, c, (from, to)) = (letter(n / 676), letter(n / 26), letter(n), hours(n));
        let _ = writeln!(
            text,
            "[[place]]\nid = \"p{n}\"\ncode = \"{a}{b}{c}\"\ntactical = \"Place {n}\"\nkind = \"other\""
        );
        let _ = writeln!(text, "[[member]]\nid = \"m{n}\"\nname = \"Member {n}\"\nconfirmed = 2026-10-01");
        let _ = writeln!(
            text,
            "[[post]]\nid = \"d{n}\"\nname = \"Post {n}\"\nplace = \"p{}\"",
            if n % 5 == 4 { n - 1 } else { n }
        );
        let _ = writeln!(
            text,
            "nets = [\"net\"]\n[[duty]]\npost = \"d{n}\"\nmember = \"m{}\"",
            if n % 7 == 6 { n - 1 } else { n }
        );
        let _ = writeln!(text, "from = \"2026-12-05 {from:02}:00\"\nto = \"2026-12-05 {to:02}:00\"");
        text
    });
    plan_of(text)
}

/// How many losses of a plan leave its nets for sure where they were; whatever is said to be sure is so by following everybody.
fn sure(plan: &plan::Plan) -> (usize, usize) {
    let (profile, tables) = (plan.profile.clone().unwrap(), Tables::built_in());
    let (staff, losses) = (Staff::of(plan), losses(plan));
    let known = FoundOnce::default();
    let rests_on = Eligibility { tables, profile: &profile, plan, day: None, known: &known };
    let (mut going_on, mut sure, mut apart) = (GoingOn::of(plan), 0, 0);
    for (loss, nets) in losses.iter().zip(staff.touched(&losses)) {
        for net in nets {
            let is_sure = going_on.is_sure(&staff, net, loss);
            let mut is_apart = false;
            if let Some(rehearsal) = rehearse(rests_on, &staff, net, loss) {
                rehearsal.each_changed(|here| {
                    is_apart |= here.is_fallen_apart();
                    true
                });
            }
            assert!(!(is_sure && is_apart), "without {}", loss.words);
            sure += usize::from(is_sure);
            apart += usize::from(is_apart);
        }
    }
    (sure, apart)
}

/// A net that is worked from many places can lose each of them: nobody needs to be followed where two others stand all the time.
#[test]
fn of_a_net_with_many_places_nobody_is_followed_where_two_others_stand_all_the_time() {
    assert_eq!(sure(&posts_of_one_net(40, |_| (6, 18))), (32, 0));
    assert_eq!(sure(&posts_of_one_net(2, |_| (6, 18))), (0, 0));
    // Shifts that overlap here and there: of some losses it is not plain, and one of three leaves a single post.
    for seed in 0..40 {
        sure(&posts_of_one_net(3 + seed % 5, |n| ((n * (seed + 3)) % 9, 10 + (n * (seed + 5)) % 12)));
    }
    // Two shifts a day that never meet, and of each enough to lose one.
    assert_eq!(sure(&posts_of_one_net(12, |n| if n % 2 == 0 { (6, 12) } else { (12, 18) })).0, 10);
    // From eight on three are there, two of them at one place: without that one is alone, and nothing is plain.
    assert_eq!(sure(&posts_of_one_net(5, |n| if n == 1 || n == 2 { (6, 8) } else { (6, 18) })), (3, 1));
}
