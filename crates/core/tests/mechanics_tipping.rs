//! Tipping against hand-worked balances (docs/tipping.md), enumeration of every combination, and monotonic properties;
//! racking against textbook portals.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

use casewright_core::mechanics::tipping::{
    ASTM_FILL_KG_M3, Force, Ground, Mass, Moving, Opening, Piece, STABILITY_CASES, StabilityCase, Vertical, Wall,
    fixings, run, support_polygon,
};
use casewright_core::mechanics::{GRAVITY, POUND_FORCE};
use proptest::prelude::*;

/// The chest of docs/tipping.md: 800 x 900 x 450 on its four corners, 30 kg, three drawers of 4 kg with 8 kg in each.
fn chest() -> Piece {
    let mass = |kg, y| Mass { kg, at: [400.0, y, 225.0] };
    Piece {
        own: vec![mass(30.0, 450.0)],
        load: vec![],
        moving: [200.0, 450.0, 700.0]
            .iter()
            .map(|&y| Moving {
                id: format!("drawer at {y}"),
                own: vec![mass(4.0, y)],
                load: vec![mass(8.0, y)],
                opening: Opening::Slide { by: [0.0, 0.0, 350.0] },
                front: [400.0, y, 450.0],
            })
            .collect(),
        edges: support_polygon(&[(0.0, 0.0), (800.0, 0.0), (0.0, 450.0), (800.0, 450.0)]),
        bounds: ([0.0; 3], [800.0, 900.0, 450.0]),
    }
}

fn case(id: &str) -> &'static StabilityCase {
    STABILITY_CASES.iter().find(|it| it.id == id).unwrap()
}

fn forwards(piece: &Piece) -> casewright_core::mechanics::tipping::Edge {
    *piece.edges.iter().find(|it| it.name() == "forwards").unwrap()
}

#[track_caller]
fn check(computed: f64, by_hand: f64) {
    assert!((computed - by_hand).abs() < 0.51, "computed {computed}, by hand {by_hand}");
}

#[test]
fn hand_worked_balances() {
    let chest = chest();
    let edge = forwards(&chest);
    let level = Ground::default();
    let margin =
        |open: [bool; 3], load, forces: &[Force]| chest.balance(&edge, level, &open, 1.0, load, forces).margin();
    check(margin([false; 3], 1.0, &[]), 66.0 * GRAVITY * 225.0);
    check(margin([false; 3], 1.0, &[]), 145_629.0);
    check(margin([true; 3], 0.0, &[]), 51_485.0);
    check(margin([true; 3], 1.0, &[]), 22_065.0);
    let hand = Force { at: [400.0, 450.0, 750.0], down: 100.0, out: 0.0 };
    check(margin([true; 3], 0.0, &[hand]), 21_485.0);
    let loaded = chest.balance(&edge, level, &[true; 3], 1.0, 1.0, &[]);
    assert!((loaded.force_at(300.0) - 73.55).abs() < 0.01);
    assert!((loaded.distance() - 2250.0 / 66.0).abs() < 1e-9);
    assert_eq!(loaded.wall_pull(850.0), 0.0);
    assert!(chest.least_that_tips(&edge, level, 1.0, 1.0).is_none());
    let child = run(&chest, case("child climbs")).unwrap();
    assert!((child.balance.margin() + 70_451.0).abs() < 15.0, "{}", child.balance.margin());
    assert_eq!(child.on, Some(2));
    assert!((child.balance.wall_pull(850.0) - 82.9).abs() < 0.05);
    assert_eq!(fixings(child.balance.wall_pull(850.0), Wall::Studs), Some(2));
    assert_eq!(fixings(1000.0, Wall::Studs), Some(6));
    assert_eq!(fixings(10.0, Wall::Lining), None);
}

