//! What stands at the foot of every panel, and once on every sheet.

use super::block::{ExerciseMark, Foot, Text};
use crate::audience::{Holder, View};
use crate::ground::{At, Audience};
use crate::plan::{Edition, Exercise, Form, Member, Ref};
use crate::tables::{Profile, Service};
use std::sync::Arc;

/// The foot of a document made from a plan. The read-back code stays empty.
#[must_use]
pub fn foot(view: &View<'_>) -> Foot {
    let plan = view.plan();
    let edition = match (&plan.head, &plan.edition) {
        (Some(head), Some(edition)) => {
            Text::plain(format!("{} ", head.short.value), head.short.span).then_text(edition_words(edition, view))
        }
        _ => Text::default(),
    };
    let validity = plan.edition.as_ref().map_or_else(String::new, |edition| validity_words(edition, view));
    Foot {
        edition,
        audience: copy_words(view.audience()),
        copy: None,
        holder: view.holder().map(|holder| holder_words(holder, view)),
        // A public copy is anybody's, and says so.
        shared: if *view.audience() == Audience::Public { "" } else { "any member" },
        short_holder: view.holder().map(|holder| short_words(holder, view)),
        validity,
        exercise: plan.incident.as_ref().filter(|incident| incident.is_exercise).map(|_| in_exercise(None)),
        invented: plan.head.as_ref().filter(|head| head.is_invented).map(|_| "invented plan"),
        read_back: None,
        own: None,
    }
}

/// The word by which all sheets of an exercise are told, with the words of a real emergency where they are known.
fn in_exercise(real: Option<Text>) -> ExerciseMark {
    ExerciseMark { word: "EXERCISE", real }
}

/// How a sheet of an exercise's own kind is marked.
pub(super) fn exercise_mark(exercise: &Exercise) -> ExerciseMark {
    let real = Text::plain("real emergency: say ", exercise.real_emergency.span);
    in_exercise(Some(real.then_strong(format!("\"{}\"", exercise.real_emergency.value))))
}

/// How the sheet of a message is marked that is no real one: as those of the exercise of its plan, where there is one.
pub(super) fn message_mark(view: &View<'_>) -> Option<ExerciseMark> {
    let Some(Holder::Message(message)) = view.holder() else { return None };
    let of_plan = || view.plan().exercise.as_ref().map_or_else(|| in_exercise(None), exercise_mark);
    message.precedence.value.drill.map(|_| of_plan())
}

/// `edition 8`, or `DRAFT 8` of one that is not issued yet: no longer than the former, so that a draft stands on as many sheets.
pub(super) fn edition_words(edition: &Edition, view: &View<'_>) -> Text {
    let word = if view.is_draft() { "DRAFT" } else { "edition" };
    Text::of_edition(format!("{word} {}", edition.number.value), edition.number.span)
}

/// From when to when an edition holds; a draft never does.
pub(super) fn validity_words(edition: &Edition, view: &View<'_>) -> String {
    if view.is_draft() {
        return "DRAFT: not issued, so not valid".to_owned();
    }
    format!("valid from {}, review by {}", edition.valid_from.value, edition.review_by.value)
}

/// The foot of a form without a plan: the form's own edition.
pub(super) fn foot_of_form(form: &Form) -> Foot {
    Foot {
        edition: Text::own(format!("{} form, edition {}", form.title.value, form.edition.value)),
        audience: copy_words(form.audience.as_ref().map_or(&Audience::Public, |audience| &audience.value)),
        validity: "blank form without a plan".to_owned(),
        ..Foot::default()
    }
}

/// The foot of a form that is filled in with a message, without a plan.
pub(super) fn foot_of_message(form: &Form, view: &View<'_>) -> Foot {
    Foot {
        audience: copy_words(view.audience()),
        holder: view.holder().map(|holder| holder_words(holder, view)),
        short_holder: view.holder().map(|holder| short_words(holder, view)),
        validity: "filled in without a plan".to_owned(),
        exercise: message_mark(view),
        ..foot_of_form(form)
    }
}

