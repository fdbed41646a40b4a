//! The linear programme over patterns, by the revised simplex method with an explicit inverse.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use super::knapsack::{Content, Thing, branch, table};
use super::problem::{Pattern, Problem};
use crate::effort::Budget;

/// A column of the programme.
#[derive(Debug, Clone)]
enum Column {
    /// Stands in for one demand, at a high price.
    Dummy(usize),
    /// The reverse of a pattern of which more was fixed than the programme used; at a high price.
    Reverse(usize),
    /// More than the demand.
    Surplus(usize),
    /// Stock of a kind that is not used.
    Unused(usize),
    Pattern(usize),
}

/// All patterns that some programme has come upon, each once; shared by the programmes of all dives.
#[derive(Default)]
struct Pool {
    list: Vec<Pattern>,
    numbers: BTreeMap<Pattern, usize>,
}

impl Pool {
    /// Number of the pattern, and whether it is new.
    fn add(&mut self, pattern: Pattern) -> (usize, bool) {
        if let Some(&number) = self.numbers.get(&pattern) {
            return (number, false);
        }
        let number = self.list.len();
        self.numbers.insert(pattern.clone(), number);
        self.list.push(pattern);
        (number, true)
    }
}

/// Whole numbers in one unit of price, unless prices are so large that their sums would not fit 64 bits.
const SCALE: f64 = 1e9;

/// The programme for what is still to be cut, with its solution.
#[derive(Clone)]
pub(crate) struct Master<'a> {
    problem: &'a Problem,
    simplex: Simplex<'a>,
    demands: Vec<u32>,
    limits: Vec<u32>,
    /// Whole numbers in one unit of price.
    scale: f64,
    /// Most that a price is made as a whole number: so many for every piece still fit 64 bits.
    most: f64,
}

impl<'a> Master<'a> {
    /// The programme with some patterns known beforehand; not solved yet.
    pub(crate) fn new(problem: &'a Problem, demands: &[u32], limits: &[u32], known: &[Pattern]) -> Self {
        let mut simplex = Simplex::new(problem, demands, limits);
        for pattern in known {
            simplex.pool.borrow_mut().add(pattern.clone());
        }
        simplex.proper = vec![true; simplex.pool.borrow().list.len()];
        let total: u64 = demands.iter().map(|&d| u64::from(d)).sum();
        let most = (i64::MAX / 4) as f64 / total.max(1) as f64;
        let scale = (most / simplex.dear).floor().clamp(1.0, SCALE);
        Self { problem, simplex, demands: demands.to_vec(), limits: limits.to_vec(), scale, most }
    }

    /// Goes over to what is still to be cut after some patterns were decided; the solution is then one for the rest, but
    /// not the best one.
    pub(crate) fn fix(&mut self, demands: &[u32], limits: &[u32]) {
        self.demands.copy_from_slice(demands);
        self.limits.copy_from_slice(limits);
        self.simplex.fix(demands, limits);
    }

    /// Solves, or stops as soon as a cost of `enough` is reached; false when the effort ran out.
    pub(crate) fn solve(&mut self, enough: Option<f64>, budget: &Budget<'_>) -> bool {
        self.simplex.look_up(&self.demands, &self.limits);
        let mut repeated = 0;
        loop {
            if !budget.spend((self.simplex.rows * self.simplex.rows) as u64 / 16 + self.simplex.proper.len() as u64 / 2)
            {
                return false;
            }
            if enough.is_some_and(|e| self.simplex.value() <= e) && self.simplex.feasible() {
                return true;
            }
            if let Some((column, entry)) = self.simplex.known_column(&self.simplex.prices) {
                if !self.simplex.pivot(column, &entry) {
                    return true;
                }
                continue;
            }
            if repeated > 0 {
                self.simplex.prices = self.simplex.fresh_prices();
            }
            let prices = self.simplex.prices.clone();
            let (fresh, exact) = self.price(&prices, false, budget);
            let fresh = if fresh.is_none() && !exact { self.price(&prices, true, budget).0 } else { fresh };
            let Some(pattern) = fresh else { return true };
            self.more(&prices, &pattern, budget);
            let (number, new) = self.simplex.pool.borrow_mut().add(pattern);
            if new {
                self.simplex.proper.push(true);
            } else {
                // Known, and yet it seems to pay: the running prices have drifted.
                repeated += 1;
                if repeated > 20 {
                    return true;
                }
            }
            let column = Column::Pattern(number);
            let entry = self.simplex.entry(&column);
            if !self.simplex.pivot(column, &entry) {
                return true;
            }
        }
    }

