//! A worktop with a shape through the whole chain: what is sawn, what it weighs, what is banded and bought, what is refused.

use casewright_core::Length;
use casewright_core::assembly::{Part, PartEdge};
use casewright_core::design::{Design, Role};
use casewright_core::geometry::Axis;
use casewright_core::pipeline::{Derived, derive};
use casewright_core::stock::banding_work;
use casewright_core::worktop::{Side, outline};
use casewright_tests::program::root;
use kurbo::{Point, Shape};

fn text() -> String {
    std::fs::read_to_string(root().join("tests/data/crooked-niche.ron")).unwrap()
}

fn derived(text: &str) -> Derived {
    derive(&Design::from_ron(text).unwrap()).unwrap()
}

fn tops(derived: &Derived) -> Vec<&Part> {
    derived.assembly.parts.iter().filter(|it| it.role == Role::Worktop).collect()
}

#[test]
fn each_piece_is_sawn_from_a_rectangle_that_holds_its_curves() {
    let derived = derived(&text());
    let whole = outline(&derived.design, &derived.assembly.envelope).unwrap().unwrap();
    let tops = tops(&derived);
    assert_eq!(tops.iter().map(|it| it.number.as_str()).collect::<Vec<_>>(), ["WT1", "WT2"]);
    // The belly of the front stands 90 further out than the slab, the wall 6 back: the blanks are that much deeper than
    // 590, which is what a plain slab would have.
    for top in &tops {
        let deep = top.finished.width.mm();
        assert!((590.0 + 90.0 + 5.0..590.0 + 90.0 + 7.0).contains(&deep), "{deep}");
    }
    let union = tops[0].cuboid.union(&tops[1].cuboid);
    let (low, high) = (union.range(Axis::X), union.range(Axis::Z));
    let bounds = whole.edge.bounding_box();
    assert!(low.0.mm() <= bounds.x0 + 1e-6 && low.1.mm() >= bounds.x1 - 1e-6);
    assert!(high.0.mm() <= bounds.y0 + 1e-6 && high.1.mm() >= bounds.y1 - 1e-6);
    assert_eq!(tops[0].cuboid.range(Axis::X).1, tops[1].cuboid.range(Axis::X).0, "butted at the joint");

    // Every point of a piece's edge lies on the whole outline or on the joint.
    let joint = tops[0].cuboid.range(Axis::X).1.mm();
    for top in &tops {
        for &[u, v] in &top.outline.as_ref().unwrap().edge {
            let frame = top.world_from_part;
            let x = frame.origin.x.mm() + u * f64::from(frame.length.sign() as i32);
            let z = frame.origin.z.mm() + v * f64::from(frame.width.sign() as i32);
            let near = whole.edge.segments().map(|it| {
                use kurbo::ParamCurveNearest;
                it.nearest(Point::new(x, z), 1e-6).distance_sq.sqrt()
            });
            assert!((x - joint).abs() < 1e-6 || near.fold(f64::MAX, f64::min) < 0.03, "{x} {z}");
        }
    }

    // Mass: area times thickness times the usual density of particleboard.
    let density = derived.design.materials["slab"].kind.usual_density_kg_m3();
    let mass: f64 = tops.iter().map(|it| it.mass_kg).sum();
    assert!((mass - whole.area() * 1e-6 * 0.038 * density).abs() < 0.01, "{mass}");

    // Banding goes along the curve and not across the joint.
    let lots = banding_work(&derived.assembly, None);
    let steps = &lots[0].steps;
    let sum = |edges: &[PartEdge]| -> f64 {
        steps.iter().filter(|it| edges.contains(&it.edge)).map(|it| it.length.mm()).sum()
    };
    assert!((sum(&[PartEdge::Near]) - whole.length(Side::Front)).abs() < 1.0);
    let ends = whole.length(Side::Left) + whole.length(Side::Right);
    assert!((sum(&[PartEdge::Start, PartEdge::End]) - ends).abs() < 1.0);
    assert_eq!(steps.len(), 4, "two fronts and two ends");
    assert!(whole.length(Side::Front) > 2380.0, "longer than the straight edge");

    // The pieces are drawn together.
    let connectors = derived.assembly.fittings.iter().filter(|it| it.name == "worktop connector");
    assert_eq!(connectors.map(|it| it.count).sum::<u32>(), 2);
}

#[test]
fn a_plain_slab_is_as_before() {
    let text = text();
    let start = text.find("            shape: (").unwrap();
    let end = text[start..].find("\n            ),").unwrap() + start + "\n            ),".len();
    let plain = derived(&format!("{}{}", &text[..start], &text[end..]));
    let tops = tops(&plain);
    assert_eq!(tops.len(), 1);
    assert_eq!((tops[0].finished.length, tops[0].finished.width), (Length::from_mm(2380), Length::from_mm(590)));
    assert!(tops[0].outline.is_none());
}

#[test]
fn what_cannot_be_cut_is_said_at_its_field() {
    let said = |from: &str, to: &str| {
        let text = text();
        assert_eq!(text.matches(from).count(), 1, "{from}");
        derive(&Design::from_ron(&text.replace(from, to)).unwrap()).unwrap_err().to_string()
    };
    let at = "carcass.worktop.shape: the worktop cannot be cut: ";
    for (from, to, expected) in [
        (
            "joints: [1000]",
            "joints: [3000]",
            "joint 1 of the worktop does not lie on it, or not right of the one before it",
        ),
        (
            "(at: (800, 90), round: 80)",
            "(at: (400, 90), round: 80)",
            "point 2 of the front lies left of the one before it",
        ),
        (
            "(at: (800, 90), round: 80)",
            "(at: (800, 90), round: 3000)",
            "there is no room to round corner 3 of the front",
        ),
        ("(1200, -6)", "(1200, 900)", "the front of the worktop comes behind its rear edge"),
        ("(400, -2.5)", "(0, -2.5)", "two stations lie at the same place"),
    ] {
        let found = said(from, to);
        assert!(found.contains(at) && found.contains(expected), "{found}");
    }
}