/// The foot of one copy of many: its number, and which sheet of its set it is, stand behind its holder.
pub(super) fn foot_of_copy(foot: Foot, serial: Option<&str>, sheet: Option<&str>) -> Foot {
    let number = serial.map(|serial| format!("number {serial}"));
    let parts: Vec<String> = [foot.holder.clone(), number, sheet.map(str::to_owned)].into_iter().flatten().collect();
    let holder = (!parts.is_empty()).then(|| parts.join(", "));
    Foot { holder, ..foot }
}

/// Printed once a sheet: the identification rule, and the rule set with its date.
#[must_use]
pub fn once(profile: &Profile) -> Vec<Text> {
    vec![Text::own(profile.identification.clone()), Text::own(format!("Rules: {}.", profile.rule_set))]
}

/// The same for a document of a plan: with the identification rule of every other service that the plan sends in, and whose plan it is.
pub(super) fn once_of(view: &View<'_>) -> Vec<Text> {
    let profile = view.profile();
    let is_sent_in = |service: &&Arc<Service>| {
        let channels = view.plan().channels.iter();
        channels.into_iter().any(|channel| channel.send.is_some() && channel.service.value == **service)
    };
    let others = profile.services.iter().filter(is_sent_in);
    let mut texts = once(profile);
    let own: Vec<Text> = others.filter_map(|service| service.identification.clone()).map(Text::own).collect();
    texts.splice(1..1, own);
    let team = view.plan().head.as_ref().map(|head| &head.team);
    texts.extend(team.map(|team| Text::plain(format!("Plan of {}.", team.value), team.span)));
    texts
}

fn copy_words(audience: &Audience) -> String {
    match audience {
        Audience::Agency(agency) => format!("{agency} copy"),
        other => format!("{other} copy"),
    }
}

/// A copy for a wide audience leaves its holder's name out where those readers may not know it: the copy is theirs too.
fn holder_words(holder: Holder<'_>, view: &View<'_>) -> String {
    match holder {
        Holder::Member(member) if view.name(member).is_some() => member_words(member),
        Holder::Member(member) => {
            member.call.as_ref().map_or_else(|| format!("for {}", member.id.value), |call| call.to_string())
        }
        Holder::Place(place) => format!("for {}", place.tactical.value),
        Holder::Message(message) => format!("message {}", message.number.value),
    }
}

/// The call sign, or the name where there is none and the readers may know it.
fn short_words(holder: Holder<'_>, view: &View<'_>) -> String {
    match holder {
        Holder::Member(member) => {
            member.call.as_ref().map_or_else(|| holder_words(holder, view), |call| call.to_string())
        }
        Holder::Place(_) | Holder::Message(_) => holder_words(holder, view),
    }
}

/// Who a member's id means, as this copy's readers may know it: `WZ7QRA Ines Varga`, or the call sign alone.
pub(super) fn who(id: &At<Ref<Member>>, view: &View<'_>) -> Option<Text> {
    let member = view.plan().members.get(&id.value)?;
    let words = view.name(member).map_or_else(|| named_to(member, view), |_| member_words(member));
    Some(Text::plain(words, id.span))
}

/// The name, where this copy's readers may know it; else the call sign.
pub(super) fn named_to(member: &Member, view: &View<'_>) -> String {
    let call = || member.call.as_ref().map_or_else(|| "somebody".to_owned(), |call| call.to_string());
    view.name(member).map_or_else(call, str::to_owned)
}

/// `WZ7QRA Ines Varga`; the name alone for an unlicensed helper.
pub(super) fn member_words(member: &Member) -> String {
    member.call.as_ref().map_or_else(|| member.name.to_string(), |call| format!("{} {}", call.value, member.name.value))
}
