//! The plan played back: bodies move in small steps along their directions, dowels sticking out, and nothing may meet.
//! Shares nothing with the search: solids, holes and motion are made here from the parts alone.

use std::collections::BTreeSet;

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

use crate::assembly::tests::random::designs;
use crate::assembly::{Assembly, Hole, JoinedBy, Machining, Part, build};
use crate::build_plan::{BuildPlan, Step, plan};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::joinery::{groove_in_world, hole_in_world};
use crate::length::Length;
use crate::sample::mm;
use crate::solve::solve;

/// Steps of the motion: less than half of the thinnest board.
const STEP: Length = Length::from_um(1_900);

/// Everything wrong with a plan, in words.
pub(super) fn flaws(assembly: &Assembly, plan: &BuildPlan) -> Vec<String> {
    let mut flaws = Vec::new();
    let mut pieces: BTreeSet<BTreeSet<usize>> = (0..assembly.parts.len()).map(|part| BTreeSet::from([part])).collect();
    let mut closed = BTreeSet::new();
    for step in &plan.steps {
        let mut whole = BTreeSet::new();
        for group in &step.groups {
            let set: BTreeSet<usize> = group.iter().copied().collect();
            // A group is one piece, or what stands together already.
            for piece in pieces.iter().filter(|piece| !piece.is_disjoint(&set)) {
                if !piece.is_subset(&set) {
                    flaws.push(format!("{}: takes {set:?} out of {piece:?}", step.id));
                }
            }
            whole.extend(set);
        }
        pieces.retain(|piece| piece.is_disjoint(&whole));
        pieces.insert(whole);
        for &joint in &step.joints {
            if !closed.insert(joint) {
                flaws.push(format!("joint {joint} is closed twice"));
            }
        }
        flaws.extend(collisions(assembly, step));
    }
    if plan.stuck.is_empty() {
        if pieces.len() > 1 {
            flaws.push(format!("{} pieces are left", pieces.len()));
        }
        if closed.len() != assembly.joints.len() {
            flaws.push(format!("{} of {} joints are closed", closed.len(), assembly.joints.len()));
        }
    }
    flaws
}

/// What meets while the groups of a step come in one after another.
fn collisions(assembly: &Assembly, step: &Step) -> Vec<String> {
    let solids: Vec<Vec<Cuboid>> = assembly.parts.iter().map(grooved).collect();
    let mut found = Vec::new();
    for (at, group) in step.groups.iter().enumerate().skip(1) {
        let standing: Vec<usize> = step.groups[..at].iter().flatten().copied().collect();
        for &moving in group {
            for &other in &standing {
                if let Some(off) = meets(&solids[moving], &solids[other], step.direction) {
                    found.push(format!(
                        "{}: {} meets {} {} mm before its place",
                        step.id,
                        assembly.parts[moving].number,
                        assembly.parts[other].number,
                        off.mm()
                    ));
                }
                // Dowels stick out of the moving part into their partner.
                for (index, joint) in assembly.joints.iter().enumerate() {
                    let pair = [joint.face_part, joint.edge_part];
                    let dowelled = matches!(joint.kind, JoinedBy::Dowels { .. });
                    if dowelled && pair.contains(&moving) && pair.contains(&other) {
                        let drilled = drilled(&assembly.parts[other], &solids[other]);
                        let dowels: Vec<Cuboid> = holes(&assembly.parts[other])
                            .filter(|hole| hole.joint == Some(index) && !hole.is_for_screw())
                            .map(|hole| hole_in_world(&assembly.parts[other], hole).cuboid())
                            .collect();
                        if meets(&dowels, &drilled, step.direction).is_some() {
                            found.push(format!("{}: dowels of joint {index} do not go in", step.id));
                        }
                    }
                }
            }
        }
    }
    found
}

