//! Racking against textbook portal frames.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

use casewright_core::mechanics::racking::{
    Brace, Frame, FrameError, Held, Member, RackBay, RackModel, back_stiffness, corner_lift_push, corner_stiffness,
    strap_stiffness,
};

#[track_caller]
fn check(computed: f64, expected: f64, within: f64) {
    assert!((computed / expected - 1.0).abs() < within, "computed {computed}, expected {expected}");
}

fn portal(corner: f64) -> RackModel {
    let bays = vec![RackBay { width: 900.0, braced: 0.0 }];
    RackModel { height: 800.0, bays, upright: 4e8, bottom: 0.0, top: 6e8, corner }
}

#[test]
fn portal_on_pins() {
    // Textbook: H h³ / 6 E I of the columns + H h² L / 12 E I of the beam; with springs of k in the corners, + H h² / 2 k.
    let (h, l) = (800.0_f64, 900.0);
    let rigid = h.powi(3) / (6.0 * 4e8) + h * h * l / (12.0 * 6e8);
    check(portal(f64::INFINITY).lean_per_newton().unwrap(), rigid, 1e-3);
    let k = 2e6;
    check(portal(k).lean_per_newton().unwrap(), rigid + h * h / (2.0 * k), 1e-3);
}

#[test]
fn bracing_takes_over() {
    let mut model = portal(1e6);
    let bare = model.lean_per_newton().unwrap();
    model.bays[0].braced = 500.0;
    // Brace and frame act side by side: stiffnesses add.
    check(1.0 / model.lean_per_newton().unwrap(), 500.0 + 1.0 / bare, 0.02);
    // A stiffer bottom and more uprights only help.
    let mut better = portal(1e6);
    better.bottom = 6e8;
    assert!(better.lean_per_newton().unwrap() < bare);
    better.bays = vec![RackBay { width: 450.0, braced: 0.0 }; 2];
    assert!(better.lean_per_newton().unwrap() < portal(1e6).lean_per_newton().unwrap());
}

#[test]
fn long_row_is_solved() {
    let bays = vec![RackBay { width: 400.0, braced: 0.0 }; 300];
    let model = RackModel { height: 800.0, bays, upright: 4e8, bottom: 4e8, top: 4e8, corner: 1e6 };
    let one = RackModel { bays: vec![RackBay { width: 400.0, braced: 0.0 }], ..model.clone() };
    assert!(model.lean_per_newton().unwrap() < one.lean_per_newton().unwrap());
}

#[test]
fn cantilever_and_loose_frames() {
    // P L³ / 3 E I.
    let mut frame = Frame {
        nodes: vec![(0.0, 0.0), (0.0, 500.0)],
        members: vec![Member {
            from: 0,
            to: 1,
            axial: 1e6,
            bending: 2e8,
            spring_from: f64::INFINITY,
            spring_to: f64::INFINITY,
        }],
        braces: vec![],
        held: vec![Held { node: 0, x: true, y: true, turn: true }],
    };
    let moved = frame.solve(&[(1, 10.0, -20.0)]).unwrap();
    check(moved[1][0], 10.0 * 500.0_f64.powi(3) / (3.0 * 2e8), 1e-9);
    check(moved[1][1], -20.0 * 500.0 / 1e6, 1e-9);
    check(moved[1][2], -10.0 * 500.0 * 500.0 / (2.0 * 2e8), 1e-9);
    frame.held[0].turn = false;
    assert_eq!(frame.solve(&[(1, 10.0, 0.0)]), Err(FrameError::Loose));
    frame.braces.push(Brace { from: 0, to: 7, stiffness: 1.0 });
    assert_eq!(frame.solve(&[]), Err(FrameError::Member));
}

#[test]
fn parts_of_the_model() {
    // G t b / h alone when the fasteners do not give: 600 · 3 · 800 / 1600.
    check(back_stiffness(800.0, 1600.0, 3.0, 600.0, 1e15, 100.0), 900.0, 1e-9);
    // Fasteners alone: K b / (2 s (1 + h/b)) = 500 · 800 / (200 · 3).
    check(back_stiffness(800.0, 1600.0, 1e12, 600.0, 500.0, 100.0), 500.0 * 800.0 / 600.0, 1e-6);
    check(strap_stiffness(20.0, 1.5, 1000.0, 1e15, 1), 6300.0, 1e-9);
    check(corner_stiffness(4, 4000.0, 18.0), 4.0 * 4000.0 * 81.0, 1e-12);
    check(corner_lift_push(50.0, 900.0, 800.0), 50.0 * 9.80665 * 900.0 / 6400.0, 1e-12);
}
