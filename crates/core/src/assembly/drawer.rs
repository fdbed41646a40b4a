//! Drawer boxes: two sides, the ends between them, and a bottom.
//!
//! A bottom under 10 mm stands in grooves of the walls, a thicker one sits between them. On under-mounted slides the
//! rear end has notches in its lower corners, so that the slides pass, and a shallower groove, so that a wall stays before
//! the holes for their hooks.

use super::Purpose;
use super::carried::{Held, add_mover, mount_slides, slide_motion};
use super::scene::{DraftGroove, Scene};
use crate::design::{Role, SlideMount};
use crate::fittings::{UnderSlides, library};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::holding::{bottom_is_grooved, box_depth, drawer_bottom_lip, material_for, slide_of};
use crate::joinery::LEAST_WALL as HOLE_WALL;
use crate::length::Length;

/// The deepest groove for a bottom (common practice); never more than a third of a wall.
const GROOVE: Length = Length::from_mm(6);
/// The least height of a wall over the bottom, for the box to be of use.
const LEAST_WALL: Length = Length::from_mm(20);

/// Drafts the box of a drawer with its slides.
pub(super) fn draft(
    scene: &mut Scene<'_>,
    held: &Held<'_>,
    slide_name: Option<&str>,
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
    let under = if slide.mount == SlideMount::Under { library().ok().map(|it| &it.slides.under_mounted) } else { None };
    let rear_end = Cuboid::from_ranges(x, y, (z.0, z.0 + end));
    let mut rear_draft = held.draft(Role::DrawerEnd, ("DB", "rear end of drawer"), end_name, rear_end, across, mover);
    if let Some(under) = &under {
        rear_draft.grooves = notches(under, &rear_end);
    }
    scene.add(rear_draft);

    let depth = if bottom_is_grooved(thick) { GROOVE.min(third(side)).min(third(end)) } else { Length::ZERO };
    let rear = z.0 + end - under.map_or(depth, |it| depth.min(before_hook(it, end)));
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
        if let Some(space) = wall.cuboid.intersection(&cuboid) {
            let purpose = Purpose::Groove { of: "drawer bottom".to_owned() };
            wall.grooves.push(DraftGroove { space, mouth, purpose });
        }
    }
    let low = match slide.mount {
        SlideMount::Side => y.0 + (y.1 - y.0 - slide.height).half().max(Length::ZERO),
        SlideMount::Under => held.laid.clear.min.y,
    };
    mount_slides(scene, held, slide_name.unwrap_or_default(), slide, low);
}

/// The notches in the lower corners of a rear end that let the slides pass, right through.
fn notches(data: &UnderSlides, end: &Cuboid) -> Vec<DraftGroove> {
    let (width, height) = data.notch.0;
    let (width, height) = (Length::from_mm_f64(width), Length::from_mm_f64(height));
    let (x, y) = (end.range(Axis::X), end.range(Axis::Y));
    let low = (y.0, (y.0 + height).min(y.1));
    let notch = |x: (Length, Length)| DraftGroove {
        space: end.with_range(Axis::X, x).with_range(Axis::Y, low),
        mouth: Direction::REAR,
        purpose: Purpose::SlideNotch,
    };
    if width * 2 >= x.1 - x.0 {
        return vec![notch(x)];
    }
    vec![notch((x.0, x.0 + width)), notch((x.1 - width, x.1))]
}

/// How deep a groove may go into the rear end before the hole for the hook, with a wall between.
fn before_hook(data: &UnderSlides, end: Length) -> Length {
    (end - Length::from_mm_f64(data.hook_hole.0.1) - HOLE_WALL).max(Length::ZERO)
}

/// A third, in whole millimetres if it is one or more.
fn third(length: Length) -> Length {
    let third = Length::from_nm(length.nm() / 3);
    if third < Length::from_mm(1) { third } else { Length::from_mm(third.nm() / 1_000_000) }
}
