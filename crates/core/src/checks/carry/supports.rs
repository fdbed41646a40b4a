//! Supports: what a lying panel ends at, lies on or stands on.

use std::collections::BTreeMap;

use super::{Lying, NEAR, SupportKind, SupportPoint};
use crate::assembly::Part;
use crate::checks::context::{Context, centre, overlap};
use crate::design::Role;
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;
use crate::mechanics::beam::Load;

/// How deep a housed part may stand in another.
const HOUSED: Length = Length::from_mm(12);
/// How far under a worktop the sides of boxes may end.
const UNDER_TOPS: Length = Length::from_mm(45);

/// For each lying panel the one that it lies flat on, by place in the order, and whether it covers that one's length.
pub(super) fn lies_on(order: &[(usize, &Part)]) -> Vec<Option<(usize, bool)>> {
    let mut by_top: BTreeMap<Length, Vec<usize>> = BTreeMap::new();
    for (place, (_, part)) in order.iter().enumerate() {
        by_top.entry(part.cuboid.max.y).or_default().push(place);
    }
    order
        .iter()
        .map(|(_, part)| {
            let candidates = by_top.get(&part.cuboid.min.y)?;
            let best = candidates.iter().filter_map(|&place| {
                let (_, under) = order.get(place)?;
                if under.role == Role::Rail {
                    // Narrow strips: what lies on them reaches the uprights as a beam of its own.
                    return None;
                }
                let under = &under.cuboid;
                let x = overlap(part.cuboid.range(Axis::X), under.range(Axis::X));
                let z = overlap(part.cuboid.range(Axis::Z), under.range(Axis::Z));
                (x > 0.0 && z > 0.0).then_some((place, x * z, x / under.size(Axis::X).mm()))
            });
            let (place, _, share) = best.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))?;
            // On several panels side by side it is a beam of its own.
            let covered = overlap(part.cuboid.range(Axis::X), order.get(place)?.1.cuboid.range(Axis::X));
            (covered > 0.5 * part.cuboid.size(Axis::X).mm()).then_some((place, share > 0.8))
        })
        .collect()
}

/// Whether an upright stands on a lying panel.
pub(super) fn rests_on(upright: &Cuboid, lying: &Cuboid) -> bool {
    let gap = upright.min.y - lying.max.y;
    gap <= Length::from_mm(1)
        && gap >= -HOUSED
        && upright.min.y > lying.min.y
        && overlap(upright.range(Axis::X), lying.range(Axis::X)) > 0.0
        && overlap(upright.range(Axis::Z), lying.range(Axis::Z)) > 0.0
        && upright.max.y > lying.max.y
}

