//! What the carcass stands on, and the slab on top.

use super::build::Cause;
use super::scene::{Draft, Scene};
use super::{FittingKind, MountedFitting, StandPiece, Worktop};
use crate::design::{Role, Stand, TopShape};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::holding::material_for;
use crate::length::Length;
use crate::text::FieldPath;
use crate::unit::DecimalMark;
use crate::worktop;

/// From the ends, the front and the rear of the carcass to the middle of a foot or castor (common practice).
const FROM_EDGE: Length = Length::from_mm(60);
/// Greatest distance of feet along the wall, mm (common practice).
const MOST_APART_MM: i64 = 600;
/// From this depth on a joint of a worktop takes three connectors.
const DEEP_JOINT: Length = Length::from_mm(600);
/// An edge this near to the straight slab is straight, millimetres.
const STRAIGHT_MM: f64 = 1e-6;
/// Width of a foot or castor as drawn.
const DRAWN: Length = Length::from_mm(40);

/// Drafts plinth, feet or castors, and the worktop.
pub(super) fn draft(scene: &mut Scene<'_>) {
    let Some(shell) = scene.layout.shells.first() else { return };
    let outer = shell.outer;
    match &scene.design.carcass.stand {
        Stand::Floor => {}
        Stand::Plinth { height, set_back, .. } => {
            draft_plinth(scene, outer, *height, *set_back);
            stand_on(scene, outer, *height, StandPiece::PlinthFoot, Some(*set_back));
        }
        Stand::Feet { height, .. } => stand_on(scene, outer, *height, StandPiece::Foot, None),
        Stand::Castors { height, .. } => stand_on(scene, outer, *height, StandPiece::Castor, None),
    }
    draft_worktop(scene);
}

/// The strip over the whole width, its face set back from the front edge of the carcass.
fn draft_plinth(scene: &mut Scene<'_>, outer: Cuboid, height: Length, set_back: Length) {
    let material = material_for(&scene.design.carcass.construction, Role::Plinth, None).to_owned();
    let Some(thickness) = scene.thickness(&material) else { return };
    let face = outer.max.z - set_back;
    let cuboid =
        outer.with_range(Axis::Y, (outer.min.y - height, outer.min.y)).with_range(Axis::Z, (face - thickness, face));
    scene.add(slab(scene, Role::Plinth, "PL", "plinth strip", material, cuboid, Axis::Z));
}

/// Two rows of feet or castors, one near the front and one near the rear, no further apart than 600 mm along the wall.
fn stand_on(scene: &mut Scene<'_>, outer: Cuboid, height: Length, piece: StandPiece, plinth: Option<Length>) {
    let width = outer.size(Axis::X) - FROM_EDGE * 2;
    let steps = (width.nm() / 1_000_000 + MOST_APART_MM - 1).div_euclid(MOST_APART_MM).max(1);
    let thickness = plinth.map_or(Length::ZERO, |set_back| set_back + plinth_thickness(scene));
    let word = piece.word();
    let rows = [outer.max.z - FROM_EDGE.max(thickness + DRAWN.half()), outer.min.z + FROM_EDGE];
    for z in rows {
        for i in 0..=steps {
            // To a step of the unit, so that it can be marked.
            let x = (outer.min.x + FROM_EDGE + Length::from_nm(width.nm() * i / steps))
                .rounded_to(scene.design.unit.step());
            let half = DRAWN.half();
            let y = (outer.min.y - height, outer.min.y);
            scene.fittings.push(MountedFitting {
                kind: FittingKind::Stand(piece),
                name: word.to_owned(),
                what: format!("{word}, {} high", scene.design.unit.format_named(height, DecimalMark::Point)),
                remark: String::new(),
                bay: scene.design.carcass.bay.name.clone(),
                cuboid: Cuboid::from_ranges((x - half, x + half), y, (z - half, z + half)),
                count: 1,
            });
        }
    }
}

fn plinth_thickness(scene: &Scene<'_>) -> Length {
    let material = material_for(&scene.design.carcass.construction, Role::Plinth, None);
    scene.design.materials.get(material).map_or(Length::ZERO, |it| it.thickness)
}

