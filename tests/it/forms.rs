//! Forms that a team writes: blocks that can be read over the air in order, and tables that stand on their page.

use crate::support::shelf::{HEAD, Shelf};

/// Line, name, message and help of what is found on a form, whose record begins in line 1 of `form.toml`.
fn found(form: &str, document: &str) -> Vec<(usize, &'static str, String, String)> {
    let world =
        Shelf::new().with("plan.toml", format!("include = [\"form.toml\"]\n{HEAD}{document}")).with("form.toml", form);
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let line = |finding: &fieldsheaf::ground::Finding| outcome.files.place(finding.span).map_or(0, |(_, line, _)| line);
    let said = |finding: &fieldsheaf::ground::Finding| {
        (line(finding), finding.rule.name, finding.message.clone(), finding.help.clone().unwrap_or_default())
    };
    outcome.findings.iter().map(said).collect()
}

fn form(id: &str, lines: &str) -> String {
    format!("[[form]]\nid = \"{id}\"\ntitle = \"County sheet\"\nedition = \"1\"\nline = [\n{lines}]\n")
}

#[test]
fn numbers_are_read_in_order_and_each_is_there_once() {
    let field = |number: u16, label: &str| format!("{{ field = [{{ number = {number}, label = \"{label}\" }}] }},\n");
    // Numbers may be left out, as those of a published form are.
    let right =
        form("a", &(field(1, "To") + "{ field = [{ label = \"At\" }] },\n" + &field(4, "From") + &field(5, "Text")));
    assert_eq!(found(&right, ""), []);
    let wrong =
        form("a", &(field(1, "To") + &field(4, "From") + &field(2, "Text") + &field(4, "Time") + &field(3, "Day")));
    let anew = "number the blocks anew, from the top left to the bottom right";
    assert_eq!(
        found(&wrong, ""),
        [
            (8, "form-numbers-out-of-order", "block 2, \"Text\", stands after block 4".to_owned(), anew.to_owned()),
            (9, "form-number-duplicate", "\"Time\" is a second block 4 of its form".to_owned(), anew.to_owned()),
            (10, "form-numbers-out-of-order", "block 3, \"Day\", stands after block 4".to_owned(), anew.to_owned()),
        ]
    );
}

