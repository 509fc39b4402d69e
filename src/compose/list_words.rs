//! Lists to read: a heading, lines, and that nobody published them.

use super::block::{Block, Paragraph, Role, Text};

/// A paragraph.
pub(super) fn say(text: Text, role: Role) -> Block {
    Block::Paragraph(Paragraph { text, role })
}

/// A heading.
pub(super) fn heading(words: &str) -> Block {
    Block::Heading(Text::own(words))
}

/// Beside whatever nobody published.
pub(super) fn practice() -> Block {
    say(Text::own("Common practice, no source."), Role::Small)
}

/// Lines of a list.
pub(super) fn lines(all: &[&str]) -> impl Iterator<Item = Block> {
    all.iter().map(|line| say(Text::own(format!("\u{2013} {line}")), Role::Body)).collect::<Vec<_>>().into_iter()
}
