//! Runs numbered inputs on all cores, watches time and memory, keeps what broke.
#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_macros,
    reason = "a fuzzer reads clock, disk and environment, and says how far it is"
)]

use super::dice::Dice;
use super::stock::Stock;
use super::targets::{Seen, TARGETS, Target};
use std::collections::BTreeMap;
use std::fs;
use std::io::{Seek, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::{Duration, Instant};

/// Most that one input may take; in a test build, which is many times slower, four times that.
const TIME: Duration = Duration::from_secs(if cfg!(debug_assertions) { 20 } else { 5 });
/// Most memory of the whole process, in kilobytes; so no input takes more.
const MEMORY: u64 = 500_000;
/// After so many faults a run is over.
const FAULTS: usize = 20;
/// One input in so many is run twice.
const TWICE: u64 = 64;

/// Which inputs are run.
pub struct Run {
    from: u64,
    to: u64,
    is_replay: bool,
    folder: PathBuf,
    stock: Stock,
}

/// What runs have told so far.
#[derive(Default)]
struct Told {
    faults: Vec<String>,
    seen: Seen,
    /// Inputs, their whole time, the slowest and its number, by target.
    times: BTreeMap<&'static str, (u64, Duration, Duration, u64)>,
    memory: u64,
}

fn number(name: &str) -> Option<u64> {
    let text = std::env::var(name).ok()?;
    Some(text.replace('_', "").parse().expect("a number of inputs"))
}

/// The files of the corpus: target, path, bytes.
pub fn corpus() -> Vec<(String, PathBuf, Vec<u8>)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus");
    let inside = |folder: PathBuf| fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut all = Vec::new();
    for folder in inside(root) {
        let target = folder.file_name().unwrap().to_string_lossy().into_owned();
        all.extend(inside(folder).map(|path| (target.clone(), path.clone(), fs::read(&path).unwrap())));
    }
    all.sort();
    all
}

/// One input by itself: why it fails, if it does.
pub fn judged_alone(target: &Target, bytes: &[u8], seen: &mut Seen) -> Option<String> {
    timed(target, bytes, seen).err()
}

fn timed(target: &Target, bytes: &[u8], seen: &mut Seen) -> Result<(u64, Duration), String> {
    let mut once = || {
        let start = Instant::now();
        let result = catch_unwind(AssertUnwindSafe(|| (target.run)(bytes, seen))).map_err(|cause| {
            let text = cause.downcast_ref::<String>().cloned();
            text.or_else(|| cause.downcast_ref::<&str>().map(ToString::to_string)).unwrap_or_default()
        });
        result.map(|hash| (hash, start.elapsed()))
    };
    let (hash, time) = once()?;
    // A busy machine slows a run down: what seemed slow runs again, and the processor's time counts too. All workers' together,
    // so never less than this input's own.
    if time > TIME {
        let start = processor_time();
        let again = once()?.1;
        let spent = processor_time().zip(start).map_or(again, |(end, start)| again.min(end.saturating_sub(start)));
        if spent > TIME {
            return Err(format!("took {spent:?}"));
        }
    }
    Ok((hash, time))
}

impl Run {
    /// `short` inputs, or what the environment asks for: `FIELDSHEAF_FUZZ` inputs from the number `FIELDSHEAF_FUZZ_FROM` on, or
    /// the one input `FIELDSHEAF_FUZZ_SEED`.
    pub fn of_environment(short: u64) -> Self {
        let seed = number("FIELDSHEAF_FUZZ_SEED");
        let from = seed.or_else(|| number("FIELDSHEAF_FUZZ_FROM")).unwrap_or(0);
        let count = if seed.is_some() { 1 } else { number("FIELDSHEAF_FUZZ").unwrap_or(short) };
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("fuzz");
        fs::create_dir_all(&folder).unwrap();
        Self { from, to: from.saturating_add(count), is_replay: seed.is_some(), folder, stock: Stock::new() }
    }

    pub const fn is_replay(&self) -> bool {
        self.is_replay
    }

    /// All inputs: what broke, and what was seen.
    pub fn all(&self) -> (Vec<String>, Seen) {
        let workers = std::thread::available_parallelism().map_or(1, usize::from);
        let (next, is_over, told) = (AtomicU64::new(self.from), AtomicBool::new(false), Mutex::new(Told::default()));
        let running: Vec<Mutex<Option<(u64, Instant)>>> = (0..workers).map(|_| Mutex::new(None)).collect();
        std::thread::scope(|scope| {
            let workers: Vec<_> = (running.iter().enumerate())
                .map(|(own, slot)| {
                    let (next, told) = (&next, &told);
                    scope.spawn(move || self.work(own, slot, next, told))
                })
                .collect();
            scope.spawn(|| self.watch(&running, &is_over, &told));
            let ends: Vec<_> = workers.into_iter().map(std::thread::ScopedJoinHandle::join).collect();
            is_over.store(true, Ordering::Relaxed);
            ends.into_iter().for_each(|end| end.unwrap());
        });
        let told = told.into_inner().unwrap();
        told.report();
        (told.faults, told.seen)
    }

