//! A thin rectangular plate held at all four edges, free to turn: drawer bottoms, backs that lie.

use std::f64::consts::PI;

/// Terms of the series in each direction; the sum is then right to four digits.
const TERMS: u32 = 25;

/// The coefficient alpha of the largest deflection alpha · q a⁴ / D under an even load q, for the sides `a` and `b`,
/// a the shorter: Navier's double series, w = 16 q / (pi⁶ D) · sum over odd m, n of
/// sin(m pi/2) sin(n pi/2) / (m n (m²/a² + n²/b²)²). Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells.
#[must_use]
pub fn deflection_coefficient(a: f64, b: f64) -> f64 {
    let ratio = a.min(b) / a.max(b);
    let mut sum = 0.0;
    for m in (1..=TERMS).step_by(2) {
        for n in (1..=TERMS).step_by(2) {
            let (p, q) = (f64::from(m), f64::from(n));
            let sign = if (m / 2 + n / 2) % 2 == 0 { 1.0 } else { -1.0 };
            sum += sign / (p * q * (p * p + q * q * ratio * ratio).powi(2));
        }
    }
    16.0 / PI.powi(6) * sum
}

/// The largest deflection, mm, under a whole load, N, spread evenly. D = E t³ / 12 (1 - nu²) with nu = 0.3; for boards
/// with two moduli the geometric mean of both stands for E.
#[must_use]
pub fn deflection(load: f64, a: f64, b: f64, thickness: f64, modulus: f64, modulus_across: f64) -> f64 {
    let short = a.min(b);
    let stiffness = (modulus * modulus_across).sqrt() * thickness.powi(3) / (12.0 * (1.0 - 0.09));
    deflection_coefficient(a, b) * load / (a * b) * short.powi(4) / stiffness
}
