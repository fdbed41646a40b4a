//! The hole check: walls, dowels against their rules, hinges, pins.

use std::collections::BTreeMap;

use super::bore::holes;
use super::rows::{loose_shelves, supports};
use super::walls::walls;
use super::{dowel_depths, is_usual_dowel};
use crate::assembly::{Assembly, FittingKind, Hole, JoinedBy, Joint, Part, Purpose};
use crate::design::Role;
use crate::finding::{Finding, Severity};

/// Judges all holes of an assembly.
#[must_use]
pub fn check(assembly: &Assembly) -> Vec<Finding> {
    walls(assembly).into_iter().map(|it| it.finding).chain(check_rest(assembly)).collect()
}

/// All but the walls.
pub(super) fn check_rest(assembly: &Assembly) -> Vec<Finding> {
    let mut findings = Vec::new();
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

/// Whether every hinge with a cup has its cup, and something for its plate.
fn check_hinges(assembly: &Assembly, findings: &mut Vec<Finding>) {
    let mut hinges_of: BTreeMap<&str, usize> = BTreeMap::new();
    for fitting in assembly.fittings.iter().filter(|it| it.kind == FittingKind::CupHinge) {
        *hinges_of.entry(&fitting.bay).or_default() += 1;
    }
    for (bay, hinges) in hinges_of {
        let doors: Vec<&Part> =
            assembly.parts.iter().filter(|part| part.role == Role::Front && part.bay == bay).collect();
        let cups: usize =
            doors.iter().map(|door| holes(door).filter(|hole| hole.purpose == Purpose::Cup).count()).sum();
        let plate_of = |hole: &&Hole| matches!(&hole.purpose, Purpose::HingePlate { door } if doors.iter().any(|it| it.number == *door));
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
    if let JoinedBy::Rebate { depth, .. } = joint.kind {
        let thickness = face_part.finished.thickness;
        if depth * 3 > thickness * 2 {
            find(
                Severity::Warning,
                "joinery.rebate",
                format!("the rebate for the {} leaves less than a third of the {}", edge_part.name, face_part.name),
                Some(format!("{} mm", depth.mm())),
                Some(format!("{:.1} mm", thickness.mm() * 2.0 / 3.0)),
                "common practice: half to two thirds of the thickness",
                "make it shallower",
            );
        }
    }
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
    let dowelled = |hole: &&Hole| hole.joint == Some(index) && !hole.is_for_screw();
    let depth = holes(edge_part).filter(dowelled).filter_map(|hole| hole.depth).min();
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
