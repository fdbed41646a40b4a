//! One rule for places along a joint, from its datum end.

use crate::length::Length;

/// From the end of a joint to its first dowel or screw (common practice: 32 to 50 mm in carcass panels).
const FROM_END: Length = Length::from_mm(50);
/// The greatest distance between neighbours (published trade rule for dowels: at most 200 mm).
pub const LONGEST_PITCH: Length = Length::from_mm(200);
/// The smallest distance between neighbours (published trade rule for dowels: at least 25 to 32 mm).
pub const SHORTEST_PITCH: Length = Length::from_mm(32);

/// The places along a joint of this length, from its datum end, in whole millimetres: the first and the last 50 mm from the
/// ends, or a quarter of a joint under 200 mm; between them no more than 200 mm apart. A joint under 64 mm takes one in
/// the middle, and one that is shorter than three diameters takes none.
#[must_use]
pub fn places(length: Length, diameter: Length) -> Vec<Length> {
    let whole = |nm: i64| Length::from_mm(nm.div_euclid(1_000_000));
    if length < diameter * 3 {
        return Vec::new();
    }
    if length < SHORTEST_PITCH * 2 {
        return vec![whole(length.nm() / 2)];
    }
    let end = whole(length.nm() / 4).min(FROM_END);
    let span = length - end * 2;
    let steps = span.nm().div_euclid(LONGEST_PITCH.nm()) + i64::from(span.nm() % LONGEST_PITCH.nm() != 0);
    let steps = steps.max(1);
    (0..=steps).map(|i| end + whole(span.nm() * i / steps)).collect()
}

/// The second pattern, for the other face of a panel: every place further from the datum end by 32 mm, or by a third of
/// the pitch where that is less; the last as much nearer. A single place moves by two diameters.
#[must_use]
pub fn shifted_places(places: &[Length], diameter: Length) -> Vec<Length> {
    match places {
        [] => Vec::new(),
        [single] => vec![*single + diameter * 2],
        [first, second, ..] => {
            let pitch = *second - *first;
            let shift = SHORTEST_PITCH.min(Length::from_mm(pitch.nm() / 3_000_000));
            let last = places.len() - 1;
            places.iter().enumerate().map(|(i, &place)| if i == last { place - shift } else { place + shift }).collect()
        }
    }
}
