//! Rows of a form's table from the records of a plan, as far as the copy's readers may know them.

use super::block::{Cell, Role, Text};
use super::channel_words::in_order;
use super::form_channel::channel_cell;
use super::form_duty::control;
use super::net_calls::{called_there, calls_at, roll};
use super::people::{family_and_given, listed_name};
use crate::audience::View;
use crate::ground::{At, Id, Words};
use crate::plan::{Channel, Member, Net, Place, Plan, Post, RowSource, RowValue};
use crate::reckon::{Seen, Staff, nets_at, seen};

/// A row: a cell for each column, none where it is written in by hand.
pub(super) type FormRow = Vec<Option<Cell>>;

/// A row for each record, with a cell for each of the values that columns want; and how many records this copy leaves out.
pub(super) fn rows(
    source: RowSource,
    columns: &[Option<RowValue>],
    (view, net): (&View<'_>, Option<&Id>),
) -> (Vec<FormRow>, usize) {
    let plan = view.plan();
    match source {
        RowSource::Channels => {
            let row = |channel: &Channel| {
                columns.iter().map(|column| column.and_then(|value| channel_cell(channel, value, view))).collect()
            };
            (in_order(plan).into_iter().map(row).collect(), 0)
        }
        RowSource::Members => members(columns, view, None),
        RowSource::Crew => members(columns, view, net.and_then(|net| plan.nets.named(net))),
        RowSource::Places => {
            let mut places: Vec<&Place> = plan.places.iter().collect();
            places.sort_by_key(|place| (place.tactical.as_str().to_lowercase(), &place.id.value));
            let row = |place: &Place| {
                columns.iter().map(|column| column.and_then(|value| place_cell(place, value))).collect()
            };
            (places.into_iter().map(row).collect(), plan.places.withheld())
        }
        RowSource::Nets => {
            let mut nets: Vec<&Net> = plan.nets.iter().collect();
            nets.sort_by_key(|net| (net.name.as_str().to_lowercase(), &net.id.value));
            let row =
                |net: &Net| columns.iter().map(|column| column.and_then(|value| net_cell(net, value, view))).collect();
            (nets.into_iter().map(row).collect(), plan.nets.withheld())
        }
        RowSource::Stations => {
            let row = |post: &Post| {
                columns.iter().map(|column| column.and_then(|value| station_cell(post, value, view))).collect()
            };
            (stations(net.and_then(|net| plan.nets.named(net)), plan).into_iter().map(row).collect(), 0)
        }
    }
}

/// Who is heard in a net: its control, then those whom it calls.
fn stations<'a>(net: Option<&Net>, plan: &'a Plan) -> Vec<&'a Post> {
    let Some(net) = net else { return plan.posts.iter().collect() };
    let control = net.control.as_ref().and_then(|control| plan.posts.get(&control.value));
    control.into_iter().chain(roll(net, plan)).collect()
}

fn station_cell(post: &Post, value: RowValue, view: &View<'_>) -> Option<Cell> {
    match value {
        RowValue::StationCalled => Some(body(called_there(post, view.plan()))),
        RowValue::StationCallSigns => calls_at(post, view).map(|signs| body(Text::plain(signs, post.span))),
        _ => None,
    }
}

/// By family name: those whom this copy may name; of a net those with duty in it, where the copy knows of some.
fn members(columns: &[Option<RowValue>], view: &View<'_>, net: Option<&Net>) -> (Vec<FormRow>, usize) {
    let plan = view.plan();
    let crew = net.and_then(|net| Staff::of(plan).crew(net));
    let withheld = if crew.is_some() { 0 } else { plan.members.withheld() };
    let all: Vec<&Member> = crew.unwrap_or_else(|| plan.members.iter().collect());
    let count = all.len();
    let is_shown = |member: &&Member| seen(member, view.audience()) != Seen::Hidden;
    let mut shown: Vec<&Member> = all.into_iter().filter(is_shown).collect();
    let hidden = count - shown.len() + withheld;
    shown.sort_by_cached_key(|member| (listed_name(member, view).0, member.id.value.clone()));
    let row = |member: &Member| {
        columns.iter().map(|column| column.and_then(|value| member_cell(member, value, (view, net)))).collect()
    };
    (shown.into_iter().map(row).collect(), hidden)
}

fn body(text: Text) -> Cell {
    Cell { text, role: Role::Body, base: None }
}

