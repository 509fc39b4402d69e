//! A plan's folder in memory.

use fieldsheaf::ground::{Failure, ReadFault, World};
use std::collections::BTreeMap;

/// Files by name. Today is always 2026-11-25.
#[derive(Clone, Default)]
pub struct Shelf {
    files: BTreeMap<String, Vec<u8>>,
}

impl Shelf {
    /// An empty folder.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// With one more file.
    #[must_use]
    pub fn with(mut self, name: &str, bytes: impl Into<Vec<u8>>) -> Self {
        self.files.insert(name.to_owned(), bytes.into());
        self
    }

    /// What a file says.
    #[must_use]
    pub fn text(&self, name: &str) -> String {
        String::from_utf8(self.files[name].clone()).unwrap()
    }
}

impl World for Shelf {
    fn read(&self, path: &str, limit: u64) -> Result<Vec<u8>, ReadFault> {
        let bytes = self.files.get(path).ok_or(ReadFault::Missing)?;
        let size = bytes.len() as u64;
        if size > limit { Err(ReadFault::TooLarge(size)) } else { Ok(bytes.clone()) }
    }

    fn list(&self) -> Result<Vec<String>, Failure> {
        Ok(self.files.keys().cloned().collect())
    }

    fn today(&self) -> chrono::NaiveDate {
        chrono::NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
    }
}

/// The head of a plan without fault: what it is, its edition, one member.
pub const HEAD: &str = r#"
[plan]
title = "Example plan"
short = "EXAMPLE"
team = "Example team"
profile = "us"
invented = true
time-zone = "America/Denver"
[edition]
number = 7
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"
[[member]]
id = "qra"
call = "WZ7QRA"
name = "Ines Varga"
class = "extra"
expires = 2030-04-01
confirmed = 2026-10-01
"#;

/// The head with other words in it, each of which it has once.
pub fn head(changes: &[(&str, &str)]) -> String {
    let change = |text: String, (from, to): &(&str, &str)| {
        assert_eq!(text.matches(from).count(), 1, "{from}");
        text.replace(from, to)
    };
    changes.iter().fold(HEAD.to_owned(), change)
}
