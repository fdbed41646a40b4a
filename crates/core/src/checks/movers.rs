//! Slides against their class, hinges against the mass of the door, and fronts that lever on their fixing.

use super::context::{Context, kg, newtons, overlap};
use super::report::{Found, Report};
use crate::assembly::{Assembly, BRACKET_SCREW_FROM_END, Motion, Mover, Part, hinge_places};
use crate::design::{Bracket, Fitting, Holding, Inside, Resolved, Role, Slide};
use crate::finding::Severity;
use crate::fittings::{SlideSeries, figures, heaviest_door, hinges_by_mass, library};
use crate::geometry::{Axis, Cuboid};
use crate::holding::least_depth;
use crate::length::Length;
use crate::mechanics::fasteners::{Entry, SCREW_SHARE, screw_withdrawal_particleboard};
use crate::mechanics::fittings::{front_moment, front_pull, hinge_pull, leaf_swing};
use crate::mechanics::limits::ShelfUse;
use crate::mechanics::source::{Source, Sourced};

/// Pull on the upper edge of a front, N.
const HAND: Sourced = Sourced::new(100.0, Source::practice("a firm pull by hand"));

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    for mover in &context.assembly.movers {
        let parts: Vec<&Part> = mover.parts.iter().filter_map(|&i| context.assembly.parts.get(i)).collect();
        let Some(place) = parts.iter().map(|it| it.cuboid).reduce(|a, b| a.union(&b)) else { continue };
        match mover.motion {
            Motion::Slide { .. } => {
                slides(context, mover, &parts, place, report);
                leverage(context, mover, &parts, report);
            }
            Motion::Turn { .. } => {
                hinges(context, mover, &parts, report);
                turning(context, mover, &parts, report);
            }
        }
    }
}

/// The slide that carries a bay's holding.
fn slide_of<'a>(context: &Context<'a>, mover: &Mover) -> Option<(&'a str, &'a Slide<Length>)> {
    let Inside::Holds { by: Holding::PullOut { slide, .. } | Holding::Drawer { slide, .. }, .. } =
        &context.bay(&mover.bay)?.inside
    else {
        return None;
    };
    match context.design.fittings.get(slide.as_ref()?) {
        Some(Fitting::Slide(it)) => Some((slide.as_ref()?, it)),
        _ => None,
    }
}

/// What a drawer without named things is assumed to hold, kg: 15 psf on its bottom.
pub(super) fn assumed_drawer_load(context: &Context<'_>, mover: &Mover) -> f64 {
    assumed_full_load(context.assembly, mover) * context.options.load_share
}

fn assumed_full_load(assembly: &Assembly, mover: &Mover) -> f64 {
    if !mover.things.is_empty() {
        return 0.0;
    }
    let bottoms = mover.parts.iter().filter_map(|&i| assembly.parts.get(i));
    bottoms
        .filter(|it| it.role == Role::DrawerBottom)
        .map(|it| it.cuboid.size(Axis::X).mm() * it.cuboid.size(Axis::Z).mm() * 1e-6)
        .map(|area| area * ShelfUse::Storage.load().value / crate::mechanics::GRAVITY)
        .sum()
}

/// All that moves, kg: its parts, the things with all that they hold, and what a drawer without named things is assumed to
/// hold. The check of slides goes by the same sum.
#[must_use]
pub fn moved_mass_kg(design: &Resolved, assembly: &Assembly, mover: &Mover) -> f64 {
    let parts: f64 = mover.parts.iter().filter_map(|&i| assembly.parts.get(i)).map(|it| it.mass_kg).sum();
    let laid = mover.things.iter().filter_map(|&i| assembly.things.get(i));
    let things = laid.filter_map(|it| design.things.get(&it.name)).map(|it| it.mass_kg.max(0.0) + it.load_kg.max(0.0));
    parts + things.sum::<f64>() + assumed_full_load(assembly, mover)
}

