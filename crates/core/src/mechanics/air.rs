//! Air round appliances: usual gaps and openings. Minimum defaults; the maker's manual rules.

use serde::Serialize;

use super::source::Source;

/// A kind of appliance with usual air gaps.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AirNeed {
    /// What it is.
    pub appliance: &'static str,
    /// Gap at each side, mm: lowest and highest seen.
    pub sides: (f64, f64),
    /// Gap behind, mm.
    pub rear: (f64, f64),
    /// Gap above, mm.
    pub top: (f64, f64),
    /// Where it comes from.
    pub source: Source,
}

/// Usual gaps.
pub const AIR_NEEDS: [AirNeed; 4] = [
    AirNeed {
        appliance: "countertop microwave",
        sides: (75.0, 75.0),
        rear: (25.0, 25.0),
        top: (75.0, 75.0),
        source: Source::practice("one maker's advice: 3 in, 1 in, 3 in"),
    },
    AirNeed {
        appliance: "countertop microwave, European manuals",
        sides: (50.0, 200.0),
        rear: (0.0, 100.0),
        top: (200.0, 300.0),
        source: Source::memory("European microwave manuals"),
    },
    AirNeed {
        appliance: "countertop oven or toaster",
        sides: (50.0, 150.0),
        rear: (100.0, 150.0),
        top: (150.0, 300.0),
        source: Source::practice("countertop ovens, as told by two advice pages"),
    },
    AirNeed {
        appliance: "free-standing refrigerator",
        sides: (25.0, 50.0),
        rear: (40.0, 50.0),
        top: (40.0, 100.0),
        source: Source::practice("free-standing refrigerators, as told by three advice pages"),
    },
];

/// The lowest gaps of any appliance above, mm: sides, rear, top. Only a note when an appliance has less.
pub const LEAST_GAPS: (f64, f64, f64) = (25.0, 25.0, 40.0);

/// Free area of the opening where air enters, and of that where it leaves, cm²: built-in refrigerators.
pub const VENT_AREA_CM2: (f64, Source) = (200.0, Source::published("three appliance manuals, 200 cm² in and out"));

/// Distance that portable heaters keep from furniture, mm.
pub const HEATER_DISTANCE: (f64, Source) = (1000.0, Source::practice("fire service advice, 1 m"));

/// Distance that a piece keeps from a fixed radiator, mm.
pub const RADIATOR_DISTANCE: (f64, Source) = (100.0, Source::practice("100 mm before a radiator"));

/// The free area that is left to a slot once its grille is in, cm²: width x height (mm) times the open share.
#[must_use]
pub fn free_area_cm2(width: f64, height: f64, open_share: f64) -> f64 {
    width * height / 100.0 * open_share.clamp(0.0, 1.0)
}

/// The smallest cross-section along a path of openings in a row, cm²; nothing if there is none.
#[must_use]
pub fn narrowest_cm2(path: &[f64]) -> f64 {
    path.iter().copied().reduce(f64::min).unwrap_or(0.0)
}
