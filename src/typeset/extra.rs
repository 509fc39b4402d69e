//! What a gathering bears beside its content: panels to write on, and the last one, which tells how the sheet is folded and what it is.

use super::blocks::{heading, pieces};
use super::columns::{Titled, filled};
use super::filling::Body;
use super::folding::{PARAGRAPH, pictures, said};
use super::order::About;
use super::piece::{Piece, RULES_APART, Room};
use super::scale_bar::{bar_words, scale_bar};
use super::setting::Setting;
use crate::compose::block::{Role, Text};
use crate::ground::{Findings, Length};
use crate::sheet::{HAIRLINE, Point, across};
use std::rc::Rc;

/// The title of a panel to write on.
pub(super) const NOTES: &str = "Notes";

/// Lines to write on.
pub(super) fn notes(room: &Room<'_>) -> Body {
    let line = room.layout.writing_line;
    // The rule of the foot is the last line.
    let count = ((room.height - RULES_APART).as_grains() / line.as_grains()).max(0);
    let marks = (1..=count).map(|n| across(Length::ZERO, room.width, line * n, HAIRLINE)).collect();
    Body::new(NOTES.to_owned(), marks)
}

/// How the sheet is folded, the sections that stand there, what is said once a sheet, and the bar by which one sees that the printer did
/// not scale; on more than one panel where the type is large.
pub(super) fn about(about: &About, room: &Room<'_>, found: &mut Findings) -> Vec<Body> {
    let Some(gathering) = room.layout.format.gathering() else { return Vec::new() };
    let room = Room { passage: &about.sections, ..*room };
    let (sheet, of) = (about.count.sheet, about.count.of);
    let title = match gathering.whole {
        Some(whole) => whole.to_owned(),
        None if of > 1 => format!("Sheet {sheet} of {of}"),
        None => "How to fold".to_owned(),
    };
    let mut run: Vec<Piece> = Vec::new();
    run.extend((!gathering.pictures.is_empty()).then(|| pictures(gathering.pictures, &room, Length::ZERO)));
    let small = PARAGRAPH;
    run.push(said(&Text::own(gathering.folding), Role::Small, small, &room, found));
    for section in &about.sections {
        run.push(heading(&section.title, Role::Title, &room, found));
        run.extend(pieces(section, &room, found));
    }
    // As one text: each by itself would take a panel of its own.
    let told: Vec<String> = about.told.iter().map(Text::words).collect();
    let told = told.iter().map(|words| format!("{}.", words.trim_end_matches('.'))).collect::<Vec<_>>().join(" ");
    run.push(said(&Text::own(told), Role::Body, PARAGRAPH, &room, found));
    run.push(bar(&room));
    let title: Rc<str> = title.into();
    let mut run: Vec<Titled> = run.into_iter().map(|piece| Titled { title: Rc::clone(&title), piece }).collect();
    let filled = filled(&mut run, &room, |_| room.height, found);
    filled.into_iter().map(|column| column.finish(false, &room, room.height)).collect()
}

/// Air over the bar.
const BEFORE_BAR: Length = Length::mm(3);

fn bar(room: &Room<'_>) -> Piece {
    let tick = Length::hundredths_mm(150);
    let marks = scale_bar(room.pen, room.layout, Point { x: Length::ZERO, y: tick });
    let height = tick + bar_words(room.layout) + room.layout.style(Role::Small).tail();
    Piece { setting: Setting { marks, height }, before: BEFORE_BAR, ..Piece::default() }
}
