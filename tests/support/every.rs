//! Every document kind of the program as an order, and the county to make it of: a new kind is under each test that asks here.

use super::shelf::Shelf;
use fieldsheaf::compose::{Compose, KINDS, Kind};
use fieldsheaf::ground::{At, Audience, Files, Findings, Span};
use fieldsheaf::typeset::find_layout as find;
use std::path::Path;

/// An order for a kind, for the widest readers it can be made for where these are too wide; `more` stands behind it.
pub fn order(kind: &Kind, id: &str, audience: &str, more: &str) -> String {
    let widest = kind.widest.to_string();
    let is_open = Audience::parse(audience).unwrap().may_read(&kind.widest);
    let audience = if is_open { audience } else { &widest };
    let form = if matches!(kind.compose, Compose::Form(_)) { "form = \"message\"\n" } else { "" };
    format!("[[document]]\nid = \"{id}\"\nkind = \"{}\"\naudience = \"{audience}\"\n{form}{more}\n", kind.name)
}

/// An order for each kind, on the layout that it usually takes. Its id is that of its kind behind `every-`.
pub fn orders(audience: &str, more: &str) -> String {
    KINDS.iter().map(|kind| order(kind, &format!("every-{}", kind.name), audience, more)).collect()
}

/// Whether a layout that comes with the program lets figures be smaller.
pub fn is_dense(layout: &str) -> bool {
    let asked = At::new(layout.to_owned(), Span::NOWHERE);
    find(&asked, &Shelf::new(), &mut Files::default(), &mut Findings::default()).unwrap().is_dense
}

/// The county with further records behind its own.
pub fn county(more: &str) -> Shelf {
    let shelf = gathered(&Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river"), "", Shelf::new());
    let own = text("documents.toml");
    shelf.with("documents.toml", format!("{own}\n{more}"))
}

/// The county with these documents in place of its own.
pub fn county_of(documents: &str) -> Shelf {
    county("").with("documents.toml", documents)
}

fn text(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river").join(name);
    String::from_utf8(bytes(&path)).unwrap()
}

#[expect(clippy::disallowed_methods, reason = "a test reads what it is about")]
fn bytes(path: &Path) -> Vec<u8> {
    std::fs::read(path).unwrap()
}

fn gathered(folder: &Path, before: &str, shelf: Shelf) -> Shelf {
    std::fs::read_dir(folder).unwrap().map(Result::unwrap).fold(shelf, |shelf, entry| {
        let name = format!("{before}{}", entry.file_name().to_str().unwrap());
        if entry.file_type().unwrap().is_dir() {
            return gathered(&entry.path(), &format!("{name}/"), shelf);
        }
        shelf.with(&name, bytes(&entry.path()))
    })
}
