//! What changes a read-back code and what does not, by value, on the county: content does, the edition's number and days do not.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::ground::Findings;
use fieldsheaf::ledger::{Kit, KitFile, Manifest, sha256};
use fieldsheaf::{Outcome, Wanted};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;

type Plan = BTreeMap<String, String>;

static COUNTY: LazyLock<Plan> = LazyLock::new(|| {
    let mut files = Plan::new();
    gather(&Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river"), "", &mut files);
    files
});
/// Without the sets, which bear the code of their cover: it goes by those of the papers behind it (`kits.rs`).
static KIT: LazyLock<Kit> = LazyLock::new(|| built(&COUNTY));

#[expect(clippy::disallowed_methods, reason = "a test reads what it is about")]
fn gather(folder: &Path, before: &str, files: &mut Plan) {
    for entry in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap()) {
        let name = format!("{before}{}", entry.file_name().to_str().unwrap());
        if entry.file_type().unwrap().is_dir() {
            gather(&entry.path(), &format!("{name}/"), files);
        } else {
            files.insert(name, std::fs::read_to_string(entry.path()).unwrap());
        }
    }
}

fn made(plan: &Plan) -> (Outcome, Option<Kit>) {
    let shelf = plan.iter().fold(Shelf::new(), |shelf, (name, text)| shelf.with(name, text.as_str()));
    fieldsheaf::build(&shelf, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap()
}

fn built(plan: &Plan) -> Kit {
    let (outcome, kit) = made(plan);
    let errors: Vec<_> = outcome.findings.iter().filter(|finding| finding.is_error()).map(|f| &f.message).collect();
    let mut kit = kit.unwrap_or_else(|| panic!("{errors:?}"));
    kit.files.retain(|file| file.parts.is_empty());
    kit
}

/// The county with words of a file replaced: each stands there.
fn county_with(changes: &[(&str, &str, &str)]) -> Kit {
    let mut plan = COUNTY.clone();
    for (file, from, to) in changes {
        let text = plan.get_mut(*file).unwrap();
        assert!(text.contains(from), "{from} in {file}");
        *text = text.replacen(from, to, 1);
    }
    built(&plan)
}

/// Names of the files of which `what` is not as in the county.
fn differing<T: PartialEq>(kit: &Kit, what: fn(&KitFile) -> T) -> BTreeSet<&str> {
    assert_eq!(kit.files.len(), KIT.files.len());
    let pairs = kit.files.iter().zip(&KIT.files);
    pairs
        .filter(|(new, old)| new.name == old.name && what(new) != what(old))
        .map(|(new, _)| new.name.as_str())
        .collect()
}

fn code(file: &KitFile) -> String {
    file.code.clone().expect("every document of a plan bears a code")
}

/// Names of one document's files in the county.
fn of(stem: &str) -> impl Iterator<Item = &'static str> {
    let names = KIT.files.iter().map(|file| file.name.as_str());
    names
        .filter(move |name| *name == format!("{stem}.pdf") || name.starts_with(&format!("{stem}-")))
        .collect::<Vec<_>>()
        .into_iter()
}

/// Where the channels' tones stand: four cards, one of them for each member, the chart, and the plan in ICS 205 columns.
fn with_tones() -> BTreeSet<&'static str> {
    [
        "channel-card",
        "my-channels",
        "large-print",
        "night-card",
        "frequency-chart",
        "wall-chart",
        "channel-plan",
        "ics-205",
        "scan-list",
        "site-sheets",
    ]
    .into_iter()
    .flat_map(of)
    .collect()
}

#[test]
fn raising_the_number_and_the_days_changes_no_code() {
    let raised = county_with(&[
        ("plan.toml", "number = 7", "number = 8"),
        ("plan.toml", "issued = 2026-11-20", "issued = 2026-11-21"),
        ("plan.toml", "valid-from = 2026-12-01", "valid-from = 2026-12-02"),
        ("plan.toml", "review-by = 2027-06-01", "review-by = 2027-06-02"),
    ]);
    assert_eq!(raised.edition, 8);
    assert_eq!(differing(&raised, code), BTreeSet::new());
    assert_eq!(differing(&raised, |file| file.holder_content.clone()), BTreeSet::new());
    // The words beside the code are new on every sheet.
    assert_eq!(differing(&raised, |file| file.bytes.clone()).len(), KIT.files.len());
}

