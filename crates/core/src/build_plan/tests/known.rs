//! Known pieces: what the plan says, and its numbers by hand.

use super::simulate::flaws;
use crate::assembly::tests::built;
use crate::build_plan::{BuildPlan, Step, StepKind, plan};
use crate::design::{Back, JointKind, Opens, Resolved, Top};
use crate::length::Length;
use crate::routes::routes;
use crate::sample::{self, across, cabinet, design_of, mm, open, up};

fn planned(design: &Resolved) -> BuildPlan {
    let (layout, assembly) = built(design);
    let plan = plan(design, &layout, &assembly, &routes(design, &layout, &assembly));
    assert_eq!(flaws(&assembly, &plan), Vec::<String>::new());
    assert_eq!(plan.stuck, Vec::new());
    plan
}

fn check(design: &Resolved, expected: &[&str]) -> BuildPlan {
    let plan = planned(design);
    let titles: Vec<String> =
        plan.steps.iter().enumerate().map(|(at, step)| format!("{}. {}", at + 1, step.title)).collect();
    assert_eq!(titles.join("\n"), expected.join("\n"));
    plan
}

fn step<'a>(plan: &'a BuildPlan, id: &str) -> &'a Step {
    plan.steps
        .iter()
        .find(|step| step.id == id)
        .unwrap_or_else(|| panic!("no {id} among {:?}", plan.steps.iter().map(|step| &step.id).collect::<Vec<_>>()))
}

#[test]
fn what_stands_between_bottom_and_top_comes_before_the_sides() {
    let whole = across("whole", vec![up("left", vec![open("low", 0), open("high", 0)]), open("right", 0)]);
    let plan = check(
        &design_of(whole),
        &[
            "1. Glue up from bottom to top: BO bottom, UP-left upright right of left, TO top",
            "2. Glue up from side to side: SL left side, SH-low shelf over low, what step 1 made, SR right side",
        ],
    );
    assert!(plan.steps.iter().all(|step| step.kind == StepKind::GlueUp));
}

#[test]
fn numbers_of_a_plain_box_by_hand() {
    // 900 x 800 x 560, sides run through, boards of 18: bottom and top are 864 long. Four joints of 560 x 18.
    let plan = planned(&design_of(open("all", 0)));
    let [only] = plan.steps.as_slice() else { panic!("{:?}", plan.steps) };
    assert_eq!(only.kind, StepKind::GlueUp);
    assert_eq!(only.joints.len(), 4);
    let clamps = only.clamps.clone().unwrap_or_else(|| panic!("glued"));
    // Two lines, each 560 long: three clamps each, 900 wide + two cauls of 20 + 20 to slip on.
    assert_eq!((clamps.count, clamps.opening, clamps.bowed_cauls), (6, mm(960), 4));
    assert_eq!(clamps.cauls, Vec::new());
    // 4 x 560 x 18 mm² and the mantles of the dowels, 8 x 40.
    let mantles = only.dowels as f64 * std::f64::consts::PI * 8.0 * 40.0;
    assert!((only.glue_area_mm2 - 4.0 * 560.0 * 18.0 - mantles).abs() < 1e-6, "{only:?}");
    assert!(only.dowels >= 4 * 3);
    let outside = &only.diagonals[0];
    // 900² + 800² = 1 450 000.
    assert_eq!((outside.sides, outside.length), ((mm(900), mm(800)), Length::from_mm_f64(1_450_000f64.sqrt())));
    assert_eq!(only.diagonals[1].sides, (mm(864), mm(764)));
}

#[test]
fn the_back_comes_last_and_the_drawer_goes_in_before_the_door() {
    let mut design = cabinet();
    design.carcass.construction.back = Back::Applied;
    let plan = planned(&design);
    let back = plan.steps.iter().position(|it| it.kind == StepKind::Fasten);
    let fit: Vec<&str> = plan.steps.iter().filter(|it| it.kind == StepKind::Fit).map(|it| it.title.as_str()).collect();
    assert!(back.is_some_and(|at| plan.steps[..at].iter().all(|it| it.kind == StepKind::GlueUp)), "{plan:?}");
    let at = |word: &str| fit.iter().position(|it| it.contains(word)).unwrap_or_else(|| panic!("{word} in {fit:?}"));
    assert!(at("pull-out") < at("door"), "{fit:?}");
}

#[test]
fn rails_leave_the_order_as_it_is() {
    let mut design = design_of(across("whole", vec![open("a", 1), open("b", 0)]));
    design.carcass.construction.top = Top::Rails { width: mm(100) };
    let plan = planned(&design);
    assert!(plan.steps.iter().filter(|it| it.kind == StepKind::GlueUp).count() == 2, "{plan:?}");
}

