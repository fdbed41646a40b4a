//! What is proposed for the demos, and how it is chosen.

use std::collections::BTreeSet;
use std::path::Path;

use casewright_core::design::{Design, Fitting, Hinge, Holding, Inside, Opens};
use casewright_core::expr::Dim;
use casewright_core::finding::Severity;
use casewright_core::geometry::Axis;
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
    // The bays of both lie on the two sides of one panel.
    let neighbours = |outcome: &Outcome, one: &str, other: &str| {
        outcome.proposals.iter().all(|it| {
            let layout = &it.derived.layout;
            let bay = |name: &str| {
                let thing = layout.things.iter().find(|it| it.name == name).unwrap();
                &layout.bays[thing.bay].clear
            };
            let gap = |axis| {
                let ((low, high), (from, to)) = (bay(one).range(axis), bay(other).range(axis));
                (from - high).max(low - to)
            };
            let (across, up) = (gap(Axis::X), gap(Axis::Y));
            across.max(up) <= super::mm(18) && across.min(up) < super::mm(0)
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

/// Where a heavy thing may stand low or high, nothing is proposed in which it is lifted above the shoulder.
#[test]
fn heavy_things_are_not_lifted_above_the_shoulder() {
    let things = "\"tools\": (kind: Other, size: (380, 300, 300), mass_kg: 2, load_kg: 28),
                  \"yarn\": (kind: Other, size: (380, 300, 300), load_kg: 1)";
    let outcome = proposed(&design(
        "width: Fixed(450), height: Fixed(1900), depth: Fixed(400)",
        things,
        "Up(bays: [(name: \"a\", inside: Open(shelves: 2)), (name: \"b\", inside: Open(shelves: 1))])",
        "",
    ));
    assert!(!outcome.proposals.is_empty());
    for proposal in &outcome.proposals {
        let lifted: Vec<&str> =
            proposal.derived.findings.iter().filter(|it| it.check == "ergo.lift").map(|it| it.what.as_str()).collect();
        assert_eq!(lifted, [""; 0], "{}", proposal.line());
    }
}

/// A door that was chosen here is hung where it opens: a post stands before it, a little to the left.
#[test]
fn doors_are_hung_on_the_side_that_lets_them_open() {
    let mut design = design(
        "width: Fixed(500), height: Fixed(500), depth: Fixed(400)",
        "\"box\": (kind: Other, size: (420, 380, 300), load_kg: 2)",
        "Open()",
        ", site: (obstacles: [(name: \"post\", kind: Other, corner: (170, 0, 825), size: (50, 600, 60))])",
    );
    let hinge = Hinge { cup: Dim::new("35"), cup_depth: Dim::new("13"), opens_deg: 110.0 };
    design.fittings.insert("cup".to_owned(), Fitting::Hinge(hinge));
    let mut request = Request::of(&design, None).unwrap();
    let is_door = |it: &crate::Choice| it.bay.front.as_ref().is_some_and(|it| it.opens == Opens::HingedLeft);
    request.units[0].choices.retain(is_door);
    let outcome = propose(&request, Effort::NORMAL, &Unwatched).unwrap();
    assert!(!outcome.proposals.is_empty());
    for proposal in &outcome.proposals {
        let bay = proposal.design.carcass.bay.named("box bay").unwrap();
        assert_eq!(bay.front.as_ref().unwrap().opens, Opens::HingedRight);
        assert_eq!(proposal.errors, 0);
    }
}

/// Drawers that hold nothing named, and bays with shelves, are wide enough to be of use.
#[test]
fn no_bay_is_too_narrow_to_be_of_use() {
    let outcome = proposed(&design(
        "width: Fixed(800), height: Fixed(700), depth: Fixed(500)",
        "\"crate\": (kind: Crate, size: (300, 200, 400), load_kg: 10)",
        "Up(bays: [
            (name: \"shelves\", inside: Open(shelves: 1)),
            (name: \"drawer\", height: Fixed(140), inside: Holds(by: Drawer(slide: \"slide 450\")),
                front: (opens: WithHolding)),
        ])",
        "",
    ));
    assert!(!outcome.proposals.is_empty());
    for proposal in &outcome.proposals {
        for name in ["shelves", "drawer"] {
            let width = proposal.derived.layout.bay(name).unwrap().clear.size(Axis::X);
            assert!(width >= super::mm(250), "{name}: {width:?} in {}", proposal.line());
        }
    }
}

/// The slides of the pull-outs of a proposal: as the file names them, and as the program settles them, kg and mm.
fn slides_of(outcome: &Outcome) -> (Vec<Option<String>>, Vec<(f64, f64)>) {
    let first = outcome.proposals.first().unwrap();
    let mut named = Vec::new();
    let mut open = vec![&first.design.carcass.bay];
    while let Some(bay) = open.pop() {
        open.extend(bay.children());
        if let Inside::Holds { by: Holding::PullOut { slide, .. }, .. } = &bay.inside {
            named.push(slide.clone());
        }
    }
    let settled = first.derived.design.fittings.iter().filter_map(|(name, it)| match it {
        Fitting::Slide(slide) if first.derived.assembly.fittings.iter().any(|it| it.name == *name) => {
            Some((slide.load_kg, slide.length.mm()))
        }
        _ => None,
    });
    let settled = settled.collect();
    (named, settled)
}

#[test]
fn slides_are_left_to_depth_and_load_where_the_named_ones_do_not_fit() {
    let crate_of = |load: i64| {
        format!("\"crate\": (kind: Crate, size: (300, 200, 280), mass_kg: 2, load_kg: {load}, may_turn: false)")
    };
    let in_depth = |depth: i64, load: i64| {
        let envelope = format!("width: Fixed(500), height: Fixed(300), depth: Fixed({depth})");
        slides_of(&proposed(&design(&envelope, &crate_of(load), "Open()", "")))
    };
    // The design names a slide of 450 mm: it goes in.
    assert_eq!(in_depth(560, 10), (vec![Some("slide 450".to_owned())], vec![(35.0, 450.0)]));
    // 400 deep it does not: the longest usual one that does, in the least class that carries (lengths and classes of the
    // library, common practice).
    let (named, settled) = in_depth(400, 10);
    assert_eq!(named, [None]);
    assert_eq!(settled.len(), 1);
    assert_eq!(settled[0].1, 350.0);
    // Under a heavier load the class rises, and the length is what the depth takes still.
    let (_, heavy) = in_depth(400, 35);
    assert_eq!(heavy[0].1, 350.0);
    assert!(heavy[0].0 > settled[0].0, "{heavy:?} {settled:?}");
}
