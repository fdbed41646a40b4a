//! Glue: how much surface gets it, and how long it takes until everything is pressed.

use serde::Serialize;

use crate::assembly::{Assembly, Hole, JoinedBy};
use crate::geometry::Axis;
use crate::joinery::holes;

/// Open time of usual white glue at 20 °C, minutes (common practice; the maker's sheet of the glue goes before it).
pub(super) const OPEN_MINUTES: f64 = 8.0;
/// Seconds for a dowel: glue in its holes, and driving it in (own estimate).
const PER_DOWEL_S: f64 = 8.0;
/// Seconds for a square decimetre of other glued surface (own estimate).
const PER_DM2_S: f64 = 3.0;
/// Seconds to bring one group in its place (own estimate).
const PER_GROUP_S: f64 = 20.0;
/// Seconds to set one clamp (own estimate).
const PER_CLAMP_S: f64 = 20.0;

/// How long a glue-up takes, and what to do where that is too long.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GlueTime {
    /// From the first glue to the last clamp, minutes; an estimate for one person.
    pub minutes: f64,
    /// The open time that it is held against, minutes.
    pub open_minutes: f64,
    /// What to do where it takes longer.
    pub warning: Option<String>,
}

/// Glue and hardware of some joints.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Joining {
    pub(super) dowels: usize,
    pub(super) screws: usize,
    pub(super) area_mm2: f64,
    /// Area without the dowels' own surface.
    flat_mm2: f64,
}

impl Joining {
    /// Seconds until `groups` groups are together and `clamps` clamps set.
    pub(super) fn seconds(&self, groups: usize, clamps: usize) -> f64 {
        self.dowels as f64 * PER_DOWEL_S
            + self.flat_mm2 / 10_000.0 * PER_DM2_S
            + groups as f64 * PER_GROUP_S
            + clamps as f64 * PER_CLAMP_S
    }

    /// Whether any glue is in it.
    pub(super) fn is_glued(&self) -> bool {
        self.area_mm2 > 0.0
    }
}

/// Dowels, screws and glued surface of these joints: the face of a butt joint and the mantles of its dowels; floor and
/// both walls of a groove, floor and shoulder of a rebate.
pub(super) fn joining(assembly: &Assembly, joints: &[usize]) -> Joining {
    let mut sum = Joining::default();
    for (index, joint) in joints.iter().filter_map(|&index| Some((index, assembly.joints.get(index)?))) {
        let sides: Vec<f64> = (Axis::ALL.into_iter())
            .filter(|&axis| axis != joint.direction.axis)
            .map(|axis| joint.contact.size(axis).mm())
            .collect();
        let (area, long) = (sides.iter().product::<f64>(), sides.iter().copied().fold(0.0, f64::max));
        let bored = assembly.parts.get(joint.edge_part).into_iter().flat_map(holes);
        let bored: Vec<&Hole> = bored.filter(|hole| hole.joint == Some(index)).collect();
        match &joint.kind {
            JoinedBy::Dowels { diameter, length, .. } => {
                let dowels = bored.iter().filter(|it| !it.is_for_screw()).count();
                sum.dowels += dowels;
                sum.screws += bored.len() - dowels;
                sum.flat_mm2 += area;
                sum.area_mm2 += area + dowels as f64 * std::f64::consts::PI * diameter.mm() * length.mm();
            }
            JoinedBy::Housing { depth } => {
                let glued = area + 2.0 * depth.mm() * long;
                sum.flat_mm2 += glued;
                sum.area_mm2 += glued;
            }
            // The floor of a rebate and its one shoulder.
            JoinedBy::Rebate { depth, .. } => {
                let glued = area + depth.mm() * long;
                sum.flat_mm2 += glued;
                sum.area_mm2 += glued;
            }
            JoinedBy::Screws => sum.screws += bored.len(),
            JoinedBy::Angles | JoinedBy::Loose => {}
        }
    }
    sum
}
