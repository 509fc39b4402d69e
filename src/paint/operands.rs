//! Lengths as a PDF wants them.

use crate::ground::Length;

/// A length in points, rounded to 1/1000 pt: finer than any printer, and the same text on every machine.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "paper stays below 2^24 thousandths")]
pub(super) fn pt(length: Length) -> f32 {
    let thousandths = (length.as_grains().saturating_mul(1000).saturating_add(1270)).div_euclid(2540);
    (thousandths as f64 / 1000.0) as f32
}

/// Rounded to 1/1000, after a difference of two rounded numbers.
pub(super) fn rounded(value: f32) -> f32 {
    (value * 1000.0).round() / 1000.0
}

/// Font units, which are thousandths of an em in every face.
#[expect(clippy::cast_precision_loss, reason = "font units stay below 2^24")]
pub(super) const fn thousandths(units: i32) -> f32 {
    units as f32
}
