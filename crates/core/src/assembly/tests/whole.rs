//! Whatever is designed, what is built is sound.

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;

use proptest::test_runner::{Config, TestRunner};

use super::random::designs;
use super::sound::check_sound;
use super::*;
use crate::geometry::Axis;
use crate::layout::Closing;

/// Random designs in a run; more with the environment variable that proptest reads.
const CASES: u32 = 150;

#[test]
fn random_designs_are_sound() {
    let mut config =
        Config::with_cases(std::env::var("PROPTEST_CASES").ok().and_then(|it| it.parse().ok()).unwrap_or(CASES));
    config.failure_persistence = None;
    let (built, seen) = (Cell::new(0u32), Cell::new(0u32));
    let moved = RefCell::new(BTreeSet::new());
    let mut runner = TestRunner::new_with_rng(
        config,
        proptest::test_runner::TestRng::deterministic_rng(proptest::test_runner::RngAlgorithm::ChaCha),
    );
    let result = runner.run(&designs(), |design| {
        seen.set(seen.get() + 1);
        let Ok(solved) = solve(&design) else { return Ok(()) };
        match build(&design, &solved.layout) {
            Ok(assembly) => {
                built.set(built.get() + 1);
                let kinds = assembly.movers.iter().filter_map(|mover| mover.id.split(' ').next());
                moved.borrow_mut().extend(kinds.map(str::to_owned));
                check_sound(&solved.layout, &assembly);
                check_chains(&solved.layout, &assembly);
                assert_eq!(build(&design, &solved.layout).unwrap(), assembly, "not the same twice");
            }
            Err(error) => assert!(!error.to_string().contains("internal"), "{error}"),
        }
        Ok(())
    });
    if let Err(error) = result {
        panic!("{error}");
    }
    assert!(built.get() * 3 > seen.get(), "only {} of {} designs were built", built.get(), seen.get());
    let kinds = moved.into_inner().into_iter().collect::<Vec<_>>().join(" ");
    assert_eq!(kinds, "door drawer flap left pull-out right tilt-out");
}

/// Panels plus openings make up each shell, and shell, stand and worktop the envelope.
fn check_chains(layout: &Layout, assembly: &Assembly) {
    for bay in &layout.bays {
        for (axis, low, high) in [(Axis::X, 0, 1), (Axis::Y, 2, 3)] {
            for (side, closing) in [(low, bay.closed_by[low]), (high, bay.closed_by[high])] {
                if let Closing::Panel(panel) = closing {
                    let (from, to) = layout.panels[panel].cuboid.range(axis);
                    let meets =
                        if side == low { to == bay.clear.range(axis).0 } else { from == bay.clear.range(axis).1 };
                    assert!(meets, "{} and {}", bay.name, layout.panels[panel].id);
                }
            }
        }
    }
    for panel in &layout.panels {
        assert!(assembly.parts.iter().any(|part| part.cuboid.contains(&panel.cuboid)), "no part for {}", panel.id);
    }
    let slab: Length = assembly
        .parts
        .iter()
        .filter(|part| part.role == crate::design::Role::Worktop)
        .map(|part| part.cuboid.size(Axis::Y))
        .sum();
    let plinth = assembly.parts.iter().filter(|part| part.role == crate::design::Role::Plinth);
    let outer = layout.shells[0].outer;
    let stand = plinth.map(|part| part.cuboid.size(Axis::Y)).next().unwrap_or(outer.min.y - layout.envelope.min.y);
    assert_eq!(stand + outer.size(Axis::Y) + slab, layout.envelope.size(Axis::Y));
    assert_eq!(outer.range(Axis::X), layout.envelope.range(Axis::X));
    let front = assembly.parts.iter().filter(|part| part.role != crate::design::Role::Worktop);
    let front = front.map(|part| part.cuboid.max.z).max().unwrap_or_default();
    assert!(front <= layout.envelope.max.z, "{front:?} stands out of {:?}", layout.envelope);
}
