//! Frequencies for the channels that want one, proposed or written into the plan.

use super::calls::Machine;
use super::disk::DiskWorld;
use super::part::replace;
use super::{CommandEnd, report, say, terminal};
use crate::checks::{Allotment, Allotted};
use crate::ground::{Failure, Files, plural};
use std::path::Path;

/// Proposes; with `is_writing` replaces the words in the plan's files, and nothing else in them.
///
/// # Errors
/// When the plan cannot be read or a file of it cannot be written.
pub fn allot(plan: &Path, is_writing: bool) -> Result<CommandEnd, Failure> {
    let (world, root) = DiskWorld::open(plan)?;
    let outcome = crate::allot(&world, &root)?;
    let Some(allotment) = outcome.allotment else {
        report(&outcome.outcome, terminal::Format::Full)?;
        say::err("nothing was proposed: mend the errors first\n");
        return Ok(CommandEnd::ErrorFound);
    };
    match allotment {
        Allotment::Nothing { why, is_proved } => {
            let how =
                if is_proved { "there is no choice without conflict" } else { "no choice without conflict was found" };
            say::out(&format!("{how}: {why}\n"))?;
            Ok(CommandEnd::ErrorFound)
        }
        Allotment::Found { channels, .. } if channels.is_empty() => {
            say::out("no channel asks for a frequency: write `simplex = \"allot\"` and a `pool`\n")?;
            Ok(CommandEnd::Clean)
        }
        Allotment::Found { channels, is_best } => {
            for channel in &channels {
                say::out(&line(channel))?;
            }
            let how = if is_best {
                "no other choice has less against it: the rules for each channel, channels side by side, products at sites"
            } else {
                "a good choice; not all were tried"
            };
            say::out(&format!("{}: {how}\n", plural(channels.len(), "channel")))?;
            if is_writing {
                write(&world, &outcome.outcome.files, &channels)?;
            } else {
                say::err("nothing was written; `--write` puts them into the plan\n");
            }
            Ok(CommandEnd::Clean)
        }
    }
}

/// `TAC 1  146.430 MHz  of 24 open; ruled out: 3 calling-frequency-worked`.
fn line(channel: &Allotted) -> String {
    let warned = if channel.warned.is_empty() {
        String::new()
    } else {
        format!("; warns: {}", channel.warned.iter().copied().collect::<Vec<_>>().join(", "))
    };
    let ruled: Vec<String> = channel.ruled_out.iter().map(|(rule, count)| format!("{count} {rule}")).collect();
    let ruled = if ruled.is_empty() { String::new() } else { format!("; ruled out: {}", ruled.join(", ")) };
    format!("{}  {}  of {} open{warned}{ruled}\n", channel.name, channel.frequency, channel.open)
}

/// Replaces each word where it stands: comments, spacing and all else stay as they are.
fn write(world: &DiskWorld<'_>, files: &Files, channels: &[Allotted]) -> Result<(), Failure> {
    let texts = crate::checks::allotted_texts(files, channels);
    let place = |(file, text): &'_ (String, String)| {
        let place = world.place(file).map_err(|fault| Failure::new(file.as_str(), fault.to_string()))?;
        Ok((place, text.clone().into_bytes()))
    };
    let texts = texts.iter().map(place).collect::<Result<Vec<_>, Failure>>()?;
    replace(&Machine, &texts)?;
    for (place, _) in &texts {
        say::err(&format!("{}: written\n", say::path(place)));
    }
    Ok(())
}
