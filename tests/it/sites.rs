//! What stands and is worked at a site, by value: isolation, products, what the site allows, and what its own copy prints.

use crate::support::shelf::{HEAD, Shelf};

/// What the rules in question say of a plan, with the words of the line that they point at.
fn said(plan: &str, rules: &[&str]) -> Vec<(String, String)> {
    let world = Shelf::new().with("plan.toml", format!("{HEAD}{plan}"));
    let outcome = fieldsheaf::check_plan(&world, "plan.toml").unwrap();
    let text = format!("{HEAD}{plan}");
    let line = |span| {
        let (_, line, _) = outcome.files.place(span).unwrap();
        text.lines().nth(line - 1).unwrap().trim().to_owned()
    };
    let of_rules = outcome.findings.iter().filter(|finding| rules.contains(&finding.rule.name));
    of_rules.map(|finding| (finding.message.clone(), line(finding.span))).collect()
}

fn one(message: &str, line: &str) -> Vec<(String, String)> {
    vec![(message.to_owned(), line.to_owned())]
}

fn repeater(id: &str, more: &str, output: &str, input: &str) -> String {
    format!(
        "[[repeater]]\nid = \"{id}\"\ncall = \"WZ7QUX\"\nplace = \"ridge\"\n{more}\noutput = \"{output}\"\ninput = \"{input}\"\n\
         tone-in = \"100.0 Hz\"\ntone-out = \"off\"\nverified = {{ on = 2026-10-04, by = \"qra\" }}\n"
    )
}

fn simplex(id: &str, at: &str, more: &str) -> String {
    format!(
        "[[channel]]\nid = \"{id}\"\nrow = {}\nname = \"{}\"\nspoken = \"Channel {id}\"\nsimplex = \"{at}\"\n{more}\n\
         verified = {{ on = 2026-10-01, by = \"qra\" }}\n",
        id.bytes().map(u32::from).sum::<u32>(),
        id.to_uppercase()
    )
}

fn place(id: &str, kind: &str, more: &str) -> String {
    let code: String = id.to_uppercase().chars().take(3).collect();
    let tactical = id[..1].to_uppercase() + &id[1..];
    format!(
        "[[place]]\nid = \"{id}\"\ncode = \"{code}\"\ntactical = \"{tactical}\"\nkind = \"{kind}\"\nvisited-on = 2026-10-04\n{more}\n"
    )
}

/// Two repeaters of one band that the ridge's keepers hold apart.
fn ridge(more: &str) -> String {
    let apart = "antenna = [{ id = \"low\", repeaters = [\"one\"] }, { id = \"high\", repeaters = [\"two\"] }]\n\
                 spacing = [{ of = [\"low\", \"high\"], isolation = \"80 dB\", filter = \"a cavity on each\" }]";
    let one = repeater("one", more, "146.910 MHz", "-600 kHz");
    let two = repeater("two", more, "147.300 MHz", "+600 kHz");
    place("ridge", "repeater-site", &format!("position = \"47.0, -109.0\"\n{apart}")) + &one + &two
}

/// 2 x 146.910 - 147.300 = 146.520: worked by hand.
#[test]
fn a_product_of_two_repeaters_is_found_on_a_channel_that_nobody_monitors_there() {
    let found = said(&(ridge("") + &simplex("call", "146.520 MHz", "")), &["possible-product"]);
    let what = "at Ridge a possible third order product 2 x One output - Two output on 146.520 MHz may fall on CALL within range, \
                0 Hz away";
    assert_eq!(found, one(what, "simplex = \"146.520 MHz\""));
}

