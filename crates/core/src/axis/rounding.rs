//! From real positions to whole nanometres, on the lattice of the unit's step where the musts leave room for it.
//!
//! Each class has a phase: its root lies on the lattice when most of the unknowns in it do. Three ways are tried, the
//! next only where the one before fails:
//! 1. each root to the nearest point of its lattice; where that breaks something, only the roots around it are placed
//!    again by the second way, with all others standing still;
//! 2. one root after another, nearest first, to the nearest point inside the play that the roots before it leave. Rows
//!    between two lattice roots are sharpened to whole steps first. Where that closes a cycle, no lattice solution
//!    exists, and the roots on the cycle are let off the lattice. Differences in whole numbers have the property that
//!    every value inside the play can be completed, so only ties can make this way fail;
//! 3. all roots rounded down after adding the same part of a step. That keeps every row whose length is a multiple of
//!    the step and every tie to within one step, for any part; the part is chosen far from where it would matter. First
//!    on the lattice, then, as every length is a whole number of them, in nanometres.

use super::exact::{Edge, Graph, Tie};
use super::reduce::Reduced;
use super::spread::{Play, Queue, Web};

/// Within this many nanometres of the middle between two lattice points a position counts as at the middle, and goes up.
const MIDDLE: f64 = 0.1;
/// How often the surroundings of what is broken grow before everything is placed again.
const RINGS: usize = 4;
/// The most parts of a step that the third way tries.
const PARTS: usize = 24;

/// Positions of the free roots, in nanometres, that keep every row exactly and every tie within `step`.
pub(crate) fn round(reduced: &Reduced, target_nm: &[f64], step: i64) -> Option<Vec<i64>> {
    let task = Rounding::new(reduced, target_nm, step);
    let nearest: Vec<i64> = (0..reduced.free).map(|class| task.nearest(class, step)).collect();
    if task.holds(&nearest) {
        return Some(nearest);
    }
    if let Some(repaired) = task.repaired(&nearest) {
        return Some(repaired);
    }
    [step, 1].into_iter().find_map(|grain| task.one_by_one(grain).or_else(|| task.downwards(grain)))
}

struct Rounding<'a> {
    reduced: &'a Reduced,
    target: &'a [f64],
    step: i64,
    phase: Vec<i64>,
}

impl<'a> Rounding<'a> {
    fn new(reduced: &'a Reduced, target: &'a [f64], step: i64) -> Self {
        let mut residues: Vec<(usize, i64)> = (0..reduced.class.len() - 1)
            .filter(|node| reduced.class[*node] != reduced.free)
            .map(|node| (reduced.class[node], (-reduced.offset[node]).rem_euclid(step)))
            .collect();
        // Stable: equal residues of a class come together; the commonest wins, then the smaller residue.
        residues.sort_unstable();
        let mut phase = vec![0; reduced.free + 1];
        let mut best = vec![0; reduced.free + 1];
        for run in residues.chunk_by(|a, b| a == b) {
            if let Some((class, residue)) = run.first()
                && run.len() > best[*class]
            {
                best[*class] = run.len();
                phase[*class] = *residue;
            }
        }
        Self { reduced, target, step, phase }
    }

    /// The point of the class's lattice of this grain that is nearest to its target; the middle goes up.
    fn nearest(&self, class: usize, grain: i64) -> i64 {
        let phase = self.phase[class] % grain;
        let places = (self.target[class] + MIDDLE.min(0.1 * grain as f64) - phase as f64) / grain as f64;
        phase.saturating_add(((places + 0.5).floor() as i64).saturating_mul(grain))
    }

    fn root(&self, roots: &[i64], class: usize) -> i64 {
        roots.get(class).copied().unwrap_or(0)
    }

    fn row_holds(&self, row: &Edge, roots: &[i64]) -> bool {
        self.root(roots, row.to).saturating_sub(self.root(roots, row.from)) <= row.most
    }

    fn tie_holds(&self, tie: &Tie, roots: &[i64]) -> bool {
        tie_value(tie, |class| self.root(roots, class)).saturating_abs() <= self.step
    }