/// The supports of a panel and of those that bend with it, from left to right. Where it stands on rows of feet that are out of
/// line with each other they are given row by row, for the panel bends over each row by itself.
pub(super) fn supports(
    context: &Context<'_>,
    standing: &[(usize, &Part)],
    part: &Part,
    with: &[usize],
) -> Vec<Vec<SupportPoint>> {
    let mut into = Vec::new();
    let mut low = part.cuboid;
    for other in with.iter().filter_map(|&i| context.assembly.parts.get(i)) {
        low = low.with_range(Axis::Y, (low.min.y, other.cuboid.max.y.max(low.max.y)));
    }
    let (x0, length) = (low.min.x, low.size(Axis::X).mm());
    for &(v, upright) in standing {
        let it = &upright.cuboid;
        if overlap(it.range(Axis::Z), low.range(Axis::Z)) <= 0.0 {
            continue;
        }
        // A worktop may lie on the tops of boxes whose sides end under these.
        let reach = if part.role == Role::Worktop { UNDER_TOPS } else { Length::from_mm(1) };
        let under = it.max.y >= low.min.y - reach
            && it.max.y <= low.min.y + HOUSED
            && it.max.y < low.max.y
            && it.min.y < low.min.y;
        if under && overlap(it.range(Axis::X), low.range(Axis::X)) > 0.0 {
            let at = ((it.min.x.max(low.min.x) + it.max.x.min(low.max.x)).mm() / 2.0 - x0.mm()).clamp(0.0, length);
            into.push(SupportPoint { at, kind: SupportKind::On(v), reaction: 0.0 });
            continue;
        }
        if overlap(it.range(Axis::Y), part.cuboid.range(Axis::Y)) <= 0.0 {
            continue;
        }
        // Ends beside it: the panel's end within reach of the upright's face.
        let left = (low.min.x - it.max.x) <= NEAR && (it.max.x - low.min.x) <= HOUSED;
        let right = (it.min.x - low.max.x) <= NEAR && (low.max.x - it.min.x) <= HOUSED;
        if left {
            into.push(SupportPoint { at: 0.0, kind: SupportKind::Beside(v), reaction: 0.0 });
        } else if right {
            into.push(SupportPoint { at: length, kind: SupportKind::Beside(v), reaction: 0.0 });
        }
    }
    let mut feet = Vec::new();
    if part.role == Role::Bottom {
        for fitting in &context.assembly.fittings {
            // A handle before the fronts may end at this height too.
            let near = (fitting.cuboid.max.y - low.min.y).abs() <= Length::from_mm(1)
                && overlap(fitting.cuboid.range(Axis::Z), low.range(Axis::Z)) > 0.0;
            if near
                && fitting.cuboid.min.y < low.min.y
                && overlap(fitting.cuboid.range(Axis::X), low.range(Axis::X)) > 0.0
            {
                let [x, _, out] = centre(&fitting.cuboid);
                let at = (x - x0.mm()).clamp(0.0, length);
                feet.push(Foot { at, out, width: fitting.cuboid.size(Axis::X).mm(), count: fitting.count });
            }
        }
    }
    let with_feet = |feet: Vec<SupportPoint>| {
        let mut all: Vec<SupportPoint> = into.iter().copied().chain(feet).collect();
        all.sort_by(|a, b| a.at.total_cmp(&b.at));
        // A foot under an upright, and uprights side by side, are one line of support.
        all.dedup_by(|b, a| b.at - a.at < 1.0);
        all
    };
    lines(feet).into_iter().map(with_feet).collect()
}

/// A foot under a panel.
#[derive(Clone, Copy, Debug)]
struct Foot {
    /// Its middle, from the left end of the panel, mm.
    at: f64,
    /// Its middle, out of the wall, mm.
    out: f64,
    /// Its width along the panel, mm.
    width: f64,
    /// How many stand there.
    count: u32,
}

/// Feet as supports: in one line, or row by row. A panel that stands on two rows is a beam over each of them, as stiff and as
/// loaded as the share of it that the row carries; where the rows are in line, that is one beam over pairs of feet. Where they
/// are not, each row is taken by itself, under the whole load with the whole panel, and its feet share what comes to a place
/// with the feet of the other rows, as those of a line do. A row of one foot is no beam: then all feet are taken together.
fn lines(mut feet: Vec<Foot>) -> Vec<Vec<SupportPoint>> {
    feet.sort_by(|a, b| a.out.total_cmp(&b.out));
    let mut rows: Vec<Vec<Foot>> = Vec::new();
    for foot in feet.iter().copied() {
        match rows.last_mut() {
            Some(row) if row.last().is_some_and(|it| foot.out - it.out < it.width) => row.push(foot),
            _ => rows.push(vec![foot]),
        }
    }
    let near =
        |foot: &Foot, row: &[Foot]| row.iter().any(|it| (it.at - foot.at).abs() < it.width.midpoint(foot.width) * 2.0);
    let in_line = rows.iter().flatten().all(|foot| rows.iter().all(|row| near(foot, row)));
    let places: Vec<Vec<SupportPoint>> = rows.iter().map(|row| together(row.clone())).collect();
    if rows.len() < 2 || in_line || places.iter().any(|it| it.len() < 2) {
        return vec![together(feet)];
    }
    let shared = u32::try_from(rows.len()).unwrap_or(1);
    let of_row = |it: SupportPoint| match it.kind {
        SupportKind::Foot(count) => SupportPoint { kind: SupportKind::Foot(count * shared), ..it },
        _ => it,
    };
    places.into_iter().map(|row| row.into_iter().map(of_row).collect()).collect()
}

