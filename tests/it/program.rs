//! The program as people run it: every kind of bad input gets a finding or a failure with its place, and nothing is lost.
#![allow(clippy::disallowed_methods, reason = "whole-program tests live on the disk")]

use crate::support::desk::{Desk, listing};
use std::collections::BTreeSet;

#[test]
fn a_new_plan_builds_and_verifies() {
    let desk = Desk::with_plan();
    desk.run(&["check", "plan"]).exits(0).says("0 errors, 0 warnings");
    desk.run(&["build", "plan", "--out", "kit"]).exits(0).says("ALDER edition 1");
    assert!(listing(&desk.path("kit")).contains(&"MANIFEST.toml".to_owned()));
    desk.run(&["verify", "kit"]).exits(0).says("all as written");
    desk.file("kit/card.pdf", b"something else");
    desk.run(&["verify", "kit"]).exits(1).says("changed  card.pdf");
}

#[test]
fn a_manifest_of_another_version_is_named_as_such() {
    let desk = Desk::with_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    desk.edit("kit/MANIFEST.toml", "format = 3", "format = 2");
    let older = "is a manifest of an older fieldsheaf (format 2; this version reads format 3)";
    desk.run(&["verify", "kit"]).exits(2).says(older).says("verify with that version, or build again");
    desk.run(&["build", "plan", "--out", "kit"]).exits(2).says(older).says("name another folder");
    desk.edit("kit/MANIFEST.toml", "format = 2", "format = 4");
    desk.run(&["verify", "kit"]).exits(2).says("is a manifest of a newer fieldsheaf (format 4;");
}

#[test]
fn two_documents_of_one_file_name_are_an_error_and_nothing_is_written() {
    let desk = Desk::with_plan();
    let orders = "\n[[document]]\nid = \"sheet\"\nkind = \"channel-card\"\naudience = \"coordinator\"\neach = \"member\"\n\n\
                  [[document]]\nid = \"sheet-qra\"\nkind = \"channel-card\"\naudience = \"public\"\n";
    desk.file("plan/plan.toml", desk.read("plan/plan.toml") + orders);
    let ran = desk.run(&["build", "plan", "--out", "kit", "--format", "short"]).exits(1);
    ran.says("file-name-taken").says("the documents sheet and sheet-qra both make the file sheet-qra.pdf");
    assert!(!desk.path("kit").exists());
}

/// Windows keeps these names for devices, with any ending; `con-qra` and `com10` are free.
#[test]
fn a_document_that_would_make_a_file_of_a_devices_name_is_an_error_with_another_name() {
    for (id, is_refused) in
        [("con", true), ("aux", true), ("nul", true), ("com9", true), ("com10", false), ("console", false)]
    {
        let desk = Desk::with_plan();
        let order = format!("\n[[document]]\nid = \"{id}\"\nkind = \"channel-card\"\naudience = \"coordinator\"\n");
        desk.file("plan/plan.toml", desk.read("plan/plan.toml") + &order);
        let ran = desk.run(&["build", "plan", "--out", "kit", "--format", "long"]).exits(u8::from(is_refused).into());
        if is_refused {
            let what = format!("the document {id} makes the file {id}.pdf, a name that Windows keeps for a device");
            ran.says(&what).says(&format!("write \"{id}-sheet\""));
            desk.edit("plan/plan.toml", &format!("id = \"{id}\""), &format!("id = \"{id}-sheet\""));
            desk.run(&["build", "plan", "--out", "kit"]).exits(0);
        }
    }
    let desk = Desk::with_plan();
    let order =
        "\n[[document]]\nid = \"con\"\nkind = \"channel-card\"\naudience = \"coordinator\"\neach = \"member\"\n";
    desk.file("plan/plan.toml", desk.read("plan/plan.toml") + order);
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
}

#[test]
fn new_leaves_a_full_folder_alone() {
    let desk = Desk::new();
    desk.file("plan/mine.txt", "mine");
    desk.run(&["new", "plan"]).exits(2).says("not empty");
    assert_eq!(listing(&desk.path("plan")), ["mine.txt"]);
}

#[test]
fn a_missing_plan_and_a_folder_without_one_cannot_be_run() {
    let desk = Desk::new();
    desk.run(&["check", "nowhere"]).exits(2).says("nowhere");
    std::fs::create_dir(desk.path("empty")).unwrap();
    desk.run(&["check", "empty"]).exits(2).says("plan.toml");
    std::fs::create_dir_all(desk.path("odd/plan.toml")).unwrap();
    desk.run(&["check", "odd"]).exits(2).says("not a file");
}

#[test]
fn text_that_is_not_utf_8_is_refused_with_its_name() {
    let desk = Desk::with_plan();
    desk.file("plan/places.toml", b"[[place]]\nid = \"\xff\xfe\"\n");
    desk.run(&["check", "plan", "--format", "short"]).exits(1).says("file-not-text");
}

