//! The transverse Mercator projection of the grid, by Krüger's series.
//!
//! L. Krüger, Konforme Abbildung des Erdellipsoids in der Ebene (1912), to the fourth power of n, with the inverse for the
//! latitude of K. Kawase (2011): within a zone it is good to far less than a millimetre (formulas from memory; vectors in
//! tests/refs/grids.toml hold them). Floats are kept to this file, `mgrs` and `great_circle`; trigonometry is libm's, so that every
//! machine agrees.

/// WGS 84: equatorial radius in metres, and flattening.
const A: f64 = 6_378_137.0;
const F: f64 = 1.0 / 298.257_223_563;
/// Third flattening and its powers.
const N: f64 = F / (2.0 - F);
const N2: f64 = N * N;
const N3: f64 = N2 * N;
const N4: f64 = N3 * N;
/// Radius of the rectifying circle, times the grid's scale of 0.9996 on the central meridian.
const SCALED_RADIUS: f64 = 0.9996 * A / (1.0 + N) * (1.0 + N2 / 4.0 + N4 / 64.0);

/// From the sphere to the plane.
const ALPHA: [f64; 4] = [
    N / 2.0 - 2.0 * N2 / 3.0 + 5.0 * N3 / 16.0 + 41.0 * N4 / 180.0,
    13.0 * N2 / 48.0 - 3.0 * N3 / 5.0 + 557.0 * N4 / 1440.0,
    61.0 * N3 / 240.0 - 103.0 * N4 / 140.0,
    49561.0 * N4 / 161_280.0,
];
/// From the plane to the sphere.
const BETA: [f64; 4] = [
    N / 2.0 - 2.0 * N2 / 3.0 + 37.0 * N3 / 96.0 - N4 / 360.0,
    N2 / 48.0 + N3 / 15.0 - 437.0 * N4 / 1440.0,
    17.0 * N3 / 480.0 - 37.0 * N4 / 840.0,
    4397.0 * N4 / 161_280.0,
];
/// From conformal to geodetic latitude.
const DELTA: [f64; 4] = [
    2.0 * N - 2.0 * N2 / 3.0 - 2.0 * N3 + 116.0 * N4 / 45.0,
    7.0 * N2 / 3.0 - 8.0 * N3 / 5.0 - 227.0 * N4 / 45.0,
    56.0 * N3 / 15.0 - 136.0 * N4 / 35.0,
    4279.0 * N4 / 630.0,
];
/// 2j for the j-th term.
const DOUBLES: [f64; 4] = [2.0, 4.0, 6.0, 8.0];

/// East and north of the central meridian's crossing with the equator, in metres, of a point in degrees.
///
/// `longitude` is counted from the central meridian; meant for up to some 12 degrees and below 85 degrees of latitude.
pub(super) fn to_plane(latitude: f64, longitude: f64) -> (f64, f64) {
    let (phi, lambda) = (latitude.to_radians(), longitude.to_radians());
    let eccentricity = (F * (2.0 - F)).sqrt();
    let sine = libm::sin(phi);
    let t = libm::sinh(libm::atanh(sine) - eccentricity * libm::atanh(eccentricity * sine));
    let xi = libm::atan2(t, libm::cos(lambda));
    let eta = libm::atanh(libm::sin(lambda) / (1.0 + t * t).sqrt());
    let (xi_more, eta_more) = terms(&ALPHA, xi, eta);
    (SCALED_RADIUS * (eta + eta_more), SCALED_RADIUS * (xi + xi_more))
}

/// Latitude and longitude from the central meridian, in degrees, of a point in metres: undoes [`to_plane`].
pub(super) fn to_degrees(east: f64, north: f64) -> (f64, f64) {
    let (xi, eta) = (north / SCALED_RADIUS, east / SCALED_RADIUS);
    let (xi_more, eta_more) = terms(&BETA, xi, eta);
    let (xi, eta) = (xi - xi_more, eta - eta_more);
    let chi = libm::asin(libm::sin(xi) / libm::cosh(eta));
    let more: f64 = DELTA.iter().zip(DOUBLES).map(|(delta, double)| delta * libm::sin(double * chi)).sum();
    let lambda = libm::atan2(libm::sinh(eta), libm::cos(xi));
    ((chi + more).to_degrees(), lambda.to_degrees())
}

fn terms(series: &[f64; 4], xi: f64, eta: f64) -> (f64, f64) {
    series.iter().zip(DOUBLES).fold((0.0, 0.0), |(along, across), (factor, double)| {
        (
            along + factor * libm::sin(double * xi) * libm::cosh(double * eta),
            across + factor * libm::cos(double * xi) * libm::sinh(double * eta),
        )
    })
}
