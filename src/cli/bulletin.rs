//! What is passed on the air of a new edition, and what was received of it.

use super::calls::{Machine, read};
use super::disk::DiskWorld;
use super::terminal::Format;
use super::{CommandEnd, located, report, say};
use crate::Halt;
use crate::edition::{MOST_LINES, MOST_SPOKEN, bulletin_text, bulletin_voice, read_bulletin};
use crate::ground::{Failure, caps, plural, without_controls};
use crate::tables::Tables;
use std::path::Path;

/// Writes the changes since the edition issued before, or the whole channel list.
///
/// # Errors
/// When the plan cannot be read, when there is nothing to tell changes from, or by a bug.
pub fn bulletin(plan: &Path, is_text: bool, is_list: bool) -> Result<CommandEnd, Halt> {
    let (world, root) = DiskWorld::open(plan)?;
    let (outcome, bulletin) = crate::bulletin(&world, &root, is_list).map_err(|halt| match halt {
        Halt::Failure(failure) => Halt::Failure(located(plan, &failure)),
        bug @ Halt::Bug(_) => bug,
    })?;
    if outcome.findings.errors() > 0 {
        return Ok(report(&outcome, Format::Short)?);
    }
    let Some(bulletin) = bulletin else {
        let why = "no edition was issued before this one, or its plan is not in `issued`; `--list` passes all channels";
        return Err(Failure::new(plan.display().to_string(), why).into());
    };
    let (text, most) = if is_text {
        (bulletin_text(&bulletin), MOST_LINES)
    } else {
        (bulletin_voice(&bulletin, &Tables::built_in().spelling), MOST_SPOKEN)
    };
    match text {
        Ok(text) => {
            say::out(&text)?;
            Ok(CommandEnd::Clean)
        }
        Err(lines) => {
            say::err(&format!(
                "{} are more than the {most} of a bulletin: give out the new sheets\n",
                plural(lines, "line")
            ));
            Ok(CommandEnd::ErrorFound)
        }
    }
}

/// Says whether a bulletin is as it was sent, and what it makes of which edition.
///
/// # Errors
/// When the file cannot be read.
pub fn verify(file: &Path) -> Result<CommandEnd, Failure> {
    let fail = |cause: String| Failure::new(file.display().to_string(), cause);
    let bytes = read(&Machine, file, caps::PLAN_FILE.most).map_err(|fault| fail(fault.to_string()))?;
    // A damaged byte is a damaged line like any other.
    let text = String::from_utf8_lossy(&bytes);
    match read_bulletin(&text) {
        Ok(received) => {
            let makes = match received.from {
                Some(from) => format!("makes edition {} of edition {from}", received.to),
                None => format!("is the channel list of edition {}", received.to),
            };
            let mut lines =
                vec![format!("{} {makes}: {}, all as sent", received.plan, plural(received.lines.len(), "statement"))];
            lines.extend(received.lines.iter().map(|line| format!("  {line}")));
            let lines: Vec<String> = lines.iter().map(|line| without_controls(line)).collect();
            say::out(&format!("{}\n", lines.join("\n")))?;
            Ok(CommandEnd::Clean)
        }
        Err(damage) => {
            for damage in &damage {
                say::out(&format!("line {:>2}  {}\n", damage.line, damage.what))?;
            }
            say::out("ask for these lines again; nothing of the bulletin counts before all are right\n")?;
            Ok(CommandEnd::ErrorFound)
        }
    }
}
