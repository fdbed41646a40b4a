//! Each demo, spoilt on purpose for each check: the finding's words and figures are compared with
//! tests/data/checks/DEMO.txt. `CASEWRIGHT_ACCEPT=1` writes these files anew; read the difference before it is committed.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, reason = "a failed test may panic")]

use std::collections::BTreeSet;
use std::fmt::Write;

use casewright_core::assembly::{self, Assembly};
use casewright_core::checks::{self, CheckOptions};
use casewright_core::design::{
    Air, Back, Bay, CutOut, Fitting, FlapStay, Front, FrontStep, FrontStyle, Holding, Inside, Lead, LidString,
    MaterialKind, Obstacle, ObstacleKind, ObstacleShape, Opening, Opens, Resolved, Role, ShelfLoad, Stand, Swing,
    ThingKind, TiltStay, TiltStop, Usual,
};
use casewright_core::finding::{Finding, Severity};
use casewright_core::geometry::{Axis, Cuboid, Direction};
use casewright_core::layout::Layout;
use casewright_core::{Length, solve};
use casewright_tests::sheets::demos;

/// One way to spoil a demo: before it is solved and built, and after; and the checks that must say so.
struct Spoilt {
    checks: &'static [&'static str],
    before: fn(&mut Resolved),
    after: fn(&mut Resolved, &mut Layout, &mut Assembly),
}

const fn mm(value: i64) -> Length {
    Length::from_mm(value)
}

fn keep(_: &mut Resolved) {}

fn as_built(_: &mut Resolved, _: &mut Layout, _: &mut Assembly) {}

/// The first undivided bay that `wanted` picks.
fn leaf<'a>(bay: &'a mut Bay<Length>, wanted: &dyn Fn(&Bay<Length>) -> bool) -> Option<&'a mut Bay<Length>> {
    if wanted(bay) && matches!(bay.inside, Inside::Open { .. } | Inside::Holds { .. }) {
        return Some(bay);
    }
    match &mut bay.inside {
        Inside::Across { bays, .. } | Inside::Up { bays, .. } => bays.iter_mut().find_map(|it| leaf(it, wanted)),
        Inside::Boxed { bay, .. } => leaf(bay, wanted),
        _ => None,
    }
}

/// Puts a front of this thickness and density before a bay that stands open, or makes the one that there is so.
fn door(design: &mut Resolved, opens: Opens, style: FrontStyle, thickness: i64, density: f64) {
    let mut board = design.materials.first().expect("a material").1.clone();
    board.thickness = mm(thickness);
    board.density_kg_m3 = Some(density);
    design.materials.insert("heavy".into(), board);
    // Books stand nearer to the front than such a leaf allows.
    design.things.values_mut().filter(|it| it.kind != ThingKind::Appliance).for_each(|it| it.size.2 = mm(200));
    let standing = |it: &Bay<Length>| {
        matches!(it.inside, Inside::Open { .. } | Inside::Holds { by: Holding::Standing, .. })
            && !it.name.contains("dryer")
    };
    let bay = leaf(&mut design.carcass.bay, &standing).expect("a bay to close");
    bay.front = Some(Front { style: Some(style), board: Some("heavy".into()), ..Front::plain(opens) });
}

fn heavy(design: &mut Resolved) {
    design.things.values_mut().for_each(|it| it.load_kg = 600.0);
}

fn dense(design: &mut Resolved) {
    design.materials.values_mut().for_each(|it| it.density_kg_m3 = Some(3000.0));
}

/// The first thing is an appliance that gives off heat.
fn appliance(design: &mut Resolved) -> (String, &mut casewright_core::design::Thing<Length>) {
    let (name, thing) = design.things.first_mut().expect("a thing");
    thing.kind = ThingKind::Appliance;
    (name.clone(), thing)
}

fn shut_in(design: &mut Resolved) {
    let (name, _) = appliance(design);
    design.carcass.construction.back = Back::Applied;
    design.things.values_mut().for_each(|it| it.size.2 -= mm(40));
    let holds = |it: &Bay<Length>| matches!(&it.inside, Inside::Holds { things, .. } if things.contains(&name));
    let bay = leaf(&mut design.carcass.bay, &holds).expect("its bay");
    bay.front = Some(Front { style: Some(FrontStyle::Overlay), ..Front::plain(Opens::HingedLeft) });
}

