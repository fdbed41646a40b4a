//! From solved positions to the Layout.

use super::model::{Faces, Model};
use super::need::Needs;
use crate::axis::Face;
use crate::design::{Inside, Resolved};
use crate::geometry::{Axis, Cuboid};
use crate::holding::Where;
use crate::layout::{LaidBay, LaidPanel, LaidShell, LaidThing, Layout};
use crate::length::Length;

/// Positions of the unknowns along X, Y and Z.
pub(super) type Positions<'p> = [&'p [Length]; 3];

fn position(face: Face, positions: &[Length]) -> Length {
    let var = face.var.and_then(|var| positions.get(var.0)).copied().unwrap_or_default();
    var + face.offset
}

fn cuboid(faces: &Faces, positions: Positions<'_>) -> Cuboid {
    let [x, y, z] = Axis::ALL.map(|axis| {
        let (low, high) = faces[axis.index()];
        (position(low, positions[axis.index()]), position(high, positions[axis.index()]))
    });
    Cuboid::from_ranges(x, y, z)
}

/// The layout that the positions give.
pub(super) fn layout(model: &Model<'_>, positions: Positions<'_>) -> Layout {
    let place = |faces: &Faces| cuboid(faces, positions);
    let mut things = Vec::new();
    for (index, node) in model.nodes.iter().enumerate() {
        if let Some(needs) = &node.needs {
            let clear = place(&node.faces);
            things.extend(stand(model.design, index, needs, &clear, &node.path));
        }
    }
    Layout {
        envelope: place(&model.envelope),
        shells: model
            .shells
            .iter()
            .map(|shell| LaidShell {
                name: shell.name.clone(),
                construction: shell.path.clone(),
                outer: place(&shell.outer),
                inner: place(&shell.inner),
            })
            .collect(),
        panels: model
            .panels
            .iter()
            .map(|panel| LaidPanel {
                id: panel.id.clone(),
                role: panel.role,
                cuboid: place(&panel.faces),
                material: panel.material.clone(),
                shell: panel.shell,
                bay: panel.bay.clone(),
                loose: panel.loose,
            })
            .collect(),
        bays: model
            .nodes
            .iter()
            .map(|node| LaidBay {
                name: node.name.to_owned(),
                path: node.path.clone(),
                parent: node.parent,
                depth: node.depth,
                shell: node.shell,
                clear: place(&node.faces),
                closed_by: node.closed_by,
                is_leaf: node.is_leaf,
            })
            .collect(),
        things,
        choices: Vec::new(),
    }
}

/// Stands the things of a bay: side by side in the middle of its width, on what carries them, as near to the front as
/// their air and the front allow; what is left over lies behind them.
fn stand(
    design: &Resolved,
    bay: usize,
    needs: &Needs<'_>,
    clear: &Cuboid,
    path: &crate::text::FieldPath,
) -> Vec<LaidThing> {
    let Some(holding) = holding_at(design, path) else { return Vec::new() };
    let allowance = &needs.allowance;
    let spare = clear.size(Axis::X) - needs.total(Axis::X);
    let mut x = clear.min.x + allowance.at(Where::Left) + spare.max(Length::ZERO).half();
    let floor = clear.min.y + allowance.at(Where::Below);
    let front = clear.max.z - allowance.at(Where::Front);
    let mut before: Option<Length> = None;
    let mut laid = Vec::with_capacity(needs.things.len());
    for it in &needs.things {
        let gap = before.map_or(it.air_left(), |right| right.max(it.air_left()));
        let left = x + gap;
        let right = left + it.size(Axis::X);
        let z = front - it.air_front();
        let (bottom, upper) = (floor, floor + it.size(Axis::Y));
        let thing = Cuboid::from_ranges((left, right), (bottom, upper), (z - it.size(Axis::Z), z));
        let with_air = Cuboid::from_ranges(
            (left - it.air_left(), right + it.air_right()),
            (bottom, upper + it.air_top()),
            (thing.min.z - it.air_rear(), z + it.air_front()),
        );
        laid.push(LaidThing {
            name: it.name.to_owned(),
            bay,
            cuboid: thing,
            with_air,
            turned: it.turned,
            holding: holding.clone(),
        });
        (x, before) = (right, Some(it.air_right()));
    }
    laid
}

/// The holding of the bay at a path.
fn holding_at(design: &Resolved, path: &crate::text::FieldPath) -> Option<crate::design::Holding<Length>> {
    match &super::bay_at(design, path)?.inside {
        Inside::Holds { by, .. } => Some(by.clone()),
        _ => None,
    }
}
