//! Length expressions as they are written in a design file.

use serde::{Deserialize, Serialize};

/// A length as it is written: a number or an expression over parameters.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Dim(String);

impl Dim {
    /// The length written like this.
    #[must_use]
    pub fn new(text: impl Into<String>) -> Self {
        Self(text.into())
    }

    /// What was written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }
}
