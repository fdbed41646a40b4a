//! The order of work on sheets: for each step an exploded isometric and a list to tick.

use casewright_core::assembly::{Motion, Part};
use casewright_core::build_plan::{BuildPlan, Step, StepKind};
use casewright_core::design::Role;
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::length::Length;
use kurbo::{Point, Rect, Vec2};

use super::cautions::Concern;
use super::checklist::Column;
use super::curves::strokes;
use super::lists::counted;
use super::pack::title_block;
use super::scene::{Scene, mm};
use super::shape::body_of;
use crate::dimension::DimensionStyle;
use crate::display::{Display, Layer};
use crate::hidden::{Body, ViewLine, view_lines};
use crate::line::LineClass;
use crate::pointer::Pointer;
use crate::scale::Scale;
use crate::sheet::{Format, Sheet};
use crate::tag::Tag;
use crate::view::{Axes, View};

/// Clear space round a panel of a sheet, in millimetres.
const MARGIN_MM: f64 = 6.0;
/// How much of a panel the picture may take.
const PICTURE: f64 = 0.62;
/// The name of these sheets.
pub(crate) const ORDER: &str = "Order of work";

/// The sheets of the order of work, two steps each.
pub(crate) fn order_sheets(scene: &Scene<'_>, plan: &BuildPlan, format: Format) -> Vec<Sheet> {
    let space = format.drawing_space();
    let middle = space.center().x;
    let left = Rect::new(space.x0, space.y0, middle, space.y1).inset(-MARGIN_MM);
    let right = Rect::new(middle, space.y0 + crate::title_block::HEIGHT_MM, space.x1, space.y1).inset(-MARGIN_MM);
    let mut sheets = Vec::new();
    let mut panels: Vec<Display> = plan
        .stuck
        .iter()
        .map(|stuck| {
            let mut column = Column::new(scene, left);
            column.heading("There is no order for these parts");
            column.line(&stuck.what);
            column.line(&stuck.mend);
            column.display
        })
        .collect();
    for (at, step) in plan.steps.iter().enumerate() {
        // Which half it stands in: stuck groups come first.
        let area = if panels.len().is_multiple_of(2) { left } else { right };
        panels.push(panel(scene, plan, at, step, area));
    }
    for pair in panels.chunks(2) {
        let mut sheet = Sheet::new(format, title_block(scene, ORDER, ORDER, Concern::Nothing));
        sheet.content.segment(
            Layer::Frame,
            LineClass::FrameNarrow,
            None,
            Point::new(middle, space.y0),
            Point::new(middle, space.y1),
        );
        for panel in pair {
            sheet.content.items.extend(panel.items.iter().cloned());
        }
        sheets.push(sheet);
    }
    sheets
}

/// One step in its part of a sheet.
fn panel(scene: &Scene<'_>, plan: &BuildPlan, at: usize, step: &Step, area: Rect) -> Display {
    let mut column = Column::new(scene, area);
    column.heading(&format!("{}  {}", at + 1, kind_words(step.kind)));
    column.line(&step.title);
    let lines = lines(scene, step);
    let needed: f64 = lines.iter().map(|(line, _)| column.height_of(line)).sum();
    let picture = (column.room() - needed - 2.0 * MARGIN_MM).min(column.room() * PICTURE);
    let top = area.y0 + column.room();
    let room = Rect::new(area.x0, top - picture, area.x1, top);
    let view = exploded(scene, step, plan);
    // Nothing is measured in it: as large as there is room.
    let picture_display = place_unscaled(&view, room);
    column.skip(picture + MARGIN_MM);
    let done = step.is_done(&scene.design.progress.steps);
    for (line, to_tick) in lines {
        if to_tick { column.tick(&line, done) } else { column.line(&line) }
    }
    let mut display = column.display;
    if let Some(picture) = picture_display {
        display.items.extend(picture.items);
    }
    display
}

const fn kind_words(kind: StepKind) -> &'static str {
    match kind {
        StepKind::GlueUp => "Glue-up",
        StepKind::Fasten => "Screwing",
        StepKind::Fit => "Fitting",
    }
}

/// A step of the order of work, said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepCard {
    /// The ids by which it is ticked; it is done when all of them are.
    pub ticks: Vec<String>,
    /// What kind of step it is, in a word.
    pub kind: String,
    /// What is done.
    pub title: String,
    /// What it asks for, each line with whether it is to be done.
    pub lines: Vec<(String, bool)>,
}

/// The steps of the order of work in the language of the scene, as the sheets have them.
#[must_use]
pub fn step_cards(scene: &Scene<'_>) -> Vec<StepCard> {
    let card = |step: &Step| StepCard {
        ticks: step.ticks.clone(),
        kind: scene.say(kind_words(step.kind)),
        title: scene.say(&step.title),
        lines: lines(scene, step).iter().map(|(line, to_do)| (scene.say(line), *to_do)).collect(),
    };
    scene.order_of_work().steps.iter().map(card).collect()
}

