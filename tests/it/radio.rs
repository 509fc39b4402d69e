//! Radios, services and repeaters of a team with more than amateur radio: what is found, at which line, with which figures.

use crate::support::around::{findings, plan_around};
use fieldsheaf::checks::{self, CheckedPlan};
use fieldsheaf::compose::block::{Block, Document, Row};
use fieldsheaf::compose::{document, tasks};
use fieldsheaf::ground::{Findings, World};
use fieldsheaf::reckon::losses;
use fieldsheaf::tables::named;

/// A finding as its reader sees it.
#[derive(Debug)]
struct Said {
    line: usize,
    message: String,
    help: String,
    fix: Option<String>,
}

/// What a rule finds in a plan.
fn said(plan: &str, rule: &str) -> Vec<Said> {
    let (files, found) = findings(&plan_around(plan));
    let of_rule = found.iter().filter(|finding| finding.rule.name == rule);
    let say = of_rule.map(|finding| Said {
        line: files.place(finding.span).map_or(0, |(_, line, _)| line),
        message: finding.message.clone(),
        help: finding.help.clone().unwrap_or_default(),
        fix: finding.fix.as_ref().map(|fix| fix.text.clone()),
    });
    say.collect()
}

/// The plan with everything typed that is proposed.
fn typed(plan: &str) -> String {
    let (files, found) = findings(&plan_around(plan));
    let mut fixes: Vec<_> = found.iter().filter_map(|finding| finding.fix.as_ref()).collect();
    fixes.sort_by_key(|fix| std::cmp::Reverse((fix.span.start, fix.span.end)));
    fixes.dedup_by_key(|fix| fix.span);
    let mut text = plan.to_owned();
    for fix in fixes.iter().filter(|fix| files.get(fix.span.file).unwrap().name == "example.toml") {
        text.replace_range(usize::try_from(fix.span.start).unwrap()..usize::try_from(fix.span.end).unwrap(), &fix.text);
    }
    text
}

fn errors(plan: &str) -> Vec<String> {
    let (_, found) = findings(&plan_around(plan));
    found.iter().filter(|finding| finding.is_error()).map(|finding| finding.message.clone()).collect()
}

fn simplex(id: &str, row: u16, frequency: &str, more: &str) -> String {
    let upper = id.to_uppercase();
    format!(
        "[[channel]]\nid = \"{id}\"\nrow = {row}\nname = \"{upper}\"\nspoken = \"{} Spoken\"\nsimplex = \"{frequency}\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n{more}\n",
        ["Alpha", "Bravo", "Charlie", "Delta", "Echo"][usize::from(row) % 5]
    )
}

fn duty(post: &str, member: &str) -> String {
    format!(
        "[[duty]]\npost = \"{post}\"\nmember = \"{member}\"\nfrom = \"2026-12-05 06:00\"\nto = \"2026-12-05 18:00\"\n"
    )
}

fn net(id: &str, legs: &str) -> String {
    format!(
        "[[net]]\nid = \"{id}\"\nname = \"{id} net\"\nspoken = \"{id} Net\"\n{legs}\nrejoin = \"listen at each full hour\"\n"
    )
}

fn member(id: &str, more: &str) -> String {
    format!(
        "[[member]]\nid = \"{id}\"\ncall = \"WZ7{}\"\nname = \"Person {id}\"\nclass = \"general\"\nexpires = 2030-01-01\nconfirmed = 2026-10-01\n{more}\n",
        id.to_uppercase()
    )
}

fn radio(id: &str, covers: &str, more: &str) -> String {
    format!(
        "[[radio]]\nid = \"{id}\"\nname = \"{id} radio\"\ncovers = [{covers}]\nmodes = [\"FM\"]\npower = \"5 W\"\n{more}\n"
    )
}

fn repeater(id: &str, output: &str, input: &str, tone: &str, more: &str) -> String {
    format!(
        "[[repeater]]\nid = \"{id}\"\ncall = \"WZ7QU{}\"\noutput = \"{output}\"\ninput = \"{input}\"\ntone-in = \"{tone}\"\ntone-out = \"off\"\nbackup-power = \"8 h\"\nverified = {{ on = 2026-10-04, by = \"qra\" }}\n{more}\n",
        id.to_uppercase().chars().next().unwrap()
    )
}

