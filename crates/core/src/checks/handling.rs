//! Lifting, carrying in and standing up.

use super::context::{Context, kg, listed};
use super::report::{Found, Report};
use crate::assembly::Part;
use crate::design::SiteWall;
use crate::finding::Severity;
use crate::geometry::Axis;
use crate::layout::LaidShell;
use crate::length::Length;
use crate::mechanics::handling::{
    ONE_PERSON_KG, longest_round_corner, passes_opening, people, raising_height, tallest_raised,
};
use crate::mechanics::source::Source;
use crate::survey::{BringIn, blocks, bring_in, room_height};

/// Pieces lower than this are set up without being raised.
const RAISED: f64 = 1500.0;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    heavy_parts(context, report);
    sections(context, report);
    raising(context, report);
    way_in(context, report);
}

/// How the carcass, on its feet and without its worktop, gets to its place past sills, beams and ceilings.
fn way_in(context: &Context<'_>, report: &mut Report) {
    let site = &context.design.site;
    let wall = site.walls.iter().filter(|it| it.wall == SiteWall::Rear).map(|it| it.at.2.mm()).fold(0.0, f64::min);
    for shell in carried_in(context) {
        let it = shell.outer;
        let piece = it.with_range(Axis::Y, (context.floor(), it.max.y));
        let blocks = blocks(context.design, &piece);
        let (height, depth) = (piece.size(Axis::Y).mm(), piece.size(Axis::Z).mm());
        let found = bring_in(height, depth, piece.min.z.mm(), wall, &blocks);
        let measured = format!("{} high, {} deep", context.size(height), context.size(depth));
        let finding = match &found {
            BringIn::Straight => continue,
            BringIn::Leaned(_) => {
                let (lean, lift) = found.most();
                let way = if lean > 0.0 { "towards you" } else { "towards the wall" };
                let leaned = (lean != 0.0).then(|| format!("leaned by {:.0}° {way}", lean.abs()));
                let lifted = (lift > 0.0).then(|| format!("lifted by {}", context.size(lift)));
                let how: Vec<String> = leaned.into_iter().chain(lifted).collect();
                let what = format!("{} goes to its place {}, not straight", shell.name, how.join(" and "));
                Found::new(Severity::Note, "handle.lean", what)
                    .mend("try it with a lath cut to its diagonal; two people, drawers and doors out")
                    .usage(0.5)
            }
            BringIn::Not { by } => {
                Found::new(Severity::Error, "handle.way", format!("{} does not get to its place past {by}", shell.name))
                    .limit(format!("a way by steps of 10 mm and 1°, lifted by up to {}", context.size(80.0)))
                    .mend("put it together where it stands, set it on its feet there, or make it lower or shallower")
                    .usage(1.5)
            }
        };
        report.add(
            finding
                .measured(measured)
                .source(Source::practice("a box moved in the side section"))
                .place(it)
                .about(shell.name.clone()),
        );
    }
}

/// The shells that come in as a whole: the one round all, else each box by itself.
fn carried_in<'a>(context: &Context<'a>) -> impl Iterator<Item = &'a LaidShell> {
    let boxes = if context.design.carcass.own_shell { 1 } else { context.layout.shells.len() };
    context.layout.shells.iter().take(boxes)
}

fn heavy_parts(context: &Context<'_>, report: &mut Report) {
    let heavy: Vec<&Part> = context.assembly.parts.iter().filter(|it| it.mass_kg > ONE_PERSON_KG.value).collect();
    let Some(most) = heavy.iter().max_by(|a, b| a.mass_kg.total_cmp(&b.mass_kg)) else { return };
    let names: Vec<&str> = heavy.iter().map(|it| it.name.as_str()).collect();
    let mut found = Found::new(Severity::Note, "handle.part", format!("two people lift {}", listed(&names)))
        .measured(kg(most.mass_kg))
        .limit(kg(ONE_PERSON_KG.value))
        .source(ONE_PERSON_KG.source)
        .mend("a second person, or a panel lifter")
        .place(most.cuboid)
        .usage(most.mass_kg / ONE_PERSON_KG.value);
    for part in heavy {
        found = found.about(part.number.clone());
    }
    report.add(found);
}

