//! Doors, drawer fronts, flaps and fixed fronts: their places, reveals and hinges.
//!
//! Overlay fronts reach to the middle of a shared divider less half a reveal, and over an outer panel to its outer face
//! less a reveal. So every gap between neighbours is one reveal, and all of them lie in line. Where two shells stand
//! side by side, they share one reveal in the same way. Inset fronts keep the reveal to whatever closes the opening.

use super::scene::{Draft, DraftMover, Scene};
use super::{Motion, hinges};
use crate::design::{Bay, Front, FrontStyle, Holding, Inside, Opens, Role};
use crate::geometry::{Axis, Cuboid, Direction, Point};
use crate::holding::{material_for, reveal_of};
use crate::layout::{Closing, LaidBay};
use crate::length::Length;
use crate::moving::tilt::{FLAP_OPENS_DEG, Given};

/// Opening angle of a door where no hinge of the design says otherwise, degrees (common practice).
const DOOR_OPENS_DEG: f64 = 110.0;

/// Drafts the fronts of all bays, and the movers of those that open by themselves.
pub(super) fn draft(scene: &mut Scene<'_>) {
    for (index, laid) in scene.layout.bays.iter().enumerate() {
        let Some(bay) = scene.bay(&laid.name) else { continue };
        let Some(front) = &bay.front else { continue };
        let style = front.style.unwrap_or(scene.construction(laid.shell).fronts);
        if let Some(over) = outer_front(scene, laid, style) {
            let cause = super::build::Cause::FrontOverFront { bay: laid.name.clone(), over };
            scene.problem(cause, Some(laid.path.field("front")));
            continue;
        }
        draft_front(scene, index, laid, bay, front, style);
    }
}

/// The name of the bay round this one whose front takes the same place; an inset front stands behind any other.
fn outer_front(scene: &Scene<'_>, laid: &LaidBay, style: FrontStyle) -> Option<String> {
    let mut at = laid.parent;
    while let Some(outer) = at.and_then(|at| scene.layout.bays.get(at)) {
        if style == FrontStyle::Overlay && scene.bay(&outer.name).is_some_and(|bay| bay.front.is_some()) {
            return Some(outer.name.clone());
        }
        at = outer.parent;
    }
    None
}

fn draft_front(
    scene: &mut Scene<'_>,
    index: usize,
    laid: &LaidBay,
    bay: &Bay<Length>,
    front: &Front<Length>,
    style: FrontStyle,
) {
    let construction = scene.construction(laid.shell);
    let reveal = reveal_of(construction);
    let material = material_for(construction, Role::Front, front.board.as_deref()).to_owned();
    let Some(thickness) = scene.thickness(&material) else { return };
    let edge = |side| front_edge(scene, index, laid, side, style, reveal);
    let x = (edge(Direction::LEFT), edge(Direction::RIGHT));
    let y = (edge(Direction::DOWN), edge(Direction::UP));
    let plane = laid.clear.max.z;
    let z = match style {
        FrontStyle::Overlay => (plane, plane + thickness),
        FrontStyle::Inset => (plane - thickness, plane),
    };
    let least = if front.opens == Opens::Pair { reveal } else { Length::ZERO };
    if x.1 - x.0 <= least || y.1 <= y.0 {
        let missing = (least - (x.1 - x.0)).max(y.0 - y.1) + Length::from_mm(1);
        return scene.no_room(laid, "its front within its reveals", missing);
    }
    let tag = scene.tag(&laid.name);
    let moves = moving_holding(bay);
    let leaf = |scene: &mut Scene<'_>, number: String, name: String, x: (Length, Length)| {
        let cuboid = Cuboid::from_ranges(x, y, z);
        let lying = match front.opens {
            Opens::HingedBelow | Opens::HingedAbove => true,
            Opens::WithHolding => matches!(moves, Some(Holding::Drawer { .. } | Holding::PullOut { .. })),
            _ => false,
        };
        let wide = cuboid.size(Axis::X) > cuboid.size(Axis::Y);
        let draft = scene.add(Draft {
            role: Role::Front,
            number,
            name,
            bay: laid.name.clone(),
            material: material.clone(),
            cuboid,
            across: Axis::Z,
            grain: if lying && wide { Axis::X } else { Axis::Y },
            shell: laid.shell,
            mover: None,
            loose: false,
            is_lid: false,
            grooves: Vec::new(),
            bare: Vec::new(),
            top: None,
        });
        scene.fronts.entry(index).or_default().push(draft);
        draft
    };
    let name = &laid.name;
    match front.opens {
        Opens::Pair => {
            let left_end = x.0 + (x.1 - x.0 - reveal).half();
            let left = leaf(scene, format!("FR-{tag}.L"), format!("left door of {name}"), (x.0, left_end));
            let right = leaf(scene, format!("FR-{tag}.R"), format!("right door of {name}"), (left_end + reveal, x.1));
            hang(scene, laid, left, Opens::HingedLeft, format!("left door {name}"));
            hang(scene, laid, right, Opens::HingedRight, format!("right door {name}"));
        }
        Opens::Fixed => {
            leaf(scene, format!("FR-{tag}"), format!("fixed front of {name}"), x);
        }
        Opens::WithHolding => {
            let what = match moves {
                Some(Holding::Drawer { .. }) => "drawer front",
                Some(Holding::PullOut { .. }) => "front of the pull-out",
                Some(Holding::TiltOut { .. }) => "front of the tilt-out",
                _ => {
                    let cause = super::build::Cause::NothingMoves { bay: name.clone() };
                    return scene.problem(cause, Some(laid.path.field("front")));
                }
            };
            leaf(scene, format!("FR-{tag}"), format!("{what} of {name}"), x);
        }
        Opens::HingedLeft | Opens::HingedRight => {
            let draft = leaf(scene, format!("FR-{tag}"), format!("door of {name}"), x);
            hang(scene, laid, draft, front.opens, format!("door {name}"));
        }
        Opens::HingedBelow | Opens::HingedAbove => {
            let draft = leaf(scene, format!("FR-{tag}"), format!("flap of {name}"), x);
            hang(scene, laid, draft, front.opens, format!("flap {name}"));
        }
    }
}

