//! The loading cases of published stability tests as named data, and running one.

use serde::Serialize;

use super::balance::{Balance, Force, Ground, Piece};
use super::support::Edge;
use crate::mechanics::source::Source;
use crate::mechanics::{GRAVITY, POUND_FORCE};

/// Which pieces a case is for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Applies {
    /// Higher than this, mm.
    pub over_height: f64,
    /// Up to this height, mm.
    pub up_to_height: f64,
}

/// Which parts stand open.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum OpenParts {
    /// None.
    Shut,
    /// All, or fewer where that is worse.
    All,
    /// One after the other.
    One,
}

/// A vertical force.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Vertical {
    /// None.
    None,
    /// This much, N.
    Fixed(f64),
    /// This share of the whole weight, at most so many N.
    OfWeight {
        /// The share.
        share: f64,
        /// The most, N.
        most: f64,
    },
}

/// Where the forces act.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum LoadAt {
    /// On the top, 50 mm from its outer edge.
    Top,
    /// On the front of the open part that is worst, 50 mm from its outer edge; on the top if nothing opens.
    OpenFront,
}

/// How much of the loads is in it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Loaded {
    /// Nothing.
    Empty,
    /// This share of every load.
    Share(f64),
    /// Empty or full, whichever is worse.
    Worse,
}

/// The published test that a case is after.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum StabilityTest {
    /// EN 16121: storage furniture other than in kitchens.
    En16121,
    /// ASTM F2057: clothing storage, the loads of its earlier editions.
    F2057,
    /// ASTM F2057: what a child does.
    Child,
}

/// A loading case.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StabilityCase {
    /// A stable id.
    pub id: &'static str,
    /// What it is.
    pub name: &'static str,
    /// The test that it is after.
    pub test: StabilityTest,
    /// Which pieces it is for.
    pub applies: Applies,
    /// Which parts stand open.
    pub open: OpenParts,
    /// How far slides stand open: 1 fully, 2/3 as in ISO 7171.
    pub share: f64,
    /// Whether loads are in it.
    pub loaded: Loaded,
    /// Downward force.
    pub vertical: Vertical,
    /// Outward force, N, at the top of the piece or at most at `outward_at`.
    pub outward: f64,
    /// Highest place of the outward force, mm above the floor.
    pub outward_at: f64,
    /// Where the downward force acts.
    pub at: LoadAt,
    /// How much the rear is raised, mm.
    pub raised: f64,
    /// Where it comes from.
    pub source: Source,
}

const EN: Source = Source::published("EN 16121:2013 Table 3, loads as reproduced in a test report");
const ASTM: Source = Source::published("ASTM F2057-23 test masses");
const ASTM_FORCE: Source = Source::memory("ASTM F2057-23, 10 lbf outwards");

/// How much the carpet block of ASTM F2057-23 raises the rear, mm.
pub const ASTM_CARPET_LIFT: f64 = 10.9;

/// Clothing fill of drawers, kg/m³: 8.5 lb/ft³.
pub const ASTM_FILL_KG_M3: f64 = 8.5 * 0.453_592_37 / 0.028_316_846_592;

const ANY: f64 = f64::INFINITY;

const BASE: StabilityCase = StabilityCase {
    id: "",
    name: "",
    test: StabilityTest::En16121,
    applies: Applies { over_height: 650.0, up_to_height: ANY },
    open: OpenParts::Shut,
    share: 1.0,
    loaded: Loaded::Empty,
    vertical: Vertical::None,
    outward: 0.0,
    outward_at: ANY,
    at: LoadAt::Top,
    raised: 0.0,
    source: EN,
};

/// The cases. The standards' tests are done on the real piece; these are calculations after their loads.
pub const STABILITY_CASES: [StabilityCase; 10] = [
    StabilityCase {
        id: "top load, low",
        name: "shut and empty, 750 N on the top",
        applies: Applies { over_height: 650.0, up_to_height: 1000.0 },
        vertical: Vertical::Fixed(750.0),
        ..BASE
    },
    StabilityCase {
        id: "top load, tall",
        name: "shut and empty, 350 N on the top and 50 N outwards",
        applies: Applies { over_height: 1000.0, up_to_height: ANY },
        vertical: Vertical::Fixed(350.0),
        outward: 50.0,
        ..BASE
    },
    StabilityCase { id: "all open", name: "all open and empty", open: OpenParts::All, ..BASE },
    StabilityCase {
        id: "open, hand",
        name: "open and empty, 100 N on an open part",
        open: OpenParts::All,
        vertical: Vertical::Fixed(100.0),
        at: LoadAt::OpenFront,
        ..BASE
    },
    StabilityCase {
        id: "open, loaded",
        name: "one part open, half the loads, a fifth of the weight (300 N at most) on it",
        open: OpenParts::One,
        loaded: Loaded::Share(0.5),
        vertical: Vertical::OfWeight { share: 0.2, most: 300.0 },
        at: LoadAt::OpenFront,
        ..BASE
    },
    StabilityCase { id: "locked, pulled", name: "shut, 100 N outwards at the top", outward: 100.0, ..BASE },
    StabilityCase {
        id: "child climbs",
        name: "a child of 27.5 kg on an open part, rear raised by carpet",
        test: StabilityTest::Child,
        applies: Applies { over_height: 685.8, up_to_height: ANY },
        open: OpenParts::All,
        loaded: Loaded::Worse,
        vertical: Vertical::Fixed(27.5 * GRAVITY),
        at: LoadAt::OpenFront,
        raised: ASTM_CARPET_LIFT,
        source: ASTM,
        ..BASE
    },
    StabilityCase {
        id: "child pulls",
        name: "loaded and shut, 44.5 N outwards at the top or 1422 mm",
        test: StabilityTest::Child,
        applies: Applies { over_height: 685.8, up_to_height: ANY },
        loaded: Loaded::Worse,
        outward: 10.0 * POUND_FORCE,
        outward_at: 1422.4,
        source: ASTM_FORCE,
        ..BASE
    },
    StabilityCase {
        id: "two thirds open",
        name: "all open by two thirds and empty",
        test: StabilityTest::F2057,
        open: OpenParts::All,
        share: 2.0 / 3.0,
        source: Source::published("earlier ASTM F2057; ISO 7171:1988 for two thirds"),
        ..BASE
    },
    StabilityCase {
        id: "one open, 50 lb",
        name: "one part open, 50 lb on it",
        test: StabilityTest::F2057,
        open: OpenParts::One,
        vertical: Vertical::Fixed(50.0 * POUND_FORCE),
        at: LoadAt::OpenFront,
        source: Source::published("earlier editions of ASTM F2057"),
        ..BASE
    },
];

