//! Drawer boxes: two sides, the ends between them, and a bottom.
//!
//! A bottom under 10 mm stands in grooves of the walls, a thicker one sits between them. On under-mounted slides the
//! rear end stands on the bottom, so that the slides pass beneath it.

use super::carried::{Held, add_mover, mount_slides, slide_motion};
use super::contact::shared;
use super::scene::{DraftGroove, Scene};
use crate::design::{Role, SlideMount};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::holding::{bottom_is_grooved, box_depth, drawer_bottom_lip, material_for, slide_of};
use crate::length::Length;

/// The deepest groove for a bottom (common practice); never more than a third of a wall.
const GROOVE: Length = Length::from_mm(6);
/// The least height of a wall over the bottom, for the box to be of use.
const LEAST_WALL: Length = Length::from_mm(20);

/// Drafts the box of a drawer with its slides.
pub(super) fn draft(
    scene: &mut Scene<'_>,
    held: &Held<'_>,
    slide_name: &str,
    board: Option<&str>,
    bottom: Option<&str>,
) {
    let construction = held.construction;
    let side_name = material_for(construction, Role::DrawerSide, board);
    let end_name = material_for(construction, Role::DrawerEnd, board);
    let bottom_name = bottom.or(construction.boards.get(&Role::DrawerBottom).map(String::as_str)).unwrap_or(side_name);
    let (Some(side), Some(end), Some(thick)) =
        (scene.thickness(side_name), scene.thickness(end_name), scene.thickness(bottom_name))
    else {
        return;
    };
    let Ok(slide) = slide_of(scene.design, slide_name) else { return };
    let lip = drawer_bottom_lip(slide.mount, thick);
    let inside = held.room;
    let front = inside.max.z + end;
    let y = (inside.min.y - thick - lip, inside.max.y);
    let z = (front - box_depth(slide), front);
    let lacking = [LEAST_WALL - inside.size(Axis::Y), end * 2 + LEAST_WALL - (z.1 - z.0)];
    if let Some(&missing) = lacking.iter().max().filter(|&&missing| missing > Length::ZERO) {
        return scene.no_room(held.laid, "a drawer box", missing);
    }
    let mover = add_mover(scene, held, "drawer", slide_motion(slide));
    let (left, right) = inside.range(Axis::X);
    let upright = (Axis::X, Axis::Z);
    for (code, name, x) in
        [("DL", "left side of drawer", (left - side, left)), ("DR", "right side of drawer", (right, right + side))]
    {
        let cuboid = Cuboid::from_ranges(x, y, z);
        scene.add(held.draft(Role::DrawerSide, (code, name), side_name, cuboid, upright, mover));
    }
    let across = (Axis::Z, Axis::X);
    let x = (left, right);
    let front_end = Cuboid::from_ranges(x, y, (front - end, front));
    scene.add(held.draft(Role::DrawerEnd, ("DF", "front end of drawer"), end_name, front_end, across, mover));
    let over_bottom = slide.mount == SlideMount::Under;
    let rear_low = if over_bottom { inside.min.y } else { y.0 };
    let rear_end = Cuboid::from_ranges(x, (rear_low, y.1), (z.0, z.0 + end));
    scene.add(held.draft(Role::DrawerEnd, ("DB", "rear end of drawer"), end_name, rear_end, across, mover));

    let depth = if bottom_is_grooved(thick) { GROOVE.min(third(side)).min(third(end)) } else { Length::ZERO };
    let rear = if over_bottom { z.0 } else { z.0 + end - depth };
    let cuboid = Cuboid::from_ranges(
        (left - depth, right + depth),
        (inside.min.y - thick, inside.min.y),
        (rear, front - end + depth),
    );
    let lying = (Axis::Y, Axis::X);
    let walls = scene.drafts.len() - 4..scene.drafts.len();
    scene.add(held.draft(Role::DrawerBottom, ("DO", "bottom of drawer"), bottom_name, cuboid, lying, mover));
    let mouths = [Direction::RIGHT, Direction::LEFT, Direction::REAR, Direction::FRONT];
    for (wall, mouth) in walls.zip(mouths) {
        let Some(wall) = scene.drafts.get_mut(wall) else { continue };
        if let Some(space) = shared(&wall.cuboid, &cuboid) {
            wall.grooves.push(DraftGroove { space, mouth, purpose: "groove for the drawer bottom".to_owned() });
        }
    }
    let low = match slide.mount {
        SlideMount::Side => y.0 + (y.1 - y.0 - slide.height).half().max(Length::ZERO),
        SlideMount::Under => held.laid.clear.min.y,
    };
    mount_slides(scene, held, slide_name, slide, low);
}

/// A third, in whole millimetres if it is one or more.
fn third(length: Length) -> Length {
    let third = Length::from_nm(length.nm() / 3);
    if third < Length::from_mm(1) { third } else { Length::from_mm(third.nm() / 1_000_000) }
}
