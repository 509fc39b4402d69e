//! Forms without a plan: those that come with the program, and those of any file.

use crate::Halt;
use crate::Outcome;
use crate::compose;
use crate::compose::CopyMark;
use crate::compose::block::Document;
use crate::copies::job;
use crate::formats::Duplex;
use crate::ground::{At, Failure, Files, Finding, Findings, Id, MemoryWorld, Span, World, listed, nearest};
use crate::paint;
use crate::plan;
use crate::plan::Form;
use crate::sheet::Job;
use crate::source;
use crate::tables::{Profile, Tables};
use crate::typeset;
use crate::typeset::{Copy, Layout, Order, Pen};

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

/// A form without a plan, as a PDF. `world` holds the file that it stands in, with that file's name there; none for a form that comes
/// with the program. No form once any error was found.
///
/// # Errors
/// When nothing bears a name that was asked for, when the file cannot be read, or by a bug.
pub fn blank_form(
    world: Option<(&dyn World, &str)>,
    asked: &FormAsked<'_>,
) -> Result<(Outcome, Option<FormMade>), Halt> {
    let tables = Tables::built_in();
    let profile = tables.profile(asked.profile);
    let profile = profile.ok_or_else(|| Failure::new(asked.profile, "no profile is called this"))?;
    let known = |paper: &str| tables.papers.get(paper).is_some();
    if let Some(paper) = asked.paper.filter(|paper| !known(paper)) {
        return Err(Failure::new(paper, "no table has this paper").into());
    }
    let (mut files, mut found) = (Files::default(), Findings::default());
    let of_file = match world {
        Some((world, root)) => {
            let mut records = source::read(world, root, &mut found)?;
            let forms = plan::forms_of(&mut records, &mut found);
            files = records.files;
            if found.errors() > 0 {
                return Ok((ended(files, found), None));
            }
            let of_name = |form: &&Form| asked.name.is_empty() || form.id.as_str() == asked.name;
            let wanted: Vec<&Form> = forms.iter().filter(of_name).collect();
            let [form] = wanted.as_slice() else {
                let ids: Vec<&str> = forms.ids().map(Id::as_str).collect();
                let why = match (ids.len(), asked.name) {
                    (0, _) => "this file has no [[form]]".to_owned(),
                    (_, "") => format!("this file has several forms: add # and the name of one of {}", listed(&ids)),
                    (_, name) => format!("no form of this file is called {name}; it has {}", listed(&ids)),
                };
                return Err(Failure::new(root, why).into());
            };
            Some((*form).clone())
        }
        None => None,
    };
    let form = match &of_file {
        Some(form) => form,
        None => compose::built_in_form(asked.name).ok_or_else(|| unknown(asked.name))?,
    };
    let memory = MemoryWorld::default();
    let world: &dyn World = world.map_or(&memory, |(world, _)| world);
    let usual = At::new(compose::form_layout(form), form.layout.as_ref().map_or(Span::NOWHERE, |layout| layout.span));
    let name = asked.layout.map_or(usual, |name| At::new(name.to_owned(), Span::NOWHERE));
    let layout = typeset::find_layout(&name, world, &mut files, &mut found);
    let copies = asked.copies.or(form.copies.map(|copies| copies.value.get())).unwrap_or(1);
    let marks = (copies, asked.serial, form.sheets.iter().map(|sheet| sheet.as_str()).collect());
    let job = layout.and_then(|layout| {
        let layout = if asked.serial.is_some() || !form.sheets.is_empty() { layout.numbered() } else { layout };
        let layout = if asked.is_fillable { layout.fillable() } else { layout };
        set(profile, (form, of_file.is_some()), (layout, asked.paper), &marks, &mut found)
    });
    found.sort(&files);
    if of_file.is_none()
        && let Some(finding) = found.iter().find(|finding| finding.is_error())
    {
        // Its places are in no file of the person who asks.
        return Err(Failure::new(asked.name, said(finding)).into());
    }
    let Some(job) = job.filter(|_| found.errors() == 0) else { return Ok((ended(files, found), None)) };
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
    Ok((ended(files, found), Some(made)))
}

fn ended(files: Files, findings: Findings) -> Outcome {
    Outcome { files, findings, ..Outcome::default() }
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

/// How many copies, the number of the first, and the sheets of a set.
type Marks<'a> = (u16, Option<u32>, Vec<&'a str>);

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
    Some((job(&order, &copies, &Pen::new(), found)?, copies.len()))
}

/// One document for all copies or, where these differ, one for each number and each sheet of its set.
fn documents(profile: &Profile, form: (&Form, bool), (copies, serial, sheets): &Marks<'_>) -> Option<Vec<Document>> {
    if serial.is_none() && sheets.is_empty() {
        let document = compose::blank_form(profile, form, CopyMark::default())?;
        return Some(vec![Document { copies: *copies, ..document }]);
    }
    let sheets: Vec<Option<&str>> =
        if sheets.is_empty() { vec![None] } else { sheets.iter().copied().map(Some).collect() };
    let mut documents = Vec::new();
    for index in 0..u32::from(*copies) {
        let number = serial.map(|first| format!("{:04}", first.saturating_add(index)));
        for sheet in &sheets {
            let mark = CopyMark { serial: number.as_deref(), sheet: *sheet };
            documents.push(compose::blank_form(profile, form, mark)?);
        }
    }
    Some(documents)
}

/// Names of the forms that come with the program, with their titles.
#[must_use]
pub fn forms() -> Vec<(String, String)> {
    compose::form_names()
}
