//! A plan into a folder of documents.

use super::disk::DiskWorld;
use super::terminal::Format;
use super::{End, kit, located, report, say};
use crate::ground::{Audience, Failure, nearest, plural};
use crate::{Halt, Wanted, compose};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::path::Path;
use std::time::Duration;

/// What the options ask for.
///
/// # Errors
/// When a kind or an audience does not exist.
pub fn wanted(kind: Option<String>, holder: Option<String>, audience: Option<&str>) -> Result<Wanted, Failure> {
    if let Some(name) = &kind
        && !compose::KINDS.iter().any(|kind| kind.name == name)
    {
        let near = nearest(name, compose::KINDS.iter().map(|kind| kind.name));
        let help = near.map_or_else(String::new, |near| format!("; did you mean {near}?"));
        return Err(Failure::new(name.as_str(), format!("no document kind is called this{help}")));
    }
    let audience = audience.map(|word| {
        Audience::parse(word).map_err(|refusal| Failure::new(word, format!("this is no audience: {}", refusal.what)))
    });
    Ok(Wanted { kind, holder, audience: audience.transpose()? })
}

/// Checks, makes and writes; says what was found and what was written.
pub fn build(plan: &Path, out: &Path, wanted: &Wanted, format: Format, threads: Option<usize>) -> Result<End, Halt> {
    let (world, root) = DiskWorld::open(plan)?;
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads.unwrap_or(0)).build();
    let pool = pool.map_err(|fault| Failure::new("threads", fault.to_string()))?;
    let bar = Bar::new();
    let result = pool.install(|| crate::build(&world, &root, wanted, &|done, all| bar.show(done, all)));
    bar.0.finish_and_clear();
    let (outcome, kit) = result.map_err(|halt| match halt {
        Halt::Failure(failure) if failure.path == root => Halt::Failure(located(plan, &failure)),
        other => other,
    })?;
    let end = report(&outcome, format)?;
    let Some(kit) = kit else {
        say::err("nothing was written: mend the errors first\n");
        return Ok(end);
    };
    kit::write(&kit, out)?;
    let files = plural(kit.files.len(), "document");
    say::err(&format!("{}: {files}, {} edition {}\n", out.display(), kit.plan, kit.edition));
    Ok(end)
}

/// A bar that shows itself when a build lasts longer than a second, on a terminal alone.
struct Bar(ProgressBar);

impl Bar {
    fn new() -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
        let style = ProgressStyle::with_template("{bar:30} {pos} of {len} documents");
        Self(style.map_or_else(|_| bar.clone(), |style| bar.clone().with_style(style)))
    }

    fn show(&self, done: usize, all: usize) {
        if self.0.elapsed() > Duration::from_secs(1) {
            self.0.set_length(u64::try_from(all).unwrap_or(0));
            self.0.set_position(u64::try_from(done).unwrap_or(0));
        }
    }
}
