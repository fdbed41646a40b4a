//! The balance of moments about one edge, and the worst set of open parts.

use serde::Serialize;

use super::support::Edge;
use crate::mechanics::GRAVITY;

/// A mass and its centre (x, y, z), mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Mass {
    /// Mass, kg.
    pub kg: f64,
    /// Its centre.
    pub at: [f64; 3],
}

/// How a part opens.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Opening {
    /// It moves by this much when open.
    Slide {
        /// The displacement, mm.
        by: [f64; 3],
    },
    /// It turns about an axis.
    Turn {
        /// A point on the axis, mm.
        pivot: [f64; 3],
        /// Its unit vector; the turn is counter-clockwise seen against it.
        axis: [f64; 3],
        /// Largest angle, radians.
        most: f64,
    },
}

impl Opening {
    /// Where a point goes when open by a share (0 shut, 1 fully open).
    #[must_use]
    pub fn moved(&self, at: [f64; 3], share: f64) -> [f64; 3] {
        match *self {
            Self::Slide { by } => [at[0] + by[0] * share, at[1] + by[1] * share, at[2] + by[2] * share],
            Self::Turn { pivot, axis, most } => rotated(at, pivot, axis, most * share),
        }
    }
}

/// Rodrigues' formula.
fn rotated(at: [f64; 3], pivot: [f64; 3], k: [f64; 3], angle: f64) -> [f64; 3] {
    let v = [at[0] - pivot[0], at[1] - pivot[1], at[2] - pivot[2]];
    let cross = [k[1] * v[2] - k[2] * v[1], k[2] * v[0] - k[0] * v[2], k[0] * v[1] - k[1] * v[0]];
    let dot = k[0] * v[0] + k[1] * v[1] + k[2] * v[2];
    let (sin, cos) = angle.sin_cos();
    std::array::from_fn(|i| pivot[i] + v[i] * cos + cross[i] * sin + k[i] * dot * (1.0 - cos))
}

/// A part that opens, with what it carries.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Moving {
    /// Its id.
    pub id: String,
    /// Its own masses when shut.
    pub own: Vec<Mass>,
    /// The masses that it carries when loaded.
    pub load: Vec<Mass>,
    /// How it opens.
    pub opening: Opening,
    /// The middle of its front edge when shut, mm: where a hand or a child's weight comes on it.
    pub front: [f64; 3],
}

/// A piece on its feet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Piece {
    /// Masses that do not move, without loads.
    pub own: Vec<Mass>,
    /// Loads that do not move.
    pub load: Vec<Mass>,
    /// Parts that open.
    pub moving: Vec<Moving>,
    /// The edges of its support polygon.
    pub edges: Vec<Edge>,
    /// Lowest and highest corner of its outside box, shut.
    pub bounds: ([f64; 3], [f64; 3]),
}

/// What it stands on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Ground {
    /// How much the side opposite to the edge is raised, mm: soft carpet under the edge, a sloping floor.
    pub raised: f64,
}

impl Ground {
    /// Sine and cosine of the tilt over an edge: the opposite side raised by [`Ground::raised`] at the polygon's depth.
    fn tilt(&self, edge: &Edge) -> (f64, f64) {
        let sin = if edge.depth > 0.0 { (self.raised / edge.depth).clamp(0.0, 1.0) } else { 0.0 };
        (sin, (1.0 - sin * sin).sqrt())
    }

    /// Outward distance and height of a point after the tilt about the edge.
    pub(super) fn place(&self, edge: &Edge, at: [f64; 3]) -> (f64, f64) {
        let (sin, cos) = self.tilt(edge);
        let out = edge.outside(at[0], at[2]);
        (out * cos + at[1] * sin, at[1] * cos - out * sin)
    }
}

/// A force on the piece.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Force {
    /// Where, mm.
    pub at: [f64; 3],
    /// Downwards, N.
    pub down: f64,
    /// Outwards over the edge, N.
    pub out: f64,
}

/// The balance about one edge.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Balance {
    /// The edge.
    pub edge: Edge,
    /// Moments that hold it down, N·mm.
    pub holding: f64,
    /// Moments that tip it, N·mm.
    pub tipping: f64,
    /// Whole weight without forces, N.
    pub weight: f64,
    /// Which moving parts stand open.
    pub open: Vec<bool>,
}

impl Balance {
    /// What is left before it tips, N·mm; it tips below nothing.
    #[must_use]
    pub fn margin(&self) -> f64 {
        self.holding - self.tipping
    }

    /// Whether it stands.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.margin() >= 0.0
    }

    /// How far the centre of all weights and forces lies inside the edge, mm.
    #[must_use]
    pub fn distance(&self) -> f64 {
        if self.weight > 0.0 { self.margin() / self.weight } else { 0.0 }
    }

    /// The further downward force, N, at `arm` mm outside the edge that tips it.
    #[must_use]
    pub fn force_at(&self, arm: f64) -> f64 {
        if arm > 0.0 { self.margin().max(0.0) / arm } else { f64::INFINITY }
    }

    /// The pull that a wall fixing at this height must hold, N; nothing while it stands.
    #[must_use]
    pub fn wall_pull(&self, height: f64) -> f64 {
        if height > 0.0 { (-self.margin()).max(0.0) / height } else { f64::INFINITY }
    }
}