/// 0.9 degrees of latitude are 100 km: 20 km of the repeaters and 79 km of the channel do not meet, 81 km do.
#[test]
fn out_of_range_of_the_hill_a_product_harms_nobody() {
    let far = place("dale", "operations-centre", "position = \"46.1, -109.0\"\nmonitors = [\"call\"]");
    let channel = |range: &str| simplex("call", "146.520 MHz", &format!("range = \"{range}\""));
    let plan = |range: &str| ridge("range = \"20 km\"") + &far + &channel(range);
    assert_eq!(said(&plan("79 km"), &["possible-product"]), []);
    assert_eq!(said(&plan("81 km"), &["possible-product"]).len(), 1);
}

/// A repeater of the hill covers its own channel: 2 x 146.910 - 147.300 lies on the output of a third that stands there too.
#[test]
fn a_repeater_of_the_hill_itself_is_not_asked_about_its_own_channel() {
    let third = repeater("three", "", "146.520 MHz", "+600 kHz");
    let channel = "[[channel]]\nid = \"own\"\nrow = 1\nname = \"OWN\"\nspoken = \"Own\"\nrepeater = \"three\"\n";
    let found = said(&(ridge("") + &third + channel), &["possible-product"]);
    assert!(found.iter().all(|(what, _)| !what.contains("OWN")), "{found:#?}");
}

/// 10 W are 40 dBm and ask 65 dB; 40 W are 46 dBm and ask 71 dB: the worse way round is said, once.
#[test]
fn two_repeaters_of_one_band_at_one_site_need_isolation() {
    let one_way = repeater("one", "power = \"10 W\"", "443.100 MHz", "+5 MHz");
    let plan =
        place("ridge", "repeater-site", "") + &one_way + &repeater("two", "power = \"40 W\"", "444.600 MHz", "+5 MHz");
    let what = "at Ridge Two output with 40 W and One input work at once near each other in frequency: about 71 dB of isolation are needed, \
                no distance is written";
    assert_eq!(said(&plan, &["same-band-at-site"]), one(what, "input = \"+5 MHz\""));
}

/// Worked by hand at 146.430 MHz, a wavelength of 2.047 m; 25 W ask 68.9 dB.
#[test]
fn what_lies_between_two_antennas_is_reckoned_from_distance_gain_and_feed_lines_or_taken_as_measured() {
    let plan = |antennas: [&str; 2], spacing: &str| {
        let [x, y] = antennas;
        let more = format!(
            "monitors = [\"b\", \"c\"]\nantenna = [{{ id = \"x\", channels = [\"b\"]{x} }}, {{ id = \"y\", channels = [\"c\"]{y} }}]\n\
             spacing = [{{ of = [\"x\", \"y\"], {spacing} }}]"
        );
        place("hq", "operations-centre", &more)
            + &simplex("b", "146.430 MHz", "power = \"25 W\"")
            + &simplex("c", "147.570 MHz", "power = \"25 W\"")
    };
    let shown = |antennas, spacing: &str| {
        let found = said(&plan(antennas, spacing), &["same-band-at-site"]);
        found.first().map(|(what, _)| what.rsplit_once("needed, ").unwrap().1.to_owned())
    };
    // 22 + 20 log(10 / 2.047) = 35.8, less two dipoles.
    assert_eq!(shown(["", ""], "distance = \"10 m\"").unwrap(), "about 31 dB are shown");
    assert_eq!(
        shown([", gain = \"0 dBd\"", ", gain = \"2.15 dBi\""], "distance = \"10 m\"").unwrap(),
        "about 31 dB are shown"
    );
    assert_eq!(shown([", gain = \"6 dBd\"", ""], "distance = \"10 m\"").unwrap(), "about 25 dB are shown");
    // 28 + 40 log(10 / 2.047) = 55.5, and both feed lines.
    let lines = [", feed-loss = \"1.5 dB\"", ", feed-loss = \"1 dB\""];
    assert_eq!(shown(["", ""], "distance = \"10 m\", stacked = true").unwrap(), "about 55 dB are shown");
    assert_eq!(shown(lines, "distance = \"10 m\", stacked = true").unwrap(), "about 58 dB are shown");
    assert_eq!(shown(["", ""], "isolation = \"68.8 dB\"").unwrap(), "68 dB were measured");
    assert_eq!(shown(["", ""], "isolation = \"68.9 dB\", distance = \"1 m\""), None);
}

