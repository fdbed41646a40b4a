//! Planning bars: exact where the effort suffices.
//!
//! Patterns are generated for a linear programme (Gilmore & Gomory, Oper. Res. 9 (1961) 849-859); its dual prices,
//! rounded to whole numbers and checked by an exact knapsack, prove the bound; diving turns it into whole bars.

mod dive;
mod greedy;
mod knapsack;
mod master;
mod plan;
mod problem;

pub use plan::cut_bars;
