//! Dimension chains of furniture: the faces of panels along one axis, found by sweeping across the other.

use std::collections::BTreeSet;

use casewright_core::Length;
use casewright_core::assembly::Part;
use casewright_core::geometry::{Axis, Direction};

use super::scene::Scene;
use crate::dimension::{Chain, Side, Span};
use crate::tag::Tag;
use crate::view::{Axes, View, axis_letter};

/// Ranks of chains, from the view outwards.
pub(crate) const RANK_PARTS: i32 = 0;
/// The rank of the outside size.
pub(crate) const RANK_ENVELOPE: i32 = 9;

/// The faces met on a line along `along`, for one place across.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Partition {
    /// Where it was taken, across.
    pub(crate) across: (Length, Length),
    /// The faces, ascending, with both ends of the whole.
    pub(crate) positions: Vec<Length>,
    /// The parts, as (from, to, number).
    pub(crate) pieces: Vec<(Length, Length, String)>,
}

/// Every different partition of `whole` along an axis by these parts, from the smallest place across to the largest;
/// those that say nothing beyond another are left out.
pub(crate) fn partitions(parts: &[&Part], along: Axis, across: Axis, whole: (Length, Length)) -> Vec<Partition> {
    let limits: BTreeSet<Length> = parts
        .iter()
        .flat_map(|part| {
            let (from, to) = part.cuboid.range(across);
            [from, to]
        })
        .collect();
    let limits: Vec<Length> = limits.into_iter().collect();
    let mut found: Vec<Partition> = Vec::new();
    for pair in limits.windows(2) {
        let [from, to] = pair else { continue };
        let mut pieces: Vec<(Length, Length, String)> = parts
            .iter()
            .filter(|part| {
                let range = part.cuboid.range(across);
                range.0 <= *from && *to <= range.1
            })
            .map(|part| {
                let range = part.cuboid.range(along);
                (range.0, range.1, part.number.clone())
            })
            .collect();
        if pieces.is_empty() {
            continue;
        }
        pieces.sort();
        let mut positions: BTreeSet<Length> = pieces.iter().flat_map(|(from, to, _)| [*from, *to]).collect();
        positions.extend([whole.0, whole.1]);
        let positions: Vec<Length> = positions.into_iter().collect();
        match found.iter_mut().find(|other| other.positions == positions) {
            // The widest place stands for all, so that what lies there can be named.
            Some(same) if *to - *from > same.across.1 - same.across.0 => {
                same.across = (*from, *to);
                same.pieces = pieces;
            }
            Some(_) => {}
            None => found.push(Partition { across: (*from, *to), positions, pieces }),
        }
    }
    let all: Vec<BTreeSet<Length>> = found.iter().map(|one| one.positions.iter().copied().collect()).collect();
    let mut keep = all
        .iter()
        .enumerate()
        .map(|(index, own)| !all.iter().enumerate().any(|(other, set)| other != index && own.is_subset(set)));
    found.retain(|_| keep.next().unwrap_or(true));
    found
}

/// One chain for a partition: panels and openings in turn, closing to the whole.
pub(crate) fn chain_of(
    scene: &Scene<'_>,
    partition: &Partition,
    along: Axis,
    across: Axis,
    side: Side,
    sign: i64,
) -> Chain {
    let place = Length::from_nm((partition.across.0.nm() + partition.across.1.nm()) / 2);
    let spans = partition
        .positions
        .windows(2)
        .filter_map(|pair| {
            let [from, to] = pair else { return None };
            let piece = partition.pieces.iter().find(|(start, end, _)| start <= from && to <= end);
            let tag = match piece {
                Some((_, _, number)) => Some(Tag::Part(number.clone())),
                None => bay_at(scene, along, across, (*from, *to), place).map(Tag::Bay),
            };
            Some(span(scene, *from, *to, sign, tag))
        })
        .collect();
    Chain { side, rank: RANK_PARTS, feature: None, spans }
}

/// A chain of the parts of a partition only, without the gaps between them.
pub(crate) fn parts_only(scene: &Scene<'_>, partition: &Partition, side: Side) -> Chain {
    let spans = partition
        .pieces
        .iter()
        .map(|(from, to, number)| span(scene, *from, *to, 1, Some(Tag::Part(number.clone()))))
        .collect();
    Chain { side, rank: RANK_PARTS, feature: None, spans }
}

/// A dimension between two model positions, in a view whose axis runs with (1) or against (-1) the model's.
pub(crate) fn span(scene: &Scene<'_>, from: Length, to: Length, sign: i64, tag: Option<Tag>) -> Span {
    let text = scene.dimension(to - from);
    let (from, to) = if sign < 0 { (-to, -from) } else { (from, to) };
    Span { from, to, text, tag }
}

/// The outside size along an axis.
pub(crate) fn envelope_chain(scene: &Scene<'_>, axis: Axis, side: Side, sign: i64) -> Chain {
    let (from, to) = scene.assembly.envelope.range(axis);
    let tag = Some(Tag::Envelope(axis_letter(axis)));
    Chain { side, rank: RANK_ENVELOPE, feature: None, spans: vec![span(scene, from, to, sign, tag)] }
}

/// The undivided bay whose opening holds this range at this place.
fn bay_at(scene: &Scene<'_>, along: Axis, across: Axis, range: (Length, Length), place: Length) -> Option<String> {
    let holds = |outer: (Length, Length), inner: (Length, Length)| outer.0 <= inner.0 && inner.1 <= outer.1;
    scene
        .leaf_bays()
        .find(|bay| holds(bay.clear.range(along), range) && holds(bay.clear.range(across), (place, place)))
        .map(|bay| bay.name.clone())
}

/// Removes from the views of a set every dimension that an earlier view gives already along the same model axis.
pub(crate) fn drop_repeats_across<'v>(views: impl Iterator<Item = &'v mut View>) {
    let mut given = BTreeSet::new();
    for view in views {
        let Axes::Straight(right, up) = view.axes else { continue };
        for chain in &mut view.chains {
            let direction = if chain.side.is_horizontal() { right } else { up };
            chain.spans.retain(|span| span.to > span.from && given.insert(model_range(direction, span)));
        }
        view.chains.retain(|chain| !chain.spans.is_empty());
    }
}

/// The axis and range of a dimension in the model.
fn model_range(direction: Direction, span: &Span) -> (Axis, Length, Length) {
    let range = if direction.negative { (-span.to, -span.from) } else { (span.from, span.to) };
    (direction.axis, range.0, range.1)
}
