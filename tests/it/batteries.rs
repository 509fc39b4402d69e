//! What paper says of batteries and positions, by value: the holder's own line, what charges a battery, the one format of positions.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::checks::{self, CheckedPlan};
use fieldsheaf::compose::{document, tasks};
use fieldsheaf::ground::{Findings, Power};
use fieldsheaf::plan::Plan;
use fieldsheaf::reckon::{Wiring, budgets};
use fieldsheaf::tables::named;

fn checked(text: &str) -> (CheckedPlan, Vec<String>) {
    let world = Shelf::new().with("plan.toml", text);
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let profile = named(&plan.head.as_ref().unwrap().profile, &world, &mut records.files, &mut found);
    let checked = checks::run(plan, profile, &records.files, &mut found);
    let errors: Vec<&str> = found.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    let told = found.iter().map(|f| f.rule.name.to_owned()).collect();
    (checked.unwrap_or_else(|| panic!("{errors:?}")), told)
}

/// The canonical text of all documents, one after the other.
fn printed(checked: &CheckedPlan) -> String {
    let mut found = Findings::default();
    let all = tasks(checked.plan(), checked.profile(), &mut found);
    let all = all.iter().map(|task| document(checked, task, None));
    all.map(|document| fieldsheaf::edition::canonical(&document, "rules").unwrap()).collect()
}

/// A hand-held that sends a quarter of ten hours, on a battery of which the plan says so much.
fn handheld(battery: &str, sending: &str) -> String {
    format!(
        "{HEAD}[[battery]]\nid = \"brick\"\nname = \"Brick\"\ncapacity = \"9 Ah\"\n{battery}\n[[post]]\nid = \"desk\"\nname = \"Desk\"\n\
         [[duty]]\npost = \"desk\"\nmember = \"qra\"\nfrom = \"2026-12-05 06:00\"\nto = \"2026-12-05 16:00\"\n\
         [[station]]\nid = \"set\"\nname = \"Set\"\nposts = [\"desk\"]\n{sending}\npart = [\n{{ id = \"pack\", kind = \"battery\", battery = \"brick\" }},\n\
         {{ id = \"radio\", kind = \"radio\", from = \"pack\", fuse = \"3 A\", idle = \"0.06 A\", sending = \"1.6 A\" }},\n]\n\
         [[channel]]\nid = \"tac\"\nrow = 1\nname = \"TAC\"\nspoken = \"Tactical\"\nsimplex = \"146.550 MHz\"\nverified = {{ on = 2026-10-04, by = \"qra\" }}\n\
         [[document]]\nid = \"card\"\nkind = \"channel-card\"\neach = \"member\"\naudience = \"team\"\n"
    )
}

/// 4.5 Ah by 0.445 A are 10.11 h: four fifths of 606 minutes are 484, 8 h 04 min after six. 7.2 Ah last 16.18 h; at freezing and five years old
/// 3.375 Ah x 0.8 last 6.07 h, four fifths are 4 h 48 min. Worked by hand.
#[test]
fn the_own_front_says_how_long_the_battery_lasts_and_when_to_change_it() {
    let quarter = "sending = \"25 %\"";
    for (battery, sending, line, is_short) in [
        (
            "chemistry = \"lead-acid\"",
            quarter,
            "Your battery: Brick, 9 Ah, lasts 10.1 h sending 25 %; change at Sat 14:04",
            true,
        ),
        (
            "chemistry = \"lithium-iron-phosphate\"",
            quarter,
            "Your battery: Brick, 9 Ah, lasts 16.1 h sending 25 %; full at the start, no change in a duty",
            false,
        ),
        (
            "chemistry = \"lead-acid\"\nsince = 2021-11-01\ncoldest = \"0 C\"",
            quarter,
            "Your battery: Brick, 9 Ah, lasts 6.0 h sending 25 %; change at Sat 10:48, Sat 15:36",
            true,
        ),
        (
            "",
            "",
            "Your battery: Brick, 9 Ah, taken as lead-acid, lasts 10.1 h sending a quarter (not given); change at Sat 14:04",
            true,
        ),
        (
            "coldest = \"-25 C\"",
            quarter,
            "Your battery: Brick, 9 Ah, taken as lead-acid, hours not known: too cold: change it early",
            true,
        ),
    ] {
        let (checked, told) = checked(&handheld(battery, sending));
        let said = printed(&checked);
        assert!(said.contains(line), "{line}\n{said}");
        assert_eq!(told.iter().any(|rule| rule == "battery-ends-before-duty"), is_short, "{battery}: {told:?}");
    }
}