#[test]
fn a_form_has_the_blocks_of_its_base_and_its_own_below_them() {
    let line = "{ field = [{ number = 1, label = \"To\", share = 6 }, { label = \"At\", share = 6 }] },\n";
    let more = "{ field = [{ letter = \"A\", label = \"Number\" }] },\n";
    let on = |base: &str, line: &str| form("own", line).replace("edition", &format!("base = \"{base}\"\nedition"));
    // A base of the plan, one of the program, and one under the name of the program's own.
    let both = form("first", line) + &on("first", more);
    for text in [both.clone(), on("ics-213", "{ field = [{ letter = \"J\", label = \"County\" }] },\n")] {
        assert_eq!(found(&text, ""), []);
    }
    let unknown = found(&on("ics-2017a", more), "");
    let what = "form own has the base \"ics-2017a\", and no form is called this";
    assert_eq!(unknown, [(4, "form-base-unknown", what.to_owned(), "did you mean \"ics-217a\"?".to_owned())]);
    // Typing what is proposed must not bring another fault.
    let near = found(&on("ics-213x", line), "");
    let help = "the nearest is \"ics-213\", whose blocks have numbers that this form gives its own: name it once they have others, or leave `base` out";
    assert_eq!((near.len(), near[0].3.as_str()), (1, help));
    let doubled = found(&(form("first", line) + &on("first", line)), "");
    assert_eq!(
        doubled.iter().map(|f| (f.1, f.2.as_str())).collect::<Vec<_>>(),
        [("form-number-duplicate", "\"To\" is a second block 1 of its form")]
    );
    // What is printed: the base's two, then the own one under a heavy rule.
    let order = "[[document]]\nid = \"f\"\nkind = \"form\"\nform = \"own\"\naudience = \"public\"\n";
    let plan = HEAD.to_owned() + &both + order;
    let jobs = fieldsheaf::jobs(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
    let text = jobs[0].canonical.clone().unwrap();
    let labels: Vec<&str> = text
        .lines()
        .filter_map(|line| line.split_once('\t'))
        .filter(|(path, _)| path.rsplit('/').nth(1) == Some("field"))
        .map(|(_, label)| label)
        .collect();
    assert_eq!(labels, ["To", "At", "Number"]);
    assert!(text.contains("/line/2\tadded\n") && text.contains("/line/2/title\tAdded\n"), "{text}");
}

#[test]
fn a_base_that_leads_back_is_told_with_its_way() {
    let on = |id: &str, base: &str| {
        form(id, "{ field = [{ label = \"To\" }] },\n").replace("edition", &format!("base = \"{base}\"\nedition"))
    };
    let circle = found(&(on("a", "b") + &on("b", "c") + &on("c", "a")), "");
    let said: Vec<(&str, &str)> = circle.iter().map(|finding| (finding.1, finding.2.as_str())).collect();
    assert_eq!(said, [("form-base-circular", "form a is its own base: a has b has c has a")]);
}

/// As many rows as the finding says stand on the page, and one more does not.
#[test]
fn a_table_that_is_too_high_is_told_how_many_of_its_rows_fit() {
    let document = |layout: &str| {
        format!(
            "[[document]]\nid = \"f\"\nkind = \"form\"\nform = \"tally\"\naudience = \"team\"\nlayout = \"{layout}\"\n"
        )
    };
    let columns = "columns = [{ heading = \"Time\", share = 4 }, { heading = \"Words\", share = 8 }]";
    let ruled = |rows: u16| format!("{{ field = [{{ label = \"Tally\", rows = {rows}, {columns} }}] }},\n");
    let words = |rows: u16| format!("{{ field = [{{ label = \"Text\", words = 5, word-lines = {rows} }}] }},\n");
    let lines = |rows: u16| format!("{{ field = [{{ label = \"Notes\", lines = {rows} }}, ] }},\n");
    let kinds: [(&str, &dyn Fn(u16) -> String); 3] = [("rows", &ruled), ("word-lines", &words), ("lines", &lines)];
    for layout in ["full", "half"] {
        for (key, table) in kinds {
            let tall = |rows: u16| found(&form("tally", &table(rows)), &document(layout));
            let said = tall(100);
            assert_eq!((said.len(), said[0].0, said[0].1), (1, 6, "text-does-not-fit"), "{layout} {key}: {said:?}");
            let fit: u16 = said[0]
                .3
                .strip_prefix(&format!("write `{key} = "))
                .unwrap()
                .split('`')
                .next()
                .unwrap()
                .parse()
                .unwrap();
            assert!(said[0].2.ends_with(&format!("; {fit} of its 100 rows fit")), "{}", said[0].2);
            assert!((5..100).contains(&fit), "{fit}");
            assert_eq!(tall(fit), [], "{layout} {key}");
            assert_eq!(tall(fit + 1).len(), 1, "{layout} {key}");
        }
    }
}

/// Where a layout wants the whole form on one panel, the table that could be lower is named, and its rows then fit.
#[test]
fn a_form_that_must_stay_whole_is_told_how_many_rows_fit_beside_all_else() {
    let document =
        "[[document]]\nid = \"f\"\nkind = \"form\"\nform = \"tally\"\naudience = \"team\"\nlayout = \"own.toml\"\n";
    let tall = |rows: u8| {
        let lines = format!(
            "{{ field = [{{ label = \"Notes\", lines = 9 }}] }},\n{{ field = [{{ label = \"Text\", words = 5, word-lines = {rows} }}] }},\n"
        );
        let world = Shelf::new()
            .with("plan.toml", format!("include = [\"form.toml\"]\n{HEAD}{document}"))
            .with("form.toml", form("tally", &lines))
            .with("own.toml", "base = \"full\"\nwhole = [\"form\"]\n");
        fieldsheaf::check(&world, "plan.toml").unwrap()
    };
    let outcome = tall(24);
    let said: Vec<_> = outcome.findings.iter().collect();
    assert_eq!((said.len(), said[0].rule.name), (1, "text-does-not-fit"));
    let related: Vec<_> = said[0].related.iter().filter_map(|place| outcome.files.place(place.span)).collect();
    assert_eq!(related[0].0, "form.toml");
    assert_eq!(related[0].1, 7);
    let help = said[0].help.as_deref().unwrap();
    let fit: u8 = help.strip_prefix("write `word-lines = ").unwrap().split('`').next().unwrap().parse().unwrap();
    assert!(said[0].message.ends_with(&format!("; {fit} of its 24 rows fit")), "{}", said[0].message);
    let told = |rows| tall(rows).findings.iter().map(|finding| finding.message.clone()).collect::<Vec<_>>();
    assert_eq!((told(fit), told(fit + 1).len()), (Vec::new(), 1));
}

/// The boxes of a field, by its label, of a form whose fields are `lines`, under a profile whose words for urgency are `words`.
fn boxes(lines: &str, label: &str, words: &str) -> Vec<String> {
    let profile = format!(
        "[profile]\nid = \"own\"\nbase = \"us\"\nname = \"Own\"\nrule-set = \"47 CFR Part 97, for this test\"\nsource = \"invented\"\n\
         confidence = \"invented\"\nprecedence = {words}\n"
    );
    let order = "[[document]]\nid = \"note\"\nkind = \"form\"\nform = \"own\"\naudience = \"public\"\n";
    let plan = HEAD.replace("profile = \"us\"", "profile = \"own.toml\"") + &form("own", lines) + order;
    let world = Shelf::new().with("plan.toml", plan).with("own.toml", profile);
    let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
    let text = jobs[0].canonical.clone().unwrap();
    let field = text.lines().find_map(|line| line.strip_suffix(&format!("\t{label}"))).unwrap();
    let ticks = text.lines().filter_map(|line| line.strip_prefix(field)?.strip_prefix("/ticks/"));
    ticks.map(|tick| tick.split_once('\t').unwrap().1.to_owned()).collect()
}

/// What a field asks for is said by its key and not by its label: another label does, and the same label alone does not.
#[test]
fn boxes_for_how_urgent_a_message_is_are_those_of_the_profile_whatever_the_label() {
    let own = "ticks = [\"Red\", \"Green\"]";
    let field = |label: &str, more: &str| format!("{{ field = [{{ label = \"{label}\", {more} }}] }},\n");
    let marked = field("How soon?", &format!("meaning = \"precedence\", {own}"));
    assert_eq!(boxes(&marked, "How soon?", "[\"Now\", \"Later\"]"), ["Now", "Later"]);
    assert_eq!(boxes(&marked, "How soon?", "[]"), ["Red", "Green"], "its own where the profile has none");
    let bare = field("How soon?", "meaning = \"precedence\"");
    assert_eq!(boxes(&bare, "How soon?", "[\"Now\", \"Later\"]"), ["Now", "Later"]);
    assert_eq!(boxes(&bare, "How soon?", "[]"), Vec::<String>::new(), "a line to write it on");
    let unmarked = field("B. Precedence", own);
    assert_eq!(boxes(&unmarked, "B. Precedence", "[\"Now\", \"Later\"]"), ["Red", "Green"]);
}

#[test]
fn a_field_of_a_meaning_has_boxes_and_no_other_room() {
    let lines = "{ field = [{ label = \"How soon?\", meaning = \"precedence\", lines = 2 }] },\n";
    assert_eq!(
        found(&form("own", lines), ""),
        [(
            6,
            "form-field-unclear",
            "the field \"How soon?\" asks for two kinds of room".to_owned(),
            "keep one of lines, ticks (or meaning), words, columns, squares, signature, date-time and text".to_owned()
        )]
    );
    let other = lines.replace("precedence", "urgency").replace(", lines = 2", "");
    let wrong = found(&form("own", &other), "");
    assert_eq!((wrong.len(), wrong[0].0, wrong[0].1), (1, 6, "bad-value"));
    assert_eq!((wrong[0].2.as_str(), wrong[0].3.as_str()), ("unknown word \"urgency\"", "write one of: precedence"));
}
