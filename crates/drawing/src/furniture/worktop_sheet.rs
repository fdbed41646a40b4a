//! The worktop in plan, and its outline in full size for a template or a cutter.

use casewright_core::Length;
use casewright_core::worktop::{Outline, reverse_curve_radius, step_length};
use kurbo::{Affine, Point, Rect, Shape};

use super::cautions::Concern;
use super::checklist::Column;
use super::installation::worktop_figures;
use super::order::place;
use super::pack::title_block;
use super::scene::Scene;
use crate::dimension::{Chain, Side, Span};
use crate::display::{Display, Layer};
use crate::line::LineClass;
use crate::sheet::{Format, Sheet};
use crate::tiles::tile_full_size;
use crate::view::Axes;

/// The name of this sheet.
const NAME: &str = "Worktop";
/// Clear space within the frame, in millimetres.
const MARGIN_MM: f64 = 6.0;

/// The outline of the worktop if it is more than a rectangle.
fn shaped<'a>(scene: &Scene<'a>) -> Option<&'a Outline> {
    scene.design.carcass.worktop.as_ref()?.shape.as_ref()?;
    scene.assembly.worktop.as_ref().map(|it| &it.outline)
}

/// The edges in full size, the front below: x as the wall, y against the site's z.
fn full_size(outline: &Outline) -> Display {
    let flip = Affine::scale_non_uniform(1.0, -1.0);
    let mut display = Display::new();
    display.stroke(Layer::Outline, LineClass::VisibleOutline, None, flip * outline.edge.clone());
    for (_, path, _) in &outline.cut_outs {
        display.stroke(Layer::Outline, LineClass::VisibleOutline, None, flip * path.clone());
    }
    display
}

