//! The cuts of the typeface and of those that stand in for it, with their files, compiled in. All have 1000 units in an em.

/// The four cuts of the typeface, and those that stand in for letters that it has not.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Face {
    /// 400.
    Regular,
    /// 500: what comes first among what is dialled.
    Medium,
    /// 600: signs and wall sheets.
    SemiBold,
    /// 700: titles, names, warnings, edition.
    Bold,
    /// Hebrew letters beside the lighter cuts.
    Hebrew,
    /// Hebrew letters beside the heavier cuts.
    HebrewBold,
    /// Arabic letters beside the lighter cuts.
    Arabic,
    /// Arabic letters beside the heavier cuts.
    ArabicBold,
}

impl Face {
    /// All cuts, lightest first in each script.
    pub const ALL: [Self; 8] = [
        Self::Regular,
        Self::Medium,
        Self::SemiBold,
        Self::Bold,
        Self::Hebrew,
        Self::HebrewBold,
        Self::Arabic,
        Self::ArabicBold,
    ];

    /// The next cut, with no thin strokes.
    #[must_use]
    pub const fn heavier(self) -> Self {
        match self {
            Self::Regular => Self::Medium,
            Self::Medium => Self::SemiBold,
            Self::SemiBold | Self::Bold => Self::Bold,
            Self::Hebrew | Self::HebrewBold => Self::HebrewBold,
            Self::Arabic | Self::ArabicBold => Self::ArabicBold,
        }
    }

    /// The cuts in which a letter is looked for, in order.
    #[must_use]
    pub const fn with_others(self) -> [Self; 3] {
        match self {
            Self::Regular | Self::Medium | Self::Hebrew | Self::Arabic => [self, Self::Hebrew, Self::Arabic],
            Self::SemiBold | Self::Bold | Self::HebrewBold | Self::ArabicBold => {
                [self, Self::HebrewBold, Self::ArabicBold]
            }
        }
    }

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
