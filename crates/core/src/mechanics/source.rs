//! Where a value comes from, and how far it may be trusted.

use std::fmt;

use serde::Serialize;

/// How far a value may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Trust {
    /// Given by the user.
    Own,
    /// Read in a published standard, handbook, data sheet or reproduction of one.
    Published,
    /// Read in a text that cites the standard, not in the standard's own text.
    SecondHand,
    /// A fact of the trade without one author, or told by advice pages on the web.
    CommonPractice,
    /// Derived here from stated assumptions.
    Derived,
    /// Remembered only: a plausible value, never one that decides alone.
    FromMemory,
}

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Source {
    /// The text, such as `EN 312 type P2`.
    pub text: &'static str,
    /// How far it may be trusted.
    pub trust: Trust,
}

impl Source {
    /// Read in a published text.
    #[must_use]
    pub const fn published(text: &'static str) -> Self {
        Self { text, trust: Trust::Published }
    }

    /// Read in a text that cites the named one.
    #[must_use]
    pub const fn second_hand(text: &'static str) -> Self {
        Self { text, trust: Trust::SecondHand }
    }

    /// A fact of the trade.
    #[must_use]
    pub const fn practice(text: &'static str) -> Self {
        Self { text, trust: Trust::CommonPractice }
    }

    /// Derived here.
    #[must_use]
    pub const fn derived(text: &'static str) -> Self {
        Self { text, trust: Trust::Derived }
    }

    /// Remembered only.
    #[must_use]
    pub const fn memory(text: &'static str) -> Self {
        Self { text, trust: Trust::FromMemory }
    }

    /// The user's own value.
    pub const OWN: Self = Self { text: "your own value", trust: Trust::Own };

    /// Whether a limit from this source may make a finding an error; a value from memory or a derived one may not.
    #[must_use]
    pub const fn may_decide(&self) -> bool {
        matches!(self.trust, Trust::Own | Trust::Published | Trust::SecondHand | Trust::CommonPractice)
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text)?;
        match self.trust {
            Trust::Own | Trust::Published => Ok(()),
            Trust::SecondHand => f.write_str(" (second hand)"),
            Trust::CommonPractice => f.write_str(" (common practice)"),
            Trust::Derived => f.write_str(" (estimate)"),
            Trust::FromMemory => f.write_str(" (from memory)"),
        }
    }
}

/// A value with its source.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Sourced {
    /// The value, in the unit that the field names.
    pub value: f64,
    /// Where it comes from.
    pub source: Source,
}

impl Sourced {
    /// The value with its source.
    #[must_use]
    pub const fn new(value: f64, source: Source) -> Self {
        Self { value, source }
    }

    /// The user's value if there is one, else this.
    #[must_use]
    pub fn or_own(self, own: Option<f64>) -> Self {
        own.map_or(self, |value| Self::new(value, Source::OWN))
    }
}