/// The plan of a worktop with a shape.
pub(crate) fn worktop_sheet(scene: &Scene<'_>, format: Format) -> Option<Sheet> {
    let outline = shaped(scene)?;
    let space = format.drawing_space();
    let mut view = scene.view("worktop", "Worktop from above", Axes::FROM_ABOVE);
    view.geometry = full_size(outline);
    let bounds = outline.edge.bounding_box();
    let span = |from: f64, to: f64| {
        let (from, to) = (Length::from_mm_f64(from), Length::from_mm_f64(to));
        let text = scene.dimension((to - from).rounded_to(Length::from_um(100)));
        Span { from, to, text, tag: None }
    };
    let chain = |side, rank, spans| Chain { side, rank, feature: None, spans };
    view.chains.push(chain(Side::Below, 9, vec![span(bounds.x0, bounds.x1)]));
    view.chains.push(chain(Side::Left, 9, vec![span(-bounds.y1, -bounds.y0)]));
    for (_, path, _) in &outline.cut_outs {
        let hole = path.bounding_box();
        let across = vec![span(bounds.x0, hole.x0), span(hole.x0, hole.x1), span(hole.x1, bounds.x1)];
        let out = vec![span(-bounds.y1, -hole.y1), span(-hole.y1, -hole.y0), span(-hole.y0, -bounds.y0)];
        view.chains.push(chain(Side::Below, 0, across));
        view.chains.push(chain(Side::Left, 0, out));
    }
    let shape = scene.design.carcass.worktop.as_ref()?.shape.as_ref()?;
    let mut from = bounds.x0;
    let mut pieces = Vec::new();
    for x in shape.joints.iter().map(|it| outline.slab.x0 + it.mm()).chain([bounds.x1]) {
        pieces.push(span(from, x));
        from = x;
        if x < bounds.x1 {
            let line = [Point::new(x, -bounds.y1), Point::new(x, -bounds.y0)];
            view.geometry.segment(Layer::Outline, LineClass::VisibleOutline, None, line[0], line[1]);
        }
    }
    if pieces.len() > 1 {
        view.chains.push(chain(Side::Above, 0, pieces));
    }
    let mut sheet = Sheet::new(format, title_block(scene, NAME, "Part drawing", Concern::Workshop));
    let mut lines = vec![worktop_figures(scene, outline)];
    for (what, radius) in [("left", shape.corners.0), ("right", shape.corners.1)] {
        if let Some(radius) = radius {
            lines.push(format!("front corner at the {what}: R{}", scene.format(radius)));
        }
    }
    let tenth = |mm: f64| scene.format(Length::from_mm_f64(mm).rounded_to(Length::from_um(100)));
    if let Some(step) = &shape.step {
        let out = step.out.mm();
        let (length, radius) = match (step.length, step.radius) {
            (Some(length), _) => (length.mm(), reverse_curve_radius(length.mm(), out)),
            (None, Some(radius)) => (step_length(radius.mm(), out).unwrap_or_default(), radius.mm()),
            (None, None) => (0.0, 0.0),
        };
        lines.push(format!(
            "transition of the front from {} over {}: two arcs of R{}",
            scene.format(step.from),
            tenth(length),
            tenth(radius)
        ));
    }
    for (index, point) in shape.front.iter().enumerate() {
        let round = point.round.map_or_else(String::new, |it| format!(", rounded R{}", scene.format(it)));
        let bow = point.bow.map_or_else(String::new, |it| format!(", from there bowed by {}", scene.format(it)));
        lines.push(format!(
            "front point {}: {} from the left end, {} out{round}{bow}",
            index + 1,
            scene.format(point.at.0),
            scene.format(point.at.1)
        ));
    }
    for joint in &shape.joints {
        lines.push(format!("joint at {} from the left end, with its connectors from below", scene.format(*joint)));
    }
    for (name, _, radius) in &outline.cut_outs {
        lines.push(format!("opening for {name}: corners R{}", scene.format(Length::from_mm_f64(*radius))));
    }
    for (at, off) in &shape.wall {
        let computed = outline_at(outline, at.mm());
        let text = computed.map_or_else(String::new, |it| {
            format!(", cut at {}", scene.format(Length::from_mm_f64(it).rounded_to(Length::from_um(100))))
        });
        lines.push(format!("wall at {}: measured {}{text}", scene.format(*at), scene.format(*off)));
    }
    let notes = Rect::new(space.x0, space.y0, space.x0 + space.width() * 0.5, space.y0 + space.height() * 0.45);
    let mut column = Column::new(scene, notes.inset(-MARGIN_MM));
    for line in &lines {
        if column.room() >= column.height_of(line) {
            column.line(line);
        }
    }
    sheet.content.items.extend(column.display.items);
    let picture = Rect::new(space.x0, notes.y1, space.x1, space.y1).inset(-MARGIN_MM);
    sheet.content.items.extend(place(&view, picture)?.items);
    Some(sheet)
}

/// How far out the rear edge is at a place along the wall.
fn outline_at(outline: &Outline, x: f64) -> Option<f64> {
    use kurbo::{Line, ParamCurve};
    let bounds = outline.edge.bounding_box();
    let probe = Line::new((x, bounds.y0 - 10.0), (x, bounds.center().y));
    let rear = outline.sides.first().map(|(_, path)| path)?;
    rear.segments().find_map(|segment| segment.intersect_line(probe).first().map(|hit| segment.eval(hit.segment_t).y))
}

/// The template of a worktop with a shape in full size: A4 pages to be put together.
#[must_use]
pub fn worktop_template(scene: &Scene<'_>) -> Vec<Sheet> {
    let Some(outline) = shaped(scene) else { return Vec::new() };
    let block = title_block(scene, NAME, "Full-size template", Concern::Workshop);
    let (name, note) = (scene.say("Worktop template"), scene.say("front edge below, seen from above"));
    tile_full_size(&name, &note, &full_size(outline), &block).into_sheets()
}

/// The outline in full size as a drawing of its own, for a cutter; none if it is a plain rectangle.
#[must_use]
pub fn worktop_full_size(scene: &Scene<'_>) -> Option<Display> {
    shaped(scene).map(full_size)
}
