//! Parts as solids: boxes less their grooves, in exact lengths.

use crate::assembly::{Machining, Part};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::joinery::groove_in_world;
use crate::length::Length;

/// The boxes that a part fills.
pub(super) fn solid_of(part: &Part) -> Vec<Cuboid> {
    let mut boxes = vec![part.cuboid];
    for machining in &part.machining {
        if let Machining::Groove(groove) = machining
            && let Some(space) = groove_in_world(part, groove)
        {
            boxes = boxes.iter().flat_map(|it| without(it, &space)).collect();
        }
    }
    boxes
}

/// What is left of a box when another is cut out of it: up to six boxes that do not overlap.
pub(super) fn without(whole: &Cuboid, cut: &Cuboid) -> Vec<Cuboid> {
    if !whole.overlaps(cut) {
        return vec![*whole];
    }
    let mut left = *whole;
    let mut pieces = Vec::new();
    for axis in Axis::ALL {
        let (from, to) = left.range(axis);
        let (low, high) = cut.range(axis);
        if low > from {
            pieces.push(left.with_range(axis, (from, low)));
        }
        if high < to {
            pieces.push(left.with_range(axis, (high, to)));
        }
        left = left.with_range(axis, (from.max(low), to.min(high)));
    }
    pieces
}

/// Whether a solid that leaves in this direction, as far as one likes, meets the other on its way.
pub(super) fn meets_on_its_way(moving: &[Cuboid], standing: &[Cuboid], direction: Direction) -> bool {
    let far = Length::LIMIT;
    moving.iter().any(|it| {
        let swept = it.grown(direction, far);
        standing.iter().any(|other| swept.overlaps(other))
    })
}
