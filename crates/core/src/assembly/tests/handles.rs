//! Handles: where the rule puts them, and that screws reach them.

use super::*;
use crate::design::{Fitting, Handle, Holding, Opens, TiltHinge, Want};
use crate::geometry::Axis;
use crate::sample::{design_of, drawer, front, holds, open, pull_out, thing, up};

/// The design with a bar of 128 mm, or a knob, on the front of its only bay.
fn with_handle(bay: crate::design::Bay<Length>, knob: bool) -> Resolved {
    let mut design = design_of(bay);
    let holes_apart = (!knob).then(|| mm(128));
    design.fittings.insert("grip".to_owned(), Fitting::Handle(Handle { holes_apart, stands_out: mm(35) }));
    design
}

fn closed(opens: Opens) -> crate::design::Bay<Length> {
    let mut bay = open("b", 0);
    bay.front = Some(crate::design::Front { handle: Some("grip".to_owned()), ..front(opens) });
    bay
}

/// The holes as distances from the left and lower edge of the front.
fn holes(design: &Resolved) -> Vec<(f64, f64)> {
    let (_, assembly) = built(design);
    let grips = assembly.fittings.iter().filter(|it| it.name == "grip");
    grips
        .flat_map(|it| {
            let (_, front) = handled_front(&assembly.parts, it).unwrap();
            let low = front.cuboid.min;
            let handle = handle_of(design, "grip").unwrap();
            handle_holes(handle, &it.cuboid).into_iter().map(move |at| ((at.x - low.x).mm(), (at.y - low.y).mm()))
        })
        .collect()
}

#[test]
fn doors_have_theirs_near_the_edge_that_swings_at_the_handy_end() {
    // The front is 894 x 794, its lower edge 3 mm above the floor: all of it lies under 1000 mm, so the upper hole is 60 mm
    // from the upper end (common practice: 50 to 75), 40 mm from the free edge (common practice: 25 to 50).
    assert_eq!(holes(&with_handle(closed(Opens::HingedLeft), false)), [(854.0, 606.0), (854.0, 734.0)]);
    assert_eq!(holes(&with_handle(closed(Opens::HingedRight), false)), [(40.0, 606.0), (40.0, 734.0)]);
    assert_eq!(holes(&with_handle(closed(Opens::HingedRight), true)), [(40.0, 734.0)]);
    // A tall door has the middle of its bar 1000 mm above the floor; the front begins 3 mm above it.
    let mut tall = with_handle(closed(Opens::HingedLeft), false);
    tall.carcass.envelope.height = crate::design::Extent::Fixed(mm(2000));
    assert_eq!(holes(&tall), [(854.0, 933.0), (854.0, 1061.0)]);
    // What hangs high has it at the lower end.
    let mut high = closed(Opens::HingedLeft);
    high.height = Want::Fixed(mm(500));
    let mut high = with_handle(up("whole", vec![open("below", 0), high]), false);
    high.carcass.envelope.height = crate::design::Extent::Fixed(mm(2000));
    assert_eq!(holes(&high), [(854.0, 60.0), (854.0, 188.0)]);
    // Both leaves of a pair, each at the middle of the piece: the leaves are 445.5 wide.
    assert_eq!(
        holes(&with_handle(closed(Opens::Pair), false)),
        [(405.5, 606.0), (405.5, 734.0), (40.0, 606.0), (40.0, 734.0)]
    );
}

#[test]
fn flaps_and_tilt_outs_have_theirs_across_the_middle_near_the_edge_that_swings() {
    assert_eq!(holes(&with_handle(closed(Opens::HingedBelow), false)), [(383.0, 754.0), (511.0, 754.0)]);
    assert_eq!(holes(&with_handle(closed(Opens::HingedAbove), false)), [(383.0, 40.0), (511.0, 40.0)]);
    let by = Holding::TiltOut { hinge: TiltHinge::Below, opens_deg: 35.0, lid: false, board: None, stay: None };
    let mut bay = holds("b", &[], by);
    bay.front = closed(Opens::WithHolding).front;
    assert_eq!(holes(&with_handle(bay, false)), [(383.0, 754.0), (511.0, 754.0)]);
}

#[test]
fn drawers_have_theirs_in_the_middle_and_screwed_through_the_box() {
    let mut bay = holds("b", &[], drawer("side 450"));
    bay.front = closed(Opens::WithHolding).front;
    let design = with_handle(bay, false);
    assert_eq!(holes(&design), [(383.0, 397.0), (511.0, 397.0)]);
    let (_, assembly) = built(&design);
    for number in ["FR-b", "DF-b"] {
        let part = part(&assembly, number);
        let through = part.machining.iter().filter(
            |it| matches!(it, Machining::Hole(hole) if hole.purpose == Purpose::HandleScrew && hole.depth.is_none()),
        );
        assert_eq!(through.count(), 2, "{number}");
    }
    assert_eq!(crate::joinery::check(&assembly), Vec::new());
    // It moves with the drawer.
    let grip = assembly.fittings.iter().position(|it| it.name == "grip").unwrap();
    assert_eq!(assembly.movers[0].fittings, [grip]);
}

#[test]
fn the_edge_of_a_platform_does_not_keep_the_screws_out() {
    // The front is 162 high and the platform's edge lies just behind its middle: the bar moves up until 8 mm round its
    // screws are free.
    let mut bay = holds("b", &["tin"], pull_out("side 450", None)).behind(Opens::WithHolding);
    bay.height = Want::Fixed(mm(160));
    bay.front.as_mut().unwrap().handle = Some("grip".to_owned());
    let mut design = with_handle(up("whole", vec![bay, open("rest", 0)]), false);
    design.things.insert("tin".to_owned(), thing(200, 90, 200));
    let holes = holes(&design);
    let (_, assembly) = built(&design);
    let (front, platform) = (part(&assembly, "FR-b").cuboid, part(&assembly, "PF-b").cuboid);
    let (low, high) = platform.range(Axis::Y);
    let at = front.min.y.mm() + holes[0].1;
    assert!(at - 8.0 >= high.mm() || at + 8.0 <= low.mm(), "{at} and {low:?} to {high:?}");
}

#[test]
fn fronts_too_small_for_their_handle_say_so() {
    let mut bay = closed(Opens::HingedLeft);
    bay.height = Want::Fixed(mm(120));
    let design = with_handle(up("whole", vec![bay, open("rest", 0)]), false);
    let said = problems(&design);
    assert!(said.contains("no room for the handle on its front"), "{said}");
}
