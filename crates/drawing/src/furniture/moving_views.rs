//! The piece with everything open, as far as it goes: moving parts in their end positions (ISO 128: dash-double-dot), the
//! arcs of what turns, obstacles, and the points of first contact.

use casewright_core::assembly::Motion;
use casewright_core::geometry::Axis;
use casewright_core::moving::tilt::tilt_outs;
use casewright_core::moving::{Clearances, Moving, PieceKind, Solid, placed};
use kurbo::{BezPath, Circle, Point, Rect, Shape};

use super::moving::{obstacles, way};
use super::scene::{DrawnPart, Scene, draw_areas, draw_parts, drawn_parts, view_rect};
use crate::display::Layer;
use crate::label::Label;
use crate::line::LineClass;
use crate::pointer::Pointer;
use crate::tag::Tag;
use crate::view::{Axes, View};

/// How far round all that moves the site is shown, mm.
const ROUND_MM: f64 = 120.0;
/// Smaller obstacles are pointed at instead of labelled inside, mm.
const LABEL_MM: f64 = 80.0;
/// Points of an arc.
const ARC_STEPS: u32 = 24;

/// The piece from above or from the left with everything open.
pub(crate) fn open_view<'a>(scene: &Scene<'a>, all: &Clearances, axes: Axes, id: &str, title: &str) -> View {
    let mut view = scene.view(id, title, axes);
    let parts: Vec<DrawnPart<'a>> = drawn_parts(scene, None, |_| true);
    draw_areas(&mut view, scene, &parts);
    draw_parts(&mut view, &parts, false);
    let mut window = view_rect(axes, &scene.assembly.envelope);
    for (clearance, moving) in all.each.iter().filter_map(|it| Some((it, all.moving.get(it.moving)?))) {
        let tag = (!moving.bay.is_empty()).then(|| Tag::Bay(moving.bay.clone()));
        let mut within: Option<Rect> = None;
        for body in bodies(moving) {
            let open = placed(&body, &moving.motion, clearance.opens);
            let path = outline(axes, &open);
            let bounds = path.bounding_box();
            within = Some(within.map_or(bounds, |it: Rect| it.union(bounds)));
            view.geometry.stroke(Layer::Movement, LineClass::Adjacent, tag.clone(), path);
            if let Some(arc) = arc(axes, moving, &body, clearance.opens) {
                window = window.union(arc.bounding_box());
                view.geometry.stroke(Layer::Movement, LineClass::Adjacent, tag.clone(), arc);
            }
        }
        let Some(within) = within else { continue };
        window = window.union(within);
        let words = vec![scene.say(&moving.id), way(scene, moving, clearance.opens)];
        view.labels.push(Label { within: outside(within, axes, scene), lines: words, tag: tag.clone() });
        if let Some(meeting) = clearance.meets.first() {
            let at = axes.project(meeting.touch.point);
            view.geometry.stroke(Layer::Movement, LineClass::VisibleOutline, tag.clone(), ring(at));
            let text = scene.say(&format!("{} at {}", meeting.with, way(scene, moving, meeting.touch.at)));
            view.pointers.push(Pointer { at: vec![at], text, tag, stays: false });
        }
    }
    let from_left = matches!(axes, Axes::Straight(right, _) if right.axis == Axis::Z);
    if from_left {
        draw_stays(&mut view, scene, all);
    }
    let window = window.inflate(ROUND_MM, ROUND_MM);
    for (name, solid) in obstacles(scene) {
        let path = outline(axes, &solid);
        let bounds = path.bounding_box().intersect(window);
        if bounds.width() <= 0.0 || bounds.height() <= 0.0 {
            continue;
        }
        let tag = Some(Tag::Site(name.clone()));
        let whole = window.contains(Point::new(path.bounding_box().x0, path.bounding_box().y0))
            && window.contains(Point::new(path.bounding_box().x1, path.bounding_box().y1));
        // From the left, what reaches on past the edge and begins beside the piece would only lie over it.
        let envelope = view_rect(axes, &scene.assembly.envelope);
        if !whole && from_left && bounds.x0 < envelope.x1 {
            continue;
        }
        let shown = if whole { path } else { bounds.to_path(1e-3) };
        view.geometry.stroke(Layer::Site, LineClass::Adjacent, tag.clone(), shown);
        if bounds.width().min(bounds.height()) < LABEL_MM {
            let at = [bounds.center(), Point::new(bounds.x1, bounds.y1), Point::new(bounds.x0, bounds.y0)];
            view.pointers.push(Pointer { at: at.to_vec(), text: scene.say_unless_named(&name), tag, stays: false });
        } else {
            view.labels.push(Label { within: bounds, lines: vec![scene.say_unless_named(&name)], tag });
        }
    }
    view
}

