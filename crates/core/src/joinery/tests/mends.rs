//! Mends of holes that meet: what is offered was tried, and holds when it is tried again from the start.

use std::cell::RefCell;

use super::super::check::check_rest;
use super::super::mend::tried;
use super::super::walls::walls;
use super::*;

#[test]
fn every_mend_keeps_the_two_apart() {
    let offered = RefCell::new(std::collections::BTreeMap::<&str, usize>::new());
    let mut config = Config::with_cases(400);
    config.failure_persistence = None;
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let result = runner.run(&designs(), |design| {
        let Some(solved) = solve(&design).ok() else { return Ok(()) };
        let Ok(assembly) = build(&design, &solved.layout) else { return Ok(()) };
        let (thin, rest) = (walls(&assembly), check_rest(&assembly));
        if thin.iter().all(|it| it.between.is_none()) {
            return Ok(());
        }
        let mends = tried(&design, &solved.layout, &assembly, &thin, &rest);
        let findings = check(&assembly).len();
        for (wall, mends) in thin.iter().zip(&mends) {
            let Some(meeting) = &wall.between else { continue };
            let number = &assembly.parts[meeting.part].number;
            *offered
                .borrow_mut()
                .entry(if mends.as_ref().is_some_and(|it| it.is_empty()) { "none" } else { "some" })
                .or_default() += 1;
            for mend in mends.iter().flatten() {
                let kind = match &mend.edit {
                    HoleEdit::Joint(choice) if choice.by.is_none() => "pattern",
                    HoleEdit::Joint(_) => "dowels",
                    HoleEdit::Board(..) | HoleEdit::Thickness(..) => "board",
                };
                *offered.borrow_mut().entry(kind).or_default() += 1;
                let changed = mend.edit.applied(&design);
                let again = solve(&changed).expect("it was solved before");
                let built = build(&changed, &again.layout).expect("it was built before");
                let after = check(&built);
                let both = |what: &str| meeting.purposes.iter().all(|it| what.contains(&it.to_string()));
                let meets = |it: &&crate::finding::Finding| it.about.contains(number) && both(&it.what);
                assert_eq!(after.iter().find(meets).map(|it| &it.what), None, "{}", mend.words);
                assert!(after.len() < findings, "{}", mend.words);
            }
        }
        Ok(())
    });
    if let Err(error) = result {
        panic!("{error}");
    }
    let offered = offered.into_inner();
    let count = |kind| offered.get(kind).copied().unwrap_or_default();
    assert!(count("some") > 0 && count("pattern") + count("dowels") > 0, "{offered:?}");
}