/// How far before its place the moving solid meets the other one, coming in from out of `direction`.
fn meets(moving: &[Cuboid], other: &[Cuboid], direction: Direction) -> Option<Length> {
    let (first, second) = (hull(moving)?, hull(other)?);
    let across = Axis::ALL.into_iter().filter(|&axis| axis != direction.axis);
    for axis in across {
        let (a, b) = (first.range(axis), second.range(axis));
        if a.1 <= b.0 || b.1 <= a.0 {
            return None;
        }
    }
    let far = first.union(&second).size(direction.axis) + mm(50);
    let mut off = far;
    while off >= Length::ZERO {
        let hit = moving.iter().any(|it| {
            let there = it.moved(direction, off);
            other.iter().any(|standing| there.overlaps(standing))
        });
        if hit {
            return Some(off);
        }
        off = if off > Length::ZERO { (off - STEP).max(Length::ZERO) } else { -mm(1) };
    }
    None
}

fn hull(boxes: &[Cuboid]) -> Option<Cuboid> {
    boxes.iter().copied().reduce(|whole, it| whole.union(&it))
}

/// A box in cells: cut along every face of what is taken out, keeping the cells that lie in none of it.
fn cells(whole: &Cuboid, cuts: &[Cuboid]) -> Vec<Cuboid> {
    let marks = |axis: Axis| {
        let (from, to) = whole.range(axis);
        let mut marks: BTreeSet<Length> = BTreeSet::from([from, to]);
        marks.extend(
            cuts.iter().flat_map(|cut| <[Length; 2]>::from(cut.range(axis))).filter(|at| from < *at && *at < to),
        );
        let marks: Vec<Length> = marks.into_iter().collect();
        marks.windows(2).map(|pair| (pair[0], pair[1])).collect::<Vec<_>>()
    };
    let mut cells = Vec::new();
    for x in marks(Axis::X) {
        for y in marks(Axis::Y) {
            for z in marks(Axis::Z) {
                let cell = Cuboid::from_ranges(x, y, z);
                if !cuts.iter().any(|cut| cut.contains(&cell)) {
                    cells.push(cell);
                }
            }
        }
    }
    cells
}

fn grooved(part: &Part) -> Vec<Cuboid> {
    let grooves: Vec<Cuboid> = part
        .machining
        .iter()
        .filter_map(|it| match it {
            Machining::Groove(groove) => groove_in_world(part, groove),
            Machining::Hole(_) => None,
        })
        .collect();
    cells(&part.cuboid, &grooves)
}

fn holes(part: &Part) -> impl Iterator<Item = &Hole> {
    part.machining.iter().filter_map(|it| match it {
        Machining::Hole(hole) => Some(hole),
        Machining::Groove(_) => None,
    })
}

/// The part less its dowel holes, each taken as a square prism.
fn drilled(part: &Part, solid: &[Cuboid]) -> Vec<Cuboid> {
    let prisms: Vec<Cuboid> =
        holes(part).filter(|hole| hole.joint.is_some()).map(|hole| hole_in_world(part, hole).cuboid()).collect();
    solid
        .iter()
        .flat_map(|it| {
            let near: Vec<Cuboid> = prisms.iter().filter(|prism| prism.overlaps(it)).copied().collect();
            cells(it, &near)
        })
        .collect()
}

#[test]
fn random_pieces_go_together_as_planned() {
    let cases = std::env::var("CASEWRIGHT_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(40);
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(
        config,
        proptest::test_runner::TestRng::deterministic_rng(proptest::test_runner::RngAlgorithm::ChaCha),
    );
    let built = std::cell::Cell::new((0, 0, 0));
    runner
        .run(&designs(), |design| {
            let Ok(solved) = solve(&design) else { return Ok(()) };
            let Ok(assembly) = build(&design, &solved.layout) else { return Ok(()) };
            let plan = plan(&design, &solved.layout, &assembly, &[]);
            let flaws = flaws(&assembly, &plan);
            prop_assert!(flaws.is_empty(), "{}", flaws.join("\n"));
            let (all, whole, steps) = built.get();
            built.set((all + 1, whole + usize::from(plan.stuck.is_empty()), steps + plan.steps.len()));
            for stuck in &plan.stuck {
                eprintln!("{}; {}", stuck.what, stuck.mend);
            }
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
    let (all, whole, steps) = built.get();
    assert!(all > cases as usize / 4 && steps > all, "only {all} of {cases} designs were built, {steps} steps");
    eprintln!("{all} built, {whole} with an order, {steps} steps");
}
