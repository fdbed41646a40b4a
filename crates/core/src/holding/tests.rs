//! What holdings need, against published rules and worked numbers.

use super::*;
use crate::design::Front;
use crate::sample::{construction, design, drawer, front, inset_front, mm, pull_out};
use crate::unit::Unit;

/// Left, right, below, above, front, rear in millimetres.
fn check(
    holding: &Holding<Length>,
    front: Option<&Front<Length>>,
    contents: Option<Contents>,
    expected: [f64; 6],
) -> Allowance {
    let all = allowance(&design(), &construction(), holding, front, contents).unwrap();
    let sides = [Where::Left, Where::Right, Where::Below, Where::Above, Where::Front, Where::Rear];
    assert_eq!(sides.map(|side| all.at(side).mm()), expected, "{all:#?}");
    assert!(all.extras.iter().all(|extra| !extra.reason.is_empty() && !extra.source.is_empty()));
    all
}

#[test]
fn standing_needs_room_only_for_an_inset_front() {
    check(&Holding::Standing, None, None, [0.0; 6]);
    check(&Holding::Standing, Some(&front(Opens::HingedLeft)), None, [0.0; 6]);
    check(&Holding::Standing, Some(&inset_front(Opens::HingedLeft)), None, [0.0, 0.0, 0.0, 0.0, 22.0, 0.0]);
}

#[test]
fn a_shelf_takes_its_thickness_and_the_space_under_it() {
    check(&Holding::Shelf { under: mm(200) }, None, None, [0.0, 0.0, 218.0, 0.0, 0.0, 0.0]);
}

#[test]
fn a_box_on_side_mounted_slides_is_narrower_by_twice_their_space() {
    // Common practice: box outside = opening - 2 x 12.7, and at least 13 mm lower than the opening.
    let all = check(
        &drawer("side 450"),
        Some(&front(Opens::WithHolding)),
        None,
        [28.7, 28.7, 6.0 + 10.0 + 4.0, 7.0, 16.0, 0.0],
    );
    assert!(BOX_PLAY_BELOW + box_play_above(SlideMount::Side, BOX_PLAY_BELOW) >= mm(13));
    assert_eq!(all.least_depth.unwrap().size, mm(453));
    assert_eq!(all.most_contents_depth.unwrap().size, mm(450 - 32));
}

#[test]
fn the_inside_of_a_box_on_under_mounted_slides_is_42_less_than_the_opening() {
    // Common practice: inside of box = opening - 42; with 16 mm sides the outside is opening - 10; the box is 20 to
    // 25 mm lower than the opening; length = nominal - 10; depth inside the carcass at least nominal + 13.
    let all = check(
        &drawer("under 450"),
        Some(&front(Opens::WithHolding)),
        None,
        [21.0, 21.0, 15.0 + 13.0 + 4.0, 7.0, 16.0, 0.0],
    );
    let slide = design();
    let slide = slide_of(&slide, Some("under 450")).unwrap();
    assert_eq!(platform_gap(Unit::default(), slide, Some(mm(16))).unwrap() * 2, mm(10));
    let below = under_box_play_below(slide);
    let lower = below + box_play_above(SlideMount::Under, below);
    assert!(lower >= mm(20) && lower <= mm(25), "{lower:?}");
    assert_eq!(box_depth(slide), mm(440));
    // Flat slides need less under the box; it stays as much lower than its opening.
    let flat = crate::design::Slide { height: mm(20), ..slide.clone() };
    let below = under_box_play_below(&flat);
    assert_eq!((below, below + box_play_above(SlideMount::Under, below)), (mm(8), mm(20)));
    assert_eq!(all.least_depth.unwrap().size, mm(463));
}

#[test]
fn an_inset_drawer_front_takes_its_thickness() {
    let all =
        check(&drawer("side 450"), Some(&inset_front(Opens::WithHolding)), None, [28.7, 28.7, 20.0, 7.0, 35.0, 0.0]);
    assert_eq!(all.least_depth.unwrap().size, mm(453 + 19));
}

#[test]
fn platforms() {
    let moving = front(Opens::WithHolding);
    // No strips: the 45 mm slide is centred on the 18 mm edge and reaches 13.5 mm below it, plus 3 mm of air.
    check(&pull_out("side 450", None), Some(&moving), None, [12.7, 12.7, 16.5 + 18.0, 7.0, 0.0, 0.0]);
    check(&pull_out("side 450", Some(mm(60))), Some(&moving), None, [30.7, 30.7, 24.0, 7.0, 0.0, 0.0]);
    check(&pull_out("under 450", None), Some(&moving), None, [5.0, 5.0, 28.0 + 18.0, 7.0, 0.0, 0.0]);
    check(&pull_out("under 450", Some(mm(60))), None, None, [21.0, 21.0, 46.0, 7.0, 3.0, 0.0]);
}

fn tilt(hinge: TiltHinge, opens_deg: f64, lid: bool) -> Holding<Length> {
    Holding::TiltOut { hinge, opens_deg, lid, board: Some("box board".to_owned()), stay: None }
}

