//! The formulas of slides and hinges against figures worked by hand or published.

use super::{
    SlideWish, choose_slide, heaviest_door, hinges_by_height, hinges_by_mass, library, rest_of_opening, slide_set_back,
};
use crate::design::SlideMount;
use crate::mechanics::Trust;

#[track_caller]
fn check(have: f64, want: f64) {
    assert!((have - want).abs() < 1e-9, "{have}, not {want}");
}

#[test]
fn slides_stand_back_behind_the_front_edge() {
    let data = &library().unwrap().slides.side_mounted;
    check(slide_set_back(data, None), 3.0);
    check(slide_set_back(data, Some(19.0)), 22.0);
    check(rest_of_opening(data, 560.0, None, 500.0), 57.0);
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
    // Mass, width and the count that the strictest of the charts gives. Maker's table: 4 to 6 kg two, 6 to 12 kg three, one
    // more over 600 wide. Chart: 15 lb a step, 27.2 kg the last. Guide: 5, 9, 15, 22 kg.
    for (mass, width, count) in [
        (4.0, 450.0, Some(2)),
        (5.0, 450.0, Some(2)),
        (5.5, 600.0, Some(3)),
        (5.5, 601.0, Some(4)),
        (9.0, 450.0, Some(3)),
        (9.1, 450.0, Some(4)),
        (14.0, 450.0, Some(4)),
        (21.0, 450.0, Some(5)),
        (22.1, 450.0, Some(5)),
        (27.3, 450.0, None),
    ] {
        assert_eq!(hinges_by_mass(data, mass, width), count, "{mass} kg, {width} wide");
    }
    check((heaviest_door(data) * 10.0).floor(), 272.0);
    // Heights (from memory).
    assert_eq!([800.0, 1500.0, 2000.0, 2400.0, 2500.0].map(|it| hinges_by_height(data, it)), [2, 3, 4, 5, 6]);
}

#[test]
fn a_figure_is_trusted_as_far_as_its_words_say() {
    let foot = &library().unwrap().sundries.feet[0].load_n;
    assert_eq!((foot.0, foot.source().trust), (1000.0, Trust::FromMemory));
    assert!(!foot.source().may_decide());
    let hinge = &library().unwrap().hinges.cup_hinge;
    assert_eq!(hinge.by_mass[0].source().trust, Trust::Published);
    assert_eq!(hinge.plate_holes.source().trust, Trust::CommonPractice);
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