/// 2 x 146.550 - 147.150 = 145.950. What keys by itself takes no turns; what a hand keys does.
#[test]
fn turns_hold_back_no_automatic_gateway() {
    let gateway = |control: &str| {
        format!(
            "[[gateway]]\nid = \"box\"\ncall = \"WZ7QUX-1\"\nplace = \"hq\"\nfrequency = \"147.150 MHz\"\ncontrol = \"{control}\"\n\
             power = \"10 W\"\nverified = {{ on = 2026-10-04, by = \"qra\" }}\n\
             [[channel]]\nid = \"mail\"\nrow = 1\nname = \"MAIL\"\nspoken = \"Mail\"\ngateway = \"box\"\n"
        )
    };
    let hq = place("hq", "operations-centre", "monitors = [\"talk\", \"quiet\"]\nturns = [[\"talk\", \"mail\"]]");
    let talk = simplex("talk", "146.550 MHz", "power = \"5 W\"");
    let quiet = "[[channel]]\nid = \"quiet\"\nrow = 2\nname = \"QUIET\"\nspoken = \"Quiet\"\nrx = \"145.950 MHz\"\ntx = \"none\"\n\
                 verified = { on = 2026-10-01, by = \"qra\" }\n";
    let plan = |control: &str| format!("{hq}{talk}{quiet}{}", gateway(control));
    let product = "at Hq a possible third order product 2 x TALK - Box on 145.950 MHz may fall on QUIET, 0 Hz away";
    let line = "monitors = [\"talk\", \"quiet\"]";
    assert_eq!(said(&plan("automatic"), &["possible-product"]), one(product, line));
    assert_eq!(said(&plan("attended"), &["possible-product"]), []);
    let pair =
        |found: Vec<(String, String)>| found.iter().any(|(what, _)| what.contains("TALK") && what.contains("Box"));
    assert!(pair(said(&plan("automatic"), &["same-band-at-site"])));
    assert!(!pair(said(&plan("attended"), &["same-band-at-site"])));
}

/// A link is two radios that key by themselves: what it does not join hears them, and it them.
#[test]
fn a_link_counts_among_what_stands_at_its_place() {
    let link = "[[link]]\nid = \"yard\"\ncall = \"WZ7QRA\"\nplace = \"hq\"\njoins = [\"b\", \"u\"]\npower = \"10 W\"\n";
    let plan = place("hq", "operations-centre", "monitors = [\"c\"]\nturns = [[\"b\", \"c\"]]")
        + &simplex("b", "146.430 MHz", "power = \"5 W\"")
        + &simplex("c", "147.570 MHz", "power = \"5 W\"")
        + &simplex("u", "433.200 MHz", "power = \"5 W\"")
        + link;
    let what = "at Hq Yard on B with 10 W and C work at once near each other in frequency: about 65 dB of isolation are needed, no distance is written";
    assert_eq!(said(&plan, &["same-band-at-site"]), one(what, "monitors = [\"c\"]"));
}

const DESK: &str = "[[post]]\nid = \"desk\"\nname = \"Desk\"\nplace = \"mercy\"\nnets = [\"medical\"]\n\
     [[net]]\nid = \"medical\"\nname = \"Medical net\"\nspoken = \"Medical Net\"\nprimary = \"med\"\n\
     [[duty]]\npost = \"desk\"\nmember = \"qra\"\nfrom = \"2026-12-05 06:00\"\nto = \"2026-12-05 18:00\"\n";

fn hospital(transmit: &str) -> String {
    place("mercy", "hospital", transmit) + &simplex("med", "146.430 MHz", "power = \"25 W\"") + DESK
}

