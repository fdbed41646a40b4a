//! What the carcass stands on, and the slab on top.

use super::MountedFitting;
use super::scene::{Draft, Scene};
use crate::design::{Role, Stand};
use crate::geometry::{Axis, Cuboid};
use crate::holding::material_for;
use crate::length::Length;

/// From the ends, the front and the rear of the carcass to the middle of a foot or castor (common practice).
const FROM_EDGE: Length = Length::from_mm(60);
/// Greatest distance of feet along the wall, mm (common practice).
const MOST_APART_MM: i64 = 600;
/// Width of a foot or castor as drawn.
const DRAWN: Length = Length::from_mm(40);

/// Drafts plinth, feet or castors, and the worktop.
pub(super) fn draft(scene: &mut Scene<'_>) {
    let Some(shell) = scene.layout.shells.first() else { return };
    let outer = shell.outer;
    match &scene.design.carcass.stand {
        Stand::Floor => {}
        Stand::Plinth { height, set_back } => {
            draft_plinth(scene, outer, *height, *set_back);
            stand_on(scene, outer, *height, "plinth foot", Some(*set_back));
        }
        Stand::Feet { height } => stand_on(scene, outer, *height, "foot", None),
        Stand::Castors { height } => stand_on(scene, outer, *height, "castor", None),
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
fn stand_on(scene: &mut Scene<'_>, outer: Cuboid, height: Length, what: &str, plinth: Option<Length>) {
    let width = outer.size(Axis::X) - FROM_EDGE * 2;
    let steps = (width.nm() / 1_000_000 + MOST_APART_MM - 1).div_euclid(MOST_APART_MM).max(1);
    let thickness = plinth.map_or(Length::ZERO, |set_back| set_back + plinth_thickness(scene));
    let rows = [outer.max.z - FROM_EDGE.max(thickness + DRAWN.half()), outer.min.z + FROM_EDGE];
    for z in rows {
        for i in 0..=steps {
            // To a step of the unit, so that it can be marked.
            let x = (outer.min.x + FROM_EDGE + Length::from_nm(width.nm() * i / steps))
                .rounded_to(scene.design.unit.step());
            let half = DRAWN.half();
            let y = (outer.min.y - height, outer.min.y);
            scene.fittings.push(MountedFitting {
                name: what.to_owned(),
                what: format!("{what}, {} mm high", height.mm()),
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

/// The slab over the whole envelope with its overhangs.
fn draft_worktop(scene: &mut Scene<'_>) {
    let Some(worktop) = &scene.design.carcass.worktop else { return };
    let Some(thickness) = scene.thickness(&worktop.board) else { return };
    let over = &worktop.overhang;
    let by = |overhang: Option<Length>| overhang.unwrap_or_default();
    let envelope = scene.layout.envelope;
    let cuboid = Cuboid::from_ranges(
        (envelope.min.x - by(over.left), envelope.max.x + by(over.right)),
        (envelope.max.y - thickness, envelope.max.y),
        (envelope.min.z - by(over.rear), envelope.max.z + by(over.front)),
    );
    scene.add(slab(scene, Role::Worktop, "WT", "worktop", worktop.board.clone(), cuboid, Axis::Y));
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
        grooves: Vec::new(),
    }
}
