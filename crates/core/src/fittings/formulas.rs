//! The rules by which hardware sets sizes, over the figures of the data.

use super::library::{CupHinge, SideSlides};

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

/// The number of hinges of a door by its mass, kg, and its width, mm: the most that any chart asks, and one more for a wide
/// door. None if it is heavier than every chart reaches.
#[must_use]
pub fn hinges_by_mass(data: &CupHinge, mass_kg: f64, width: f64) -> Option<u32> {
    let most = data.by_mass.iter().filter_map(|chart| up_to(&chart.0, mass_kg)).max()?;
    Some(most + u32::from(width > data.wide_door.0))
}

/// The heaviest door that a chart reaches, kg.
#[must_use]
pub fn heaviest_door(data: &CupHinge) -> f64 {
    data.by_mass.iter().flat_map(|chart| &chart.0).map(|row| row.1).fold(0.0, f64::max)
}

/// The number of hinges that the height of a door suggests, mm: one more than the last of the bands above them all.
#[must_use]
pub fn hinges_by_height(data: &CupHinge, height: f64) -> u32 {
    let bands = &data.by_height.0;
    up_to(bands, height).unwrap_or_else(|| bands.last().map_or(0, |row| row.0) + 1)
}

/// The count of the first row that reaches so far.
fn up_to(rows: &[(u32, f64)], value: f64) -> Option<u32> {
    rows.iter().find(|row| value <= row.1).map(|row| row.0)
}
