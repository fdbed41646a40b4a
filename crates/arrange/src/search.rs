//! The search over divisions, set of units by set of units.
//!
//! Every unordered division is made exactly once: a row is its part with the lowest unit, which is no row itself, beside
//! the rest; a stack likewise. What no box of the asked size has room for is dropped at once, and with it all that would
//! contain it. Where all of a set must go in, so is what leaves one of the others no room beside it or over it, or all of
//! them together too little area.

use casewright_core::Length;

use crate::curve::{Curve, Size};
use crate::division::Division;
use crate::propose::Watch;
use crate::request::Request;

/// Up to so many units every division is looked at.
pub const COMPLETE: usize = 6;
/// The most units that can be arranged: sets of them are bits.
pub(crate) const MOST: usize = 14;

/// What each further division inside a division costs beside area, as a share of the room: few and long lines are easier
/// to build and to look at (own choice).
const DEEP: f64 = 0.15;

/// How a plan is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Made {
    Unit(usize),
    Row,
    Stack,
}

/// A division of a set of units, with its least sizes.
struct Plan {
    made: Made,
    /// The part with the lowest unit, and the rest: each a set and a place in the list of its plans.
    parts: [(usize, usize); 2],
    curve: Curve,
    /// Whether a unit on slides is directly in this stack, or it is one.
    carried: bool,
    /// Its least width and its least height, at different steps.
    least: [Length; 2],
    /// How deep it is divided.
    depth: usize,
    /// Its least area as a share of the room, and [`DEEP`] for each time that it is divided.
    cost: f64,
}

impl Plan {
    fn new(made: Made, parts: [(usize, usize); 2], curve: Curve, carried: bool, depth: usize) -> Self {
        let steps = curve.steps();
        let width = steps.first().map(|it| it.width).unwrap_or_default();
        let height = steps.last().map(|it| it.height).unwrap_or_default();
        Self { made, parts, curve, carried, least: [width, height], depth, cost: 0.0 }
    }
}

/// All divisions that were found, by set of units.
pub struct Search {
    plans: Vec<Vec<Plan>>,
    /// Whether nothing that fits was left out.
    pub is_complete: bool,
}

/// Searches divisions of sets of units that fit a box; at most `beam` for each set where there are more than
/// [`COMPLETE`] units. With a `goal`, only what can be part of a division of that set is kept; without one, every set is
/// searched for its own sake. Sets whose search was called off have none.
#[must_use]
pub fn search(request: &Request, room: Size, beam: usize, goal: Option<usize>, watch: &dyn Watch) -> Search {
    let count = request.units.len().min(MOST);
    let all = (1_usize << count) - 1;
    let mut plans: Vec<Vec<Plan>> = Vec::with_capacity(all + 1);
    plans.push(Vec::new());
    let mut is_complete = request.units.len() <= MOST;
    for set in 1..=all {
        if watch.cancelled() {
            is_complete = false;
            break;
        }
        if goal.is_some_and(|goal| set & !goal != 0) {
            plans.push(Vec::new());
            continue;
        }
        let beside = Beside::new(request, room, goal.map_or(0, |goal| goal & !set));
        let mut of_set = of_set(request, &beside, &plans, set);
        for plan in &mut of_set {
            let least = plan.curve.steps().iter().map(|it| it.area_mm2()).fold(f64::INFINITY, f64::min);
            plan.cost = least / room.area_mm2() + plan.depth as f64 * DEEP;
        }
        let keep = if count <= COMPLETE { usize::MAX } else { kept(beam, set, all) };
        if of_set.len() > keep {
            is_complete = false;
            of_set = best(of_set, keep);
        }
        plans.push(of_set);
    }
    Search { plans, is_complete }
}

/// Whole divisions are many more than parts of them: of those, more are kept. With each unit beyond ten there are three
/// times as many pairs of sets, each with a square of the beam: it shrinks, so that the time does not grow like that.
const fn kept(beam: usize, set: usize, all: usize) -> usize {
    let narrow = match all.count_ones() {
        0..=10 => 1,
        11 => 2,
        _ => 3,
    };
    let beam = if beam / narrow > 2 { beam / narrow } else { 2 };
    if set == all { beam * 50 } else { beam }
}

/// What must still find room beside or over the divisions of a set.
struct Beside {
    room: Size,
    /// The least width and the least height of each other unit.
    others: Vec<(Length, Length)>,
    /// Area that is left if all others take their least, mm2.
    area_mm2: f64,
}

impl Beside {
    fn new(request: &Request, room: Size, others: usize) -> Self {
        let units = || request.units.iter().enumerate().filter(|(i, _)| others >> i & 1 == 1).map(|(_, it)| it);
        let least = |unit: &crate::request::Unit| {
            let steps = unit.curve.steps();
            Some((steps.first()?.width, steps.last()?.height))
        };
        // A little more, so that what floating point does to a sum of areas drops nothing that fits exactly.
        let area_mm2 = room.area_mm2() * (1.0 + 1e-9) - units().map(|it| it.least_area_mm2()).sum::<f64>();
        Self { room, others: units().filter_map(least).collect(), area_mm2 }
    }

    /// Whether a sum of least widths, or of least heights, is within the room.
    fn may_fit(&self, least: Length, across: bool) -> bool {
        least <= if across { self.room.width } else { self.room.height }
    }

