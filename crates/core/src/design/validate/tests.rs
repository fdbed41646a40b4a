//! Bad designs, each with its expected message: one slip of the pen at a time in a small sound design.

use crate::{
    Length,
    design::{
        Design,
        tests::{SOUND, nested},
        validate::{MAX_DEPTH, dowel},
    },
};

/// Checks the faults of the sound design with one piece of its text replaced.
fn check(from: &str, to: &str, expected: &[&str]) {
    assert_eq!(SOUND.matches(from).count(), 1, "{from} must be there once");
    check_text(&SOUND.replace(from, to), expected);
}

fn check_text(text: &str, expected: &[&str]) {
    let found: Vec<String> = match Design::from_ron(text) {
        Ok(_) => Vec::new(),
        Err(faults) => faults.iter().map(|fault| fault.in_file("a.ron")).collect(),
    };
    assert_eq!(found, expected, "in {text}");
}

#[test]
fn bad_designs() {
    // The file and its shape.
    check_text("", &["a.ron: the file is empty; begin with `casewright new FILE`"]);
    check_text(
        "(title: \"x\")",
        &["a.ron:1:1: the file does not say which schema it has; begin it with `(schema: 1,`"],
    );
    check_text("hello", &["a.ron:1:1: the file does not say which schema it has; begin it with `(schema: 1,`"]);
    check(
        "schema: 1",
        "schema: 2",
        &[
            "a.ron:2:13: schema: the file has schema 2, this program reads schemas up to 1; open it with a newer version of the program",
        ],
    );
    check(
        "schema: 1",
        "schema: one",
        &["a.ron:2:13: schema: the schema is no whole number above zero; write `schema: 1`"],
    );
    check(
        "schema: 1",
        "schema: 0",
        &["a.ron:2:13: schema: the schema is no whole number above zero; write `schema: 1`"],
    );
    check("things: {", "thigns: {", &["a.ron:13:5: unknown field `thigns`; did you mean `things`?"]);
    check("mass_kg", "mass_gk", &["a.ron:14:59: things[\"dryer\"]: unknown field `mass_gk`; did you mean `mass_kg`?"]);
    check(
        "keep_clear",
        "distance",
        &[
            "a.ron:9:84: site.obstacles[0]: unknown field `distance`; known here: name, kind, corner, size, keep_clear, shape, swing",
        ],
    );
    check(
        "Plywood",
        "Plywod",
        &["a.ron:19:43: materials[\"birch\"].kind: unknown choice `Plywod`; did you mean `Plywood`?"],
    );
    check(
        "inside: Up(by",
        "inside: Upwards(by",
        &[
            "a.ron:47:49: carcass.bay.inside.bays[1].inside: unknown choice `Upwards`; known here: Open, Holds, Across, Up, Boxed",
        ],
    );
    check(
        "Standing",
        "OnTheMoon",
        &[
            "a.ron:46:89: carcass.bay.inside.bays[0].inside.by: unknown choice `OnTheMoon`; known here: Standing, Shelf, PullOut, Drawer, TiltOut",
        ],
    );
    check("    title: \"Laundry corner\",\n", "", &["a.ron:1:1: the field `title` is missing; add `title: ...`"]);
    check(
        "(thickness: 3, kind: Hardboard)",
        "(kind: Hardboard)",
        &["a.ron:20:17: materials[\"thin\"]: the field `thickness` is missing; add `thickness: ...`"],
    );
    check(
        "title: \"Laundry corner\"",
        "title: Laundry",
        &["a.ron:3:12: title: a text in quotation marks is wanted here; write for example \"birch ply\""],
    );
    check(
        "grain: true",
        "grain: \"yes\"",
        &["a.ron:19:59: materials[\"birch\"].grain: true or false is wanted here; write for example true"],
    );
    check(
        "quantity: 2",
        "quantity: 2.5",
        &["a.ron:25:76: boards[1].quantity: a whole number is wanted here; write for example 2"],
    );
    check(
        "quantity: 2",
        "quantity: -2",
        &[
            "a.ron:25:77: boards[1].quantity: the number is too large, or below zero; write a whole number that is possible here",
        ],
    );
    check(
        "share: 2",
        "share: \"2\"",
        &["a.ron:47:38: carcass.bay.inside.bays[1].share: a number is wanted here; write for example 34 or 34.5"],
    );
    check(
        "size: (2440, 1220)",
        "size: (2440, 1220, 18)",
        &[
            "a.ron:24:63: boards[0].size: there are too many values in these parentheses; delete from here to the closing `)`",
        ],
    );
    check(
        "size: (2440, 1220)",
        "size: 2440",
        &["a.ron:24:50: boards[0].size: an opening `(` is wanted here; write the values or fields in parentheses"],
    );
    check(
        "corner: (100, 900, 0)",
        "corner: (100, 900)",
        &["a.ron:9:57: site.obstacles[0].corner: 2 values stand here where 3 are wanted; add or delete values"],
    );
    check(
        "length: 500",
        "length: true",
        &[
            "a.ron:28:46: fittings[\"runner\"].length: the value `true` stands where a length is wanted; write a number, or a text in quotation marks such as \"56 cm\" or \"2 * ply\"",
        ],
    );
    check(
        "length: 500",
        "length: ply",
        &[
            "a.ron:28:46: fittings[\"runner\"].length: a name without quotation marks stands where a length is wanted; write a number, or a text in quotation marks such as \"56 cm\" or \"2 * ply\"",
        ],
    );
    check(
        "length: 500",
        "length: 50 cm",
        &[
            "a.ron:28:46: fittings[\"runner\"].length: a length with a unit, a fraction or an expression stands without quotation marks; write it as in \"56 cm\" or \"2 * ply\"",
        ],
    );
    check(
        "length: 500",
        "length: 2 * ply",
        &[
            "a.ron:28:46: fittings[\"runner\"].length: a length with a unit, a fraction or an expression stands without quotation marks; write it as in \"56 cm\" or \"2 * ply\"",
        ],
    );
    check(
        "size: (2440, 1220)",
        "size: (2440,5, 1220)",
        &["a.ron:24:51: boards[0].size: `2440,5` is read as two values; write the number with a point: 2440.5"],
    );
    check(
        "size: (2440, 1220)",
        "size: (2440,5,1220)",
        &[
            "a.ron:24:51: boards[0].size: there are too many values in these parentheses; write a number with a decimal comma with a point, as in 580.5, or delete what is too many",
        ],
    );
    check(
        "length: 500",
        "length: 500,5",
        &[
            "a.ron:28:46: fittings[\"runner\"].length: `500,5` is read as two values; write the number with a point: 500.5",
        ],
    );
    check(
        "length: 500",
        "length: 22 1/16",
        &[
            "a.ron:28:46: fittings[\"runner\"].length: a length with a unit, a fraction or an expression stands without quotation marks; write it as in \"56 cm\" or \"2 * ply\"",
        ],
    );
    check(
        "length: 500,",
        "length: 500",
        &["a.ron:28:50: fittings[\"runner\"].side_space: a comma is missing before this; add the `,`"],
    );
    check(
        "Millimetre(step: 0.5)",
        "Millimetre(step: 0)",
        &["a.ron:4:28: unit.step: the step must be from 0.001 to 10 mm; common steps are 0.1, 0.5 and 1"],
    );
    check(
        "Millimetre(step: 0.5)",
        "Inch(denominator: 12)",
        &["a.ron:4:29: unit.denominator: the denominator must be 16, 32 or 64"],
    );
    check(
        "\"Laundry corner\",",
        "\"Laundry corner,",
        &[
            "a.ron:3:12: title: the text that begins here runs over several lines; add the closing `\"` that is missing in it",
        ],
    );
    check(
        "bays: [\n                (name: \"wet\"",
        "bays: (\n                (name: \"wet\"",
        &[
            "a.ron:45:34: carcass.bay.inside.bays: a list in square brackets is wanted here; write for example [1, 2]",
            "a.ron:53:13: the bracket opened at 45:34 is not closed by a fitting one here; close it, or check the brackets between 45:34 and here",
        ],
    );
    check(
        "        ties: [",
        "        ), ties: [",
        &[
            "a.ron:55:12: unknown field `ties`; known here: schema, title, sheet, unit, parameters, site, things, materials, banding, boards, saw, supplies, fittings, assumed, carcass, arrange, as_built, progress",
        ],
    );
    check(
        "spoilt: (20, 20, 5, 5)),",
        "spoilt: (20, 20, 5, 5),",
        &[
            "a.ron:26:5: the bracket opened at 25:9 is not closed by a fitting one here; close it, or check the brackets between 25:9 and here",
        ],
    );
    check(
        "    carcass: (",
        "    /* carcass: (",
        &["a.ron:31:5: this text or comment is never closed; add the closing `\"` or `*/`"],
    );
    check(
        "title: \"Laundry corner\",",
        "title: \"Laundry corner\", title: \"b\",",
        &["a.ron:3:30: the field `title` is given twice; delete one of them"],
    );
    // Names given twice.
    check(
        "\"crate\": (",
        "\"dryer\": (",
        &[
            "a.ron:16:9: things: the name \"dryer\" is given twice, first in line 14; rename or delete one of them",
            "a.ron:49:48: carcass.bay.inside.bays[1].inside.bays[0].inside.things[0]: there is no thing called \"crate\"; known: dryer",
        ],
    );
    check(
        "\"inner\":",
        "\"ply\":",
        &[
            "a.ron:5:30: parameters[\"ply\"]: the parameters go round in a circle: ply -> ply; give one of them a value of its own",
            "a.ron:5:32: parameters: the name \"ply\" is given twice, first in line 5; rename or delete one of them",
        ],
    );
    check(
        "name: \"high\"",
        "name: \"low\"",
        &[
            "a.ron:51:28: carcass.bay.inside.bays[1].inside.bays[2].name: two bays are called \"low\", first in line 48; rename one of them",
            "a.ron:55:78: carcass.ties[1].bays[1]: there is no bay called \"high\"; known: all, box, dry, low, mid, wet",
        ],
    );
    check(
        "name: \"pipe\"",
        "name: \"tap\"",
        &["a.ron:10:20: site.obstacles[1].name: two obstacles are called \"tap\", first in line 9; rename one of them"],
    );
    check(
        "name: \"old side\"",
        "name: \"sheet\"",
        &["a.ron:25:16: boards[1].name: two boards are called \"sheet\", first in line 24; rename one of them"],
    );
    check(
        "name: \"box\"",
        "name: \"\"",
        &[
            "a.ron:50:61: carcass.bay.inside.bays[1].inside.bays[1].inside.bay.name: this bay has no name; give it one of its own",
        ],
    );
    check(
        "\"edge\": (",
        "\"\": (",
        &[
            "a.ron:22:20: banding[\"\"]: this name is empty; give it a name",
            "a.ron:39:69: carcass.construction.banding[0].band: there is no banding called \"edge\"; add a banding of that name: there is none yet",
        ],
    );
    // Parameters and expressions.
    check(
        "\"120 cm\"",
        "\"inner + 36\"",
        &[
            "a.ron:5:42: parameters[\"inner\"]: the parameters go round in a circle: inner -> width -> inner; give one of them a value of its own",
        ],
    );
    check("\"120 cm\"", "\"120 cn\"", &["a.ron:5:74: parameters[\"width\"]: `cn` is not a unit; did you mean `cm`?"]);
    check(
        "2 * ply",
        "2 * plx",
        &["a.ron:5:54: parameters[\"inner\"]: there is no parameter called `plx`; did you mean `ply`?"],
    );
    check(
        "Fixed(\"width\")",
        "Fixed(\"widht + 2\")",
        &["a.ron:32:34: carcass.envelope.width: there is no parameter called `widht`; did you mean `width`?"],
    );
    check(
        "Fixed(\"width\")",
        "Fixed(\"width * width\")",
        &[
            "a.ron:32:34: carcass.envelope.width: a length times a length is an area, not a length; leave the unit of one of them out",
        ],
    );
    check(
        "length: 500",
        "length: \"50,000\"",
        &["a.ron:28:47: fittings[\"runner\"].length: `50,000` can be read in two ways; write `50000` or `50.000`"],
    );
    // Sizes and numbers out of reason.
    check(
        "length: 500",
        "length: 0",
        &["a.ron:28:46: fittings[\"runner\"].length: 0 mm is no size; write a length above zero"],
    );
    check(
        "AtLeast(600)",
        "AtLeast(-600)",
        &["a.ron:46:46: carcass.bay.inside.bays[0].width: -600 mm is less than nothing; write zero or more"],
    );
    check(
        "keep_clear: 20",
        "keep_clear: -1",
        &["a.ron:9:96: site.obstacles[0].keep_clear: -1 mm is less than nothing; write zero or more"],
    );
    check(
        "AtMost(2000)",
        "AtMost(20000)",
        &[
            "a.ron:32:58: carcass.envelope.height: 20000 mm is not possible for a piece of furniture; write a length from 0 mm to 10000 mm",
        ],
    );
    check(
        "thickness: 3,",
        "thickness: 300,",
        &[
            "a.ron:20:29: materials[\"thin\"].thickness: 300 mm is not possible for the thickness of a board; write a length from 0.4 mm to 200 mm",
        ],
    );
    check(
        "thickness: 1)",
        "thickness: 0.05)",
        &[
            "a.ron:22:36: banding[\"edge\"].thickness: 0.05 mm is not possible for the thickness of a banding; write a length from 0.1 mm to 20 mm",
        ],
    );
    check(
        "niche: (width: 1210",
        "niche: (width: \"101 m\"",
        &["a.ron:7:25: site.niche.width: the value is too large; lengths go up to 100 m"],
    );
    check(
        "cup: 35",
        "cup: 350",
        &[
            "a.ron:29:27: fittings[\"cup\"].cup: 350 mm is not possible for the cup of a hinge; write a length from 0 mm to 60 mm",
        ],
    );
    check(
        "reveal: 3",
        "reveal: 300",
        &[
            "a.ron:38:21: carcass.construction.reveal: 300 mm is not possible for a gap round a front; write a length from 0 mm to 100 mm",
        ],
    );
    check(
        "mass_kg: 42",
        "mass_kg: -42",
        &[
            "a.ron:14:68: things[\"dryer\"].mass_kg: -42 kg is not possible for a mass; write a number from 0 up to 2000",
        ],
    );
    check(
        "load_kg: 15.5",
        "load_kg: 15500",
        &[
            "a.ron:16:64: things[\"crate\"].load_kg: 15500 kg is not possible for a mass; write a number from 0 up to 2000",
        ],
    );
    check(
        "density_kg_m3: 680",
        "density_kg_m3: 0.68",
        &[
            "a.ron:19:80: materials[\"birch\"].density_kg_m3: 0.68 kg/m³ is not possible for a density; write a number from 50 up to 3000",
        ],
    );
    check(
        "opens_deg: 110",
        "opens_deg: 0",
        &[
            "a.ron:29:57: fittings[\"cup\"].opens_deg: 0° is not possible for an opening angle; write a number above 0 up to 270",
        ],
    );
    check(
        "share: 2",
        "share: NaN",
        &[
            "a.ron:47:38: carcass.bay.inside.bays[1].share: NaN is not possible for a share; write a number above 0 up to 1000",
        ],
    );
    check(
        "price: 71.5",
        "price: -1",
        &["a.ron:24:71: boards[0].price: -1 is not possible for a price; write a number from 0 up to 1000000000"],
    );
    check(
        "shelves: 2",
        "shelves: 2000",
        &[
            "a.ron:51:58: carcass.bay.inside.bays[1].inside.bays[2].inside.shelves: 2000 shelves are too many for one bay; write at most 100",
        ],
    );
    check(
        "Between(200, 300)",
        "Between(300, 200)",
        &[
            "a.ron:48:43: carcass.bay.inside.bays[1].inside.bays[0].height: no size is from 300 mm to 200 mm; write the smaller length first",
        ],
    );
    check(
        "spoilt: (20, 20, 5, 5)",
        "spoilt: (20, 20, 300, 300)",
        &[
            "a.ron:25:105: boards[1].spoilt: nothing is left of the board \"old side\"; write smaller strips, or delete the board",
        ],
    );
    check(
        "Dowelled(\"8x40\")",
        "Dowelled(\"M8\")",
        &[
            "a.ron:37:29: carcass.construction.joint: \"M8\" is no size of a dowel; write diameter x length in mm, as in \"8x40\"",
        ],
    );
    // Names that lead nowhere.
    check(
        "things: [\"dryer\"]",
        "things: [\"drier\"]",
        &[
            "a.ron:46:75: carcass.bay.inside.bays[0].inside.things[0]: there is no thing called \"drier\"; did you mean \"dryer\"?",
        ],
    );
    check(
        "things: [\"crate\"]",
        "things: [\"dryer\"]",
        &[
            "a.ron:49:48: carcass.bay.inside.bays[1].inside.bays[0].inside.things[0]: the thing \"dryer\" is already in the bay \"wet\"; delete it here or there, or add a second thing",
        ],
    );
    check(
        "things: [\"crate\"]",
        "things: [\"crate\", \"crate\"]",
        &[
            "a.ron:49:57: carcass.bay.inside.bays[1].inside.bays[0].inside.things[1]: the thing \"crate\" is in this bay twice; delete it here or there, or add a second thing",
        ],
    );
    check(
        "board: \"birch\",\n",
        "board: \"brich\",\n",
        &["a.ron:34:20: carcass.construction.board: there is no material called \"brich\"; did you mean \"birch\"?"],
    );
    check(
        "Back: \"thin\"",
        "Back: \"thick\"",
        &[
            "a.ron:35:29: carcass.construction.boards[\"Back\"]: there is no material called \"thick\"; did you mean \"thin\"?",
        ],
    );
    check(
        "Of(\"birch\")",
        "Of(\"oak\")",
        &["a.ron:47:59: carcass.bay.inside.bays[1].inside.by: there is no material called \"oak\"; known: birch, thin"],
    );
    check(
        "bottom: \"thin\"",
        "bottom: \"thn\"",
        &[
            "a.ron:49:94: carcass.bay.inside.bays[1].inside.bays[0].inside.by.bottom: there is no material called \"thn\"; did you mean \"thin\"?",
        ],
    );
    check(
        "band: \"edge\"",
        "band: \"egde\"",
        &[
            "a.ron:39:69: carcass.construction.banding[0].band: there is no banding called \"egde\"; did you mean \"edge\"?",
        ],
    );
    check(
        "slide: \"runner\"",
        "slide: \"cup\"",
        &[
            "a.ron:49:76: carcass.bay.inside.bays[1].inside.bays[0].inside.by.slide: the fitting \"cup\" is no slide; name a slide",
        ],
    );
    check(
        "slide: \"runner\"",
        "slide: \"runers\"",
        &[
            "a.ron:49:76: carcass.bay.inside.bays[1].inside.bays[0].inside.by.slide: there is no slide called \"runers\"; did you mean \"runner\"?",
        ],
    );
    check(
        "(name: \"sheet\", material: \"birch\"",
        "(name: \"sheet\", material: \"\"",
        &["a.ron:24:35: boards[0].material: there is no material called \"\"; known: birch, thin"],
    );
    check(
        "[\"low\", \"mid\"]",
        "[\"low\", \"midd\"]",
        &["a.ron:55:35: carcass.ties[0][1]: there is no bay called \"midd\"; did you mean \"mid\"?"],
    );
    check(
        "[\"low\", \"mid\"]",
        "[\"low\"]",
        &["a.ron:55:27: carcass.ties[0]: a tie needs at least two bays; name another bay, or delete the tie"],
    );
    check(
        "[\"low\", \"mid\"]",
        "[\"low\", \"mid\", \"low\"]",
        &["a.ron:55:42: carcass.ties[0][2]: the bay \"low\" is in this tie twice; delete it once"],
    );
    // A grain match names bays as the other ties do.
    check(
        "SameHeight([\"low\", \"mid\"])",
        "GrainMatch([\"low\", \"midd\"])",
        &["a.ron:55:35: carcass.ties[0][1]: there is no bay called \"midd\"; did you mean \"mid\"?"],
    );
    check(
        "SameHeight([\"low\", \"mid\"])",
        "GrainMatch([\"low\"])",
        &["a.ron:55:27: carcass.ties[0]: a tie needs at least two bays; name another bay, or delete the tie"],
    );
    // What cannot be built.
    check(
        "Holds(things: [\"dryer\"], by: Standing)",
        "Holds(by: Standing)",
        &[
            "a.ron:46:60: carcass.bay.inside.bays[0].inside: the bay \"wet\" holds nothing; name a thing, or write `inside: Open()`",
        ],
    );
    check(
        "Open(shelves: 2)",
        "Across(bays: [])",
        &[
            "a.ron:51:57: carcass.bay.inside.bays[1].inside.bays[2].inside.bays: the bay \"high\" is divided into nothing; add bays, or write `inside: Open()`",
        ],
    );
    check(
        "(opens: Pair, board: \"birch\")",
        "(opens: WithHolding)",
        &[
            "a.ron:51:77: carcass.bay.inside.bays[1].inside.bays[2].front.opens: nothing moves behind this front that could take it along; write another way to open, or hold by a drawer, pull-out or tilt-out",
        ],
    );
    check(
        "opens: HingedRight",
        "opens: Fixed",
        &[
            "a.ron:15:38: things[\"dryer\"].access.opens: the door of \"dryer\" cannot open like this; write HingedLeft, HingedRight, HingedBelow, HingedAbove or Pair",
        ],
    );
    check(
        "niche: (width: 1210, height: 2400, depth: 700)",
        "niche: (width: 1210)",
        &[
            "a.ron:32:72: carcass.envelope.depth: the niche has no depth to fill; add the depth to the niche, or write Fixed(...) or AtMost(...) here",
        ],
    );
    check(
        "        niche: (width: 1210, height: 2400, depth: 700),\n",
        "",
        &[
            "a.ron:31:72: carcass.envelope.depth: the site has no niche to fill; add a niche to the site, or write Fixed(...) or AtMost(...) here",
        ],
    );
}

