//! Where labels stand that hang on positions of a line: like flags, each on its own pole, words to the right of it.
//!
//! Flags stand in groups like stairs, the tallest pole first, so that no pole passes through words; order of poles is order of positions,
//! so that leaders never cross. Of all divisions into groups the one with the least squared shifts is taken: then what the flags of a
//! cluster are moved by sums to nothing, and the cluster leans to both sides alike.

use crate::ground::Length;

/// What is to be placed: a position, and the width of its words with the gap before them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct WantedFlag {
    /// Where on the line it belongs.
    pub at: Length,
    /// From the pole to the end of the words.
    pub width: Length,
}

/// Where a flag stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Flag {
    /// Its pole.
    pub pole: Length,
    /// Levels away from the line, from 0.
    pub level: usize,
    /// Whether its words stand left of the pole.
    pub is_left: bool,
}

/// Where flags may stand.
#[derive(Clone, Copy, Debug)]
pub(super) struct FlagRoom {
    /// The leftmost pole.
    pub left: Length,
    /// Where the last words end.
    pub right: Length,
    /// Flags in a group at most.
    pub levels: usize,
}

/// From pole to pole in a group, and from the words of a group to the next pole.
const POLES: Length = Length::hundredths_mm(220);
const NEXT: Length = Length::hundredths_mm(180);
/// A leader that leans further is hard to follow.
const FAR: Length = Length::mm(16);
/// Divisions that are followed up at once, the best ones first.
const FOLLOWED: usize = 6;

/// Places flags, which are sorted by position, on as few levels as keep each within [`FAR`] of its position. None where that cannot be.
pub(super) fn near(wanted: &[WantedFlag], room: FlagRoom) -> Option<Vec<Flag>> {
    let is_near = |flags: &Vec<Flag>| {
        flags.iter().zip(wanted).all(|(flag, want)| (flag.pole - want.at).max(want.at - flag.pole) <= FAR)
    };
    (1..=room.levels).find_map(|levels| place(wanted, FlagRoom { levels, ..room }).filter(is_near))
}

/// The same however far they move, on as many levels as there are.
pub(super) fn anywhere(wanted: &[WantedFlag], room: FlagRoom) -> Option<Vec<Flag>> {
    (1..=room.levels).find_map(|levels| place(wanted, FlagRoom { levels, ..room }))
}

/// Flags that move together.
#[derive(Clone, Copy, Debug)]
struct FlagGroup {
    first: usize,
    count: usize,
    form: GroupForm,
}

/// How the poles of a group stand to each other.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum GroupForm {
    /// As near as may be.
    Tight,
    /// As far apart as their positions.
    Wide,
    /// One whose words stand left of it.
    Left,
}

impl FlagGroup {
    /// How far each pole stands right of the first.
    fn offsets<'a>(&self, wanted: &'a [WantedFlag]) -> impl Iterator<Item = (Length, &'a WantedFlag)> + use<'a> {
        let form = self.form;
        let of = wanted.get(self.first..self.first + self.count).unwrap_or_default();
        let mut last: Option<(Length, Length)> = None;
        of.iter().map(move |want| {
            let offset = match last {
                None => Length::ZERO,
                Some((offset, at)) if form == GroupForm::Wide => offset + POLES.max(want.at - at),
                Some((offset, _)) => offset + POLES,
            };
            last = Some((offset, want.at));
            (offset, want)
        })
    }

    fn is_left(&self) -> bool {
        self.form == GroupForm::Left
    }

    /// How far its words reach left of its first pole, and right of it.
    fn reach(&self, wanted: &[WantedFlag]) -> (Length, Length) {
        let ends = self.offsets(wanted).map(|(offset, want)| {
            if self.is_left() { (want.width, POLES - NEXT) } else { (Length::ZERO, offset + want.width) }
        });
        ends.fold((Length::ZERO, Length::ZERO), |(left, right), (l, r)| (left.max(l), right.max(r)))
    }

    /// What a division is charged for it beside its shifts: height, and words left of a pole. Small: they only break ties.
    fn charge(&self) -> i128 {
        let square = |length: Length| i128::from(length.as_grains()).pow(2);
        let height = square(Length::hundredths_mm(30)) * i128::try_from(self.count - 1).unwrap_or(0);
        height + if self.is_left() { square(Length::hundredths_mm(120)) } else { 0 }
    }
}

