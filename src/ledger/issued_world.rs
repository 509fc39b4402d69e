//! The files of a plan as they were when an edition was issued: its own profile and layouts, of which copies stand beside it.

use super::editions::as_written;
use super::sha256;
use crate::ground::{Failure, ReadFault, World, caps};
use crate::source::ISSUED;
use std::fmt::Write;

/// How a line of an issued plan begins that names a file beside it.
const BESIDE: &str = "# beside: ";

/// A plan's folder, in which the copies that were taken of an edition's own files stand before the files as they are now.
pub struct IssuedWorld<'a> {
    world: &'a dyn World,
    number: u32,
}

impl<'a> IssuedWorld<'a> {
    /// The world of the edition of this number.
    #[must_use]
    pub const fn new(world: &'a dyn World, number: u32) -> Self {
        Self { world, number }
    }

    /// Where the plan of an edition stands.
    #[must_use]
    pub fn root(number: u32) -> String {
        format!("{ISSUED}/{number}.toml")
    }

    fn copy(&self, path: &str) -> String {
        place_beside(self.number, path)
    }
}

impl World for IssuedWorld<'_> {
    fn read(&self, path: &str, limit: u64) -> Result<Vec<u8>, ReadFault> {
        match self.world.read(&self.copy(path), limit) {
            Err(ReadFault::Missing) => self.world.read(path, limit),
            read => read,
        }
    }

    fn place_of(&self, path: &str) -> Result<String, ReadFault> {
        self.world.place_of(&self.copy(path)).or_else(|_| self.world.place_of(path))
    }

    fn list(&self) -> Result<Vec<String>, Failure> {
        self.world.list()
    }

    fn today(&self) -> chrono::NaiveDate {
        self.world.today()
    }
}

/// Where the copy of a plan's file stands beside an issued plan.
#[must_use]
pub fn place_beside(number: u32, path: &str) -> String {
    format!("{ISSUED}/{number}/{path}")
}

/// The text of an issued plan: the plan as meant behind the names and hashes of the files that it needs beside itself.
#[must_use]
pub fn issued_text(plan: &str, beside: &[(String, String)]) -> String {
    let mut text = String::new();
    for (path, content) in beside {
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{BESIDE}{path} {}", sha256(content.as_bytes()));
    }
    text + plan
}

/// The plan of such a text.
pub(super) fn of_plan(text: &str) -> &str {
    let mut rest = text;
    while let Some((_, below)) = rest.split_once('\n').filter(|(line, _)| line.starts_with(BESIDE)) {
        rest = below;
    }
    rest
}

/// A file beside an issued plan that is not there, or is not as it was issued: its place.
pub(super) fn changed_beside(world: &dyn World, number: u32, text: &str) -> Option<String> {
    let named = text.lines().map_while(|line| line.strip_prefix(BESIDE)?.rsplit_once(' '));
    let is_changed = |(path, hash): &(&str, &str)| {
        let read = world.read(&place_beside(number, path), caps::PLAN_FILE.most).map(String::from_utf8);
        !read.is_ok_and(|read| read.is_ok_and(|content| sha256(as_written(content).as_bytes()) == *hash))
    };
    named.filter(is_changed).map(|(path, _)| place_beside(number, path)).next()
}
