//! What is cut out of every part so far, kept at hand while holes are added.

use super::bore::{groove_in_world, grooves, hole_in_world, holes};
use super::solid::Solid;
use crate::assembly::{Assembly, Hole, Machining, Part};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::length::Length;

/// How far round a place cuts are looked for: more than the deepest hole and the widest cup.
const REACH: Length = Length::from_mm(120);

/// The cuts of all parts of an assembly, by index.
pub(super) struct Taken(Vec<Vec<Solid>>);

impl Taken {
    /// What is there already.
    pub(super) fn of(assembly: &Assembly) -> Self {
        Self(assembly.parts.iter().map(cuts).collect())
    }

    /// The cuts of a part within reach of a place.
    pub(super) fn near(&self, part: usize, place: &Cuboid) -> Vec<Solid> {
        let mut round = *place;
        for axis in Axis::ALL {
            round = round.grown(Direction::new(axis, false), REACH).grown(Direction::new(axis, true), REACH);
        }
        let round = Solid::block(&round);
        let all = self.0.get(part).map(Vec::as_slice).unwrap_or_default();
        all.iter().filter(|it| it.at_least_apart(&round) <= 0.0).copied().collect()
    }

    /// Adds holes to a part.
    pub(super) fn bore(&mut self, assembly: &mut Assembly, index: usize, holes: Vec<Hole>) {
        let (Some(part), Some(cuts)) = (assembly.parts.get_mut(index), self.0.get_mut(index)) else { return };
        for hole in holes {
            cuts.push(Solid::hole(&hole_in_world(part, &hole)));
            part.machining.push(Machining::Hole(hole));
        }
    }
}

fn cuts(part: &Part) -> Vec<Solid> {
    let bored = holes(part).map(|hole| Solid::hole(&hole_in_world(part, hole)));
    bored.chain(grooves(part).filter_map(|it| groove_in_world(part, it)).map(|it| Solid::block(&it))).collect()
}
