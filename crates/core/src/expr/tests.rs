//! Expressions: values, mistakes with their places, parameters, and what goes through files.

use proptest::prelude::*;
use serde::{Deserialize, Serialize};

use super::*;
use crate::{
    Length,
    unit::{DecimalMark, Unit},
};

fn mm() -> Unit {
    Unit::default()
}

fn inch() -> Unit {
    Unit::inch(16).unwrap()
}

/// Checks a length in nanometres, in a millimetre design with a few parameters.
fn check(text: &str, nm: i64) {
    check_in(mm(), text, nm);
}

fn check_in(unit: Unit, text: &str, nm: i64) {
    let (scope, errors) = Scope::new([("ply", "18"), ("width", "60 cm"), ("Höhe_2", "width + ply")], unit);
    assert_eq!(errors, []);
    assert_eq!(scope.length(text).map(Length::nm), Ok(nm), "{text}");
}

/// Checks the one mistake: the part of the text that it points at, and its message.
fn check_error(text: &str, part: &str, message: &str) {
    let (scope, _) = Scope::new([("ply", "18"), ("width", "60 cm"), ("bad", "nix +")], mm());
    let error = scope.length(text).expect_err(text);
    assert_eq!((text.get(error.span.clone()), error.to_string().as_str()), (Some(part), message), "{text}");
}

#[test]
fn numbers_and_units() {
    check("560", 560_000_000);
    check("560.5", 560_500_000);
    check("560,5", 560_500_000);
    check("0,125", 125_000);
    check(".5", 500_000);
    check("56 cm", 560_000_000);
    check("56cm", 560_000_000);
    check("0.56 m", 560_000_000);
    check("22 in", 558_800_000);
    check("22\"", 558_800_000);
    check("22 1/16\"", 560_387_500);
    check("22 1/16 in", 560_387_500);
    check("3/8\"", 9_525_000);
    check("1/64\"", 396_875);
    check("1' 10 1/16\"", 560_387_500);
    check("1 ft 10 in", 558_800_000);
    check("1'10''", 558_800_000);
    check("2′", 609_600_000);
    check("100/2 mm", 50_000_000);
    check("1/2 m", 500_000_000);
    check("1.000", 1_000_000);
}

#[test]
fn bare_numbers_mean_the_unit() {
    check_in(inch(), "22 1/16", 560_387_500);
    check_in(inch(), "22.5", 571_500_000);
    check_in(inch(), "10 mm + 1", 35_400_000);
    check("10 mm + 1", 11_000_000);
    check("22 1/16", 22_062_500);
    check("22/16", 1_375_000);
}

#[test]
fn operations() {
    check("1 + 2 * 3", 7_000_000);
    check("(1 + 2) * 3", 9_000_000);
    check("10 - 2 - 3", 5_000_000);
    check("100 / 10 / 2", 5_000_000);
    check("-3 + 5", 2_000_000);
    check("--3", 3_000_000);
    check("-22 1/16\"", -560_387_500);
    check("2 * 22 1/16\"", 1_120_775_000);
    check("(width - 2*ply)/3", 188_000_000);
    check("width / 2 cm", 30_000_000);
    check("width − 2 × ply ÷ 3", 588_000_000);
    check("Höhe_2", 618_000_000);
    check("(1 + 2) cm", 30_000_000);
    check("10 mm / 3 * 3", 10_000_000);
    check("1 / 3", 333_333);
    check("2 / 3", 666_667);
    check("2 * 3/8\"", 19_050_000);
}

