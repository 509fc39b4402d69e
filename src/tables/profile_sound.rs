//! Whether the rows of a profile agree with each other: two limits for one signal would make any answer a wrong one.

use super::profile::Profile;
use super::profile_kinds::Rows;
use super::profile_rows::{Custom, EmissionRow, PowerLimit, ServiceChannel};
use super::row::Cite;
use super::rules::{TABLE_NAME_UNKNOWN, TABLE_ROWS_CONTRADICT, TABLE_ROWS_MISSING};
use super::service::Service;
use crate::ground::{At, Finding, Findings, Span, Stretch, nearest};
use std::sync::Arc;

/// Reports what contradicts, is missing or names nothing. Rows of a base are sound: only those of the file of `head` are named.
pub(super) fn check(profile: &Profile, head: Span, found: &mut Findings) {
    rows_missing(profile, head, found);
    names_unknown(profile, head, found);
    let mut report = |pair: Option<(&Cite, &Cite, String)>| {
        let Some((first, second, what)) = pair else { return };
        let (at, other) = if second.span.file == head.file { (second, first) } else { (first, second) };
        let finding = Finding::new(&TABLE_ROWS_CONTRADICT, at.span, what).label("contradicts another row");
        let finding = if other.span.file == head.file { finding.and(other.span, "the other row") } else { finding };
        found.push(finding.help("keep one of them, or part their stretches"));
    };
    let is_own = |one: &Cite, other: &Cite| one.span.file == head.file || other.span.file == head.file;
    pairs(&profile.bands, |a, b| {
        let is_same = a.id == b.id || a.edges.overlaps(&b.edges);
        let what = || format!("the bands {} and {} overlap, or have one id", a.name, b.name);
        report((is_same && is_own(&a.cite, &b.cite)).then(|| (&a.cite, &b.cite, what())));
    });
    pairs(&profile.classes, |a, b| {
        let what = || format!("two classes have the id {}", a.id);
        report((a.id == b.id && is_own(&a.cite, &b.cite)).then(|| (&a.cite, &b.cite, what())));
    });
    pairs(&profile.services, |a, b| {
        let what = || format!("two services have the id {}", a.id);
        report((a.id == b.id).then(|| (&a.cite, &b.cite, what())));
    });
    pairs(&profile.emissions, |a, b| {
        report(emissions(a, b).filter(|_| is_own(&a.cite, &b.cite)).map(|what| (&a.cite, &b.cite, what)));
    });
    pairs(&profile.power_limits, |a, b| {
        report(powers(a, b).filter(|_| is_own(&a.cite, &b.cite)).map(|what| (&a.cite, &b.cite, what)));
    });
    pairs(&profile.customs, |a, b| {
        report(customs(a, b).filter(|_| is_own(&a.cite, &b.cite)).map(|what| (&a.cite, &b.cite, what)));
    });
    pairs(&profile.service_channels, |a, b| {
        report(channels(a, b).filter(|_| is_own(&a.cite, &b.cite)).map(|what| (&a.cite, &b.cite, what)));
    });
}

/// The one service whose classes and bands a profile has. None where it has none such, which is reported, as is a second one.
pub(super) fn amateur(rows: &Rows, head: Span, found: &mut Findings) -> Option<Arc<Service>> {
    let mut services = rows.services.iter().filter(|service| service.is_amateur());
    let Some(amateur) = services.next() else {
        let what = "the profile has no row [[service]] with `authority = \"class\"`, whose classes and bands these are";
        let finding = Finding::new(&TABLE_ROWS_MISSING, head, what).label("this profile");
        found.push(finding.help("add the [[service]] of the amateur service, or `base = \"us\"`"));
        return None;
    };
    if let Some(second) = services.next() {
        let what = format!("the services {} and {} both have `authority = \"class\"`", amateur.id, second.id);
        let finding = Finding::new(&TABLE_ROWS_CONTRADICT, second.cite.span, what).label("contradicts another row");
        found.push(finding.help("write another `authority`: the classes and bands are of one service"));
    }
    Some(Arc::clone(amateur))
}

/// Reports a base that no profile is.
pub(super) fn unknown_base(name: &At<String>, ids: &[&str], found: &mut Findings) {
    let what = format!("no profile is called \"{}\"", name.value);
    let finding = Finding::new(&TABLE_NAME_UNKNOWN, name.span, what).label("names no profile");
    found.push(match nearest(&name.value, ids.iter().copied()) {
        Some(near) => finding.did_you_mean(near),
        None => finding.help(format!("write one of: {}", ids.join(", "))),
    });
}

fn pairs<T>(rows: &[T], mut look: impl FnMut(&T, &T)) {
    for (index, second) in rows.iter().enumerate() {
        for first in rows.iter().take(index) {
            look(first, second);
        }
    }
}

