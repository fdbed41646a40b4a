//! Dividers that are dragged: where they are, where they stop softly, and why.

use casewright_core::design::{Design, Inside};
use casewright_core::geometry::Axis;
use casewright_core::layout::Layout;
use casewright_core::length::Length;

use crate::command::tree;

/// A divider between two bays of one division, as seen from the front.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handle {
    /// The bay left of it or under it.
    pub before: String,
    /// The bay right of it or above it.
    pub after: String,
    /// Whether it stands upright, between bays side by side.
    pub upright: bool,
    /// Its range along the axis that it moves on.
    pub at: (Length, Length),
    /// Its range along the other axis.
    pub along: (Length, Length),
    /// Where the bay before it begins.
    pub start: Length,
    /// Where the bay after it ends.
    pub end: Length,
}

/// The dividers of all divisions.
#[must_use]
pub fn handles(design: &Design, layout: &Layout) -> Vec<Handle> {
    let mut handles = Vec::new();
    tree::walk(design, &mut |bay, _, _| {
        let upright = match &bay.inside {
            Inside::Across { .. } => true,
            Inside::Up { .. } => false,
            _ => return,
        };
        let (axis, other) = if upright { (Axis::X, Axis::Y) } else { (Axis::Y, Axis::X) };
        let Some(whole) = layout.bay(&bay.name) else { return };
        for pair in bay.children().windows(2) {
            let [a, b] = pair else { continue };
            let (Some(before), Some(after)) = (layout.bay(&a.name), layout.bay(&b.name)) else { continue };
            let (start, from) = before.clear.range(axis);
            let (to, end) = after.clear.range(axis);
            handles.push(Handle {
                before: a.name.clone(),
                after: b.name.clone(),
                upright,
                at: (from, to),
                along: whole.clear.range(other),
                start,
                end,
            });
        }
    });
    handles
}

/// Why a place is a good one to stop at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stop {
    /// Both bays are equally large.
    Equal,
    /// In line with the edge of another bay, by its name.
    InLine(String),
    /// As near as what a thing needs allows, by its name.
    Touches(String),
}

/// The places where a divider stops softly: the size of the bay before it, and why.
#[must_use]
pub fn stops(handle: &Handle, layout: &Layout) -> Vec<(Length, Stop)> {
    let axis = if handle.upright { Axis::X } else { Axis::Y };
    let thickness = handle.at.1 - handle.at.0;
    let most = handle.end - handle.start - thickness;
    let mut stops = vec![(most.half(), Stop::Equal)];
    for bay in layout.bays.iter().filter(|bay| bay.name != handle.before && bay.name != handle.after) {
        let (low, high) = bay.clear.range(axis);
        // The near face of the divider in line with where another bay ends, or its far face with where one begins.
        stops.push((high - handle.start, Stop::InLine(bay.name.clone())));
        stops.push((low - thickness - handle.start, Stop::InLine(bay.name.clone())));
    }
    for thing in &layout.things {
        let Some(bay) = layout.bays.get(thing.bay) else { continue };
        let need = thing.with_air.size(axis);
        if bay.name == handle.before {
            stops.push((need, Stop::Touches(thing.name.clone())));
        }
        if bay.name == handle.after {
            stops.push((most - need, Stop::Touches(thing.name.clone())));
        }
    }
    stops.retain(|(size, _)| *size > Length::ZERO && *size < most);
    stops
}

/// The size that is meant when the pointer asks for `asked`: a soft stop within `reach`, the nearest one, else the
/// nearest whole `step`.
#[must_use]
pub fn meant(asked: Length, stops: &[(Length, Stop)], reach: Length, step: Length) -> (Length, Option<Stop>) {
    let near = stops.iter().filter(|(size, _)| (*size - asked).abs() <= reach);
    match near.min_by_key(|(size, _)| (*size - asked).abs()) {
        Some((size, stop)) => (size.rounded_to(step), Some(stop.clone())),
        None => (asked.rounded_to(step), None),
    }
}

#[cfg(test)]
mod tests {
    use casewright_core::solve::solve;

    use super::*;
    use crate::sample;

    #[test]
    fn every_division_has_its_handles_and_they_stop_where_it_helps() {
        let design = sample::design();
        let resolved = design.resolve().unwrap();
        let layout = solve(&resolved).unwrap().layout;
        let handles = handles(&design, &layout);
        let names: Vec<_> = handles.iter().map(|it| (it.before.as_str(), it.after.as_str(), it.upright)).collect();
        assert_eq!(names, [("left", "right", true), ("crates", "upper", false)]);
        let upright = &handles[0];
        assert_eq!(upright.at.0 - upright.start, Length::from_mm(400));
        let found = stops(&handles[1], &layout);
        // The crate is 320 high and wants 20 of air above it.
        assert!(found.contains(&(Length::from_mm(340), Stop::Touches("crate".into()))), "{found:?}");
        assert!(found.iter().any(|(_, stop)| *stop == Stop::Equal));
    }

    #[test]
    fn a_stop_is_soft() {
        let mm = Length::from_mm;
        let stops = [(mm(300), Stop::Equal), (mm(310), Stop::InLine("a".into()))];
        let check = |asked: i64, expected: (Length, Option<Stop>)| {
            assert_eq!(meant(Length::from_um(asked), &stops, mm(8), Length::from_um(500)), expected);
        };
        check(296_000, (mm(300), Some(Stop::Equal)));
        check(306_000, (mm(310), Some(Stop::InLine("a".into()))));
        check(280_260, (Length::from_um(280_500), None));
    }
}
