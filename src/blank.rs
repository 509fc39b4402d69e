//! Forms without a plan: those that come with the program, and those of any file.

use crate::Halt;
use crate::Outcome;
use crate::checks;
use crate::checks::CheckedPlan;
use crate::compose;
use crate::compose::CopyMark;
use crate::compose::block::Document;
use crate::copies::job;
use crate::formats::Duplex;
use crate::ground::{At, Failure, Files, Finding, Findings, Id, MemoryWorld, Span, World, listed, nearest, plural};
use crate::paint;
use crate::plan;
use crate::plan::{Form, Register};
use crate::sheet::Job;
use crate::source;
use crate::tables::{Profile, Tables};
use crate::typeset;
use crate::typeset::{Copy, Layout, Order, Pen};
use std::sync::Arc;

/// Which form is wanted, and how.
#[derive(Clone, Debug)]
pub struct FormAsked<'a> {
    /// A form that comes with the program, or in a file one of its forms; in a file with one form that one where it is empty.
    pub name: &'a str,
    /// The country profile.
    pub profile: &'a str,
    /// A layout's name, or a file; the form's own where none is said.
    pub layout: Option<&'a str>,
    /// The paper; the profile's where none is said.
    pub paper: Option<&'a str>,
    /// How many copies; as many as the form says where none is said.
    pub copies: Option<u16>,
    /// The number of the first of numbered copies.
    pub serial: Option<u32>,
    /// Whether it can be filled in on a screen.
    pub is_fillable: bool,
}

/// A form as it is printed.
#[derive(Clone, Debug)]
pub struct FormMade {
    /// The PDF.
    pub bytes: Vec<u8>,
    /// How many forms stand on one sheet.
    pub a_sheet: usize,
    /// How many sheets one form takes, or as many as stand on one sheet.
    pub sheets: usize,
    /// Rows of the table in which most is written; 1 where the form has none.
    pub rows: usize,
}

/// A file by the world that it stands in, and its name there.
type NamedFile<'a> = (&'a dyn World, &'a str);

/// Files with what is no plan's, or none of the plan's at hand.
#[derive(Clone, Copy, Default)]
pub struct FormFiles<'a> {
    /// With the form; none for a form that comes with the program, or of the plan.
    pub form: Option<NamedFile<'a>>,
    /// With the messages of which each fills a form in; none for blank ones.
    pub messages: Option<NamedFile<'a>>,
}

