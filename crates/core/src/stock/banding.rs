//! How banding is worked: which edges, how long the strips, in which order they are glued.

use std::collections::BTreeMap;

use super::CuttingPlan;
use crate::assembly::{Assembly, PartEdge};
use crate::length::Length;

/// What a strip is longer than its edge, both ends together: 40 mm (common practice: 20 mm to hold at each end).
pub(super) const OVERSIZE: Length = Length::from_mm(40);

/// All edges that take one kind of banding.
#[derive(Clone, Debug, PartialEq)]
pub struct BandingLot {
    /// The name of the banding.
    pub name: String,
    /// In the order of gluing.
    pub steps: Vec<BandingStep>,
    /// The finished edges.
    pub length: Length,
    /// The strips, with what they are longer.
    pub strips: Length,
}

/// One edge to be banded.
#[derive(Clone, Debug, PartialEq)]
pub struct BandingStep {
    /// Index of the part.
    pub part: usize,
    /// Its edge.
    pub edge: PartEdge,
    /// When it is glued: the first edges of a part 1, those whose banding covers the ends of the first 2.
    pub turn: u8,
    /// Length of the finished edge.
    pub length: Length,
    /// Length of the strip.
    pub strip: Length,
}

/// The banding of a piece by kind. Of a part with bands round a corner, the short edges come first, so that the bands of
/// the long edges cover their ends (common practice: the end grain of the band then looks to the side that is seen less).
/// Edges that keep a board's old banding are left out where a plan is given.
#[must_use]
pub fn banding_work(assembly: &Assembly, plan: Option<&CuttingPlan>) -> Vec<BandingLot> {
    let mut lots: BTreeMap<&str, Vec<BandingStep>> = BTreeMap::new();
    for (index, part) in assembly.parts.iter().enumerate() {
        let kept: &[PartEdge] = plan.and_then(|it| it.place_of(index)).map_or(&[], |(_, place)| place.keeps.as_slice());
        let on_length = |edge: PartEdge| matches!(edge, PartEdge::Near | PartEdge::Far);
        let corner = part.bands.iter().any(|it| on_length(it.edge)) && part.bands.iter().any(|it| !on_length(it.edge));
        for band in part.bands.iter().filter(|it| !kept.contains(&it.edge)) {
            let along = on_length(band.edge);
            let length = part.edge_length(band.edge);
            let long = if along {
                part.finished.length >= part.finished.width
            } else {
                part.finished.width > part.finished.length
            };
            lots.entry(&band.name).or_default().push(BandingStep {
                part: index,
                edge: band.edge,
                turn: if corner && long { 2 } else { 1 },
                length,
                strip: length + OVERSIZE,
            });
        }
    }
    lots.into_iter()
        .map(|(name, mut steps)| {
            steps.sort_by_key(|it| (it.turn, it.part, it.edge));
            let length = steps.iter().map(|it| it.length).sum();
            let strips = steps.iter().map(|it| it.strip).sum();
            BandingLot { name: name.to_owned(), steps, length, strips }
        })
        .collect()
}
