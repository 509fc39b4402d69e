//! Whom to call: who has a number first, by family name, then the sites, as far as this copy's readers may know.

use crate::audience::View;
use crate::compose::block::{Block, Cell, Column, Paragraph, Role, Row, Section, Symbol, Text};
use crate::compose::channel_words::tied;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::people::{family_and_given, letter};
use crate::compose::site_words;
use crate::ground::{At, Audience, Day, Private, Span, Words};
use crate::plan::{Contact, Each, Member, Place, subject};
use crate::reckon::{Seen, contact_seen, seen};
use std::collections::BTreeMap;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "contact-card",
    title: "Contact card",
    about: "people and sites, as far as the copy's readers may know, and vCards as QR",
    layout: "fold-8",
    each: &[Each::Once, Each::Member, Each::Place],
    widest: Audience::Public,
    sections: &["site", "people", "sites", "scan"],
    tables: &[&CONTACTS],
    compose: Compose::View(compose),
};

/// People, and whom to call at a site.
const CONTACTS: TableKind = TableKind {
    key: "contacts",
    columns: &[
        Column::must("name", "name", Role::Name),
        Column::must("call", "call", Role::Call),
        Column::must("phone", "phone", Role::Phone),
        // Where this copy shows no address, none is missed.
        Column::may("email", "e-mail", Role::Body).where_used(),
        Column::must("role", "role", Role::Body),
        Column::may("checked", "", Role::Body).where_used(),
    ],
    set: UsualSet::Rows {
        left: &["name"],
        right: &["phone"],
        below: &[(&["call", "role"], &["checked"]), (&["email"], &[])],
        above: (&[], &[]),
        like: None,
    },
};

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut sections: Vec<Section> = site_words::facts(view).into_iter().collect();
    let (rows, others, hidden) = people(view);
    let mut section = contacts("people", "People", (rows, hidden), "The roster is empty.");
    section.blocks.splice(1..1, others);
    sections.push(section);
    let (sites, hidden) = sites(view);
    let without = without_contact(view);
    if !sites.is_empty() || hidden > 0 || without.is_some() {
        let mut section = contacts("sites", "Sites", (sites, hidden), "Nobody to call at any site is known.");
        // One line for both: on a card there is room for no second.
        let lines: Vec<Text> =
            without.into_iter().chain(section.blocks.split_off(1).into_iter().filter_map(text)).collect();
        let line = lines.into_iter().reduce(|line, more| line.then(" ").then_text(more));
        section.blocks.extend(line.map(|text| Block::Paragraph(Paragraph { text, role: Role::Body })));
        sections.push(section);
    }
    let symbols = symbols(view);
    if !symbols.is_empty() {
        let has_number = |row: &&Row| row.cell("phone").is_some_and(|cell| cell.role == Role::Phone);
        let shown = sections.iter().filter(|section| section.key == "people").flat_map(|section| &section.blocks);
        let rows = shown.filter_map(|block| if let Block::Table(table) = block { Some(&table.rows) } else { None });
        // Said in the title: a line more would be a card more.
        let is_all = rows.flatten().filter(has_number).count() <= symbols.len();
        let title = if is_all { "Contacts to scan" } else { "Functions to scan" };
        sections.push(Section { key: "scan", title: Text::own(title), blocks: symbols });
    }
    sections
}

/// Rows as a table, and how many this copy leaves out.
fn contacts(key: &'static str, title: &str, (mut rows, hidden): (Vec<Row>, usize), when_empty: &str) -> Section {
    let left_out = match (hidden, rows.len()) {
        (0, _) => None,
        (_, 0) => Some(format!("{hidden}, not on this copy")),
        (_, _) => Some(format!("{hidden} more, not on this copy")),
    };
    let when_empty = left_out.as_deref().filter(|_| rows.is_empty()).unwrap_or(when_empty).to_owned();
    let more = left_out.filter(|_| !rows.is_empty());
    let more = more.map(|words| Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Body }));
    let day = shared_day(&mut rows);
    let mut table = CONTACTS.table(rows, when_empty);
    table.said.extend(day.map(|day| Text::own(format!("Numbers {day} where a row has no other day"))));
    let blocks = std::iter::once(Block::Table(table)).chain(more).collect();
    Section { key, title: Text::own(title), blocks }
}

/// Before a day.
const CHECKED: &str = "checked ";

/// When most numbers were checked, taken out of their rows: the others say theirs, or that nobody wrote it down.
fn shared_day(rows: &mut [Row]) -> Option<String> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for cell in rows.iter().filter_map(|row| row.cell("checked")) {
        *counts.entry(cell.text.words()).or_default() += 1;
    }
    let (day, _) = counts.into_iter().filter(|(_, count)| *count > 1).max_by_key(|(_, count)| *count)?;
    for row in rows.iter_mut() {
        let has_number = row.cell("phone").is_some_and(|cell| cell.role == Role::Phone);
        match row.cell("checked").map(|cell| cell.text.words()) {
            Some(own) if own == day => row.cells.retain(|(key, _)| *key != "checked"),
            Some(own) => {
                let cell = row.cells.iter_mut().find(|(key, _)| *key == "checked");
                let alone = own.strip_prefix(CHECKED).unwrap_or(&own);
                cell.into_iter().for_each(|(_, cell)| cell.text = Text::plain(alone, cell.text.span));
            }
            None if has_number => row.cells.push(CONTACTS.cell("checked", Text::plain("not checked", row.span))),
            None => {}
        }
    }
    Some(day)
}