/// The slab over the whole envelope with its overhangs, in one piece or several; of one with a shape the boxes round it.
fn draft_worktop(scene: &mut Scene<'_>) {
    let Some(worktop) = &scene.design.carcass.worktop else { return };
    // A material that is not there is told here.
    if scene.thickness(&worktop.board).is_none() {
        return;
    }
    let Some(whole) = worktop::slab(scene.design, &scene.layout.envelope) else { return };
    let shape = worktop.shape.as_ref();
    let board = worktop.board.clone();
    let found = worktop::outline(scene.design, &scene.layout.envelope).and_then(|outline| {
        let Some(outline) = outline else { return Ok(None) };
        let pieces = worktop::pieces(&outline, shape)?;
        Ok(Some(Worktop { outline, pieces }))
    });
    match found {
        Ok(found) => scene.worktop = found,
        Err(why) => {
            let field = FieldPath::root().field("carcass").field("worktop").field("shape");
            scene.problem(Cause::WorktopShape { why: why.to_string() }, Some(field));
            return;
        }
    }
    let Some(shape) = shape else {
        scene.add(slab(scene, Role::Worktop, "WT", "worktop", board, whole, Axis::Y));
        return;
    };
    let pieces = scene.worktop.as_ref().map_or_else(Vec::new, |it| it.pieces.clone());
    let last = pieces.len().saturating_sub(1);
    for (index, piece) in pieces.into_iter().enumerate() {
        let step = scene.design.unit.step();
        let down = |mm: f64| outwards(mm, step, false);
        let up = |mm: f64| outwards(mm, step, true);
        let mut cuboid = whole
            .with_range(Axis::X, (Length::from_mm_f64(piece.blank.x0), Length::from_mm_f64(piece.blank.x1)))
            .with_range(Axis::Z, (down(piece.blank.y0), up(piece.blank.y1)));
        // Where the edge is straight the blank ends with the slab, which need not lie on a step.
        let (rear, front) = (whole.min.z, whole.max.z);
        let near = |a: Length, mm: f64| (a.mm() - mm).abs() < STRAIGHT_MM;
        if near(rear, piece.blank.y0) {
            cuboid.min.z = rear;
        }
        if near(front, piece.blank.y1) {
            cuboid.max.z = front;
        }
        let (number, name) = match last {
            0 => ("WT".to_owned(), "worktop".to_owned()),
            _ => (format!("WT{}", index + 1), format!("worktop, piece {}", index + 1)),
        };
        let mut draft = slab(scene, Role::Worktop, &number, &name, board.clone(), cuboid, Axis::Y);
        // Joined ends take no banding.
        draft.bare = [(index > 0, Direction::LEFT), (index < last, Direction::RIGHT)]
            .into_iter()
            .filter_map(|(joined, end)| joined.then_some(end))
            .collect();
        draft.top = Some(piece);
        scene.add(draft);
    }
    if last > 0 {
        connectors(scene, &whole, shape);
    }
}

/// Draws the pieces of a slab together from below: two connectors at each joint, three where it is deeper than 600 mm
/// (common practice).
fn connectors(scene: &mut Scene<'_>, whole: &Cuboid, shape: &TopShape<Length>) {
    let deep = whole.size(Axis::Z) > DEEP_JOINT;
    for joint in &shape.joints {
        let x = whole.min.x + *joint;
        scene.fittings.push(MountedFitting {
            kind: FittingKind::WorktopConnector,
            name: "worktop connector".to_owned(),
            what: "worktop connector".to_owned(),
            remark: String::new(),
            bay: scene.design.carcass.bay.name.clone(),
            cuboid: whole.with_range(Axis::X, (x - DRAWN, x + DRAWN)),
            count: if deep { 3 } else { 2 },
        });
    }
}

/// A place on a step of the unit, no further in than given.
fn outwards(mm: f64, step: Length, up: bool) -> Length {
    let at = Length::from_mm_f64(mm);
    let rounded = at.rounded_to(step);
    match up {
        true if rounded < at => rounded + step,
        false if rounded > at => rounded - step,
        _ => rounded,
    }
}

fn slab(
    scene: &Scene<'_>,
    role: Role,
    number: &str,
    name: &str,
    material: String,
    cuboid: Cuboid,
    across: Axis,
) -> Draft {
    Draft {
        role,
        number: number.to_owned(),
        name: name.to_owned(),
        bay: scene.design.carcass.bay.name.clone(),
        material,
        cuboid,
        across,
        grain: Axis::X,
        shell: 0,
        mover: None,
        loose: false,
        is_lid: false,
        grooves: Vec::new(),
        bare: Vec::new(),
        top: None,
    }
}
