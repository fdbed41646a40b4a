//! The figures of the library that sizes are reckoned with, as lengths.

use std::sync::OnceLock;

use super::library::{Foot, Library, library};
use crate::assembly::StandPiece;
use crate::length::Length;

/// What slides and hinges of the library ask of the parts round them. Each figure stands in `assets/fittings` only.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Figures {
    /// From the front edge of the carcass, or the rear of an inset front, to the front end of a slide.
    pub set_back: Length,
    /// By how much a box on side-mounted slides is lower than its opening.
    pub side_less_high: Length,
    /// What share of its length a partial extension comes out.
    pub partial_share: f64,
    /// By how much a box on under-mounted slides is lower than its opening.
    pub under_less_high: Length,
    /// By how much it is shorter than their nominal length.
    pub under_shorter: Length,
    /// Depth inside the carcass less their nominal length, at least.
    pub under_behind: Length,
    /// How far its bottom lies above the lower edges of its sides.
    pub under_recess: Length,
    /// The thickest sides that it may have.
    pub under_side: Length,
    /// From the edge of a door to the edge of a cup.
    pub cup_to_edge: Length,
    /// Between the two screws beside a cup.
    pub screws_apart: Length,
    /// How far they lie beyond the middle of the cup.
    pub screws_behind: Length,
    /// Diameter and depth of their holes.
    pub screw_hole: (Length, Length),
    /// Between the two holes of a plate.
    pub plate_apart: Length,
    /// Their diameter.
    pub plate_hole: Length,
    /// From the end of a door to the middle of its outermost hinge, unless the door is low.
    pub hinge_from_end: Length,
}

impl Figures {
    fn of(library: &Library) -> Self {
        let (side, under, hinge) =
            (&library.slides.side_mounted, &library.slides.under_mounted, &library.hinges.cup_hinge);
        let mm = Length::from_mm_f64;
        let both = |(a, b): (f64, f64)| (mm(a), mm(b));
        let (plate_apart, plate_hole) = both(hinge.plate_holes.0);
        Self {
            set_back: mm(side.set_back.0),
            side_less_high: mm(side.less_high.0),
            partial_share: side.partial_share.0,
            under_less_high: mm(under.less_high.0),
            under_shorter: mm(under.shorter.0),
            under_behind: mm(under.behind.0),
            under_recess: mm(under.bottom_recess.0),
            under_side: mm(under.side_at_most.0),
            cup_to_edge: mm(hinge.cup_to_edge.0),
            screws_apart: mm(hinge.screws_apart.0),
            screws_behind: mm(hinge.screws_behind.0),
            screw_hole: both(hinge.screw_hole.0),
            plate_apart,
            plate_hole,
            hinge_from_end: mm(hinge.from_end.0),
        }
    }
}

/// The figures, read once. A library that cannot be read is told wherever a design is read, so that what stands here
/// instead, nothing at all, is never built.
#[must_use]
pub fn figures() -> &'static Figures {
    static READ: OnceLock<Figures> = OnceLock::new();
    READ.get_or_init(|| library().map(Figures::of).unwrap_or_default())
}

/// The usual foot or castor of the library; none of a kind that it does not have.
#[must_use]
pub fn usual_foot(piece: StandPiece) -> Option<&'static Foot> {
    let name = if piece.is_foot() { "adjustable foot" } else { "castor" };
    library().ok()?.sundries.feet.iter().find(|it| it.name == name)
}
