//! Values that only their audience may read.

use super::{Audience, Words};

/// A value that cannot be printed, serialised or formatted: only a [`Pass`] of a high enough audience opens it.
///
/// ```compile_fail
/// let phone = fieldsheaf::ground::Private::new("555-0100", fieldsheaf::ground::Audience::Team);
/// println!("{phone:?}");
/// ```
#[derive(Clone, PartialEq, Eq)]
pub struct Private<T> {
    value: T,
    audience: Audience,
}

impl<T> Private<T> {
    /// Closes a value for all but `audience` and those above it.
    pub const fn new(value: T, audience: Audience) -> Self {
        Self { value, audience }
    }

    /// Who may read it.
    pub const fn audience(&self) -> &Audience {
        &self.audience
    }

    /// The value, when the holder of `pass` may read it.
    pub fn open(&self, pass: &Pass) -> Option<&T> {
        pass.0.may_read(&self.audience).then_some(&self.value)
    }
}

impl Private<Words> {
    /// Whether both are one number: by its figures, with or without what dials the country. Says nothing else of either.
    #[must_use]
    pub fn dials_as(&self, other: &Self) -> bool {
        let (one, two) = (figures(&self.value), figures(&other.value));
        let (short, long) = if one.len() < two.len() { (one, two) } else { (two, one) };
        short.len() >= LEAST_FIGURES && long.ends_with(&short)
    }
}

/// Fewer figures are an extension or a short code: those are many people's.
const LEAST_FIGURES: usize = 7;

/// Without the zeros that dial a country or a long distance.
fn figures(number: &Words) -> String {
    let figures: String = number.as_str().chars().filter(char::is_ascii_digit).collect();
    figures.trim_start_matches('0').to_owned()
}

/// Opens private values for one audience. Only the audience floor makes one: a test reads the source and holds it to that.
pub struct Pass(Audience);

impl Pass {
    /// A pass for `audience`.
    #[must_use]
    pub(crate) const fn for_audience(audience: Audience) -> Self {
        Self(audience)
    }
}

#[cfg(test)]
mod tests {
    use super::Private;
    use crate::ground::{Audience, Words};

    #[test]
    fn a_number_is_the_same_however_it_is_written() {
        let number = |text: &str| Private::new(Words::parse(text).unwrap(), Audience::Coordinator);
        let own = number("+1 406 555 0101");
        for same in ["+1 406 555 0101", "406-555-0101", "(406) 555-0101", "001 406 555 0101", "555-0101"] {
            assert!(own.dials_as(&number(same)) && number(same).dials_as(&own), "{same}");
        }
        for other in ["+1 406 555 0102", "0101", "+1 503 555 0101", "ask the desk"] {
            assert!(!own.dials_as(&number(other)) && !number(other).dials_as(&own), "{other}");
        }
        assert!(!number("ask the desk").dials_as(&number("ask the desk")), "no number at all");
    }
}
