//! Tables in every form read back as the boards that were written.

use proptest::prelude::*;

use super::*;

/// Text as a name may be: with what parts cells, quotes, marks and lines.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z]{1,6}",
        "[a-zß0-9,;.|:=\"' \t\n]{1,12}",
        Just("12,5".to_owned()),
        Just("a;b\tc,\"d\"".to_owned()),
        Just("shelf, 7.5\r\nold".to_owned()),
    ]
    .prop_map(|it| it.trim().to_owned())
}

fn named() -> impl Strategy<Value = String> {
    text().prop_filter("a name", |it| !it.is_empty())
}

/// From a nanometre to four metres.
fn size() -> impl Strategy<Value = Length> {
    prop_oneof![(1i64..4_000).prop_map(Length::from_mm), (1i64..4_000_000_000).prop_map(Length::from_nm)]
}

prop_compose! {
    fn board()(
        name in named(),
        material in named(),
        size in (size(), size()),
        thickness in prop::option::of(size()),
        quantity in prop::option::of(any::<u32>()),
        source in prop::sample::select(BoardSource::ALL.to_vec()),
        family in text(),
        finish in text(),
        spoilt in prop::option::of(prop::array::uniform4(0i64..1_000_000)),
        banded in prop::collection::vec((prop::sample::select(BoardEdge::ALL.to_vec()), text()), 0..3),
        only_for in prop::sample::subsequence(Role::ALL.to_vec(), 0..4),
        price in prop::option::of(prop_oneof![Just(0.0), Just(62.5), 0.0..1e4f64]),
    ) -> Board<Length> {
        // At most a quarter of its size on each side, so that something is left.
        let part = |of: Length, millionths: i64| Length::from_nm((i128::from(of.nm()) * i128::from(millionths) / 4_000_000) as i64);
        let spoilt = spoilt.map(|[a, b, c, d]| (part(size.0, a), part(size.0, b), part(size.1, c), part(size.1, d)));
        let banded = banded.into_iter().map(|(edge, band)| KeptBand { edge, band: band.replace('|', "").trim().to_owned() });
        Board {
            thickness,
            quantity,
            source,
            family,
            finish,
            spoilt: spoilt.filter(|it| *it != Default::default()),
            banded: banded.collect(),
            only_for,
            price,
            ..Board::new(name, material, size)
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_form_reads_back(boards in prop::collection::vec(board(), 0..4)) {
        for unit in [Unit::default(), Unit::inch(32).unwrap_or_default()] {
            for separator in Separator::ALL {
                for mark in [DecimalMark::Point, DecimalMark::Comma] {
                    let written = write_table_as(&boards, unit, TableForm { separator, mark });
                    let read = read_table(&written, unit);
                    prop_assert_eq!(read.as_ref(), Ok(&boards), "{}", written);
                }
            }
        }
    }
}

/// As a spreadsheet with decimal commas opens it, and as one takes it from the clipboard.
#[test]
fn forms() {
    let board = Board {
        price: Some(3.5),
        ..Board::new("side, old", "white", (Length::from_um(764_500), Length::from_mm(300)))
    };
    let check = |form: TableForm, expected: [&str; 2]| {
        let written = write_table_as(std::slice::from_ref(&board), Unit::default(), form);
        let lines: Vec<&str> = written.lines().collect();
        assert!(lines.len() == 2 && lines[0].starts_with(expected[0]), "{written}");
        assert_eq!(lines[1], expected[1]);
    };
    check(TableForm::default(), ["name,material,length (mm),", "\"side, old\",white,764.5,300,,,new,,,,,,,,,3.5"]);
    check(TableForm::of(DecimalMark::Point), ["name,", "\"side, old\",white,764.5,300,,,new,,,,,,,,,3.5"]);
    check(TableForm::of(DecimalMark::Comma), ["name;material;", "side, old;white;764,5;300;;;new;;;;;;;;;3,5"]);
    check(
        TableForm::clipboard(DecimalMark::Comma),
        ["name\tmaterial\t", "side, old\twhite\t764,5\t300\t\t\tnew\t\t\t\t\t\t\t\t\t3,5"],
    );
}

#[test]
fn headings_in_other_words_are_known_and_unknown_ones_told() {
    let unit = Unit::default();
    for head in ["name;material;length;width;how many", "Name;Material;Länge;Breite;Anzahl"] {
        let boards = read_table(&format!("{head}\ndoor;ply;2000;600;2\n"), unit).unwrap();
        assert_eq!(boards[0].quantity, Some(2), "{head}");
    }
    let errors = read_table("name;material;length;width;how often\ndoor;ply;2000;600;2\n", unit).unwrap_err();
    assert_eq!((errors.len(), errors[0].line), (1, 1));
    assert!(errors[0].cause.contains("how often"), "{errors:?}");
}
