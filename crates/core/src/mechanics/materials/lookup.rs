//! The properties of a material of the design: the tables' values, the user's own where given.

use serde::Serialize;

use super::boards::{MDF_EN_622_5, PARTICLEBOARD_P2, Plywood, class_for_thickness, plywood};
use super::long_term::{Duration, EUROCODE_5_CREEP, EUROCODE_5_DURATION, ServiceClass, kdef, kmod};
use super::strength_classes::strength_class;
use crate::design::{Material, MaterialKind};
use crate::length::Length;
use crate::mechanics::source::{Source, Sourced};

/// What the checks need to know of a material.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BoardProperties {
    /// What it is made of.
    pub kind: MaterialKind,
    /// Thickness, mm.
    pub thickness: f64,
    /// Density, kg/m³.
    pub density: Sourced,
    /// Modulus of elasticity in bending, along the face grain if there is one, MPa.
    pub modulus: Sourced,
    /// The same across the face grain, MPa.
    pub modulus_across: Sourced,
    /// Bending strength, MPa.
    pub bending_strength: Sourced,
    /// Tensile strength across the faces, MPa.
    pub internal_bond: Sourced,
    /// Modulus of elasticity over shear modulus across the thickness.
    pub shear_ratio: Sourced,
    /// Deformation factor k_def in a heated room.
    pub kdef: Sourced,
    /// Strength factor k_mod for load over years in a heated room.
    pub kmod_long: Sourced,
    /// Swelling in its plane, across the grain for solid wood, % of the width per 1 % of moisture.
    pub movement_percent: Sourced,
}

/// The properties of `material`: by kind and thickness class, overridden by the user's own density and modulus.
///
/// Plywood counts as softwood-core, the weakest kind published; solid softwood as the strength class C18 and hardwood as
/// an oak of the low end, because sources disagree by 20 to 30 %.
#[must_use]
pub fn properties(material: &Material<Length>) -> BoardProperties {
    let thickness = material.thickness.mm();
    let kind = material.kind;
    let density = Sourced::new(kind.usual_density_kg_m3(), Source::practice("middle density of the kind"));
    let panel_shear = Sourced::new(10.0, Source::memory("shear modulus of panels across their thickness, about E/10"));
    let panel_movement = Sourced::new(0.04, Source::memory("panels, 0.03 to 0.05 % per 1 % moisture"));
    // Furniture board creeps as structural board of its kind that may be used in dry rooms only.
    let like = |structural: &str| {
        let analogy = Source::derived("EN 1995-1-1 Table 3.2, by analogy with structural board");
        Sourced::new(creep(structural).value, analogy)
    };
    let of_class = |table: &[super::BoardClass], kdef: Sourced, kmod_long: Sourced| {
        let class = class_for_thickness(table, thickness).copied();
        let get = |f: fn(&super::BoardClass) -> f64| {
            class.map_or(Sourced::new(0.0, Source::OWN), |it| Sourced::new(f(&it), it.source))
        };
        BoardProperties {
            kind,
            thickness,
            density: get(|it| it.density),
            modulus: get(|it| it.modulus),
            modulus_across: get(|it| it.modulus),
            bending_strength: get(|it| it.bending_strength),
            internal_bond: get(|it| it.internal_bond),
            shear_ratio: panel_shear,
            kdef,
            kmod_long,
            movement_percent: panel_movement,
        }
    };
    let mut found = match kind {
        MaterialKind::Particleboard => of_class(&PARTICLEBOARD_P2, like("particleboard P4"), lasting("particleboard")),
        MaterialKind::Mdf => of_class(&MDF_EN_622_5, like("MDF.LA"), lasting("MDF")),
        MaterialKind::Hardboard => {
            BoardProperties { density, ..of_class(&MDF_EN_622_5, like("MDF.LA"), lasting("MDF")) }
        }
        MaterialKind::Plywood => BoardProperties {
            kind,
            thickness,
            density,
            modulus: plywood(Plywood::SoftwoodCore),
            modulus_across: Sourced::new(
                0.5 * plywood(Plywood::SoftwoodCore).value,
                Source::memory("plywood across the face grain, half"),
            ),
            bending_strength: Sourced::new(25.0, Source::memory("softwood plywood")),
            internal_bond: Sourced::new(1.0, Source::memory("plywood glue line")),
            shear_ratio: Sourced::new(16.0, Source::memory("solid wood, E/G about 16")),
            kdef: creep("plywood"),
            // The row of solid timber serves for plywood too.
            kmod_long: lasting("solid timber"),
            movement_percent: Sourced::new(0.02, Source::memory("plywood, about 0.02 % per 1 % moisture")),
        },
        MaterialKind::Osb => BoardProperties {
            kind,
            thickness,
            density,
            modulus: Sourced::new(3500.0, Source::memory("EN 300 OSB/2, major axis; measured 4410 and more")),
            modulus_across: Sourced::new(1400.0, Source::memory("EN 300 OSB/2, minor axis; measured 1920 and more")),
            bending_strength: Sourced::new(20.0, Source::memory("EN 300 OSB/2, major axis")),
            internal_bond: Sourced::new(0.32, Source::memory("EN 300 OSB/2")),
            shear_ratio: panel_shear,
            kdef: creep("OSB/2"),
            kmod_long: lasting("OSB/2"),
            movement_percent: panel_movement,
        },
        MaterialKind::Softwood => {
            let class = strength_class("C18");
            let (modulus, strength) = class.map_or((0.0, 0.0), |it| (it.modulus, it.bending_strength));
            solid(kind, thickness, density, modulus, strength, 0.26, Source::second_hand("EN 338 class C18"))
        }
        MaterialKind::Hardwood => solid(
            kind,
            thickness,
            density,
            10_000.0,
            30.0,
            0.37,
            Source::practice("low end of European oak, 10 to 13.5 GPa"),
        ),
    };
    found.density = found.density.or_own(material.density_kg_m3);
    if let Some(own) = material.modulus_mpa {
        let across = if found.modulus.value > 0.0 { found.modulus_across.value / found.modulus.value } else { 1.0 };
        found.modulus = Sourced::new(own, Source::OWN);
        found.modulus_across = Sourced::new(own * across, Source::OWN);
    }
    found
}

/// The deformation factor k_def of a material of the tables in a heated room.
fn creep(material: &str) -> Sourced {
    Sourced::new(kdef(material, ServiceClass::Dry).unwrap_or_default(), EUROCODE_5_CREEP)
}

/// The strength factor k_mod of a material of the tables under load over years in a heated room.
fn lasting(material: &str) -> Sourced {
    Sourced::new(kmod(material, ServiceClass::Dry, Duration::Long).unwrap_or_default(), EUROCODE_5_DURATION)
}

fn solid(
    kind: MaterialKind,
    thickness: f64,
    density: Sourced,
    modulus: f64,
    strength: f64,
    movement: f64,
    source: Source,
) -> BoardProperties {
    BoardProperties {
        kind,
        thickness,
        density,
        modulus: Sourced::new(modulus, source),
        modulus_across: Sourced::new(modulus / 20.0, Source::memory("solid wood across the grain, about E/20")),
        bending_strength: Sourced::new(strength, source),
        internal_bond: Sourced::new(1.5, Source::memory("tension across the grain")),
        shear_ratio: Sourced::new(16.0, Source::memory("solid wood, E/G about 16")),
        kdef: creep("solid timber"),
        kmod_long: lasting("solid timber"),
        movement_percent: Sourced::new(movement, Source::published("Wood Handbook Table 13-5, flat-sawn (tangential)")),
    }
}
