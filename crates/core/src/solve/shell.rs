//! The panels of a shell: sides, bottom, top or rails, and back.

use super::model::{Faces, Model, PanelSpec, ShellSpec};
use super::reason::{Reason, ReasonKind};
use crate::axis::{Face, MustKind};
use crate::design::{Back, Construction, Role, Top};
use crate::geometry::Axis;
use crate::layout::Closing;
use crate::length::Length;
use crate::text::FieldPath;

/// What a shell leaves inside, and what closes it there.
pub(super) struct Inner {
    pub(super) shell: usize,
    pub(super) faces: Faces,
    pub(super) closed_by: [Closing; 4],
}

/// Adds the panels of a shell whose outside is `outer`, round the bay called `name`; `prefix` tells its panels from
/// those of other shells.
pub(super) fn build(
    model: &mut Model<'_>,
    name: &str,
    prefix: &str,
    path: FieldPath,
    construction: &Construction<Length>,
    outer: Faces,
) -> Inner {
    let shell = model.shells.len();
    let [side, bottom, top, rail, back] = [Role::Side, Role::Bottom, Role::Top, Role::Rail, Role::Back].map(|role| {
        let material = Model::board(construction, role).to_owned();
        let thickness = model.thickness(&material);
        (material, thickness)
    });
    let [(left, right), (lower, upper), (rear, front)] = outer;
    let has_rails = matches!(construction.top, Top::Rails { .. });
    let top_thickness = match construction.top {
        Top::Panel => top.1,
        Top::Rails { .. } => rail.1,
        Top::None => Length::ZERO,
    };
    let inner_x = (left.plus(side.1), right.plus(-side.1));
    let inner_y = (lower.plus(bottom.1), upper.plus(-top_thickness));
    let panels_z = match construction.back {
        Back::Applied => (rear.plus(back.1), front),
        _ => (rear, front),
    };
    let inner_rear = match construction.back {
        Back::None => rear,
        Back::Applied => rear.plus(back.1),
        Back::Inset { set_back } | Back::Grooved { set_back, .. } => rear.plus(set_back + back.1),
        Back::Rebated { .. } => rear.plus(back.1),
    };

    let side_y = if construction.sides_run_through || matches!(construction.top, Top::None) {
        let low = if construction.sides_run_through { lower } else { inner_y.0 };
        (low, upper)
    } else {
        inner_y
    };
    let lying_x = if construction.sides_run_through { inner_x } else { (left, right) };
    let first = model.panels.len();
    let mut add = |id: String, role, faces, material: &str| {
        let id = format!("{prefix}{id}");
        model.panels.push(PanelSpec {
            id,
            role,
            faces,
            material: material.to_owned(),
            shell,
            bay: name.to_owned(),
            loose: false,
        });
    };
    add("side left".into(), Role::Side, [(left, inner_x.0), side_y, panels_z], &side.0);
    add("side right".into(), Role::Side, [(inner_x.1, right), side_y, panels_z], &side.0);
    add("bottom".into(), Role::Bottom, [lying_x, (lower, inner_y.0), panels_z], &bottom.0);
    match construction.top {
        Top::Panel => add("top".into(), Role::Top, [lying_x, (inner_y.1, upper), panels_z], &top.0),
        Top::Rails { width } => {
            let y = (inner_y.1, upper);
            add("rail front".into(), Role::Rail, [lying_x, y, (panels_z.1.plus(-width), panels_z.1)], &rail.0);
            add("rail rear".into(), Role::Rail, [lying_x, y, (panels_z.0, panels_z.0.plus(width))], &rail.0);
        }
        Top::None => {}
    }
    let back_y_top = if has_rails || matches!(construction.top, Top::Panel) { inner_y.1 } else { upper };
    match construction.back {
        Back::None => {}
        Back::Applied => {
            add("back".into(), Role::Back, [(left, right), (lower, upper), (rear, rear.plus(back.1))], &back.0);
        }
        Back::Inset { set_back } => {
            let z = (rear.plus(set_back), rear.plus(set_back + back.1));
            add("back".into(), Role::Back, [inner_x, (inner_y.0, back_y_top), z], &back.0);
        }
        Back::Grooved { depth, .. } | Back::Rebated { depth } => {
            let set_back = if let Back::Grooved { set_back, .. } = construction.back { set_back } else { Length::ZERO };
            let z = (rear.plus(set_back), rear.plus(set_back + back.1));
            let x = (inner_x.0.plus(-depth), inner_x.1.plus(depth));
            // Above, the back ends in the groove or rebate of a top panel, or under the rails.
            let up = if matches!(construction.top, Top::Panel) { back_y_top.plus(depth) } else { back_y_top };
            add("back".into(), Role::Back, [x, (inner_y.0.plus(-depth), up), z], &back.0);
        }
    }
    if let Top::Rails { width } = construction.top {
        let reason =
            Reason { kind: ReasonKind::Rails, field: path.field("top").field("width"), about: vec![name.to_owned()] };
        model.must(Axis::Z, MustKind::AtLeast(Model::span(panels_z), width * 2), reason);
    }
    let closed_above = if matches!(construction.top, Top::None) { Closing::Nothing } else { Closing::Panel(first + 3) };
    let faces = [inner_x, inner_y, (inner_rear, front)];
    model.shells.push(ShellSpec { name: name.to_owned(), path, outer, inner: faces });
    Inner {
        shell,
        faces,
        closed_by: [Closing::Panel(first), Closing::Panel(first + 1), Closing::Panel(first + 2), closed_above],
    }
}

/// A shell without panels of its own: a piece that is made of boxes.
pub(super) fn bare(model: &mut Model<'_>, name: &str, path: FieldPath, outer: Faces) -> Inner {
    let shell = model.shells.len();
    model.shells.push(ShellSpec { name: name.to_owned(), path, outer, inner: outer });
    Inner { shell, faces: outer, closed_by: [Closing::Nothing; 4] }
}

/// The same faces, drawn in by `gap` at the left, right, below and above.
pub(super) fn drawn_in(faces: Faces, gap: Length) -> Faces {
    let pull = |(low, high): (Face, Face)| (low.plus(gap), high.plus(-gap));
    [pull(faces[0]), pull(faces[1]), faces[2]]
}
