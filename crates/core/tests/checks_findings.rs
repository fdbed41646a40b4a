//! Each check of boards, joints, fittings and air, failed on purpose: a small bench is spoilt in one place, and the finding's
//! whole text is compared.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed test may panic")]

mod bench_support;

use bench_support::{all, bench, check, check_with};
use casewright_core::Length;
use casewright_core::checks::CheckOptions;
use casewright_core::finding::Severity;
use casewright_core::geometry::Direction;
use casewright_core::mechanics::limits::{DeflectionLimit, ShelfUse};
use casewright_core::pipeline::Derived;

#[test]
fn sound_bench_has_no_errors() {
    let findings = all(&bench(&[]), &CheckOptions::default());
    let ids: Vec<_> = findings.iter().map(|it| (it.severity, it.check)).collect();
    let expected = r#"[(Note, "tip.open"), (Note, "sag.summary"), (Note, "handle.section"), (Note, "slide.rest"), (Note, "caution.saw"), (Note, "caution.electric"), (Note, "caution.tip")]"#;
    assert_eq!(format!("{ids:?}"), expected);
    // Every finding says where it comes from; what is wrong says how to mend it.
    for it in &findings {
        assert!(it.source.is_some(), "{it:?}");
        assert!(it.severity == Severity::Note || (it.mend.is_some() && it.measured.is_some() && it.limit.is_some()));
    }
}

#[test]
fn depth_behind_a_slide_is_told_where_a_longer_one_would_go_in() {
    // 580 less an 18 mm front and a 6 mm back leave 556: 550 and its set-back of 3 go in (common practice: steps of 50).
    check(
        &[],
        "slide.rest",
        "note: drawer drawer leaves 103 mm of the depth behind it
measured 450 mm; limit 550 mm
source usual lengths of slides (common practice)
mend slides of 550 mm would fit",
    );
    let longest = bench(&[("length: 450", "length: 550")]);
    assert!(all(&longest, &CheckOptions::default()).iter().all(|it| it.check != "slide.rest"));
}

