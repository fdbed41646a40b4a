//! Part drawings read back from their display lists: every part once, every place counted from the datum corner.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use casewright_core::Length;
use casewright_core::assembly::{Machining, Part, PartFace};
use casewright_core::pipeline::Derived;
use casewright_core::unit::DecimalMark;
use casewright_drawing::furniture::{Pack, part_groups};
use casewright_drawing::kurbo::{Point, Shape};
use casewright_drawing::{Layer, Mark, Sheet};
use casewright_tests::random_design;
use casewright_tests::sheets::{built, demos, packed};
use proptest::prop_assert_eq;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// One value counted from a datum: where the datum's and its own extension lines begin, and whether it counts along x.
struct Counted {
    text: String,
    from: Point,
    at: Point,
    level: bool,
}

/// All values counted from a datum on a sheet. Each is drawn as two pieces of an extension line and its text; every row
/// begins with the datum's own `0`.
fn counted(sheet: &Sheet) -> Vec<Counted> {
    let mut found = Vec::new();
    let mut datum: Option<(Point, bool)> = None;
    let mut line: Vec<(Point, Point)> = Vec::new();
    for item in sheet.content.items.iter().filter(|item| item.layer == Layer::Dimensions) {
        match &item.mark {
            Mark::Stroke { path, .. } => {
                let segments: Vec<_> = casewright_drawing::display::segments(path);
                if let [one] = segments[..] {
                    line.push(one);
                }
            }
            Mark::Text(text) => {
                let (start, end) = line[line.len() - 2];
                line.clear();
                let level = (start.x - end.x).abs() < 1e-9;
                if text.content == "0" {
                    datum = Some((start, level));
                } else {
                    let (from, level_of_row) = datum.expect("a row begins with its datum");
                    assert_eq!(level, level_of_row);
                    found.push(Counted { text: text.content.clone(), from, at: start, level });
                }
            }
            _ => {}
        }
    }
    found
}

fn sheet_of<'a>(pack: &'a Pack, part: &Part) -> Vec<&'a Sheet> {
    let title = format!("Part {}", part.number);
    pack.sheets.iter().filter(|sheet| sheet.title_block.supplementary_title == title).collect()
}

fn scale_of(sheet: &Sheet) -> f64 {
    let (paper, real) = sheet.title_block.scale.split_once(':').unwrap();
    paper.parse::<f64>().unwrap() / real.parse::<f64>().unwrap()
}

/// The distances from the datum that a part's drawing must give along each direction of the paper and no others.
fn expected(part: &Part) -> BTreeSet<Length> {
    let mut all = BTreeSet::from([part.finished.length, part.finished.width]);
    for machining in &part.machining {
        match machining {
            Machining::Hole(hole) => {
                all.insert(hole.at.0);
                if !matches!(hole.face, PartFace::Edge(_)) {
                    all.insert(hole.at.1);
                }
            }
            Machining::Groove(groove) => all.extend([groove.from.0, groove.from.1, groove.to.0, groove.to.1]),
        }
    }
    all.remove(&Length::ZERO);
    all
}

