//! Screws: which one, and its two holes.

use crate::joinery::WALL_UNDER;
use crate::length::Length;

/// A wood screw and its holes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Screw {
    /// Diameter of the thread.
    pub diameter: Length,
    /// Length.
    pub length: Length,
    /// Diameter of the hole that it passes.
    pub clearance: Length,
    /// Diameter of the hole that its thread bites into.
    pub pilot: Length,
    /// Depth of that hole.
    pub pilot_depth: Length,
}

/// Lengths that screws are sold in, mm (common practice).
const LENGTHS: [i64; 12] = [12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80];
/// The least length in an edge (common practice).
const LEAST_IN_EDGE: Length = Length::from_mm(25);

/// The screw through a face so thick into an edge that is so deep: it reaches one and a half times the thickness of the
/// face into the edge, and at least 25 mm (common practice); none if the edge is not deep enough for any.
#[must_use]
pub fn screw_for_edge(face_thickness: Length, edge_depth: Length) -> Option<Screw> {
    let reach = LEAST_IN_EDGE.max(Length::from_nm(face_thickness.nm() / 2 * 3));
    let most = face_thickness + edge_depth - WALL_UNDER;
    let lengths = || LENGTHS.iter().map(|&it| Length::from_mm(it)).filter(|&it| it <= most && it > face_thickness);
    lengths()
        .find(|&it| it >= face_thickness + reach)
        .or_else(|| lengths().next_back())
        .map(|it| screw(it, face_thickness))
}

/// The screw through one face into another: as long as leaves 4 mm under its tip; none if there is none so short.
#[must_use]
pub fn screw_for_face(first_thickness: Length, second_thickness: Length) -> Option<Screw> {
    let most = first_thickness + second_thickness - WALL_UNDER;
    let fits = |it: &Length| *it <= most && *it > first_thickness;
    LENGTHS.iter().rev().map(|&it| Length::from_mm(it)).find(fits).map(|it| screw(it, first_thickness))
}

/// 4 mm up to 45 mm of length, 5 mm beyond; the hole to pass is half a millimetre wider, that for the thread about
/// seven tenths (common practice).
fn screw(length: Length, face_thickness: Length) -> Screw {
    let thin = length <= Length::from_mm(45);
    let (diameter, pilot) = if thin { (4, 3_000) } else { (5, 3_500) };
    let diameter = Length::from_mm(diameter);
    Screw {
        diameter,
        length,
        clearance: diameter + Length::from_um(500),
        pilot: Length::from_um(pilot),
        pilot_depth: length - face_thickness,
    }
}