/// A form without a plan, as a PDF: blank, or one for each message. No form once any error was found.
///
/// # Errors
/// When nothing bears a name that was asked for, when a file cannot be read, or by a bug.
pub fn blank_form(given: FormFiles<'_>, asked: &FormAsked<'_>) -> Result<(Outcome, Option<FormMade>), Halt> {
    let tables = Tables::built_in();
    let profile = tables.profile(asked.profile);
    let profile = profile.ok_or_else(|| Failure::new(asked.profile, "no profile is called this"))?;
    let known = |paper: &str| tables.papers.get(paper).is_some();
    if let Some(paper) = asked.paper.filter(|paper| !known(paper)) {
        return Err(Failure::new(paper, "no table has this paper").into());
    }
    let (mut files, mut found, mut notes) = (Files::default(), Findings::default(), Vec::new());
    let of_file = match given.form {
        Some((world, root)) => {
            let mut records = source::read(world, root, &mut found)?;
            let forms = plan::forms_of(&mut records, &mut found);
            files = records.files;
            if found.errors() > 0 {
                return Ok((ended((files, found), notes), None));
            }
            Some(chosen(&forms, root, asked.name)?.clone())
        }
        None => None,
    };
    let form = match &of_file {
        Some(form) => form,
        None => compose::built_in_form(asked.name).ok_or_else(|| unknown(asked.name))?,
    };
    let messages = match given.messages {
        Some(file) => {
            if !form.asks_for_message() {
                let why = "this form has no value of a message; radiogram, ics-213 and message have";
                return Err(Failure::new(form.id.as_str(), why).into());
            }
            let mut records = source::Records { files, ..source::Records::default() };
            source::read_beside(&mut records, file, "message", &mut found)?;
            let checked = messages(&mut records, profile, &mut found, &mut notes);
            files = records.files;
            let Some(checked) = checked else { return Ok((ended((files, found), notes), None)) };
            Some(checked)
        }
        None => None,
    };
    let memory = MemoryWorld::default();
    let world: &dyn World = given.form.map_or(&memory, |(world, _)| world);
    let usual = At::new(compose::form_layout(form), form.layout.as_ref().map_or(Span::NOWHERE, |layout| layout.span));
    let name = asked.layout.map_or(usual, |name| At::new(name.to_owned(), Span::NOWHERE));
    let layout = typeset::find_layout(&name, world, &mut files, &mut found);
    let copies = asked.copies.or(form.copies.map(|copies| copies.value.get())).unwrap_or(1);
    let sheets: Vec<&str> = form.sheets.iter().map(|sheet| sheet.as_str()).collect();
    let marks = Marks { copies, serial: asked.serial, sheets, messages: messages.as_ref() };
    let job = layout.and_then(|layout| {
        let layout = if marks.are_alike() { layout } else { layout.numbered() };
        let layout = if asked.is_fillable { layout.fillable() } else { layout };
        set(profile, (form, of_file.is_some()), (layout, asked.paper), &marks, &mut found)
    });
    found.sort(&files);
    if of_file.is_none()
        && messages.is_none()
        && let Some(finding) = found.iter().find(|finding| finding.is_error())
    {
        // Its places are in no file of the person who asks.
        return Err(Failure::new(asked.name, said(finding)).into());
    }
    let Some(job) = job.filter(|_| found.errors() == 0) else { return Ok((ended((files, found), notes), None)) };
    // All copies have as many pages: what differs is a number in a block.
    let (job, documents) = job;
    let pages = job.panels.len().div_ceil(documents.max(1));
    let sheets = if job.duplex == Duplex::Simplex { pages } else { pages.div_ceil(2) };
    let a_sheet = job.pages.iter().map(|page| page.placed.len()).max().unwrap_or(1);
    if asked.is_fillable && a_sheet > 1 {
        let why =
            format!("{a_sheet} forms stand on one sheet of this layout; a form to fill in on a screen needs a page");
        return Err(Failure::new(name.value, why).into());
    }
    let rows = form.fields().filter(|field| !field.room.columns.is_empty()).map(|field| usize::from(field.room.rows));
    let made = FormMade { bytes: paint::pdf(&job).map_err(Halt::Bug)?, a_sheet, sheets, rows: rows.max().unwrap_or(1) };
    Ok((ended((files, found), notes), Some(made)))
}

/// The id of the form that a file has, or of that one of its forms which is asked for.
///
/// # Errors
/// When it cannot be read, or has no such form.
pub fn form_id((world, root): NamedFile<'_>, name: &str) -> Result<String, Failure> {
    // What is wrong with it is told when it is read beside the plan.
    let unheard = &mut Findings::default();
    let mut records = source::read(world, root, unheard)?;
    let forms = plan::forms_of(&mut records, unheard);
    if forms.is_empty() && unheard.errors() > 0 {
        return Ok(if name.is_empty() { "form".to_owned() } else { name.to_owned() });
    }
    chosen(&forms, root, name).map(|form| form.id.to_string())
}

/// The form of a file that is asked for, its only one where no name is said.
fn chosen<'a>(forms: &'a Register<Form>, root: &str, name: &str) -> Result<&'a Form, Failure> {
    let of_name = |form: &&Form| name.is_empty() || form.id.as_str() == name;
    let wanted: Vec<&Form> = forms.iter().filter(of_name).collect();
    let [form] = wanted.as_slice() else {
        let ids: Vec<&str> = forms.ids().map(Id::as_str).collect();
        let why = match (ids.len(), name) {
            (0, _) => "this file has no [[form]]".to_owned(),
            (_, "") => format!("this file has several forms: add # and the name of one of {}", listed(&ids)),
            (_, name) => format!("no form of this file is called {name}; it has {}", listed(&ids)),
        };
        return Err(Failure::new(root, why));
    };
    Ok(form)
}

