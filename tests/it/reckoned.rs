//! What cannot be reckoned, and what the law opens to nobody: whole plans, judged by their messages and lines.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::ground::{Finding, Severity};
use fieldsheaf::reckon::{Coverage, Transmission, own_transmissions, transmissions};

/// Each error and warning: its rule, its line in the text after the head, its message.
fn asked(text: &str) -> Vec<(String, usize, String)> {
    let world = Shelf::new().with("plan.toml", format!("include = [\"own.toml\"]\n{HEAD}")).with("own.toml", text);
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let line = |finding: &Finding| {
        let (name, line, _) = outcome.files.place(finding.span).unwrap();
        if name == "own.toml" { line } else { 0 }
    };
    let asks = outcome.findings.iter().filter(|finding| finding.severity() != Severity::Note);
    asks.map(|finding| (finding.rule.name.to_owned(), line(finding), finding.message.clone())).collect()
}

fn channel(lines: &str) -> String {
    let head = "[[channel]]\nid = \"tac\"\nrow = 2\nname = \"TAC 1\"\nspoken = \"Tactical One\"";
    format!("{head}\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n{lines}\n")
}

fn one(rule: &str, line: usize, message: &str) -> Vec<(String, usize, String)> {
    vec![(rule.to_owned(), line, message.to_owned())]
}

#[test]
fn what_would_leave_radio_is_one_error_at_what_is_guilty() {
    let cases = [
        ("simplex = \"147 Hz\"", 7, "channel TAC 1 on 0.147 kHz would reach from -7.853 kHz to 8.147 kHz"),
        (
            "simplex = \"1.850 MHz\"\nmode = \"AM\"\nwidth = \"4 MHz\"",
            9,
            "channel TAC 1 on 1850.0 kHz would reach from -150.0 kHz to 3.850 MHz",
        ),
        (
            "dial = \"1850 kHz\"\nside = \"LSB\"\nmode = \"data\"\nemission = \"500HJ2D\"\naudio = \"1850 kHz\"",
            11,
            "channel TAC 1 on 1850.0 kHz would reach from -0.25 kHz to 0.25 kHz",
        ),
        (
            "simplex = \"300 GHz\"\nmode = \"CW\"",
            7,
            "channel TAC 1 on 300000.000 MHz would reach from 299999.999925 MHz to 300000.000075 MHz",
        ),
        (
            "service = \"marine\"\nrx = \"156 Hz\"\ntx = \"none\"",
            8,
            "channel TAC 1 on 0.156 kHz would reach from -7.844 kHz to 8.156 kHz",
        ),
    ];
    for (lines, line, message) in cases {
        let message = format!("{message}, outside 1 Hz to 300 GHz");
        assert_eq!(asked(&channel(lines)), one("signal-leaves-radio", line, &message), "{lines}");
    }
}

#[test]
fn a_repeater_input_that_would_leave_radio_is_one_error() {
    let text = "[[repeater]]\nid = \"low\"\ncall = \"WZ7QUX\"\noutput = \"146.760 MHz\"\ninput = \"7 kHz\"\n\
                tone-in = \"100.0 Hz\"\ntone-out = \"off\"\nverified = { on = 2026-10-04, by = \"qra\" }\n";
    let message = "the input of repeater Low on 7.0 kHz would reach from -1.0 kHz to 15.0 kHz, outside 1 Hz to 300 GHz";
    assert_eq!(asked(text), one("signal-leaves-radio", 5, message));
}

/// 1000 ppm of a radio carry 16 hertz beyond the edge of a signal that begins at 10 Hz.
#[test]
fn tolerance_is_reckoned_with() {
    let radio = "[[radio]]\nid = \"old\"\nname = \"Old\"\ncovers = [\"1 Hz to 30 MHz\"]\nmodes = [\"FM\"]\npower = \"5 W\"\n\
                 tolerance = \"1000 ppm\"\n";
    let found = asked(&format!("{}{radio}", channel("simplex = \"8010 Hz\"")));
    let message = "channel TAC 1 on 8.01 kHz would reach from -0.007 kHz to 16.027 kHz, outside 1 Hz to 300 GHz";
    assert_eq!(found, one("signal-leaves-radio", 7, message));
}

/// One cause, one finding: nobody asks who may send on it, or what it disturbs.
#[test]
fn no_other_rule_speaks_of_what_cannot_be_reckoned() {
    let net = "[[net]]\nid = \"county\"\nname = \"County net\"\nspoken = \"County Net\"\nprimary = \"tac\"\ncontrol = \"desk\"\n\
               [[post]]\nid = \"desk\"\nname = \"Desk\"\nnets = [\"county\"]\n[[duty]]\npost = \"desk\"\nmember = \"qra\"\n\
               from = \"2026-12-05 06:00\"\nto = \"2026-12-05 18:00\"\n\
               [[place]]\nid = \"hq\"\ncode = \"HQ\"\ntactical = \"Headquarters\"\nkind = \"shelter\"\nvisited-on = 2026-10-04\n\
               monitors = [\"tac\"]\n";
    let found = asked(&format!("{}{net}", channel("simplex = \"147 Hz\"\npower = \"5 W\"")));
    assert_eq!(found.iter().map(|(rule, ..)| rule.as_str()).collect::<Vec<_>>(), ["signal-leaves-radio"]);
}