/// 7.2 Ah last 16.18 h, so that the battery is changed after 776 minutes (four fifths of 970): from 06:00 on at 18:56 and 07:52. Who relieves
/// whom goes on with it; after an hour in which nobody stands there it is full again. Worked by hand.
#[test]
fn a_battery_goes_on_over_a_relief() {
    let text = handheld("chemistry = \"lithium-iron-phosphate\"", "sending = \"25 %\"");
    let duty = |member: &str, from: &str, to: &str| {
        format!("[[duty]]\npost = \"desk\"\nmember = \"{member}\"\nfrom = \"2026-12-{from}\"\nto = \"2026-12-{to}\"\n")
    };
    let (head, rest) = text.split_once("[[duty]]").unwrap();
    let rest = &rest[rest.find("[[station]]").unwrap()..];
    let other = "[[member]]\nid = \"qsb\"\nname = \"Abel Quist\"\nclass = \"none\"\nconfirmed = 2026-10-01\n";
    let line = |duties: &[String]| {
        let said = printed(&checked(&format!("{head}{other}{}{rest}", duties.concat())).0);
        let lines = said.lines().filter_map(|line| Some(line.split_once("sending 25 %")?.1.to_owned()));
        lines.collect::<Vec<String>>()
    };
    let first = duty("qra", "05 06:00", "05 16:00");
    let full = "; full at the start, no change in a duty";
    for (next, of_next) in [
        (duty("qsb", "05 16:00", "06 02:00"), "; change at Sat 18:56"),
        (duty("qsb", "05 15:00", "05 18:56"), "; full at Sat 06:00, no change in a duty"),
        (duty("qsb", "05 15:00", "05 18:57"), "; change at Sat 18:56"),
        (duty("qsb", "05 17:00", "06 02:00"), full),
    ] {
        let said = line(&[first.clone(), next]);
        assert!(said.iter().any(|line| line.starts_with(full)), "{said:?}");
        assert!(said.iter().any(|line| line.starts_with(of_next)), "{of_next}: {said:?}");
    }
    // One who goes on has one run.
    let said = line(&[first, duty("qra", "05 16:00", "06 09:00")]);
    assert!(said.iter().any(|line| line.starts_with("; change at Sat 18:56, Sun 07:52")), "{said:?}");
}

/// Whoever has a duty and no battery in the plan is told so, and nobody else.
#[test]
fn who_has_a_duty_and_no_battery_in_the_plan_is_told_so() {
    let text = handheld("", "");
    let (with, rest) = text.split_once("[[station]]").unwrap();
    let without = format!("{with}{}", &rest[rest.find("[[channel]]").unwrap()..]);
    assert!(printed(&checked(&without).0).contains("Your battery: not in the plan"));
    let (head, rest) = without.split_once("[[duty]]").unwrap();
    let idle = format!("{head}{}", &rest[rest.find("[[channel]]").unwrap()..]);
    assert!(!printed(&checked(&idle).0).contains("battery: not in the plan"));
}

/// Lithium iron phosphate that is charged in the frost: the sheet says not to; lead-acid, what is not charged, and at 0 degrees it does not.
#[test]
fn what_is_charged_in_the_frost_is_warned_of() {
    let said = |from: &str, to: &str| {
        let text = charged("").replace("chemistry = \"lead-acid\"", to).replace("from = \"regulator\", ", from);
        let text = text + "[[document]]\nid = \"power\"\nkind = \"power-budget\"\naudience = \"team\"\n";
        printed(&checked(&text).0).contains("Used down to -5 \u{b0}C: do not charge it while it is below 0")
    };
    let iron = |at: i32| format!("chemistry = \"lithium-iron-phosphate\"\ncoldest = \"{at} C\"");
    let by = "from = \"regulator\", ";
    assert!(said(by, &iron(-5)) && said("", &iron(-5)));
    assert!(!said(by, &iron(0)) && !said(by, "chemistry = \"lead-acid\"\ncoldest = \"-5 C\""));
}