#[test]
fn one_tone_changes_the_code_of_exactly_what_prints_it() {
    let other = county_with(&[("repeaters.toml", "tone-in = \"103.5 Hz\"", "tone-in = \"107.2 Hz\"")]);
    assert_eq!(differing(&other, code), with_tones());
}

#[test]
fn wide_or_narrow_changes_the_code_of_the_channel_plan() {
    let channel = "id = \"tac-1\"";
    let other = county_with(&[("channels.toml", channel, "id = \"tac-1\"\nwidth = \"narrow\"")]);
    assert!(differing(&other, code).contains("channel-plan.pdf"));
}

#[test]
fn the_plans_title_is_content() {
    let other = county_with(&[("plan.toml", "title = \"Sorrel River County", "title = \"Sorrel County")]);
    assert_eq!(differing(&other, code).len(), KIT.files.len());
}

/// Two contacts of one place stand in two rows of one record.
#[test]
fn numbers_that_change_places_change_the_code() {
    let contact = |role: &str, number: u32| {
        format!(
            "{{ role = \"{role}\", phone = \"+1 406 555 0{number}\", audience = \"team\", confirmed = 2026-09-14 }}"
        )
    };
    let old = format!("contact = [{}]", contact("House supervisor", 141));
    let with = |first, second| {
        let both = format!("contact = [{}, {}]", contact("House supervisor", first), contact("Security desk", second));
        county_with(&[("places.toml", &old, &both)])
    };
    let (one, other) = (with(141, 147), with(147, 141));
    let codes = |kit: &Kit| kit.files.iter().map(|file| (file.name.clone(), code(file))).collect::<BTreeMap<_, _>>();
    let (one, other) = (codes(&one), codes(&other));
    let changed: BTreeSet<&str> =
        one.iter().filter(|(name, code)| other[*name] != **code).map(|(name, _)| name.as_str()).collect();
    assert_eq!(
        changed,
        BTreeSet::from([
            "all-contacts.pdf",
            "contact-cards.pdf",
            "lead-contacts.pdf",
            "site-contacts.pdf",
            "site-sheets.pdf"
        ])
    );
}

#[test]
fn a_forms_code_rests_on_its_definition_and_its_own_edition() {
    let file = "forms/hospital-status.toml";
    for (from, to) in [("edition = \"3\"", "edition = \"4\""), ("label = \"Hospital\"", "label = \"Hospitals\"")] {
        let other = county_with(&[(file, from, to)]);
        assert_eq!(differing(&other, code), BTreeSet::from(["hospital-status.pdf"]), "{to}");
    }
}

/// WZ7QRG is one of several Technicians; as a General this member may send on other rows of the own card.
#[test]
fn what_is_one_holders_alone_changes_that_holders_hash_and_no_code_of_the_card() {
    let other = county_with(&[("people.csv", "WZ7QRG,technician", "WZ7QRG,general")]);
    let cards: BTreeSet<&str> = of("my-channels").collect();
    assert!(cards.len() >= 30);
    assert_eq!(differing(&other, code).intersection(&cards).count(), 0);
    assert_eq!(differing(&other, |file| file.holder_content.clone()), BTreeSet::from(["my-channels-qrg.pdf"]));
    let card = other.files.iter().find(|file| file.name == "my-channels-qrg.pdf").unwrap();
    assert_eq!(card.holder_content.keys().collect::<Vec<_>>(), ["qrg"]);
    let written = Manifest::of(&other).to_text();
    let line = format!("[file.holder-content]\nqrg = \"{}\"\n", card.holder_content["qrg"]);
    assert!(written.contains(&line), "{line}");
    // The own code that it prints is the beginning of that hash: nobody else's changes.
    assert_eq!(differing(&other, |file| file.holder_code.clone()), BTreeSet::from(["my-channels-qrg.pdf"]));
    assert_eq!(card.holder_code["qrg"], letters(&card.holder_content["qrg"]));
    assert!(written.contains(&format!("[file.holder-code]\nqrg = \"{}\"\n", card.holder_code["qrg"])));
    assert_eq!(Manifest::parse(&written), Ok(Manifest::of(&other)));
}