/// What a case comes to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CaseResult {
    /// The case.
    pub case: StabilityCase,
    /// The worst balance found.
    pub balance: Balance,
    /// The downward force of the case, N.
    pub down: f64,
    /// The share of the loads that is in it.
    pub load: f64,
    /// The part that it acts on, an index into the moving parts; none on the top.
    pub on: Option<usize>,
    /// How far outside the edge the downward force acts, mm.
    pub arm: f64,
}

impl CaseResult {
    /// The downward force at that place that would tip it, N.
    #[must_use]
    pub fn tipping_force(&self) -> f64 {
        if self.arm > 0.0 { (self.balance.margin() / self.arm + self.down).max(0.0) } else { f64::INFINITY }
    }
}

/// Runs a case for all edges of the piece; none if it does not apply or the piece has no support.
#[must_use]
pub fn run(piece: &Piece, case: &StabilityCase) -> Option<CaseResult> {
    let height = piece.bounds.1[1];
    if height <= case.applies.over_height || height > case.applies.up_to_height {
        return None;
    }
    let loads: &[f64] = match case.loaded {
        Loaded::Empty => &[0.0],
        Loaded::Share(share) => &[share],
        Loaded::Worse => &[0.0, 1.0],
    };
    let mut worst: Option<CaseResult> = None;
    for edge in &piece.edges {
        for &load in loads {
            let result = on_edge(piece, case, edge, load);
            if worst.as_ref().is_none_or(|it| result.balance.margin() < it.balance.margin()) {
                worst = Some(result);
            }
        }
    }
    worst
}

/// The worst result over one edge, of all parts that the force may act on. Because what each part shifts and what the force
/// adds are sums, the worst place is found without a balance for each.
fn on_edge(piece: &Piece, case: &StabilityCase, edge: &Edge, load: f64) -> CaseResult {
    /// Less than this, N·mm, is no difference.
    const SAME: f64 = 1e-6;
    let ground = Ground { raised: case.raised };
    let worst_set = match case.open {
        OpenParts::Shut | OpenParts::One => vec![false; piece.moving.len()],
        OpenParts::All => piece.worst_open(edge, ground, case.share, load, usize::MAX),
    };
    let weight = piece.balance(edge, ground, &worst_set, case.share, load, &[]).weight;
    let down = match case.vertical {
        Vertical::None => 0.0,
        Vertical::Fixed(force) => force,
        Vertical::OfWeight { share, most } => (share * weight).min(most),
    };
    let mut on = None;
    if case.at == LoadAt::OpenFront {
        let shifts = piece.shifts(edge, ground, case.share, load);
        let mut most = f64::NEG_INFINITY;
        for (i, ((moving, shift), open)) in piece.moving.iter().zip(shifts).zip(&worst_set).enumerate() {
            let at = inwards(moving.opening.moved(moving.front, case.share), edge);
            let tips = down * ground.place(edge, at).0 + if *open { 0.0 } else { shift };
            if tips > most + SAME {
                (on, most) = (Some(i), tips);
            }
        }
    }
    let mut open = worst_set;
    if let Some(it) = on.and_then(|i: usize| open.get_mut(i)) {
        *it = true;
    }
    let at = on
        .and_then(|i| piece.moving.get(i))
        .map_or_else(|| top_place(piece, edge), |moving| inwards(moving.opening.moved(moving.front, case.share), edge));
    let mut pushed = top_place(piece, edge);
    pushed[1] = pushed[1].min(case.outward_at);
    let forces = [Force { at, down, out: 0.0 }, Force { at: pushed, down: 0.0, out: case.outward }];
    let balance = piece.balance(edge, ground, &open, case.share, load, &forces);
    CaseResult { case: *case, balance, down, load, on, arm: edge.outside(at[0], at[2]) }
}

/// 50 mm inside the outer edge of the top, on the side of the edge.
fn top_place(piece: &Piece, edge: &Edge) -> [f64; 3] {
    let (low, high) = piece.bounds;
    let side = |k: usize, out: f64| {
        if out > 0.5 {
            high[k]
        } else if out < -0.5 {
            low[k]
        } else {
            (low[k] + high[k]) / 2.0
        }
    };
    inwards([side(0, edge.outward.0), high[1], side(2, edge.outward.1)], edge)
}

fn inwards(at: [f64; 3], edge: &Edge) -> [f64; 3] {
    [at[0] - 50.0 * edge.outward.0, at[1], at[2] - 50.0 * edge.outward.1]
}