    fn holds(&self, roots: &[i64]) -> bool {
        self.reduced.rows.iter().all(|row| self.row_holds(row, roots))
            && self.reduced.ties.iter().all(|tie| self.tie_holds(tie, roots))
    }

    /// The nearest points, with those around broken rows and ties placed again, on the lattice.
    fn repaired(&self, nearest: &[i64]) -> Option<Vec<i64>> {
        let free = self.reduced.free;
        let rows = self.sharpened(&vec![true; free + 1]);
        let ties = &self.reduced.ties;
        let web = Web::new(free + 1, &rows, ties);
        let mut moving = vec![false; free + 1];
        for row in self.reduced.rows.iter().filter(|row| !self.row_holds(row, nearest)) {
            moving[row.from] = true;
            moving[row.to] = true;
        }
        for tie in ties.iter().filter(|tie| !self.tie_holds(tie, nearest)) {
            tie.terms.iter().for_each(|(class, _)| moving[*class] = true);
        }
        for _ in 0..RINGS {
            moving[free] = false;
            if let Some(roots) = self.placed_again(nearest, &moving, &web) {
                return Some(roots);
            }
            let inner: Vec<usize> = (0..free).filter(|class| moving[*class]).collect();
            inner.iter().for_each(|class| web.neighbours(*class, |other| moving[other] = true));
        }
        None
    }

    /// The moving roots one by one inside the play that the others leave them.
    fn placed_again(&self, nearest: &[i64], moving: &[bool], web: &Web<'_>) -> Option<Vec<i64>> {
        let free = self.reduced.free;
        let still = |class: usize| (!moving[class]).then(|| self.root(nearest, class));
        let mut play = Play { lowest: (0..=free).map(still).collect(), highest: (0..=free).map(still).collect() };
        let mut queue = Queue::new(free + 1, 0..0);
        let mut order: Vec<usize> = (0..free).filter(|class| moving[*class]).collect();
        for class in &order {
            web.neighbours(*class, |other| queue.push(other));
        }
        web.spread(&mut play, &mut queue, self.step)?;
        order.sort_by(|a, b| self.distance(*a).total_cmp(&self.distance(*b)).then(a.cmp(b)));
        self.place(&order, &mut play, web, &mut queue)
    }

    /// How far a root's target lies from its lattice.
    fn distance(&self, class: usize) -> f64 {
        (self.target[class] - self.nearest(class, self.step) as f64).abs()
    }

    /// The roots of `order` one after another, inside the play that is left; then all roots, if that keeps everything.
    fn place(&self, order: &[usize], play: &mut Play, web: &Web<'_>, queue: &mut Queue) -> Option<Vec<i64>> {
        for &class in order {
            let value = self.inside(class, play.lowest[class], play.highest[class]);
            play.lowest[class] = Some(value);
            play.highest[class] = Some(value);
            queue.push(class);
            web.spread(play, queue, self.step)?;
        }
        let roots: Vec<i64> = play.lowest.iter().take(self.reduced.free).map(|lowest| lowest.unwrap_or(0)).collect();
        self.holds(&roots).then_some(roots)
    }

    /// The rows, sharpened to whole steps between roots that stay on the lattice.
    fn sharpened(&self, on_lattice: &[bool]) -> Vec<Edge> {
        let sharpen = |row: &Edge| {
            if !(on_lattice[row.to] && on_lattice[row.from]) {
                return *row;
            }
            let shift = self.phase[row.to] - self.phase[row.from];
            Edge { most: (row.most - shift).div_euclid(self.step) * self.step + shift, ..*row }
        };
        self.reduced.rows.iter().map(sharpen).collect()
    }

