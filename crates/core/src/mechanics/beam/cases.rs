//! The closed forms of the handbooks: delta = k_b W L³ / (E I) + k_s W L / (G A').
//!
//! Source: USDA Wood Handbook, chapter on structural analysis equations (form, symbols and k_b as published; k_s from
//! memory, confirmed against Timoshenko's beam in the tests). W is the whole load.

use serde::Serialize;

use super::section::Section;

/// A loading case with one number for bending and one for shear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Case {
    /// Held at both ends, even load, at midspan.
    SimpleUniform,
    /// Held at both ends, force at midspan, there.
    SimpleCentre,
    /// Held at both ends, half the force at each outer quarter point, at midspan.
    SimpleQuarters,
    /// Clamped at both ends, even load, at midspan.
    FixedUniform,
    /// Clamped at both ends, force at midspan, there.
    FixedCentre,
    /// Clamped at one end, even load, at the free end.
    CantileverUniform,
    /// Clamped at one end, force at the free end, there.
    CantileverEnd,
}

impl Case {
    /// All cases.
    pub const ALL: [Self; 7] = [
        Self::SimpleUniform,
        Self::SimpleCentre,
        Self::SimpleQuarters,
        Self::FixedUniform,
        Self::FixedCentre,
        Self::CantileverUniform,
        Self::CantileverEnd,
    ];

    /// The constants k_b of bending and k_s of shear.
    #[must_use]
    pub const fn constants(self) -> (f64, f64) {
        match self {
            Self::SimpleUniform => (5.0 / 384.0, 1.0 / 8.0),
            Self::SimpleCentre => (1.0 / 48.0, 1.0 / 4.0),
            Self::SimpleQuarters => (11.0 / 768.0, 1.0 / 8.0),
            Self::FixedUniform => (1.0 / 384.0, 1.0 / 8.0),
            Self::FixedCentre => (1.0 / 192.0, 1.0 / 4.0),
            Self::CantileverUniform => (1.0 / 8.0, 1.0 / 2.0),
            Self::CantileverEnd => (1.0 / 3.0, 1.0),
        }
    }

    /// The largest moment, as a share of W·L, by magnitude.
    #[must_use]
    pub const fn moment(self) -> f64 {
        match self {
            Self::SimpleUniform | Self::SimpleQuarters | Self::FixedCentre => 1.0 / 8.0,
            Self::SimpleCentre => 1.0 / 4.0,
            Self::FixedUniform => 1.0 / 12.0,
            Self::CantileverUniform => 1.0 / 2.0,
            Self::CantileverEnd => 1.0,
        }
    }

    /// The deflection under a whole load W over a length L.
    #[must_use]
    pub fn deflection(self, load: f64, length: f64, section: &Section) -> f64 {
        let (bending, shear) = self.constants();
        bending * load * length.powi(3) / section.bending + shear * load * length / section.shear
    }
}
