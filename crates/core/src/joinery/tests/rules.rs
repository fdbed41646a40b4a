//! Trade rules and published values.

use super::*;
use crate::assembly::tests::{built, part};
use crate::assembly::{Hole, Machining, Part, PartFace, Purpose};
use crate::design::{JointKind, Opens, Resolved};
use crate::geometry::Axis;
use crate::sample::{across, cabinet, design_of, holds, mm, open, pull_out, up};

fn holes_for<'a>(part: &'a Part, purpose: &str) -> Vec<&'a Hole> {
    let hole = |it: &'a Machining| match it {
        Machining::Hole(hole) if hole.purpose.to_string().starts_with(purpose) => Some(hole),
        _ => None,
    };
    part.machining.iter().filter_map(hole).collect()
}

fn texts(design: &Resolved) -> String {
    let findings = check(&built(design).1);
    let line = |it: &crate::finding::Finding| {
        let or = |text: &Option<String>| text.clone().unwrap_or_default();
        format!(
            "{:?} {}: {} | {} | {} | {}",
            it.severity,
            it.check,
            it.what,
            or(&it.measured),
            or(&it.limit),
            or(&it.mend)
        )
    };
    findings.iter().map(line).collect::<Vec<_>>().join("\n")
}

#[test]
fn dowels_go_a_third_to_two_fifths_into_the_face() {
    // Published examples: 8x30 with 12 mm in the face and 20 in the edge (from memory); 8x40 in 18 mm board leaves 4 mm.
    assert_eq!(dowel_depths(mm(30), mm(18)), (mm(12), mm(20)));
    assert_eq!(dowel_depths(mm(40), mm(18)), (mm(14), mm(28)));
    assert_eq!(dowel_depths(mm(40), mm(19)), (mm(15), mm(27)));
    assert_eq!(dowel_depths(mm(40), mm(16)), (mm(12), mm(30)));
    for (_, length) in DIN_68150_1 {
        for thickness in 12..30 {
            // Published rule: both depths together are the length and 1 mm for glue at each end; never through.
            let (face, edge) = dowel_depths(mm(length), mm(thickness));
            assert_eq!(face + edge, mm(length + 2));
            assert!(face <= mm(thickness - 4));
        }
    }
    assert!(is_usual_dowel(mm(8), mm(40)) && !is_usual_dowel(mm(7), mm(40)));
}

#[test]
fn places_keep_the_published_spacing() {
    for length in 24..3000 {
        let all = places(mm(length), mm(8));
        // At most 200 mm apart, at least 25 to 32; edge distance at least a radius, here one and a half diameters.
        for pair in all.windows(2) {
            let pitch = pair[1] - pair[0];
            assert!(pitch >= mm(32) && pitch <= mm(200), "{length}: {all:?}");
        }
        assert!(all[0] >= mm(12) && *all.last().unwrap() + mm(12) <= mm(length), "{length}: {all:?}");
        assert!(length < 64 || all.len() >= 2);
        // The second pattern keeps away from the first.
        for two in shifted_places(&all, mm(8)) {
            assert!(all.iter().all(|one| (two - *one).abs() >= mm(8)), "{length}");
        }
    }
    assert_eq!(places(mm(560), mm(8)), [50, 203, 356, 510].map(mm));
    assert_eq!(places(mm(100), mm(8)), [25, 75].map(mm));
    assert_eq!(places(mm(23), mm(8)), []);
}

#[test]
fn boards_that_meet_a_panel_from_both_faces_take_complementary_patterns() {
    let column = |name: &str| up(name, vec![open(&format!("low {name}"), 0), open(&format!("high {name}"), 0)]);
    let design = design_of(across("whole", vec![column("a"), column("b")]));
    let (_, assembly) = built(&design);
    let upright = part(&assembly, "UP-a");
    let (left, right) = (holes_for(upright, "dowel to SH-low-a"), holes_for(upright, "dowel to SH-low-b"));
    assert_eq!((left.len(), right.len()), (4, 4));
    assert_ne!(left[0].face, right[0].face);
    let along = |holes: &[&Hole]| holes.iter().map(|hole| hole.at.1.mm()).collect::<Vec<_>>();
    assert_eq!((along(&left), along(&right)), (vec![50.0, 203.0, 356.0, 510.0], vec![82.0, 235.0, 388.0, 478.0]));
    assert_eq!(texts(&design), "");
}

