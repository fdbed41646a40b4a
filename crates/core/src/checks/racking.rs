//! Racking of the carcass, and the straps that would stiffen it.

use serde::Serialize;

use super::context::{Context, newtons, overlap, stands, trimmed};
use super::options::CheckOptions;
use super::report::{Found, Report};
use crate::assembly::{Assembly, Part};
use crate::design::{Resolved, Role};
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid};
use crate::layout::Layout;
use crate::length::Length;
use crate::mechanics::fittings::{Strap, strap, strap_capacity};
use crate::mechanics::materials::BoardProperties;
use crate::mechanics::racking::{
    CORNER_SLIP, LEAN_LIMIT, PUSH, RackBay, RackModel, back_stiffness, corner_lift_push, corner_stiffness, screw_slip,
    strap_stiffness,
};
use crate::mechanics::source::Source;

/// A steel strap: width, thickness, tail past the screw, mm.
const STRAP: (f64, f64, f64) = (20.0, 1.5, 15.0);
/// Its screws: diameter, depth in the edge, mm.
const STRAP_SCREW: (f64, f64) = (4.0, 30.0);
/// Distance of a back's screws, mm, and their diameter.
const BACK_SCREWS: (f64, f64) = (150.0, 3.5);
/// The most openings that straps are tried in.
const MOST_TRIED: usize = 6;
/// Shear modulus of a panel in its plane as a share of its modulus in bending.
const SHEAR_SHARE: f64 = 0.4;

/// A pair of crossed straps over the rear of one opening.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StrapPlan {
    /// The bay, or the first one of the opening.
    pub bay: String,
    /// The strap; its mirror image crosses it. Places are from the lower corner of the opening.
    pub strap: Strap,
    /// The opening between the uprights, and bottom and top.
    pub opening: Cuboid,
    /// The pull in it under the push that the check assumes, N.
    pub pull: f64,
    /// Screws at each end, so that the edge of the board does not split and the strap holds.
    pub screws: u32,
}

/// How a shell racks.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rack {
    /// The shell, an index into the layout's.
    pub shell: usize,
    /// Sideways movement of the top per N as it is designed, mm.
    pub lean_per_newton: f64,
    /// Whether a back braces it.
    pub has_back: bool,
    /// Height of bottom to top, mm.
    pub height: f64,
    /// Straps that would keep it within the limit, if it needs any and some do.
    pub straps: Vec<StrapPlan>,
    /// The same movement with these straps, mm per N.
    pub lean_with_straps: f64,
}

/// How every shell racks; boxes inside another shell are braced by it and left out.
#[must_use]
pub fn racking(design: &Resolved, layout: &Layout, assembly: &Assembly, options: &CheckOptions) -> Vec<Rack> {
    racks(&Context::new(design, layout, assembly, options))
}

fn racks(context: &Context<'_>) -> Vec<Rack> {
    let shells = &context.layout.shells;
    let outermost = |i: usize, outer: &Cuboid| {
        !shells.iter().enumerate().any(|(j, it)| j != i && it.outer.contains(outer) && it.outer != *outer)
    };
    let candidates = shells.iter().enumerate().filter(|(i, it)| outermost(*i, &it.outer));
    candidates.filter_map(|(i, _)| rack(context, i)).collect()
}