/// Feet as supports. Those with less than a foot's width between them are one support in their middle: front and rear
/// feet out of line by a little carry the same place, and no beam turns about the two of them.
fn together(mut feet: Vec<Foot>) -> Vec<SupportPoint> {
    feet.sort_by(|a, b| a.at.total_cmp(&b.at));
    let mut groups: Vec<(Foot, f64)> = Vec::new();
    for foot in feet {
        match groups.last_mut() {
            Some((first, last)) if foot.at - first.at < first.width + foot.width => {
                *last = foot.at;
                first.count += foot.count;
            }
            _ => groups.push((foot, foot.at)),
        }
    }
    let support = |(first, last): (Foot, f64)| SupportPoint {
        at: first.at.midpoint(last),
        kind: SupportKind::Foot(first.count),
        reaction: 0.0,
    };
    groups.into_iter().map(support).collect()
}

/// On feet, a bottom carries the sides that end beside it: they are its load and not its support.
pub(super) fn hang_sides(context: &Context<'_>, length: f64, uprights: &[f64], lying: &mut Lying) {
    if lying.supports.iter().filter(|it| matches!(it.kind, SupportKind::Foot(_))).count() < 2 {
        return;
    }
    let raised = |v: usize| {
        context.assembly.parts.get(v).is_some_and(|it| it.cuboid.min.y > context.floor() + Length::from_mm(1))
    };
    let mut kept = Vec::new();
    for support in lying.supports.drain(..) {
        match support.kind {
            SupportKind::Beside(v) if raised(v) => {
                let load = uprights.get(v).copied().unwrap_or(0.0);
                lying.loads.push(Load::point(support.at.clamp(0.0, length), load));
                lying.hung.push((v, load));
            }
            _ => kept.push(support),
        }
    }
    lying.supports = kept;
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Of invented feet 40 wide: those 8 and 79 apart are one support, one 80 further is another.
    #[test]
    fn feet_nearer_than_a_foot_is_wide_are_one_support() {
        let feet = [1355.0, 0.0, 1347.0, 79.0, 159.0].map(|at| Foot { at, out: 0.0, width: 40.0, count: 1 });
        let found: Vec<_> = together(feet.to_vec()).into_iter().map(|it| (it.at, it.kind)).collect();
        let foot = SupportKind::Foot;
        assert_eq!(found, [(39.5, foot(2)), (159.0, foot(1)), (1351.0, foot(2))]);
    }
    /// Rows in line are one beam, rows out of line each a beam of its own; a row of one foot is none.
    #[test]
    fn rows_out_of_line_are_taken_row_by_row() {
        let row = |out: f64, places: &[f64]| -> Vec<Foot> {
            places.iter().map(|&at| Foot { at, out, width: 40.0, count: 1 }).collect()
        };
        let found = |rows: [Vec<Foot>; 2]| -> Vec<Vec<(f64, SupportKind)>> {
            let lines = lines(rows.concat());
            lines.into_iter().map(|it| it.into_iter().map(|it| (it.at, it.kind)).collect()).collect()
        };
        let pair = SupportKind::Foot(2);
        assert_eq!(found([row(60.0, &[0.0, 600.0]), row(500.0, &[8.0, 600.0])]), [[(4.0, pair), (600.0, pair)]]);
        let apart = found([row(60.0, &[0.0, 600.0]), row(500.0, &[150.0, 600.0])]);
        assert_eq!(apart, [[(0.0, pair), (600.0, pair)], [(150.0, pair), (600.0, pair)]]);
        let one = SupportKind::Foot(1);
        assert_eq!(found([row(60.0, &[0.0, 600.0]), row(500.0, &[150.0])]), [[(0.0, one), (150.0, one), (600.0, one)]]);
    }
}
