//! Openings for air: which part each is cut in and where, whether it fits, and how much air the way through it lets pass.

use serde::Serialize;

use super::context::{Context, overlap};
use super::report::{Found, Report};
use crate::assembly::{Assembly, Part};
use crate::design::{Opening, Resolved, Role, Stand};
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid};
use crate::layout::{LaidBay, Layout};
use crate::length::Length;
use crate::mechanics::air::{free_area_cm2, narrowest_cm2};
use crate::mechanics::source::Source;
use crate::text::FieldPath;

/// What must stay of a panel beside an opening.
const EDGE: Length = Length::from_mm(20);
/// How near a worktop must come to the wall to close the space behind the carcass.
const CLOSED: Length = Length::from_mm(10);

/// An opening at its place.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PlacedOpening {
    /// The part that it is cut in, an index into the assembly's.
    pub part: usize,
    /// What is cut away, through the thickness of the part, in world axes.
    pub cuboid: Cuboid,
    /// What the panel shows of the bay: the room for the opening.
    pub room: Cuboid,
}

/// Where an opening is cut; none if no part of its role borders its bay.
#[must_use]
pub fn place_opening(layout: &Layout, assembly: &Assembly, opening: &Opening<Length>) -> Option<PlacedOpening> {
    let bay = layout.bay(&opening.bay)?;
    let candidates = assembly.parts.iter().enumerate().filter(|(_, part)| part.role == opening.panel);
    let (part, found) = candidates
        .filter(|(_, part)| shows(part, bay))
        .min_by_key(|(i, part)| (apart(&part.cuboid, &bay.clear, part.world_from_part.thickness_axis()), *i))?;
    let (first, second) = plane(found);
    let room = room(found, bay);
    let mut cuboid = found.cuboid;
    let places = opening.at.map_or([None; 2], |at| [Some(at.0), Some(at.1)]);
    for ((axis, size), place) in [(first, opening.size.0), (second, opening.size.1)].into_iter().zip(places) {
        let (low, high) = room.range(axis);
        let from = low + place.unwrap_or_else(|| (high - low - size).half());
        cuboid = cuboid.with_range(axis, (from, from + size));
    }
    Some(PlacedOpening { part, cuboid, room })
}

/// The two axes of a panel in its plane: X or Z, then Y or Z.
const fn plane(part: &Part) -> (Axis, Axis) {
    match part.world_from_part.thickness_axis() {
        Axis::X => (Axis::Z, Axis::Y),
        Axis::Y => (Axis::X, Axis::Z),
        Axis::Z => (Axis::X, Axis::Y),
    }
}

/// Whether a panel borders a bay; a plinth stands under it.
fn shows(part: &Part, bay: &LaidBay) -> bool {
    let (first, second) = plane(part);
    let over = |axis| overlap(part.cuboid.range(axis), bay.clear.range(axis)) > 0.0;
    over(first) && (part.role == Role::Plinth || over(second))
}

fn room(part: &Part, bay: &LaidBay) -> Cuboid {
    let (first, second) = plane(part);
    let mut room = part.cuboid;
    for axis in [first, second] {
        if part.role == Role::Plinth && axis == second {
            continue;
        }
        let (a, b) = (part.cuboid.range(axis), bay.clear.range(axis));
        room = room.with_range(axis, (a.0.max(b.0), a.1.min(b.1)));
    }
    room
}

fn apart(a: &Cuboid, b: &Cuboid, axis: Axis) -> Length {
    let (a, b) = (a.range(axis), b.range(axis));
    (b.0 - a.1).max(a.0 - b.1).max(Length::ZERO)
}

fn field(index: usize) -> FieldPath {
    FieldPath::root().field("carcass").field("openings").index(index)
}

/// The openings of the design with their places.
fn placed<'a>(context: &Context<'a>) -> impl Iterator<Item = (usize, &'a Opening<Length>, Option<PlacedOpening>)> {
    let (layout, assembly) = (context.layout, context.assembly);
    let all = context.design.carcass.openings.iter().enumerate();
    all.map(move |(i, it)| (i, it, place_opening(layout, assembly, it)))
}

/// As [`is_in_opening_of`].
pub(super) fn is_in_opening(context: &Context<'_>, part: usize, solid: &Cuboid) -> bool {
    is_in_opening_of(context.design, context.layout, context.assembly, part, solid)
}

