//! From the kits of a plan to the covers of their sets, and which papers each set holds.

use super::kind::Kind;
use super::kinds::COVER;
use super::rules::{KIT_CANNOT_GIVE, KIT_TOO_OPEN};
use super::task::{Beside, PartKey, SharedKey, Task};
use crate::ground::{At, Finding, Findings, Id};
use crate::plan::{DocumentOrder, Each, KitOrder, Member, Plan, subject};
use crate::tables::{Profile, Tables};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Most documents of a kit: so many rows stand on a cover of one page, in two lines each. This program's own limit, no source.
const MOST_IN_SET: usize = 20;

/// How many sets a kit makes.
pub(super) fn sets(kit: &KitOrder, plan: &Plan) -> usize {
    holders(kit, plan).map_or(1, |holders| holders.len())
}

/// The cover of each set of a kit; none, with findings, of one that cannot be put together.
pub(super) fn covers(kit: &KitOrder, plan: &Plan, profile: &Profile, found: &mut Findings) -> Vec<Task> {
    let errors = found.errors();
    for id in &kit.documents.value {
        if let Some(order) = plan.documents.get(&id.value) {
            judge(kit, (id.span, order), found);
        }
    }
    if kit.each.value == Each::Message {
        let what = format!("kit {} is for each message, and a message gets no papers", kit.id.value);
        let finding = Finding::new(&KIT_CANNOT_GIVE, kit.each.span, what).on(subject(kit)).label("nobody is handed it");
        found.push(finding.help("write each = \"member\" or \"place\""));
        return Vec::new();
    }
    let holders = holders(kit, plan);
    if holders.as_ref().is_some_and(BTreeSet::is_empty) {
        let what = format!("kit {} is for nobody: no {} of the plan is meant by it", kit.id.value, kit.each.value);
        let span = kit.role.as_ref().map_or(kit.each.span, |role| role.span);
        let finding = Finding::new(&KIT_CANNOT_GIVE, span, what).on(subject(kit)).label("leaves nobody");
        found.push(finding.help("write a role or a post that some member has, or leave them out"));
    }
    if holders.is_none() && (kit.role.is_some() || kit.post.is_some() || kit.together.is_some_and(|all| all.value)) {
        let what = format!(
            "kit {} is one set: there are no members to choose from, and no sets to put together",
            kit.id.value
        );
        let finding = Finding::new(&KIT_CANNOT_GIVE, kit.each.span, what).on(subject(kit)).label("makes one set");
        found.push(finding.help("write each = \"member\", or leave `role`, `post` and `together` out"));
    }
    let sites = MemberSites::of(kit, plan);
    let parts_of = |holder: Option<&Id>| parts_of(kit, holder, (plan, &sites));
    let of_holders: Vec<Vec<PartKey>> = holders.iter().flatten().map(|holder| parts_of(Some(holder))).collect();
    let count = of_holders.iter().map(Vec::len).fold(kit.documents.value.len(), usize::max);
    for id in &kit.documents.value {
        let is_of_site = plan.documents.get(&id.value).is_some_and(|order| order.each.value == Each::Place);
        let is_in_none = || of_holders.iter().flatten().all(|(document, _)| document.as_str() != id.as_str());
        if kit.each.value == Each::Member && is_of_site && is_in_none() {
            let what =
                format!("{} is in no set of kit {}: nobody who gets one has a duty at a place", id.value, kit.id.value);
            let finding = Finding::new(&KIT_CANNOT_GIVE, id.span, what).on(subject(kit)).label("would be left out");
            found.push(finding.help(format!("give duties at posts that have a place, or leave {} out", id.value)));
        }
    }
    if count > MOST_IN_SET {
        let what = format!("kit {} holds {count} papers, and its cover lists {MOST_IN_SET} at most", kit.id.value);
        let finding = Finding::new(&KIT_CANNOT_GIVE, kit.documents.span, what).on(subject(kit)).label("too many");
        found.push(finding.help("make two kits of it"));
    }
    if kit.documents.value.is_empty() {
        let what = format!("kit {} holds no document", kit.id.value);
        let finding = Finding::new(&KIT_CANNOT_GIVE, kit.documents.span, what).on(subject(kit)).label("names none");
        found.push(finding.help("name the ids of documents, or leave the kit out"));
    }
    // The cover takes the paper of what lies first below it.
    let first = kit.documents.value.first().and_then(|id| plan.documents.get(&id.value));
    let asked = first.and_then(|order| order.paper.as_ref()).map_or(profile.paper.as_str(), |paper| paper.as_str());
    let Some(paper) = Tables::built_in().papers.get(asked).filter(|_| found.errors() == errors) else {
        return Vec::new();
    };
    let kind: &'static Kind = COVER;
    let task = Task {
        document: kit.id.value.clone(),
        holder: None,
        together: Vec::new(),
        copy: None,
        shared: SharedKey { kind, audience: kit.audience.value.clone(), beside: Beside::Kit(kit.id.value.clone()) },
        each: kit.each.value,
        layout: At::new(kind.layout.to_owned(), kit.id.span),
        variant: None,
        paper: paper.id.as_str(),
        copies: 1,
        serial: None,
        sheets: Vec::new(),
        number: None,
        sheet: None,
        parts: Arc::from(parts_of(None)),
    };
    let Some(holders) = holders else { return vec![task] };
    let of_holder =
        |(number, (id, parts))| Task { holder: Some(id), copy: Some(number), parts: Arc::from(parts), ..task.clone() };
    (1..).zip(holders.into_iter().zip(of_holders)).map(of_holder).collect()
}

