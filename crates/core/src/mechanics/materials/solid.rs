//! Solid woods at 12 % moisture content, clear wood. Sources disagree by 20 to 30 % for one species.

use serde::Serialize;

use crate::mechanics::source::Source;

/// A species.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SolidWood {
    /// Its name.
    pub name: &'static str,
    /// Density at 12 % moisture, kg/m³, or 1000 times the specific gravity where only that is published.
    pub density: f64,
    /// Modulus of elasticity in bending, MPa.
    pub modulus: f64,
    /// Bending strength (modulus of rupture), MPa, if known.
    pub bending_strength: Option<f64>,
    /// Shrinkage from green to oven-dry, %: radial and tangential, if known.
    pub shrinkage: Option<(f64, f64)>,
    /// Where the row comes from.
    pub source: Source,
}

const fn wood(
    name: &'static str,
    density: f64,
    modulus: f64,
    bending_strength: Option<f64>,
    shrinkage: Option<(f64, f64)>,
    source: Source,
) -> SolidWood {
    SolidWood { name, density, modulus, bending_strength, shrinkage, source }
}

/// The species known.
pub const SOLID_WOODS: [SolidWood; 9] = [
    wood(
        "European oak",
        702.0,
        13_000.0,
        Some(88.0),
        Some((4.3, 8.9)),
        Source::practice("European oak, as told by the timber trade"),
    ),
    wood(
        "sessile oak",
        740.0,
        10_470.0,
        Some(97.1),
        Some((4.5, 9.7)),
        Source::practice("sessile oak, as told by the timber trade"),
    ),
    wood(
        "Norway spruce",
        441.0,
        12_500.0,
        Some(77.0),
        Some((3.6, 7.8)),
        Source::practice("Norway spruce, as told by the timber trade"),
    ),
    wood(
        "European beech",
        690.0,
        14_000.0,
        None,
        Some((5.8, 11.8)),
        Source::practice("European beech, as told by the timber trade"),
    ),
    wood(
        "Scots pine",
        535.0,
        10_000.0,
        Some(83.0),
        Some((4.5, 8.0)),
        Source::memory("Scots pine, low end of the ranges"),
    ),
    wood(
        "northern red oak",
        630.0,
        12_550.0,
        None,
        None,
        Source::published("Architectural Woodwork Standards 2009 (1 820 000 psi); density from memory"),
    ),
    wood("American beech", 640.0, 11_860.0, None, None, Source::second_hand("Wood Handbook, 1 720 000 psi")),
    wood(
        "Engelmann spruce",
        350.0,
        8960.0,
        Some(64.0),
        None,
        Source::second_hand("Wood Handbook, in the wood table of Oregon State University"),
    ),
    wood(
        "Douglas-fir",
        480.0,
        13_440.0,
        Some(85.0),
        None,
        Source::second_hand("Wood Handbook, in the wood table of Oregon State University"),
    ),
];

/// The species of this name.
#[must_use]
pub fn solid_wood(name: &str) -> Option<&'static SolidWood> {
    SOLID_WOODS.iter().find(|wood| wood.name == name)
}