#[test]
fn a_joint_without_a_partner_behind_it_gets_a_caul() {
    // The shelf left of the upright meets nothing behind it.
    let whole = across("whole", vec![up("left", vec![open("low", 0), open("high", 0)]), open("right", 0)]);
    let plan = planned(&design_of(whole));
    let last = plan.steps.last().and_then(|step| step.clamps.clone()).unwrap_or_else(|| panic!("glued"));
    assert_eq!(last.cauls.len(), 1);
}

#[test]
fn a_large_glue_up_is_too_slow_and_says_where_to_stop() {
    let columns = (0..6).map(|at| up(&format!("c{at}"), vec![open(&format!("l{at}"), 0), open(&format!("h{at}"), 0)]));
    let mut design = design_of(across("whole", columns.collect()));
    design.carcass.envelope.width = crate::design::Extent::Fixed(mm(2400));
    let plan = planned(&design);
    let slow = plan.steps.iter().find_map(|step| step.time.as_ref()?.warning.clone());
    assert!(slow.as_ref().is_some_and(|it| it.contains("alone first")), "{slow:?}");
}

#[test]
fn slides_in_a_narrow_bay_are_fitted_before_it_is_closed() {
    let mut narrow = sample::holds("pull", &[], sample::drawer("side 450"));
    narrow.width = crate::design::Want::Fixed(mm(200));
    let plan = planned(&design_of(across("whole", vec![narrow, open("rest", 0)])));
    let first: Vec<&String> = plan.steps.iter().flat_map(|step| &step.first).collect();
    assert!(first.iter().any(|it| it.contains("side 450 of pull")), "{first:?}");
    let closing =
        step(&plan, &plan.steps.iter().find(|it| !it.first.is_empty()).map(|it| it.id.clone()).unwrap_or_default());
    assert_eq!(closing.kind, StepKind::GlueUp);
}

#[test]
fn a_rebated_back_goes_in_from_behind_when_the_carcass_stands() {
    let mut design = design_of(open("all", 0));
    design.carcass.construction.back = Back::Rebated { depth: mm(8) };
    let plan = check(
        &design,
        &[
            "1. Glue up from side to side: SL left side, TO top, BO bottom, SR right side",
            "2. Glue up from rear to front: BK back, what step 1 made",
        ],
    );
    let last = &plan.steps[1];
    assert!(last.notes.iter().any(|it| it.contains("from their open side")), "{:?}", last.notes);
    assert!(!last.notes.iter().any(|it| it.contains("slide along")), "{:?}", last.notes);
    // A floor 4 wide and a shoulder of 8: 780 long in each side, 864 in bottom and top, which lie between them.
    assert!((last.glue_area_mm2 - 2.0 * (780.0 + 864.0) * 12.0).abs() < 1e-6, "{}", last.glue_area_mm2);
    // So it does where an upright asks for a step of its own.
    let mut wide = design_of(across("all", vec![open("a", 0), open("b", 0)]));
    wide.carcass.construction.back = Back::Rebated { depth: mm(8) };
    assert!(planned(&wide).steps.last().is_some_and(|it| it.title.contains("from rear to front: BK back")));
    // A grooved one has to be there before the last side closes.
    design.carcass.construction.back = Back::Grooved { set_back: mm(10), depth: mm(8) };
    let grooved = planned(&design);
    assert!(grooved.steps.iter().all(|it| it.title != plan.steps[1].title));
}

#[test]
fn rebated_corners_close_like_butt_joints_and_have_no_dowels() {
    let mut design = design_of(up("all", vec![open("low", 0), open("high", 0)]));
    design.carcass.construction.joint = JointKind::Rebated { depth: mm(9) };
    let plan = planned(&design);
    let [only] = plan.steps.as_slice() else { panic!("{:?}", plan.steps) };
    assert_eq!((only.dowels, only.screws), (0, 0));
    // Bottom and top at both ends: a floor of 560 x 18 and a shoulder of 560 x 9; the shelf between: two walls.
    assert!((only.glue_area_mm2 - 4.0 * 560.0 * 27.0 - 2.0 * 560.0 * 36.0).abs() < 1e-6, "{}", only.glue_area_mm2);
}

