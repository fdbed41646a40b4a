//! A backstop behind the solver: things with their air lie inside their bays and meet nothing, and parts meet each other
//! only where they are joined.

use std::collections::BTreeSet;

use super::context::{Context, depth_of};
use super::report::{Found, Report};
use crate::assembly::Part;
use crate::finding::Severity;
use crate::geometry::Axis;
use crate::length::Length;
use crate::mechanics::source::Source;

const GEOMETRY: Source = Source::published("exact geometry of the solved piece");

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    inside_bays(context, report);
    things_and_parts(context, report);
    parts_and_parts(context, report);
}

fn inside_bays(context: &Context<'_>, report: &mut Report) {
    for thing in &context.assembly.things {
        let Some(bay) = context.layout.bays.get(thing.bay) else { continue };
        for (axis, id, word) in
            [(Axis::X, "fit.width", "wide"), (Axis::Y, "fit.height", "high"), (Axis::Z, "fit.depth", "deep")]
        {
            let (low, high) = thing.with_air.range(axis);
            let (clear_low, clear_high) = bay.clear.range(axis);
            let over = (clear_low - low).max(Length::ZERO) + (high - clear_high).max(Length::ZERO);
            if over > Length::ZERO {
                let (need, have) = ((high - low).mm(), (clear_high - clear_low).mm());
                report.add(
                    Found::new(
                        Severity::Error,
                        id,
                        format!(
                            "{} with its air is {} too {word} for its place in bay {}",
                            thing.name,
                            context.size(over.mm()),
                            bay.name
                        ),
                    )
                    .measured(context.size(need))
                    .limit(context.size(have))
                    .source(Source::OWN)
                    .mend(format!(
                        "a bay {} larger, or less air if the maker's manual allows it",
                        context.size(over.mm())
                    ))
                    .place(thing.with_air)
                    .about(thing.name.clone())
                    .about(bay.name.clone())
                    .field(Some(bay.path.clone()))
                    .usage(need / have),
                );
            }
        }
    }
}

fn things_and_parts(context: &Context<'_>, report: &mut Report) {
    let mut parts: Vec<&Part> = context.assembly.parts.iter().collect();
    parts.sort_by_key(|it| it.cuboid.min.x);
    for (t, thing) in context.assembly.things.iter().enumerate() {
        let hit = parts
            .iter()
            .take_while(|it| it.cuboid.min.x < thing.cuboid.max.x)
            .filter(|it| it.cuboid.overlaps(&thing.cuboid))
            .min_by_key(|it| it.number.as_str());
        let meets = |it: &&crate::layout::LaidThing| it.cuboid.overlaps(&thing.cuboid);
        let other = context.assembly.things.iter().skip(t + 1).find(meets).map(|it| (it.name.clone(), it.cuboid));
        for (name, cuboid) in [hit.map(|it| (it.name.clone(), it.cuboid)), other].into_iter().flatten() {
            report.add(
                Found::new(Severity::Error, "fit.overlap", format!("{} runs into {name}", thing.name))
                    .measured(context.size(depth_of(&thing.cuboid, &cuboid)))
                    .limit(context.size(0.0))
                    .source(GEOMETRY)
                    .mend("a larger bay, or another place for one of them")
                    .place(thing.cuboid)
                    .about(thing.name.clone())
                    .about(name)
                    .field(context.layout.bays.get(thing.bay).map(|it| it.path.clone()))
                    .usage(2.0),
            );
        }
    }
}

fn parts_and_parts(context: &Context<'_>, report: &mut Report) {
    let housed: BTreeSet<(usize, usize)> = context
        .assembly
        .joints
        .iter()
        .filter(|it| it.kind.seat().is_some())
        .map(|it| (it.face_part.min(it.edge_part), it.face_part.max(it.edge_part)))
        .collect();
    let parts = &context.assembly.parts;
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_key(|&i| (parts.get(i).map(|it| it.cuboid.min.x), i));
    for (k, &i) in order.iter().enumerate() {
        let Some(a) = parts.get(i) else { continue };
        for &j in order.iter().skip(k + 1) {
            let Some(b) = parts.get(j) else { continue };
            if b.cuboid.min.x >= a.cuboid.max.x {
                break;
            }
            if a.cuboid.overlaps(&b.cuboid) && !housed.contains(&(i.min(j), i.max(j))) {
                report.add(
                    Found::new(Severity::Error, "fit.parts", format!("{} and {} take the same place", a.name, b.name))
                        .measured(context.size(depth_of(&a.cuboid, &b.cuboid)))
                        .limit(context.size(0.0))
                        .source(GEOMETRY)
                        .mend("move one of them; if the design does not ask for it, please report it")
                        .place(a.cuboid)
                        .about(a.number.clone())
                        .about(b.number.clone())
                        .field(context.bay_field(&a.bay))
                        .usage(2.0),
                );
            }
        }
    }
}
