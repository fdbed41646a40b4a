//! Walls between holes, to grooves, to faces and edges; and holes that break through faces that show.

use super::LEAST_WALL;
use super::bore::{groove_in_world, grooves, hole_in_world, holes};
use super::solid::{Solid, wall_between};
use crate::assembly::{Assembly, Hole, Part, PartFace, Purpose};
use crate::design::Role;
use crate::finding::{Finding, Severity};
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;

/// Where the least wall comes from.
const WALLS: &str = "common practice: 3 mm of wood between holes and under them";

/// The least wall between a cup and its own sockets, mm.
const WITHIN_HINGE: f64 = 2.5;

/// A cut in a part, with its words.
struct Cut {
    solid: Solid,
    cuboid: Cuboid,
    words: String,
    purpose: Purpose,
    joint: Option<usize>,
}

/// A wall that is too thin.
pub(super) struct Wall {
    pub(super) finding: Finding,
    /// The two cuts that come near each other; none where a hole comes near the outside.
    pub(super) between: Option<Meeting>,
}

/// Two cuts in a part that leave too little between them.
pub(super) struct Meeting {
    /// Index of the part.
    pub(super) part: usize,
    /// What each of the two is for.
    pub(super) purposes: [Purpose; 2],
    /// The joint that made each, if one did.
    pub(super) joints: [Option<usize>; 2],
    /// How far apart to move them, in words.
    pub(super) apart: String,
}

/// All walls that are too thin, part by part.
pub(super) fn walls(assembly: &Assembly) -> Vec<Wall> {
    let mut walls = Vec::new();
    for (index, part) in assembly.parts.iter().enumerate() {
        check_walls(index, part, &mut walls);
    }
    walls
}

fn cuts(part: &Part) -> Vec<Cut> {
    let of_hole = |hole: &Hole| {
        let world = hole_in_world(part, hole);
        Cut {
            solid: Solid::hole(&world),
            cuboid: world.cuboid(),
            words: in_words(hole),
            purpose: hole.purpose.clone(),
            joint: hole.joint,
        }
    };
    let of_groove = |groove: &crate::assembly::Groove| {
        groove_in_world(part, groove).map(|cuboid| Cut {
            solid: Solid::block(&cuboid),
            cuboid,
            words: format!("the {}", groove.purpose),
            purpose: groove.purpose.clone(),
            joint: None,
        })
    };
    holes(part).map(of_hole).chain(grooves(part).filter_map(of_groove)).collect()
}

fn in_words(hole: &Hole) -> String {
    let face = match hole.face {
        PartFace::Under | PartFace::Over => "at",
        PartFace::Edge(_) => "in the edge at",
    };
    format!(
        "the {} mm hole for the {} {face} {} / {}",
        hole.diameter.mm(),
        hole.purpose,
        hole.at.0.mm(),
        hole.at.1.mm()
    )
}

fn check_walls(index: usize, part: &Part, walls: &mut Vec<Wall>) {
    let limit = LEAST_WALL.mm();
    let mut cuts = cuts(part);
    // Sorted along one axis, each need be held only against those that begin before it ends.
    let axis = part.world_from_part.length.axis;
    cuts.sort_by_key(|cut| cut.cuboid.range(axis));
    let holes_only = |cut: &Cut| matches!(cut.solid, Solid::Cylinder { .. });
    for (i, a) in cuts.iter().enumerate() {
        for b in cuts.iter().skip(i + 1) {
            if b.cuboid.range(axis).0 > a.cuboid.range(axis).1 + LEAST_WALL {
                break;
            }
            if !holes_only(a) && !holes_only(b) {
                continue; // Grooves may cross.
            }
            let wall = wall_between(&a.solid, &b.solid, limit);
            if wall < limit - 1e-6 && !(of_one_hinge(&a.purpose, &b.purpose) && wall >= WITHIN_HINGE) {
                let between = Meeting {
                    part: index,
                    purposes: [a.purpose.clone(), b.purpose.clone()],
                    joints: [a.joint, b.joint],
                    apart: apart(a, b, wall),
                };
                walls.push(Wall { finding: thin_wall(part, a, b, wall, &between.apart), between: Some(between) });
            }
        }
    }
    for hole in holes(part) {
        check_beside(part, hole, walls);
    }
}

