//! The hole check against brute force: points sampled on holes, distances by another formula.

use std::f64::consts::TAU;

use super::*;
use crate::assembly::{Machining, Part};
use crate::finding::Severity;
use crate::geometry::Axis;

/// What is cut out, as corners, or as ends of an axis with a radius; millimetres.
enum Cut {
    Block([f64; 3], [f64; 3]),
    Round { axis: usize, low: f64, high: f64, centre: [f64; 3], radius: f64 },
}

fn cuts(part: &Part) -> Vec<Cut> {
    let cut = |machining: &Machining| match machining {
        Machining::Groove(groove) => {
            let space = groove_in_world(part, groove).unwrap();
            Cut::Block(Axis::ALL.map(|it| space.range(it).0.mm()), Axis::ALL.map(|it| space.range(it).1.mm()))
        }
        Machining::Hole(hole) => {
            let world = hole_in_world(part, hole);
            let box_ = world.cuboid();
            let axis = world.into.axis.index();
            let centre = Axis::ALL.map(|it| (box_.range(it).0.mm() + box_.range(it).1.mm()) / 2.0);
            let (low, high) = (box_.range(world.into.axis).0.mm(), box_.range(world.into.axis).1.mm());
            Cut::Round { axis, low, high, centre, radius: hole.diameter.mm() / 2.0 }
        }
    };
    part.machining.iter().map(cut).collect()
}

/// Distance of a point from a cut, nothing inside it.
fn distance(point: [f64; 3], cut: &Cut) -> f64 {
    match cut {
        Cut::Block(low, high) => {
            (0..3).map(|i| (low[i] - point[i]).max(point[i] - high[i]).max(0.0).powi(2)).sum::<f64>().sqrt()
        }
        Cut::Round { axis, low, high, centre, radius } => {
            let (i, j) = ((axis + 1) % 3, (axis + 2) % 3);
            let off = ((point[i] - centre[i]).hypot(point[j] - centre[j]) - radius).max(0.0);
            off.hypot((low - point[*axis]).max(point[*axis] - high).max(0.0))
        }
    }
}

/// Points in and on a round cut, about half a millimetre apart.
fn samples(cut: &Cut) -> Vec<[f64; 3]> {
    let Cut::Round { axis, low, high, centre, radius } = cut else { return Vec::new() };
    let (i, j) = ((axis + 1) % 3, (axis + 2) % 3);
    let mut all = Vec::new();
    let steps = ((high - low) / 0.5).ceil().max(1.0);
    for step in 0..=steps as i64 {
        for ring in [0.0, 0.25, 0.5, 0.75, 1.0] {
            for turn in 0..48 {
                let angle = TAU * f64::from(turn) / 48.0;
                let mut point = *centre;
                point[*axis] = low + (high - low) * step as f64 / steps;
                point[i] += radius * ring * angle.cos();
                point[j] += radius * ring * angle.sin();
                all.push(point);
            }
        }
    }
    all
}

fn brute_wall(a: &Cut, b: &Cut) -> f64 {
    let from = if matches!(a, Cut::Round { .. }) { (a, b) } else { (b, a) };
    samples(from.0).into_iter().map(|point| distance(point, from.1)).fold(f64::MAX, f64::min)
}

/// Both radii, the larger first.
fn radii(a: &Cut, b: &Cut) -> Option<(f64, f64)> {
    match (a, b) {
        (Cut::Round { radius: a, .. }, Cut::Round { radius: b, .. }) => Some((a.max(*b), a.min(*b))),
        _ => None,
    }
}

/// A cheap lower bound: distance of the boxes round both.
fn apart(a: &Cut, b: &Cut) -> f64 {
    let bounds = |cut: &Cut| match cut {
        Cut::Block(low, high) => (*low, *high),
        Cut::Round { axis, low, high, centre, radius } => {
            let (mut from, mut to) = (centre.map(|it| it - radius), centre.map(|it| it + radius));
            (from[*axis], to[*axis]) = (*low, *high);
            (from, to)
        }
    };
    let ((a0, a1), (b0, b1)) = (bounds(a), bounds(b));
    (0..3).map(|i| (b0[i] - a1[i]).max(a0[i] - b1[i]).max(0.0).powi(2)).sum::<f64>().sqrt()
}