#[test]
fn cases_are_those_of_the_standards() {
    // EN 16121:2013 Table 3 as reproduced in a test report.
    let low = case("top load, low");
    assert_eq!(
        (low.vertical, low.applies.over_height, low.applies.up_to_height),
        (Vertical::Fixed(750.0), 650.0, 1000.0)
    );
    let tall = case("top load, tall");
    assert_eq!((tall.vertical, tall.outward, tall.applies.over_height), (Vertical::Fixed(350.0), 50.0, 1000.0));
    assert_eq!(case("all open").vertical, Vertical::None);
    assert_eq!(case("open, hand").vertical, Vertical::Fixed(100.0));
    assert_eq!(case("open, loaded").vertical, Vertical::OfWeight { share: 0.2, most: 300.0 });
    assert_eq!(case("locked, pulled").outward, 100.0);
    // ASTM F2057-23: 27 in = 686 mm, 60.0 to 60.7 lb = 27.2 to 27.5 kg, carpet block 10.9; 10 lbf = 44.5 N below 56 in
    // = 1422 mm (from memory); clothing 8.5 lb/ft³ = 136 kg/m³.
    let child = case("child climbs");
    assert_eq!(format!("{:.0}", child.applies.over_height), "686");
    let Vertical::Fixed(force) = child.vertical else { panic!() };
    assert!((27.2..=27.5).contains(&(force / GRAVITY)));
    assert_eq!(child.raised, 10.9);
    assert_eq!(format!("{:.1} {:.0}", case("child pulls").outward, case("child pulls").outward_at), "44.5 1422");
    assert_eq!(format!("{ASTM_FILL_KG_M3:.0}"), "136");
    let Vertical::Fixed(force) = case("one open, 50 lb").vertical else { panic!() };
    assert!((force / POUND_FORCE - 50.0).abs() < 1e-9);
    // Pieces too low for a case are not judged by it.
    let mut low_piece = chest();
    low_piece.bounds.1[1] = 640.0;
    assert!(STABILITY_CASES.iter().all(|it| run(&low_piece, it).is_none()));
    assert!(run(&chest(), tall).is_none());
}

#[test]
fn doors_turn() {
    // A door 500 wide at the right end: shut its mass lies within, open by 90 degrees half its width before the front.
    let mut piece = chest();
    piece.moving = vec![Moving {
        id: "door".into(),
        own: vec![Mass { kg: 10.0, at: [550.0, 450.0, 459.0] }],
        load: vec![],
        opening: Opening::Turn { pivot: [800.0, 0.0, 450.0], axis: [0.0, 1.0, 0.0], most: std::f64::consts::FRAC_PI_2 },
        front: [310.0, 450.0, 459.0],
    }];
    let open = piece.moving[0].opening.moved([550.0, 450.0, 450.0], 1.0);
    assert!((open[0] - 800.0).abs() < 1e-9 && (open[2] - 700.0).abs() < 1e-9, "{open:?}");
    let edge = forwards(&piece);
    let margin = piece.balance(&edge, Ground::default(), &[true], 1.0, 0.0, &[]).margin();
    check(margin, GRAVITY * (30.0 * 225.0 - 10.0 * 250.0));
}

#[test]
fn polygon() {
    assert!(support_polygon(&[(0.0, 0.0), (1.0, 0.0)]).is_empty());
    assert!(support_polygon(&[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)]).is_empty());
    let edges = support_polygon(&[(0.0, 0.0), (10.0, 0.0), (5.0, 2.0), (10.0, 4.0), (0.0, 4.0), (5.0, 4.0)]);
    let mut names: Vec<_> = edges.iter().map(|it| (it.name(), it.depth)).collect();
    names.sort_by(|a, b| a.0.cmp(b.0));
    assert_eq!(names, [("backwards", 4.0), ("forwards", 4.0), ("to the left", 10.0), ("to the right", 10.0)]);
    assert!(edges.iter().all(|it| it.outside(5.0, 2.0) < 0.0));
}

