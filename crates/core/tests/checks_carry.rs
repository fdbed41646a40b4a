//! The way of the loads: nothing is lost between things and feet, and boards bend as hand calculations say.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

use casewright_core::checks::{self, CheckOptions};
use casewright_core::design::{Design, Role};
use casewright_core::mechanics::GRAVITY;
use casewright_core::mechanics::limits::Growth;
use casewright_core::pipeline::{Derived, derive};

fn derived(text: &str) -> Derived {
    let design = Design::from_ron(text).unwrap_or_else(|faults| panic!("{faults:?}"));
    derive(&design).unwrap_or_else(|error| panic!("{error}"))
}

/// What stands on feet, N, and the whole weight with all loads, N.
fn feet_and_weight(it: &Derived) -> (f64, f64) {
    let options = CheckOptions::default();
    let carried = checks::carried_by(&it.design, &it.layout, &it.assembly, &options);
    let feet = carried.feet.iter().map(|it| it.1).sum();
    let things: f64 = it
        .assembly
        .things
        .iter()
        .map(|thing| it.design.things.get(&thing.name).unwrap())
        .map(|t| t.mass_kg + t.load_kg)
        .sum();
    // A panel that lies on another hands its assumed load on, so each counts once.
    let assumed: f64 = carried.lying.iter().map(|it| it.assumed).sum();
    (feet, (it.assembly.mass_kg() + things) * GRAVITY + assumed)
}

fn check_demo(name: &str) {
    let path = format!("{}/../../demo/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    let (feet, weight) = feet_and_weight(&derived(&std::fs::read_to_string(path).unwrap()));
    assert!((feet / weight - 1.0).abs() < 1e-6, "{name}: feet {feet}, weight {weight}");
}

#[test]
fn feet_carry_the_whole_weight() {
    check_demo("laundry-alcove");
    check_demo("alcove-bookcase");
    check_demo("container-trolley");
}

#[test]
fn rows_of_feet_out_of_line_carry_the_whole_weight_each_in_its_way() {
    use casewright_core::assembly::FittingKind;
    use casewright_core::geometry::{Axis, Direction};
    use casewright_core::length::Length;
    let text = r#"(
        schema: 1, title: "box", unit: Millimetre(step: 0.5),
        materials: { "board": (thickness: 18, kind: Particleboard) },
        carcass: (
            envelope: (width: Fixed(1000), height: Fixed(800), depth: Fixed(500)),
            construction: (board: "board"), stand: Feet(height: 100),
            bay: (name: "all", inside: Open()),
        ),
    )"#;
    let mut it = derived(text);
    let (in_line, weight) = feet_and_weight(&it);
    assert!((in_line / weight - 1.0).abs() < 1e-6);
    let options = CheckOptions::default();
    let worst = |it: &Derived| {
        let carried = checks::carried_by(&it.design, &it.layout, &it.assembly, &options);
        let least = carried.feet.iter().map(|it| it.1).fold(f64::MAX, f64::min);
        (carried.feet.iter().map(|it| it.1 * it.2).fold(0.0, f64::max), least, carried.feet.len())
    };
    let (pairs, _, places) = worst(&it);
    assert_eq!(places, 3);
    // The outermost feet at the rear moved in by 150 mm: a lever of 150 mm between them and the front ones would lift feet off.
    let rear = it.assembly.fittings.iter().map(|it| it.cuboid.min.z).min().unwrap();
    for foot in it.assembly.fittings.iter_mut().filter(|it| matches!(it.kind, FittingKind::Stand(_))) {
        let middle = foot.cuboid.middle(Axis::X);
        if foot.cuboid.min.z == rear && middle != it.assembly.envelope.middle(Axis::X) {
            let inwards =
                if middle < it.assembly.envelope.middle(Axis::X) { Direction::RIGHT } else { Direction::LEFT };
            foot.cuboid = foot.cuboid.moved(inwards, Length::from_mm(150));
        }
    }
    let (feet, weight) = feet_and_weight(&it);
    assert!((feet / weight - 1.0).abs() < 1e-6, "feet {feet}, weight {weight}");
    let (rows, least, places) = worst(&it);
    // Beyond 210 mm of overhang the sides lift the middle foot of the rear row off the floor: it carries nothing, and pulls nothing.
    assert_eq!(places, 5);
    assert!(least > 0.0 && rows < 1.5 * pairs, "{least} {rows} {pairs}");
}

/// One shelf between two sides, with a thing of its own weight or nothing.
fn one_shelf(inside: &str) -> Derived {
    derived(&format!(
        r#"(
            schema: 1, title: "one shelf", unit: Millimetre(step: 0.5),
            things: {{ "box": (kind: Crate, size: (400, 200, 300), mass_kg: 0, load_kg: 30) }},
            materials: {{ "board": (thickness: 18, kind: Particleboard, modulus_mpa: Some(2500), density_kg_m3: Some(650)) }},
            carcass: (
                envelope: (width: Fixed(836), height: Fixed(1000), depth: Fixed(300)),
                construction: (board: "board"),
                bay: (name: "all", inside: Up(bays: [(name: "low", inside: Open()), (name: "high", {inside})])),
            ),
        )"#
    ))
}

#[test]
fn shelf_bends_as_by_hand() {
    let it = one_shelf("inside: Open()");
    let first_day = CheckOptions { growth: Growth::None, ..CheckOptions::default() };
    let bends = checks::bends(&it.design, &it.layout, &it.assembly, &first_day);
    let bend = bends.iter().find(|bend| it.assembly.parts[bend.part].role == Role::Shelf).unwrap();
    // By hand: 800 x 300 x 18, E 2500: I = 145 800. 15 psf = 718.2 Pa on 0.24 m² = 172.4 N, own weight 2.808 kg =
    // 27.54 N: 5 · 199.9 · 800³ / (384 · 2500 · 145 800) = 3.656 mm, and shear 199.9 · 800 / (8 · 250 · 4500) = 0.018 mm.
    assert_eq!(format!("{:.0} {:.1} {:.1}", bend.span, bend.assumed, bend.load), "800 172.4 199.9");
    assert_eq!(format!("{:.2}", bend.deflection), "3.67");
    assert_eq!(format!("{:.2}", bend.limit), "5.56");
    // Stress: 199.9 · 800 / 8 / (300 · 18² / 6) = 1.234 MPa of 11 · 0.45 / 1.3 = 3.808.
    assert_eq!(format!("{:.3}", bend.strength_used), "0.324");
    let deepest = bend.curve.iter().map(|it| it.1).fold(0.0, f64::max);
    assert!((deepest - bend.deflection).abs() < 1e-9);
    // After years by half more.
    let bends = checks::bends(&it.design, &it.layout, &it.assembly, &CheckOptions::default());
    let later = bends.iter().find(|bend| it.assembly.parts[bend.part].role == Role::Shelf).unwrap();
    assert!((later.deflection / bend.deflection - 1.5).abs() < 1e-9);
}

#[test]
fn things_count_instead_of_assumed_loads() {
    let it = one_shelf("inside: Holds(things: [\"box\"], by: Standing)");
    let bends = checks::bends(&it.design, &it.layout, &it.assembly, &CheckOptions::default());
    let bend = bends.iter().find(|bend| it.assembly.parts[bend.part].role == Role::Shelf).unwrap();
    assert_eq!(bend.assumed, 0.0);
    assert_eq!(format!("{:.1}", bend.load), format!("{:.1}", (30.0 + 2.808) * GRAVITY));
}