fn charged(more: &str) -> String {
    format!(
        "{HEAD}[[battery]]\nid = \"cell\"\nname = \"Cell\"\ncapacity = \"50 Ah\"\nchemistry = \"lead-acid\"\n\
         [[station]]\nid = \"set\"\nname = \"Set\"\nsending = \"10 %\"\npart = [\n\
         {{ id = \"sun\", kind = \"panel\", power = \"60 W\" }},\n{{ id = \"other-sun\", kind = \"panel\", power = \"40 W\", from = \"sun\" }},\n\
         {{ id = \"regulator\", kind = \"charge-controller\", from = \"other-sun\" }},\n{{ id = \"wall\", kind = \"mains\", voltage = \"120 V\" }},\n\
         {{ id = \"charger\", kind = \"charger\", from = \"wall\", sockets = [\"rings\"] }},\n\
         {{ id = \"pack\", kind = \"battery\", battery = \"cell\", from = \"regulator\", fuse = \"10 A\", charged-by = [{{ from = \"charger\", fuse = \"15 A\", plug = \"rings\", wire = \"12 AWG\", length = \"1 m\" }}{more}] }},\n\
         {{ id = \"lamp\", kind = \"light\", from = \"charger\", idle = \"1 A\" }},\n]\n\
         [[document]]\nid = \"station\"\nkind = \"station-diagram\"\naudience = \"team\"\n[[document]]\nid = \"cables\"\nkind = \"dc-sheet\"\naudience = \"team\"\n"
    )
}

fn of_set(plan: &Plan) -> (Vec<String>, Option<Power>, i64) {
    let station = plan.stations.iter().next().unwrap();
    let wiring = Wiring::of(plan, station);
    let name = |at: usize| wiring.nodes[at].part.id.as_str();
    let leads = wiring.leads().map(|lead| format!("{} to {}", name(lead.from), name(lead.to))).collect();
    let all = budgets(plan, station, &wiring);
    let [budget] = all.as_slice() else { panic!("one battery") };
    (leads, budget.panels, budget.average().as_grains())
}

/// Each panel counts once, whatever leads to it twice; what hangs on the second charger is drawn from the battery when the mains fail: 1 A.
#[test]
fn a_battery_is_charged_from_two_sides() {
    let (one, told) = checked(&charged(""));
    let leads = [
        "sun to other-sun",
        "other-sun to regulator",
        "regulator to pack",
        "charger to pack",
        "wall to charger",
        "charger to lamp",
    ];
    let expected = (leads.map(ToOwned::to_owned).to_vec(), Some(Power::milliwatts(100_000)), 1000);
    assert_eq!(of_set(one.plan()), expected, "{told:?}");
    assert!(!told.iter().any(|rule| rule == "battery-without-fuse" || rule == "parts-in-a-circle"), "{told:?}");
    let said = printed(&one);
    assert!(said.contains("to pack") && said.contains("charges it as well"), "{said}");
    let (twice, _) = checked(&charged(", { from = \"regulator\", fuse = \"10 A\" }"));
    assert_eq!(of_set(twice.plan()).1, Some(Power::milliwatts(100_000)));
}

