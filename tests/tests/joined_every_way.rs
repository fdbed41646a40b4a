//! A cabinet with every kind of joint, its back in rebates, a box joined in its own way and choices for single joints: what
//! is made of it, and what its sheets say.

use casewright_core::Length;
use casewright_core::assembly::{Hole, JoinedBy, Machining, Purpose};
use casewright_core::design::Design;
use casewright_core::geometry::Axis;
use casewright_core::joinery::hole_in_world;
use casewright_core::pipeline::{Derived, derive};
use casewright_drawing::kurbo::Shape;
use casewright_drawing::{Layer, Mark, Sheet};
use casewright_tests::program::root;
use casewright_tests::sheets::packed;

fn text() -> String {
    std::fs::read_to_string(root().join("tests/data/joined-every-way.ron")).expect("the design is there")
}

fn derived() -> Derived {
    derive(&Design::from_ron(&text()).expect("it can be read")).expect("it can be built")
}

#[test]
fn it_is_built_with_joints_of_every_kind() {
    let derived = derived();
    let kinds = |is: fn(&JoinedBy) -> bool| derived.assembly.joints.iter().filter(|it| is(&it.kind)).count();
    assert!(kinds(|it| matches!(it, JoinedBy::Dowels { with_screws: true, .. })) >= 4);
    assert!(kinds(|it| matches!(it, JoinedBy::Rebate { .. })) >= 12);
    assert!(kinds(|it| matches!(it, JoinedBy::Housing { .. })) >= 2);
    let bad: Vec<&str> = derived
        .findings
        .iter()
        .filter(|it| it.check.starts_with("joinery") || it.check.starts_with("fit") || it.check.starts_with("joint"))
        .map(|it| it.what.as_str())
        .collect();
    assert_eq!(bad, [""; 0]);
}

#[test]
fn it_is_written_back_as_it_was_read() {
    let design = Design::from_ron(&text()).expect("it can be read");
    let again = Design::from_ron(&design.to_ron().expect("it can be written")).expect("it can be read again");
    assert_eq!(again, design);
}

/// Circles on the outline layer of some sheets: middle and diameter in millimetres, on the page.
fn circles(sheets: &[&Sheet]) -> Vec<(f64, f64, f64)> {
    let items = sheets.iter().flat_map(|sheet| &sheet.content.items).filter(|it| it.layer == Layer::Outline);
    items
        .filter_map(|item| {
            let Mark::Stroke { path, .. } = &item.mark else { return None };
            let bounds = path.bounding_box();
            let round = (bounds.width() - bounds.height()).abs() < 0.01 && path.elements().len() > 4;
            let curved = path.elements().iter().any(|it| matches!(it, casewright_drawing::kurbo::PathEl::CurveTo(..)));
            (round && curved).then(|| (bounds.center().x, bounds.center().y, bounds.width()))
        })
        .collect()
}

#[test]
fn templates_for_pins_and_cups_are_full_size() {
    let derived = derived();
    let pack = packed(&derived).expect("it can be drawn");
    let of = |word: &str| -> Vec<&Sheet> {
        pack.sheets.iter().filter(|it| it.title_block.supplementary_title.starts_with(word)).collect()
    };
    // The row of one panel on a template: holes of 5 mm, as far apart as in the panel.
    let pins = circles(&of("Shelf pin template"));
    assert!(!pins.is_empty());
    let mut apart: Vec<f64> =
        pins.windows(2).filter(|it| (it[0].0 - it[1].0).abs() < 0.01).map(|it| it[1].1 - it[0].1).collect();
    apart.retain(|it| *it > 0.0);
    let holes = |is: fn(&Purpose) -> bool| -> Vec<Hole> {
        let all = derived.assembly.parts.iter().flat_map(|it| &it.machining);
        all.filter_map(|it| if let Machining::Hole(hole) = it { Some(hole.clone()) } else { None })
            .filter(|it| is(&it.purpose))
            .collect()
    };
    let of_pins = holes(|it| matches!(it, Purpose::ShelfPin { .. }));
    assert!(!of_pins.is_empty() && of_pins.iter().all(|it| it.diameter == Length::from_mm(5)));
    assert!(pins.iter().all(|it| (it.2 - 5.0).abs() < 0.02), "{pins:?}");
    // Common practice: 32 mm from hole to hole.
    assert!(!apart.is_empty() && apart.iter().all(|it| (it - 32.0).abs() < 1e-6), "{apart:?}");
    // A cup of 35 mm, 22.5 mm from the edge of the door, and its two sockets 45 mm apart, 9.5 mm beyond (published).
    let mut cups = circles(&of("Hinge cup template"));
    cups.sort_by(|a, b| b.2.total_cmp(&a.2));
    assert_eq!(cups.len(), 3, "{cups:?}");
    let [cup, one, other] = cups[..] else { unreachable!() };
    assert!((cup.2 - 35.0).abs() < 0.02 && (one.2 - 8.0).abs() < 0.02 && (other.2 - 8.0).abs() < 0.02);
    assert!(((one.1 - other.1).abs() - 45.0).abs() < 1e-6 && (one.0 - cup.0 - 9.5).abs() < 1e-6, "{cups:?}");
    // The notes name every panel and door that is drilled.
    let words: String = of("Shelf pin template")
        .into_iter()
        .chain(of("Hinge cup template"))
        .flat_map(|it| &it.content.items)
        .filter_map(|it| if let Mark::Text(text) = &it.mark { Some(text.content.clone()) } else { None })
        .collect::<Vec<_>>()
        .join("\n");
    for part in &derived.assembly.parts {
        let drilled = part.machining.iter().any(
            |it| matches!(it, Machining::Hole(hole) if matches!(hole.purpose, Purpose::ShelfPin { .. } | Purpose::Cup)),
        );
        assert!(!drilled || words.contains(&format!("{}, ", part.number)), "{} in {words}", part.number);
    }
    // The height that is said is that of the lowest hole of the row.
    let door = derived.assembly.part("FR-below").expect("a door");
    let lowest = door
        .machining
        .iter()
        .filter_map(|it| if let Machining::Hole(hole) = it { Some(hole_in_world(door, hole).entry.y) } else { None })
        .min()
        .expect("it has hinges");
    // In the note, a sentence, with the decimal mark of the language.
    let said = format!("first hole {} from the lower edge", (lowest - door.cuboid.range(Axis::Y).0).mm());
    assert!(said.contains('.'), "{said}");
    assert!(words.contains(&said), "{said} in {words}");
}
