//! The polygon that the feet span, and its edges.

use serde::Serialize;

/// An edge of the support polygon: a point on it and the horizontal unit vector out of the polygon, (x, z).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Edge {
    /// A point on it, mm.
    pub point: (f64, f64),
    /// The unit vector outwards.
    pub outward: (f64, f64),
    /// How far the polygon reaches inwards from it, mm.
    pub depth: f64,
}

impl Edge {
    /// How far a place lies outside this edge, mm; negative inside.
    #[must_use]
    pub fn outside(&self, x: f64, z: f64) -> f64 {
        (x - self.point.0) * self.outward.0 + (z - self.point.1) * self.outward.1
    }

    /// Which way the piece goes over it.
    #[must_use]
    pub fn fall(&self) -> Fall {
        let (x, z) = self.outward;
        if z.abs() >= x.abs() {
            if z > 0.0 { Fall::Forwards } else { Fall::Backwards }
        } else if x > 0.0 {
            Fall::Right
        } else {
            Fall::Left
        }
    }

    /// What it is called: by the direction that the piece goes over.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.fall().words()
    }
}

/// Which way a piece goes over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fall {
    /// To the person.
    Forwards,
    /// To the wall behind.
    Backwards,
    /// To the right.
    Right,
    /// To the left.
    Left,
}

impl Fall {
    /// The direction, in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Forwards => "forwards",
            Self::Backwards => "backwards",
            Self::Right => "to the right",
            Self::Left => "to the left",
        }
    }
}

/// The edges of the convex hull of the points of support (x, z), in order round it. Two points or a line give no polygon
/// and no edges: such a piece does not stand.
#[must_use]
pub fn support_polygon(points: &[(f64, f64)]) -> Vec<Edge> {
    let mut sorted: Vec<(f64, f64)> = points.iter().copied().filter(|p| p.0.is_finite() && p.1.is_finite()).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    sorted.dedup();
    // Andrew's monotone chain.
    let half = |points: &mut dyn Iterator<Item = (f64, f64)>| {
        let mut chain: Vec<(f64, f64)> = Vec::new();
        for p in points {
            while let [.., a, b] = chain.as_slice() {
                if cross(*a, *b, p) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut sorted.iter().copied());
    hull.extend(half(&mut sorted.iter().rev().copied()));
    if hull.len() < 3 {
        return Vec::new();
    }
    let next = hull.iter().cycle().skip(1);
    hull.iter()
        .zip(next)
        .map(|(&a, &b)| {
            let (dx, dz) = (b.0 - a.0, b.1 - a.1);
            let length = dx.hypot(dz);
            // Counter-clockwise in the (x, z) plane: outwards is to the right of the way round.
            let mut edge = Edge { point: a, outward: (dz / length, -dx / length), depth: 0.0 };
            edge.depth = hull.iter().map(|&(x, z)| -edge.outside(x, z)).fold(0.0, f64::max);
            edge
        })
        .collect()
}

fn cross(o: (f64, f64), a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0)
}
