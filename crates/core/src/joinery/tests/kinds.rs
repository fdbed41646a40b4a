//! Dowels with screws, more dowels under load, moved patterns, choices without effect, screws in what slides carry.

use super::*;
use crate::assembly::tests::{built, part};
use crate::assembly::{Hole, JoinedBy, Part};
use crate::checks::{CheckOptions, carried_by};
use crate::design::{JointChoice, JointKind, Niche, Resolved, Role};
use crate::length::Length;
use crate::sample::{across, cabinet, design_of, drawer, holds, mm, open, pull_out, thing, up};

fn bored<'a>(part: &'a Part, purpose: &str) -> Vec<&'a Hole> {
    holes(part).filter(|hole| hole.purpose.to_string().starts_with(purpose)).collect()
}

fn in_niche(mut design: Resolved, left_wall: bool, right_wall: bool) -> Resolved {
    design.site.niche = Some(Niche { width: mm(920), height: None, above: None, depth: None, left_wall, right_wall });
    design
}

#[test]
fn screws_press_dowelled_joints_between_the_dowels() {
    let mut design = in_niche(design_of(across("whole", vec![open("a", 0), open("b", 0)])), true, true);
    let (_, plain) = built(&design);
    design.carcass.construction.joint = JointKind::DowelledAndScrewed("8x40".to_owned());
    let (layout, assembly) = built(&design);
    let (side, bottom) = (part(&assembly, "SL"), part(&assembly, "BO"));
    // As many dowels as without screws, at the same places.
    assert_eq!(bored(side, "dowel to BO").len(), bored(part(&plain, "SL"), "dowel to BO").len());
    let along = |holes: Vec<&Hole>| holes.iter().map(|hole| hole.at.1.mm()).collect::<Vec<_>>();
    assert_eq!(along(bored(side, "dowel to BO")), [50.0, 203.0, 356.0, 510.0]);
    // In the middle of the first and of the last gap: (50 + 203) / 2 and (356 + 510) / 2, whole millimetres.
    assert_eq!(along(bored(side, "screw to BO")), [126.0, 433.0]);
    assert_eq!(bored(bottom, "screw to SL").len(), 2);
    assert!(bored(side, "screw to BO").iter().all(|hole| hole.depth.is_none()));
    assert_eq!(check(&assembly).iter().map(|it| it.what.as_str()).collect::<Vec<_>>(), [""; 0]);
    // Dowels and screws are counted apart, in the glue-up and on the buying list.
    let plan = crate::build_plan::plan(&design, &layout, &assembly, &[]);
    let (dowels, screws) = plan.steps.iter().fold((0, 0), |sum, it| (sum.0 + it.dowels, sum.1 + it.screws));
    let all = |screw: bool| {
        assembly.parts.iter().flat_map(holes).filter(|it| it.joint.is_some() && it.is_for_screw() == screw).count()
    };
    assert_eq!((dowels * 2, screws * 2), (all(false), all(true)));
    assert!(screws > 0);
}

#[test]
fn screws_that_press_never_go_through_a_face_that_shows() {
    let mut design = design_of(across("whole", vec![open("a", 0), open("b", 0)]));
    design.carcass.construction.joint = JointKind::DowelledAndScrewed("8x40".to_owned());
    // Free on both sides: only the bottom, which looks to the floor, takes screws.
    let screwed = |design: &Resolved| {
        let (_, assembly) = built(design);
        let with = |it: &&Part| holes(it).any(|hole| hole.is_for_screw() && hole.depth.is_none());
        assembly.parts.iter().filter(with).map(|it| it.number.clone()).collect::<Vec<_>>()
    };
    assert_eq!(screwed(&design), ["BO"]);
    assert_eq!(screwed(&in_niche(design.clone(), true, false)), ["SL", "BO"]);
    assert_eq!(screwed(&in_niche(design.clone(), false, true)), ["SR", "BO"]);
    // A wall a hand's breadth away hides nothing.
    let mut far = in_niche(design.clone(), true, false);
    far.carcass.envelope.from_left = Some(mm(101));
    far.site.niche.as_mut().unwrap().width = mm(2000);
    assert_eq!(screwed(&far), ["BO"]);
    // Under a worktop the top takes them too.
    design.carcass.worktop = Some(crate::design::Worktop {
        board: "carcass board".to_owned(),
        overhang: crate::design::Overhang { front: None, left: None, right: None, rear: None },
        shape: None,
    });
    assert_eq!(screwed(&design), ["BO", "TO"]);
}

