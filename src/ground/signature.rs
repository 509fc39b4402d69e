//! Ed25519 (RFC 8032): keys as people write them, and signatures. Nothing here prints a secret key but [`KeyPair::to_secret`].

use super::Refusal;
use super::check_value::check_value;
use ed25519_compact as ed25519;
use std::fmt;
use std::fmt::Write;

/// How a public key begins.
const PUBLIC: &str = "public-";

/// How a secret key begins.
const SECRET: &str = "secret-";

/// Digits of a key.
const DIGITS: usize = 64;

/// What tells a signature of a key's owner from any other.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct PublicKey([u8; 32]);

/// Both halves of a key. It has no `Debug`: a secret is not shown by mistake.
pub struct KeyPair(ed25519::KeyPair);

/// A signature.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Signature([u8; 64]);

impl PublicKey {
    /// Reads `public-`, 64 hexadecimal digits, and two more behind a hyphen that show a mistake in copying.
    ///
    /// # Errors
    /// When it is anything else, a secret key above all; what was written is not told then.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        if text.trim_start().starts_with(SECRET) {
            let what = "this is a secret key: whoever reads the plan can sign in its owner's name";
            return Err(Refusal::new(what).help(
                "take it out; it counts as known from now on, so make a new pair with `fieldsheaf key FOLDER`, and write its public half",
            ));
        }
        let key = Self(digits(text, PUBLIC)?);
        ed25519::PublicKey::new(key.0)
            .validate()
            .map_err(|_| Refusal::new("no pair of keys has this public half").help(COPY_AGAIN))?;
        Ok(key)
    }

    /// Whether a signature of these bytes is by the owner of this key.
    #[must_use]
    pub fn has_signed(&self, bytes: &[u8], signature: &Signature) -> bool {
        ed25519::PublicKey::new(self.0).verify(bytes, &ed25519::Signature::new(signature.0)).is_ok()
    }

    /// Its first eight digits, to tell it from a few others.
    #[must_use]
    pub fn short(&self) -> String {
        format!("{PUBLIC}{}", hexadecimal(self.0.get(..4).unwrap_or_default()))
    }
}

impl fmt::Display for PublicKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&written(PUBLIC, &self.0))
    }
}

impl KeyPair {
    /// The pair of 32 bytes of chance; none of zeros alone, which are none.
    #[must_use]
    pub fn of_chance(bytes: [u8; 32]) -> Option<Self> {
        ed25519::KeyPair::try_from_seed(ed25519::Seed::new(bytes)).ok().map(Self)
    }

    /// Reads a secret key as [`KeyPair::to_secret`] writes it.
    ///
    /// # Errors
    /// When it is anything else; what was written is not told.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        if text.starts_with(PUBLIC) {
            return Err(Refusal::new("this is a public key, and nobody can sign with one")
                .help("name the file whose key begins with \"secret-\""));
        }
        let seed = digits(text, SECRET)?;
        Self::of_chance(seed).ok_or_else(|| Refusal::new("a key of zeros alone is no secret").help(COPY_AGAIN))
    }

    /// The secret half as text.
    #[must_use]
    pub fn to_secret(&self) -> String {
        written(SECRET, &*self.0.sk.seed())
    }

    /// The public half.
    #[must_use]
    pub fn public(&self) -> PublicKey {
        PublicKey(*self.0.pk)
    }

    /// Signs bytes: the same bytes have the same signature.
    #[must_use]
    pub fn sign(&self, bytes: &[u8]) -> Signature {
        Signature(*self.0.sk.sign(bytes, None))
    }
}

impl Signature {
    /// Reads 128 hexadecimal digits; none where it is anything else.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        bytes(text).and_then(|bytes| bytes.try_into().ok()).map(Self)
    }
}

impl fmt::Display for Signature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&hexadecimal(&self.0))
    }
}

/// What helps against any mistake in copying.
const COPY_AGAIN: &str = "copy it again from the file that `fieldsheaf key` wrote";

/// A key as people write it.
fn written(head: &str, key: &[u8]) -> String {
    let body = format!("{head}{}", hexadecimal(key));
    format!("{body}-{:02x}", check_value(&body))
}

