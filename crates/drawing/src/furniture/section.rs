//! Sections: from the left through a bay, and from above through a bay.

use casewright_core::Length;
use casewright_core::assembly::Part;
use casewright_core::design::Role;
use casewright_core::geometry::{Axis, middle};
use casewright_core::layout::LaidBay;

use super::chains::{Partition, chain_of, envelope_chain};
use super::elevation::{draw_things, overhang_chain};
use super::handles::draw_holders;
use super::movement::draw_movement;
use super::scene::{Drawn, DrawnPart, Plane, Scene, draw_areas, draw_parts, drawn_parts};
use super::site::draw_site;
use super::stand::draw_stand;
use crate::cut_mark::CutMark;
use crate::dimension::Side;
use crate::view::{Axes, View};

/// The section from the left through the middle of a bay: Z to the right, Y up. With the mark of the cutting plane for
/// the front elevation.
#[must_use]
pub fn side_section(scene: &Scene<'_>, bay: &LaidBay, letter: &str) -> (View, CutMark) {
    let (drawn, mark) = side(scene, bay, letter);
    (drawn.numbered(), mark)
}

pub(crate) fn side<'a>(scene: &Scene<'a>, bay: &LaidBay, letter: &str) -> (Drawn<'a>, CutMark) {
    let plane = Plane { axis: Axis::X, at: clear_cut(scene, bay, Axis::X), keeps_smaller: false };
    let mut view = scene.view(format!("section-{letter}"), &title(letter), Axes::FROM_LEFT);
    let parts = draw_section(&mut view, scene, plane);
    // Depths: back, carcass and front met by the plane at the height of the bay.
    let height = bay.clear.middle(Axis::Y);
    view.chains.push(depth_chain(scene, plane, Axis::Y, height, Side::Below, 1));
    view.chains.push(envelope_chain(scene, Axis::Z, Side::Below, 1));
    view.chains.extend(overhang_chain(scene, Axis::Z, Side::Above, 1));
    let mark = CutMark { letter: letter.to_owned(), is_upright: true, at: plane.at.mm(), looks_forward: true };
    (Drawn { view, parts }, mark)
}

/// The section from above through the middle of a bay: X to the right, Z downwards. With the mark of the cutting plane
/// for the front elevation.
#[must_use]
pub fn plan_section(scene: &Scene<'_>, bay: &LaidBay, letter: &str) -> (View, CutMark) {
    let (drawn, mark) = plan(scene, bay, letter);
    (drawn.numbered(), mark)
}

pub(crate) fn plan<'a>(scene: &Scene<'a>, bay: &LaidBay, letter: &str) -> (Drawn<'a>, CutMark) {
    let plane = Plane { axis: Axis::Y, at: clear_cut(scene, bay, Axis::Y), keeps_smaller: true };
    let mut view = scene.view(format!("section-{letter}"), &title(letter), Axes::FROM_ABOVE);
    let parts = draw_section(&mut view, scene, plane);
    let across = bay.clear.middle(Axis::X);
    view.chains.push(depth_chain(scene, plane, Axis::X, across, Side::Left, -1));
    let mark = CutMark { letter: letter.to_owned(), is_upright: false, at: plane.at.mm(), looks_forward: false };
    (Drawn { view, parts }, mark)
}

/// Where to cut across a bay: in the middle, or as near to it as no panel that lies in the plane is cut along.
fn clear_cut(scene: &Scene<'_>, bay: &LaidBay, axis: Axis) -> Length {
    const SHARES: [f64; 9] = [0.5, 0.45, 0.55, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
    let (from, to) = bay.clear.range(axis);
    let along_a_panel = |at: Length| {
        scene.assembly.parts.iter().any(|part| {
            let range = part.cuboid.range(axis);
            part.world_from_part.thickness_axis() == axis && range.0 <= at && at <= range.1
        })
    };
    let candidates = SHARES.map(|share| Length::from_mm_f64((from.mm() + (to - from).mm() * share).round()));
    candidates.into_iter().find(|at| !along_a_panel(*at)).unwrap_or_else(|| middle((from, to)))
}

/// The title of a section, as in the source.
pub(crate) fn title(letter: &str) -> String {
    format!("Section {letter}–{letter}")
}

fn draw_section<'a>(view: &mut View, scene: &Scene<'a>, plane: Plane) -> Vec<DrawnPart<'a>> {
    let parts = drawn_parts(scene, Some(plane), |_| true);
    draw_areas(view, scene, &parts);
    draw_parts(view, &parts, false);
    draw_things(view, scene, |cuboid| plane.cuts(cuboid));
    draw_holders(view, scene, |bay| plane.cuts(bay));
    draw_movement(view, scene, plane);
    if plane.axis == Axis::X {
        draw_stand(view, scene);
    }
    draw_site(view, scene, &[], |cuboid| plane.cuts(cuboid));
    parts
}

/// The faces across the depth that the plane meets at one place: backs, fronts, and the edges of the carcass.
fn depth_chain(
    scene: &Scene<'_>,
    plane: Plane,
    across: Axis,
    place: Length,
    side: Side,
    sign: i64,
) -> crate::dimension::Chain {
    let holds = |part: &Part, axis: Axis, at: Length| {
        let (from, to) = part.cuboid.range(axis);
        from <= at && at <= to
    };
    let met: Vec<&Part> = scene
        .assembly
        .parts
        .iter()
        .filter(|part| {
            matches!(part.role, Role::Back | Role::Front)
                && part.world_from_part.thickness_axis() == Axis::Z
                && holds(part, plane.axis, plane.at)
                && holds(part, across, place)
        })
        .collect();
    let mut pieces: Vec<(Length, Length, String)> = met
        .iter()
        .map(|part| {
            let (from, to) = part.cuboid.range(Axis::Z);
            (from, to, part.number.clone())
        })
        .collect();
    pieces.sort();
    let whole = scene.assembly.envelope.range(Axis::Z);
    let mut positions = vec![whole.0, whole.1];
    positions.extend(pieces.iter().flat_map(|(from, to, _)| [*from, *to]));
    let sides = scene.assembly.parts.iter().filter(|part| part.role == Role::Side);
    let edges = sides.map(|part| part.cuboid.range(Axis::Z)).reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)));
    positions.extend(edges.into_iter().flat_map(|(from, to)| [from, to]));
    positions.sort();
    positions.dedup();
    let partition = Partition { across: (place, place), positions, pieces };
    chain_of(scene, &partition, Axis::Z, across, side, sign)
}