    /// The steps of a staircase that leave room for all others.
    fn left(&self, curve: &Curve) -> Curve {
        let room = self.room;
        let leaves = |size: &Size| {
            size.area_mm2() <= self.area_mm2
                && self
                    .others
                    .iter()
                    .all(|other| size.width + other.0 <= room.width || size.height + other.1 <= room.height)
        };
        Curve::of(curve.steps().iter().copied().filter(|it| room.holds(*it) && leaves(it)))
    }
}

/// All plans of one set, from those of its subsets.
fn of_set(request: &Request, beside: &Beside, plans: &[Vec<Plan>], set: usize) -> Vec<Plan> {
    let lowest = set & set.wrapping_neg();
    if set == lowest {
        let index = set.trailing_zeros() as usize;
        let Some(unit) = request.units.get(index) else { return Vec::new() };
        let curve = beside.left(&unit.curve);
        let plan = Plan::new(Made::Unit(index), [(0, 0); 2], curve, unit.is_carried, 0);
        return if plan.curve.steps().is_empty() { Vec::new() } else { vec![plan] };
    }
    let others = set & !lowest;
    let mut all = Vec::new();
    // Every proper subset of the others joins the lowest unit; what is left is the rest.
    let mut joined = others;
    loop {
        joined = joined.wrapping_sub(1) & others;
        let (head, rest) = (lowest | joined, others & !joined);
        join(request, beside, plans, (head, rest), &mut all);
        if joined == 0 {
            return all;
        }
    }
}

fn join(request: &Request, beside: &Beside, plans: &[Vec<Plan>], sets: (usize, usize), all: &mut Vec<Plan>) {
    let (Some(heads), Some(rests)) = (plans.get(sets.0), plans.get(sets.1)) else { return };
    for (i, head) in heads.iter().enumerate() {
        for (j, rest) in rests.iter().enumerate() {
            let parts = [(sets.0, i), (sets.1, j)];
            let depth = |made: Made| {
                let rest = if rest.made == made { rest.depth } else { rest.depth + 1 };
                rest.max(head.depth + 1)
            };
            if head.made != Made::Row && beside.may_fit(head.least[0] + rest.least[0] + request.place.upright, true) {
                let curve = beside.left(&head.curve.beside(&rest.curve, request.place.upright));
                if !curve.steps().is_empty() {
                    all.push(Plan::new(Made::Row, parts, curve, false, depth(Made::Row)));
                }
            }
            if head.made != Made::Stack && beside.may_fit(head.least[1] + rest.least[1], false) {
                let slides = matches!(head.made, Made::Unit(_)) && head.carried;
                let rest_slides = !matches!(rest.made, Made::Row) && rest.carried;
                let between = if slides && rest_slides { Length::ZERO } else { request.place.shelf };
                let curve = beside.left(&head.curve.stacked(&rest.curve, between));
                if !curve.steps().is_empty() {
                    let (carried, depth) = (slides || rest_slides, depth(Made::Stack));
                    all.push(Plan::new(Made::Stack, parts, curve, carried, depth));
                }
            }
        }
    }
}

/// The best of some plans: half of them rows, half stacks, as far as there are.
fn best(mut plans: Vec<Plan>, keep: usize) -> Vec<Plan> {
    plans.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let rows = plans.iter().filter(|it| it.made == Made::Row).count();
    let of_rows = (keep / 2).max(keep.saturating_sub(plans.len() - rows)).min(rows);
    let (mut rows_left, mut stacks_left) = (of_rows, keep - of_rows);
    plans.retain(|it| {
        let left = if it.made == Made::Row { &mut rows_left } else { &mut stacks_left };
        let stays = *left > 0;
        *left = left.saturating_sub(1);
        stays
    });
    plans
}

impl Search {
    /// The divisions of a set of units, as bits by their index, least area and depth first.
    #[must_use]
    pub fn divisions(&self, set: usize) -> Vec<Division> {
        let Some(plans) = self.plans.get(set) else { return Vec::new() };
        let mut order: Vec<usize> = (0..plans.len()).collect();
        let cost = |it: &usize| plans.get(*it).map_or(f64::INFINITY, |plan| plan.cost);
        order.sort_by(|a, b| cost(a).total_cmp(&cost(b)));
        order.into_iter().filter_map(|index| self.division(set, index)).collect()
    }

    /// The least sizes of a set of units over all divisions that were found.
    #[must_use]
    pub fn curve(&self, set: usize) -> Curve {
        let plans = self.plans.get(set).map(Vec::as_slice).unwrap_or_default();
        Curve::of(plans.iter().flat_map(|it| it.curve.steps().iter().copied()))
    }

    /// Whether any division of a set of units fits.
    #[must_use]
    pub fn fits(&self, set: usize) -> bool {
        self.plans.get(set).is_some_and(|it| !it.is_empty())
    }

    fn division(&self, set: usize, index: usize) -> Option<Division> {
        let plan = self.plans.get(set)?.get(index)?;
        if let Made::Unit(unit) = plan.made {
            return Some(Division::Unit(unit));
        }
        let [head, rest] = plan.parts;
        let mut children = vec![self.division(head.0, head.1)?];
        match (plan.made, self.division(rest.0, rest.1)?) {
            (Made::Row, Division::Row(more)) | (Made::Stack, Division::Stack(more)) => children.extend(more),
            (_, other) => children.push(other),
        }
        Some(if plan.made == Made::Row { Division::Row(children) } else { Division::Stack(children) })
    }
}
