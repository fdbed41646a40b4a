//! Rules of layout for what runs on slides or tilts. The figures of slides themselves are those of the library.

use crate::design::{Construction, Fitting, Resolved, Slide, SlideMount};
use crate::fittings::{figures, usual_mount};
use crate::holding::HoldingError;
use crate::length::Length;
use crate::unit::Unit;

/// The source of a figure that is usual in the trade.
pub const COMMON_PRACTICE: &str = "common practice";
/// The source of a figure that the design itself gives.
pub const DESIGN_FILE: &str = "the design";

/// From a front that does not move with it to what stands behind it.
pub const PLAY_BEHIND_FRONT: Length = Length::from_mm(3);
/// Under a box or platform on side-mounted slides: the smaller half of what makes a box lower than its opening.
pub const BOX_PLAY_BELOW: Length = Length::from_mm(6);
/// The least above whatever comes out.
pub const PLAY_ABOVE: Length = Length::from_mm(7);
/// Beside and behind a tilting compartment.
pub const TILT_PLAY: Length = Length::from_mm(3);
/// The least air under a slide or a box.
const LEAST_PLAY: Length = Length::from_mm(3);
/// Between an under-mounted slide and what lies on it.
const ON_SLIDE_PLAY: Length = Length::from_mm(1);
/// The least air beside a box on under-mounted slides.
const LEAST_BESIDE: Length = Length::from_mm(1);
/// Bottoms from this thickness on sit between the walls of a box; thinner ones stand in a groove.
const THICK_BOTTOM: Length = Length::from_mm(10);
/// The wood under the groove of a thin bottom.
const GROOVE_LIP: Length = Length::from_mm(10);

/// The gap round fronts where the design gives none.
pub const USUAL_REVEAL: Length = Length::from_mm(3);

/// The gap round the fronts of a shell.
#[must_use]
pub fn reveal_of(construction: &Construction<Length>) -> Length {
    construction.reveal.unwrap_or(USUAL_REVEAL)
}

/// Under and over a tilting compartment. An inset front turns about an edge that lies inside the opening by the reveal;
/// the compartment stays on the inner side of that edge.
#[must_use]
pub fn tilt_play(construction: &Construction<Length>, on_inset_front: bool) -> Length {
    if on_inset_front { TILT_PLAY.max(reveal_of(construction)) } else { TILT_PLAY }
}

/// The slide of this name.
///
/// # Errors
/// If there is no such fitting, if it is not a slide, or if it is still left to the program, as no name is.
pub fn slide_of<'a>(design: &'a Resolved, name: Option<&str>) -> Result<&'a Slide<Length>, HoldingError> {
    let Some(name) = name else { return Err(HoldingError::OpenSlide) };
    match design.fittings.get(name) {
        Some(Fitting::Slide(slide)) => Ok(slide),
        Some(Fitting::Usual(usual)) if usual_mount(&usual.of).is_some() => Err(HoldingError::OpenSlide),
        Some(_) => Err(HoldingError::NotASlide { name: name.to_owned() }),
        None => Err(HoldingError::UnknownSlide { name: name.to_owned() }),
    }
}

/// The depth of a box or platform: the nominal length of side-mounted slides, a little less for under-mounted ones.
#[must_use]
pub fn box_depth(slide: &Slide<Length>) -> Length {
    match slide.mount {
        SlideMount::Side => slide.length,
        SlideMount::Under => slide.length - figures().under_shorter,
    }
}

/// The least clear depth behind the front edge, or behind an inset front.
#[must_use]
pub fn least_depth(slide: &Slide<Length>) -> Length {
    slide.length
        + match slide.mount {
            SlideMount::Side => figures().set_back,
            SlideMount::Under => figures().under_behind,
        }
}

/// From the carcass to the outside of what runs on the slide, each side, where its side is `side` thick (none: a
/// platform without strips). Side-mounted slides give the space themselves; under-mounted ones give it to the inside
/// of a box side.
///
/// # Errors
/// If under-mounted slides leave no air beside so thick a side; said in `unit`.
pub fn platform_gap(unit: Unit, slide: &Slide<Length>, side: Option<Length>) -> Result<Length, HoldingError> {
    match slide.mount {
        SlideMount::Side => Ok(slide.side_space),
        SlideMount::Under => {
            let thickness = side.unwrap_or(figures().under_side);
            let gap = slide.side_space - thickness;
            if gap < LEAST_BESIDE {
                let (thickness, side_space) = (unit.written(thickness), unit.written(slide.side_space));
                return Err(HoldingError::SidesTooThick { thickness, side_space });
            }
            Ok(gap)
        }
    }
}

/// From what closes the bay below to the underside of a platform. A side-mounted slide is centred on the strip, or on
/// the edge of the platform where there is none, since its screws go into that; it may then reach below the platform.
#[must_use]
pub fn platform_play_below(slide: &Slide<Length>, thickness: Length, strip: Option<Length>) -> Length {
    match slide.mount {
        SlideMount::Under => slide.height + ON_SLIDE_PLAY,
        SlideMount::Side => {
            let centre = platform_slide_centre(thickness, strip);
            BOX_PLAY_BELOW.max(LEAST_PLAY + (slide.height - centre * 2 + Length::from_nm(1)).half())
        }
    }
}

/// From the underside of a platform to the centre line of a side-mounted slide.
#[must_use]
pub fn platform_slide_centre(thickness: Length, strip: Option<Length>) -> Length {
    strip.map_or(thickness.half(), |strip| thickness + strip.half())
}

/// From what closes the bay below to the lower edge of a box on under-mounted slides: the slide fills the recess under
/// the bottom and what is left of its height.
#[must_use]
pub fn under_box_play_below(slide: &Slide<Length>) -> Length {
    LEAST_PLAY.max(slide.height + ON_SLIDE_PLAY - figures().under_recess)
}

/// Above a drawer box that has so much under it: what is left of that by which it is to be lower than its opening.
#[must_use]
pub fn box_play_above(mount: SlideMount, below: Length) -> Length {
    let lower = match mount {
        SlideMount::Side => figures().side_less_high,
        SlideMount::Under => figures().under_less_high,
    };
    PLAY_ABOVE.max(lower - below)
}

/// From the lower edge of a drawer box to the underside of its bottom.
#[must_use]
pub fn drawer_bottom_lip(mount: SlideMount, bottom: Length) -> Length {
    match mount {
        SlideMount::Under => figures().under_recess,
        SlideMount::Side if bottom >= THICK_BOTTOM => Length::ZERO,
        SlideMount::Side => GROOVE_LIP,
    }
}

/// Whether the bottom of a drawer box stands in a groove of its walls; else it sits between them.
#[must_use]
pub fn bottom_is_grooved(bottom: Length) -> bool {
    bottom < THICK_BOTTOM
}