#[test]
fn shelf_sags() {
    check(&[("\"shelf board\": (thickness: 18", "\"shelf board\": (thickness: 8")], "sag.shelf", "error: loose shelf 1 in cloths sags by 17.4 mm over a span of 546 mm under 22.8 kg, 21.2 kg of it assumed for household storage
measured 17.4 mm; limit 3.8 mm (L/144)
source Architectural Woodwork Standards 2009, L/144; board makers' advice, long-term deflection up to +50 % (common practice); EN 312:2010 type P2, as on two board data sheets
mend an upright or support so that it spans at most 327 mm, or a board of 14 mm of the same material, or a front rail of the same board under it, 35 mm high, or a material 4.6 times as stiff");
}

#[test]
fn own_modulus_and_another_limit() {
    let soft = "\"shelf board\": (thickness: 18, kind: Particleboard, modulus_mpa: Some(300)";
    let it = bench(&[("\"shelf board\": (thickness: 18, kind: Particleboard", soft)]);
    let options =
        CheckOptions { deflection: DeflectionLimit::VISIBLE, shelf_use: ShelfUse::Books, ..CheckOptions::default() };
    check_with(&it, &options, "sag.shelf", "error: loose shelf 1 in cloths sags by 30.2 mm over a span of 546 mm under 74.2 kg, 70.8 kg of it assumed for books
measured 30.2 mm; limit 1.4 mm (L/384)
source Fine Woodworking 2007, 1/32 in a foot; board makers' advice, long-term deflection up to +50 % (common practice); your own value
mend an upright or support so that it spans at most 192 mm, or a board of 53 mm of the same material, or a front rail of the same board under it, 100 mm high, or a material 21.3 times as stiff");
}

#[test]
fn worktop_sags_and_gives() {
    let thin = ("\"top board\": (thickness: 38", "\"top board\": (thickness: 10");
    let bare = ("back: Applied,", "back: Applied, top: Rails(width: 80),");
    check(&[thin, bare], "sag.worktop", "warning: worktop sags by 5.8 mm over a span of 566 mm under 69.5 kg, 63.7 kg of it assumed for household storage
measured 5.8 mm; limit 3.9 mm (L/144)
source Architectural Woodwork Standards 2009, L/144; board makers' advice, long-term deflection up to +50 % (common practice); EN 312:2010 type P2, as on two board data sheets
mend an upright or support so that it spans at most 497 mm, or a board of 11.5 mm of the same material, or a front rail of the same board under it, 20 mm high, or a material 1.5 times as stiff");
    check(
        &[thin, bare],
        "sag.person",
        "error: worktop gives by 32.7 mm when somebody sits or leans on the middle of its 566 mm span
measured 32.7 mm, 192 % of its strength; limit 3.9 mm, 750 N
source EN 16121:2013 Table 3, 750 N on the top; Architectural Woodwork Standards 2009, L/144
mend an upright or rail under the middle, or a thicker top",
    );
}

#[test]
fn shelf_breaks() {
    let heavy = ("mass_kg: 20, load_kg: 0", "mass_kg: 20, load_kg: 230");
    let shelf =
        ("by: Standing)),\n            (name: \"tins\"", "by: Shelf(under: 100))),\n            (name: \"tins\"");
    let thin = ("\"shelf board\": (thickness: 18", "\"shelf board\": (thickness: 12");
    check(
        &[heavy, shelf, thin],
        "strength.board",
        "error: shelf in hot may break in time under 251.9 kg with kiln
measured 230 % of its lasting bending strength; limit 100 %
source EN 312:2010 type P2, as on two board data sheets; EN 1995-1-1 Table 3.1 (second hand)
mend a shorter span, a support, or a board of 19 mm",
    );
    // Its four dowels would carry 310 N each, where 202 N are allowed: it gets seven.
    let it = bench(&[heavy, shelf]);
    assert!(all(&it, &CheckOptions::default()).iter().all(|it| it.check != "joint.dowels"));
    // More than there is room for at 32 mm.
    let heavy = ("mass_kg: 20, load_kg: 0", "mass_kg: 20, load_kg: 800");
    check(
        &[heavy, shelf],
        "joint.dowels",
        "warning: 14 dowels carry 4035 N where shelf in hot joins upright right of left
measured 288 N each; limit 202 N each
source splitting of the panel edge, 4 d wide, safety 1.5 (estimate); EN 312:2010 type P2, as on two board data sheets
mend a strip or groove that carries the board: there is no room for more",
    );
    check(
        &[heavy, shelf, ("Dowelled(\"8x40\")", "Screwed")],
        "joint.screws",
        "warning: 14 screws carry 4035 N where shelf in hot joins upright right of left
measured 288 N each; limit 63 N each
source splitting of the panel edge, 4 d wide, safety 1.5 (estimate); EN 312:2010 type P2, as on two board data sheets
mend a strip or groove that carries the board: there is no room for more",
    );
}

#[test]
fn pins_and_feet() {
    let it = bench(&[]);
    let options = CheckOptions { shelf_use: ShelfUse::Books, ..CheckOptions::default() };
    // 500 wide, 550 deep, 50 psf: 330 N on each end.
    assert!(all(&it, &options).iter().all(|it| it.check != "joint.pins"));
    let wide = ("(name: \"hot\", width: Fixed(460)", "(name: \"hot\", width: Fixed(440)");
    let deep = ("depth: Fixed(580)", "depth: Fixed(980)");
    let it = bench(&[wide, deep]);
    check_with(
        &it,
        &options,
        "joint.pins",
        "warning: the pins under loose shelf 1 in cloths carry 238 N each
measured 238 N; limit 200 N
source 5 mm shelf pin in particleboard (from memory)
mend a fixed shelf, strips under its ends, or three pins at each end",
    );
    let feet = ("stand: Floor", "stand: Feet(height: 100)");
    let heavy = ("mass_kg: 20, load_kg: 0", "mass_kg: 20, load_kg: 400");
    check(
        &[feet, heavy],
        "foot.load",
        "warning: one foot carries about 2161 N
measured 2161 N; limit 1000 N
source plastic adjustable feet, about 100 kg each; the maker's sheet rules (from memory)
mend more feet under the uprights, or let the sides stand on the floor",
    );
    let light = ("mass_kg: 20, load_kg: 0", "mass_kg: 20, load_kg: 120");
    // What the design says of its castors goes before what is usual.
    let strong = ("stand: Floor", "stand: Castors(height: 150, load_kg: 110)");
    let it = bench(&[strong, light]);
    assert!(all(&it, &CheckOptions::default()).iter().all(|it| it.check != "foot.load"));
    let weak = ("stand: Floor", "stand: Castors(height: 150, load_kg: 50)");
    // 50 kg x 9.807 = 490 N.
    check(
        &[weak, light],
        "foot.load",
        "warning: one castor carries about 924 N
measured 924 N; limit 490 N
source your own value
mend stronger castors, their load as `load_kg` of the stand, or more of them under the uprights",
    );
    // What a castor carries is not what a foot does; and of one higher than usual nothing is known.
    let castors = ("stand: Floor", "stand: Castors(height: 100)");
    check(
        &[castors, light],
        "foot.load",
        "warning: one castor carries about 927 N
measured 927 N; limit 400 N
source light castors, about 40 kg each; the maker's sheet rules (from memory)
mend stronger castors, their load as `load_kg` of the stand, or more of them under the uprights",
    );
    check(
        &[("stand: Floor", "stand: Castors(height: 150)")],
        "foot.load",
        "note: one castor carries about 480 N; what castors 150 mm high carry is not known here
measured 480 N; limit -
source -
mend look it up in the sheet of their maker before they are bought, and write it as `load_kg` of the stand",
    );
}

#[test]
fn drawer_bottom_and_platform_sag() {
    check(&[("\"drawer bottom\": (thickness: 8", "\"drawer bottom\": (thickness: 3")], "sag.drawer-bottom", "error: bottom of drawer sags by 17.9 mm over 430 mm under 16.3 kg
measured 17.9 mm; limit 3 mm
source Architectural Woodwork Standards 2009, L/144; Architectural Woodwork Standards 2009, span table (950 000 and 1 800 000 psi)
mend a board of 6 mm or a strip under its middle");
    let out = (
        "things: [\"tins\"], by: Standing), front: (opens: HingedRight)",
        "things: [\"tins\"], by: PullOut(slide: \"slide\", board: \"back board\", strips: 30))",
    );
    check(&[out, ("load_kg: 5", "load_kg: 40")], "sag.platform", "error: platform tins sags by 9.3 mm over 394.6 mm under 41.7 kg
measured 9.3 mm; limit 2.7 mm
source Architectural Woodwork Standards 2009, L/144; Architectural Woodwork Standards 2009, span table (950 000 and 1 800 000 psi)
mend a board of 10 mm or a strip under its middle");
}

#[test]
fn slides_hinges_and_fronts() {
    let out = (
        "things: [\"tins\"], by: Standing), front: (opens: HingedRight)",
        "things: [\"tins\"], by: PullOut(slide: \"slide\", strips: 30)), front: (opens: WithHolding)",
    );
    check(
        &[out, ("load_kg: 5", "load_kg: 25")],
        "slide.load",
        r#"error: pull-out tins weighs 32.9 kg on slides "slide"
measured 32.9 kg; limit 30 kg
source your own value
mend slides of a higher class, or less in it; the class counts for moving loads"#,
    );
    check(&[out], "front.leverage", "warning: front of the pull-out of tins stands 787 mm above what it is fixed to, which is only 48 mm high
measured 1723 N on each upper screw; limit 235 N
source Wood Handbook, screws in particleboard, a quarter of the ultimate load (from memory); a firm pull by hand (common practice)
mend two of \"angle bracket 100\" on the platform: `brackets` of its front");
    // With what the mend names the finding goes, and the brackets hold and have room; a smaller one does not hold.
    let with = |of: &str| {
        let fittings = format!("fittings: {{\n        \"angle\": Usual(of: \"{of}\"),");
        let held = (
            "strips: 30)), front: (opens: WithHolding",
            "strips: 30)), front: (opens: WithHolding, brackets: \"angle\"",
        );
        let found = all(&bench(&[out, held, ("fittings: {", &fittings)]), &CheckOptions::default());
        found.into_iter().map(|it| it.check).filter(|it| it.starts_with("front.")).collect::<Vec<_>>()
    };
    assert_eq!(with("angle bracket 100"), Vec::<&str>::new());
    assert_eq!(with("angle bracket 60"), ["front.bracket"]);
    let door =
        |density: &str| format!("\"door board\": (thickness: 18, kind: Particleboard, density_kg_m3: Some({density})");
    let board = "\"door board\": (thickness: 18, kind: Particleboard";
    check(
        &[(board, &door("2600")), ("HingedRight", "HingedBelow")],
        "hinge.count",
        "warning: flap of tins (17.7 kg, 856 mm wide) hangs on 3 hinges
measured 3 hinges; limit 6 hinges
source three hinge charts, the most that any asks
mend 6 hinges, for which this edge is too short with 442.5 mm: a lighter leaf, or one hinged at a longer edge",
    );
    let heavy = door("3000").replace("thickness: 18", "thickness: 30");
    check(
        &[(board, &heavy)],
        "hinge.mass",
        "warning: door of tins weighs 34.1 kg: more than hinge charts reach
measured 34.1 kg; limit 27.2 kg
source three hinge charts, the most that any asks
mend a pair of doors, a thinner or lighter board, or hinges for heavy doors by their maker's sheet",
    );
    let wide = ("(name: \"tins\", width: Fixed(420)", "(name: \"tins\", width: Fixed(560)");
    let low = ("height: Fixed(900)", "height: Fixed(560)");
    check(
        &[wide, low],
        "hinge.distance",
        "note: door of tins is wider than its outer hinges are apart: each pulls with 29 N
measured 356 mm; limit 582.5 mm
source hinge chart: distance of the outer hinges greater than the width
mend hinges nearer to the ends, a pair of doors, or a flap",
    );
}

/// The kiln shut in by a door and the back, with these openings, and its lead.
fn shut_kiln(openings: &str, lead: &str, obstacles: &str) -> Derived {
    bench(&[
        (
            "by: Standing)),\n            (name: \"tins\"",
            "by: Standing), front: (opens: HingedRight)),\n            (name: \"tins\"",
        ),
        ("stand: Floor,", &format!("stand: Plinth(height: 100, set_back: 50), openings: [{openings}],")),
        ("worktop: (board: \"top board\"),", ""),
        ("from_left: 100", "from_left: 100, from_wall: 60"),
        ("air: (sides: 30, top: 60, rear: 30)", &format!("air: (sides: 30, top: 60, rear: 30), {lead}")),
        ("obstacles: []", &format!("obstacles: [{obstacles}]")),
    ])
}

#[test]
fn air_finds_a_way_in_and_out() {
    let options = CheckOptions::default();
    let path = |openings: &str, expected: &str| {
        let it = shut_kiln(openings, "", "");
        let findings = all(&it, &options);
        let found = findings.iter().find(|it| it.check.starts_with("air.path") || it.check == "air.opening");
        let text = found.map_or_else(String::new, |it| {
            format!("{}: {} / {}", it.what, it.measured.as_deref().unwrap_or(""), it.limit.as_deref().unwrap_or(""))
        });
        assert_eq!(text, expected);
    };
    let low = "(panel: Bottom, bay: \"hot\", size: (300, 80))";
    let plinth = "(panel: Plinth, bay: \"hot\", size: (400, 60))";
    let high = "(panel: Back, bay: \"hot\", size: (300, 80), at: (80, 500))";
    path("", "kiln is shut in by a front and a back: no opening / 200 cm² in below and 200 cm² out above");
    // 300 x 80 = 240 cm² in the bottom, but none in the plinth: nothing gets in.
    path(
        &[low, high].join(","),
        "kiln is shut in by a front and a back: 0 cm² in below and 240 cm² out above / 200 cm² in below and 200 cm² out above",
    );
    path(&[low, plinth, high].join(","), "");
    // A grille that leaves 60 % free: 240 cm² become 144.
    let grille = plinth.replace("(400, 60)", "(400, 60), free: 0.6");
    path(
        &[low, &grille, high].join(","),
        "kiln is shut in by a front and a back: 144 cm² in below and 240 cm² out above / 200 cm² in below and 200 cm² out above",
    );
    path(
        "(panel: Back, bay: \"hot\", size: (500, 80))",
        "the opening in the back of hot comes too near to the edge of what the panel shows of the bay: 20 mm past the edge / 20 mm",
    );
    path(
        "(panel: Worktop, bay: \"hot\", size: (50, 50))",
        "the opening in the worktop of hot has no panel: there is none of this kind at that bay: no panel / one panel",
    );
}

#[test]
fn leads_reach_or_do_not() {
    // By hand: the kiln's lead comes out at the middle of its rear, low; the socket is 600 to the left of that and 300
    // higher, on the wall 60 + 6 + 30 behind: the way along the edges and 150 of slack.
    let lead = "lead: (length: 800)";
    let it = shut_kiln("", lead, "");
    let thing = it.assembly.things.iter().find(|it| it.name == "kiln").unwrap().cuboid;
    let (x, y, z) = ((thing.min.x + thing.max.x).mm() / 2.0, thing.min.y.mm(), thing.min.z.mm());
    let socket =
        format!("(name: \"wall socket\", kind: Socket, corner: ({}, {}, 0), size: (80, 80, 10))", x - 680.0, y + 300.0);
    let need = 600.0 + 300.0 + (z - 10.0) + 150.0;
    let it = shut_kiln("", lead, &socket);
    check_with(
        &it,
        &CheckOptions::default(),
        "lead.reach",
        &format!(
            "warning: the lead of kiln does not reach wall socket
measured {need} mm along walls and edges; limit 800 mm of lead
source 150 mm of a lead for bends, plug and slack (common practice)
mend a socket {} mm nearer, set by an electrician, or the appliance nearer to it; no extension lead for good",
            need - 800.0
        ),
    );
    let longer = format!("lead: (length: {need})");
    assert!(all(&shut_kiln("", &longer, &socket), &CheckOptions::default()).iter().all(|it| it.check != "lead.reach"));
    check_with(
        &shut_kiln("", lead, ""),
        &CheckOptions::default(),
        "lead.socket",
        "note: kiln has a lead, but no socket is given
measured no socket; limit a socket within 650 mm
source 150 mm of a lead for bends, plug and slack (common practice)
mend measure the sockets of the room and add them as obstacles of the kind Socket",
    );
}

#[test]
fn inset_flap_needs_a_gap_to_turn() {
    // By hand: 60 high, 40 thick: sqrt(3600 + 1600) - 60 = 12.1 mm.
    let low = (
        "(name: \"drawer\", height: Fixed(150), inside: Holds(by: Drawer(slide: \"slide\", board: \"drawer board\", bottom: \"drawer bottom\")), front: (opens: WithHolding))",
        "(name: \"papers\", height: Fixed(66), inside: Open(), front: (opens: HingedBelow, style: Inset))",
    );
    check(
        &[low, ("\"door board\": (thickness: 18", "\"door board\": (thickness: 40")],
        "front.turn",
        "error: flap of papers cannot turn: its rear corner swings out towards top
measured swings by 12.1 mm; limit gap of 3 mm
source geometry of a turned rectangle
mend a gap of 12.5 mm, a bevelled edge there, a thinner leaf, or an overlay front",
    );
}

#[test]
fn appliances_want_air() {
    check(&[("air: (sides: 30, top: 60, rear: 30)", "air: ()")], "air.unknown", "warning: no air is given for kiln
measured nothing; limit the gaps in the maker's manual
source appliances give off heat (common practice)
mend take the gaps from the maker's manual; least seen: countertop microwave: sides 75 mm, rear 25 mm, top 75 mm; countertop oven or toaster: sides 50 mm, rear 100 mm, top 150 mm; free-standing refrigerator: sides 25 mm, rear 40 mm, top 40 mm");
    check(
        &[("air: (sides: 30, top: 60, rear: 30)", "air: (sides: 10)"), ("width: Fixed(460)", "width: Fixed(400)")],
        "air.usual",
        "note: kiln stands closer than appliances usually may: sides 10 mm
measured sides 10 mm; limit usual: sides 25 mm, rear 25 mm, top 40 mm
source lowest gaps of the pages read for microwaves, ovens and refrigerators (common practice)
mend right only if the maker's manual says so",
    );
    check(
        &[("things: [\"kiln\"], by: Standing)", "things: [\"kiln\"], by: Standing), front: (opens: HingedLeft)")],
        "air.path",
        "warning: kiln is shut in by a front and a back
measured no opening; limit 200 cm² in below and 200 cm² out above
source three appliance manuals, 200 cm² in and out
mend leave the back or the front out, or give openings below and above with that free area, each on a way to the room; do not use it behind a shut front unless the manual allows it",
    );
    let mut it = bench(&[]);
    let kiln = it.assembly.things.iter_mut().find(|it| it.name == "kiln").unwrap();
    kiln.cuboid = kiln.cuboid.moved(Direction::RIGHT, Length::from_mm(15));
    check_with(
        &it,
        &CheckOptions::default(),
        "air.gap",
        "error: kiln has 25 mm of air right of it
measured 25 mm; limit 30 mm
source your own value
mend 5 mm more; the maker's manual rules",
    );
}
