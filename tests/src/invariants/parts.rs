//! Invariant: no part overlaps another but where it stands in a groove, and none overlaps a thing with its air.

use std::collections::BTreeSet;

use casewright_core::assembly::{Machining, Part};
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::joinery::groove_in_world;
use casewright_core::pipeline::Derived;

/// What does not hold, in words.
pub(super) fn flaws(derived: &Derived) -> Vec<String> {
    let parts = &derived.assembly.parts;
    let mut flaws = Vec::new();
    let mut numbers = BTreeSet::new();
    for (i, a) in parts.iter().enumerate() {
        if !numbers.insert(&a.number) {
            flaws.push(format!("{} is the number of two parts", a.number));
        }
        let sizes = [a.cut.length, a.cut.width, a.cut.thickness];
        if sizes.into_iter().any(|it| it <= casewright_core::Length::ZERO)
            || !(a.mass_kg.is_finite() && a.mass_kg > 0.0)
        {
            flaws.push(format!("{} has no size or no mass: {:?}, {} kg", a.number, a.cut, a.mass_kg));
        }
        for b in parts.iter().skip(i + 1) {
            if let Some(space) = shared(&a.cuboid, &b.cuboid)
                && !grooved(a, &space)
                && !grooved(b, &space)
            {
                flaws.push(format!("{} and {} overlap in {space:?}", a.number, b.number));
            }
        }
        for thing in derived.assembly.things.iter().filter(|it| a.cuboid.overlaps(&it.with_air)) {
            flaws.push(format!("{} overlaps {} with its air", a.number, thing.name));
        }
    }
    flaws
}

/// The space that two boxes have in common.
fn shared(a: &Cuboid, b: &Cuboid) -> Option<Cuboid> {
    a.overlaps(b).then(|| {
        Axis::ALL.into_iter().fold(*a, |space, axis| {
            let (p, q) = (a.range(axis), b.range(axis));
            space.with_range(axis, (p.0.max(q.0), p.1.min(q.1)))
        })
    })
}

/// Whether a groove of the part takes the space away.
fn grooved(part: &Part, space: &Cuboid) -> bool {
    part.machining.iter().any(|it| match it {
        Machining::Groove(groove) => groove_in_world(part, groove).is_some_and(|it| it.contains(space)),
        _ => false,
    })
}
