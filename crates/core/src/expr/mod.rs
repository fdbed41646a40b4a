//! Length expressions: numbers with units, inch fractions, named parameters and the four operations, reckoned exactly.
//!
//! A bare number is a pure number; where a length is asked for, or beside a length in a sum, it counts the design's
//! unit. Number times length, length over number and length over length make sense; length times length does not.
//! All steps are exact fractions; only the last one rounds, to a whole nanometre.

mod dim;
mod parse;
mod quantity;
mod rational;
mod scope;
#[cfg(test)]
mod tests;
mod token;

use std::ops::Range;

pub use dim::Dim;
pub use parse::{Expr, MAX_CHARS, MAX_NESTING};
pub use quantity::Quantity;
pub use rational::Rational;
pub use scope::{MAX_PARAMETERS, Scope, is_parameter_name};

/// A mistake in a length expression: where it is, what it is, and what would mend it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{cause}{}", .mend.as_ref().map(|mend| format!("; {mend}")).unwrap_or_default())]
pub struct ExprError {
    /// The bytes of the expression that are at fault.
    pub span: Range<usize>,
    /// The parameter whose expression this is; `None` for an expression outside the parameters.
    pub parameter: Option<String>,
    /// What is wrong, in plain words.
    pub cause: String,
    /// What would mend it.
    pub mend: Option<String>,
    /// Whether this only follows from a mistake in a parameter that is reported by itself.
    pub consequence: bool,
}

impl ExprError {
    pub(crate) fn new(span: Range<usize>, cause: impl Into<String>) -> Self {
        Self { span, parameter: None, cause: cause.into(), mend: None, consequence: false }
    }

    pub(crate) fn mend(mut self, mend: impl Into<String>) -> Self {
        self.mend = Some(mend.into());
        self
    }

    fn too_large(span: Range<usize>) -> Self {
        Self::new(span, "the value is too large").mend("lengths go up to 100 m")
    }
}
