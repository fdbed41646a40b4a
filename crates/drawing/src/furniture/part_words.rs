//! Words for faces and edges of a part: as they lie in the part, and where they look in the piece.

use casewright_core::assembly::{Part, PartFace};
use casewright_core::geometry::Direction;

/// Where a face or edge of a part looks, in the piece.
pub(crate) fn outwards(part: &Part, face: PartFace) -> Direction {
    part.world_from_part.inwards(face).reversed()
}

/// A direction as a word before `edge` or `face`.
pub(crate) fn side_word(direction: Direction) -> &'static str {
    match direction {
        Direction::UP => "upper",
        Direction::DOWN => "lower",
        Direction::LEFT => "left",
        Direction::RIGHT => "right",
        Direction::FRONT => "front",
        _ => "rear",
    }
}

/// A face or edge by where it looks in the piece: `right face`, `front edge`.
pub(crate) fn face_word(part: &Part, face: PartFace) -> String {
    let kind = if matches!(face, PartFace::Edge(_)) { "edge" } else { "face" };
    format!("{} {kind}", side_word(outwards(part, face)))
}