#[test]
fn screws_between_the_dowels_press_instead_of_clamps() {
    let mut design = design_of(across("all", vec![open("a", 0), open("b", 0)]));
    design.carcass.construction.joint = JointKind::DowelledAndScrewed("8x40".to_owned());
    // The outside of top and sides shows, so only the joint of the upright with the bottom is screwed.
    let plan = planned(&design);
    let first = &plan.steps[0];
    assert_eq!((first.screws, first.clamps.as_ref().map(|it| it.count)), (2, Some(3)));
    assert!(first.notes.iter().any(|it| it.contains("drive the screws")), "{:?}", first.notes);
    // At both walls of a niche, under a worktop, all are: no clamp is left, but time still runs.
    design.site.niche = Some(crate::design::Niche {
        width: mm(900),
        height: None,
        above: None,
        depth: None,
        left_wall: true,
        right_wall: true,
    });
    design.carcass.worktop = Some(crate::design::Worktop {
        board: "carcass board".to_owned(),
        overhang: crate::design::Overhang { front: None, left: None, right: None, rear: None },
        shape: None,
    });
    let plan = planned(&design);
    let glued: Vec<&Step> = plan.steps.iter().filter(|it| it.kind == StepKind::GlueUp).collect();
    assert!(glued.iter().all(|it| it.clamps.is_none() && it.time.is_some() && it.screws > 0), "{glued:?}");
}

#[test]
fn loose_shelves_that_are_alike_are_one_step_and_ticked_each() {
    // 900 less two sides and an upright of 18 leaves two bays of 423.
    let alike = planned(&design_of(across("whole", vec![open("a", 2), open("b", 1)])));
    let fit: Vec<&Step> = alike.steps.iter().filter(|it| it.kind == StepKind::Fit).collect();
    let [shelves] = fit.as_slice() else { panic!("{:?}", alike.steps) };
    assert_eq!(shelves.fitted().len(), 3);
    let title = "Lay 3 shelves, all alike, on their pins, from the front: ";
    assert!(shelves.title.starts_with(title), "{}", shelves.title);
    // A file that has two of them ticked from the time when each was a step keeps these ticks.
    assert_eq!(shelves.ticks.len(), 3);
    assert!(shelves.ticks.iter().all(|it| it.starts_with("fit:") && !it.contains('+')), "{:?}", shelves.ticks);
    assert!(!shelves.is_done(&shelves.ticks[..2]) && shelves.is_done(&shelves.ticks));
    // Of two lengths there are two steps.
    let mut narrow = open("b", 1);
    narrow.width = crate::design::Want::Fixed(mm(300));
    let two = planned(&design_of(across("whole", vec![open("a", 2), narrow])));
    let fit: Vec<usize> = two.steps.iter().map(|it| it.fitted().len()).filter(|it| *it > 0).collect();
    assert!(fit == [2, 1] || fit == [1, 2], "{fit:?}");
}

#[test]
fn a_drawer_hangs_before_its_front_is_set_and_the_lowest_front_comes_first() {
    let drawer = |name: &str| {
        let mut bay = sample::holds(name, &[], sample::drawer("side 450"));
        bay.front = Some(sample::front(Opens::WithHolding));
        bay
    };
    let plan = planned(&design_of(up("whole", vec![drawer("low"), drawer("high")])));
    let fits: Vec<&Step> = plan.steps.iter().filter(|it| it.kind == StepKind::Fit).collect();
    let titles: Vec<&str> = fits.iter().map(|it| it.title.as_str()).collect();
    assert_eq!(
        titles,
        [
            "Hang the drawer high in its slides, without its front, from the front",
            "Hang the drawer low in its slides, without its front, from the front",
            "Set FR-low drawer front of low with even reveals, from the front; screw it on from within",
            "Set FR-high drawer front of high with even reveals, from the front; screw it on from within",
        ]
    );
    // The screws of a front go in when it is set, and into nothing before.
    assert!(fits.iter().all(|it| (it.screws > 0) == it.title.starts_with("Set")), "{fits:?}");
    assert!(fits.iter().all(|it| it.notes.len() == 1), "{fits:?}");
}

#[test]
fn a_front_that_is_dowelled_on_is_glued_up_with_what_it_is_on() {
    // A platform takes dowels in its edge, and so has its front on before it is hung.
    let mut bay = sample::holds("pull", &[], sample::pull_out("side 450", None));
    bay.front = Some(sample::front(Opens::WithHolding));
    let plan = planned(&design_of(bay));
    let titles: Vec<&str> =
        plan.steps.iter().filter(|it| it.kind == StepKind::Fit).map(|it| it.title.as_str()).collect();
    assert_eq!(titles, ["Hang the pull-out pull in its slides, from the front"]);
}