/// The messages of a file, judged by all rules that judge those of a plan. None once any error was found.
fn messages(
    records: &mut source::Records,
    profile: &Arc<Profile>,
    found: &mut Findings,
    notes: &mut Vec<String>,
) -> Option<CheckedPlan> {
    let plan = plan::messages_of(records, Arc::clone(profile), found);
    let filed = plan.messages.iter().filter(|message| message.filed.is_some()).count();
    if filed > 0 {
        let count = plural(filed, "message");
        notes.push(format!(
            "{count}: time and date are not compared with `filed`, since no plan says the time zone (--plan)"
        ));
    }
    checks::run(plan, Some(Arc::clone(profile)), &records.files, found)
}

fn ended((files, findings): (Files, Findings), notes: Vec<String>) -> Outcome {
    Outcome { files, findings, notes, ..Outcome::default() }
}

fn said(finding: &Finding) -> String {
    finding.help.as_ref().map_or_else(|| finding.message.clone(), |help| format!("{}; {help}", finding.message))
}

fn unknown(name: &str) -> Failure {
    let forms = compose::form_names();
    let help = match nearest(name, forms.iter().map(|(id, _)| id.as_str())) {
        Some(near) => format!("did you mean {near}?"),
        None => "`fieldsheaf form --list` names them all".to_owned(),
    };
    Failure::new(name, format!("no form is called this; {help}"))
}

/// How many copies, and by what they are told apart.
struct Marks<'a> {
    copies: u16,
    /// The number of the first.
    serial: Option<u32>,
    /// The sheets of a set.
    sheets: Vec<&'a str>,
    /// The messages of which each has its own.
    messages: Option<&'a CheckedPlan>,
}

impl Marks<'_> {
    /// Whether all copies are one document.
    fn are_alike(&self) -> bool {
        self.serial.is_none() && self.sheets.is_empty() && self.messages.is_none()
    }
}

/// The sheets, and how many documents stand on them.
fn set(
    profile: &Profile,
    form: (&Form, bool),
    (layout, paper): (Layout, Option<&str>),
    marks: &Marks<'_>,
    found: &mut Findings,
) -> Option<(Job, usize)> {
    let mut documents = documents(profile, form, marks)?;
    if let Some(paper) = paper {
        let paper = Tables::built_in().papers.get(paper)?.id.as_str();
        documents.iter_mut().for_each(|document| document.paper = paper);
    }
    let paper = Tables::built_in().papers.get(documents.first()?.paper)?;
    let order = Order::new(layout, paper);
    let copies: Vec<Copy> = documents.into_iter().map(|document| order.take(document)).collect();
    Some((job(&order, &copies, &Pen::default(), found)?, copies.len()))
}

/// One document for all copies or, where these differ, one for each message or number, and each sheet of its set.
fn documents(profile: &Profile, form: (&Form, bool), marks: &Marks<'_>) -> Option<Vec<Document>> {
    if marks.are_alike() {
        let document = compose::blank_form(profile, form, CopyMark::default())?;
        return Some(vec![Document { copies: marks.copies, ..document }]);
    }
    let sheets: Vec<Option<&str>> =
        if marks.sheets.is_empty() { vec![None] } else { marks.sheets.iter().copied().map(Some).collect() };
    let mut documents = Vec::new();
    for index in 0..u32::from(marks.copies) {
        let number = marks.serial.map(|first| format!("{:04}", first.saturating_add(index)));
        for sheet in &sheets {
            let mark = CopyMark { serial: number.as_deref(), sheet: *sheet };
            match marks.messages {
                Some(checked) => documents.extend(compose::message_forms(checked, form, mark)),
                None => documents.push(compose::blank_form(profile, form, mark)?),
            }
        }
    }
    Some(documents)
}

/// Names of the forms that come with the program, with their titles.
#[must_use]
pub fn forms() -> Vec<(String, String)> {
    compose::form_names()
}