#[test]
fn at_least_so_many_places_but_never_nearer_than_32_mm() {
    for length in [64, 100, 128, 199, 200, 201, 350, 560, 900] {
        for least in [0, 2, 3, 5, 9, 40, usize::MAX] {
            let all = at_least(mm(length), mm(8), least);
            // Published: dowels at least 25 to 32 mm apart.
            assert!(all.windows(2).all(|pair| pair[1] - pair[0] >= mm(32)), "{length} {least}: {all:?}");
            let usual = places(mm(length), mm(8));
            let span = *usual.last().unwrap() - usual[0];
            let most = usize::try_from(span.nm() / mm(32).nm()).unwrap() + 1;
            assert_eq!(all.len(), usual.len().max(least.min(most)), "{length} {least}");
            assert_eq!((all[0], all.last()), (usual[0], usual.last()));
            // The second pattern leaves 3 mm of wood to every dowel of the first, and of its own.
            let two = shifted_places(&all, mm(8));
            assert!(two.iter().all(|it| all.iter().all(|other| (*other - *it).abs() >= mm(8))), "{all:?} {two:?}");
            assert!(two.windows(2).all(|pair| pair[1] - pair[0] >= mm(11)), "{all:?} {two:?}");
        }
    }
    assert_eq!(at_least(mm(560), mm(8), 6), [50, 142, 234, 326, 418, 510].map(mm));
}

#[test]
fn what_carries_much_gets_more_dowels() {
    let mut design =
        design_of(up("whole", vec![open("low", 0), holds("high", &["safe"], crate::design::Holding::Standing)]));
    let mut safe = thing(800, 300, 400);
    safe.mass_kg = 180.0;
    design.things.insert("safe".to_owned(), safe);
    let (layout, assembly) = built(&design);
    let shelf = assembly.parts.iter().position(|it| it.number == "SH-low").unwrap();
    let carried = carried_by(&design, &layout, &assembly, &CheckOptions::of(&design));
    let lying = carried.lying.iter().find(|it| it.part == shelf).unwrap();
    for support in &lying.supports {
        let crate::checks::SupportKind::Beside(side) = support.kind else { panic!() };
        let joint = assembly.joints.iter().find(|it| (it.face_part, it.edge_part) == (side, shelf)).unwrap();
        let JoinedBy::Dowels { .. } = joint.kind else { panic!() };
        // By hand: a particleboard edge splits over 27 mm x 4 x 8 mm at its internal bond with a safety of 1.5, or the dowel
        // shears at 5 MPa; the internal bond is the one of the board properties.
        let material = crate::mechanics::materials::properties(&design.materials["carcass board"]);
        let splits = material.internal_bond.value * 27.0 * 32.0 / 1.5;
        let shears = std::f64::consts::PI * 16.0 * 5.0;
        let wanted = (support.reaction / splits.min(shears)).ceil() as usize;
        assert!(wanted > 4, "{wanted}");
        let laid = bored(&assembly.parts[side], "dowel to SH-low").len();
        assert_eq!(laid, wanted);
    }
    let findings = crate::checks::all(&design, &layout, &assembly, &CheckOptions::of(&design));
    assert!(!findings.iter().any(|it| it.check == "joint.dowels"), "{findings:?}");
    // What 32 mm leaves no room for is said.
    design.things.get_mut("safe").unwrap().mass_kg = 900.0;
    let (layout, assembly) = built(&design);
    assert_eq!(bored(part(&assembly, "SL"), "dowel to SH-low").len(), 15);
    let findings = crate::checks::all(&design, &layout, &assembly, &CheckOptions::of(&design));
    let found = findings.iter().find(|it| it.check == "joint.dowels").unwrap();
    assert_eq!(found.mend.as_deref(), Some("a strip or groove that carries the board: there is no room for more"));
}

fn choice(of: Role, to: Role, by: Option<JointKind<Length>>, shift: Option<Length>) -> JointChoice<Length> {
    JointChoice { of, bay: None, to: Some(to), to_bay: None, by, shift }
}

#[test]
fn a_choice_moves_the_pattern_of_a_joint() {
    let mut design = design_of(open("a", 0));
    design.carcass.joints = vec![choice(Role::Top, Role::Side, None, Some(mm(20)))];
    let (_, assembly) = built(&design);
    let along = |purpose: &str| bored(part(&assembly, "SL"), purpose).iter().map(|it| it.at.1.mm()).collect::<Vec<_>>();
    assert_eq!(along("dowel to BO"), [50.0, 203.0, 356.0, 510.0]);
    assert_eq!(along("dowel to TO"), [70.0, 223.0, 376.0, 530.0]);
    // No further than one and a half diameters from the end.
    design.carcass.joints = vec![choice(Role::Top, Role::Side, None, Some(mm(60)))];
    let last = bored(part(&built(&design).1, "SL"), "dowel to TO").last().unwrap().at.1;
    assert_eq!(last, mm(560 - 12));
}

