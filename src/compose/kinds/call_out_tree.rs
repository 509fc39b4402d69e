//! Who calls whom when the team is called out: rounds of calls with minutes, the rule for who does not answer, who cannot be called at
//! all, and what hangs on one person.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::foot::{member_words, named_to};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Span, Words};
use crate::plan::{Each, Member, subject};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "call-out-tree",
    title: "Call-out tree",
    about: "who calls whom, round by round with minutes, whom to call in the place of who does not answer, who cannot be called, and who hangs on one person",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["calls", "lacking"],
    tables: &[&CALLS],
    compose: Compose::View(compose),
};

const CALLS: TableKind = TableKind {
    key: "calls",
    columns: &[
        Column::must("round", "round", Role::Body),
        Column::must("minute", "by minute", Role::Body),
        Column::must("caller", "who calls", Role::Body),
        Column::must("name", "whom", Role::Body),
        Column::must("phone", "phone", Role::Phone),
        Column::must("reached", "reached at", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Calls of one person, and minutes of one call, an answer or none. Common practice, no source.
const CALLS_EACH: usize = 3;
const MINUTES: usize = 3;
/// Minutes after which the second begins in the place of the first: the first call and its second try.
const BEGIN: usize = 10;
const REACHED: &str = "________";

/// A member who can be called.
struct Called<'a> {
    member: &'a Member,
    number: &'a str,
    /// Round in which the member is called, from 1; who begins is of round 0.
    round: usize,
    /// Minute by which the call is over.
    minute: usize,
    /// The place of the caller among all.
    caller: usize,
}

fn compose(view: &View<'_>) -> Vec<Section> {
    let (reached, lacking) = parted(view);
    let called = tree(&reached);
    let say = |text: Text, role| Block::Paragraph(Paragraph { text, role });
    let row = |one: &Called<'_>| {
        let span = one.member.span;
        let caller = called.get(one.caller).map_or_else(String::new, |caller| named_to(caller.member, view));
        let cell = |key, words: String| CALLS.cell(key, Text::plain(words, span));
        let cells = vec![
            cell("round", one.round.to_string()),
            cell("minute", one.minute.to_string()),
            cell("caller", caller),
            cell("name", named(one.member, view)),
            cell("phone", one.number.to_owned()),
            cell("reached", REACHED.to_owned()),
        ];
        Row { label: String::new(), record: Some(subject(one.member)), span, cells }
    };
    let mut blocks = Vec::new();
    if let Some(first) = called.first() {
        let last = called.iter().map(|one| one.minute).max().unwrap_or(0);
        let begins = match called.get(1) {
            Some(next) => format!(
                "{} begins; after {BEGIN} minutes without a call from there {} begins, and calls the first one's list as well. ",
                named(first.member, view),
                named(next.member, view)
            ),
            None => format!("{} begins. ", named(first.member, view)),
        };
        let told = match lacking.len() {
            0 => format!("all {}", called.len()),
            more => format!("{} of {}", called.len(), called.len() + more),
        };
        let ends = format!("With every call answered, {told} are told after {last} minutes.");
        blocks.push(say(Text::strong(begins, first.member.span).then(ends), Role::Body));
        blocks.push(say(Text::own(SKIP), Role::Body));
        blocks.push(say(Text::own(SAID), Role::Body));
    }
    let mut rows: Vec<&Called<'_>> = called.iter().skip(1).collect();
    rows.sort_by_key(|one| (one.round, one.caller, one.minute));
    blocks.push(
        CALLS.of(rows.into_iter().map(row).collect(), "Nobody can be called by this copy: it shows no two numbers."),
    );
    let mut after: Vec<Block> = cannot(&lacking, view).into_iter().map(|text| say(text, Role::Body)).collect();
    after.push(say(alone(&called, view), Role::Body));
    let basis = format!("{CALLS_EACH} calls a person, {MINUTES} minutes a call: common practice, no source.");
    after.push(say(Text::own(basis), Role::Small));
    vec![
        Section { key: "calls", title: Text::own("Call-out tree"), blocks },
        Section { key: "lacking", title: Text::own("What the tree lacks"), blocks: after },
    ]
}

const SKIP: &str = "No answer after two tries: the caller calls that person's own list as well, in its order, then tells whoever began. Whoever has not been called 15 minutes after the last minute of the own round calls back up the tree.";
const SAID: &str = "Say: \u{201c}This is ______ for the team. This is (an actual call-out / a drill). Report to ______ on ______. Do not go without being sent.\u{201d} Have it said back.";

fn named(member: &Member, view: &View<'_>) -> String {
    view.name(member).map_or_else(|| named_to(member, view), |_| member_words(member))
}

/// Who has a number on this copy, whoever has a function in the team first; and who has none.
fn parted<'a>(view: &View<'a>) -> (Vec<(&'a Member, &'a str)>, Vec<&'a Member>) {
    let (mut reached, mut lacking) = (Vec::new(), Vec::new());
    for member in view.plan().members.iter() {
        let number = member.phones.iter().find_map(|phone| view.open(&phone.number.value)).map(Words::as_str);
        match number {
            Some(number) => reached.push((member, number)),
            None => lacking.push(member),
        }
    }
    reached.sort_by_key(|(member, _)| (member.roles.is_empty(), member.id.value.clone()));
    (reached, lacking)
}