fn through(id: &str, row: u16, repeater: &str) -> String {
    let upper = id.to_uppercase();
    let spoken = ["Alpha", "Bravo", "Charlie", "Delta", "Echo"][usize::from(row) % 5];
    format!(
        "[[channel]]\nid = \"{id}\"\nrow = {row}\nname = \"{upper}\"\nspoken = \"{spoken} Spoken\"\nrepeater = \"{repeater}\"\n"
    )
}

fn place(id: &str, position: &str, more: &str) -> String {
    let code = id.to_uppercase().chars().take(3).collect::<String>();
    format!(
        "[[place]]\nid = \"{id}\"\ncode = \"{code}\"\ntactical = \"{}\"\nkind = \"other\"\nvisited-on = 2026-10-04\n{position}\n{more}\n",
        id.to_uppercase()
    )
}

fn checked(plan: &str) -> CheckedPlan {
    let world = plan_around(plan);
    let world: &dyn World = &world;
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(world, &mut records, &mut found);
    let profile = named(&plan.head.as_ref().unwrap().profile, world, &mut records.files, &mut found);
    let checked = checks::run(plan, profile, &records.files, &mut found);
    let errors: Vec<&str> = found.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    checked.unwrap_or_else(|| panic!("{errors:?}"))
}

/// The documents of a plan by their names.
fn documents(plan: &str) -> Vec<Document> {
    let checked = checked(plan);
    let mut found = Findings::default();
    tasks(checked.plan(), checked.profile(), &mut found).iter().map(|task| document(&checked, task, None)).collect()
}

/// A cell of the first table with such a column.
fn cell(document: &Document, record: &str, key: &str) -> String {
    row(document, record).cell(key).map(|cell| cell.text.words().replace('\u{a0}', " ")).unwrap_or_default()
}

fn row<'a>(document: &'a Document, record: &str) -> &'a Row {
    let tables = document.sections.iter().flat_map(|section| &section.blocks).filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    let mut rows = tables.flat_map(|table| &table.rows);
    let is_it = |row: &&Row| {
        row.record.as_ref().is_some_and(|subject| subject.kind == "channel" && subject.id.as_str() == record)
    };
    rows.find(is_it).unwrap()
}

/// How a channel is set: what its row says, and what is said once above all rows.
fn set(document: &Document, record: &str) -> String {
    let blocks = document.sections.iter().flat_map(|section| &section.blocks);
    let tables = blocks.filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    let said: Vec<String> = tables.flat_map(|table| &table.said).map(|text| text.words()).collect();
    let own: Vec<String> = row(document, record).cells.iter().map(|(_, cell)| cell.text.words()).collect();
    format!("{} | {}", own.join(" "), said.join(" ")).replace('\u{a0}', " ")
}

/// 47 CFR 95.2763: 151.820 MHz is MURS 1; 462.6125 MHz is FRS 3 (95.563).
#[test]
fn a_frequency_of_another_service_asks_for_its_service() {
    let murs = simplex("murs1", 2, "151.820 MHz", "width = \"narrow\"\npower = \"2 W\"");
    let found = said(&murs, "transmit-leaves-band");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].line, 6);
    assert_eq!(found[0].help, "write `service = \"murs\"`");
    assert_eq!(found[0].fix.as_deref(), Some("\nservice = \"murs\""));
    assert_eq!(errors(&typed(&murs)), Vec::<String>::new());
    // The channel is too wide and too strong there: both are said, and typed.
    let wide = simplex("murs1", 2, "151.820 MHz", "");
    assert_eq!(said(&wide, "transmit-leaves-band")[0].help, "write `service = \"murs\"` and `width = \"narrow\"`");
    assert_eq!(errors(&typed(&wide)), Vec::<String>::new());
    let frs = simplex("frs3", 2, "462.6125 MHz", "width = \"narrow\"\npower = \"2 W\"");
    assert_eq!(said(&frs, "transmit-leaves-band")[0].help, "write `service = \"frs\"`");
    // No agreement is there: the service is named, and what it takes.
    let interop = simplex("vcall10", 2, "155.7525 MHz", "width = \"narrow\"");
    let found = said(&interop, "transmit-leaves-band");
    let takes = "write `service = \"interop\"`; it takes an `[[agreement]]` with who holds the licence";
    assert_eq!((found[0].help.as_str(), found[0].fix.as_deref()), (takes, None));
    // A repeater of GMRS 20 (95.1763) says so of both its ends.
    let gmrs = repeater("a", "462.675 MHz", "+5 MHz", "141.3 Hz", "");
    let found = said(&gmrs, "transmit-leaves-band");
    assert_eq!(found.iter().map(|said| said.line).collect::<Vec<_>>(), [4, 5]);
    assert!(found.iter().all(|said| said.help == "write `service = \"gmrs\"` in the repeater"), "{found:?}");
    // What no service has is still proposed a frequency of the band.
    assert_eq!(
        said(&simplex("tac", 2, "147.995 MHz", ""), "transmit-leaves-band")[0].fix.as_deref(),
        Some("\"147.590 MHz\"")
    );
}

