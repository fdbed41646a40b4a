//! The order of work, computed from the parts, their grooves and their joints.
//!
//! Boards are brought together by straight moves along the axes. A glue-up closes joints of one axis only: a dowelled or
//! housed board slides in along its joint, and nothing may lie in its way. Taking a finished group apart is the same
//! question backwards: for one axis, parts that block or tie each other are one block, and the blocks come apart
//! (a directional blocking graph, after Wilson and Latombe 1994). Whatever holds a group together also holds each larger
//! group together, so that a group that comes apart in no direction proves that no such order exists.

mod blocking;
mod clamps;
mod findings;
mod finish;
mod glue;
mod mend;
mod order;
mod reach;
mod solids;
mod steps;

#[cfg(test)]
mod tests;

pub use clamps::{Caul, Clamps};
pub use findings::{findings, on_every_edit};
pub use glue::GlueTime;
pub use steps::plan;

use serde::Serialize;

use crate::geometry::Direction;
use crate::length::Length;

/// The order of work.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct BuildPlan {
    /// The steps, in their order.
    pub steps: Vec<Step>,
    /// What cannot be put together, with what would mend it; empty if all can.
    pub stuck: Vec<Stuck>,
}

/// What a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum StepKind {
    /// Joints closed under pressure while the glue is wet.
    GlueUp,
    /// Parts screwed or bolted together.
    Fasten,
    /// Something put in its place on the standing piece.
    Fit,
}

/// One step of the work.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    /// A stable id: the kind and the parts that are brought together, so that ticks stay when other steps change.
    pub id: String,
    /// The ids by which it is ticked: its own, or where it puts in several parts that are alike one for each of them.
    pub ticks: Vec<String>,
    /// What it is.
    pub kind: StepKind,
    /// What is done, in words.
    pub title: String,
    /// What is brought together, each group already in one piece, in the order along `direction`; indices into
    /// [`Assembly::parts`](crate::assembly::Assembly::parts).
    pub groups: Vec<Vec<usize>>,
    /// Along this axis the groups are closed. Groups later in the list come from further out in this direction; where
    /// something is fitted, one after another.
    pub direction: Direction,
    /// The joints that it closes, indices into [`Assembly::joints`](crate::assembly::Assembly::joints).
    pub joints: Vec<usize>,
    /// Dowels that go in.
    pub dowels: usize,
    /// Screws that go in.
    pub screws: usize,
    /// The surface that gets glue: edges and walls of grooves, and the mantles of dowels; square millimetres.
    pub glue_area_mm2: f64,
    /// How to press it; none without glue.
    pub clamps: Option<Clamps>,
    /// Diagonals to measure before the glue sets.
    pub diagonals: Vec<Diagonal>,
    /// What must be fitted before this step, because it cannot be reached after it.
    pub first: Vec<String>,
    /// How long it takes from the first glue to the last clamp; none without glue.
    pub time: Option<GlueTime>,
    /// Whatever else is to be minded.
    pub notes: Vec<String>,
}

/// A rectangle whose diagonals are measured: both must be the same, and this long.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Diagonal {
    /// Of what.
    pub of: String,
    /// Its two sides.
    pub sides: (Length, Length),
    /// Its diagonal.
    pub length: Length,
}

/// Parts that cannot be brought together in any order.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stuck {
    /// The parts, indices into [`Assembly::parts`](crate::assembly::Assembly::parts).
    pub parts: Vec<usize>,
    /// What keeps them from coming together, one sentence.
    pub what: String,
    /// The joints of which any one, made otherwise, would mend it.
    pub joints: Vec<usize>,
    /// What would mend it.
    pub mend: String,
}

impl Step {
    /// Whether it is done, where these are ticked.
    #[must_use]
    pub fn is_done(&self, ticked: &[String]) -> bool {
        self.ticks.iter().all(|it| ticked.contains(it))
    }

    /// What it puts on the standing piece: all but what stands; of other steps nothing.
    #[must_use]
    pub fn fitted(&self) -> &[Vec<usize>] {
        match self.kind {
            StepKind::Fit => self.groups.get(1..).unwrap_or_default(),
            StepKind::GlueUp | StepKind::Fasten => &[],
        }
    }

    /// Every part that it moves or joins.
    pub fn parts(&self) -> impl Iterator<Item = usize> {
        self.groups.iter().flatten().copied()
    }
}
