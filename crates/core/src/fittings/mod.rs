//! Usual hardware as data: slides, hinges, feet, handles, brackets and straps, each figure with its source.
//!
//! The files stand in `assets/fittings` and are a part of the program. What a design names in its own `fittings` goes
//! before them, and the maker's sheet of the real fitting before both.

mod figures;
mod formulas;
mod library;
mod suggest;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_usual;
mod usual;

pub use figures::{Figures, figures, usual_foot};
pub use formulas::{heaviest_door, hinges_by_height, hinges_by_mass, rest_of_opening, slide_set_back};
pub use library::{
    Bracket, CupHinge, Damper, Figure, Foot, Handle, HingeData, Library, LibraryError, SideSlides, SlideData, Stay,
    Strap, Strut, Sundries, UnderSlides, library,
};
pub use suggest::{SlideChoice, SlideWish, choose_slide};
pub use usual::{CUP_HINGE, SIDE_SLIDE, SlideSeries, UNDER_SLIDE, UsualFault, fill, full, usual_mount, usual_names};