fn flaws(derived: &Derived, pack: &Pack) -> Vec<String> {
    let mut flaws = Vec::new();
    let format = |length: Length| derived.design.unit.format(length, DecimalMark::Comma);
    let mut covered: BTreeMap<&str, usize> = BTreeMap::new();
    for group in part_groups(&derived.assembly.parts) {
        let part = group.drawn;
        for made in [part].into_iter().chain(group.same.iter().copied()).chain(group.mirrored.iter().copied()) {
            *covered.entry(&made.number).or_default() += 1;
            if made.finished != part.finished || made.machining.len() != part.machining.len() {
                flaws.push(format!("{} is not made like {}", made.number, part.number));
            }
        }
        let sheets = sheet_of(pack, part);
        let [sheet] = sheets[..] else {
            flaws.push(format!("{} drawings of {}", sheets.len(), part.number));
            continue;
        };
        let scale = scale_of(sheet);
        // Middles of circles and corners of rectangles: what an extension line may begin at.
        let mut features: Vec<Point> = Vec::new();
        for item in sheet.content.items.iter().filter(|item| item.layer == Layer::Outline) {
            let Mark::Stroke { path, .. } = &item.mark else { continue };
            let bounds = path.bounding_box();
            features.extend([bounds.center(), bounds.origin(), Point::new(bounds.x1, bounds.y1)]);
        }
        let by_text: BTreeMap<String, Length> = expected(part).into_iter().map(|it| (format(it), it)).collect();
        let mut given = BTreeSet::new();
        for value in counted(sheet) {
            let Some(length) = by_text.get(&value.text) else {
                flaws.push(format!("{}: {} is none of its places", part.number, value.text));
                continue;
            };
            given.insert(value.text.clone());
            let (drawn, place) = if value.level {
                ((value.at.x - value.from.x).abs(), value.at.x)
            } else {
                ((value.at.y - value.from.y).abs(), value.at.y)
            };
            // In inches two places may print alike: the drawing is true to the rounding.
            if (drawn / scale - length.mm()).abs() > 0.5 {
                flaws.push(format!("{}: {} is drawn at {}", part.number, value.text, drawn / scale));
            }
            let begins = |point: &Point| {
                let at = if value.level { point.x } else { point.y };
                (at - place).abs() < 1e-6
            };
            if !features.iter().any(begins) {
                flaws.push(format!("{}: nothing lies at {}", part.number, value.text));
            }
        }
        for text in by_text.keys().filter(|text| !given.contains(*text)) {
            let length = by_text.get(text);
            let cut = part.machining.iter().find(|it| match it {
                Machining::Hole(hole) => Some(&hole.at.0) == length || Some(&hole.at.1) == length,
                Machining::Groove(groove) => [groove.from.0, groove.from.1].iter().any(|at| Some(at) == length),
            });
            flaws.push(format!("{}: the place {text} of {cut:?} is not given", part.number));
        }
        if !sheet.display().texts().any(|text| text.content.starts_with(&part.number)) {
            flaws.push(format!("{} does not bear its number", part.number));
        }
        // As many holes as the part has are in the table; the count stands in its second column.
        let title = format!("Part {}, holes", part.number);
        let of_part =
            |sheet: &&Sheet| sheet.title_block.supplementary_title == title || std::ptr::eq(*sheet, sheets[0]);
        let rows: usize = pack.sheets.iter().filter(of_part).map(table_count).sum();
        if rows != part.machining.len() {
            flaws.push(format!("{}: {rows} of {} in the table", part.number, part.machining.len()));
        }
    }
    for part in &derived.assembly.parts {
        if covered.get(part.number.as_str()) != Some(&1) {
            flaws.push(format!("{} is drawn {:?} times", part.number, covered.get(part.number.as_str())));
        }
    }
    flaws
}

/// The sum of the columns `No.` of the tables on a sheet: the texts that end where a heading ends.
fn table_count(sheet: &Sheet) -> usize {
    let texts = || {
        sheet
            .content
            .items
            .iter()
            .filter(|item| item.layer == Layer::Tables)
            .filter_map(|item| if let Mark::Text(text) = &item.mark { Some(text) } else { None })
    };
    let ends: Vec<f64> = texts().filter(|text| text.content == "No.").map(|text| text.at.x).collect();
    let in_column = texts().filter(|text| ends.iter().any(|end| (text.at.x - end).abs() < 1e-6));
    in_column.filter_map(|text| text.content.parse::<usize>().ok()).sum()
}

#[test]
fn every_part_of_the_demos_is_drawn_once_with_all_its_places() {
    for (name, derived) in demos() {
        let pack = packed(&derived).unwrap();
        assert_eq!(flaws(&derived, &pack), Vec::<String>::new(), "{name}");
    }
}

#[test]
fn a_moved_hole_is_noticed() {
    let (_, mut derived) = demos().remove(0);
    let pack = packed(&derived).unwrap();
    let part = derived.assembly.parts.iter_mut().find(|part| !part.machining.is_empty()).unwrap();
    if let Some(Machining::Hole(hole)) = part.machining.first_mut() {
        hole.at.0 += Length::from_um(1_700);
    }
    assert_ne!(flaws(&derived, &pack), Vec::<String>::new());
}

#[test]
fn mirrored_sides_share_a_drawing() {
    let (_, derived) = demos().remove(0);
    let groups = part_groups(&derived.assembly.parts);
    let boxes: Vec<_> = groups.iter().filter(|group| group.drawn.number.starts_with("DL-")).collect();
    assert!(!boxes.is_empty());
    for group in boxes {
        let mirrored: Vec<&str> = group.mirrored.iter().map(|part| part.number.as_str()).collect();
        assert!(mirrored.iter().any(|number| number.starts_with("DR-")), "{}: {mirrored:?}", group.drawn.number);
    }
}

#[test]
fn random_designs_give_every_place() {
    let cases = random_design::cases(16);
    let config = Config { cases, failure_persistence: None, max_shrink_iters: 8, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let run = move || {
        let drawn = Cell::new(0);
        let outcome = runner.run(&random_design::design(), |design| {
            let Some(derived) = built(&design) else { return Ok(()) };
            let Some(pack) = packed(&derived) else { return Ok(()) };
            prop_assert_eq!(flaws(&derived, &pack), Vec::<String>::new());
            drawn.set(drawn.get() + 1);
            Ok(())
        });
        assert!(drawn.get() * 5 >= cases || outcome.is_err(), "only {} of {cases} were drawn", drawn.get());
        outcome.map_err(|error| error.to_string())
    };
    assert_eq!(random_design::with_room(run), Ok(()));
}
