//! What moves: end positions as adjacent parts, arcs of swing, and swing lines on fronts.

use casewright_core::assembly::{Motion, Mover};
use casewright_core::design::Role;
use casewright_core::geometry::{Axis, Cuboid, Direction};
use kurbo::{Arc, BezPath, Point, Rect, Shape, Vec2};

use super::scene::{Plane, Scene, mm, view_rect};
use crate::display::Layer;
use crate::line::LineClass;
use crate::tag::Tag;
use crate::view::{Axes, View};

/// End positions of everything that moves in the plane of a section and is met by it.
pub(crate) fn draw_movement(view: &mut View, scene: &Scene<'_>, plane: Plane) {
    for mover in &scene.assembly.movers {
        let Some(cuboid) = moving_box(scene, mover) else { continue };
        if !plane.cuts(&cuboid) {
            continue;
        }
        let tag = Some(Tag::Bay(mover.bay.clone()));
        match mover.motion {
            Motion::Slide { direction, travel } if direction.axis != plane.axis => {
                let rect = view_rect(view.axes, &cuboid.moved(direction, travel));
                view.geometry.rectangle(Layer::Movement, LineClass::Adjacent, tag, rect);
            }
            Motion::Turn { pivot, axis, opens_deg } if axis.axis == plane.axis => {
                let pivot = mm(pivot);
                for path in swing(view.axes, &cuboid, pivot, axis, opens_deg) {
                    view.geometry.stroke(Layer::Movement, LineClass::Adjacent, tag.clone(), path);
                }
            }
            Motion::Slide { .. } | Motion::Turn { .. } => {}
        }
    }
}

/// The box round all parts of a mover.
fn moving_box(scene: &Scene<'_>, mover: &Mover) -> Option<Cuboid> {
    let parts = mover.parts.iter().filter_map(|index| scene.assembly.parts.get(*index));
    parts.map(|part| part.cuboid).reduce(|all, one| all.union(&one))
}

/// The open position of a box that turns about an axis along the line of sight, and the arc of its farthest corner.
fn swing(axes: Axes, cuboid: &Cuboid, pivot: [f64; 3], axis: Direction, opens_deg: f64) -> Vec<BezPath> {
    let centre = axes.project(pivot);
    let shut = view_rect(axes, cuboid);
    // A turn is counter-clockwise for a viewer whom the axis points at.
    let towards = axes.to_viewer().get(axis.axis.index()).copied().unwrap_or_default() * axis.sign() as f64;
    let angle = opens_deg.to_radians() * if towards > 0.0 { 1.0 } else { -1.0 };
    let turned = |point: Point| {
        let offset = point - centre;
        let (sin, cos) = angle.sin_cos();
        centre + Vec2::new(offset.x * cos - offset.y * sin, offset.x * sin + offset.y * cos)
    };
    let corners = [
        Point::new(shut.x0, shut.y0),
        Point::new(shut.x1, shut.y0),
        Point::new(shut.x1, shut.y1),
        Point::new(shut.x0, shut.y1),
    ];
    let mut open = BezPath::new();
    for (index, corner) in corners.into_iter().enumerate() {
        if index == 0 {
            open.move_to(turned(corner));
        } else {
            open.line_to(turned(corner));
        }
    }
    open.close_path();
    let far = corners.into_iter().max_by(|a, b| a.distance(centre).total_cmp(&b.distance(centre)));
    let arc = far.map(|corner| {
        let offset = corner - centre;
        let radius = offset.hypot();
        Arc::new(centre, (radius, radius), offset.atan2(), angle, 0.0).to_path(0.01)
    });
    std::iter::once(open).chain(arc).collect()
}

/// Swing lines on hinged fronts, seen from the front: from the ends of the hinged edge to the middle of the other.
pub(crate) fn draw_swing_lines(view: &mut View, scene: &Scene<'_>) {
    for mover in &scene.assembly.movers {
        let Motion::Turn { pivot, axis, .. } = mover.motion else { continue };
        if axis.axis == Axis::Z {
            continue;
        }
        let hinge = view.axes.project(mm(pivot));
        let parts = mover.parts.iter().filter_map(|index| scene.assembly.parts.get(*index));
        for front in parts.filter(|part| part.role == Role::Front) {
            let rect = view_rect(view.axes, &front.cuboid);
            let path = swing_lines(rect, hinge, axis.axis == Axis::Y);
            let tag = Some(Tag::Part(front.number.clone()));
            view.geometry.stroke(Layer::Movement, LineClass::Adjacent, tag, path);
        }
    }
}

fn swing_lines(rect: Rect, hinge: Point, is_upright: bool) -> BezPath {
    let (a, tip, b) = if is_upright {
        let at_left = (hinge.x - rect.x0).abs() < (hinge.x - rect.x1).abs();
        let (x, far) = if at_left { (rect.x0, rect.x1) } else { (rect.x1, rect.x0) };
        (Point::new(x, rect.y0), Point::new(far, rect.center().y), Point::new(x, rect.y1))
    } else {
        let is_below = (hinge.y - rect.y0).abs() < (hinge.y - rect.y1).abs();
        let (y, far) = if is_below { (rect.y0, rect.y1) } else { (rect.y1, rect.y0) };
        (Point::new(rect.x0, y), Point::new(rect.center().x, far), Point::new(rect.x1, y))
    };
    let mut path = BezPath::new();
    path.move_to(a);
    path.line_to(tip);
    path.line_to(b);
    path
}
