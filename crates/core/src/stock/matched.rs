//! Grain match: fronts that are cut from one board side by side, so that the grain runs on from one to the next.

use crate::assembly::{Grain, Part};
use crate::design::{Resolved, Role, Tie};
use crate::geometry::Axis;
use crate::length::Length;

/// Parts that are cut in one row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MatchedRow {
    /// Which of the design's ties asks for it.
    pub tie: usize,
    /// Indices of the parts, in the order in which they follow each other on the board; empty where no part can be matched.
    pub parts: Vec<usize>,
    /// Whether they follow each other along their lengths; else along their widths.
    pub along_length: bool,
    /// Why the row is not as the tie asks for it, in words; empty if it is.
    pub trouble: String,
}

/// The rows that a design asks for. Fronts beside each other run on from left to right, fronts over each other upwards;
/// on the board they follow each other in the same order.
#[must_use]
pub fn matched_rows(design: &Resolved, parts: &[Part]) -> Vec<MatchedRow> {
    let asked = design.carcass.ties.iter().enumerate();
    asked
        .filter_map(|(tie, it)| match it {
            Tie::GrainMatch(bays) => Some(row(tie, bays, parts)),
            _ => None,
        })
        .collect()
}

fn row(tie: usize, bays: &[String], parts: &[Part]) -> MatchedRow {
    let fronts: Vec<usize> = (parts.iter().enumerate())
        .filter(|(_, part)| part.role == Role::Front && bays.contains(&part.bay))
        .map(|(index, _)| index)
        .collect();
    let none = |trouble: &str| MatchedRow {
        tie,
        parts: Vec::new(),
        along_length: true,
        trouble: format!("no grain match of {}: {trouble}", bays.join(", ")),
    };
    let of = |index: &usize| parts.get(*index);
    let (Some(first), true) = (fronts.first().and_then(of), fronts.len() > 1) else {
        return none("there are not two fronts");
    };
    if fronts.iter().filter_map(of).any(|it| it.material != first.material || it.grain != first.grain) {
        return none("the fronts are of different materials");
    }
    if first.grain == Grain::None {
        return none("their material has no grain");
    }
    let way = |part: &Part| (part.world_from_part.length, part.world_from_part.width);
    if fronts.iter().filter_map(of).any(|it| way(it) != way(first)) {
        return none("the grain of the fronts runs in different directions");
    }
    let spread = |axis: Axis| {
        let middles = || fronts.iter().filter_map(of).map(|it| it.cuboid.min.along(axis) + it.cuboid.max.along(axis));
        middles().max().unwrap_or_default() - middles().min().unwrap_or_default()
    };
    let axis = if spread(Axis::X) >= spread(Axis::Y) { Axis::X } else { Axis::Y };
    let along_length = first.world_from_part.length.axis == axis;
    let towards = if along_length { first.world_from_part.length } else { first.world_from_part.width };
    let place =
        |index: &usize| -> Length { of(index).map_or(Length::ZERO, |it| it.cuboid.min.along(axis) * towards.sign()) };
    let mut parts = fronts;
    parts.sort_by_key(|index| (place(index), *index));
    MatchedRow { tie, parts, along_length, trouble: String::new() }
}
