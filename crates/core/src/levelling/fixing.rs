//! Where to screw the piece to the wall: in reach of its uprights, out of the way of pipes and leads.

use serde::Serialize;

use crate::assembly::Assembly;
use crate::design::{ObstacleKind, Resolved, Role};
use crate::geometry::Axis;
use crate::length::Length;

/// Leads run upright and level from sockets and switches; this far to each side of one nothing is drilled (from memory: the
/// zones that wiring rules ask for are 150 to 300 mm wide). A detector and the house's own plans go before it.
const BESIDE_LEADS: Length = Length::from_mm(150);
/// Pipes run upright and level from valves and taps; this far to each side of a pipe nothing is drilled (from memory).
const BESIDE_PIPES: Length = Length::from_mm(60);
/// What is as long as this goes on its own way and not also across it (own choice).
const LONG: Length = Length::from_mm(1_000);
/// Below the top of the carcass (common practice: through the rear rail or just under the top).
const BELOW_TOP: Length = Length::from_mm(50);
/// From the face of an upright to the screw through the rear rail or a bracket (own choice).
const BESIDE_UPRIGHT: Length = Length::from_mm(40);
/// As far from an upright a rear rail or bracket still holds well (own choice).
const FAR_FROM_UPRIGHT: i64 = 260;

/// A band of the wall in which nothing is drilled.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Zone {
    /// What it belongs to.
    pub of: String,
    /// From left to right; the whole wall if none.
    pub across: Option<(Length, Length)>,
    /// From below to above; the whole wall if none.
    pub up: Option<(Length, Length)>,
}

impl Zone {
    /// Whether a place of the wall lies in it.
    #[must_use]
    pub fn holds(&self, x: Length, y: Length) -> bool {
        let within = |range: Option<(Length, Length)>, at: Length| range.is_none_or(|(from, to)| from < at && at < to);
        within(self.across, x) && within(self.up, y)
    }
}

/// A place to fix the piece to the wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FixingPoint {
    /// Along the wall.
    pub x: Length,
    /// Above the floor.
    pub y: Length,
    /// The number of the upright beside it.
    pub beside: String,
}

/// The bands along the leads and pipes that the site names.
#[must_use]
pub fn zones(design: &Resolved) -> Vec<Zone> {
    let mut zones = Vec::new();
    for it in &design.site.obstacles {
        let beside = match it.kind {
            ObstacleKind::Socket => BESIDE_LEADS,
            ObstacleKind::Pipe | ObstacleKind::Valve => BESIDE_PIPES,
            _ => continue,
        };
        let across = (it.corner.0 - beside, it.corner.0 + it.size.0 + beside);
        let up = (it.corner.1 - beside, it.corner.1 + it.size.1 + beside);
        let mut add = |across, up| zones.push(Zone { of: it.name.clone(), across, up });
        if it.size.0 < LONG {
            add(Some(across), None);
        } else {
            // What is itself level goes up, if anywhere, from its ends.
            let (left, right) = (it.corner.0, it.corner.0 + it.size.0);
            add(Some((left - beside, left + beside)), None);
            add(Some((right - beside, right + beside)), None);
        }
        // What is itself upright over most of a room has no level band.
        if it.size.1 < LONG {
            add(None, Some(up));
        }
    }
    zones
}

/// A fixing point beside each upright, moved along the wall and down out of the zones; with the uprights that found none.
#[must_use]
pub fn fixing_points(design: &Resolved, assembly: &Assembly) -> (Vec<FixingPoint>, Vec<String>) {
    let zones = zones(design);
    let uprights = || assembly.parts.iter().filter(|part| matches!(part.role, Role::Side | Role::Upright));
    let (mut points, mut without) = (Vec::new(), Vec::new());
    let step = Length::from_mm(10);
    for part in uprights() {
        let (low, high) = part.cuboid.range(Axis::Y);
        let (left, right) = part.cuboid.range(Axis::X);
        let reach = (high - low).half();
        let mut found = None;
        let mut down = Length::ZERO;
        'search: while down <= reach {
            let beside =
                (0..).map(|at| BESIDE_UPRIGHT + step * at).take_while(|it| *it <= Length::from_mm(FAR_FROM_UPRIGHT));
            for x in beside.flat_map(|off| [right + off, left - off]) {
                let y = high - BELOW_TOP - down;
                let envelope = assembly.envelope.range(Axis::X);
                let inside = envelope.0 < x && x < envelope.1;
                let in_upright =
                    uprights().any(|it| it.cuboid.range(Axis::X).0 <= x && x <= it.cuboid.range(Axis::X).1);
                if inside && !in_upright && !zones.iter().any(|zone| zone.holds(x, y)) {
                    found = Some(FixingPoint { x, y, beside: part.number.clone() });
                    break 'search;
                }
            }
            down += step;
        }
        match found {
            Some(point) => points.push(point),
            None => without.push(part.number.clone()),
        }
    }
    (points, without)
}
