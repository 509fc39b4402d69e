//! Who may send on which channel: for whoever draws up a roster of duties. What is scarce is said first, then every member and channel
//! by a sign.

use crate::audience::View;
use crate::compose::block::{Block, Matrix, MatrixCell, MatrixColumn, MatrixRow, Paragraph, Role, Section, Sign, Text};
use crate::compose::channel_words::{barred_words, in_order, name_text, row_number, tied};
use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind};
use crate::compose::people::{letter, listed_name};
use crate::ground::{Audience, Day, Span, listed};
use crate::plan::{Channel, Each, Member, subject};
use crate::reckon::{OnChannel, Verdict, lists_radio};
use crate::tables::{Class, Profile};
use std::collections::{BTreeMap, BTreeSet};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "eligibility-matrix",
    title: "Who may send",
    about: "every member and channel by a sign: may send, has no radio for it, or listens only; first what is scarce",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["eligibility"],
    tables: &[],
    compose: Compose::View(compose),
};

/// How many of those who alone may send are named.
const MOST_NAMED: usize = 3;
/// How many lists of scarce channels are told.
const MOST_SCARCE: usize = 3;

/// Everybody and every channel, with what the law and the radios say.
struct Answers<'a> {
    view: &'a View<'a>,
    channels: Vec<OnChannel<'a>>,
    people: Vec<Person<'a>>,
}

struct Person<'a> {
    member: &'a Member,
    sorted_by: String,
    name: Text,
    /// One for each channel.
    verdicts: Vec<Verdict>,
    signs: Vec<Sign>,
}

fn compose(view: &View<'_>) -> Vec<Section> {
    let answers = Answers::of(view);
    let say = |text: Text, role| Block::Paragraph(Paragraph { text, role });
    let blocks = match (answers.channels.is_empty(), answers.people.is_empty()) {
        (true, _) => vec![say(Text::own("The plan has no channel."), Role::Body)],
        (_, true) => vec![say(Text::own("The roster is empty."), Role::Body)],
        _ => {
            let mut blocks = vec![say(answers.scarce(), Role::Body)];
            blocks.extend(answers.endings().map(|text| say(text, Role::Body)));
            blocks.extend([Block::Matrix(answers.matrix()), say(answers.basis(), Role::Small)]);
            blocks
        }
    };
    vec![Section { key: "eligibility", title: Text::own("Who may send"), blocks }]
}