#[test]
fn two_proposals_typed_at_once_do_not_collide() {
    let plan = simplex("one", 2, "149.000 MHz", "") + &simplex("two", 3, "149.100 MHz", "");
    let proposed: Vec<String> = said(&plan, "transmit-leaves-band").into_iter().map(|said| said.fix.unwrap()).collect();
    assert_eq!(proposed.len(), 2);
    assert_ne!(proposed[0], proposed[1]);
    let (_, found) = findings(&plan_around(&typed(&plan)));
    let raised: Vec<&str> = found.iter().map(|finding| finding.rule.name).collect();
    assert!(!raised.contains(&"transmit-leaves-band") && !raised.contains(&"channels-overlap"), "{raised:?}");
    assert!(!raised.contains(&"adjacent-channel"), "{raised:?}");
}

/// 47 CFR part 80: 156.800 MHz is marine channel 16. 158.100 MHz is in no table.
#[test]
fn a_channel_listened_to_outside_the_bands_is_not_called_amateur() {
    let listen =
        |id: &str, row: u16, frequency: &str| simplex(id, row, frequency, "tx = \"none\"").replace("simplex", "rx");
    let plan = listen("mar", 2, "156.800 MHz")
        + &listen("odd", 3, "158.100 MHz")
        + &listen("two", 4, "146.520 MHz")
        + "[[document]]\nid = \"chart\"\nkind = \"frequency-chart\"\naudience = \"team\"\n";
    let documents = documents(&plan);
    // Rows of one band or service stand together under its name.
    let group = |record: &str| row(&documents[0], record).label.clone();
    assert_eq!([group("mar"), group("odd"), group("two")], ["marine", "not amateur", "2 m"]);
}

const GMRS: &str = r#"
[[repeater]]
id = "roof"
service = "gmrs"
call = "WQAA000"
output = "462.675 MHz"
input = "+5 MHz"
tone-in = "141.3 Hz"
tone-out = "off"
backup-power = "8 h"
verified = { on = 2026-10-04, by = "qra" }
"#;

/// 47 CFR 95.1751: the station identifies with the call sign of its own licence.
#[test]
fn a_gmrs_repeater_has_its_call_sign_and_the_holder_reads_the_own() {
    let plan = GMRS.to_owned()
        + &through("log", 2, "roof")
        + &member("qsb", "licence = [{ service = \"gmrs\", call = \"WQAA123\", expires = 2030-01-01 }]")
        + "[[document]]\nid = \"card\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n";
    let documents = documents(&plan);
    let card = |holder: &str| documents.iter().find(|document| document.stem == format!("card-{holder}")).unwrap();
    assert_eq!(cell(card("qsb"), "log", "where"), "Roof WQAA000");
    assert!(cell(card("qsb"), "log", "set").ends_with("GMRS radio only, your call WQAA123"));
    // Who has no licence there has no call sign of it, and reads none of another's.
    assert!(cell(card("qra"), "log", "set").ends_with("GMRS radio only"), "{}", cell(card("qra"), "log", "set"));
}

