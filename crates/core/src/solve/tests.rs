//! Solving small designs: sizes, closing, conflicts, mends, reasons and choices.

use super::*;
use crate::design::resolve::map_lengths;
use crate::design::{Design, Role};
use crate::expr::Scope;
use crate::geometry::Direction;
use crate::unit::DecimalMark;

/// A design with 18 mm boards and the given carcass and things.
fn design(things: &str, carcass: &str) -> Design {
    let text = format!(
        "(schema: 1, title: \"t\", unit: Millimetre(step: 0.5), things: {{{things}}},
          materials: {{\"ply\": (thickness: 18, kind: Plywood), \"thin\": (thickness: 6, kind: Plywood)}},
          fittings: {{\"slide\": Slide(mount: Side, length: 500, side_space: 12.7, height: 45, load_kg: 40)}},
          carcass: ({carcass}))"
    );
    let options = ron::Options::default().with_default_extension(
        ron::extensions::Extensions::IMPLICIT_SOME
            | ron::extensions::Extensions::UNWRAP_NEWTYPES
            | ron::extensions::Extensions::UNWRAP_VARIANT_NEWTYPES,
    );
    options.from_str(&text).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

fn resolved(design: &Design) -> Resolved {
    let scope = Scope::empty(design.unit);
    map_lengths(design, &mut |dim, path, _| dim.eval(&scope).unwrap_or_else(|error| panic!("{path}: {error}")))
}

const ENVELOPE: &str =
    "envelope: (width: Fixed(1000), height: Fixed(800), depth: Fixed(500)), construction: (board: \"ply\")";
const DRYER: &str =
    "\"dryer\": (size: (595, 650, 400), mass_kg: 30, air: (sides: 20, top: 10, rear: 50), access: Open)";

/// Clear sizes of all bays, as text.
fn openings(things: &str, carcass: &str) -> String {
    let design = resolved(&design(things, carcass));
    let solved = solve(&design).unwrap_or_else(|error| panic!("{error}"));
    let mut out = Vec::new();
    for bay in &solved.layout.bays {
        let size = Axis::ALL.map(|axis| design.unit.format(bay.clear.size(axis), DecimalMark::Point));
        out.push(format!("{} {} x {} x {}", bay.name, size[0], size[1], size[2]));
    }
    out.join("; ")
}

fn check(things: &str, carcass: &str, expected: &str) {
    assert_eq!(openings(things, carcass), expected);
}

fn conflicts(things: &str, carcass: &str) -> (Design, Vec<Conflict>) {
    let design = design(things, carcass);
    let outcome = solve(&resolved(&design)).map(|_| ());
    match outcome {
        Err(SolveError::Conflicts(found)) => (design, found),
        other => panic!("no conflict: {other:?}"),
    }
}

#[test]
fn an_empty_box_is_its_envelope_less_its_boards() {
    check("", &format!("{ENVELOPE}, bay: (name: \"a\", inside: Open())"), "a 964 x 764 x 500");
}

#[test]
fn three_equal_bays_round_positions_and_close() {
    let bays = "bay: (name: \"all\", inside: Across(bays: [(name: \"a\", inside: Open()), (name: \"b\", inside: Open()), (name: \"c\", inside: Open())]))";
    // (964 - 36) / 3 = 309.33..: positions are rounded, so the sizes differ by a step and the sum closes.
    check(
        "",
        &format!("{ENVELOPE}, {bays}"),
        "all 964 x 764 x 500; a 309.5 x 764 x 500; b 309 x 764 x 500; c 309.5 x 764 x 500",
    );
}

#[test]
fn a_bay_keeps_close_to_what_it_holds_and_open_space_takes_the_rest() {
    let bays = "bay: (name: \"all\", inside: Across(bays: [
        (name: \"machine\", inside: Holds(things: [\"dryer\"], by: Standing)), (name: \"free\", inside: Open())]))";
    check(DRYER, &format!("{ENVELOPE}, {bays}"), "all 964 x 764 x 500; machine 635 x 764 x 500; free 311 x 764 x 500");
}

#[test]
fn shares_divide_what_fixed_bays_leave() {
    let bays = "bay: (name: \"all\", inside: Up(bays: [
        (name: \"low\", share: 2, inside: Open()), (name: \"mid\", height: Fixed(128), inside: Open()), (name: \"top\", inside: Open())]))";
    check(
        "",
        &format!("{ENVELOPE}, {bays}"),
        "all 964 x 764 x 500; low 964 x 400 x 500; mid 964 x 128 x 500; top 964 x 200 x 500",
    );
}

#[test]
fn ties_make_equal_sizes_and_lines() {
    let bays = "bay: (name: \"all\", inside: Across(bays: [
        (name: \"left\", inside: Up(bays: [(name: \"a\", height: Fixed(200.3), inside: Open()), (name: \"b\", inside: Open())])),
        (name: \"right\", inside: Up(bays: [(name: \"c\", inside: Open()), (name: \"d\", inside: Open())]))])),
        ties: [InLine(edge: Upper, bays: [\"a\", \"c\"])]";
    let got = openings("", &format!("{ENVELOPE}, {bays}"));
    assert!(got.contains("a 473 x 200.3 x 500") && got.contains("c 473 x 200.3 x 500"), "{got}");
}

#[test]
fn a_tie_that_rounding_leaves_a_step_apart_is_noted() {
    let bays =
        "bay: (name: \"all\", inside: Across(bays: [(name: \"a\", inside: Open()), (name: \"b\", inside: Open())])),
        ties: [SameWidth([\"a\", \"b\"])]";
    let carcass = format!("{ENVELOPE}, {bays}").replace("Fixed(1000)", "Fixed(1000.5)");
    let design = resolved(&design("", &carcass));
    let solved = solve(&design).unwrap_or_else(|error| panic!("{error}"));
    let notes = solved.notes();
    let [note] = notes.as_slice() else { panic!("{notes:?}") };
    assert!(note.what.ends_with("473 mm and 473.5 mm") || note.what.ends_with("473.5 mm and 473 mm"), "{}", note.what);
    assert_eq!(note.measured.as_deref(), Some("0.5 mm"));
}

#[test]
fn boxes_have_shells_of_their_own() {
    let bays = "own_shell: false, bay: (name: \"all\", inside: Across(by: Nothing, bays: [
        (name: \"one\", inside: Boxed(bay: (name: \"a\", inside: Open()))),
        (name: \"two\", inside: Boxed(shell: (gap: 2), bay: (name: \"b\", inside: Open())))]))";
    let got = openings("", &format!("{ENVELOPE}, {bays}"));
    assert_eq!(
        got,
        "all 1000 x 800 x 500; one 500 x 800 x 500; a 464 x 764 x 500; two 500 x 800 x 500; b 460 x 760 x 500"
    );
}

#[test]
fn overlay_fronts_and_backs_take_their_depth() {
    let carcass = "envelope: (width: Fixed(1000), height: Fixed(800), depth: Fixed(500)),
        construction: (board: \"ply\", boards: {Back: \"thin\"}, back: Inset(set_back: 10)),
        bay: (name: \"a\", inside: Open(), front: (opens: HingedLeft))";
    check("", carcass, "a 964 x 764 x 466");
}

#[test]
fn stand_and_worktop_are_part_of_the_height() {
    let carcass = format!(
        "{ENVELOPE}, stand: Plinth(height: 100, set_back: 50), worktop: (board: \"ply\"), bay: (name: \"a\", inside: Open())"
    );
    check("", &carcass, "a 964 x 646 x 500");
}

#[test]
fn too_much_over_the_height_is_said_with_the_sum_and_mended() {
    let bays = "bay: (name: \"all\", inside: Up(bays: [
        (name: \"machine\", inside: Holds(things: [\"dryer\"], by: Standing)), (name: \"drawer\", height: Fixed(99), inside: Open())]))";
    let (design, found) = conflicts(DRYER, &format!("{ENVELOPE}, {bays}"));
    let [conflict] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!(
        conflict.what,
        "13 mm too much over the height: the height of the envelope is fixed at 800 mm; what bay \"machine\" holds needs a \
         height of 660 mm (dryer 650 mm + air above dryer 10 mm); the height of bay \"drawer\" is fixed at 99 mm; boards, \
         stand and gaps between them take 54 mm"
    );
    let words: Vec<&str> = conflict.mends.iter().map(|mend| mend.words.as_str()).collect();
    assert_eq!(
        words,
        [
            "make the height of the envelope 813 mm instead of 800 mm",
            "dryer with 13 mm less height, air and fittings included, would fit in bay \"machine\"",
            "make the height of bay \"drawer\" 86 mm instead of 99 mm",
        ]
    );
    for mend in &conflict.mends {
        if let Some(Change::Length { field, to }) = &mend.change {
            let mended = crate::design::resolve::with_length(&design, field, to).expect("the field is there");
            assert!(solve(&resolved(&mended)).is_ok(), "{}", mend.words);
        }
    }
}

#[test]
fn conflicts_on_several_axes_are_all_reported() {
    let carcass =
        "envelope: (width: Fixed(500), height: Fixed(300), depth: Fixed(300)), construction: (board: \"ply\"),
        bay: (name: \"machine\", inside: Holds(things: [\"dryer\"], by: Standing))";
    let (_, found) = conflicts(DRYER, carcass);
    assert_eq!(found.iter().map(|it| it.axis).collect::<Vec<_>>(), Axis::ALL);
}

#[test]
fn a_thing_turns_when_only_that_fits() {
    let carcass = format!("{ENVELOPE}, bay: (name: \"all\", inside: Across(bays: [
        (name: \"narrow\", width: Fixed(410), inside: Holds(things: [\"crate\"], by: Standing)), (name: \"b\", inside: Open())]))");
    let design = resolved(&design(
        "\"crate\": (size: (600, 300, 400), may_turn: true)",
        &carcass.replace("Fixed(500)", "Fixed(620)"),
    ));
    let solved = solve(&design).unwrap_or_else(|error| panic!("{error}"));
    assert!(solved.layout.things[0].turned);
    assert_eq!(solved.layout.things[0].cuboid.size(Axis::X), Length::from_mm(400));
    assert_eq!(solved.layout.choices[0].taken, "\"crate\"");
}

/// The sheets are shorter than the envelope is wide; the thing is wider than both.
#[test]
fn what_is_wider_than_the_envelope_is_not_blamed_on_the_boards() {
    let text = |width: &str| {
        let carcass = format!("{ENVELOPE}, bay: (name: \"all\", inside: Holds(things: [\"chest\"], by: Standing))");
        let mut design = design(&format!("\"chest\": (size: ({width}, 300, 400))"), &carcass);
        let sheet = "(name: \"sheet\", material: \"ply\", size: (900, 600))";
        let options = ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        design.boards.push(options.from_str(sheet).unwrap_or_else(|error| panic!("{error}")));
        match solve(&resolved(&design)).map(|_| ()) {
            Err(SolveError::Conflicts(found)) => found,
            other => panic!("no conflict: {other:?}"),
        }
    };
    let of_width = |found: &[Conflict]| {
        let across = found.iter().filter(|it| it.axis == Axis::X);
        across.map(|it| (it.what.clone(), it.mends.len())).collect::<Vec<_>>()
    };
    let found = of_width(&text("1200"));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        found[0].0,
        "236 mm too much over the width: the width of the envelope is fixed at 1000 mm; what bay \"all\" holds needs a width \
         of 1200 mm; boards, stand and gaps between them take 36 mm"
    );
    // What would go into the envelope is the boards' matter.
    let found = of_width(&text("700"));
    assert!(found.len() == 1 && found[0].0.contains("boards of ply limit") && found[0].1 > 0, "{found:?}");
}

/// Two bays of one width fill the envelope; one is given another width, and what stands in the other may turn.
#[test]
fn where_one_change_is_not_enough_there_is_something_to_begin_with() {
    let bays = "bay: (name: \"all\", inside: Across(bays: [
        (name: \"a\", inside: Holds(things: [\"c\"], by: Standing)), (name: \"b\", width: Fixed(350), inside: Open())])),
        ties: [SameWidth([\"a\", \"b\"])]";
    let carcass = format!("{}, {bays}", ENVELOPE.replace("Fixed(1000)", "Fixed(800)"));
    // As it stands it lacks 4 mm, turned it does not: then one change is enough, and so that is told.
    let (_, found) = conflicts("\"c\": (size: (400, 300, 380), may_turn: true)", &carcass);
    assert!(found.len() == 1 && found[0].mends.iter().any(|it| it.change.is_some()), "{found:?}");
    let (mut design, found) = conflicts("\"c\": (size: (420, 300, 410), may_turn: true)", &carcass);
    let [conflict] = found.as_slice() else { panic!("{found:?}") };
    assert!(conflict.mends.is_empty(), "{conflict:?}");
    assert!(conflict.first_steps.iter().any(|it| it.change.is_some()), "{conflict:?}");
    // Taking what is offered leads on until the design can be solved.
    let mut steps = 0;
    while let Err(SolveError::Conflicts(found)) = solve(&resolved(&design)).map(|_| ()) {
        let mut offered = found.iter().flat_map(|it| it.mends.iter().chain(&it.first_steps));
        match offered.find_map(|it| it.change.as_ref()).unwrap_or_else(|| panic!("{found:?}")) {
            Change::Length { field, to } => {
                design = crate::design::resolve::with_length(&design, field, to).unwrap_or_else(|| panic!("{field}"));
            }
            Change::DropTie { .. } => design.carcass.ties.clear(),
        }
        steps += 1;
        assert!(steps < 6, "{found:?}");
    }
    assert!(steps >= 2, "{steps}");
}

#[test]
fn why_names_what_decides_and_how_far_it_goes() {
    let bays = "bay: (name: \"all\", inside: Across(bays: [
        (name: \"machine\", inside: Holds(things: [\"dryer\"], by: Standing)), (name: \"free\", inside: Open())]))";
    let design = resolved(&design(DRYER, &format!("{ENVELOPE}, {bays}")));
    let solved = solve(&design).unwrap_or_else(|error| panic!("{error}"));
    let why = solved.why(&SizeRef::Bay("free".into(), Axis::X)).unwrap().expect("there is such a bay");
    assert_eq!(why.size, Length::from_mm(311));
    assert_eq!(why.deciders[0].words, "the width of the envelope is fixed at 1000 mm");
    assert!((why.deciders[0].effect - 1.0).abs() < 1e-6);
    assert_eq!(why.least.as_ref().map(|it| it.0), Some(Length::from_mm(10)));
    assert_eq!(why.most.as_ref().map(|it| it.0), Some(Length::from_mm(311)));
}

#[test]
fn what_stands_has_its_air_inside_the_bay() {
    let bays = "bay: (name: \"machine\", inside: Holds(things: [\"dryer\"], by: Standing))";
    let design = resolved(&design(DRYER, &format!("{ENVELOPE}, {bays}")));
    let solved = solve(&design).unwrap_or_else(|error| panic!("{error}"));
    let layout = &solved.layout;
    assert!(layout.bays[0].clear.contains(&layout.things[0].with_air));
    let grown = layout.things[0].cuboid.grown(Direction::UP, Length::from_mm(10));
    assert_eq!(grown.max.y, layout.things[0].with_air.max.y);
    assert!(layout.panels.iter().all(|panel| !panel.cuboid.overlaps(&layout.things[0].with_air)));
}

#[test]
fn no_side_is_wider_than_the_salvaged_boards() {
    let carcass =
        "envelope: (width: Fixed(1000), height: Fixed(800), depth: AtMost(500)), construction: (board: \"oak\"),
        bay: (name: \"a\", inside: Open())";
    let text = design("", carcass.replace("oak", "ply").as_str());
    let mut design = text;
    design.materials.insert("oak".into(), crate::design::Material { grain: true, ..design.materials["ply"].clone() });
    design.carcass.construction.board = "oak".into();
    let size = (crate::expr::Dim::new("2000"), crate::expr::Dim::new("487"));
    design.boards.push(crate::design::Board {
        quantity: Some(4),
        source: crate::design::BoardSource::Salvaged,
        only_for: vec![Role::Side],
        ..crate::design::Board::new("old side", "oak", size)
    });
    let design = resolved(&design);
    let solved = solve(&design).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(solved.layout.envelope.size(Axis::Z), Length::from_mm(487));
}

#[test]
fn what_is_bound_to_a_stock_family_is_no_wider_than_its_boards() {
    let carcass = |depth: &str| {
        format!(
            "envelope: (width: Fixed(1000), height: Fixed(800), depth: {depth}), construction: (board: \"ply\"),
            bay: (name: \"a\", inside: Open())"
        )
    };
    let bound = |depth: &str| {
        let mut design = design("", &carcass(depth));
        let size = |text: &str| (crate::expr::Dim::new("2000"), crate::expr::Dim::new(text));
        design.carcass.construction.from_stock.insert(Role::Side, "salvaged sides".into());
        design.boards.push(crate::design::Board {
            quantity: Some(2),
            source: crate::design::BoardSource::Salvaged,
            family: "salvaged sides".into(),
            ..crate::design::Board::new("old side", "ply", size("487"))
        });
        // What else there is serves all other parts, however deep.
        design.boards.push(crate::design::Board::new("sheet", "ply", size("1200")));
        resolved(&design)
    };
    let roomy = bound("AtMost(500)");
    let solved = solve(&roomy).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(solved.layout.envelope.size(Axis::Z), Length::from_mm(487));
    // 500 - 487 = 13.
    let Err(super::SolveError::Conflicts(conflicts)) = solve(&bound("Fixed(500)")) else {
        panic!("it cannot be built")
    };
    let words = &conflicts[0].what;
    assert!(words.starts_with("the salvaged sides are 13 mm too narrow for"), "{words}");
    let mends: Vec<&str> = conflicts[0].mends.iter().map(|it| it.words.as_str()).collect();
    assert_eq!(mends, ["make the depth of the envelope 487 mm instead of 500 mm"]);
}

#[test]
fn with_ties_the_amount_is_what_the_envelope_lacks() {
    // Two columns of one width, of which one needs 499 mm: 2 x 499 + 18 + 2 x 18 = 1052 mm.
    let bays = "bay: (name: \"all\", inside: Across(bays: [
        (name: \"a\", width: AtLeast(499), inside: Open()), (name: \"b\", inside: Open())])),
        ties: [SameWidth([\"a\", \"b\"])]";
    let (_, found) = conflicts("", &format!("{ENVELOPE}, {bays}"));
    let [conflict] = found.as_slice() else { panic!("{found:?}") };
    assert!(conflict.what.starts_with("52 mm too much over the width"), "{}", conflict.what);
}

#[test]
fn two_rails_need_the_depth_of_both() {
    let carcass = "envelope: (width: Fixed(1000), height: Fixed(800), depth: Fixed(150)),
        construction: (board: \"ply\", top: Rails(width: 100)), bay: (name: \"a\", inside: Open())";
    let (design, found) = conflicts("", carcass);
    let [conflict] = found.as_slice() else { panic!("{found:?}") };
    let words: Vec<&str> = conflict.mends.iter().map(|mend| mend.words.as_str()).collect();
    assert_eq!(
        words,
        ["make the depth of the envelope 200 mm instead of 150 mm", "make the rails over bay \"a\" 75 mm wide"]
    );
    let Some(Change::Length { field, to }) = &conflict.mends[1].change else { panic!("no edit") };
    let mended = crate::design::resolve::with_length(&design, field, to).expect("the field is there");
    assert!(solve(&resolved(&mended)).is_ok());
}

#[test]
fn preferred_sizes_do_not_pull_the_envelope_off_its_extreme() {
    let bays = "bay: (name: \"all\", inside: Across(bays: [
        (name: \"a\", width: Prefer(600), inside: Open()), (name: \"b\", width: Prefer(300), inside: Open())]))";
    let carcass = |width: &str| {
        format!(
            "envelope: (width: {width}, height: Fixed(800), depth: Fixed(500)), construction: (board: \"ply\"), {bays}"
        )
    };
    // 1500 - 3 x 18 = 1446: what the wishes leave over is shared between them, and the outside stays 1500.
    check("", &carcass("AtMost(1500)"), "all 1464 x 764 x 500; a 873 x 764 x 500; b 573 x 764 x 500");
    // The least openings are 10 each, whatever they would prefer.
    check("", &carcass("Snug"), "all 38 x 764 x 500; a 10 x 764 x 500; b 10 x 764 x 500");
}
