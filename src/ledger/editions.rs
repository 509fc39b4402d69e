//! The editions of a plan that were issued, as a file beside the plan keeps them: each once, none changed afterwards.

use super::manifest::Entry;
use super::rules::{EDITION_ISSUED_OTHERWISE, EDITION_NUMBER_FELL, EDITIONS_UNREADABLE};
use super::sha256;
use crate::ground::{At, Day, Failure, Files, Finding, Findings, ReadFault, Span, World, caps};
use crate::source::{EDITIONS, Node, Reading, Value, Whole, parse, record, record_of};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

/// How the file begins.
const HEAD: &str = "# Editions of this plan that were issued. Written by `fieldsheaf issue`: keep it with the plan, and change nothing in it.\n";

record! {
    /// `[[issued]]`: an edition as it was issued.
    #[derive(Clone, Debug)]
    pub struct IssuedEdition = "issued" {
        /// Its number, as `7`.
        number: At<Whole<u32, 1, 99_999_999, true>>,
        /// Day of issue, as the edition had it, as `2026-11-20`.
        issued: At<Day>,
        /// SHA-256 of the plan as it was told in one file, as `9f86d081`.
        plan: At<String>,
        /// Its papers; none of a plan without documents when left out.
        papers as "paper": Vec<IssuedPaper>,
        /// SHA-256 of all that stands above this line in the file, as `9f86d081`.
        seal: At<String>,
    }

    /// A paper of an edition: one file.
    #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
    pub struct IssuedPaper = "paper" {
        /// The file without its ending, as `channel-card`.
        file: String,
        /// Who may read it, as `team`.
        audience: String,
        /// Its read-back code, as `TCLR`.
        code: String,
        /// SHA-256 of all that its copies say, without the edition's number and days, as `9f86d081`.
        content: String,
        /// The id of its document, as `my-channels`; that of its file when left out.
        document: Option<String>,
        /// Its copies that have holders; it is nobody's own when left out.
        copies as "copy": Vec<IssuedCopy>,
    }

    /// A holder's copy of a paper.
    #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
    pub struct IssuedCopy = "copy" {
        /// Its number among the copies of its document, as `3`.
        number: String,
        /// The holder's id, as `qra`.
        holder: String,
        /// The code of this copy alone, as `KTXR`.
        own: String,
    }
}

/// The editions that were issued, in order.
#[derive(Clone, Debug, Default)]
pub struct Editions {
    /// Each edition, oldest first.
    pub issued: Vec<IssuedEdition>,
    text: String,
    is_sound: bool,
}

impl IssuedPaper {
    /// The papers of finished files, their copies numbered by document and holder. None of a file without a code.
    #[must_use]
    pub fn all<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Vec<Self> {
        Self::numbered(entries.into_iter().filter_map(Self::of).collect())
    }

    /// The paper of a finished file, its copies not numbered yet.
    fn of(entry: &Entry) -> Option<Self> {
        let file = entry.name.strip_suffix(".pdf")?.to_owned();
        let (code, content) = (entry.code.clone()?, entry.content.as_ref()?);
        let of_holder = entry.holder.as_ref().and_then(|holder| file.strip_suffix(&format!("-{holder}")));
        let document = of_holder.unwrap_or(&file).to_owned();
        let paper = Self::new((file, entry.audience.clone()), code, content, &entry.holder_content);
        Some(paper.with_copies(&document, &entry.holder_code))
    }

    /// The same as a paper of this document, with the own code of each holder.
    #[must_use]
    pub fn with_copies(self, document: &str, own_codes: &BTreeMap<String, String>) -> Self {
        let copy = |(holder, own): (&String, &String)| IssuedCopy {
            number: String::new(),
            holder: holder.clone(),
            own: own.clone(),
        };
        let document = Some(document.to_owned()).filter(|document| *document != self.file);
        Self { document, copies: own_codes.iter().map(copy).collect(), ..self }
    }

    /// The id of its document.
    #[must_use]
    pub fn document(&self) -> &str {
        self.document.as_deref().unwrap_or(&self.file)
    }

