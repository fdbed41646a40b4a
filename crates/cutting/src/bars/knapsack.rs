//! The most valuable content of one bar: branch and bound with a limit on nodes, and exact dynamic programming behind it.

use crate::effort::Budget;

/// A kind of thing: length, value, copies at most.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Thing {
    pub(crate) length: i64,
    pub(crate) value: i64,
    pub(crate) copies: u32,
    pub(crate) index: usize,
}

/// A content: value and (index, copies); and whether no better one exists.
#[derive(Debug, Clone, Default)]
pub(crate) struct Content {
    pub(crate) value: i64,
    pub(crate) counts: Vec<(usize, u32)>,
    pub(crate) exact: bool,
}

/// The most valuable content of a bar of length `room`. Stops after `nodes` nodes, then not exact. The values of all copies
/// together must stay below a half of what 64 bits hold.
pub(crate) fn branch(things: &[Thing], room: i64, nodes: u64, budget: &Budget<'_>) -> Content {
    let mut list: Vec<Thing> =
        things.iter().copied().filter(|t| t.value > 0 && t.copies > 0 && t.length <= room).collect();
    list.sort_by(|a, b| {
        (i128::from(b.value) * i128::from(a.length))
            .cmp(&(i128::from(a.value) * i128::from(b.length)))
            .then(b.length.cmp(&a.length))
    });
    let mut shortest = vec![i64::MAX; list.len() + 1];
    for (i, thing) in list.iter().enumerate().rev() {
        let after = shortest.get(i + 1).copied().unwrap_or(i64::MAX);
        if let Some(slot) = shortest.get_mut(i) {
            *slot = thing.length.min(after);
        }
    }
    let mut search =
        Search { list: &list, shortest: &shortest, taken: Vec::new(), best: Content::default(), left: nodes };
    search.go(0, room, 0);
    let exact = search.left > 0;
    let mut best = search.best;
    budget.spend((nodes - search.left) / 2 + 1);
    best.exact = exact;
    for (spot, _) in &mut best.counts {
        *spot = list.get(*spot).map_or(0, |t| t.index);
    }
    best
}

struct Search<'a> {
    list: &'a [Thing],
    shortest: &'a [i64],
    taken: Vec<(usize, u32)>,
    best: Content,
    left: u64,
}

impl Search<'_> {
    fn go(&mut self, from: usize, room: i64, value: i64) {
        if value > self.best.value {
            self.best.value = value;
            self.best.counts.clone_from(&self.taken);
        }
        let mut at = from;
        while let Some(&thing) = self.list.get(at) {
            if self.left == 0 || self.shortest.get(at).is_none_or(|&s| s > room) {
                return;
            }
            // Copies do not count here, so that this may be far more than anything can hold.
            let more = i128::from(room) * i128::from(thing.value) / i128::from(thing.length.max(1));
            let more = more.min(i128::from(i64::MAX / 2)) as i64;
            if value + more <= self.best.value {
                return;
            }
            self.left -= 1;
            let most = (room / thing.length.max(1)).min(i64::from(thing.copies)) as u32;
            for copies in (1..=most).rev() {
                let n = i64::from(copies);
                self.taken.push((at, copies));
                self.go(at + 1, room - n * thing.length, value + n * thing.value);
                self.taken.pop();
            }
            at += 1;
        }
    }
}

/// Cells of the dynamic programme at most.
const MOST_CELLS: usize = 60_000_000;

/// The most valuable content by dynamic programming over the bar's length: exact, unless it would be too large.
#[allow(clippy::indexing_slicing, reason = "indices run over the tables made here")]
pub(crate) fn table(things: &[Thing], room: i64, budget: &Budget<'_>) -> Option<Content> {
    let room = usize::try_from(room).ok()?;
    // Copies in powers of two, so that a few yes-or-no choices stand for every number.
    let mut choices: Vec<(usize, i64, usize, u32)> = Vec::new();
    for thing in things.iter().filter(|t| t.value > 0 && t.length > 0) {
        let length = usize::try_from(thing.length).ok()?;
        let mut left = thing.copies.min((room / length) as u32);
        let mut lot = 1;
        while left > 0 {
            let take = lot.min(left);
            choices.push((length * take as usize, thing.value * i64::from(take), thing.index, take));
            left -= take;
            lot *= 2;
        }
    }
    if choices.len().checked_mul(room + 1)? > MOST_CELLS {
        return None;
    }
    let words = room / 64 + 1;
    let mut value = vec![0i64; room + 1];
    let mut took = vec![0u64; words * choices.len()];
    for (row, &(length, worth, _, _)) in choices.iter().enumerate() {
        let marks = &mut took[row * words..(row + 1) * words];
        for x in (length..=room).rev() {
            let with = value[x - length] + worth;
            if with > value[x] {
                value[x] = with;
                marks[x / 64] |= 1 << (x % 64);
            }
        }
        if !budget.spend(room as u64 / 16) {
            return None;
        }
    }
    let mut counts: Vec<(usize, u32)> = Vec::new();
    let mut x = room;
    for (row, &(length, _, index, take)) in choices.iter().enumerate().rev() {
        if took[row * words + x / 64] >> (x % 64) & 1 == 1 {
            x -= length;
            match counts.iter_mut().find(|c| c.0 == index) {
                Some(count) => count.1 += take,
                None => counts.push((index, take)),
            }
        }
    }
    Some(Content { value: value[room], counts, exact: true })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::effort::{Effort, Unwatched};
    use crate::random::Random;

    #[test]
    fn branching_and_the_table_agree() {
        let mut random = Random::new(5);
        let budget = Budget::new(&Effort::work(u64::MAX), &Unwatched);
        for _ in 0..300 {
            let things: Vec<Thing> = (0..1 + random.below(8))
                .map(|index| Thing {
                    length: 1 + random.below(30) as i64,
                    value: random.below(40) as i64,
                    copies: random.below(4) as u32,
                    index,
                })
                .collect();
            let room = random.below(100) as i64;
            let a = branch(&things, room, 1 << 40, &budget);
            let b = table(&things, room, &budget).unwrap();
            assert_eq!(a.value, b.value);
            for content in [a, b] {
                let sum = |f: fn(&Thing) -> i64| -> i64 {
                    content.counts.iter().map(|&(i, n)| f(&things[i]) * i64::from(n)).sum()
                };
                assert!(sum(|t| t.length) <= room);
                assert_eq!(sum(|t| t.value), content.value);
                assert!(content.counts.iter().all(|&(i, n)| n <= things[i].copies));
            }
        }
    }
}
