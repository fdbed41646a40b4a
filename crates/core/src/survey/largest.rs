//! The widest plumb box between two surveyed walls.

use serde::Serialize;

use crate::design::{Extent, Obstacle, ObstacleKind, Resolved, SiteWall};
use crate::length::Length;

/// How far a piece may be turned about the upright, as a slope; beyond that it shows (own choice: 1 in 50).
pub(super) const MOST_SLOPE: f64 = 0.02;

/// The widest box that goes in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Largest {
    /// Its width, rounded down to a tenth of a millimetre.
    pub width: Length,
    /// Where its left side stands at the wall.
    pub left: Length,
    /// How its sides run: x gained for each mm of depth. Zero where it stands straight.
    pub slope: f64,
    /// The height left between the highest point of the floor and the lowest above; none if nothing limits it.
    pub height: Option<Length>,
    /// How far its rear must stay from the line of the wall for the rear wall's highest bump and what runs along it.
    pub from_wall: Length,
}

/// A point of a side wall: depth and x, millimetres.
pub(super) type Side = Vec<(f64, f64)>;

/// The points of both side walls, and of what runs along them; a niche without a survey has one plumb, square width.
pub(super) fn sides(design: &Resolved) -> Option<(Side, Side)> {
    let site = &design.site;
    let of = |wall: SiteWall| -> Side {
        site.walls.iter().filter(|it| it.wall == wall).map(|it| (it.at.2.mm(), it.at.0.mm())).collect()
    };
    let (mut left, mut right) = (of(SiteWall::Left), of(SiteWall::Right));
    if let Some(niche) = &site.niche {
        if left.is_empty() && niche.left_wall {
            left.push((0.0, 0.0));
        }
        if right.is_empty() && niche.right_wall {
            right.push((0.0, niche.width.mm()));
        }
    }
    let (Some(from), Some(to)) = (most(&left, f64::max), most(&right, f64::min)) else { return None };
    for it in runs_along(design) {
        let (x, z) =
            ((it.corner.0.mm(), (it.corner.0 + it.size.0).mm()), (it.corner.2.mm(), (it.corner.2 + it.size.2).mm()));
        // What lies in the left half stands out of the left wall, and so on; what spans most of the niche belongs to the rear.
        if x.1 - x.0 > (to - from) / 2.0 {
            continue;
        }
        let (side, face) = if x.0 + x.1 < from + to { (&mut left, x.1) } else { (&mut right, x.0) };
        side.extend([(z.0, face), (z.1, face)]);
    }
    Some((left, right))
}

fn most(side: &Side, pick: fn(f64, f64) -> f64) -> Option<f64> {
    side.iter().map(|it| it.1).reduce(pick)
}

/// Skirtings, sills and pipes: they belong to the walls, and no carcass goes where they are, but for those over its top.
fn runs_along(design: &Resolved) -> impl Iterator<Item = &Obstacle<Length>> {
    let kinds = [ObstacleKind::Skirting, ObstacleKind::Sill, ObstacleKind::Pipe];
    let top = match design.carcass.envelope.height {
        Extent::Fixed(height) | Extent::AtMost(height) => Some(height),
        Extent::FillNiche | Extent::Snug => None,
    };
    let is_over = move |it: &Obstacle<Length>| top.is_some_and(|top| it.corner.1 >= top);
    design.site.obstacles.iter().filter(move |it| kinds.contains(&it.kind) && !is_over(it))
}

/// How far what runs along the rear wall stands out of it.
fn along_rear(design: &Resolved) -> Option<Length> {
    let width = sides(design).and_then(|(left, right)| Some(most(&right, f64::min)? - most(&left, f64::max)?))?;
    let spans = |it: &&Obstacle<Length>| it.size.0.mm() > width / 2.0;
    runs_along(design).filter(spans).map(|it| it.corner.2 + it.size.2).max()
}

/// Left and right face at the wall for a slope: the left one right of every point of the left wall, and so on.
pub(super) fn faces(left: &Side, right: &Side, slope: f64) -> (f64, f64) {
    let at = |(z, x): &(f64, f64)| x - slope * z;
    (left.iter().map(at).fold(f64::MIN, f64::max), right.iter().map(at).fold(f64::MAX, f64::min))
}

/// The widest box; none unless both sides are closed. With `may_turn` it may stand turned by up to 1 in 50.
///
/// The width is a concave function of the slope, straight between the slopes at which another pair of points decides: the
/// best is at one of these, at an end, or straight. This is the linear programme in three unknowns, solved by corners.
#[must_use]
pub fn largest(design: &Resolved, may_turn: bool) -> Option<Largest> {
    let (left, right) = sides(design)?;
    let mut slopes = vec![0.0];
    if may_turn {
        slopes.extend([-MOST_SLOPE, MOST_SLOPE]);
        for side in [&left, &right] {
            for (at, one) in side.iter().enumerate() {
                for other in side.iter().skip(at + 1) {
                    let slope = (one.1 - other.1) / (one.0 - other.0);
                    if slope.abs() < MOST_SLOPE {
                        slopes.push(slope);
                    }
                }
            }
        }
    }
    let width = |slope: f64| {
        let (from, to) = faces(&left, &right, slope);
        to - from
    };
    let mut best = 0.0;
    for slope in slopes {
        // A turn must be worth it.
        if width(slope) > width(best) + 1e-9 {
            best = slope;
        }
    }
    let (from, _) = faces(&left, &right, best);
    // Across the turned sides the room is less than along the wall.
    let across = width(best) * best.atan().cos();
    let site = &design.site;
    let floor = site.floor.iter().map(|it| it.height).max().unwrap_or_default().max(Length::ZERO);
    let above = (site.walls.iter().filter(|it| it.wall == SiteWall::Above).map(|it| it.at.1))
        .chain(site.niche.as_ref().and_then(|it| it.height))
        .min();
    let rear =
        site.walls.iter().filter(|it| it.wall == SiteWall::Rear).map(|it| it.at.2).chain(along_rear(design)).max();
    Some(Largest {
        width: Length::from_mm_f64((across * 10.0 + 1e-6).floor() / 10.0),
        left: Length::from_mm_f64(from),
        slope: best,
        height: above.map(|above| above - floor),
        from_wall: rear.unwrap_or_default().max(Length::ZERO),
    })
}
