//! Ways of leads through built pieces, worked out by hand.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

use casewright_core::Length;
use casewright_core::design::Design;
use casewright_core::pipeline::{Derived, derive};
use casewright_core::routes::{LeadRoute, routes};

/// A fridge with a back behind it, on a plinth; the piece stands `gap` before the wall.
fn cooler(gap: &str, openings: &str, more: &str) -> Derived {
    let text = format!(
        r#"(
    schema: 1, title: "Cooler", unit: Millimetre(step: 0.5),
    site: (obstacles: [(name: "socket", kind: Socket, corner: (1200, 300, 0), size: (80, 80, 10)) {more}]),
    things: {{ "cooler": (kind: Appliance, size: (500, 600, 450), mass_kg: 30,
        air: (sides: 20, top: 50, rear: 60), lead: (length: 2000, from_left: 100, from_below: 50)) }},
    materials: {{ "board": (thickness: 18, kind: Plywood), "thin": (thickness: 6, kind: Plywood) }},
    carcass: (
        envelope: (width: Fixed(1000), height: Fixed(900), depth: Fixed(600), from_left: 0, from_wall: {gap}),
        construction: (board: "board", boards: {{ Back: "thin" }}, back: Applied, top: Panel, joint: Dowelled("8x40")),
        stand: Plinth(height: 100, set_back: 40),
        openings: [{openings}],
        bay: (name: "all", inside: Across(bays: [
            (name: "cold", width: Fixed(560), inside: Holds(things: ["cooler"], by: Standing)),
            (name: "rest", inside: Open(shelves: 1)),
        ])),
    ),
)"#
    );
    let design = Design::from_ron(&text).unwrap_or_else(|faults| panic!("{faults:?}"));
    derive(&design).unwrap_or_else(|error| panic!("{error}"))
}

fn route(it: &Derived) -> LeadRoute {
    routes(&it.design, &it.layout, &it.assembly).into_iter().next().unwrap()
}

fn mm(value: f64) -> Length {
    Length::from_mm_f64(value)
}

fn found(it: &Derived, check: &str) -> String {
    let found = it.findings.iter().find(|it| it.check == check);
    found.map_or_else(String::new, |it| {
        let say = |text: &Option<String>| text.clone().unwrap_or_default();
        format!("{} / {} / {} / {}", it.what, say(&it.measured), say(&it.limit), say(&it.mend))
    })
}

#[test]
fn a_hole_is_put_where_the_way_stays_the_shortest() {
    let it = cooler("40", "", "");
    let (route, thing) = (route(&it), &it.assembly.things[0].cuboid);
    // By hand: from the mouth of the lead 100 from the left and 50 up, along the axes to the socket's nearest corner.
    let exit = (thing.min.x + mm(100.0), thing.min.y + mm(50.0), thing.min.z);
    let by_hand = (mm(1200.0) - exit.0) + (mm(300.0) - exit.1) + (exit.2 - mm(10.0));
    assert_eq!(route.straight, by_hand);
    assert!(route.is_shut_in() && route.pinched.is_none());
    let way = route.way.as_ref().unwrap();
    assert_eq!(way.length, by_hand, "one hole in the back, and no detour");
    assert_eq!(way.passes.len(), 1);
    let pass = &way.passes[0];
    assert_eq!(it.assembly.parts[pass.part].role, casewright_core::design::Role::Back);
    assert!(pass.tried, "{pass:?}");
    assert_eq!(route.need(), by_hand + mm(150.0));
    let said = found(&it, "lead.way");
    assert!(said.starts_with("the lead of cooler has no way to socket / no gap that it fits through"), "{said}");
    assert!(said.contains("an opening of 60 mm x 60 mm in the back of cold, at ("), "{said}");
    // With the entry that it names nothing is found any more, and the lead goes through it.
    let entry = pass.entry.clone().unwrap();
    let at = entry.at.unwrap();
    let text = format!("(panel: Back, bay: \"{}\", size: (60, 60), at: ({}, {}))", entry.bay, at.0.mm(), at.1.mm());
    let mended = cooler("40", &text, "");
    assert_eq!(found(&mended, "lead.way"), "");
    let again = self::route(&mended);
    assert!(!again.is_shut_in());
    assert_eq!(again.way.as_ref().unwrap().passes[0].opening, Some(0));
    assert_eq!(again.way.unwrap().length, by_hand);
    // The order of work says what is cut in the back: first the hole that it lacks, then the opening that it has.
    let before = |it: &Derived| -> Vec<String> {
        let steps = it.order_of_work().steps.iter();
        steps.flat_map(|it| it.first.clone()).filter(|it| it.contains("lead")).collect()
    };
    let back = &it.assembly.parts[pass.part];
    let (x, y) = ((pass.at.x - back.cuboid.min.x).mm(), (pass.at.y - back.cuboid.min.y).mm());
    let number = &back.number;
    let hole = format!(
        "hole of 60 mm with a grommet in {number} for the lead of cooler: its middle {x} mm from the left and {y} mm from below"
    );
    assert_eq!(before(&it), [hole]);
    // The bay shows what lies right of the side and above the bottom, both 18 thick.
    let begins = [at.0, at.1].map(|it| (it + mm(18.0)).mm());
    assert_eq!(
        before(&mended),
        [format!(
            "opening of 60 mm x 60 mm in {number} for the lead of cooler: begins {} mm from the left and {} mm from below",
            begins[0], begins[1]
        )]
    );
    // For a piece that nothing is known of the general reminder stays.
    let mut unknown = it.design.clone();
    unknown.things.get_mut("cooler").unwrap().lead = None;
    let plan = casewright_core::build_plan::plan(&unknown, &it.layout, &it.assembly, &[]);
    let first: Vec<&String> = plan.steps.iter().flat_map(|it| &it.first).collect();
    assert!(first.iter().any(|it| *it == "opening for the lead and the air of cooler in the back"), "{first:?}");
}

