//! What changed, to be passed by radio; and whether what was received is what was sent.

use super::calls::{Machine, read};
use super::disk::DiskWorld;
use super::terminal::Format;
use super::{CommandEnd, located, report, say};
use crate::Halt;
use crate::compose::{Bulletin, MOST_MINUTES};
use crate::edition::{LineFault, ReadLines, plain, read_lines, to_lines};
use crate::ground::{Audience, Failure, caps, plural, without_controls};
use crate::plan::WORDS_A_MINUTE;
use std::collections::BTreeSet;
use std::path::Path;

/// What is written.
pub struct Passed {
    /// Lines of text for data modes, in place of what is read out.
    pub is_text: bool,
    /// The channels, in place of the changes.
    pub is_channels: bool,
}

/// Writes the bulletin of a plan's edition.
///
/// # Errors
/// When the plan cannot be read, or by a bug.
pub fn bulletin(plan: &Path, audience: Option<&str>, what: Passed) -> Result<CommandEnd, Halt> {
    let readers = audience.map_or(Ok(Audience::Public), |word| {
        Audience::parse(word).map_err(|refusal| Failure::new(word, format!("this is no audience: {}", refusal.what)))
    })?;
    let Some(bulletin) = made(plan, readers)? else {
        say::err("no bulletin was written: mend the errors first\n");
        return Ok(CommandEnd::ErrorFound);
    };
    if bulletin.of.is_none() && !what.is_channels {
        let why = "no edition was issued before this one, so nothing can be told as a change; send --channels";
        return Err(Failure::new(plan.display().to_string(), why).into());
    }
    if bulletin.is_draft {
        say::err("this edition is not issued: nothing of it is for the air yet\n");
    }
    let text = match what {
        Passed { is_channels: true, .. } => to_lines(&bulletin.channel_sentences()),
        Passed { is_text: true, .. } => to_lines(&bulletin.sentences()),
        Passed { .. } => voice(&bulletin),
    };
    say::out(&text)?;
    Ok(CommandEnd::Clean)
}

/// The bulletin of a plan; none of one with errors, which are told.
fn made(plan: &Path, readers: Audience) -> Result<Option<Bulletin>, Halt> {
    let (world, root) = DiskWorld::open(plan)?;
    let (outcome, bulletin) = crate::bulletin(&world, &root, readers).map_err(|halt| match halt {
        Halt::Failure(failure) => Halt::Failure(located(plan, &failure)),
        bug @ Halt::Bug(_) => bug,
    })?;
    if outcome.findings.errors() > 0 {
        report(&outcome, Format::Short)?;
    }
    Ok(bulletin)
}

/// What is read out, numbered.
fn voice(bulletin: &Bulletin) -> String {
    let (words, minutes) = (plural(bulletin.words(), "word"), plural(bulletin.minutes(), "minute"));
    let mut text = format!(
        "bulletin {}: {words}, about {minutes} at {WORDS_A_MINUTE} words a minute, read back\n",
        bulletin.serial()
    );
    let codes = bulletin.codes.iter().map(|code| &code.spoken);
    let lines: Vec<&String> = match bulletin.is_too_large() {
        true => {
            text.push_str(&format!(
                "too large to be read out: more than {MOST_MINUTES} minutes; give out the new sheets, or send --text; the codes alone:\n"
            ));
            codes.collect()
        }
        false => bulletin.lines.iter().map(|line| &line.spoken).chain(codes).collect(),
    };
    for (number, line) in (1..).zip(lines) {
        text.push_str(&format!("{number:>3}  {line}.\n"));
    }
    text
}

