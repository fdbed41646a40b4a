//! The piece in its place: the niche, obstacles that it meets, and what its moving parts run into.

use super::context::{Context, overlap};
use super::report::{Found, Report};
use crate::assembly::{Motion, Mover};
use crate::design::{Obstacle, ObstacleKind};
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid, Point};
use crate::length::Length;
use crate::mechanics::source::Source;
use crate::text::FieldPath;

/// Steps of a turn that are looked at.
const STEPS: u32 = 24;

pub(super) fn obstacle_box(it: &Obstacle<Length>) -> Cuboid {
    let min = Point::new(it.corner.0, it.corner.1, it.corner.2);
    Cuboid::between(min, Point::new(min.x + it.size.0, min.y + it.size.1, min.z + it.size.2))
}

pub(super) fn obstacle_field(index: usize) -> FieldPath {
    FieldPath::root().field("site").field("obstacles").index(index)
}

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    niche(context, report);
    for (index, obstacle) in context.design.site.obstacles.iter().enumerate() {
        let solid = obstacle_box(obstacle);
        standing(context, obstacle, index, &solid, report);
        moving(context, obstacle, index, &solid, report);
    }
}

fn niche(context: &Context<'_>, report: &mut Report) {
    let Some(niche) = &context.design.site.niche else { return };
    let it = &context.assembly.envelope;
    let left = if niche.left_wall { (-it.min.x).max(Length::ZERO) } else { Length::ZERO };
    let right = if niche.right_wall { (it.max.x - niche.width).max(Length::ZERO) } else { Length::ZERO };
    let width = if right > Length::ZERO { (it.max.x, niche.width) } else { (it.min.x, Length::ZERO) };
    let high = niche.height.map_or(Length::ZERO, |height| (it.max.y - height).max(Length::ZERO));
    let deep = niche.depth.map_or(Length::ZERO, |depth| (it.max.z - depth).max(Length::ZERO));
    let over = [
        ("fit.niche-width", "wide", left + right, width.0, Some(width.1)),
        ("fit.niche-height", "high", high, it.max.y, niche.height),
        ("fit.niche-depth", "deep", deep, it.max.z, niche.depth),
    ];
    for (id, word, over, measured, limit) in over {
        let Some(limit) = limit.filter(|_| over > Length::ZERO) else { continue };
        // A piece may stand out of a niche that is shallower; that is often meant.
        let severity = if word == "deep" { Severity::Note } else { Severity::Error };
        report.add(
            Found::new(severity, id, format!("the piece is {} too {word} for its niche", context.size(over.mm())))
                .measured(format!("reaches to {}", context.size(measured.mm())))
                .limit(context.size(limit.mm()))
                .source(Source::OWN)
                .mend("a smaller envelope, or another place to begin")
                .place(*it)
                .field(Some(FieldPath::root().field("carcass").field("envelope")))
                .usage(1.0 + over.mm() / it.size(Axis::X).mm().max(1.0)),
        );
    }
}

fn standing(context: &Context<'_>, obstacle: &Obstacle<Length>, index: usize, solid: &Cuboid, report: &mut Report) {
    // A socket or pipe behind or inside a bay is met by parts only.
    for (_, part) in context.still() {
        if part.cuboid.overlaps(solid) {
            report.add(
                Found::new(Severity::Error, "fit.obstacle", format!("{} stands where {} is", part.name, obstacle.name))
                    .measured(
                        context.size(
                            Axis::ALL
                                .map(|axis| overlap(part.cuboid.range(axis), solid.range(axis)))
                                .into_iter()
                                .fold(f64::INFINITY, f64::min),
                        ),
                    )
                    .limit(context.size(0.0))
                    .source(Source::OWN)
                    .mend("a shallower or narrower envelope, a notch, or the piece moved")
                    .place(part.cuboid)
                    .about(part.number.clone())
                    .about(obstacle.name.clone())
                    .field(Some(obstacle_field(index)))
                    .usage(2.0),
            );
        }
    }
}

