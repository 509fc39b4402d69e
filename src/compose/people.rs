//! People as lists name them: by family name.

use super::block::Text;
use super::since::Since;
use crate::audience::View;
use crate::ground::{Audience, Id};
use crate::plan::Member;

/// A name in its parts: the last word is what a list is sorted by; what stands before it may be nothing.
pub(super) fn family_and_given(name: &str) -> (&str, &str) {
    let (given, family) = name.rsplit_once(' ').unwrap_or(("", name));
    (family, given)
}

/// How this copy names somebody in a list: the family name first and strong; the call sign alone where the readers may not know the
/// name. With what the list is sorted by.
pub(super) fn listed_name(member: &Member, view: &View<'_>) -> (String, Text) {
    let Some(name) = view.name(member) else {
        let call = member.call.as_ref().map_or_else(|| "somebody".to_owned(), |call| call.to_string());
        return (call.to_lowercase(), Text::plain(call, member.span));
    };
    let (family, given) = family_and_given(name);
    let text = Text::strong(family, member.name.span);
    let text = if given.is_empty() { text } else { text.then(format!(" {given}")) };
    (format!("{family} {given}").to_lowercase(), text)
}

/// Who holds a copy, as this sheet's readers may know it: a member by name or call sign, a place by its tactical call; by the id where it
/// is no more.
pub(super) fn copy_holder(id: &Id, view: &View<'_>) -> String {
    let plan = view.plan();
    let place = || plan.places.named(id).map(|place| place.tactical.to_string());
    let member = plan.members.named(id).map(|member| {
        let call = member.call.as_ref().map(|call| call.to_string());
        let name = view.name(member).map(str::to_owned);
        let words: Vec<String> = call.into_iter().chain(name).collect();
        if words.is_empty() { id.to_string() } else { words.join(" ") }
    });
    let message = || plan.messages.named(id).map(|message| format!("message {}", message.number.value));
    member.or_else(place).or_else(message).unwrap_or_else(|| id.to_string())
}

/// The same of who may be no more in the plan: a member by the call sign that was theirs, which those who lead are told, a place by its
/// tactical call.
pub(super) fn held_by(holder: &Id, view: &View<'_>, since: &Since) -> String {
    let plan = view.plan();
    let is_there = plan.members.named(holder).is_some() || plan.places.named(holder).is_some();
    if is_there {
        return copy_holder(holder, view);
    }
    let call = since.calls.get(holder.as_str()).filter(|_| view.audience().may_read(&Audience::Leads));
    let known = call.or_else(|| since.places.get(holder.as_str())).cloned();
    known.unwrap_or_else(|| "a member who left".to_owned())
}

/// The letter under which a list has somebody.
pub(super) fn letter(sorted_by: &str) -> String {
    sorted_by.chars().next().map(|first| first.to_uppercase().to_string()).unwrap_or_default()
}