    /// Patterns and how many bars of each.
    pub(crate) fn used(&self) -> Vec<(Pattern, f64)> {
        self.simplex.used()
    }

    /// Cost of the solution, stand-ins included.
    pub(crate) fn value(&self) -> f64 {
        self.simplex.value()
    }

    /// Whether demands are met without stand-ins.
    pub(crate) fn feasible(&self) -> bool {
        self.simplex.feasible()
    }

    fn things(&self, prices: &[f64]) -> Vec<Thing> {
        self.problem
            .lengths
            .iter()
            .zip(prices)
            .zip(&self.demands)
            .enumerate()
            .map(|(index, ((l, y), &copies))| Thing {
                length: l.length,
                value: (y * self.scale).floor().min(self.most) as i64,
                copies,
                index,
            })
            .collect()
    }

    fn content(&self, things: &[Thing], room: i64, deep: bool, budget: &Budget<'_>) -> Content {
        if !deep {
            return branch(things, room, 3_000, budget);
        }
        if room.saturating_mul(things.len() as i64) <= 300_000
            && let Some(content) = table(things, room, budget)
        {
            return content;
        }
        let content = branch(things, room, 300_000, budget);
        if content.exact { content } else { table(things, room, budget).unwrap_or(content) }
    }

    /// A pattern with negative reduced cost, when there is one; and whether that is certain.
    fn price(&self, prices: &[f64], deep: bool, budget: &Budget<'_>) -> (Option<Pattern>, bool) {
        let things = self.things(prices);
        let mut best: Option<(f64, Pattern)> = None;
        let mut exact = true;
        for (kind, k) in self.problem.kinds.iter().enumerate() {
            if self.limits.get(kind).is_none_or(|&n| n == 0) {
                continue;
            }
            let content = self.content(&things, k.length, deep, budget);
            exact &= content.exact;
            let rent = self.simplex.rent(kind, prices);
            let reduced = (k.cost as f64 - rent - content.value as f64 / self.scale) / (k.cost as f64).max(1.0);
            if reduced < -1e-7 && best.as_ref().is_none_or(|b| reduced < b.0) {
                let mut counts = content.counts;
                counts.sort_unstable();
                best = Some((reduced, Pattern { kind, counts }));
            }
        }
        (best.map(|b| b.1), exact)
    }

    /// Further patterns that pay, each from what those before it leave over: they differ from each other, so that the
    /// programme can use many of them before new ones must be found.
    fn more(&mut self, prices: &[f64], first: &Pattern, budget: &Budget<'_>) {
        let mut things = self.things(prices);
        let Some(kind) = self.problem.kinds.get(first.kind) else { return };
        let rent = self.simplex.rent(first.kind, prices);
        let mut counts = first.counts.clone();
        for _ in 0..24 {
            for &(index, n) in &counts {
                if let Some(thing) = things.get_mut(index) {
                    thing.copies = thing.copies.saturating_sub(n);
                }
            }
            let content = branch(&things, kind.length, 1_000, budget);
            if kind.cost as f64 - rent - content.value as f64 / self.scale > -1e-7 * (kind.cost as f64).max(1.0) {
                return;
            }
            counts = content.counts;
            counts.sort_unstable();
            let (_, new) = self.simplex.pool.borrow_mut().add(Pattern { kind: first.kind, counts: counts.clone() });
            if new {
                self.simplex.proper.push(true);
            }
        }
    }

