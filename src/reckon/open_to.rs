//! What a licence class may send along a band: the rows of the law laid side by side, for charts.

use crate::ground::{Frequency, Stretch};
use crate::tables::{Class, EmissionRow, EmissionType, Profile};
use std::collections::BTreeSet;

/// What may be sent on a stretch.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Open {
    /// Nothing: the class has no privilege there.
    Closed,
    /// Some types of emission.
    Some {
        /// "CW", "CW, RTTY, data".
        words: String,
        /// Whether voice is among them.
        has_voice: bool,
    },
    /// Telegraphy, data, pictures and voice.
    All,
}

impl Open {
    /// Whether voice may be sent.
    #[must_use]
    pub const fn has_voice(&self) -> bool {
        matches!(self, Self::All | Self::Some { has_voice: true, .. })
    }
}

/// A band cut where the law changes for `class`, lowest first, without gaps. Widths of emissions are not considered.
#[must_use]
pub fn open_to(profile: &Profile, class: &Class, band: &Stretch) -> Vec<(Stretch, Open)> {
    let rows = profile.privileges.iter().map(|row| row.edges).chain(profile.emissions.iter().map(|row| row.edges));
    let mut cuts: BTreeSet<Frequency> =
        rows.filter(|row| row.overlaps(band)).flat_map(|r| [r.low(), r.high()]).collect();
    cuts.retain(|cut| *cut > band.low() && *cut < band.high());
    cuts.extend([band.low(), band.high()]);
    let cuts: Vec<Frequency> = cuts.into_iter().collect();
    let mut open: Vec<(Stretch, Open)> = Vec::new();
    for pair in cuts.windows(2) {
        let [low, high] = pair else { continue };
        let Some(piece) = Stretch::new(*low, *high) else { continue };
        let what = open_here(profile, class, &piece);
        match open.last_mut() {
            Some((last, known)) if *known == what => {
                if let Some(longer) = Stretch::new(last.low(), *high) {
                    *last = longer;
                }
            }
            _ => open.push((piece, what)),
        }
    }
    open
}

fn open_here(profile: &Profile, class: &Class, piece: &Stretch) -> Open {
    let may = |row: &&crate::tables::Privilege| row.classes.contains(&class.id) && row.edges.holds(piece);
    if !profile.privileges.iter().any(|row| may(&row)) {
        return Open::Closed;
    }
    let is_for = |row: &&EmissionRow| row.edges.holds(piece) && !row.not_for.contains(&class.id);
    let rows: Vec<&EmissionRow> = profile.emissions.iter().filter(is_for).collect();
    let types: BTreeSet<EmissionType> = rows.iter().flat_map(|row| row.types.iter().copied()).collect();
    let is_ssb_only = !rows.is_empty() && rows.iter().all(|row| row.ssb_only_for.contains(&class.id));
    if is_ssb_only {
        return Open::Some { words: "CW and SSB voice".to_owned(), has_voice: true };
    }
    if [EmissionType::Phone, EmissionType::Image, EmissionType::Data].iter().all(|kind| types.contains(kind)) {
        return Open::All;
    }
    let shown = [EmissionType::Rtty, EmissionType::Data, EmissionType::Phone, EmissionType::Image];
    let words: Vec<&str> = shown.iter().filter(|kind| types.contains(kind)).map(|kind| kind.term()).collect();
    let has_voice = types.contains(&EmissionType::Phone);
    Open::Some {
        words: if words.is_empty() { "CW".to_owned() } else { format!("CW, {}", words.join(", ")) },
        has_voice,
    }
}

#[cfg(test)]
mod tests {
    use super::{Open, open_to};
    use crate::tables::Tables;

    fn of(band: &str, class: &str) -> Vec<(String, Open)> {
        let profile = Tables::built_in().profile("us").unwrap();
        let band = profile.bands.iter().find(|row| row.id == band).unwrap();
        let open = open_to(profile, profile.class(class).unwrap(), &band.edges);
        open.into_iter().map(|(stretch, what)| (stretch.to_string(), what)).collect()
    }

    fn some(words: &str, has_voice: bool) -> Open {
        Open::Some { words: words.to_owned(), has_voice }
    }

    /// 47 CFR 97.301(d), 97.305(c), 97.307(f)(9): the General part of 40 m, and the Technician's telegraphy.
    #[test]
    fn forty_metres_is_cut_where_the_law_cuts_it() {
        let general: Vec<Open> = of("40m", "general").into_iter().map(|(_, what)| what).collect();
        let data = some("CW, RTTY, data", false);
        let voice = some("CW, phone, image", true);
        assert_eq!(general, [Open::Closed, data, Open::Closed, voice]);
        let technician: Vec<Open> = of("40m", "technician").into_iter().map(|(_, what)| what).collect();
        assert_eq!(technician, [Open::Closed, some("CW", false), Open::Closed]);
    }

    /// 47 CFR 97.305(a), (c): 144.0 to 144.1 MHz is for telegraphy, the rest of 2 m for all.
    #[test]
    fn two_metres_opens_above_its_first_tenth() {
        let open: Vec<Open> = of("2m", "technician").into_iter().map(|(_, what)| what).collect();
        assert_eq!(open, [some("CW", false), Open::All]);
    }
}
