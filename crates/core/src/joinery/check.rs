//! The hole check: walls between holes, to grooves, to faces and edges; dowels against their rules; show faces.

use super::bore::{groove_in_world, grooves, hole_in_world, holes};
use super::cups::{CUP, PLATE, SOCKET};
use super::rows::{loose_shelves, supports};
use super::solid::{Solid, wall_between};
use super::{LEAST_WALL, dowel_depths, is_usual_dowel};
use crate::assembly::{Assembly, Hole, JoinedBy, Joint, Part, PartFace};
use crate::design::Role;
use crate::finding::{Finding, Severity};
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;

/// Where the least wall comes from.
const WALLS: &str = "common practice: 3 mm of wood between holes and under them";

/// The least wall between a cup and its own sockets, mm.
const WITHIN_HINGE: f64 = 2.5;

/// Judges all holes of an assembly.
#[must_use]
pub fn check(assembly: &Assembly) -> Vec<Finding> {
    let mut findings = Vec::new();
    for part in &assembly.parts {
        check_walls(part, &mut findings);
    }
    for (index, joint) in assembly.joints.iter().enumerate() {
        check_joint(assembly, index, joint, &mut findings);
    }
    check_hinges(assembly, &mut findings);
    for part in loose_shelves(assembly).into_iter().filter_map(|it| assembly.parts.get(it)) {
        if supports(assembly, part).is_none() {
            findings.push(Finding {
                severity: Severity::Error,
                check: "joinery.pins",
                what: format!("the {} has no panel at one of its ends for its pins", part.name),
                measured: None,
                limit: None,
                source: None,
                mend: Some("put an upright there, or fix the shelf".to_owned()),
                place: Some(part.cuboid),
                about: vec![part.number.clone()],
                field: None,
            });
        }
    }
    findings
}

/// A cut in a part, with its words.
struct Cut {
    solid: Solid,
    cuboid: Cuboid,
    words: String,
    purpose: String,
}

fn cuts(part: &Part) -> Vec<Cut> {
    let of_hole = |hole: &Hole| {
        let world = hole_in_world(part, hole);
        Cut { solid: Solid::hole(&world), cuboid: world.cuboid(), words: in_words(hole), purpose: hole.purpose.clone() }
    };
    let of_groove = |groove: &crate::assembly::Groove| {
        groove_in_world(part, groove).map(|cuboid| Cut {
            solid: Solid::block(&cuboid),
            cuboid,
            words: format!("the {}", groove.purpose),
            purpose: groove.purpose.clone(),
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

fn check_walls(part: &Part, findings: &mut Vec<Finding>) {
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
                findings.push(thin_wall(part, a, b, wall));
            }
        }
    }
    for hole in holes(part) {
        check_beside(part, hole, findings);
    }
}

/// A cup and its sockets lie as hinges are made: 2.9 mm of wood between them by the published drilling.
fn of_one_hinge(a: &str, b: &str) -> bool {
    let pair = [a, b];
    pair.contains(&CUP) && pair.contains(&SOCKET)
}

fn thin_wall(part: &Part, a: &Cut, b: &Cut, wall: f64) -> Finding {
    let more = (LEAST_WALL.mm() - wall).ceil();
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
        mend: Some(format!(
            "move what one of them serves ({} or {}) by {more} mm or more, or take a thicker panel or smaller dowels",
            a.purpose, b.purpose
        )),
        place: Some(between),
        about: vec![part.number.clone()],
        field: None,
    }
}