/// Groups that push against each other, with what they want to be moved by.
#[derive(Clone, Copy, Debug)]
struct Cluster {
    sum: i128,
    count: i128,
    squares: i128,
    /// What the clusters left of it cost.
    before: i128,
    /// Which division ends with the cluster left of it.
    below: Option<usize>,
    groups: usize,
}

impl Cluster {
    const fn mean(&self) -> i128 {
        self.sum.div_euclid(self.count)
    }

    const fn cost(&self) -> i128 {
        self.before + self.squares - self.sum * self.sum / self.count
    }
}

/// A division of the first flags into groups.
#[derive(Clone, Copy, Debug)]
struct Division {
    group: FlagGroup,
    /// The division without that group.
    parent: Option<usize>,
    /// Its last cluster.
    cluster: Cluster,
    /// What the gaps before its last group sum to.
    space: Length,
    charges: i128,
}

impl Division {
    const fn cost(&self) -> i128 {
        self.cluster.cost() + self.charges
    }
}

/// All divisions that are followed, each known by its number.
#[derive(Default)]
struct Divisions {
    all: Vec<Division>,
}

impl Divisions {
    fn get(&self, number: Option<usize>) -> Option<&Division> {
        self.all.get(number?)
    }

    /// A division with one group more: pool adjacent violators, least squares under order.
    fn with(&self, parent: Option<usize>, group: FlagGroup, wanted: &[WantedFlag]) -> Division {
        let (reach_left, _) = group.reach(wanted);
        let last = self.get(parent);
        let gap = last.map_or(Length::ZERO, |last| last.group.reach(wanted).1 + NEXT + reach_left);
        let space = last.map_or(Length::ZERO, |last| last.space) + gap;
        let wants = group.offsets(wanted).map(|(offset, want)| i128::from((want.at - offset - space).as_grains()));
        let (sum, squares) = wants.fold((0, 0), |(sum, squares), want| (sum + want, squares + want * want));
        let count = i128::try_from(group.count).unwrap_or(1);
        let before = last.map_or(0, |last| last.cluster.cost());
        let mut cluster = Cluster { sum, count, squares, before, below: parent, groups: 1 };
        while let Some(below) =
            self.get(cluster.below).map(|below| below.cluster).filter(|below| below.mean() > cluster.mean())
        {
            cluster = Cluster {
                sum: cluster.sum + below.sum,
                count: cluster.count + below.count,
                squares: cluster.squares + below.squares,
                before: below.before,
                below: below.below,
                groups: cluster.groups + below.groups,
            };
        }
        let charges = last.map_or(0, |last| last.charges) + group.charge();
        Division { group, parent, cluster, space, charges }
    }
}

/// How the poles of a group of so many may stand.
const fn forms(count: usize, levels: usize) -> &'static [GroupForm] {
    match (count, levels) {
        (1, 1) => &[GroupForm::Tight, GroupForm::Left],
        (1, _) => &[GroupForm::Tight],
        _ => &[GroupForm::Tight, GroupForm::Wide],
    }
}

/// From the first words to the last, where flags stand as near as may be: what has less room is divided in vain.
fn least_room(wanted: &[WantedFlag], levels: usize) -> Length {
    // Of none, of the last, of the last two; with the gap before them.
    let mut least = vec![Length::ZERO];
    for first in (0..wanted.len()).rev() {
        let extent = |form, count| {
            let (left, right) = FlagGroup { first, count, form }.reach(wanted);
            left + right
        };
        let of = |count: usize| {
            let others = least.get(least.len().checked_sub(count)?)?;
            let own = forms(count, levels).iter().map(|form| extent(*form, count)).min()?;
            Some(NEXT + own + *others)
        };
        let of_all = (1..=levels).filter_map(of).min();
        least.push(of_all.unwrap_or(Length::ZERO));
    }
    least.last().map_or(Length::ZERO, |all| *all - NEXT)
}