const SITE_RULES: [&str; 4] =
    ["sends-where-not-allowed", "power-over-place-limit", "place-agreement-missing", "place-agreement-old"];

#[test]
fn what_a_hospital_allows_is_held_against_what_its_posts_work() {
    let agreed = "agreed-by = \"Clinical engineering\", on = 2026-10-04";
    let five = hospital(&format!("transmit = {{ allowed = \"roof only\", {agreed}, max = \"5 W\" }}"));
    let over = "at Mercy MED sends with up to 25 W, over the 5 W that the site agreed to";
    assert_eq!(said(&five, &SITE_RULES), one(over, "nets = [\"medical\"]"));
    let unwritten = five.replace("power = \"25 W\"\n", "");
    assert_ne!(unwritten, five);
    let unsaid = "at Mercy MED sends with a power that is not written, and the site agreed to 5 W";
    assert_eq!(said(&unwritten, &SITE_RULES), one(unsaid, "nets = [\"medical\"]"));
    let nowhere = hospital(&format!("transmit = {{ allowed = \"nowhere\", {agreed}, max = \"5 W\" }}"));
    let silent = "at Mercy MED sends, and the site allows that nowhere";
    assert_eq!(said(&nowhere, &SITE_RULES), one(silent, "nets = [\"medical\"]"));
    let old = "transmit = { allowed = \"roof only\", agreed-by = \"Clinical engineering\", on = 2019-05-02 }";
    let long_ago = "Mercy agreed to transmitting there on 2019-05-02, 2759 days before the issue";
    assert_eq!(said(&hospital(old), &SITE_RULES), one(long_ago, old));
    let missing = "Mercy is a place of medical care, and the plan does not say where a radio may transmit there";
    assert_eq!(said(&hospital(""), &SITE_RULES), one(missing, "id = \"mercy\""));
}

/// What the documents of a plan say, by the name of the file.
fn printed(plan: &str, stem: &str) -> String {
    let world = Shelf::new().with("plan.toml", format!("{HEAD}{plan}"));
    let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
    let job = jobs.iter().find(|job| job.stem == stem);
    job.unwrap_or_else(|| panic!("no {stem} among {} jobs", jobs.len())).canonical.clone().unwrap()
}

const ORDERS: &str = "[[document]]\nid = \"all\"\nkind = \"channel-card\"\naudience = \"team\"\n\
     [[document]]\nid = \"own\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n\
     [[document]]\nid = \"site\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"place\"\n\
     [[document]]\nid = \"calls\"\nkind = \"contact-card\"\naudience = \"team\"\neach = \"place\"\n";

#[test]
fn the_copy_of_a_site_and_of_those_on_duty_there_print_what_the_site_allows() {
    let limit =
        "transmit = { allowed = \"roof only\", agreed-by = \"Clinical engineering\", on = 2026-10-04, max = \"5 W\" }";
    let plan = hospital(limit) + &place("hq", "operations-centre", "") + ORDERS;
    let set = |stem: &str| {
        let text = printed(&plan, stem);
        // MED is the plan's one channel.
        let line = text.lines().find(|line| line.contains("/said/1\t")).unwrap();
        line.split_once("FM ±5, ").unwrap().1.to_owned()
    };
    assert_eq!(set("site-mercy"), "5 W here");
    assert_eq!(set("own-qra"), "25 W, 5 W at Mercy");
    assert_eq!((set("all").as_str(), set("site-hq").as_str()), ("25 W", "25 W"));
    let caution = "Transmitting at Mercy: roof only, at most 5 W, agreed by Clinical engineering on 2026-10-04.";
    let has = |stem: &str, words: &str| printed(&plan, stem).contains(words);
    assert!(has("site-mercy", caution) && has("own-qra", caution), "{}", printed(&plan, "site-mercy"));
    assert!(!has("all", caution) && !has("site-hq", caution));
    // What was agreed long ago, or on no known day, is no permit to lean on.
    let with_day = |day: &str| plan.replace(", on = 2026-10-04, max", &format!("{day}, max"));
    let says = |plan: &str, words: &str| {
        printed(plan, "site-mercy").contains(words) && printed(plan, "own-qra").contains(words)
    };
    let old = "agreed by Clinical engineering on 2019-05-20; over a year old, ask the site's own staff first.";
    assert!(says(&with_day(", on = 2019-05-20"), old), "{}", printed(&with_day(", on = 2019-05-20"), "site-mercy"));
    let undated = "agreed by Clinical engineering, day unknown; ask the site's own staff first.";
    assert!(says(&with_day(""), undated), "{}", printed(&with_day(""), "site-mercy"));
    // A year to the day is not old.
    assert!(says(&with_day(", on = 2025-11-20"), "agreed by Clinical engineering on 2025-11-20."));
}

