//! Every document kind of `KINDS`, without being listed here: on every layout, paper and variant, for every reader, the same twice.

use crate::support::every::{county, county_of, order, orders, since};
use crate::support::geometry::{judge, judge_sheets, runs};
use crate::support::shelf::Shelf;
use fieldsheaf::audience::view;
use fieldsheaf::checks::CheckedPlan;
use fieldsheaf::compose::block::{Block, Document, Table};
use fieldsheaf::compose::{Frozen, KINDS, Kind, Task, tables};
use fieldsheaf::edition::{canonical, codes, stamp};
use fieldsheaf::ground::{Audience, Files, Findings};
use fieldsheaf::plan::{Each, Variant};
use fieldsheaf::sheet::Job;
use fieldsheaf::tables::Tables;
use fieldsheaf::typeset::{Layout, Order, Pen, find_layout as find, layout_names as names};
use fieldsheaf::{Wanted, impose, typeset};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

/// A plan that was checked, and what it orders.
struct Read {
    world: Shelf,
    checked: CheckedPlan,
    tasks: Vec<Task>,
    files: Files,
    found: Findings,
}

impl Read {
    fn of(world: Shelf) -> Self {
        let mut found = Findings::default();
        let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
        let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
        let profile = plan.profile.clone();
        let tasks = fieldsheaf::compose::tasks(&plan, profile.as_ref().unwrap(), &mut found);
        let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found);
        let errors: Vec<&str> = found.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
        assert_eq!(errors, Vec::<&str>::new());
        Self { world, checked: checked.unwrap(), tasks, files: records.files, found }
    }

    /// Every copy of every document, stamped with its code.
    fn documents(&self) -> Vec<(&'static Kind, Document)> {
        let rules = fieldsheaf::rules();
        let frozen =
            Frozen { findings: &self.found, files: &self.files, rules: &rules, without_rows: &[], since: &since() };
        let codes = codes(&self.checked, &self.tasks, Some(&frozen)).unwrap();
        let copies = self.tasks.iter().flat_map(|task| task.copies().into_iter().map(move |copy| (task, copy)));
        let document = |(task, copy): (&Task, Task)| {
            let mut document = fieldsheaf::compose::document(&self.checked, &copy, Some(&frozen));
            stamp(&mut document, &codes[task.shared_key()]);
            (task.shared_key().kind, document)
        };
        copies.map(document).collect()
    }

    fn layout(&self, document: &Document) -> Layout {
        let (mut files, mut found) = (Files::default(), Findings::default());
        let layout = find(&document.layout, &self.world, &mut files, &mut found).unwrap();
        layout.varied(document.variant)
    }

    /// The sheets of a document, or why there are none.
    fn set(&self, document: &Document) -> Result<Job, Vec<&'static str>> {
        let mut found = Findings::default();
        let paper = Tables::built_in().papers.get(document.paper).unwrap();
        let order = Order::new(self.layout(document), paper);
        let copy = order.take(document.clone());
        let panels = typeset::panels(&order, &copy, &Pen::new(), &mut found);
        panels.map(|panels| impose::sheets(panels, document)).ok_or_else(|| found.iter().map(|f| f.rule.name).collect())
    }
}

/// Papers and variants.
const SORTS: [(&str, Option<Variant>); 5] = [
    ("letter", None),
    ("a4", None),
    ("letter", Some(Variant::LargePrint)),
    ("a4", Some(Variant::Night)),
    ("letter", Some(Variant::Dense)),
];

