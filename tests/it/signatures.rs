//! Signed editions: who signed which, and nothing that cannot be proved.
#![allow(clippy::disallowed_methods, reason = "whole-program tests live on the disk")]

use crate::support::desk::{Desk, listing};

/// A small plan whose coordinator has a key.
fn with_key() -> Desk {
    let desk = Desk::with_plan();
    desk.run(&["key", "keys"]).exits(0).says("keys/signing.secret: the secret half");
    add_key(&desk, "keys");
    desk
}

fn public(desk: &Desk, folder: &str) -> String {
    let text = desk.read(&format!("{folder}/signing.public.toml"));
    text.lines().find_map(|line| line.strip_prefix("public = ")).unwrap().trim_matches('"').to_owned()
}

fn add_key(desk: &Desk, folder: &str) {
    let record = format!("\n[[key]]\nby = \"{}\"\npublic = \"{}\"\n", member(desk), public(desk, folder));
    desk.file("plan/plan.toml", desk.read("plan/plan.toml") + &record);
}

/// The id of whoever approves the small plan.
fn member(desk: &Desk) -> String {
    let text = desk.read("plan/plan.toml");
    text.lines().find_map(|line| line.strip_prefix("approved-by = ")).unwrap().trim_matches('"').to_owned()
}

const ISSUE: [&str; 6] = ["issue", "plan", "--out", "kit", "--sign", "keys/signing.secret"];

#[test]
fn an_edition_is_signed_and_verified() {
    let desk = with_key();
    desk.run(&ISSUE).exits(0).says("kit/MANIFEST.sig: signed by the key public-");
    let key = public(&desk, "keys");
    desk.run(&["verify", "kit"])
        .exits(0)
        .says("all as written")
        .says(&format!("signed by the key {key}; whose it is, the plan says"));
    let call = format!("WZ7{}", member(&desk).to_uppercase());
    desk.run(&["verify", "kit", "--plan", "plan"])
        .exits(0)
        .says(&format!("the manifest of ALDER edition 1 is signed by {call} "));
    // Once more: the same bytes have the same signature, and it stays with its manifest.
    let signature = desk.read("kit/MANIFEST.sig");
    desk.run(&ISSUE).exits(0).says("was issued on");
    assert_eq!(desk.read("kit/MANIFEST.sig"), signature);
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    assert_eq!(desk.read("kit/MANIFEST.sig"), signature);
    // A build of something else takes it away.
    desk.edit("plan/plan.toml", "number = 1", "number = 2");
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    assert!(!listing(&desk.path("kit")).contains(&"MANIFEST.sig".to_owned()));
    desk.run(&["verify", "kit"]).exits(0);
    desk.run(&["verify", "kit", "--plan", "plan"]).exits(1).says("not signed: no key of the plan proves this folder");
}

#[test]
fn what_cannot_be_proved_is_not_said() {
    let desk = with_key();
    desk.run(&ISSUE).exits(0);
    let (signature, manifest) = (desk.read("kit/MANIFEST.sig"), desk.read("kit/MANIFEST.toml"));
    let call = format!("WZ7{}", member(&desk).to_uppercase());

    // Somebody else's key, with words that claim more.
    desk.run(&["key", "theirs"]).exits(0);
    desk.run(&["issue", "plan", "--out", "kit", "--sign", "theirs/signing.secret"])
        .exits(2)
        .says("the plan has no [[key]] with the public half of this key")
        .says(&public(&desk, "theirs"));
    desk.file("kit/MANIFEST.sig", signature.replace("signature = ", &format!("by = \"{call}\"\nsignature = ")));
    let ran = desk
        .run(&["verify", "kit", "--plan", "plan"])
        .exits(1)
        .says("MANIFEST.sig is not as fieldsheaf wrote it: it proves nothing");
    assert!(!ran.said().contains(&call));
    let (own, other) = (public(&desk, "keys"), public(&desk, "theirs"));
    desk.file("kit/MANIFEST.sig", signature.replace(&own, &other));
    let ran = desk
        .run(&["verify", "kit", "--plan", "plan"])
        .exits(1)
        .says("is no signature of this manifest: it proves nothing");
    assert!(!ran.said().contains(&call));

    // A manifest that was changed, its own hash reckoned anew.
    let rest = manifest.split_once("\nplan = ").unwrap().1.replace("edition = 1\n", "edition = 9\n");
    let rest = format!("plan = {rest}");
    let head = manifest.split_once("rest-sha256").unwrap().0;
    desk.file(
        "kit/MANIFEST.toml",
        format!("{head}rest-sha256 = \"{}\"\n{rest}", fieldsheaf::ledger::sha256(rest.as_bytes())),
    );
    desk.file("kit/MANIFEST.sig", &signature);
    let ran = desk
        .run(&["verify", "kit", "--plan", "plan"])
        .exits(1)
        .says("ALDER edition 9")
        .says("is no signature of this manifest");
    assert!(!ran.said().contains(&call));
    desk.file("kit/MANIFEST.toml", &manifest);

    // A key that the plan does not name any more, and one that it names twice.
    let plan = desk.read("plan/plan.toml");
    desk.file("plan/plan.toml", plan.split("\n[[key]]").next().unwrap());
    desk.run(&["verify", "kit", "--plan", "plan"])
        .exits(1)
        .says("signed by a key that the plan does not name")
        .says("it proves nothing");
    let others = desk.read("plan/people.csv");
    let other = others.lines().skip(1).map(|line| line.split(',').next().unwrap()).find(|id| *id != member(&desk));
    let second = format!("\n[[key]]\nby = \"{}\"\npublic = \"{own}\"\n", other.unwrap());
    desk.file("plan/plan.toml", plan + &second);
    desk.run(&["verify", "kit", "--plan", "plan"]).exits(1).says("so it proves nobody");

    // A file of the kit that is another: the manifest is signed, and it is not what stands there.
    desk.file("kit/card.pdf", b"something else");
    desk.run(&["verify", "kit"]).exits(1).says("changed  card.pdf").says("1 difference");
}

