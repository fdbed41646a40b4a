//! Invariant: what is printed as a size is what the geometry measures on the page times the scale. Read from the display
//! lists of the demos and of random designs.

use std::cell::Cell;
use std::collections::BTreeSet;

use casewright_core::Length;
use casewright_core::checks::place_opening;
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::pipeline::Derived;
use casewright_drawing::furniture::{Pack, Scene, front_elevation};
use casewright_drawing::kurbo::Rect;
use casewright_drawing::place::collisions;
use casewright_drawing::title_block::block_rect;
use casewright_drawing::{Sheet, Side};
use casewright_tests::random_design;
use casewright_tests::sheets::{built, demos, packed, printed_sizes, value_mm};
use proptest::prop_assert_eq;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// Everything that is wrong with a pack, in words.
fn flaws(derived: &Derived, pack: &Pack) -> Vec<String> {
    let mut flaws = Vec::new();
    let mut given = BTreeSet::new();
    // Faces of parts and of openings in them, and the outside, along each axis: the only places from and to which sizes may
    // be given.
    let openings = derived.design.carcass.openings.iter();
    let openings = openings.filter_map(|it| place_opening(&derived.layout, &derived.assembly, it));
    let openings: Vec<Cuboid> = openings.map(|it| it.cuboid).collect();
    let mut faces: BTreeSet<(char, i64)> = BTreeSet::new();
    let cuboids = derived.assembly.parts.iter().map(|part| &part.cuboid).chain([&derived.assembly.envelope]);
    let cuboids = cuboids.chain(&openings);
    for cuboid in cuboids {
        for (axis, letter) in [(Axis::X, 'X'), (Axis::Y, 'Y'), (Axis::Z, 'Z')] {
            let (from, to) = cuboid.range(axis);
            faces.extend([(letter, rounded(from.mm())), (letter, rounded(to.mm()))]);
        }
    }
    for (_, view) in &pack.views {
        for size in printed_sizes(view) {
            let Some((axis, from, to)) = size.measured else {
                flaws.push(format!("{}: no dimension line measures {:?}", view.id, size.text));
                continue;
            };
            for end in [from, to] {
                if !faces.contains(&(axis, rounded(end))) {
                    flaws.push(format!("{}: {:?} ends at {axis} {end}, where there is no face", view.id, size.text));
                }
            }
            if !given.insert((axis, rounded(from), rounded(to))) {
                flaws.push(format!("{}: {:?} is given twice", view.id, size.text));
            }
        }
    }
    for axis in [('X', Axis::X), ('Y', Axis::Y), ('Z', Axis::Z)] {
        let (from, to) = derived.assembly.envelope.range(axis.1);
        if !given.contains(&(axis.0, rounded(from.mm()), rounded(to.mm()))) {
            flaws.push(format!("the outside size along {} is not given", axis.0));
        }
    }
    for sheet in &pack.sheets {
        flaws.extend(sheet_flaws(sheet));
    }
    flaws
}

/// Nanometres: the way through the page and back loses less than that.
fn rounded(mm: f64) -> i64 {
    (mm * 1e6).round() as i64
}

fn sheet_flaws(sheet: &Sheet) -> Vec<String> {
    let number = sheet.title_block.sheet_number;
    let mut flaws: Vec<String> =
        collisions(&sheet.display()).into_iter().map(|it| format!("sheet {number}: {it:?}")).collect();
    if sheet.is_plain {
        let (width, height) = sheet.format.size_mm();
        // Printers leave about 4 mm of the paper blank (common practice).
        let page = Rect::new(4.0, 4.0, width - 4.0, height - 4.0);
        if !sheet.display().bounds().is_some_and(|bounds| page.contains_rect(bounds)) {
            flaws.push(format!("sheet {number} leaves the paper"));
        }
        return flaws;
    }
    let (space, block) = (sheet.format.drawing_space(), block_rect(sheet.format));
    for item in &sheet.content.items {
        let bounds = item.bounds();
        if !space.contains_rect(bounds) || !bounds.intersect(block).is_zero_area() {
            flaws.push(format!("sheet {number}: {item:?} leaves the drawing space or meets the title block"));
        }
    }
    flaws
}

#[test]
fn demos_print_what_they_measure_and_nothing_collides() {
    let demos = demos();
    assert_eq!(demos.len(), 3);
    for (name, derived) in demos {
        let pack = packed(&derived).unwrap();
        assert_eq!(flaws(&derived, &pack), Vec::<String>::new(), "{name}");
        assert_eq!(pack, packed(&derived).unwrap(), "{name}: the same design gives the same sheets");
    }
}

#[test]
fn a_falsified_size_is_noticed() {
    let (_, derived) = demos().remove(0);
    let mut pack = packed(&derived).unwrap();
    let (_, view) = &mut pack.views[0];
    let text = view.placed.display.items.iter_mut().find_map(|item| match &mut item.mark {
        casewright_drawing::Mark::Text(text) if value_mm(&text.content) == Some(1650.0) => Some(text),
        _ => None,
    });
    text.unwrap().content = "1651".to_owned();
    assert_ne!(flaws(&derived, &pack), Vec::<String>::new());
}

/// Panels and openings of the first chain across and the first chain up close to the outside size, exactly.
fn chain_flaws(derived: &Derived) -> Vec<String> {
    let view = front_elevation(&Scene::from(derived));
    let mut flaws = Vec::new();
    for (side, axis) in [(Side::Below, Axis::X), (Side::Left, Axis::Y)] {
        let Some(chain) = view.chains.iter().find(|chain| chain.side == side) else {
            flaws.push(format!("no chain {side:?}"));
            continue;
        };
        let sum: Length = chain.spans.iter().map(|span| span.to - span.from).sum();
        let envelope = derived.assembly.envelope.range(axis);
        if chain.reach() != Some(envelope) || sum != envelope.1 - envelope.0 {
            flaws.push(format!("{side:?}: {sum:?} is not {envelope:?}"));
        }
    }
    flaws
}

#[test]
fn chains_of_the_demos_close() {
    for (name, derived) in demos() {
        assert_eq!(chain_flaws(&derived), Vec::<String>::new(), "{name}");
    }
}

#[test]
fn random_designs_print_what_they_measure() {
    let run = || {
        let drawn = Cell::new(0);
        let cases = random_design::cases(24);
        let config = Config { cases, failure_persistence: None, max_shrink_iters: 8, ..Config::default() };
        let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
        let outcome = runner.run(&random_design::design(), |design| {
            let Some(derived) = built(&design) else { return Ok(()) };
            prop_assert_eq!(chain_flaws(&derived), Vec::<String>::new());
            let Some(pack) = packed(&derived) else { return Ok(()) };
            prop_assert_eq!(flaws(&derived, &pack), Vec::<String>::new());
            drawn.set(drawn.get() + 1);
            Ok(())
        });
        assert!(drawn.get() * 5 >= cases || outcome.is_err(), "only {} of {cases} were drawn", drawn.get());
        outcome.map_err(|error| error.to_string())
    };
    random_design::with_room(run).unwrap();
}

#[test]
fn printed_values_are_read() {
    let check = |text: &str, expected: f64| assert!((value_mm(text).unwrap() - expected).abs() < 1e-9, "{text}");
    check("560,5", 560.5);
    check("22 1/16\"", 560.3875);
    check("23/32\"", 18.25625);
    check("~22 1/16\" (560,4 mm)", 560.4);
}