/// What a step asks for, each line with whether it is to be ticked.
fn lines(scene: &Scene<'_>, step: &Step) -> Vec<(String, bool)> {
    let number = |part: usize| scene.assembly.parts.get(part).map_or("", |it| it.number.as_str());
    let mut lines = Vec::new();
    let mut tick = |line: String| lines.push((line, true));
    for first in &step.first {
        tick(format!("before: {first}"));
    }
    if step.kind != StepKind::Fit {
        let parts: Vec<&str> = step.parts().map(number).collect();
        let pairs: Vec<String> = step
            .joints
            .iter()
            .filter_map(|&joint| scene.assembly.joints.get(joint))
            .map(|joint| format!("{}–{}", number(joint.face_part), number(joint.edge_part)))
            .collect();
        tick(format!("{} at hand: {}", counted(parts.len(), "part", "parts"), parts.join(", ")));
        tick(format!("{}: {}", counted(pairs.len(), "joint", "joints"), pairs.join(", ")));
    }
    let mut hardware = Vec::new();
    for (count, one, many) in [(step.dowels, "dowel", "dowels"), (step.screws, "screw", "screws")] {
        if count > 0 {
            hardware.push(counted(count, one, many));
        }
    }
    if step.kind == StepKind::GlueUp {
        hardware.push(format!("glue on {:.0} cm²", step.glue_area_mm2 / 100.0));
    }
    if !hardware.is_empty() {
        tick(hardware.join(", "));
    }
    if let Some(clamps) = &step.clamps {
        let along = match clamps.axis {
            Axis::X => "from side to side",
            Axis::Y => "from bottom to top",
            Axis::Z => "from rear to front",
        };
        tick(format!("{} clamps that open {} or more, {along}", clamps.count, scene.format(clamps.opening)));
        if clamps.bowed_cauls > 0 {
            tick(format!("{} bowed cauls over the long joint lines", clamps.bowed_cauls));
        }
        for caul in &clamps.cauls {
            let joint = scene.assembly.joints.get(caul.joint);
            let edge = joint.map_or("", |joint| number(joint.edge_part));
            tick(format!(
                "caul on {} behind {edge}: nothing takes the pressure within {}",
                number(caul.on),
                scene.format(caul.offset)
            ));
        }
    }
    for diagonal in &step.diagonals {
        tick(format!(
            "diagonals {}, {} × {}: both {}",
            diagonal.of,
            scene.format(diagonal.sides.0),
            scene.format(diagonal.sides.1),
            scene.format(diagonal.length.rounded_to(Length::from_um(100)))
        ));
    }
    if let Some(time) = &step.time {
        let text = time.warning.clone().unwrap_or_else(|| {
            format!("about {:.0} min from the first glue to the last clamp (own estimate)", time.minutes)
        });
        lines.push((text, false));
    }
    lines.extend(step.notes.iter().map(|note| (note.clone(), false)));
    match step.fitted() {
        [] => {}
        [only] => lines.push((fitted_well(scene, only).to_owned(), true)),
        // Each has a box of its own.
        several => lines.extend(several.iter().map(|it| {
            let numbers: Vec<&str> = it.iter().map(|&part| number(part)).collect();
            (format!("{}: {}", numbers.join(" + "), fitted_well(scene, it)), true)
        })),
    }
    lines
}

