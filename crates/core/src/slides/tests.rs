//! Which slides are chosen, against figures worked by hand.

use super::{Settled, settle};
use crate::design::{Fitting, Holding, Inside, Opens, Resolved, SlideMount, Usual};
use crate::fittings::{SIDE_SLIDE, UNDER_SLIDE};
use crate::length::Length;
use crate::sample::{across, design_of, holds, inset_front, mm, thing};
use crate::solve::{SolveError, solve};

/// One bay 864 x 764 mm and as deep as `depth` less nothing, with a pull-out whose board is 18 mm thick at 1000 kg/m³; its
/// slides are those of `entry`.
fn pull_out(depth: i64, entry: Option<Usual<Length>>, kilograms: f64) -> Resolved {
    let slide = entry.as_ref().map(|_| "runner".to_owned());
    let by = Holding::PullOut { slide, board: None, strips: None };
    let mut design = design_of(holds("bottles", &["crate"], by));
    design.carcass.envelope.depth = crate::design::Extent::Fixed(mm(depth));
    design.materials.values_mut().for_each(|it| it.density_kg_m3 = Some(1000.0));
    let mut crate_ = thing(400, 270, 300);
    (crate_.mass_kg, crate_.load_kg) = (2.0, kilograms - 2.0);
    design.things.insert("crate".to_owned(), crate_);
    if let Some(entry) = entry {
        design.fittings.insert("runner".to_owned(), Fitting::Usual(entry));
    }
    design
}

#[track_caller]
fn check(design: &Resolved, expected: &str) -> Settled {
    let settled = settle(design);
    let words: Vec<String> = (settled.chosen.iter())
        .map(|it| {
            format!(
                "{}: {} mm, {} kg for {:.2} kg, {} mm left; next {}{}",
                it.bay,
                it.length.mm(),
                it.class_kg,
                it.carries_kg,
                it.rest.mm(),
                it.next,
                if it.partial_serves { "; partial serves" } else { "" }
            )
        })
        .collect();
    assert_eq!(words.join("\n"), expected);
    assert!(solve(&settled.design).is_ok());
    assert_eq!(settle(&settled.design), Settled { design: settled.design.clone(), chosen: Vec::new() });
    settled
}

#[test]
fn longest_usual_slide_that_fits_in_the_least_class_that_carries() {
    // No front: the opening is 560 deep, of which 3 are the set-back (common practice): 550 fits, 600 lacks 43. The platform
    // is (864 - 25.4) x 550 x 18 mm = 8.302 kg; a full crate of bottles is about 20 kg (common practice).
    let settled = check(
        &pull_out(560, None, 20.0),
        "bottles: 550 mm, 35 kg for 28.30 kg, 7 mm left; next 600 mm would need 43 mm more depth; partial serves",
    );
    let Inside::Holds { by: Holding::PullOut { slide: Some(name), .. }, .. } = &settled.design.carcass.bay.inside
    else {
        panic!("{:?}", settled.design.carcass.bay)
    };
    assert_eq!(name, "side-mounted slide 550 mm, 35 kg");
    let Some(Fitting::Slide(slide)) = settled.design.fittings.get(name) else { panic!() };
    assert_eq!((slide.mount, slide.length, slide.side_space), (SlideMount::Side, mm(550), Length::from_um(12_700)));
    // 16 kg less one: 24.3 kg go on the class of 25.
    check(
        &pull_out(560, None, 16.0),
        "bottles: 550 mm, 25 kg for 24.30 kg, 7 mm left; next 600 mm would need 43 mm more depth; partial serves",
    );
    // Exactly as deep as it must be, and half a millimetre less.
    let mut tight = pull_out(603, None, 20.0);
    check(
        &tight,
        "bottles: 600 mm, 35 kg for 29.06 kg, 0 mm left; next 650 mm would need 50 mm more depth; partial serves",
    );
    tight.carcass.envelope.depth = crate::design::Extent::Fixed(Length::from_um(602_500));
    check(
        &tight,
        "bottles: 550 mm, 35 kg for 28.30 kg, 49.5 mm left; next 600 mm would need 0.5 mm more depth; partial serves",
    );
}

#[test]
fn what_the_entry_decides_stands() {
    let length = |length: i64| Usual { length: Some(mm(length)), ..Usual::plain(SIDE_SLIDE) };
    check(
        &pull_out(560, Some(length(350)), 20.0),
        "bottles: 350 mm, 35 kg for 25.28 kg, 207 mm left; next its length is that of the design",
    );
    let class = Usual { load_kg: Some(68.0), side_space: Some(mm(13)), ..Usual::plain(SIDE_SLIDE) };
    let settled = check(
        &pull_out(560, Some(class), 20.0),
        "bottles: 550 mm, 68 kg for 28.30 kg, 7 mm left; next 600 mm would need 43 mm more depth; partial serves",
    );
    let Some(Fitting::Slide(slide)) = settled.design.fittings.get("runner 550 mm, 68 kg") else { panic!() };
    assert_eq!(slide.side_space, mm(13));
    // A length that the opening does not take is the design's own conflict.
    let long = settle(&pull_out(560, Some(length(600)), 20.0));
    assert!(matches!(solve(&long.design), Err(SolveError::Conflicts(_))));
}

