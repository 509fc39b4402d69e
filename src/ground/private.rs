//! Values that only their audience may read.

use super::Audience;

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

/// Opens private values for one audience. Only the audience floor makes one: a test reads the source and holds it to that.
pub struct Pass(Audience);

impl Pass {
    /// A pass for `audience`.
    #[must_use]
    pub(crate) const fn for_audience(audience: Audience) -> Self {
        Self(audience)
    }
}