#[test]
fn a_call_sign_has_the_shape_of_its_service() {
    let found = said(&GMRS.replace("WQAA000", "WZ7QUC"), "call-sign-not-of-service");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].line, found[0].message.as_str()), (5, "WZ7QUC has not the shape of a call sign of GMRS"));
    assert!(said(&GMRS.replace("WQAA000", "KAB1234"), "call-sign-not-of-service").is_empty());
    let found = said(&member("qsb", "").replace("WZ7QSB", "WQAA000"), "call-sign-not-of-service");
    assert_eq!(found[0].message, "WQAA000 is no amateur call sign: it has the shape of those of GMRS");
    assert_eq!(
        found[0].help,
        "write the amateur call sign here, and this one as `licence = [{ service = \"gmrs\", call = \"WQAA000\" }]`"
    );
    let licence = "licence = [{ service = \"gmrs\", call = \"WQA000\", expires = 2030-01-01 }]";
    let found = said(&member("qsb", licence), "call-sign-not-of-service");
    assert_eq!((found.len(), found[0].line), (1, 8));
}

/// 47 CFR 95.1761: a GMRS transmitter is certified for it; an amateur radio is not, whatever it covers.
#[test]
fn a_radio_counts_in_the_services_that_it_is_made_for() {
    let licence = "licence = [{ service = \"gmrs\", call = \"WQAA123\", expires = 2030-01-01 }]\nradio = [\"r\"]";
    let plan = |covers: &str, services: &str| {
        radio("r", covers, services)
            + GMRS
            + &through("log", 2, "roof")
            + &member("qsb", licence)
            + &net("Log", "primary = \"log\"")
            + "[[post]]\nid = \"desk\"\nname = \"Desk\"\nnets = [\"Log\"]\n".replace("Log", "log").as_str()
            + &duty("desk", "qsb")
            + "[[document]]\nid = \"card\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n"
    };
    let plan = |covers: &str, services: &str| plan(covers, services).replace("id = \"Log\"", "id = \"log\"");
    for (covers, services, count) in [
        ("\"144 MHz to 148 MHz\", \"420 MHz to 450 MHz\"", "", 1),
        ("\"420 MHz to 470 MHz\"", "", 1),
        ("\"420 MHz to 470 MHz\"", "services = [\"amateur\"]", 1),
        ("\"420 MHz to 470 MHz\"", "services = [\"amateur\"]\napproved-for = [\"gmrs\"]", 0),
        ("\"462 MHz to 468 MHz\"", "approved-for = [\"gmrs\"]", 0),
        ("\"462 MHz to 463 MHz\"", "approved-for = [\"gmrs\"]", 1),
    ] {
        let text = plan(covers, services);
        let found = said(&text, "no-radio-for-duty");
        assert_eq!(found.len(), count, "{covers} {services}: {found:?}");
        let card = documents(&text).into_iter().find(|document| document.stem == "card-qsb").unwrap();
        let (send, warning) = (cell(&card, "log", "send"), cell(&card, "log", "warn"));
        let wanted = [("467.6750", ""), ("listen only", "no radio of yours sends here")][count];
        assert_eq!((send.as_str(), warning.as_str()), wanted, "{covers} {services}");
        if let Some(said) = found.first() {
            let line = 1 + text.lines().position(|line| line == "member = \"qsb\"").unwrap();
            assert_eq!(said.line, line);
            let what = "nobody at Desk (Person qsb) has a radio for LOG of log net: FM on 467.675 MHz";
            assert!(said.message.ends_with(&what.replace("log net", "Log net")), "{}", said.message);
        }
    }
}

