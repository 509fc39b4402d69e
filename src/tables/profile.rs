//! A country profile, read from its rows: the built-in ones and a team's own file alike.

use super::area::draw_lines;
use super::call_form::{CallForm, CallRegion, ClosedCalls};
use super::profile_rows::{
    Band, Calling, Class, Custom, EmissionRow, Exclusion, LimitedSegment, LinePoint, OtherService, PowerLimit,
    Privilege, Raster, Segment, ServiceChannel, UsualWidth,
};
use super::profile_sound;
use super::row::{Cite, nodes, row, rows};
use super::rules::{TABLE_KEY_UNUSED, TABLE_KIND_UNKNOWN};
use crate::ground::{At, Day, Finding, Findings, Frequency, Shift, Span, Stretch, nearest};
use crate::source::{Cell, Declared, Habits, Meant, Node, Reading, UNKNOWN_KEY, record, record_of};
use std::sync::Arc;

/// What the law and the band plan of one country say. Its rows stand behind `Deref`.
#[derive(Clone, Debug)]
pub struct Profile {
    /// `us`.
    pub id: String,
    /// Name of the country.
    pub name: String,
    /// The rule set with its date, as printed: `47 CFR Part 97 as of 2026-02-13`.
    pub rule_set: String,
    /// Last day on which somebody looked for changes.
    pub checked_on: Day,
    /// Day by which somebody must look again.
    pub review_by: Day,
    /// Where the rule set is from.
    pub cite: Cite,
    /// Language of the words, as `en-US`.
    pub language: String,
    /// Usual paper.
    pub paper: String,
    /// The identification rule in a sentence.
    pub identification: String,
    /// The identification rule in a few words.
    pub identification_short: String,
    /// Precedence words, highest first.
    pub precedence: Vec<String>,
    /// Words that no name said on the air may have.
    pub forbidden: Vec<String>,
    /// Whose privileges count, in a sentence.
    pub control_operator: String,
    /// What a width is that a plan leaves out.
    pub usual_width: UsualWidth,
    /// All its rows.
    rows: Rows,
}

impl std::ops::Deref for Profile {
    type Target = Rows;
    fn deref(&self) -> &Rows {
        &self.rows
    }
}

