//! Signatures of finished folders: made with a key file, and judged by what the plan says.

use super::calls::{Calls, Machine, Stands, read};
use super::folder::text;
use super::part::{create, failed, replace};
use super::say;
use crate::compare::ReadPlan;
use crate::ground::{Failure, KeyPair, PublicKey, caps};
use crate::ledger::{MANIFEST, Manifest, SIGNATURE, Signed};
use std::path::Path;

/// Reads a key file. What is wrong with it is told, and nothing of the key.
///
/// # Errors
/// When it cannot be read or is none.
pub fn key_of(file: &Path) -> Result<KeyPair, Failure> {
    let fail = |why: String| Failure::new(file.display().to_string(), why);
    let bytes = read(&Machine, file, caps::SIGNATURE_BYTES.most).map_err(|fault| fail(fault.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|_| fail("this is not text, so no key file".to_owned()))?;
    let lines: Vec<&str> =
        text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')).collect();
    let [line] = lines.as_slice() else {
        let why = "a key file has one line beside those that begin with #";
        return Err(fail(format!("{why}; this one has {}", lines.len())));
    };
    KeyPair::parse(line).map_err(|refusal| {
        fail([Some(refusal.what), refusal.help].into_iter().flatten().collect::<Vec<_>>().join("; "))
    })
}

/// Refuses a key that the plan does not name: nobody could tell whose signature it makes.
///
/// # Errors
/// When the plan does not name it.
pub fn judge_key(plan: &ReadPlan, pair: &KeyPair, file: &Path) -> Result<(), Failure> {
    if !plan.signers(&pair.public()).is_empty() {
        return Ok(());
    }
    let why =
        "the plan has no [[key]] with the public half of this key, so nobody could tell whose signature it is; write";
    Err(Failure::new(file.display().to_string(), format!("{why} public = \"{}\"", pair.public())))
}

/// Signs the manifest that was written to a folder. A signature that stood there is replaced.
///
/// # Errors
/// When another stands there now, or the machine refuses.
pub fn sign(out: &Path, written: &Manifest, pair: &KeyPair) -> Result<(), Failure> {
    let (manifest, written) = (text(&Machine, &out.join(MANIFEST), caps::MANIFEST_BYTES.most)?, written.to_text());
    let Some(manifest) = manifest.filter(|text| *text == written) else {
        return Err(Failure::new(
            out.display().to_string(),
            "its manifest was changed while the edition was issued; issue it again",
        ));
    };
    let signed = Signed { key: pair.public(), signature: pair.sign(manifest.as_bytes()) };
    let (place, text) = (out.join(SIGNATURE), signed.to_text());
    match Machine.at(&place) {
        Ok(Stands::File) => replace(&Machine, &[(place.clone(), text.into_bytes())])?,
        Ok(_) => {
            return Err(Failure::new(place.display().to_string(), "this is not a file, and nothing is written to it"));
        }
        Err(fault) if fault.kind() == std::io::ErrorKind::NotFound => {
            create(&Machine, &place, text.as_bytes(), "issue again")?
        }
        Err(fault) => return Err(failed(&place, &fault)),
    }
    say::out(&format!("{}: signed by the key {}\n", say::path(&place), pair.public().short()))
}

/// What a signature proves.
pub struct Proof {
    /// In words; none where there is no signature and nobody asks for one.
    pub words: Option<String>,
    /// Whether it is as it should be.
    pub holds: bool,
}

/// Judges the signature beside a manifest. Only what it proves is said: whose it is, the plan alone knows.
///
/// # Errors
/// When it cannot be read.
pub fn judge(folder: &Path, edition: &str, plan: Option<&ReadPlan>) -> Result<Proof, Failure> {
    let says = |holds: bool, words: String| Ok(Proof { words: Some(words), holds });
    let Some(signature) = text(&Machine, &folder.join(SIGNATURE), caps::SIGNATURE_BYTES.most)? else {
        return match plan {
            None => Ok(Proof { words: None, holds: true }),
            Some(plan) if plan.has_keys() => {
                says(false, "not signed: no key of the plan proves this folder".to_owned())
            }
            Some(_) => says(true, "not signed, and the plan names no key".to_owned()),
        };
    };
    let manifest = text(&Machine, &folder.join(MANIFEST), caps::MANIFEST_BYTES.most)?.unwrap_or_default();
    let Some(Signed { key, signature }) = Signed::parse(&signature) else {
        return says(false, format!("{SIGNATURE} is not as fieldsheaf wrote it: it proves nothing"));
    };
    if !key.has_signed(manifest.as_bytes(), &signature) {
        return says(false, format!("{SIGNATURE} is no signature of this manifest: it proves nothing"));
    }
    let Some(plan) = plan else {
        return says(true, format!("signed by the key {key}; whose it is, the plan says: verify with --plan PLAN"));
    };
    match plan.signers(&key).as_slice() {
        [] => says(false, format!("signed by a key that the plan does not name, {}: it proves nothing", key.short())),
        [one] => says(true, format!("the manifest of {edition} is signed by {one}")),
        many => says(
            false,
            format!("signed by one of {}: the plan names this key for each, so it proves nobody", many.join(", ")),
        ),
    }
}

impl ReadPlan {
    /// Whose key this is by the plan: nobody's, one member's, or that of several by mistake.
    fn signers(&self, key: &PublicKey) -> Vec<String> {
        self.keys().filter(|(own, _)| own == key).map(|(_, member)| member).collect()
    }

    fn has_keys(&self) -> bool {
        self.keys().next().is_some()
    }
}