fn any_piece() -> impl Strategy<Value = Piece> {
    let moving = (0.5..20.0, 0.0..30.0, 50.0..850.0, 100.0..700.0, 0..3_u8, 100.0..600.0).prop_map(
        |(own, load, y, x, kind, reach)| {
            let at = [x, y, 250.0];
            let opening = match kind {
                0 => Opening::Slide { by: [0.0, 0.0, reach] },
                1 => Opening::Turn { pivot: [x - 200.0, y, 450.0], axis: [0.0, -1.0, 0.0], most: 1.6 },
                _ => Opening::Turn { pivot: [x, y - 200.0, 440.0], axis: [1.0, 0.0, 0.0], most: 0.8 },
            };
            Moving {
                id: String::new(),
                own: vec![Mass { kg: own, at }],
                load: vec![Mass { kg: load, at }],
                opening,
                front: [x, y, 450.0],
            }
        },
    );
    (5.0..80.0, prop::collection::vec(moving, 0..7)).prop_map(|(kg, moving)| Piece {
        own: vec![Mass { kg, at: [400.0, 400.0, 220.0] }],
        moving,
        ..chest()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn worst_set_is_the_worst_of_all_combinations(piece in any_piece(), load in 0.0..1.0, raised in 0.0..20.0) {
        let ground = Ground { raised };
        let n = piece.moving.len();
        for edge in &piece.edges {
            let all = (0..1_u32 << n).map(|bits| (0..n).map(|i| bits >> i & 1 == 1).collect::<Vec<_>>());
            let margin = |open: &[bool]| piece.balance(edge, ground, open, 1.0, load, &[]).margin();
            let listed: Vec<(usize, f64)> = all.map(|it| (it.iter().filter(|&&b| b).count(), margin(&it))).collect();
            for most in 0..=n {
                let by_list = listed.iter().filter(|it| it.0 <= most).map(|it| it.1).fold(f64::INFINITY, f64::min);
                let found = margin(&piece.worst_open(edge, ground, 1.0, load, most));
                prop_assert!((found - by_list).abs() <= 1e-6 * by_list.abs().max(1.0), "{} {}", found, by_list);
            }
            let least = listed.iter().filter(|it| it.1 < -1e-6).map(|it| it.0).min();
            let found = piece.least_that_tips(edge, ground, 1.0, load).map(|it| it.open.iter().filter(|&&b| b).count());
            prop_assert_eq!(found, least);
        }
    }

    #[test]
    fn monotonic(piece in any_piece(), more in 0.0..50.0, force in 0.0..500.0, load in 0.0..1.0, out in 1.0..500.0) {
        let edge = forwards(&piece);
        let level = Ground::default();
        let n = piece.moving.len();
        let open = piece.worst_open(&edge, level, 1.0, load, n);
        let balance = |piece: &Piece, open: &[bool], forces: &[Force]| piece.balance(&edge, level, open, 1.0, load, forces);
        let before = balance(&piece, &open, &[]).margin();
        // Opening is never safer than the worst set; carpet is never safer.
        prop_assert!(before <= balance(&piece, &vec![false; n], &[]).margin() + 1e-6);
        let carpet = Ground { raised: 10.9 };
        prop_assert!(piece.balance(&edge, carpet, &open, 1.0, load, &[]).margin() <= before + 1e-6);
        // A force outside the edge, and more load on what stands outside it, are never safer.
        let at = [400.0, 300.0, 450.0 + out];
        let pressed = balance(&piece, &open, &[Force { at, down: force, out: 0.0 }]).margin();
        prop_assert!(pressed <= before + 1e-6);
        let mut heavier = piece.clone();
        for (moving, &open) in heavier.moving.iter_mut().zip(&open) {
            if open {
                let extra = moving.load.iter().map(|it| Mass { kg: more, ..*it }).collect::<Vec<_>>();
                let outside = extra.iter().all(|it| moving.opening.moved(it.at, 1.0)[2] >= 450.0);
                if outside {
                    moving.load.extend(extra);
                }
            }
        }
        prop_assert!(balance(&heavier, &open, &[]).margin() <= before + 1e-6);
        // A wall fixing is never worse: with its pull the margin is not below nothing nor below what it was.
        let pull = balance(&piece, &open, &[]).wall_pull(850.0);
        let fixed = Force { at: [400.0, 850.0, 0.0], down: 0.0, out: -pull };
        let after = balance(&piece, &open, &[fixed]).margin();
        prop_assert!(after >= before - 1e-6 && after >= -1e-6);
    }
}
