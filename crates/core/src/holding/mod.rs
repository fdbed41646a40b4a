//! What a holding needs round the things that it carries: the one place of this arithmetic. The solver adds these
//! figures to the things, and the builder makes drawer boxes, platforms and tilting compartments from the same figures.
//!
//! Figures marked [`COMMON_PRACTICE`] are usual in the trade and not from a standard; the maker's sheet of the real
//! slide or hinge goes before them.

mod boards;
mod rules;
mod tilt;

#[cfg(test)]
mod tests;

pub use boards::{material_for, thickness_of};
pub use rules::{
    BOX_PLAY_BELOW, COMMON_PRACTICE, DESIGN_FILE, PLAY_ABOVE, PLAY_BEHIND_FRONT, TILT_PLAY, USUAL_REVEAL,
    bottom_is_grooved, box_depth, box_play_above, drawer_bottom_lip, least_depth, platform_gap, platform_play_below,
    platform_slide_centre, reveal_of, slide_of, tilt_play, under_box_play_below,
};
pub use tilt::{highest_turn, tilt_clearance, tilt_height};

use thiserror::Error;

use crate::design::{Construction, Front, FrontStyle, Holding, Opens, Resolved, Role, SlideMount, TiltHinge};
use crate::length::Length;
use crate::unit::Written;

/// A side of what is carried.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Where {
    /// At the left.
    Left,
    /// At the right.
    Right,
    /// Under it.
    Below,
    /// Over it.
    Above,
    /// Towards the person.
    Front,
    /// Towards the wall.
    Rear,
}

/// One piece of clear space that a holding needs beside what it carries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Extra {
    /// On which side.
    pub at: Where,
    /// How much.
    pub size: Length,
    /// What it is for, in words.
    pub reason: String,
    /// Where the figure comes from.
    pub source: &'static str,
}

/// A limit that a holding sets, with its reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bound {
    /// The limit.
    pub size: Length,
    /// Why, in words.
    pub reason: String,
    /// Where the figure comes from.
    pub source: &'static str,
}

/// The outside of all that is carried, air included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Contents {
    /// From left to right, things side by side.
    pub width: Length,
    /// From below to above.
    pub height: Length,
    /// From the rear to the front.
    pub depth: Length,
}

impl Contents {
    /// The least room inside what carries nothing yet, for it to be of use (own choice).
    pub const LEAST: Self =
        Self { width: Length::from_mm(100), height: Length::from_mm(60), depth: Length::from_mm(100) };
}

/// What a holding needs round what it carries.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Allowance {
    /// Clear space of the bay beside what is carried with its air, several on one side add up.
    pub extras: Vec<Extra>,
    /// The least clear depth of the bay, whatever is carried.
    pub least_depth: Option<Bound>,
    /// The most depth that what is carried may have, air included, whatever the bay.
    pub most_contents_depth: Option<Bound>,
    /// The room that is kept inside what carries nothing yet; none if it carries something, or needs no room.
    pub empty_room: Option<Contents>,
}

impl Allowance {
    /// All the space that is needed on one side.
    #[must_use]
    pub fn at(&self, side: Where) -> Length {
        self.extras.iter().filter(|extra| extra.at == side).map(|extra| extra.size).sum()
    }

    fn add(&mut self, at: Where, size: Length, reason: impl Into<String>, source: &'static str) {
        if size != Length::ZERO {
            self.extras.push(Extra { at, size, reason: reason.into(), source });
        }
    }

    fn both_sides(&mut self, size: Length, reason: &str, source: &'static str) {
        self.add(Where::Left, size, reason, source);
        self.add(Where::Right, size, reason, source);
    }
}

/// Why there is no allowance.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum HoldingError {
    /// A name that the design does not have.
    #[error("there is no material {name:?}: add it to `materials` or name one that is there")]
    UnknownMaterial {
        /// The name.
        name: String,
    },
    /// A name that the design does not have.
    #[error("there is no fitting {name:?}: add it to `fittings` or name one that is there")]
    UnknownSlide {
        /// The name.
        name: String,
    },
    /// A fitting of another kind.
    #[error("the fitting {name:?} is not a slide: name one that is")]
    NotASlide {
        /// The name.
        name: String,
    },
    /// A slide that nobody has chosen yet; what solves a design chooses first.
    #[error("the slides are left to the program and not chosen yet: name slides of the design")]
    OpenSlide,
    /// An under-mounted slide that leaves no air beside the box.
    #[error(
        "sides of {thickness} do not go with under-mounted slides that leave {side_space} from the inside of the box to the \
         carcass: take a thinner board or other slides"
    )]
    SidesTooThick {
        /// Thickness of the sides.
        thickness: Written,
        /// The space that the slides leave.
        side_space: Written,
    },
    /// An opening angle that a tilting compartment cannot have.
    #[error("a tilting compartment cannot open by {opens_deg} degrees: give an angle above 0 and up to 90")]
    Angle {
        /// The angle as text, since it may be no number.
        opens_deg: String,
    },
}