    /// The second way.
    fn one_by_one(&self, grain: i64) -> Option<Vec<i64>> {
        let free = self.reduced.free;
        let mut on_lattice = vec![grain == self.step; free + 1];
        on_lattice[free] = true;
        let mut rows = self.sharpened(&on_lattice);
        loop {
            let cycle = match Graph::new(free + 1, &rows, false).potentials() {
                Ok(_) => break,
                Err(cycle) => cycle,
            };
            let mut any = false;
            for edge in cycle {
                for class in [rows[edge].from, rows[edge].to] {
                    if class != free && std::mem::take(&mut on_lattice[class]) {
                        any = true;
                    }
                }
            }
            if !any {
                return None;
            }
            rows = self.sharpened(&on_lattice);
        }
        let mut play = self.play(&rows)?;
        let web = Web::new(free + 1, &rows, &self.reduced.ties);
        let mut queue = Queue::new(free + 1, 0..free);
        web.spread(&mut play, &mut queue, self.step)?;
        let mut order: Vec<usize> = (0..free).collect();
        order.sort_by(|a, b| {
            let on_lattice_first = on_lattice[*b].cmp(&on_lattice[*a]);
            on_lattice_first.then(self.distance(*a).total_cmp(&self.distance(*b))).then(a.cmp(b))
        });
        self.place(&order, &mut play, &web, &mut queue)
    }

    fn play(&self, rows: &[Edge]) -> Option<Play> {
        let free = self.reduced.free;
        let highest = Graph::new(free + 1, rows, false).from(free).ok()?.distance;
        let lowest = Graph::new(free + 1, rows, true).from(free).ok()?.distance;
        Some(Play { lowest: lowest.into_iter().map(|lowest| lowest.map(|lowest| -lowest)).collect(), highest })
    }

    /// The nearest lattice point inside the play; the nearest point of all, where there is no lattice point.
    fn inside(&self, class: usize, lowest: Option<i64>, highest: Option<i64>) -> i64 {
        let (step, phase) = (self.step, self.phase[class]);
        let point = |place: i64| place.saturating_mul(step).saturating_add(phase);
        let mut value = self.nearest(class, step);
        if let Some(highest) = highest {
            value = value.min(point(highest.saturating_sub(phase).div_euclid(step)));
        }
        if let Some(lowest) = lowest {
            value = value.max(point(phase.saturating_sub(lowest).div_euclid(step).saturating_neg()));
        }
        let fits =
            |value: i64| lowest.is_none_or(|lowest| lowest <= value) && highest.is_none_or(|highest| value <= highest);
        if fits(value) {
            return value;
        }
        let free_value = self.nearest(class, 1);
        let free_value = highest.map_or(free_value, |highest| free_value.min(highest));
        lowest.map_or(free_value, |lowest| free_value.max(lowest))
    }

    /// The third way.
    fn downwards(&self, grain: i64) -> Option<Vec<i64>> {
        let phase = |class: usize| self.phase[class] % grain;
        let places: Vec<f64> =
            (0..self.reduced.free).map(|class| (self.target[class] - phase(class) as f64) / grain as f64).collect();
        // The ground has no fraction of a step, and must not be moved either.
        let mut fractions: Vec<f64> = places.iter().map(|place| place - place.floor()).chain([0.0, 1.0]).collect();
        fractions.sort_by(f64::total_cmp);
        let mut gaps: Vec<(f64, f64)> = fractions
            .windows(2)
            .filter_map(|pair| Some((pair.last()? - pair.first()?, 1.0 - (pair.first()? + pair.last()?) / 2.0)))
            .collect();
        gaps.sort_by(|a, b| b.0.total_cmp(&a.0).then((a.1 - 0.5).abs().total_cmp(&(b.1 - 0.5).abs())));
        gaps.truncate(PARTS);
        gaps.sort_by(|a, b| (a.1 - 0.5).abs().total_cmp(&(b.1 - 0.5).abs()));
        gaps.iter().find_map(|(_, part)| {
            let roots: Vec<i64> = places
                .iter()
                .enumerate()
                .map(|(class, place)| {
                    phase(class).saturating_add(((place + part).floor() as i64).saturating_mul(grain))
                })
                .collect();
            self.holds(&roots).then_some(roots)
        })
    }
}

/// The left side of a tie; saturating, because wild candidates are asked too.
fn tie_value(tie: &Tie, root: impl Fn(usize) -> i64) -> i64 {
    tie.terms.iter().fold(tie.constant, |sum, (class, factor)| sum.saturating_add(factor.saturating_mul(root(*class))))
}

/// Each target to the nearest nanometre.
pub(crate) fn nearest_nm(target: &[f64]) -> Vec<i64> {
    target.iter().map(|nm| nm.round() as i64).collect()
}
