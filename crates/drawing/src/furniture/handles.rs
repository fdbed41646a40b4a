//! Handles and knobs before the fronts, as bought parts.

use casewright_core::assembly::handle_of;

use super::scene::{Scene, view_rect};
use crate::display::Layer;
use crate::line::LineClass;
use crate::tag::Tag;
use crate::view::View;

/// Draws the handles of all fronts as their outlines.
pub(crate) fn draw_handles(view: &mut View, scene: &Scene<'_>) {
    for fitting in scene.assembly.fittings.iter().filter(|it| handle_of(scene.design, &it.name).is_some()) {
        let rect = view_rect(view.axes, &fitting.cuboid);
        let tag = Some(Tag::Fitting(fitting.name.clone()));
        view.geometry.rectangle(Layer::Things, LineClass::Adjacent, tag, rect);
    }
}
