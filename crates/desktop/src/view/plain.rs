//! A plain drawing straight from the Layout, for when the assembly cannot be built: outlines of panels and things,
//! names of bays, and the outside sizes. It shows the problem place rather than nothing.

use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::layout::Layout;
use casewright_core::length::Length;
use casewright_core::unit::{DecimalMark, Unit};
use casewright_drawing::dimension::drop_repeats;
use casewright_drawing::label::Label;
use casewright_drawing::{Axes, Chain, Layer, LineClass, Side, Tag, View};
use kurbo::{BezPath, Rect};

use super::polygon;
use crate::pipeline::ViewKind;

/// The axes of a view; none for views that need the assembly's hidden lines.
const fn axes(kind: ViewKind) -> Option<Axes> {
    match kind {
        ViewKind::Front => Some(Axes::FRONT),
        ViewKind::Section => Some(Axes::FROM_LEFT),
        ViewKind::Plan => Some(Axes::FROM_ABOVE),
        ViewKind::Fronts | ViewKind::Isometric => None,
    }
}

/// The view of a layout, if it can be drawn plainly.
#[must_use]
pub fn view(layout: &Layout, kind: ViewKind, unit: Unit) -> Option<View> {
    let axes = axes(kind)?;
    let mut view = View::new("plain", "", axes);
    for panel in &layout.panels {
        stroke(&mut view, axes, &panel.cuboid, Layer::Outline, LineClass::VisibleOutline, None);
    }
    for thing in &layout.things {
        let tag = Some(Tag::Thing(thing.name.clone()));
        stroke(&mut view, axes, &thing.cuboid, Layer::Things, LineClass::Adjacent, tag);
    }
    if kind == ViewKind::Front {
        for bay in layout.bays.iter().filter(|bay| bay.is_leaf) {
            if let Some(within) = bounds(&polygon::outline(axes, &bay.clear)) {
                let tag = Some(Tag::Bay(bay.name.clone()));
                view.labels.push(Label { within, lines: vec![bay.name.clone()], tag });
            }
        }
    }
    let show = |length: Length| unit.format(length, DecimalMark::Comma);
    let (across, up) = match kind {
        ViewKind::Section => (Axis::Z, Axis::Y),
        ViewKind::Plan => (Axis::X, Axis::Z),
        _ => (Axis::X, Axis::Y),
    };
    for (side, axis) in [(Side::Below, across), (Side::Left, up)] {
        // The plan looks down, so what is nearer the person stands lower on the paper.
        let sign = if kind == ViewKind::Plan && axis == Axis::Z { -1 } else { 1 };
        let ends = |cuboid: &Cuboid| {
            let (low, high) = cuboid.range(axis);
            [low * sign, high * sign]
        };
        let panels = layout.panels.iter().flat_map(|panel| ends(&panel.cuboid));
        let fine: Vec<Length> = panels.collect();
        view.chains.push(Chain::through(side, &ends(&layout.envelope), show).ranked(1));
        view.chains.push(Chain::through(side, &fine, show));
    }
    drop_repeats(&mut view.chains);
    Some(view)
}

fn bounds(outline: &[kurbo::Point]) -> Option<Rect> {
    let first = outline.first()?;
    Some(outline.iter().fold(Rect::from_points(*first, *first), |all, point| all.union_pt(*point)))
}

fn stroke(view: &mut View, axes: Axes, cuboid: &Cuboid, layer: Layer, class: LineClass, tag: Option<Tag>) {
    let mut path = BezPath::new();
    for (index, point) in polygon::outline(axes, cuboid).into_iter().enumerate() {
        if index == 0 {
            path.move_to(point);
        } else {
            path.line_to(point);
        }
    }
    path.close_path();
    view.geometry.stroke(layer, class, tag, path);
}
