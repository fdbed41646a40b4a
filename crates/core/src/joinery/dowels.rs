//! Dowels: the series, and how deep they go.

use crate::joinery::WALL_UNDER;
use crate::length::Length;

/// Usual sizes of DIN 68150-1 wood dowels, diameter x length in millimetres (from memory).
pub const DIN_68150_1: [(i64, i64); 14] = [
    (5, 25),
    (6, 25),
    (6, 30),
    (6, 40),
    (8, 25),
    (8, 30),
    (8, 35),
    (8, 40),
    (8, 50),
    (10, 30),
    (10, 40),
    (10, 50),
    (10, 60),
    (12, 60),
];

/// Glue space at the bottom of each of the two holes (published trade rule: 1 mm).
const GLUE: Length = Length::from_mm(1);

/// Whether a dowel is of the usual series.
#[must_use]
pub fn is_usual_dowel(diameter: Length, length: Length) -> bool {
    DIN_68150_1.iter().any(|&(d, l)| (Length::from_mm(d), Length::from_mm(l)) == (diameter, length))
}

/// The depths of the two holes of a dowel, in the face of a part so thick and in the edge of the other; together the
/// length of the dowel and 1 mm for glue in each. The face takes two fifths of the length (common practice: a third
/// to two fifths), less where under 4 mm would be left beneath; whole millimetres.
#[must_use]
pub fn dowel_depths(length: Length, face_thickness: Length) -> (Length, Length) {
    let whole = |nm: i64| Length::from_mm(nm.div_euclid(1_000_000));
    let face = whole(length.nm() * 2 / 5).min(whole((face_thickness - WALL_UNDER).nm())).max(Length::ZERO);
    (face, length + GLUE * 2 - face)
}
