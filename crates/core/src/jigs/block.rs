//! A drilling block, and whether it serves a joint.

use serde::Serialize;

use crate::length::Length;

/// A drilling block: one row of holes of one diameter.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Block {
    /// Diameter of its holes.
    pub diameter: Length,
    /// From its fence to the row.
    pub from_fence: Length,
    /// From its stop to each hole, ascending.
    pub holes: Vec<Length>,
}

/// How a block serves a joint.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Use {
    /// From the datum end of the joint to the end of the block that lies nearer to it.
    pub set_off: Length,
    /// Whether it lies end for end: the other end is nearer to the datum end.
    pub reversed: bool,
    /// The holes that are taken, by number from 1 at the stop.
    pub holes: Vec<usize>,
}

impl Block {
    /// The block for a row of places; its stop lies at the datum end of the joint.
    #[must_use]
    pub fn for_row(diameter: Length, from_fence: Length, places: &[Length]) -> Self {
        let mut holes = places.to_vec();
        holes.sort();
        holes.dedup();
        Self { diameter, from_fence, holes }
    }

    /// Its length: as much beyond the last hole as before the first.
    #[must_use]
    pub fn length(&self) -> Length {
        match (self.holes.first(), self.holes.last()) {
            (Some(first), Some(last)) => *first + *last,
            _ => Length::ZERO,
        }
    }

    /// How the block serves a row of places along a joint: with its stop at the datum end if it can, else set off from
    /// there, as it lies before end for end; none if it does not.
    #[must_use]
    pub fn serves(&self, row: &Self) -> Option<Use> {
        if row.diameter != self.diameter || row.from_fence != self.from_fence || row.holes.is_empty() {
            return None;
        }
        let length = self.length();
        let mut uses: Vec<Use> = Vec::new();
        for reversed in [false, true] {
            let mut own: Vec<(Length, usize)> = self
                .holes
                .iter()
                .enumerate()
                .map(|(i, at)| (if reversed { length - *at } else { *at }, i + 1))
                .collect();
            own.sort();
            let Some(first) = row.holes.first() else { continue };
            // The first place falls on one of the holes, which gives the set-off.
            for (at, _) in &own {
                let set_off = *first - *at;
                let taken: Option<Vec<usize>> = row
                    .holes
                    .iter()
                    .map(|place| own.iter().find(|(hole, _)| *hole + set_off == *place).map(|(_, number)| *number))
                    .collect();
                if let Some(holes) = taken.filter(|_| set_off >= Length::ZERO) {
                    uses.push(Use { set_off, reversed, holes });
                }
            }
        }
        uses.into_iter().min_by_key(|it| (it.set_off, it.reversed))
    }
}