    /// A bound that holds exactly, whatever rounding has done to the prices: the prices are made whole numbers, the
    /// most that any bar can hold of them is computed exactly, and they are scaled down until no bar is overpaid. 0 where
    /// that is too much work or the numbers are too large.
    pub(crate) fn bound(&self, budget: &Budget<'_>) -> i64 {
        self.exact_bound(budget).unwrap_or(0).max(0)
    }

    fn exact_bound(&self, budget: &Budget<'_>) -> Option<i64> {
        let things = self.things(&self.simplex.fresh_prices());
        let scale = self.scale as i128;
        let (mut over, mut under) = (1i128, 1i128);
        let mut most = Vec::new();
        for (kind, k) in self.problem.kinds.iter().enumerate() {
            if self.limits.get(kind).is_none_or(|&n| n == 0) {
                most.push(0);
                continue;
            }
            let content = self.content(&things, k.length, true, budget);
            if !content.exact {
                return None;
            }
            let (value, pay) = (i128::from(content.value), i128::from(k.cost) * scale);
            most.push(value);
            let limited = self.simplex.limit_row(kind).is_some();
            if !limited && value * under > pay * over {
                if pay == 0 {
                    return None;
                }
                (over, under) = (value, pay);
            }
        }
        let all: i128 = things.iter().map(|t| i128::from(t.value.max(0)) * i128::from(t.copies)).sum();
        let mut sum = all.checked_mul(under)?;
        let whole = scale.checked_mul(over)?;
        for (kind, (k, &most)) in self.problem.kinds.iter().zip(&most).enumerate() {
            if self.simplex.limit_row(kind).is_some() {
                let excess = most.checked_mul(under)?.checked_sub(i128::from(k.cost).checked_mul(whole)?)?;
                let limit = i128::from(self.limits.get(kind).copied().unwrap_or(0));
                sum = sum.checked_sub(excess.max(0).checked_mul(limit)?)?;
            }
        }
        i64::try_from(sum.checked_add(whole - 1)?.div_euclid(whole)).ok()
    }
}

#[derive(Clone)]
struct Simplex<'a> {
    problem: &'a Problem,
    rows: usize,
    /// Rows of limited kinds come after the demands.
    limited: Vec<Option<usize>>,
    right: Vec<f64>,
    basis: Vec<Column>,
    inverse: Vec<f64>,
    at: Vec<f64>,
    prices: Vec<f64>,
    pivots: u32,
    pool: Rc<RefCell<Pool>>,
    /// Whether a pattern of the pool asks for no more than is still wanted.
    proper: Vec<bool>,
    dear: f64,
}

#[allow(clippy::indexing_slicing, reason = "indices run over rows and columns made here")]
impl<'a> Simplex<'a> {
    fn new(problem: &'a Problem, demands: &[u32], limits: &[u32]) -> Self {
        let total: u64 = demands.iter().map(|&d| u64::from(d)).sum();
        let mut rows = demands.len();
        let mut right: Vec<f64> = demands.iter().map(|&d| f64::from(d)).collect();
        let mut basis: Vec<Column> = (0..rows).map(Column::Dummy).collect();
        let mut limited = Vec::new();
        for (kind, &limit) in limits.iter().enumerate() {
            if u64::from(limit) < total {
                limited.push(Some(rows));
                right.push(f64::from(limit));
                basis.push(Column::Unused(kind));
                rows += 1;
            } else {
                limited.push(None);
            }
        }
        let mut inverse = vec![0.0; rows * rows];
        for i in 0..rows {
            inverse[i * rows + i] = 1.0;
        }
        let dear = problem.kinds.iter().map(|k| k.cost).max().unwrap_or(1).max(1) as f64 * 20.0;
        let prices = basis.iter().map(|c| if matches!(c, Column::Dummy(_)) { dear } else { 0.0 }).collect();
        let (at, pool, pivots) = (right.clone(), Rc::default(), 0);
        Self { problem, rows, limited, at, prices, pivots, right, basis, inverse, pool, proper: Vec::new(), dear }
    }

    fn limit_row(&self, kind: usize) -> Option<usize> {
        self.limited.get(kind).copied().flatten()
    }

