//! A lid on a tilting compartment that a string opens: straight from the carcass to the lid, or over a pulley on the
//! compartment.

use super::{OutUp, tilted};

/// A lid with its string. All points are those of the shut compartment with the lid shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lid {
    /// Where the lid turns on the compartment.
    pub hinge: OutUp,
    /// Where the string is tied to the lid.
    pub tied: OutUp,
    /// Where the string is tied to the carcass.
    pub carcass: OutUp,
    /// A pulley on the compartment that the string runs over, if there is one.
    pub pulley: Option<OutUp>,
}

/// How a lid stands at an angle of the front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LidTurn {
    /// The string still has so much slack, mm.
    Slack(f64),
    /// The lid has turned by so many radians.
    Turned(f64),
    /// The string is too short: it stops the front before this angle.
    Stops,
}

fn apart(a: OutUp, b: OutUp) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

impl Lid {
    /// The length of string from end to end that is needed for the lid to begin to turn at an angle of the front, mm.
    #[must_use]
    pub fn length_for(&self, start_rad: f64) -> f64 {
        let carcass = tilted(self.carcass, -start_rad);
        match self.pulley {
            Some(pulley) => apart(carcass, pulley) + apart(pulley, self.tied),
            None => apart(carcass, self.tied),
        }
    }

    /// The angle at which a string of this length stops the front, as far as `open`, radians; none if it lets it open. Walked
    /// in steps of half a degree and then halved down.
    #[must_use]
    pub fn stops_at(&self, length: f64, open: f64) -> Option<f64> {
        let stops = |angle: f64| self.at(angle, length) == LidTurn::Stops;
        let steps = (open / 0.5_f64.to_radians()).ceil().max(1.0) as u32;
        let at = |i: u32| open * f64::from(i) / f64::from(steps);
        let first = (0..=steps).find(|&i| stops(at(i)))?;
        let (mut free, mut held) = (at(first.saturating_sub(1)), at(first));
        for _ in 0..40 {
            let middle = f64::midpoint(free, held);
            if stops(middle) { held = middle } else { free = middle }
        }
        Some(held)
    }

    /// How the lid stands when the front has turned by an angle, with a string of this length.
    ///
    /// Seen from the compartment the carcass's end moves. The string's last piece leads from there, or from the pulley,
    /// to the lid, whose tied point runs on a circle about the lid's hinge: the law of cosines in the triangle of hinge,
    /// tied point and the other end gives the angle.
    #[must_use]
    pub fn at(&self, angle_rad: f64, length: f64) -> LidTurn {
        let carcass = tilted(self.carcass, -angle_rad);
        let (from, left) = match self.pulley {
            Some(pulley) => (pulley, length - apart(carcass, pulley)),
            None => (carcass, length),
        };
        let shut = apart(from, self.tied);
        if shut <= left {
            return LidTurn::Slack(left - shut);
        }
        let (far, radius) = (apart(from, self.hinge), apart(self.tied, self.hinge));
        if far * radius == 0.0 || left < 0.0 {
            return LidTurn::Stops;
        }
        let angle = |distance: f64| {
            let cos = (far * far + radius * radius - distance * distance) / (2.0 * far * radius);
            (cos <= 1.0 + 1e-12).then(|| cos.clamp(-1.0, 1.0).acos())
        };
        match (angle(shut), angle(left)) {
            (Some(first), Some(now)) => LidTurn::Turned(first - now),
            _ => LidTurn::Stops,
        }
    }
}
