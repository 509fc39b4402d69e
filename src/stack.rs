//! A file in which the copies of many holders stand, each on sheets of its own: some of them are composed and set at a time, painted,
//! written, and let go, so that a file takes no more memory than its copies do one by one.

use crate::Halt;
use crate::compose::Task;
use crate::copies::{Common, ComposedCopy, Making, OfCopies, PaintedFile, Set, Sheets, more_pages, own_sheets, says};
use crate::ground::{Bug, Failure, Findings, SinkFile, Size};
use crate::ledger::{WrittenBytes, hexadecimal};
use crate::paint::{OpenPdf, PaintedJob};
use crate::sheet::{Job, Placement};
use crate::since::panel_texts;
use crate::typeset::Pen;
use rayon::iter::{IndexedParallelIterator, IntoParallelRefIterator, ParallelIterator};
use sha2::{Digest, Sha256};
use std::sync::Arc;

/// So many copies are in hand at a time. Not by the number of threads: which copies are in hand together decides what is painted once.
const AT_ONCE: usize = 32;

/// Whether a file grows by its copies: there are many, and no sheet bears two of them.
pub(crate) fn grows(task: &Task, common: &Common<'_>, sheets: Sheets<'_>) -> bool {
    let is_kept = matches!(sheets, Sheets::Kept);
    !is_kept && task.together.len() > AT_ONCE && task.has_one_of_each() && !common.format().mixes_holders()
}

/// A file by its copies. None where one of them cannot be set, which is found.
pub(crate) fn grown<'a>(
    task: Task,
    common: Arc<Common<'a>>,
    making: &Making<'_>,
    found: &mut Findings,
) -> Result<Option<Set<'a>>, Bug> {
    let copies = task.copies();
    let name = format!("{}.pdf", task.stem());
    let mut stack =
        GrowingFile { name, count: copies.len(), common: &common, making, done: Done::default(), open: None };
    for few in copies.chunks(AT_ONCE) {
        match stack.take(few, found)? {
            Next::More => common.forget_own(),
            Next::NotSet => return Ok(None),
            Next::NotWritten => break,
        }
    }
    let GrowingFile { done, open, .. } = stack;
    let (Some(OpenStack { pdf, out }), Some(head)) = (open, done.head) else { return Ok(None) };
    let shared = making.codes.get(task.shared_key()).cloned();
    let head = Job { stem: task.stem(), canonical: shared.as_ref().map(|shared| shared.text.clone()), ..head };
    let rest = pdf.map(|pdf| pdf.end(&head)).transpose()?.unwrap_or_default();
    let painted = out.end(&rest).map(|(bytes, written)| PaintedFile {
        bytes,
        written,
        pages: done.sizes,
        placements: done.placements,
    });
    Ok(Some(Set::grown((task, Arc::clone(&common)), (head, shared), (done.of_copies, painted.map_err(Halt::Failure)))))
}

/// A file that grows.
struct GrowingFile<'c, 'a> {
    name: String,
    /// How many copies it will have.
    count: usize,
    common: &'c Common<'a>,
    making: &'c Making<'c>,
    done: Done,
    /// From the first copy on.
    open: Option<OpenStack<'c>>,
}

/// What is kept of the copies that are done.
#[derive(Default)]
struct Done {
    /// What the file says of itself, without panels and pages.
    head: Option<Job>,
    of_copies: OfCopies,
    sizes: Vec<Size>,
    placements: Vec<Placement>,
}

/// The bytes that are made, and where they go.
struct OpenStack<'c> {
    /// None where nothing is painted.
    pdf: Option<OpenPdf<'c>>,
    out: Out<'c>,
}

/// How it goes on after some copies.
enum Next {
    More,
    /// One of them cannot be set.
    NotSet,
    /// The machine refuses their bytes.
    NotWritten,
}

/// What one copy adds to its file.
struct Added {
    done: Done,
    painted: Option<PaintedJob>,
}

impl<'c> GrowingFile<'c, '_> {
    fn take(&mut self, few: &[Task], found: &mut Findings) -> Result<Next, Bug> {
        let (common, making, count) = (self.common, self.making, self.count);
        let compose = |task: &Task| ComposedCopy::of(task, common, making);
        let composed = few.par_iter().map(compose).collect::<Result<Vec<ComposedCopy>, Bug>>()?;
        let add = |(task, composed): (&Task, &ComposedCopy)| {
            let mut found = Findings::default();
            added((task, count), composed, (common, making), &mut found).map(|added| (added, found))
        };
        let added: Result<Vec<(Option<Added>, Findings)>, Bug> = few.par_iter().zip(&composed).map(add).collect();
        let (mut painted, mut next) = (Vec::new(), Next::More);
        for (added, told) in added? {
            told.iter().for_each(|finding| found.push(finding.clone()));
            let Some(added) = added else {
                next = Next::NotSet;
                continue;
            };
            self.done.join(added.done);
            painted.extend(added.painted);
        }
        let first = composed.first().map(|composed| composed.copy.document());
        let pages = u64::try_from(self.done.sizes.len()).unwrap_or(u64::MAX);
        if let Some(finding) = first.and_then(|document| more_pages(pages, document)) {
            found.push(finding);
            next = Next::NotSet;
        }
        match next {
            Next::More => self.write(painted),
            next => Ok(next),
        }
    }

    fn write(&mut self, painted: Vec<PaintedJob>) -> Result<Next, Bug> {
        let (making, common, name) = (self.making, self.common, &self.name);
        let Some(head) = &self.done.head else { return Ok(Next::More) };
        let open = self.open.get_or_insert_with(|| OpenStack {
            pdf: matches!(making.sheets, Sheets::Painted | Sheets::Written(_))
                .then(|| OpenPdf::new(common.plates(), head)),
            out: Out::of(making.sheets, name),
        });
        if let Some(pdf) = &mut open.pdf {
            pdf.take(painted)?;
            open.out.write(&pdf.bytes());
        }
        Ok(if matches!(open.out, Out::Failed(_)) { Next::NotWritten } else { Next::More })
    }
}