/// The bytes of a key. No refusal tells what was written: it may be a secret.
fn digits(text: &str, head: &str) -> Result<[u8; 32], Refusal> {
    let refuse = |what: String| Err(Refusal::new(what).help(COPY_AGAIN));
    let text = text.trim().to_ascii_lowercase();
    let Some(rest) = text.strip_prefix(head) else {
        return refuse(format!("this is no key: one begins with \"{head}\""));
    };
    let (own, check) = rest.split_once('-').unwrap_or((rest, ""));
    if let Some((place, letter)) = (1..).zip(own.chars()).find(|(_, letter)| !letter.is_ascii_hexdigit()) {
        return refuse(format!(
            "place {place} of this key is {letter:?}, and a key has the digits 0 to 9 and a to f alone"
        ));
    }
    let count = own.chars().count();
    if count != DIGITS {
        let (word, by) = if count < DIGITS { ("short", DIGITS - count) } else { ("long", count - DIGITS) };
        return refuse(format!("this key is too {word} by {by}: it has {count} digits, and {DIGITS} are a key"));
    }
    if check != format!("{:02x}", check_value(&format!("{head}{own}"))) {
        return refuse(
            "the last two digits of this key do not fit the others: something of it was mistyped".to_owned(),
        );
    }
    match bytes(own).map(<[u8; 32]>::try_from) {
        Some(Ok(bytes)) => Ok(bytes),
        _ => refuse("this is no key".to_owned()),
    }
}

fn bytes(text: &str) -> Option<Vec<u8>> {
    let digits = text.chars().map(|digit| digit.to_digit(16).and_then(|value| u8::try_from(value).ok()));
    let digits: Vec<u8> = digits.collect::<Option<_>>()?;
    let pair = |pair: &[u8]| match pair {
        [high, low] => Some(high * 16 + low),
        _ => None,
    };
    digits.chunks(2).map(pair).collect()
}

