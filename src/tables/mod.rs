//! Published tables as data: country profiles, tones, modes, papers, spelling. Compiled in, read like a user's files.

mod area;
mod area_lines;
mod call_form;
mod each;
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
mod profiles;
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
pub use profiles::Profiles;
pub use regions::{is_country, region_called, regions_of};
pub use row::Cite;
pub use rules::{RULES, SERVICE_UNKNOWN, STANDARD_UNKNOWN};
pub use service::{Authority, Service};
pub use service_named::OfAmateur;
pub use spelling::Spelling;
pub use standard::{Standard, StandardUse};
pub use texts::{forms, layouts};
pub use tones::Tones;

use crate::ground::{FileId, Files, Finding, Findings};
use profile_read::Trust;
use std::sync::{Arc, LazyLock};

/// The profile of who names none, or none that there is.
pub const USUAL_PROFILE: &str = "us";

/// All tables of the program.
pub struct Tables {
    /// Country profiles.
    pub profiles: Profiles,
    /// Standard tones and codes.
    pub tones: Tones,
    /// What each mode is by default.
    pub modes: Modes,
    /// Paper sizes.
    pub papers: Papers,
    /// Spelling alphabet and read-back letters.
    pub spelling: Spelling,
}

/// The built-in tables; a test holds them to be without fault.
static BUILT_IN: LazyLock<Tables> = LazyLock::new(|| Tables::read(&mut Findings::default()));

/// Tables that are no profiles, by their files' names.
const PLAIN: [(&str, &str); 4] = [
    ("tones", include_str!("tones.toml")),
    ("modes", include_str!("modes.toml")),
    ("paper", include_str!("paper.toml")),
    ("spelling", include_str!("spelling.toml")),
];

/// The number of the first profile's file among the program's.
fn first_profile() -> u32 {
    u32::try_from(PLAIN.len()).unwrap_or(u32::MAX)
}

/// The number of a table's file, as [`Tables::faults`] adds them.
fn number_of(table: &str) -> FileId {
    let at = PLAIN.iter().position(|(name, _)| *name == table);
    FileId::of_program(at.and_then(|at| u32::try_from(at).ok()).unwrap_or(u32::MAX))
}

/// So many bytes of a root file are looked at for the name of its profile.
const HEAD: usize = 1 << 12;

impl Tables {
    /// The tables that come with the program.
    #[must_use]
    pub fn built_in() -> &'static Self {
        &BUILT_IN
    }

    fn read(found: &mut Findings) -> Self {
        let [tones, modes, papers, spelling] =
            PLAIN.map(|(name, text)| crate::source::parse(number_of(name), text, found));
        Self {
            profiles: Profiles::unread(first_profile()),
            tones: Tones::read(&tones, found),
            modes: Modes::read(&modes, found),
            papers: Papers::read(&papers, found),
            spelling: Spelling::read(&spelling, found),
        }
    }

    /// What is wrong with the tables that come with the program, as `file:line message`.
    #[must_use]
    pub fn faults() -> Vec<String> {
        let (mut files, mut found) = (Files::of_program(), Findings::default());
        for (name, text) in PLAIN {
            files.add(format!("built-in/{name}.toml"), text);
        }
        let tables = Self::read(&mut found);
        for (name, text) in texts::profiles() {
            let file = files.add(format!("built-in/profiles/{name}.toml"), text);
            let mut root = crate::source::parse(file, text, &mut found);
            tables.profiles.add(&mut root, Trust::Asked, &mut found);
        }
        let say = |finding: &Finding| {
            let place = files.place(finding.span).map_or_else(String::new, |(file, line, _)| format!("{file}:{line} "));
            format!("{place}{}", finding.message)
        };
        found.iter().map(say).collect()
    }

    /// Begins to read the profile that the text of a root file seems to name, on another thread: a profile is as long as a county.
    pub fn begin(root: &[u8]) {
        let head = String::from_utf8_lossy(root.get(..HEAD).unwrap_or(root));
        let mut lines = head.lines().filter_map(|line| line.trim_start().strip_prefix("profile"));
        let id = lines
            .find_map(|rest| rest.split('"').nth(1))
            .and_then(|id| texts::profiles().find(|(ours, _)| *ours == id));
        if let Some((id, _)) = id {
            rayon::spawn(move || _ = Self::built_in().profile(id));
        }
    }

    /// The profile of this id.
    #[must_use]
    pub fn profile(&self, id: &str) -> Option<&Arc<Profile>> {
        self.profiles.named(id)
    }
}