/// The clear space that `holding` needs round what it carries, in a bay of a shell built like `construction`, behind
/// `front`. `contents` is what it carries, air included; none for an empty drawer.
///
/// # Errors
/// Collected per holding: the first name that is missing, or a slide or angle that cannot be used.
pub fn allowance(
    design: &Resolved,
    construction: &Construction<Length>,
    holding: &Holding<Length>,
    front: Option<&Front<Length>>,
    contents: Option<Contents>,
) -> Result<Allowance, HoldingError> {
    let mut all = Allowance::default();
    let set_back = front_set_back(design, construction, front)?;
    let moves = front.is_some_and(|front| front.opens == Opens::WithHolding);
    if let Some(thickness) = set_back.inset {
        all.add(Where::Front, thickness, "thickness of the inset front", DESIGN_FILE);
        if !moves {
            all.add(Where::Front, PLAY_BEHIND_FRONT, "play behind the inset front", COMMON_PRACTICE);
        }
    }
    match holding {
        Holding::Standing => {}
        Holding::Shelf { under } => {
            all.add(Where::Below, *under, "free height under the shelf", DESIGN_FILE);
            let thickness = thickness_of(design, material_for(construction, Role::Shelf, None))?;
            all.add(Where::Below, thickness, "thickness of the shelf", DESIGN_FILE);
        }
        Holding::PullOut { slide, board, strips } => {
            let slide = slide_of(design, slide.as_deref())?;
            let thickness = thickness_of(design, material_for(construction, Role::Platform, board.as_deref()))?;
            let strip = strip_of(design, construction, strips.as_ref())?;
            let gap = platform_gap(design.unit, slide, strip.map(|strip| strip.thickness))?;
            all.both_sides(gap, "space for the slide beside the platform", DESIGN_FILE);
            if let Some(strip) = strip {
                all.both_sides(strip.thickness, "strip along the platform", DESIGN_FILE);
            }
            let play = platform_play_below(slide, thickness, strip.map(|strip| strip.height));
            all.add(Where::Below, play, "play or slide under the platform", COMMON_PRACTICE);
            all.add(Where::Below, thickness, "thickness of the platform", DESIGN_FILE);
            all.add(Where::Above, PLAY_ABOVE, "play above what comes out", COMMON_PRACTICE);
            slide_depths(&mut all, slide, set_back, moves, Length::ZERO);
        }
        Holding::Drawer { slide, board, bottom } => {
            let slide = slide_of(design, slide.as_deref())?;
            let side_name = material_for(construction, Role::DrawerSide, board.as_deref());
            let end_name = material_for(construction, Role::DrawerEnd, board.as_deref());
            let side = thickness_of(design, side_name)?;
            let end = thickness_of(design, end_name)?;
            let bottom_name = bottom.as_deref().or(construction.boards.get(&Role::DrawerBottom).map(String::as_str));
            let bottom = thickness_of(design, bottom_name.unwrap_or(side_name))?;
            let below = match slide.mount {
                SlideMount::Side => {
                    all.both_sides(slide.side_space, "space for the slide beside the drawer box", DESIGN_FILE);
                    all.both_sides(side, "side of the drawer box", DESIGN_FILE);
                    BOX_PLAY_BELOW
                }
                SlideMount::Under => {
                    platform_gap(design.unit, slide, Some(side))?;
                    let reason = "from the carcass to the inside of the drawer box, for under-mounted slides";
                    all.both_sides(slide.side_space, reason, DESIGN_FILE);
                    under_box_play_below(slide)
                }
            };
            all.add(Where::Below, below, "play under the drawer box", COMMON_PRACTICE);
            let lip = drawer_bottom_lip(slide.mount, bottom);
            all.add(Where::Below, lip, "edge of the drawer box under its bottom", COMMON_PRACTICE);
            all.add(Where::Below, bottom, "bottom of the drawer box", DESIGN_FILE);
            let above = box_play_above(slide.mount, below);
            all.add(Where::Above, above, "play above the drawer box", COMMON_PRACTICE);
            all.add(Where::Front, end, "front end of the drawer box", DESIGN_FILE);
            slide_depths(&mut all, slide, set_back, moves, end);
        }
        Holding::TiltOut { hinge, opens_deg, lid, board, .. } => {
            let panel = thickness_of(design, material_for(construction, Role::BinPanel, board.as_deref()))?;
            let side = thickness_of(design, material_for(construction, Role::BinSide, board.as_deref()))?;
            if !(*opens_deg > 0.0 && *opens_deg <= 90.0) {
                return Err(HoldingError::Angle { opens_deg: opens_deg.to_string() });
            }
            all.both_sides(TILT_PLAY, "play beside the tilting compartment", COMMON_PRACTICE);
            all.both_sides(side, "side of the tilting compartment", DESIGN_FILE);
            let play = tilt_play(construction, moves && set_back.inset.is_some());
            all.add(Where::Below, play, "play under the tilting compartment", COMMON_PRACTICE);
            all.add(Where::Below, panel, "bottom of the tilting compartment", DESIGN_FILE);
            if *lid {
                all.add(Where::Above, panel, "lid of the tilting compartment", DESIGN_FILE);
            }
            if !moves {
                all.add(Where::Front, panel, "front of the tilting compartment", DESIGN_FILE);
            }
            all.add(Where::Rear, panel, "rear of the tilting compartment", DESIGN_FILE);
            all.add(Where::Rear, TILT_PLAY, "play behind the tilting compartment", COMMON_PRACTICE);
            let contents = contents.unwrap_or(Contents::LEAST);
            let before = if moves { set_back.thickness } else { panel };
            let depth = before + contents.depth + panel;
            let height = panel + contents.height + if *lid { panel } else { Length::ZERO };
            let (side, reason) = match hinge {
                TiltHinge::Below => (Where::Above, "way of the upper rear edge when the compartment tilts"),
                TiltHinge::Above => (Where::Below, "way of the lower rear edge when the compartment tilts"),
            };
            let arc = tilt_clearance(depth, height, *opens_deg);
            all.add(side, arc, reason, "geometry: distance of that edge from the hinge");
            all.add(Where::Above, play, "play above the tilting compartment", COMMON_PRACTICE);
        }
    }
    if contents.is_none() && !matches!(holding, Holding::Standing | Holding::Shelf { .. }) {
        all.empty_room = Some(Contents::LEAST);
    }
    Ok(all)
}

