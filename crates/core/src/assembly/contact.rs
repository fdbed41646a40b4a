//! Where boxes touch.

use crate::geometry::{Axis, Cuboid, Direction};

/// The rectangle in which two boxes touch, and the direction from the first into the second. Boxes that overlap or meet
/// only in a line do not touch.
pub(super) fn touch(a: &Cuboid, b: &Cuboid) -> Option<(Cuboid, Direction)> {
    Axis::ALL.iter().find_map(|&axis| {
        let direction = if a.range(axis).1 == b.range(axis).0 {
            Direction::new(axis, false)
        } else if a.range(axis).0 == b.range(axis).1 {
            Direction::new(axis, true)
        } else {
            return None;
        };
        let at = if direction.negative { a.range(axis).0 } else { a.range(axis).1 };
        let mut rectangle = a.with_range(axis, (at, at));
        for other in Axis::ALL.into_iter().filter(|&other| other != axis) {
            let low = a.range(other).0.max(b.range(other).0);
            let high = a.range(other).1.min(b.range(other).1);
            if low >= high {
                return None;
            }
            rectangle = rectangle.with_range(other, (low, high));
        }
        Some((rectangle, direction))
    })
}

/// The face of a box on its side in `direction`, as a flat box.
pub(super) fn face(cuboid: &Cuboid, direction: Direction) -> Cuboid {
    let (low, high) = cuboid.range(direction.axis);
    let at = if direction.negative { low } else { high };
    cuboid.with_range(direction.axis, (at, at))
}

/// All pairs of boxes, lower index first, whose boxes touch or overlap, in order.
pub(super) fn close_pairs(boxes: &[Cuboid]) -> Vec<(usize, usize)> {
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    order.sort_by_key(|&i| boxes.get(i).map(|it| it.min.x));
    let mut pairs = Vec::new();
    for (at, &i) in order.iter().enumerate() {
        let Some(a) = boxes.get(i) else { continue };
        for &j in order.iter().skip(at + 1) {
            let Some(b) = boxes.get(j) else { continue };
            if b.min.x > a.max.x {
                break;
            }
            if Axis::ALL.iter().all(|&axis| a.range(axis).0 <= b.range(axis).1 && b.range(axis).0 <= a.range(axis).1) {
                pairs.push((i.min(j), i.max(j)));
            }
        }
    }
    pairs.sort_unstable();
    pairs
}
