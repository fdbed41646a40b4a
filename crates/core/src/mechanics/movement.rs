//! How solid wood moves with the humidity of the air.

use serde::Serialize;

use super::source::{Source, Sourced};

/// Dimensional change of a species per 1 % of moisture between 6 and 14 %, as shares: radial and tangential.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Movement {
    /// The species.
    pub name: &'static str,
    /// Across the rings; quarter-sawn boards. None where only the other is published.
    pub radial: Option<f64>,
    /// Along the rings; flat-sawn boards.
    pub tangential: f64,
    /// Where it comes from.
    pub source: Source,
}

const HANDBOOK: Source = Source::published("Wood Handbook Table 13-5");
/// A chart of flooring layers that cites the Wood Handbook; its mean for southern pines is its own.
const FLOORING: Source = Source::second_hand("Wood Handbook, in the chart of a flooring association");

const fn both(name: &'static str, radial: f64, tangential: f64) -> Movement {
    Movement { name, radial: Some(radial), tangential, source: HANDBOOK }
}

const fn flat(name: &'static str, tangential: f64) -> Movement {
    Movement { name, radial: None, tangential, source: FLOORING }
}

/// The species known.
pub const MOVEMENTS: [Movement; 15] = [
    both("red oak", 0.001_58, 0.003_69),
    both("white oak", 0.001_80, 0.003_65),
    both("American beech", 0.001_90, 0.004_31),
    both("sugar maple", 0.001_65, 0.003_53),
    both("yellow birch", 0.002_56, 0.003_38),
    both("white ash", 0.001_69, 0.002_74),
    both("black cherry", 0.001_26, 0.002_48),
    both("black walnut", 0.001_90, 0.002_74),
    both("red alder", 0.001_51, 0.002_56),
    both("basswood", 0.002_30, 0.003_30),
    flat("Douglas-fir", 0.002_67),
    flat("southern yellow pine", 0.002_65),
    flat("mesquite", 0.001_29),
    Movement { name: "spruce", radial: Some(0.0015), tangential: 0.0026, source: Source::memory("spruce") },
    Movement { name: "Scots pine", radial: Some(0.0017), tangential: 0.0028, source: Source::memory("Scots pine") },
];

/// The species of this name.
#[must_use]
pub fn movement(name: &str) -> Option<&'static Movement> {
    MOVEMENTS.iter().find(|it| it.name == name)
}

/// Change of a width when the moisture content goes from one value to another, %, in the unit of the width; positive
/// when it swells. Formula of the Wood Handbook: width · C · (M2 - M1).
#[must_use]
pub fn change(width: f64, per_percent: f64, from: f64, to: f64) -> f64 {
    width * per_percent * (to - from)
}

/// Moisture content of wood in heated rooms over the year, %: low and high.
pub const INDOOR_MOISTURE: (Sourced, Sourced) = (
    Sourced::new(7.0, Source::practice("wood in heated rooms, winter")),
    Sourced::new(12.0, Source::practice("wood in heated rooms, summer")),
);

/// What a solid panel fixed across its grain needs.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MovementNeed {
    /// How much it grows from the moisture at making to the highest.
    pub grows: f64,
    /// How much it shrinks to the lowest.
    pub shrinks: f64,
    /// Length of a slot for a screw at the far edge when the other edge is fixed: whole movement and the shank.
    pub slot: f64,
}

/// What a panel of this width needs when made at one moisture content and living between two others, %.
#[must_use]
pub fn need(width: f64, per_percent: f64, made_at: f64, lowest: f64, highest: f64, shank: f64) -> MovementNeed {
    let grows = change(width, per_percent, made_at, highest).max(0.0);
    let shrinks = (-change(width, per_percent, made_at, lowest)).max(0.0);
    MovementNeed { grows, shrinks, slot: grows + shrinks + shank }
}
