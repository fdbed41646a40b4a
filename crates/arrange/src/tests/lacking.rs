//! Where not all fits.

use super::design;
use crate::{ArrangeError, Effort, Request, Unwatched, propose};

const THINGS: &str = "\"crate\": (kind: Crate, size: (400, 270, 400)), \"press\": (kind: Other, size: (500, 400, 350)),
                      \"tub\": (kind: Container, size: (300, 300, 300))";

fn sentences(envelope: &str, things: &str, more: &str) -> String {
    let design = design(envelope, things, "Open()", more);
    let request = Request::of(&design, None).unwrap();
    match propose(&request, Effort::NORMAL, &Unwatched) {
        Ok(outcome) => match outcome.lack {
            Some(lack) => lack.sentences(&request).join("\n"),
            None => {
                let left_out = outcome.proposals.first().map(|it| it.left_out.join(", ")).unwrap_or_default();
                format!("{} proposals without [{left_out}]", outcome.proposals.len())
            }
        },
        Err(ArrangeError::TooLarge(what)) => what,
        Err(error) => panic!("{error}"),
    }
}

#[test]
fn the_smallest_things_to_leave_out_and_the_sizes_to_give_are_named() {
    let check = |envelope: &str, more: &str, expected: &str| assert_eq!(sentences(envelope, THINGS, more), expected);
    check(
        "width: Fixed(700), height: Fixed(700), depth: Fixed(500)",
        "",
        // By hand: inside are 664 x 664. Side by side the press and the stack of the others take 500 + 18 + 400, all over
        // one another 400 + 18 + 270 + 18 + 300; only the crate and the tub go over one another, 270 + 18 + 300.
        "The things do not all fit; they do without one of these:
without press bay
or 254 mm wider
or 342 mm higher",
    );
    // What is only wished stays out without a word.
    check(
        "width: Fixed(700), height: Fixed(724), depth: Fixed(500)",
        ", arrange: (wished: [\"tub\"])",
        "1 proposals without [tub bay]",
    );
    check(
        "width: Fixed(450), height: Fixed(700), depth: Fixed(500)",
        "",
        "press bay does not fit even alone: it needs 500 mm x 400 mm x 350 mm (width, height, depth) and there is \
         414 mm x 664 mm x 482 mm; house it in another way or make the carcass larger",
    );
}

#[test]
fn every_way_out_is_solved() {
    let design = design("width: Fixed(700), height: Fixed(700), depth: Fixed(500)", THINGS, "Open()", "");
    let request = Request::of(&design, None).unwrap();
    let lack = propose(&request, Effort::NORMAL, &Unwatched).unwrap().lack.unwrap();
    assert!(!lack.shortages.is_empty());
    for shortage in &lack.shortages {
        let derived = casewright_core::pipeline::derive(&shortage.design).unwrap();
        assert_eq!(derived.layout.things.len(), 3, "everything is in it");
        assert!(derived.layout.things.iter().all(|it| !it.with_air.volume_m3().is_nan()));
    }
}
