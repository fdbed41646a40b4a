//! Heights and reaches that suit people: bands of common practice, notes at most.

use super::source::{Source, Sourced};

/// Working height of a worktop for a person, mm: 120 below the bent elbow, the elbow of a standing person at 0.63 of
/// the body height less shoes. Common practice, as told by two advice pages: 100 to 200 below the elbow, about 900 for
/// 1.65 m and 1100 for 1.90 m.
#[must_use]
pub fn working_height(body: f64) -> f64 {
    // Straight line through these two pairs.
    900.0 + (body - 1650.0) * (1100.0 - 900.0) / (1900.0 - 1650.0)
}

/// Working heights that suit most adults, mm.
pub const WORKTOP_BAND: (f64, f64, Source) =
    (820.0, 1100.0, Source::second_hand("EN 1116 820 to 920, and the elbow rule"));

/// Highest shelf that can be reached at all, mm above the floor.
pub const HIGHEST_REACH: Sourced = Sourced::new(2000.0, Source::practice("highest reach without a step"));

/// Highest upper edge of a drawer that one can look into, mm.
pub const DRAWER_SIGHT: Sourced = Sourced::new(1400.0, Source::practice("drawers one can see into"));

/// Least toe space: height and depth, mm.
pub const TOE_SPACE: (f64, f64, Source) =
    (100.0, 50.0, Source::second_hand("EN 1116, plinth height at least 100; depth common practice"));

/// Heaviest load that should be lifted out above shoulder height, kg.
pub const ABOVE_SHOULDER_KG: Sourced =
    Sourced::new(10.0, Source::memory("manual handling guideline, above the shoulder"));

/// Shoulder height, mm.
pub const SHOULDER: Sourced = Sourced::new(1400.0, Source::practice("shoulder of a standing adult"));