#[test]
fn shelf_pins_follow_the_32_mm_system() {
    let (_, assembly) = built(&design_of(open("books", 2)));
    for number in ["SL", "SR"] {
        let side = part(&assembly, number);
        let pins = holes_for(side, "shelf pin of LS-books.1");
        assert_eq!(pins.len(), 10, "{number}");
        for pin in &pins {
            // 5 mm holes, the front row 37 mm from the front edge, the rear row a multiple of 32 mm behind it.
            assert_eq!((pin.diameter, pin.depth), (mm(5), Some(mm(12))));
            let behind = pin.at.1 - mm(37);
            assert_eq!(behind.nm() % mm(32).nm(), 0);
        }
        let heights: Vec<_> = pins.iter().take(5).map(|pin| pin.at.0).collect();
        assert!(heights.windows(2).all(|pair| pair[1] - pair[0] == mm(32)), "{heights:?}");
        // The shelf lies on the pin of the middle hole.
        let shelf = part(&assembly, "LS-books.1").cuboid;
        assert_eq!(heights[2] + Length::from_um(2_500), shelf.min.y);
    }
}

/// On a carcass too shallow for the distances of the system, rows stay within the shelf, the front one before the rear one.
#[test]
fn shelf_pins_stay_within_a_shallow_shelf() {
    for depth in [40, 50, 60, 75, 90, 120] {
        let mut design = design_of(across("whole", vec![open("a", 1), open("b", 1)]));
        design.carcass.envelope.depth = crate::design::Extent::Fixed(mm(depth));
        let (_, assembly) = built(&design);
        for number in ["SL", "UP-a", "SR"] {
            let side = part(&assembly, number);
            for pin in
                side.machining.iter().filter_map(|it| if let Machining::Hole(hole) = it { Some(hole) } else { None })
            {
                let within = pin.at.1 - pin.diameter.half() >= Length::ZERO
                    && pin.at.1 + pin.diameter.half() <= side.finished.width;
                assert!(within, "{depth}: {number} {pin:?}");
            }
        }
    }
}

#[test]
fn rows_on_both_faces_of_an_upright_do_not_meet() {
    let design = design_of(across("whole", vec![open("a", 1), open("b", 1)]));
    let (_, assembly) = built(&design);
    let upright = part(&assembly, "UP-a");
    let row =
        |shelf: &str| holes_for(upright, &format!("shelf pin of {shelf}")).iter().map(|it| it.at.1).min().unwrap();
    assert_eq!((row("LS-a.1"), row("LS-b.1")), (mm(37), mm(69)));
    assert_eq!(texts(&design), "");
}

#[test]
fn cups_and_plates_follow_the_published_drilling() {
    let (_, assembly) = built(&design_of(open("a", 0).behind(Opens::HingedLeft)));
    let door = part(&assembly, "FR-a");
    let cups = holes_for(door, "hinge cup");
    assert_eq!(cups.len(), assembly.fittings.iter().filter(|it| it.name == "cup hinge").count());
    for cup in &cups {
        // 35 mm, its middle 20.5 to 25.5 mm from the edge; not through the 19 mm door.
        let from_edge = hole_in_world(door, cup).entry.x - door.cuboid.min.x;
        assert_eq!((cup.diameter, cup.depth), (mm(35), Some(mm(13))));
        assert!(from_edge >= Length::from_um(20_500) && from_edge <= Length::from_um(25_500));
    }
    let sockets = holes_for(door, "hinge socket");
    let world = |hole: &Hole| hole_in_world(door, hole).entry;
    // Two screw holes 45 mm apart, 9.5 mm further from the edge.
    assert_eq!(world(sockets[1]).y - world(sockets[0]).y, mm(45));
    assert_eq!(world(sockets[0]).x - world(cups[0]).x, Length::from_um(9_500));
    // The plate: 37 mm behind the front edge, two holes 32 mm apart about the middle of the cup.
    let plates = holes_for(part(&assembly, "SL"), "hinge plate");
    assert_eq!(plates.len(), cups.len() * 2);
    assert_eq!(plates[0].at.1, mm(37));
    assert_eq!(plates[1].at.0 - plates[0].at.0, mm(32));
    assert_eq!(plates[0].at.0 + mm(16), world(cups[0]).y);
}

