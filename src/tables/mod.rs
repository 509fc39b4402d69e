//! Published tables as data: country profiles, tones, modes, papers, spelling. Compiled in, read like a user's files.

mod area;
mod area_lines;
mod call_form;
mod emission_type;
mod modes;
mod national;
mod paper;
mod profile;
mod profile_file;
mod profile_kinds;
mod profile_merge;
mod profile_read;
mod profile_rows;
mod profile_sound;
mod regions;
mod row;
mod rules;
mod service;
mod service_named;
mod spelling;
mod standard;
mod standard_named;
mod texts;
mod tones;

pub use area::{LawArea, NorthOf};
pub use call_form::{CallForm, CallRegion, ClosedCalls};
pub use emission_type::EmissionType;
pub use modes::{ModeForm, Modes};
pub use paper::{Paper, Papers};
pub use profile::Profile;
pub use profile_file::{is_profile_file, named};
pub use profile_kinds::Rows;
pub use profile_rows::{
    Allowance, Band, Calling, Class, Custom, EmissionRow, Exclusion, ExposureLimit, LimitedSegment, LinePoint,
    MostPower, PairSide, PowerLimit, PowerMeasure, Privilege, Raster, Segment, ServiceChannel, UsualWidth,
};
pub use regions::{is_country, region_called, regions_of};
pub use row::Cite;
pub use rules::{RULES, SERVICE_UNKNOWN, STANDARD_UNKNOWN};
pub use service::{Authority, Service};
pub use service_named::OfAmateur;
pub use spelling::Spelling;
pub use standard::{Standard, StandardUse};
pub use texts::{forms, layouts};
pub use tones::Tones;

use crate::ground::{Files, Finding, Findings};
use crate::source::{Node, Value};
use std::sync::{Arc, LazyLock};

/// The profile of who names none, or none that there is.
pub const USUAL_PROFILE: &str = "us";

/// All tables of the program.
pub struct Tables {
    /// Country profiles.
    pub profiles: Vec<Arc<Profile>>,
    /// Standard tones and codes.
    pub tones: Tones,
    /// What each mode is by default.
    pub modes: Modes,
    /// Paper sizes.
    pub papers: Papers,
    /// Spelling alphabet and read-back letters.
    pub spelling: Spelling,
}

/// The built-in tables with whatever was wrong with them; a test holds that to nothing.
static BUILT_IN: LazyLock<(Tables, Files, Findings)> = LazyLock::new(|| {
    let mut files = Files::of_program();
    let mut found = Findings::default();
    let mut node = |name: &str, text: &str| {
        let id = files.add(name, text);
        crate::source::parse(id, text, &mut found)
    };
    let roots: Vec<Node> =
        texts::profiles().map(|(name, text)| node(&format!("built-in/profiles/{name}.toml"), text)).collect();
    let tones = node("built-in/tones.toml", include_str!("tones.toml"));
    let modes = node("built-in/modes.toml", include_str!("modes.toml"));
    let papers = node("built-in/paper.toml", include_str!("paper.toml"));
    let spelling = node("built-in/spelling.toml", include_str!("spelling.toml"));
    let mut profiles: Vec<Arc<Profile>> = Vec::new();
    for root in bases_first(&roots) {
        profiles.extend(Profile::read(root, &profiles, &mut found).map(Arc::new));
    }
    // As people read a list: what is usual stands first.
    profiles.sort_by_key(|profile| (profile.id != USUAL_PROFILE, profile.id.clone()));
    let tables = Tables {
        profiles,
        tones: Tones::read(&tones, &mut found),
        modes: Modes::read(&modes, &mut found),
        papers: Papers::read(&papers, &mut found),
        spelling: Spelling::read(&spelling, &mut found),
    };
    (tables, files, found)
});

/// Profiles in such an order that each stands behind those that it rests on.
fn bases_first(roots: &[Node]) -> Vec<&Node> {
    let said = |root: &Node, key: &str| match root.get("profile")?.get(key)?.value {
        Value::Text(ref text) => Some(text.clone()),
        _ => None,
    };
    let mut waiting: Vec<&Node> = roots.iter().collect();
    let mut ordered = Vec::new();
    while !waiting.is_empty() {
        let ids: Vec<Option<String>> = waiting.iter().map(|root| said(root, "id")).collect();
        let waits = |root: &Node| {
            ["base", "band-plan"].iter().any(|key| said(root, key).is_some_and(|id| ids.contains(&Some(id))))
        };
        // Those that rest on each other in a ring find each other unknown.
        let next = waiting.iter().position(|root| !waits(root)).unwrap_or(0);
        ordered.push(waiting.remove(next));
    }
    ordered
}

impl Tables {
    /// The tables that come with the program.
    #[must_use]
    pub fn built_in() -> &'static Self {
        &BUILT_IN.0
    }

    /// What is wrong with the tables that come with the program, as `file:line message`.
    #[must_use]
    pub fn faults() -> Vec<String> {
        let (_, files, found) = &*BUILT_IN;
        let say = |finding: &Finding| {
            let place = files.place(finding.span).map_or_else(String::new, |(file, line, _)| format!("{file}:{line} "));
            format!("{place}{}", finding.message)
        };
        found.iter().map(say).collect()
    }

    /// The profile of this id.
    #[must_use]
    pub fn profile(&self, id: &str) -> Option<&Arc<Profile>> {
        self.profiles.iter().find(|profile| profile.id == id)
    }
}
