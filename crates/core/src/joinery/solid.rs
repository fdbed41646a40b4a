//! What is cut out of a part as a convex solid, and the wall left between two of them.

use crate::geometry::{Axis, Cuboid};
use crate::joinery::HoleInWorld;

/// A cylinder along an axis or a box; coordinates in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Solid {
    /// A box from the first corner to the second.
    Block([f64; 3], [f64; 3]),
    /// A cylinder.
    Cylinder {
        /// The axis that it lies along.
        axis: Axis,
        /// Where it begins and ends along that axis.
        range: (f64, f64),
        /// A point on its axis.
        centre: [f64; 3],
        /// Radius.
        radius: f64,
    },
}

/// Rounds of projection; the distance is then right to well under a micrometre for holes in furniture.
const ROUNDS: usize = 400;

impl Solid {
    /// The space of a box.
    #[must_use]
    pub fn block(cuboid: &Cuboid) -> Self {
        Self::Block(Axis::ALL.map(|axis| cuboid.range(axis).0.mm()), Axis::ALL.map(|axis| cuboid.range(axis).1.mm()))
    }

    /// The space of a hole.
    #[must_use]
    pub fn hole(hole: &HoleInWorld) -> Self {
        let axis = hole.into.axis;
        let (from, to) = (hole.entry.along(axis).mm(), hole.end().along(axis).mm());
        Self::Cylinder {
            axis,
            range: (from.min(to), from.max(to)),
            centre: Axis::ALL.map(|axis| hole.entry.along(axis).mm()),
            radius: hole.diameter.mm() / 2.0,
        }
    }

    /// The point of the solid that is nearest to a point.
    fn nearest(&self, point: [f64; 3]) -> [f64; 3] {
        match self {
            Self::Block(low, high) => {
                let mut nearest = point;
                for ((value, low), high) in nearest.iter_mut().zip(low).zip(high) {
                    *value = value.clamp(*low, *high);
                }
                nearest
            }
            Self::Cylinder { axis, range, centre, radius } => {
                let along = axis.index();
                let mut squared = 0.0;
                for (i, (value, centre)) in point.iter().zip(centre).enumerate() {
                    if i != along {
                        squared += (value - centre).powi(2);
                    }
                }
                let off = squared.sqrt();
                let scale = if off > *radius { radius / off } else { 1.0 };
                let mut nearest = point;
                for (i, (value, centre)) in nearest.iter_mut().zip(centre).enumerate() {
                    *value =
                        if i == along { value.clamp(range.0, range.1) } else { centre + (*value - centre) * scale };
                }
                nearest
            }
        }
    }

    /// Corners of the box round the solid.
    fn bounds(&self) -> ([f64; 3], [f64; 3]) {
        match self {
            Self::Block(low, high) => (*low, *high),
            Self::Cylinder { axis, range, centre, radius } => {
                let (mut low, mut high) = (centre.map(|it| it - radius), centre.map(|it| it + radius));
                if let (Some(low), Some(high)) = (low.get_mut(axis.index()), high.get_mut(axis.index())) {
                    (*low, *high) = *range;
                }
                (low, high)
            }
        }
    }

    /// The distance between the boxes round two solids: never more than that of the solids.
    pub(super) fn at_least_apart(&self, other: &Self) -> f64 {
        let ((a_low, a_high), (b_low, b_high)) = (self.bounds(), other.bounds());
        let mut squared = 0.0;
        for i in 0..3 {
            let at = |corner: &[f64; 3]| corner.get(i).copied().unwrap_or_default();
            let gap = (at(&b_low) - at(&a_high)).max(at(&a_low) - at(&b_high)).max(0.0);
            squared += gap * gap;
        }
        squared.sqrt()
    }
}

/// The thinnest wall between two solids, millimetres; zero where they meet. Where the boxes round them are already
/// `enough` apart, some number that is at least that.
///
/// Found by projecting a point from one convex solid onto the other and back, which draws near to the closest pair
/// (von Neumann, Cheney and Goldstein 1959).
#[must_use]
pub fn wall_between(a: &Solid, b: &Solid, enough: f64) -> f64 {
    let apart = a.at_least_apart(b);
    if apart >= enough { apart } else { drawn_near(a, b, 0.0) }
}

/// Whether the wall between two solids is at least `enough` millimetres.
pub(super) fn keeps_apart(a: &Solid, b: &Solid, enough: f64) -> bool {
    a.at_least_apart(b) >= enough || drawn_near(a, b, enough) >= enough
}

/// The distance of two solids; where it is less than `limit`, some number less than that.
fn drawn_near(a: &Solid, b: &Solid, limit: f64) -> f64 {
    let (low, high) = a.bounds();
    let mut on_a = a.nearest([0, 1, 2].map(|i: usize| {
        let at = |corner: &[f64; 3]| corner.get(i).copied().unwrap_or_default();
        (at(&low) + at(&high)) / 2.0
    }));
    let mut distance = f64::MAX;
    for _ in 0..ROUNDS {
        let on_b = b.nearest(on_a);
        on_a = a.nearest(on_b);
        let now = on_a.iter().zip(&on_b).map(|(p, q)| (p - q).powi(2)).sum::<f64>().sqrt();
        if distance - now < 1e-10 || now < limit {
            return now;
        }
        distance = now;
    }
    distance
}
