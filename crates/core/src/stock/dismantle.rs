//! The panels that an old cabinet gives when it is taken apart.
//!
//! What is spoilt is common practice: dowels and connectors spoil the ends of what lies between the sides, about 35 mm in,
//! and a strip of the sides round each joint; screws spoil only the strip in which their holes are.

use crate::design::{Board, BoardSource};
use crate::length::Length;

/// How an old cabinet was joined.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum OldJoint {
    /// Dowels or connectors in the ends of the lying panels.
    #[default]
    Dowelled,
    /// Screwed through the sides.
    Screwed,
    /// Lying panels stand in grooves of the sides.
    Grooved,
}

/// What closed an old cabinet at the rear.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum OldBack {
    /// Nothing, or nothing worth keeping.
    #[default]
    None,
    /// A thin panel nailed on, over the whole rear; the name of its material.
    Applied(String),
    /// A thin panel in grooves of the given depth; the name of its material.
    Grooved(String, Length),
}

/// An old cabinet by its outside sizes and its construction.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OldBox {
    /// What it is called; its panels are named after it.
    pub name: String,
    /// Outside width, height and depth.
    pub size: (Length, Length, Length),
    /// The name of the material of its panels.
    pub material: String,
    /// Their thickness as measured.
    pub thickness: Length,
    /// Whether the sides run from floor to top past bottom and top; else these lie over the sides.
    pub sides_run_through: bool,
    /// Loose or fixed shelves between the sides.
    pub shelves: u32,
    /// How far shelves stand back behind the front edges.
    pub shelf_set_back: Length,
    /// Whether the sides have rows of holes for shelves along their front and rear edges.
    pub rows: bool,
    /// How it was joined.
    pub joint: OldJoint,
    /// What closed it at the rear.
    pub back: OldBack,
}

/// Depth that dowels and connectors spoil at the ends of a panel (common practice: 30 mm holes and play).
const SPOILT_END: Length = Length::from_mm(35);
/// What is spoilt on a face round a joint, beside the panel that stood there (common practice).
const BESIDE_JOINT: Length = Length::from_mm(10);
/// A row of shelf holes 37 mm from the edge (common practice), and its edge.
const ROW_STRIP: Length = Length::from_mm(45);

/// The panels of an old cabinet as boards in stock, each with its good zone. Sizes follow from the outside sizes and the
/// construction: what runs through has the outside size, what stands between is two thicknesses less.
#[must_use]
pub fn dismantle(old: &OldBox) -> Vec<Board<Length>> {
    let (width, height, depth) = old.size;
    let two = old.thickness * 2;
    let (side_length, lying_length) = if old.sides_run_through { (height, width - two) } else { (height - two, width) };
    let behind = match &old.back {
        OldBack::Applied(_) | OldBack::None => Length::ZERO,
        OldBack::Grooved(_, depth) => *depth + BESIDE_JOINT,
    };
    // At a joint one panel is spoilt in its end, the other on its face over the thickness of the first.
    let (in_end, on_face) = match old.joint {
        OldJoint::Dowelled => (SPOILT_END, old.thickness + BESIDE_JOINT),
        OldJoint::Screwed => (SPOILT_END, old.thickness),
        OldJoint::Grooved => (Length::ZERO, old.thickness + BESIDE_JOINT),
    };
    let (side_ends, lying_ends) = if old.sides_run_through { (on_face, in_end) } else { (in_end, on_face) };
    let rows = if old.rows { ROW_STRIP } else { Length::ZERO };
    let panel = |what: &str, material: &str, length: Length, wide: Length, count: u32| Board {
        quantity: Some(count),
        source: BoardSource::Salvaged,
        family: old.name.clone(),
        ..Board::new(format!("{} {what}", old.name), material, (length, wide))
    };
    let spoilt = |ends: Length, near: Length, far: Length| {
        (ends > Length::ZERO || near > Length::ZERO || far > Length::ZERO).then_some((ends, ends, near, far))
    };
    let with = |board: Board<Length>, spoilt| Board { thickness: Some(old.thickness), spoilt, ..board };
    let mut boards = vec![
        with(panel("side", &old.material, side_length, depth, 2), spoilt(side_ends, rows, behind.max(rows))),
        with(panel("top or bottom", &old.material, lying_length, depth, 2), spoilt(lying_ends, Length::ZERO, behind)),
    ];
    if old.shelves > 0 {
        // Loose shelves have no joints; fixed ones are spoilt like all ends.
        let ends = if old.rows { Length::ZERO } else { in_end };
        let shelf = panel("shelf", &old.material, width - two, depth - behind - old.shelf_set_back, old.shelves);
        boards.push(with(shelf, spoilt(ends, Length::ZERO, Length::ZERO)));
    }
    match &old.back {
        OldBack::None => {}
        OldBack::Applied(material) => {
            // Nails run round the edges.
            let back = panel("back", material, height, width, 1);
            boards.push(Board { spoilt: Some((old.thickness, old.thickness, old.thickness, old.thickness)), ..back });
        }
        OldBack::Grooved(material, _) => {
            // Half the thickness stands in the groove on each side (common practice).
            let size = (height - old.thickness, width - old.thickness);
            boards.push(panel("back", material, size.0, size.1, 1));
        }
    }
    boards.retain(|board| {
        let (start, end, near, far) = board.spoilt.unwrap_or_default();
        board.size.0 > start + end && board.size.1 > near + far
    });
    boards
}
