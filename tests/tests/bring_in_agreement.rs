//! Ways of a piece to its place, against dense sampling with parry3d, against the ladder that is carried round a corner, and
//! against themselves: what a large piece can do, a smaller one can.

use casewright_core::survey::{Block, BringIn, Pose, bring_in};
use parry3d_f64::math::{Pose as Placed, Vector};
use parry3d_f64::query;
use parry3d_f64::shape::Cuboid;
use proptest::prelude::*;

/// Half the width of everything, across the section.
const HALF: f64 = 100.0;
/// What may be met by less than this, mm: the sampling looks at a piece smaller by so much all round.
const SHRINK: f64 = 0.2;

fn block(name: &str, z: (f64, f64), y: (f64, f64)) -> Block {
    Block { name: name.to_owned(), z, y }
}

/// Where the lowest corner stands is reckoned from the corners, one by one.
fn placed(pose: &Pose, height: f64, depth: f64) -> Placed {
    let angle = pose.lean_deg.to_radians();
    let reach = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
        .map(|(z, y): (f64, f64)| y * height / 2.0 * angle.cos() - z * depth / 2.0 * angle.sin());
    let lowest = reach.iter().copied().fold(f64::MAX, f64::min);
    // A turn about X from Y towards Z is positive.
    Placed::new(Vector::new(0.0, pose.lift - lowest, pose.z), Vector::new(angle, 0.0, 0.0))
}

fn is_clear(poses: &[Pose], height: f64, depth: f64, blocks: &[Block]) -> Result<(), String> {
    let piece = Cuboid::new(Vector::new(HALF, height / 2.0 - SHRINK, depth / 2.0 - SHRINK));
    let solids: Vec<(Placed, Cuboid, &str)> = blocks
        .iter()
        .map(|it| {
            let (y, z) = ((it.y.0 + it.y.1) / 2.0, (it.z.0 + it.z.1) / 2.0);
            let half = Vector::new(HALF, (it.y.1 - it.y.0) / 2.0, (it.z.1 - it.z.0) / 2.0);
            (Placed::new(Vector::new(0.0, y, z), Vector::ZERO), Cuboid::new(half), it.name.as_str())
        })
        .collect();
    for pair in poses.windows(2) {
        for step in 0..=10 {
            let t = f64::from(step) / 10.0;
            let mix = |a: f64, b: f64| a + (b - a) * t;
            let pose = Pose {
                z: mix(pair[0].z, pair[1].z),
                lean_deg: mix(pair[0].lean_deg, pair[1].lean_deg),
                lift: mix(pair[0].lift, pair[1].lift),
            };
            let at = placed(&pose, height, depth);
            for (place, solid, name) in &solids {
                if query::intersection_test(&at, &piece, place, solid).unwrap().intersecting {
                    return Err(format!("{name} is met at {pose:?}"));
                }
            }
        }
    }
    Ok(())
}

#[test]
fn under_a_beam_it_is_leaned() {
    // Under a beam of 2000 before a niche of 2200, a piece of 2050 cannot go straight, and has room to be leaned.
    let blocks =
        [block("beam", (700.0, 800.0), (2000.0, 9000.0)), block("ceiling", (-9000.0, 700.0), (2200.0, 9000.0))];
    let found = bring_in(2050.0, 350.0, 0.0, 0.0, &blocks);
    let BringIn::Leaned(poses) = &found else { panic!("{found:?}") };
    is_clear(poses, 2050.0, 350.0, &blocks).unwrap();
    assert!(found.most().0.abs() > 5.0, "{:?}", found.most());
    assert_eq!(bring_in(1950.0, 350.0, 0.0, 0.0, &blocks), BringIn::Straight);
    // As deep as the niche it stands under the beam: nothing can be done.
    assert_eq!(bring_in(2050.0, 690.0, 0.0, 0.0, &blocks), BringIn::Not { by: "beam".to_owned() });
    // Past a skirting or a low box it is lifted.
    let low = [block("box", (600.0, 700.0), (0.0, 20.0))];
    let found = bring_in(900.0, 500.0, 0.0, 0.0, &low);
    let BringIn::Leaned(poses) = &found else { panic!("{found:?}") };
    is_clear(poses, 900.0, 500.0, &low).unwrap();
    assert_eq!(
        bring_in(900.0, 500.0, 0.0, 0.0, &[block("box", (600.0, 700.0), (0.0, 1200.0))]),
        BringIn::Not { by: "box".to_owned() }
    );
}

