//! Areas: convex hulls of projected boxes, and triangles for filling any simple outline.

use casewright_core::geometry::{Axis, Cuboid};
use casewright_drawing::Axes;
use egui::{Color32, Mesh, Pos2};
use kurbo::Point;

/// The corners of a box, millimetres.
pub(super) fn corners(cuboid: &Cuboid) -> Vec<[f64; 3]> {
    let range = |axis| {
        let (low, high) = cuboid.range(axis);
        [low.mm(), high.mm()]
    };
    let mut corners = Vec::with_capacity(8);
    for x in range(Axis::X) {
        for y in range(Axis::Y) {
            for z in range(Axis::Z) {
                corners.push([x, y, z]);
            }
        }
    }
    corners
}

/// The outline of a box in a view, counter-clockwise: a rectangle in straight views, a hexagon in space.
#[must_use]
pub fn outline(axes: Axes, cuboid: &Cuboid) -> Vec<Point> {
    hull(corners(cuboid).into_iter().map(|corner| axes.project(corner)).collect())
}

/// The convex hull, counter-clockwise (Andrew's monotone chain).
#[must_use]
pub fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup_by(|a, b| a.distance(*b) < 1e-9);
    if points.len() < 3 {
        return points;
    }
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for point in points {
            while let [.., a, b] = chain.as_slice() {
                if (*b - *a).cross(point - *b) > 1e-9 {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut all = half(&mut points.iter().copied());
    all.extend(half(&mut points.iter().rev().copied()));
    all
}

/// Whether a point lies inside a convex outline that runs counter-clockwise.
#[must_use]
pub fn contains(outline: &[Point], point: Point) -> bool {
    outline.len() >= 3
        && outline.iter().zip(outline.iter().cycle().skip(1)).all(|(a, b)| (*b - *a).cross(point - *a) >= 0.0)
}

/// Triangles that fill a simple outline, by cutting off ears. An outline that crosses itself is filled in part.
#[must_use]
pub fn filled(outline: &[Pos2], colour: Color32) -> Mesh {
    let mut mesh = Mesh::default();
    for point in outline {
        mesh.colored_vertex(*point, colour);
    }
    let cross = |a: Pos2, b: Pos2, c: Pos2| (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
    let area: f32 = outline.iter().zip(outline.iter().cycle().skip(1)).map(|(a, b)| a.x * b.y - b.x * a.y).sum();
    let turn = area.signum();
    let mut left: Vec<usize> = (0..outline.len()).collect();
    let at = |index: usize| outline.get(index).copied().unwrap_or_default();
    while left.len() > 3 {
        let count = left.len();
        let corner = |i: usize| {
            let pick = |i: usize| left.get(i % count).copied().unwrap_or_default();
            (pick(i + count - 1), pick(i), pick(i + 1))
        };
        let ear = (0..count).find(|&i| {
            let (a, b, c) = corner(i);
            let (pa, pb, pc) = (at(a), at(b), at(c));
            let is_convex = cross(pa, pb, pc) * turn > 0.0;
            let is_inside =
                |p: Pos2| [(pa, pb), (pb, pc), (pc, pa)].into_iter().all(|(from, to)| cross(from, to, p) * turn >= 0.0);
            is_convex && left.iter().all(|&other| [a, b, c].contains(&other) || !is_inside(at(other)))
        });
        let Some(ear) = ear else { break };
        let (a, b, c) = corner(ear);
        mesh.add_triangle(a as u32, b as u32, c as u32);
        left.remove(ear);
    }
    if let [a, b, c] = left.as_slice() {
        mesh.add_triangle(*a as u32, *b as u32, *c as u32);
    }
    mesh
}

#[cfg(test)]
mod tests {
    use super::*;
    use casewright_core::geometry::Point as Place;
    use casewright_core::length::Length;

    #[test]
    fn a_box_is_a_rectangle_from_the_front_and_a_hexagon_in_space() {
        let mm = Length::from_mm;
        let cuboid = Cuboid::between(Place::new(mm(0), mm(0), mm(0)), Place::new(mm(10), mm(20), mm(30)));
        assert_eq!(outline(Axes::FRONT, &cuboid).len(), 4);
        let hexagon = outline(Axes::Isometric, &cuboid);
        assert_eq!(hexagon.len(), 6);
        let middle = Axes::Isometric.project([5.0, 10.0, 15.0]);
        assert!(contains(&hexagon, middle) && !contains(&hexagon, Point::new(100.0, 0.0)));
    }

    #[test]
    fn triangles_cover_a_hollow_outline_exactly() {
        // An L of area 3.
        let l = [(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 1.0), (1.0, 2.0), (0.0, 2.0)].map(|(x, y)| Pos2::new(x, y));
        for outline in [l.to_vec(), l.iter().rev().copied().collect()] {
            let mesh = filled(&outline, crate::theme::CLEAR);
            let area: f32 = mesh
                .indices
                .chunks(3)
                .map(|t| {
                    let [a, b, c] = [t[0], t[1], t[2]].map(|i| mesh.vertices[i as usize].pos);
                    ((b - a).x * (c - a).y - (b - a).y * (c - a).x).abs() / 2.0
                })
                .sum();
            assert!((area - 3.0).abs() < 1e-6, "{area}");
            assert_eq!(mesh.indices.len(), 12);
        }
    }
}
