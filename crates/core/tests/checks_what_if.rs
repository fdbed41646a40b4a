//! What if: answers agree with hand-worked figures, and go the right way when a slider moves.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

use casewright_core::Length;
use casewright_core::checks::{CheckOptions, OtherBoard, Standing, WhatIf, bends, exchangeable, what_if};
use casewright_core::design::Design;
use casewright_core::mechanics::GRAVITY;
use casewright_core::pipeline::{Derived, derive};
use proptest::prelude::*;

/// A chest of three drawers on the floor, far from any wall, and the same with one shelf.
fn chest(inside: &str) -> Derived {
    let text = format!(
        r#"(
        schema: 1, title: "chest", unit: Millimetre(step: 0.5),
        materials: {{ "board": (thickness: 18, kind: Particleboard), "thin": (thickness: 6, kind: Plywood) }},
        fittings: {{ "slide": Slide(mount: Side, length: 400, side_space: 12.7, height: 45, load_kg: 30) }},
        carcass: (
            envelope: (width: Fixed(800), height: Fixed(900), depth: Fixed(468), from_wall: 500),
            construction: (board: "board"),
            bay: (name: "all", inside: {inside}),
        ),
    )"#
    );
    derive(&Design::from_ron(&text).unwrap_or_else(|it| panic!("{it:?}"))).unwrap_or_else(|it| panic!("{it}"))
}

fn drawers() -> Derived {
    let drawer = |name: &str| {
        format!(
            r#"(name: "{name}", inside: Holds(by: Drawer(slide: "slide", bottom: "thin")), front: (opens: WithHolding))"#
        )
    };
    chest(&format!("Up(bays: [{}, {}, {}])", drawer("low"), drawer("middle"), drawer("high")))
}

fn ask(it: &Derived, question: &WhatIf) -> Standing {
    what_if(&it.design, &it.layout, &it.assembly, question).stands.unwrap()
}

#[test]
fn shut_and_open_by_the_masses_of_the_parts() {
    let it = drawers();
    let empty = WhatIf { load: 0.0, ..WhatIf::default() };
    let shut = ask(&it, &empty);
    // By hand: the centre of the parts' own masses.
    let mass: f64 = it.assembly.parts.iter().map(|part| part.mass_kg).sum();
    let z = |part: &casewright_core::assembly::Part| (part.cuboid.min.z.mm() + part.cuboid.max.z.mm()) / 2.0;
    let centre = it.assembly.parts.iter().map(|part| part.mass_kg * z(part)).sum::<f64>() / mass;
    assert!((shut.centre[2] - centre).abs() < 1e-6);
    assert!(shut.stands && shut.wall_pull == 0.0);
    // Each drawer that is opened by its travel moves its own mass by it.
    let mover = &it.assembly.movers[0];
    let travel = match mover.motion {
        casewright_core::assembly::Motion::Slide { travel, .. } => travel.mm(),
        casewright_core::assembly::Motion::Turn { .. } => panic!("a drawer turns"),
    };
    let drawer: f64 = mover.parts.iter().map(|&i| it.assembly.parts[i].mass_kg).sum();
    let open = ask(&it, &WhatIf { open: vec![mover.id.clone()], ..empty.clone() });
    assert!((open.centre[2] - centre - drawer * travel / mass).abs() < 1e-6);
    // Half open, half the way.
    let half = ask(&it, &WhatIf { open: vec![mover.id.clone()], opened: 0.5, ..empty });
    assert!((half.centre[2] - centre - drawer * travel / mass / 2.0).abs() < 1e-6);
}

#[test]
fn the_hand_tips_it_at_the_force_that_is_told() {
    let it = drawers();
    let open = vec![it.assembly.movers[2].id.clone()];
    let question = |hand| WhatIf { open: open.clone(), hand, ..WhatIf::default() };
    let before = ask(&it, &question(0.0));
    assert!(before.stands && before.tips_at.is_finite());
    assert!(ask(&it, &question(before.tips_at - 1.0)).stands);
    let after = ask(&it, &question(before.tips_at + 1.0));
    assert!(!after.stands && after.wall_pull > 0.0);
    assert!((after.tips_at - before.tips_at).abs() < 1e-6);
    // margin = (force that tips - force) · arm, by hand.
    let arm = after.balance.edge.outside(after.hand_at[0], after.hand_at[2]);
    assert!((after.balance.margin() + arm).abs() < 1e-6);
    assert!(ask(&it, &WhatIf { on_carpet: true, ..question(0.0) }).tips_at < before.tips_at);
}