#[test]
fn at_a_site_that_allows_nothing_its_copy_says_so_instead_of_a_frequency_to_send() {
    let nowhere = place("mercy", "hospital", "transmit = { allowed = \"nowhere\" }");
    let plan = nowhere + &simplex("med", "146.430 MHz", "power = \"25 W\"") + ORDERS;
    let text = printed(&plan, "site-mercy");
    assert!(text.contains("/send/value\toff\n"), "{text}");
    assert!(text.contains("/warn\tdo not send: nothing may be sent at Mercy\n"), "{text}");
    assert!(text.contains("Transmitting at Mercy: nowhere, by whom it was agreed is unknown, day unknown."), "{text}");
    assert!(printed(&plan, "all").contains("/send/value\t146430000\n"));
}

#[test]
fn the_contact_card_of_a_place_says_what_one_finds_there_and_what_is_unknown() {
    let more = "name = \"Mercy General\"\nagency = \"county-health\"\nposition = \"47.1234, -109.4321\"\nelevation = \"1210 m\"\n\
         entrance = \"Dock door B\"\nroom = \"B-114\"\njack = \"Panel R2\"\nconnector = \"N female\"\n\
         transmit = { allowed = \"roof only\", agreed-by = \"Clinical engineering\", on = 2026-10-04, max = \"5 W\" }\n\
         antenna = [{ id = \"roof\", kind = \"vertical\", gain = \"2.15 dBi\", height = \"18 m\", feed-loss = \"1.5 dB\", channels = [\"med\"] }]";
    let plan = place("mercy", "hospital", more)
        + &place("hq", "operations-centre", "")
        + &simplex("med", "146.430 MHz", "power = \"5 W\"")
        + ORDERS;
    let lines = |stem: &str| -> Vec<String> {
        let text = printed(&plan, stem);
        assert!(text.contains("section/1\tsite\n"), "{text}");
        let of_site = text.lines().filter_map(|line| line.strip_prefix("section/1/block/")?.split_once('\t'));
        let mut lines: Vec<((usize, usize), String)> = Vec::new();
        for (path, words) in of_site {
            let steps: Vec<&str> = path.split('/').collect();
            let number = |step: usize| steps.get(step).and_then(|step| step.parse().ok()).unwrap_or(0);
            match steps.as_slice() {
                [_, "paragraph"] => lines.push(((number(0), 0), words.to_owned())),
                [_, "list", _] => lines.push(((number(0), number(2)), words.to_owned())),
                [_, "list", _, "meaning"] => lines.last_mut().unwrap().1.push_str(&format!(": {words}")),
                _ => {}
            }
        }
        lines.sort();
        lines.into_iter().map(|(_, words)| words).collect()
    };
    assert_eq!(
        lines("calls-mercy"),
        [
            "Name: Mercy General",
            "Agency: county-health",
            "Position: 47.12340 N, 109.43210 W",
            "Above sea level: 1210 m",
            "Entrance: Dock door B",
            "Room: B-114",
            "Antenna jack: Panel R2",
            "Connector: N female",
            "Antenna roof: vertical, 2.15 dBi, 18 m above ground, feed line loses 1.5 dB, for MED",
            "Transmitting: roof only, at most 5 W, agreed by Clinical engineering on 2026-10-04",
            "Last visited: 2026-10-04",
        ]
    );
    let unknown = lines("calls-hq").iter().filter(|line| line.ends_with(": unknown")).count();
    assert_eq!(unknown, 8, "{:#?}", lines("calls-hq"));
}

