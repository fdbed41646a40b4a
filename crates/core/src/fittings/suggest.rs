//! Which slide serves: by depth, load and reach.

use super::formulas::rest_of_opening;
use super::library::SlideData;
use crate::design::SlideMount;

/// Lengths are whole nanometres; what differs by less is the noise of floating point, mm.
const SAME_MM: f64 = 1e-7;

/// What is asked of a slide; lengths in mm. A length or class that is given stands, whatever else is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlideWish {
    /// Where it is mounted.
    pub mount: SlideMount,
    /// The nominal length, if that is decided.
    pub length: Option<f64>,
    /// The load class, if that is decided, kg.
    pub load_class_kg: Option<f64>,
    /// Clear depth of the opening, from the front edge of the carcass.
    pub clear_depth: f64,
    /// Thickness of an inset front.
    pub inset_front: Option<f64>,
    /// All that it carries, kg. A full crate of bottles is about 20 kg (common practice).
    pub load_kg: f64,
    /// How far what it carries must come out for one to reach its rear: its depth, as a rule.
    pub reach: f64,
}

/// A slide that serves.
#[derive(Clone, Debug, PartialEq)]
pub struct SlideChoice {
    /// Nominal length.
    pub length: f64,
    /// The least load class that serves, kg.
    pub load_class_kg: f64,
    /// Whether it must come out fully.
    pub full_extension: bool,
    /// What of the depth is left behind it.
    pub rest: f64,
}

/// The longest slide that the depth takes, in the least class that carries the load; none if nothing does. Partial
/// extension serves where it comes out as far as one must reach.
#[must_use]
pub fn choose_slide(data: &SlideData, wish: &SlideWish) -> Option<SlideChoice> {
    let (lengths, classes, behind) = match wish.mount {
        SlideMount::Side => (&data.side_mounted.lengths.0, &data.side_mounted.load_classes_kg.0, 0.0),
        SlideMount::Under => {
            let set_back = data.side_mounted.set_back.0;
            (
                &data.under_mounted.lengths.0,
                &data.under_mounted.load_classes_kg.0,
                data.under_mounted.behind.0 - set_back,
            )
        }
    };
    let rest = |length: f64| rest_of_opening(&data.side_mounted, wish.clear_depth, wish.inset_front, length);
    let longest = || lengths.iter().copied().filter(|&it| rest(it) >= behind - SAME_MM).max_by(f64::total_cmp);
    let least = || classes.iter().copied().filter(|&it| it >= wish.load_kg).min_by(f64::total_cmp);
    let length = wish.length.or_else(longest)?;
    let load_class_kg = wish.load_class_kg.or_else(least)?;
    let full_extension = length * data.side_mounted.partial_share.0 < wish.reach;
    Some(SlideChoice { length, load_class_kg, full_extension, rest: rest(length) })
}
