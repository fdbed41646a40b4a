//! One rule for places along a joint, from its datum end.

use crate::geometry::middle;
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
    at_least(length, diameter, 0)
}

/// As [`places()`], but no fewer than `least` of them, as far as neighbours are then still 32 mm apart.
#[must_use]
pub fn at_least(length: Length, diameter: Length, least: usize) -> Vec<Length> {
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
    let most = (span.nm() / SHORTEST_PITCH.nm()).max(1);
    let steps = steps.max(1).max(most.min(i64::try_from(least).unwrap_or(i64::MAX).saturating_sub(1)));
    (0..=steps).map(|i| end + whole(span.nm() * i / steps)).collect()
}

/// The second pattern, for the other face of a panel: every place further from the datum end by 32 mm, or by a third of
/// the pitch where that is less; the last as much nearer. A single place moves by two diameters. Where three or more stand
/// closer than 96 mm because of their load, all move on by 16 mm, to between those of the first pattern.
#[must_use]
pub fn shifted_places(places: &[Length], diameter: Length) -> Vec<Length> {
    match places {
        [] => Vec::new(),
        [single] => vec![*single + diameter * 2],
        [first, second, ..] => {
            let pitch = *second - *first;
            if places.len() > 2 && pitch < SHORTEST_PITCH * 3 {
                return places.iter().map(|&place| place + SHORTEST_PITCH.half()).collect();
            }
            let shift = SHORTEST_PITCH.min(Length::from_mm(pitch.nm() / 3_000_000));
            let last = places.len() - 1;
            places.iter().enumerate().map(|(i, &place)| if i == last { place - shift } else { place + shift }).collect()
        }
    }
}

/// The gaps between dowels in which screws press a joint while its glue sets, as the indices of their first dowels: the
/// first and the last, and between them as many as leave no more than 400 mm from one to the next (own choice: about the
/// distance of clamps).
#[must_use]
pub fn pressed_gaps(places: &[Length]) -> Vec<usize> {
    const MOST_APART_NM: i64 = 400_000_000;
    let middle = |gap: usize| Some(middle((*places.get(gap)?, *places.get(gap + 1)?)));
    let Some(last) = places.len().checked_sub(2) else { return Vec::new() };
    let (Some(from), Some(to)) = (middle(0), middle(last)) else { return Vec::new() };
    let steps = ((to - from).nm() + MOST_APART_NM - 1).div_euclid(MOST_APART_NM).max(1);
    let wanted = (0..=steps).map(|i| from + Length::from_nm((to - from).nm() * i / steps));
    let mut gaps: Vec<usize> =
        wanted.filter_map(|at| (0..=last).min_by_key(|&gap| middle(gap).map(|it| (it - at).abs()))).collect();
    gaps.dedup();
    gaps
}
