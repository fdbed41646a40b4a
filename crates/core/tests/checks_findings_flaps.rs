//! Flaps with strings, stays and struts, failed on purpose as in `checks_findings`, and mends that are put in and checked again.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

mod bench_support;

use bench_support::{all, bench, text};
use casewright_core::assembly::{Machining, Motion};
use casewright_core::checks::CheckOptions;
use casewright_core::finding::{Finding, Severity};
use casewright_core::joinery::hole_in_world;
use casewright_core::pipeline::Derived;

/// The bench with its cloths behind a flap that is held like this, and with fittings of the library.
fn flap(opens: &str, stay: &str) -> Derived {
    let bay = format!("inside: Open(shelves: 0), front: (opens: {opens}, {stay})");
    let fittings = r#"fittings: {
        "strut": Usual(of: "gas strut 100"),
        "rod": Usual(of: "lid stay"),
        "piston": Usual(of: "piston damper"),
        "weak": Stay(holds_nm: 1),"#;
    bench(&[("inside: Open(shelves: 1)", &bay), ("fittings: {", fittings)])
}

fn found(it: &Derived, check: &str) -> Vec<Finding> {
    all(it, &CheckOptions::default()).into_iter().filter(|it| it.check == check).collect()
}

fn angle(it: &Derived) -> f64 {
    let flap = it.assembly.movers.iter().find(|it| it.id == "flap cloths").unwrap();
    let Motion::Turn { opens_deg, .. } = flap.motion else { panic!() };
    opens_deg
}

#[test]
fn a_flap_opens_until_its_stay_is_taut() {
    let check = |stay: &str, expected: f64| {
        let have = angle(&flap("HingedBelow", stay));
        assert!((have - expected).abs() < 0.01, "{stay}: {have}, not {expected}");
    };
    check("", 90.0);
    check("stay: (carcass: (60, 200), flap: (60, 200))", 90.0);
    check("stay: (carcass: (60, 200), flap: (60, 200), stop: At(75))", 75.0);
    // A chord of 2 r sin(a / 2), r = hypot(60, 200) = 208.806: 250 long at 2 asin(125 / 208.806) (geometry of the circle).
    let chord = 2.0 * (125.0_f64 / 60.0_f64.hypot(200.0)).asin().to_degrees();
    check("stay: (carcass: (60, 200), flap: (60, 200), stop: Long(250))", chord);
    check("stay: (carcass: (60, 200), flap: (60, 200), with: \"rod\")", chord);
    // The hinges stop it at 110.
    check("stay: (carcass: (60, 200), flap: (60, 200), stop: At(170))", 110.0);
}

#[test]
fn a_drop_down_flap_falls_against_what_is_too_weak() {
    let it = flap("HingedBelow", "stay: (carcass: (60, 200), flap: (60, 200), with: \"weak\")");
    let holds = found(&it, "tilt.holds");
    assert_eq!(holds.len(), 1);
    assert_eq!(holds[0].severity, Severity::Warning);
    assert!(holds[0].what.starts_with("flap cloths falls open against weak from "), "{:?}", holds[0]);
    // By hand: the leaf lies level, its weight out by half its height less half its thickness.
    let leaf = it.assembly.parts.iter().find(|it| it.name == "flap of cloths").unwrap();
    let height = leaf.cuboid.size(casewright_core::geometry::Axis::Y).mm();
    let moment = leaf.mass_kg * 9.80665 * height / 2.0 / 1000.0;
    let measured: f64 = holds[0].measured.as_ref().unwrap().split(' ').next().unwrap().parse().unwrap();
    assert!((measured - moment).abs() < 0.006, "{measured}, not {moment}");
}

#[test]
fn a_flap_that_nothing_holds_is_told() {
    let above = found(&flap("HingedAbove", ""), "tilt.holds");
    assert_eq!(above.len(), 1);
    assert_eq!(above[0].severity, Severity::Warning);
    assert_eq!(above[0].what, "flap of cloths falls shut where it is let go open: nothing holds it");
    let it = flap("HingedAbove", "");
    let leaf = it.assembly.parts.iter().find(|it| it.name == "flap of cloths").unwrap();
    // By hand: a board of its mass, its weight half its height from the hinge when it lies level.
    let height = leaf.cuboid.size(casewright_core::geometry::Axis::Y).mm() / 1000.0;
    let measured: f64 = above[0].measured.as_ref().unwrap().split(' ').next().unwrap().parse().unwrap();
    assert!((measured - leaf.mass_kg * 9.80665 * height / 2.0).abs() < 0.006);
    let below = found(&flap("HingedBelow", ""), "tilt.holds");
    assert_eq!(below.len(), 1);
    assert_eq!(below[0].severity, Severity::Note);
}

