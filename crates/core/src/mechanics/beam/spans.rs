//! How long a board may span, and how thin it may be.

use serde::Serialize;

use super::cases::Case;
use super::section::{Part, Section};

/// The rule that a span must keep.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SpanRule {
    /// The loading case.
    pub case: Case,
    /// Load per length of the span, own weight included; for a point case the force itself.
    pub load: f64,
    /// Largest deflection as a share of the span: 1/144 for L/144.
    pub limit: f64,
    /// What the first deflection grows to, as a factor: 1 for no creep.
    pub growth: f64,
}

impl SpanRule {
    const fn spreads(&self) -> bool {
        matches!(self.case, Case::SimpleUniform | Case::FixedUniform | Case::CantileverUniform)
    }

    /// How far the rule is used up at this span: 1 is just enough.
    #[must_use]
    pub fn usage(&self, span: f64, section: &Section) -> f64 {
        let load = if self.spreads() { self.load * span } else { self.load };
        let sag = self.growth * self.case.deflection(load, span, section) / (self.limit * span);
        sag.max(self.case.moment() * load * span / section.moment_capacity)
    }
}

/// The longest span that keeps the rule, deflection (shear and creep included) and strength; at most `most`. Usage grows
/// with the span, so bisection finds it.
#[must_use]
pub fn longest_span(rule: &SpanRule, section: &Section, most: f64) -> f64 {
    if rule.usage(most, section) <= 1.0 {
        return most;
    }
    bisect(0.0, most, |span| rule.usage(span, section) <= 1.0)
}

/// The least thickness of a board (its width, modulus, strength and shear ratio taken from `board`) that keeps the rule
/// over `span`; none if even `most` does not. `own_weight` is the load per length that each unit of thickness adds.
#[must_use]
pub fn thinnest_board(rule: &SpanRule, span: f64, board: &Part, own_weight: f64, most: f64) -> Option<f64> {
    let fails = |height: f64| {
        let section = Section::of_part(&Part { height, ..*board });
        SpanRule { load: rule.load + own_weight * height, ..*rule }.usage(span, &section) > 1.0
    };
    if fails(most) {
        return None;
    }
    Some(bisect(0.0, most, fails) * (1.0 + 1e-12))
}

/// The largest place for which `holds`, if it holds at `low` and not at `high`.
fn bisect(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..80 {
        let middle = (low + high) / 2.0;
        if holds(middle) { low = middle } else { high = middle }
    }
    low
}