/// 0.2 degrees of latitude are 22.2 km on a sphere of 6371 km.
#[test]
fn a_post_outside_the_range_of_a_repeater_is_told_how_far() {
    let plan = |range: &str| {
        place("ridge", "position = \"46.600, -112.000\"", "")
            + &place("clinic", "position = \"46.800, -112.000\"", "")
            + &repeater("a", "146.760 MHz", "-600 kHz", "100.0 Hz", &format!("place = \"ridge\"\n{range}"))
            + &through("cmd", 2, "a")
            + &simplex("tac", 3, "146.430 MHz", "")
            + &net("n", "primary = \"tac\"\nalternate = \"cmd\"")
            + "[[post]]\nid = \"desk\"\nname = \"Desk\"\nplace = \"clinic\"\nnets = [\"n\"]\n"
    };
    let near = plan("range = \"22 km\"");
    let found = said(&near, "post-outside-range");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].message, "Desk works n net on CMD through repeater A, 22 km away and heard 22 km around");
    let line = 1 + near.lines().position(|line| line == "place = \"clinic\"").unwrap();
    assert_eq!(found[0].line, line);
    let found = said(&plan("range = \"5 km\""), "post-outside-range");
    assert_eq!(found[0].message, "Desk works n net on CMD through repeater A, 22 km away and heard 5 km around");
    assert!(said(&plan("range = \"23 km\""), "post-outside-range").is_empty());
    assert!(said(&plan(""), "post-outside-range").is_empty());
}

#[test]
fn two_that_overlap_within_written_ranges_are_not_told_to_write_them() {
    let plan = |range: &str| {
        place("here", "position = \"46.600, -112.000\"", "monitors = [\"one\"]")
            + &place("there", "position = \"46.610, -112.000\"", "monitors = [\"two\"]")
            + &simplex("one", 2, "146.430 MHz", range)
            + &simplex("two", 3, "146.435 MHz", range)
    };
    let found = said(&plan("range = \"5 km\""), "channels-overlap");
    assert_eq!(found.len(), 1);
    let fix = found[0].fix.clone().unwrap();
    assert_eq!(
        found[0].help,
        format!("the ranges that are written meet: write {fix}, the nearest that no rule speaks against")
    );
    assert!(said(&typed(&plan("range = \"5 km\"")), "channels-overlap").is_empty());
    let found = said(&plan(""), "channels-overlap");
    assert_eq!(
        found[0].help,
        "move one of them; where they are worked far apart, write the `range` of channel TWO and channel ONE, and the `position` of their places"
    );
}

/// One carrier on 146.160 MHz keeps both receivers busy, whatever tones they wait for.
#[test]
fn an_input_that_repeaters_share_is_one_thing_to_lose() {
    let plan = |input: &str, range: &str| {
        place("here", "position = \"46.600, -112.000\"", "")
            + &place("there", "position = \"47.600, -112.000\"", "")
            + &repeater("a", "146.760 MHz", "146.160 MHz", "100.0 Hz", &format!("place = \"here\"\n{range}"))
            + &repeater("b", "147.160 MHz", input, "127.3 Hz", &format!("place = \"there\"\n{range}"))
            + &through("cmd1", 2, "a")
            + &through("cmd2", 3, "b")
            + &simplex("tac", 4, "146.430 MHz", "")
            + &net("n", "primary = \"cmd1\"\nalternate = \"cmd2\"\ncontingency = \"tac\"")
    };
    let text = plan("146.160 MHz", "");
    let found = said(&text, "net-shares-element");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        found[0].message,
        "CMD1, CMD2 of n net go through repeaters that all hear on 146.160 MHz: one carrier there stops them together, whatever the tones"
    );
    assert_eq!(found[0].line, 1 + text.lines().position(|line| line == "primary = \"cmd1\"").unwrap());
    // 111 km apart: 50 km each do not meet.
    assert!(said(&plan("146.160 MHz", "range = \"50 km\""), "net-shares-element").is_empty());
    assert_eq!(said(&plan("146.160 MHz", "range = \"56 km\""), "net-shares-element").len(), 1);
    assert!(said(&plan("146.560 MHz", ""), "net-shares-element").is_empty());
    let both = text.replace("contingency = \"tac\"", "");
    assert_eq!(
        said(&both, "net-shares-element")[0].message,
        "all 2 channels of n net rest on input 146.160 MHz, blocked by one carrier"
    );
    let checked = checked(&text);
    let all = losses(checked.plan());
    let blocked: Vec<_> = all.iter().filter(|loss| loss.words == "input 146.160 MHz, blocked by one carrier").collect();
    assert_eq!(blocked.len(), 1);
    let dead: Vec<&str> = blocked[0].dead.iter().map(fieldsheaf::ground::Id::as_str).collect();
    assert_eq!(dead, ["cmd1", "cmd2"]);
}

