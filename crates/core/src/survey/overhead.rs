//! What ends the place of a piece above: the ceiling of the room, or a window sill, a beam, a shelf over a niche.
//!
//! Under a ceiling the piece must also be raised and brought in. A sill or beam hangs over the niche only: a piece that is
//! put together lying is raised in the room before it, and pushed in under it.

use crate::design::{Obstacle, Resolved};
use crate::geometry::Cuboid;
use crate::length::Length;

/// A niche lower than this is no room: its height says nothing of the ceiling.
const ROOM: Length = Length::from_mm(2000);
/// How far the underside of an obstacle may be from where the niche ends for it to be what ends it.
const NEAR: Length = Length::from_mm(20);

/// What ends the place of a piece above.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Overhead {
    /// What it is called.
    pub name: String,
    /// Where its underside is, from the floor.
    pub height: Length,
    /// How far it reaches out from the wall; without end if none.
    pub reach: Option<Length>,
    /// Whether it is the ceiling of the room.
    pub is_ceiling: bool,
    /// Whether it is an obstacle of the site, which has a body of its own.
    pub is_obstacle: bool,
}

/// What ends the niche above a piece, if anything does. `piece` is its outside box.
#[must_use]
pub fn overhead(design: &Resolved, piece: &Cuboid) -> Option<Overhead> {
    let niche = design.site.niche.as_ref()?;
    let height = niche.height?;
    let hangs = |it: &&Obstacle<Length>| {
        let (left, low) = (it.corner.0, it.corner.1);
        low > Length::ZERO && (low - height).abs() <= NEAR && left < niche.width && left + it.size.0 > Length::ZERO
    };
    // Of several the lowest.
    let obstacle = design.site.obstacles.iter().filter(hangs).min_by_key(|it| it.corner.1);
    let is_ceiling = niche.above.is_none() && obstacle.is_none() && height >= ROOM;
    let name = match (&niche.above, obstacle) {
        (Some(name), _) => name.clone(),
        (None, Some(it)) => it.name.clone(),
        (None, None) if is_ceiling => "the ceiling".to_owned(),
        (None, None) => "the upper end of the niche".to_owned(),
    };
    let own = obstacle.map_or(piece.max.z, |it| it.corner.2 + it.size.2);
    let reach = niche.depth.or((!is_ceiling).then_some(own));
    Some(Overhead { name, height, reach, is_ceiling, is_obstacle: obstacle.is_some() })
}

/// The height of the room in which a piece is raised and put together, if it is known: what the checks go by, or the niche
/// where that ends at the ceiling.
#[must_use]
pub fn room_height(design: &Resolved, piece: &Cuboid) -> Option<Length> {
    design.assumed.ceiling.or_else(|| overhead(design, piece).filter(|it| it.is_ceiling).map(|it| it.height))
}