#[test]
fn every_thin_wall_is_reported_and_no_other() {
    /// How much a sampled distance may be above the true one.
    const COARSE: f64 = 0.1;
    for_random_assemblies(60, |assembly| {
        let findings = check(assembly);
        for part in &assembly.parts {
            let cuts = cuts(part);
            let (mut surely, mut perhaps) = (0, 0);
            for (i, a) in cuts.iter().enumerate() {
                for b in &cuts[i + 1..] {
                    let grooves = matches!((a, b), (Cut::Block(..), Cut::Block(..)));
                    // A cup of 35 mm and its sockets of 8 mm lie as hinges are made.
                    let hinge = part.role == crate::design::Role::Front && radii(a, b) == Some((17.5, 4.0));
                    if grooves || apart(a, b) > 3.0 {
                        continue;
                    }
                    let wall = brute_wall(a, b);
                    if hinge && wall >= 2.5 {
                        continue;
                    }
                    surely += usize::from(wall < 3.0 - 1e-6);
                    perhaps += usize::from(wall < 3.0 + COARSE);
                }
            }
            let told = |it: &&crate::finding::Finding| {
                it.about == [part.number.clone()] && (it.what.contains(" meet") || it.what.contains("leave too thin"))
            };
            let found = findings.iter().filter(told).count();
            assert!(
                found >= surely && found <= perhaps,
                "{}: {found} of {surely} to {perhaps}: {findings:#?}",
                part.number
            );
        }
        for finding in &findings {
            assert!(finding.mend.is_some() && !finding.about.is_empty());
        }
    });
}

#[test]
fn walls_between_solids_agree_with_plain_geometry() {
    let round = |axis, centre: [f64; 3], range, radius| Solid::Cylinder { axis, range, centre, radius };
    let close = |a: &Solid, b: &Solid, expected: f64| {
        let (one, two) = (wall_between(a, b, 1e9), wall_between(b, a, 1e9));
        assert!((one - expected).abs() < 1e-3 && (two - expected).abs() < 1e-3, "{one} {two} {expected}");
    };
    // Beside each other: distance of the axes less both radii.
    let a = round(Axis::X, [0.0, 0.0, 0.0], (0.0, 14.0), 4.0);
    close(&a, &round(Axis::X, [0.0, 6.0, 8.0], (5.0, 30.0), 4.0), 2.0);
    // End to end, and square on each other.
    close(&a, &round(Axis::X, [0.0, 1.0, 0.0], (18.0, 30.0), 4.0), 4.0);
    close(&a, &round(Axis::Y, [20.0, 0.0, 0.0], (-50.0, 50.0), 1.5), 4.5);
    close(&a, &round(Axis::Y, [7.0, 0.0, 9.0], (-50.0, 50.0), 1.5), 3.5);
    close(&a, &Solid::Block([-9.0, 7.0, -9.0], [90.0, 9.0, 9.0]), 3.0);
    close(&a, &round(Axis::X, [0.0, 3.0, 0.0], (5.0, 30.0), 4.0), 0.0);
    // The box of one already far enough away is not looked at more closely.
    let far = round(Axis::X, [0.0, 600.0, 0.0], (5.0, 30.0), 4.0);
    assert!(wall_between(&a, &far, 3.0) >= 3.0);
}

#[test]
fn random_designs_seldom_need_the_check() {
    // The patterns keep their walls by themselves wherever a joint has room; what is left are thin panels, tiny bays and
    // crossings of grooves. Counted, so that a worse pattern is noticed.
    let (parts, errors) = (RefCell::new(0usize), RefCell::new(0usize));
    for_random_assemblies(120, |assembly| {
        *parts.borrow_mut() += assembly.parts.len();
        let meets =
            check(assembly).into_iter().filter(|it| it.severity == Severity::Error && it.check == "joinery.wall");
        *errors.borrow_mut() += meets.count();
    });
    let (parts, errors) = (parts.into_inner(), errors.into_inner());
    assert!(errors * 50 < parts, "{errors} errors in {parts} parts");
}