/// What a slide leaves of the depth of its opening, where a longer usual one would go in.
fn rest(context: &Context<'_>, mover: &Mover, name: &str, slide: &Slide<Length>, report: &mut Report) {
    let mounted = context.assembly.fittings.iter().find(|it| it.bay == mover.bay && it.name == name);
    let (Some(laid), Some(mounted), Ok(library)) = (context.laid(&mover.bay), mounted, library()) else { return };
    let rest = mounted.cuboid.min.z - laid.clear.min.z;
    let room = rest - (least_depth(slide) - figures().set_back - slide.length);
    let series = SlideSeries::of(library, slide.mount);
    let fits = |length: &&f64| {
        let more = Length::from_mm_f64(**length) - slide.length;
        Length::ZERO < more && more <= room
    };
    let Some(longest) = series.lengths.iter().rfind(fits) else { return };
    report.add(
        Found::new(
            Severity::Note,
            "slide.rest",
            format!("{} leaves {} of the depth behind it", mover.id, context.size(rest.mm())),
        )
        .measured(context.size(slide.length.mm()))
        .limit(context.size(*longest))
        .source(Source::practice("usual lengths of slides"))
        .mend(format!("slides of {longest} mm would fit"))
        .place(mounted.cuboid)
        .about(mover.bay.clone())
        .field(context.bay_field(&mover.bay).map(|it| it.field("inside").field("by")))
        .usage(0.05),
    );
}

fn slides(context: &Context<'_>, mover: &Mover, parts: &[&Part], place: Cuboid, report: &mut Report) {
    let Some((name, slide)) = slide_of(context, mover) else { return };
    rest(context, mover, name, slide, report);
    let own: f64 = parts.iter().map(|it| it.mass_kg).sum();
    let things: f64 = mover.things.iter().map(|&t| context.thing_mass(t)).map(|(a, b)| a + b).sum();
    let assumed = assumed_drawer_load(context, mover);
    let mass = own + things + assumed;
    if slide.load_kg > 0.0 && mass > slide.load_kg {
        // A load that nobody named does not decide.
        let severity = if assumed > 0.0 && own + things <= slide.load_kg { Severity::Warning } else { Severity::Error };
        let assumed = if assumed > 0.0 { format!(" ({} of it assumed)", kg(assumed)) } else { String::new() };
        report.add(
            Found::new(
                severity,
                "slide.load",
                format!("{} weighs {}{assumed} on slides \"{name}\"", mover.id, kg(mass)),
            )
            .measured(kg(mass))
            .limit(kg(slide.load_kg))
            .source(Source::OWN)
            .mend("slides of a higher class, or less in it; the class counts for moving loads")
            .place(place)
            .about(mover.bay.clone())
            .field(context.bay_field(&mover.bay).map(|it| it.field("inside").field("by")))
            .usage(mass / slide.load_kg),
        );
    }
}

