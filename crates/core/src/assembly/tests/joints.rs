//! Joints, grooves and what stands in them.

use super::*;
use crate::design::{Back, JointKind, Top};
use crate::geometry::Axis;
use crate::sample::{across, cabinet, design_of, open, up};

/// All joints between parts that stand still, as text.
fn joints(assembly: &Assembly) -> String {
    let number = |part: usize| assembly.parts[part].number.as_str();
    let kind = |joint: &Joint| match &joint.kind {
        JoinedBy::Dowels { diameter, length } => format!("dowels {}x{}", diameter.mm(), length.mm()),
        JoinedBy::Housing { depth } => format!("housed {}", depth.mm()),
        JoinedBy::Screws => "screws".to_owned(),
        JoinedBy::Angles => "angles".to_owned(),
        JoinedBy::Loose => "loose".to_owned(),
    };
    let line = |joint: &Joint| format!("{} < {}: {}", number(joint.face_part), number(joint.edge_part), kind(joint));
    assembly.joints.iter().map(line).collect::<Vec<_>>().join("\n")
}

fn grooves(part: &Part) -> Vec<&Groove> {
    let groove = |it: &'_ Machining| matches!(it, Machining::Groove(_));
    part.machining
        .iter()
        .filter(|it| groove(it))
        .map(|it| if let Machining::Groove(it) = it { it } else { panic!() })
        .collect()
}

#[test]
fn a_cabinet_as_a_list_of_joints() {
    insta::assert_snapshot!(joints(&built(&cabinet()).1), @r"
    SL < BO: dowels 8x40
    SL < TO: dowels 8x40
    SL < SH-books: dowels 8x40
    SR < BO: dowels 8x40
    SR < TO: dowels 8x40
    UP-left < SH-books: dowels 8x40
    BO < UP-left: dowels 8x40
    TO < UP-left: dowels 8x40
    DL-odds < DF-odds: dowels 8x40
    DL-odds < DB-odds: dowels 8x40
    DL-odds < DO-odds: housed 5
    DR-odds < DF-odds: dowels 8x40
    DR-odds < DB-odds: dowels 8x40
    DR-odds < DO-odds: housed 5
    DF-odds < FR-odds: screws
    DF-odds < DO-odds: housed 5
    DB-odds < DO-odds: housed 5
    PF-crates < TL-crates: screws
    PF-crates < TR-crates: screws
    ");
}

#[test]
fn a_grooved_back_stands_in_sides_bottom_and_top() {
    let mut design = design_of(open("a", 0));
    design.carcass.construction.back = Back::Grooved { set_back: mm(10), depth: mm(6) };
    let (_, assembly) = built(&design);
    insta::assert_snapshot!(joints(&assembly), @r"
    SL < BO: dowels 8x40
    SL < TO: dowels 8x40
    SL < BK: housed 6
    SR < BO: dowels 8x40
    SR < TO: dowels 8x40
    SR < BK: housed 6
    BO < BK: housed 6
    TO < BK: housed 6
    ");
    let back = part(&assembly, "BK");
    assert_eq!(back.cuboid.size(Axis::X), mm(900 - 36 + 12));
    assert_eq!(back.cuboid.size(Axis::Y), mm(800 - 36 + 12));
    for number in ["SL", "SR", "BO", "TO"] {
        let [groove] = grooves(part(&assembly, number))[..] else { panic!("{number}") };
        assert_eq!(groove.depth, mm(6), "{number}");
    }
    // In the left side: as wide as the back is thick, its near edge 560 - 10 - 4 = 546 mm from the front.
    let [groove] = grooves(part(&assembly, "SL"))[..] else { panic!() };
    assert_eq!((groove.face, groove.from.1, groove.to.1), (PartFace::Under, mm(546), mm(550)));
    assert_eq!((groove.from.0, groove.to.0), (mm(12), mm(788)));
    let [groove] = grooves(part(&assembly, "SR"))[..] else { panic!() };
    assert_eq!((groove.face, groove.from.1), (PartFace::Over, mm(546)));
}

#[test]
fn housed_panels_grow_into_their_grooves() {
    let mut design = design_of(across("whole", vec![open("a", 0), up("b", vec![open("low", 0), open("high", 0)])]));
    design.carcass.construction.joint = JointKind::Housed { depth: mm(5) };
    let (layout, assembly) = built(&design);
    let shelf = part(&assembly, "SH-low");
    assert_eq!(shelf.cuboid.size(Axis::X), layout.bay("low").unwrap().clear.size(Axis::X) + mm(10));
    let upright = part(&assembly, "UP-a");
    assert_eq!(upright.cuboid.size(Axis::Y), mm(800 - 36 + 10));
    let [groove] = grooves(upright)[..] else { panic!() };
    assert_eq!((groove.depth, groove.to.0 - groove.from.0, groove.to.1 - groove.from.1), (mm(5), mm(18), mm(560)));
}

#[test]
fn rails_that_meet_only_part_of_an_upright_are_screwed() {
    let mut design = design_of(across("whole", vec![open("a", 0), open("b", 0)]));
    design.carcass.construction.joint = JointKind::Housed { depth: mm(5) };
    design.carcass.construction.top = Top::Rails { width: mm(100) };
    insta::assert_snapshot!(joints(&built(&design).1), @r"
    SL < BO: housed 5
    SL < RF: housed 5
    SL < RR: housed 5
    SR < BO: housed 5
    SR < RF: housed 5
    SR < RR: housed 5
    BO < UP-a: housed 5
    RF < UP-a: screws
    RR < UP-a: screws
    ");
}

#[test]
fn joints_that_cannot_be_say_why() {
    let mut design = design_of(open("a", 0));
    design.carcass.construction.joint = JointKind::Dowelled("8 by 40".to_owned());
    insta::assert_snapshot!(problems(&design), @r#""8 by 40" is no dowel: write its diameter x length in mm, such as "8x40""#);
    design.carcass.construction.joint = JointKind::Housed { depth: mm(18) };
    insta::assert_snapshot!(problems(&design), @r"
    a groove 18 mm deep does not go into left side, 18 mm thick: make it shallower
    a groove 18 mm deep does not go into right side, 18 mm thick: make it shallower
    ");
}