/// 47 CFR 97.305(c): voice on 75 m begins at 3600 kHz, and the lower sideband reaches 2.8 kHz down from the dial.
#[test]
fn what_no_class_may_send_is_an_error_that_nobody_can_accept() {
    let accept = "[[accept]]\nfinding = \"no-class-may-send\"\non = [\"channel/tac\"]\nreason = \"it was always so\"\nby = \"qra\"\n\
                  until = 2027-01-01\n";
    let found = asked(&format!("{}{accept}", channel("dial = \"3600.0 kHz\"\nside = \"LSB\"")));
    let message = "channel TAC 1 sends phone on 3.600 MHz, which occupies 3.5972 MHz to 3.600 MHz: no class of licence may send \
                   that there";
    assert_eq!(found[0], ("no-class-may-send".to_owned(), 7, message.to_owned()));
    assert_eq!(found[1].0, "waiver-not-allowed", "{found:?}");
    assert_eq!(found.len(), 2, "{found:?}");
}

#[test]
fn the_note_cites_the_limit_and_the_help_is_clean() {
    let world = |dial: &str| {
        let text = channel(&format!("dial = \"{dial}\"\nside = \"LSB\""));
        Shelf::new().with("plan.toml", format!("include = [\"own.toml\"]\n{HEAD}")).with("own.toml", text)
    };
    let outcome = fieldsheaf::check(&world("3600.0 kHz"), "plan.toml").unwrap();
    let finding = outcome.findings.iter().find(|finding| finding.rule.name == "no-class-may-send").unwrap();
    let note = finding.note.as_deref().unwrap();
    assert!(note.starts_with("phone is open from 3.600 MHz to 4.000 MHz (47 CFR 97.305(c)"), "{note}");
    assert!(note.ends_with("; the nearest for this signal is 3602.8 kHz"), "{note}");
    assert_eq!(finding.help.as_deref().unwrap(), "write \"3602.8 kHz\"");
    let outcome = fieldsheaf::check(&world("3602.8 kHz"), "plan.toml").unwrap();
    // The member of the plan is an Extra.
    assert_eq!(outcome.findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(), Vec::<&str>::new());
    let outcome = fieldsheaf::check(&world("3602.7 kHz"), "plan.toml").unwrap();
    assert_eq!(outcome.findings.errors(), 1, "100 Hz lower it reaches below 3600 kHz");
}

/// 47 CFR 97.305(c): data ends at 28.3 MHz, where repeaters of 10 m begin at 29.5 MHz.
#[test]
fn both_ends_of_a_repeater_are_asked() {
    let text = "[[repeater]]\nid = \"low\"\ncall = \"WZ7QUX\"\noutput = \"29.640 MHz\"\ninput = \"-100 kHz\"\n\
                emission = \"500HF1D\"\nmode = \"data\"\ntone-in = \"100.0 Hz\"\ntone-out = \"off\"\n\
                verified = { on = 2026-10-04, by = \"qra\" }\n";
    let message = |which: &str, at: &str, from: &str, to: &str| {
        let what = format!("the {which} of repeater Low sends data on {at} MHz, which occupies {from} MHz to {to} MHz");
        format!("{what}: no class of licence may send that there")
    };
    let mut expected = one("no-class-may-send", 4, &message("output", "29.640", "29.63975", "29.64025"));
    expected.extend(one("no-class-may-send", 5, &message("input", "29.540", "29.53975", "29.54025")));
    assert_eq!(asked(text), expected);
}

/// A net on such a channel has the same cause: its people are not blamed for it.
#[test]
fn a_net_on_what_no_class_may_send_has_one_finding() {
    let net = "[[net]]\nid = \"county\"\nname = \"County net\"\nspoken = \"County Net\"\nprimary = \"tac\"\ncontrol = \"desk\"\n\
               [[post]]\nid = \"desk\"\nname = \"Desk\"\nnets = [\"county\"]\n[[duty]]\npost = \"desk\"\nmember = \"qra\"\n\
               from = \"2026-12-05 06:00\"\nto = \"2026-12-05 18:00\"\n";
    let found = asked(&format!("{}{net}", channel("dial = \"5340.0 kHz\"\nside = \"USB\"\npower = \"9 W\"")));
    let message = "channel TAC 1 sends phone on 5.340 MHz, which occupies 5.340 MHz to 5.3428 MHz: no class of licence may send that \
                   there";
    assert_eq!(found, one("no-class-may-send", 7, message));
}