#[test]
fn inset_fronts_and_under_mounted_slides_need_more_depth() {
    // An inset front of 19 mm stands before the slides: 560 - 19 = 541, so 500 fits and 550 lacks 12.
    let mut inset = pull_out(560, None, 20.0);
    inset.carcass.bay.front = Some(inset_front(Opens::WithHolding));
    let settled = settle(&inset);
    assert_eq!(settled.chosen[0].length, mm(500));
    assert_eq!(settled.chosen[0].next, "550 mm would need 12 mm more depth");
    assert_eq!(settled.chosen[0].rest, mm(560 - 19 - 3 - 500));
    // Under-mounted: nominal length and 13 mm (published), 513 for 500.
    let under = || Some(Usual::plain(UNDER_SLIDE));
    assert_eq!(settle(&pull_out(513, under(), 20.0)).chosen[0].length, mm(500));
    assert_eq!(settle(&pull_out(512, under(), 20.0)).chosen[0].length, mm(450));
}

#[test]
fn short_openings_get_what_takes_the_things_or_say_why_not() {
    // A thing 400 deep on a platform as long as its slide needs 400; the opening takes just that.
    let mut design = pull_out(410, None, 20.0);
    design.things.values_mut().for_each(|it| it.size.2 = mm(400));
    assert_eq!(settle(&design).chosen[0].length, mm(400));
    design.things.values_mut().for_each(|it| it.size.2 = mm(401));
    let settled = settle(&design);
    assert_eq!(settled.chosen, Vec::new());
    assert!(matches!(solve(&settled.design), Err(SolveError::Conflicts(_))));
    // Turned by a quarter it fits after all.
    design.things.values_mut().for_each(|it| it.may_turn = true);
    design.things.values_mut().for_each(|it| it.size.0 = mm(300));
    assert_eq!(settle(&design).chosen[0].length, mm(400));
}

#[test]
fn bays_are_chosen_one_by_one_and_heavy_loads_get_the_highest_class() {
    let by = |slide: Option<&str>| Holding::PullOut { slide: slide.map(str::to_owned), board: None, strips: None };
    let mut design = design_of(across(
        "all",
        vec![holds("light", &["tin"], by(Some("runner"))), holds("heavy", &["safe"], by(None))],
    ));
    design.fittings.insert("runner".to_owned(), Fitting::Usual(Usual::plain(UNDER_SLIDE)));
    design.things.insert("tin".to_owned(), thing(100, 100, 100));
    design.things.insert("safe".to_owned(), thing(100, 100, 100));
    design.things["safe"].load_kg = 500.0;
    let settled = settle(&design);
    let words: Vec<_> = settled.chosen.iter().map(|it| (it.bay.as_str(), it.of.as_str(), it.class_kg)).collect();
    assert_eq!(words, [("light", UNDER_SLIDE, 30.0), ("heavy", SIDE_SLIDE, 68.0)]);
}

#[test]
fn a_thing_that_must_lie_lengthwise_gets_slides_so_long() {
    let mut design = pull_out(480, None, 8.0);
    // Clear width 380: the crate of 400 x 300 and 25.4 beside the platform go in turned only, and turned it is 400 deep.
    design.carcass.envelope.width = crate::design::Extent::Fixed(mm(380 + 2 * 18));
    assert!(solve(&settle(&design).design).is_err(), "not without turning");
    design.things.values_mut().for_each(|it| it.may_turn = true);
    let settled = settle(&design);
    let layout = solve(&settled.design).expect("turned, it goes in").layout;
    assert!(layout.things.iter().all(|it| it.turned));
    assert!(settled.chosen.iter().all(|it| it.length >= mm(400)), "{:?}", settled.chosen);
    assert_eq!(settled.chosen.len(), 1);
}

#[test]
fn what_else_contradicts_is_not_told_with_things_that_need_not_lie_so() {
    let mut design = pull_out(480, None, 8.0);
    design.carcass.envelope.width = crate::design::Extent::Fixed(mm(380 + 2 * 18));
    design.things.values_mut().for_each(|it| it.may_turn = true);
    design.carcass.envelope.height = crate::design::Extent::Fixed(mm(200));
    let Err(SolveError::Conflicts(conflicts)) = solve(&settle(&design).design) else { panic!("too low") };
    assert!(conflicts.iter().all(|it| it.what.contains("over the height")), "{conflicts:?}");
}