/// Ties the tilting compartment, if there is one, with a string between these ends, and its lid with another.
fn tied(design: &mut Resolved, compartment: (i64, i64), stop: TiltStop<Length>) {
    let end = |(behind, away): (i64, i64)| (mm(behind), mm(away));
    let lid = LidString {
        hinge: end((280, 420)),
        carcass: end((60, 560)),
        lid: end((40, 420)),
        pulley: None,
        starts_deg: 10.0,
    };
    let tilts = |it: &Bay<Length>| matches!(it.inside, Inside::Holds { by: Holding::TiltOut { .. }, .. });
    if let Some(Inside::Holds { by: Holding::TiltOut { stay, .. }, .. }) =
        leaf(&mut design.carcass.bay, &tilts).map(|it| &mut it.inside)
    {
        let (carcass, compartment) = (end((60, 300)), end(compartment));
        *stay = Some(Box::new(TiltStay { carcass, compartment, stop, with: None, both_sides: false, lid: Some(lid) }));
    }
}

/// Ties the tilting compartment with a usual stay or damper in the place of the string.
fn held(design: &mut Resolved, compartment: (i64, i64), with: &str) {
    tied(design, compartment, TiltStop::AtLargest);
    let tilts = |it: &Bay<Length>| matches!(it.inside, Inside::Holds { by: Holding::TiltOut { .. }, .. });
    if let Some(Inside::Holds { by: Holding::TiltOut { stay: Some(stay), .. }, .. }) =
        leaf(&mut design.carcass.bay, &tilts).map(|it| &mut it.inside)
    {
        stay.with = Some(with.to_owned());
    }
    usual(design, with);
}

/// Closes a bay by a flap whose stay runs from its rear far over what is in it.
fn flapped(design: &mut Resolved) {
    door(design, Opens::HingedBelow, FrontStyle::Overlay, 18, 600.0);
    let closed = |it: &Bay<Length>| it.front.as_ref().is_some_and(|it| it.board.as_deref() == Some("heavy"));
    if let Some(front) = leaf(&mut design.carcass.bay, &closed).and_then(|it| it.front.as_mut()) {
        let (carcass, flap) = ((mm(250), mm(5)), (mm(18), mm(90)));
        let stop = TiltStop::AtLargest;
        front.stay = Some(Box::new(FlapStay { carcass, flap, stop, with: None, both_sides: true }));
    }
}

/// Puts weak brackets behind the fronts of pull-outs.
fn bracketed(design: &mut Resolved) {
    let pulls =
        |it: &Bay<Length>| it.front.is_some() && matches!(it.inside, Inside::Holds { by: Holding::PullOut { .. }, .. });
    if let Some(front) = leaf(&mut design.carcass.bay, &pulls).and_then(|it| it.front.as_mut()) {
        front.brackets = Some("angle bracket 40".to_owned());
    }
    usual(design, "angle bracket 40");
}

/// Adds a fitting of the library under its own name.
fn usual(design: &mut Resolved, name: &str) {
    design.fittings.insert(name.to_owned(), Fitting::Usual(Usual::plain(name)));
    assert!(casewright_core::fittings::fill(design).is_empty());
}

fn obstacle(kind: ObstacleKind, corner: [i64; 3], size: [i64; 3]) -> Obstacle<Length> {
    let [x, y, z] = corner.map(mm);
    let [w, h, d] = size.map(mm);
    Obstacle {
        name: "something in the way".into(),
        kind,
        corner: (x, y, z),
        size: (w, h, d),
        keep_clear: None,
        shape: ObstacleShape::Box,
        swing: None,
    }
}

/// Hangs the appliance on the wall above the piece, and a socket beside it behind four boards, with a slit of this width
/// in one of them.
fn round_a_socket(design: &mut Resolved, assembly: &mut Assembly, slit: i64) {
    let it = assembly.envelope;
    let (x, y) = (it.min.x.mm() as i64 + 400, it.max.y.mm() as i64 + 100);
    let all = |from: i64, to: i64| (mm(from), mm(to));
    assembly.things[0].cuboid = Cuboid::from_ranges(all(x, x + 100), all(y, y + 100), all(15, 115));
    assembly.things[0].with_air = assembly.things[0].cuboid;
    let board = |x: i64, y: i64, w: i64, h: i64| obstacle(ObstacleKind::Pipe, [x, y, 0], [w, h, 60]);
    design.site.niche = None;
    design.site.obstacles = vec![
        obstacle(ObstacleKind::Socket, [x - 300, y, 0], [80, 80, 10]),
        board(x - 340, y - 40, 20, 160),
        board(x - 340, y - 40, 180, 20),
        board(x - 340, y + 100, 180, 20),
        board(x - 180, y - 40, 20, 80),
        board(x - 180, y + 40 + slit, 20, 80 - slit),
    ];
}

