//! What comes out of a bay: drawer boxes, platforms and tilting compartments, made from the allowance of the holding.

use super::scene::{Draft, DraftMover, Scene};
use super::{FittingKind, Motion, MountedFitting, drawer, platform, tilting};
use crate::design::{Bay, Construction, Extension, Front, FrontStyle, Holding, Inside, Opens, Role, Slide, SlideMount};
use crate::fittings::figures;
use crate::geometry::{Axis, Cuboid, Direction};
use crate::holding::{self, Where, material_for};
use crate::layout::LaidBay;
use crate::length::Length;
use crate::unit::DecimalMark;

/// One bay whose holding is being made.
pub(super) struct Held<'a> {
    pub(super) index: usize,
    pub(super) laid: &'a LaidBay,
    pub(super) construction: &'a Construction<Length>,
    pub(super) front: Option<&'a Front<Length>>,
    /// Whether the front moves with the holding.
    pub(super) front_moves: bool,
    /// The space that is left for the contents with their air: the bay less the allowance.
    pub(super) room: Cuboid,
    /// What the contents take, air included; none if the bay holds nothing.
    pub(super) contents: Option<Cuboid>,
    /// Their places in the layout.
    pub(super) things: Vec<usize>,
    pub(super) tag: String,
}

impl Held<'_> {
    /// Thickness of an inset front; nothing for an overlay one.
    pub(super) fn inset_front(&self, scene: &Scene<'_>) -> Length {
        let Some(front) = self.front else { return Length::ZERO };
        if front.style.unwrap_or(self.construction.fronts) == FrontStyle::Overlay {
            return Length::ZERO;
        }
        let material = material_for(self.construction, Role::Front, front.board.as_deref());
        scene.design.materials.get(material).map_or(Length::ZERO, |it| it.thickness)
    }

    /// A part of what is carried.
    pub(super) fn draft(
        &self,
        role: Role,
        (code, name): (&str, &str),
        material: &str,
        cuboid: Cuboid,
        (across, grain): (Axis, Axis),
        mover: usize,
    ) -> Draft {
        Draft {
            role,
            number: format!("{code}-{}", self.tag),
            name: named(name, &self.laid.name),
            bay: self.laid.name.clone(),
            material: material.to_owned(),
            cuboid,
            across,
            grain,
            shell: self.laid.shell,
            mover: Some(mover),
            loose: false,
            is_lid: false,
            grooves: Vec::new(),
            bare: Vec::new(),
            top: None,
        }
    }
}

/// Drafts all that comes out, bay by bay.
pub(super) fn draft(scene: &mut Scene<'_>) {
    for (index, laid) in scene.layout.bays.iter().enumerate() {
        let Some(bay) = scene.bay(&laid.name) else { continue };
        let Inside::Holds { by, .. } = &bay.inside else { continue };
        if matches!(by, Holding::Standing | Holding::Shelf { .. }) {
            continue;
        }
        let Some(held) = held(scene, index, laid, bay, by) else { continue };
        match by {
            Holding::Standing | Holding::Shelf { .. } => {}
            Holding::PullOut { slide, board, strips } => {
                platform::draft(scene, &held, slide.as_deref(), board.as_deref(), *strips);
            }
            Holding::Drawer { slide, board, bottom } => {
                drawer::draft(scene, &held, slide.as_deref(), board.as_deref(), bottom.as_deref());
            }
            Holding::TiltOut { hinge, opens_deg, lid, board, stay } => {
                let lid_hinge = stay.as_ref().and_then(|it| it.lid.as_ref()).map(|it| it.hinge);
                let (opens_deg, board) = (*opens_deg, board.as_deref());
                let tilt = tilting::Tilt { hinge: *hinge, opens_deg, lid: *lid, lid_hinge, board };
                tilting::draft(scene, &held, &tilt);
            }
        }
    }
}

