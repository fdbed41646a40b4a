//! Tipping: the piece with what it holds, every set of open parts, and the loading cases of published stability tests.

use std::f64::consts::FRAC_PI_2;

use super::context::{Context, centre, listed, newtons, stands, trimmed};
use super::movers::assumed_drawer_load;
use super::options::CheckOptions;
use super::report::{Found, Report};
use crate::assembly::{Assembly, Motion, Mover, Part};
use crate::design::{Holding, Inside, Resolved, Role, Stand};
use crate::finding::Severity;
use crate::geometry::{Axis, Direction};
use crate::layout::Layout;
use crate::length::Length;
use crate::mechanics::source::Source;
use crate::mechanics::tipping::{
    ASTM_FILL_KG_M3, Balance, CaseResult, Edge, Fall, Ground, Mass, Moving, Opening, Piece, STABILITY_CASES,
    StabilityTest, fixings, run, support_polygon,
};

/// The checks that go by published stability tests.
pub const STABILITY_CHECKS: [(StabilityTest, &str); 3] =
    [(StabilityTest::Child, "tip.child"), (StabilityTest::En16121, "tip.en16121"), (StabilityTest::F2057, "tip.f2057")];

/// Nearer than this to a wall, the piece cannot go over that way, mm.
const WALL_NEAR: f64 = 60.0;

/// The piece as masses, movers and its support polygon, for balances and what-ifs. Edges that a wall stands behind are
/// left out.
#[must_use]
pub fn tipping_piece(design: &Resolved, layout: &Layout, assembly: &Assembly, options: &CheckOptions) -> Piece {
    piece(&Context::new(design, layout, assembly, options))
}

pub(super) fn piece(context: &Context<'_>) -> Piece {
    let mass = |part: &Part| Mass { kg: part.mass_kg, at: centre(&part.cuboid) };
    let moving = context.assembly.movers.iter().filter_map(|it| moving_of(context, it)).collect();
    let load = (0..context.assembly.things.len())
        .filter(|&t| context.mover_of_thing(t).is_none())
        .filter_map(|t| thing_mass(context, t))
        .collect();
    let mut low = [f64::INFINITY; 3];
    let mut high = [f64::NEG_INFINITY; 3];
    for part in &context.assembly.parts {
        for (k, axis) in Axis::ALL.into_iter().enumerate() {
            let (a, b) = part.cuboid.range(axis);
            if let (Some(l), Some(h)) = (low.get_mut(k), high.get_mut(k)) {
                *l = l.min(a.mm());
                *h = h.max(b.mm());
            }
        }
    }
    let edges = support_polygon(&support_points(context)).into_iter().filter(|edge| free_way(context, edge)).collect();
    Piece { own: context.still().map(|(_, part)| mass(part)).collect(), load, moving, edges, bounds: (low, high) }
}

fn thing_mass(context: &Context<'_>, index: usize) -> Option<Mass> {
    let thing = context.assembly.things.get(index)?;
    let (own, load) = context.thing_mass(index);
    Some(Mass { kg: own + load, at: centre(&thing.cuboid) })
}

fn moving_of(context: &Context<'_>, mover: &Mover) -> Option<Moving> {
    let parts: Vec<&Part> = mover.parts.iter().filter_map(|&i| context.assembly.parts.get(i)).collect();
    let bounds = parts.iter().map(|it| it.cuboid).reduce(|a, b| a.union(&b))?;
    let mut load: Vec<Mass> = mover.things.iter().filter_map(|&t| thing_mass(context, t)).collect();
    let assumed = drawer_fill(context, mover);
    if assumed > 0.0 {
        load.push(Mass { kg: assumed, at: centre(&bounds) });
    }
    let vector = |direction: Direction, by: f64| {
        let mut v = [0.0; 3];
        if let Some(it) = v.get_mut(direction.axis.index()) {
            *it = by * direction.sign() as f64;
        }
        v
    };
    let opening = match mover.motion {
        Motion::Slide { direction, travel } => Opening::Slide { by: vector(direction, travel.mm()) },
        Motion::Turn { pivot, axis, opens_deg } => Opening::Turn {
            pivot: [pivot.x.mm(), pivot.y.mm(), pivot.z.mm()],
            axis: vector(axis, 1.0),
            // Doors count as open at a right angle, where they reach out furthest.
            most: opens_deg.to_radians().min(FRAC_PI_2),
        },
    };
    let middle = centre(&bounds);
    let mut front = [middle[0], bounds.max.y.mm(), bounds.max.z.mm()];
    if let Motion::Turn { pivot, axis, .. } = mover.motion {
        // The edge away from the hinges.
        match axis.axis {
            Axis::Y => {
                let (low, high) = bounds.range(Axis::X);
                let far = if (pivot.x - low).abs() > (high - pivot.x).abs() { low } else { high };
                front = [far.mm(), middle[1], bounds.max.z.mm()];
            }
            _ => {
                let (low, high) = bounds.range(Axis::Y);
                let far = if (pivot.y - low).abs() > (high - pivot.y).abs() { low } else { high };
                front = [middle[0], far.mm(), bounds.max.z.mm()];
            }
        }
    }
    Some(Moving {
        id: mover.id.clone(),
        own: parts.iter().map(|it| Mass { kg: it.mass_kg, at: centre(&it.cuboid) }).collect(),
        load,
        opening,
        front,
    })
}