const ONE_OF_EACH: &str = r#"
[[place]]
id = "hill"
code = "HIL"
tactical = "The Hill"
kind = "repeater-site"
position = "47.2, -109.3"
visited-on = 2026-10-04
monitors = ["tac"]
[[repeater]]
id = "ridge"
call = "WZ7QUX"
name = "High Ridge"
place = "hill"
output = "146.760 MHz"
input = "-600 kHz"
tone-in = "103.5 Hz"
tone-out = "off"
power = "50 W"
tolerance = "1.5 ppm"
range = "40 km"
[[gateway]]
id = "box"
call = "WZ7QUY-10"
name = "Mail Box"
place = "hill"
frequency = "145.050 MHz"
control = "attended"
power = "25 W"
tolerance = "2 ppm"
[[radio]]
id = "two"
name = "Two-meter mobile"
covers = ["144 MHz to 148 MHz"]
modes = ["FM", "data"]
power = "20 W"
tolerance = "2.5 ppm"
[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "ridge"
power = "5 W"
[[channel]]
id = "cmd-2"
row = 3
name = "CMD 2"
spoken = "Command Two"
repeater = "ridge"
power = "30 W"
[[channel]]
id = "mail"
row = 4
name = "MAIL"
spoken = "Mail"
gateway = "box"
[[channel]]
id = "tac"
row = 5
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
power = "10 W"
range = "8 km"
[[channel]]
id = "night"
row = 6
name = "HF 80"
spoken = "Eighty"
dial = "3920.0 kHz"
side = "LSB"
[[channel]]
id = "weather"
row = 7
name = "WX 1"
spoken = "Weather"
rx = "162.400 MHz"
tx = "none"
service = "weather"
[[link]]
id = "yard"
call = "WZ7QUZ"
name = "Yard"
place = "hill"
joins = ["tac", "night"]
power = "3 W"
[[neighbour]]
name = "Birch"
output = "147.060 MHz"
input = "+600 kHz"
position = "47.2, -110.2"
range = "30 km"
"#;

/// What is said of a transmission in a line: what it is, on what, with how much, how far off, how often heard around a place, from how many spots.
fn line<'a>(coverage: &Coverage<'a>, sent: &Transmission<'a>) -> String {
    let power = sent.power().map_or("-".to_owned(), |power| power.to_string());
    let heard = sent.heard(coverage).map_or("everywhere".to_owned(), |spots| format!("{}", spots[0].1));
    let decided = sent.decided_by().map_or(String::new(), |output| format!(", by {}", output.value));
    format!(
        "{} {}{decided}: {power}, {}, heard {heard}, from {:?}",
        sent.words(),
        sent.frequency.value,
        sent.tolerance(),
        sent.spots().iter().map(|spot| spot.name.unwrap_or("nowhere")).collect::<Vec<_>>()
    )
}

/// One of each kind of transmitter, as its record has it; of those, each once by the record that decides it.
#[test]
fn each_transmission_is_told_as_its_record_has_it() {
    let world =
        Shelf::new().with("plan.toml", format!("include = [\"own.toml\"]\n{HEAD}")).with("own.toml", ONE_OF_EACH);
    let mut found = fieldsheaf::ground::Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let coverage = Coverage::of(&plan);
    let all: Vec<String> = transmissions(&plan).iter().map(|sent| line(&coverage, sent)).collect();
    assert_eq!(
        all,
        [
            "channel CMD 1 146.160 MHz: 5 W, 2.5 ppm, heard 40 km, from [\"nowhere\"]",
            "channel CMD 2 146.160 MHz: 30 W, 2.5 ppm, heard 40 km, from [\"nowhere\"]",
            "channel MAIL 145.050 MHz: -, 2.5 ppm, heard everywhere, from [\"nowhere\"]",
            "channel HF 80 3.920 MHz: -, 0 ppm, heard everywhere, from [\"The Hill\"]",
            "channel TAC 1 146.550 MHz: 10 W, 2.5 ppm, heard 8 km, from [\"The Hill\"]",
            "the output of repeater High Ridge 146.760 MHz: 50 W, 1.5 ppm, heard 40 km, from [\"The Hill\"]",
            "the input of repeater High Ridge 146.160 MHz, by 146.760 MHz: 30 W, 2.5 ppm, heard 40 km, from [\"nowhere\", \"nowhere\"]",
            "gateway Mail Box 145.050 MHz: 25 W, 2.5 ppm, heard everywhere, from [\"The Hill\", \"nowhere\"]",
            "link Yard on TAC 1 146.550 MHz: 3 W, 2.5 ppm, heard everywhere, from [\"The Hill\"]",
            "link Yard on HF 80 3.920 MHz: 3 W, 0 ppm, heard everywhere, from [\"The Hill\"]",
            "the output of the neighbour Birch 147.060 MHz: -, 0 ppm, heard 30 km, from [\"nowhere\"]",
            "the input of the neighbour Birch 147.660 MHz: -, 0 ppm, heard 30 km, from [\"nowhere\"]",
        ]
    );
    let own: Vec<String> = own_transmissions(&plan).map(|sent| sent.words()).collect();
    assert_eq!(
        own,
        [
            "channel HF 80",
            "channel TAC 1",
            "the output of repeater High Ridge",
            "the input of repeater High Ridge",
            "gateway Mail Box"
        ]
    );
}