/// Whether something, seen through the thickness of a part, lies within one of the openings of that part.
pub(crate) fn is_in_opening_of(
    design: &Resolved,
    layout: &Layout,
    assembly: &Assembly,
    part: usize,
    solid: &Cuboid,
) -> bool {
    let through = assembly.parts.get(part).map(|it| it.world_from_part.thickness_axis());
    let placed = design.carcass.openings.iter().filter_map(|it| place_opening(layout, assembly, it));
    placed.filter(|it| it.part == part).any(|it| {
        Axis::ALL.into_iter().filter(|axis| Some(*axis) != through).all(|axis| {
            let (hole, own) = (it.cuboid.range(axis), solid.range(axis));
            hole.0 <= own.0 && own.1 <= hole.1
        })
    })
}

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    for (index, opening, placed) in placed(context) {
        let name = format!("the opening in the {} of {}", opening.panel.word(), opening.bay);
        let found = |what: String| {
            Found::new(Severity::Error, "air.opening", what)
                .source(Source::practice("20 mm of the panel stay beside an opening"))
                .about(opening.bay.clone())
                .field(Some(field(index)))
                .usage(1.5)
        };
        let Some(placed) = placed else {
            report.add(
                found(format!("{name} has no panel: there is none of this kind at that bay"))
                    .measured("no panel")
                    .limit("one panel")
                    .mend("another panel or another bay, or leave the opening out: air passes there anyway"),
            );
            continue;
        };
        let least = Axis::ALL
            .into_iter()
            .filter(|&axis| {
                context
                    .assembly
                    .parts
                    .get(placed.part)
                    .is_some_and(|part| part.world_from_part.thickness_axis() != axis)
            })
            .map(|axis| {
                let (inner, outer) = (placed.cuboid.range(axis), placed.room.range(axis));
                (inner.0 - outer.0).min(outer.1 - inner.1)
            })
            .min()
            .unwrap_or_default();
        if least < EDGE {
            let size = |axis: Axis| context.size(placed.room.size(axis).mm());
            let (first, second) = context.assembly.parts.get(placed.part).map_or((Axis::X, Axis::Y), plane);
            report.add(
                found(format!("{name} comes too near to the edge of what the panel shows of the bay"))
                    .measured(if least < Length::ZERO {
                        format!("{} past the edge", context.size(-least.mm()))
                    } else {
                        format!("{} beside it", context.size(least.mm()))
                    })
                    .limit(context.size(EDGE.mm()))
                    .mend(format!("a smaller opening: the panel shows {} x {} there", size(first), size(second)))
                    .place(placed.cuboid),
            );
        }
    }
}

/// Free areas of the ways in below and out above the middle of a bay, cm²: each way as narrow as its narrowest opening.
pub(super) fn ways(context: &Context<'_>, bay: &LaidBay) -> (f64, f64) {
    let middle = bay.clear.middle(Axis::Y);
    let (mut below, mut above) = (0.0, 0.0);
    let all: Vec<(&Opening<Length>, PlacedOpening)> = placed(context)
        .filter(|(_, opening, _)| opening.bay == bay.name)
        .filter_map(|(_, it, at)| Some((it, at?)))
        .collect();
    let sum = |role: Role| -> f64 { all.iter().filter(|it| it.0.panel == role).map(|it| area(it.0)).sum() };
    let worktop = context
        .assembly
        .parts
        .iter()
        .find(|it| it.role == Role::Worktop && overlap(it.cuboid.range(Axis::X), bay.clear.range(Axis::X)) > 0.0);
    // The space between the carcass and the wall, over the width of the bay.
    let gap = context.assembly.envelope.min.z.mm().max(0.0);
    let shaft = free_area_cm2(bay.clear.size(Axis::X).mm(), gap, 1.0);
    for (opening, at) in &all {
        let own = area(opening);
        let is_above = at.cuboid.min.y + at.cuboid.max.y >= middle * 2;
        let way = match opening.panel {
            Role::Plinth | Role::Worktop => continue,
            Role::Bottom => match context.design.carcass.stand {
                Stand::Plinth { .. } => narrowest_cm2(&[own, sum(Role::Plinth)]),
                Stand::Floor => 0.0,
                _ => own,
            },
            Role::Top => worktop.map_or(own, |_| narrowest_cm2(&[own, sum(Role::Worktop)])),
            Role::Back => {
                let shut = is_above && worktop.is_some_and(|it| it.cuboid.min.z <= CLOSED);
                let out = if shut { narrowest_cm2(&[shaft, sum(Role::Worktop)]) } else { shaft };
                narrowest_cm2(&[own, out])
            }
            Role::Side => own,
            Role::Front => own,
            _ => {
                if leads_to_open_bay(context, bay, &at.cuboid) {
                    own
                } else {
                    0.0
                }
            }
        };
        if is_above {
            above += way;
        } else {
            below += way;
        }
    }
    (below, above)
}

fn area(opening: &Opening<Length>) -> f64 {
    free_area_cm2(opening.size.0.mm(), opening.size.1.mm(), opening.free)
}

/// Whether the bay on the other side of an opening has no front.
fn leads_to_open_bay(context: &Context<'_>, bay: &LaidBay, cut: &Cuboid) -> bool {
    let near = |other: &LaidBay| {
        Axis::ALL.into_iter().all(|axis| {
            let (a, b) = (other.clear.range(axis), cut.range(axis));
            a.0 <= b.1 && b.0 <= a.1
        })
    };
    let beyond = context.layout.bays.iter().find(|it| it.is_leaf && it.name != bay.name && near(it));
    beyond.is_some_and(|it| {
        !context.assembly.parts.iter().any(|part| {
            part.role == Role::Front
                && overlap(part.cuboid.range(Axis::X), it.clear.range(Axis::X)) > 0.0
                && overlap(part.cuboid.range(Axis::Y), it.clear.range(Axis::Y)) > 0.0
        })
    })
}