fn held<'a>(
    scene: &mut Scene<'a>,
    index: usize,
    laid: &'a LaidBay,
    bay: &'a Bay<Length>,
    by: &Holding<Length>,
) -> Option<Held<'a>> {
    let construction = scene.construction(laid.shell);
    let things: Vec<usize> =
        scene.layout.things.iter().enumerate().filter(|(_, it)| it.bay == index).map(|(i, _)| i).collect();
    let contents = things.iter().filter_map(|&i| scene.layout.things.get(i)).map(|it| it.with_air);
    let contents = contents.reduce(|all, it| all.union(&it));
    let size = contents.map(|it| holding::Contents {
        width: it.size(Axis::X),
        height: it.size(Axis::Y),
        depth: it.size(Axis::Z),
    });
    let front = bay.front.as_ref();
    let allowance = match holding::allowance(scene.design, construction, by, front, size) {
        Ok(allowance) => allowance,
        Err(source) => {
            let cause = super::build::Cause::Holding { bay: laid.name.clone(), source };
            scene.problem(cause, Some(laid.path.field("inside").field("by")));
            return None;
        }
    };
    let shrunk = [
        (Direction::LEFT, Where::Left),
        (Direction::RIGHT, Where::Right),
        (Direction::DOWN, Where::Below),
        (Direction::UP, Where::Above),
        (Direction::FRONT, Where::Front),
        (Direction::REAR, Where::Rear),
    ];
    let room = shrunk.iter().fold(laid.clear, |room, &(side, at)| room.grown(side, -allowance.at(at)));
    for axis in Axis::ALL {
        if room.size(axis) <= Length::ZERO {
            scene.no_room(laid, "what carries its things", Length::from_mm(1) - room.size(axis));
            return None;
        }
    }
    if let Some(bound) = &allowance.least_depth {
        let missing = bound.size - laid.clear.size(Axis::Z);
        if missing > Length::ZERO {
            scene.no_room(laid, &bound.reason, missing);
            return None;
        }
    }
    let front_moves = front.is_some_and(|front| front.opens == Opens::WithHolding);
    let tag = scene.tag(&laid.name);
    Some(Held { index, laid, construction, front, front_moves, room, contents, things, tag })
}

/// What a piece is called: what it is, and its bay unless the bay is called just that.
fn named(what: &str, bay: &str) -> String {
    match what.strip_suffix(bay) {
        Some(rest) if rest.is_empty() || rest.ends_with(' ') => what.to_owned(),
        _ => format!("{what} {bay}"),
    }
}

/// Adds the mover of a holding; the front belongs to it if it moves along.
pub(super) fn add_mover(scene: &mut Scene<'_>, held: &Held<'_>, kind: &str, motion: Motion) -> usize {
    let mover = scene.add_mover(DraftMover {
        id: format!("{kind} {}", held.laid.name),
        bay: held.laid.name.clone(),
        things: held.things.clone(),
        fittings: Vec::new(),
        motion,
    });
    if held.front_moves {
        for front in scene.fronts.get(&held.index).cloned().unwrap_or_default() {
            if let Some(front) = scene.drafts.get_mut(front) {
                front.mover = Some(mover);
            }
        }
    }
    mover
}

/// The way out on slides: the whole nominal length, or its usual share on partial ones.
pub(super) fn slide_motion(slide: &Slide<Length>) -> Motion {
    let travel = match slide.extension {
        Extension::Full => slide.length,
        Extension::Partial => Length::from_mm_f64(slide.length.mm() * figures().partial_share),
    };
    Motion::Slide { direction: Direction::FRONT, travel }
}

/// Mounts a pair of slides; `low` is the lower edge of their profile.
pub(super) fn mount_slides(scene: &mut Scene<'_>, held: &Held<'_>, name: &str, slide: &Slide<Length>, low: Length) {
    let clear = held.laid.clear;
    let mounted = match slide.mount {
        SlideMount::Side => "side-mounted",
        SlideMount::Under => "under-mounted",
    };
    let extension = match slide.extension {
        Extension::Full => "full extension",
        Extension::Partial => "partial extension",
    };
    let what = format!("{mounted} slide {} mm, {extension}, one of a pair", slide.length.mm());
    let front = clear.max.z - held.inset_front(scene) - figures().set_back;
    let space = clear.with_range(Axis::Y, (low, low + slide.height)).with_range(Axis::Z, (front - slide.length, front));
    let rest = (front - slide.length - clear.min.z).max(Length::ZERO);
    let unit = scene.design.unit;
    let remark = format!("{} of the depth left behind it", unit.format_named(rest, DecimalMark::Point));
    let wide = slide.side_space;
    for x in [(clear.min.x, clear.min.x + wide), (clear.max.x - wide, clear.max.x)] {
        scene.fittings.push(MountedFitting {
            kind: FittingKind::Slide,
            name: name.to_owned(),
            what: what.clone(),
            remark: remark.clone(),
            bay: held.laid.name.clone(),
            cuboid: space.with_range(Axis::X, x),
            count: 1,
        });
    }
}
