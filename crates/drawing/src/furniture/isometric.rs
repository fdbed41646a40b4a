//! The isometric view, hidden edges left out.

use casewright_core::design::Role;

use super::elevation::has_fronts;
use super::scene::{Scene, draw_areas, draw_parts, drawn_parts};
use crate::view::{Axes, View};

/// The piece from the front, the right and above, with or without its fronts.
#[must_use]
pub fn isometric_view(scene: &Scene<'_>, with_fronts: bool) -> View {
    let (id, title) = match (with_fronts, has_fronts(scene)) {
        (false, true) => ("isometric-open", "Isometric view, fronts removed"),
        _ => ("isometric", "Isometric view"),
    };
    let mut view = scene.view(id, title, Axes::Isometric);
    let parts = drawn_parts(scene, None, |part| with_fronts || part.role != Role::Front);
    draw_areas(&mut view, scene, &parts);
    draw_parts(&mut view, &parts, false);
    view
}