    /// Papers with their copies numbered: those of one document by their holders' ids.
    #[must_use]
    pub fn numbered(mut papers: Vec<Self>) -> Vec<Self> {
        let mut holders: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for paper in &papers {
            let own = holders.entry(paper.document().to_owned()).or_default();
            own.extend(paper.copies.iter().map(|copy| copy.holder.clone()));
        }
        for paper in &mut papers {
            let all: Vec<&String> = holders.get(paper.document()).into_iter().flatten().collect();
            for copy in &mut paper.copies {
                let place = all.iter().position(|holder| **holder == copy.holder).unwrap_or_default();
                copy.number = (place + 1).to_string();
            }
        }
        papers
    }

    /// The paper of this name and audience, of what all its copies share and of what each holder's own says.
    #[must_use]
    pub fn new(
        (file, audience): (String, String),
        code: String,
        shared: &str,
        holders: &BTreeMap<String, String>,
    ) -> Self {
        let mut all = shared.to_owned();
        for (holder, content) in holders {
            // Writing to a string cannot fail.
            let _ = write!(all, "\n{holder} {content}");
        }
        Self { file, audience, code, content: sha256(all.as_bytes()), document: None, copies: Vec::new() }
    }
}

impl Editions {
    /// Reads the file beside the plan; nothing was issued where there is none.
    ///
    /// # Errors
    /// When the file is there and cannot be read.
    pub fn read(world: &dyn World, files: &mut Files, found: &mut Findings) -> Result<Self, Failure> {
        let bytes = match world.read(EDITIONS, caps::MANIFEST_BYTES.most) {
            Ok(bytes) => bytes,
            Err(ReadFault::Missing) => return Ok(Self { is_sound: true, ..Self::default() }),
            Err(fault) => return Err(Failure::new(EDITIONS, fault.to_string())),
        };
        let text = String::from_utf8(bytes).map_err(|_| Failure::new(EDITIONS, "this is not text"))?;
        let text = as_written(text);
        let id = files.add(EDITIONS, text.as_str());
        let errors = found.errors();
        let root = parse(id, &text, found);
        let mut issued: Vec<IssuedEdition> = Vec::new();
        for (kind, node) in root.entries().unwrap_or_default() {
            match &node.value {
                Value::List(items) if kind.text == "issued" => {
                    issued.extend(items.iter().filter_map(|item| edition(item, found)))
                }
                _ => found.push(damaged(kind.span, format!("`{}` is nothing that `issue` writes", kind.text))),
            }
        }
        if found.errors() == errors
            && let Some(finding) = fault(&text, &issued)
        {
            found.push(finding);
        }
        let is_sound = found.errors() == errors;
        Ok(Self { issued, text, is_sound })
    }

    /// Reports a number below one that was issued.
    pub fn judge_number(&self, number: &At<Whole<u32, 1, 99_999_999, true>>, found: &mut Findings) {
        let Some(last) = self.issued.last().filter(|_| self.is_sound) else { return };
        if number.value < last.number.value {
            let what = format!(
                "this is edition {}, and edition {} was issued on {}",
                number.value, last.number.value, last.issued.value
            );
            let next = last.number.value.get() + 1;
            let finding = Finding::new(&EDITION_NUMBER_FELL, number.span, what).label("numbers only rise");
            found.push(
                finding
                    .and(last.number.span, "issued here")
                    .help(format!("write number = {next}"))
                    .fix(number.span, next.to_string()),
            );
        }
    }

    /// Reports papers of an edition that was issued with other content. Papers that it did not have are no matter.
    pub fn judge_papers(
        &self,
        number: &At<Whole<u32, 1, 99_999_999, true>>,
        papers: &[IssuedPaper],
        found: &mut Findings,
    ) {
        let Some(edition) = self.issued.iter().find(|edition| edition.number.value == number.value) else { return };
        let was: BTreeMap<&str, &IssuedPaper> =
            edition.papers.iter().map(|paper| (paper.file.as_str(), paper)).collect();
        let differs =
            |paper: &&IssuedPaper| was.get(paper.file.as_str()).is_some_and(|was| was.content != paper.content);
        let others: Vec<&IssuedPaper> = papers.iter().filter(differs).collect();
        let Some(first) = others.first() else { return };
        let old = was.get(first.file.as_str()).map_or("", |was| was.code.as_str());
        let more = match others.len() {
            1 => String::new(),
            count => format!(" and {} more", count - 1),
        };
        let code = if old == first.code {
            format!("code {old}, its holder's own copy another")
        } else {
            format!("{old}, now {}", first.code)
        };
        let what = format!(
            "edition {} was issued on {} with another {} ({code}){more}",
            number.value, edition.issued.value, first.file
        );
        let next = self.issued.last().map_or(number.value.get(), |last| last.number.value.get()) + 1;
        let finding = Finding::new(&EDITION_ISSUED_OTHERWISE, number.span, what).label("one number, two contents");
        let finding = finding
            .and(edition.number.span, "issued here")
            .note("two stations that compare the edition alone would take them for one");
        found.push(
            finding.help(format!("write number = {next}, or take the change back")).fix(number.span, next.to_string()),
        );
    }