/// Each calls the next ones of the list, in its order, one after the other.
fn tree<'a>(reached: &[(&'a Member, &'a str)]) -> Vec<Called<'a>> {
    let mut all: Vec<Called<'a>> = Vec::new();
    for (place, (member, number)) in reached.iter().copied().enumerate() {
        let caller = place.saturating_sub(1) / CALLS_EACH;
        let (round, minute) = match (place, all.get(caller)) {
            (0, _) | (_, None) => (0, 0),
            (_, Some(caller)) => (caller.round + 1, caller.minute + MINUTES * ((place - 1) % CALLS_EACH + 1)),
        };
        all.push(Called { member, number, round, minute, caller });
    }
    all
}

/// Who cannot be called by this copy, and why: no number is known, or who may read it has to call.
fn cannot(lacking: &[&Member], view: &View<'_>) -> Vec<Text> {
    if lacking.is_empty() {
        return vec![Text::own("Everybody of the roster has a number on this copy.")];
    }
    let (closed, unknown): (Vec<&Member>, Vec<&Member>) =
        lacking.iter().partition(|member| member.phones.iter().any(|phone| !phone.number.value.is_withheld()));
    let names = |members: &[&Member]| members.iter().map(|member| named(member, view)).collect::<Vec<_>>().join("; ");
    let mut texts = Vec::new();
    if !closed.is_empty() {
        let mut readers: Vec<(&Audience, Vec<&Member>)> = Vec::new();
        for member in closed {
            // The widest readers of any of the numbers: whoever calls needs one.
            let own = member.phones.iter().map(|phone| phone.number.value.audience()).min();
            let Some(own) = own else { continue };
            match readers.iter_mut().find(|(known, _)| *known == own) {
                Some((_, members)) => members.push(member),
                None => readers.push((own, vec![member])),
            }
        }
        readers.sort_by_key(|(audience, _)| *audience);
        texts.extend(readers.into_iter().map(|(audience, members)| {
            let who = format!("Number closed to this copy, to be called by {}: ", callers(audience));
            Text::strong(who, Span::NOWHERE).then(format!("{}.", names(&members)))
        }));
    }
    if !unknown.is_empty() {
        let who = "No number in the plan, to be reached another way: ";
        texts.push(Text::strong(who, Span::NOWHERE).then(format!("{}.", names(&unknown))));
    }
    texts
}

/// Who has a copy with numbers for these readers.
fn callers(audience: &Audience) -> String {
    match audience {
        Audience::Coordinator => "the coordinator".to_owned(),
        Audience::Leads => "the leads".to_owned(),
        Audience::Team | Audience::Public => "the team".to_owned(),
        Audience::Agency(_) => format!("{audience}, the leads and the coordinator"),
    }
}

/// Whose silence leaves how many uncalled, unless the rule above is kept; and numbers that ring for two.
fn alone(called: &[Called<'_>], view: &View<'_>) -> Text {
    let mut below = vec![0_usize; called.len()];
    for place in (1..called.len()).rev() {
        let (own, caller) = (below.get(place).copied().unwrap_or(0), called.get(place).map_or(0, |one| one.caller));
        if let Some(sum) = below.get_mut(caller) {
            *sum += own + 1;
        }
    }
    let hang = called.iter().zip(below).skip(1).filter(|(_, below)| *below > CALLS_EACH);
    let hang: Vec<String> = hang.map(|(one, below)| format!("{} ({below})", named(one.member, view))).collect();
    let text = match hang.is_empty() {
        true => Text::own("Nobody but who begins has more than one round below."),
        false => Text::strong("Single points of failure, with how many wait for them: ", Span::NOWHERE)
            .then(format!("{}.", hang.join("; "))),
    };
    let mut numbers: Vec<(&str, &Member)> = called.iter().map(|one| (one.number, one.member)).collect();
    numbers.sort_by_key(|(number, member)| (*number, member.id.value.clone()));
    let shared = numbers.windows(2).filter_map(|pair| match pair {
        [one, other] if one.0 == other.0 => Some(format!("{} and {}", named(one.1, view), named(other.1, view))),
        _ => None,
    });
    let shared: Vec<String> = shared.collect();
    if shared.is_empty() { text } else { text.then(format!(" One number for two: {}.", shared.join("; "))) }
}
