//! The TOML that comes with the program: a file in its folder is enough.
//!
//! Cargo does not notice a new file: [`tests`] does, and says what to do.

use include_dir::{Dir, include_dir};

static LAYOUTS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/layouts");
static FORMS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/src/tables/forms");
static PROFILES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/src/tables/profiles");

/// Layouts by name, each with its text.
pub fn layouts() -> impl Iterator<Item = (&'static str, &'static str)> {
    texts(&LAYOUTS)
}

/// Files of forms, each with its text.
pub fn forms() -> impl Iterator<Item = (&'static str, &'static str)> {
    texts(&FORMS)
}

/// Profiles by their files' names, each with its text.
pub(super) fn profiles() -> impl Iterator<Item = (&'static str, &'static str)> {
    texts(&PROFILES)
}

/// By name, in the order of names.
fn texts(folder: &'static Dir<'_>) -> impl Iterator<Item = (&'static str, &'static str)> {
    folder.files().filter_map(|file| Some((file.path().file_stem()?.to_str()?, file.contents_utf8()?)))
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    #[test]
    fn every_file_of_these_folders_is_in_the_program() {
        let folders: [(&str, Vec<(&str, &str)>); 3] = [
            ("layouts", super::layouts().collect()),
            ("src/tables/forms", super::forms().collect()),
            ("src/tables/profiles", super::profiles().collect()),
        ];
        for (folder, known) in folders {
            let there = std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)).unwrap();
            let mut there: Vec<String> = there.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
            there.sort();
            let known: Vec<String> = known.into_iter().map(|(name, _)| format!("{name}.toml")).collect();
            assert_eq!(known, there, "in {folder}: `touch src/tables/texts.rs` and build again");
        }
    }
}
