//! A file in which the copies of many holders stand, each on sheets of its own: some of them are composed and set at a time, painted,
//! written, and let go, so that a file takes no more memory than its copies do one by one.

use crate::Halt;
use crate::compose::Task;
use crate::copies::{Common, ComposedCopy, Making, OfCopies, PaintedFile, Set, Sheets, more_pages, own_sheets, says};
use crate::ground::{Bug, Failure, Findings, SinkFile, Size, on_all_threads};
use crate::ledger::{WrittenBytes, hexadecimal};
use crate::paint::{OpenPdf, PaintedJob};
use crate::sheet::{Job, Placement};
use crate::since::panel_texts;
use sha2::{Digest, Sha256};
use std::mem;
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
    let hand = Hand { count: copies.len(), common: &common, making };
    let mut stack = GrowingFile { name, hand, done: Done::default(), open: None };
    let mut painted = Vec::new();
    for few in copies.chunks(AT_ONCE) {
        // Those before are written while these are made.
        let before = mem::take(&mut painted);
        let (written, made) = rayon::join(|| stack.write(before), || hand.made(few));
        if !written? {
            break;
        }
        match stack.keep(made?, found) {
            Some(made) => painted = made,
            None => return Ok(None),
        }
        common.forget_own();
    }
    stack.write(painted)?;
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

/// By what its copies are made.
#[derive(Clone, Copy)]
struct Hand<'c, 'a> {
    /// How many it will have.
    count: usize,
    common: &'c Common<'a>,
    making: &'c Making<'c>,
}

/// A file that grows.
struct GrowingFile<'c, 'a> {
    name: String,
    hand: Hand<'c, 'a>,
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

/// What one copy adds to its file.
struct Added {
    done: Done,
    painted: Option<PaintedJob>,
}

/// Copies that were made one beside the other, and what each adds, where it could be set.
struct Made {
    composed: Vec<ComposedCopy>,
    added: Vec<(Option<Added>, Findings)>,
}

impl Hand<'_, '_> {
    /// Composes, sets and paints some copies.
    fn made(self, few: &[Task]) -> Result<Made, Bug> {
        let compose = |task: &Task| ComposedCopy::of(task, self.common, self.making);
        let composed = on_all_threads(few, 1, compose).into_iter().collect::<Result<Vec<ComposedCopy>, Bug>>()?;
        let add = |(task, composed): (&Task, &ComposedCopy)| {
            let mut found = Findings::default();
            self.added(task, composed, &mut found).map(|added| (added, found))
        };
        let added = on_all_threads(few.iter().zip(&composed), 1, add).into_iter().collect::<Result<Vec<_>, Bug>>()?;
        Ok(Made { composed, added })
    }

    /// Sets a copy, and paints it.
    fn added(self, task: &Task, composed: &ComposedCopy, found: &mut Findings) -> Result<Option<Added>, Bug> {
        let Self { count, common, making } = self;
        let copy = &composed.copy;
        let Some(job) = own_sheets(common, (copy, count), making.pen, found) else { return Ok(None) };
        let mut of_copies = OfCopies::default();
        of_copies.take(task, copy, composed.said(), making.told);
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
}

impl GrowingFile<'_, '_> {
    /// Keeps what is to be kept of copies, and gives what is to be written. None where one of them cannot be set.
    fn keep(&mut self, made: Made, found: &mut Findings) -> Option<Vec<PaintedJob>> {
        let (mut painted, mut are_set) = (Vec::new(), true);
        for (added, told) in made.added {
            told.iter().for_each(|finding| found.push(finding.clone()));
            match added {
                Some(added) => {
                    self.done.join(added.done);
                    painted.extend(added.painted);
                }
                None => are_set = false,
            }
        }
        let pages = u64::try_from(self.done.sizes.len()).unwrap_or(u64::MAX);
        let first = made.composed.first().map(|composed| composed.copy.document());
        if let Some(finding) = first.and_then(|document| more_pages(pages, document)) {
            found.push(finding);
            are_set = false;
        }
        are_set.then_some(painted)
    }

    /// Writes some; whether the machine takes them.
    fn write(&mut self, painted: Vec<PaintedJob>) -> Result<bool, Bug> {
        let Hand { common, making, .. } = self.hand;
        let Some(head) = &self.done.head else { return Ok(true) };
        let open = self.open.get_or_insert_with(|| OpenStack {
            pdf: matches!(making.sheets, Sheets::Painted | Sheets::Written(_))
                .then(|| OpenPdf::new(common.plates(), head)),
            out: Out::of(making.sheets, &self.name),
        });
        if let Some(pdf) = &mut open.pdf {
            pdf.take(painted)?;
            open.out.write(&pdf.bytes());
        }
        Ok(!matches!(open.out, Out::Failed(_)))
    }
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
