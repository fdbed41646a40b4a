//! The rules by which hardware sets sizes, over the figures of the data.

use super::library::{CupHinge, SideSlides, UnderSlides};

/// Outside sizes of a drawer box, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoxSize {
    /// Outside width.
    pub width: f64,
    /// The most height.
    pub height: f64,
    /// Length, front to rear.
    pub depth: f64,
}

/// A box on side-mounted slides: opening less twice the slide, lower by its play, as long as the slide.
#[must_use]
pub fn box_on_side_slides(data: &SideSlides, opening: f64, clear_height: f64, length: f64) -> BoxSize {
    BoxSize { width: opening - 2.0 * data.side_space.0, height: clear_height - data.less_high.0, depth: length }
}

/// A box on under-mounted slides with sides so thick: its inside is the opening less 42 mm, so its outside is the opening
/// and twice the side less 42 mm; 10 mm shorter than the slide. None if the sides are too thick.
#[must_use]
pub fn box_on_under_slides(
    data: &UnderSlides,
    opening: f64,
    side: f64,
    clear_height: f64,
    length: f64,
) -> Option<BoxSize> {
    (side <= data.side_at_most.0).then_some(BoxSize {
        width: opening + 2.0 * side - data.inside_less.0,
        height: clear_height - data.less_high.0,
        depth: length - data.shorter.0,
    })
}

/// From the front edge of the carcass to the front end of a slide: the set-back, and an inset front's thickness.
#[must_use]
pub fn slide_set_back(data: &SideSlides, inset_front: Option<f64>) -> f64 {
    data.set_back.0 + inset_front.unwrap_or(0.0)
}

/// How much of the depth of an opening a slide leaves, behind it.
#[must_use]
pub fn rest_of_opening(data: &SideSlides, clear_depth: f64, inset_front: Option<f64>, length: f64) -> f64 {
    clear_depth - slide_set_back(data, inset_front) - length
}

/// The number of hinges by mass and by height, the larger one, and one more for a wide door; none beyond the tables.
#[must_use]
pub fn hinges_by_tables(data: &CupHinge, mass_kg: f64, height: f64, width: f64) -> Option<u32> {
    let up_to = |rows: &[(u32, f64)], value: f64| rows.iter().find(|row| value <= row.1).map(|row| row.0);
    let most = up_to(&data.by_mass.0, mass_kg)?.max(up_to(&data.by_height.0, height)?);
    Some(most + u32::from(width > data.wide_door.0))
}
