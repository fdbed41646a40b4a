//! What in a design refers to bays and obstacles by their names: it follows when a name changes, and goes when what it is
//! about goes.

use std::collections::BTreeMap;

use casewright_core::design::{Design, Tie};

use super::tree::names;

fn for_ties(design: &mut Design, each: &mut dyn FnMut(&mut Vec<String>)) {
    for tie in &mut design.carcass.ties {
        match tie {
            Tie::SameWidth(bays) | Tie::SameHeight(bays) | Tie::InLine { bays, .. } | Tie::GrainMatch(bays) => {
                each(bays);
            }
        }
    }
}

fn renamed(name: &mut String, from: &str, to: &str) {
    if name == from {
        to.clone_into(name);
    }
}

fn renamed_key<V>(map: &mut BTreeMap<String, V>, from: &str, to: &str) {
    if let Some(value) = map.remove(from) {
        map.insert(to.to_owned(), value);
    }
}

/// Has what refers to a bay follow its new name.
pub(super) fn rename_bay(design: &mut Design, from: &str, to: &str) {
    for_ties(design, &mut |bays| bays.iter_mut().for_each(|bay| renamed(bay, from, to)));
    for opening in &mut design.carcass.openings {
        renamed(&mut opening.bay, from, to);
    }
    for joint in &mut design.carcass.joints {
        for bay in [&mut joint.bay, &mut joint.to_bay].into_iter().flatten() {
            renamed(bay, from, to);
        }
    }
    renamed_key(&mut design.as_built.openings, from, to);
    renamed_key(&mut design.as_built.diagonals, from, to);
}

/// Has what refers to an obstacle follow its new name.
pub(super) fn rename_obstacle(design: &mut Design, from: &str, to: &str) {
    for thing in design.things.values_mut() {
        if let Some(socket) = thing.lead.as_mut().and_then(|lead| lead.socket.as_mut()) {
            renamed(socket, from, to);
        }
    }
}

/// Has leads look for another socket than one that is gone.
pub(super) fn forget_obstacle(design: &mut Design, name: &str) {
    for lead in design.things.values_mut().filter_map(|thing| thing.lead.as_mut()) {
        lead.socket = lead.socket.take().filter(|socket| socket != name);
    }
}

/// Takes away what is about bays that are gone, and ties of fewer than two bays.
pub(super) fn forget_gone(design: &mut Design) {
    let left = names(design);
    let is_left = |bay: &String| left.contains(bay);
    for_ties(design, &mut |bays| bays.retain(is_left));
    design.carcass.ties.retain(|tie| tie.bays().len() >= 2);
    design.carcass.openings.retain(|opening| is_left(&opening.bay));
    design.carcass.joints.retain(|joint| [&joint.bay, &joint.to_bay].into_iter().flatten().all(is_left));
    design.as_built.openings.retain(|bay, _| left.contains(bay));
    design.as_built.diagonals.retain(|bay, _| left.contains(bay));
}