#[test]
fn choices_without_effect_are_said() {
    let mut design = cabinet();
    design.carcass.joints = vec![
        choice(Role::Shelf, Role::Side, Some(JointKind::Screwed), None),
        choice(Role::Rail, Role::Side, Some(JointKind::Screwed), None),
        choice(Role::Platform, Role::SideStrip, Some(JointKind::Angled), None),
        choice(Role::Top, Role::Side, Some(JointKind::Screwed), None),
        choice(Role::Side, Role::Top, Some(JointKind::Angled), None),
    ];
    let (_, assembly) = built(&design);
    let found: Vec<String> = check_choices(&design, &assembly).into_iter().map(|it| it.what).collect();
    assert_eq!(
        found,
        [
            "choice 2 for joints speaks of parts that do not meet",
            "choice 3 for joints changes nothing: what meets there is joined otherwise",
            "choice 4 for joints changes nothing: what meets there is joined otherwise",
        ]
    );
}

#[test]
fn what_side_mounted_slides_carry_takes_their_screws() {
    let screws = |design: &Resolved, number: &str| {
        let (_, assembly) = built(design);
        assert!(!check(&assembly).iter().any(|it| it.what.contains("slide screw")));
        bored(part(&assembly, number), "slide screw of crates").len()
    };
    let with = |by| design_of(holds("crates", &[], by));
    assert_eq!(screws(&with(drawer("side 450")), "DL-crates"), 3);
    assert_eq!(screws(&with(drawer("side 450")), "DR-crates"), 3);
    // On the maker's own couplings under the box: none.
    assert_eq!(screws(&with(drawer("under 450")), "DL-crates"), 0);
    assert_eq!(screws(&with(pull_out("side 450", Some(mm(60)))), "TL-crates"), 3);
    assert_eq!(screws(&with(pull_out("side 450", None)), "PF-crates"), 6);
}

#[test]
fn openings_are_held_against_the_holes_of_their_panel() {
    // A vent 60 mm wide and 2 mm up into the end of the shelf, whose dowels of 10 mm begin 4 mm above its underside.
    let mut design = design_of(up("whole", vec![open("low", 0), open("high", 0)]));
    design.carcass.construction.joint = JointKind::Dowelled("10x40".to_owned());
    let (layout, without) = built(&design);
    let high = layout.bay("low").unwrap().clear.size(crate::geometry::Axis::Y);
    let mut with = |width: i64| {
        design.carcass.openings = vec![crate::design::Opening {
            panel: Role::Side,
            bay: "low".to_owned(),
            size: (mm(width), mm(40)),
            at: Some((mm(20), high - mm(38))),
            free: 1.0,
        }];
        built(&design).1
    };
    let along = |assembly: &crate::assembly::Assembly| {
        bored(part(assembly, "SL"), "dowel to SH-low").iter().map(|it| it.at.1.mm()).collect::<Vec<_>>()
    };
    let meets = |assembly: &crate::assembly::Assembly| {
        check(assembly)
            .into_iter()
            .filter(|it| it.what.contains("opening of low"))
            .map(|it| it.what)
            .collect::<Vec<_>>()
    };
    // The dowels give way to it: the one 50 mm from the rear would lie over it.
    let narrow = with(60);
    assert_eq!(along(&without), [50.0, 203.0, 356.0, 510.0]);
    assert_ne!(along(&narrow), along(&without));
    assert_eq!(meets(&narrow), [""; 0]);
    // Where it is as wide as the side they cannot.
    let found = meets(&with(520));
    assert!(!found.is_empty() && found.iter().all(|it| it.contains("dowel to SH-low")), "{found:?}");
}

#[test]
fn a_rebate_leaves_a_third_of_the_panel() {
    let found = |depth| {
        let mut design = design_of(open("a", 0));
        design.carcass.construction.joint = JointKind::Rebated { depth };
        check(&built(&design).1).into_iter().map(|it| it.what).collect::<Vec<_>>()
    };
    // Common practice: half to two thirds of 18 mm.
    assert_eq!(found(mm(12)), [""; 0]);
    let said = found(Length::from_um(12_500));
    assert_eq!(said.len(), 4);
    assert_eq!(said[0], "the rebate for the bottom leaves less than a third of the left side");
}
