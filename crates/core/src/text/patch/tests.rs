//! What each kind of change makes of an author's text.

use crate::design::{Bay, Board, Design, Holding, Inside, Want};
use crate::expr::Dim;

/// A design as nobody but a person writes it.
const MINE: &str = r##"// Measured twice.
(
  title: "shelf \u{2116} 1", schema: 1, // first
  unit: Millimetre(step: 1),
  parameters: { "ply": "18", /* of the maker */ "w": "0600" },
  materials: {"ply": (kind: Plywood, thickness: "ply", grain: false)},

  // What must go in.
  things: {
    // The large one.
    r#"crate"#: (kind: Crate, size: (400.00, "220", 300), mass_kg: 2, load_kg: 15.0),
    "jar": (size: (80, 100, 80)), // of glass

    "bin": (
      size: (200, 300, 200), // outside
      may_turn: true,
    ),
  },
  carcass: (
    envelope: (width: Fixed("w"), height: Fixed(/* to the sill */ 720), depth: AtMost(580)),
    construction: (board: "ply", joint: Screwed, sides_run_through: true),
    bay: (
      name: "all",
      inside: Up(bays: [
        (
          // For the dog.
          name: "low",
          height: AtLeast(250), // or more
          inside: Holds(things: ["crate"], by: Standing),
        ),
        // Light things.
        (name: "mid", share: Some(2), inside: Open(shelves: 1)),
        (name: "high", inside: Open())
      ]),
    ),
  ),
)"##;

/// Checks that an edit changes the author's text only in these places, and that taking it back gives the first text.
#[track_caller]
fn check(edit: impl Fn(&mut Design), places: &[(&str, &str)]) {
    check_text(MINE, edit, places);
}

#[track_caller]
fn check_text(mine: &str, edit: impl Fn(&mut Design), places: &[(&str, &str)]) {
    let design = Design::read(mine).unwrap_or_else(|faults| panic!("{faults:?}")).0;
    let mut after = design.clone();
    edit(&mut after);
    let mut expected = mine.to_owned();
    for (from, to) in places {
        assert_eq!(expected.matches(from).count(), 1, "{from:?}");
        expected = expected.replace(from, to);
    }
    let new = after.changed_in(mine).unwrap().expect("it is changed in its place");
    assert!(new == expected, "{new}\ninstead of\n{expected}");
}

fn bay<'d>(design: &'d mut Design, name: &str) -> &'d mut Bay {
    design.carcass.bay.named_mut(name).unwrap()
}

fn bays(design: &mut Design) -> &mut Vec<Bay> {
    match &mut design.carcass.bay.inside {
        Inside::Up { bays, .. } => bays,
        _ => panic!("it is divided up"),
    }
}

fn open(name: &str) -> Bay {
    Bay::plain(name, Inside::Open { shelves: 0 })
}

#[test]
fn a_value_is_changed_in_its_place_and_in_its_notation() {
    check(|_| {}, &[]);
    let size = |to: &'static str| move |it: &mut Design| it.things["crate"].size.1 = Dim::new(to);
    check(size("230"), &[("\"220\"", "\"230\"")]);
    check(size("2 * ply"), &[("\"220\"", "\"2 * ply\"")]);
    check(|it| it.things["crate"].size.0 = Dim::new("410"), &[("400.00", "410")]);
    check(|it| it.things["crate"].mass_kg = 3.0, &[("mass_kg: 2", "mass_kg: 3")]);
    check(|it| it.things["crate"].mass_kg = 2.5, &[("mass_kg: 2", "mass_kg: 2.5")]);
    check(|it| it.things["crate"].load_kg = 16.0, &[("15.0", "16.0")]);
    check(|it| it.title = "a \"b\"".to_owned(), &[("shelf \\u{2116} 1", "a \\\"b\\\"")]);
    check(|it| bay(it, "mid").share = Some(3.0), &[("Some(2)", "Some(3)")]);
    check(
        |it| it.carcass.envelope.height = crate::design::Extent::AtMost(Dim::new("700")),
        &[("Fixed(/* to the sill */ 720)", "AtMost(/* to the sill */ 700)")],
    );
}

#[test]
fn another_alternative_takes_the_place_and_keeps_the_comments() {
    check(
        |it| it.carcass.envelope.height = crate::design::Extent::FillNiche,
        &[("height: Fixed(/* to the sill */ 720)", "/* to the sill */ height: FillNiche")],
    );
    check(|it| bay(it, "low").height = Want::Between("1".into(), "2".into()), &[("AtLeast(250)", "Between(1, 2)")]);
    check(
        |it| {
            bay(it, "low").inside =
                Inside::Holds { things: vec!["crate".into()], by: Holding::Shelf { under: "90".into() } }
        },
        &[("Standing", "Shelf(under: 90)")],
    );
}

