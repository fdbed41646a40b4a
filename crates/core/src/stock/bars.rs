//! Banding that is sold in straight lengths: which strips come from which bar, as data.

use super::banding::OVERSIZE;
use super::{BandingStep, Quality};
use crate::assembly::PartEdge;
use crate::length::Length;

/// How the strips of one banding are cut from its bars.
#[derive(Clone, Debug, PartialEq)]
pub struct BarLot {
    /// The name of the banding.
    pub banding: String,
    /// Length of one bar as bought.
    pub sold_in: Length,
    /// The bars that are cut into.
    pub bars: Vec<CutBar>,
    /// Strips that are longer than a bar: they must be joined, or longer bars bought.
    pub too_long: Vec<BandingStep>,
    /// How good the plan of the others is: no fewer bars, or not so many fewer.
    pub quality: Quality,
}

/// One bar and what is cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct CutBar {
    /// The strips from the bar's start, a saw cut apart.
    pub strips: Vec<BandingStep>,
    /// What is left behind the last saw cut.
    pub rest: Length,
}

impl BarLot {
    /// The bar that the strip for an edge comes from: its number, from 1, and the bar.
    #[must_use]
    pub fn bar_of(&self, part: usize, edge: PartEdge) -> Option<(usize, &CutBar)> {
        let cuts = |bar: &CutBar| bar.strips.iter().any(|it| it.part == part && it.edge == edge);
        (1..).zip(&self.bars).find(|(_, bar)| cuts(bar))
    }

    /// How many bars and how good that is, in words; `say` writes a length.
    #[must_use]
    pub fn in_words(&self, say: &dyn Fn(Length) -> String) -> String {
        let count = self.bars.len();
        let bars = if count == 1 { "bar" } else { "bars" };
        format!("{count} {bars} of {}: {}", say(self.sold_in), self.quality.nearness())
    }

    /// What is to be done about strips that are longer than a bar, if there are any; `number` names a part, `say` writes a length.
    #[must_use]
    pub fn too_long_in_words(
        &self,
        number: &dyn Fn(usize) -> String,
        say: &dyn Fn(Length) -> String,
    ) -> Option<String> {
        let longest = self.too_long.iter().map(|it| it.strip).max()?;
        let numbers = self.too_long.iter().map(|it| number(it.part)).collect::<Vec<_>>().join(", ");
        let (name, longest, over, bar) = (&self.banding, say(longest), say(OVERSIZE), say(self.sold_in));
        Some(if self.too_long.len() == 1 {
            format!(
                "{name}: the strip for {numbers} is {longest} long, {over} of it over, and longer than a bar of {bar}: join it, \
                 or buy a longer bar"
            )
        } else {
            format!(
                "{name}: the strips for {numbers} are up to {longest} long, {over} of it over, and longer than a bar of {bar}: \
                 join them, or buy longer bars"
            )
        })
    }
}