/// A front that reaches over the box or platform that it is fixed to.
fn leverage(context: &Context<'_>, mover: &Mover, parts: &[&Part], report: &mut Report) {
    let Some(front) = parts.iter().find(|it| it.role == Role::Front) else { return };
    let fixed_to = |it: &&&Part| {
        matches!(it.role, Role::DrawerEnd | Role::Platform | Role::SideStrip | Role::DrawerSide)
            && (it.cuboid.max.z - front.cuboid.min.z).abs() <= Length::from_mm(2)
    };
    let Some((low, high)) =
        parts.iter().filter(fixed_to).map(|it| it.cuboid.range(Axis::Y)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    else {
        return;
    };
    // Fixings a little inside the edges of what the front is fixed to.
    let height = (high - low).mm();
    let apart = (height - 30.0).max(height / 2.0);
    let upper = high.mm() - (height - apart) / 2.0;
    let lower = upper - apart;
    let Some(material) = context.properties(front) else { return };
    let thickness = front.cuboid.size(Axis::Z).mm();
    // The front turns about the lower fixing line when pulled at its upper edge, and the screws there pull out.
    let arm = front.cuboid.max.y.mm() - lower;
    let out = thickness / 2.0;
    let pull = front_pull(front_moment(front.mass_kg, out, HAND.value, arm), apart) / 2.0;
    let platform = parts.iter().find(|it| it.role == Role::Platform).map(|it| it.cuboid);
    if let (Some(platform), Some((name, bracket))) = (platform, bracket_of(context, mover)) {
        room(context, mover, name, report);
        let pull = bracket_pull(front, platform, upper, bracket.leg.mm());
        if pull > bracket.holds_n {
            report.add(
                Found::new(
                    Severity::Warning,
                    "front.bracket",
                    format!("the brackets \"{name}\" do not hold {} when it is pulled at its top", front.name),
                )
                .measured(format!("{} on each bracket", newtons(pull)))
                .limit(newtons(bracket.holds_n))
                .source(Source::practice("its maker's sheet goes first"))
                .source(HAND.source)
                .mend(suffices(context, (mover, parts), front, platform, upper))
                .place(front.cuboid)
                .about(front.number.clone())
                .about(mover.bay.clone())
                .field(context.bay_field(&mover.bay).map(|it| it.field("front").field("brackets")))
                .usage(pull / bracket.holds_n.max(1.0)),
            );
        }
        return;
    }
    let thread = (thickness - 3.0).min(16.0);
    let holds =
        SCREW_SHARE.value * screw_withdrawal_particleboard(Entry::Face, material.density.value / 1000.0, 4.0, thread);
    if pull > holds {
        report.add(
            Found::new(
                Severity::Warning,
                "front.leverage",
                format!(
                    "{} stands {} above what it is fixed to, which is only {} high",
                    front.name,
                    context.size((front.cuboid.max.y - high).mm().max(0.0)),
                    context.size(height)
                ),
            )
            .measured(format!("{} on each upper screw", newtons(pull)))
            .limit(newtons(holds))
            .source(Source::memory("Wood Handbook, screws in particleboard, a quarter of the ultimate load"))
            .source(HAND.source)
            .mend(match platform {
                Some(platform) => suffices(context, (mover, parts), front, platform, upper),
                None => "brackets from the front to the sides or strips, as high as they will go, or a higher box"
                    .to_owned(),
            })
            .place(front.cuboid)
            .about(front.number.clone())
            .about(mover.bay.clone())
            .field(context.bay_field(&mover.bay))
            .usage(pull / holds),
        );
    }
}

/// The brackets that the design gives the front of a pull-out.
fn bracket_of<'a>(context: &Context<'a>, mover: &Mover) -> Option<(&'a str, &'a Bracket<Length>)> {
    let name = context.bay(&mover.bay)?.front.as_ref()?.brackets.as_ref()?;
    match context.design.fittings.get(name) {
        Some(Fitting::Bracket(it)) => Some((name, it)),
        _ => None,
    }
}

/// The pull on each of two brackets that stand on the platform behind a front, N. The front turns about the underside of
/// the platform, where it bears, and the uppermost screws hold it; `upper` is the height of what holds it without them.
fn bracket_pull(front: &Part, platform: Cuboid, upper: f64, leg: f64) -> f64 {
    let lower = platform.min.y.mm();
    let holds_at = (platform.max.y.mm() + leg - BRACKET_SCREW_FROM_END.mm()).max(upper).min(front.cuboid.max.y.mm());
    let out = front.cuboid.size(Axis::Z).mm() / 2.0;
    let moment = front_moment(front.mass_kg, out, HAND.value, front.cuboid.max.y.mm() - lower);
    front_pull(moment, (holds_at - lower).max(1.0)) / 2.0
}

/// The smallest bracket of the library that holds such a front and has room beside what stands on the platform, in words.
fn suffices(
    context: &Context<'_>,
    (mover, parts): (&Mover, &[&Part]),
    front: &Part,
    platform: Cuboid,
    upper: f64,
) -> String {
    let strip = parts.iter().filter(|it| it.role == Role::SideStrip).map(|it| it.cuboid.size(Axis::X)).max();
    let strip = strip.unwrap_or_default();
    let is_free = |leg: f64, width: f64| {
        let (leg, width) = (Length::from_mm_f64(leg), Length::from_mm_f64(width));
        let (left, right) = (platform.min.x + strip, platform.max.x - strip);
        let y = (platform.max.y, platform.max.y + leg);
        let z = (platform.max.z - leg, platform.max.z);
        let places = [(left, left + width), (right - width, right)].map(|x| Cuboid::from_ranges(x, y, z));
        let mut things = mover.things.iter().filter_map(|&it| context.assembly.things.get(it));
        !things.any(|thing| places.iter().any(|it| it.overlaps(&thing.cuboid)))
    };
    let brackets = library().map(|it| it.sundries.brackets.as_slice()).unwrap_or_default();
    let mut holding = brackets.iter().filter(|it| bracket_pull(front, platform, upper, it.leg.0) <= it.holds_n.0);
    match holding.clone().find(|it| is_free(it.leg.0, it.width.0)).or_else(|| holding.next()) {
        Some(it) if is_free(it.leg.0, it.width.0) => {
            format!("two of \"{}\" on the platform: `brackets` of its front", it.name)
        }
        Some(it) => {
            format!("room for two of \"{}\" on the platform, `brackets` of its front, or higher strips", it.name)
        }
        None => "higher strips on the platform or a drawer box: no usual bracket holds it".to_owned(),
    }
}

