//! Blocks: fewest by brute force, set-ups that drill what the assembly has, and a wrong reference edge.

use super::*;
use crate::assembly::Assembly;
use crate::assembly::tests::built;
use crate::joinery::tests::for_random_assemblies;
use crate::length::Length;
use crate::sample::{across, design_of, mm, open, up};

fn block(places: &[i64]) -> Block {
    Block::for_row(mm(8), mm(9), &places.iter().map(|it| mm(*it)).collect::<Vec<_>>())
}

#[test]
fn a_block_serves_what_is_part_of_it() {
    let long = block(&[50, 220, 390, 561]);
    let check = |row: &[i64], expected: Option<(i64, bool, &[usize])>| {
        let found = long.serves(&block(row)).map(|it| (it.set_off, it.reversed, it.holes));
        assert_eq!(
            found,
            expected.map(|(set_off, reversed, holes)| (mm(set_off), reversed, holes.to_vec())),
            "{row:?}"
        );
    };
    check(&[50, 220, 390, 561], Some((0, false, &[1, 2, 3, 4])));
    check(&[50, 220], Some((0, false, &[1, 2])));
    // Set off from the datum end, and end for end.
    check(&[60, 230], Some((10, false, &[1, 2])));
    check(&[50, 221], Some((0, true, &[4, 3])));
    // Its stop may not stand beyond the datum end.
    check(&[30, 200], None);
    check(&[50, 222], None);
    assert_eq!(long.serves(&Block::for_row(mm(6), mm(9), &[mm(50)])), None);
    assert_eq!(long.serves(&Block::for_row(mm(8), mm(8), &[mm(50)])), None);
}

/// The size of the smallest cover, by trying every choice of sets.
fn smallest_by_force(items: usize, sets: &[Vec<usize>]) -> usize {
    let wanted: Vec<usize> = (0..items).filter(|item| sets.iter().any(|set| set.contains(item))).collect();
    let covers = |choice: u32| {
        wanted.iter().all(|item| sets.iter().enumerate().any(|(i, set)| choice >> i & 1 == 1 && set.contains(item)))
    };
    (0..1_u32 << sets.len()).filter(|choice| covers(*choice)).map(u32::count_ones).min().unwrap_or(0) as usize
}

#[test]
fn no_cover_is_smaller() {
    // The classical case where taking the largest set first is not best: rows of 6 against sets of 3 and 4.
    let sets = vec![vec![1, 2, 4, 5], vec![0, 1, 2], vec![3, 4, 5]];
    assert_eq!(fewest(6, &sets), [1, 2]);
    // Pseudo-random sets (a linear congruential sequence), against brute force.
    let mut state = 12_345_u64;
    let mut next = |below: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % below
    };
    for _ in 0..200 {
        let items = 1 + next(9) as usize;
        let sets: Vec<Vec<usize>> = (0..1 + next(9)).map(|_| (0..items).filter(|_| next(3) == 0).collect()).collect();
        let found = fewest(items, &sets);
        assert_eq!(found.len(), smallest_by_force(items, &sets), "{sets:?}");
        let covered = |item: usize| found.iter().any(|&set| sets[set].contains(&item));
        assert!((0..items).all(|item| covered(item) || sets.iter().all(|set| !set.contains(&item))));
    }
}

#[test]
fn every_set_up_drills_what_the_assembly_has() {
    for_random_assemblies(60, |assembly| {
        let plan = plan(assembly);
        assert_eq!(check(assembly, &plan), []);
        for set_up in &plan.set_ups {
            assert!(set_up.fence.spacer >= Length::ZERO && set_up.end.spacer >= Length::ZERO, "{set_up:?}");
            // Every hole of the joint is drilled by a hole of the block.
            let part = &assembly.parts[set_up.part];
            let bored = part
                .machining
                .iter()
                .filter(|it| matches!(it, crate::assembly::Machining::Hole(hole) if hole.joint == Some(set_up.joint) && hole.is_for_screw() == set_up.screws));
            assert_eq!(bored.count(), set_up.how.holes.len());
            for number in &set_up.fence.same_length {
                let size = assembly.part(number).unwrap().finished;
                assert!([size.length, size.width, size.thickness].contains(&set_up.fence.spacer));
            }
        }
        // Both partners of a joint by the same block, its other side up on the other one unless drilled from behind.
        for pair in plan.set_ups.chunks(2) {
            assert_eq!((pair[0].joint, pair[0].screws, pair[0].block), (pair[1].joint, pair[1].screws, pair[1].block));
        }
    });
}

fn shelved() -> Assembly {
    let design = design_of(up("whole", vec![open("lower", 0), open("upper", 0)]));
    built(&design).1
}

#[test]
fn partners_are_drilled_from_opposite_sides_of_a_block() {
    let plan = plan(&shelved());
    assert!(!plan.set_ups.is_empty());
    for pair in plan.set_ups.chunks(2) {
        assert_ne!(pair[0].second_side, pair[1].second_side, "{pair:?}");
    }
}

#[test]
fn a_deliberately_wrong_reference_edge_is_noticed() {
    let assembly = shelved();
    let mut plan = plan(&assembly);
    // The shelf in a side, from the lower edge of the side: taken from the inner face of the bottom instead.
    let side = assembly.parts.iter().position(|part| part.number == "SL").unwrap();
    let set_up = plan
        .set_ups
        .iter_mut()
        .find(|it| it.part == side && it.fence.spacer > mm(100) && !it.fence.beware.is_empty())
        .expect("a shelf is set off from the lower edge");
    let bottom = Beware { board: "BO".to_owned(), inner: true, by: mm(18) };
    assert_eq!(set_up.fence.beware.first(), Some(&bottom), "{:?}", set_up.fence);
    // The distance between the bottom and the shelf, but laid against the edge of the side.
    set_up.fence.spacer -= mm(18);
    let findings = check(&assembly, &plan);
    assert_eq!(findings.len(), 1);
    let found = &findings[0];
    assert!(found.what.ends_with("18 mm too near to its edge: just the thickness of the bottom"), "{}", found.what);
    assert_eq!(found.about, ["SL", "BO"]);
    assert!(found.mend.as_ref().unwrap().contains("not from the bottom"));
    // Any other error is noticed too, but blamed on no board.
    let mut plan = super::plan(&assembly);
    plan.set_ups[0].end.spacer += mm(5);
    let findings = check(&assembly, &plan);
    assert_eq!(findings.len(), 1);
    assert!(!findings[0].what.contains("thickness"));
}

#[test]
fn a_plain_cabinet_needs_few_blocks() {
    let (_, assembly) = built(&design_of(across("whole", vec![open("left", 0), open("right", 0)])));
    let plan = plan(&assembly);
    let rows: std::collections::BTreeSet<&Block> = plan.blocks.iter().collect();
    assert_eq!(rows.len(), plan.blocks.len());
    assert!(plan.blocks.len() < plan.set_ups.len() / 2, "{} for {}", plan.blocks.len(), plan.set_ups.len());
}