/// By family name.
fn in_order<'a>(view: &View<'a>) -> Vec<&'a Member> {
    let mut members: Vec<&Member> = view.plan().members.iter().collect();
    members.sort_by_cached_key(|member| {
        let (family, given) = family_and_given(member.name.as_str());
        (family.to_lowercase(), given.to_lowercase(), member.id.value.clone())
    });
    members
}

/// The rows of those whom this copy lets one reach, the short list of those whom it only names, and how many it does not show.
fn people(view: &View<'_>) -> (Vec<Row>, Option<Block>, usize) {
    let (out, shown): (Vec<_>, Vec<_>) =
        in_order(view).into_iter().partition(|member| seen(member, view.audience()) == Seen::Hidden);
    let is_reached = |member: &&Member| {
        let has_phone = member.phones.iter().any(|phone| view.open(&phone.number.value).is_some());
        has_phone || member.email.as_ref().is_some_and(|email| view.open(&email.value).is_some())
    };
    let (reached, others): (Vec<_>, Vec<_>) = shown.into_iter().partition(is_reached);
    // Who is reached by no sheet has no table to stand below.
    let (reached, others) = if reached.is_empty() { (others, Vec::new()) } else { (reached, others) };
    let others: Vec<String> = others.into_iter().map(|member| short(member, view)).collect();
    let others = (!others.is_empty()).then(|| {
        let text = Text::strong("No number on this copy: ", Span::NOWHERE).then(format!("{}.", others.join("; ")));
        Block::Paragraph(Paragraph { text, role: Role::Body })
    });
    (
        reached.into_iter().map(|member| person(member, view)).collect(),
        others,
        out.len() + view.plan().members.withheld(),
    )
}

/// `Ines Varga WZ7QRA, Coordinator`: held together as far as the call sign.
fn short(member: &Member, view: &View<'_>) -> String {
    let name = view.name(member).map(str::to_owned);
    let call = member.call.as_ref().map(|call| call.to_string());
    let named = [name, call].into_iter().flatten().collect::<Vec<_>>().join(" ");
    let roles = member.roles.iter().map(|role| format!(", {}", role.value));
    std::iter::once(tied(&named)).chain(roles).collect()
}

fn person(member: &Member, view: &View<'_>) -> Row {
    let (family, given) = family_and_given(member.name.as_str());
    let listed = if given.is_empty() { family.to_owned() } else { format!("{family}, {given}") };
    let name = CONTACTS.cell("name", Text::plain(listed, member.name.span));
    let call = member.call.as_ref().map_or_else(
        || Cell { text: Text::plain("no call sign", member.span), role: Role::Word, base: None },
        |call| Cell { text: Text::plain(call.to_string(), call.span), role: Role::Call, base: None },
    );
    let phones: Vec<(Cell, Option<At<Day>>)> = member
        .phones
        .iter()
        .filter_map(|phone| Some((phone_cell(&phone.number, view)?, phone.confirmed.or(member.confirmed))))
        .collect();
    let checked = phones.first().and_then(|(_, day)| *day);
    let hidden = seen(member, view.audience()) == Seen::NameAlone;
    let phone = phones.into_iter().next().map_or_else(|| no_phone(hidden, member.span), |(cell, _)| cell);
    let roles: Vec<&str> = member.roles.iter().map(|role| role.as_str()).collect();
    let mut cells = vec![name, ("call", call), ("phone", phone)];
    let email = member.email.as_ref().and_then(|email| Some((view.open(&email.value)?, email.span)));
    cells.extend(email.map(|(email, span)| CONTACTS.cell("email", Text::plain(email.as_str(), span))));
    if let Some(first) = member.roles.first() {
        cells.push(CONTACTS.cell("role", Text::plain(roles.join(", "), first.span)));
    }
    cells.extend(checked.map(|day| CONTACTS.cell("checked", Text::plain(format!("{CHECKED}{}", day.value), day.span))));
    Row { label: letter(family), record: Some(subject(member)), span: member.span, cells }
}

fn phone_cell(phone: &At<Private<Words>>, view: &View<'_>) -> Option<Cell> {
    let number = view.open(&phone.value)?;
    Some(Cell { text: Text::plain(number.to_string(), phone.span), role: Role::Phone, base: None })
}

fn no_phone(is_hidden: bool, span: Span) -> Cell {
    let words = if is_hidden { "not on this copy" } else { "no phone" };
    Cell { text: Text::plain(words, span), role: Role::Word, base: None }
}

/// A member's own number under a function's name is on no copy.
fn no_number(contact: &Contact) -> Cell {
    let words = if contact.phone.value.is_withheld() { "ask the coordinator" } else { "not on this copy" };
    Cell { text: Text::plain(words, contact.span), role: Role::Word, base: None }
}

