//! Each check of the piece in its place (racking, tipping, site, handling) and of strings and leads, failed on purpose as in
//! `checks_findings`.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

mod bench_support;

use bench_support::{all, bench, check, check_with};
use casewright_core::Length;
use casewright_core::checks::CheckOptions;
use casewright_core::finding::Severity;
use casewright_core::geometry::Direction;
use casewright_core::mechanics::tipping::Wall;
use casewright_core::pipeline::Derived;

#[test]
fn carcass_racks() {
    check(&[("back: Applied", "back: None")], "rack.sideways", "warning: pushed sideways with 300 N at the top, the carcass leans by 33.3 mm without a back
measured 33.3 mm; limit 4.2 mm (height/200)
source plane frame, joint stiffness estimated (estimate); a person leans on it (common practice)
mend a back of board, or two crossed steel straps 20 x 1.5 over the rear of left, 1046.2 mm long, 3 screws 4 x 30 at each end 1016.2 mm apart, 9 mm outside the corners of the opening, pulled by 539 N: then 0.4 mm");
    check(
        &[("back: Applied", "back: None")],
        "rack.corner",
        "note: lifted at one corner, empty, it twists: its front leans by about 19 mm
measured 19 mm; limit 4.2 mm
source twist of a thin-walled box open in front (estimate)
mend lift it at both ends together, straps fitted first",
    );
}

#[test]
fn tips() {
    // A tall narrow chest of drawers, nothing in it to hold it down.
    let tall = [
        ("height: Fixed(900)", "height: Fixed(1400)"),
        ("width: Fixed(1500)", "width: Fixed(900)"),
        ("depth: Fixed(580)", "depth: Fixed(480)"),
        (
            "(name: \"cloths\", inside: Open(shelves: 1)),",
            "(name: \"d1\", inside: Holds(by: Drawer(slide: \"slide\", board: \"drawer board\", bottom: \"drawer bottom\")), front: (opens: WithHolding)),
             (name: \"d2\", inside: Holds(by: Drawer(slide: \"slide\", board: \"drawer board\", bottom: \"drawer bottom\")), front: (opens: WithHolding)),
             (name: \"d3\", inside: Holds(by: Drawer(slide: \"slide\", board: \"drawer board\", bottom: \"drawer bottom\")), front: (opens: WithHolding)),",
        ),
        ("(name: \"hot\", width: Fixed(460), inside: Holds(things: [\"kiln\"], by: Standing)),", ""),
        ("(name: \"tins\", width: Fixed(420), inside: Holds(things: [\"tins\"], by: Standing), front: (opens: HingedRight)),", ""),
    ];
    let it = bench(&tall);
    check_with(
        &it,
        &CheckOptions::default(),
        "tip.open",
        "error: loaded, it tips forwards as soon as drawer d1, drawer d2 and drawer d3 are open
measured centre of mass 124.4 mm outside the edge; limit 0 mm
source balance of moments; no certificate (common practice)
mend fix it to the wall, a deeper stand, a heavier base, shorter slides, or slides that lock each other",
    );
    check_with(
        &it,
        &CheckOptions::default(),
        "tip.child",
        r#"warning: it tips forwards in the case "a child of 27.5 kg on an open part, rear raised by carpet", on drawer drawer
measured tips by itself; limit 270 N
source ASTM F2057-23 test masses; a calculation after these loads, no certificate (estimate)
mend fix it to the wall: children climb on open drawers and pull themselves up on doors"#,
    );
    check_with(
        &it,
        &CheckOptions::default(),
        "tip.en16121",
        r#"warning: it tips forwards in the case "open and empty, 100 N on an open part", on drawer d1; also "all open and empty"
measured tips by itself; limit 100 N
source EN 16121:2013 Table 3, loads as reproduced in a test report; a calculation after these loads, no certificate (estimate)
mend fix it to the wall, a deeper stand or a heavier base"#,
    );
    let light = (
        "\"board\": (thickness: 18, kind: Particleboard",
        "\"board\": (thickness: 18, kind: Softwood, density_kg_m3: Some(300)",
    );
    let shallow = [
        ("depth: Fixed(480)", "depth: Fixed(400)"),
        ("length: 450", "length: 350"),
        ("width: Fixed(900)", "width: Fixed(500)"),
        ("worktop: (board: \"top board\"),", ""),
    ];
    let lighter = bench(&[tall.as_slice(), &[light], &shallow].concat());
    check_with(
        &lighter,
        &CheckOptions::default(),
        "tip.f2057",
        r#"warning: it tips forwards in the case "one part open, 50 lb on it", on drawer d1
measured tips at 136 N; limit 222 N
source earlier editions of ASTM F2057; a calculation after these loads, no certificate (estimate)
mend fix it to the wall, a deeper stand or a heavier base"#,
    );
    check_with(&it, &CheckOptions { wall: Wall::Studs, ..CheckOptions::default() }, "tip.wall", "warning: a wall fixing is needed, which must hold 307 N outwards in the worst case above
measured 307 N; limit 175 N on each of 2 fixings, safety 2
source NDS withdrawal, 2850 G² D lb/in: 5 mm screw, 25 mm in spruce studs (G 0.42)
mend 2 fixings at about 1350 mm, the outer ones 100 mm from the ends, through a rail or the top into the wall; proof of the wall's hold is the fitter's");
    // A wall fixing is never worse.
    let fixed = CheckOptions { fixed_to_wall: true, ..CheckOptions::default() };
    assert!(all(&it, &fixed).iter().filter(|it| it.check.starts_with("tip.")).all(|it| it.severity == Severity::Note));
    check_with(
        &it,
        &CheckOptions { wall: Wall::Lining, ..CheckOptions::default() },
        "tip.wall",
        "warning: a wall fixing is needed, which must hold 307 N outwards in the worst case above
measured 307 N; limit nothing on lining alone
source lining alone is not relied on (common practice)
mend find the studs or something solid: lining alone is not relied on",
    );
}

#[test]
fn site() {
    let with = |text: &str| bench(&[("obstacles: []", text)]);
    let radiator =
        with("obstacles: [(name: \"radiator\", kind: Radiator, corner: (1650, 100, 0), size: (400, 600, 100))]");
    check_with(
        &radiator,
        &CheckOptions::default(),
        "heat.radiator",
        "warning: the piece stands 50 mm from radiator
measured 50 mm; limit 100 mm
source 100 mm before a radiator (common practice)
mend more distance, for solid wood and glue suffer; portable heaters keep 1000 mm (fire service advice)",
    );
    let socket = with("obstacles: [(name: \"socket\", kind: Socket, corner: (700, 300, -40), size: (80, 80, 40))]");
    check_with(
        &socket,
        &CheckOptions::default(),
        "socket.trapped",
        "warning: socket is behind back
measured out of reach; limit within reach once the piece stands
source sockets and isolators stay within reach; national rules go first (common practice)
mend an opening in the back, or the socket moved by an electrician",
    );
    let post = with("obstacles: [(name: \"post\", corner: (1200, 0, 700), size: (80, 900, 80), keep_clear: 10)]");
    check_with(
        &post,
        &CheckOptions::default(),
        "site.reach",
        "error: door of tins hits post by 103.9 mm at the end that swings after 16.8° of 110°
measured 15.1°; limit 110°
source your own value
mend a narrower front, hinges on the other side, or the bay further away",
    );
    let pipe = with("obstacles: [(name: \"pipe\", kind: Pipe, corner: (400, 0, 100), size: (40, 2400, 40))]");
    check_with(
        &pipe,
        &CheckOptions::default(),
        "fit.obstacle",
        "error: bottom stands where pipe is
measured 18 mm; limit 0 mm
source your own value
mend a shallower or narrower envelope, a notch, or the piece moved",
    );
    let mut it = bench(&[]);
    let niche = it.design.site.niche.as_mut().unwrap();
    niche.width = Length::from_mm(1580);
    check_with(
        &it,
        &CheckOptions::default(),
        "fit.niche-width",
        "error: the piece is 20 mm too wide for its niche
measured reaches to 1600 mm; limit 1580 mm
source your own value
mend a smaller envelope, or another place to begin",
    );
}

#[test]
fn things_outside_their_bays() {
    let mut it = bench(&[]);
    let kiln = it.assembly.things.iter_mut().find(|it| it.name == "kiln").unwrap();
    kiln.with_air = kiln.with_air.grown(Direction::RIGHT, Length::from_mm(25));
    check_with(
        &it,
        &CheckOptions::default(),
        "fit.width",
        "error: kiln with its air is 15 mm too wide for its place in bay hot
measured 465 mm; limit 460 mm
source your own value
mend a bay 15 mm larger, or less air if the maker's manual allows it",
    );
    let kiln = it.assembly.things.iter_mut().find(|it| it.name == "kiln").unwrap();
    kiln.cuboid = kiln.cuboid.moved(Direction::DOWN, Length::from_mm(5));
    check_with(
        &it,
        &CheckOptions::default(),
        "fit.overlap",
        "error: kiln runs into bottom
measured 5 mm; limit 0 mm
source exact geometry of the solved piece
mend a larger bay, or another place for one of them",
    );
    let mut it = bench(&[]);
    let shelf = it.assembly.parts.iter_mut().find(|it| it.number.starts_with("LS-")).unwrap();
    shelf.cuboid = shelf.cuboid.moved(Direction::RIGHT, Length::from_mm(4));
    check_with(
        &it,
        &CheckOptions::default(),
        "fit.parts",
        "error: loose shelf 1 in cloths and upright right of left take the same place
measured 3 mm; limit 0 mm
source exact geometry of the solved piece
mend move one of them; if the design does not ask for it, please report it",
    );
}

#[test]
fn handling_and_heights() {
    let tall = [
        ("height: Fixed(900)", "height: Fixed(2350)"),
        ("worktop: (board: \"top board\"),", ""),
        ("Open(shelves: 1)", "Open(shelves: 5)"),
    ];
    check(
        &tall,
        "handle.ceiling",
        "error: put together lying, it cannot be raised under the ceiling
measured 2416.3 mm; limit 2400 mm
source diagonal of its side (common practice)
mend put it together standing, or give it a separate plinth, or a carcass of at most 2333 mm",
    );
    // Under a beam over its niche: it is raised in the room before it, whose height nobody gave.
    let under_beam = [("height: 2400, left_wall", "height: 2400, above: \"beam\", left_wall")];
    let found = all(&bench(&[tall.as_slice(), under_beam.as_slice()].concat()), &CheckOptions::default());
    assert!(found.iter().all(|it| it.check != "handle.ceiling"), "{found:?}");
    let heavy = (
        "\"top board\": (thickness: 38, kind: Particleboard",
        "\"top board\": (thickness: 38, kind: Mdf, density_kg_m3: Some(1500)",
    );
    check(
        &[heavy],
        "handle.part",
        "note: two people lift worktop
measured 49.6 kg; limit 25 kg
source manual handling guideline, 25 kg near the body for most men, 16 kg for most women (from memory)
mend a second person, or a panel lifter",
    );
    check(
        &tall,
        "handle.section",
        "note: the carcass weighs 116 kg without what moves: 5 people
measured 116 kg; limit 25 kg a person
source manual handling guideline, 25 kg near the body for most men, 16 kg for most women (from memory)
mend take worktop, doors and drawers off first, or build it in sections",
    );
    check(
        &tall,
        "ergo.reach",
        "note: shelf over cloths is 2182 mm high: out of reach without a step
measured 2182 mm; limit 2000 mm
source highest reach without a step (common practice)
mend light and seldom used things there",
    );
    check(
        &tall,
        "ergo.drawer",
        "note: one cannot look into drawer drawer
measured 2325 mm; limit 1400 mm
source drawers one can see into (common practice)
mend a lower drawer, or open shelves there",
    );
    let doorway = CheckOptions {
        doorway: Some((Length::from_mm(560), Length::from_mm(1900))),
        body_height: Some(Length::from_mm(1900)),
        corner: Some((Length::from_mm(550), Length::from_mm(600))),
        ..CheckOptions::default()
    };
    check_with(
        &bench(&[]),
        &doorway,
        "handle.corner",
        "error: put together, all does not go round the corner
measured 1500 mm x 862 mm x 562 mm; limit passages of 550 mm and 600 mm
source a box held level in a corner (common practice)
mend put it together in the room, or build it in sections",
    );
    check_with(
        &bench(&[]),
        &doorway,
        "handle.doorway",
        "error: put together, all does not pass through the doorway
measured 1500 mm x 862 mm x 562 mm; limit 560 mm x 1900 mm
source a box turned in an opening (common practice)
mend put it together in the room, or build it in sections",
    );
    check_with(
        &bench(&[]),
        &doorway,
        "ergo.worktop",
        "note: the worktop is 900 mm high
measured 900 mm; limit about 1100 mm for somebody 1900 mm tall
source 100 to 200 mm below the bent elbow
mend another height, unless it must meet a neighbour",
    );
    let plinth = ("stand: Floor", "stand: Plinth(height: 60, set_back: 30)");
    check(
        &[plinth],
        "ergo.toes",
        "note: there is little room for the toes under the front
measured 60 mm high, 30 mm deep; limit 100 mm high, 50 mm deep
source EN 1116, plinth height at least 100; depth common practice (second hand)
mend a higher plinth, set further back",
    );
}

#[test]
fn solid_top_moves() {
    check(
        &[(
            "\"top board\": (thickness: 38, kind: Particleboard",
            "\"top board\": (thickness: 38, grain: true, kind: Hardwood",
        )],
        "wood.moves",
        "warning: worktop is solid wood, 580 mm across the grain: between winter and summer it moves by 10.7 mm
measured 10.7 mm; limit 1 mm
source Wood Handbook Table 13-5, flat-sawn (tangential); wood in heated rooms, summer (common practice)
mend fix one edge only, screws elsewhere in slots 14.7 mm long across the grain, 6.4 mm free at its edges",
    );
}

#[test]
fn same_input_same_list() {
    let it = bench(&[("back: Applied", "back: None")]);
    assert_eq!(all(&it, &CheckOptions::default()), all(&it, &CheckOptions::default()));
    let severities: Vec<_> = all(&it, &CheckOptions::default()).iter().map(|it| it.severity).collect();
    assert!(severities.windows(2).all(|pair| pair[0] >= pair[1]));
}

/// The cloths of the bench in a compartment that tilts by 30 degrees and is held by this string.
fn tilting(stay: &str) -> Derived {
    let by = format!(
        "inside: Holds(by: TiltOut(hinge: Below, opens_deg: 30, lid: true, board: \"drawer board\", {stay})), front: (opens: WithHolding)"
    );
    bench(&[("inside: Open(shelves: 1)", &by)])
}

#[test]
fn strings_of_tilt_outs_are_held_against_their_angle() {
    // Both ends 60 mm behind and 300 mm up when shut: a chord of 2 r sin 15 with r = sqrt(60² + 300²) = 305.941, 158.365 mm
    // (geometry of the circle).
    let it = tilting("stay: (carcass: (60, 300), compartment: (60, 300))");
    let findings = all(&it, &CheckOptions::default());
    let pull = findings.iter().find(|it| it.check == "tilt.pull").unwrap();
    assert!(pull.what.starts_with("the stay of tilt-out cloths goes taut at 30° and then holds"), "{pull:?}");
    // Its arm is r cos 15 = 295.517.
    assert_eq!(pull.limit.as_deref(), Some("158.4 mm long, arm 295.5 mm"));
    assert!(findings.iter().all(|it| it.check != "tilt.string" && it.check != "tilt.end"));
    // 100 mm long: 2 asin(50 / 305.941) = 18.813 degrees.
    check_with(
        &tilting("stay: (carcass: (60, 300), compartment: (60, 300), stop: Long(100))"),
        &CheckOptions::default(),
        "tilt.string",
        "warning: the stay of tilt-out cloths stops it at 18.8°, before it is open
measured 18.8°; limit 30°
source law of cosines; moments about the hinge
mend a stay of 158.4 mm for the whole angle",
    );
    check_with(
        &tilting("stay: (carcass: (60, 300), compartment: (60, 260), stop: Long(30))"),
        &CheckOptions::default(),
        "tilt.string",
        "error: the stay of tilt-out cloths is too short to shut it
measured 30 mm; limit 40 mm at least
source law of cosines; moments about the hinge
mend a longer string, or ends nearer to each other",
    );
    check_with(
        &tilting("stay: (carcass: (60, 300), compartment: (60, 300), stop: Long(200))"),
        &CheckOptions::default(),
        "tilt.string",
        "error: the stay of tilt-out cloths is slack when that is open
measured taut at 38.2° only; limit 30°
source law of cosines; moments about the hinge
mend a stay of 158.4 mm",
    );
    check_with(
        &tilting("stay: (carcass: (60, 300), compartment: (60, -30))"),
        &CheckOptions::default(),
        "tilt.end",
        "error: the stay of tilt-out cloths ends beside the compartment
measured 30 mm off; limit within its section
source law of cosines; moments about the hinge
mend measure both ends again: behind the front, and away from the edge that it turns about",
    );
}

#[test]
fn strings_of_lids_say_how_far_the_lid_turns() {
    // The lid turns about its rear end and is tied at its front, straight to the carcass; it begins at 10 degrees.
    let lid = |start: f64| {
        format!(
            "stay: (carcass: (60, 300), compartment: (60, 300), lid: (hinge: (250, 400), lid: (40, 400), carcass: (60, 600), starts_deg: {start}))"
        )
    };
    let findings = all(&tilting(&lid(10.0)), &CheckOptions::default());
    let found = findings.iter().find(|it| it.check == "tilt.lid").unwrap();
    assert_eq!(found.severity, Severity::Note, "{found:?}");
    // By hand, with the compartment held still and the carcass turned back by 30 degrees: string = distance at 10 degrees.
    let turned = |deg: f64, [out, up]: [f64; 2]| {
        let (sin, cos) = (-deg).to_radians().sin_cos();
        [out * cos + up * sin, up * cos - out * sin]
    };
    let apart = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let (hinge, tied, carcass) = ([-250.0, 400.0], [-40.0, 400.0], [-60.0, 600.0]);
    let string = apart(turned(10.0, carcass), tied);
    let end = turned(30.0, carcass);
    let (far, radius) = (apart(end, hinge), apart(hinge, tied));
    let angle = |side: f64| ((far * far + radius * radius - side * side) / (2.0 * far * radius)).acos();
    let by_hand = (angle(apart(end, tied)) - angle(string)).to_degrees();
    assert_eq!(found.what, format!("the lid of tilt-out cloths has turned by {by_hand:.1}° when that is open"));
    let never = all(&tilting(&lid(80.0)), &CheckOptions::default());
    assert_eq!(never.iter().find(|it| it.check == "tilt.lid").unwrap().severity, Severity::Warning);
}

#[test]
fn the_named_socket_counts_and_not_the_nearest() {
    let sockets = r#"obstacles: [
        (name: "near", kind: Socket, corner: (700, 300, 0), size: (80, 80, 10)),
        (name: "far", kind: Socket, corner: (2800, 300, 0), size: (80, 80, 10)),
    ]"#;
    let kiln = |socket: &str| format!("mass_kg: 20, load_kg: 0, lead: (length: 1200{socket}),");
    let check = |socket: &str, expected: Option<&str>| {
        let it = bench(&[("obstacles: []", sockets), ("mass_kg: 20, load_kg: 0,", &kiln(socket))]);
        let findings = all(&it, &CheckOptions::default());
        let found = findings.iter().find(|it| it.check == "lead.reach").map(|it| it.what.as_str());
        assert_eq!(found, expected);
    };
    check("", None);
    check(", socket: \"near\"", None);
    check(", socket: \"far\"", Some("the lead of kiln does not reach far"));
}

/// What is said of the plug of the kiln in a socket so high behind it.
fn plug(height: i64, edits: &[(&str, &str)]) -> String {
    let socket = format!("obstacles: [(name: \"wall\", kind: Socket, corner: (850, {height}, 0), size: (80, 80, 10))]");
    let lead = "load_kg: 0, lead: (length: 1500, socket: \"wall\"),";
    let own =
        [("obstacles: []", socket.as_str()), ("mass_kg: 20, load_kg: 0,", lead), ("lead: (", "mass_kg: 20, lead: (")];
    let it = bench(&[&own, edits].concat());
    let findings = all(&it, &CheckOptions::default());
    let found: Vec<_> = findings.iter().filter(|it| it.check == "plug.reach").collect();
    assert_eq!(found.len(), 1);
    format!("{}; {}; {}", found[0].what, found[0].measured.clone().unwrap(), found[0].limit.clone().unwrap())
}

#[test]
fn an_arm_comes_to_a_plug_over_what_stands_before_it() {
    // Over the kiln, which stands on the bottom and is 400 high: straight in, and the length is the depth less the socket and the 40 mm of the plug.
    assert_eq!(
        plug(500, &[]),
        "the plug of kiln is reached straight through bay hot; 530 mm of arm; 600 mm of arm at most"
    );
    // Behind it: 20 kg must be moved.
    assert_eq!(plug(250, &[]), "the plug of kiln can be reached only by moving kiln; 20 kg; 15 kg");
    // In a shallow bench, with room behind the kiln, a line comes down over it from higher up the open front.
    let shallow = [
        ("depth: Fixed(580)", "depth: Fixed(350)"),
        ("length: 450", "length: 250"),
        ("size: (380, 400, 400)", "size: (380, 400, 150)"),
        ("rear: 30)", "rear: 150)"),
    ];
    let over = plug(330, &shallow);
    assert!(over.starts_with("the plug of kiln is reached straight through bay hot; "), "{over}");
    // Where the bay is too low for that, the arm goes in over it and bends down behind it: 150 mm less.
    let low = [&shallow[..], &[("height: Fixed(900)", "height: Fixed(560)")]].concat();
    let bent = plug(330, &low);
    assert!(bent.starts_with("the plug of kiln is reached through bay hot, the arm bent once; "), "{bent}");
    assert!(bent.ends_with("of arm; 450 mm of arm at most"), "{bent}");
    // 86 mm are free over the kiln there. Of 66 mm, no arm goes through (common practice: a forearm is about 80 mm thick).
    let lower = [&shallow[..], &[("height: Fixed(900)", "height: Fixed(540)")]].concat();
    assert_eq!(plug(330, &lower), "the plug of kiln can be reached only by moving kiln; 20 kg; 15 kg");
}

#[test]
fn an_arm_comes_through_an_opening_that_a_hand_goes_through() {
    let hot = "(name: \"hot\", width: Fixed(460), inside: Holds(things: [\"kiln\"], by: Standing)),";
    let shut =
        "(name: \"hot\", width: Fixed(460), inside: Holds(things: [\"kiln\"], by: Standing), front: (opens: Fixed)),";
    let cut = |size: i64, at: &str| {
        let opening = format!("carcass: (openings: [(panel: Front, bay: \"hot\", size: ({size}, {size}){at})],");
        plug(500, &[(hot, shut), ("carcass: (", &opening)])
    };
    let through = |size: i64| cut(size, "");
    assert!(
        plug(500, &[(hot, shut)])
            .starts_with("the plug of kiln cannot be reached: fixed front of hot stands before it")
    );
    // Common practice: a hand with a plug needs about 90 mm.
    assert!(through(60).starts_with("the plug of kiln cannot be reached: fixed front of hot stands before it"));
    // A forearm of 80 mm goes straight through the middle of 100 mm (common practice) at the height of the plug; through the
    // middle of the front, just over the kiln, it would meet that.
    let narrow = cut(100, ", at: (180, 472)");
    assert!(narrow.starts_with("the plug of kiln is reached straight through bay hot; "), "{narrow}");
    assert_eq!(through(100), "the plug of kiln can be reached only by moving kiln; 20 kg; 15 kg");
    let wide = cut(160, ", at: (150, 442)");
    assert!(wide.starts_with("the plug of kiln is reached straight through bay hot; "), "{wide}");
}