/// What carries the things of the bay, if it moves.
pub(super) fn moving_holding(bay: &Bay<Length>) -> Option<&Holding<Length>> {
    match &bay.inside {
        Inside::Holds { by, .. } if !matches!(by, Holding::Standing | Holding::Shelf { .. }) => Some(by),
        _ => None,
    }
}

/// Hangs a front on its hinges. The axis is taken at the outer face on the hinged edge: the leaf of an overlay door on
/// cup hinges stays about within its own width, and an inset leaf on butts turns just there.
fn hang(scene: &mut Scene<'_>, laid: &LaidBay, draft: usize, opens: Opens, id: String) {
    let Some(part) = scene.drafts.get(draft) else { return };
    let cuboid = part.cuboid;
    let (pivot, axis) = axis_of(&cuboid, opens);
    let hinge = hinges::hinge_of(scene.design);
    let opens_deg = match opens {
        Opens::HingedBelow | Opens::HingedAbove => {
            let given = scene.bay(&laid.name).and_then(Given::of_flap);
            let hinges = hinge.map_or(FLAP_OPENS_DEG, |(_, hinge)| hinge.opens_deg);
            given.map_or(FLAP_OPENS_DEG, |it| it.flap_opens_deg(scene.design, hinges))
        }
        _ => hinge.map_or(DOOR_OPENS_DEG, |(_, hinge)| hinge.opens_deg),
    };
    let mover = scene.add_mover(DraftMover {
        id,
        bay: laid.name.clone(),
        things: Vec::new(),
        fittings: Vec::new(),
        motion: Motion::Turn { pivot, axis, opens_deg },
    });
    if let Some(part) = scene.drafts.get_mut(draft) {
        part.mover = Some(mover);
    }
    hinges::mount(scene, draft, opens);
}

/// The hinge axis of a front: a point on it and its direction, the turn being counter-clockwise seen against it.
pub(super) fn axis_of(cuboid: &Cuboid, opens: Opens) -> (Point, Direction) {
    let low = Point::new(cuboid.min.x, cuboid.min.y, cuboid.max.z);
    match opens {
        Opens::HingedRight => (low.with(Axis::X, cuboid.max.x), Direction::UP),
        Opens::HingedBelow => (low, Direction::RIGHT),
        Opens::HingedAbove => (low.with(Axis::Y, cuboid.max.y), Direction::LEFT),
        _ => (low, Direction::DOWN),
    }
}

/// Where a front ends on one side.
fn front_edge(
    scene: &Scene<'_>,
    index: usize,
    laid: &LaidBay,
    side: Direction,
    style: FrontStyle,
    reveal: Length,
) -> Length {
    let clear = outward(&laid.clear, side);
    let inwards = |from: Length, by: Length| from - by * side.sign();
    // The two fronts at one line share the reveal, to the nanometre.
    let half = if side.negative { reveal - reveal.half() } else { reveal.half() };
    let closing = match (side.axis, side.negative) {
        (Axis::X, true) => laid.closed_by.first(),
        (Axis::X, false) => laid.closed_by.get(1),
        (_, true) => laid.closed_by.get(2),
        (_, false) => laid.closed_by.get(3),
    };
    let panel = match closing {
        Some(Closing::Panel(panel)) => scene.layout.panels.get(*panel),
        _ => None,
    };
    match panel {
        None if meets_bay(scene, index, laid, side) => inwards(clear, half),
        None => inwards(clear, reveal),
        Some(_) if style == FrontStyle::Inset => inwards(clear, reveal),
        Some(panel) if matches!(panel.role, Role::Upright | Role::Shelf) => {
            inwards(panel.cuboid.middle(side.axis), half)
        }
        Some(panel) => {
            let outer = outward(&panel.cuboid, side);
            match gap_to_neighbour(scene, panel.shell, side, reveal) {
                Some(gap) => inwards(
                    outer,
                    if side.negative { reveal - gap - (reveal - gap).half() } else { (reveal - gap).half() },
                ),
                None => inwards(outer, reveal),
            }
        }
    }
}

/// The coordinate of the face of a box on one side.
fn outward(cuboid: &Cuboid, side: Direction) -> Length {
    let (low, high) = cuboid.range(side.axis);
    if side.negative { low } else { high }
}

/// Whether another bay begins where this one ends, with no panel between.
fn meets_bay(scene: &Scene<'_>, index: usize, laid: &LaidBay, side: Direction) -> bool {
    scene.layout.bays.iter().enumerate().any(|(other_index, other)| {
        other_index != index
            && super::contact::touch(&laid.clear, &other.clear).is_some_and(|(_, direction)| direction == side)
    })
}

/// The gap to a shell that stands beside this one, if it is smaller than a reveal.
fn gap_to_neighbour(scene: &Scene<'_>, shell: usize, side: Direction, reveal: Length) -> Option<Length> {
    let own = scene.layout.shells.get(shell)?;
    let reach = own.outer.grown(side, reveal);
    let beside = scene
        .layout
        .shells
        .iter()
        .enumerate()
        .filter(|&(other, it)| other != shell && reach.overlaps(&it.outer) && !own.outer.overlaps(&it.outer));
    beside.map(|(_, it)| (outward(&it.outer, side.reversed()) - outward(&own.outer, side)).abs()).min()
}