const SPOILT: &[Spoilt] = &[
    Spoilt {
        checks: &[
            "sag.shelf",
            "sag.top",
            "sag.bottom",
            "sag.rail",
            "sag.worktop",
            "sag.person",
            "sag.drawer-bottom",
            "sag.platform",
        ],
        before: |it| it.materials.values_mut().for_each(|it| it.modulus_mpa = Some(100.0)),
        after: as_built,
    },
    Spoilt {
        checks: &["sag.support"],
        before: keep,
        after: |_, _, assembly| {
            let up = |it: &&mut casewright_core::assembly::Part| matches!(it.role, Role::Side | Role::Upright);
            assembly.parts.iter_mut().filter(up).for_each(|it| it.cuboid = it.cuboid.moved(Direction::DOWN, mm(5000)));
        },
    },
    Spoilt {
        checks: &["strength.board", "joint.dowels", "joint.screws", "slide.load", "foot.load"],
        before: heavy,
        after: as_built,
    },
    Spoilt {
        checks: &["joint.pins", "handle.part"],
        before: |it| {
            dense(it);
            it.assumed.shelves_carry = ShelfLoad::Books;
        },
        after: as_built,
    },
    Spoilt {
        checks: &["foot.load"],
        before: |it| {
            it.carcass.stand = Stand::Feet { height: mm(55), load_kg: None };
            heavy(it);
        },
        after: as_built,
    },
    Spoilt {
        checks: &["hinge.count"],
        before: |it| door(it, Opens::HingedBelow, FrontStyle::Overlay, 18, 3000.0),
        after: |_, _, assembly| {
            // One hinge is lost.
            if let Some(i) = assembly.fittings.iter().position(|it| it.what.contains("hinge")) {
                assembly.fittings.remove(i);
            }
        },
    },
    Spoilt {
        checks: &["hinge.mass", "tip.open", "tip.child", "tip.en16121", "tip.f2057", "tip.wall"],
        before: |it| door(it, Opens::HingedLeft, FrontStyle::Overlay, 18, 60_000.0),
        after: as_built,
    },
    Spoilt {
        checks: &["hinge.distance"],
        before: |it| door(it, Opens::HingedLeft, FrontStyle::Overlay, 18, 700.0),
        after: as_built,
    },
    Spoilt {
        checks: &["front.turn"],
        before: |it| door(it, Opens::HingedBelow, FrontStyle::Inset, 70, 700.0),
        after: as_built,
    },
    Spoilt { checks: &["front.leverage"], before: keep, after: as_built },
    Spoilt { checks: &["tip.open"], before: heavy, after: as_built },
    Spoilt {
        checks: &["rack.sideways", "rack.corner"],
        before: |it| it.carcass.construction.back = Back::None,
        after: as_built,
    },
    Spoilt { checks: &["air.unknown"], before: |it| appliance(it).1.air = Air::default(), after: as_built },
    Spoilt {
        checks: &["air.usual"],
        before: |it| appliance(it).1.air = Air { sides: Some(mm(2)), ..Air::default() },
        after: as_built,
    },
    Spoilt {
        checks: &["air.gap"],
        before: |it| appliance(it).1.air = Air { sides: Some(mm(2)), ..Air::default() },
        after: |_, layout, assembly| {
            let by = layout.things[0].cuboid.min.x - layout.bays[layout.things[0].bay].clear.min.x;
            assembly.things[0].cuboid = assembly.things[0].cuboid.moved(Direction::LEFT, by);
        },
    },
    Spoilt { checks: &["air.path"], before: shut_in, after: as_built },
    Spoilt {
        checks: &["air.opening"],
        before: |it| {
            shut_in(it);
            let bay = leaf(&mut it.carcass.bay, &|_| true).expect("a bay").name.clone();
            it.carcass.openings.push(Opening { panel: Role::Back, bay, size: (mm(5000), mm(80)), at: None, free: 1.0 });
        },
        after: as_built,
    },
    Spoilt {
        checks: &["heat.radiator", "site.reach"],
        before: keep,
        after: |design, _, assembly| {
            let it = assembly.envelope;
            let low = it.min.y.mm() as i64 + 120;
            design.site.obstacles = vec![obstacle(
                ObstacleKind::Radiator,
                [it.min.x.mm() as i64, low, it.max.z.mm() as i64 + 60],
                [9000, 700, 100],
            )];
        },
    },
    Spoilt {
        checks: &["socket.trapped", "lead.reach"],
        before: |it| {
            it.carcass.construction.back = Back::Applied;
            appliance(it).1.lead = Some(Lead { length: mm(300), from_left: None, from_below: None, socket: None });
        },
        after: |design, layout, _| {
            let it = layout.things[0].cuboid;
            let at = [it.min.x.mm() as i64 + 40, it.max.y.mm() as i64 - 90, 0];
            design.site.obstacles = vec![obstacle(ObstacleKind::Socket, at, [80, 80, 10])];
        },
    },
    Spoilt {
        checks: &["lead.socket"],
        before: |it| {
            it.site.obstacles.retain(|it| it.kind != ObstacleKind::Socket);
            appliance(it).1.lead = Some(Lead { length: mm(1500), from_left: None, from_below: None, socket: None });
        },
        after: as_built,
    },
    Spoilt {
        checks: &["lead.way"],
        before: |it| {
            appliance(it).1.lead = Some(Lead { length: mm(2000), from_left: None, from_below: None, socket: None });
        },
        after: |design, _, assembly| round_a_socket(design, assembly, 0),
    },
    Spoilt {
        checks: &["lead.pinched"],
        before: |it| {
            appliance(it).1.lead = Some(Lead { length: mm(2000), from_left: None, from_below: None, socket: None });
        },
        after: |design, _, assembly| round_a_socket(design, assembly, 6),
    },
    Spoilt {
        checks: &["fit.obstacle"],
        before: keep,
        after: |design, _, assembly| {
            let it = assembly.envelope;
            let at = [it.min.x, it.min.y, it.min.z].map(|it| it.mm() as i64 - 5);
            design.site.obstacles = vec![obstacle(ObstacleKind::Pipe, at, [100, 1000, 100])];
        },
    },
    Spoilt {
        checks: &["fit.niche-width", "fit.niche-height", "fit.niche-depth"],
        before: keep,
        after: |design, _, assembly| {
            let size = |axis| assembly.envelope.range(axis).1 - mm(20);
            design.site.niche = Some(casewright_core::design::Niche {
                width: size(Axis::X),
                height: Some(size(Axis::Y)),
                above: None,
                depth: Some(size(Axis::Z)),
                left_wall: true,
                right_wall: true,
            });
        },
    },
    Spoilt {
        checks: &["fit.width", "fit.height", "fit.depth", "fit.overlap"],
        before: keep,
        after: |_, _, assembly| {
            let it = &mut assembly.things[0];
            for axis in Axis::ALL {
                let (low, high) = it.with_air.range(axis);
                it.with_air = it.with_air.with_range(axis, (low - mm(30), high + mm(30)));
            }
            it.cuboid = it.with_air;
        },
    },
    Spoilt {
        checks: &["fit.parts"],
        before: keep,
        after: |_, _, assembly| {
            let shelf = assembly.parts.iter_mut().find(|it| it.role == Role::Shelf).expect("a shelf");
            shelf.cuboid = shelf.cuboid.moved(Direction::RIGHT, mm(4));
        },
    },
    Spoilt {
        checks: &["handle.doorway", "handle.corner", "handle.section"],
        before: |it| {
            it.assumed.doorway = Some((mm(250), mm(1900)));
            it.assumed.corner = Some((mm(250), mm(300)));
        },
        after: as_built,
    },
    Spoilt {
        // A threshold on the floor before it, which is stepped over.
        checks: &["handle.lean"],
        before: |it| it.site.obstacles.push(obstacle(ObstacleKind::Other, [0, 0, 1000], [3000, 25, 60])),
        after: as_built,
    },
    Spoilt {
        // A wall before it.
        checks: &["handle.way"],
        before: |it| it.site.obstacles.push(obstacle(ObstacleKind::Other, [0, 0, 700], [3000, 4000, 60])),
        after: as_built,
    },
    Spoilt {
        checks: &["handle.ceiling", "ergo.reach", "ergo.drawer", "ergo.lift"],
        before: |it| it.assumed.ceiling = Some(mm(1600)),
        after: |design, layout, assembly| {
            // As if it stood on a platform: what is high is out of reach, and a tall shell cannot be raised.
            heavy(design);
            let shell = &mut layout.shells[0].outer;
            *shell = shell.with_range(Axis::Y, (shell.min.y, shell.max.y.max(mm(1690))));
            assembly.parts.iter_mut().for_each(|it| it.cuboid = it.cuboid.moved(Direction::UP, mm(1500)));
            assembly.things.iter_mut().for_each(|it| it.cuboid = it.cuboid.moved(Direction::UP, mm(1500)));
        },
    },
    Spoilt {
        checks: &["wood.moves"],
        before: |it| it.materials.values_mut().for_each(|it| it.kind = MaterialKind::Softwood),
        after: as_built,
    },
    Spoilt {
        // Strips for thinner boards.
        checks: &["banding.width"],
        before: |it| it.banding.values_mut().for_each(|it| it.width = Some(mm(16))),
        after: as_built,
    },
    Spoilt {
        checks: &["worktop.shape"],
        // An opening near the edge with sharp corners, beside a joint, and a sharp bend inwards.
        before: |it| {
            let Some(worktop) = &mut it.carcass.worktop else { return };
            let shape = worktop.shape.get_or_insert_default();
            shape.joints = vec![mm(300)];
            let corner = (mm(320), mm(20));
            shape.cut_outs = vec![CutOut { name: "sink".to_owned(), corner, size: (mm(200), mm(150)), radius: mm(2) }];
            shape.step = Some(FrontStep { from: mm(600), length: Some(mm(10)), radius: None, out: mm(-10) });
        },
        after: as_built,
    },
    Spoilt {
        checks: &["moving.way"],
        before: keep,
        // The back stands before the fronts.
        after: |_, _, it| {
            let front = it.envelope.max.z + mm(40);
            if let Some(back) = it.parts.iter_mut().find(|part| part.role == Role::Back) {
                back.cuboid = back.cuboid.with_range(Axis::Z, (front, front + mm(6)));
            }
        },
    },
    Spoilt {
        checks: &["moving.blocked"],
        // A door of the room whose leaf swings over the place before the piece.
        before: |it| {
            let mut leaf = obstacle(ObstacleKind::Other, [0, 0, 900], [800, 2000, 40]);
            leaf.swing = Some(Swing { about: (mm(0), mm(900)), opens_deg: -60.0 });
            it.site.obstacles.push(leaf);
        },
        after: as_built,
    },
    Spoilt {
        checks: &["tip.support"],
        before: keep,
        // Nothing stands on the floor any more.
        after: |_, _, it| {
            it.fittings.clear();
            for part in &mut it.parts {
                part.role = Role::Rail;
            }
        },
    },
    Spoilt { checks: &["slide.rest"], before: keep, after: as_built },
    Spoilt {
        checks: &["tilt.pull", "tilt.lid"],
        before: |it| tied(it, (60, 300), TiltStop::AtLargest),
        after: as_built,
    },
    Spoilt { checks: &["tilt.stroke"], before: |it| held(it, (60, 300), "piston damper"), after: as_built },
    Spoilt { checks: &["tilt.holds"], before: |it| held(it, (60, 300), "cord"), after: as_built },
    Spoilt { checks: &["front.bracket"], before: bracketed, after: as_built },
    Spoilt {
        checks: &["plug.reach", "valve.reach"],
        before: |it| {
            let lead = Lead {
                length: mm(3000),
                from_left: None,
                from_below: None,
                socket: Some("something in the way".to_owned()),
            };
            let (_, thing) = appliance(it);
            thing.lead = Some(lead);
            thing.mass_kg = 60.0;
        },
        after: |design, layout, _| {
            let it = layout.things[0].cuboid;
            let at = [it.min.x.mm() as i64 + 100, it.min.y.mm() as i64 + 100, it.min.z.mm() as i64 - 20];
            design.site.obstacles = vec![obstacle(ObstacleKind::Socket, at, [80, 80, 10])];
            let valve = obstacle(ObstacleKind::Valve, at, [60, 60, 10]);
            design.site.obstacles.push(Obstacle { name: "tap".to_owned(), ..valve });
        },
    },
    Spoilt { checks: &["tilt.clear"], before: flapped, after: as_built },
    Spoilt { checks: &["tilt.string"], before: |it| tied(it, (60, 300), TiltStop::Long(mm(100))), after: as_built },
    Spoilt { checks: &["tilt.end"], before: |it| tied(it, (60, 3000), TiltStop::AtLargest), after: as_built },
    Spoilt {
        checks: &["ergo.worktop", "ergo.toes"],
        before: |it| it.assumed.body_height = Some(mm(2100)),
        after: as_built,
    },
];

