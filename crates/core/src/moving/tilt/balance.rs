//! Which way its weight turns a tilting compartment, over the whole angle.

use super::{OutUp, tilted};
use crate::mechanics::GRAVITY;

/// A weight of the compartment with its centre, shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Its centre.
    pub at: OutUp,
}

/// All that weighs, as one mass in its common centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// The whole mass, kg.
    pub mass_kg: f64,
    /// The common centre, shut.
    pub centre: OutUp,
    /// Whether it hangs from its upper edge, so that `up` runs downwards.
    pub hangs: bool,
}

/// What a compartment does when it is let go at an angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaning {
    /// It falls shut, or stays shut.
    Shuts,
    /// It stays where it is: friction of hinges and string holds it.
    Rests,
    /// It falls open.
    Opens,
}

impl Leaning {
    /// What a moment does, positive opening, where so much is held either way, N mm.
    #[must_use]
    pub fn of(moment_nmm: f64, held_nmm: f64) -> Self {
        if moment_nmm.abs() <= held_nmm {
            Self::Rests
        } else if moment_nmm > 0.0 {
            Self::Opens
        } else {
            Self::Shuts
        }
    }
}

impl Balance {
    /// The weights together; none if there is nothing.
    #[must_use]
    pub fn of(weights: &[Weight], hangs: bool) -> Option<Self> {
        let mass_kg: f64 = weights.iter().map(|it| it.mass_kg).sum();
        if mass_kg <= 0.0 {
            return None;
        }
        let mean = |i: fn(&OutUp) -> f64| weights.iter().map(|it| it.mass_kg * i(&it.at)).sum::<f64>() / mass_kg;
        Some(Self { mass_kg, centre: [mean(|it| it[0]), mean(|it| it[1])], hangs })
    }

    /// The moment of the weight about the hinge when turned by an angle, N mm; positive opens it further. For one that
    /// stands on its lower edge m g (out cos a + up sin a); for one that hangs the same with the sign turned.
    #[must_use]
    pub fn moment_nmm(&self, angle_rad: f64) -> f64 {
        let out = tilted(self.centre, angle_rad)[0];
        let sign = if self.hangs { -1.0 } else { 1.0 };
        sign * self.mass_kg * GRAVITY * out
    }

    /// The angle at which the centre lies above (or hangs below) the hinge and the weight turns it neither way, radians;
    /// none if that is before it is shut.
    #[must_use]
    pub fn balances_at(&self) -> Option<f64> {
        let angle = (-self.centre[0]).atan2(self.centre[1]);
        (angle >= 0.0).then_some(angle)
    }

    /// What it does at an angle if it is let go, where friction holds so much moment, N mm.
    #[must_use]
    pub fn leaning(&self, angle_rad: f64, friction_nmm: f64) -> Leaning {
        Leaning::of(self.moment_nmm(angle_rad), friction_nmm)
    }

    /// The height of the centre over the hinge at an angle, mm, downwards negative: what the weight's energy is counted by.
    #[must_use]
    pub fn height_mm(&self, angle_rad: f64) -> f64 {
        let up = tilted(self.centre, angle_rad)[1];
        if self.hangs { -up } else { up }
    }
}
