//! Blank forms that come with the program, without a plan.

use crate::Halt;
use crate::compose;
use crate::compose::block::Document;
use crate::copies::job;
use crate::ground::{Failure, Files, Findings, MemoryWorld};
use crate::paint;
use crate::tables::Tables;
use crate::typeset;
use crate::typeset::{Copy, Order, Pen};

/// A blank form that comes with the program, for a profile, as a PDF; its copies numbered where a first number is given. None
/// when no form is called `name`.
///
/// # Errors
/// A finding's message when the form does not fit on the paper, or a bug.
pub fn blank_form(
    profile: &str,
    name: &str,
    paper: Option<&str>,
    (copies, serial): (u16, Option<u32>),
) -> Option<Result<Vec<u8>, Halt>> {
    let tables = Tables::built_in();
    let mut document = compose::blank_form(tables.profile(profile)?, name, copies)?;
    if let Some(paper) = paper {
        document.paper = tables.papers.get(paper)?.id.as_str();
    }
    let (mut files, mut found) = (Files::default(), Findings::default());
    let layout = typeset::find_layout(&document.layout, &MemoryWorld::default(), &mut files, &mut found);
    let paper = tables.papers.get(document.paper)?;
    let documents = numbered(document, (copies, serial));
    let job = layout.and_then(|layout| {
        let order = Order::new(layout, paper);
        let copies: Vec<Copy> = documents.into_iter().map(|document| order.take(document)).collect();
        job(&order, &copies, &Pen::new(), &mut found)
    });
    let said = || found.iter().next().map_or_else(String::new, |finding| finding.message.clone());
    Some(match job {
        Some(job) => paint::pdf(&job).map_err(Halt::Bug),
        None => Err(Failure::new(name, said()).into()),
    })
}

/// One document for all copies or, where they are numbered, one for each with its number in the foot.
fn numbered(document: Document, (copies, serial): (u16, Option<u32>)) -> Vec<Document> {
    let Some(first) = serial else { return vec![document] };
    let of_number = |number: u32| {
        let mut copy = Document { copies: 1, ..document.clone() };
        copy.foot.holder = Some(format!("number {number:04}"));
        copy
    };
    (0..u32::from(copies)).map(|index| of_number(first.saturating_add(index))).collect()
}

/// Names of the forms that come with the program, with their titles.
#[must_use]
pub fn forms() -> Vec<(String, String)> {
    compose::form_names()
}