/// The shells are what is carried in, empty and without fronts.
fn sections(context: &Context<'_>, report: &mut Report) {
    let whole: f64 = context.still().map(|(_, it)| it.mass_kg).sum();
    let count = people(whole);
    if count > 1 {
        report.add(
            Found::new(
                Severity::Note,
                "handle.section",
                format!("the carcass weighs {} without what moves: {count} people", kg(whole)),
            )
            .measured(kg(whole))
            .limit(format!("{} a person", kg(ONE_PERSON_KG.value)))
            .source(ONE_PERSON_KG.source)
            .mend("take worktop, doors and drawers off first, or build it in sections")
            .place(context.assembly.envelope)
            .usage(whole / ONE_PERSON_KG.value / 10.0),
        );
    }
    for shell in carried_in(context) {
        let it = &shell.outer;
        let size = (it.size(Axis::X).mm(), it.size(Axis::Y).mm(), it.size(Axis::Z).mm());
        let measured = format!("{} x {} x {}", context.size(size.0), context.size(size.1), context.size(size.2));
        let mut stuck = |id: &'static str, what: &str, limit: String, source: Source| {
            report.add(
                Found::new(Severity::Error, id, format!("put together, {} {what}", shell.name))
                    .measured(measured.clone())
                    .limit(limit)
                    .source(source)
                    .mend("put it together in the room, or build it in sections")
                    .place(*it)
                    .about(shell.name.clone())
                    .usage(1.5),
            );
        };
        if let Some((width, height)) = context.options.doorway.map(|it| (it.0.mm(), it.1.mm()))
            && !passes_opening(size, (width, height))
        {
            let limit = format!("{} x {}", context.size(width), context.size(height));
            let source = Source::practice("a box turned in an opening");
            stuck("handle.doorway", "does not pass through the doorway", limit, source);
        }
        if let Some((first, second)) = context.options.corner.map(|it| (it.0.mm(), it.1.mm())) {
            // Held level on any of its sides: the smaller two are width and height, or it stands upright.
            let passes = [(size.0, size.1), (size.0, size.2), (size.1, size.2)]
                .into_iter()
                .any(|(a, b)| longest_round_corner(a.min(b), first, second) >= a.max(b));
            if !passes {
                let limit = format!("passages of {} and {}", context.size(first), context.size(second));
                stuck(
                    "handle.corner",
                    "does not go round the corner",
                    limit,
                    Source::practice("a box held level in a corner"),
                );
            }
        }
    }
}

/// Put together lying, it is raised in the room: what hangs over its niche only, a sill or beam, is not in the way then.
fn raising(context: &Context<'_>, report: &mut Report) {
    let room = || room_height(context.design, &context.assembly.envelope);
    let Some(ceiling) = context.options.ceiling.or_else(room).map(Length::mm) else { return };
    for shell in context.layout.shells.iter().take(1) {
        let (height, depth) = (shell.outer.size(Axis::Y).mm(), shell.outer.size(Axis::Z).mm());
        let need = raising_height(height, depth);
        if height > RAISED && need > ceiling {
            let lower = tallest_raised(ceiling, depth)
                .map_or_else(String::new, |it| format!(", or a carcass of at most {}", context.size(it.floor())));
            report.add(
                Found::new(
                    Severity::Error,
                    "handle.ceiling",
                    "put together lying, it cannot be raised under the ceiling",
                )
                .measured(context.size(need))
                .limit(context.size(ceiling))
                .source(Source::practice("diagonal of its side"))
                .mend(format!("put it together standing, or give it a separate plinth{lower}"))
                .place(shell.outer)
                .usage(need / ceiling),
            );
        }
    }
}
