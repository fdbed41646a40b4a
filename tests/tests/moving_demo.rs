//! The demo's drawer against its radiator valve: found, said in one sentence, mended, and the mend tried.

use casewright_core::design::Design;
use casewright_core::finding::Severity;
use casewright_core::moving::{clearances, mends};
use casewright_core::pipeline::{Derived, derive};
use casewright_core::{assembly, solve};

const DEMO: &str = include_str!("../../demo/laundry-alcove.ron");

/// The demo with a drawer for the hamper, and the valve (from X 1690 on, keeping 15 mm) moved to X `valve`.
fn variant(valve: &str) -> Derived {
    let from = "by: TiltOut(hinge: Below, opens_deg: 35, lid: true, board: \"birch 15\")";
    let corner = "corner: (\"alcove + 150 - 130\", 130, 715)";
    assert_eq!([DEMO.matches(from).count(), DEMO.matches(corner).count()], [1, 1]);
    let text = DEMO
        .replace(from, "by: Drawer(slide: \"slide 450\", board: \"birch 15\", bottom: \"birch 6\")")
        .replace(corner, &format!("corner: ({valve}, 130, 715)"));
    derive(&Design::from_ron(&text).unwrap_or_else(|it| panic!("{it:?}"))).unwrap_or_else(|it| panic!("{it}"))
}

/// The right edge of the hamper's front.
fn edge(it: &Derived) -> f64 {
    it.assembly.part("FR-hamper-bay").expect("its front").cuboid.max.x.mm()
}

#[test]
fn a_drawer_that_hits_the_valve_by_4_mm_is_found_and_mended() {
    let free = variant("\"alcove + 150 - 130\"");
    let valve = edge(&free) - 4.0;
    let it = variant(&valve.to_string());
    let found: Vec<_> = it.findings.iter().filter(|it| it.check == "site.reach").collect();
    assert_eq!(found.len(), 1, "{found:?}");
    let found = found[0];
    assert_eq!(found.severity, Severity::Error);
    assert_eq!(
        found.what,
        "drawer hamper bay: drawer front of hamper bay hits radiator valve by 4 mm at its right after 65 mm of 450 mm"
    );
    assert_eq!(found.measured.as_deref(), Some("50 mm"), "the distance to keep is met first");
    let mend = found.mend.as_deref().expect("a mend");
    assert!(mend.contains("solved again, each frees the way"), "{mend}");
    // The mend, applied and derived anew, moves freely; without it, it does not.
    let all = clearances(&it.design, &it.assembly);
    let clearance = all.each.iter().find(|one| all.moving[one.moving].bay == "hamper bay").expect("its clearance");
    let offered = mends(&it.design, &all, "hamper bay", &clearance.meets[0]);
    assert!(!offered.is_empty());
    for mend in &offered {
        let design = mend.edit.applied(&it.design);
        let solved = solve::solve(&design).unwrap_or_else(|it| panic!("{it}"));
        let built = assembly::build(&design, &solved.layout).unwrap_or_else(|it| panic!("{it}"));
        let after = clearances(&design, &built);
        let valve = after.each.iter().flat_map(|it| &it.meets).find(|it| it.with == "radiator valve");
        assert_eq!(valve, None, "{}", mend.words);
    }
}

#[test]
fn the_demo_itself_moves_freely() {
    let it = derive(&Design::from_ron(DEMO).unwrap_or_else(|it| panic!("{it:?}"))).unwrap_or_else(|it| panic!("{it}"));
    let bad: Vec<_> = it
        .findings
        .iter()
        .filter(|it| (it.check == "site.reach" || it.check.starts_with("moving.")) && it.severity > Severity::Note)
        .map(|it| &it.what)
        .collect();
    assert_eq!(bad, Vec::<&String>::new());
}