fn findings(design: &Resolved, spoilt: &Spoilt) -> Vec<Finding> {
    let mut design = design.clone();
    (spoilt.before)(&mut design);
    let mut layout = solve::solve(&design).unwrap_or_else(|it| panic!("{:?}: {it}", spoilt.checks)).layout;
    let mut assembly = assembly::build(&design, &layout).unwrap_or_else(|it| panic!("{:?}: {it}", spoilt.checks));
    (spoilt.after)(&mut design, &mut layout, &mut assembly);
    checks::all(&design, &layout, &assembly, &CheckOptions::of(&design))
}

fn line(it: &Finding) -> String {
    let severity = match it.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    };
    let get = |it: &Option<String>| it.clone().unwrap_or_else(|| "-".to_owned());
    format!(
        "{} ({severity}): {}\n    measured {}; limit {}\n    mend: {}\n    source: {}\n",
        it.check,
        it.what,
        get(&it.measured),
        get(&it.limit),
        get(&it.mend),
        get(&it.source)
    )
}

/// Every id of a check that stands in the sources of the checks is failed on purpose, but for cautions and the summary of
/// what does not sag, which say that something is so and fail nothing.
#[test]
fn no_check_is_left_out() {
    let mut sources = String::new();
    let mut folders = vec![casewright_tests::program::root().join("crates/core/src/checks")];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                sources += &std::fs::read_to_string(path).unwrap();
            }
        }
    }
    let is_id = |text: &&str| {
        text.split_once('.').is_some_and(|(area, name)| {
            let plain = |it: &str| {
                !it.is_empty() && it.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
            };
            plain(area) && plain(name)
        })
    };
    let known: BTreeSet<&str> = SPOILT.iter().flat_map(|it| it.checks.iter().copied()).collect();
    let ids = sources.split('"').filter(is_id).filter(|it| !it.starts_with("caution.") && *it != "sag.summary");
    let missing: BTreeSet<&str> = ids.filter(|it| !known.contains(it)).collect();
    assert_eq!(missing, BTreeSet::new());
}

