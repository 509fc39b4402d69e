//! A file without its folder: what it says of itself, whether its text has the code that it says, and what the plan at hand knows of it.

use super::calls::{Machine, read};
use super::issued::Issued;
use super::{CommandEnd, say};
use crate::edition::{CANONICAL, read_back};
use crate::ground::{Failure, caps, without_controls};
use crate::ledger::sha256;
use crate::paint::told;
use crate::tables::Tables;
use std::path::Path;

/// Tells of a file beside which no manifest stands.
///
/// # Errors
/// When it cannot be read.
pub fn verify_lone(file: &Path, issued: Option<&Issued>) -> Result<CommandEnd, Failure> {
    let bytes = read(&Machine, file, caps::KIT_FILE.most)
        .map_err(|fault| Failure::new(file.display().to_string(), fault.to_string()))?;
    let told = told(&bytes, usize::try_from(caps::PLAN_FILE.most).unwrap_or(usize::MAX));
    let name = say::path(file);
    let Some(text) = told.text.filter(|text| text.lines().next() == Some(CANONICAL)) else {
        say::out(&format!("{name}: no text of a document goes with it, so it is no paper of ours, or was changed\n"))?;
        return Ok(CommandEnd::ErrorFound);
    };
    let mut lines = Vec::new();
    let code = read_back(&text, &Tables::built_in().spelling).letters;
    let says = told.says.unwrap_or_default();
    lines.push(format!("{name} says of itself: {}", if says.is_empty() { "nothing of an edition" } else { &says }));
    // The code that all copies share, and behind it that of this copy, which the text of one copy has.
    let said = |word: &str| says.split("; ").find_map(|part| part.strip_prefix(word)?.get(..4));
    let fits = said("own ").or_else(|| said("code ")).map(|said| said == code);
    lines.push(match fits {
        Some(true) => format!("its text has the code {code}, as it says"),
        Some(false) => format!("its text has the code {code}, and it says another: it was changed"),
        None => format!("its text has the code {code}"),
    });
    let is_valid = match issued {
        Some(issued) => {
            let (words, is_valid) = issued.of_text(&sha256(text.as_bytes()), &code);
            lines.push(words);
            is_valid
        }
        None => {
            lines.push("with --plan PLAN: whether an edition that was issued has this text, and which".to_owned());
            true
        }
    };
    lines.push(
        "no manifest stands beside it, so that its bytes are not compared: what is drawn may be another than its text"
            .to_owned(),
    );
    let safe: Vec<String> = lines.iter().map(|line| without_controls(line)).collect();
    say::out(&format!("{}\n", safe.join("\n")))?;
    Ok(if fits == Some(false) || !is_valid { CommandEnd::ErrorFound } else { CommandEnd::Clean })
}
