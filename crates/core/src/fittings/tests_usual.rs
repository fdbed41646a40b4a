//! Entries that refer to the library.

use super::{CUP_HINGE, SIDE_SLIDE, UNDER_SLIDE, full, library, usual_names};
use crate::design::{Extension, Fitting, Slide, SlideMount, Usual};
use crate::length::Length;

const fn mm(value: i64) -> Length {
    Length::from_mm(value)
}

#[track_caller]
fn check(usual: &Usual<Length>, expected: &Fitting<Length>) {
    assert_eq!(full(usual).unwrap().as_ref(), Some(expected));
}

#[track_caller]
fn refused(usual: &Usual<Length>, expected: &[&str]) {
    let faults = full(usual).unwrap_err();
    let said: Vec<String> = faults.iter().map(|it| format!("{}: {}; {}", it.field, it.cause, it.mend)).collect();
    assert_eq!(said, expected);
}

#[test]
fn usual_slides_have_the_figures_of_common_practice() {
    let slide = |mount, space, height, length, load_kg| {
        Fitting::Slide(Slide {
            mount,
            length: mm(length),
            side_space: Length::from_um(space),
            height: mm(height),
            load_kg,
            extension: Extension::Full,
        })
    };
    // Half an inch a side (common practice); inside of the box = opening - 42 (published).
    let side = Usual { length: Some(mm(500)), load_kg: Some(45.0), ..Usual::plain(SIDE_SLIDE) };
    check(&side, &slide(SlideMount::Side, 12_700, 45, 500, 45.0));
    let under = Usual { length: Some(mm(450)), load_kg: Some(30.0), ..Usual::plain(UNDER_SLIDE) };
    check(&under, &slide(SlideMount::Under, 21_000, 27, 450, 30.0));
    // What the design gives goes before.
    let own = Usual { side_space: Some(mm(13)), height: Some(mm(35)), ..side };
    check(&own, &slide(SlideMount::Side, 13_000, 35, 500, 45.0));
    assert_eq!(full(&Usual::plain(SIDE_SLIDE)), Ok(None), "left to the program");
}

#[test]
fn usual_hinges_and_handles_have_the_figures_of_the_library() {
    let Ok(Some(Fitting::Hinge(hinge))) = full(&Usual { opens_deg: Some(95.0), ..Usual::plain(CUP_HINGE) }) else {
        panic!()
    };
    // Published drilling tables: a cup of 35 mm.
    assert_eq!((hinge.cup, hinge.cup_depth, hinge.opens_deg), (mm(35), mm(13), 95.0));
    // Multiples of 32 (common practice); 128 if nothing is said.
    let Ok(Some(Fitting::Handle(bar))) = full(&Usual::plain("bar handle")) else { panic!() };
    assert_eq!((bar.holes_apart, bar.stands_out), (Some(mm(128)), mm(35)));
    let Ok(Some(Fitting::Handle(knob))) = full(&Usual::plain("knob")) else { panic!() };
    assert_eq!((knob.holes_apart, knob.stands_out), (None, mm(28)));
}

#[test]
fn what_is_not_usual_is_told_with_the_nearest() {
    refused(
        &Usual::plain("side mounted slide"),
        &["of: there is no usual fitting called \"side mounted slide\"; did you mean \"side-mounted slide\"?"],
    );
    refused(
        &Usual::plain("wheel"),
        &[
            "of: there is no usual fitting called \"wheel\"; known: side-mounted slide, under-mounted slide, cup hinge, bar handle, knob, lid stay, cord, piston damper, gas strut 50, gas strut 100, gas strut 150, angle bracket 40, angle bracket 60, angle bracket 100",
        ],
    );
    refused(
        &Usual { length: Some(mm(480)), load_kg: Some(40.0), cup: Some(mm(35)), ..Usual::plain(UNDER_SLIDE) },
        &[
            "cup: a usual under-mounted slide has no `cup`; delete it; fields here: length, load_kg, extension, side_space, height",
            "length: 480 mm is not among the usual ones; write 500 mm, or your maker's figures in full; usual are 250, 300, 350, 400, 450, 500, 550, 600 mm",
            "load_kg: 40 kg is not among the usual ones; write 30 kg, or your maker's figures in full; usual are 30, 50 kg",
        ],
    );
    refused(
        &Usual { length: Some(mm(200)), ..Usual::plain("cord") },
        &["length: a usual cord has no `length`; delete it, or write the fitting with your maker's figures in full"],
    );
    refused(
        &Usual { holes_apart: Some(mm(96)), ..Usual::plain("knob") },
        &["holes_apart: a usual knob has a single hole; delete it, or write Handle(...) with your maker's figures"],
    );
}

#[test]
fn every_name_of_the_library_resolves() {
    for name in usual_names(library().unwrap()) {
        assert!(full(&Usual::plain(&name)).is_ok(), "{name}");
    }
}
