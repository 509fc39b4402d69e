//! Kinds of emission as the rules name them.

use crate::source::words_of;

words_of! {
    /// Emission types of 47 CFR 97.3(c).
    pub enum EmissionType {
        /// Morse telegraphy.
        Cw = "cw",
        /// Morse on a tone.
        Mcw = "mcw",
        /// Voice.
        Phone = "phone",
        /// Pictures.
        Image = "image",
        /// Printing telegraphy.
        Rtty = "rtty",
        /// Data.
        Data = "data",
        /// Spread spectrum.
        Ss = "ss",
        /// Pulses.
        Pulse = "pulse",
    }
}

impl EmissionType {
    /// The term for it in messages.
    #[must_use]
    pub const fn term(self) -> &'static str {
        match self {
            Self::Cw => "CW",
            Self::Mcw => "MCW",
            Self::Rtty => "RTTY",
            Self::Ss => "spread spectrum",
            other => other.word(),
        }
    }
}