/// Reads lines back, and says what is wrong with them, what edition they make of which, and whether the plan at hand says the same.
///
/// # Errors
/// When the file or the plan cannot be read, or by a bug.
pub fn verify(file: &Path, plan: Option<&Path>) -> Result<CommandEnd, Halt> {
    let fail = |why: String| Failure::new(file.display().to_string(), why);
    let bytes = read(&Machine, file, caps::BULLETIN_BYTES.most).map_err(|fault| fail(fault.to_string()))?;
    // What is no text has no sound lines either; each odd byte is a damaged character.
    let lines = read_lines(&String::from_utf8_lossy(&bytes));
    let mut text = String::new();
    for fault in &lines.faults {
        text.push_str(&format!("{}\n", told(fault)));
    }
    let head = lines.sentences.get(&1).or(lines.first.as_ref()).and_then(|head| HeadLine::of(head));
    let is_whole = lines.faults.is_empty();
    text.push_str(&match (&head, is_whole) {
        (Some(head), true) => format!("{}: {}, all as sent\n", head.words, plural(lines.sentences.len(), "sentence")),
        (Some(head), false) => {
            format!("{}, by its first line; the lines named above were not received as sent\n", head.words)
        }
        (None, true) => "sound lines, but the first does not say of which plan: no bulletin\n".to_owned(),
        (None, false) => "of which edition it is cannot be told\n".to_owned(),
    });
    let mut is_right = is_whole && head.is_some();
    if let (Some(plan), Some(head)) = (plan, &head) {
        let Some(bulletin) = made(plan, Audience::Coordinator)? else {
            say::err("not compared with the plan: mend its errors first\n");
            say::out(&text)?;
            return Ok(CommandEnd::ErrorFound);
        };
        let differences = differences(&lines, head, &bulletin);
        is_right &= differences.is_empty();
        text.push_str(&differences.concat());
        if differences.is_empty() {
            let what = if is_whole {
                "the plan at hand says the same"
            } else {
                "what was received is what the plan at hand says"
            };
            text.push_str(&format!("{what}\n"));
        }
    }
    let safe: Vec<String> = text.lines().map(without_controls).collect();
    say::out(&format!("{}\n", safe.join("\n")))?;
    Ok(if is_right { CommandEnd::Clean } else { CommandEnd::ErrorFound })
}

/// What the first line says.
struct HeadLine {
    words: String,
    is_channels: bool,
}

impl HeadLine {
    fn of(line: &str) -> Option<Self> {
        let bare = line.strip_prefix("DRAFT ").unwrap_or(line);
        let draft = if bare == line { "" } else { "draft: " };
        if let Some((plan, edition)) = bare.strip_prefix("CHANNELS ").and_then(|rest| rest.split_once(": EDITION ")) {
            let edition = edition.to_lowercase();
            return Some(Self { words: format!("{draft}the channels of {plan} edition {edition}"), is_channels: true });
        }
        let (plan, rest) = bare.strip_prefix("BULLETIN ")?.split_once(": EDITION ")?;
        let (old, new) = rest.split_once(" TO ")?;
        let (new, day) = new.split_once(" OF ")?;
        let words = format!("{draft}makes edition {new} of {plan}, issued on {day}, of edition {}", old.to_lowercase());
        Some(Self { words, is_channels: false })
    }
}

/// In what sound sentences differ from what the plan says; of another plan or edition, that alone.
fn differences(lines: &ReadLines, head: &HeadLine, bulletin: &Bulletin) -> Vec<String> {
    let own = if head.is_channels { bulletin.channel_sentences() } else { bulletin.sentences() };
    let own: Vec<String> = own.iter().map(|sentence| plain(sentence)).collect();
    let bare = |line: &str| line.strip_prefix("DRAFT ").unwrap_or(line).to_owned();
    let first = lines.sentences.get(&1).or(lines.first.as_ref()).map(|line| bare(line));
    let expected = own.first().map(|line| bare(line));
    if first != expected {
        return vec![format!("the plan at hand is another: {}\n", expected.unwrap_or_default().to_lowercase())];
    }
    // Which codes were sent depends on who may know them, so that some may not be there.
    let is_code = |sentence: &&String| sentence.starts_with("SHEET ");
    let received: BTreeSet<&String> = lines.sentences.values().collect();
    let said: BTreeSet<&String> = own.iter().collect();
    let of_plan = |(number, sentence): (&usize, &String)| {
        (*number > 1 && !said.contains(sentence))
            .then(|| format!("line {number} is not what the plan at hand says: {sentence}\n"))
    };
    let mut differences: Vec<String> = lines.sentences.iter().filter_map(of_plan).collect();
    if lines.faults.is_empty() {
        let missing = own.iter().skip(1).filter(|sentence| !received.contains(sentence) && !is_code(sentence));
        differences.extend(missing.map(|sentence| format!("the plan at hand says more: {sentence}\n")));
    }
    differences
}

fn told(fault: &LineFault) -> String {
    match fault {
        LineFault::Damaged { at, number, is_spacing } => {
            let number = number.map_or_else(|| "a line without a number".to_owned(), |number| format!("line {number}"));
            let why = if *is_spacing { ": a space too many, or a tab" } else { "" };
            format!("{number} is damaged{why} (line {at} of the file)")
        }
        LineFault::OutOfOrder { at, number } => format!("line {number} stands out of order (line {at} of the file)"),
        LineFault::Missing(number) => format!("line {number} is missing"),
        LineFault::NoEnd => "the last line is missing: more may have been sent".to_owned(),
        LineFault::Count { said, found } => format!("the last line is number {found} and says that there are {said}"),
        LineFault::Foreign => "each line is sound, but some line is of another bulletin".to_owned(),
    }
}
