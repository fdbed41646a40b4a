//! The checks in the window: each finding with its diagram, and what would be if.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

mod support;

use egui_kittest::kittest::Queryable;
use support::{Desk, settle};

#[test]
fn sliders_ask_and_the_answer_changes() {
    let mut desk = Desk::open();
    let before = desk.app().design().clone();
    desk.click("Checks");
    assert!(desk.sees("It stands: the centre of mass lies") && !desk.sees("It tips"));
    // Every finding that the pipeline has is in the list, the worst first.
    let findings = desk.app().latest().unwrap().findings.clone();
    assert!(findings.len() > 3);
    for finding in &findings {
        assert!(desk.sees(&finding.what), "{}", finding.what);
    }
    let pictures = desk.app().latest().unwrap().diagrams.iter().flatten().count();
    assert_eq!(desk.harness.query_all_by_label_contains("Diagram: ").count(), pictures);

    // Pressed hard enough, it tips; as designed, it stands again. The design itself stays what it is.
    let slider = desk.harness.get_by_role_and_label(egui::Role::Slider, "A hand presses on the front");
    slider.focus();
    for _ in 0..400 {
        desk.harness.key_press(egui::Key::ArrowRight);
    }
    settle(&mut desk.harness);
    let mover = desk.app().good().unwrap().assembly.as_ref().unwrap().movers[0].id.clone();
    desk.click(&format!("{mover} open"));
    assert!(desk.sees("It tips forwards") || desk.sees("Pressing there with"));
    desk.click("As designed");
    assert!(desk.sees("It stands: the centre of mass lies"));
    assert_eq!(*desk.app().design(), before);

    // A finding leads to its place.
    let leading = findings.iter().find(|it| it.what.contains("stands where")).unwrap().what.clone();
    desk.harness.get_all_by_label_contains(&leading).last().unwrap().click();
    settle(&mut desk.harness);
    assert!(desk.sees("finished") || desk.sees("Part"), "the part is explained");
}
