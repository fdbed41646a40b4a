//! What ends the place of a piece above: the ceiling of the room, or a window sill, a beam, a shelf over a niche.
//!
//! Under a ceiling the piece must also be raised and brought in. A sill or beam hangs over the niche only: a piece that is
//! put together lying is raised in the room before it, and pushed in under it.

use crate::design::{Obstacle, Resolved};
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;

/// A niche lower than this is no room: its height says nothing of the ceiling.
const ROOM: Length = Length::from_mm(2000);
/// How far the underside of an obstacle may be from where the niche ends for it to be what ends it; by so much its ends may
/// also miss those of the niche, which is measured where it is narrowest.
const NEAR: Length = Length::from_mm(20);
/// So far it must reach over the piece: sills and beams do, a pipe or a rail along the wall does not (own choice).
const OVER: Length = Length::from_mm(80);
/// What the rest of the niche ends at, where nobody named it.
const UNNAMED: &str = "the upper end of the niche";

/// What ends the place of a piece above.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Overhead {
    /// What it is called.
    pub name: String,
    /// Where the niche ends, from the floor.
    pub height: Length,
    /// The lowest that is over the piece: the height of the niche, or the underside of the obstacle that ends it.
    pub underside: Length,
    /// How far it reaches out from the wall; without end if none.
    pub reach: Option<Length>,
    /// Whether it is the ceiling of the room.
    pub is_ceiling: bool,
    /// Where the niche ends at its height and at no obstacle, which has a body of its own.
    pub planes: Vec<OverheadPlane>,
}

/// A rectangle of the plane that ends a niche above.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OverheadPlane {
    /// What ends the niche there.
    pub name: String,
    /// From where to where along the wall; without end if none.
    pub x: Option<(Length, Length)>,
    /// From where to where out of the wall; without end if the second is none.
    pub z: (Length, Option<Length>),
}

/// What ends the niche above a piece, if anything does. `piece` is its outside box.
#[must_use]
pub fn overhead(design: &Resolved, piece: &Cuboid) -> Option<Overhead> {
    let niche = design.site.niche.as_ref()?;
    let height = niche.height?;
    let is_ceiling = niche.above.is_none() && height >= ROOM;
    let ends = |it: &&Obstacle<Length>| !is_ceiling && ends_at(it, niche.width, height, piece);
    // Of several the lowest.
    let obstacle = design.site.obstacles.iter().filter(ends).min_by_key(|it| it.corner.1);
    let rest = niche.above.as_deref().unwrap_or(if is_ceiling { "the ceiling" } else { UNNAMED });
    let name = match obstacle {
        Some(it) if niche.above.is_none() => it.name.clone(),
        _ => rest.to_owned(),
    };
    let own = obstacle.map_or(piece.max.z, |it| it.corner.2 + it.size.2);
    let reach = niche.depth.or((!is_ceiling).then_some(own));
    let plane = |x, z| OverheadPlane { name: rest.to_owned(), x, z };
    let planes = match obstacle {
        None => vec![plane(None, (Length::ZERO, reach))],
        Some(it) => {
            let rectangles = beside(niche.width, reach.unwrap_or(own), it).into_iter();
            rectangles.map(|(x, (from, to))| plane(Some(x), (from, Some(to)))).collect()
        }
    };
    let underside = obstacle.map_or(height, |it| height.min(it.corner.1));
    Some(Overhead { name, height, underside, reach, is_ceiling, planes })
}

/// Whether an obstacle is what ends a niche of this width and height above a piece: its underside is there, it runs across
/// the niche or the piece, and it hangs over the piece deep enough. A door leaf or window does not stay there.
fn ends_at(it: &Obstacle<Length>, width: Length, height: Length, piece: &Cuboid) -> bool {
    let (from, low, rear) = it.corner;
    let spans = |(left, right): (Length, Length)| from <= left + NEAR && from + it.size.0 >= right - NEAR;
    let over = (rear + it.size.2).min(piece.max.z) - rear.max(piece.min.z);
    low > Length::ZERO
        && (low - height).abs() <= NEAR
        && it.swing.is_none()
        && (spans((Length::ZERO, width)) || spans(piece.range(Axis::X)))
        && over >= OVER
}

type Range = (Length, Length);

/// What an obstacle leaves of the plane over a niche so wide and deep: ranges of x and z.
fn beside(width: Length, depth: Length, it: &Obstacle<Length>) -> Vec<(Range, Range)> {
    let within = |from: Length, by: Length, most: Length| {
        (from.clamp(Length::ZERO, most), (from + by).clamp(Length::ZERO, most))
    };
    let x = within(it.corner.0, it.size.0, width);
    let z = within(it.corner.2, it.size.2, depth);
    let whole = (Length::ZERO, depth);
    let all = [((Length::ZERO, x.0), whole), ((x.1, width), whole), (x, (Length::ZERO, z.0)), (x, (z.1, depth))];
    all.into_iter().filter(|(x, z)| x.0 < x.1 && z.0 < z.1).collect()
}

/// The height of the room in which a piece is raised and put together, if it is known: what the checks go by, or the niche
/// where that ends at the ceiling.
#[must_use]
pub fn room_height(design: &Resolved, piece: &Cuboid) -> Option<Length> {
    design.assumed.ceiling.or_else(|| overhead(design, piece).filter(|it| it.is_ceiling).map(|it| it.height))
}
