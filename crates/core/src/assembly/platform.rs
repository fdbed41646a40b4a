//! Pull-out platforms: a board on slides, with strips along its left and right edges if wanted.

use super::carried::{Held, add_mover, mount_slides, slide_motion};
use super::scene::Scene;
use crate::design::{Role, SlideMount};
use crate::geometry::{Axis, Cuboid};
use crate::holding::{box_depth, material_for, platform_slide_centre, slide_of};
use crate::length::Length;

/// Drafts the platform with its slides.
pub(super) fn draft(
    scene: &mut Scene<'_>,
    held: &Held<'_>,
    slide_name: Option<&str>,
    board: Option<&str>,
    strips: Option<Length>,
) {
    let material = material_for(held.construction, Role::Platform, board);
    let strip_material = material_for(held.construction, Role::SideStrip, None);
    let Some(thickness) = scene.thickness(material) else { return };
    let strip = match strips {
        Some(height) => match scene.thickness(strip_material) {
            Some(thick) => Some((height, thick)),
            None => return,
        },
        None => None,
    };
    let Ok(slide) = slide_of(scene.design, slide_name) else { return };
    let room = held.room;
    let beside = strip.map_or(Length::ZERO, |(_, thick)| thick);
    let x = (room.min.x - beside, room.max.x + beside);
    let y = (room.min.y - thickness, room.min.y);
    let z = (room.max.z - box_depth(slide), room.max.z);
    if let Some((height, _)) = strip.filter(|(height, _)| *height > room.size(Axis::Y)) {
        return scene.no_room(held.laid, "the strips of its platform", height - room.size(Axis::Y));
    }
    let mover = add_mover(scene, held, "pull-out", slide_motion(slide));
    let cuboid = Cuboid::from_ranges(x, y, z);
    scene.add(held.draft(Role::Platform, ("PF", "platform"), material, cuboid, (Axis::Y, Axis::X), mover));
    if let Some((height, thick)) = strip {
        let over = (y.1, y.1 + height);
        for (code, name, x) in [
            ("TL", "left strip of platform", (x.0, x.0 + thick)),
            ("TR", "right strip of platform", (x.1 - thick, x.1)),
        ] {
            let cuboid = Cuboid::from_ranges(x, over, z);
            scene.add(held.draft(Role::SideStrip, (code, name), strip_material, cuboid, (Axis::X, Axis::Z), mover));
        }
    }
    let low = match slide.mount {
        SlideMount::Under => held.laid.clear.min.y,
        SlideMount::Side => y.0 + platform_slide_centre(thickness, strips) - slide.height.half(),
    };
    mount_slides(scene, held, slide_name.unwrap_or_default(), slide, low);
}
