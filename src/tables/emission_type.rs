//! Kinds of emission as the rules name them.

use serde::Deserialize;

/// Emission types of 47 CFR 97.3(c).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum EmissionType {
    /// Morse telegraphy.
    Cw,
    /// Morse on a tone.
    Mcw,
    /// Voice.
    Phone,
    /// Pictures.
    Image,
    /// Printing telegraphy.
    Rtty,
    /// Data.
    Data,
    /// Spread spectrum.
    Ss,
    /// Pulses.
    Pulse,
}

impl EmissionType {
    /// The word for it in messages.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Cw => "CW",
            Self::Mcw => "MCW",
            Self::Phone => "phone",
            Self::Image => "image",
            Self::Rtty => "RTTY",
            Self::Data => "data",
            Self::Ss => "spread spectrum",
            Self::Pulse => "pulse",
        }
    }
}
