//! The formulas of slides and hinges against figures worked by hand or published.

use super::{
    SlideWish, box_on_side_slides, box_on_under_slides, choose_slide, hinges_by_tables, library, rest_of_opening,
    slide_set_back,
};
use crate::design::SlideMount;
use crate::holding::{BOX_PLAY_ABOVE, BOX_PLAY_BELOW, SLIDE_SET_BACK, UNDER_BOTTOM_RECESS, UNDER_SHORTER};
use crate::length::Length;

#[track_caller]
fn check(have: f64, want: f64) {
    assert!((have - want).abs() < 1e-9, "{have}, not {want}");
}

#[test]
fn box_on_side_mounted_slides_is_the_opening_less_two_slides() {
    let data = &library().unwrap().slides.side_mounted;
    // Box width = opening - 2 x 12.7: published as opening - 25.4 (1 in).
    let size = box_on_side_slides(data, 564.0, 150.0, 450.0);
    check(size.width, 564.0 - 25.4);
    // At least half an inch lower than its opening.
    check(size.height, 137.0);
    check(size.depth, 450.0);
}

#[test]
fn box_on_under_mounted_slides_is_42_narrower_inside() {
    let data = &library().unwrap().slides.under_mounted;
    // Published equivalents: 16 mm sides make the outside opening - 10 (3/8 in), 12.7 mm sides opening - 16.6 (5/8 in).
    check(box_on_under_slides(data, 564.0, 16.0, 150.0, 450.0).unwrap().width, 554.0);
    check(box_on_under_slides(data, 564.0, 12.7, 150.0, 450.0).unwrap().width, 547.4);
    check(box_on_under_slides(data, 564.0, 16.0, 150.0, 450.0).unwrap().depth, 440.0);
    assert_eq!(box_on_under_slides(data, 564.0, 19.0, 150.0, 450.0), None);
}

#[test]
fn slides_stand_back_behind_the_front_edge() {
    let data = &library().unwrap().slides.side_mounted;
    check(slide_set_back(data, None), 3.0);
    check(slide_set_back(data, Some(19.0)), 22.0);
    check(rest_of_opening(data, 560.0, None, 500.0), 57.0);
}

#[test]
fn the_program_builds_by_the_same_figures() {
    let data = &library().unwrap().slides;
    let mm = Length::from_mm_f64;
    assert_eq!(mm(data.side_mounted.set_back.0), SLIDE_SET_BACK);
    assert_eq!(mm(data.side_mounted.less_high.0), BOX_PLAY_BELOW + BOX_PLAY_ABOVE);
    assert_eq!(mm(data.under_mounted.shorter.0), UNDER_SHORTER);
    assert_eq!(mm(data.under_mounted.bottom_recess.0), UNDER_BOTTOM_RECESS);
}

#[test]
fn the_slide_is_chosen_by_depth_load_and_reach() {
    let data = &library().unwrap().slides;
    let wish = SlideWish {
        mount: SlideMount::Side,
        length: None,
        load_class_kg: None,
        clear_depth: 560.0,
        inset_front: None,
        load_kg: 20.0 + 3.0,
        reach: 400.0,
    };
    let choice = choose_slide(data, &wish).unwrap();
    check(choice.length, 550.0);
    check(choice.load_class_kg, 25.0);
    check(choice.rest, 7.0);
    assert!(!choice.full_extension, "three quarters of 550 are 412");
    let deep = SlideWish { reach: 500.0, inset_front: Some(19.0), load_kg: 50.0, ..wish };
    let choice = choose_slide(data, &deep).unwrap();
    check(choice.length, 500.0);
    check(choice.load_class_kg, 68.0);
    assert!(choice.full_extension);
    // Under-mounted: depth inside = nominal + 13 at least.
    let under = SlideWish { mount: SlideMount::Under, clear_depth: 513.0, ..wish };
    check(choose_slide(data, &under).unwrap().length, 500.0);
    check(choose_slide(data, &SlideWish { clear_depth: 512.0, ..under }).unwrap().length, 450.0);
    assert_eq!(choose_slide(data, &SlideWish { load_kg: 90.0, ..wish }), None);
    assert_eq!(choose_slide(data, &SlideWish { clear_depth: 200.0, ..wish }), None);
}

#[test]
fn hinges_follow_the_published_charts() {
    let data = &library().unwrap().hinges.cup_hinge;
    // Mass, height, width and the count that the strictest of the charts gives (heights from memory).
    for (mass, height, width, count) in [
        (4.0, 700.0, 450.0, Some(2)),
        (6.0, 700.0, 450.0, Some(3)),
        (9.0, 700.0, 450.0, Some(3)),
        (14.0, 1200.0, 450.0, Some(4)),
        (21.0, 1200.0, 450.0, Some(5)),
        (4.0, 1500.0, 450.0, Some(3)),
        (4.0, 1900.0, 450.0, Some(4)),
        (4.0, 700.0, 640.0, Some(3)),
        (25.0, 700.0, 450.0, None),
    ] {
        assert_eq!(hinges_by_tables(data, mass, height, width), count, "{mass} kg, {height} x {width}");
    }
}

#[test]
fn every_figure_names_its_source() {
    let files = [
        include_str!("../../../../assets/fittings/slides.ron"),
        include_str!("../../../../assets/fittings/hinges.ron"),
        include_str!("../../../../assets/fittings/sundries.ron"),
    ];
    for text in files {
        assert!(text.contains("check your maker's sheet"));
        for line in text.lines().filter(|line| line.trim_start().starts_with(|it: char| it.is_ascii_lowercase())) {
            // Groups open a bracket and name nothing; every other line carries a text.
            assert!(line.contains('"') || line.trim_end().ends_with(['(', '[']), "no source: {line}");
        }
    }
}