/// Whether a thing on the platform stands where a bracket is.
fn room(context: &Context<'_>, mover: &Mover, name: &str, report: &mut Report) {
    let things = || mover.things.iter().filter_map(|&it| context.assembly.things.get(it));
    let mounted = context.assembly.fittings.iter().filter(|it| it.bay == mover.bay && it.name == name);
    let hit =
        mounted.filter_map(|it| things().find(|thing| thing.cuboid.overlaps(&it.cuboid)).map(|thing| (it, thing)));
    for (it, thing) in hit.take(1) {
        let overlap = overlap(it.cuboid.range(Axis::Z), thing.cuboid.range(Axis::Z));
        report.add(
            Found::new(
                Severity::Error,
                "front.bracket",
                format!("{} stands where the bracket \"{name}\" is", thing.name),
            )
            .measured(format!("{} too far in front", context.size(overlap)))
            .limit("nothing in it")
            .source(Source::OWN)
            .mend("a deeper platform, a narrower thing, or a smaller bracket")
            .place(it.cuboid)
            .about(mover.bay.clone())
            .about(thing.name.clone())
            .field(context.bay_field(&mover.bay).map(|it| it.field("front").field("brackets")))
            .usage(1.5),
        );
    }
}

/// An inset leaf turns about the front edge of its hinged side; its rear corner on the other side swings out by
/// sqrt(w² + t²) - w, which the gap there must leave free.
fn turning(context: &Context<'_>, mover: &Mover, parts: &[&Part], report: &mut Report) {
    let Some(leaf) = parts.iter().find(|it| it.role == Role::Front) else { return };
    let Motion::Turn { pivot, axis, .. } = mover.motion else { return };
    let (along, across) = if axis.axis == Axis::Y { (Axis::Y, Axis::X) } else { (Axis::X, Axis::Y) };
    let (low, high) = leaf.cuboid.range(across);
    let far_is_high = (pivot.along(across) - low).abs() < (high - pivot.along(across)).abs();
    let (width, thickness) = ((high - low).mm(), leaf.cuboid.size(Axis::Z).mm());
    let swings = leaf_swing(width, thickness);
    let gap = |it: &Cuboid| if far_is_high { it.range(across).0 - high } else { low - it.range(across).1 };
    let beside = context.assembly.parts.iter().filter(|it| {
        !mover.parts.iter().any(|&own| context.assembly.parts.get(own).is_some_and(|part| part.number == it.number))
            && overlap(it.cuboid.range(Axis::Z), leaf.cuboid.range(Axis::Z)) > 0.0
            && overlap(it.cuboid.range(along), leaf.cuboid.range(along)) > 0.0
            && gap(&it.cuboid) >= Length::ZERO
    });
    let Some((least, part)) = beside.map(|it| (gap(&it.cuboid).mm(), it)).min_by(|a, b| a.0.total_cmp(&b.0)) else {
        return;
    };
    if swings <= least {
        return;
    }
    report.add(
        Found::new(
            Severity::Error,
            "front.turn",
            format!("{} cannot turn: its rear corner swings out towards {}", leaf.name, part.name),
        )
        .measured(format!("swings by {}", context.size(swings)))
        .limit(format!("gap of {}", context.size(least)))
        .source(Source::published("geometry of a turned rectangle"))
        .mend(format!(
            "a gap of {}, a bevelled edge there, a thinner leaf, or an overlay front",
            context.size((swings * 2.0).ceil() / 2.0)
        ))
        .place(leaf.cuboid)
        .about(leaf.number.clone())
        .about(part.number.clone())
        .field(context.bay_field(&leaf.bay).map(|it| it.field("front")))
        .usage(swings / least.max(0.1)),
    );
}