/// A cup and its sockets lie as hinges are made: 2.9 mm of wood between them by the published drilling.
const fn of_one_hinge(a: &Purpose, b: &Purpose) -> bool {
    matches!((a, b), (Purpose::Cup, Purpose::CupSocket) | (Purpose::CupSocket, Purpose::Cup))
}

fn apart(a: &Cut, b: &Cut, wall: f64) -> String {
    let more = (LEAST_WALL.mm() - wall).ceil();
    format!("move what one of them serves ({} or {}) by {more} mm or more", a.purpose, b.purpose)
}

fn thin_wall(part: &Part, a: &Cut, b: &Cut, wall: f64, apart: &str) -> Finding {
    let between = a.cuboid.union(&b.cuboid);
    Finding {
        severity: if wall < 1e-6 { Severity::Error } else { Severity::Warning },
        check: "joinery.wall",
        what: if wall < 1e-6 {
            format!("in the {} {} and {} meet", part.name, a.words, b.words)
        } else {
            format!("in the {} {} and {} leave too thin a wall", part.name, a.words, b.words)
        },
        measured: Some(format!("{wall:.1} mm")),
        limit: Some(format!("{} mm", LEAST_WALL.mm())),
        source: Some(WALLS.to_owned()),
        mend: Some(format!("{apart}, or take a thicker panel or smaller dowels")),
        place: Some(between),
        about: vec![part.number.clone()],
        field: None,
    }
}

/// The wall under a blind hole and beside every hole, and whether a hole breaks through a face that shows.
fn check_beside(part: &Part, hole: &Hole, walls: &mut Vec<Wall>) {
    let world = hole_in_world(part, hole);
    let mut find = |severity, what: String, wall: Option<Length>, mend: &str| {
        let finding = Finding {
            severity,
            check: "joinery.wall",
            what,
            measured: wall.map(|wall| format!("{} mm", wall.mm())),
            limit: Some(format!("{} mm", LEAST_WALL.mm())),
            source: Some(WALLS.to_owned()),
            mend: Some(mend.to_owned()),
            place: Some(world.cuboid()),
            about: vec![part.number.clone()],
            field: None,
        };
        walls.push(Wall { finding, between: None });
    };
    let words = in_words(hole);
    let shows = matches!(part.role, Role::Front | Role::Worktop);
    let under = part.cuboid.size(world.into.axis) - world.depth;
    let severity = |wall: Length| if wall <= Length::ZERO { Severity::Error } else { Severity::Warning };
    if world.through {
        if shows && hole.purpose != Purpose::HandleScrew && !matches!(hole.face, PartFace::Edge(_)) {
            let what = format!("{words} goes through the {}, whose face shows", part.name);
            find(Severity::Error, what, None, "fix the part from within");
        }
    } else if under < LEAST_WALL {
        let what = format!("under {words} in the {} too little is left", part.name);
        find(severity(under), what, Some(under), "take a thicker panel, or a shallower fitting or shorter dowels");
    }
    let radius = hole.diameter.half();
    let beside = Axis::ALL.into_iter().filter(|&axis| axis != world.into.axis).flat_map(|axis| {
        let (low, high) = part.cuboid.range(axis);
        [world.entry.along(axis) - low, high - world.entry.along(axis)]
    });
    if let Some(wall) = beside.map(|it| it - radius).min()
        && wall < LEAST_WALL
    {
        let what = format!("beside {words} in the {} too little is left to the outside", part.name);
        find(severity(wall), what, Some(wall), "take a thicker panel or thinner dowels");
    }
}