/// The wall under a blind hole and beside every hole, and whether a hole breaks through a face that shows.
fn check_beside(part: &Part, hole: &Hole, findings: &mut Vec<Finding>) {
    let world = hole_in_world(part, hole);
    let mut find = |severity, what: String, wall: Option<Length>, mend: &str| {
        findings.push(Finding {
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
        });
    };
    let words = in_words(hole);
    let shows = matches!(part.role, Role::Front | Role::Worktop);
    let under = part.cuboid.size(world.into.axis) - world.depth;
    let severity = |wall: Length| if wall <= Length::ZERO { Severity::Error } else { Severity::Warning };
    if world.through {
        if shows && !matches!(hole.face, PartFace::Edge(_)) {
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

/// Whether every hinge with a cup has its cup, and something for its plate.
fn check_hinges(assembly: &Assembly, findings: &mut Vec<Finding>) {
    let bays: std::collections::BTreeSet<&str> =
        assembly.fittings.iter().filter(|it| it.what.starts_with("hinge with a")).map(|it| it.bay.as_str()).collect();
    for bay in bays {
        let hinges = assembly.fittings.iter().filter(|it| it.bay == bay && it.what.starts_with("hinge with a")).count();
        let doors: Vec<&Part> =
            assembly.parts.iter().filter(|part| part.role == Role::Front && part.bay == bay).collect();
        let cups: usize = doors.iter().map(|door| holes(door).filter(|hole| hole.purpose == CUP).count()).sum();
        let plate_of = |hole: &&Hole| {
            hole.purpose.strip_prefix(PLATE).is_some_and(|number| doors.iter().any(|door| door.number == number))
        };
        let plates: usize = assembly.parts.iter().map(|part| holes(part).filter(plate_of).count()).sum();
        let mut find = |severity, what: String, mend: &str| {
            findings.push(Finding {
                severity,
                check: "joinery.hinge",
                what,
                measured: None,
                limit: None,
                source: Some("common practice: about 52 mm of edge for a cup and its screws".to_owned()),
                mend: Some(mend.to_owned()),
                place: doors.first().map(|door| door.cuboid),
                about: doors.iter().map(|door| door.number.clone()).collect(),
                field: None,
            });
        };
        if cups < hinges {
            let what = format!("the front of {bay} has no room for {} of its hinges", hinges - cups);
            find(Severity::Error, what, "make it larger, or let it open in another way");
        }
        if plates < cups * 2 {
            let what = format!("hinges of the front of {bay} have no panel behind them for their plates");
            find(Severity::Error, what, "hang it on a side or upright, or put a strip there");
        }
    }
}

/// Whether a part is kept from turning by another joint: one with two holes or more, or a groove.
fn held_elsewhere(assembly: &Assembly, index: usize, part: usize) -> bool {
    assembly.joints.iter().enumerate().any(|(other, joint)| {
        let concerns = other != index && (joint.edge_part == part || joint.face_part == part);
        let holes_of =
            || assembly.parts.get(part).map_or(0, |it| holes(it).filter(|it| it.joint == Some(other)).count());
        concerns && (joint.kind.seat().is_some() || holes_of() >= 2)
    })
}

/// A joint's own rules.
fn check_joint(assembly: &Assembly, index: usize, joint: &Joint, findings: &mut Vec<Finding>) {
    let (Some(face_part), Some(edge_part)) = (assembly.parts.get(joint.face_part), assembly.parts.get(joint.edge_part))
    else {
        return;
    };
    let about = vec![face_part.number.clone(), edge_part.number.clone()];
    let both = format!("{} and {}", face_part.name, edge_part.name);
    let mut find =
        |severity, check, what: String, measured: Option<String>, limit: Option<String>, source: &str, mend: &str| {
            findings.push(Finding {
                severity,
                check,
                what,
                measured,
                limit,
                source: Some(source.to_owned()),
                mend: Some(mend.to_owned()),
                place: Some(joint.contact),
                about: about.clone(),
                field: None,
            });
        };
    if !matches!(joint.kind, JoinedBy::Dowels { .. } | JoinedBy::Screws) {
        return;
    }
    let mine = |part: &Part| holes(part).filter(|hole| hole.joint == Some(index)).count();
    if mine(face_part) == 0 {
        let what = format!("the joint of {both} has no room for a dowel or screw");
        let mend = "make the narrower part wider or thicker, or join it in another way";
        return find(Severity::Error, "joinery.room", what, None, None, "trade rule: three diameters", mend);
    }
    let JoinedBy::Dowels { diameter, length, .. } = joint.kind else { return };
    if mine(face_part) == 1 && !held_elsewhere(assembly, index, joint.edge_part) {
        let what = format!("the joint of {both} has a single dowel and may turn about it");
        find(
            Severity::Warning,
            "joinery.room",
            what,
            None,
            Some("2 dowels".to_owned()),
            "common practice",
            "add a screw, or make the joint longer than 64 mm",
        );
    }
    if !is_usual_dowel(diameter, length) {
        let what = format!("dowels {} x {} are not of the usual series", diameter.mm(), length.mm());
        find(
            Severity::Note,
            "joinery.dowel",
            what,
            None,
            None,
            "DIN 68150-1 (sizes from memory)",
            "take a usual size, such as 8x40",
        );
    }
    let thickness = edge_part.finished.thickness;
    if diameter * 5 < thickness * 2 || diameter * 5 > thickness * 3 {
        let (low, high) = (thickness.mm() * 0.4, thickness.mm() * 0.6);
        let what = format!("dowels do not suit the edge of the {}, {} mm thick", edge_part.name, thickness.mm());
        let (measured, limit) = (format!("{} mm", diameter.mm()), format!("{low:.1} to {high:.1} mm"));
        find(
            Severity::Warning,
            "joinery.dowel",
            what,
            Some(measured),
            Some(limit),
            "trade rule: 2/5 to 3/5 of the thickness",
            "take dowels of a diameter in that range",
        );
    }
    let (face, edge) = dowel_depths(length, face_part.cuboid.size(joint.direction.axis));
    let depth = holes(edge_part).filter(|hole| hole.joint == Some(index)).filter_map(|hole| hole.depth).min();
    if let Some(depth) = depth
        && depth < edge
    {
        let what = format!("dowels are too long for the joint of {both}");
        let (measured, limit) = (format!("{} mm", length.mm()), format!("{} mm", (face + depth).mm() - 2.0));
        find(
            Severity::Error,
            "joinery.dowel",
            what,
            Some(measured),
            Some(limit),
            "both holes together, less 1 mm for glue in each",
            "take shorter dowels",
        );
    }
}