fn hinges(context: &Context<'_>, mover: &Mover, parts: &[&Part], report: &mut Report) {
    let Some(door) = parts.iter().find(|it| it.role == Role::Front) else { return };
    if !mover.things.is_empty() || parts.len() > 1 {
        // A tilting compartment has fittings of its own.
        return;
    }
    let Motion::Turn { axis, .. } = mover.motion else { return };
    let upright = axis.axis == Axis::Y;
    let (edge, width) = if upright { (Axis::Y, Axis::X) } else { (Axis::X, Axis::Y) };
    let (length, width) = (door.cuboid.size(edge).mm(), door.cuboid.size(width).mm());
    let mut places: Vec<f64> = context
        .assembly
        .fittings
        .iter()
        .filter(|it| {
            it.bay == door.bay
                && it.cuboid.max.z == door.cuboid.min.z
                && overlap(it.cuboid.range(Axis::X), door.cuboid.range(Axis::X)) > 0.0
                && overlap(it.cuboid.range(Axis::Y), door.cuboid.range(Axis::Y)) > 0.0
        })
        .map(|it| {
            let (low, high) = it.cuboid.range(edge);
            (low + high).mm() / 2.0
        })
        .collect();
    places.sort_by(f64::total_cmp);
    let field = context.bay_field(&door.bay).map(|it| it.field("front"));
    let source = Source::published("three hinge charts, the most that any asks");
    let Ok(library) = library() else { return };
    let charts = &library.hinges.cup_hinge;
    let most = heaviest_door(charts);
    let Some(need) = hinges_by_mass(charts, door.mass_kg, width) else {
        report.add(
            Found::new(
                Severity::Warning,
                "hinge.mass",
                format!("{} weighs {}: more than hinge charts reach", door.name, kg(door.mass_kg)),
            )
            .measured(kg(door.mass_kg))
            .limit(kg(most))
            .source(source)
            .mend("a pair of doors, a thinner or lighter board, or hinges for heavy doors by their maker's sheet")
            .place(door.cuboid)
            .about(door.number.clone())
            .field(field)
            .usage(door.mass_kg / most),
        );
        return;
    };
    let mounted = places.len() as u32;
    let hinges = format!("{mounted} {}", if mounted == 1 { "hinge" } else { "hinges" });
    if mounted > 0 && mounted < need {
        report.add(
            Found::new(
                Severity::Warning,
                "hinge.count",
                format!("{} ({}, {} wide) hangs on {hinges}", door.name, kg(door.mass_kg), context.size(width)),
            )
            .measured(hinges.clone())
            .limit(format!("{need} hinges"))
            .source(source)
            .mend(if hinge_places(Length::from_mm_f64(length), need).len() >= need as usize {
                format!("{need} hinges")
            } else {
                format!(
                    "{need} hinges, for which this edge is too short with {}: a lighter leaf, or one hinged at a longer edge",
                    context.size(length)
                )
            })
            .place(door.cuboid)
            .about(door.number.clone())
            .field(field.clone())
            .usage(f64::from(need) / f64::from(mounted)),
        );
    }
    if let (true, Some(first), Some(last)) = (upright, places.first(), places.last()) {
        let apart = last - first;
        if apart > 0.0 && apart < width {
            report.add(
                Found::new(
                    Severity::Note,
                    "hinge.distance",
                    format!(
                        "{} is wider than its outer hinges are apart: each pulls with {}",
                        door.name,
                        newtons(hinge_pull(door.mass_kg, width, apart))
                    ),
                )
                .measured(context.size(apart))
                .limit(context.size(width))
                .source(Source::published("hinge chart: distance of the outer hinges greater than the width"))
                .mend("hinges nearer to the ends, a pair of doors, or a flap")
                .place(door.cuboid)
                .about(door.number.clone())
                .field(field)
                .usage(width / apart),
            );
        }
    }
}
