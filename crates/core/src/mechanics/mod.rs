//! Mechanics of boards, fittings and whole carcasses: pure formulas and tables, each with its source.
//!
//! Units, everywhere below unless an item says otherwise: lengths mm, forces N, stresses and moduli MPa (= N/mm²),
//! moments N·mm, line loads N/mm, area loads Pa, masses kg, densities kg/m³, angles radians. Beam formulas hold for any
//! consistent set of units. Deflection and load are positive downwards.
//!
//! Every table value carries a [`Source`] that says how far it may be trusted. A value from memory never decides alone:
//! checks that rest on one are warnings at most.

pub mod air;
pub mod beam;
pub mod ergonomics;
pub mod fasteners;
pub mod fittings;
pub mod handling;
pub mod limits;
pub mod materials;
pub mod movement;
pub mod plate;
pub mod racking;
pub mod source;
pub mod tipping;

pub use source::{Source, Sourced, Trust};

/// Standard gravity, m/s², which is also N per kg (CGPM 1901).
pub const GRAVITY: f64 = 9.806_65;

/// One pound-force, N (exact: 0.453 592 37 kg in standard gravity).
pub const POUND_FORCE: f64 = 4.448_221_615_260_5;

/// One inch, mm (exact).
pub const INCH: f64 = 25.4;

/// One psi, MPa.
pub const PSI: f64 = POUND_FORCE / (INCH * INCH);

/// One pound a square foot, Pa.
pub const PSF: f64 = PSI * 1e6 / 144.0;