#[test]
fn mistakes_point_at_their_place() {
    check_error("", "", "there is nothing here where a length is wanted; write a length such as 560 or 56 cm");
    check_error("   ", "   ", "there is nothing here where a length is wanted; write a length such as 560 or 56 cm");
    check_error("widht + 1", "widht", "there is no parameter called `widht`; did you mean `width`?");
    check_error("3 + glue", "glue", "there is no parameter called `glue`; add it to the parameters, or write a number");
    check_error(
        "width * width",
        "width * width",
        "a length times a length is an area, not a length; leave the unit of one of them out",
    );
    check_error(
        "5 / width",
        "5 / width",
        "a number divided by a length is not a length; leave the unit of the divisor out, or give the number one",
    );
    check_error("5 / (ply - 18)", "ply - 18", "this divides by zero; divide by something else");
    check_error("width 3", "3", "a sign is missing between `width` and `3`; put +, -, * or / between them");
    check_error("width 1/16", "1", "a sign is missing between `width` and `1`; put +, -, * or / between them");
    check_error("1 m 20 cm", "20", "a sign is missing between `m` and `20`; put +, -, * or / between them");
    check_error("1 000", "000", "a sign is missing between `1` and `000`; put +, -, * or / between them");
    check_error("1010 inch", "inch", "`inch` is not a unit; did you mean `in`?");
    check_error("3 feet", "feet", "`feet` is not a unit; did you mean `ft`?");
    check_error("20 cn", "cn", "`cn` is not a unit; did you mean `cm`?");
    check_error("20 MM", "MM", "`MM` is not a unit; did you mean `mm`?");
    check_error("2 ply", "ply", "`ply` is not a unit; units are mm, cm, m, in and ft; to multiply write `2 * ply`");
    check_error(
        "3 +",
        "",
        "the expression ends where a number or a name is wanted; complete the expression, or delete the last sign",
    );
    check_error("3 * * 4", "*", "a number or a name is wanted before `*`; complete the expression");
    check_error("(3 + 4", "(", "this parenthesis is never closed; add the `)`");
    check_error("3 + 4)", ")", "a closing parenthesis has no opening one; delete the `)` or add the `(`");
    check_error("cm", "cm", "the unit `cm` stands without a number before it; write the number, as in `1 cm`");
    check_error("(width) cm", "cm", "this unit follows what is already a length; delete the unit");
    check_error(
        "56 €",
        "€",
        "the sign `€` has no meaning in a length; use numbers, units (mm, cm, m, in, ft), parameter names, + - * / and parentheses",
    );
    check_error("12.", "12.", "digits are missing after the `.`; write the decimals, or leave the mark out");
    check_error(
        "1.250,5",
        "1.250",
        "the number has more than one decimal mark; write thousands without a mark, as in 1250.5",
    );
    check_error("1,250", "1,250", "`1,250` can be read in two ways; write `1250` or `1.250`");
    check_error(
        "22-1/16\"",
        "22-1/16",
        "`22-1/16` can be read in two ways; write `22 1/16` for the mixed number or `22 - 1/16` for the difference",
    );
    check_error(
        "width / 3/8\"",
        "3/8\"",
        "a fraction behind a `/` can be read in two ways; put the fraction, or what comes before it, in parentheses",
    );
    check_error(
        "22 17/16\"",
        "22 17/16",
        "`17/16` in a mixed number is not less than one; write the fraction below one, as in 22 1/16",
    );
    check_error("1/0\"", "1/0", "the fraction has a zero below the line; write it as in 3/8");
    check_error(
        "1' 10",
        "10",
        "after feet only inches can follow without a sign; add the inch mark, as in 1' 10\", or a + between",
    );
    check_error("1e3", "e3", "`e3` is not a unit; units are mm, cm, m, in and ft; to multiply write `1 * e3`");
    check_error("bad + 1", "bad", "the parameter `bad` has no value yet; mend the parameter `bad` first");
    check_error("101 m", "101 m", "the value is too large; lengths go up to 100 m");
    check_error(
        "9999999999999999",
        "9999999999999999",
        "the number has too many digits; at most 15 digits before and 12 after the decimal mark",
    );
}

#[test]
fn size_and_nesting_are_bounded() {
    let long = format!("1{}", " ".repeat(MAX_CHARS));
    check_error(&long, " ", "the expression is longer than 1000 characters; split it over several parameters");
    let message = "signs and parentheses are nested more than 32 deep; split the expression over several parameters";
    check_error(&format!("{}1", "(".repeat(33)), "(", message);
    check_error(&format!("{}1", "-".repeat(900)), "-", message);
    check(&format!("{}1{}", "(".repeat(32), ")".repeat(32)), 1_000_000);
    let huge = format!("1{}", " * 999999999999999".repeat(20));
    let error = Scope::empty(mm()).length(&huge).unwrap_err();
    assert_eq!(error.to_string(), "the value is too large; lengths go up to 100 m");
}

