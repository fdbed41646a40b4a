//! From the linear programme to whole bars: fix whole parts, round one pattern up, solve again; on failure turn back
//! and decide a few of the roundings otherwise (limited discrepancy).

use super::greedy::{best_fit, fullest, take};
use super::master::Master;
use super::problem::{Pattern, Problem};
use crate::boards::dual::families;
use crate::effort::Budget;
use crate::random::Random;

/// What was found.
pub(crate) struct Found {
    pub(crate) bars: Vec<Pattern>,
    /// Copies that found no room, by length.
    pub(crate) missing: Vec<u32>,
    /// Proven bound on the cost of placing everything.
    pub(crate) bound: i64,
    /// Whether it is proven that not everything can be placed.
    pub(crate) impossible: bool,
}

/// Searches until the best is proven or the effort is spent.
pub(crate) fn solve(problem: &Problem, budget: &Budget<'_>) -> Found {
    let demands = problem.demands();
    let limits: Vec<u32> = problem.kinds.iter().map(|k| k.limit).collect();
    let mut bound = simple_bound(problem, &demands);
    let mut prefer: Vec<usize> = (0..problem.kinds.len()).collect();
    let price = |k: usize| problem.kinds.get(k).map_or(f64::INFINITY, |k| k.cost as f64 / k.length.max(1) as f64);
    prefer.sort_by(|&a, &b| price(a).total_cmp(&price(b)));
    let (mut best, mut missing) = best_fit(problem, &demands, &limits, &prefer);
    let is_whole = |missing: &[u32]| missing.iter().all(|&m| m == 0);
    for nodes in [300, 5_000] {
        if is_whole(&missing) && problem.cost(&best) <= bound {
            break;
        }
        if let Some(plan) = fullest(problem, &demands, &limits, nodes, None, budget)
            && (!is_whole(&missing) || problem.cost(&plan) < problem.cost(&best))
        {
            best = plan;
            missing.fill(0);
        }
    }
    let whole = is_whole(&missing);
    if whole && problem.cost(&best) <= bound {
        return Found { bars: best, missing, bound, impossible: false };
    }
    let mut known = homogeneous(problem, &demands);
    if whole {
        known.extend(best.iter().cloned());
    }
    let mut master = Master::new(problem, &demands, &limits, &known);
    let mut impossible = too_long(problem, &demands, &limits);
    if !impossible && master.solve(None, budget) {
        bound = bound.max(master.bound(budget));
        let mut target = if whole { Some(problem.cost(&best)) } else { None };
        for attempt in 0..u64::MAX {
            if target.is_some_and(|t| t <= bound) || !budget.spend(1_000) {
                break;
            }
            let random = Random::new(attempt);
            let mut dive = Dive { problem, budget, target, bound, found: None, attempt, random };
            dive.go(master.clone(), &demands, &limits, &mut Vec::new(), (attempt % 3) as u32);
            let mut found = dive.found;
            if found.is_none() {
                found = fuller(problem, &demands, &limits, target, attempt, budget);
            }
            if let Some(plan) = found {
                target = Some(problem.cost(&plan));
                best = plan;
                missing.fill(0);
            }
        }
    }
    impossible |= out_of_room(problem, &demands, &limits);
    Found { bars: best, missing, bound, impossible }
}

/// A plan that costs less than `target`, from bars filled as full as possible, with chance deciding between equals. Only where
/// few bars could do and have no more than a unit to spare each: elsewhere dives are the better use of the time.
fn fuller(
    problem: &Problem,
    demands: &[u32],
    limits: &[u32],
    target: Option<i64>,
    attempt: u64,
    budget: &Budget<'_>,
) -> Option<Vec<Pattern>> {
    let longest = problem.kinds.iter().map(|k| k.length).max().unwrap_or(1).max(1);
    let need: i128 = problem.lengths.iter().zip(demands).map(|(l, &d)| i128::from(l.length) * i128::from(d)).sum();
    let bars = (need + i128::from(longest) - 1) / i128::from(longest);
    if bars > BY_CHANCE || bars * i128::from(longest) - need > bars {
        return None;
    }
    let mut random = Random::new(!attempt);
    let until = budget.spent() + FULLER;
    // For each bar all lengths are sorted, which the search for its content does not count.
    let bars = u64::try_from(bars).unwrap_or(u64::MAX);
    let each = bars.saturating_mul(4 * demands.len() as u64).saturating_add(1_000);
    while budget.spent() < until && budget.spend(each) {
        let plan = fullest(problem, demands, limits, 300, Some(&mut random), budget);
        if plan.as_ref().is_some_and(|plan| target.is_none_or(|t| problem.cost(plan) < t)) {
            return plan;
        }
    }
    None
}

/// Bars at most that [`fuller`] is tried for: with more, chance hardly ever ends a plan.
const BY_CHANCE: i128 = 50;

/// Work that [`fuller`] may take after each dive.
const FULLER: u64 = 1_000_000;

fn homogeneous(problem: &Problem, demands: &[u32]) -> Vec<Pattern> {
    let mut list = Vec::new();
    for (kind, k) in problem.kinds.iter().enumerate() {
        for (index, (l, &d)) in problem.lengths.iter().zip(demands).enumerate() {
            let n = (k.length / l.length.max(1)).min(i64::from(d)) as u32;
            if n > 0 {
                list.push(Pattern { kind, counts: vec![(index, n)] });
            }
        }
    }
    list
}

