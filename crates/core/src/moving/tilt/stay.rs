//! A string, stay, damper or strut between a point of the carcass and a point of the compartment or flap.

use super::{OutUp, tilted};

/// A string, stay, damper or strut by its two anchor points, the compartment or flap shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stay {
    /// On the carcass.
    pub carcass: OutUp,
    /// On the compartment or flap.
    pub front: OutUp,
}

impl Stay {
    /// The distance between the anchors when the compartment has turned by an angle, mm.
    ///
    /// By the law of cosines √(p² + q² - 2 p q cos(f + a)) with p and q the distances of the anchors from the hinge and f the
    /// angle between them when shut; for two anchors that lie on each other when shut the chord 2 p sin(a / 2).
    #[must_use]
    pub fn span(&self, angle_rad: f64) -> f64 {
        let moved = tilted(self.front, angle_rad);
        (moved[0] - self.carcass[0]).hypot(moved[1] - self.carcass[1])
    }

    /// The angle at which a string of this length goes taut, in closed form; none if it is too short even when shut, or
    /// longer than the anchors ever come apart.
    #[must_use]
    pub fn taut_at(&self, length: f64) -> Option<f64> {
        let radius = |it: OutUp| it[0].hypot(it[1]);
        let (p, q) = (radius(self.carcass), radius(self.front));
        if p * q == 0.0 || length < self.span(0.0) - 1e-9 {
            return None;
        }
        let cos = (p * p + q * q - length * length) / (2.0 * p * q);
        if !(-1.0..=1.0 + 1e-12).contains(&cos) {
            return None;
        }
        // The turn lessens the direction of the front's anchor, seen from the hinge; `ahead` is how far it is past the
        // carcass's already.
        let ahead = self.carcass[1].atan2(self.carcass[0]) - self.front[1].atan2(self.front[0]);
        let ahead = (ahead + std::f64::consts::PI).rem_euclid(std::f64::consts::TAU) - std::f64::consts::PI;
        Some((cos.clamp(-1.0, 1.0).acos() - ahead).max(0.0))
    }

    /// How fast the ends come apart at an angle, mm for each radian: the arm of a force along the line of its ends about the
    /// hinge, positive where one that pushes them apart opens.
    #[must_use]
    pub fn opening_arm(&self, angle_rad: f64) -> f64 {
        let moved = tilted(self.front, angle_rad);
        let span = self.span(angle_rad);
        if span == 0.0 {
            return 0.0;
        }
        (self.carcass[1] * moved[0] - self.carcass[0] * moved[1]) / span
    }

    /// The arm of the string about the hinge, mm: how much moment each newton of its pull holds.
    #[must_use]
    pub fn arm(&self, angle_rad: f64) -> f64 {
        self.opening_arm(angle_rad).abs()
    }

    /// The pull in the string that holds an opening moment, N, from a moment in N mm; none if the string has no arm.
    #[must_use]
    pub fn pull(&self, angle_rad: f64, moment_nmm: f64) -> Option<f64> {
        let arm = self.arm(angle_rad);
        (arm > 1e-6).then(|| (moment_nmm / arm).max(0.0))
    }
}