#[test]
fn fields_come_to_their_place_and_go_with_what_is_theirs() {
    check(|it| it.things["jar"].mass_kg = 1.0, &[("(size: (80, 100, 80))", "(size: (80, 100, 80), mass_kg: 1)")]);
    check(|it| it.things["bin"].mass_kg = 1.0, &[("// outside\n", "// outside\n      mass_kg: 1,\n")]);
    check(|it| it.things["bin"].may_turn = false, &[("\n      may_turn: true,", "")]);
    check(|it| bay(it, "low").height = Want::Free, &[("\n          height: AtLeast(250), // or more", "")]);
    check(|it| bay(it, "high").share = Some(1.0), &[("\"high\", ", "\"high\", share: 1, ")]);
    check(|it| bay(it, "mid").share = None, &[("share: Some(2), ", "")]);
    // What says no more than is usual stays, and may say more later.
    check(|it| it.materials["ply"].grain = true, &[("grain: false", "grain: true")]);
    let board = || Board { ..written("sheet") };
    check(
        |it| it.boards.push(board()),
        &[(
            "grain: false)},\n",
            "grain: false)},\n  boards: [(name: \"sheet\", material: \"ply\", size: (2440, 1220))],\n",
        )],
    );
    // A line that gets too long is laid out one field a line.
    check(
        |it| {
            it.things["jar"].size.0 = Dim::new("80 + 2 * ply + 3 mm + 1/2 * ply + 7");
            it.things["jar"].mass_kg = 12.25;
            it.things["jar"].air.sides = Some(Dim::new("ply + 2 mm"));
        },
        &[(
            "(size: (80, 100, 80)),",
            "(\n      size: (\"80 + 2 * ply + 3 mm + 1/2 * ply + 7\", 100, 80),\n      mass_kg: 12.25,\n      air: (sides: \"ply + 2 mm\"),\n    ),",
        )],
    );
}

fn written(name: &str) -> Board {
    let text = MINE.replace(
        "\n  // What must",
        &format!("\n boards: [(name: {name:?}, material: \"ply\", size: (2440, 1220))],\n  // What must"),
    );
    Design::read(&text).unwrap().0.boards.remove(0)
}

#[test]
fn lists_change_only_where_something_comes_or_goes() {
    check(
        |it| bays(it).insert(1, open("new")),
        &[("        // Light things.", "        (name: \"new\", inside: Open()),\n        // Light things.")],
    );
    check(
        |it| bays(it).insert(0, open("new")),
        &[("bays: [\n", "bays: [\n        (name: \"new\", inside: Open()),\n")],
    );
    check(
        |it| bays(it).push(open("new")),
        &[(
            "(name: \"high\", inside: Open())\n",
            "(name: \"high\", inside: Open()),\n        (name: \"new\", inside: Open())\n",
        )],
    );
    check(
        |it| drop(bays(it).remove(2)),
        &[(
            "(name: \"mid\", share: Some(2), inside: Open(shelves: 1)),\n        (name: \"high\", inside: Open())\n",
            "(name: \"mid\", share: Some(2), inside: Open(shelves: 1))\n",
        )],
    );
    // The remark may head all that follow, so it stays.
    check(
        |it| drop(bays(it).remove(1)),
        &[("        (name: \"mid\", share: Some(2), inside: Open(shelves: 1)),\n", "")],
    );
    check(|it| bay(it, "high").name = "top".into(), &[("\"high\"", "\"top\"")]);
    check(
        |it| drop(it.things.shift_remove("crate")),
        &[(
            "\n    // The large one.\n    r#\"crate\"#: (kind: Crate, size: (400.00, \"220\", 300), mass_kg: 2, load_kg: 15.0),",
            "\n    // The large one.",
        )],
    );
    check(|it| drop(it.things.shift_remove("jar")), &[("\n    \"jar\": (size: (80, 100, 80)), // of glass", "")]);
    check(
        |it| drop(it.parameters.shift_remove("ply")),
        &[("\"ply\": \"18\", /* of the maker */ ", "/* of the maker */ ")],
    );
    check(|it| drop(it.parameters.insert("n".into(), "1".into())), &[("\"0600\" }", "\"0600\", \"n\": \"1\" }")]);
}

