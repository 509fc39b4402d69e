//! The editions of a plan that were issued, as a file beside the plan keeps them: each once, none changed afterwards.

use super::issued_world::{IssuedWorld, of_plan};
use super::manifest::{ByHolder, Entry};
use super::rules::{EDITION_ISSUED_OTHERWISE, EDITION_NOT_ENTERED, EDITION_NUMBER_FELL, EDITIONS_UNREADABLE};
use super::sha256;
use crate::compose::{CopyNumbers, copy_numbers};
use crate::ground::{At, Day, Failure, Files, Finding, Findings, ReadFault, Span, World, caps};
use crate::source::{EDITIONS, ISSUED, Node, Reading, Value, Whole, parse, record, record_of};
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
        /// Its sets of papers; none of a plan without kits when left out.
        sets as "set": Vec<IssuedSet>,
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

    /// The sets of a kit that have holders.
    #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
    pub struct IssuedSet = "set" {
        /// The kit's id, as `my-set`.
        kit: String,
        /// The sets, one for each holder; none when left out.
        copies as "copy": Vec<IssuedSetCopy>,
    }

    /// A holder's set.
    #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
    pub struct IssuedSetCopy = "copy" {
        /// Its number among the sets of its kit, as `3`.
        number: String,
        /// The holder's id, as `qra`.
        holder: String,
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
        /// SHA-256 of all that this copy says, without the edition's number and days, as `9f86d081`; its code tells for it when left out.
        content: Option<String>,
    }
}

/// The editions that were issued, in order.
#[derive(Clone, Debug, Default)]
pub struct Editions {
    /// Each edition, oldest first.
    pub issued: Vec<IssuedEdition>,
    text: String,
    is_sound: bool,
    /// Numbers of plans in the folder of issued ones that are higher than any that was entered.
    beyond: Vec<u32>,
}