/// Every kind on every layout, both papers and all variants: it keeps the promises of the paper, or is refused by name. On the layout
/// that it usually takes it is set, and so is each table on whole pages.
#[test]
fn every_kind_keeps_the_promises_of_the_paper_on_every_layout() {
    let read = Read::of(county_of(&orders("team", "")));
    let mut documents = Vec::new();
    for (kind, document) in read.documents() {
        for layout in names() {
            let layout = document.layout.with(layout.to_owned());
            let asked = |(paper, variant)| Document { layout: layout.clone(), paper, variant, ..document.clone() };
            documents.extend(SORTS.map(|sort| (kind, asked(sort))));
        }
    }
    assert_eq!(documents.len(), KINDS.len() * names().count() * SORTS.len());
    // A pad says so where it holds a part of the paper: no refusal, but it stands beside those.
    let refusals =
        ["layout-lacks-column", "layout-below-floor", "text-does-not-fit", "code-too-dense", "pad-holds-part"];
    let judged = |(kind, document): &(&'static Kind, Document)| {
        let is_usual = document.layout.value == kind.layout;
        let layout = read.layout(document);
        match read.set(document) {
            Ok(job) => {
                judge(&job, layout.is_dense);
                judge_sheets(&job, if layout.format.word() == "pad" { 2 } else { 1 });
                (kind.name, true)
            }
            Err(why) => {
                let said = format!("{} on {}, {:?}: {why:?}", kind.name, document.layout.value, document.variant);
                assert!(why.iter().all(|name| refusals.contains(name)), "{said}");
                assert!(!is_usual || document.variant.is_some(), "{said}");
                let is_page = ["full", "wall"].contains(&layout.format.word());
                assert!(!is_page || !why.contains(&"layout-lacks-column"), "{said}");
                (kind.name, false)
            }
        }
    };
    let judged: Vec<(&str, bool)> = documents.par_iter().map(judged).collect();
    for kind in KINDS {
        let set = judged.iter().filter(|(name, is_set)| *name == kind.name && *is_set).count();
        assert!(set >= 4, "{} is set {set} times", kind.name);
    }
}

fn each_table(document: &Document) -> impl Iterator<Item = &Table> {
    let blocks = document.sections.iter().flat_map(|section| &section.blocks);
    blocks.filter_map(|block| if let Block::Table(table) = block { Some(table) } else { None })
}

/// What is composed is what was declared: no section, table, column or cell that a layout could not name, and each table somewhere.
#[test]
fn every_kind_composes_what_it_declares() {
    let mut text = String::new();
    for kind in KINDS {
        for each in kind.each {
            let id = format!("{}-for-{each}", kind.name);
            write!(text, "{}", order(kind, &id, "leads", &format!("each = \"{each}\"\n"))).unwrap();
        }
    }
    let mut composed = BTreeSet::new();
    for (kind, document) in Read::of(county_of(&text)).documents() {
        for section in &document.sections {
            assert!(kind.sections.contains(&section.key), "{}: section {}", document.stem, section.key);
        }
        for table in each_table(&document) {
            let declared = kind.tables.iter().find(|declared| declared.key == table.key);
            let declared = declared.unwrap_or_else(|| panic!("{}: table {}", document.stem, table.key));
            let columns = declared.columns.iter().filter(|column| table.columns.contains(column));
            assert_eq!(columns.count(), table.columns.len(), "{}: {}", document.stem, table.key);
            for (key, _) in table.rows.iter().flat_map(|row| &row.cells) {
                let is_declared = table.columns.iter().any(|column| column.key == *key);
                assert!(is_declared, "{}: a cell {key} in no column of {}", document.stem, table.key);
            }
            for column in table.columns.iter().filter(|column| column.is_must) {
                composed.extend(table.rows.iter().any(|row| row.cell(column.key).is_some()).then_some(column.key));
            }
            composed.insert(table.key);
        }
    }
    for table in tables() {
        assert!(composed.contains(table.key), "no document has the table {}", table.key);
    }
}

/// What the coordinator alone may know, and what those who lead may: numbers and addresses of the county.
const CLOSED: [(&str, &[&str]); 3] = [
    ("+1 406 555 0110", &["coordinator"]),
    ("amara.osei@example.org", &["coordinator"]),
    ("repeaters@example.org", &["leads", "coordinator"]),
];