#[test]
fn every_demo_fails_every_check_on_purpose() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/data/checks");
    let mut failed_somewhere = BTreeSet::new();
    let mut wanted = BTreeSet::new();
    for (name, derived) in demos() {
        let mut text = String::new();
        let mut failed = BTreeSet::new();
        for spoilt in SPOILT {
            let found = findings(&derived.design, spoilt);
            for &check in spoilt.checks {
                wanted.insert(check);
                // Each check is told once, by the first way that fails it.
                if let Some(it) = found.iter().find(|it| it.check == check).filter(|_| !failed.contains(check)) {
                    failed.insert(check);
                    text += &line(it);
                }
            }
        }
        let missing: Vec<&str> = wanted.iter().copied().filter(|it| !failed.contains(it)).collect();
        let _ = writeln!(text, "nothing to fail here: {}", missing.join(", "));
        failed_somewhere.extend(failed);
        let path = format!("{folder}/{name}.txt");
        if std::env::var_os("CASEWRIGHT_ACCEPT").is_some() {
            std::fs::write(&path, &text).unwrap();
        }
        let accepted = std::fs::read_to_string(&path).unwrap_or_default();
        assert_eq!(text, accepted, "{path}");
    }
    assert_eq!(failed_somewhere, wanted, "checks that no demo fails");
}