#[test]
fn plates_on_both_faces_of_an_upright_are_set_apart() {
    let design = design_of(across(
        "whole",
        vec![open("a", 0).behind(Opens::HingedRight), open("b", 0).behind(Opens::HingedLeft)],
    ));
    let (_, assembly) = built(&design);
    let upright = part(&assembly, "UP-a");
    let (left, right) = (holes_for(upright, "hinge plate of FR-a"), holes_for(upright, "hinge plate of FR-b"));
    assert_eq!(left.len(), right.len());
    assert_eq!((right[0].at.0 - left[0].at.0).abs(), mm(48));
    assert_eq!(texts(&design), "");
    // The mounted hinges moved along with their cups.
    let cup = hole_in_world(part(&assembly, "FR-b"), holes_for(part(&assembly, "FR-b"), "hinge cup")[0]).entry.y;
    let middle = |it: &crate::assembly::MountedFitting| it.cuboid.middle(Axis::Y);
    assert!(assembly.fittings.iter().any(|it| it.bay == "b" && middle(it) == cup));
}

#[test]
fn screws_reach_far_enough_and_never_through() {
    // Common practice: about two and a half times the thickness that is screwed on.
    let screw = screw_for_edge(mm(18), mm(700)).unwrap();
    assert_eq!((screw.length, screw.diameter, screw.pilot_depth), (mm(45), mm(4), mm(27)));
    assert_eq!(screw_for_face(mm(16), mm(19)).unwrap().length, mm(30));
    assert_eq!(screw_for_face(mm(4), mm(6)), None);
    for face in 3..40 {
        for other in 6..60 {
            for it in [screw_for_edge(mm(face), mm(other)), screw_for_face(mm(face), mm(other))].into_iter().flatten() {
                assert!(it.length > mm(face) && it.length <= mm(face + other - 4));
            }
        }
    }
}

#[test]
fn a_sound_cabinet_has_no_findings() {
    assert_eq!(texts(&cabinet()), "");
    let mut screwed = cabinet();
    screwed.carcass.construction.joint = JointKind::Screwed;
    assert_eq!(texts(&screwed), "");
}

