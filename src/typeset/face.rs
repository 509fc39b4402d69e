//! The files of the typeface and of those that stand in for it, compiled in. All have 1000 units in an em.

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
            Self::Hebrew => include_bytes!("../../fonts/NotoSansHebrew_400Condensed.ttf"),
            Self::HebrewBold => include_bytes!("../../fonts/NotoSansHebrew_700Condensed.ttf"),
            Self::Arabic => include_bytes!("../../fonts/NotoSansArabicUI_400Regular.ttf"),
            Self::ArabicBold => include_bytes!("../../fonts/NotoSansArabicUI_700Bold.ttf"),
        }
    }
}
