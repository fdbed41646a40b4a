//! Why parts cannot be brought together, and which joint made otherwise would mend it.

use super::Stuck;
use super::blocking::{Blocking, DIRECTIONS};
use super::order::put_together;
use crate::assembly::{Assembly, JoinedBy};

/// Explains a stuck group: single joints that would mend it, else pairs of them.
pub(super) fn explain(blocking: &Blocking<'_>, nodes: &[Vec<usize>]) -> Stuck {
    let assembly = blocking.assembly;
    let parts = &nodes.concat();
    let fixed = |index: &usize| {
        assembly.joints.get(*index).is_some_and(|joint| {
            let inside = parts.contains(&joint.face_part) && parts.contains(&joint.edge_part);
            inside && (matches!(joint.kind, JoinedBy::Dowels { .. }) || joint.kind.seat().is_some())
        })
    };
    let candidates: Vec<usize> = (0..assembly.joints.len()).filter(fixed).collect();
    let mends = |joints: &[usize]| put_together(&blocking.freeing(joints), nodes).stuck().is_empty();
    let single: Vec<usize> = candidates.iter().copied().filter(|&joint| mends(&[joint])).collect();
    let names = named(assembly, parts);
    let blockers = pairs_in_the_way(blocking, nodes);
    if !single.is_empty() {
        let list: Vec<String> = single.iter().map(|&joint| words(assembly, joint)).collect();
        return Stuck {
            parts: parts.to_vec(),
            what: format!("{names} come together in no order: {}", why(assembly, &candidates)),
            mend: format!("screw or bolt one of these joints instead: {}", list.join("; ")),
            joints: single,
        };
    }
    let pair = candidates.iter().enumerate().find_map(|(at, &one)| {
        let others = candidates.iter().skip(at + 1);
        others.copied().find(|&other| mends(&[one, other])).map(|other| vec![one, other])
    });
    match pair {
        Some(joints) => {
            let list: Vec<String> = joints.iter().map(|&joint| words(assembly, joint)).collect();
            Stuck {
                parts: parts.to_vec(),
                what: format!("{names} come together in no order: {}", why(assembly, &candidates)),
                mend: format!("screw or bolt both of these joints instead: {}", list.join(" and ")),
                joints,
            }
        }
        None => Stuck {
            parts: parts.to_vec(),
            what: format!("{names} come together in no order: {blockers}"),
            mend: "make one of these parts shorter or in two pieces, or leave one of them out".to_owned(),
            joints: Vec::new(),
        },
    }
}

/// Which axes the joints ask for.
fn why(assembly: &Assembly, joints: &[usize]) -> String {
    let list: Vec<String> = joints
        .iter()
        .filter_map(|&index| {
            let joint = assembly.joints.get(index)?;
            Some(format!("{} closes along {:?}", words(assembly, index), joint.direction.axis))
        })
        .collect();
    list.join(", ")
}

/// What is closed in on all sides.
fn pairs_in_the_way(blocking: &Blocking<'_>, nodes: &[Vec<usize>]) -> String {
    let shut = |at: &usize| {
        let Some(node) = nodes.get(*at) else { return false };
        let others: Vec<usize> =
            nodes.iter().enumerate().filter(|(other, _)| other != at).flat_map(|(_, it)| it.iter().copied()).collect();
        DIRECTIONS.into_iter().all(|direction| blocking.blocks(node, &others, direction))
    };
    let found: Vec<usize> = (0..nodes.len()).filter(shut).filter_map(|at| nodes.get(at)).flatten().copied().collect();
    if found.is_empty() {
        return "whatever leaves takes another with it".to_owned();
    }
    format!("{} closed in on all sides", named(blocking.assembly, &found))
}

fn words(assembly: &Assembly, joint: usize) -> String {
    let Some(joint) = assembly.joints.get(joint) else { return String::new() };
    named(assembly, &[joint.face_part, joint.edge_part]).replace(", ", "–")
}

fn named(assembly: &Assembly, parts: &[usize]) -> String {
    let numbers: Vec<&str> = parts.iter().filter_map(|&part| Some(assembly.parts.get(part)?.number.as_str())).collect();
    numbers.join(", ")
}