fn hexadecimal(bytes: &[u8]) -> String {
    let mut text = String::new();
    for byte in bytes {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::{KeyPair, PublicKey, Signature, bytes, hexadecimal, written};

    /// RFC 8032 section 7.1, tests 1 to 3 and SHA(abc): seed, public key, message, signature. Written from memory; the first three are
    /// those that the crate ships for its own tests, and all four came out of OpenSSL 3.0 alike, the last message being SHA-512 of "abc".
    const VECTORS: [[&str; 4]; 4] = [
        [
            "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
            "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
            "",
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
        ],
        [
            "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
            "72",
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
        ],
        [
            "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
            "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
            "af82",
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
        ],
        [
            "833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
            "ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
            "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f",
            "dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17ad9bef1177331a704",
        ],
    ];

    fn pair(seed: &str) -> KeyPair {
        KeyPair::parse(&written("secret-", &bytes(seed).unwrap())).ok().unwrap()
    }

    #[test]
    fn the_published_vectors() {
        for [seed, public, message, signature] in VECTORS {
            let (pair, message) = (pair(seed), bytes(message).unwrap());
            assert_eq!(hexadecimal(&pair.public().0), public);
            assert_eq!(pair.sign(&message).to_string(), signature);
            let read = PublicKey::parse(&written("public-", &bytes(public).unwrap())).unwrap();
            assert!(read.has_signed(&message, &Signature::parse(signature).unwrap()));
            assert!(!read.has_signed(&[&message[..], b"!"].concat(), &Signature::parse(signature).unwrap()));
        }
    }

    /// One bit of a signature or of a message that is another, and it is nobody's.
    #[test]
    fn what_was_changed_by_a_bit_is_not_signed() {
        let pair = pair(VECTORS[1][0]);
        let (message, Signature(signature)) = (b"edition 7".to_vec(), pair.sign(b"edition 7"));
        for at in 0..signature.len() * 8 {
            let mut other = signature;
            other[at / 8] ^= 1 << (at % 8);
            assert!(!pair.public().has_signed(&message, &Signature(other)), "bit {at} of the signature");
        }
        for at in 0..message.len() * 8 {
            let mut other = message.clone();
            other[at / 8] ^= 1 << (at % 8);
            assert!(!pair.public().has_signed(&other, &Signature(signature)), "bit {at} of the message");
        }
    }

    /// The same signature with the order of the group added to its second half (RFC 8032 section 5.1.7 refuses it).
    #[test]
    fn a_second_signature_made_of_a_first_is_refused() {
        const ORDER: &str = "edd3f55c1a631258d69cf7a2def9de1400000000000000000000000000000010";
        let pair = pair(VECTORS[0][0]);
        let Signature(mut signature) = pair.sign(b"edition 7");
        let mut carry = 0_u16;
        for (byte, more) in signature[32..].iter_mut().zip(bytes(ORDER).unwrap()) {
            let sum = u16::from(*byte) + u16::from(more) + carry;
            (*byte, carry) = (u8::try_from(sum % 256).unwrap(), sum / 256);
        }
        assert_eq!(carry, 0);
        assert!(!pair.public().has_signed(b"edition 7", &Signature(signature)));
    }

    #[test]
    fn keys_read_back_as_they_were_written() {
        for [seed, ..] in VECTORS {
            let pair = pair(seed);
            assert_eq!(KeyPair::parse(&pair.to_secret()).ok().unwrap().public(), pair.public());
            assert_eq!(PublicKey::parse(&pair.public().to_string()).unwrap(), pair.public());
            assert_eq!(
                PublicKey::parse(&format!(" {} ", pair.public().to_string().to_uppercase())).unwrap(),
                pair.public()
            );
        }
    }

    /// Any one letter of a key that is another, left out, doubled or exchanged with its neighbor.
    #[test]
    fn a_key_that_was_mistyped_anywhere_is_refused() {
        let key = pair(VECTORS[2][0]).public().to_string();
        for at in 0..key.len() {
            let (head, tail) = (&key[..at], &key[at + 1..]);
            let mut others = vec![format!("{head}{tail}"), format!("{}{}", &key[..=at], &key[at..])];
            others.extend(
                ('!'..='~')
                    .filter(|c| !c.eq_ignore_ascii_case(&char::from(key.as_bytes()[at])))
                    .map(|c| format!("{head}{c}{tail}")),
            );
            if let Some(next) = key.as_bytes().get(at + 1).filter(|next| **next != key.as_bytes()[at]) {
                others.push(format!("{head}{}{}{}", char::from(*next), &key[at..=at], &key[at + 2..]));
            }
            for other in others {
                assert!(PublicKey::parse(&other).is_err(), "{other}");
            }
        }
    }

    #[test]
    fn each_mistake_is_told_and_no_secret_is() {
        let pair = pair(VECTORS[0][0]);
        let (public, secret) = (pair.public().to_string(), pair.to_secret());
        let digits = "9d61b19deffd5a60";
        let told = |text: &str| PublicKey::parse(text).unwrap_err().what;
        assert_eq!(told(&secret), "this is a secret key: whoever reads the plan can sign in its owner's name");
        assert_eq!(told("ssh-ed25519 AAAA"), "this is no key: one begins with \"public-\"");
        assert_eq!(told(&public[..public.len() - 4]), "this key is too short by 1: it has 63 digits, and 64 are a key");
        assert_eq!(
            told(&public.replacen("d7", "d70", 1)),
            "this key is too long by 1: it has 65 digits, and 64 are a key"
        );
        assert_eq!(
            told(&public.replacen("d7", "q7", 1)),
            "place 1 of this key is 'q', and a key has the digits 0 to 9 and a to f alone"
        );
        assert_eq!(
            told(&public.replacen("d7", "d8", 1)),
            "the last two digits of this key do not fit the others: something of it was mistyped"
        );
        assert_eq!(told(&written("public-", &[0; 32])), "no pair of keys has this public half");
        let told = |text: &str| KeyPair::parse(text).err().unwrap().what;
        assert_eq!(told(&public), "this is a public key, and nobody can sign with one");
        assert_eq!(told(&written("secret-", &[0; 32])), "a key of zeros alone is no secret");
        for wrong in
            [secret.replacen("9d", "9", 1), secret.replacen("9d", "8d", 1), secret.replacen("secret", "secre", 1)]
        {
            assert!(!told(&wrong).contains(&digits[2..]), "{wrong}");
        }
    }
}