fn moving(context: &Context<'_>, obstacle: &Obstacle<Length>, index: usize, solid: &Cuboid, report: &mut Report) {
    // Cut into walls, sockets and skirtings behind the piece are not in the way of what comes out before it.
    let keep = obstacle.keep_clear.unwrap_or_default();
    let mut zone = *solid;
    for axis in Axis::ALL {
        let (low, high) = zone.range(axis);
        zone = zone.with_range(axis, (low - keep, high + keep));
    }
    for mover in &context.assembly.movers {
        let parts =
            mover.parts.iter().filter_map(|&i| context.assembly.parts.get(i)).map(|it| (it.cuboid, it.name.as_str()));
        let things =
            mover.things.iter().filter_map(|&i| context.assembly.things.get(i)).map(|it| (it.cuboid, it.name.as_str()));
        let Some((_, name, reach)) = parts
            .chain(things)
            .filter_map(|(cuboid, name)| free_share(mover, &cuboid, &zone).map(|share| (cuboid, name, share)))
            .min_by(|a, b| a.2.total_cmp(&b.2).then(a.1.cmp(b.1)))
        else {
            continue;
        };
        let (measured, limit, usage) = match mover.motion {
            Motion::Slide { travel, .. } => (context.size(travel.mm() * reach), context.size(travel.mm()), 2.0 - reach),
            Motion::Turn { opens_deg, .. } => {
                (format!("{:.0}°", opens_deg * reach), format!("{opens_deg:.0}°"), 2.0 - reach)
            }
        };
        // A door that still opens by 90 degrees serves.
        let serves = matches!(mover.motion, Motion::Turn { opens_deg, .. } if opens_deg * reach >= 90.0);
        report.add(
            Found::new(
                if serves { Severity::Note } else { Severity::Error },
                "site.reach",
                format!("{name} runs into {} when {} opens", obstacle.name, mover.id),
            )
            .measured(measured)
            .limit(limit)
            .source(Source::OWN)
            .mend(if obstacle.kind == ObstacleKind::Radiator || obstacle.kind == ObstacleKind::Valve {
                "a narrower front, hinges on the other side, or the bay further away; never take the clearance of a heater"
            } else {
                "a narrower front, hinges on the other side, or the bay further away"
            })
            .place(zone)
            .about(mover.id.clone())
            .about(obstacle.name.clone())
            .field(Some(obstacle_field(index)))
            .usage(usage),
        );
    }
}

/// How far a part opens, as a share, before it meets the zone; none if it never does.
fn free_share(mover: &Mover, part: &Cuboid, zone: &Cuboid) -> Option<f64> {
    match mover.motion {
        Motion::Slide { direction, travel } => {
            let swept = part.grown(direction, travel);
            if !swept.overlaps(zone) {
                return None;
            }
            let (low, high) = part.range(direction.axis);
            let (near, far) = zone.range(direction.axis);
            let gap = if direction.negative { low - far } else { near - high };
            Some((gap.mm() / travel.mm()).clamp(0.0, 1.0))
        }
        Motion::Turn { pivot, axis, opens_deg } => {
            let along = axis.axis;
            if overlap(part.range(along), zone.range(along)) <= 0.0 {
                return None;
            }
            // The plane across the axis, in the order that keeps it right-handed.
            let (u, v) = match along {
                Axis::X => (Axis::Y, Axis::Z),
                Axis::Y => (Axis::Z, Axis::X),
                Axis::Z => (Axis::X, Axis::Y),
            };
            let sign = if axis.negative { -1.0 } else { 1.0 };
            let centre = (pivot.along(u).mm(), pivot.along(v).mm());
            let range = |c: &Cuboid, axis: Axis| (c.range(axis).0.mm(), c.range(axis).1.mm());
            let (pu, pv, zu, zv) = (range(part, u), range(part, v), range(zone, u), range(zone, v));
            (0..=STEPS).find_map(|i| {
                let share = f64::from(i) / f64::from(STEPS);
                let turned = Turned::new((pu, pv), centre, sign * opens_deg.to_radians() * share);
                turned.meets((zu, zv)).then(|| f64::from(i.saturating_sub(1)) / f64::from(STEPS))
            })
        }
    }
}

/// A rectangle turned about a point in its plane.
struct Turned {
    corners: [(f64, f64); 4],
    sides: [(f64, f64); 2],
}

type Rectangle = ((f64, f64), (f64, f64));

impl Turned {
    fn new((u, v): Rectangle, centre: (f64, f64), angle: f64) -> Self {
        let (sin, cos) = angle.sin_cos();
        let turn = |(x, y): (f64, f64)| {
            let (dx, dy) = (x - centre.0, y - centre.1);
            (centre.0 + dx * cos - dy * sin, centre.1 + dx * sin + dy * cos)
        };
        Self { corners: [(u.0, v.0), (u.1, v.0), (u.1, v.1), (u.0, v.1)].map(turn), sides: [(cos, sin), (-sin, cos)] }
    }

    /// Whether it meets a straight rectangle: no line parts them (separating axes).
    fn meets(&self, (u, v): Rectangle) -> bool {
        const SLACK: f64 = 1e-6;
        let other = [(u.0, v.0), (u.1, v.0), (u.1, v.1), (u.0, v.1)];
        [(1.0, 0.0), (0.0, 1.0)].iter().chain(&self.sides).all(|&(x, y)| {
            let spread = |corners: &[(f64, f64); 4]| {
                corners
                    .iter()
                    .map(|c| c.0 * x + c.1 * y)
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |range, at| (range.0.min(at), range.1.max(at)))
            };
            let (a, b) = (spread(&self.corners), spread(&other));
            a.0 + SLACK < b.1 && b.0 + SLACK < a.1
        })
    }
}
