//! What is left between the envelope and the walls: gaps, scribes, cover strips.

use serde::Serialize;

use crate::design::{Resolved, SiteWall};
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;

/// A gap wider than this is seen and wants a strip or a scribed filler (common practice).
const SEEN: Length = Length::from_mm(3);
/// How far a cover strip reaches beyond the widest gap, so that there is something to fix (own choice).
const STRIP_BEYOND: Length = Length::from_mm(15);

/// The gap at one surveyed point; negative where the envelope would stand in the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Gap {
    /// The wall.
    pub wall: SiteWall,
    /// The point.
    pub at: (Length, Length, Length),
    /// From the envelope to the wall.
    pub gap: Length,
}

/// What one side asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Scribe {
    /// The wall.
    pub wall: SiteWall,
    /// The narrowest gap.
    pub least: Length,
    /// The widest gap.
    pub most: Length,
    /// What must be left on a filler to be scribed away: the widest less the narrowest gap.
    pub allowance: Length,
    /// Width of a cover strip; none if the gap is too narrow to be seen.
    pub strip: Option<Length>,
}

/// The gaps at all surveyed points that lie beside, behind or above the envelope.
#[must_use]
pub fn gaps(design: &Resolved, envelope: &Cuboid) -> Vec<Gap> {
    let reaches = |axis: Axis, at: Length| {
        let (from, to) = envelope.range(axis);
        from <= at && at <= to
    };
    let mut list = Vec::new();
    for point in &design.site.walls {
        let (x, y, z) = point.at;
        let (beside, gap) = match point.wall {
            SiteWall::Left => (reaches(Axis::Y, y) && z <= envelope.max.z, envelope.min.x - x),
            SiteWall::Right => (reaches(Axis::Y, y) && z <= envelope.max.z, x - envelope.max.x),
            SiteWall::Rear => (reaches(Axis::X, x) && reaches(Axis::Y, y), envelope.min.z - z),
            SiteWall::Above => (reaches(Axis::X, x), y - envelope.max.y),
        };
        if beside {
            list.push(Gap { wall: point.wall, at: point.at, gap });
        }
    }
    list
}

/// Scribes and cover strips, wall by wall.
#[must_use]
pub fn scribes(gaps: &[Gap]) -> Vec<Scribe> {
    [SiteWall::Left, SiteWall::Right, SiteWall::Rear, SiteWall::Above]
        .into_iter()
        .filter_map(|wall| {
            let own = || gaps.iter().filter(|it| it.wall == wall).map(|it| it.gap);
            let (least, most) = (own().min()?, own().max()?);
            let shown = wall != SiteWall::Rear && most > SEEN;
            Some(Scribe { wall, least, most, allowance: most - least, strip: shown.then_some(most + STRIP_BEYOND) })
        })
        .collect()
}
