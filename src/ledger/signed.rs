//! The signature of a manifest, as a file beside it.

use crate::ground::{PublicKey, Signature};

/// The name of that file.
pub const SIGNATURE: &str = "MANIFEST.sig";

/// How it begins.
pub const SIGNATURE_HEAD: &str =
    "# Ed25519 signature of MANIFEST.toml, written by fieldsheaf. Whose the key is, the plan says.\n";

/// What is said of a signature beside itself: by which key it is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Signed {
    /// The key.
    pub key: PublicKey,
    /// The signature.
    pub signature: Signature,
}

impl Signed {
    /// As TOML. It has no other words: whoever may write them could claim anything there.
    #[must_use]
    pub fn to_text(&self) -> String {
        format!("{SIGNATURE_HEAD}format = 1\npublic = \"{}\"\nsignature = \"{}\"\n", self.key, self.signature)
    }

    /// Reads what [`Signed::to_text`] wrote, whichever line ends it was given on the way; none where it is anything else.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.replace("\r\n", "\n");
        let rest = text.strip_prefix(SIGNATURE_HEAD)?.strip_prefix("format = 1\npublic = \"")?;
        let (key, rest) = rest.split_once("\"\nsignature = \"")?;
        let signed =
            Self { key: PublicKey::parse(key).ok()?, signature: Signature::parse(rest.strip_suffix("\"\n")?)? };
        (signed.to_text() == text).then_some(signed)
    }
}

#[cfg(test)]
mod tests {
    use super::Signed;
    use crate::ground::KeyPair;

    /// Any one letter of it changed, left out or doubled, and it is none of ours, or the signature of something else.
    #[test]
    fn a_signature_that_was_changed_anywhere_proves_nothing() {
        let pair = KeyPair::of_chance([7; 32]).unwrap();
        let signed = Signed { key: pair.public(), signature: pair.sign(b"edition 7") };
        let text = signed.to_text();
        assert_eq!(Signed::parse(&text), Some(signed));
        assert_eq!(Signed::parse(&text.replace('\n', "\r\n")), Some(signed));
        for (at, letter) in text.char_indices() {
            let (head, tail) = (&text[..at], &text[at + 1..]);
            for other in [String::new(), format!("{letter}{letter}"), if letter == '0' { "1" } else { "0" }.to_owned()]
            {
                let changed = format!("{head}{other}{tail}");
                let proves = Signed::parse(&changed)
                    .is_some_and(|signed| signed.key.has_signed(b"edition 7", &signed.signature));
                assert!(!proves, "{changed}");
            }
        }
        assert_eq!(Signed::parse(&(text + "by = \"WZ7QRA\"\n")), None);
    }
}
