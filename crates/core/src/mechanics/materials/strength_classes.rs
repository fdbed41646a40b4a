//! Strength classes of structural softwood, EN 338 (second hand).

use serde::Serialize;

/// A strength class.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StrengthClass {
    /// Such as `C24`.
    pub name: &'static str,
    /// Characteristic bending strength, MPa.
    pub bending_strength: f64,
    /// Mean modulus of elasticity parallel to the grain, MPa.
    pub modulus: f64,
}

const fn class(name: &'static str, bending_strength: f64, modulus: f64) -> StrengthClass {
    StrengthClass { name, bending_strength, modulus }
}

/// The softwood classes.
pub const EN_338_CLASSES: [StrengthClass; 10] = [
    class("C14", 14.0, 7000.0),
    class("C16", 16.0, 8000.0),
    class("C18", 18.0, 9000.0),
    class("C20", 20.0, 9500.0),
    class("C22", 22.0, 10_000.0),
    class("C24", 24.0, 11_000.0),
    class("C27", 27.0, 11_500.0),
    class("C30", 30.0, 12_000.0),
    class("C35", 35.0, 13_000.0),
    class("C40", 40.0, 14_000.0),
];

/// The class of this name.
#[must_use]
pub fn strength_class(name: &str) -> Option<&'static StrengthClass> {
    EN_338_CLASSES.iter().find(|class| class.name == name)
}