#[test]
fn a_file_that_is_no_signature_of_ours_is_nobodys_to_replace() {
    let desk = with_key();
    desk.run(&["build", "plan", "--out", "kit"]).exits(0);
    desk.file("kit/MANIFEST.sig", "mine");
    desk.run(&["build", "plan", "--out", "kit"]).exits(2).says("MANIFEST.sig").says("was not written by fieldsheaf");
    assert_eq!(desk.read("kit/MANIFEST.sig"), "mine");
    desk.run(&["verify", "kit"]).exits(1).says("MANIFEST.sig is not as fieldsheaf wrote it");
    desk.file("kit/MANIFEST.sig", vec![b'a'; 10_000]);
    desk.run(&["verify", "kit"]).exits(2).says("MANIFEST.sig");
    desk.file("kit/MANIFEST.sig", [0xff, 0xfe]);
    desk.run(&["verify", "kit"]).exits(2).says("this is not text");
}

#[test]
fn keys_are_never_written_over_nor_into_a_plan() {
    let desk = with_key();
    let secret = desk.read("keys/signing.secret");
    desk.run(&["key", "keys"]).exits(2).says("a file of this name is there already; name another folder");
    assert_eq!(desk.read("keys/signing.secret"), secret);
    std::fs::remove_file(desk.path("keys/signing.public.toml")).unwrap();
    desk.run(&["key", "keys"]).exits(2).says("signing.secret").says("a file of this name is there already");
    assert_eq!(desk.read("keys/signing.secret"), secret);
    for inside in ["plan", "plan/keys"] {
        desk.run(&["key", inside]).exits(2).says("this is inside a plan's folder");
        assert!(!desk.path(&format!("{inside}/signing.secret")).exists());
    }
    #[cfg(unix)]
    {
        let mode = std::os::unix::fs::PermissionsExt::mode(
            &std::fs::metadata(desk.path("keys/signing.secret")).unwrap().permissions(),
        );
        assert_eq!(mode & 0o777, 0o600);
    }
}

#[test]
fn key_files_that_are_none_are_refused_with_the_reason_and_without_the_secret() {
    let desk = with_key();
    let whole = desk.read("keys/signing.secret");
    let secret = whole.lines().last().unwrap();
    let part = &secret[10..40];
    for (name, text, why) in [
        ("short", secret[..secret.len() - 5].to_owned(), "this key is too short by 2"),
        ("long", secret.replacen("secret-", "secret-00", 1), "this key is too long by 2: it has 66 digits"),
        ("letters", format!("secret-x{}", &secret[8..]), "place 1 of this key is 'x'"),
        ("public", public(&desk, "keys"), "this is a public key, and nobody can sign with one"),
        ("empty", String::new(), "a key file has one line beside those that begin with #; this one has 0"),
        ("two", format!("{secret}\n{secret}\n"), "this one has 2"),
        ("huge", "a".repeat(10_000_000), "10000000 bytes"),
    ] {
        desk.file(name, text);
        let ran = desk.run(&["issue", "plan", "--out", "kit", "--sign", name]).exits(2).says(why);
        assert!(!ran.said().contains(part), "{name}");
        assert!(!desk.path("kit").exists() && !desk.path("plan/editions.toml").exists(), "{name}");
    }
    desk.file("binary", [0xff, 0x00, 0x80]);
    desk.run(&["issue", "plan", "--out", "kit", "--sign", "binary"]).exits(2).says("this is not text, so no key file");
    desk.run(&["issue", "plan", "--out", "kit", "--sign", "nothing"]).exits(2).says("nothing");
    desk.run(&["issue", "plan", "--out", "kit", "--sign", "keys"]).exits(2).says("keys");
    // With line ends of another system it is the same key.
    desk.file("keys/signing.secret", whole.replace('\n', "\r\n"));
    desk.run(&ISSUE).exits(0);
}

#[test]
fn a_secret_key_in_the_plan_is_a_finding_that_says_so() {
    let desk = with_key();
    let secret = desk.read("keys/signing.secret");
    desk.edit("plan/plan.toml", &public(&desk, "keys"), secret.lines().last().unwrap());
    let ran = desk.run(&["check", "plan", "--format", "short"]).exits(1);
    let ran = ran.says("this is a secret key: whoever reads the plan can sign in its owner's name");
    assert!(!ran.said().contains(&secret.lines().last().unwrap()[10..40]));
    desk.run(&["build", "plan", "--out", "kit"]).exits(1);
    assert!(!desk.path("kit").exists());
}