fn rack(context: &Context<'_>, shell: usize) -> Option<Rack> {
    let it = context.layout.shells.get(shell)?;
    let within = |part: &&Part| it.outer.contains(&part.cuboid) || it.outer.overlaps(&part.cuboid);
    let inside: Vec<&Part> = context.still().map(|(_, part)| part).filter(within).collect();
    let inner = it.inner;
    // Uprights that reach from bottom to top.
    let mut uprights: Vec<&Part> = inside
        .iter()
        .copied()
        .filter(|part| {
            stands(part.role)
                && overlap(part.cuboid.range(Axis::Y), inner.range(Axis::Y)) > 0.9 * inner.size(Axis::Y).mm()
        })
        .collect();
    uprights.sort_by_key(|part| part.cuboid.min.x);
    uprights.dedup_by_key(|part| part.cuboid.min.x);
    let lying = |role: Role| inside.iter().copied().find(|part| part.role == role);
    let (bottom, top) = (lying(Role::Bottom), lying(Role::Top).or_else(|| lying(Role::Worktop)));
    if uprights.len() < 2 {
        return None;
    }
    let bending = |part: &Part, depth: f64| {
        let modulus = context.properties(part).map_or(0.0, |it| it.modulus.value);
        let t = thickness(part);
        modulus * depth * t.powi(3) / 12.0
    };
    let depth = inner.size(Axis::Z).mm();
    let upright =
        uprights.iter().map(|part| bending(part, part.cuboid.size(Axis::Z).mm())).fold(f64::INFINITY, f64::min);
    let rails: f64 = inside
        .iter()
        .filter(|part| part.role == Role::Rail)
        .map(|part| bending(part, part.cuboid.size(Axis::Z).mm()))
        .sum();
    let t = uprights.iter().map(|part| thickness(part)).fold(f64::INFINITY, f64::min);
    let fasteners = ((depth / 200.0).ceil() as usize + 1).max(2);
    let corner = corner_stiffness(fasteners, CORNER_SLIP.value, t);
    let height = (inner.size(Axis::Y).mm() + t).max(1.0);
    let back = lying(Role::Back);
    let openings: Vec<Cuboid> = uprights
        .windows(2)
        .filter_map(|pair| Some(inner.with_range(Axis::X, (pair.first()?.cuboid.max.x, pair.last()?.cuboid.min.x))))
        .collect();
    let braced = |opening: &Cuboid| back.map_or(0.0, |part| brace_of_back(context.properties(part), part, opening));
    let bays: Vec<RackBay> =
        openings.iter().map(|it| RackBay { width: it.size(Axis::X).mm() + t, braced: braced(it) }).collect();
    let model = RackModel {
        height,
        bays,
        upright,
        bottom: bottom.map_or(0.0, |part| bending(part, depth)),
        top: top.map_or(rails, |part| bending(part, depth)),
        corner,
    };
    let lean = model.lean_per_newton().ok()?;
    let mut rack = Rack {
        shell,
        lean_per_newton: lean,
        has_back: back.is_some(),
        height,
        straps: Vec::new(),
        lean_with_straps: lean,
    };
    if lean * PUSH.value > height / LEAN_LIMIT.value {
        let bonds = uprights.iter().filter_map(|part| context.properties(part)).map(|it| it.internal_bond.value);
        let bond = bonds.fold(f64::INFINITY, f64::min);
        // Splitting of the edge as under a dowel; a steel screw does not shear.
        let edge_holds = bond * STRAP_SCREW.1 * 4.0 * STRAP_SCREW.0 / 1.5;
        add_straps(context, &mut rack, model, &openings, (t, edge_holds));
    }
    Some(rack)
}

fn thickness(part: &Part) -> f64 {
    part.finished.thickness.mm()
}

fn brace_of_back(material: Option<&BoardProperties>, part: &Part, opening: &Cuboid) -> f64 {
    let Some(material) = material else { return 0.0 };
    let covers = overlap(part.cuboid.range(Axis::X), opening.range(Axis::X)) > 0.9 * opening.size(Axis::X).mm();
    if !covers {
        return 0.0;
    }
    let shear = material.modulus.value * SHEAR_SHARE;
    let slip = screw_slip(material.density.value, BACK_SCREWS.1);
    back_stiffness(opening.size(Axis::X).mm(), opening.size(Axis::Y).mm(), thickness(part), shear, slip, BACK_SCREWS.0)
}

/// Crosses straps over one opening after the other, the widest first, until the limit is kept.
fn add_straps(
    context: &Context<'_>,
    rack: &mut Rack,
    mut model: RackModel,
    openings: &[Cuboid],
    (t, edge_holds): (f64, f64),
) {
    let mut order: Vec<usize> = (0..openings.len()).collect();
    order.sort_by_key(|&i| (openings.get(i).map(|it| std::cmp::Reverse(it.size(Axis::X))), i));
    let slip = screw_slip(650.0, 5.0);
    for &i in order.iter().take(MOST_TRIED) {
        let (Some(opening), Some(bay)) = (openings.get(i), model.bays.get_mut(i)) else { continue };
        let it = strap(opening.size(Axis::X).mm(), opening.size(Axis::Y).mm(), t / 2.0, STRAP.2);
        let along = strap_stiffness(STRAP.0, STRAP.1, it.screw_distance, slip, 2);
        bay.braced += along / (it.pull_per_force * it.pull_per_force);
        rack.straps.push(StrapPlan {
            bay: bay_in(context, opening),
            strap: it,
            opening: *opening,
            pull: PUSH.value * it.pull_per_force,
            screws: 2,
        });
        if let Ok(lean) = model.lean_per_newton() {
            rack.lean_with_straps = lean;
        }
        if rack.lean_with_straps * PUSH.value <= rack.height / LEAN_LIMIT.value {
            break;
        }
    }
    let count = rack.straps.len().max(1) as f64;
    for it in &mut rack.straps {
        it.pull /= count;
        // Only what pulls across the edge splits it: the sideways force itself.
        let across = it.pull / it.strap.pull_per_force;
        it.screws = ((across / edge_holds).ceil() as u32).max(2);
        let carries =
            strap_capacity(STRAP.0, STRAP.1, STRAP_SCREW.0 + 1.0, edge_holds * it.strap.pull_per_force, it.screws);
        it.screws = if it.pull > carries { 0 } else { it.screws };
    }
    // What no number of screws holds is no mend.
    if rack.straps.iter().any(|it| it.screws == 0) {
        rack.straps.clear();
        rack.lean_with_straps = rack.lean_per_newton;
    }
}