/// How the front takes space from the bay.
#[derive(Clone, Copy, Debug)]
struct FrontSpace {
    /// Thickness of the front; zero without one.
    thickness: Length,
    /// Thickness of a front that sits inside the opening.
    inset: Option<Length>,
}

fn front_set_back(
    design: &Resolved,
    construction: &Construction<Length>,
    front: Option<&Front<Length>>,
) -> Result<FrontSpace, HoldingError> {
    let Some(front) = front else { return Ok(FrontSpace { thickness: Length::ZERO, inset: None }) };
    let thickness = thickness_of(design, material_for(construction, Role::Front, front.board.as_deref()))?;
    let inset = (front.style.unwrap_or(construction.fronts) == FrontStyle::Inset).then_some(thickness);
    Ok(FrontSpace { thickness, inset })
}

/// A strip along a platform.
#[derive(Clone, Copy)]
struct Strip {
    height: Length,
    thickness: Length,
}

fn strip_of(
    design: &Resolved,
    construction: &Construction<Length>,
    height: Option<&Length>,
) -> Result<Option<Strip>, HoldingError> {
    let Some(&height) = height else { return Ok(None) };
    let thickness = thickness_of(design, material_for(construction, Role::SideStrip, None))?;
    Ok(Some(Strip { height, thickness }))
}

/// Adds the depths that a slide asks for; `end` is the thickness of the front and of the rear of what it carries.
fn slide_depths(
    all: &mut Allowance,
    slide: &crate::design::Slide<Length>,
    front: FrontSpace,
    moves: bool,
    end: Length,
) {
    if !moves && front.inset.is_none() {
        all.add(Where::Front, PLAY_BEHIND_FRONT, "set-back behind the front edge", COMMON_PRACTICE);
    }
    let depth = front.inset.unwrap_or_default() + least_depth(slide);
    all.least_depth = Some(Bound {
        size: depth,
        reason: format!("slides of {} mm with their set-back", slide.length.mm()),
        source: COMMON_PRACTICE,
    });
    all.most_contents_depth = Some(Bound {
        size: box_depth(slide) - end * 2,
        reason: format!("clear depth inside on slides of {} mm", slide.length.mm()),
        source: COMMON_PRACTICE,
    });
}
