//! The site round a piece: floor, walls, obstacles and a neighbouring worktop, as adjacent parts.

use casewright_core::Length;
use casewright_core::geometry::{Cuboid, Point as ModelPoint};
use casewright_core::survey::overhead;
use kurbo::{Point, Rect};

use super::scene::{Scene, mm, view_rect};
use crate::display::Layer;
use crate::hidden::{Body, Solid, view_lines_behind};
use crate::line::LineClass;
use crate::tag::Tag;
use crate::view::View;

/// How far round the piece the site is shown, in model millimetres.
const ROUND_MM: f64 = 200.0;

/// Draws what of the site lies near the piece and is not hidden by it; obstacles only where `shown`.
pub(crate) fn draw_site(view: &mut View, scene: &Scene<'_>, piece: &[Body], shown: impl Fn(&Cuboid) -> bool) {
    let window = view_rect(view.axes, &scene.assembly.envelope).inflate(ROUND_MM, ROUND_MM);
    let mut all = planes(scene);
    for obstacle in &scene.design.site.obstacles {
        let (x, y, z) = obstacle.corner;
        let (width, height, depth) = obstacle.size;
        let cuboid = Cuboid::from_ranges((x, x + width), (y, y + height), (z, z + depth));
        if shown(&cuboid) {
            all.push((obstacle.name.clone(), cuboid));
        }
    }
    all.extend(neighbour(scene).filter(&shown).map(|cuboid| ("neighbouring worktop".to_owned(), cuboid)));
    let subjects: Vec<Body> =
        all.iter().map(|(_, cuboid)| Body::Box(Solid { min: mm(cuboid.min), max: mm(cuboid.max) })).collect();
    for line in view_lines_behind(&subjects, piece, view.axes).into_iter().filter(|line| line.visible) {
        let Some((from, to)) = clipped(window, line.from, line.to) else { continue };
        let tag = all.get(line.owner).map(|(name, _)| Tag::Site(name.clone()));
        view.geometry.segment(Layer::Site, LineClass::Adjacent, tag, from, to);
    }
}

/// Floor and walls as flat boxes.
fn planes(scene: &Scene<'_>) -> Vec<(String, Cuboid)> {
    let far = Length::from_mm(5_000);
    let envelope = &scene.assembly.envelope;
    let (mut low, mut high) = (envelope.min.x - far, envelope.max.x + far);
    let mut all = Vec::new();
    if let Some(niche) = &scene.design.site.niche {
        let depth = niche.depth.unwrap_or(far);
        let top = niche.height.unwrap_or(far);
        if niche.left_wall {
            low = Length::ZERO;
            let wall = Cuboid::between(ModelPoint::default(), ModelPoint::new(Length::ZERO, top, depth));
            all.push(("left wall".to_owned(), wall));
        }
        if niche.right_wall {
            high = niche.width;
            let (foot, head) =
                (ModelPoint::new(niche.width, Length::ZERO, Length::ZERO), ModelPoint::new(niche.width, top, depth));
            all.push(("right wall".to_owned(), Cuboid::between(foot, head)));
        }
        if let Some(it) = overhead(scene.design, envelope) {
            for plane in it.planes {
                let (x, z) = (plane.x.unwrap_or((low, high)), (plane.z.0, plane.z.1.unwrap_or(far)));
                all.push((plane.name, Cuboid::from_ranges(x, (it.height, it.height), z)));
            }
        }
    }
    let zero = (Length::ZERO, Length::ZERO);
    all.push(("floor".to_owned(), Cuboid::from_ranges((low, high), zero, (Length::ZERO, far))));
    all.push(("wall".to_owned(), Cuboid::from_ranges((low, high), (Length::ZERO, far), zero)));
    all
}

/// The worktop next door, as far as it is near.
fn neighbour(scene: &Scene<'_>) -> Option<Cuboid> {
    let worktop = scene.design.site.neighbour_worktop.as_ref()?;
    let far = Length::from_mm(5_000);
    let envelope = &scene.assembly.envelope;
    let x =
        if worktop.on_left { (envelope.min.x - far, envelope.min.x) } else { (envelope.max.x, envelope.max.x + far) };
    Some(Cuboid::from_ranges(x, (worktop.height - worktop.thickness, worktop.height), (Length::ZERO, worktop.depth)))
}

/// The part of an upright or level line in a window.
fn clipped(window: Rect, from: Point, to: Point) -> Option<(Point, Point)> {
    let bounds = Rect::from_points(from, to);
    let inside = bounds.intersect(window);
    let meets = bounds.x1 >= window.x0 && bounds.x0 <= window.x1 && bounds.y1 >= window.y0 && bounds.y0 <= window.y1;
    let long = inside.width().max(inside.height()) > 1e-9;
    (meets && long).then_some((Point::new(inside.x0, inside.y0), Point::new(inside.x1, inside.y1)))
}
