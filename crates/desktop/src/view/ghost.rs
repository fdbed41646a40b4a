//! Drawers, doors and tilting compartments opened part of the way, as dash-double-dot outlines over every view (ISO 128
//! line type 05.1: end positions of moving parts).

use casewright_core::assembly::{Assembly, Motion, Mover};
use casewright_core::geometry::{Axis, Cuboid, Direction};
use casewright_drawing::{Axes, LineClass, LineGroup};
use egui::{Painter, Pos2, Shape, Stroke};
use kurbo::Point;

use super::paint::dashes;
use super::polygon::{corners, hull};
use crate::theme::Palette;

/// A point after a motion has gone `share` of its way, millimetres.
#[must_use]
pub fn moved(point: [f64; 3], motion: &Motion, share: f64) -> [f64; 3] {
    match motion {
        Motion::Slide { direction, travel } => {
            let mut moved = point;
            if let Some(along) = moved.get_mut(direction.axis.index()) {
                *along += travel.mm() * share * direction.sign() as f64;
            }
            moved
        }
        Motion::Turn { pivot, axis, opens_deg } => {
            let pivot = [pivot.x.mm(), pivot.y.mm(), pivot.z.mm()];
            turned(point, pivot, *axis, opens_deg.to_radians() * share)
        }
    }
}

/// A point turned about an axis, counter-clockwise seen against it (right-handed).
fn turned(point: [f64; 3], pivot: [f64; 3], axis: Direction, angle_rad: f64) -> [f64; 3] {
    let (sin, cos) = (angle_rad * axis.sign() as f64).sin_cos();
    let [x, y, z] = [point[0] - pivot[0], point[1] - pivot[1], point[2] - pivot[2]];
    let [x, y, z] = match axis.axis {
        Axis::X => [x, y * cos - z * sin, y * sin + z * cos],
        Axis::Y => [x * cos + z * sin, y, z * cos - x * sin],
        Axis::Z => [x * cos - y * sin, x * sin + y * cos, z],
    };
    [x + pivot[0], y + pivot[1], z + pivot[2]]
}

/// The outlines of everything that a mover moves, in a view, after `share` of the way.
#[must_use]
pub fn outlines(assembly: &Assembly, mover: &Mover, axes: Axes, share: f64) -> Vec<Vec<Point>> {
    let parts = mover.parts.iter().filter_map(|index| assembly.parts.get(*index)).map(|part| part.cuboid);
    let things = mover.things.iter().filter_map(|index| assembly.things.get(*index)).map(|thing| thing.cuboid);
    let outline = |cuboid: Cuboid| {
        hull(corners(&cuboid).into_iter().map(|corner| axes.project(moved(corner, &mover.motion, share))).collect())
    };
    parts.chain(things).map(outline).collect()
}

/// Paints every mover of a bay, or of all bays, opened so far.
pub fn paint(
    painter: &Painter,
    palette: &Palette,
    assembly: &Assembly,
    (axes, share, points_per_mm): (Axes, f64, f64),
    bay: Option<&str>,
    to_window: &dyn Fn(Point) -> Pos2,
) {
    if share <= 0.0 {
        return;
    }
    let width_mm = LineGroup::HALF.width_mm(LineClass::Adjacent);
    let (marks, gaps) = dashes(LineClass::Adjacent, width_mm, points_per_mm);
    let mut shapes = Vec::new();
    for mover in assembly.movers.iter().filter(|mover| bay.is_none_or(|bay| mover.bay == bay)) {
        for outline in outlines(assembly, mover, axes, share) {
            let mut line: Vec<Pos2> = outline.into_iter().map(to_window).collect();
            line.extend(line.first().copied());
            let stroke = Stroke::new(1.2, palette.mark);
            Shape::dashed_line_many_with_offset(&line, stroke, &marks, &gaps, 0.0, &mut shapes);
        }
    }
    painter.extend(shapes);
}

#[cfg(test)]
mod tests {
    use casewright_core::geometry::Point as Place;
    use casewright_core::length::Length;

    use super::*;

    #[test]
    fn drawers_come_out_and_doors_turn_about_their_edge() {
        let check = |motion: Motion, share: f64, point: [f64; 3], expected: [f64; 3]| {
            let got = moved(point, &motion, share);
            assert!(got.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{got:?}");
        };
        let slide = Motion::Slide { direction: Direction::FRONT, travel: Length::from_mm(500) };
        check(slide, 0.5, [10.0, 20.0, 30.0], [10.0, 20.0, 280.0]);
        // A door hinged at the left, x = 0, z = 600: its right edge comes out to the front. Seen from above, that is
        // clockwise, so the axis points down.
        let pivot = Place::new(Length::ZERO, Length::ZERO, Length::from_mm(600));
        let door = Motion::Turn { pivot, axis: Direction::DOWN, opens_deg: 90.0 };
        check(door, 1.0, [400.0, 50.0, 600.0], [0.0, 50.0, 1000.0]);
        check(door, 0.0, [400.0, 50.0, 600.0], [400.0, 50.0, 600.0]);
    }
}