#[test]
fn a_file_of_a_hundred_megabytes_is_refused_by_its_limit() {
    let desk = Desk::with_plan();
    let file = std::fs::File::create(desk.path("plan/places.toml")).unwrap();
    file.set_len(100 << 20).unwrap();
    desk.run(&["check", "plan", "--format", "short"]).exits(1).says("file-too-large");
}

#[test]
fn includes_stay_in_the_folder_and_out_of_circles() {
    let desk = Desk::with_plan();
    desk.file("outside.toml", "");
    desk.edit("plan/plan.toml", "\"places.toml\"]", "\"places.toml\", \"../outside.toml\", \"plan.toml\"]");
    let ran = desk.run(&["check", "plan", "--format", "short"]).exits(1);
    ran.says("include-leaves-folder").says("include-circle");
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_out_is_refused() {
    let desk = Desk::with_plan();
    desk.file("outside.toml", "");
    std::os::unix::fs::symlink(desk.path("outside.toml"), desk.path("plan/link.toml")).unwrap();
    desk.edit("plan/plan.toml", "\"places.toml\"]", "\"places.toml\", \"link.toml\"]");
    desk.run(&["check", "plan", "--format", "short"]).exits(1).says("include-leaves-folder");
}

#[test]
fn a_roster_with_another_heading_names_the_column() {
    let desk = Desk::with_plan();
    desk.edit("plan/people.csv", "Licence", "Class");
    desk.run(&["check", "plan", "--format", "short"]).exits(1).says("column-unknown").says("Licence");
}

#[test]
fn deep_nesting_is_a_finding() {
    let desk = Desk::with_plan();
    desk.file("plan/places.toml", format!("y = 1\nx = {}{}", "[".repeat(5000), "]".repeat(5000)));
    let ran = desk.run(&["check", "plan", "--format", "short"]).exits(1);
    ran.says("places.toml:2:37: error[nesting-too-deep]: tables and lists nest deeper than 32 levels");
    // Each inline table hides many levels in the dots of its key; a build reads on threads with a small stack.
    let key = vec!["a"; 40].join(".");
    desk.file(
        "plan/places.toml",
        format!("{}1{}", format!("{{ {key} = ").repeat(75), "}".repeat(75)).replacen('{', "x = {", 1),
    );
    assert!(desk.read("plan/places.toml").len() < 7000);
    let ran = desk.run(&["build", "plan", "--out", "kit", "--format", "short"]).exits(1);
    ran.says("places.toml:1:").says("nesting-too-deep");
    desk.file("plan/places.toml", format!("[{}a]", "a.".repeat(1_000_000)));
    desk.run(&["build", "plan", "--out", "kit", "--format", "short"]).exits(1).says("nesting-too-deep");
}

#[test]
fn a_name_of_ten_thousand_letters_is_refused() {
    let desk = Desk::with_plan();
    desk.edit("plan/channels.toml", "name = \"CMD 1\"", &format!("name = \"{}\"", "A".repeat(10_000)));
    desk.run(&["check", "plan", "--format", "short"]).exits(1).says("bad-value").says("channels.toml:");
}

#[test]
fn a_name_in_a_script_that_the_font_lacks_is_a_finding_and_no_box() {
    let desk = Desk::with_plan();
    desk.edit("plan/channels.toml", "name = \"CMD 1\"", "name = \"指揮\"");
    desk.run(&["build", "plan", "--out", "kit", "--format", "short"])
        .exits(1)
        .says("glyph-missing")
        .says("channels.toml:");
    assert!(!desk.path("kit").exists(), "one error withholds the whole kit");
}

#[test]
fn control_characters_never_reach_the_terminal() {
    let desk = Desk::with_plan();
    desk.edit("plan/channels.toml", "name = \"CMD 1\"", "name = \"\\u001b[31mCMD\\u202e\"");
    for format in ["full", "short", "json"] {
        let ran = desk.run_in(&["check", "plan", "--format", format], &[("NO_COLOR", "1")]).exits(1);
        assert!(!ran.said().contains(['\u{1b}', '\u{202e}']), "{format}");
    }
}

#[test]
fn what_a_path_holds_never_reaches_the_terminal_as_it_is() {
    let desk = Desk::with_plan();
    let out = "k\u{1b}[31mit\u{61c}\nerror: forged";
    for arguments in [["build", "plan", "--out", out].as_slice(), &["new", out], &["check", out]] {
        let said = desk.run(arguments).said();
        assert!(said.contains("forged") && !said.contains(['\u{1b}', '\u{61c}']), "{said:?}");
        assert!(!said.lines().any(|line| line.starts_with("error: forged")), "{said}");
    }
}

#[test]
fn json_holds_every_finding_with_its_place() {
    let desk = Desk::with_plan();
    desk.edit("plan/channels.toml", "simplex = \"147.420 MHz\"", "simplex = \"147.999 MHz\"");
    let ran = desk.run(&["check", "plan", "--format", "json"]).exits(1);
    let value: serde_json::Value = serde_json::from_slice(&ran.0.stdout).unwrap();
    assert_eq!((&value["format"], &value["errors"]), (&1.into(), &1.into()));
    let finding = &value["findings"][0];
    assert_eq!(finding["name"], "transmit-leaves-band");
    // What the help says to type, with its place: a program can put it there.
    let text = finding["fix"]["text"].as_str().unwrap();
    assert_eq!(finding["help"], format!("write {text}, the nearest that no rule speaks against"));
    assert_eq!((&finding["fix"]["file"], &finding["fix"]["line"]), (&"channels.toml".into(), &33.into()));
    let (from, to) = (finding["fix"]["column"].as_u64().unwrap(), finding["fix"]["end-column"].as_u64().unwrap());
    assert_eq!((from, to - from), (11, 13));
    assert_eq!(finding["on"][0], "channel/tac");
    assert_eq!(
        (&finding["file"], &finding["line"], &finding["waived"]),
        (&"channels.toml".into(), &33.into(), &false.into())
    );
}

/// Twelve channels without evidence, and a channel out of its band before them all.
fn with_one_cause_twelve_times(desk: &Desk) {
    let mut text =
        "[[channel]]\nid = \"out\"\nrow = 100\nname = \"OUT\"\nspoken = \"Outside\"\nsimplex = \"148.500 MHz\"\n\
        verified = { on = 2026-10-01 }\n"
            .to_owned();
    for n in 1..=12 {
        let simplex = format!("{}.{:03} MHz", 446, 12 * n + 13 * n);
        text += &format!(
            "[[channel]]\nid = \"c{n}\"\nrow = {}\nname = \"C {n}\"\nspoken = \"Number {n}\"\nsimplex = \"{simplex}\"\nverified = {{ on = 2024-11-20 }}\n",
            100 + n
        );
    }
    desk.file("plan/aaa.toml", text);
    desk.edit("plan/plan.toml", "include = [", "include = [\"aaa.toml\", ");
}

#[test]
fn findings_go_to_standard_output_and_what_is_said_of_the_work_to_standard_error() {
    let desk = Desk::with_plan();
    with_one_cause_twelve_times(&desk);
    desk.edit("plan/plan.toml", "review-by = 2027-06-01", "review-by = 2026-11-21");
    for format in ["full", "long", "short", "json"] {
        let ran = desk.run(&["build", "plan", "--out", "kit", "--format", format]).exits(1);
        let (out, err) = (String::from_utf8_lossy(&ran.0.stdout), String::from_utf8_lossy(&ran.0.stderr));
        assert!(out.contains("transmit-leaves-band") && out.contains("evidence-old"), "{format}: {out}");
        assert!(!err.contains("leaves") && err.ends_with("nothing was written: mend the errors first\n"), "{err}");
        assert_eq!(err.contains("was to be reviewed by 2026-11-21"), format != "json", "{err}");
    }
}

#[test]
fn findings_with_one_cause_stand_together_and_errors_last() {
    let desk = Desk::with_plan();
    with_one_cause_twelve_times(&desk);
    let run = |format: &str| {
        let ran = desk.run(&["check", "plan", "--plan-only", "--format", format]).exits(1);
        String::from_utf8(ran.0.stdout).unwrap()
    };
    let full = run("full");
    assert_eq!(full.matches("[evidence-old]").count(), 1, "{full}");
    let of_short = run("short");
    let lines: Vec<&str> = of_short.lines().filter(|line| line.contains("[evidence-old]")).collect();
    assert_eq!(lines.len(), 12, "{of_short}");
    for (index, line) in lines.iter().enumerate() {
        let (place, message) = line.split_once(" warning[evidence-old]: ").unwrap();
        assert!(message.contains(&format!("channel C {}", index + 1)), "{line}");
        // The first has its lines, the others their place before the message: nothing is left out.
        let shown = if index == 0 { format!("warning[evidence-old]: {message}") } else { format!("{place} {message}") };
        assert!(full.contains(&shown), "no {shown} in {full}");
    }
    assert!(full.contains("the same at 11 more places:"), "{full}");
    let last_warning = full.rfind("warning[").unwrap();
    assert!(full.find("error[transmit-leaves-band]").unwrap() > last_warning, "{full}");
    assert_eq!(full.lines().last(), of_short.lines().last());
    let json: serde_json::Value = serde_json::from_str(&run("json")).unwrap();
    let findings = json["findings"].as_array().unwrap();
    assert_eq!(findings.iter().filter(|finding| finding["name"] == "evidence-old").count(), 12);
    assert_eq!(findings[0]["name"], "transmit-leaves-band", "other programs read them in file order");
}

#[test]
fn the_long_format_prints_a_waiver_for_each_finding_that_may_have_one() {
    let desk = Desk::with_plan();
    with_one_cause_twelve_times(&desk);
    let ran = desk.run(&["check", "plan", "--plan-only", "--format", "long"]).exits(1);
    let long = String::from_utf8(ran.0.stdout).unwrap();
    for n in 1..=12 {
        let record = format!(
            "[[accept]]\nfinding = \"evidence-old\"\non = [\"channel/c{n}\"]\nsays = \"the channel C {n} was last checked on 2024-11-20, 730 days before the issue\"\nreason = \"...\"\nby = \"qsb\"\nuntil = 2027-06-01\n"
        );
        assert_eq!(long.matches(&record).count(), 1, "{record} in {long}");
    }
    assert!(!long.contains("finding = \"transmit-leaves-band\""), "{long}");
}

/// Four thousand faults on one line of 80 kB: what is printed grows with them, not with their square.
#[test]
fn many_findings_on_one_long_line_are_shown_each_by_what_stands_around_it() {
    let desk = Desk::with_plan();
    let keys: Vec<String> = (0..4000).map(|n| format!("unknown-{n} = {n}")).collect();
    desk.file("plan/aaa.toml", format!("radio = [{{ {} }}]\n", keys.join(", ")));
    desk.edit("plan/plan.toml", "include = [", "include = [\"aaa.toml\", ");
    let ran = desk.run(&["check", "plan", "--plan-only"]).exits(1);
    let full = String::from_utf8_lossy(&ran.0.stdout).into_owned();
    for n in [0, 1999, 3999] {
        assert!(full.contains(&format!("unknown key `unknown-{n}`")), "{n}");
    }
    assert!(full.len() < 4000 * 600, "{} bytes", full.len());
}

/// Today's date adds a note on the terminal; it changes neither findings nor exit code.
#[test]
fn an_edition_past_its_review_is_said_on_the_terminal_alone() {
    let desk = Desk::with_plan();
    desk.edit("plan/plan.toml", "issued = 2026-11-20", "issued = 2020-11-20");
    desk.edit("plan/plan.toml", "valid-from = 2026-12-01", "valid-from = 2020-12-01");
    desk.edit("plan/plan.toml", "review-by = 2027-06-01", "review-by = 2021-06-01");
    desk.run(&["check", "plan"]).exits(0).says("note: edition 1 was to be reviewed by 2021-06-01; today is ");
    let json = desk.run(&["check", "plan", "--format", "json"]).exits(0);
    assert!(!json.said().contains("was to be reviewed") && !json.said().contains("today is"));
}

#[test]
fn plan_only_stops_before_the_paper() {
    let desk = Desk::with_plan();
    desk.edit("plan/channels.toml", "name = \"CMD 1\"", "name = \"指揮\"");
    desk.run(&["check", "plan", "--plan-only"]).exits(0);
    desk.run(&["check", "plan"]).exits(1);
}

#[test]
fn a_part_of_the_kit_can_be_asked_for() {
    let desk = Desk::with_plan();
    desk.run(&["build", "plan", "--out", "kit", "--only", "channel-card"]).exits(0);
    assert_eq!(listing(&desk.path("kit")), ["MANIFEST.toml", "card.pdf"]);
    desk.run(&["build", "plan", "--out", "kit2", "--only", "chanel-card"]).exits(2).says("did you mean channel-card?");
    desk.run(&["build", "plan", "--out", "kit2", "--for", "nobody"]).exits(2).says("no such document");
    desk.run(&["build", "plan", "--out", "kit2", "--audience", "everyone"]).exits(2).says("no audience");
    assert!(!desk.path("kit2").exists());
}

#[test]
fn proofs_and_the_fit_come_with_a_build_when_asked_for() {
    let desk = Desk::with_plan();
    let built =
        desk.run(&["build", "plan", "--out", "kit", "--only", "channel-card", "--proof", "proofs", "--explain-fit"]);
    built.exits(0).says("proof.html shows them").says(" %  ").says("card.pdf  2, Channels");
    let names = listing(&desk.path("proofs"));
    for name in ["MANIFEST.toml", "card_1.png", "card_1_red.png", "card_1_copied.png", "card_panel_8.png", "proof.html"]
    {
        assert!(names.contains(&name.to_owned()), "{name} in {names:?}");
    }
    desk.run(&["build", "plan", "--out", "kit", "--proof", "./kit"]).exits(2).says("a folder of their own");
    desk.run(&["build", "plan", "--out", "new", "--proof", "new"]).exits(2).says("a folder of their own");
    assert!(!desk.path("new").exists());
    assert_eq!(listing(&desk.path("kit")), ["MANIFEST.toml", "card.pdf"]);
    desk.run(&["build", "plan", "--out", "kit", "--dpi", "90"]).exits(2);
    desk.run(&["build", "plan", "--out", "kit", "--proof", "proofs", "--dpi", "5000"]).exits(2);
}

#[test]
fn a_folder_with_a_strangers_file_is_refused_and_untouched() {
    let desk = Desk::with_plan();
    desk.file("kit/thesis.txt", "mine");
    desk.run(&["build", "plan", "--out", "kit"]).exits(2).says("thesis.txt");
    assert_eq!(listing(&desk.path("kit")), ["thesis.txt"]);
}

#[test]
fn a_later_build_replaces_the_older_one_whole() {
    let desk = Desk::with_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    desk.edit("plan/plan.toml", "id = \"card\"", "id = \"pocket\"");
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let names = listing(&desk.path("kit"));
    assert!(names.contains(&"pocket.pdf".to_owned()) && !names.contains(&"card.pdf".to_owned()), "{names:?}");
    desk.run(&["verify", "kit"]).exits(0);
}

#[cfg(unix)]
#[test]
fn a_folder_that_may_not_be_written_is_a_failure_and_stays_whole() {
    use std::os::unix::fs::PermissionsExt;
    let desk = Desk::with_plan();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    let before = desk.read("kit/MANIFEST.toml");
    desk.edit("plan/plan.toml", "number = 1", "number = 2");
    std::fs::set_permissions(desk.path("kit"), std::fs::Permissions::from_mode(0o555)).unwrap();
    let is_refused = std::fs::write(desk.path("kit/probe"), "").is_err();
    if is_refused {
        desk.run(&["build", "plan", "--out", "kit"]).exits(2);
        assert_eq!(desk.read("kit/MANIFEST.toml"), before);
    } else {
        // The superuser writes anywhere: there is nothing to see here.
        std::fs::remove_file(desk.path("kit/probe")).unwrap();
    }
    std::fs::set_permissions(desk.path("kit"), std::fs::Permissions::from_mode(0o755)).unwrap();
    // A file where the folder should be is refused for everybody.
    desk.file("taken", "a file");
    for (out, free) in [("taken", "`taken-kit`"), ("taken/kit", "`taken/kit-kit`")] {
        let ran = desk.run(&["build", "plan", "--out", out]).exits(2);
        ran.says(&format!("a file stands where the folder should be; write another, such as {free}"));
    }
    assert_eq!(desk.read("taken"), "a file");
    desk.run(&["build", "plan", "--out", "taken-kit"]).exits(0);
}

#[test]
fn forms_come_without_a_plan() {
    let desk = Desk::new();
    desk.run(&["form", "--list"]).exits(0).says("message").says("log");
    desk.run(&["form", "message", "--out", "message.pdf", "--copies", "3", "--paper", "a4"]).exits(0);
    assert!(std::fs::read(desk.path("message.pdf")).unwrap().starts_with(b"%PDF-1.7"));
    desk.run(&["form", "log", "--out", "numbered.pdf", "--copies", "3", "--serial", "98"]).exits(0);
    let read = lopdf::Document::load_mem(&std::fs::read(desk.path("numbered.pdf")).unwrap()).unwrap();
    assert_eq!(read.get_pages().len(), 3);
    let words = read.extract_text(&[1, 2, 3]).unwrap();
    for number in ["number 0098", "number 0099", "number 0100"] {
        assert_eq!(words.matches(number).count(), 1, "{number} in {words}");
    }
    std::fs::remove_file(desk.path("numbered.pdf")).unwrap();
    desk.run(&["form", "mesage", "--out", "x.pdf"]).exits(2).says("did you mean message?");
    desk.run(&["form", "message", "--out", "no/such/folder.pdf"]).exits(2);
    assert_eq!(listing(desk.folder.path()), ["message.pdf"]);
}

#[test]
fn a_form_goes_to_standard_output_or_a_new_file_and_replaces_only_when_told() {
    let desk = Desk::new();
    let ran = desk.run(&["form", "log", "--out", "-"]).exits(0);
    assert!(ran.0.stdout.starts_with(b"%PDF-1.7") && ran.0.stdout.ends_with(b"%%EOF\n") && ran.0.stderr.is_empty());
    assert_eq!(listing(desk.folder.path()), Vec::<String>::new());
    desk.file("log.pdf", "mine");
    desk.run(&["form", "log", "--out", "log.pdf"]).exits(2).says("log.pdf").says("--replace");
    assert_eq!(desk.read("log.pdf"), "mine");
    desk.run(&["form", "log", "--out", "log.pdf", "--replace"]).exits(0);
    assert_eq!(std::fs::read(desk.path("log.pdf")).unwrap(), ran.0.stdout);
}

#[test]
fn the_schema_knows_every_record() {
    let ran = Desk::new().run(&["schema"]).exits(0);
    let schema: serde_json::Value = serde_json::from_slice(&ran.0.stdout).unwrap();
    let is_record = |(_, node): &(&String, &serde_json::Value)| node["$ref"] != "#/$defs/table";
    let known = schema["properties"].as_object().unwrap().iter().filter(is_record);
    let known: BTreeSet<&str> = known.map(|(name, _)| name.as_str()).collect();
    assert_eq!(known, fieldsheaf::plan::RECORD_KINDS.iter().copied().chain(["include", "defaults"]).collect());
}

#[test]
fn the_zone_and_the_language_of_the_machine_change_nothing() {
    let desk = Desk::with_plan();
    desk.run_in(&["build", "plan", "--out", "a"], &[("TZ", "Pacific/Kiritimati"), ("LANG", "tr_TR.UTF-8")]).exits(0);
    desk.run_in(&["build", "plan", "--out", "b", "--threads", "1"], &[("TZ", "America/Adak"), ("LC_ALL", "C")])
        .exits(0);
    assert_eq!(desk.read("a/MANIFEST.toml"), desk.read("b/MANIFEST.toml"));
}

#[test]
fn allot_proposes_and_writes_only_when_told() {
    let desk = Desk::with_plan();
    let pool = "simplex = \"allot\"      # one of four\npool = \"simplex\"";
    desk.edit("plan/channels.toml", "simplex = \"147.420 MHz\"", pool);
    desk.edit(
        "plan/plan.toml",
        "[edition]",
        "[[pool]]\nid = \"simplex\"\nfrequencies = [\"147.450 MHz\", \"147.480 MHz\"]\n\n[edition]",
    );
    let ran = desk.run(&["check", "plan", "--plan-only"]).exits(1);
    assert!(ran.said().contains("channel-not-allotted"));
    let before = desk.read("plan/channels.toml");
    let ran = desk.run(&["allot", "plan"]).exits(0);
    assert!(ran.said().contains("nothing was written"));
    assert_eq!(desk.read("plan/channels.toml"), before);
    desk.run(&["allot", "plan", "--write"]).exits(0);
    let after = desk.read("plan/channels.toml");
    assert!(after.contains("simplex = \"147.450 MHz\"      # one of four\n"), "{after}");
    desk.run(&["check", "plan", "--plan-only"]).exits(0);
}

/// A list of channels becomes a plan that checks; what was not understood is said.
#[test]
fn new_from_a_table_proposes_a_plan_that_checks() {
    let desk = Desk::new();
    let csv = "Club list 2026;;;;;\n\nCh Name;Freq (MHz);Offset;CTCSS;Bank;Heard\nRidge;146.94;-0.6;103.5;1;2026-10-04\nMesa;146.76;-0.6;88.5;2;2026-10-04\n";
    let said = desk.file("list.csv", csv).run(&["new", "alder", "--from", "list.csv"]).exits(0).said();
    assert!(
        said.starts_with("alder holds a plan around a copy of list.csv.\n  list.csv: not mapped: \"Bank\"\n"),
        "{said}"
    );
    let plan = desk.read("alder/plan.toml");
    assert!(plan.lines().count() < 40, "{plan}");
    let table = "[channels]\nfile = \"list.csv\"\nseparator = \";\"\nheading-row = 3\ncolumns = { input = { heading = \"Offset\", unit = \"MHz\", signed = true }, name = \"Ch Name\", output = { heading = \"Freq (MHz)\", unit = \"MHz\" }, tone-in = { heading = \"CTCSS\", unit = \"Hz\" }, verified.on = \"Heard\" }\n";
    assert!(plan.contains(table), "{plan}");
    assert!(said.contains("It has 0 errors"), "{said}");
    desk.run(&["check", "alder", "--plan-only", "--format", "short"]).exits(0);
    desk.run(&["new", "alder", "--from", "list.csv"]).exits(2).says("not empty");
    desk.file("none.csv", "a,b\n1,2\n")
        .run(&["new", "none", "--from", "none.csv"])
        .exits(2)
        .says("no headings of channels, people or places");
    assert!(!desk.path("none").exists());
}

/// A list as teams keep it: a title, units in headings, shifts without a plus, letters for words, titles and empty numbers between the rows,
/// a person's and a place's values in two columns; all of it is read, and what was guessed is said.
#[test]
fn new_from_a_list_as_teams_keep_it_needs_no_mending() {
    let desk = Desk::new();
    let channels = "Plan 2026,,,,,\nCh #,Name,Freq (MHz),Offset (MHz),CTCSS,N/W\n1,Ridge,147.03,0.6,103.5,W\n,UHF,,,,\n2,Mesa,443.1,5,88.5,N\n3,,,,,\n4,Bluff,146.76,-0.6,100,W\n";
    let said = desk.file("list.csv", channels).run(&["new", "alder", "--from", "list.csv"]).exits(0).said();
    assert!(
        said.contains("rows with one cell alone are not read: `skip = [\"UHF\"]`; see that they are titles"),
        "{said}"
    );
    assert!(said.contains("It has 0 errors"), "{said}");
    let plan = desk.read("alder/plan.toml");
    assert!(plan.contains("input = { heading = \"Offset (MHz)\", unit = \"MHz\", signed = true }"), "{plan}");
    let (world, root) = fieldsheaf::cli::DiskWorld::open(&desk.path("alder")).unwrap();
    let mut found = fieldsheaf::ground::Findings::default();
    let mut records = fieldsheaf::source::read(&world, &root, &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let sends: Vec<String> = plan.channels.iter().map(|channel| channel.send.unwrap().to_string()).collect();
    assert_eq!(sends, ["146.160 MHz", "448.100 MHz", "147.630 MHz"]);
    let people = "First Name,Last Name,Callsign,Lic. Class,Phone #\nInes,Varga,WZ7QRA,Tech,406-555-0101\n";
    desk.file("people.csv", people).run(&["new", "team", "--from", "people.csv"]).exits(0).says("It has 0 errors");
    let columns = "columns = { call = \"Callsign\", class = { heading = \"Lic. Class\", words = { \"Tech\" = \"technician\" } }, name = { heading = \"First Name\", followed-by = \"Last Name\" }, phone.number = \"Phone #\" }\n";
    let plan = desk.read("team/plan.toml");
    assert!(plan.contains(columns), "{plan}");
    let places =
        "Site Name,Abbr,Tactical Call,Type,Lat,Lon,Elev (ft)\nMercy Hospital,MRC,Mercy,Hospital,47.1,-109.4,3200\n";
    desk.file("sites.csv", places).run(&["new", "sites", "--from", "sites.csv"]).exits(0).says("It has 0 errors");
    let columns = "columns = { code = \"Abbr\", elevation = { heading = \"Elev (ft)\", unit = \"ft\" }, kind = { heading = \"Type\", words = { \"Hospital\" = \"hospital\" } }, name = \"Site Name\", position = { heading = \"Lat\", followed-by = \"Lon\" }, tactical = \"Tactical Call\" }\n";
    let plan = desk.read("sites/plan.toml");
    assert!(plan.contains(columns), "{plan}");
}

/// National interoperability channels as a state prints them, 114 rows: a width in a letter under a heading that stands there twice, a
/// mode in another, bare tones and network access codes are all read. Source: 47 CFR 90.20, 90.531, 90.548, 90.617 (CFR of 2015);
/// names and tones of the national field operations guide (second-hand).
#[test]
fn new_from_a_table_of_interoperability_channels_reads_every_cell() {
    let desk = Desk::new();
    desk.file("interop.csv", include_str!("../tables/interop.csv"));
    desk.run(&["new", "kit", "--from", "interop.csv"])
        .exits(0)
        .says("known frequencies of another service: `service = \"interop\"`");
    let columns = "columns = { function = \"Channel Use\", mode = { heading = \"A/D/M\", words = { \"A\" = \"FM\", \"D\" = \"P25\" } }, name = \"Channel Name\", rx = { heading = \"Rx Freq (MHz)\", unit = \"MHz\" }, rx-tone = { heading = \"Rx CTCSS/NAC\", unit = \"Hz\", words = { \"CSQ\" = \"off\" } }, tx = { heading = \"Tx Freq (MHz)\", unit = \"MHz\" }, tx-tone = { heading = \"Tx CTCSS/NAC\", unit = \"Hz\" }, width = { heading = \"N/W\", nth = 1, words = { \"N\" = \"narrow\", \"W\" = \"wide\" } } }\n";
    let plan = desk.read("kit/plan.toml");
    assert!(plan.contains(columns), "{plan}");
    let (world, root) = fieldsheaf::cli::DiskWorld::open(&desk.path("kit")).unwrap();
    let mut found = fieldsheaf::ground::Findings::default();
    let mut records = fieldsheaf::source::read(&world, &root, &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let told: Vec<String> = found.iter().map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect();
    assert_eq!(told, ["column-not-read: a column of interop.csv not read: \"N/W\""]);
    let row = |channel: &fieldsheaf::plan::Channel| {
        let send = channel.send.map(|send| send.to_string()).unwrap_or_default();
        let (mode, width) = (channel.signal.mode.value, channel.signal.width.value);
        format!(
            "{} {send} {} {} {mode} {width:?}",
            channel.hear.value, channel.hear_tone.value, channel.send_tone.value
        )
    };
    let rows: Vec<String> = plan.channels.iter().map(row).collect();
    assert_eq!(rows.len(), 114);
    let of = |name: &str| plan.channels.iter().find(|channel| channel.name.as_str() == name).map(row);
    assert_eq!(of("VTAC33").as_deref(), Some("159.4725 MHz 151.1375 MHz 136.5 Hz 136.5 Hz FM Narrow"));
    assert_eq!(of("LLAW1").as_deref(), Some("39.460 MHz 45.860 MHz off 156.7 Hz FM Wide"));
    assert_eq!(of("7MED65D").as_deref(), Some("769.39375 MHz 769.39375 MHz NAC F7E NAC 293 P25 Narrow"));
}

/// What stands in cells of columns means something that the key takes.
#[test]
fn every_word_of_cells_means_a_value_of_its_key() {
    let words = |section: &str| fieldsheaf::source::headings(section).collect::<Vec<_>>();
    let modes = words("mode-words");
    assert!(
        modes.iter().all(|(_, ours)| fieldsheaf::plan::Mode::ALL.iter().any(|mode| mode.word() == *ours)),
        "{modes:?}"
    );
    let [widths, tones] = ["width-words", "tone-words"].map(words);
    assert!(widths.iter().all(|(_, ours)| fieldsheaf::plan::WidthWord::parse(ours).is_ok()), "{widths:?}");
    assert!(tones.iter().all(|(_, ours)| fieldsheaf::ground::Tone::parse(ours).is_ok()), "{tones:?}");
    let [kinds, classes, sends] = ["kind-words", "class-words", "tx-words"].map(words);
    let is_kind = |ours: &str| fieldsheaf::plan::PlaceKind::ALL.iter().any(|kind| kind.word() == ours);
    assert!(kinds.iter().all(|(_, ours)| is_kind(ours)), "{kinds:?}");
    let profile = fieldsheaf::tables::Tables::built_in().profile("us").unwrap();
    let is_class = |ours: &str| profile.classes.iter().any(|class| class.id.as_str() == ours);
    assert!(classes.iter().all(|(_, ours)| is_class(ours)), "{classes:?}");
    assert!(sends.iter().all(|(_, ours)| *ours == "none"), "{sends:?}");
    for all in [modes, widths, tones, kinds, classes, sends] {
        assert!(all.len() >= 4 && all.iter().all(|(theirs, _)| *theirs == theirs.to_lowercase()), "{all:?}");
    }
}

/// The words of the list of headings lead to keys that there are.
#[test]
fn every_heading_means_a_key_of_its_record() {
    let schema = fieldsheaf::plan::schema();
    for kind in ["channel", "member", "place"] {
        let mut count = 0;
        for (heading, key) in fieldsheaf::source::headings(kind) {
            // What stands in two columns is of one key.
            let first = key.split('.').next().unwrap().trim_end_matches("-next");
            assert!(!schema["$defs"][kind]["properties"][first].is_null(), "{kind}: {heading} = {key}");
            assert_eq!(heading, heading.to_lowercase(), "{kind}");
            count += 1;
        }
        assert!(count > 20, "{kind}: {count}");
    }
}

/// From issue to issue: one content under one number, numbers that rise, and what the next edition replaces.
#[test]
fn an_edition_is_issued_once_and_compared_with_the_next() {
    let desk = Desk::with_plan();
    desk.run(&["issue", "plan", "--out", "kit"]).exits(0).says("ALDER edition 1 is issued: ").says("  card  ");
    let entered = desk.read("plan/editions.toml");
    assert!(entered.contains("\n[[issued]]\nnumber = 1\n"), "{entered}");
    desk.run(&["issue", "plan", "--out", "kit"])
        .exits(0)
        .says("edition 1 was issued on ")
        .says(" with the same content");
    assert_eq!(desk.read("plan/editions.toml"), entered, "nothing is entered twice");

    desk.edit("plan/channels.toml", "name = \"TAC 1\"", "name = \"TAC 9\"");
    let ran = desk.run(&["check", "plan", "--format", "short"]).exits(1);
    ran.says("edition-issued-otherwise").says("edition 1 was issued on ").says(" with another ");
    desk.run(&["issue", "plan", "--out", "kit"]).exits(1).says("nothing was issued");
    assert_eq!(desk.read("plan/editions.toml"), entered);

    desk.edit("plan/plan.toml", "number = 1\n", "number = 2\n");
    desk.run(&["issue", "plan", "--out", "kit"]).exits(0).says("ALDER edition 2 is issued: ");
    assert!(desk.read("plan/editions.toml").starts_with(&entered), "what was entered stays");
    let compared = desk.run(&["compare", "plan/issued/1.toml", "plan"]).exits(0);
    let compared = compared.says("ALDER edition 1 -> ALDER edition 2").says("called otherwise");
    compared.says("name: TAC 1 -> TAC 9").says("to replace:\n  card");

    desk.edit("plan/plan.toml", "number = 2\n", "number = 1\n");
    desk.run(&["check", "plan", "--plan-only"]).exits(1).says("edition-number-fell").says("write number = 3");
    desk.edit("plan/editions.toml", "number = 1\n", "number = 4\n");
    desk.run(&["check", "plan", "--plan-only"]).exits(1).says("editions-unreadable");
}