#[test]
fn nesting_is_bounded() {
    // The box lies four deep, and `last` is one more.
    check_text(&nested(MAX_DEPTH - 4), &[]);
    let faults = Design::from_ron(&nested(MAX_DEPTH - 3)).unwrap_err();
    let said: Vec<String> =
        faults.iter().map(|fault| fault.cause.clone() + "; " + fault.mend.as_deref().unwrap()).collect();
    assert_eq!(said, ["bays are nested more than 24 deep; divide fewer bays inside each other"]);
    assert!(faults[0].at.is_some());
    for levels in [40, 10_000] {
        let faults = Design::from_ron(&nested(levels)).unwrap_err();
        assert_eq!(faults[0].cause, "brackets are nested deeper than 80");
    }
}

/// The deepest text that is let through fits a small stack, also without optimisation.
#[test]
fn deep_designs_need_little_stack() {
    let text = nested(22);
    let run = move || Design::read(&text).map(|(_, faults)| faults.len());
    let thread = std::thread::Builder::new().stack_size(1_536 * 1_024).spawn(run).unwrap();
    assert_eq!(thread.join().unwrap(), Ok(1));
}

#[test]
fn dowels_are_diameter_and_length() {
    for (text, expected) in [
        ("8x40", Some((8, 40))),
        ("6 x 30", Some((6, 30))),
        ("10×50", Some((10, 50))),
        ("8", None),
        ("8x", None),
        ("8x4000", None),
        ("-8x40", None),
        ("8.5x40", None),
    ] {
        assert_eq!(dowel(text), expected.map(|(d, l)| (Length::from_mm(d), Length::from_mm(l))), "{text}");
    }
}

