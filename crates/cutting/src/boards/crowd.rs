//! A proof that stock is short where its area would do: pieces of at least some size are more than the boards can hold.

use super::problem::{Item, Kind, Problem};

/// Steps of the counting at most: about a hundredth of a second.
const MOST_STEPS: usize = 4_000_000;

/// Lengths, and widths, that are looked at however many pieces there are: the largest.
const LEAST_SIZES: usize = 24;

/// The longer side and the shorter one.
fn sides(item: &Item) -> (i64, i64) {
    (item.width.max(item.height), item.width.min(item.height))
}

/// Width and height that a piece takes at least of a board of this kind, however it lies there; none where it fits nowhere.
fn least(item: &Item, kind: &Kind) -> Option<(i64, i64)> {
    let (given, turned) = item.lays.get(kind.grain).copied().unwrap_or((false, false));
    let lays = [(given, item.width, item.height), (turned, item.height, item.width)];
    lays.into_iter()
        .filter(|&(allowed, w, h)| allowed && kind.zones.iter().any(|zone| w <= zone.0 && h <= zone.1))
        .map(|(_, w, h)| (w, h))
        .reduce(smaller)
}

fn smaller(a: (i64, i64), b: (i64, i64)) -> (i64, i64) {
    (a.0.min(b.0), a.1.min(b.1))
}

/// How many of these pieces the boards of one kind hold at most. Take the points at multiples of the least width and height
/// of any of them: each piece covers a point that no other covers.
fn capacity(kind: &Kind, pieces: &[&Item]) -> i64 {
    let cell = pieces.iter().filter_map(|item| least(item, kind)).reduce(smaller);
    cell.map_or(0, |(width, height)| {
        let places = |&(w, h): &(i64, i64)| (w / width.max(1)).saturating_mul(h / height.max(1));
        let one = kind.zones.iter().map(places).fold(0, i64::saturating_add);
        one.saturating_mul(i64::from(kind.limit))
    })
}

fn largest(sizes: impl Iterator<Item = i64>, most: usize) -> Vec<i64> {
    let mut sizes: Vec<i64> = sizes.collect();
    sizes.sort_unstable_by(|a, b| b.cmp(a));
    sizes.dedup();
    sizes.truncate(most);
    sizes
}

/// Whether it is proven by counting large pieces that not every piece can be placed.
pub(crate) fn crowded(problem: &Problem) -> bool {
    let each = problem.items.len() * (1 + problem.kinds.len());
    let most = (MOST_STEPS / each.max(1)).isqrt().max(LEAST_SIZES);
    let shorts = largest(problem.items.iter().map(|it| sides(it).1), most);
    largest(problem.items.iter().map(|it| sides(it).0), most).into_iter().any(|long| {
        shorts.iter().any(|&short| {
            let reaches = |item: &&Item| sides(item).0 >= long && sides(item).1 >= short;
            let pieces: Vec<&Item> = problem.items.iter().filter(reaches).collect();
            let room = problem.kinds.iter().fold(0_i64, |sum, kind| sum.saturating_add(capacity(kind, &pieces)));
            i64::try_from(pieces.len()).is_ok_and(|count| count > room)
        })
    })
}
