//! Standard tones and codes.

use super::row::{Cite, rows};
use crate::ground::{Findings, Tone};
use crate::source::{Node, record};

/// The standard CTCSS tones and DCS codes.
#[derive(Clone, Debug)]
pub struct Tones {
    ctcss: Vec<u16>,
    dcs: Vec<u16>,
    /// Where the CTCSS list is from.
    pub ctcss_cite: Cite,
    /// Where the DCS list is from.
    pub dcs_cite: Cite,
}

record! {
    /// The list of tones.
    pub struct CtcssRow = "row of a table" {
        /// Those of the first list.
        first: Vec<Tone>,
        /// Those that were added.
        added: Vec<Tone>,
        /// Where from.
        cite: Cite,
    }

    /// The list of codes.
    pub struct DcsRow = "row of a table" {
        /// Their octal digits.
        codes: Vec<String>,
        /// Where from.
        cite: Cite,
    }
}

impl Tones {
    pub(super) fn read(root: &Node, found: &mut Findings) -> Self {
        let (mut ctcss, mut dcs) = (Vec::new(), Vec::new());
        let (mut ctcss_cite, mut dcs_cite) = (Cite::nowhere(), Cite::nowhere());
        for row in rows::<CtcssRow>(root, "ctcss", found) {
            let all = row.first.into_iter().chain(row.added);
            ctcss = all.filter_map(|tone| if let Tone::Ctcss(tenths) = tone { Some(tenths) } else { None }).collect();
            ctcss.sort_unstable();
            ctcss_cite = row.cite;
        }
        for row in rows::<DcsRow>(root, "dcs", found) {
            dcs = row.codes.iter().filter_map(|code| code.parse().ok()).collect();
            dcs_cite = row.cite;
        }
        Self { ctcss, dcs, ctcss_cite, dcs_cite }
    }

    /// Whether a radio can be expected to have it. Codes whose range is their standard always are.
    #[must_use]
    pub fn is_standard(&self, tone: Tone) -> bool {
        match tone {
            Tone::Ctcss(tenths) => self.ctcss.contains(&tenths),
            Tone::Dcs { code, .. } => self.dcs.contains(&code),
            _ => true,
        }
    }

    /// The standard tone or code closest to one that is not standard.
    #[must_use]
    pub fn nearest(&self, tone: Tone) -> Option<Tone> {
        match tone {
            Tone::Ctcss(tenths) => {
                self.ctcss.iter().min_by_key(|near| near.abs_diff(tenths)).map(|near| Tone::Ctcss(*near))
            }
            Tone::Dcs { code, is_inverted } => {
                let near = self.dcs.iter().min_by_key(|near| octal(**near).abs_diff(octal(code)));
                near.map(|near| Tone::Dcs { code: *near, is_inverted })
            }
            _ => None,
        }
    }

    /// Where the list that `tone` belongs to is from.
    #[must_use]
    pub const fn cite(&self, tone: Tone) -> &Cite {
        if matches!(tone, Tone::Dcs { .. }) { &self.dcs_cite } else { &self.ctcss_cite }
    }

    /// Number of CTCSS tones and DCS codes.
    #[must_use]
    pub fn counts(&self) -> (usize, usize) {
        (self.ctcss.len(), self.dcs.len())
    }
}

/// The value of an octal code whose digits are written as a plain number: 23 is 19.
const fn octal(digits: u16) -> u16 {
    digits / 100 * 64 + digits / 10 % 10 * 8 + digits % 10
}
