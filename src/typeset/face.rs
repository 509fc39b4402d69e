//! The files of the typeface, compiled in.

use super::mark::Face;

impl Face {
    /// The TrueType file of this cut.
    #[must_use]
    pub const fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../../fonts/FiraSansCondensed_400Regular.ttf"),
            Self::Medium => include_bytes!("../../fonts/FiraSansCondensed_500Medium.ttf"),
            Self::SemiBold => include_bytes!("../../fonts/FiraSansCondensed_600SemiBold.ttf"),
            Self::Bold => include_bytes!("../../fonts/FiraSansCondensed_700Bold.ttf"),
        }
    }
}
