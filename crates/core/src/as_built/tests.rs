//! Measured sizes by hand.

use super::*;
use crate::assembly::tests::part;
use crate::assembly::{Assembly, build};
use crate::design::{Board, BoardSource, Holding, MeasuredOpening, Resolved, Role};
use crate::sample::{across, design_of, holds, mm, open, thing, up};
use crate::solve::solve;

/// Two columns, the left one with a shelf: 900 wide, boards of 18, so that both columns are 423 wide.
fn sample() -> Resolved {
    design_of(across("whole", vec![up("left", vec![open("low", 0), open("high", 0)]), open("right", 0)]))
}

fn derived(design: &Resolved) -> (Vec<String>, Assembly) {
    let applied = apply(design);
    let layout = solve(&applied.design).unwrap_or_else(|error| panic!("{error}")).layout;
    let mut assembly = build(&applied.design, &layout).unwrap_or_else(|error| panic!("{error}"));
    freeze(&applied.design, &mut assembly);
    let lines = applied
        .differences
        .iter()
        .map(|it| format!("{} {}: {} -> {}, {:?}", it.of, it.which, it.planned.mm(), it.now.mm(), it.kind));
    (lines.collect(), assembly)
}

fn check(design: &Resolved, expected: &[&str]) -> Assembly {
    let (lines, assembly) = derived(design);
    assert_eq!(lines.join("\n"), expected.join("\n"));
    assembly
}

#[test]
fn nothing_measured_changes_nothing() {
    let design = sample();
    assert_eq!(apply(&design), Applied { design, differences: vec![] });
}

#[test]
fn a_shelf_cut_short_moves_the_upright() {
    let mut design = sample();
    let shelf = part(&derived(&design).1, "SH-low").finished;
    // Without grain the longer side, front to rear, is the length.
    assert_eq!((shelf.length, shelf.width), (mm(560), mm(423)));
    design.as_built.cut.insert("SH-low".to_owned(), (shelf.length, mm(420)));
    let assembly = check(&design, &[]);
    assert_eq!(part(&assembly, "SH-low").finished.width, mm(420));
    // 18 + 420 + 18 + 426 + 18 = 900.
    assert_eq!(part(&assembly, "UP-left").cuboid.min.x, mm(438));
    assert_eq!(part(&assembly, "SR").cuboid.max.x, mm(900));
}

#[test]
fn a_bottom_cut_short_makes_the_whole_narrower() {
    let mut design = sample();
    let bottom = part(&derived(&design).1, "BO").finished;
    design.as_built.cut.insert("BO".to_owned(), (bottom.length - mm(4), bottom.width));
    let assembly = check(&design, &["TO length: 864 -> 860, Follows", "SH-low width: 423 -> 421, Follows"]);
    assert_eq!(assembly.envelope.max.x - assembly.envelope.min.x, mm(896));
}

#[test]
fn thinner_boards_and_a_measured_opening() {
    let mut design = sample();
    design.as_built.openings.insert("left".to_owned(), MeasuredOpening { width: Some(mm(425)), height: None });
    check(&design, &["left width: 423 -> 425, Measured", "SH-low width: 423 -> 425, Follows"]);
    let board = design.materials.keys().find(|it| *it == "carcass board").cloned().unwrap_or_default();
    design.as_built.thickness.insert(board, mm(17));
    let (lines, assembly) = derived(&design);
    assert!(lines.contains(&"BO length: 864 -> 866, Follows".to_owned()), "{lines:?}");
    assert_eq!(part(&assembly, "SH-low").finished.width, mm(425));
}

#[test]
fn two_cut_parts_that_contradict_each_other_are_told() {
    let mut design = sample();
    let size = |number: &str| part(&derived(&sample()).1, number).finished;
    let (top, bottom) = (size("TO"), size("BO"));
    design.as_built.cut.insert("BO".to_owned(), (bottom.length - mm(2), bottom.width));
    design.as_built.cut.insert("TO".to_owned(), (top.length, top.width));
    let (lines, assembly) = derived(&design);
    assert!(lines.contains(&"BO length: 864 -> 862, DoesNotFit".to_owned()), "{lines:?}");
    assert_eq!(part(&assembly, "TO").finished.length, top.length, "cut stays cut");
    assert_eq!(part(&assembly, "BO").finished.length, bottom.length - mm(2));
}

#[test]
fn what_can_be_saved() {
    let mut design = sample();
    let (_, assembly) = derived(&design);
    let (bottom, shelf) = (part(&assembly, "BO").clone(), part(&assembly, "SH-low").clone());
    let board = |name: &str, source, size| Board { source, ..Board::new(name, bottom.material.clone(), size) };
    design.boards = vec![
        board("new", BoardSource::New, (mm(2800), mm(2070))),
        board("offcut", BoardSource::Offcut, (mm(900), mm(600))),
        board("too small", BoardSource::Offcut, (mm(800), mm(600))),
    ];
    let ways = salvage(&design, "BO", bottom.finished.length - mm(10), bottom.finished.width);
    assert!(matches!(&ways[0], Way::Adapt { changes } if changes.len() == 2), "{ways:?}");
    assert!(ways.contains(&Way::Strip { along: "width", width: mm(10) }));
    assert!(ways.contains(&Way::Becomes { part: shelf.number }));
    let again: Vec<&Way> = ways.iter().filter(|it| matches!(it, Way::CutAgain { .. })).collect();
    assert_eq!(
        again,
        [
            &Way::CutAgain { board: "offcut".to_owned(), kept: true },
            &Way::CutAgain { board: "new".to_owned(), kept: false }
        ]
    );
}

#[test]
fn a_bound_part_is_cut_again_from_its_family_only() {
    let mut design = sample();
    let (_, assembly) = derived(&design);
    let side = part(&assembly, "SL").clone();
    let board = |name: &str, family: &str| Board {
        source: BoardSource::Salvaged,
        family: family.to_owned(),
        ..Board::new(name, side.material.clone(), (mm(2800), mm(700)))
    };
    design.boards = vec![board("door", ""), board("old side", "wardrobe"), board("kitchen", "others")];
    design.carcass.construction.from_stock.insert(Role::Side, "wardrobe".to_owned());
    let again: Vec<Way> = salvage(&design, "SL", side.finished.length - mm(30), side.finished.width)
        .into_iter()
        .filter(|it| matches!(it, Way::CutAgain { .. }))
        .collect();
    assert_eq!(again, [Way::CutAgain { board: "old side".to_owned(), kept: true }]);
}

#[test]
fn slides_that_are_left_open_do_not_hide_the_ways_out() {
    let by = Holding::PullOut { slide: None, board: None, strips: None };
    let mut design = design_of(holds("crates", &["crate"], by));
    design.things.insert("crate".to_owned(), thing(400, 270, 300));
    let settled = crate::slides::settle(&design).design;
    let (_, assembly) = derived(&settled);
    let side = part(&assembly, "SL").clone();
    let new = Board { source: BoardSource::New, ..Board::new("new", side.material.clone(), (mm(2800), mm(2070))) };
    design.boards = vec![new];
    let ways = salvage(&design, "SL", side.finished.length - mm(4), side.finished.width);
    assert!(ways.contains(&Way::CutAgain { board: "new".to_owned(), kept: false }), "{ways:?}");
}