/// Whether a document can stand in the sets of a kit.
fn judge(kit: &KitOrder, (span, order): (crate::ground::Span, &DocumentOrder), found: &mut Findings) {
    let (id, own) = (&kit.id.value, &order.id.value);
    let is_of_site = (kit.each.value, order.each.value) == (Each::Member, Each::Place);
    if order.each.value != Each::Once && order.each.value != kit.each.value && !is_of_site {
        let what = format!("{own} is made for each {}, and kit {id} is made for {}", order.each.value, each_words(kit));
        let finding = Finding::new(&KIT_CANNOT_GIVE, span, what).on(subject(kit)).label("whose copy would it be?");
        let help = format!("write each = \"{}\" in the kit, or leave {own} out", order.each.value);
        found.push(finding.and(order.each.span, "made for each here").help(help));
    }
    if !kit.audience.value.may_read(&order.audience.value) {
        let what = format!("{own} is for {}, and kit {id} for {}", order.audience.value, kit.audience.value);
        let finding = Finding::new(&KIT_TOO_OPEN, span, what).on(subject(kit)).label("closed to those who get the kit");
        let finding = finding.and(order.audience.span, "for whom it is");
        found.push(
            finding.help(format!("write audience = \"{}\" in the kit, or leave {own} out", order.audience.value)),
        );
    }
}

fn each_words(kit: &KitOrder) -> String {
    match kit.each.value {
        Each::Once => "all as one set".to_owned(),
        each => format!("each {each}"),
    }
}

/// Whose sets a kit makes; none where it is one set.
fn holders(kit: &KitOrder, plan: &Plan) -> Option<BTreeSet<Id>> {
    let at_post: Option<BTreeSet<&Id>> = kit.post.as_ref().map(|post| {
        let at = plan.duties.iter().filter(|duty| duty.post.value == post.value);
        at.filter(|_| plan.posts.get(&post.value).is_some()).map(|duty| &*duty.member.value).collect()
    });
    let is_meant = |member: &&Member| {
        let has_role = kit.role.as_ref().is_none_or(|role| member.roles.iter().any(|own| own.value == role.value));
        has_role && at_post.as_ref().is_none_or(|stand| stand.contains(&member.id.value))
    };
    match kit.each.value {
        Each::Once => None,
        Each::Member => Some(plan.members.iter().filter(is_meant).map(|member| member.id.value.clone()).collect()),
        Each::Place if kit.role.is_some() || kit.post.is_some() => Some(BTreeSet::new()),
        Each::Place => Some(plan.places.ids().cloned().collect()),
        Each::Message => Some(BTreeSet::new()),
    }
}

/// The papers that a holder's set holds: of documents for each place, those of the places where a member has duties.
fn parts_of(kit: &KitOrder, holder: Option<&Id>, (plan, sites): (&Plan, &MemberSites<'_>)) -> Vec<PartKey> {
    let orders = kit.documents.value.iter().filter_map(|id| plan.documents.get(&id.value));
    let part = |order: &DocumentOrder| -> Vec<PartKey> {
        let of = |holder: Option<&Id>| (order.id.value.clone(), holder.cloned());
        match (kit.each.value, order.each.value) {
            (_, Each::Once) => vec![of(None)],
            (Each::Member, Each::Place) => {
                let places = holder.and_then(|member| sites.0.get(member));
                places.into_iter().flatten().map(|place| of(Some(place))).collect()
            }
            _ => vec![of(holder)],
        }
    };
    orders.flat_map(part).collect()
}

/// The places where each member has duties, by id.
#[derive(Default)]
struct MemberSites<'a>(BTreeMap<&'a Id, BTreeSet<&'a Id>>);

impl<'a> MemberSites<'a> {
    /// Of all members; none where no set holds sheets of sites.
    fn of(kit: &KitOrder, plan: &'a Plan) -> Self {
        let mut sites = Self::default();
        if kit.each.value != Each::Member {
            return sites;
        }
        for duty in &plan.duties {
            let post = plan.posts.get(&duty.post.value);
            let place = post.and_then(|post| plan.places.get(&post.place.as_ref()?.value));
            if let Some(place) = place {
                sites.0.entry(&*duty.member.value).or_default().insert(&place.id.value);
            }
        }
        sites
    }
}

/// The copies of holders that sets need one by one, while their document has all in one file.
#[must_use]
pub fn single_copies(tasks: &[Task]) -> Vec<Task> {
    let wanted: BTreeSet<&PartKey> = tasks.iter().flat_map(Task::parts).collect();
    let together = tasks.iter().filter(|task| !task.together.is_empty());
    let singles = together.flat_map(Task::singles);
    singles.filter(|task| wanted.contains(&(task.document.clone(), task.holder.clone()))).collect()
}