#[test]
fn the_interference_report_says_what_is_needed_shown_and_missing() {
    let more = "monitors = [\"b\", \"c\"]\nantenna = [{ id = \"x\", channels = [\"b\"] }, { id = \"y\", channels = [\"c\"] }]\n\
         spacing = [{ of = [\"x\", \"y\"], isolation = \"60 dB\", filter = \"notch on X\" }]";
    let plan = place("hq", "operations-centre", more)
        + &simplex("b", "146.430 MHz", "power = \"25 W\"")
        + &simplex("c", "147.570 MHz", "power = \"25 W\"")
        + "[[document]]\nid = \"noise\"\nkind = \"interference-report\"\naudience = \"leads\"\n";
    let text = printed(&plan, "noise");
    let cell = |key: &str| {
        let line = text.lines().find(|line| line.contains(&format!("/row/1/{key}\t")));
        line.unwrap_or_else(|| panic!("{key}: {text}")).split_once('\t').unwrap().1.to_owned()
    };
    let row = ["sends", "hears", "needed", "shown", "missing", "filter"].map(cell);
    assert_eq!(row, ["B, 25 W", "C", "69 dB", "60 dB measured", "9 dB", "notch on X"]);
}

/// The words for how urgent a message is are the profile's, on the card and on the message form.
#[test]
fn the_card_and_the_message_form_say_the_precedence_of_the_profile() {
    let own = "[profile]\nid = \"own\"\nbase = \"us\"\nname = \"Own\"\nrule-set = \"47 CFR Part 97, for this test\"\n\
         source = \"invented\"\nconfidence = \"invented\"\nprecedence = [\"Now\", \"Soon\", \"Later\"]\n";
    let orders = "[[document]]\nid = \"card\"\nkind = \"channel-card\"\naudience = \"team\"\n\
         [[document]]\nid = \"note\"\nkind = \"form\"\nform = \"message\"\naudience = \"public\"\n";
    let plan =
        |profile: &str| format!("{}{orders}", HEAD.replace("profile = \"us\"", &format!("profile = \"{profile}\"")));
    let text = |profile: &str, stem: &str| {
        let world = Shelf::new().with("plan.toml", plan(profile)).with("own.toml", own);
        let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
        jobs.iter().find(|job| job.stem == stem).unwrap().canonical.clone().unwrap()
    };
    assert!(text("us", "card").contains("\tPrecedence: Emergency, Priority, Welfare, Routine.\n"));
    assert!(text("own.toml", "card").contains("\tPrecedence: Now, Soon, Later.\n"));
    let below = |profile: &str, what: &str| -> Vec<String> {
        let text = text(profile, "note");
        let label = text.lines().find(|line| line.ends_with("\tPrecedence")).unwrap();
        let field = label.split_once('\t').unwrap().0;
        let lines = text.lines().filter_map(|line| line.strip_prefix(field)?.strip_prefix(what)?.split_once('\t'));
        lines.filter(|(place, _)| !place.contains('/')).map(|(_, said)| said.to_owned()).collect()
    };
    assert_eq!(below("us", "/ticks/"), ["Emergency", "Priority", "Welfare", "Routine"]);
    assert_eq!(below("us", "/ticks/meaning/").len(), 4);
    assert_eq!(below("own.toml", "/ticks/"), ["Now", "Soon", "Later"]);
    // What words of its own mean this program does not know.
    assert_eq!(below("own.toml", "/ticks/meaning/"), Vec::<String>::new());
}
