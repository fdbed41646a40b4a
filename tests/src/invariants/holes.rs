//! Invariant: a joint's holes coincide in space on both parts, every hole lies in its part, and no two leave less wall than
//! is asked for unless a finding names the part. Distances are reckoned here from axes and radii, not by the program.

use casewright_core::assembly::{Assembly, Hole, Machining, Part, Purpose};
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::joinery::hole_in_world;
use casewright_core::pipeline::Derived;

/// The wall that is asked for between holes, mm, and how far off a distance may be.
const WALL_MM: f64 = 3.0;
const SLACK_MM: f64 = 1e-6;

/// What does not hold, in words.
pub(super) fn flaws(derived: &Derived) -> Vec<String> {
    let mut flaws = partners(&derived.assembly);
    for part in &derived.assembly.parts {
        let holes: Vec<&Hole> = holes(part).collect();
        let named =
            derived.findings.iter().any(|it| it.check.starts_with("joinery") && it.about.contains(&part.number));
        if named {
            continue;
        }
        for hole in &holes {
            let world = hole_in_world(part, hole);
            if !part.cuboid.contains(&Cuboid::between(world.entry, world.end())) {
                flaws.push(format!("{}: a hole leaves the part: {hole:?}", part.number));
            }
        }
        for (i, a) in holes.iter().enumerate() {
            for b in holes.iter().skip(i + 1) {
                // A hinge's cup and its sockets come as the hinge is made.
                let of_cup = |it: &Hole| matches!(it.purpose, Purpose::Cup | Purpose::CupSocket);
                let of_hinge = of_cup(a) || matches!(a.purpose, Purpose::HingePlate { .. });
                if (a.purpose == b.purpose && of_hinge) || (of_cup(a) && of_cup(b)) {
                    continue;
                }
                let wall = wall_mm(part, a, b);
                if wall < WALL_MM - SLACK_MM {
                    flaws.push(format!("{}: {wall:.3} mm between {a:?} and {b:?}, and no finding", part.number));
                }
            }
        }
    }
    flaws
}

fn holes(part: &Part) -> impl Iterator<Item = &Hole> {
    part.machining.iter().filter_map(|it| if let Machining::Hole(hole) = it { Some(hole) } else { None })
}

fn partners(assembly: &Assembly) -> Vec<String> {
    let mut flaws = Vec::new();
    for (index, joint) in assembly.joints.iter().enumerate() {
        let axis = joint.direction.axis;
        let mut places = [joint.face_part, joint.edge_part].map(|part| {
            let Some(part) = assembly.parts.get(part) else { return Vec::new() };
            let own = holes(part).filter(|it| it.joint == Some(index)).map(|it| hole_in_world(part, it));
            let across = Axis::ALL.into_iter().filter(move |&it| it != axis);
            own.map(|it| (it.into.axis, across.clone().map(|other| it.entry.along(other)).collect::<Vec<_>>()))
                .collect()
        });
        places.iter_mut().for_each(|it| it.sort());
        let [face, edge] = &places;
        if face != edge || face.iter().any(|it| it.0 != axis) {
            flaws.push(format!("the holes of {joint:?} do not meet: {face:?}, {edge:?}"));
        }
    }
    flaws
}

/// A lower bound of the wall between two holes, mm: exact for axes that are parallel, else by the boxes round them.
fn wall_mm(part: &Part, a: &Hole, b: &Hole) -> f64 {
    let (a, b) = (hole_in_world(part, a), hole_in_world(part, b));
    let gap = |axis: Axis| {
        let (p, q) = (a.cuboid().range(axis), b.cuboid().range(axis));
        (q.0 - p.1).max(p.0 - q.1).mm().max(0.0)
    };
    if a.into.axis != b.into.axis {
        // The boxes touch where the round bodies may not: only what even the boxes keep apart is certain, and what they
        // do not is measured from axis to axis.
        let boxes = Axis::ALL.into_iter().map(gap).map(|it| it * it).sum::<f64>().sqrt();
        return if boxes >= WALL_MM { boxes } else { crossing_mm(&a, &b) };
    }
    let along = gap(a.into.axis);
    let across = Axis::ALL.into_iter().filter(|&it| it != a.into.axis);
    let centre = |hole: &casewright_core::joinery::HoleInWorld, axis: Axis| hole.entry.along(axis).mm();
    let between = across.map(|it| (centre(&a, it) - centre(&b, it)).powi(2)).sum::<f64>().sqrt();
    let radial = (between - (a.diameter + b.diameter).mm() / 2.0).max(0.0);
    along.hypot(radial)
}

/// The distance between two round holes whose axes cross at right angles, mm, by the nearest points of one's axis and rims.
fn crossing_mm(a: &casewright_core::joinery::HoleInWorld, b: &casewright_core::joinery::HoleInWorld) -> f64 {
    // Each hole is a stack of discs; the nearest point of `b`'s body to any point of `a`'s body by alternating
    // projections between the two convex bodies.
    let mut point = project(b, Axis::ALL.map(|it| a.entry.along(it).mm()));
    let mut distance = f64::INFINITY;
    for _ in 0..2_000 {
        let on_a = project(a, point);
        let on_b = project(b, on_a);
        let now = (0..3).map(|i| (on_a[i] - on_b[i]).powi(2)).sum::<f64>().sqrt();
        point = on_b;
        if distance - now < 1e-12 {
            return now;
        }
        distance = now;
    }
    distance
}

/// The point of a round hole that is nearest to another.
fn project(hole: &casewright_core::joinery::HoleInWorld, point: [f64; 3]) -> [f64; 3] {
    let axis = hole.into.axis;
    let mut out = point;
    let (low, high) = hole.cuboid().range(axis);
    out[axis.index()] = point[axis.index()].clamp(low.mm(), high.mm());
    let across: Vec<Axis> = Axis::ALL.into_iter().filter(|&it| it != axis).collect();
    let off: Vec<f64> = across.iter().map(|it| point[it.index()] - hole.entry.along(*it).mm()).collect();
    let (length, radius) = (off.iter().map(|it| it * it).sum::<f64>().sqrt(), hole.diameter.mm() / 2.0);
    if length > radius {
        for (it, off) in across.iter().zip(off) {
            out[it.index()] = hole.entry.along(*it).mm() + off * radius / length;
        }
    }
    out
}
