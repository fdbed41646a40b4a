//! What load over time does: creep and loss of strength.
//!
//! Eurocode 5 covers structural boards only; furniture board (EN 312 P2, general purpose fibreboard) is not in it, and
//! the 2.25 of the structural kinds is a conservative assumption by analogy.

use serde::Serialize;

use crate::mechanics::source::Source;

/// How damp the place is: Eurocode 5 service classes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum ServiceClass {
    /// Heated rooms.
    Dry,
    /// Unheated or humid rooms under a roof.
    Humid,
    /// Outdoors.
    Wet,
}

/// How long a load acts: Eurocode 5 load duration classes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Duration {
    /// More than ten years.
    Permanent,
    /// Six months to ten years.
    Long,
    /// A week to six months.
    Medium,
    /// Less than a week.
    Short,
    /// A blow.
    Instant,
}

/// One row of the deformation factors.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CreepRow {
    /// The material.
    pub material: &'static str,
    /// Deformation factor k_def in service classes 1, 2 and 3, where the material may be used.
    pub factors: [Option<f64>; 3],
}

/// Where the factors come from.
pub const EUROCODE_5_CREEP: Source = Source::second_hand("EN 1995-1-1 Table 3.2");

/// Where the strength factors come from.
pub const EUROCODE_5_DURATION: Source = Source::second_hand("EN 1995-1-1 Table 3.1");

const fn creep(material: &'static str, dry: f64, humid: Option<f64>, wet: Option<f64>) -> CreepRow {
    CreepRow { material, factors: [Some(dry), humid, wet] }
}

/// Deformation factors k_def, EN 1995-1-1 Table 3.2. The value of particleboard P7 in service class 2 is taken as 2.25
/// (the copy read has 1.25, presumably a slip).
pub const KDEF: [CreepRow; 14] = [
    creep("solid timber", 0.60, Some(0.80), Some(2.00)),
    creep("plywood", 0.80, Some(1.00), Some(2.50)),
    creep("OSB/2", 2.25, None, None),
    creep("OSB/3", 1.50, Some(2.25), None),
    creep("particleboard P4", 2.25, None, None),
    creep("particleboard P5", 2.25, Some(3.00), None),
    creep("particleboard P6", 1.50, None, None),
    creep("particleboard P7", 1.50, Some(2.25), None),
    creep("hardboard HB.LA", 2.25, None, None),
    creep("hardboard HB.HLA", 2.25, Some(3.00), None),
    creep("medium board MBH.LA", 3.00, None, None),
    creep("medium board MBH.HLS", 3.00, Some(4.00), None),
    creep("MDF.LA", 2.25, None, None),
    creep("MDF.HLS", 2.25, Some(3.00), None),
];

/// The deformation factor of a material of [`KDEF`]; none where it may not be used.
#[must_use]
pub fn kdef(material: &str, class: ServiceClass) -> Option<f64> {
    let row = KDEF.iter().find(|row| row.material == material)?;
    row.factors.get(class as usize).copied().flatten()
}

/// One row of the strength factors.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DurationRow {
    /// The material.
    pub material: &'static str,
    /// The service class.
    pub class: ServiceClass,
    /// Factor k_mod for permanent, long, medium, short and instantaneous load; none where the copy that was read has none.
    pub factors: [Option<f64>; 5],
}

const fn duration(material: &'static str, class: ServiceClass, [a, b, c, d, e]: [f64; 5]) -> DurationRow {
    DurationRow { material, class, factors: [Some(a), Some(b), Some(c), Some(d), Some(e)] }
}

/// Strength factors k_mod, EN 1995-1-1 Table 3.1. `solid timber` serves for glued laminated timber, LVL and plywood too.
/// The row of OSB/3 in service class 1 is from memory.
pub const KMOD: [DurationRow; 10] = [
    duration("solid timber", ServiceClass::Dry, [0.60, 0.70, 0.80, 0.90, 1.10]),
    duration("solid timber", ServiceClass::Humid, [0.60, 0.70, 0.80, 0.90, 1.10]),
    duration("solid timber", ServiceClass::Wet, [0.50, 0.55, 0.65, 0.70, 0.90]),
    duration("OSB/2", ServiceClass::Dry, [0.30, 0.45, 0.65, 0.85, 1.10]),
    duration("OSB/3", ServiceClass::Dry, [0.40, 0.50, 0.70, 0.90, 1.10]),
    duration("OSB/3", ServiceClass::Humid, [0.30, 0.40, 0.55, 0.70, 0.90]),
    duration("particleboard", ServiceClass::Dry, [0.30, 0.45, 0.65, 0.85, 1.10]),
    duration("particleboard", ServiceClass::Humid, [0.20, 0.30, 0.45, 0.60, 0.80]),
    duration("MDF", ServiceClass::Dry, [0.20, 0.40, 0.60, 0.80, 1.10]),
    DurationRow {
        material: "MDF.HLS",
        class: ServiceClass::Humid,
        factors: [None, None, None, Some(0.45), Some(0.80)],
    },
];

/// The strength factor of a material of [`KMOD`].
#[must_use]
pub fn kmod(material: &str, class: ServiceClass, duration: Duration) -> Option<f64> {
    let row = KMOD.iter().find(|row| row.material == material && row.class == class)?;
    row.factors.get(duration as usize).copied().flatten()
}

/// The deflection after years, in the unit of `initial`: `initial` (1 + share · k_def), where `share` of the load acts
/// all the time. Form of EN 1995-1-1 (second hand): w_fin = w_inst + k_def · w of the quasi-permanent load.
#[must_use]
pub fn final_deflection(initial: f64, lasting_share: f64, kdef: f64) -> f64 {
    initial * (1.0 + lasting_share.clamp(0.0, 1.0) * kdef)
}
