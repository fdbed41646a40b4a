//! The unit of a design.

use serde::{Deserialize, Serialize};

/// The unit that bare numbers mean and that sizes are rounded and shown in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Unit {
    /// Millimetres in steps of so many.
    Millimetre {
        /// The step, mm.
        step: f64,
    },
    /// Inches in fractions.
    Inch {
        /// 16, 32 or 64.
        denominator: u32,
    },
}