/// The longest ladder round a corner of two passages, a and b wide: (a^(2/3) + b^(2/3))^(3/2), a standard exercise of the
/// calculus. Here the passages are a corridor under a low ceiling and a shaft at the wall; the board is 1 mm thick.
#[test]
fn a_thin_board_goes_as_far_as_the_ladder_round_a_corner() {
    for (corridor, shaft) in [(1000.0_f64, 600.0_f64), (800.0, 800.0), (1500.0, 400.0)] {
        let longest = (corridor.powf(2.0 / 3.0) + shaft.powf(2.0 / 3.0)).powf(1.5);
        let blocks = [block("low ceiling", (shaft, shaft + 4000.0), (corridor, 9000.0))];
        // A grid of 10 mm and 1 degree needs a little air.
        let goes = bring_in(longest * 0.965, 1.0, 0.0, 0.0, &blocks);
        let BringIn::Leaned(poses) = &goes else { panic!("{corridor} {shaft} {longest}: {goes:?}") };
        is_clear(poses, longest * 0.965, 1.0, &blocks).unwrap();
        let not = bring_in(longest * 1.005, 1.0, 0.0, 0.0, &blocks);
        assert_eq!(not, BringIn::Not { by: "low ceiling".to_owned() }, "{corridor} {shaft} {longest}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 30, max_shrink_iters: 40, ..ProptestConfig::default() })]

    #[test]
    fn ways_are_clear_and_smaller_pieces_go_too(
        height in 600.0..2300.0_f64,
        depth in 200.0..700.0_f64,
        beam in (300.0..900.0_f64, 50.0..300.0_f64, 900.0..2300.0_f64),
        sill in (200.0..1000.0_f64, 30.0..200.0_f64, 0.0..900.0_f64, 10.0..100.0_f64),
        ceiling in 1800.0..2600.0_f64,
    ) {
        let blocks = [
            block("beam", (beam.0, beam.0 + beam.1), (beam.2, 9000.0)),
            block("sill", (sill.0, sill.0 + sill.1), (sill.2, sill.2 + sill.3)),
            block("ceiling", (-9000.0, 9000.0), (ceiling, 9000.0)),
        ];
        // What stands in its place is left out by the search, and so here.
        let in_place = |it: &Block| it.z.0 < depth && it.y.0 < height;
        prop_assume!(!blocks.iter().any(in_place));
        let found = bring_in(height, depth, 0.0, 0.0, &blocks);
        match &found {
            BringIn::Leaned(poses) => {
                prop_assert_eq!(is_clear(poses, height, depth, &blocks), Ok(()));
                let last = poses.last().unwrap();
                prop_assert_eq!((last.z, last.lean_deg, last.lift), (depth / 2.0, 0.0, 0.0));
                let smaller = bring_in(height - 40.0, depth - 40.0, 20.0, 0.0, &blocks);
                prop_assert!(!matches!(smaller, BringIn::Not { .. }), "{smaller:?}");
            }
            BringIn::Straight => {
                let there = Pose { z: depth / 2.0, lean_deg: 0.0, lift: 0.0 };
                let poses = [Pose { z: 2500.0, ..there }, there];
                prop_assert_eq!(is_clear(&poses, height, depth, &blocks), Ok(()));
            }
            BringIn::Not { .. } => {}
        }
    }
}