#[test]
fn what_moves_takes_its_text_along() {
    check(
        |it| bays(it).swap(1, 2),
        &[(
            "        // Light things.\n        (name: \"mid\", share: Some(2), inside: Open(shelves: 1)),\n        (name: \"high\", inside: Open())\n",
            "        // Light things.\n        (name: \"high\", inside: Open()),\n        (name: \"mid\", share: Some(2), inside: Open(shelves: 1))\n",
        )],
    );
    // Wrapped, it is set in deeper, with the remarks inside it.
    check(
        |it| {
            let all = std::mem::replace(&mut it.carcass.bay, open("outer"));
            it.carcass.bay.inside = Inside::Up { bays: vec![all, open("over")], by: crate::design::Divider::Nothing };
        },
        &[
            (
                "    bay: (\n      name: \"all\",\n",
                "    bay: (\n      name: \"outer\",\n      inside: Up(\n        bays: [\n          (\n            name: \"all\",\n",
            ),
            (
                "      inside: Up(bays: [\n        (\n          // For the dog.\n          name: \"low\",\n          height: AtLeast(250), // or more\n          inside: Holds(things: [\"crate\"], by: Standing),\n        ),\n        // Light things.\n        (name: \"mid\", share: Some(2), inside: Open(shelves: 1)),\n        (name: \"high\", inside: Open())\n      ]),\n    ),\n",
                "            inside: Up(bays: [\n              (\n                // For the dog.\n                name: \"low\",\n                height: AtLeast(250), // or more\n                inside: Holds(things: [\"crate\"], by: Standing),\n              ),\n              // Light things.\n              (name: \"mid\", share: Some(2), inside: Open(shelves: 1)),\n              (name: \"high\", inside: Open())\n            ]),\n          ),\n          (name: \"over\", inside: Open()),\n        ],\n        by: Nothing,\n      ),\n    ),\n",
            ),
        ],
    );
}

#[test]
fn ends_of_lines_tabs_and_marks_stay() {
    let add = |it: &mut Design| bays(it).insert(1, open("new"));
    let windows = format!("\u{feff}{}", MINE.replace('\n', "\r\n"));
    check_text(
        &windows,
        add,
        &[("        // Light things.", "        (name: \"new\", inside: Open()),\r\n        // Light things.")],
    );
    let tabs = MINE.replace("  ", "\t");
    check_text(
        &tabs,
        |it| it.carcass.bay.share = Some(1.5),
        &[("\t\t\tname: \"all\",\n", "\t\t\tname: \"all\",\n\t\t\tshare: 1.5,\n")],
    );
    let words = MINE.lines().flat_map(|line| line.split("//").next().unwrap().split_whitespace());
    let one_line = words.collect::<Vec<_>>().join(" ");
    check_text(&one_line, add, &[("(name: \"mid\"", "(name: \"new\", inside: Open()), (name: \"mid\"")]);
}

#[test]
fn what_cannot_be_changed_in_its_place_is_written_anew_with_its_comments() {
    let twice = MINE.replace("schema: 1,", "schema: 1, unit: Millimetre(step: 1),");
    for mine in [twice, MINE.replace("title", "titel"), "// nothing".to_owned(), MINE.replace("things", "thing")] {
        let mut design = Design::read(MINE).unwrap().0;
        design.title = "other".to_owned();
        assert_eq!(design.changed_in(&mine).unwrap(), None);
        let text = design.to_ron_over(&mine).unwrap();
        assert_eq!(Design::read(&text).unwrap().0, design);
        assert!(mine.contains("// nothing") || text.contains("// Measured twice."), "{text}");
    }
}

#[test]
fn remarks_at_fields_that_another_alternative_does_not_have_stay() {
    let mine = MINE.replace(
        "    bay: (\n",
        "    stand: Feet(\n      height: 100,\n      load_kg: None, // look it up\n    ),\n    bay: (\n",
    );
    let design = Design::read(&mine).unwrap().0;
    let mut after = design.clone();
    let height = Dim::new("120");
    after.carcass.stand = crate::design::Stand::Castors { height, load_kg: None };
    let text = after.changed_in(&mine).unwrap().unwrap();
    assert_eq!(Design::read(&text).unwrap().0, after);
    assert!(text.contains("look it up"), "{text}");
}

#[test]
fn lists_of_which_all_is_replaced_take_no_longer_than_their_square() {
    let with = |count: usize, name: &str| {
        let mut design = Design::read(MINE).unwrap().0;
        let dim = |length: usize| Dim::new(length.to_string());
        design.boards =
            (0..count).map(|at| Board::new(format!("{name} {at}"), "ply", (dim(at + 1), dim(100)))).collect();
        design
    };
    let took = |count: usize| {
        let text = with(count, "old").to_ron().unwrap();
        let after = with(count, "new");
        let begin = std::time::Instant::now();
        let new = after.to_ron_over(&text).unwrap();
        let took = begin.elapsed();
        assert_eq!(Design::read(&new).unwrap().0, after);
        took.as_secs_f64()
    };
    // Six times as many: 36 times as long at most, and as much again for a busy machine; cubic would be 216.
    let (few, many) = (took(200), took(1_200));
    assert!(many < 72.0 * few.max(0.01), "{many} s for {few} s");
}