    /// The target and the bytes of an input.
    fn input(&self, seed: u64) -> (&'static Target, Vec<u8>) {
        let mut dice = Dice::new(seed);
        let mut place = dice.below(TARGETS.iter().map(|target| target.share).sum());
        let target = TARGETS.iter().find(|target| {
            let is_here = place < target.share;
            place = place.saturating_sub(target.share);
            is_here
        });
        let target = target.unwrap();
        (target, (target.make)(&self.stock, &mut dice))
    }

    fn work(&self, own: usize, slot: &Mutex<Option<(u64, Instant)>>, next: &AtomicU64, told: &Mutex<Told>) {
        // After an abort, which nothing catches, this file names the input that ran.
        let mut now = fs::File::create(self.folder.join(format!("now-{own}"))).unwrap();
        let mut seen = Seen::new();
        loop {
            let seed = next.fetch_add(1, Ordering::Relaxed);
            if seed >= self.to || told.lock().unwrap().faults.len() >= FAULTS {
                break;
            }
            now.rewind().unwrap();
            writeln!(now, "{seed:20}").unwrap();
            let (target, bytes) = self.input(seed);
            *slot.lock().unwrap() = Some((seed, Instant::now()));
            let result = timed(target, &bytes, &mut seen);
            let again = seed.is_multiple_of(TWICE).then(|| timed(target, &bytes, &mut Seen::new()));
            *slot.lock().unwrap() = None;
            let is_stable = again.is_none_or(|again| again.map(|it| it.0).ok() == result.as_ref().map(|it| it.0).ok());
            let mut told = told.lock().unwrap();
            for (word, count) in std::mem::take(&mut seen) {
                *told.seen.entry(word).or_default() += count;
            }
            match result {
                Ok((_, time)) if is_stable => told.time(target.name, seed, time),
                Ok(_) => told.faults.push(self.kept(seed, "finds something else when it is run again")),
                Err(why) => told.faults.push(self.kept(seed, &why)),
            }
            if self.is_replay {
                self.kept(seed, "replayed, and kept here");
            }
        }
    }

    /// Writes an input where it can be found, and says so.
    fn kept(&self, seed: u64, why: &str) -> String {
        let (target, bytes) = self.input(seed);
        let path = self.folder.join(format!("{}-{seed}", target.name));
        fs::write(&path, bytes).unwrap();
        let said = format!("FIELDSHEAF_FUZZ_SEED={seed} ({}, {}): {why}", target.name, path.display());
        eprintln!("{said}");
        said
    }

    /// Ends the process where an input never ends; notes how much memory was taken, and says now and then how far the run is.
    fn watch(&self, running: &[Mutex<Option<(u64, Instant)>>], is_over: &AtomicBool, told: &Mutex<Told>) {
        let mut said = Instant::now();
        while !is_over.load(Ordering::Relaxed) {
            std::thread::sleep(Duration::from_millis(20));
            let now: Vec<(u64, Instant)> = running.iter().filter_map(|slot| *slot.lock().unwrap()).collect();
            if let Some((seed, _)) = now.iter().find(|(_, start)| start.elapsed() > TIME * 6) {
                self.kept(*seed, "does not end");
                std::process::exit(101);
            }
            let memory = peak_memory();
            let mut told = told.lock().unwrap();
            if memory > MEMORY && told.memory <= MEMORY {
                let ran = now.iter().map(|(seed, _)| self.kept(*seed, "ran")).collect::<Vec<_>>().join(", ");
                told.faults.push(format!("{memory} kB of memory while these ran: {ran}"));
            }
            told.memory = told.memory.max(memory);
            if said.elapsed() > Duration::from_mins(1) {
                said = Instant::now();
                told.report();
            }
        }
    }
}

/// What the processors spent on this process so far; none where the machine does not say.
fn processor_time() -> Option<Duration> {
    let stat = fs::read_to_string("/proc/self/stat").ok()?;
    // The name of the program, in brackets, may hold anything. After it, user and system time are fields 12 and 13, in hundredths.
    let fields: Vec<&str> = stat.rsplit_once(')')?.1.split_whitespace().collect();
    let ticks: u64 = [11, 12].iter().map_while(|field| fields.get(*field)?.parse::<u64>().ok()).sum();
    Some(Duration::from_millis(ticks * 10))
}

/// In kilobytes; 0 where the machine does not say.
fn peak_memory() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap_or_default();
    line.trim().trim_end_matches(" kB").parse().unwrap_or(0)
}

impl Told {
    fn time(&mut self, target: &'static str, seed: u64, time: Duration) {
        let (count, all, most, of) = self.times.entry(target).or_default();
        (*count, *all) = (*count + 1, *all + time);
        if time > *most {
            (*most, *of) = (time, seed);
        }
    }

    fn report(&self) {
        let inputs: u64 = self.times.values().map(|it| it.0).sum();
        let rules = fieldsheaf::rules().into_iter().filter(|rule| self.seen.contains_key(rule.name)).count();
        eprintln!("{inputs} inputs, {} faults, {rules} rules, {} kB at most", self.faults.len(), self.memory);
        for (target, (count, all, most, seed)) in &self.times {
            let mean = all.as_micros() / u128::from(*count).max(1);
            eprintln!("  {target:10} {count:9} inputs, {mean:6} us each, {:7} us at most ({seed})", most.as_micros());
        }
        eprintln!("  {:?}", self.seen);
    }
}