/// Checks all mistakes among parameters, as `name [part]: message`.
fn check_parameters(parameters: &[(&str, &str)], expected: &[&str]) {
    let (_, errors) = Scope::new(parameters.iter().copied(), mm());
    let found: Vec<String> = errors
        .iter()
        .map(|error| {
            let name = error.parameter.as_deref().unwrap_or_default();
            let text = parameters.iter().rev().find(|(other, _)| *other == name).map_or("", |(_, text)| text);
            format!("{name} [{}]: {error}", text.get(error.span.clone()).unwrap_or_default())
        })
        .collect();
    assert_eq!(found, expected);
}

#[test]
fn parameters_in_any_order() {
    check_parameters(&[("c", "b * 2"), ("b", "a + 1"), ("a", "3")], &[]);
    let (scope, _) = Scope::new([("c", "b * 2"), ("b", "a + 1 cm"), ("a", "3")], mm());
    assert_eq!(scope.length("c"), Ok(Length::from_mm(26)));
    assert_eq!(scope.names().collect::<Vec<_>>(), ["c", "b", "a"]);
}

#[test]
fn circles_are_named_in_full() {
    let mend = "; give one of them a value of its own";
    check_parameters(
        &[("a", "2 + b"), ("b", "a")],
        &[&format!("a [b]: the parameters go round in a circle: a -> b -> a{mend}")],
    );
    check_parameters(&[("a", "a")], &[&format!("a [a]: the parameters go round in a circle: a -> a{mend}")]);
    check_parameters(
        &[("user", "x"), ("x", "z"), ("y", "x"), ("z", "y + free"), ("free", "1"), ("p", "q"), ("q", "p")],
        &[
            &format!("x [z]: the parameters go round in a circle: x -> z -> y -> x{mend}"),
            &format!("p [q]: the parameters go round in a circle: p -> q -> p{mend}"),
        ],
    );
}

#[test]
fn mistakes_in_parameters_are_all_collected_once() {
    check_parameters(
        &[("ply", "18 +"), ("user", "ply * 2"), ("widt", "1"), ("other", "width"), ("2x", "1"), ("cm", "1"), ("ply", "3")],
        &[
            "ply []: there are two parameters called `ply`; rename or delete one of them",
            "ply []: the expression ends where a number or a name is wanted; complete the expression, or delete the last sign",
            "other [width]: there is no parameter called `width`; did you mean `widt`?",
            "2x [1]: `2x` cannot be a parameter's name; use letters, digits and _, beginning with a letter",
            "cm [1]: `cm` is a unit and cannot be a parameter's name; choose a longer name",
        ]
        .map(|line| line.replacen("ply []: there", "ply [3]: there", 1))
        .each_ref()
        .map(String::as_str),
    );
}

#[test]
fn long_chains_of_parameters_do_not_recurse() {
    let names: Vec<(String, String)> = (0..1_000).map(|i| (format!("p{i}"), format!("p{} + 1", i + 1))).collect();
    let chain = names.iter().take(999).map(|(n, t)| (n.as_str(), t.as_str())).chain([("p999", "1")]);
    let (scope, errors) = Scope::new(chain, mm());
    assert_eq!((scope.length("p0"), errors), (Ok(Length::from_mm(1_000)), vec![]));
}

#[derive(Debug, PartialEq, Serialize, Deserialize)]
enum Size {
    Fixed(Dim),
    Between { least: Dim, most: Dim },
}

/// Checks how a list of lengths is read and written again.
fn check_file(text: &str, texts: &[&str], written: &str) {
    let dims: Vec<Dim> = ron::from_str(text).unwrap();
    assert_eq!(dims.iter().map(Dim::text).collect::<Vec<_>>(), texts);
    assert_eq!(ron::to_string(&dims).unwrap(), written);
    assert_eq!(ron::from_str::<Vec<Dim>>(written).unwrap(), dims);
}