#[test]
fn a_socket_in_an_opening_of_the_back_is_in_reach() {
    // The back stands 40 to 46 mm before the wall, a socket of 50 mm behind the open bay beside.
    let socket = ", (name: \"behind\", kind: Socket, corner: (700, 600, 0), size: (80, 80, 50))";
    let ids = |it: &Derived| -> Vec<&str> {
        let about = it.findings.iter().filter(|it| it.about.iter().any(|it| it == "behind"));
        about.map(|it| it.check).filter(|it| ["fit.obstacle", "socket.trapped"].contains(it)).collect()
    };
    let shut = cooler("40", "", socket);
    assert_eq!(ids(&shut), ["fit.obstacle", "socket.trapped"]);
    // The bay begins at 18 + 560 + 18 = 596 and 100 + 18 = 118: an opening from 680 to 800 and from 580 to 700.
    let opened = cooler("40", "(panel: Back, bay: \"rest\", size: (120, 120), at: (84, 462))", socket);
    assert_eq!(ids(&opened), [""; 0]);
    // One that shows only a part of it leaves it shut in.
    let half = cooler("40", "(panel: Back, bay: \"rest\", size: (60, 120), at: (84, 462))", socket);
    assert_eq!(ids(&half), ["fit.obstacle", "socket.trapped"]);
}

#[test]
fn openings_too_small_or_with_a_grille_do_not_count() {
    let opening = |size: &str, free: &str| format!("(panel: Back, bay: \"cold\", size: {size}, at: (60, 60){free})");
    assert!(route(&cooler("40", &opening("(40, 300)", ""), "")).is_shut_in(), "a plug of 50 does not go through 40");
    assert!(route(&cooler("40", &opening("(80, 80)", ", free: 0.5"), "")).is_shut_in(), "a grille");
    assert!(!route(&cooler("40", &opening("(80, 80)", ""), "")).is_shut_in());
}

#[test]
fn a_gap_that_is_too_narrow_pinches() {
    // Without a back the lead goes out behind; 6 mm before the wall it is pressed by the rear of the side.
    let open = |gap: &str| {
        let text = cooler(gap, "", "").design;
        let mut design = text;
        design.carcass.construction.back = casewright_core::design::Back::None;
        let solved = casewright_core::solve::solve(&design).unwrap();
        let assembly = casewright_core::assembly::build(&design, &solved.layout).unwrap();
        routes(&design, &solved.layout, &assembly).into_iter().next().unwrap()
    };
    let wide = open("10");
    assert!(!wide.is_shut_in() && wide.pinched.is_none(), "{wide:?}");
    let tight = open("6");
    assert_eq!(tight.pinched, Some(Length::from_mm(6)));
    assert!(tight.is_shut_in());
}

#[test]
fn a_heater_and_a_lead_that_is_too_short_are_told() {
    // A radiator between the piece and the socket, 100 kept from it: round it over its top.
    let it = cooler(
        "40",
        "(panel: Back, bay: \"cold\", size: (80, 80), at: (60, 60))",
        ", (name: \"heater\", kind: Radiator, corner: (1020, 0, 0), size: (60, 500, 90))",
    );
    let way = route(&it).way.unwrap();
    let top = way.points.iter().map(|it| it.y).max().unwrap();
    assert_eq!(top, mm(500.0 + 100.0 + 5.0), "{:?}", way.points);
    assert!(way.length > route(&it).straight);
    // Up to 605 and down to 380 again, in place of 300.
    assert_eq!(way.length - route(&it).straight, mm(605.0 - 300.0 + 605.0 - 380.0), "{:?}", way.points);
    let mut short = it.design.clone();
    short.things.get_mut("cooler").unwrap().lead.as_mut().unwrap().length = mm(1000.0);
    let options = casewright_core::checks::CheckOptions::default();
    let findings = casewright_core::checks::all(&short, &it.layout, &it.assembly, &options);
    let reach = findings.iter().find(|it| it.check == "lead.reach").unwrap();
    assert_eq!(reach.what, "the lead of cooler does not reach socket");
    let need = (way.length + mm(150.0)).mm();
    assert_eq!(reach.measured.as_deref(), Some(format!("{need} mm along walls and edges").as_str()));
}