fn sites(view: &View<'_>) -> (Vec<Row>, usize) {
    let places = view.plan().places.iter();
    let all = places.flat_map(|place| place.contacts.iter().map(move |contact| (place, contact)));
    let (out, shown): (Vec<_>, Vec<_>) =
        all.partition(|(_, contact)| contact_seen(contact, view.audience()) == Seen::Hidden);
    (shown.into_iter().map(|(place, contact)| site(place, contact, view)).collect(), out.len())
}

/// The places of which nobody to call is known, in a line: none is missed where one looks for it.
fn without_contact(view: &View<'_>) -> Option<Text> {
    let names = view.plan().places.iter().filter(|place| place.contacts.is_empty());
    let names: Vec<&str> = names.map(|place| place.tactical.as_str()).collect();
    let text = Text::strong("No contact known: ", Span::NOWHERE).then(format!("{}.", names.join("; ")));
    (!names.is_empty()).then_some(text)
}

/// What a paragraph says.
fn text(block: Block) -> Option<Text> {
    if let Block::Paragraph(Paragraph { text, .. }) = block { Some(text) } else { None }
}

fn site(place: &Place, contact: &Contact, view: &View<'_>) -> Row {
    let phone = phone_cell(&contact.phone, view);
    let checked = contact.confirmed.filter(|_| phone.is_some());
    let mut cells = vec![
        CONTACTS.cell("name", Text::plain(place.tactical.as_str(), place.tactical.span)),
        CONTACTS.cell("call", Text::plain(place.code.as_str(), place.code.span)),
        ("phone", phone.unwrap_or_else(|| no_number(contact))),
        CONTACTS.cell("role", Text::plain(contact.role.as_str(), contact.role.span)),
    ];
    cells.extend(checked.map(|day| CONTACTS.cell("checked", Text::plain(format!("{CHECKED}{}", day.value), day.span))));
    Row { label: String::new(), record: Some(subject(place)), span: contact.span, cells }
}

/// A vCard for each member with a function whose number this copy shows.
fn symbols(view: &View<'_>) -> Vec<Block> {
    let symbol = |member: &Member| {
        let role = member.roles.first()?;
        let number = member.phones.iter().find_map(|phone| view.open(&phone.number.value))?;
        let call = member.call.as_ref().map(|call| call.to_string());
        let email = member.email.as_ref().and_then(|email| view.open(&email.value)).map(Words::as_str);
        let payload = vcard(&VCard {
            name: member.name.as_str(),
            call: call.as_deref(),
            role: role.as_str(),
            phone: number.as_str(),
            email,
        });
        // Where the payload is too long, the function is what can be shortened.
        let caption = Text::strong(member.name.as_str(), role.span).then(format!(", {}", role.value));
        Some(Block::Symbol(Symbol { payload: Text::own(payload), caption }))
    };
    in_order(view).into_iter().filter_map(symbol).collect()
}

/// What a card for an address book says.
struct VCard<'a> {
    name: &'a str,
    call: Option<&'a str>,
    role: &'a str,
    phone: &'a str,
    email: Option<&'a str>,
}

/// RFC 6350: lines end in CR LF; backslash, comma, semicolon and line feed are escaped; FN and N may not be missing in practice
/// (N is optional since version 4.0, but older readers want it). TEL is text by default, as people dial it.
fn vcard(card: &VCard<'_>) -> String {
    let VCard { name, call, role, phone, email } = *card;
    let mut lines = vec!["BEGIN:VCARD".to_owned(), "VERSION:4.0".to_owned(), format!("FN:{}", escaped(name))];
    let (family, given) = family_and_given(name);
    lines.push(format!("N:{};{};;;", escaped(family), escaped(given)));
    lines.extend(call.map(|call| format!("NICKNAME:{}", escaped(call))));
    lines.push(format!("TITLE:{}", escaped(role)));
    lines.push(format!("TEL:{}", escaped(phone)));
    lines.extend(email.map(|email| format!("EMAIL:{}", escaped(email))));
    lines.push("END:VCARD".to_owned());
    lines.into_iter().map(|line| line + "\r\n").collect()
}

fn escaped(text: &str) -> String {
    let mut escaped = String::new();
    for c in text.chars() {
        if matches!(c, '\\' | ',' | ';') {
            escaped.push('\\');
        }
        escaped.push(c);
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::{VCard, vcard};

    /// RFC 6350, 3.3 and 3.4: the order of the first two lines, line ends, and escapes.
    #[test]
    fn a_vcard_is_written_as_the_standard_says() {
        let card = vcard(&VCard {
            name: "Ines Varga, MD",
            call: Some("WZ7QRA"),
            role: "Lead; nights",
            phone: "+1 406 555 0101",
            email: Some("ines@example.org"),
        });
        assert!(card.starts_with("BEGIN:VCARD\r\nVERSION:4.0\r\nFN:Ines Varga\\, MD\r\n"));
        assert!(card.contains("TITLE:Lead\\; nights\r\n"));
        assert!(card.ends_with("TEL:+1 406 555 0101\r\nEMAIL:ines@example.org\r\nEND:VCARD\r\n"));
    }
}
