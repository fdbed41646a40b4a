//! Tilting compartments: two sides with bottom, rear and lid between them, behind the front that tilts with them.

use super::carried::{Held, add_mover};
use super::hinges::hinge_places;
use super::scene::{Draft, Scene};
use super::{FittingKind, Motion, MountedFitting};
use crate::design::{Opens, Role, TiltHinge};
use crate::geometry::{Axis, Cuboid, Point};
use crate::holding::{Contents, TILT_PLAY, material_for, tilt_clearance, tilt_height, tilt_play};
use crate::length::Length;

/// What the design says of a tilting compartment.
pub(super) struct Tilt<'a> {
    pub(super) hinge: TiltHinge,
    pub(super) opens_deg: f64,
    pub(super) lid: bool,
    /// Where the lid turns, if a string opens it: behind the outer face of the front, away from the edge that it tilts about.
    pub(super) lid_hinge: Option<(Length, Length)>,
    pub(super) board: Option<&'a str>,
}

/// Space that is drawn for a hinge of a lid: along its edge, and to either side of the axis (common practice: narrow butt
/// hinges of 40 to 60 mm).
const LID_HINGE: (Length, Length) = (Length::from_mm(50), Length::from_mm(10));
/// A lid longer than this has a third hinge (common practice).
const TWO_HINGES: Length = Length::from_mm(900);

/// Drafts the compartment: as wide as the bay with its play allows, as deep as what it holds (else as the bay), and as
/// high as the way of its rear edge allows.
pub(super) fn draft(scene: &mut Scene<'_>, held: &Held<'_>, tilt: &Tilt<'_>) {
    let panel_name = material_for(held.construction, Role::BinPanel, tilt.board);
    let side_name = material_for(held.construction, Role::BinSide, tilt.board);
    let (Some(panel), Some(side)) = (scene.thickness(panel_name), scene.thickness(side_name)) else { return };
    let clear = held.laid.clear;
    let x = (clear.min.x + TILT_PLAY, clear.max.x - TILT_PLAY);
    let own_front = if held.front_moves { Length::ZERO } else { panel };
    let front = held.room.max.z + own_front;
    let shut = held.front_moves.then(|| scene.fronts.get(&held.index)).flatten();
    let shut = shut.and_then(|fronts| fronts.first()).and_then(|&front| scene.drafts.get(front)).map(|it| it.cuboid);
    if held.front_moves && shut.is_none() {
        return; // The front itself has a problem that is noted already.
    }
    let lid = if tilt.lid { panel } else { Length::ZERO };
    let pivot_z = shut.map_or(front, |it| it.max.z);
    let play = tilt_play(held.construction, held.front_moves && held.inset_front(scene) > Length::ZERO);
    let space = clear.size(Axis::Y) - play * 2;
    let rear = match held.contents {
        Some(contents) => contents.min.z - panel,
        // An empty compartment is no deeper than lets its walls reach four fifths of the height.
        None => {
            let deepest = Length::from_mm(space.nm() * 3 / 5 / 1_000_000);
            let least = pivot_z - held.room.max.z + Contents::LEAST.depth + panel;
            (held.room.min.z - panel).max(pivot_z - deepest.max(least))
        }
    };
    let depth = pivot_z - rear;
    let most = tilt_height(depth, space, tilt.opens_deg);
    let (low, high) = (clear.min.y + play, clear.max.y - play);
    let needed = match (held.contents, tilt.hinge) {
        (Some(it), TiltHinge::Below) => it.max.y + lid - low,
        (Some(it), TiltHinge::Above) => high - it.min.y + panel,
        (None, _) => panel + lid + Contents::LEAST.height,
    };
    let missing = needed + tilt_clearance(depth, needed, tilt.opens_deg) - space;
    if missing > Length::ZERO {
        return scene.no_room(held.laid, "the way of the rear edge of its tilting compartment", missing);
    }
    let height = needed.max(most);
    let y = match tilt.hinge {
        TiltHinge::Below => (low, low + height),
        TiltHinge::Above => (high - height, high),
    };
    let (opens, pivot_y) = match tilt.hinge {
        TiltHinge::Below => (Opens::HingedBelow, shut.map_or(y.0, |it| it.min.y)),
        TiltHinge::Above => (Opens::HingedAbove, shut.map_or(y.1, |it| it.max.y)),
    };
    let (_, axis) = super::fronts::axis_of(&clear, opens);
    let pivot = Point::new(x.0, pivot_y, pivot_z);
    let mover = add_mover(scene, held, "tilt-out", Motion::Turn { pivot, axis, opens_deg: tilt.opens_deg });

    let z = (rear, front);
    for (code, name, x) in
        [("CL", "left side of tilt-out", (x.0, x.0 + side)), ("CR", "right side of tilt-out", (x.1 - side, x.1))]
    {
        let cuboid = Cuboid::from_ranges(x, y, z);
        scene.add(held.draft(Role::BinSide, (code, name), side_name, cuboid, (Axis::X, Axis::Y), mover));
    }
    let between = (x.0 + side, x.1 - side);
    let over_bottom = (y.0 + panel, y.1);
    let (lying, standing) = ((Axis::Y, Axis::X), (Axis::Z, Axis::Y));
    let panel_of = |code: &str, name: &str, y, z, lies| {
        let cuboid = Cuboid::from_ranges(between, y, z);
        held.draft(Role::BinPanel, (code, name), panel_name, cuboid, lies, mover)
    };
    scene.add(panel_of("CO", "bottom of tilt-out", (y.0, y.0 + panel), z, lying));
    scene.add(panel_of("CB", "rear of tilt-out", over_bottom, (rear, rear + panel), standing));
    if own_front > Length::ZERO {
        scene.add(panel_of("CF", "front of tilt-out", over_bottom, (front - panel, front), standing));
    }
    if tilt.lid {
        let lid = panel_of("CT", "lid of tilt-out", (y.1 - panel, y.1), (rear + panel, front - own_front), lying);
        let (along, bay) = (lid.cuboid.range(Axis::X), lid.bay.clone());
        scene.add(Draft { is_lid: true, ..lid });
        if let Some((behind, away)) = tilt.lid_hinge {
            let up = if axis.negative { pivot.y - away } else { pivot.y + away };
            lid_hinges(scene, along, up, pivot.z - behind, &bay);
        }
    }
}

/// Hinges along the axis that a lid turns about.
fn lid_hinges(scene: &mut Scene<'_>, along: (Length, Length), up: Length, out: Length, bay: &str) {
    let (long, beside) = LID_HINGE;
    let length = along.1 - along.0;
    for place in hinge_places(length, if length > TWO_HINGES { 3 } else { 2 }) {
        let middle = along.0 + place;
        let x = (middle - long.half(), middle + long.half());
        scene.fittings.push(MountedFitting {
            kind: FittingKind::Hinge,
            name: "lid hinge".to_owned(),
            what: "narrow hinge of a lid".to_owned(),
            remark: String::new(),
            bay: bay.to_owned(),
            cuboid: Cuboid::from_ranges(x, (up - beside, up + beside), (out - beside, out + beside)),
            count: 1,
        });
    }
}
