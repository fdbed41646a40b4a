//! Clamps and cauls of one glue-up.

use serde::Serialize;

use crate::assembly::{Assembly, JoinedBy, Joint};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::joinery::holes;
use crate::length::Length;

/// Greatest distance of clamps along a joint line (common practice for boards with cauls).
const MOST_APART_MM: i64 = 250;
/// Thickness of a caul (common practice).
const CAUL: Length = Length::from_mm(20);
/// What a clamp must open beyond the work and its cauls, to be slipped over it (common practice).
const SLACK: Length = Length::from_mm(20);
/// A joint line longer than this gets a bowed caul on each side, so that its middle is pressed too (common practice).
const BOWED_FROM: Length = Length::from_mm(300);

/// How to press a glue-up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Clamps {
    /// How many.
    pub count: usize,
    /// The least clear opening of each.
    pub opening: Length,
    /// Along this axis.
    pub axis: Axis,
    /// Bowed cauls over long joint lines.
    pub bowed_cauls: usize,
    /// Straight cauls where a joint line has nothing behind it that would take the pressure.
    pub cauls: Vec<Caul>,
}

/// A caul that carries the pressure over to where something stands behind it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Caul {
    /// Index of the part that it lies on.
    pub on: usize,
    /// Index of the joint whose line it backs.
    pub joint: usize,
    /// From the joint line to the nearest one on the other face; the whole part if there is none.
    pub offset: Length,
}

/// The clamps for these joints of one axis, closed between these parts; none for joints that screws press.
pub(super) fn clamps(assembly: &Assembly, parts: &[usize], joints: &[usize], axis: Axis) -> Clamps {
    let all: Vec<(usize, &Joint)> = joints
        .iter()
        .filter_map(|&index| Some((index, assembly.joints.get(index)?)))
        .filter(|(index, joint)| !is_screwed(assembly, *index, joint))
        .collect();
    let lines = lines(&all, axis);
    let number = |line: &Cuboid| {
        let pieces = (long_side(line, axis).nm() / 1_000_000 + MOST_APART_MM - 1).div_euclid(MOST_APART_MM);
        usize::try_from(pieces).unwrap_or(0).max(2)
    };
    let whole = parts
        .iter()
        .filter_map(|&part| Some(assembly.parts.get(part)?.cuboid))
        .reduce(|whole, cuboid| whole.union(&cuboid))
        .unwrap_or_default();
    Clamps {
        count: lines.iter().map(number).sum(),
        opening: whole.size(axis) + CAUL * 2 + SLACK,
        axis,
        bowed_cauls: lines.iter().filter(|line| long_side(line, axis) > BOWED_FROM).count() * 2,
        cauls: cauls(assembly, &whole, &all, axis),
    }
}

/// Whether a glued joint has screws that press it.
pub(super) fn is_screwed(assembly: &Assembly, index: usize, joint: &Joint) -> bool {
    let mut bored = assembly.parts.get(joint.edge_part).into_iter().flat_map(holes);
    matches!(joint.kind, JoinedBy::Dowels { with_screws: true, .. })
        && bored.any(|hole| hole.joint == Some(index) && hole.is_for_screw())
}

/// Joint lines that lie behind each other along the axis are pressed by the same clamps: one rectangle for each lot.
fn lines(joints: &[(usize, &Joint)], axis: Axis) -> Vec<Cuboid> {
    let mut lines: Vec<Cuboid> = Vec::new();
    for (_, joint) in joints {
        let mut line = joint.contact.with_range(axis, (Length::ZERO, Length::from_nm(1)));
        // Joining two lots may make them meet a third.
        while let Some(at) = lines.iter().position(|other| other.overlaps(&line)) {
            line = line.union(&lines.remove(at));
        }
        lines.push(line);
    }
    lines
}

/// The longer side of a rectangle across the axis.
fn long_side(rectangle: &Cuboid, axis: Axis) -> Length {
    Axis::ALL.into_iter().filter(|&it| it != axis).map(|it| rectangle.size(it)).max().unwrap_or_default()
}

/// The cauls for joints on inner parts whose other face has no joint right behind.
fn cauls(assembly: &Assembly, whole: &Cuboid, joints: &[(usize, &Joint)], axis: Axis) -> Vec<Caul> {
    let mut cauls = Vec::new();
    for (index, joint) in joints {
        let Some(part) = assembly.parts.get(joint.face_part) else { continue };
        let behind = joint.direction.reversed();
        let outermost = |direction: Direction| {
            let end = |it: &Cuboid| if direction.negative { it.range(axis).0 } else { it.range(axis).1 };
            end(&part.cuboid) == end(whole)
        };
        if outermost(behind) {
            // The clamp itself presses there.
            continue;
        }
        let others = joints.iter().filter(|(_, other)| other.face_part == joint.face_part && other.direction == behind);
        let offset = others.map(|(_, other)| apart(&joint.contact, &other.contact, axis)).min();
        if offset != Some(Length::ZERO) {
            let size = Axis::ALL.into_iter().filter(|&it| it != axis).map(|it| part.cuboid.size(it)).min();
            cauls.push(Caul {
                on: joint.face_part,
                joint: *index,
                offset: offset.unwrap_or_else(|| size.unwrap_or_default()),
            });
        }
    }
    cauls
}

/// How far two rectangles are apart across the axis; nothing if one lies behind the other.
fn apart(a: &Cuboid, b: &Cuboid, axis: Axis) -> Length {
    let gap = |it: Axis| {
        let (one, two) = (a.range(it), b.range(it));
        (two.0 - one.1).max(one.0 - two.1).max(Length::ZERO)
    };
    Axis::ALL.into_iter().filter(|&it| it != axis).map(gap).max().unwrap_or_default()
}