fn place(wanted: &[WantedFlag], room: FlagRoom) -> Option<Vec<Flag>> {
    if least_room(wanted, room.levels) > room.right - room.left {
        return None;
    }
    let mut divisions = Divisions::default();
    // By how many flags they divide.
    let mut ends: Vec<Vec<usize>> = vec![Vec::new(); wanted.len() + 1];
    for first in 0..wanted.len() {
        let parents: Vec<Option<usize>> =
            if first == 0 { vec![None] } else { ends.get(first)?.iter().copied().map(Some).collect() };
        for count in 1..=room.levels.min(wanted.len() - first) {
            let forms = forms(count, room.levels).iter();
            for (parent, form) in parents.iter().flat_map(|parent| forms.clone().map(move |form| (*parent, *form))) {
                let new = divisions.with(parent, FlagGroup { first, count, form }, wanted);
                keep(&mut divisions, ends.get_mut(first + count)?, new);
            }
        }
    }
    let ended = ends.last()?;
    let placed = ended.iter().filter_map(|number| finished(&divisions, *number, wanted, room));
    let best = placed.min_by_key(|(cost, _)| *cost).map(|(_, flags)| flags);
    if wanted.is_empty() { Some(Vec::new()) } else { best }
}

/// Takes a division up where it is among the best of its length.
fn keep(divisions: &mut Divisions, known: &mut Vec<usize>, new: Division) {
    let cost = new.cost();
    let at = known
        .iter()
        .position(|number| divisions.get(Some(*number)).is_some_and(|other| other.cost() > cost))
        .unwrap_or(known.len());
    if at < FOLLOWED {
        divisions.all.push(new);
        known.insert(at, divisions.all.len() - 1);
        known.truncate(FOLLOWED);
    }
}

/// The flags of a division inside the edges, with what they cost. None where they are wider than the room.
fn finished(divisions: &Divisions, number: usize, wanted: &[WantedFlag], room: FlagRoom) -> Option<(i128, Vec<Flag>)> {
    let last = divisions.get(Some(number))?;
    let mut means: Vec<i128> = Vec::new();
    let mut cluster = Some(last.cluster);
    while let Some(this) = cluster {
        means.extend(std::iter::repeat_n(this.mean(), this.groups));
        cluster = divisions.get(this.below).map(|below| below.cluster);
    }
    // From the last to the first, as the divisions are told.
    let mut told: Vec<Division> = Vec::new();
    let mut at = Some(number);
    while let Some(division) = divisions.get(at) {
        told.push(*division);
        at = division.parent;
    }
    let first = told.last()?.group;
    let low = room.left + first.reach(wanted).0;
    let high = room.right - last.group.reach(wanted).1.max(Length::ZERO) - last.space;
    if high < low {
        return None;
    }
    let mut flags = Vec::new();
    let mut cost = last.charges;
    for (division, mean) in told.iter().zip(means).rev() {
        let moved = Length::grains(i64::try_from(mean).ok()?).max(low).min(high);
        let group = division.group;
        for (index, (offset, want)) in group.offsets(wanted).enumerate() {
            let pole = moved + division.space + offset;
            cost += i128::from((pole - want.at).as_grains()).pow(2);
            flags.push(Flag { pole, level: group.count - 1 - index, is_left: group.is_left() });
        }
    }
    Some((cost, flags))
}

#[cfg(test)]
mod tests {
    use super::{Flag, FlagRoom, POLES, WantedFlag, anywhere, least_room, near};
    use crate::ground::Length;
    use proptest::prelude::{Strategy, prop_assert, proptest};

    const ROOM: FlagRoom = FlagRoom { left: Length::ZERO, right: Length::mm(280), levels: 4 };

