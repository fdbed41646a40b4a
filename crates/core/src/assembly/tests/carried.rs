//! Drawer boxes, platforms and tilting compartments against the rules of the trade.

use super::*;
use crate::design::{Extension, Fitting, Holding, Opens, TiltHinge, Want};
use crate::geometry::Axis;
use crate::sample::{design_of, drawer, front, holds, inset_front, open, pull_out, thing, up};

fn with_drawer(slide: &str) -> (Layout, Assembly) {
    let mut bay = holds("odds", &[], drawer(slide)).behind(Opens::WithHolding);
    bay.height = Want::Fixed(mm(160));
    built(&design_of(up("whole", vec![bay, open("rest", 0)])))
}

/// Outside and inside width, height, depth of the box, millimetres.
fn box_sizes(assembly: &Assembly) -> [f64; 4] {
    let (left, right) = (part(assembly, "DL-odds").cuboid, part(assembly, "DR-odds").cuboid);
    let outside = right.max.x - left.min.x;
    let inside = right.min.x - left.max.x;
    [outside, inside, left.size(Axis::Y), left.size(Axis::Z)].map(Length::mm)
}

#[test]
fn boxes_follow_the_rules_of_their_slides() {
    let opening = 900.0 - 36.0;
    // Side-mounted, common practice: outside = opening - 2 x 12.7; 13 mm lower than the opening; as long as the slide.
    let (_, assembly) = with_drawer("side 450");
    assert_eq!(box_sizes(&assembly), [opening - 25.4, opening - 25.4 - 32.0, 160.0 - 13.0, 450.0]);
    // Under-mounted, common practice: inside = opening - 42, so with 16 mm sides outside = opening - 10; 20 to 25 mm
    // lower; 10 mm shorter than the slide.
    let (_, assembly) = with_drawer("under 450");
    assert_eq!(box_sizes(&assembly), [opening - 10.0, opening - 42.0, 160.0 - 22.0, 440.0]);
    // Its bottom lies 13 mm above the lower edge of the sides, and the rear end comes down to that edge.
    let low = part(&assembly, "DL-odds").cuboid.min.y;
    assert_eq!(part(&assembly, "DO-odds").cuboid.min.y - low, mm(13));
    assert_eq!(part(&assembly, "DB-odds").cuboid.min.y, low);
}

#[test]
fn a_drawer_comes_out_with_its_front_and_its_things() {
    let mut bay = holds("odds", &["tin"], drawer("side 450")).behind(Opens::WithHolding);
    bay.height = Want::Fixed(mm(160));
    let mut design = design_of(up("whole", vec![bay, open("rest", 0)]));
    design.things.insert("tin".to_owned(), thing(200, 100, 200));
    let Some(Fitting::Slide(slide)) = design.fittings.get_mut("side 450") else { panic!() };
    slide.extension = Extension::Partial;
    let (_, assembly) = built(&design);
    let [mover] = &assembly.movers[..] else { panic!("{:?}", assembly.movers) };
    assert_eq!((mover.id.as_str(), mover.things.len(), mover.parts.len()), ("drawer odds", 1, 6));
    assert_eq!(mover.motion, Motion::Slide { direction: Direction::FRONT, travel: Length::from_um(337_500) });
    let slides: Vec<_> = assembly.fittings.iter().filter(|it| it.name == "side 450").collect();
    assert_eq!(slides.len(), 2);
    let clear = solve(&design).unwrap().layout.bay("odds").unwrap().clear;
    // The slides fill the space beside the box, 3 mm behind the front edge.
    let left = part(&assembly, "DL-odds").cuboid;
    assert_eq!(slides[0].cuboid.range(Axis::X), (clear.min.x, left.min.x));
    assert_eq!(slides[0].cuboid.max.z, clear.max.z - mm(3));
}

#[test]
fn an_inset_front_pushes_its_box_back_by_its_thickness() {
    let mut bay = holds("odds", &[], drawer("side 450"));
    bay.front = Some(inset_front(Opens::WithHolding));
    let (_, assembly) = built(&design_of(bay));
    let front = part(&assembly, "FR-odds").cuboid;
    assert_eq!(part(&assembly, "DF-odds").cuboid.max.z, front.min.z);
}