impl<'a> Answers<'a> {
    fn of(view: &'a View<'a>) -> Self {
        let plan = view.plan();
        let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
        let rests_on = view.eligibility(day);
        let channels: Vec<OnChannel<'a>> = in_order(plan).into_iter().map(|channel| rests_on.on(channel)).collect();
        let person = |member: &'a Member| {
            let (sorted_by, name) = listed_name(member, view);
            let verdicts: Vec<Verdict> = channels.iter().map(|here| here.verdict(member)).collect();
            let sign = |(here, verdict): (&OnChannel<'a>, &Verdict)| {
                sign(verdict, here.channel(), lists_radio(plan, member, here.channel()))
            };
            let signs = channels.iter().zip(&verdicts).map(sign).collect();
            Person { member, sorted_by, name, verdicts, signs }
        };
        let mut people: Vec<Person<'a>> = plan.members.iter().map(person).collect();
        people.sort_by(|a, b| (&a.sorted_by, &a.member.id.value).cmp(&(&b.sorted_by, &b.member.id.value)));
        Self { view, channels, people }
    }

    /// Everything by signs.
    fn matrix(&self) -> Matrix {
        let column = |here: &OnChannel<'_>| MatrixColumn {
            number: row_number(here.channel()),
            name: name_text(here.channel()),
            lines: Vec::new(),
        };
        let said = |sign, words: &str| (Some(sign), Text::own(words));
        let mut legend = vec![
            said(Sign::Filled, "may send"),
            said(Sign::Ring, "may send, no radio for it listed"),
            said(Sign::Dot, "listen only"),
            said(Sign::Dash, "nothing is sent here"),
        ];
        let held: BTreeSet<&str> =
            self.people.iter().filter_map(|person| person.member.class.as_ref()).map(|class| class.as_str()).collect();
        let profile = self.view.profile();
        let classes = profile.classes.iter().filter(|class| held.contains(class.id.as_str()));
        let classes = classes.filter(|class| class_mark(class, profile) != class.name);
        legend.extend(classes.map(|class| (None, Text::own(format!("{} {}", class_mark(class, profile), class.name)))));
        Matrix {
            key: "eligibility",
            heads: vec!["name", "call sign", "class"],
            columns: self.channels.iter().map(column).collect(),
            rows: self.people.iter().map(|person| self.row(person)).collect(),
            counted: vec![Sign::Filled, Sign::Ring],
            counts: Text::own(format!("people, of {}", self.people.len())),
            legend,
        }
    }

    fn row(&self, person: &Person<'_>) -> MatrixRow {
        let Person { member, sorted_by, name, signs, .. } = person;
        let call = member
            .call
            .as_ref()
            .map_or_else(|| Text::plain("none", member.span), |call| Text::plain(call.to_string(), call.span));
        let profile = self.view.profile();
        let class = member.class.as_ref().and_then(|class| Some((profile.class(class.as_str())?, class.span)));
        let class = class.map_or_else(
            || Text::plain("none", member.span),
            |(class, span)| Text::plain(class_mark(class, profile), span),
        );
        MatrixRow {
            label: letter(sorted_by),
            head: vec![name.clone(), call, class],
            cells: signs.iter().copied().map(MatrixCell::Sign).collect(),
            notes: Vec::new(),
            begins: false,
            record: Some(subject(*member)),
            span: member.span,
        }
    }

    /// The channels that few may send on, those of nobody first.
    fn scarce(&self) -> Text {
        let mut by_senders: BTreeMap<Vec<usize>, Vec<usize>> = BTreeMap::new();
        let sent = self.channels.iter().enumerate().filter(|(_, here)| here.channel().send.is_some());
        for place in sent.map(|(place, _)| place) {
            let senders = (0..self.people.len()).filter(|person| self.sign(*person, place) == Some(Sign::Filled));
            by_senders.entry(senders.collect()).or_default().push(place);
        }
        let all = self.people.len();
        let nobody = by_senders.remove(&Vec::new()).unwrap_or_default();
        let (unequipped, closed): (Vec<usize>, Vec<usize>) =
            nobody.into_iter().partition(|place| (0..all).any(|person| self.sign(person, *place) == Some(Sign::Ring)));
        let mut text = Text::default();
        for (places, words) in [(unequipped, "Nobody has a listed radio for "), (closed, "Nobody may send on ")] {
            if !places.is_empty() {
                text = text.then(words).then_strong(self.names(&places)).then(". ");
            }
        }
        let mut few: Vec<(&Vec<usize>, &Vec<usize>)> =
            by_senders.iter().filter(|(senders, _)| senders.len() * 2 < all).collect();
        few.sort_by_key(|(senders, places)| (senders.len(), places.first().copied()));
        if few.is_empty() && text.is_empty() {
            return Text::own("On every channel on which anything is sent, half of the team or more may send.");
        }
        for (index, (senders, places)) in few.into_iter().take(MOST_SCARCE).enumerate() {
            text = text.then(if index == 0 { "Fewest: " } else { "; " });
            text =
                text.then_strong(self.names(places)).then(format!(" {}", tied(&format!("{} of {all}", senders.len()))));
            if senders.len() <= MOST_NAMED {
                let names = senders.iter().filter_map(|person| self.people.get(*person));
                let names: Vec<String> = names.map(|person| tied(&named_to(person.member, self.view))).collect();
                text = text.then(format!(" ({})", names.join(", ")));
            }
        }
        if text.runs.last().is_some_and(|run| !run.text.ends_with(". ")) { text.then(".") } else { text }
    }

    fn sign(&self, person: usize, channel: usize) -> Option<Sign> {
        self.people.get(person)?.signs.get(channel).copied()
    }

    fn names(&self, places: &[usize]) -> String {
        let names = places.iter().filter_map(|place| self.channels.get(*place));
        names.map(|here| tied(here.channel().name.as_str())).collect::<Vec<_>>().join(", ")
    }

    /// Who may send now and no longer on some day of this edition.
    fn endings(&self) -> Option<Text> {
        let review = self.view.plan().edition.as_ref()?.review_by.value;
        let mut ending: BTreeMap<(Day, Vec<usize>), Vec<String>> = BTreeMap::new();
        for person in &self.people {
            let mut days: BTreeMap<Day, Vec<usize>> = BTreeMap::new();
            for (place, here) in self.channels.iter().enumerate() {
                let sends = matches!(person.verdicts.get(place), Some(Verdict::Sends));
                if let Some(day) = here.until(person.member).filter(|day| sends && *day < review) {
                    days.entry(day).or_default().push(place);
                }
            }
            for (day, places) in days {
                ending.entry((day, places)).or_default().push(named_to(person.member, self.view));
            }
        }
        let told = |((day, places), people): ((Day, Vec<usize>), Vec<String>)| {
            let is_amateur =
                |place: &usize| self.channels.get(*place).is_some_and(|here| here.channel().service.is_amateur());
            let on = if places.iter().all(is_amateur) { "amateur channels".to_owned() } else { self.names(&places) };
            format!("{} until {day} on {on}", people.join(", "))
        };
        let told: Vec<String> = ending.into_iter().map(told).collect();
        (!told.is_empty()).then(|| Text::own(format!("Ends before the review: {}.", told.join("; "))))
    }

    /// Of which day the matrix speaks, what it rests on, and why some listen only.
    fn basis(&self) -> Text {
        let day = self.view.plan().edition.as_ref().map(|edition| edition.valid_from.value);
        let text = day.map_or_else(
            || Text::own("By "),
            |day| Text::own("On ").then_text(Text::of_edition(day.to_string(), Span::NOWHERE)).then(", by "),
        );
        let is_unjudged = self.people.iter().any(|person| person.member.radios.is_empty());
        let unjudged =
            if is_unjudged { "; on amateur channels whoever has none listed is taken to have one" } else { "" };
        text.then(format!(
            "class and license, then by the radios that the plan lists{unjudged}. The class of whoever is in control of the station decides.{}",
            self.reasons()
        ))
    }

    /// Why somebody listens only, reason by reason.
    fn reasons(&self) -> String {
        let mut everywhere: BTreeSet<&str> = BTreeSet::new();
        let mut by_reason: BTreeMap<String, BTreeSet<usize>> = BTreeMap::new();
        let mut ended: Vec<String> = Vec::new();
        for person in &self.people {
            for (place, verdict) in person.verdicts.iter().enumerate() {
                let Some(here) = self.channels.get(place) else { continue };
                let reason = match verdict {
                    Verdict::Sends | Verdict::ListenChannel | Verdict::NoRadio => continue,
                    Verdict::NoLicence => {
                        everywhere.insert("no amateur license");
                        continue;
                    }
                    Verdict::Ended => {
                        let name = named_to(person.member, self.view);
                        if !ended.contains(&name) {
                            ended.push(name);
                        }
                        continue;
                    }
                    Verdict::Class(Some(least)) => format!("below {least}"),
                    Verdict::Class(None) => "open to no class".to_owned(),
                    Verdict::Barred(barred) => barred_words(*barred, here.channel()),
                };
                by_reason.entry(reason).or_default().insert(place);
            }
        }
        let mut told: Vec<String> = everywhere.into_iter().map(str::to_owned).collect();
        told.extend((!ended.is_empty()).then(|| format!("license ended: {}", listed(&ended))));
        let on = |(reason, places): (String, BTreeSet<usize>)| {
            let places: Vec<usize> = places.into_iter().collect();
            format!("{reason} on {}", self.names(&places))
        };
        told.extend(by_reason.into_iter().map(on));
        if told.is_empty() { String::new() } else { format!(" Why some listen only: {}.", told.join("; ")) }
    }
}

/// What a verdict looks like. In another service a radio is needed that is made for it: who has none listed has none.
fn sign(verdict: &Verdict, channel: &Channel, has_radio: bool) -> Sign {
    match verdict {
        Verdict::Sends if channel.service.is_amateur() || has_radio => Sign::Filled,
        Verdict::Sends | Verdict::NoRadio => Sign::Ring,
        Verdict::ListenChannel => Sign::Dash,
        Verdict::NoLicence | Verdict::Ended | Verdict::Class(_) | Verdict::Barred(_) => Sign::Dot,
    }
}

/// A class in one letter, that of the last word of its name; the whole name where two have one letter.
fn class_mark(class: &Class, profile: &Profile) -> String {
    let first = |class: &Class| class.name.split(' ').next_back().map(letter).unwrap_or_default();
    let own = first(class);
    let alike = profile.classes.iter().filter(|other| first(other) == own).count();
    if alike == 1 { own } else { class.name.clone() }
}
