//! Invariant: whatever was measured, chains close exactly and no part that is cut changes.

use casewright_core::Length;
use casewright_core::as_built::{Difference, DifferenceKind, apply, freeze};
use casewright_core::assembly::build;
use casewright_core::slides::settle;
use casewright_core::solve::solve;
use casewright_tests::{chains, random_design};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

#[test]
fn random_measured_values_close_and_leave_cut_parts_alone() {
    random_design::with_room(measure);
}

fn measure() {
    let cases = random_design::cases(60);
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let off = -30i64..30;
    let measured = prop::collection::vec((any::<prop::sample::Index>(), off.clone(), off.clone()), 1..5);
    let counts = std::cell::Cell::new((0, 0, 0));
    runner
        .run(&(random_design::design(), measured, off), |(mut design, cut, thickness)| {
            design = settle(&design).design;
            let Ok(solved) = solve(&design) else { return Ok(()) };
            let Ok(assembly) = build(&design, &solved.layout) else { return Ok(()) };
            let tenths = |tenths: i64| Length::from_um(tenths * 100);
            for (index, length, width) in cut {
                let part = index.get(&assembly.parts);
                let size = (part.finished.length + tenths(length), part.finished.width + tenths(width));
                if size.0 > Length::from_mm(20) && size.1 > Length::from_mm(20) {
                    design.as_built.cut.insert(part.number.clone(), size);
                }
            }
            if let Some(material) = design.materials.get("main") {
                let measured = material.thickness + Length::from_um(thickness * 10);
                design.as_built.thickness.insert("main".to_owned(), measured);
            }
            let applied = apply(&design);
            // Thicker boards may make a tight design impossible; then nothing is built from it.
            let Ok(solved) = solve(&applied.design) else { return Ok(()) };
            let flaws = chains::flaws(&applied.design, &solved.layout);
            prop_assert!(flaws.is_empty(), "{}", flaws.join("\n"));
            let Ok(mut now) = build(&applied.design, &solved.layout) else { return Ok(()) };
            let before: Vec<_> = now.parts.clone();
            freeze(&applied.design, &mut now);
            for (part, before) in now.parts.iter().zip(&before) {
                match design.as_built.cut.get(&part.number) {
                    Some(&(length, width)) => {
                        prop_assert_eq!((part.finished.length, part.finished.width), (length, width));
                        let told = |which: &str, place: Length, has: Length| {
                            let tells = |it: &Difference| {
                                it.kind == DifferenceKind::DoesNotFit && it.of == part.number && it.which == which
                            };
                            place == has || applied.differences.iter().any(tells)
                        };
                        prop_assert!(told("length", before.finished.length, length));
                        prop_assert!(told("width", before.finished.width, width));
                    }
                    None => prop_assert_eq!(part, before),
                }
            }
            let (all, met, cut) = counts.get();
            let fits = !applied.differences.iter().any(|it| it.kind == DifferenceKind::DoesNotFit);
            counts.set((all + 1, met + usize::from(fits), cut + design.as_built.cut.len()));
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
    let (all, met, cut) = counts.get();
    eprintln!("{all} pieces with {cut} cut parts, {met} in which all of them fit");
    assert!(all > 5 && cut > all, "only {all} designs of {cases} came through, with {cut} cut parts");
}