#[test]
fn a_flap_on_a_string_that_is_hung_above_falls_shut_and_the_mend_holds() {
    let it = flap("HingedAbove", "stay: (carcass: (60, 240), flap: (18, 60))");
    let holds = found(&it, "tilt.holds");
    assert_eq!(holds.len(), 1);
    assert_eq!(holds[0].severity, Severity::Warning, "{:?}", holds[0]);
    assert_eq!(holds[0].what, "flap cloths falls shut against a string where it is let go open");
    let mend = holds[0].mend.clone().unwrap();
    // What it says is put into the design, word for word, and checked again.
    let name = mend
        .split('"')
        .nth(1)
        .unwrap_or_else(|| panic!("{:#?}", all(&it, &CheckOptions::default()).iter().map(text).collect::<Vec<_>>()));
    let both = mend.contains("at each side");
    let ends: Vec<&str> = mend.split(" mm").filter_map(|it| it.rsplit(' ').next()).take(4).collect();
    let [a, b, c, d] = ends[..] else { panic!("{mend}") };
    let stay = format!("stay: (carcass: ({a}, {b}), flap: ({c}, {d}), with: \"mend\", both_sides: {both})");
    let bay = format!("inside: Open(shelves: 0), front: (opens: HingedAbove, {stay})");
    let fittings = format!("fittings: {{ \"mend\": Usual(of: \"{name}\"),");
    let mended = bench(&[("inside: Open(shelves: 1)", &bay), ("fittings: {", &fittings)]);
    let tilt: Vec<Finding> =
        all(&mended, &CheckOptions::default()).into_iter().filter(|it| it.check.starts_with("tilt.")).collect();
    assert!(!tilt.is_empty());
    assert!(tilt.iter().all(|it| it.severity == Severity::Note), "{mend}\n{tilt:#?}");
    assert!((angle(&mended) - 90.0).abs() < 0.1, "{}", angle(&mended));
}

#[test]
fn struts_that_push_too_hard_or_do_not_go_in_are_told() {
    // 50 mm behind and level with the end on the flap, the strut pushes along its whole arm when shut.
    let it = flap("HingedAbove", "stay: (carcass: (190, 20), flap: (18, 120), with: \"strut\", both_sides: true)");
    let holds = found(&it, "tilt.holds");
    assert!(holds.iter().any(|it| it.what == "strut pushes flap cloths open when it is shut"), "{holds:#?}");
    let it = flap("HingedAbove", "stay: (carcass: (60, 120), flap: (18, 60), with: \"strut\")");
    let stroke = found(&it, "tilt.stroke");
    assert_eq!(stroke.len(), 1, "{:#?}", all(&it, &CheckOptions::default()).iter().map(text).collect::<Vec<_>>());
    // Apart by hypot(42, 60) = 73.2 when shut.
    assert_eq!(stroke[0].measured.as_deref(), Some("73.2 mm"));
}

#[test]
fn a_stay_that_meets_a_shelf_is_told() {
    let at = "stay: (carcass: (200, 200), flap: (18, 200))";
    assert_eq!(found(&flap("HingedBelow", at), "tilt.clear"), []);
    // A shelf inside that the stay comes down on.
    let inside = "inside: Holds(things: [\"tins\"], by: Shelf(under: 100)), front: (opens: HingedBelow, stay: (carcass: (200, 160), flap: (18, 200)))";
    let it = bench(&[
        ("inside: Open(shelves: 1)", inside),
        ("inside: Holds(things: [\"tins\"], by: Standing), front: (opens: HingedRight)", "inside: Open(shelves: 0)"),
    ]);
    let clear = found(&it, "tilt.clear");
    assert_eq!(clear.len(), 1, "{:#?}", all(&it, &CheckOptions::default()).iter().map(text).collect::<Vec<_>>());
    assert!(clear[0].what.starts_with("the stay of flap cloths runs into shelf"), "{clear:?}");
    // Turned the other way round: with its end on the carcass higher it clears the shelf.
    let high = inside.replace("(200, 160)", "(60, 320)").replace("(18, 200)", "(18, 320)");
    let it = bench(&[
        ("inside: Open(shelves: 1)", &high),
        ("inside: Holds(things: [\"tins\"], by: Standing), front: (opens: HingedRight)", "inside: Open(shelves: 0)"),
    ]);
    assert_eq!(found(&it, "tilt.clear"), []);
}

#[test]
fn both_ends_are_drilled_where_they_are() {
    let it = flap("HingedAbove", "stay: (carcass: (38, 240), flap: (20, 72), with: \"strut\", both_sides: true)");
    let mover = it.assembly.movers.iter().find(|it| it.id == "flap cloths").unwrap();
    let Motion::Turn { pivot, .. } = mover.motion else { panic!() };
    let mut places = Vec::new();
    for part in &it.assembly.parts {
        for machining in &part.machining {
            if let Machining::Hole(hole) = machining
                && hole.purpose.to_string() == "stay of flap cloths"
            {
                let entry = hole_in_world(part, hole).entry;
                places.push((part.role, (pivot.z - entry.z).mm(), (pivot.y - entry.y).mm()));
            }
        }
    }
    use casewright_core::design::Role;
    places.sort_by(|a, b| a.1.total_cmp(&b.1));
    assert_eq!(places.len(), 4, "{places:?}");
    // On the inner face of the flap, which is 18 thick, and in the panels beside the bay.
    assert_eq!(places[0], (Role::Front, 18.0, 72.0));
    assert_eq!(places[1], (Role::Front, 18.0, 72.0));
    assert!(places[2..].iter().all(|it| (it.1, it.2) == (38.0, 240.0)), "{places:?}");
}
