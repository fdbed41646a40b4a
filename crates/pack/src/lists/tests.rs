//! Numbers, cells, and that no English is left in German lists.

use casewright_core::design::Design;
use casewright_core::pipeline::derive;
use casewright_drawing::Language;
use casewright_stock::PlanOptions;

use super::*;

#[test]
fn numbers() {
    let mm = Unit::default();
    let inch = Unit::inch(32).unwrap();
    let check = |nm: i64, unit: Unit, expected: &str| {
        assert_eq!(number(Length::from_nm(nm), unit, DecimalMark::Point), expected);
    };
    check(12_700_000, mm, "12.7");
    check(0, mm, "0");
    check(1_500_000_000, mm, "1500");
    check(-500_000, mm, "-0.5");
    check(396_875, mm, "0.396875");
    check(25_400_000, inch, "1");
    check(18_256_250, inch, "0.71875");
    check(254_000_000, inch, "10");
    check(18_000_000, inch, "0.70866");
}

#[test]
fn german_lists_have_no_english_left() {
    for demo in ["laundry-alcove", "container-trolley", "alcove-bookcase", "salvaged-office"] {
        let path = format!("{}/../../demo/{demo}.ron", env!("CARGO_MANIFEST_DIR"));
        let mut design = Design::from_ron(&std::fs::read_to_string(path).unwrap()).unwrap();
        if demo == "container-trolley" {
            let lipping = design.banding.get_mut("birch lipping 2").unwrap();
            lipping.sold_in = Some(casewright_core::expr::Dim::new("700 mm"));
        }
        let work = derive(&design).unwrap();
        let plan = casewright_stock::plan(&work.design, &work.assembly, &PlanOptions::default()).unwrap();
        let lists = |speech: &Speech| {
            let scene = Scene::from(&work).in_language(speech);
            let all = [
                parts(&scene),
                banding(&scene, &plan),
                fittings(&scene),
                cutting(&scene, &plan),
                buying(&scene, &plan),
            ];
            all.map(|it| String::from_utf8(it.unwrap()).unwrap())
        };
        let german = Scene::from(&work).speech_of(Language::German);
        let (of_english, of_german) = (lists(&Speech::default()), lists(&german));
        assert_eq!(german.unsaid(), Vec::<String>::new(), "{demo}: docs/languages.md says where the German goes");
        for (english, german) in of_english.iter().zip(&of_german) {
            let rows = |text: &str, separator: u8| -> Vec<Vec<String>> {
                let mut reader =
                    csv::ReaderBuilder::new().delimiter(separator).has_headers(false).from_reader(text.as_bytes());
                reader.records().map(|it| it.unwrap().iter().map(str::to_owned).collect()).collect()
            };
            let (english, german) = (rows(english, b','), rows(german, b';'));
            assert_eq!(english.len(), german.len());
            for (english, german) in english.iter().zip(&german) {
                assert_eq!(english.len(), german.len());
                for (one, other) in english.iter().zip(german).filter(|it| it.0.parse::<f64>().is_ok()) {
                    assert_eq!(one.parse::<f64>(), other.replace(',', ".").parse(), "{demo}");
                }
            }
        }
    }
}

#[test]
fn cells() {
    let mut table =
        Table::with_heads(DecimalMark::Point, ["name".to_owned(), head("length", Unit::default())]).unwrap();
    table.row(["a, \"b\"\nc".to_owned(), "-1.5".to_owned()]).unwrap();
    table.row(["=1+1".to_owned(), "@x".to_owned()]).unwrap();
    let text = String::from_utf8(table.bytes().unwrap()).unwrap();
    let heads = ["a", "b"].map(str::to_owned);
    assert!(Table::with_heads(DecimalMark::Point, heads).unwrap().row(["one".to_owned()]).is_err());
    assert_eq!(text, "name,length (mm)\r\n\"a, \"\"b\"\"\nc\",-1.5\r\n'=1+1,'@x\r\n");
}