impl Piece {
    /// The balance about an edge with these parts open by `share`. Loads count with `load_share` (0 for an empty piece).
    #[must_use]
    pub fn balance(
        &self,
        edge: &Edge,
        ground: Ground,
        open: &[bool],
        share: f64,
        load_share: f64,
        forces: &[Force],
    ) -> Balance {
        let mut sum = Balance { edge: *edge, holding: 0.0, tipping: 0.0, weight: 0.0, open: open.to_vec() };
        let mut weigh = |mass: Mass, factor: f64| {
            let weight = mass.kg * GRAVITY * factor;
            let moment = weight * ground.place(edge, mass.at).0;
            sum.weight += weight;
            if moment > 0.0 { sum.tipping += moment } else { sum.holding -= moment }
        };
        self.own.iter().for_each(|&it| weigh(it, 1.0));
        self.load.iter().for_each(|&it| weigh(it, load_share));
        for (i, moving) in self.moving.iter().enumerate() {
            let share = if open.get(i).copied().unwrap_or(false) { share } else { 0.0 };
            let moved = |it: &Mass| Mass { kg: it.kg, at: moving.opening.moved(it.at, share) };
            moving.own.iter().for_each(|it| weigh(moved(it), 1.0));
            moving.load.iter().for_each(|it| weigh(moved(it), load_share));
        }
        for force in forces {
            let (out, up) = ground.place(edge, force.at);
            for moment in [force.down * out, force.out * up] {
                if moment > 0.0 { sum.tipping += moment } else { sum.holding -= moment }
            }
        }
        sum
    }

    /// The centre of all masses with these parts open by `share`, mm; the origin of a piece without mass.
    #[must_use]
    pub fn centre(&self, open: &[bool], share: f64, load_share: f64) -> [f64; 3] {
        let (mut sum, mut whole) = ([0.0; 3], 0.0);
        let mut add = |kg: f64, at: [f64; 3]| {
            whole += kg;
            sum.iter_mut().zip(at).for_each(|(it, at)| *it += kg * at);
        };
        self.own.iter().for_each(|it| add(it.kg, it.at));
        self.load.iter().for_each(|it| add(it.kg * load_share, it.at));
        for (i, moving) in self.moving.iter().enumerate() {
            let share = if open.get(i).copied().unwrap_or(false) { share } else { 0.0 };
            moving.own.iter().for_each(|it| add(it.kg, moving.opening.moved(it.at, share)));
            moving.load.iter().for_each(|it| add(it.kg * load_share, moving.opening.moved(it.at, share)));
        }
        if whole > 0.0 { sum.map(|it| it / whole) } else { sum }
    }

    /// How much opening each moving part (by `share`) shifts the balance towards tipping over the edge, N·mm. Parts act
    /// one beside the other, so these simply add.
    #[must_use]
    pub fn shifts(&self, edge: &Edge, ground: Ground, share: f64, load_share: f64) -> Vec<f64> {
        self.moving
            .iter()
            .map(|moving| {
                let shift = |it: &Mass, factor: f64| {
                    let (shut, open) = (it.at, moving.opening.moved(it.at, share));
                    it.kg * GRAVITY * factor * (ground.place(edge, open).0 - ground.place(edge, shut).0)
                };
                moving.own.iter().map(|it| shift(it, 1.0)).sum::<f64>()
                    + moving.load.iter().map(|it| shift(it, load_share)).sum::<f64>()
            })
            .collect()
    }

    /// The worst set of at most `most` open parts for this edge. Because the shifts add, the worst set of each size is the
    /// parts of largest shift: every combination is covered without being listed.
    #[must_use]
    pub fn worst_open(&self, edge: &Edge, ground: Ground, share: f64, load_share: f64, most: usize) -> Vec<bool> {
        let shifts = self.shifts(edge, ground, share, load_share);
        let mut order: Vec<(usize, f64)> = shifts.iter().copied().enumerate().filter(|it| it.1 > 0.0).collect();
        order.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let mut open = vec![false; self.moving.len()];
        for (i, _) in order.into_iter().take(most) {
            if let Some(it) = open.get_mut(i) {
                *it = true;
            }
        }
        open
    }

    /// The smallest set of open parts that tips it over this edge with its loads; none if no set does.
    #[must_use]
    pub fn least_that_tips(&self, edge: &Edge, ground: Ground, share: f64, load_share: f64) -> Option<Balance> {
        let shifts = self.shifts(edge, ground, share, load_share);
        let mut left = self.balance(edge, ground, &vec![false; self.moving.len()], share, load_share, &[]).margin();
        let mut order: Vec<f64> = shifts.into_iter().filter(|&it| it > 0.0).collect();
        order.sort_by(|a, b| b.total_cmp(a));
        let mut count = 0;
        for shift in order {
            if left < 0.0 {
                break;
            }
            left -= shift;
            count += 1;
        }
        if left >= 0.0 {
            return None;
        }
        let open = self.worst_open(edge, ground, share, load_share, count);
        Some(self.balance(edge, ground, &open, share, load_share, &[]))
    }

    /// The balance about the edge that has least left, over all edges, each with its worst set of open parts.
    #[must_use]
    pub fn worst(&self, ground: Ground, share: f64, load_share: f64, most: usize) -> Option<Balance> {
        self.edges
            .iter()
            .map(|edge| {
                let open = self.worst_open(edge, ground, share, load_share, most);
                self.balance(edge, ground, &open, share, load_share, &[])
            })
            .min_by(|a, b| a.margin().total_cmp(&b.margin()))
    }
}
