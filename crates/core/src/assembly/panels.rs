//! The panels of shells and divisions: their part numbers, names and grain.

use super::scene::{Draft, Scene};
use crate::design::{Holding, Inside, Role};
use crate::geometry::{Axis, Cuboid};
use crate::layout::{LaidPanel, LaidShell, Layout};

/// Drafts every panel of the layout; the draft of a panel has the panel's index.
pub(super) fn draft(scene: &mut Scene<'_>) {
    for panel in &scene.layout.panels {
        let (number, name) = called(scene, panel);
        let (across, grain) = lies(panel.role);
        scene.add(Draft {
            role: panel.role,
            number,
            name,
            bay: panel.bay.clone(),
            material: panel.material.clone(),
            cuboid: panel.cuboid,
            across,
            grain,
            shell: panel.shell,
            mover: None,
            loose: panel.loose,
            is_lid: false,
            grooves: Vec::new(),
            bare: Vec::new(),
            top: None,
        });
    }
}

/// The axis of the thickness and that of the grain: upright panels have upright grain, lying ones grain along the wall.
fn lies(role: Role) -> (Axis, Axis) {
    match role {
        Role::Side | Role::Upright => (Axis::X, Axis::Y),
        Role::Back => (Axis::Z, Axis::Y),
        _ => (Axis::Y, Axis::X),
    }
}

/// Part number and name of a panel.
fn called(scene: &Scene<'_>, panel: &LaidPanel) -> (String, String) {
    let layout = scene.layout;
    let before = |axis: Axis| {
        let shell = layout.shells.get(panel.shell).map(|shell: &LaidShell| shell.outer).unwrap_or_default();
        double_centre(&panel.cuboid, axis) < double_centre(&shell, axis)
    };
    let tag = scene.tag(&panel.bay);
    match panel.role {
        Role::Upright => (format!("UP-{tag}"), format!("upright right of {}", panel.bay)),
        Role::Shelf if panel.loose => {
            let place = place_of_loose(layout, panel);
            (format!("LS-{tag}.{place}"), format!("loose shelf {place} in {}", panel.bay))
        }
        Role::Shelf if carries(scene, panel) => (format!("CS-{tag}"), format!("shelf in {}", panel.bay)),
        Role::Shelf => (format!("SH-{tag}"), format!("shelf over {}", panel.bay)),
        Role::Side if before(Axis::X) => of_shell(scene, panel, "SL", "left side"),
        Role::Side => of_shell(scene, panel, "SR", "right side"),
        Role::Bottom => of_shell(scene, panel, "BO", "bottom"),
        Role::Top => of_shell(scene, panel, "TO", "top"),
        Role::Rail if before(Axis::Z) => of_shell(scene, panel, "RR", "rear rail"),
        Role::Rail => of_shell(scene, panel, "RF", "front rail"),
        Role::Back => of_shell(scene, panel, "BK", "back"),
        _ => of_shell(scene, panel, "PN", "panel"),
    }
}

fn double_centre(cuboid: &Cuboid, axis: Axis) -> crate::Length {
    let (low, high) = cuboid.range(axis);
    low + high
}

/// The panels of the carcass bear no bay name, those of a box inside it that of the box.
fn of_shell(scene: &Scene<'_>, panel: &LaidPanel, code: &str, name: &str) -> (String, String) {
    match scene.layout.shells.get(panel.shell) {
        Some(shell) if panel.shell > 0 => {
            (format!("{code}-{}", scene.tag(&shell.name)), format!("{name} of {}", shell.name))
        }
        _ => (code.to_owned(), name.to_owned()),
    }
}

/// The place of a loose shelf among those of its bay, counted from below from 1.
fn place_of_loose(layout: &Layout, panel: &LaidPanel) -> usize {
    let lower = |it: &&LaidPanel| it.loose && it.bay == panel.bay && it.cuboid.min.y < panel.cuboid.min.y;
    layout.panels.iter().filter(lower).count() + 1
}

/// Whether the shelf is the one that carries the things of its bay, and not the one that closes the bay above.
fn carries(scene: &Scene<'_>, panel: &LaidPanel) -> bool {
    let on_shelf =
        scene.bay(&panel.bay).is_some_and(|bay| matches!(&bay.inside, Inside::Holds { by: Holding::Shelf { .. }, .. }));
    on_shelf && scene.layout.bay(&panel.bay).is_some_and(|bay| bay.clear.max.y > panel.cuboid.min.y)
}