/// Whether some length fits no bar at all.
fn too_long(problem: &Problem, demands: &[u32], limits: &[u32]) -> bool {
    let longest = problem.kinds.iter().zip(limits).filter(|(_, n)| **n > 0).map(|(k, _)| k.length).max().unwrap_or(0);
    problem.lengths.iter().zip(demands).any(|(l, &d)| d > 0 && l.length > longest)
}

/// Whether all bars together are shorter than what is wanted.
fn out_of_room(problem: &Problem, demands: &[u32], limits: &[u32]) -> bool {
    let need: i128 = problem.lengths.iter().zip(demands).map(|(l, &d)| i128::from(l.length) * i128::from(d)).sum();
    let unlimited = problem.kinds.iter().zip(limits).any(|(k, &n)| n == u32::MAX && k.length > 0);
    let room: i128 = problem.kinds.iter().zip(limits).map(|(k, &n)| i128::from(k.length) * i128::from(n)).sum();
    !unlimited && room < need
}

/// Dual feasible functions on the longest bar, times the cheapest price.
fn simple_bound(problem: &Problem, demands: &[u32]) -> i64 {
    let Some(longest) = problem.kinds.iter().map(|k| k.length).max() else { return 0 };
    let cheapest = problem.kinds.iter().map(|k| k.cost).min().unwrap_or(0);
    if longest <= 0 {
        return 0;
    }
    let lengths: Vec<i64> = problem.lengths.iter().map(|l| l.length.min(longest)).collect();
    let mut best = 0i128;
    for weights in families(&lengths, longest, 400) {
        best = best.max(weights.needed(demands));
    }
    i64::try_from(best).unwrap_or(0).saturating_mul(cheapest)
}

struct Dive<'a, 'b> {
    problem: &'a Problem,
    budget: &'b Budget<'b>,
    /// Cost to beat.
    target: Option<i64>,
    bound: i64,
    found: Option<Vec<Pattern>>,
    attempt: u64,
    random: Random,
}

impl<'a> Dive<'a, '_> {
    /// Takes a whole plan when it is better; true when it is the best possible.
    fn offer(&mut self, fixed: &[Pattern], rest: Vec<Pattern>) -> bool {
        let cost = self.problem.cost(fixed).saturating_add(self.problem.cost(&rest));
        if self.target.is_none_or(|t| cost < t) {
            self.target = Some(cost);
            self.found = Some(fixed.iter().cloned().chain(rest).collect());
        }
        self.target.is_some_and(|t| t <= self.bound)
    }

    /// Completes `fixed`; true when the search is over.
    fn go(
        &mut self,
        mut master: Master<'a>,
        demands: &[u32],
        limits: &[u32],
        fixed: &mut Vec<Pattern>,
        discrepancies: u32,
    ) -> bool {
        if demands.iter().all(|&d| d == 0) {
            return self.offer(fixed, Vec::new());
        }
        if let Some(rest) = fullest(self.problem, demands, limits, 2_000, None, self.budget)
            && self.offer(fixed, rest)
        {
            return true;
        }
        let allowed = self.target.map(|t| t - 1 - self.problem.cost(fixed));
        if allowed.is_some_and(|a| a < 0) {
            return self.budget.over();
        }
        if !master.solve(allowed.map(|a| a as f64 + 1e-7), self.budget) {
            return true;
        }
        if !master.feasible() || allowed.is_some_and(|a| master.value() > a as f64 + 1e-6) {
            return self.budget.over();
        }
        // The first attempt follows the programme; later ones stray from it more and more.
        let stray = 0.1 * self.attempt.min(6) as f64;
        let mut used: Vec<(f64, Pattern, f64)> =
            master.used().into_iter().map(|(p, x)| (x.fract() + stray * self.random.unit(), p, x)).collect();
        used.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        let length = fixed.len();
        let (mut left, mut stock) = (demands.to_vec(), limits.to_vec());
        for (_, pattern, x) in &used {
            for _ in 0..(x + 1e-6).floor() as u32 {
                if pattern.fits(&left, &stock) {
                    take(pattern, &mut left, &mut stock);
                    fixed.push(pattern.clone());
                }
            }
        }
        // While much is left, several are rounded up at once: what goes wrong early is mended later.
        let left_over: f64 = used.iter().map(|(_, _, x)| x.fract()).sum();
        let mut more = (left_over / if self.attempt == 0 { 12.0 } else { 40.0 }) as usize;
        for (_, pattern, x) in &used {
            if more > 0 && x.fract() > 0.3 && x.fract() < 1.0 - 1e-6 && pattern.fits(&left, &stock) {
                take(pattern, &mut left, &mut stock);
                fixed.push(pattern.clone());
                more -= 1;
            }
        }
        if fixed.len() > length {
            master.fix(&left, &stock);
            let over = self.go(master, &left, &stock, fixed, discrepancies);
            fixed.truncate(length);
            return over;
        }
        // Nothing is whole: round one pattern up, the fullest share first.
        let choices: Vec<&Pattern> =
            used.iter().map(|(_, p, _)| p).filter(|p| p.fits(&left, &stock)).take(discrepancies as usize + 1).collect();
        for (rank, pattern) in choices.into_iter().enumerate() {
            let (mut left, mut stock) = (left.clone(), stock.clone());
            take(pattern, &mut left, &mut stock);
            fixed.push(pattern.clone());
            let mut next = master.clone();
            next.fix(&left, &stock);
            let over = self.go(next, &left, &stock, fixed, discrepancies - rank as u32);
            fixed.truncate(length);
            if over || self.budget.over() {
                return true;
            }
        }
        false
    }
}
