//! Plans of the examples checked by hand-written rules that share nothing with the planning; tables and old cabinets.

use std::collections::BTreeSet;

use casewright_core::Length;
use casewright_core::assembly::PartEdge;
use casewright_core::design::{Board, BoardSource, Design, Least, Role, Tie};
use casewright_core::pipeline::{Derived, derive};
use casewright_core::stock::{CuttingPlan, Goods, Quality, buying, matched_rows, remains};
use casewright_core::unit::Unit;
use casewright_cutting::Effort;

#[path = "../../../tests/src/sound_plan.rs"]
#[allow(unreachable_pub, reason = "shared with the tests that cross crates")]
mod sound_plan;

use sound_plan::sound;

use crate::{PlanOptions, plan, read_box, read_table, write_table};

const LAUNDRY: &str = include_str!("../../../demo/laundry-alcove.ron");
const SALVAGED: &str = include_str!("../../../demo/salvaged-office.ron");
const BOOKCASE: &str = include_str!("../../../demo/alcove-bookcase.ron");

fn derived(text: &str) -> Derived {
    let design = Design::from_ron(text).unwrap_or_else(|faults| panic!("{faults:?}"));
    derive(&design).unwrap_or_else(|error| panic!("{error}"))
}

fn planned(work: &Derived) -> CuttingPlan {
    let options = PlanOptions { effort: Effort::work(20_000_000), ..PlanOptions::default() };
    let plan = plan(&work.design, &work.assembly, &options).unwrap_or_else(|error| panic!("{error}"));
    sound(work, &plan);
    plan
}

#[test]
fn plans_of_the_examples_are_sound() {
    for text in [LAUNDRY, BOOKCASE] {
        let work = derived(text);
        let plan = planned(&work);
        assert_eq!(plan.missing(), Vec::<usize>::new());
        assert!(plan.lots.iter().all(|lot| !matches!(lot.quality, Quality::Impossible(_) | Quality::Unplaced(_))));
        // What remains is stock again: no board of it is larger than what it came from.
        for rest in remains(&work.design, &plan).iter().filter(|it| it.name.starts_with("rest of")) {
            assert!(rest.size.0 > Length::ZERO && rest.size.1 > Length::ZERO, "{}", rest.name);
        }
    }
    // Other aims and saws must be sound too.
    for (least, kerf) in [(Least::Boards, 0), (Least::Area, 5_000_000)] {
        let mut work = derived(LAUNDRY);
        work.design.saw.least = least;
        work.design.saw.kerf = Some(Length::from_nm(kerf));
        assert_eq!(planned(&work).missing(), Vec::<usize>::new());
    }
}

/// Checks by positions on the board alone, as they hang: the row must be cut from one board in the order of the fronts.
#[test]
fn matched_fronts_are_cut_side_by_side_in_their_order() {
    let text = LAUNDRY;
    let mut work = derived(text);
    let fronts: Vec<usize> = (0..work.assembly.parts.len())
        .filter(|it| work.assembly.parts[*it].role == casewright_core::design::Role::Front)
        .collect();
    let mut pairs = 0;
    for (n, &a) in fronts.iter().enumerate() {
        for &b in &fronts[n + 1..] {
            let (one, other) = (&work.assembly.parts[a], &work.assembly.parts[b]);
            if one.material != other.material || one.bay == other.bay {
                continue;
            }
            let bays = vec![one.bay.clone(), other.bay.clone()];
            let upwards = (one.cuboid.min.y - other.cuboid.min.y).abs() > (one.cuboid.min.x - other.cuboid.min.x).abs();
            work.design.carcass.ties = vec![Tie::GrainMatch(bays)];
            let row = matched_rows(&work.design, &work.assembly.parts).remove(0);
            let way = |it: &casewright_core::assembly::Part| (it.world_from_part.length, it.world_from_part.width);
            if way(one) != way(other) {
                assert!(row.trouble.ends_with("the grain of the fronts runs in different directions"));
                continue;
            }
            assert_eq!(row.trouble, "");
            let plan = planned(&work);
            assert_eq!(plan.missing(), Vec::<usize>::new());
            let places: Vec<_> = row.parts.iter().map(|it| plan.place_of(*it).expect("a place")).collect();
            assert!(places.iter().all(|it| it.0.title() == places[0].0.title()), "one board");
            for pair in places.windows(2) {
                let (left, right) = (pair[0].1, pair[1].1);
                let beside = right.x == left.x + left.length + plan.kerf && right.y == left.y;
                let over = right.y == left.y + left.width + plan.kerf && right.x == left.x;
                // Grain of doors stands upright, so that fronts over each other run on along their lengths.
                let along = work.assembly.parts[a].world_from_part.length.axis == casewright_core::geometry::Axis::Y;
                assert!(if upwards == along { beside } else { over }, "{left:?} {right:?}");
            }
            pairs += 1;
        }
    }
    assert!(pairs > 0);
}

