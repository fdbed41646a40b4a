//! Dimension chains after ISO 129-1: what is dimensioned, on which side of a view.

use std::collections::BTreeSet;

use casewright_core::Length;

use crate::font;
use crate::tag::Tag;

/// The side of a view at which a chain stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Under the view: measures along the horizontal axis.
    Below,
    /// Over the view: measures along the horizontal axis.
    Above,
    /// To the left: measures along the vertical axis.
    Left,
    /// To the right: measures along the vertical axis.
    Right,
}

impl Side {
    /// Every side, in the order in which they are laid out.
    pub const ALL: [Self; 4] = [Self::Below, Self::Left, Self::Above, Self::Right];

    /// Whether chains at this side measure along the horizontal axis of the view.
    #[must_use]
    pub fn is_horizontal(self) -> bool {
        matches!(self, Self::Below | Self::Above)
    }

    /// Whether a value, which stands above its line or to the left of it, lies on the far side of the line.
    pub(crate) fn text_is_outward(self) -> bool {
        matches!(self, Self::Above | Self::Left)
    }
}

/// One dimension: from one position to another along the axis of its chain, in model lengths.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    /// Where it begins.
    pub from: Length,
    /// Where it ends; beyond `from`.
    pub to: Length,
    /// The value as printed, decimal comma and all.
    pub text: String,
    /// What is dimensioned.
    pub tag: Option<Tag>,
}

/// Dimensions on one common line.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// At which side of the view.
    pub side: Side,
    /// Chains of a lower rank stand nearer the view; equal ranks are sorted by how fine they are.
    pub rank: i32,
    /// Where the extension lines begin, across the chain, in model lengths; nothing: at the outline of the view.
    pub feature: Option<Length>,
    /// The dimensions, none overlapping another.
    pub spans: Vec<Span>,
}

impl Chain {
    /// A chain through all the positions, each printed by `format`; equal positions are passed over.
    pub fn through(side: Side, positions: &[Length], format: impl Fn(Length) -> String) -> Self {
        let mut sorted = positions.to_vec();
        sorted.sort();
        sorted.dedup();
        let spans = sorted
            .windows(2)
            .filter_map(|pair| match pair {
                [from, to] => Some(Span { from: *from, to: *to, text: format(*to - *from), tag: None }),
                _ => None,
            })
            .collect();
        Self { side, rank: 0, feature: None, spans }
    }

    /// The baseline manner: one chain of a single dimension for each position, all from the same base.
    pub fn baselines(side: Side, base: Length, positions: &[Length], format: impl Fn(Length) -> String) -> Vec<Self> {
        let mut sorted: Vec<Length> = positions.iter().copied().filter(|position| *position != base).collect();
        sorted.sort();
        sorted.dedup();
        sorted.iter().map(|position| Self::through(side, &[base, *position], &format)).collect()
    }

    /// The same chain with a rank.
    #[must_use]
    pub fn ranked(self, rank: i32) -> Self {
        Self { rank, ..self }
    }

    /// The whole reach of the chain.
    #[must_use]
    pub fn reach(&self) -> Option<(Length, Length)> {
        let from = self.spans.iter().map(|span| span.from).min()?;
        let to = self.spans.iter().map(|span| span.to).max()?;
        Some((from, to))
    }

    /// Both ends of every span, each once, ascending.
    #[must_use]
    pub fn positions(&self) -> Vec<Length> {
        let set: BTreeSet<Length> = self.spans.iter().flat_map(|span| [span.from, span.to]).collect();
        set.into_iter().collect()
    }

    /// The mean length of a span, by which finer chains come nearer the view.
    pub(crate) fn fineness(&self) -> Length {
        let total: Length = self.spans.iter().map(|span| span.to - span.from).sum();
        Length::from_nm(total.nm() / i64::try_from(self.spans.len().max(1)).unwrap_or(1))
    }
}

/// Removes every dimension that an earlier chain along the same axis gives already, spans that are not above zero,
/// and chains that are left empty. ISO 129-1: each dimension is given once only.
pub fn drop_repeats(chains: &mut Vec<Chain>) {
    let mut given = BTreeSet::new();
    for chain in chains.iter_mut() {
        let horizontal = chain.side.is_horizontal();
        chain.spans.retain(|span| span.to > span.from && given.insert((horizontal, span.from, span.to)));
    }
    chains.retain(|chain| !chain.spans.is_empty());
}

/// The measures of dimensioning, in paper millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DimensionStyle {
    /// Lettering height of the values; arrow heads are as long.
    pub height_mm: f64,
    /// From the outline to the first dimension line (common school value 10).
    pub first_mm: f64,
    /// From one dimension line to the next, at least (common school value 7 to 8).
    pub pitch_mm: f64,
    /// From the dimension line to the base line of the value (textbooks: about 1; a little more, so that
    /// a comma clears the arrow heads).
    pub text_gap_mm: f64,
    /// From the outline to the start of an extension line (ISO 129-1 permits about 8 line widths).
    pub start_gap_mm: f64,
    /// How far an extension line passes the dimension line (ISO 129-1: about 8 line widths, so 2 at 0.25).
    pub overshoot_mm: f64,
    /// Below this the arrows stand outside, pointing inwards (textbooks: 10).
    pub arrows_inside_mm: f64,
}

impl Default for DimensionStyle {
    fn default() -> Self {
        Self {
            height_mm: font::HEIGHT_DIMENSION_MM,
            first_mm: 10.0,
            pitch_mm: 8.0,
            text_gap_mm: 1.3,
            start_gap_mm: 1.0,
            overshoot_mm: 2.0,
            arrows_inside_mm: 10.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(length: Length) -> String {
        format!("{}", length.mm()).replace('.', ",")
    }

    #[test]
    fn a_chain_closes_and_a_baseline_starts_at_its_base() {
        let at = |values: &[i64]| values.iter().map(|v| Length::from_um(*v * 100)).collect::<Vec<_>>();
        let chain = Chain::through(Side::Below, &at(&[0, 180, 5825, 180, 6005]), mm);
        let texts: Vec<_> = chain.spans.iter().map(|span| span.text.as_str()).collect();
        assert_eq!(texts, ["18", "564,5", "18"]);
        let total: Length = chain.spans.iter().map(|span| span.to - span.from).sum();
        assert_eq!(chain.reach(), Some((Length::ZERO, total)));
        let rows = Chain::baselines(Side::Left, Length::ZERO, &at(&[300, 100, 0]), mm);
        assert_eq!(rows.iter().map(|row| row.spans[0].text.as_str()).collect::<Vec<_>>(), ["10", "30"]);
    }

    #[test]
    fn nothing_is_given_twice() {
        let at = [0, 18, 582, 600].map(Length::from_mm);
        let mut chains = vec![
            Chain::through(Side::Below, &at, mm),
            Chain::through(Side::Above, &[at[1], at[2]], mm),
            Chain::through(Side::Above, &[at[0], at[3]], mm),
            Chain::through(Side::Left, &[at[0], at[3]], mm),
            Chain::through(Side::Below, &[at[0], at[3]], mm),
        ];
        drop_repeats(&mut chains);
        let sides: Vec<_> = chains.iter().map(|chain| chain.side).collect();
        assert_eq!(sides, [Side::Below, Side::Above, Side::Left]);
    }
}
