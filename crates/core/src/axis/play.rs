//! How far a size can go under all musts: by shortest paths, exactly, or by linear programs where ties are left.

use super::AxisError;
use super::elastic::{End, furthest};
use super::exact::{Flat, Graph};
use super::problem::MustId;
use super::reduce::Reduced;
use crate::Length;

/// The noise of the linear programs, in nanometres.
const WHOLE: f64 = 0.02;

/// One end of the play of a size, and what stops it there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// The size at this end. Exact; where ties are in play, the last whole nanometre that can be reached.
    pub size: Length,
    /// The musts that together stop it, ascending. None of them alone need be in touch with the size: a chain of bays
    /// stops a divider by all their least sizes.
    pub stopped_by: Vec<MustId>,
}

/// The smallest and the largest value of a size; none where nothing stops it.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Play {
    /// The smallest size.
    pub least: Option<Reach>,
    /// The largest size.
    pub most: Option<Reach>,
}

/// The play of `flat` under the musts of `reduced`.
pub(crate) fn play(reduced: &Reduced, flat: Flat) -> Result<Play, AxisError> {
    if reduced.ties.is_empty() || reduced.class[flat.hi] == reduced.class[flat.lo] {
        return Ok(exact(reduced, flat));
    }
    let (hi, lo) = (reduced.class[flat.hi], reduced.class[flat.lo]);
    let terms: Vec<(usize, f64)> =
        [(hi, 1.0), (lo, -1.0)].into_iter().filter(|(class, _)| *class != reduced.free).collect();
    let opposite: Vec<(usize, f64)> = terms.iter().map(|(class, factor)| (*class, -factor)).collect();
    let constant = flat.constant + reduced.offset[flat.hi] - reduced.offset[flat.lo];
    // Inside the play: down at the upper end and up at the lower; what is a whole number but for noise stays.
    let whole = |nm: f64| if (nm - nm.round()).abs() < WHOLE { nm.round() } else { nm.floor() };
    let reach = |end: End, sign: f64| Reach {
        size: Length::from_nm(constant) + Length::from_nm(sign as i64 * whole(end.size * 1e6) as i64),
        stopped_by: end.musts.into_iter().map(MustId).collect(),
    };
    Ok(Play {
        least: furthest(reduced, &opposite)?.map(|end| reach(end, -1.0)),
        most: furthest(reduced, &terms)?.map(|end| reach(end, 1.0)),
    })
}

fn exact(reduced: &Reduced, flat: Flat) -> Play {
    let nodes = reduced.class.len();
    let graph = Graph::new(nodes, &reduced.edges, false);
    let reach = |from: usize, to: usize, sign: i64| {
        // No cycle below zero is left in a reduced system, so the paths exist.
        let paths = graph.from(from).ok()?;
        let distance = paths.distance[to]?;
        let mut musts: Vec<usize> = graph.path(&paths, to).into_iter().map(|edge| reduced.edges[edge].must).collect();
        musts.sort_unstable();
        musts.dedup();
        Some(Reach {
            size: Length::from_nm(sign * distance + flat.constant),
            stopped_by: musts.into_iter().map(MustId).collect(),
        })
    };
    Play { least: reach(flat.hi, flat.lo, -1), most: reach(flat.lo, flat.hi, 1) }
}