#[test]
fn a_grain_match_without_two_fronts_is_noted() {
    let mut work = derived(SALVAGED);
    let bays: Vec<String> = work.assembly.parts.iter().map(|it| it.bay.clone()).take(2).collect();
    work.design.carcass.ties = vec![Tie::GrainMatch(bays.clone())];
    let plan = planned(&work);
    assert!(
        plan.notes.contains(&format!("no grain match of {}: there are not two fronts", bays.join(", "))),
        "{:?}",
        plan.notes
    );
}

#[test]
fn the_salvaged_boards_are_one_shelf_short() {
    let work = derived(SALVAGED);
    let plan = planned(&work);
    let numbers = |it: &[usize]| it.iter().map(|i| work.assembly.parts[*i].name.clone()).collect::<Vec<_>>();
    let missing = plan.missing();
    assert_eq!(missing.len(), 1, "{:?}", numbers(&missing));
    assert!(work.assembly.parts[missing[0]].name.contains("shelf"));
    let lot = plan.lots.iter().find(|it| !it.missing.is_empty()).expect("a lot with the missing part");
    let words = lot.quality_in_words(&|i| work.assembly.parts[i].number.clone());
    // One shelf of 606 x 359 mm: 0.22 m².
    assert_eq!(words, format!("impossible: 0.22 m² short, missing: {}", work.assembly.parts[missing[0]].number));
    // Both sides come from the family they are bound to, need cutting to length only, and keep its banding.
    for part in work.assembly.parts.iter().enumerate().filter(|it| it.1.role == casewright_core::design::Role::Side) {
        let (board, placed) = plan.place_of(part.0).expect("a place");
        assert_eq!(board.name, "wardrobe side");
        assert!(placed.only_to_length, "{}", part.1.number);
        assert_eq!(placed.keeps, [PartEdge::Near]);
    }
    assert!(plan.notes.iter().any(|it| it.contains("16.1 mm")), "{:?}", plan.notes);
    // The missing shelf is on the buying list; what is in hand is not bought again.
    let list = buying(&work.design, &work.assembly, &plan);
    assert!(list.lines.iter().any(|it| it.kind == Goods::Board));
    // The mend that the example tells of.
    let mended = derived(&SALVAGED.replace("// (name: \"shelf board\"", "(name: \"shelf board\""));
    let plan = planned(&mended);
    assert_eq!(plan.missing(), Vec::<usize>::new());
    let list = buying(&mended.design, &mended.assembly, &plan);
    assert!(list.lines.iter().any(|it| it.what == "shelf board" && it.cost() == Some(19.0)), "{:?}", list.lines);
}

/// Invented stock for one side, one shelf and one top of equal material: each board holds one of them, and there is one way
/// only to get all three. As listed, the first board takes what another could give, and a part is missing or bought.
#[test]
fn shared_stock_goes_where_nothing_else_does() {
    let mut work = derived(SALVAGED);
    let find = |role: Role| work.assembly.parts.iter().find(|it| it.role == role).expect("a part").clone();
    let mut parts = [find(Role::Side), find(Role::Shelf), find(Role::Top)];
    for (part, length) in parts.iter_mut().zip([900, 600, 500]) {
        part.material = "white 18".to_owned();
        part.cut.length = Length::from_mm(length);
        part.cut.width = Length::from_mm(300);
    }
    work.assembly.parts = parts.to_vec();
    work.design.carcass.construction.from_stock.clear();
    let board = |name: &str, only_for: &[Role], length: i64, quantity: Option<u32>| {
        let size = (Length::from_mm(length), Length::from_mm(320));
        let only_for = only_for.to_vec();
        Board { only_for, quantity, source: BoardSource::Salvaged, ..Board::new(name, "white 18", size) }
    };
    let one = Some(1);
    let (shared, side) =
        (board("shared", &[Role::Side, Role::Shelf], 950, one), board("side", &[Role::Side], 950, one));
    let top = board("top", &[Role::Top, Role::Shelf], 950, one);
    // The board that serves least must come first.
    let simple = vec![shared, side, board("top", &[Role::Top], 950, one)];
    // All serve two roles: what nothing else serves must come first.
    let knotted =
        vec![board("left", &[Role::Shelf, Role::Top], 700, one), board("right", &[Role::Shelf, Role::Side], 1600, one)];
    let bought = Board { price: Some(20.0), ..board("new", &[], 2000, None) };
    for boards in [simple.clone(), knotted, vec![simple[0].clone(), simple[1].clone(), top]] {
        work.design.boards = boards;
        assert_eq!(planned(&work).missing(), Vec::<usize>::new(), "{:?}", work.design.boards);
        work.design.boards.insert(0, bought.clone());
        let plan = planned(&work);
        assert_eq!(plan.missing(), Vec::<usize>::new());
        assert!(plan.boards().all(|(_, it)| it.name != "new"), "{:?}", work.design.boards);
    }
}

