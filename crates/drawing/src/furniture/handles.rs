//! Handles and knobs before the fronts, stays, dampers and brackets behind them, as bought parts.

use casewright_core::assembly::{MountedFitting, handle_of};
use casewright_core::geometry::Cuboid;

use super::scene::{Scene, view_rect};
use crate::display::Layer;
use crate::line::LineClass;
use crate::tag::Tag;
use crate::view::View;

/// Draws the handles of all fronts as their outlines.
pub(crate) fn draw_handles(view: &mut View, scene: &Scene<'_>) {
    draw(view, scene, |it| handle_of(scene.design, &it.name).is_some());
}

/// Draws the stays, dampers and brackets, shut, of the bays that are `seen`, as their outlines.
pub(crate) fn draw_holders(view: &mut View, scene: &Scene<'_>, seen: impl Fn(&Cuboid) -> bool) {
    let is_holder =
        |it: &MountedFitting| scene.design.fittings.get(&it.name).is_some_and(|it| it.is_holder() || it.is_bracket());
    let bay = |it: &MountedFitting| scene.layout.bay(&it.bay).is_some_and(|bay| seen(&bay.clear));
    draw(view, scene, |it| is_holder(it) && bay(it));
}

fn draw(view: &mut View, scene: &Scene<'_>, wanted: impl Fn(&MountedFitting) -> bool) {
    for fitting in scene.assembly.fittings.iter().filter(|it| wanted(it)) {
        let rect = view_rect(view.axes, &fitting.cuboid);
        let tag = Some(Tag::Fitting(fitting.name.clone()));
        view.geometry.rectangle(Layer::Things, LineClass::Adjacent, tag, rect);
    }
}
