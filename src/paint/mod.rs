//! Sheets -> PDF bytes.
//!
//! Enters a [`Job`], leaves a whole file; the same job gives the same bytes on every machine, thread and day. A file of many holders'
//! copies grows as they are painted ([`OpenPdf`]). It finds no fault in a plan: what can be wrong here is our own, a [`Bug`].

mod canvas;
mod container;
mod deflate;
mod entries;
mod file;
mod fonts;
mod metadata;
mod open_pdf;
mod operands;
mod outline;
mod painted;
mod pattern;
mod press;
mod proof;
mod proof_page;
mod readings;
mod sfnt;
mod structure;
mod told;
mod used;

pub use fonts::Press;
pub use open_pdf::OpenPdf;
pub use painted::PaintedJob;
pub use press::Plates;
pub use proof::{Picture, pictures};
pub use proof_page::{ProofDocument, ProofHead, proof_page};
pub use told::{ToldFile, told};

use crate::ground::Bug;
use crate::sheet::Job;

/// The PDF of a job by itself.
///
/// # Errors
/// When this program contradicts itself: a panel placed that does not exist, a font that cannot be cut.
pub fn pdf(job: &Job) -> Result<Vec<u8>, Bug> {
    Plates::new(&Press::default()).pdf(job)
}

impl Plates<'_> {
    /// The PDF of a job, one file of the order of these plates. Its bytes are those that it has by itself.
    ///
    /// # Errors
    /// As [`pdf`].
    pub fn pdf(&self, job: &Job) -> Result<Vec<u8>, Bug> {
        let (painted, said) = rayon::join(|| self.paint(job), || open_pdf::said(job));
        let mut file = OpenPdf::new(self, job);
        file.take(vec![painted?])?;
        let mut bytes = file.bytes();
        bytes.extend(file.end_with(job, said)?);
        Ok(bytes)
    }
}