/// A bookcase of ours with 10 shelves whose front edges take strips of 44, 24, 24, 22, 21, 17, 8, 8, 6 and 6 units of 20 mm with
/// the saw cut of 4 mm in them. By hand: 44 + 8 + 8 = 24 + 24 + 6 + 6 = 22 + 21 + 17 = 60 units, so that three bars of
/// 60 x 20 - 4 = 1196 mm are used up to the last tenth; a tenth less of bar or more of saw cut, and it takes a fourth.
fn ten_strips(sold_in: Length, kerf: Length) -> Derived {
    let mut work = derived(BOOKCASE);
    let plain = work.assembly.parts.iter().find(|it| {
        it.outline.is_none() && it.bands.len() == 1 && matches!(it.bands[0].edge, PartEdge::Near | PartEdge::Far)
    });
    let plain = plain.expect("a part with a band along it").clone();
    work.design.boards.clear();
    work.design.saw.kerf = Some(kerf);
    work.design.banding.values_mut().for_each(|it| it.sold_in = Some(sold_in));
    work.assembly.parts = [44, 24, 24, 22, 21, 17, 8, 8, 6, 6]
        .into_iter()
        .map(|units| {
            let mut part = plain.clone();
            part.finished.length = Length::from_mm(units * 20 - 4 - 40);
            part
        })
        .collect();
    work
}

#[test]
fn strips_of_lipping_fill_three_bars_to_the_last_tenth() {
    let (bar, kerf, tenth) = (Length::from_mm(1196), Length::from_mm(4), Length::from_um(100));
    for (sold_in, kerf, expected) in [(bar, kerf, 3), (bar - tenth, kerf, 4), (bar, kerf + tenth, 4)] {
        let work = ten_strips(sold_in, kerf);
        let plan = planned(&work);
        let [lot] = plan.bars.as_slice() else { panic!("{:?}", plan.bars) };
        assert_eq!((lot.bars.len(), lot.quality), (expected, Quality::Best), "{lot:?}");
        assert_eq!(lot.bars.iter().all(|it| it.rest == Length::ZERO), expected == 3);
        // Bars are counted, not metres; those in hand are not bought.
        let list = buying(&work.design, &work.assembly, &plan);
        let line = list.lines.iter().find(|it| it.kind == Goods::BandingBars).expect("a line");
        assert_eq!((line.needed, line.packs), (expected as f64, u32::try_from(expected).unwrap()));
        assert!(list.lines.iter().all(|it| it.kind != Goods::Banding));
    }
}

#[test]
fn strips_longer_than_a_bar_are_told_and_bought_apart() {
    // The longest strip is 44 x 20 - 4 = 876 mm: it alone finds no bar of 875.9 mm.
    let work = ten_strips(Length::from_um(875_900), Length::from_mm(4));
    let plan = planned(&work);
    let lot = &plan.bars[0];
    assert_eq!(lot.too_long.iter().map(|it| it.part).collect::<Vec<_>>(), [0]);
    let note = plan.notes.last().expect("a note");
    assert!(note.contains("34 1/2\" long") || note.contains("876 mm"), "{note}");
    assert!(note.ends_with("join it, or buy a longer bar"), "{note}");
    let list = buying(&work.design, &work.assembly, &plan);
    let lines: Vec<_> = list.lines.iter().filter(|it| it.kind == Goods::BandingBars).map(|it| it.needed).collect();
    assert_eq!(lines, [lot.bars.len() as f64, 1.0]);
    // Where no strip finds a bar, none is bought, and nothing fails.
    let work = ten_strips(Length::from_mm(100), Length::from_mm(4));
    let plan = planned(&work);
    assert_eq!((plan.bars[0].bars.len(), plan.bars[0].too_long.len()), (0, 10));
    let list = buying(&work.design, &work.assembly, &plan);
    let lines: Vec<_> = list.lines.iter().filter(|it| it.kind == Goods::BandingBars).map(|it| it.needed).collect();
    assert_eq!(lines, [10.0]);
}