/// The strings, stays and struts that the design gives, as lines between their ends with all open.
fn draw_stays(view: &mut View, scene: &Scene<'_>, all: &Clearances) {
    for it in tilt_outs(scene.design, scene.assembly).iter().filter(|it| it.is_given) {
        let moving = all.moving.iter().position(|moving| moving.id == it.id);
        let clearance = moving.and_then(|at| all.each.iter().find(|it| it.moving == at));
        let opens = clearance.map_or(it.opens_deg, |it| it.opens).to_radians().min(it.stops_at());
        let Some(ends) = it.ends_at(scene.assembly, opens) else { continue };
        let [a, b] = ends.map(|(y, z)| view.axes.project([0.0, y, z]));
        let tag = Some(Tag::Bay(it.bay.clone()));
        view.geometry.segment(Layer::Movement, LineClass::Adjacent, tag.clone(), a, b);
        for end in [a, b] {
            view.geometry.stroke(
                Layer::Movement,
                LineClass::VisibleOutline,
                tag.clone(),
                Circle::new(end, 6.0).to_path(0.1),
            );
        }
    }
}

/// The part of an open body before the carcass, where there is room for its label.
fn outside(within: Rect, axes: Axes, scene: &Scene<'_>) -> Rect {
    let envelope = view_rect(axes, &scene.assembly.envelope);
    let Axes::Straight(right, _) = axes else { return within };
    let room = if right.axis == Axis::Z {
        Rect::new(within.x0.max(envelope.x1), within.y0, within.x1, within.y1)
    } else {
        Rect::new(within.x0, within.y0, within.x1, within.y1.min(envelope.y0))
    };
    if room.width() > 0.0 && room.height() > 0.0 { room } else { within }
}

/// What is drawn of a mover: each front, and one box round all the rest.
fn bodies(moving: &Moving) -> Vec<Solid> {
    let (fronts, rest): (Vec<_>, Vec<_>) = moving.pieces.iter().partition(|it| it.kind == PieceKind::Front);
    let mut all: Vec<Solid> = fronts.into_iter().map(|it| it.solid.clone()).collect();
    let union = |a: [(f64, f64); 3], b: [(f64, f64); 3]| {
        let one = |i: usize| {
            let (Some(a), Some(b)) = (a.get(i), b.get(i)) else { return (0.0, 0.0) };
            (a.0.min(b.0), a.1.max(b.1))
        };
        [one(0), one(1), one(2)]
    };
    let rest = rest.into_iter().map(|it| Axis::ALL.map(|axis| it.solid.range(axis))).reduce(union);
    all.extend(rest.map(Solid::Box));
    all
}

/// The outline of a body in a straight view: its own where one looks along its axis, else that of the box round it.
fn outline(axes: Axes, solid: &Solid) -> BezPath {
    if let Solid::Prism { axis, range, outline } = solid {
        let sight = axes.to_viewer();
        if sight.get(axis.index()).is_some_and(|it| *it != 0.0) {
            let mut path = BezPath::new();
            for (index, &[u, v]) in outline.iter().enumerate() {
                let point = axes.project(match axis {
                    Axis::X => [range.0, u, v],
                    Axis::Y => [v, range.0, u],
                    Axis::Z => [u, v, range.0],
                });
                if index == 0 {
                    path.move_to(point);
                } else {
                    path.line_to(point);
                }
            }
            path.close_path();
            return path;
        }
    }
    let corner = |high: bool| Axis::ALL.map(|axis| if high { solid.range(axis).1 } else { solid.range(axis).0 });
    Rect::from_points(axes.project(corner(false)), axes.project(corner(true))).to_path(1e-3)
}

/// The way of the point of a body that is farthest from the axis, where one looks along that.
fn arc(axes: Axes, moving: &Moving, body: &Solid, opens: f64) -> Option<BezPath> {
    let Motion::Turn { pivot, axis, .. } = moving.motion else { return None };
    if axes.to_viewer().get(axis.axis.index()).is_none_or(|it| *it == 0.0) {
        return None;
    }
    let centre = axes.project([pivot.x.mm(), pivot.y.mm(), pivot.z.mm()]);
    let corners = |solid: &Solid| {
        let mut all = Vec::new();
        for element in outline(axes, solid).elements() {
            if let kurbo::PathEl::MoveTo(point) | kurbo::PathEl::LineTo(point) = element {
                all.push(*point);
            }
        }
        all
    };
    // Turned by nothing a box is the prism whose corners keep their order, so that one index follows one corner.
    let start = corners(&placed(body, &moving.motion, 0.0));
    let far = (0..start.len()).max_by(|&a, &b| {
        let distance = |i: usize| start.get(i).map_or(0.0, |it| it.distance(centre));
        distance(a).total_cmp(&distance(b))
    })?;
    let mut path = BezPath::new();
    for step in 0..=ARC_STEPS {
        let amount = opens * f64::from(step) / f64::from(ARC_STEPS);
        let point = *corners(&placed(body, &moving.motion, amount)).get(far)?;
        if step == 0 {
            path.move_to(point);
        } else {
            path.line_to(point);
        }
    }
    Some(path)
}

/// A small ring round a point of contact.
fn ring(at: Point) -> BezPath {
    Circle::new(at, 12.0).to_path(0.1)
}