    fn wanted() -> impl Strategy<Value = Vec<WantedFlag>> {
        let one = (0..28_000_i64, 300..3500_i64)
            .prop_map(|(at, width)| WantedFlag { at: Length::hundredths_mm(at), width: Length::hundredths_mm(width) });
        proptest::collection::vec(one, 0..24).prop_map(|mut all| {
            all.sort_by_key(|one| one.at);
            all
        })
    }

    /// Where the words of a flag stand.
    fn words(flag: &Flag, want: &WantedFlag) -> (Length, Length) {
        if flag.is_left { (flag.pole - want.width, flag.pole) } else { (flag.pole, flag.pole + want.width) }
    }

    proptest! {
        #[test]
        fn flags_stand_inside_in_order_and_clear_of_each_other(wanted in wanted()) {
            let Some(flags) = anywhere(&wanted, ROOM) else { return Ok(()) };
            prop_assert!(flags.len() == wanted.len(), "no flag is lost");
            let all = || flags.iter().zip(&wanted).map(|(flag, want)| words(flag, want));
            if let (Some(from), Some(to)) = (all().map(|(from, _)| from).min(), all().map(|(_, to)| to).max()) {
                prop_assert!(least_room(&wanted, ROOM.levels) <= to - from, "nothing is refused that has a place");
            }
            for (n, (flag, want)) in flags.iter().zip(&wanted).enumerate() {
                let (from, to) = words(flag, want);
                prop_assert!(from >= Length::ZERO && to <= ROOM.right);
                for (other, other_want) in flags.iter().zip(&wanted).skip(n + 1) {
                    prop_assert!(other.pole >= flag.pole + POLES, "poles keep their order");
                    let (other_from, _) = words(other, other_want);
                    let is_beside = other_from > to && other.pole > to;
                    prop_assert!(is_beside || (flag.level > other.level && !flag.is_left && !other.is_left), "words of a level never meet, no pole passes through words");
                }
            }
        }

        /// A cluster that no edge holds leans to both sides alike.
        #[test]
        fn a_cluster_away_from_the_edges_is_not_moved_as_a_whole(start in 11_000..15_000_i64, steps in proptest::collection::vec(0..250_i64, 1..9)) {
            let mut at = start;
            let wanted: Vec<WantedFlag> = steps.iter().map(|step| {
                at += step;
                WantedFlag { at: Length::hundredths_mm(at), width: Length::mm(24) }
            }).collect();
            let flags = anywhere(&wanted, FlagRoom { levels: 3, ..ROOM }).unwrap();
            let groups = flags.iter().zip(&wanted).map(|(flag, want)| (flag.pole - want.at).as_grains()).sum::<i64>();
            let count = i64::try_from(flags.len()).unwrap();
            prop_assert!((groups / count).abs() < 72, "mean shift {} hundredths of a millimeter", groups / count / 72);
        }
    }

    #[test]
    fn lone_flags_stay_where_they_belong() {
        let at = |mm| WantedFlag { at: Length::mm(mm), width: Length::mm(20) };
        let flags = near(&[at(10), at(80), at(150)], ROOM).unwrap();
        let straight = [10, 80, 150].map(|mm| Flag { pole: Length::mm(mm), level: 0, is_left: false });
        assert_eq!(flags, straight);
        let flags = near(&[at(270)], ROOM).unwrap();
        assert_eq!(flags, [Flag { pole: Length::mm(270), level: 0, is_left: true }], "its words would leave the sheet");
    }

    #[test]
    fn more_than_the_line_holds_is_refused() {
        let many = vec![WantedFlag { at: Length::mm(5), width: Length::mm(5) }; 30];
        assert!(anywhere(&many, FlagRoom { right: Length::mm(20), ..ROOM }).is_none());
        let far = vec![WantedFlag { at: Length::mm(140), width: Length::mm(30) }; 24];
        assert!(near(&far, ROOM).is_none() && anywhere(&far, ROOM).is_some(), "leaders would lean too far");
    }
}
