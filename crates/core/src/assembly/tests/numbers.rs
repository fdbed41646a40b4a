//! Part numbers: stable and unique.

use super::*;
use crate::design::{Back, Inside, Opens, Shell, Want};
use crate::sample::{across, bay, cabinet, design_of, holds, open, pull_out, thing, up};

#[test]
fn a_cabinet_as_a_parts_list() {
    insta::assert_snapshot!(list(&built(&cabinet()).1), @r"
    SL: left side, 800 x 541 x 18
    SR: right side, 800 x 541 x 18
    UP-left: upright right of left, 764 x 541 x 18
    BO: bottom, 864 x 541 x 18
    TO: top, 864 x 541 x 18
    SH-books: shelf over books, 541 x 330.5 x 18
    LS-books.1: loose shelf 1 in books, 541 x 328.5 x 18
    FR-odds: drawer front of odds, 353 x 182.5 x 19
    FR-crates: door of crates, 794 x 538 x 19
    DL-odds: left side of drawer odds, 450 x 147 x 16
    DR-odds: right side of drawer odds, 450 x 147 x 16
    DF-odds: front end of drawer odds, 273.1 x 147 x 16
    DB-odds: rear end of drawer odds, 273.1 x 147 x 16
    DO-odds: bottom of drawer odds, 428 x 283.1 x 4
    PF-crates: platform crates, 509.5 x 440 x 18
    TL-crates: left strip of platform crates, 440 x 40 x 18
    TR-crates: right strip of platform crates, 440 x 40 x 18
    ");
}

#[test]
fn unrelated_changes_leave_numbers_alone() {
    let (_, before) = built(&cabinet());
    let mut design = cabinet();
    design.carcass.construction.back = Back::Grooved { set_back: mm(10), depth: mm(6) };
    let Inside::Across { bays, .. } = &mut design.carcass.bay.inside else { panic!() };
    bays.insert(0, open("new", 2));
    bays[2].width = Want::AtLeast(mm(420));
    let (_, after) = built(&design);
    for number in numbers(&before) {
        let (old, new) = (part(&before, number), part(&after, number));
        assert_eq!((old.role, &old.name), (new.role, &new.name), "{number}");
    }
}

#[test]
fn numbers_are_unique_even_with_names_made_to_clash() {
    let boxed = |name: &str, inside| {
        bay(name, Inside::Boxed { shell: Shell { gap: None, construction: None, joint: None }, bay: Box::new(inside) })
    };
    let bays = vec![
        open("a b", 2),
        open("a-b", 2).behind(Opens::Pair),
        open("a-b.L", 0).behind(Opens::HingedLeft),
        boxed("box", open("in box", 1)),
        boxed("other box", up("in other", vec![open("low", 0), open("high", 0)])),
    ];
    let mut design = design_of(across("whole", bays));
    design.carcass.construction.back = Back::Applied;
    let (_, assembly) = built(&design);
    let mut all = numbers(&assembly);
    let count = all.len();
    all.sort_unstable();
    all.dedup();
    assert_eq!(all.len(), count, "{all:?}");
    for number in ["SL", "SR", "BO", "TO", "BK", "SL-box", "BK-other-box", "SH-low", "UP-a b", "UP-a-b", "LS-a b.2"] {
        part(&assembly, number);
    }
}

#[test]
fn a_bay_can_be_renamed_without_touching_others() {
    let with_name = |name: &str| {
        let mut design =
            design_of(across("whole", vec![open("books", 1), holds(name, &["crate"], pull_out("side 450", None))]));
        design.things.insert("crate".to_owned(), thing(300, 220, 400));
        numbers(&built(&design).1).into_iter().map(str::to_owned).collect::<Vec<_>>()
    };
    let (a, b) = (with_name("one"), with_name("two"));
    let changed: Vec<_> = a.iter().zip(&b).filter(|(a, b)| a != b).map(|(a, _)| a.as_str()).collect();
    assert_eq!(changed, ["PF-one"]);
}