    /// The edition of this number, where it was issued.
    #[must_use]
    pub fn of(&self, number: u32) -> Option<&IssuedEdition> {
        self.issued.iter().find(|edition| edition.number.value.get() == number)
    }

    /// The last edition that was issued with a lower number: what an edition of this number is told against.
    #[must_use]
    pub fn before(&self, number: u32) -> Option<&IssuedEdition> {
        self.issued.iter().rev().find(|edition| self.is_sound && edition.number.value.get() < number)
    }

    /// The text of the file with one edition more.
    #[must_use]
    pub fn with(&self, number: u32, issued: Day, plan: &str, papers: &[IssuedPaper]) -> String {
        let mut text = if self.text.is_empty() { HEAD.to_owned() } else { self.text.clone() };
        let _ = write!(text, "\n[[issued]]\nnumber = {number}\nissued = {issued}\nplan = \"{plan}\"\npaper = [\n");
        for IssuedPaper { file, audience, code, content, document, copies } in papers {
            let _ = write!(
                text,
                "    {{ file = \"{file}\", audience = \"{audience}\", code = \"{code}\", content = \"{content}\""
            );
            if let Some(document) = document {
                let _ = write!(text, ", document = \"{document}\"");
            }
            let copy = |IssuedCopy { number, holder, own }: &IssuedCopy| {
                format!("{{ number = \"{number}\", holder = \"{holder}\", own = \"{own}\" }}")
            };
            if !copies.is_empty() {
                let copies: Vec<String> = copies.iter().map(copy).collect();
                let _ = write!(text, ", copy = [{}]", copies.join(", "));
            }
            text.push_str(" },\n");
        }
        text.push_str("]\n");
        let seal = sha256(text.as_bytes());
        let _ = writeln!(text, "seal = \"{seal}\"");
        text
    }
}

/// A text with the line ends that we write: version control may have given it others.
pub(super) fn as_written(text: String) -> String {
    if text.contains('\r') { text.replace("\r\n", "\n") } else { text }
}

fn edition(node: &Node, found: &mut Findings) -> Option<IssuedEdition> {
    Reading::alone("issued", node.span, found, |of| record_of(node, of))
}

/// What shows that the file is not as it was written: a seal that does not fit, or numbers that do not rise.
fn fault(text: &str, issued: &[IssuedEdition]) -> Option<Finding> {
    for edition in issued {
        let before = usize::try_from(edition.seal.span.start).ok().and_then(|start| text.get(..start));
        let above = before.and_then(|before| before.strip_suffix("seal = "));
        if above.is_none_or(|above| sha256(above.as_bytes()) != edition.seal.value) {
            let what = format!(
                "what stands above the seal of edition {} was changed after it was written",
                edition.number.value
            );
            return Some(damaged(edition.seal.span, what));
        }
    }
    let pair = issued.iter().zip(issued.iter().skip(1)).find(|(one, next)| next.number.value <= one.number.value);
    pair.map(|(one, next)| {
        damaged(next.number.span, format!("edition {} stands behind edition {}", next.number.value, one.number.value))
    })
}

fn damaged(span: Span, what: String) -> Finding {
    let finding = Finding::new(&EDITIONS_UNREADABLE, span, what).label("not as `issue` wrote it");
    finding.help(format!(
        "put {EDITIONS} back as it was, from the team's copies: what was issued cannot be told without it"
    ))
}
