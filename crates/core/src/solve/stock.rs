//! What the boards in stock allow: no panel wider across the grain, or longer along it, than the largest board of its
//! material.

use super::model::Model;
use super::reason::{Reason, ReasonKind};
use crate::axis::MustKind;
use crate::design::{Board, Resolved, Role};
use crate::geometry::Axis;
use crate::length::Length;
use crate::text::FieldPath;

/// The usable length and width of the largest boards of a material for a role; none if no such board is listed.
fn largest(design: &Resolved, material: &str, role: Role) -> Option<(Length, Length)> {
    let usable = |board: &Board<Length>| {
        let (start, end, near, far) = board.spoilt.unwrap_or_default();
        (board.size.0 - start - end, board.size.1 - near - far)
    };
    let fits = design
        .boards
        .iter()
        .filter(|board| board.material == material && (board.only_for.is_empty() || board.only_for.contains(&role)))
        .map(usable);
    let (length, width) = fits.fold((None, None), |(length, width): (Option<Length>, Option<Length>), size| {
        (length.max(Some(size.0)), width.max(Some(size.1)))
    });
    let (length, width) = (length?, width?);
    let grain = design.materials.get(material).is_some_and(|it| it.grain);
    // Without grain a panel may lie either way on its board, so only the longer side of the boards limits it for sure.
    Some(if grain { (length, width) } else { (length.max(width), length.max(width)) })
}

/// The axes along the grain and across it, for panels that the layout places.
const fn lies(role: Role) -> Option<(Axis, Axis)> {
    match role {
        Role::Side | Role::Upright => Some((Axis::Y, Axis::Z)),
        Role::Bottom | Role::Top | Role::Shelf => Some((Axis::X, Axis::Z)),
        Role::Back => Some((Axis::Y, Axis::X)),
        _ => None,
    }
}

/// Adds the limits for all panels.
pub(super) fn ask(model: &mut Model<'_>) {
    let design = model.design;
    if design.boards.is_empty() {
        return;
    }
    for i in 0..model.panels.len() {
        let panel = &model.panels[i];
        let Some((along, across)) = lies(panel.role) else { continue };
        let Some((length, width)) = largest(design, &panel.material, panel.role) else { continue };
        let (id, material, faces) = (panel.id.clone(), panel.material.clone(), panel.faces);
        for (axis, limit) in [(along, length), (across, width)] {
            let kind = ReasonKind::Boards { material: material.clone(), panel: id.clone() };
            let reason = Reason { kind, field: FieldPath::root().field("boards"), about: vec![id.clone()] };
            model.must(axis, MustKind::AtMost(Model::span(faces[axis.index()]), limit), reason);
        }
    }
}
