//! Standard tones and codes.

use super::row::{Cite, Field, list, rows};
use crate::ground::{Findings, Span, Tone};
use crate::source::{Cell, Node};
use serde::Deserialize;

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

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenTones {
    first: Field<Vec<Cell<Tone>>>,
    added: Field<Vec<Cell<Tone>>>,
    codes: Field<Vec<Cell<String>>>,
    source: Field<String>,
    confidence: Field<String>,
}

impl Tones {
    pub(super) fn read(root: &Node, found: &mut Findings) -> Self {
        let nowhere = || Cite { source: String::new(), confidence: String::new(), span: Span::NOWHERE };
        let mut tones = Self { ctcss: Vec::new(), dcs: Vec::new(), ctcss_cite: nowhere(), dcs_cite: nowhere() };
        for (key, is_ctcss) in [("ctcss", true), ("dcs", false)] {
            for (written, span) in rows::<WrittenTones>(root, key, found) {
                let Some(cite) = Cite::read(written.source, written.confidence, span, found) else { continue };
                if is_ctcss {
                    let all = list(written.first).into_iter().chain(list(written.added));
                    tones.ctcss = all
                        .filter_map(|tone| if let Tone::Ctcss(tenths) = tone { Some(tenths) } else { None })
                        .collect();
                    tones.ctcss.sort_unstable();
                    tones.ctcss_cite = cite;
                } else {
                    tones.dcs = list(written.codes).iter().filter_map(|code| code.parse().ok()).collect();
                    tones.dcs_cite = cite;
                }
            }
        }
        tones
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
