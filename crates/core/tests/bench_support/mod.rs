//! The bench that the tests of findings spoil, and how a finding reads.

#![allow(clippy::panic, dead_code, reason = "a failed test may panic; each test file uses what it needs")]

use casewright_core::checks::{self, CheckOptions};
use casewright_core::design::Design;
use casewright_core::finding::{Finding, Severity};
use casewright_core::pipeline::{Derived, derive};

/// A repair bench: a drawer over a shelf at the left, a kiln on the bottom in the middle, tins behind a door.
pub(crate) const BENCH: &str = r#"(
    schema: 1,
    title: "Repair bench",
    unit: Millimetre(step: 0.5),
    site: (niche: (width: 3000, height: 2400, left_wall: true, right_wall: true), obstacles: []),
    things: {
        "kiln": (kind: Appliance, size: (380, 400, 400), mass_kg: 20, load_kg: 0,
                 air: (sides: 30, top: 60, rear: 30)),
        "tins": (kind: Crate, size: (300, 250, 300), mass_kg: 1, load_kg: 5),
    },
    materials: {
        "board": (thickness: 18, kind: Particleboard),
        "door board": (thickness: 18, kind: Particleboard),
        "shelf board": (thickness: 18, kind: Particleboard),
        "drawer board": (thickness: 15, kind: Plywood),
        "drawer bottom": (thickness: 8, kind: Plywood),
        "back board": (thickness: 6, kind: Plywood),
        "top board": (thickness: 38, kind: Particleboard),
    },
    fittings: {
        "slide": Slide(mount: Side, length: 450, side_space: 12.7, height: 45, load_kg: 30),
        "hinge": Hinge(cup: 35, cup_depth: 12, opens_deg: 110),
    },
    carcass: (
        envelope: (width: Fixed(1500), height: Fixed(900), depth: Fixed(580), from_left: 100),
        construction: (
            board: "board",
            boards: { Shelf: "shelf board", Back: "back board", Front: "door board" },
            back: Applied, joint: Dowelled("8x40"), shelf_set_back: 25,
        ),
        stand: Floor,
        worktop: (board: "top board"),
        bay: (name: "all", inside: Across(bays: [
            (name: "left", inside: Up(bays: [
                (name: "cloths", inside: Open(shelves: 1)),
                (name: "drawer", height: Fixed(150), inside: Holds(by: Drawer(slide: "slide", board: "drawer board", bottom: "drawer bottom")), front: (opens: WithHolding)),
            ])),
            (name: "hot", width: Fixed(460), inside: Holds(things: ["kiln"], by: Standing)),
            (name: "tins", width: Fixed(420), inside: Holds(things: ["tins"], by: Standing), front: (opens: HingedRight)),
        ])),
    ),
)"#;

pub(crate) fn bench(edits: &[(&str, &str)]) -> Derived {
    let mut text = BENCH.to_owned();
    for (from, to) in edits {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    let design = Design::from_ron(&text).unwrap_or_else(|faults| panic!("{faults:?}"));
    derive(&design).unwrap_or_else(|error| panic!("{error}"))
}

pub(crate) fn all(it: &Derived, options: &CheckOptions) -> Vec<Finding> {
    checks::all(&it.design, &it.layout, &it.assembly, options)
}

pub(crate) fn text(it: &Finding) -> String {
    let severity = match it.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    };
    let get = |it: &Option<String>| it.clone().unwrap_or_else(|| "-".to_owned());
    format!(
        "{severity}: {}\nmeasured {}; limit {}\nsource {}\nmend {}",
        it.what,
        get(&it.measured),
        get(&it.limit),
        get(&it.source),
        get(&it.mend)
    )
}

/// Asserts that the first finding of this check reads like this.
#[track_caller]
pub(crate) fn check_with(it: &Derived, options: &CheckOptions, id: &str, expected: &str) {
    let findings = all(it, options);
    let found = findings.iter().find(|it| it.check == id);
    let found = found
        .map_or_else(|| format!("no {id} among {:?}", findings.iter().map(|it| it.check).collect::<Vec<_>>()), text);
    assert_eq!(found, expected);
}

#[track_caller]
pub(crate) fn check(edits: &[(&str, &str)], id: &str, expected: &str) {
    check_with(&bench(edits), &CheckOptions::default(), id, expected);
}
