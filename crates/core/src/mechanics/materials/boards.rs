//! Panel products by thickness class: particleboard, fibreboard, oriented strand board and plywood.
//!
//! The values of EN 312 and EN 622-5 are product requirements, "not characteristic values to be used in design
//! calculations": real boards are usually stiffer. Used as they stand they err on the safe side.

use serde::Serialize;

use crate::mechanics::source::{Source, Sourced};

/// One thickness class of a board standard.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BoardClass {
    /// Thicker than this, mm.
    pub over: f64,
    /// Up to this thickness, mm.
    pub up_to: f64,
    /// Bending strength, MPa.
    pub bending_strength: f64,
    /// Modulus of elasticity in bending, MPa.
    pub modulus: f64,
    /// Tensile strength across the faces (internal bond), MPa.
    pub internal_bond: f64,
    /// Usual density, kg/m³: the middle of the data sheet's range.
    pub density: f64,
    /// Thickness swelling in 24 h, %, if the class has a requirement.
    pub swelling_percent: Option<f64>,
    /// Where the row comes from.
    pub source: Source,
}

const P2: Source = Source::published("EN 312:2010 type P2, as on two board data sheets");
const P2_THICK: Source = Source::memory("EN 312:2010 type P2");
const MDF: Source = Source::published("EN 622-5 general purpose, dry, as on a board data sheet");

#[allow(clippy::too_many_arguments, reason = "one row of a printed table")]
const fn row(
    over: f64,
    up_to: f64,
    bending_strength: f64,
    modulus: f64,
    internal_bond: f64,
    density: f64,
    swelling_percent: Option<f64>,
    source: Source,
) -> BoardClass {
    BoardClass { over, up_to, bending_strength, modulus, internal_bond, density, swelling_percent, source }
}

/// Particleboard for interior fitments in dry conditions, EN 312 type P2, edition of 2010. The modulus of the last
/// class is from memory.
pub const PARTICLEBOARD_P2: [BoardClass; 5] = [
    row(6.0, 13.0, 11.0, 1800.0, 0.40, 695.0, None, P2),
    row(13.0, 20.0, 11.0, 1600.0, 0.35, 660.0, None, P2),
    row(20.0, 25.0, 10.5, 1500.0, 0.30, 640.0, None, P2),
    row(25.0, 32.0, 9.5, 1350.0, 0.25, 615.0, None, P2),
    row(32.0, 40.0, 8.5, 1200.0, 0.20, 605.0, None, P2_THICK),
];

/// Medium-density fibreboard, EN 622-5 general purpose for dry conditions. Density: at least 700 on the data sheet, 740
/// here as the middle of the usual 700 to 800 (from memory).
pub const MDF_EN_622_5: [BoardClass; 5] = [
    row(6.0, 9.0, 23.0, 2700.0, 0.65, 740.0, Some(17.0), MDF),
    row(9.0, 12.0, 22.0, 2500.0, 0.60, 740.0, Some(15.0), MDF),
    row(12.0, 19.0, 20.0, 2200.0, 0.55, 740.0, Some(12.0), MDF),
    row(19.0, 30.0, 18.0, 2100.0, 0.55, 740.0, Some(10.0), MDF),
    row(30.0, 45.0, 17.0, 1900.0, 0.50, 740.0, Some(8.0), MDF),
];

/// The class that a thickness (mm) falls in. Outside the table the nearest class serves: the first for thinner boards
/// (whose requirements are higher), the last for thicker ones.
#[must_use]
pub fn class_for_thickness(table: &[BoardClass], thickness: f64) -> Option<&BoardClass> {
    table.iter().find(|class| thickness <= class.up_to).or_else(|| table.last())
}

/// A kind of plywood.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Plywood {
    /// Softwood veneers all through.
    SoftwoodCore,
    /// Softwood core under hardwood face veneers.
    HardwoodFaced,
    /// Birch all through.
    Birch,
}

/// Modulus in bending parallel to the face grain, MPa.
#[must_use]
pub const fn plywood(kind: Plywood) -> Sourced {
    const AWS: Source =
        Source::published("Architectural Woodwork Standards 2009, span table (950 000 and 1 800 000 psi)");
    match kind {
        Plywood::SoftwoodCore => Sourced::new(950_000.0 * crate::mechanics::PSI, AWS),
        Plywood::HardwoodFaced => Sourced::new(1_800_000.0 * crate::mechanics::PSI, AWS),
        Plywood::Birch => Sourced::new(9500.0, Source::memory("birch plywood 18 mm, 9.5 to 10.5 GPa")),
    }
}