#[test]
fn dims_keep_what_is_written() {
    check_file("[560, 560.5, 0.1, -3]", &["560", "560.5", "0.1", "-3"], "[560,560.5,0.1,-3]");
    check_file("[560.50, 560.0, 1e3, +5]", &["560.5", "560", "1000", "5"], "[560.5,560,1000,5]");
    check_file(r#"["56 cm", "560.50", "560"]"#, &["56 cm", "560.50", "560"], r#"["56 cm","560.50",560]"#);
    check_file(
        r#"["width - 2 * ply", "22 1/16\""]"#,
        &["width - 2 * ply", "22 1/16\""],
        r#"["width - 2 * ply","22 1/16\""]"#,
    );
    let sizes: Vec<Size> = ron::from_str(r#"[Fixed(560), Fixed("a"), Between(least: 1.5, most: "2 m")]"#).unwrap();
    assert_eq!(ron::to_string(&sizes).unwrap(), r#"[Fixed(560),Fixed("a"),Between(least:1.5,most:"2 m")]"#);
    assert!(ron::from_str::<Dim>("inf").is_err() && ron::from_str::<Dim>("true").is_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn written_lengths_read_back(count in -60_000i64..60_000, which in 0usize..6) {
        let unit = [
            mm(), Unit::millimetre(Length::from_um(1)).unwrap(), Unit::millimetre(Length::from_um(100)).unwrap(),
            inch(), Unit::inch(32).unwrap(), Unit::inch(64).unwrap(),
        ][which];
        let length = unit.step() * count;
        let scope = Scope::empty(unit);
        for text in [unit.format(length, DecimalMark::Point), unit.input(length), unit.format_named(length, DecimalMark::Point)] {
            prop_assert_eq!(scope.length(&text), Ok(length), "{}", text);
        }
        let comma = unit.format(length, DecimalMark::Comma);
        // Three decimals behind a comma are refused as ambiguous, never misread.
        if let Ok(read) = scope.length(&comma) {
            prop_assert_eq!(read, length, "{}", comma);
        }
    }

    #[test]
    fn any_length_reads_back_from_its_input_text(nm in -100_000_000_000i64..=100_000_000_000, inches: bool) {
        let unit = if inches { inch() } else { mm() };
        let dim = Dim::of(Length::from_nm(nm), unit);
        prop_assert_eq!(dim.eval(&Scope::empty(unit)), Ok(Length::from_nm(nm)));
    }

    #[test]
    fn any_text_is_survived(text in r#"([0-9]{1,4}|[.,+*/()'" -]|mm|cm|in|ft|ply|\PC){0,30}"#) {
        let (scope, _) = Scope::new([("ply", text.as_str()), ("x", "ply / 3")], mm());
        if let Err(error) = scope.length(&text) {
            prop_assert!(text.get(error.span.clone()).is_some(), "{:?} in {}", error.span, text);
        }
    }

    #[test]
    fn any_dim_survives_a_file(text in r#"(-?[0-9]{1,18}(\.[0-9]{1,18})?)|\PC{0,12}"#) {
        let dim = Dim::new(text);
        let written = ron::to_string(&dim).unwrap();
        prop_assert_eq!(ron::from_str::<Dim>(&written).unwrap(), dim, "{}", written);
    }

    /// Whole-number arithmetic against plain i128, with random trees of sums, differences and products.
    #[test]
    fn arithmetic_agrees_with_integers(first in 0i64..100, rest in proptest::collection::vec((0usize..3, 0i64..100), 0..12)) {
        let (mut text, mut sum, mut product, mut sign) = (first.to_string(), 0i128, i128::from(first), 1);
        for (operation, number) in rest {
            text += &format!(" {} {number}", ["+", "-", "*"][operation]);
            if operation == 2 {
                product *= i128::from(number);
            } else {
                sum += sign * product;
                (product, sign) = (i128::from(number), if operation == 0 { 1 } else { -1 });
            }
        }
        let expected = sum + sign * product;
        match Scope::empty(mm()).quantity(&text) {
            Ok(Quantity::Number(number)) => prop_assert_eq!((number.numerator(), number.denominator()), (expected, 1)),
            other => prop_assert!(false, "{:?}", other),
        }
    }
}
