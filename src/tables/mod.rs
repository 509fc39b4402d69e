//! Published tables as data: country profiles, tones, modes, papers, spelling. Compiled in, read like a user's files.

mod area;
mod call_form;
mod emission_type;
mod modes;
mod paper;
mod profile;
mod profile_file;
mod profile_read;
mod profile_sound;
mod row;
mod rules;
mod spelling;
mod tones;

pub use area::{Area, NorthOf};
pub use call_form::{CallForm, CallRegion, ClosedCalls};
pub use emission_type::EmissionType;
pub use modes::{ModeForm, Modes};
pub use paper::{Paper, Papers};
pub use profile::{
    Authority, Band, Calling, Class, Custom, EmissionRow, Exclusion, LinePoint, OtherService, PairSide, PowerLimit,
    PowerMeasure, Privilege, Profile, Raster, Segment, ServiceChannel, UsualWidth,
};
pub use profile_file::{is_profile_file, named};
pub use row::Cite;
pub use rules::RULES;
pub use spelling::Spelling;
pub use tones::Tones;

use crate::ground::{Files, Finding, Findings};
use std::sync::{Arc, LazyLock};

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
    let texts = [
        node("built-in/profiles/us.toml", include_str!("profiles/us.toml")),
        node("built-in/profiles/region-1.toml", include_str!("profiles/region-1.toml")),
        node("built-in/profiles/de.toml", include_str!("profiles/de.toml")),
    ];
    let tones = node("built-in/tones.toml", include_str!("tones.toml"));
    let modes = node("built-in/modes.toml", include_str!("modes.toml"));
    let papers = node("built-in/paper.toml", include_str!("paper.toml"));
    let spelling = node("built-in/spelling.toml", include_str!("spelling.toml"));
    let mut profiles = Vec::new();
    for root in &texts {
        profiles.extend(Profile::read(root, &profiles, &mut found).map(Arc::new));
    }
    let tables = Tables {
        profiles,
        tones: Tones::read(&tones, &mut found),
        modes: Modes::read(&modes, &mut found),
        papers: Papers::read(&papers, &mut found),
        spelling: Spelling::read(&spelling, &mut found),
    };
    (tables, files, found)
});

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