fn rows_missing(profile: &Profile, head: Span, found: &mut Findings) {
    let kinds = [
        ("class", profile.classes.is_empty()),
        ("band", profile.bands.is_empty()),
        ("privilege", profile.privileges.is_empty()),
        ("emission", profile.emissions.is_empty()),
    ];
    for (kind, _) in kinds.into_iter().filter(|(_, is_empty)| *is_empty) {
        let what = format!("the profile {} has no rows [[{kind}]]", profile.id);
        let finding = Finding::new(&TABLE_ROWS_MISSING, head, what).label("this profile");
        found.push(finding.help(format!("add [[{kind}]] rows, or `base = \"us\"` to take them from another profile")));
    }
}

fn names_unknown(profile: &Profile, head: Span, found: &mut Findings) {
    let classes: Vec<&str> = profile.classes.iter().map(|class| class.id.as_str()).collect();
    let services: Vec<&str> = profile.services.iter().map(|service| service.id.as_str()).collect();
    let mut look = |what: &str, name: &str, known: &[&str], cite: &Cite| {
        if known.contains(&name) || cite.span.file != head.file {
            return;
        }
        let finding = Finding::new(
            &TABLE_NAME_UNKNOWN,
            cite.span,
            format!("a row names the {what} `{name}`, which the profile does not have"),
        );
        let finding = finding.label("this row");
        found.push(match nearest(name, known.iter().copied()) {
            Some(near) => finding.help(format!("did you mean `{near}`?")),
            None => finding.note(format!("it has: {}", known.join(", "))),
        });
    };
    for row in &profile.privileges {
        row.classes.iter().for_each(|class| look("class", class, &classes, &row.cite));
    }
    for row in &profile.emissions {
        row.not_for.iter().chain(&row.ssb_only_for).for_each(|class| look("class", class, &classes, &row.cite));
    }
    for row in &profile.power_limits {
        row.classes.iter().for_each(|class| look("class", class, &classes, &row.cite));
    }
    for row in &profile.call_forms {
        row.classes.iter().for_each(|class| look("class", class, &classes, &row.cite));
    }
    for row in &profile.service_channels {
        look("service", &row.service, &services, &row.cite);
    }
    let bands: Vec<&str> = profile.bands.iter().map(|band| band.id.as_str()).collect();
    let of_privileges = profile.privileges.iter().map(|row| (&row.band, &row.cite));
    let of_emissions = profile.emissions.iter().map(|row| (&row.band, &row.cite));
    let of_customs = profile.customs.iter().map(|row| (&row.band, &row.cite));
    for (band, cite) in of_privileges.chain(of_emissions).chain(of_customs) {
        band.iter().for_each(|band| look("band", band, &bands, cite));
    }
}

/// One type of emission with two widths on one stretch, for the same classes.
fn emissions(a: &EmissionRow, b: &EmissionRow) -> Option<String> {
    let kind = a.types.iter().find(|kind| b.types.contains(kind))?;
    let is_same_case = a.not_for == b.not_for && a.ssb_only_for == b.ssb_only_for;
    let differ = a.width != b.width || a.data_width != b.data_width;
    (is_same_case && differ && a.edges.overlaps(&b.edges))
        .then(|| format!("two rows give {} different widths on {} and {}", kind.term(), a.edges, b.edges))
}

/// Two limits of one kind, unless the narrower stretch lies within the wider one and binds closer.
fn powers(a: &PowerLimit, b: &PowerLimit) -> Option<String> {
    let area = |limit: &PowerLimit| limit.area.as_ref().map(|area| area.name.clone());
    let is_one_kind = a.classes == b.classes && a.most.measure == b.most.measure && area(a) == area(b);
    let is_refined = |wide: &PowerLimit, narrow: &PowerLimit| {
        wide.edges != narrow.edges && wide.edges.holds(&narrow.edges) && narrow.most.power < wide.most.power
    };
    let contradict = a.most != b.most && a.edges.overlaps(&b.edges) && !is_refined(a, b) && !is_refined(b, a);
    (is_one_kind && contradict)
        .then(|| format!("one row limits {} to {}, another {} to {}", a.edges, a.most.power, b.edges, b.most.power))
}

/// Two usual shifts on overlapping stretches, unless one lies within the other.
fn customs(a: &Custom, b: &Custom) -> Option<String> {
    let (first, second) = (a.shift?, b.shift?);
    let is_within = |wide: &Stretch, narrow: &Stretch| wide != narrow && wide.holds(narrow);
    let is_nested = is_within(&a.edges, &b.edges) || is_within(&b.edges, &a.edges);
    (first != second && a.edges.overlaps(&b.edges) && !is_nested)
        .then(|| format!("one row has the usual shift {first} on {}, another {second} on {}", a.edges, b.edges))
}

/// One channel of a service with two limits in one mode.
fn channels(a: &ServiceChannel, b: &ServiceChannel) -> Option<String> {
    let share_mode = a.modes.is_empty() || b.modes.is_empty() || a.modes.iter().any(|mode| b.modes.contains(mode));
    let is_one = a.service == b.service && a.frequency == b.frequency && a.input == b.input && share_mode;
    let differ = a.width != b.width || a.most != b.most;
    (is_one && a.station == b.station && differ)
        .then(|| format!("two rows of {} give {} different limits", a.service, a.frequency))
}
