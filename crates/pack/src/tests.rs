//! What a pack consists of, and that it can be stopped.

use casewright_core::design::Design;
use casewright_core::pipeline::{Derived, derive};
use casewright_drawing::Language;
use casewright_stock::{PlanOptions, read_table};

use super::*;

fn trolley() -> (Derived, CuttingPlan) {
    let path = format!("{}/../../demo/container-trolley.ron", env!("CARGO_MANIFEST_DIR"));
    let work = derive(&Design::from_ron(&std::fs::read_to_string(path).unwrap()).unwrap()).unwrap();
    let plan = casewright_stock::plan(&work.design, &work.assembly, &PlanOptions::default()).unwrap();
    (work, plan)
}

#[test]
fn a_pack_has_its_sheets_lists_and_the_stock_that_is_left() {
    let (work, plan) = trolley();
    let mut steps = Vec::new();
    let options = PackOptions { only: vec![Chapter::Lists, Chapter::Cutting], ..PackOptions::default() };
    let mut watch = |step| {
        steps.push(step);
        true
    };
    let all = everything(&Scene::from(&work), &plan, options, "t", &mut watch).unwrap();
    let names: Vec<&str> = all.files.iter().map(|it| it.name.as_str()).collect();
    let svg: Vec<String> = (1..=all.sheets).map(|number| format!("t-{number:02}.svg")).collect();
    let lists = ["parts", "banding", "fittings", "cutting", "buying", "stock-after"].map(|it| format!("t-{it}.csv"));
    let expected: Vec<&str> = std::iter::once("t.pdf")
        .chain(svg.iter().map(String::as_str))
        .chain(lists.iter().map(String::as_str))
        .collect();
    assert_eq!(names, expected);
    assert!(all.files.iter().all(|it| !it.bytes.is_empty()));
    assert_eq!(steps.first(), Some(&Step::Drawing(0, 9)));
    assert_eq!(steps.last(), Some(&Step::Writing(all.sheets, all.sheets)));
    assert_eq!(sheet_number(names[1], "t"), Some(1));
    assert_eq!(sheet_number("t-parts.csv", "t"), None);
}

/// The stock that is left has the separator and decimal mark of the other lists, and reads back.
#[test]
fn the_stock_that_is_left_is_in_the_language_of_the_lists() {
    let (work, plan) = trolley();
    let options = || PackOptions { only: vec![Chapter::Lists], ..PackOptions::default() };
    let left = |scene: &Scene<'_>| {
        let all = everything(scene, &plan, options(), "t", &mut |_| true).unwrap();
        let file = all.files.into_iter().find(|it| it.name == "t-stock-after.csv").unwrap();
        String::from_utf8(file.bytes).unwrap()
    };
    let scene = Scene::from(&work);
    let german = scene.speech_of(Language::German);
    let (english, german) = (left(&scene), left(&scene.in_language(&german)));
    assert!(english.starts_with("name,material,length (mm),") && german.starts_with("name;material;length (mm);"));
    let unit = work.design.unit;
    let boards = read_table(&english, unit).unwrap();
    assert!(!boards.is_empty());
    assert_eq!(read_table(&german, unit), Ok(boards));
}

#[test]
fn it_stops_at_every_step() {
    let (work, plan) = trolley();
    let options = || PackOptions { only: vec![Chapter::Lists], ..PackOptions::default() };
    let mut count = 0;
    let scene = Scene::from(&work);
    let whole = everything(&scene, &plan, options(), "t", &mut |_| {
        count += 1;
        true
    });
    assert!(whole.is_ok() && count > 3);
    for stop in 0..count {
        let mut at = 0;
        let stopped = everything(&scene, &plan, options(), "t", &mut |_| {
            at += 1;
            at <= stop
        });
        assert!(matches!(stopped, Err(PackError::Stopped)), "step {stop}");
    }
}