/// What a drawer without named things may hold, kg: the clothing fill of the stability test, at least the load of the shelf
/// check.
fn drawer_fill(context: &Context<'_>, mover: &Mover) -> f64 {
    if !mover.things.is_empty() {
        return 0.0;
    }
    let is_drawer =
        context.bay(&mover.bay).is_some_and(|it| matches!(it.inside, Inside::Holds { by: Holding::Drawer { .. }, .. }));
    if !is_drawer {
        return 0.0;
    }
    let walls = mover.parts.iter().filter_map(|&i| context.assembly.parts.get(i)).filter(|it| it.role != Role::Front);
    let volume = walls.map(|it| it.cuboid).reduce(|a, b| a.union(&b)).map_or(0.0, |it| it.volume_m3());
    (volume * 0.8 * ASTM_FILL_KG_M3 * context.options.load_share).max(assumed_drawer_load(context, mover))
}

/// Where it stands: the middles of feet, or the corners of what touches the floor.
fn support_points(context: &Context<'_>) -> Vec<(f64, f64)> {
    let floor = context.floor();
    let feet = context.assembly.fittings.iter().filter(|it| it.cuboid.min.y <= floor + Length::from_mm(1));
    let mut points: Vec<(f64, f64)> = feet.map(|it| centre(&it.cuboid)).map(|at| (at[0], at[2])).collect();
    if points.is_empty() {
        let lowest = context.still().filter(|(_, it)| stands(it.role) || it.role == Role::Bottom);
        let lowest: Vec<&Part> = lowest.map(|(_, it)| it).collect();
        let ground = lowest.iter().map(|it| it.cuboid.min.y).min().unwrap_or(floor);
        for part in lowest.iter().filter(|it| it.cuboid.min.y <= ground + Length::from_mm(1)) {
            let it = &part.cuboid;
            for x in [it.min.x, it.max.x] {
                for z in [it.min.z, it.max.z] {
                    points.push((x.mm(), z.mm()));
                }
            }
        }
    }
    points
}

/// Whether nothing stands behind that edge.
fn free_way(context: &Context<'_>, edge: &Edge) -> bool {
    let it = &context.assembly.envelope;
    let niche = context.design.site.niche.as_ref();
    match edge.fall() {
        Fall::Backwards => it.min.z.mm() > WALL_NEAR,
        Fall::Left => !niche.is_some_and(|n| n.left_wall && it.min.x.mm() <= WALL_NEAR),
        Fall::Right => !niche.is_some_and(|n| n.right_wall && (n.width - it.max.x).mm() <= WALL_NEAR),
        Fall::Forwards => true,
    }
}

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    let piece = piece(context);
    if context.assembly.parts.is_empty() {
        return;
    }
    if piece.edges.is_empty() {
        report.add(
            Found::new(
                Severity::Note,
                "tip.support",
                "no free edge to tip over was found: walls stand round it, or it has no feet",
            )
            .source(Source::derived("support polygon")),
        );
        return;
    }
    let own = own_loads(context, &piece, report);
    let height = piece.bounds.1[1];
    let fixing_height = (height - 50.0).max(1.0);
    let failures: Vec<CaseResult> =
        STABILITY_CASES.iter().filter_map(|case| run(&piece, case)).filter(|result| !result.balance.stands()).collect();
    for (test, id) in STABILITY_CHECKS {
        let mut group: Vec<&CaseResult> = failures.iter().filter(|it| it.case.test == test).collect();
        group.sort_by(|a, b| a.balance.margin().total_cmp(&b.balance.margin()));
        if let Some((worst, others)) = group.split_first() {
            report.add(failed(context, &piece, id, worst, others));
        }
    }
    let balances = failures.iter().map(|it| &it.balance).chain(&own);
    let pull = balances.map(|it| it.wall_pull(fixing_height)).fold(0.0, f64::max);
    if pull > 0.0 && !on_castors(context) {
        wall(context, pull, fixing_height, report);
    }
}

const fn on_castors(context: &Context<'_>) -> bool {
    matches!(context.design.carcass.stand, Stand::Castors { .. })
}