/// The outermost bay in an opening.
fn bay_in(context: &Context<'_>, opening: &Cuboid) -> String {
    let bays = context.layout.bays.iter().filter(|it| {
        overlap(it.clear.range(Axis::X), opening.range(Axis::X)) > 0.0
            && it.clear.min.x >= opening.min.x
            && it.clear.max.x <= opening.max.x
    });
    bays.min_by_key(|it| it.depth).map_or_else(|| "the opening".to_owned(), |it| it.name.clone())
}

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    for rack in racks(context) {
        let Some(shell) = context.layout.shells.get(rack.shell) else { continue };
        let lean = rack.lean_per_newton * PUSH.value;
        let limit = rack.height / LEAN_LIMIT.value;
        let between_walls = between_walls(context);
        if lean > limit {
            let severity = if between_walls { Severity::Note } else { Severity::Warning };
            let what = if rack.has_back { "despite its back" } else { "without a back" };
            let wall = if between_walls { "; the walls beside it may hold it" } else { "" };
            report.add(
                Found::new(
                    severity,
                    "rack.sideways",
                    format!(
                        "pushed sideways with {} at the top, the carcass leans by {} {what}{wall}",
                        newtons(PUSH.value),
                        context.size(lean)
                    ),
                )
                .measured(context.size(lean))
                .limit(format!("{} (height/{})", context.size(limit), trimmed(LEAN_LIMIT.value, 0)))
                .source(Source::derived("plane frame, joint stiffness estimated"))
                .source(PUSH.source)
                .mend(mend(context, &rack))
                .place(shell.outer)
                .about(shell.name.clone())
                .field(Some(shell.construction.field("back")))
                .usage(lean / limit),
            );
        }
        corner_lift(context, &rack, &shell.outer, report);
    }
}

fn between_walls(context: &Context<'_>) -> bool {
    let it = &context.assembly.envelope;
    let near = Length::from_mm(10);
    context
        .design
        .site
        .niche
        .as_ref()
        .is_some_and(|niche| niche.left_wall && niche.right_wall && it.min.x <= near && niche.width - it.max.x <= near)
}

fn mend(context: &Context<'_>, rack: &Rack) -> String {
    let kept = rack.lean_with_straps * PUSH.value <= rack.height / LEAN_LIMIT.value;
    let straps: Vec<String> = rack
        .straps
        .iter()
        .map(|it| {
            format!(
                "two crossed steel straps {} x {} over the rear of {}, {} long, {} screws {} x {} at each end {} apart, {} outside the corners \
                 of the opening, pulled by {}",
                trimmed(STRAP.0, 0),
                trimmed(STRAP.1, 1),
                it.bay,
                context.size(it.strap.cut_length),
                it.screws,
                trimmed(STRAP_SCREW.0, 0),
                trimmed(STRAP_SCREW.1, 0),
                context.size(it.strap.screw_distance),
                context.size(-it.strap.screws[0].0),
                newtons(it.pull)
            )
        })
        .collect();
    match (straps.is_empty(), kept) {
        (false, true) => format!(
            "a back of board, or {}: then {}",
            straps.join("; "),
            context.size(rack.lean_with_straps * PUSH.value)
        ),
        _ => "a back of board screwed to all rear edges, or a fixing to the wall".to_owned(),
    }
}

/// Lifted at one corner, the open front is pushed sideways by the twist.
fn corner_lift(context: &Context<'_>, rack: &Rack, outer: &Cuboid, report: &mut Report) {
    let mass = context.assembly.mass_kg();
    let push = corner_lift_push(mass, outer.size(Axis::X).mm(), outer.size(Axis::Y).mm());
    let lean = push * rack.lean_per_newton;
    let limit = rack.height / LEAN_LIMIT.value;
    if lean > limit && !rack.has_back {
        report.add(
            Found::new(
                Severity::Note,
                "rack.corner",
                format!("lifted at one corner, empty, it twists: its front leans by about {}", context.size(lean)),
            )
            .measured(context.size(lean))
            .limit(context.size(limit))
            .source(Source::derived("twist of a thin-walled box open in front"))
            .mend("lift it at both ends together, straps fitted first")
            .place(*outer)
            .usage(lean / limit),
        );
    }
}
