//! Which faces of parts show when the piece stands in its place with all fronts shut.

use crate::assembly::{Assembly, Part};
use crate::design::{Resolved, Role};
use crate::geometry::{Axis, Direction};
use crate::length::Length;

/// A wall so near hides a face (own choice: a hand's breadth).
const HIDES_WITHIN: Length = Length::from_mm(100);

/// Whether the face of a part that looks in `outwards` shows: the faces of fronts and worktops, and the outside of the piece,
/// but for what looks to the floor or to the rear, what stands at a wall of the niche, and what another part covers.
#[must_use]
pub fn shows(design: &Resolved, assembly: &Assembly, part: usize, outwards: Direction) -> bool {
    let Some(part) = assembly.parts.get(part) else { return false };
    if matches!(part.role, Role::Front | Role::Worktop | Role::Plinth) {
        return true;
    }
    if outwards == Direction::DOWN || outwards == Direction::REAR || is_covered(assembly, part, outwards) {
        return false;
    }
    let envelope = &assembly.envelope;
    let niche = design.site.niche.as_ref();
    let to_wall = match outwards {
        Direction::LEFT => niche.filter(|it| it.left_wall).map(|_| envelope.min.x),
        Direction::RIGHT => niche.filter(|it| it.right_wall).map(|it| it.width - envelope.max.x),
        _ => None,
    };
    to_wall.is_none_or(|it| it > HIDES_WITHIN)
}

/// Whether something of the piece stands further out before the middle of this face: then it looks to the inside.
fn is_covered(assembly: &Assembly, part: &Part, outwards: Direction) -> bool {
    let at = |range: (Length, Length)| if outwards.negative { -range.0 } else { range.1 };
    let face = at(part.cuboid.range(outwards.axis));
    assembly.parts.iter().any(|other| {
        let (low, high) = other.cuboid.range(outwards.axis);
        let starts = if outwards.negative { -high } else { low };
        starts >= face
            && Axis::ALL.into_iter().filter(|&axis| axis != outwards.axis).all(|axis| {
                let (low, high) = other.cuboid.range(axis);
                (low..=high).contains(&part.cuboid.middle(axis))
            })
    })
}
