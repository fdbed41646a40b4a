//! Handles and knobs before the fronts, stays, dampers and brackets behind them, as bought parts.

use std::f64::consts::PI;

use casewright_core::assembly::{MountedFitting, handle_of};
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::moving::tilt::{TiltOut, tilt_outs};
use kurbo::{Arc, BezPath, Point, Shape};

use super::scene::{Scene, view_rect};
use crate::display::Layer;
use crate::line::LineClass;
use crate::tag::Tag;
use crate::view::View;

/// Ends that differ by less are the same, mm.
const SAME_MM: f64 = 0.1;

/// Draws the handles of all fronts as their outlines.
pub(crate) fn draw_handles(view: &mut View, scene: &Scene<'_>) {
    for fitting in scene.assembly.fittings.iter().filter(|it| handle_of(scene.design, &it.name).is_some()) {
        draw_box(view, fitting);
    }
}

/// Draws the stays, dampers and brackets, shut, of the bays that are `seen`: brackets as their outlines, what reaches from
/// the carcass to what turns as the arm that it is.
pub(crate) fn draw_holders(view: &mut View, scene: &Scene<'_>, seen: impl Fn(&Cuboid) -> bool) {
    let is_seen = |it: &&MountedFitting| {
        scene.design.fittings.get(&it.name).is_some_and(|it| it.is_holder() || it.is_bracket())
            && scene.layout.bay(&it.bay).is_some_and(|bay| seen(&bay.clear))
    };
    let mut all = scene.assembly.fittings.iter().filter(is_seen).peekable();
    if all.peek().is_none() {
        return;
    }
    // Seen along the wall an arm lies aslant; from all other sides its outline is that of the box round it.
    let along_wall = view.axes.to_viewer().get(Axis::X.index()).is_some_and(|it| *it != 0.0);
    let tilts = if along_wall { tilt_outs(scene.design, scene.assembly) } else { Vec::new() };
    for fitting in all {
        let Some((ends, width)) = tilts.iter().find_map(|it| arm(scene, it, fitting)) else {
            draw_box(view, fitting);
            continue;
        };
        let [a, b] = ends.map(|(y, z)| view.axes.project([fitting.cuboid.min.x.mm(), y, z]));
        let tag = Some(Tag::Fitting(fitting.name.clone()));
        view.geometry.stroke(Layer::Things, LineClass::Adjacent, tag, rounded_bar(a, b, width));
    }
}

/// The two ends of a mounted fitting when shut, and how wide it is, if it is what holds this compartment or flap.
fn arm(scene: &Scene<'_>, it: &TiltOut, fitting: &MountedFitting) -> Option<([(f64, f64); 2], f64)> {
    if it.bay != fitting.bay || it.holder.as_ref().is_none_or(|holder| holder.name != fitting.name) {
        return None;
    }
    let ends = it.ends_at(scene.assembly, 0.0)?;
    let width = fitting.cuboid.size(Axis::X).mm();
    let fits = |axis: Axis, [a, b]: [f64; 2]| {
        let (low, high) = fitting.cuboid.range(axis);
        (a.min(b) - width / 2.0 - low.mm()).abs() < SAME_MM && (a.max(b) + width / 2.0 - high.mm()).abs() < SAME_MM
    };
    (fits(Axis::Y, ends.map(|it| it.0)) && fits(Axis::Z, ends.map(|it| it.1))).then_some((ends, width))
}

/// The outline of a bar with round ends about two points.
fn rounded_bar(a: Point, b: Point, width: f64) -> BezPath {
    let half = width / 2.0;
    let turned = (b - a).atan2() - PI / 2.0;
    let cap = |centre: Point, from: f64| Arc::new(centre, (half, half), from, PI, 0.0);
    let mut path = cap(b, turned).to_path(0.01);
    for element in cap(a, turned + PI).to_path(0.01) {
        match element {
            kurbo::PathEl::MoveTo(point) => path.line_to(point),
            other => path.push(other),
        }
    }
    path.close_path();
    path
}

fn draw_box(view: &mut View, fitting: &MountedFitting) {
    let rect = view_rect(view.axes, &fitting.cuboid);
    view.geometry.rectangle(Layer::Things, LineClass::Adjacent, Some(Tag::Fitting(fitting.name.clone())), rect);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_reaches_round_both_its_ends() {
        for (a, b) in [((0.0, 0.0), (100.0, 0.0)), ((10.0, 20.0), (40.0, -20.0)), ((5.0, 5.0), (5.0, 5.0))] {
            let (a, b) = (Point::from(a), Point::from(b));
            let path = rounded_bar(a, b, 10.0);
            let round = |it: Point| kurbo::Circle::new(it, 5.0).bounding_box();
            let (have, want) = (path.bounding_box(), round(a).union(round(b)));
            let far = |a: Point, b: Point| a.distance(b) < 0.05;
            assert!(
                far(have.origin(), want.origin()) && far((have.x1, have.y1).into(), (want.x1, want.y1).into()),
                "{have:?}, not {want:?}"
            );
            // By hand: the bar and a whole circle.
            let area = a.distance(b) * 10.0 + PI * 25.0;
            assert!((path.area().abs() - area).abs() < 0.1, "{} not {area}", path.area());
        }
    }
}
