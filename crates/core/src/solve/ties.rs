//! Ties between bays: equal sizes and common lines.

use std::collections::BTreeMap;

use super::model::Model;
use super::reason::{Reason, ReasonKind};
use crate::axis::MustKind;
use crate::design::{Tie, TieEdge};
use crate::geometry::Axis;
use crate::text::FieldPath;

/// Adds the demands of all ties; names that no bay has are left to the reading of the design.
pub(super) fn ask(model: &mut Model<'_>) {
    let design = model.design;
    let by_name: BTreeMap<&str, usize> = model.nodes.iter().enumerate().map(|(i, node)| (node.name, i)).collect();
    let at = FieldPath::root().field("carcass").field("ties");
    for (i, tie) in design.carcass.ties.iter().enumerate() {
        let (names, axis) = match tie {
            Tie::SameWidth(names) => (names, Axis::X),
            Tie::SameHeight(names) => (names, Axis::Y),
            Tie::InLine { edge: TieEdge::Left | TieEdge::Right, bays } => (bays, Axis::X),
            Tie::InLine { edge: TieEdge::Lower | TieEdge::Upper, bays } => (bays, Axis::Y),
            // Of the boards, not of sizes.
            Tie::GrainMatch(_) => continue,
        };
        let nodes: Vec<usize> = names.iter().filter_map(|name| by_name.get(name.as_str()).copied()).collect();
        for (&a, &b) in nodes.iter().zip(nodes.iter().skip(1)) {
            if a == b {
                continue;
            }
            let (fa, fb) = (model.nodes[a].faces[axis.index()], model.nodes[b].faces[axis.index()]);
            let kind = match tie {
                Tie::SameWidth(_) | Tie::SameHeight(_) | Tie::GrainMatch(_) => {
                    MustKind::Equal(Model::span(fa), Model::span(fb))
                }
                Tie::InLine { edge: TieEdge::Left | TieEdge::Lower, .. } => MustKind::InLine(fa.0, fb.0),
                Tie::InLine { edge: TieEdge::Right | TieEdge::Upper, .. } => MustKind::InLine(fa.1, fb.1),
            };
            let about = vec![model.nodes[a].name.to_owned(), model.nodes[b].name.to_owned()];
            model.must(axis, kind, Reason { kind: ReasonKind::Tied, field: at.index(i), about });
        }
    }
}