/// Whatever a document of any kind says, prints, attaches or is called: nothing above its readers.
#[test]
fn no_kind_shows_its_readers_what_is_not_theirs() {
    let (mut shown, mut judged) = (BTreeSet::new(), BTreeSet::new());
    for audience in ["public", "team", "leads", "coordinator"] {
        let mut text = String::new();
        let reader = Audience::parse(audience).unwrap();
        for kind in KINDS.iter().filter(|kind| reader.may_read(&kind.widest)) {
            // Whom a message names is for those who lead; another test holds that an order for others is refused.
            let is_open = |each: &&Each| each.to_string() != "message" || reader.may_read(&Audience::Leads);
            for each in kind.each.iter().filter(is_open) {
                let id = format!("{}-for-{each}", kind.name);
                write!(text, "{}", order(kind, &id, audience, &format!("each = \"{each}\"\n"))).unwrap();
            }
        }
        let read = Read::of(county_of(&text));
        for (kind, document) in read.documents() {
            let mut said = canonical(&document, "rules").unwrap();
            write!(said, "\n{document:?}").unwrap();
            // What is set is what was composed: one copy of many is enough.
            if document.foot.holder.is_none() {
                let job = read.set(&document).unwrap_or_else(|why| panic!("{}: {why:?}", document.stem));
                let words = job.panels.iter().flat_map(|panel| runs(panel)).map(|run| &*run.text);
                said += &words.collect::<Vec<_>>().join(" ");
                write!(said, "\n{}\n{}\n{:?}", job.title, job.stem, job.placements()).unwrap();
            }
            for (private, readers) in CLOSED {
                let is_said = said.contains(private);
                assert!(!is_said || readers.contains(&audience), "{} for {audience} shows {private}", document.stem);
                shown.extend(is_said.then_some(private));
            }
            judged.insert((kind.name, audience));
        }
    }
    assert_eq!(shown.len(), CLOSED.len(), "whom they are meant for is shown them: {shown:?}");
    let readers = ["public", "team", "leads", "coordinator"].map(|reader| Audience::parse(reader).unwrap());
    let may_have = |kind: &&Kind| readers.iter().filter(|reader| reader.may_read(&kind.widest)).count();
    assert_eq!(judged.len(), KINDS.iter().map(may_have).sum::<usize>(), "{judged:?}");
}

const PLANTED: &str = r#"
[[neighbour]]
name = "Kestrel One"
output = "224.980 MHz"
input = "-1.6 MHz"

[[pool]]
id = "spare"
frequencies = ["146.430 MHz", "146.460 MHz"]
"#;

/// Records above a reader are in no view that is made for them; those of the holder's team are in the holder's.
#[test]
fn a_view_reaches_no_record_above_its_readers() {
    let read = Read::of(county(PLANTED));
    let whole = read.checked.plan();
    let all = (whole.members.len(), whole.duties.len(), whole.agreements.len(), whole.accepts.len());
    assert_eq!(all, (30, 21, 1, 7));
    assert_eq!((whole.neighbours.len(), whole.pools.len()), (1, 1), "both are planted");
    let of_team = (30, 21, 1, 0);
    let expected = [("public", (2, 0, 0, 0)), ("agency/mercy", (2, 0, 0, 0)), ("team", of_team), ("leads", of_team)];
    for (reader, expected) in expected.into_iter().chain([("coordinator", all)]) {
        let view = view(&read.checked, Audience::parse(reader).unwrap());
        let plan = view.plan();
        let reached = (plan.members.len(), plan.duties.len(), plan.agreements.len(), plan.accepts.len());
        assert_eq!(reached, expected, "{reader}");
        assert_eq!((plan.neighbours.len(), plan.pools.len()), (0, 0), "rules alone look at them: {reader}");
        assert_eq!(plan.members.len() + plan.members.withheld(), 30, "{reader}");
        let all_here = (plan.channels.len(), plan.nets.len(), plan.places.len());
        assert_eq!(all_here, (whole.channels.len(), whole.nets.len(), whole.places.len()), "{reader}");
        assert_eq!(plan.has_all(&["duty"]), expected.1 == 21, "{reader}: who left duties out knows that it did");
        let holder = whole.members.ids().next().unwrap();
        assert_eq!(view.for_member(holder).plan().duties.len(), 21, "a member's own copy, {reader}");
    }
}

/// The same bytes on one thread and on four, for every kind; and its code rests on what it says.
#[test]
fn every_kind_has_the_same_bytes_on_any_number_of_threads() {
    let world = county_of(&orders("team", ""));
    let built = |threads: usize| -> BTreeMap<String, Vec<u8>> {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        let build = || fieldsheaf::build(&world, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
        let (_, kit) = pool.install(build);
        kit.unwrap().files.into_iter().map(|file| (file.name, file.bytes)).collect()
    };
    let (one, four) = (built(1), built(4));
    assert_eq!(one.len(), KINDS.len());
    assert!(one == four);
}

/// A kind that stands in the list can be ordered beside what the county orders already.
#[test]
fn every_kind_can_be_added_to_the_county() {
    let outcome = fieldsheaf::check(&county(&orders("team", "")), "plan.toml").unwrap();
    let errors: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(errors, Vec::<&str>::new());
}
