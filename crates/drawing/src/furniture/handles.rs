//! Handles and knobs before the fronts, as bought parts.

use casewright_core::design::Fitting;

use super::scene::{Scene, view_rect};
use crate::display::Layer;
use crate::line::LineClass;
use crate::tag::Tag;
use crate::view::View;

/// Draws the handles of all fronts, stays, dampers and brackets as their outlines.
pub(crate) fn draw_handles(view: &mut View, scene: &Scene<'_>) {
    for fitting in scene.assembly.fittings.iter().filter(|it| scene.design.fittings.get(&it.name).is_some_and(is_drawn)) {
        let rect = view_rect(view.axes, &fitting.cuboid);
        let tag = Some(Tag::Fitting(fitting.name.clone()));
        view.geometry.rectangle(Layer::Things, LineClass::Adjacent, tag, rect);
    }
}

fn is_drawn<L>(fitting: &Fitting<L>) -> bool {
    fitting.is_handle() || fitting.is_holder() || fitting.is_bracket()
}