impl IssuedPaper {
    /// The papers of finished files, their copies numbered by document and holder, by the numbers given before. None of a file without
    /// a code.
    #[must_use]
    pub fn all<'a>(entries: impl IntoIterator<Item = &'a Entry>, given: &CopyNumbers) -> Vec<Self> {
        Self::numbered(entries.into_iter().filter_map(Self::of).collect(), given)
    }

    /// The paper of a finished file, its copies not numbered yet.
    fn of(entry: &Entry) -> Option<Self> {
        let file = entry.name.strip_suffix(".pdf")?.to_owned();
        let (code, content) = (entry.code.clone()?, entry.content.as_ref()?);
        let of_holder = entry.holder.as_ref().and_then(|holder| file.strip_suffix(&format!("-{holder}")));
        let document = of_holder.unwrap_or(&file).to_owned();
        let map = |values: &ByHolder| values.iter().cloned().collect::<BTreeMap<_, _>>();
        let (contents, codes) = (map(&entry.holder_content), map(&entry.holder_code));
        let paper = Self::new((file, entry.audience.clone()), code, content, &contents);
        Some(paper.with_copies(&document, &codes, &contents))
    }

    /// The same as a paper of this document, with the own code of each holder and the hash of what that copy says.
    #[must_use]
    pub fn with_copies(
        self,
        document: &str,
        own_codes: &BTreeMap<String, String>,
        contents: &BTreeMap<String, String>,
    ) -> Self {
        let copy = |(holder, own): (&String, &String)| IssuedCopy {
            number: String::new(),
            holder: holder.clone(),
            own: own.clone(),
            content: contents.get(holder).cloned(),
        };
        let document = Some(document.to_owned()).filter(|document| *document != self.file);
        Self { document, copies: own_codes.iter().map(copy).collect(), ..self }
    }

    /// Whether it says what another says: in all, or on every holder's copy. The code that all copies share is another already where
    /// one holder comes; what the others' copies say is not.
    #[must_use]
    pub fn says_what(&self, other: &Self) -> bool {
        let is_alike = |(one, two): (&IssuedCopy, &IssuedCopy)| one.holder == two.holder && one.says_what(two);
        self.content == other.content
            || (!self.copies.is_empty()
                && self.audience == other.audience
                && self.copies.len() == other.copies.len()
                && self.copies.iter().zip(&other.copies).all(is_alike))
    }

    /// The id of its document.
    #[must_use]
    pub fn document(&self) -> &str {
        self.document.as_deref().unwrap_or(&self.file)
    }

    /// Papers with their copies numbered: a holder of a document keeps the number that was given before.
    #[must_use]
    pub fn numbered(mut papers: Vec<Self>, given: &CopyNumbers) -> Vec<Self> {
        let mut holders: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for paper in &papers {
            let own = holders.entry(paper.document().to_owned()).or_default();
            own.extend(paper.copies.iter().map(|copy| copy.holder.clone()));
        }
        let number = |(document, holders): (String, BTreeSet<String>)| {
            let numbers = copy_numbers(&holders, given.get(&document));
            (document, numbers)
        };
        let numbers: CopyNumbers = holders.into_iter().map(number).collect();
        for paper in &mut papers {
            let numbers = numbers.get(paper.document());
            for copy in &mut paper.copies {
                let number = numbers.and_then(|numbers| numbers.get(&copy.holder)).copied().unwrap_or_default();
                copy.number = number.to_string();
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

impl IssuedCopy {
    /// Whether it says what another copy says: by the hash of all that it says, or by its code where none was entered.
    #[must_use]
    pub fn says_what(&self, other: &Self) -> bool {
        let contents = Option::zip(self.content.as_ref(), other.content.as_ref());
        self.own == other.own && contents.is_none_or(|(one, two)| one == two)
    }
}

impl IssuedSet {
    /// The sets of finished files, numbered as papers are.
    #[must_use]
    pub fn all<'a>(covers: impl IntoIterator<Item = &'a Entry>, given: &CopyNumbers) -> Vec<Self> {
        let mut holders: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for entry in covers {
            let stem = entry.name.strip_suffix(".pdf").unwrap_or(&entry.name);
            let kit = entry.holder.as_ref().and_then(|holder| stem.strip_suffix(&format!("-{holder}")));
            let own = holders.entry(kit.unwrap_or(stem).to_owned()).or_default();
            own.extend(entry.holder_code.iter().map(|(holder, _)| holder.clone()));
        }
        let set = |(kit, holders): (String, BTreeSet<String>)| {
            let numbers = copy_numbers(&holders, given.get(&kit));
            let copy = |(holder, number): (String, usize)| IssuedSetCopy { number: number.to_string(), holder };
            Self { kit, copies: numbers.into_iter().map(copy).collect() }
        };
        holders.into_iter().map(set).collect()
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
            Err(ReadFault::Missing) => {
                let none = Self { is_sound: true, ..Self::default() };
                return Ok(Self { beyond: none.beyond(world), ..none });
            }
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
        let read = Self { issued, text, is_sound, beyond: Vec::new() };
        Ok(Self { beyond: read.beyond(world), ..read })
    }

    /// Plans that stand among those issued with a number that none has which was entered. Where the folder cannot be listed, none is
    /// known of.
    fn beyond(&self, world: &dyn World) -> Vec<u32> {
        let last = self.issued.last().map_or(0, |last| last.number.value.get());
        let number = |name: &String| -> Option<u32> {
            name.strip_prefix(ISSUED)?.strip_prefix('/')?.strip_suffix(".toml")?.parse().ok()
        };
        let names = world.list().unwrap_or_default();
        let mut numbers: Vec<u32> = names.iter().filter_map(number).filter(|number| *number > last).collect();
        numbers.sort_unstable();
        numbers
    }

    /// Whether a plan stands among those issued that was never entered.
    #[must_use]
    pub const fn has_more(&self) -> bool {
        !self.beyond.is_empty()
    }

    /// The first plan among those issued that was never entered, and is not this one, by its number and text: what a stopped run left is
    /// completed by the next one.
    #[must_use]
    pub fn not_entered(&self, world: &dyn World, own: Option<(u32, &str)>) -> Option<u32> {
        let is_own = |number: u32| {
            let Some((_, text)) = own.filter(|(own, _)| *own == number) else { return false };
            let read = world.read(&IssuedWorld::root(number), caps::PLAN_FILE.most);
            read.is_ok_and(|bytes| String::from_utf8(bytes).is_ok_and(|there| of_plan(&as_written(there)) == text))
        };
        self.beyond.iter().copied().find(|number| !is_own(*number))
    }

    /// Reports a plan among those issued that was never entered.
    pub fn judge_entries(
        &self,
        world: &dyn World,
        (number, text): (&At<Whole<u32, 1, 99_999_999, true>>, &str),
        found: &mut Findings,
    ) {
        let Some(beyond) = self.not_entered(world, Some((number.value.get(), text))).filter(|_| self.is_sound) else {
            return;
        };
        let file = IssuedWorld::root(beyond);
        let last = self
            .issued
            .last()
            .map_or_else(|| "has no edition".to_owned(), |last| format!("ends with edition {}", last.number.value));
        let what = format!("{file} is the plan of an edition that was issued, and {EDITIONS} {last}");
        let finding =
            Finding::new(&EDITION_NOT_ENTERED, number.span, what).label("cannot be told from what was given out");
        found.push(finding.help(format!(
            "put {EDITIONS} back with its last entry, from the team's copies; if `issue` was stopped before it was through, remove {file}"
        )));
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

    /// The numbers that copies were given up to the edition of this number: by document or kit, then by holder; the first counts.
    #[must_use]
    pub fn given(&self, number: u32) -> CopyNumbers {
        let mut given = CopyNumbers::new();
        let mut give = |document: &str, holder: &str, number: &str| {
            let of = given.entry(document.to_owned()).or_default();
            of.entry(holder.to_owned()).or_insert_with(|| number.parse().unwrap_or_default());
        };
        for edition in self.issued.iter().filter(|edition| edition.number.value.get() <= number) {
            for (paper, copy) in
                edition.papers.iter().flat_map(|paper| paper.copies.iter().map(move |copy| (paper, copy)))
            {
                give(paper.document(), &copy.holder, &copy.number);
            }
            for (set, copy) in edition.sets.iter().flat_map(|set| set.copies.iter().map(move |copy| (set, copy))) {
                give(&set.kit, &copy.holder, &copy.number);
            }
        }
        given
    }

    /// The text of the file with one edition more.
    #[must_use]
    pub fn with(&self, (number, issued): (u32, Day), plan: &str, papers: &[IssuedPaper], sets: &[IssuedSet]) -> String {
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
            let copy = |IssuedCopy { number, holder, own, content }: &IssuedCopy| {
                let content = content.as_ref().map_or_else(String::new, |content| format!(", content = \"{content}\""));
                format!("{{ number = \"{number}\", holder = \"{holder}\", own = \"{own}\"{content} }}")
            };
            if !copies.is_empty() {
                let copies: Vec<String> = copies.iter().map(copy).collect();
                let _ = write!(text, ", copy = [{}]", copies.join(", "));
            }
            text.push_str(" },\n");
        }
        text.push_str("]\n");
        if !sets.is_empty() {
            text.push_str("set = [\n");
            for IssuedSet { kit, copies } in sets {
                let copy = |IssuedSetCopy { number, holder }: &IssuedSetCopy| {
                    format!("{{ number = \"{number}\", holder = \"{holder}\" }}")
                };
                let copies: Vec<String> = copies.iter().map(copy).collect();
                let _ = writeln!(text, "    {{ kit = \"{kit}\", copy = [{}] }},", copies.join(", "));
            }
            text.push_str("]\n");
        }
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
