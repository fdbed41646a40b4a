//! The floor between the surveyed points, and what each foot is set to.

use serde::Serialize;

use crate::assembly::{Assembly, FittingKind};
use crate::design::{FloorPoint, Resolved, Role, Stand};
use crate::geometry::Axis;
use crate::length::Length;

/// One foot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Foot {
    /// Its middle, along the wall and out from it.
    pub at: (Length, Length),
    /// The floor under it.
    pub floor: Length,
    /// What it is set to, from the floor to the underside of the carcass; to a tenth of a millimetre.
    pub height: Length,
}

/// How a piece is levelled.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Levelled {
    /// Its feet.
    pub feet: Vec<Foot>,
    /// By how much the whole is raised (lowered if negative) so that its top meets the neighbouring worktop.
    pub raised: Length,
    /// Where the top is then.
    pub top: Length,
    /// Height of the plinth strip's room at its left and right end: what it is scribed to.
    pub plinth: Option<(Length, Length)>,
}

/// The floor at a place: the plane that fits the survey best, and what the surveyed points differ from it, weighted by
/// the inverse square of the distance (Shepard 1968). It passes through every surveyed point and keeps planes as planes.
#[must_use]
pub fn floor_height(points: &[FloorPoint<Length>], x: Length, z: Length) -> Length {
    let plane = plane(points);
    let at = |x: f64, z: f64| plane[0] + plane[1] * x + plane[2] * z;
    let (mut sum, mut weights) = (0.0, 0.0);
    for point in points {
        let (px, pz) = (point.x.mm(), point.z.mm());
        let squared = (px - x.mm()).powi(2) + (pz - z.mm()).powi(2);
        if squared < 1e-12 {
            return point.height;
        }
        sum += (point.height.mm() - at(px, pz)) / squared;
        weights += 1.0 / squared;
    }
    if weights == 0.0 {
        return Length::ZERO;
    }
    Length::from_mm_f64(at(x.mm(), z.mm()) + sum / weights)
}

/// The least-squares plane `h = a + b x + c z`; level through the mean where the points do not span one.
fn plane(points: &[FloorPoint<Length>]) -> [f64; 3] {
    use nalgebra::{DMatrix, DVector};
    if points.is_empty() {
        return [0.0; 3];
    }
    let count = points.len() as f64;
    let mean = |of: &dyn Fn(&FloorPoint<Length>) -> f64| points.iter().map(of).sum::<f64>() / count;
    let (mx, mz, mh) = (mean(&|it| it.x.mm()), mean(&|it| it.z.mm()), mean(&|it| it.height.mm()));
    let rows = DMatrix::from_fn(points.len(), 2, |row, column| {
        points.get(row).map_or(0.0, |it| if column == 0 { it.x.mm() - mx } else { it.z.mm() - mz })
    });
    let heights = DVector::from_iterator(points.len(), points.iter().map(|it| it.height.mm() - mh));
    let solved = rows.svd(true, true).solve(&heights, 1e-6);
    let (b, c) = solved.map_or((0.0, 0.0), |it| (it[0], it[1]));
    [mh - b * mx - c * mz, b, c]
}

/// The feet of a piece on its surveyed floor; none if it has no feet.
#[must_use]
pub fn level(design: &Resolved, assembly: &Assembly) -> Option<Levelled> {
    let height = match design.carcass.stand {
        Stand::Plinth { height, .. } | Stand::Feet { height, .. } => height,
        Stand::Floor | Stand::Castors { .. } => return None,
    };
    let floor = &design.site.floor;
    let top = assembly.envelope.max.y;
    let meets = design.site.neighbour_worktop.as_ref().map_or(top, |it| it.height);
    let raised = meets - top;
    let tenth = Length::from_um(100);
    let feet = assembly
        .fittings
        .iter()
        .filter(|it| matches!(it.kind, FittingKind::Stand(piece) if piece.is_foot()))
        .map(|it| {
            let at = (it.cuboid.middle(Axis::X), it.cuboid.middle(Axis::Z));
            let under = floor_height(floor, at.0, at.1);
            Foot { at, floor: under, height: (height + raised - under).rounded_to(tenth) }
        })
        .collect();
    let plinth = assembly.parts.iter().find(|part| part.role == Role::Plinth).map(|part| {
        let front = part.cuboid.max.z;
        let room = |x: Length| (height + raised - floor_height(floor, x, front)).rounded_to(tenth);
        (room(part.cuboid.min.x), room(part.cuboid.max.x))
    });
    Some(Levelled { feet, raised, top: meets, plinth })
}