    fn cost(&self, column: &Column) -> f64 {
        match column {
            Column::Dummy(_) | Column::Reverse(_) => self.dear,
            Column::Pattern(p) if !self.proper[*p] => self.dear,
            Column::Surplus(_) | Column::Unused(_) => 0.0,
            Column::Pattern(p) => self.problem.kinds[self.pool.borrow().list[*p].kind].cost as f64,
        }
    }

    /// Nonzero entries of a column.
    fn entry(&self, column: &Column) -> Vec<(usize, f64)> {
        match column {
            Column::Dummy(i) => vec![(*i, 1.0)],
            Column::Surplus(i) => vec![(*i, -1.0)],
            Column::Reverse(p) => {
                let mut entry = self.entry(&Column::Pattern(*p));
                entry.iter_mut().for_each(|(_, x)| *x = -*x);
                entry
            }
            Column::Unused(kind) => self.limit_row(*kind).map(|row| (row, 1.0)).into_iter().collect(),
            Column::Pattern(p) => {
                let pool = self.pool.borrow();
                let pattern = &pool.list[*p];
                let limit = self.limit_row(pattern.kind).map(|row| (row, 1.0));
                pattern.counts.iter().map(|&(i, n)| (i, f64::from(n))).chain(limit).collect()
            }
        }
    }

    /// Dual prices of all rows, computed anew.
    fn fresh_prices(&self) -> Vec<f64> {
        let mut prices = vec![0.0; self.rows];
        for (r, column) in self.basis.iter().enumerate() {
            let cost = self.cost(column);
            if cost != 0.0 {
                let row = &self.inverse[r * self.rows..(r + 1) * self.rows];
                for (price, x) in prices.iter_mut().zip(row) {
                    *price += cost * x;
                }
            }
        }
        prices
    }

    /// What a bar of the kind pays for being scarce: 0 or less.
    fn rent(&self, kind: usize, prices: &[f64]) -> f64 {
        self.limit_row(kind).map_or(0.0, |row| prices[row])
    }

    /// A known column that pays to bring in.
    fn known_column(&self, prices: &[f64]) -> Option<(Column, Vec<(usize, f64)>)> {
        let mut best: Option<(f64, Column)> = None;
        let mut offer = |reduced: f64, column: Column| {
            if reduced < -1e-9 && best.as_ref().is_none_or(|b| reduced < b.0) {
                best = Some((reduced, column));
            }
        };
        let demands = self.rows - self.limited.iter().flatten().count();
        for (i, price) in prices.iter().enumerate().take(demands) {
            offer(price / self.dear, Column::Surplus(i));
        }
        for (kind, row) in self.limited.iter().enumerate() {
            if let Some(row) = row {
                offer(-prices[*row] / self.dear, Column::Unused(kind));
            }
        }
        for (p, pattern) in self.pool.borrow().list.iter().enumerate().filter(|(p, _)| self.proper[*p]) {
            let paid: f64 = pattern.counts.iter().map(|&(i, n)| prices[i] * f64::from(n)).sum();
            let cost = self.problem.kinds[pattern.kind].cost as f64;
            offer((cost - self.rent(pattern.kind, prices) - paid) / cost.max(1.0), Column::Pattern(p));
        }
        let (_, column) = best?;
        let entry = self.entry(&column);
        Some((column, entry))
    }