/// One operator with one radio for two nets; at the place nothing can send while it listens.
#[test]
fn a_post_with_fewer_radios_than_nets_is_told_so_and_asked_for_no_isolation() {
    let plan = |radios: &str, turns: &str| {
        place("hall", "", turns)
            + &radio("m", "\"144 MHz to 148 MHz\"", "")
            + &radio("u", "\"420 MHz to 450 MHz\"", "")
            + &member("qsb", radios)
            + &simplex("one", 2, "146.430 MHz", "power = \"25 W\"")
            + &simplex("two", 3, "147.570 MHz", "power = \"25 W\"")
            + &net("a", "primary = \"one\"")
            + &net("b", "primary = \"two\"").replace("b Net", "Bravo Net")
            + "[[post]]\nid = \"desk\"\nname = \"Desk\"\nplace = \"hall\"\nnets = [\"a\", \"b\"]\n"
            + &duty("desk", "qsb")
    };
    let single = plan("radio = [\"m\"]", "");
    let found = said(&single, "too-few-radios-at-post");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        found[0].message,
        "from 2026-12-05 06:00 to 18:00 2 nets are worked at once at Desk (Person qsb), a net on ONE, b net on TWO, and the radios there are enough for 1"
    );
    assert_eq!(found[0].line, 1 + single.lines().position(|line| line == "member = \"qsb\"").unwrap());
    assert!(said(&single, "same-band-at-site").is_empty());
    // The second radio is of no use for either net.
    assert_eq!(said(&plan("radio = [\"m\", \"u\"]", ""), "too-few-radios-at-post").len(), 1);
    let double = plan("radio = [\"m\", \"m\"]", "");
    assert!(said(&double, "too-few-radios-at-post").is_empty());
    assert_eq!(said(&double, "same-band-at-site").len(), 1);
    let in_turn = plan("radio = [\"m\"]", "turns = [[\"one\", \"two\"]]");
    assert!(said(&in_turn, "too-few-radios-at-post").is_empty());
    assert!(said(&plan("", ""), "too-few-radios-at-post").is_empty());
    assert_eq!(said(&plan("", ""), "same-band-at-site").len(), 1);
}

/// 462.675 MHz is 3 % above 449.200 MHz; 156.800 MHz is 8 % above 145.010 MHz; 174 MHz is 19 % above 146 MHz.
#[test]
fn radios_near_in_frequency_are_judged_whatever_their_services() {
    let gmrs = GMRS.replace("\"off\"", "\"off\"\nplace = \"roof\"\npower = \"50 W\"");
    let plan = |more: &str| {
        place("roof", "", "")
            + &gmrs
            + &repeater("a", "444.200 MHz", "449.200 MHz", "127.3 Hz", "place = \"roof\"\npower = \"40 W\"")
            + more
    };
    let found = said(&plan(""), "same-band-at-site");
    assert!(
        found.iter().any(|said| said.message.starts_with("at ROOF Roof output with 50 W and A input work at once")),
        "{found:?}"
    );
    let marine = |frequency: &str| {
        place("hill", "", "monitors = [\"mar\"]")
            + "[[gateway]]\nid = \"packet\"\ncall = \"WZ7QUD-10\"\nplace = \"hill\"\nfrequency = \"145.010 MHz\"\ncontrol = \"automatic\"\nmode = \"data\"\npower = \"25 W\"\nverified = { on = 2026-10-11, by = \"qra\" }\n"
            + &simplex("mar", 2, frequency, "tx = \"none\"").replace("simplex", "rx")
    };
    assert_eq!(said(&marine("156.800 MHz"), "same-band-at-site").len(), 1);
    assert!(said(&marine("162.550 MHz"), "same-band-at-site").is_empty());
}

