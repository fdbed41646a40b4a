//! Joints, grooves and what stands in them.

use super::*;
use crate::design::{Back, JointKind, Top};
use crate::geometry::Axis;
use crate::sample::{across, cabinet, design_of, open, up};

/// All joints between parts that stand still, as text.
fn joints(assembly: &Assembly) -> String {
    let number = |part: usize| assembly.parts[part].number.as_str();
    let kind = |joint: &Joint| match &joint.kind {
        JoinedBy::Dowels { diameter, length, with_screws } => {
            format!("dowels {}x{}{}", diameter.mm(), length.mm(), if *with_screws { " and screws" } else { "" })
        }
        JoinedBy::Rebate { depth, open } => format!("rebated {}, open {}", depth.mm(), open_word(*open)),
        JoinedBy::Housing { depth } => format!("housed {}", depth.mm()),
        JoinedBy::Screws => "screws".to_owned(),
        JoinedBy::Angles => "angles".to_owned(),
        JoinedBy::Loose => "loose".to_owned(),
    };
    let line = |joint: &Joint| format!("{} < {}: {}", number(joint.face_part), number(joint.edge_part), kind(joint));
    assembly.joints.iter().map(line).collect::<Vec<_>>().join("\n")
}

const fn open_word(open: Direction) -> &'static str {
    match (open.axis, open.negative) {
        (Axis::X, true) => "left",
        (Axis::X, false) => "right",
        (Axis::Y, true) => "below",
        (Axis::Y, false) => "above",
        (Axis::Z, true) => "behind",
        (Axis::Z, false) => "in front",
    }
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

/// The boxes of a part less its grooves overlap no other part's.
fn overlap(assembly: &Assembly) -> Vec<String> {
    let mut found = Vec::new();
    for (i, a) in assembly.parts.iter().enumerate() {
        for b in &assembly.parts[i + 1..] {
            let Some(space) = a.cuboid.intersection(&b.cuboid) else { continue };
            let cut = |part: &Part| {
                grooves(part).iter().any(|it| crate::joinery::groove_in_world(part, it).unwrap().contains(&space))
            };
            if !cut(a) && !cut(b) {
                found.push(format!("{} and {} in {space:?}", a.number, b.number));
            }
        }
    }
    found
}

