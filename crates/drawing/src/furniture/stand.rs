//! Feet and castors under a piece, as bought parts beside it.

use casewright_core::assembly::{FittingKind, StandPiece};
use casewright_core::design::Role;
use kurbo::{Circle, Point, Rect, Shape};

use super::scene::{Scene, view_rect};
use crate::display::Layer;
use crate::line::LineClass;
use crate::place::overlap;
use crate::view::View;

/// Draws feet and castors that no plinth hides: a castor as its wheel under its plate, a foot as its outline. What stands
/// behind another in this view is drawn once.
pub(crate) fn draw_stand(view: &mut View, scene: &Scene<'_>) {
    let plinths = scene.assembly.parts.iter().filter(|part| part.role == Role::Plinth);
    let before: Vec<Rect> = plinths.map(|part| view_rect(view.axes, &part.cuboid)).collect();
    let mut drawn: Vec<Rect> = Vec::new();
    for fitting in &scene.assembly.fittings {
        let is_castor = match fitting.kind {
            FittingKind::Stand(StandPiece::Castor) => true,
            FittingKind::Stand(StandPiece::Foot) => false,
            _ => continue,
        };
        let rect = view_rect(view.axes, &fitting.cuboid);
        if drawn.contains(&rect) || before.iter().any(|plinth| overlap(*plinth, rect)) {
            continue;
        }
        drawn.push(rect);
        if is_castor {
            draw_castor(view, rect);
        } else {
            view.geometry.rectangle(Layer::Things, LineClass::Adjacent, None, rect);
        }
    }
}

/// The wheel stands on the floor; over it the plate, a tenth as high as the castor.
fn draw_castor(view: &mut View, rect: Rect) {
    let plate = Rect::new(rect.x0, rect.y1 - rect.height() / 10.0, rect.x1, rect.y1);
    view.geometry.rectangle(Layer::Things, LineClass::Adjacent, None, plate);
    let radius = (rect.height() - plate.height()) / 2.0;
    let wheel = Circle::new(Point::new(rect.center().x, rect.y0 + radius), radius);
    view.geometry.stroke(Layer::Things, LineClass::Adjacent, None, wheel.to_path(0.1));
}
