//! From the parts of a piece and the boards in stock to cutting plans, and stock in and out of tables.
//!
//! The core knows furniture, the cutting crate knows rectangles; this crate knows both and asks one on behalf of the other.
//! Pure: no files, no clock.
//!
//! - [`plan()`] asks for a [`CuttingPlan`](casewright_core::stock::CuttingPlan).
//! - [`read_table`] and [`write_table`] bring boards in from a pasted table and out again ([`TableForm`]: with which separator and
//!   decimal mark); [`read_box`] an old cabinet; [`admitted`] lets them into a design.

mod admit;
mod bars;
mod convert;
mod lot;
mod old_box;
mod plan;
mod pool;
mod table;
mod words;

pub use admit::{StrangeMaterial, admitted};
pub use old_box::read_box;
pub use table::{Separator, TableError, TableForm, read_table, write_table, write_table_as};

pub use plan::{PlanError, PlanOptions, plan, plan_watched};

#[cfg(test)]
mod tests;