#[test]
fn a_trigger_beside_a_row_that_two_nets_follow_is_mended_in_the_trigger() {
    let row = |id: &str, row: u16, frequency: &str, next: &str| simplex(id, row, frequency, next);
    let plan = row("one", 2, "146.430 MHz", "next = \"two\"\nafter = \"3 min\"")
        + &row("two", 3, "147.570 MHz", "next = \"tac\"\nafter = \"2 min\"")
        + &row("tac", 4, "147.420 MHz", "")
        + &net(
            "a",
            "primary = \"one\"\nalternate = \"two\"\ncontingency = \"tac\"\ntrigger = \"no answer for 3 minutes\"",
        )
        + &net("b", "primary = \"two\"\nalternate = \"tac\"\ntrigger = \"no answer for 2 minutes\"");
    let found = said(&plan, "trigger-contradicts-row");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].help, "write `trigger = \"no answer for 3 min on ONE, 2 min on TWO\"`");
    assert!(said(&typed(&plan), "trigger-contradicts-row").is_empty());
}

/// Speech takes more than 1.4 kHz in single sideband and more than 5.5 kHz in FM: less would pass a signal over a band's edge.
#[test]
fn a_voice_narrower_than_a_voice_is_refused_and_a_written_width_is_printed() {
    let fm = simplex("tac", 2, "147.9999 MHz", "width = \"100 Hz\"");
    let found = said(&fm, "voice-too-narrow");
    assert_eq!((found.len(), found[0].line), (1, 8));
    assert_eq!(found[0].message, "channel TAC sends FM 100 Hz wide, and the narrow form of that mode has 11.2 kHz");
    assert_eq!(errors(&fm.replace("width = \"100 Hz\"", "width = \"narrow\"")).len(), 1, "the edge is found then");
    let dial = simplex("hf", 2, "7.245 MHz", "side = \"LSB\"\nwidth = \"2.4 kHz\"").replace("simplex", "dial")
        + "[[document]]\nid = \"card\"\nkind = \"channel-card\"\naudience = \"team\"\n";
    assert!(said(&dial, "voice-too-narrow").is_empty());
    let hf = set(&documents(&dial)[0], "hf");
    assert!(hf.contains("SSB 2.4 kHz"), "{hf}");
    assert_eq!(said(&dial.replace("2.4 kHz", "50 Hz"), "voice-too-narrow").len(), 1);
}

#[test]
fn an_own_card_prints_the_power_of_the_own_radio_where_none_is_written() {
    let plan = radio("r", "\"144 MHz to 148 MHz\"", "")
        + &member("qsb", "radio = [\"r\"]")
        + &simplex("tac", 2, "146.430 MHz", "")
        + "[[document]]\nid = \"card\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n";
    let card = documents(&plan).into_iter().find(|document| document.stem == "card-qsb").unwrap();
    let tac = set(&card, "tac");
    assert!(tac.contains("hear tone off, FM ±5, 5 W"), "{tac}");
    // 47 CFR 97.313(i) as amended: 9.15 W ERP between 5351.5 and 5366.5 kHz, whatever the radio has.
    let sixty = radio("r", "\"5.3 MHz to 5.4 MHz\"", "").replace("\"FM\"", "\"SSB\"").replace("5 W", "100 W")
        + &member("qsb", "radio = [\"r\"]")
        + &simplex("tac", 2, "5354.0 kHz", "side = \"USB\"").replace("simplex", "dial")
        + "[[document]]\nid = \"card\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n";
    let card = documents(&sixty).into_iter().find(|document| document.stem == "card-qsb").unwrap();
    let tac = set(&card, "tac");
    assert!(tac.contains("9.15 W") && !tac.contains("100 W"), "{tac}");
}

#[test]
fn a_class_in_other_words_leads_to_the_class() {
    for (written, class) in
        [("Tech", "technician"), ("Amateur Extra", "extra"), ("Technician Plus", "technician"), ("gen", "general")]
    {
        let found = said(&member("qsb", "").replace("\"general\"", &format!("\"{written}\"")), "class-unknown");
        assert_eq!(found[0].fix.as_deref(), Some(format!("\"{class}\"").as_str()), "{written}: {found:?}");
    }
}