#[test]
fn another_board_bends_by_the_cube_of_its_thickness() {
    let it = chest("Open(shelves: 1)");
    let options = CheckOptions::default();
    let shelf = it.assembly.parts.iter().position(|part| part.number.starts_with("LS-")).unwrap();
    assert!(exchangeable(&it.design, &it.layout, &it.assembly, &options).contains(&shelf));
    let before = bends(&it.design, &it.layout, &it.assembly, &options);
    let of = |list: &[casewright_core::checks::PanelBend]| list.iter().find(|it| it.part == shelf).unwrap().clone();
    let then = |board: Option<OtherBoard>, load| {
        let question = WhatIf { board, load, ..WhatIf::default() };
        of(&what_if(&it.design, &it.layout, &it.assembly, &question).bends)
    };
    assert_eq!(then(None, 1.0), of(&before));
    let mut material = it.design.materials["board"].clone();
    assert_eq!(
        then(Some(OtherBoard { part: shelf, material: material.clone() }), 1.0).deflection,
        of(&before).deflection
    );
    material.thickness = Length::from_mm(36);
    material.modulus_mpa = Some(1600.0);
    // As dense as the board before: standards give thicker boards less.
    let old = &it.assembly.parts[shelf];
    let volume = old.finished.length.mm() * old.finished.width.mm() * 18.0;
    material.density_kg_m3 = Some(old.mass_kg / volume * 1e9);
    let thick = then(Some(OtherBoard { part: shelf, material: material.clone() }), 1.0);
    // By hand: w = 5 W L³ / 384 E I and the shear share W L / 8 G A'; the load grows by the heavier board.
    let part = &it.assembly.parts[shelf];
    let (length, width) = (part.finished.length.mm(), part.finished.width.mm());
    let density = part.mass_kg / (length * width * 18.0);
    let weight = of(&before).load + length * width * 18.0 * density * GRAVITY;
    assert!((thick.load / weight - 1.0).abs() < 1e-3, "{} {weight}", thick.load);
    let bending = 5.0 * thick.load * thick.span.powi(3) / (384.0 * 1600.0 * width * 36.0_f64.powi(3) / 12.0) * 1.5;
    assert!((1.0..1.1).contains(&(thick.deflection / bending)), "{} {bending}", thick.deflection);
    assert!(then(None, 0.0).deflection < of(&before).deflection * 0.3);
    assert!(then(None, 2.0).deflection > of(&before).deflection * 1.7);
}

fn cases() -> u32 {
    std::env::var("CASEWRIGHT_CASES").ok().and_then(|it| it.parse().ok()).unwrap_or(64)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn sliders_go_the_right_way(set in prop::collection::vec(any::<bool>(), 3), opened in 0.0..1.0, more in 0.0..1.0, hand in 0.0..400.0, press in 0.0..200.0) {
        let it = drawers();
        let open: Vec<String> = it.assembly.movers.iter().zip(&set).filter(|it| *it.1).map(|it| it.0.id.clone()).collect();
        let base = WhatIf { open, opened, hand, ..WhatIf::default() };
        let at = ask(&it, &base);
        // Further open, pressed harder, on carpet: never steadier.
        let further = ask(&it, &WhatIf { opened: opened + (1.0 - opened) * more, hand: 0.0, ..base.clone() });
        let bare = ask(&it, &WhatIf { hand: 0.0, ..base.clone() });
        prop_assert!(further.balance.margin() <= bare.balance.margin() + 1e-6);
        let harder = ask(&it, &WhatIf { hand: hand + press, ..base.clone() });
        if at.balance.edge.outside(at.hand_at[0], at.hand_at[2]) >= 0.0 {
            prop_assert!(harder.balance.margin() <= at.balance.margin() + 1e-6);
        }
        let carpet = ask(&it, &WhatIf { on_carpet: true, ..base.clone() });
        prop_assert!(carpet.balance.margin() <= at.balance.margin() + 1e-6);
        // A wall fixing that holds the pull keeps it standing: its moment is what was missing.
        prop_assert!(at.wall_pull >= 0.0 && (at.wall_pull > 0.0) != at.stands);
    }

    #[test]
    fn nonsense_is_answered(load in any::<f64>(), opened in any::<f64>(), hand in any::<f64>()) {
        let it = drawers();
        let then = what_if(&it.design, &it.layout, &it.assembly, &WhatIf { load, opened, hand, open: vec!["nobody".into()], ..WhatIf::default() });
        prop_assert!(then.stands.is_some());
    }
}
