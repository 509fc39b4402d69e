//! A folder to run the program in, and what a run said.
#![allow(clippy::disallowed_methods, reason = "whole-program tests live on the disk")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

/// A folder to run the program in.
pub struct Desk {
    pub folder: TempDir,
}

impl Desk {
    pub fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// With the small plan that `new` writes.
    pub fn with_plan() -> Self {
        let desk = Self::new();
        desk.run(&["new", "plan"]).exits(0);
        desk
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> &Self {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, bytes).unwrap();
        self
    }

    pub fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap()
    }

    pub fn edit(&self, name: &str, from: &str, to: &str) -> &Self {
        let text = self.read(name);
        assert!(text.contains(from), "{from}");
        self.file(name, text.replace(from, to))
    }

    pub fn run(&self, arguments: &[&str]) -> Ran {
        self.run_in(arguments, &[])
    }

    pub fn run_in(&self, arguments: &[&str], environment: &[(&str, &str)]) -> Ran {
        let mut command = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"));
        command.args(arguments).current_dir(self.folder.path()).envs(environment.iter().copied());
        Ran(command.output().unwrap())
    }
}

/// What a run said and how it ended.
pub struct Ran(pub Output);

impl Ran {
    pub fn said(&self) -> String {
        String::from_utf8_lossy(&self.0.stdout).into_owned() + &String::from_utf8_lossy(&self.0.stderr)
    }

    pub fn exits(self, code: i32) -> Self {
        assert_eq!(self.0.status.code(), Some(code), "{}", self.said());
        self
    }

    pub fn says(self, words: &str) -> Self {
        assert!(self.said().contains(words), "no \"{words}\" in:\n{}", self.said());
        self
    }
}

/// Names in a folder, sorted.
pub fn listing(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}