#[test]
fn platforms_carry_their_things_and_strips_hold_them() {
    let mut design = design_of(holds("crates", &["crate"], pull_out("under 450", Some(mm(40)))));
    design.carcass.bay.front = Some(front(Opens::WithHolding));
    design.things.insert("crate".to_owned(), thing(300, 220, 400));
    let (layout, assembly) = built(&design);
    let (platform, crate_) = (part(&assembly, "PF-crates").cuboid, layout.things[0].cuboid);
    assert_eq!(platform.max.y, crate_.min.y);
    assert!(platform.min.z <= crate_.min.z && platform.max.z >= crate_.max.z);
    let strips = ["TL-crates", "TR-crates"].map(|number| part(&assembly, number).cuboid);
    // Under-mounted: 42 mm less than the opening between the strips.
    assert_eq!(strips[1].min.x - strips[0].max.x, mm(900 - 36 - 42));
    assert!(strips.iter().all(|strip| strip.min.y == platform.max.y && strip.size(Axis::Y) == mm(40)));
}

fn tilting(hinge: TiltHinge, opens_deg: f64, inset: bool) -> Assembly {
    let by = Holding::TiltOut { hinge, opens_deg, lid: true, board: Some("box board".to_owned()), stay: None };
    let mut bay = holds("hamper", &["basket"], by);
    bay.front = Some(if inset { inset_front(Opens::WithHolding) } else { front(Opens::WithHolding) });
    let mut design = design_of(bay);
    design.things.insert("basket".to_owned(), thing(500, 420, 260));
    built(&design).1
}

#[test]
fn tilting_compartments_never_meet_what_closes_their_bay() {
    // Reference: the real motion, sampled: every corner of every moving part behind the front edge of the carcass
    // stays between bottom and top.
    for (hinge, opens_deg, inset) in [
        (TiltHinge::Below, 35.0, false),
        (TiltHinge::Below, 12.0, true),
        (TiltHinge::Above, 50.0, false),
        (TiltHinge::Above, 30.0, true),
    ] {
        let assembly = tilting(hinge, opens_deg, inset);
        let [mover] = &assembly.movers[..] else { panic!() };
        let Motion::Turn { pivot, axis, .. } = mover.motion else { panic!() };
        let (low, high) = (part(&assembly, "BO").cuboid.max.y.mm(), part(&assembly, "TO").cuboid.min.y.mm());
        let edge = part(&assembly, "SL").cuboid.max.z.mm();
        let mut nearest = f64::MAX;
        for cuboid in mover.parts.iter().map(|&it| assembly.parts[it].cuboid) {
            for (y, z) in [
                (cuboid.min.y, cuboid.min.z),
                (cuboid.max.y, cuboid.min.z),
                (cuboid.min.y, cuboid.max.z),
                (cuboid.max.y, cuboid.max.z),
            ] {
                let (y, z) = (y.mm() - pivot.y.mm(), z.mm() - pivot.z.mm());
                for step in 0..=1000 {
                    let turn = (opens_deg * f64::from(step) / 1000.0).to_radians() * axis.sign() as f64;
                    let (moved_y, moved_z) = (y * turn.cos() - z * turn.sin(), y * turn.sin() + z * turn.cos());
                    if moved_z + pivot.z.mm() < edge - 1e-9 {
                        let height = moved_y + pivot.y.mm();
                        nearest = nearest.min(height - low).min(high - height);
                    }
                }
            }
        }
        // An overlay front reaches half over the 18 mm panels from the start; the rear edge of an inset one, 3 mm clear,
        // rises by t² / 2h while it passes its hinge.
        let least = if inset { 3.0 - 19.0 * 19.0 / 2.0 / 750.0 } else { 3.0 };
        assert!(nearest >= least - 1e-6, "{hinge:?} {opens_deg} {inset}: {nearest}");
    }
}

#[test]
fn what_has_no_room_says_how_much_is_missing() {
    let bay = holds("crates", &[], pull_out("side 450", Some(mm(900))));
    insta::assert_snapshot!(problems(&design_of(bay)), @r#"bay "crates" has no room for the strips of its platform: 167 mm are missing; make the bay larger"#);
}
