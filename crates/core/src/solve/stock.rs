//! What the boards in stock allow: no panel wider across the grain, or longer along it, than the largest board of its
//! material.

use super::model::Model;
use super::reason::{Reason, ReasonKind};
use crate::axis::MustKind;
use crate::design::{BoardEdge, Resolved, Role};
use crate::geometry::Axis;
use crate::length::Length;
use crate::stock::{family_of, serves, usable};
use crate::text::FieldPath;

/// The usable length and width of the largest boards of a material for a role; none if no such board is listed.
fn largest(design: &Resolved, material: &str, role: Role, family: Option<&str>) -> Option<(Length, Length)> {
    // The edge banding comes on top of what is sawn, so what a board gives is measured over banding that it keeps.
    let fits = (design.boards.iter())
        .filter(|board| board.material == material && serves(board, design, role))
        .filter(|board| family.is_none_or(|family| board.family == family))
        .flat_map(|board| {
            let usable = usable(board, design);
            let kept: [Length; 2] = [[BoardEdge::Start, BoardEdge::End], [BoardEdge::Near, BoardEdge::Far]]
                .map(|edges| usable.kept.iter().filter(|it| edges.contains(&it.edge)).map(|it| it.thickness).sum());
            usable.good.into_iter().map(move |(_, _, length, width)| (length + kept[0], width + kept[1]))
        });
    let (length, width) = fits.fold((None, None), |(length, width): (Option<Length>, Option<Length>), size| {
        (length.max(Some(size.0)), width.max(Some(size.1)))
    });
    let (length, width) = (length?, width?);
    let grain = design.materials.get(material).is_some_and(|it| it.grain);
    // Without grain a panel may lie either way on its board, so only the longer side of the boards limits it for sure. Who
    // binds panels to a stock family means them to lie along its boards.
    Some(if grain || family.is_some() { (length, width) } else { (length.max(width), length.max(width)) })
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
        let family = family_of(design, &panel.bay, panel.role);
        let Some((length, width)) = largest(design, &panel.material, panel.role, family) else { continue };
        let (id, material, faces) = (panel.id.clone(), panel.material.clone(), panel.faces);
        for (axis, limit) in [(along, length), (across, width)] {
            let (family, along) = (family.map(str::to_owned), axis == along);
            let kind = ReasonKind::Boards { material: material.clone(), panel: id.clone(), family, along };
            let reason = Reason { kind, field: FieldPath::root().field("boards"), about: vec![id.clone()] };
            model.must(axis, MustKind::AtMost(Model::span(faces[axis.index()]), limit), reason);
        }
    }
}