/// What to look at when something is fitted: by whether it moves, waits for its front, lies loose, or stays.
fn fitted_well(scene: &Scene<'_>, fitted: &[usize]) -> &'static str {
    let is_front = |part: &usize| scene.assembly.parts.get(*part).is_some_and(|part| part.role == Role::Front);
    let mover = scene.assembly.movers.iter().find(|it| it.parts.iter().any(|part| fitted.contains(part)));
    let moves = mover.is_some();
    let slides = mover.filter(|it| matches!(it.motion, Motion::Slide { .. }));
    let without_front = slides.is_some_and(|it| it.parts.iter().any(|part| is_front(part) && !fitted.contains(part)));
    let is_shelf = |part: &usize| scene.assembly.parts.get(*part).is_some_and(|part| part.role == Role::Shelf);
    if without_front {
        "hung, runs freely, level and square to the carcass"
    } else if moves {
        "in place, moves freely, reveals even"
    } else if fitted.iter().all(is_shelf) {
        "in place, lies on all its pins, does not rock"
    } else {
        "in place, flush and tight all along"
    }
}

/// The groups of a step pulled apart along its direction.
fn exploded(scene: &Scene<'_>, step: &Step, plan: &BuildPlan) -> View {
    let axis = step.direction.axis;
    let parts = |group: &[usize]| -> Vec<(usize, &Part)> {
        group.iter().filter_map(|&part| Some((part, scene.assembly.parts.get(part)?))).collect()
    };
    let all: Vec<Cuboid> = step.groups.iter().flat_map(|group| parts(group)).map(|(_, it)| it.cuboid).collect();
    let extent = all.into_iter().reduce(|whole, it| whole.union(&it)).unwrap_or_default().size(axis);
    let gap = Length::from_nm((extent.nm() / 5).max(Length::from_mm(120).nm()));
    let mut solids: Vec<(usize, Cuboid)> = Vec::new();
    let mut bodies: Vec<Body> = Vec::new();
    for (rank, group) in step.groups.iter().enumerate() {
        // What is fitted comes to what stands, each as far out.
        let rank = if step.kind == StepKind::Fit { rank.min(1) } else { rank };
        let off = gap * i64::try_from(rank).unwrap_or(0);
        for (index, part) in parts(group) {
            let way = (off * step.direction.sign()).mm();
            solids.push((index, part.cuboid.moved(step.direction, off)));
            bodies.push(body_of(part).moved(axis.index(), way));
        }
    }
    let mut view = scene.view(step.id.clone(), "", Axes::Isometric);
    let number = |part: usize| scene.assembly.parts.get(part).map_or("", |it| it.number.as_str()).to_owned();
    let fresh: Vec<usize> = match step.kind {
        StepKind::Fit => step.fitted().concat(),
        // What an earlier step made is known by then.
        _ => step.groups.iter().filter(|group| group.len() == 1).flatten().copied().collect(),
    };
    let lines: Vec<ViewLine> = view_lines(&bodies, Axes::Isometric).into_iter().filter(|line| line.visible).collect();
    let is_shaped = |owner: usize| matches!(bodies.get(owner), Some(Body::Prism(..)));
    for (line, path) in strokes(lines, is_shaped) {
        let Some((part, _)) = solids.get(line.owner) else { continue };
        let standing = step.kind == StepKind::Fit && !fresh.contains(part);
        let class = if standing { LineClass::Dimension } else { LineClass::VisibleOutline };
        view.geometry.stroke(Layer::Outline, class, Some(Tag::Part(number(*part))), path);
    }
    for (at, (part, cuboid)) in solids.iter().enumerate() {
        let named = fresh.contains(part) || (step.kind != StepKind::Fit && plan.steps.first() == Some(step));
        let spots = if named { seen_spots(cuboid, at, &bodies) } else { Vec::new() };
        if !spots.is_empty() {
            view.pointers.push(Pointer {
                at: spots,
                text: number(*part),
                tag: Some(Tag::Part(number(*part))),
                stays: true,
            });
        }
    }
    view
}

/// Spots on the three faces towards the viewer that nothing hides, in view coordinates.
fn seen_spots(cuboid: &Cuboid, own: usize, bodies: &[Body]) -> Vec<Point> {
    let (low, high) = (mm(cuboid.min), mm(cuboid.max));
    let sight = Axes::Isometric.to_viewer();
    let mut spots = Vec::new();
    for face in 0..3 {
        for (u, v) in [(0.5, 0.5), (0.25, 0.5), (0.75, 0.5), (0.5, 0.2), (0.5, 0.8), (0.1, 0.9), (0.9, 0.1)] {
            let mut point = high;
            let mut shares = [u, v].into_iter();
            for (axis, value) in point.iter_mut().enumerate() {
                if axis != face
                    && let (Some(share), Some(from)) = (shares.next(), low.get(axis))
                {
                    *value = from + (*value - from) * share;
                }
            }
            let is_there = bodies.get(own).is_none_or(|body| body.has(face, point));
            if is_there && !bodies.iter().enumerate().any(|(at, other)| at != own && other.hides(point, sight)) {
                spots.push(Axes::Isometric.project(point));
            }
        }
    }
    spots
}

/// A view as large as a scale of ISO 5455 fits into a room, in the middle of it; nothing if there is no room at all.
pub(crate) fn place(view: &View, room: Rect) -> Option<Display> {
    first_that_fits(view, room, Scale::reductions().map(|scale| scale.factor()))
}

/// A view as large as fits into a room, to no scale.
pub(crate) fn place_unscaled(view: &View, room: Rect) -> Option<Display> {
    let outline = view.outline();
    let most = (room.width() / outline.width()).min(room.height() / outline.height());
    first_that_fits(view, room, (0..40).map(|step| most * 0.95_f64.powi(step)))
}

fn first_that_fits(view: &View, room: Rect, mut factors: impl Iterator<Item = f64>) -> Option<Display> {
    let style = DimensionStyle::default();
    let outline = view.outline();
    factors.find_map(|factor| {
        if outline.width() * factor > room.width() || outline.height() * factor > room.height() {
            return None;
        }
        let placed = view.lay_out(factor, &style);
        let bounds = placed.bounds;
        (bounds.width() <= room.width() && bounds.height() <= room.height()).then(|| {
            let by: Vec2 = room.center() - bounds.center();
            placed.shifted(by).display
        })
    })
}