#[test]
fn outlines_and_swings_of_obstacles() {
    // The pipe is 50 wide, 2400 high and 50 deep.
    let shape = |shape: &str, expected: &[&str]| {
        check("size: (50, 2400, 50)", &format!("size: (50, 2400, 50), shape: {shape}"), expected);
    };
    shape("Upright([(0, 0), (50, 0), (25, 50)])", &[]);
    shape("Lengthwise([(0, 0), (50, 0), (50, 2400), (0, 1200)])", &[]);
    // The box that is drawn stands elsewhere than the body that is swept: this hid a collision.
    shape(
        "Upright([(0, 0), (50, 0), (50, 400)])",
        &[
            "a.ron:10:116: site.obstacles[1].shape[2]: this point lies outside the box of the obstacle \"pipe\"; write points from its corner: 0 to 50 mm over the width, 0 to 50 mm over the depth; or make `size` larger",
        ],
    );
    shape(
        "Lengthwise([(0, -1), (50, 0), (50, 2401)])",
        &[
            "a.ron:10:102: site.obstacles[1].shape[0]: this point lies outside the box of the obstacle \"pipe\"; write points from its corner: 0 to 50 mm over the depth, 0 to 2400 mm over the height; or make `size` larger",
            "a.ron:10:120: site.obstacles[1].shape[2]: this point lies outside the box of the obstacle \"pipe\"; write points from its corner: 0 to 50 mm over the depth, 0 to 2400 mm over the height; or make `size` larger",
        ],
    );
    for flat in ["Upright([])", "Upright([(0, 0), (50, 50)])", "Upright([(0, 0), (20, 20), (50, 50), (0, 0)])"] {
        shape(
            flat,
            &[
                "a.ron:10:98: site.obstacles[1].shape: the outline of the obstacle \"pipe\" encloses no area; write three points or more that are not in one line, or leave out `shape`",
            ],
        );
    }
    shape(
        "Upright([(0, 0), (50, 0), (60000, 50)])",
        &[
            "a.ron:10:117: site.obstacles[1].shape[2][0]: 60000 mm is not possible for a site; write a length from -50000 mm to 50000 mm",
        ],
    );
    let swing = |degrees: &str, expected: &[&str]| {
        let to = format!("size: (50, 2400, 50), swing: (about: (0, 0), opens_deg: {degrees})");
        check("size: (50, 2400, 50)", &to, expected);
    };
    for fine in ["90", "-95.5", "270"] {
        swing(fine, &[]);
    }
    for (degrees, cause) in [("99999", "99999°"), ("NaN", "NaN°")] {
        swing(
            degrees,
            &[&format!(
                "a.ron:10:117: site.obstacles[1].swing.opens_deg: {cause} is not possible for the swing of a door; write a number from -270 up to 270"
            )],
        );
    }
    swing(
        "0",
        &[
            "a.ron:10:117: site.obstacles[1].swing.opens_deg: a door that swings by 0° does not open; write how far it opens, or leave out `swing` for a door that stays shut",
        ],
    );
}
