//! Lifting, carrying through openings, and standing up under a ceiling.

use super::source::{Source, Sourced};

/// Mass that one person lifts near the body, kg.
pub const ONE_PERSON_KG: Sourced = Sourced::new(
    25.0,
    Source::memory("manual handling guideline, 25 kg near the body for most men, 16 kg for most women"),
);

/// The number of people for a lift: as many as the mass asks for at [`ONE_PERSON_KG`] each.
#[must_use]
pub fn people(mass_kg: f64) -> u32 {
    (mass_kg / ONE_PERSON_KG.value).ceil().max(1.0) as u32
}

/// The height that a box lying on its back needs when it is raised to stand: the diagonal of its side, mm.
#[must_use]
pub fn raising_height(height: f64, depth: f64) -> f64 {
    height.hypot(depth)
}

/// The tallest box of this depth that can be raised under a ceiling, mm; none if it is too deep at any height.
#[must_use]
pub fn tallest_raised(ceiling: f64, depth: f64) -> Option<f64> {
    (ceiling >= depth).then(|| (ceiling * ceiling - depth * depth).sqrt())
}

/// Whether a rectangle fits into another, turned as need be. Both as two sides in any order.
///
/// Condition (W. B. Carver, American Mathematical Monthly 64, 1957; from memory, tested here against turning in small
/// steps): with p >= q inside a >= b, either p <= a and q <= b, or p > a and
/// b >= (2 p q a + (p² - q²) sqrt(p² + q² - a²)) / (p² + q²).
#[must_use]
pub fn fits_turned(inner: (f64, f64), outer: (f64, f64)) -> bool {
    let order = |it: (f64, f64)| if it.0 >= it.1 { it } else { (it.1, it.0) };
    let ((p, q), (a, b)) = (order(inner), order(outer));
    if p <= a {
        return q <= b;
    }
    let diagonal = p * p + q * q;
    if q > b || diagonal < a * a {
        return false;
    }
    b >= (2.0 * p * q * a + (p * p - q * q) * (diagonal - a * a).sqrt()) / diagonal
}

/// Whether a box passes straight through an opening, turned about its way as need be, with any of its sides ahead.
#[must_use]
pub fn passes_opening(size: (f64, f64, f64), opening: (f64, f64)) -> bool {
    let (x, y, z) = size;
    [(x, y), (y, z), (x, z)].into_iter().any(|section| fits_turned(section, opening))
}

/// The longest box of this width that goes round a right-angled corner from a passage into another, held level, mm. The
/// outer wall touches at one length of the box for each angle; the shortest of these passes: the box of width `w` at angle
/// t spans (a/cos t + b/sin t) - w (tan t + cot t). Elementary geometry; minimum by golden section.
#[must_use]
pub fn longest_round_corner(width: f64, first: f64, second: f64) -> f64 {
    if width >= first.min(second) {
        return 0.0;
    }
    let length = |t: f64| {
        let (sin, cos) = t.sin_cos();
        first / sin + second / cos - width / (sin * cos)
    };
    let (mut low, mut high) = (1e-6, std::f64::consts::FRAC_PI_2 - 1e-6);
    let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
    for _ in 0..100 {
        let (a, b) = (high - ratio * (high - low), low + ratio * (high - low));
        if length(a) < length(b) { high = b } else { low = a }
    }
    length((low + high) / 2.0).max(0.0)
}
