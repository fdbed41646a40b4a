//! Curves again out of the short lines that stand for them, so that they are drawn in one stroke without notches.

use std::f64::consts::PI;

use kurbo::{BezPath, Point};

use crate::hidden::ViewLine;

/// Two lines of one body meet when their ends are so near, and go on as a curve when they turn by so little.
const MEET_MM: f64 = 1e-3;
const TURN_RAD: f64 = PI / 6.0;

/// The lines of a view as strokes: those of shaped bodies that go on in one another together.
pub(super) fn strokes(lines: Vec<ViewLine>, is_shaped: impl Fn(usize) -> bool) -> Vec<(ViewLine, BezPath)> {
    let mut left: Vec<Option<ViewLine>> = lines.into_iter().map(Some).collect();
    let mut strokes = Vec::new();
    for first in 0..left.len() {
        let Some(line) = left.get_mut(first).and_then(Option::take) else { continue };
        let mut points = vec![line.from, line.to];
        if is_shaped(line.owner) {
            // On from its end, then on from its beginning.
            for _ in 0..2 {
                while let Some(next) = next(&points, &line, &mut left) {
                    points.push(next);
                }
                points.reverse();
            }
        }
        let mut path = BezPath::new();
        for (index, point) in points.into_iter().enumerate() {
            if index == 0 { path.move_to(point) } else { path.line_to(point) }
        }
        strokes.push((line, path));
    }
    strokes
}

/// Where the line goes that goes on from the last point; it is taken out of those that are left.
fn next(points: &[Point], line: &ViewLine, left: &mut [Option<ViewLine>]) -> Option<Point> {
    let [.., before, end] = points else { return None };
    let way = *end - *before;
    left.iter_mut().find_map(|slot| {
        let other = slot.filter(|it| it.owner == line.owner && it.visible == line.visible)?;
        let to = if other.from.distance(*end) < MEET_MM {
            other.to
        } else if other.to.distance(*end) < MEET_MM {
            other.from
        } else {
            return None;
        };
        let on = to - *end;
        (way.cross(on).atan2(way.dot(on)).abs() < TURN_RAD).then(|| {
            *slot = None;
            to
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Vec2;

    #[test]
    fn what_turns_little_is_one_stroke() {
        let at = |degrees: f64| (Vec2::from_angle(degrees.to_radians()) * 100.0).to_point();
        let line = |from: Point, to: Point, owner: usize| ViewLine { from, to, owner, visible: true };
        // A quarter circle in nine chords, shuffled and turned round; a line square on its end; one of another body.
        let chords: Vec<ViewLine> = [4, 0, 8, 1, 7, 2, 6, 3, 5]
            .map(|it| (f64::from(it) * 10.0, f64::from(it) * 10.0 + 10.0))
            .map(|(a, b)| if a > 40.0 { line(at(b), at(a), 0) } else { line(at(a), at(b), 0) })
            .to_vec();
        let square = line(at(0.0), at(0.0) + Vec2::new(50.0, 0.0), 0);
        let other = line(at(90.0), at(90.0) - Vec2::new(50.0, 0.0), 1);
        let all = [chords, vec![square, other]].concat();
        let found = strokes(all.clone(), |_| true);
        let lengths: Vec<usize> = found.iter().map(|(_, path)| path.elements().len()).collect();
        assert_eq!(lengths, [10, 2, 2]);
        assert_eq!(strokes(all, |_| false).len(), 11);
    }
}
