//! Convex bodies: boxes along the axes, and prisms whose outline is drawn out along one of them.

use super::TOUCH_MM;
use super::planar::{self, Spot};
use crate::geometry::{Axis, Cuboid};

/// A convex body, in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub enum Solid {
    /// A box: its ranges along X, Y and Z.
    Box([(f64, f64); 3]),
    /// A convex outline drawn out along an axis.
    Prism {
        /// The axis.
        axis: Axis,
        /// From where to where along it.
        range: (f64, f64),
        /// The outline in the plane across it, counter-clockwise; for X it is (Y, Z), for Y (Z, X), for Z (X, Y).
        outline: Vec<[f64; 2]>,
    },
}

/// The two axes of the plane across an axis, in the order that makes a positive turn counter-clockwise.
pub(super) const fn across(axis: Axis) -> (Axis, Axis) {
    match axis {
        Axis::X => (Axis::Y, Axis::Z),
        Axis::Y => (Axis::Z, Axis::X),
        Axis::Z => (Axis::X, Axis::Y),
    }
}

impl From<&Cuboid> for Solid {
    fn from(cuboid: &Cuboid) -> Self {
        Self::Box(Axis::ALL.map(|axis| (cuboid.range(axis).0.mm(), cuboid.range(axis).1.mm())))
    }
}

impl Solid {
    /// The prism over the convex hull of some points, in the plane across `axis`; none if they enclose no area or the
    /// range is empty.
    #[must_use]
    pub fn prism(axis: Axis, range: (f64, f64), points: &[[f64; 2]]) -> Option<Self> {
        let outline = planar::hull(points)?;
        (range.1 > range.0).then_some(Self::Prism { axis, range, outline })
    }

    /// The range along an axis.
    #[must_use]
    pub fn range(&self, along: Axis) -> (f64, f64) {
        match self {
            Self::Box([x, y, z]) => match along {
                Axis::X => *x,
                Axis::Y => *y,
                Axis::Z => *z,
            },
            Self::Prism { axis, range, .. } if *axis == along => *range,
            Self::Prism { axis, outline, .. } => {
                planar::shadow(outline, if across(*axis).0 == along { [1.0, 0.0] } else { [0.0, 1.0] })
            }
        }
    }

    /// The box round it.
    #[must_use]
    pub fn bounds(&self) -> Self {
        Self::Box(Axis::ALL.map(|axis| self.range(axis)))
    }

    /// The body grown on all sides: boxes and ranges of prisms by `by`, outlines by moving their corners outwards so that
    /// each edge keeps `by` or more (a mitre).
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        match self {
            Self::Box(ranges) => Self::Box(ranges.map(|(low, high)| (low - by, high + by))),
            Self::Prism { axis, range, outline } => {
                Self::Prism { axis: *axis, range: (range.0 - by, range.1 + by), outline: mitred(outline, by) }
            }
        }
    }

    /// The outline across an axis, if the body is a prism along it; a box is one along each.
    pub(super) fn outline(&self, along: Axis) -> Option<Vec<Spot>> {
        match self {
            Self::Box(_) => {
                let (u, v) = across(along);
                Some(planar::rectangle(self.range(u), self.range(v)))
            }
            Self::Prism { axis, outline, .. } => (*axis == along).then(|| outline.clone()),
        }
    }

    /// All (u, v) across `along` over which the body has a point within `window` along it; none if nothing of its inside
    /// does. Exact for each kind of body.
    pub(super) fn cast(&self, along: Axis, window: (f64, f64)) -> Option<Vec<Spot>> {
        match self {
            Self::Prism { axis, range, outline } if *axis != along => {
                // The outline holds `along` and a third axis; what lies in the window casts a range of the third.
                let (u, _) = across(*axis);
                let place = usize::from(u != along);
                let third = planar::range_within(outline, place, window)?;
                Some(if across(along).0 == *axis {
                    planar::rectangle(*range, third)
                } else {
                    planar::rectangle(third, *range)
                })
            }
            Self::Box(_) | Self::Prism { .. } => {
                let own = self.range(along);
                let meets = own.1.min(window.1) - own.0.max(window.0) > TOUCH_MM;
                meets.then(|| self.outline(along)).flatten()
            }
        }
    }
}

/// A convex outline whose edges are all moved outwards by `by`.
fn mitred(outline: &[Spot], by: f64) -> Vec<Spot> {
    let lines: Vec<(Spot, Spot)> = planar::edges(outline).collect();
    let before = lines.iter().cycle().skip(lines.len().saturating_sub(1));
    let normal = |(a, b): &(Spot, Spot)| {
        let (x, y) = (b[1] - a[1], a[0] - b[0]);
        let long = x.hypot(y).max(f64::MIN_POSITIVE);
        [x / long, y / long]
    };
    lines
        .iter()
        .zip(before)
        .map(|(line, before)| {
            let (n, m) = (normal(line), normal(before));
            let share = by / (1.0 + n[0] * m[0] + n[1] * m[1]).max(1e-9);
            [line.0[0] + (n[0] + m[0]) * share, line.0[1] + (n[1] + m[1]) * share]
        })
        .collect()
}