    /// Brings the column in; false when nothing limits it or the numbers have become useless.
    fn pivot(&mut self, column: Column, entry: &[(usize, f64)]) -> bool {
        let n = self.rows;
        let mut direction = vec![0.0; n];
        for (r, d) in direction.iter_mut().enumerate() {
            let row = &self.inverse[r * n..(r + 1) * n];
            *d = entry.iter().map(|&(i, x)| row[i] * x).sum();
        }
        let mut leave: Option<(f64, usize)> = None;
        for (r, &d) in direction.iter().enumerate() {
            if d > 1e-9 {
                let ratio = self.at[r].max(0.0) / d;
                let better = leave
                    .is_none_or(|(best, row)| ratio < best - 1e-12 || (ratio < best + 1e-12 && d > direction[row]));
                if better {
                    leave = Some((ratio, r));
                }
            }
        }
        let Some((_, out)) = leave else { return false };
        let inverse_pivot = 1.0 / direction[out];
        let pivot_row: Vec<f64> = self.inverse[out * n..(out + 1) * n].iter().map(|x| x * inverse_pivot).collect();
        let amount = self.at[out] * inverse_pivot;
        let reduced = self.cost(&column) - entry.iter().map(|&(i, x)| self.prices[i] * x).sum::<f64>();
        for (r, &d) in direction.iter().enumerate() {
            let row = &mut self.inverse[r * n..(r + 1) * n];
            if r == out {
                row.copy_from_slice(&pivot_row);
                self.at[r] = amount;
            } else if d != 0.0 {
                for (x, p) in row.iter_mut().zip(&pivot_row) {
                    *x -= d * p;
                }
                self.at[r] -= d * amount;
            }
        }
        for (price, p) in self.prices.iter_mut().zip(&pivot_row) {
            *price += reduced * p;
        }
        self.basis[out] = column;
        self.pivots += 1;
        if self.pivots.is_multiple_of(40) {
            // Sums drift: take both afresh from the inverse now and then.
            for r in 0..n {
                let row = &self.inverse[r * n..(r + 1) * n];
                self.at[r] = row.iter().zip(&self.right).map(|(x, b)| x * b).sum();
            }
            self.prices = self.fresh_prices();
        }
        self.at.iter().all(|x| x.is_finite())
    }

    fn used(&self) -> Vec<(Pattern, f64)> {
        let pool = self.pool.borrow();
        let each = self.basis.iter().zip(&self.at);
        each.filter_map(|(column, &x)| match column {
            Column::Pattern(p) if x > 1e-7 && self.proper[*p] => Some((pool.list[*p].clone(), x)),
            _ => None,
        })
        .collect()
    }

    fn value(&self) -> f64 {
        self.basis.iter().zip(&self.at).map(|(column, &x)| self.cost(column) * x).sum()
    }

    fn feasible(&self) -> bool {
        let stand_in = |column: &Column| match column {
            Column::Dummy(_) | Column::Reverse(_) => true,
            Column::Pattern(p) => !self.proper[*p],
            _ => false,
        };
        self.basis.iter().zip(&self.at).all(|(column, &x)| !stand_in(column) || x < 1e-6)
    }

    /// Looks at patterns that have come into the pool since.
    fn look_up(&mut self, demands: &[u32], limits: &[u32]) {
        let pool = self.pool.borrow();
        let from = self.proper.len();
        self.proper.extend(pool.list.iter().skip(from).map(|p| p.fits(demands, limits)));
    }

    /// New right sides. Patterns that were fixed are in the basis, so that each one's own amount falls by one; where that
    /// makes an amount negative, the column is turned round.
    fn fix(&mut self, demands: &[u32], limits: &[u32]) {
        for (right, &d) in self.right.iter_mut().zip(demands) {
            *right = f64::from(d);
        }
        for (kind, &limit) in limits.iter().enumerate() {
            if let Some(row) = self.limit_row(kind) {
                self.right[row] = f64::from(limit);
            }
        }
        self.proper.clear();
        self.look_up(demands, limits);
        let n = self.rows;
        for r in 0..n {
            let row = &self.inverse[r * n..(r + 1) * n];
            self.at[r] = row.iter().zip(&self.right).map(|(x, b)| x * b).sum();
            if self.at[r] < -1e-9 {
                self.basis[r] = match self.basis[r] {
                    Column::Pattern(p) => Column::Reverse(p),
                    Column::Reverse(p) => Column::Pattern(p),
                    Column::Surplus(i) => Column::Dummy(i),
                    Column::Dummy(i) => Column::Surplus(i),
                    // Unused stock does not fall below nothing by fixing patterns that are in stock.
                    Column::Unused(kind) => Column::Unused(kind),
                };
                self.inverse[r * n..(r + 1) * n].iter_mut().for_each(|x| *x = -*x);
                self.at[r] = -self.at[r];
            }
        }
        self.prices = self.fresh_prices();
    }
}