/// The code is the beginning of the hash in the manifest; sheets of one content bear one code, others do not.
#[test]
fn one_content_has_one_code_whatever_its_layout() {
    let file = |name: &str| KIT.files.iter().find(|file| file.name == name).unwrap();
    let card = file("channel-card.pdf");
    for same in ["large-print.pdf", "night-card.pdf", "my-channels-qra.pdf"] {
        assert_eq!((code(file(same)), &file(same).content), (code(card), &card.content), "{same}");
    }
    for file in &KIT.files {
        assert_eq!(letters(file.content.as_ref().unwrap()), code(file), "{}", file.name);
    }
    let contents: BTreeSet<_> = KIT.files.iter().map(|file| &file.content).collect();
    let personal = KIT.files.iter().filter(|file| file.holder.is_some()).count();
    let documents = KIT.files.len() - personal + 1;
    // All but the three other channel cards, the chart for the wall, and the sites' copies of the contact card, say something of their own.
    assert_eq!(contents.len(), documents - 5);
}

/// Each plan by itself: the numbers of a pad are its copies' own, and its code that of the form without a number.
#[test]
fn the_numbers_of_a_pad_change_no_code() {
    let plain = |text: &str| {
        let form = "[[document]]\nid = \"pad\"\nkind = \"form\"\naudience = \"public\"\n";
        let plan = Plan::from([("plan.toml".to_owned(), format!("{HEAD}{form}{text}"))]);
        let kit = built(&plan);
        (code(&kit.files[0]), kit.files[0].content.clone(), kit.files[0].bytes.clone())
    };
    for form in ["radiogram", "ics-213"] {
        let (own, content, bytes) = plain(&format!("form = \"{form}\"\n"));
        for numbers in ["copies = 3\nserial = 1\n", "copies = 4\nserial = 50\n"] {
            let numbered = plain(&format!("form = \"{form}\"\n{numbers}"));
            assert_eq!((&numbered.0, &numbered.1), (&own, &content), "{form} {numbers}");
            assert_ne!(numbered.2, bytes, "{form} {numbers}: its numbers are on it");
        }
    }
}

/// The letters for the first four digits of a hash.
fn letters(hash: &str) -> String {
    let letters: Vec<char> = "CDFHJKLMNRSTVWXZ".chars().collect();
    hash.chars().take(4).map(|digit| letters[digit.to_digit(16).unwrap() as usize]).collect()
}