/// 60 W on one controller with two batteries are 30 W for each, and 40 W of its own more for the second.
#[test]
fn a_panel_that_charges_two_batteries_gives_each_a_half() {
    let text = format!(
        "{HEAD}[[battery]]\nid = \"cell\"\nname = \"Cell\"\ncapacity = \"50 Ah\"\n[[station]]\nid = \"set\"\nname = \"Set\"\npart = [\n\
         {{ id = \"sun\", kind = \"panel\", power = \"60 W\" }},\n{{ id = \"own\", kind = \"panel\", power = \"40 W\" }},\n\
         {{ id = \"regulator\", kind = \"charge-controller\", from = \"sun\" }},\n\
         {{ id = \"one\", kind = \"battery\", battery = \"cell\", from = \"regulator\", fuse = \"10 A\" }},\n\
         {{ id = \"two\", kind = \"battery\", battery = \"cell\", from = \"regulator\", fuse = \"10 A\", charged-by = [{{ from = \"own\", fuse = \"10 A\" }}] }},\n]\n"
    );
    let (checked, _) = checked(&text);
    let station = checked.plan().stations.iter().next().unwrap();
    let all = budgets(checked.plan(), station, &Wiring::of(checked.plan(), station));
    let powers: Vec<Option<Power>> = all.iter().map(|budget| budget.panels).collect();
    assert_eq!(powers, [Some(Power::milliwatts(30_000)), Some(Power::milliwatts(70_000))]);
}

/// 0.1234 x 60 = 7.404, 0.4321 x 60 = 25.926, by hand. pyproj 3.7.2 (EPSG:4326 to 32612): 618 924.70 m east, 5 220 069.83 m north, cut to tens of
/// meters in the square XT of zone 12.
#[test]
fn positions_stand_in_one_format_on_lists_and_in_all_on_site_sheets() {
    let decimal = "47.12340 N, 109.43210 W";
    let minutes = "47\u{b0} 07.404' N, 109\u{b0} 25.926' W";
    let grid = "12TXT 1892 2006";
    let means = " (8 digits: 10 m; right, then up)";
    let locator = "locator DN57gc";
    for (key, own, others) in [
        ("", decimal.to_owned(), format!("; {minutes}; USNG {grid}{means}; {locator}")),
        ("decimal", decimal.to_owned(), format!("; {minutes}; USNG {grid}{means}; {locator}")),
        ("degrees-minutes", minutes.to_owned(), format!("; {decimal}; USNG {grid}{means}; {locator}")),
        ("usng", format!("USNG {grid}"), format!("{means}; {decimal}; {minutes}; {locator}")),
        ("mgrs", format!("MGRS {grid}"), format!("{means}; {decimal}; {minutes}; {locator}")),
        ("maidenhead", locator.to_owned(), format!("; {decimal}; {minutes}; USNG {grid}{means}")),
    ] {
        let key = if key.is_empty() { String::new() } else { format!("positions = \"{key}\"\n") };
        let head = HEAD.replace("time-zone", &format!("{key}time-zone"));
        let place = |id: &str, code: &str, at: &str| {
            format!(
                "[[place]]\nid = \"{id}\"\ncode = \"{code}\"\ntactical = \"{code} hall\"\nkind = \"shelter\"\nvisited-on = 2026-10-04\nposition = \"{at}\"\n"
            )
        };
        let places = place("hall", "HAL", "47.1234, -109.4321") + &place("far", "FAR", "47.2, -109.3");
        let text = format!(
            "{head}{places}[[document]]\nid = \"sites\"\nkind = \"site-sheet\"\naudience = \"team\"\n[[document]]\nid = \"far\"\nkind = \"distance-table\"\naudience = \"team\"\n"
        );
        let said = printed(&checked(&text).0);
        assert!(said.contains(&format!("{own}{others}")), "{key}: {said}");
        assert!(said.contains(&format!("{own}.")), "{key}: {said}");
    }
}

/// A locator is a square of some kilometers: its center is not told as if somebody had stood there.
#[test]
fn a_position_that_was_written_as_a_square_says_so() {
    let text = format!(
        "{HEAD}[[place]]\nid = \"hall\"\ncode = \"HAL\"\ntactical = \"Hall\"\nkind = \"shelter\"\nvisited-on = 2026-10-04\nposition = \"DN57gc\"\n\
         [[document]]\nid = \"sites\"\nkind = \"site-sheet\"\naudience = \"team\"\n"
    );
    assert!(printed(&checked(&text).0).contains(", center of DN57gc"));
}
