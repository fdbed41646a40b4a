//! Checks of a built piece: will it hold, will it tip, can it breathe, can it be carried in. Pure functions of the design,
//! its Layout and its Assembly.
//!
//! Each check says what it measured, the limit, the source of both, and what would mend it. A limit that is an estimate or
//! from memory makes a warning at most. Results are calculations: they replace neither the maker's manual nor local codes
//! nor licensed practice.

mod air;
mod banding;
mod carry;
mod cautions;
mod context;
mod ergonomics;
mod fit;
mod handling;
mod joints;
mod known;
mod leads;
mod movers;
mod openings;
mod options;
mod racking;
mod reach_in;
mod reach_ways;
mod report;
mod sag;
mod site;
mod stay_mends;
mod stays;
mod sweeps;
mod tipping;
mod what_if;
mod wood;
mod worktop;

pub use carry::{Carried, Lying, SupportKind, SupportPoint, carried_by};
pub use joints::fixings_needed;
pub use known::Known;
pub use movers::moved_mass_kg;
pub(crate) use openings::is_in_opening_of;
pub use openings::{PlacedOpening, place_opening};
pub use options::CheckOptions;
pub use racking::{Rack, StrapPlan, racking};
pub use sag::{PanelBend, bends};
pub use tipping::{STABILITY_CHECKS, tipping_piece};
pub use what_if::{OtherBoard, Standing, Then, WhatIf, exchangeable, what_if};

use crate::assembly::Assembly;
use crate::design::Resolved;
use crate::finding::Finding;
use crate::layout::Layout;

use context::Context;
use report::Report;

/// As [`all_knowing`], with what the checks read reckoned anew.
#[must_use]
pub fn all(design: &Resolved, layout: &Layout, assembly: &Assembly, options: &CheckOptions) -> Vec<Finding> {
    all_knowing(&Known::of(design, layout, assembly, options), design, layout, assembly, options)
}

/// All findings, worst first: errors, warnings, notes; within each the further past its limit first, then in the order of
/// the checks. The same input gives the same list.
#[must_use]
pub fn all_knowing(
    known: &Known,
    design: &Resolved,
    layout: &Layout,
    assembly: &Assembly,
    options: &CheckOptions,
) -> Vec<Finding> {
    let context = Context::new(design, layout, assembly, options);
    let carried = &known.carried;
    let mut report = Report::default();
    fit::check(&context, &mut report);
    site::check(&context, &mut report);
    sweeps::check(&context, &mut report);
    sag::check(&context, carried, &mut report);
    joints::check(&context, carried, &mut report);
    movers::check(&context, &mut report);
    stays::check(&context, &mut report);
    racking::check(&context, &mut report);
    tipping::check(&context, &mut report);
    air::check(&context, &mut report);
    openings::check(&context, &mut report);
    leads::check(&context, &known.leads, &mut report);
    reach_in::check(&context, &mut report);
    handling::check(&context, &mut report);
    wood::check(&context, &mut report);
    banding::check(&context, &mut report);
    worktop::check(&context, &mut report);
    ergonomics::check(&context, &mut report);
    cautions::check(&context, &mut report);
    report.sorted()
}