/// Sets a copy of so many, and paints it.
fn added(
    (task, count): (&Task, usize),
    ComposedCopy { copy, text, hash }: &ComposedCopy,
    (common, making): (&Common<'_>, &Making<'_>),
    found: &mut Findings,
) -> Result<Option<Added>, Bug> {
    let set = |pen: &Pen| own_sheets(common, (copy, count), pen, found);
    let Some(job) = making.pens.with(set) else { return Ok(None) };
    let mut of_copies = OfCopies::default();
    of_copies.take(task, copy, (text, hash), making.told);
    if making.told.is_some() {
        of_copies.panels = panel_texts(&job);
    }
    let is_painted = matches!(making.sheets, Sheets::Painted | Sheets::Written(_));
    let painted = is_painted.then(|| common.plates().paint(&job)).transpose()?;
    let placements = if matches!(making.sheets, Sheets::Painted) { job.placements() } else { Vec::new() };
    let sizes = job.pages.iter().map(|page| page.size).collect();
    let says = says(copy.document(), count);
    let head = Some(Job { says, panels: Vec::new(), pages: Vec::new(), ..job });
    Ok(Some(Added { done: Done { head, of_copies, sizes, placements }, painted }))
}

impl Done {
    fn join(&mut self, other: Self) {
        let before = self.sizes.len();
        self.of_copies.join(other.of_copies);
        self.sizes.extend(other.sizes);
        let moved = |placed: Placement| Placement { page: placed.page + before, ..placed };
        self.placements.extend(other.placements.into_iter().map(moved));
        if self.head.is_none() {
            self.head = other.head;
        }
    }
}

/// Where the bytes go.
enum Out<'c> {
    Held(Vec<u8>),
    /// With the hash of what was written, and how many bytes.
    Written(Box<dyn SinkFile + 'c>, Sha256, u64),
    Failed(Failure),
}

impl<'c> Out<'c> {
    fn of(sheets: Sheets<'c>, name: &str) -> Self {
        match sheets {
            Sheets::Written(sink) => match sink.open(name) {
                Ok(file) => Self::Written(file, Sha256::new(), 0),
                Err(failure) => Self::Failed(failure),
            },
            Sheets::Kept | Sheets::Judged | Sheets::Painted => Self::Held(Vec::new()),
        }
    }

    fn write(&mut self, bytes: &[u8]) {
        match self {
            Self::Held(held) => held.extend(bytes),
            Self::Written(file, hash, count) => match file.write(bytes) {
                Ok(()) => {
                    hash.update(bytes);
                    *count = count.saturating_add(u64::try_from(bytes.len()).unwrap_or(u64::MAX));
                }
                Err(failure) => *self = Self::Failed(failure),
            },
            Self::Failed(_) => {}
        }
    }

    /// The last bytes; what is held of all, or what is known of them.
    fn end(mut self, rest: &[u8]) -> Result<(Vec<u8>, Option<WrittenBytes>), Failure> {
        self.write(rest);
        match self {
            Self::Held(held) => Ok((held, None)),
            Self::Written(file, hash, bytes) => {
                file.finish()?;
                Ok((Vec::new(), Some(WrittenBytes { sha256: hexadecimal(&hash.finalize()), bytes })))
            }
            Self::Failed(failure) => Err(failure),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Out;
    use crate::copies::Sheets;
    use crate::ground::{Failure, Sink, SinkFile};
    use crate::ledger::sha256;
    use std::sync::Mutex;

    /// Takes so many bytes in all.
    struct Narrow(Mutex<(Vec<u8>, usize)>);

    impl Sink for Narrow {
        fn open<'a>(&'a self, _: &str) -> Result<Box<dyn SinkFile + 'a>, Failure> {
            Ok(Box::new(&self.0))
        }
    }

    impl SinkFile for &Mutex<(Vec<u8>, usize)> {
        fn write(&mut self, bytes: &[u8]) -> Result<(), Failure> {
            let (held, most) = &mut *self.lock().unwrap();
            held.extend(bytes);
            if held.len() > *most { Err(Failure::new("disk", "full")) } else { Ok(()) }
        }

        fn finish(self: Box<Self>) -> Result<(), Failure> {
            Ok(())
        }
    }

    #[test]
    fn bytes_are_counted_and_hashed_as_they_are_written() {
        let sink = Narrow(Mutex::new((Vec::new(), 100)));
        let mut out = Out::of(Sheets::Written(&sink), "a.pdf");
        out.write(b"one ");
        out.write(b"two ");
        let (held, written) = out.end(b"three").unwrap();
        assert!(held.is_empty());
        let all = sink.0.lock().unwrap().0.clone();
        assert_eq!(all, b"one two three");
        assert_eq!(written.map(|written| (written.sha256, written.bytes)), Some((sha256(&all), 13)));
    }

    #[test]
    fn a_full_disk_is_told_and_nothing_more_is_written() {
        let sink = Narrow(Mutex::new((Vec::new(), 5)));
        let mut out = Out::of(Sheets::Written(&sink), "a.pdf");
        out.write(b"123456");
        out.write(b"789");
        assert_eq!(out.end(b"0").unwrap_err().cause, "full");
        assert_eq!(sink.0.lock().unwrap().0, b"123456");
    }
}
