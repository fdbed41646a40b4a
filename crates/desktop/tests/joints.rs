//! How parts are joined, chosen in the window: for the carcass, and for single joints of a part.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use casewright_core::assembly::JoinedBy;
use casewright_core::design::{JointKind, Role};
use casewright_core::length::Length;
use casewright_core::pipeline::derive;
use support::Desk;

/// How two parts are joined.
fn joined(desk: &Desk, one: &str, other: &str) -> JoinedBy {
    let assembly = derive(desk.app().design()).unwrap().assembly;
    let is = |index: usize, number: &str| assembly.parts[index].number == number;
    let joint = assembly.joints.iter().find(|joint| {
        (is(joint.face_part, one) && is(joint.edge_part, other))
            || (is(joint.face_part, other) && is(joint.edge_part, one))
    });
    joint.unwrap().kind.clone()
}

#[test]
fn a_single_joint_is_chosen_moved_and_given_back() {
    let mut desk = Desk::tall();
    let before = desk.app().design().clone();
    assert!(matches!(joined(&desk, "SL", "BO"), JoinedBy::Dowels { with_screws: false, .. }));
    desk.select_part("SL");
    desk.choose("To BO", "screws");
    assert_eq!(joined(&desk, "SL", "BO"), JoinedBy::Screws);
    // The choice names what the parts do, so that it holds at the other side too; the rails are as they were.
    assert_eq!(joined(&desk, "SR", "BO"), JoinedBy::Screws);
    let choice = desk.app().design().carcass.joints[0].clone();
    assert_eq!((choice.of, choice.to, choice.by), (Role::Side, Some(Role::Bottom), Some(JointKind::Screwed)));

    desk.write("Shifted, to BO", "12");
    let text = desk.app().design().carcass.joints[0].shift.as_ref().unwrap().text().to_owned();
    assert_eq!(text, "12");

    // Another kind keeps the shift; a dowel comes with its size.
    desk.choose("To BO", "dowels");
    desk.choose("Dowel", "6 × 30");
    let JoinedBy::Dowels { diameter, length, .. } = joined(&desk, "SL", "BO") else { panic!("dowels were asked for") };
    assert_eq!((diameter, length), (Length::from_mm(6), Length::from_mm(30)));
    assert_eq!(desk.app().design().carcass.joints.len(), 1);
    assert!(desk.app().design().carcass.joints[0].shift.is_some());

    for _ in 0..4 {
        desk.click("Undo");
    }
    assert_eq!(*desk.app().design(), before, "one step each");
}
