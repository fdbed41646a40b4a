//! What all checks look up: materials of parts, what moves, bays by name, and how numbers are written.

use std::collections::BTreeMap;

use crate::assembly::{Assembly, Part};
use crate::design::{Bay, Material, Resolved, Role};
use crate::geometry::{Axis, Cuboid};
use crate::layout::{LaidBay, Layout};
use crate::length::Length;
use crate::mechanics::INCH;
use crate::mechanics::materials::{BoardProperties, properties};
use crate::text::FieldPath;
use crate::unit::{DecimalMark, Unit};

use super::options::CheckOptions;

/// A 64th of an inch.
const FINEST_INCH: Length = Length::from_nm(396_875);

/// What all checks look up.
pub(super) struct Context<'a> {
    pub(super) design: &'a Resolved,
    pub(super) layout: &'a Layout,
    pub(super) assembly: &'a Assembly,
    pub(super) options: &'a CheckOptions,
    materials: BTreeMap<&'a str, BoardProperties>,
    bays: BTreeMap<&'a str, &'a Bay<Length>>,
    laid: BTreeMap<&'a str, usize>,
    part_movers: Vec<Option<usize>>,
    thing_movers: Vec<Option<usize>>,
}

impl<'a> Context<'a> {
    pub(super) fn new(
        design: &'a Resolved,
        layout: &'a Layout,
        assembly: &'a Assembly,
        options: &'a CheckOptions,
    ) -> Self {
        let mut bays = BTreeMap::new();
        collect(&design.carcass.bay, &mut bays);
        let mut part_movers = vec![None; assembly.parts.len()];
        let mut thing_movers = vec![None; assembly.things.len()];
        for (index, mover) in assembly.movers.iter().enumerate() {
            for (list, items) in [(&mut part_movers, &mover.parts), (&mut thing_movers, &mover.things)] {
                for &item in items {
                    if let Some(it) = list.get_mut(item) {
                        *it = Some(index);
                    }
                }
            }
        }
        Self {
            design,
            layout,
            assembly,
            options,
            materials: design.materials.iter().map(|(name, it)| (name.as_str(), properties(it))).collect(),
            bays,
            laid: layout.bays.iter().enumerate().map(|(i, it)| (it.name.as_str(), i)).collect(),
            part_movers,
            thing_movers,
        }
    }

    pub(super) fn properties(&self, part: &Part) -> Option<&BoardProperties> {
        self.materials.get(part.material.as_str())
    }

    pub(super) fn material(&self, part: &Part) -> Option<&'a Material<Length>> {
        self.design.materials.get(&part.material)
    }

    pub(super) fn bay(&self, name: &str) -> Option<&'a Bay<Length>> {
        self.bays.get(name).copied()
    }

    pub(super) fn laid(&self, name: &str) -> Option<&'a LaidBay> {
        self.layout.bays.get(*self.laid.get(name)?)
    }

    pub(super) fn bay_field(&self, name: &str) -> Option<FieldPath> {
        self.laid(name).map(|it| it.path.clone())
    }

    pub(super) fn part_moves(&self, index: usize) -> bool {
        self.part_movers.get(index).copied().flatten().is_some()
    }

    pub(super) fn mover_of_thing(&self, index: usize) -> Option<usize> {
        self.thing_movers.get(index).copied().flatten()
    }

    /// Parts that stand still, with their indices.
    pub(super) fn still(&self) -> impl Iterator<Item = (usize, &'a Part)> {
        self.assembly.parts.iter().enumerate().filter(|&(i, _)| !self.part_moves(i))
    }

    /// Mass of a thing: empty, and what it holds, kg.
    pub(super) fn thing_mass(&self, index: usize) -> (f64, f64) {
        let thing = self.assembly.things.get(index).and_then(|it| self.design.things.get(&it.name));
        thing.map_or((0.0, 0.0), |it| (it.mass_kg.max(0.0), it.load_kg.max(0.0) * self.options.load_share))
    }

    /// A length in the design's unit: one decimal of a millimetre; or a fraction of an inch, in the design's step, below an
    /// inch in 64ths.
    pub(super) fn size(&self, mm: f64) -> String {
        match self.design.unit {
            Unit::Millimetre { .. } => format!("{} mm", trimmed(mm, 1)),
            Unit::Inch { .. } => {
                let step = if mm.abs() < INCH { FINEST_INCH } else { self.design.unit.step() };
                let rounded = Length::from_mm_f64(mm).rounded_to(step);
                self.design.unit.format_named(rounded, DecimalMark::Point)
            }
        }
    }

    /// Where the floor is.
    pub(super) fn floor(&self) -> Length {
        self.assembly.envelope.min.y
    }
}

fn collect<'a>(bay: &'a Bay<Length>, into: &mut BTreeMap<&'a str, &'a Bay<Length>>) {
    into.insert(&bay.name, bay);
    bay.children().iter().for_each(|it| collect(it, into));
}

/// A number with at most so many decimals, without idle zeros.
pub(super) fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Kilograms.
pub(super) fn kg(value: f64) -> String {
    format!("{} kg", trimmed(value, 1))
}

/// Newtons.
pub(super) fn newtons(value: f64) -> String {
    format!("{value:.0} N")
}

/// Several names in words, the first few.
pub(super) fn listed(names: &[&str]) -> String {
    const MOST: usize = 4;
    match names {
        [] => "nothing".to_owned(),
        [one] => (*one).to_owned(),
        [all @ .., last] if names.len() <= MOST => format!("{} and {last}", all.join(", ")),
        _ => format!(
            "{} and {} more",
            names.iter().take(MOST).copied().collect::<Vec<_>>().join(", "),
            names.len() - MOST
        ),
    }
}

/// The middle of a box, mm.
pub(super) fn centre(cuboid: &Cuboid) -> [f64; 3] {
    Axis::ALL.map(|axis| {
        let (low, high) = cuboid.range(axis);
        (low.mm() + high.mm()) / 2.0
    })
}

/// How far two ranges overlap, mm; negative is a gap.
pub(super) fn overlap(a: (Length, Length), b: (Length, Length)) -> f64 {
    (a.1.min(b.1) - a.0.max(b.0)).mm()
}

/// How deep two boxes run into each other, mm.
pub(super) fn depth_of(a: &Cuboid, b: &Cuboid) -> f64 {
    Axis::ALL.map(|axis| overlap(a.range(axis), b.range(axis))).into_iter().fold(f64::INFINITY, f64::min)
}

/// Whether a part is an upright panel that carries.
pub(super) const fn stands(role: Role) -> bool {
    matches!(role, Role::Side | Role::Upright)
}

/// Whether a part is a lying panel that carries.
pub(super) const fn lies(role: Role) -> bool {
    matches!(role, Role::Bottom | Role::Top | Role::Shelf | Role::Rail | Role::Worktop)
}
