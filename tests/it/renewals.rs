//! One rule for renewals: what was applied for too late keeps nothing, in every check.

use crate::support::shelf::{HEAD, Shelf};

/// Rules that speak of an ended licence in a plan whose net on a GMRS channel is worked by one member.
fn raised(licence: &str) -> Vec<&'static str> {
    let text = format!(
        "[[member]]\nid = \"qsb\"\ncall = \"WZ7QSB\"\nname = \"Abel Quist\"\nclass = \"general\"\nexpires = 2030-04-01\n\
         confirmed = 2026-10-01\nlicence = [{{ service = \"gmrs\", call = \"WQAA000\", {licence} }}]\n\
         [[channel]]\nid = \"tac\"\nrow = 2\nname = \"TAC 1\"\nspoken = \"Tactical One\"\nservice = \"gmrs\"\n\
         simplex = \"462.5625 MHz\"\nwidth = \"narrow\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n\
         [[net]]\nid = \"county\"\nname = \"County net\"\nspoken = \"County Net\"\nprimary = \"tac\"\ncontrol = \"desk\"\n\
         [[post]]\nid = \"desk\"\nname = \"Desk\"\nnets = [\"county\"]\n\
         [[duty]]\npost = \"desk\"\nmember = \"qsb\"\nfrom = \"2026-12-05 06:00\"\nto = \"2026-12-05 18:00\"\n"
    );
    let outcome =
        fieldsheaf::check_plan(&Shelf::new().with("plan.toml", format!("{HEAD}{text}")), "plan.toml").unwrap();
    let asked = ["licence-expired", "licence-ends-in-edition", "nobody-may-use"];
    let mut names: Vec<&str> =
        outcome.findings.iter().map(|f| f.rule.name).filter(|name| asked.contains(name)).collect();
    names.sort_unstable();
    names
}

#[test]
fn a_late_renewal_is_none_and_one_in_time_keeps_the_licence() {
    let late = raised("expires = 2026-11-20, renewal-filed = 2026-11-21");
    assert_eq!(late, ["licence-expired", "nobody-may-use"]);
    assert_eq!(raised("expires = 2026-11-20, renewal-filed = 2026-11-20"), Vec::<&str>::new());
    assert_eq!(raised("expires = 2027-02-01, renewal-filed = 2027-02-02"), ["licence-ends-in-edition"]);
    assert_eq!(raised("expires = 2027-02-01, renewal-filed = 2027-01-31"), Vec::<&str>::new());
}