#[test]
fn what_is_wrong_is_named_with_a_mend() {
    let mut design = design_of(open("a", 0));
    design.carcass.construction.joint = JointKind::Dowelled("12x60".to_owned());
    insta::assert_snapshot!(texts(&design), @r"
    Warning joinery.dowel: dowels do not suit the edge of the bottom, 18 mm thick | 12 mm | 7.2 to 10.8 mm | take dowels of a diameter in that range
    Warning joinery.dowel: dowels do not suit the edge of the top, 18 mm thick | 12 mm | 7.2 to 10.8 mm | take dowels of a diameter in that range
    Warning joinery.dowel: dowels do not suit the edge of the bottom, 18 mm thick | 12 mm | 7.2 to 10.8 mm | take dowels of a diameter in that range
    Warning joinery.dowel: dowels do not suit the edge of the top, 18 mm thick | 12 mm | 7.2 to 10.8 mm | take dowels of a diameter in that range
    ");
    // A wrong hole put in by hand is found.
    let (_, mut assembly) = built(&cabinet());
    let side = assembly.parts.iter_mut().find(|it| it.number == "SL").unwrap();
    let at = holes_for(side, "dowel to SH-books")[0].at;
    side.machining.push(Machining::Hole(Hole {
        face: PartFace::Over,
        at: (at.0 + mm(9), at.1),
        diameter: mm(5),
        depth: Some(mm(12)),
        purpose: Purpose::SlideClip,
        joint: None,
    }));
    let found: Vec<_> = check(&assembly).into_iter().map(|it| (it.what, it.measured, it.mend)).collect();
    insta::assert_debug_snapshot!(found, @r#"
    [
        (
            "in the left side the 8 mm hole for the dowel to SH-books at 613 / 50 and the 5 mm hole for the clip of the slide at 622 / 50 leave too thin a wall",
            Some(
                "2.5 mm",
            ),
            Some(
                "move what one of them serves (dowel to SH-books or clip of the slide) by 1 mm or more, or take a thicker panel or smaller dowels",
            ),
        ),
    ]
    "#);
}

#[test]
fn a_single_dowel_is_a_warning_unless_something_else_holds_the_part() {
    // Rails 50 mm wide take one dowel at each end: they may turn about both.
    let mut design = design_of(open("a", 0));
    design.carcass.construction.top = crate::design::Top::Rails { width: mm(50) };
    assert_eq!(texts(&design).matches("single dowel").count(), 4);
    // A strip 40 mm high does too, but is screwed to its platform.
    let mut design = design_of(holds("crates", &[], pull_out("side 450", Some(mm(40)))).behind(Opens::WithHolding));
    design.carcass.envelope.height = crate::design::Extent::Fixed(mm(300));
    assert_eq!(texts(&design), "");
}

#[test]
fn slides_take_three_screws_on_the_system_rows() {
    let design = design_of(holds("crates", &[], crate::sample::drawer("side 450")));
    let (_, assembly) = built(&design);
    for number in ["SL", "SR"] {
        let side = part(&assembly, number);
        let screws = holes_for(side, "slide screw of crates");
        // Common practice: 37 mm behind the front edge, then multiples of 32.
        let back: Vec<i64> = screws.iter().map(|it| it.at.1.nm() / 1_000_000).collect();
        assert_eq!(back.len(), 3, "{number}");
        assert_eq!(back[0], 37);
        for at in back {
            assert_eq!((at - 37) % 32, 0);
        }
        assert!(screws.iter().all(|it| it.depth == Some(mm(12)) && it.diameter == mm(3)));
    }
}

#[test]
fn feet_are_screwed_into_the_bottom() {
    let mut design = design_of(open("whole", 0));
    design.carcass.stand = crate::design::Stand::Feet { height: mm(80), load_kg: None };
    let (_, assembly) = built(&design);
    let feet = assembly.fittings.iter().filter(|it| it.name == "foot").count();
    assert!(feet >= 4);
    assert_eq!(holes_for(part(&assembly, "BO"), "foot screw").len(), 4 * feet);
    assert!(!check(&assembly).iter().any(|it| it.what.contains("foot screw")));
}

#[test]
fn the_end_of_a_string_in_a_hinge_cup_is_found() {
    use crate::design::{Extent, FlapStay, TiltStop};
    let tied = |away: i64| {
        let mut design = design_of(open("whole", 0).behind(Opens::HingedAbove));
        design.carcass.envelope.width = Extent::Fixed(mm(180));
        let stay = FlapStay {
            carcass: (mm(60), mm(200)),
            flap: (mm(19), mm(away)),
            stop: TiltStop::AtLargest,
            with: None,
            both_sides: true,
        };
        design.carcass.bay.front.as_mut().unwrap().stay = Some(Box::new(stay));
        let (_, assembly) = built(&design);
        // One hole on the axis of each end: 3 mm, in the panels beside the bay and in the flap.
        for (number, count) in [("SL", 1), ("SR", 1), ("FR-whole", 2)] {
            let holes = holes_for(part(&assembly, number), "string of flap whole");
            assert_eq!(holes.len(), count, "{number}");
            assert!(holes.iter().all(|it| it.diameter == mm(3)), "{number}");
        }
        texts(&design)
    };
    // The middle of the cup lies 22.5 mm from the edge.
    assert!(tied(22).contains("string of flap whole"), "{}", tied(22));
    assert!(!tied(200).contains("string of flap whole"), "{}", tied(200));
}

#[test]
fn the_string_of_a_lid_gets_its_holes() {
    use crate::assembly::Motion;
    use crate::design::{Holding, LidString, TiltHinge, TiltStay, TiltStop};
    let end = |(behind, away): (i64, i64)| (mm(behind), mm(away));
    let (carcass, pulley, eye) = ((60, 350), (150, 300), (80, 430));
    let lid = LidString {
        hinge: end((270, 430)),
        carcass: end(carcass),
        lid: end(eye),
        pulley: Some(end(pulley)),
        starts_deg: 10.0,
    };
    let (own, stop) = (end((60, 200)), TiltStop::AtLargest);
    let stay = TiltStay { carcass: own, compartment: own, stop, with: None, both_sides: false, lid: Some(lid) };
    let (board, stay) = (Some("box board".to_owned()), Some(Box::new(stay)));
    let by = Holding::TiltOut { hinge: TiltHinge::Below, opens_deg: 35.0, lid: true, board, stay };
    let mut bay = holds("hamper", &["basket"], by);
    bay.front = Some(crate::sample::front(Opens::WithHolding));
    let mut design = design_of(bay);
    design.things.insert("basket".to_owned(), crate::sample::thing(500, 420, 260));
    let (_, assembly) = built(&design);
    let Motion::Turn { pivot, .. } = assembly.movers[0].motion else { panic!() };
    let spot = |(behind, away): (i64, i64)| (pivot.y + mm(away), pivot.z - mm(behind));
    let entry = |number: &str, purpose: &str| {
        let part = part(&assembly, number);
        let holes = holes_for(part, purpose);
        assert_eq!(holes.len(), 1, "{number}");
        assert_eq!(holes[0].diameter, mm(3));
        (hole_in_world(part, holes[0]).entry, part.cuboid)
    };
    let (at, side) = entry("SL", "lid string of tilt-out hamper");
    assert_eq!(((at.y, at.z), at.x), (spot(carcass), side.max.x));
    let (at, side) = entry("CL-hamper", "pulley of tilt-out hamper");
    assert_eq!(((at.y, at.z), at.x), (spot(pulley), side.max.x));
    // From above, 20 mm from the left end of the lid.
    let (at, top) = entry("CT-hamper", "lid string of tilt-out hamper");
    assert_eq!((at.x, at.y, at.z), (top.min.x + mm(20), top.max.y, spot(eye).1));
    // The lid has to turn: it is joined to nothing, neither to the front, and two hinges lie along its axis.
    let lid = assembly.parts.iter().position(|it| it.number == "CT-hamper").unwrap();
    let joints = assembly.joints.iter().filter(|it| [it.face_part, it.edge_part].contains(&lid));
    let kinds: Vec<_> = joints.map(|it| it.kind.clone()).collect();
    assert!(kinds.len() == 4 && kinds.iter().all(|it| *it == crate::assembly::JoinedBy::Loose), "{kinds:?}");
    assert_eq!(holes(&assembly.parts[lid]).count(), 1);
    assert!(holes_for(part(&assembly, "FR-hamper"), "dowel to CT-hamper").is_empty());
    let hinges: Vec<_> = assembly.fittings.iter().filter(|it| it.name == "lid hinge").map(|it| it.cuboid).collect();
    let middles: Vec<_> = hinges.iter().map(|it| (it.middle(Axis::Y), it.middle(Axis::Z))).collect();
    assert_eq!(middles, [spot((270, 430)); 2]);
    // It is glued in with nothing, and goes in from above when the rest is together.
    let order = crate::build_plan::plan(&design, &built(&design).0, &assembly, &[]);
    let with_lid: Vec<_> = order.steps.iter().filter(|it| it.fitted().concat() == [lid]).collect();
    assert!(with_lid.len() == 1 && with_lid[0].title.starts_with("Put in CT-hamper"), "{:?}", order.steps);
    let glued = order.steps.iter().filter(|it| it.kind == crate::build_plan::StepKind::GlueUp);
    assert!(glued.flat_map(|it| &it.groups).all(|it| it.as_slice() != [lid]), "{:?}", order.steps);
    // One string, at the left.
    assert!(holes_for(part(&assembly, "SR"), "lid string").is_empty());
}
