//! The layout of a name: one that comes with the program, or a file of the plan's folder.

use super::layout::{Layout, built_in, names};
use super::layout_read::{read, read_built_in};
use super::rules::{LAYOUT_UNREADABLE, UNKNOWN_LAYOUT};
use crate::ground::{At, Files, Finding, Findings, World, nearest};

/// No layout needs more.
const FILE_LIMIT: u64 = 1 << 20;

/// The layout that a document asks for: a built-in one by its name, or a TOML file of the plan's folder.
pub fn find(asked: &At<String>, world: &dyn World, files: &mut Files, found: &mut Findings) -> Option<Layout> {
    let name = asked.as_str();
    if let Some(text) = built_in(name) {
        return read_built_in(name, text, files, found);
    }
    let is_file = std::path::Path::new(name).extension().is_some_and(|ending| ending == "toml");
    if !is_file {
        found.push(unknown(asked));
        return None;
    }
    let text = match world.read(name, FILE_LIMIT).map(String::from_utf8) {
        Ok(Ok(text)) => text,
        Ok(Err(_)) => return refuse(asked, "is not UTF-8 text", found),
        Err(fault) => return refuse(asked, &fault.to_string(), found),
    };
    if let Some(why) = files.too_much(&text) {
        return refuse(asked, &format!("is not read: {why}"), found);
    }
    let id = files.add(name, text.clone());
    read(id, &text, files, found)
}

fn unknown(asked: &At<String>) -> Finding {
    let all = names().collect::<Vec<_>>().join(", ");
    let help = match nearest(asked.as_str(), names()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("write one of {all}, or the name of a .toml file in the plan's folder"),
    };
    Finding::new(&UNKNOWN_LAYOUT, asked.span, format!("no layout is called \"{}\"", asked.value))
        .label("names no layout")
        .help(help)
}

fn refuse(asked: &At<String>, why: &str, found: &mut Findings) -> Option<Layout> {
    let what = format!("the layout file \"{}\" {why}", asked.value);
    found.push(Finding::new(&LAYOUT_UNREADABLE, asked.span, what).label("cannot be read"));
    None
}

#[cfg(test)]
mod tests {
    use super::super::layout::{built_in, names};
    use super::super::layout_read::read_built_in;
    use super::find;
    use crate::ground::{At, Files, Findings, MemoryWorld, Span};

    /// What a layout may name is what the document kinds declare, not what the layouts that come with the program name.
    #[test]
    fn a_slip_in_a_layout_of_ours_is_found() {
        for (right, wrong) in [("\"checked\"]", "\"cheked\"]"), ("key = \"contacts\"", "key = \"contacs\"")] {
            let text = built_in("full").unwrap().replace(right, wrong);
            assert!(text.contains(wrong));
            let (mut files, mut found) = (Files::default(), Findings::default());
            assert!(read_built_in("full", &text, &mut files, &mut found).is_none());
            let messages: Vec<&str> = found.iter().map(|finding| finding.message.as_str()).collect();
            let expected = if wrong.starts_with("key") {
                "no table is called \"contacs\""
            } else {
                "no column is called \"cheked\""
            };
            assert_eq!(messages, [expected]);
        }
    }

    #[test]
    fn built_in_layouts_have_no_fault() {
        for name in names() {
            let (mut files, mut found) = (Files::default(), Findings::default());
            let asked = At::new(name.to_owned(), Span::NOWHERE);
            assert!(find(&asked, &MemoryWorld::default(), &mut files, &mut found).is_some(), "{name}");
            assert_eq!(found.iter().map(|f| f.message.clone()).collect::<Vec<_>>(), Vec::<String>::new(), "{name}");
        }
    }
}