fn said(words: &At<Words>) -> Cell {
    body(Text::plain(words.as_str(), words.span))
}

fn member_cell(member: &Member, value: RowValue, (view, net): (&View<'_>, Option<&Net>)) -> Option<Cell> {
    let call = member.call.as_ref().map(|call| Text::plain(call.to_string(), call.span));
    match value {
        RowValue::MemberName => {
            let (family, given) = family_and_given(view.name(member)?);
            let listed = if given.is_empty() { family.to_owned() } else { format!("{family}, {given}") };
            Some(body(Text::plain(listed, member.name.span)))
        }
        RowValue::MemberCall => Some(body(call.unwrap_or_else(|| Text::plain("no call sign", member.span)))),
        RowValue::MemberWho => {
            let name = view.name(member).map(|name| Text::plain(name, member.name.span));
            match (name, call) {
                (Some(name), Some(call)) => Some(body(name.then(format!(", {}", call.words())))),
                (name, call) => name.or(call).map(body),
            }
        }
        RowValue::MemberClass => Some(member.class.as_ref().map_or_else(
            || body(Text::plain("no license", member.span)),
            |class| {
                let name = view.profile().class(class.as_str()).map_or(class.as_str(), |class| class.name.as_str());
                body(Text::plain(name, class.span))
            },
        )),
        RowValue::MemberRole => {
            let first = member.roles.first()?;
            let roles: Vec<&str> = member.roles.iter().map(|role| role.as_str()).collect();
            Some(body(Text::plain(roles.join(", "), first.span)))
        }
        RowValue::MemberContact => Some(body(contact(member, view))),
        RowValue::MemberCalled => {
            let plan = view.plan();
            let is_of_net = |post: &&Post| {
                net.is_none_or(|net| nets_at(plan, post).iter().any(|(own, _)| own.id.value == net.id.value))
            };
            let duties = plan.duties.iter().filter(|duty| *duty.member.value == member.id.value);
            let posts = duties.filter_map(|duty| plan.posts.get(&duty.post.value)).filter(is_of_net);
            let mut called: Vec<String> = posts.map(|post| called_there(post, plan).words()).collect();
            called.sort_unstable();
            called.dedup();
            (!called.is_empty()).then(|| body(Text::plain(called.join(" or "), member.span)))
        }
        RowValue::MemberPost => {
            let duties = view.plan().duties.iter().filter(|duty| *duty.member.value == member.id.value);
            let mut posts: Vec<&str> = duties
                .filter_map(|duty| view.plan().posts.get(&duty.post.value))
                .map(|post| post.name.as_str())
                .collect();
            posts.sort_unstable();
            posts.dedup();
            (!posts.is_empty()).then(|| body(Text::plain(posts.join(", "), member.span)))
        }
        _ => None,
    }
}

/// Numbers and the address that these readers may know; where there is none, that it is so.
fn contact(member: &Member, view: &View<'_>) -> Text {
    let open = member.phones.iter().filter_map(|phone| view.open(&phone.number.value));
    let mut ways: Vec<String> = open.map(|number| number.to_string()).collect();
    let email = member.email.as_ref().and_then(|email| view.open(&email.value));
    ways.extend(email.map(|email| email.to_string()));
    match (ways.is_empty(), seen(member, view.audience()) == Seen::NameAlone || member.email.is_some()) {
        (false, _) => Text::plain(ways.join(", "), member.span),
        (true, true) => Text::plain("not on this copy", member.span),
        (true, false) => Text::plain("by radio", member.span),
    }
}

fn place_cell(place: &Place, value: RowValue) -> Option<Cell> {
    match value {
        RowValue::PlaceTactical => Some(said(&place.tactical)),
        RowValue::PlaceName => Some(said(&place.name)),
        RowValue::PlaceCode => Some(said(&place.code)),
        _ => None,
    }
}

fn net_cell(net: &Net, value: RowValue, view: &View<'_>) -> Option<Cell> {
    match value {
        RowValue::NetName => Some(said(&net.name)),
        RowValue::NetChannel => {
            let channel = view.plan().channels.get(&net.legs.first()?.channel.value)?;
            Some(said(&channel.name))
        }
        RowValue::NetControl => {
            Some(control(net, view.plan()).map_or_else(|| body(Text::plain("no control", net.span)), body))
        }
        _ => None,
    }
}