#[test]
fn rebated_panels_are_flush_with_the_end_and_housed_in_between() {
    let mut design = design_of(across("whole", vec![open("a", 0), up("b", vec![open("low", 0), open("high", 0)])]));
    design.carcass.construction.joint = JointKind::Rebated { depth: mm(9) };
    design.carcass.construction.back = Back::Rebated { depth: mm(8) };
    let (layout, assembly) = built(&design);
    insta::assert_snapshot!(joints(&assembly), @r"
    SL < BO: rebated 9, open below
    SL < TO: rebated 9, open above
    SL < BK: rebated 8, open behind
    SR < BO: rebated 9, open below
    SR < TO: rebated 9, open above
    SR < SH-low: housed 9
    SR < BK: rebated 8, open behind
    UP-a < SH-low: housed 9
    BO < UP-a: housed 9
    BO < BK: rebated 8, open behind
    TO < UP-a: housed 9
    TO < BK: rebated 8, open behind
    BK < UP-a: loose
    BK < SH-low: loose
    ");
    // 900 mm wide, 18 mm sides: what lies between them is 864 mm clear, and 9 mm longer at each end.
    assert_eq!(part(&assembly, "BO").finished.length, mm(900 - 36 + 18));
    // The back fills the rebates: 8 mm more on all four sides, its rear flush with the rear edges.
    let back = part(&assembly, "BK").cuboid;
    assert_eq!((back.size(Axis::X), back.size(Axis::Y)), (mm(900 - 36 + 16), mm(800 - 36 + 16)));
    assert_eq!(back.min.z, part(&assembly, "SL").cuboid.min.z);
    assert_eq!(layout.shells[0].inner.size(Axis::Z), mm(560 - 4));
    // The rebate of the top in the left side: open at its upper end, as wide as the top is thick.
    let side = part(&assembly, "SL");
    let rebate = grooves(side).into_iter().find(|it| it.purpose == (Purpose::Rebate { of: "top".to_owned() })).unwrap();
    assert_eq!((rebate.face, rebate.depth), (PartFace::Under, mm(9)));
    assert_eq!((rebate.from.0, rebate.to.0, rebate.from.1, rebate.to.1), (mm(782), mm(800), mm(0), mm(560)));
    assert_eq!(overlap(&assembly), [""; 0]);
}

#[test]
fn tongues_of_three_panels_in_one_corner_do_not_meet() {
    // A thick inset back is housed in the sides and in the top, which is housed in the sides as well.
    for joint in [JointKind::Housed { depth: mm(6) }, JointKind::Rebated { depth: mm(6) }] {
        let mut design = design_of(open("a", 0));
        design.carcass.construction.joint = joint;
        design.carcass.construction.back = Back::Inset { set_back: mm(0) };
        design.carcass.construction.boards.insert(crate::design::Role::Back, "carcass board".to_owned());
        assert_eq!(overlap(&built(&design).1), [""; 0]);
    }
}

#[test]
fn single_joints_are_chosen_by_what_meets() {
    use crate::design::{JointChoice, Role};
    let mut design = cabinet();
    let choice = |of, bay: Option<&str>, to, by| JointChoice {
        of,
        bay: bay.map(str::to_owned),
        to,
        to_bay: None,
        by: Some(by),
        shift: None,
    };
    design.carcass.joints = vec![
        choice(Role::Side, None, Some(Role::Shelf), JointKind::Screwed),
        choice(Role::Shelf, Some("books"), None, JointKind::Housed { depth: mm(5) }),
        choice(Role::Top, None, Some(Role::Side), JointKind::DowelledAndScrewed("8x35".to_owned())),
        choice(Role::DrawerSide, Some("odds"), Some(Role::DrawerEnd), JointKind::Rebated { depth: mm(8) }),
    ];
    let (_, assembly) = built(&design);
    insta::assert_snapshot!(joints(&assembly), @r"
    SL < BO: dowels 8x40
    SL < TO: dowels 8x35 and screws
    SL < SH-books: housed 5
    SR < BO: dowels 8x40
    SR < TO: dowels 8x35 and screws
    UP-left < SH-books: housed 5
    BO < UP-left: dowels 8x40
    TO < UP-left: dowels 8x40
    DL-odds < DF-odds: rebated 8, open in front
    DL-odds < DB-odds: rebated 8, open behind
    DL-odds < DO-odds: housed 5
    DR-odds < DF-odds: rebated 8, open in front
    DR-odds < DB-odds: rebated 8, open behind
    DR-odds < DO-odds: housed 5
    DF-odds < FR-odds: screws
    DF-odds < DO-odds: housed 5
    DB-odds < DO-odds: housed 5
    PF-crates < TL-crates: screws
    PF-crates < TR-crates: screws
    ");
    assert_eq!(overlap(&assembly), [""; 0]);
}

#[test]
fn a_box_carries_its_own_joint() {
    use crate::design::{Inside, Shell};
    let boxed = |joint: Option<JointKind<Length>>, inside| {
        let shell = Shell { gap: None, construction: None, joint };
        crate::sample::bay("box", Inside::Boxed { shell, bay: Box::new(inside) })
    };
    let inner = up("inner", vec![open("low", 0), open("high", 0)]);
    let (_, assembly) = built(&design_of(boxed(Some(JointKind::Screwed), inner)));
    insta::assert_snapshot!(joints(&assembly), @r"
    SL < SL-box: screws
    SL < BO: dowels 8x40
    SL < TO: dowels 8x40
    SR < SR-box: screws
    SR < BO: dowels 8x40
    SR < TO: dowels 8x40
    SL-box < BO-box: screws
    SL-box < TO-box: screws
    SL-box < SH-low: screws
    SR-box < BO-box: screws
    SR-box < TO-box: screws
    SR-box < SH-low: screws
    BO < SL-box: loose
    BO < SR-box: loose
    BO < BO-box: screws
    TO < SL-box: loose
    TO < SR-box: loose
    TO < TO-box: screws
    ");
}

#[test]
fn grooves_from_both_faces_leave_wood_between() {
    let column = |name: &str| up(name, vec![open(&format!("low {name}"), 0), open(&format!("high {name}"), 0)]);
    let with = |depth| {
        let mut design = design_of(across("whole", vec![column("a"), column("b")]));
        design.carcass.construction.joint = JointKind::Housed { depth };
        design
    };
    assert_eq!(overlap(&built(&with(mm(8))).1), [""; 0]);
    insta::assert_snapshot!(
        problems(&with(mm(9))),
        @"grooves from both faces of upright right of a, 18 mm thick, are together 18 mm deep and meet; make them shallower"
    );
}

#[test]
fn what_is_in_the_way_is_said_in_the_unit_of_the_design() {
    let inches = |mut design: crate::design::Resolved| {
        design.unit = crate::unit::Unit::inch(32).unwrap();
        problems(&design)
    };
    let mut design = design_of(open("a", 0));
    design.carcass.construction.joint = JointKind::Housed { depth: crate::length::Length::from_um(25_400) };
    // By hand: 18 mm is 22.68 / 32 of an inch.
    insta::assert_snapshot!(inches(design), @r#"
    a groove 1" deep does not go into left side, ~23/32" (18 mm) thick: make it shallower
    a groove 1" deep does not go into right side, ~23/32" (18 mm) thick: make it shallower
    "#);
    let crates = crate::sample::holds("crates", &[], crate::sample::pull_out("side 450", Some(mm(900))));
    // As in millimetres 167 are missing: 6.575 inches.
    insta::assert_snapshot!(inches(design_of(crates)), @r#"bay "crates" has no room for the strips of its platform: ~6 9/16" (167 mm) are missing; make the bay larger"#);
}