/// With its own things and what drawers may hold: empty and full, on level ground.
fn own_loads(context: &Context<'_>, piece: &Piece, report: &mut Report) -> Option<Balance> {
    let level = Ground::default();
    let worst = [0.0, 1.0]
        .into_iter()
        .filter_map(|load| piece.worst(level, 1.0, load, usize::MAX).map(|it| (load, it)))
        .min_by(|a, b| a.1.margin().total_cmp(&b.1.margin()));
    let (load, balance) = worst?;
    let loaded = if load > 0.0 { "loaded" } else { "empty" };
    if balance.stands() {
        let force = balance.force_at(300.0);
        report.add(
            Found::new(
                Severity::Note,
                "tip.open",
                format!("{loaded} and with everything open that tips it {}, it stands; {} at 300 mm before the edge would tip it", balance.edge.name(), newtons(force)),
            )
            .measured(format!("centre of mass {} inside the edge", context.size(balance.distance())))
            .limit(context.size(0.0))
            .source(Source::derived("balance of moments; no certificate"))
            .usage(0.5),
        );
        return Some(balance);
    }
    let least = piece.least_that_tips(&balance.edge, level, 1.0, load);
    let names = least.as_ref().map(|it| open_names(piece, &it.open)).unwrap_or_default();
    let severity = if context.options.fixed_to_wall { Severity::Note } else { Severity::Error };
    report.add(
        Found::new(
            severity,
            "tip.open",
            if names.is_empty() {
                format!("it tips {} by itself, {loaded}", balance.edge.name())
            } else {
                format!(
                    "{loaded}, it tips {} as soon as {} {} open",
                    balance.edge.name(),
                    listed(&names),
                    if names.len() == 1 { "is" } else { "are" }
                )
            },
        )
        .measured(format!("centre of mass {} outside the edge", context.size(-balance.distance())))
        .limit(context.size(0.0))
        .source(Source::practice("balance of moments; no certificate"))
        .mend("fix it to the wall, a deeper stand, a heavier base, shorter slides, or slides that lock each other")
        .place(context.assembly.envelope)
        .about(names.join(", "))
        .usage(2.0 - balance.margin() / balance.holding.max(1.0)),
    );
    Some(balance)
}

fn open_names<'a>(piece: &'a Piece, open: &[bool]) -> Vec<&'a str> {
    piece.moving.iter().zip(open).filter(|it| *it.1).map(|it| it.0.id.as_str()).collect()
}

fn failed(
    context: &Context<'_>,
    piece: &Piece,
    id: &'static str,
    result: &CaseResult,
    others: &[&CaseResult],
) -> Found {
    let also: Vec<String> = others.iter().map(|it| format!("\"{}\"", it.case.name)).collect();
    let also = if also.is_empty() { String::new() } else { format!("; also {}", also.join(", ")) };
    let on = result.on.and_then(|i| piece.moving.get(i)).map_or_else(String::new, |it| format!(", on {}", it.id));
    let severity = if context.options.fixed_to_wall { Severity::Note } else { Severity::Warning };
    let balance = &result.balance;
    let tips = result.tipping_force();
    let measured = if tips <= 0.0 {
        "tips by itself".to_owned()
    } else if result.down > 0.0 && tips.is_finite() {
        format!("tips at {}", newtons(tips))
    } else {
        format!("short by {} N·m", trimmed(-balance.margin() / 1000.0, 1))
    };
    Found::new(severity, id, format!("it tips {} in the case \"{}\"{on}{also}", balance.edge.name(), result.case.name))
        .measured(measured)
        .limit(if result.down > 0.0 { newtons(result.down) } else { newtons(result.case.outward) })
        .source(result.case.source)
        .source(Source::derived("a calculation after these loads, no certificate"))
        .mend(if on_castors(context) {
            "a wider stand, a heavier base, heavy things low down; it cannot be fixed to a wall"
        } else if result.case.test == StabilityTest::Child {
            "fix it to the wall: children climb on open drawers and pull themselves up on doors"
        } else {
            "fix it to the wall, a deeper stand or a heavier base"
        })
        .place(context.assembly.envelope)
        .usage(1.0 - balance.margin() / balance.holding.max(1.0))
}

/// The fixings that the worst case asks for.
fn wall(context: &Context<'_>, pull: f64, height: f64, report: &mut Report) {
    let wall = context.options.wall;
    let each = wall.per_fixing();
    let (count, how) = match fixings(pull, wall) {
        Some(count) => {
            let width = context.assembly.envelope.size(Axis::X).mm();
            let place = format!(
                "{count} fixings at about {}, the outer ones {} from the ends",
                context.size(height),
                context.size(100.0_f64.min(width / 4.0))
            );
            (
                count,
                format!("{place}, through a rail or the top into the wall; proof of the wall's hold is the fitter's"),
            )
        }
        None => (0, "find the studs or something solid: lining alone is not relied on".to_owned()),
    };
    let fixed = context.options.fixed_to_wall;
    let severity = if fixed { Severity::Note } else { Severity::Warning };
    let what = if fixed { "the wall fixing must hold" } else { "a wall fixing is needed, which must hold" };
    report.add(
        Found::new(severity, "tip.wall", format!("{what} {} outwards in the worst case above", newtons(pull)))
            .measured(newtons(pull))
            .limit(if count > 0 {
                format!("{} on each of {count} fixings, safety 2", newtons(each.value / 2.0))
            } else {
                "nothing on lining alone".to_owned()
            })
            .source(each.source)
            .mend(how)
            .place(context.assembly.envelope)
            .usage(1.0),
    );
}