#[test]
fn bars_of_the_examples_are_sound() {
    for (text, kept) in [(LAUNDRY, false), (BOOKCASE, false), (SALVAGED, true)] {
        for millimetres in [600, 1000, 2500] {
            let mut work = derived(text);
            assert_eq!(planned(&work).bars, [], "without the field all comes from the roll");
            work.design.banding.values_mut().for_each(|it| it.sold_in = Some(Length::from_mm(millimetres)));
            let plan = planned(&work);
            assert!(!plan.bars.is_empty());
            // Edges that keep the banding of an old board need no strip.
            assert_eq!(plan.boards().any(|(_, it)| it.parts.iter().any(|part| !part.keeps.is_empty())), kept);
        }
    }
}

#[test]
fn tables_come_in_as_they_go_out() {
    let check = |text: &str, expected: &[(&str, f64, f64, Option<u32>)]| {
        let boards = read_table(text, Unit::default()).unwrap_or_else(|errors| panic!("{errors:?}"));
        let found: Vec<_> =
            boards.iter().map(|it| (it.name.as_str(), it.size.0.mm(), it.size.1.mm(), it.quantity)).collect();
        assert_eq!(found, expected, "{text}");
        let again = read_table(&write_table(&boards, Unit::default()), Unit::default());
        assert_eq!(again, Ok(boards), "{text}");
    };
    // Comma with a heading in another order; semicolon with decimal commas; tabs without a heading.
    check("width,length,material,name\n580,2036,white,\"side, old\"\n", &[("side, old", 2036.0, 580.0, None)]);
    check(
        "name;material;length (mm);width (mm);quantity\nshelf;white;764,5;360;4\n",
        &[("shelf", 764.5, 360.0, Some(4))],
    );
    check(
        "a\twhite\t56 cm\t300\t2\n\nb\twhite\t22 1/2\"\t300\t\n",
        &[("a", 560.0, 300.0, Some(2)), ("b", 571.5, 300.0, None)],
    );
    let full = "name,material,length,width,quantity,thickness,source,family,spoilt start,spoilt far,banded,finish,only for,price\n\
        side,white,2036,580,2,18.1,salvaged,old sides,40,45,near: white 1 | end: white 1,cream,Shelf | Rail,3.5\n";
    check(full, &[("side", 2036.0, 580.0, Some(2))]);
    let work = derived(LAUNDRY);
    let text = write_table(&work.design.boards, work.design.unit);
    assert_eq!(read_table(&text, work.design.unit), Ok(work.design.boards));
}

#[test]
fn what_is_wrong_in_a_table() {
    let check = |text: &str, expected: &[&str]| {
        let errors = read_table(text, Unit::default()).expect_err(text);
        assert_eq!(errors.iter().map(ToString::to_string).collect::<Vec<_>>(), expected, "{text}");
    };
    check(
        "name,length,width\na,1,2\n",
        &[
            "line 1: there is no column \"material\"; name the columns name, material, length, width, quantity, thickness, \
            source, family, spoilt start, spoilt end, spoilt near, spoilt far, banded, finish, only for, price",
        ],
    );
    check(
        "name,material,length,width,quantity\na,white,0,200,1\nb,white,100,200,some\nc,,100,200,1\n",
        &[
            "line 2: length: there is no size; write a length above zero",
            "line 3: quantity: some is no count; write a whole number, or nothing for as many as needed",
            "line 4: material: it is empty; write it",
        ],
    );
}

#[test]
fn an_old_cabinet_in_one_line() {
    let line = "name=shelf, size=800x2000x400, material=white, thickness=18, shelves=4, rows=yes, back=thin, groove=8";
    let old = read_box(line, Unit::default()).unwrap();
    assert_eq!((old.size.1.mm(), old.shelves, old.rows), (2000.0, 4, true));
    assert_eq!(old.back, casewright_core::stock::OldBack::Grooved("thin".to_owned(), Length::from_mm(8)));
    for bad in ["", "name=a", "name=a, size=1x2, material=b, thickness=3", "colour=red", "shelves=many", "joint=nails"]
    {
        assert!(read_box(bad, Unit::default()).is_err(), "{bad}");
    }
    let names: BTreeSet<String> = casewright_core::stock::dismantle(&old).into_iter().map(|it| it.name).collect();
    assert_eq!(names.len(), 4);
}