/// The list of the kinds of rows: of each, whose rows count where a profile has none of its own.
macro_rules! kinds {
    ($($(#[doc = $doc:literal])* $field:ident: $type:ident = $kind:literal of $base:ident,)*) => {
        /// The rows of a profile, in file order.
        #[derive(Clone, Debug)]
        pub struct Rows { $($(#[doc = $doc])* pub $field: Vec<$type>,)* }

        impl Rows {
            fn read(root: &Node, base: Option<&Profile>, band_plan: Option<&Profile>, found: &mut Findings) -> Self {
                let of = Bases { base, band_plan };
                Self { $($field: match root.get($kind) {
                    Some(_) => rows(root, $kind, found),
                    None => of.$base.map(|base| base.$field.clone()).unwrap_or_default(),
                },)* }
            }
        }

        /// The kinds of rows and the keys that each may have.
        fn kinds() -> Vec<(&'static str, Vec<&'static str>)> {
            vec![$(($kind, keys_of::<$type>()),)*]
        }
    };
}

struct Bases<'a> {
    base: Option<&'a Profile>,
    band_plan: Option<&'a Profile>,
}

kinds! {
    /// Licence classes, lowest first.
    classes: Class = "class" of base,
    /// Bands, in table order.
    bands: Band = "band" of base,
    /// Who may transmit where.
    privileges: Privilege = "privilege" of base,
    /// What may be transmitted where.
    emissions: EmissionRow = "emission" of base,
    /// How much.
    power_limits: PowerLimit = "power-limit" of base,
    /// Where nobody may transmit.
    exclusions: Exclusion = "exclusion" of base,
    /// Lines that bound areas, point by point.
    line_points: LinePoint = "line-point" of base,
    /// Other services, and what authority to transmit in them takes.
    services: OtherService = "service" of base,
    /// Their channels.
    service_channels: ServiceChannel = "service-channel" of base,
    /// Where automatically controlled data stations may stand; empty when the profile says nothing of them.
    automatic_segments: Segment = "automatic-segment" of base,
    /// Where repeaters may stand.
    repeater_segments: Segment = "repeater-segment" of base,
    /// Where auxiliary stations may stand.
    auxiliary_segments: LimitedSegment = "auxiliary-segment" of base,
    /// Where beacons under automatic control may stand.
    beacon_segments: LimitedSegment = "beacon-segment" of base,
    /// The band plan.
    customs: Custom = "custom" of band_plan,
    /// Steps between channels.
    rasters: Raster = "raster" of band_plan,
    /// Calling frequencies.
    callings: Calling = "calling" of band_plan,
    /// Centres of activity for emergency traffic, open to all.
    emergencies: Calling = "emergency" of band_plan,
    /// Shapes of the country's amateur call signs; empty when the profile says nothing of them.
    call_forms: CallForm = "call-form" of base,
    /// Call signs that nobody is given.
    closed_calls: ClosedCalls = "closed-calls" of base,
    /// Which numeral was given where.
    call_regions: CallRegion = "call-region" of base,
}

/// The keys of a kind of row, beside source and confidence.
fn keys_of<T: Meant>() -> Vec<&'static str> {
    let mut keys = Vec::new();
    <T::Written as Declared>::keys(&mut keys);
    keys.retain(|key| !["source", "confidence"].contains(key));
    keys
}

record! {
    /// `[profile]`, as written.
    pub struct WrittenProfile = "row of a table" {
        /// As plans write it.
        id: String,
        /// The profile whose rows and words count where this one has none.
        base: Option<At<String>>,
        /// The profile whose band plan counts where this one has none.
        band_plan: Option<At<String>>,
        /// What a width is that a plan leaves out.
        width: Option<UsualWidth>,
        /// Name of the country.
        name: String,
        /// The rule set with its date, as printed.
        rule_set: String,
        /// Last day on which somebody looked for changes.
        checked_on: Option<Cell<Day>>,
        /// Day by which somebody must look again.
        review_by: Option<Cell<Day>>,
        /// Where the rule set is from.
        cite: Cite,
        /// Language of the words, as `en-US`.
        language: Option<Cell<String>>,
        /// Usual paper.
        paper: Option<Cell<String>>,
        /// The identification rule in a sentence.
        identification: Option<Cell<String>>,
        /// The identification rule in a few words.
        identification_short: Option<Cell<String>>,
        /// Precedence words, highest first.
        precedence: Option<Cell<Vec<At<String>>>>,
        /// Words that no name said on the air may have.
        forbidden: Option<Cell<Vec<At<String>>>>,
        /// Whose privileges count, in a sentence.
        control_operator: Option<Cell<String>>,
    }
}

/// Reports kinds of rows that there are not, and keys that a kind does not use: a limit under a wrong name would bind nothing.
/// Gives back the places of such keys.
fn look_for_strangers(root: &Node, found: &mut Findings) -> Vec<Span> {
    let (kinds, mut unused) = (kinds(), Vec::new());
    for (key, _) in root.entries().unwrap_or_default().iter().filter(|(key, _)| key.text != "profile") {
        let Some((_, keys)) = kinds.iter().find(|(kind, _)| *kind == key.text) else {
            let finding = Finding::new(&TABLE_KIND_UNKNOWN, key.span, format!("a profile has no rows `{}`", key.text))
                .label("no kind of row");
            let names = || kinds.iter().map(|(kind, _)| *kind);
            found.push(match nearest(&key.text, names()) {
                Some(name) => finding.help(format!("did you mean `{name}`?")).fix(key.span, name),
                None => finding.note(format!("kinds of rows: {}", names().collect::<Vec<_>>().join(", "))),
            });
            continue;
        };
        let is_of_others = |key: &str| kinds.iter().any(|(_, others)| others.contains(&key));
        for (written, _) in nodes(root, &key.text).iter().flat_map(|row| row.entries().unwrap_or_default()) {
            if !keys.contains(&written.text.as_str()) && is_of_others(&written.text) {
                let what = format!("a row `{}` does not use `{}`", key.text, written.text);
                let finding = Finding::new(&TABLE_KEY_UNUSED, written.span, what).label("changes nothing here");
                found.push(finding.note(format!("its keys: {}", keys.join(", "))));
                unused.push(written.span);
            }
        }
    }
    unused
}

impl Profile {
    /// Reads a profile. None when its head is not whole; a row that is not whole is left out and reported.
    ///
    /// With `base`, the id of a profile in `known`, what the file does not write is the base's: its head, and each kind of
    /// rows that the file has none of. Name, rule set, source and confidence are the file's own in any case. With `band-plan`
    /// the rows of the band plan are that profile's, in the same way.
    pub fn read(root: &Node, known: &[Arc<Self>], found: &mut Findings) -> Option<Self> {
        let unused = look_for_strangers(root, found);
        let mut own = Findings::default();
        let profile = Self::read_whole(root, known, &mut own);
        own.retain(|finding| *finding.rule != UNKNOWN_KEY || !unused.contains(&finding.span));
        found.append(own);
        profile
    }

    fn read_whole(root: &Node, known: &[Arc<Self>], found: &mut Findings) -> Option<Self> {
        let node = nodes(root, "profile").first()?;
        let head: WrittenProfile = row(node, found, |of| record_of(node, of))?;
        let base = named(head.base.as_ref(), known, found)?;
        let band_plan = named(head.band_plan.as_ref(), known, found)?.or(base);
        let rows = Rows::read(root, base, band_plan, found);
        let mut profile = row(node, found, |of| Self::of(head, base, rows, of))?;
        draw_lines(&mut profile.rows, node.span, found);
        profile_sound::check(&profile, node.span, found);
        Some(profile)
    }

    /// A profile with its head: what that leaves out is the base's.
    fn of(head: WrittenProfile, base: Option<&Self>, rows: Rows, of: &mut Reading<'_>) -> Option<Self> {
        let list = |field: Option<Cell<Vec<At<String>>>>, base: Option<&Vec<String>>| match (field, base) {
            (None, Some(base)) => base.clone(),
            (field, _) => field.and_then(|cell| cell.value).into_iter().flatten().map(|at| at.value).collect(),
        };
        let language = or_base(head.language, "language", base.map(|base| &base.language), of);
        let paper = or_base(head.paper, "paper", base.map(|base| &base.paper), of);
        let identification = or_base(head.identification, "identification", base.map(|base| &base.identification), of);
        let short = base.map(|base| &base.identification_short);
        let identification_short = or_base(head.identification_short, "identification-short", short, of);
        let operator = base.map(|base| &base.control_operator);
        let control_operator = or_base(head.control_operator, "control-operator", operator, of);
        let checked_on = or_base(head.checked_on, "checked-on", base.map(|base| &base.checked_on), of);
        let review_by = or_base(head.review_by, "review-by", base.map(|base| &base.review_by), of);
        Some(Self {
            id: head.id,
            name: head.name,
            rule_set: head.rule_set,
            checked_on: checked_on?,
            review_by: review_by?,
            cite: head.cite,
            language: language?,
            paper: paper?,
            identification: identification?,
            identification_short: identification_short?,
            precedence: list(head.precedence, base.map(|base| &base.precedence)),
            forbidden: list(head.forbidden, base.map(|base| &base.forbidden)),
            control_operator: control_operator?,
            usual_width: head.width.or(base.map(|base| base.usual_width)).unwrap_or(UsualWidth::Wide),
            rows,
        })
    }
}

/// A key of the head, which must be there unless the base has it.
fn or_base<T: Clone>(field: Option<Cell<T>>, key: &str, base: Option<&T>, of: &mut Reading<'_>) -> Option<T> {
    match base {
        Some(base) if field.is_none() => Some(base.clone()),
        _ => of.must(field, key).map(|at| at.value),
    }
}

/// The known profile that a key of the head names. None when it names none that there is.
fn named<'a>(
    name: Option<&At<String>>,
    known: &'a [Arc<Profile>],
    found: &mut Findings,
) -> Option<Option<&'a Profile>> {
    let Some(name) = name else { return Some(None) };
    let profile = known.iter().find(|profile| profile.id == name.value);
    if profile.is_none() {
        profile_sound::unknown_base(name, known, found);
    }
    profile.map(|profile| Some(&**profile))
}

impl Profile {
    /// What it says of values that a plan leaves out or writes in several ways.
    #[must_use]
    pub fn habits(&self) -> Habits {
        let classes = self.classes.iter().map(|class| [class.id.clone(), class.name.clone()]).collect();
        Habits { is_narrow: self.usual_width == UsualWidth::Narrow, classes }
    }

    /// The class of this id.
    #[must_use]
    pub fn class(&self, id: &str) -> Option<&Class> {
        self.classes.iter().find(|class| class.id == id)
    }

    /// The class that somebody means who writes its id or its printed name in small or capital letters.
    #[must_use]
    pub fn class_meant(&self, written: &str) -> Option<&Class> {
        let is_meant = |word: &str| word.to_lowercase() == written.to_lowercase();
        self.classes.iter().find(|class| is_meant(&class.id) || is_meant(&class.name))
    }

    /// The band that holds all of `occupied`.
    #[must_use]
    pub fn band_of(&self, occupied: &Stretch) -> Option<&Band> {
        self.bands.iter().find(|band| band.edges.holds(occupied))
    }

    /// The band that `frequency` lies in, or else the one whose edge is nearest.
    #[must_use]
    pub fn nearest_band(&self, frequency: Frequency) -> Option<&Band> {
        let distance = |band: &&Band| {
            let below = (band.edges.low() - frequency).as_hertz();
            let above = (frequency - band.edges.high()).as_hertz();
            below.max(above).max(0)
        };
        self.bands.iter().min_by_key(distance)
    }

    /// What the band plan says of a repeater with its output here: the narrowest row with a shift.
    #[must_use]
    pub fn usual_shift(&self, output: Frequency) -> Option<(&Custom, Shift)> {
        let with_shift = self.customs.iter().filter(|custom| custom.edges.has(output));
        with_shift
            .filter_map(|custom| Some((custom, custom.shift?)))
            .min_by_key(|(custom, _)| (custom.edges.high() - custom.edges.low()).size())
    }

    /// The calling frequency equal to `frequency`.
    #[must_use]
    pub fn calling(&self, frequency: Frequency) -> Option<&Calling> {
        self.callings.iter().find(|calling| calling.frequency == frequency)
    }

    /// Whether a repeater may occupy all of `occupied`.
    #[must_use]
    pub fn repeater_may_stand(&self, occupied: &Stretch) -> bool {
        self.repeater_segments.is_empty()
            || Stretch::are_covering(self.repeater_segments.iter().map(|segment| segment.edges), occupied)
    }

    /// The service of this id.
    #[must_use]
    pub fn service(&self, id: &str) -> Option<&OtherService> {
        self.services.iter().find(|service| service.id == id)
    }

    /// The channels of a service.
    pub fn channels_of<'a>(&'a self, service: &'a str) -> impl Iterator<Item = &'a ServiceChannel> {
        self.service_channels.iter().filter(move |row| row.service == service)
    }
}