/// A site that takes its word back: its own copy and those of who stands duty there bear another code after "own", and print it.
#[test]
fn a_copy_that_says_something_else_bears_another_code_of_its_own() {
    let order = "[[document]]\nid = \"of-site\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"place\"\n\
                 [[document]]\nid = \"own\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n";
    let plan = |allowed: &str| {
        format!(
            "{HEAD}[[place]]\nid = \"mercy\"\ncode = \"MER\"\ntactical = \"Mercy\"\nkind = \"hospital\"\nvisited-on = 2026-10-01\n\
             transmit = {{ allowed = \"{allowed}\", agreed-by = \"Clinical engineering\", on = 2026-10-04 }}\n\
             [[channel]]\nid = \"tac\"\nrow = 1\nname = \"TAC 1\"\nspoken = \"Tactical One\"\nsimplex = \"146.550 MHz\"\n\
             verified = {{ on = 2026-10-01, by = \"qra\" }}\n{order}"
        )
    };
    let kit = |allowed: &str| {
        let world = Shelf::new().with("plan.toml", plan(allowed));
        let (_, kit) = fieldsheaf::build(&world, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
        let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
        (kit.unwrap(), jobs)
    };
    let ((roof, _), (nowhere, jobs)) = (kit("roof only"), kit("nowhere"));
    let of = |kit: &Kit, name: &str| kit.files.iter().find(|file| file.name == name).unwrap().clone();
    for (name, changes) in [("of-site-mercy.pdf", true), ("own-qra.pdf", false)] {
        let (before, after) = (of(&roof, name), of(&nowhere, name));
        assert_eq!(code(&before), code(&after), "{name}: what all have in common");
        assert_eq!(before.holder_code != after.holder_code, changes, "{name}");
        let job = jobs.iter().find(|job| format!("{}.pdf", job.stem) == name).unwrap();
        let own = after.holder_code.values().next().unwrap();
        let is_own = |mark: &&fieldsheaf::sheet::Mark| matches!(mark, fieldsheaf::sheet::Mark::Glyphs(run) if *run.text == **own);
        for panel in &job.panels {
            assert_eq!(panel.foot.iter().filter(is_own).count(), 1, "{name} {}", panel.title);
        }
    }
}

#[test]
fn copies_in_one_file_have_the_hashes_of_copies_in_many() {
    let together = county_with(&[("documents.toml", "each = \"member\"", "each = \"member\"\ntogether = true")]);
    let one = together.files.iter().find(|file| file.name == "my-channels.pdf").unwrap();
    let many: BTreeMap<String, String> = of("my-channels")
        .flat_map(|name| KIT.files.iter().find(|file| file.name == name).unwrap().holder_content.clone())
        .collect();
    assert!(many.len() >= 30);
    assert_eq!(one.holder_content, many);
}

fn found(plan: &str) -> Vec<(usize, String, String, String)> {
    let outcome = fieldsheaf::check(&Shelf::new().with("plan.toml", format!("{HEAD}{plan}")), "plan.toml").unwrap();
    let line = |span| outcome.files.place(span).map_or(0, |(_, line, _)| line - HEAD.lines().count());
    let findings: &Findings = &outcome.findings;
    let errors = findings.iter().filter(|finding| finding.is_error());
    errors
        .map(|f| (line(f.span), f.rule.name.to_owned(), f.message.clone(), f.help.clone().unwrap_or_default()))
        .collect()
}

fn order(id: &str, rest: &str) -> String {
    format!("[[document]]\nid = \"{id}\"\nkind = \"channel-card\"\n{rest}\n")
}

#[test]
fn two_documents_of_one_file_name_are_a_finding_at_the_id() {
    let (each, once) = ("audience = \"coordinator\"\neach = \"member\"", "audience = \"public\"");
    let plan = order("sheet", each) + &order("sheet-qra", once);
    let taken = |line, other: &str| {
        let message = "the documents sheet and sheet-qra both make the file sheet-qra.pdf".to_owned();
        (line, "file-name-taken".to_owned(), message, format!("write id = \"{other}\""))
    };
    assert_eq!(found(&plan), [taken(7, "sheet-qra-2")]);
    assert_eq!(found(&(order("sheet-qra", once) + &order("sheet", each))), [taken(2, "sheet-qra-2")]);
    // The next number is taken as well: by a document, or by a member's copy.
    assert_eq!(found(&(plan.clone() + &order("sheet-qra-2", once))), [taken(7, "sheet-qra-3")]);
    let member = "[[member]]\nid = \"qra-2\"\nname = \"Tomas Lind\"\n";
    assert_eq!(found(&(plan.clone() + member)), [taken(7, "sheet-qra-3")]);
    // What the help says is free of it, and so is a file for all.
    assert_eq!(found(&plan.replace("sheet-qra", "sheet-qra-2")), []);
    assert_eq!(found(&(order("sheet", &format!("{each}\ntogether = true")) + &order("sheet-qra", once))), []);
}

#[test]
fn a_manifests_hash_is_that_of_the_text_in_the_file() {
    let shelf =
        Shelf::new().with("plan.toml", format!("{HEAD}{}", order("sheet", "audience = \"team\"\neach = \"member\"")));
    let (_, kit) = fieldsheaf::build(&shelf, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
    let jobs = fieldsheaf::jobs(&shelf, "plan.toml").unwrap();
    let text = jobs[0].canonical.clone().unwrap();
    assert!(text.starts_with("fieldsheaf canonical 2\n") && text.contains("\nholder\tWZ7QRA Ines Varga\n"), "{text}");
    assert!(text.contains("\nplan\tEXAMPLE \\e\n") && !text.contains("2026-12-01"), "{text}");
    assert_eq!(kit.unwrap().files[0].holder_content["qra"], sha256(text.as_bytes()));
}