#[test]
fn a_tilting_compartment_clears_the_arc_of_its_rear_edge() {
    let contents = Some(Contents { width: mm(400), height: mm(500), depth: mm(250) });
    let moving = front(Opens::WithHolding);
    // Overlay front 19: d = 19 + 250 + 16 = 285, h = 16 + 500 = 516, sqrt(285² + 516²) = 589.47..., so 74 mm above
    // the rest; the corner passes the vertical after atan(285 / 516) = 28.9 degrees.
    let arc = (285f64.hypot(516.0) - 516.0).ceil();
    assert_eq!(arc, 74.0);
    let passing = tilt(TiltHinge::Below, 35.0, false);
    check(&passing, Some(&moving), contents, [19.0, 19.0, 19.0, arc + 3.0, 0.0, 19.0]);
    // Short of the vertical the corner is highest at the end of the turn: 285 sin 20° + 516 cos 20° = 582.36.
    check(&tilt(TiltHinge::Below, 20.0, false), Some(&moving), contents, [19.0, 19.0, 19.0, 67.0 + 3.0, 0.0, 19.0]);
    check(&tilt(TiltHinge::Above, 35.0, false), Some(&moving), contents, [19.0, 19.0, 19.0 + arc, 3.0, 0.0, 19.0]);
}

#[test]
fn what_is_empty_keeps_a_little_room() {
    let room = |holding: &Holding<Length>, contents| {
        allowance(&design(), &construction(), holding, None, contents).unwrap().empty_room
    };
    assert_eq!(room(&Holding::Standing, None), None);
    assert_eq!(room(&drawer("side 450"), None), Some(Contents::LEAST));
    assert_eq!(room(&drawer("side 450"), Some(Contents::LEAST)), None);
}

#[test]
fn the_highest_turn_is_the_greatest_height_of_the_real_motion() {
    // Reference: the corner's height sampled along the turn.
    for (depth, height, opens) in [(285, 516, 35.0), (285, 516, 20.0), (400, 200, 60.0), (10, 700, 5.0), (300, 0, 90.0)]
    {
        let sampled = (0..=100_000)
            .map(|i| (opens * f64::from(i) / 1e5f64).to_radians())
            .map(|turn| f64::from(depth) * turn.sin() + f64::from(height) * turn.cos())
            .fold(0.0, f64::max);
        let exact = highest_turn(mm(depth.into()), mm(height.into()), opens);
        assert!((sampled - exact).abs() < 1e-5, "{depth} {height} {opens}: {sampled} against {exact}");
        let space = Length::from_mm_f64(exact.ceil());
        let found = tilt_height(mm(depth.into()), space, opens);
        assert!(highest_turn(mm(depth.into()), found, opens) <= space.mm() + 1e-6);
        assert!(highest_turn(mm(depth.into()), found + mm(1), opens) > space.mm());
    }
}

#[test]
fn errors_name_cause_and_mend() {
    let design = design();
    let fails =
        |holding: &Holding<Length>| allowance(&design, &construction(), holding, None, None).unwrap_err().to_string();
    insta::assert_snapshot!(fails(&pull_out("slow", None)), @r#"there is no fitting "slow": add it to `fittings` or name one that is there"#);
    insta::assert_snapshot!(fails(&pull_out("cup hinge", None)), @r#"the fitting "cup hinge" is not a slide: name one that is"#);
    insta::assert_snapshot!(fails(&tilt(TiltHinge::Below, 120.0, false)), @"a tilting compartment cannot open by 120 degrees: give an angle above 0 and up to 90");
    let thick = Holding::Drawer { slide: Some("under 450".into()), board: Some("worktop board".into()), bottom: None };
    insta::assert_snapshot!(fails(&thick), @r#"there is no material "worktop board": add it to `materials` or name one that is there"#);
    let mut wide = design.clone();
    wide.materials.get_mut("box board").unwrap().thickness = mm(21);
    let error = allowance(&wide, &construction(), &drawer("under 450"), None, None).unwrap_err().to_string();
    insta::assert_snapshot!(error, @"sides of 21 mm do not go with under-mounted slides that leave 21 mm from the inside of the box to the carcass: take a thinner board or other slides");
}

#[test]
fn sides_that_are_too_thick_are_said_in_the_unit_of_the_design() {
    let slide = design();
    let slide = slide_of(&slide, Some("under 450")).unwrap();
    let said = |unit| platform_gap(unit, slide, Some(Length::from_um(25_400))).unwrap_err().to_string();
    // By hand: 21 mm is 52.9 / 64 of an inch.
    assert_eq!(
        said(Unit::inch(64).unwrap()),
        "sides of 1\" do not go with under-mounted slides that leave ~53/64\" (21 mm) from the inside of the box to the \
         carcass: take a thinner board or other slides"
    );
    assert!(said(Unit::default()).starts_with("sides of 25.4 mm do not go with under-mounted slides that leave 21 mm"));
}
