//! Front elevations: the carcass without its fronts, and the fronts themselves.

use casewright_core::assembly::Part;
use casewright_core::design::Role;
use casewright_core::geometry::{Axis, Cuboid, middle};
use casewright_core::layout::LaidThing;
use kurbo::Rect;

use super::chains::{chain_of, envelope_chain, partitions, parts_only};
use super::handles::{draw_handles, draw_holders};
use super::movement::draw_swing_lines;
use super::scene::{Drawn, Scene, bodies, draw_areas, draw_parts, drawn_parts, view_rect};
use super::site::draw_site;
use super::stand::draw_stand;
use crate::dimension::{Chain, Side};
use crate::display::Layer;
use crate::label::Label;
use crate::line::LineClass;
use crate::tag::Tag;
use crate::view::{Axes, View};

/// The carcass from the front, its fronts taken off: X to the right, Y up. Things are drawn as adjacent parts.
#[must_use]
pub fn front_elevation(scene: &Scene<'_>) -> View {
    carcass_elevation(scene).numbered()
}

pub(crate) fn carcass_elevation<'a>(scene: &Scene<'a>) -> Drawn<'a> {
    let title = if has_fronts(scene) { "Front elevation, fronts removed" } else { "Front elevation" };
    let mut view = scene.view("front", title, Axes::FRONT);
    let parts = drawn_parts(scene, None, |part| part.role != Role::Front);
    draw_areas(&mut view, scene, &parts);
    draw_parts(&mut view, &parts, false);
    draw_things(&mut view, scene, |_| true);
    draw_holders(&mut view, scene, |_| true);
    draw_stand(&mut view, scene);
    draw_site(&mut view, scene, &bodies(&parts), |_| true);
    view.chains = carcass_chains(scene);
    for bay in scene.leaf_bays() {
        let own = |thing: &&LaidThing| scene.layout.bays.get(thing.bay).is_some_and(|own| own.name == bay.name);
        let things = scene.assembly.things.iter().filter(own);
        let mut lines = vec![bay.name.clone()];
        lines.extend(things.map(|thing| thing.name.clone()).filter(|name| *name != bay.name));
        let within = view_rect(Axes::FRONT, &bay.clear);
        view.labels.push(Label { within, lines, tag: Some(Tag::Bay(bay.name.clone())) });
    }
    Drawn { view, parts }
}

/// The piece from the front as it stands, with the sizes of its fronts. Hinged fronts carry swing lines that start at
/// the ends of the hinged edge and meet in the middle of the opposite one.
#[must_use]
pub fn front_elevation_with_fronts(scene: &Scene<'_>) -> View {
    let mut view = scene.view("fronts", "Front elevation", Axes::FRONT);
    let parts = drawn_parts(scene, None, |_| true);
    draw_areas(&mut view, scene, &parts);
    draw_parts(&mut view, &parts, false);
    draw_swing_lines(&mut view, scene);
    draw_handles(&mut view, scene);
    draw_stand(&mut view, scene);
    draw_site(&mut view, scene, &bodies(&parts), |_| true);
    let fronts: Vec<&Part> = scene.assembly.parts.iter().filter(|part| part.role == Role::Front).collect();
    let envelope = &scene.assembly.envelope;
    for (along, across, near, far) in
        [(Axis::X, Axis::Y, Side::Below, Side::Above), (Axis::Y, Axis::X, Side::Left, Side::Right)]
    {
        let halves = envelope.middle(across);
        for (index, partition) in partitions(&fronts, along, across, envelope.range(along)).iter().enumerate() {
            let side = if index == 0 || middle(partition.across) < halves { near } else { far };
            view.chains.push(parts_only(scene, partition, side));
        }
        view.chains.push(envelope_chain(scene, along, near, 1));
    }
    for front in &fronts {
        let within = view_rect(Axes::FRONT, &front.cuboid);
        let lines = vec![front.number.clone(), scene.say(&front.name)];
        view.labels.push(Label { within, lines, tag: Some(Tag::Part(front.number.clone())) });
    }
    view
}

/// Whether anything is to be taken off to see inside.
pub(crate) fn has_fronts(scene: &Scene<'_>) -> bool {
    scene.assembly.parts.iter().any(|part| part.role == Role::Front)
}

/// Things in their places, as adjacent parts.
pub(crate) fn draw_things(view: &mut View, scene: &Scene<'_>, shown: impl Fn(&Cuboid) -> bool) {
    for thing in scene.assembly.things.iter().filter(|thing| shown(&thing.cuboid)) {
        let rect: Rect = view_rect(view.axes, &thing.cuboid);
        let tag = Some(Tag::Thing(thing.name.clone()));
        view.geometry.rectangle(Layer::Things, LineClass::Adjacent, tag, rect);
    }
}

/// Chains of panels and openings across and up, the outside sizes, and the overhang of a worktop.
fn carcass_chains(scene: &Scene<'_>) -> Vec<Chain> {
    let envelope = &scene.assembly.envelope;
    let upright: Vec<&Part> =
        (scene.assembly.parts.iter()).filter(|part| matches!(part.role, Role::Side | Role::Upright)).collect();
    let lying: Vec<&Part> = scene
        .assembly
        .parts
        .iter()
        .filter(|part| {
            matches!(part.role, Role::Bottom | Role::Top | Role::Shelf | Role::Rail | Role::Worktop)
                && part.world_from_part.thickness_axis() == Axis::Y
        })
        .collect();
    let mut chains = Vec::new();
    for (parts, along, across, near, far) in
        [(&upright, Axis::X, Axis::Y, Side::Below, Side::Above), (&lying, Axis::Y, Axis::X, Side::Left, Side::Right)]
    {
        let halves = envelope.middle(across);
        for (index, partition) in partitions(parts, along, across, envelope.range(along)).iter().enumerate() {
            let side = if index == 0 || middle(partition.across) < halves { near } else { far };
            chains.push(chain_of(scene, partition, along, across, side, 1));
        }
        chains.push(envelope_chain(scene, along, near, 1));
    }
    chains.extend(overhang_chain(scene, Axis::X, Side::Above, 1));
    chains
}

/// How far a worktop stands out past the envelope along an axis, with the width of the envelope between.
pub(crate) fn overhang_chain(scene: &Scene<'_>, axis: Axis, side: Side, sign: i64) -> Option<Chain> {
    let mut pieces = scene.assembly.parts.iter().filter(|part| part.role == Role::Worktop);
    let worktop = pieces.next()?;
    let whole = pieces.fold(worktop.cuboid, |all, piece| all.union(&piece.cuboid));
    let (outer, inner) = (whole.range(axis), scene.assembly.envelope.range(axis));
    let tag = || Some(Tag::Part(worktop.number.clone()));
    let mut spans = Vec::new();
    if outer.0 < inner.0 {
        spans.push(super::chains::span(scene, outer.0, inner.0, sign, tag()));
    }
    if outer.1 > inner.1 {
        spans.push(super::chains::span(scene, inner.1, outer.1, sign, tag()));
    }
    (!spans.is_empty()).then_some(Chain { side, rank: 0, feature: None, spans })
}
