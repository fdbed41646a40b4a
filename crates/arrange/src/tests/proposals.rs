//! What is proposed for the demos, and how it is chosen.

use std::collections::BTreeSet;
use std::path::Path;

use casewright_core::design::{Design, Inside};
use casewright_core::finding::Severity;
use casewright_core::pipeline::derive;

use super::design;
use crate::criteria::{Criterion, judge};
use crate::{Effort, Outcome, Request, RequestError, Unwatched, propose};

fn demo(name: &str) -> Design {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo").join(format!("{name}.ron"));
    Design::from_ron(&std::fs::read_to_string(file).unwrap()).unwrap()
}

fn proposed(design: &Design) -> Outcome {
    propose(&Request::of(design, None).unwrap(), Effort::NORMAL, &Unwatched).unwrap()
}

/// Each demo that holds things: no proposal has more errors than the design made by hand, and one of them is at least as
/// good by the same score on the same scale.
#[test]
fn proposals_for_the_demos_are_as_good_as_what_was_made_by_hand() {
    for name in ["laundry-alcove", "container-trolley", "alcove-bookcase"] {
        let design = demo(name);
        let by_hand = derive(&design).unwrap();
        let outcome = proposed(&design);
        let own = judge(&by_hand);
        let errors = |it: &casewright_core::pipeline::Derived| {
            it.findings.iter().filter(|it| it.severity == Severity::Error).count()
        };
        // The scale is that of all that are compared here.
        let all: Vec<_> = outcome.proposals.iter().map(|it| it.values).chain([own]).collect();
        let score = |values: &crate::criteria::Values| -> f64 {
            Criterion::ALL
                .iter()
                .enumerate()
                .map(|(i, it)| {
                    let (low, high) =
                        all.iter().fold((f64::MAX, f64::MIN), |range, it| (range.0.min(it[i]), range.1.max(it[i])));
                    it.usual_weight() * if high > low { (values[i] - low) / (high - low) } else { 0.0 }
                })
                .sum()
        };
        let best = outcome.proposals.iter().map(|it| score(&it.values)).fold(f64::MAX, f64::min);
        assert!(best <= score(&own) + 1e-9, "{name}: {best} against {}", score(&own));
        for proposal in &outcome.proposals {
            assert!(proposal.errors <= errors(&by_hand), "{name}: {}", proposal.line());
        }
    }
}

#[test]
fn every_proposal_is_a_design_that_holds_all_things() {
    for name in ["laundry-alcove", "container-trolley", "alcove-bookcase"] {
        let design = demo(name);
        let outcome = proposed(&design);
        assert!(!outcome.proposals.is_empty(), "{name}");
        let mut kinds = BTreeSet::new();
        for proposal in &outcome.proposals {
            // As written to a file and read again.
            let read = Design::from_ron(&proposal.design.to_ron().unwrap()).unwrap();
            let derived = derive(&read).unwrap();
            let things: BTreeSet<&str> = derived.layout.things.iter().map(|it| it.name.as_str()).collect();
            assert_eq!(things, design.things.keys().map(String::as_str).collect(), "{name}");
            assert!(!proposal.line().is_empty());
            kinds.insert(format!("{} {:?}", proposal.division.shape(), proposal.values));
        }
        assert_eq!(kinds.len(), outcome.proposals.len(), "{name}: they differ in kind");
        let again = proposed(&design);
        let lines = |it: &Outcome| it.proposals.iter().map(|it| (it.line(), it.design.clone())).collect::<Vec<_>>();
        assert_eq!(lines(&outcome), lines(&again), "{name}: the same again");
    }
}

#[test]
fn what_is_asked_is_kept() {
    let things =
        "\"a\": (kind: Crate, size: (300, 200, 400), load_kg: 20), \"b\": (kind: Crate, size: (300, 200, 400)),
                  \"c\": (kind: Other, size: (300, 200, 300)), \"d\": (kind: Other, size: (300, 200, 300))";
    let envelope = "width: Fixed(1100), height: Fixed(800), depth: Fixed(480)";
    let of = |more: &str| proposed(&design(envelope, things, "Open()", more));
    let neighbours = |outcome: &Outcome, one: &str, other: &str| {
        outcome.proposals.iter().all(|it| {
            fn parent<'b>(bay: &'b casewright_core::design::Bay, thing: &str) -> Option<&'b str> {
                let holds = |it: &casewright_core::design::Bay| {
                    matches!(&it.inside, Inside::Holds { things, .. } if things.iter().any(|it| it == thing))
                };
                if bay.children().iter().any(holds) {
                    return Some(&bay.name);
                }
                bay.children().iter().find_map(|it| parent(it, thing))
            }
            let root = &it.design.carcass.bay;
            parent(root, one).is_some() && parent(root, one) == parent(root, other)
        })
    };
    let together = of(", arrange: (together: [[\"a\", \"c\"]])");
    assert!(!together.proposals.is_empty() && neighbours(&together, "a", "c"));
    assert!(!neighbours(&of(""), "a", "c"), "it does not happen by itself");
    // With one criterion alone, the best by it comes first.
    for criterion in ["low", "parts", "open"] {
        let weights: Vec<String> = casewright_core::design::Arrange::CRITERIA
            .iter()
            .map(|it| format!("\"{it}\": {}", u8::from(*it == criterion)))
            .collect();
        let outcome = of(&format!(", arrange: (weights: {{{}}})", weights.join(", ")));
        let at = Criterion::ALL.iter().position(|it| it.key() == criterion).unwrap();
        let values: Vec<f64> = outcome.proposals.iter().map(|it| it.values[at]).collect();
        assert!(values.is_sorted(), "{criterion}: {values:?}");
    }
}

#[test]
fn one_bay_is_arranged_and_the_rest_stays() {
    let design = demo("laundry-alcove");
    let request = Request::of(&design, Some("right")).unwrap();
    let outcome = propose(&request, Effort::NORMAL, &Unwatched).unwrap();
    assert!(!outcome.proposals.is_empty());
    for proposal in &outcome.proposals {
        let bay = |design: &Design, name: &str| design.carcass.bay.named(name).cloned();
        assert_eq!(bay(&proposal.design, "middle"), bay(&design, "middle"));
        assert!(bay(&proposal.design, "hamper bay").is_some());
    }
    assert_eq!(Request::of(&design, Some("nowhere")).unwrap_err(), RequestError::NoBay("nowhere".to_owned()));
}
