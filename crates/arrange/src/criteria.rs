//! What proposals are judged by. Every figure is such that less is better; each has a key for the design file and words.

use std::collections::BTreeSet;

use casewright_core::Length;
use casewright_core::design::{Access, Arrange, BoardSource, Inside, Resolved, Role};
use casewright_core::geometry::Axis;
use casewright_core::pipeline::Derived;
use casewright_core::unit::{DecimalMark, Unit};

/// Between hip and shoulder of a standing person, mm above the floor (common practice).
pub const HANDY_MM: (f64, f64) = (700.0, 1_400.0);
/// The middle of the door of a hot appliance, mm above the floor: neither stooping nor over the eyes (common practice).
pub const HOT_MM: (f64, f64) = (300.0, 1_300.0);

/// A criterion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Criterion {
    /// Space inside bays that hold something which neither that nor its air takes, litres.
    Dead,
    /// Open space that is of use, litres; counted below zero, since more is better.
    Open,
    /// Number of parts.
    Parts,
    /// Area of all parts as cut, m².
    Area,
    /// Parts that a kept board gives by cutting to length only; counted below zero, since more is better.
    Fresh,
    /// Mean height of the centres of all things with what they hold, by mass, mm.
    Low,
    /// Mean distance of what is used often, and of the doors of hot appliances, from the handy height, mm.
    Handy,
    /// Lines on which panels between bays stand or lie: fewer where they carry through.
    Lines,
    /// Widest opening that a shelf or bottom spans, mm.
    Span,
    /// Different settings of fence and stop for drilling.
    SetUps,
    /// Price of the boards by area; zero without prices.
    Cost,
}

impl Criterion {
    /// All of them, in the order of [`Arrange::CRITERIA`].
    pub const ALL: [Self; 11] = [
        Self::Dead,
        Self::Open,
        Self::Parts,
        Self::Area,
        Self::Fresh,
        Self::Low,
        Self::Handy,
        Self::Lines,
        Self::Span,
        Self::SetUps,
        Self::Cost,
    ];

    /// Its key in the design file.
    #[must_use]
    pub fn key(self) -> &'static str {
        Arrange::CRITERIA.get(self.index()).copied().unwrap_or_default()
    }

    /// Its value among those of all criteria.
    #[must_use]
    pub fn of(self, values: &Values) -> f64 {
        values.get(self.index()).copied().unwrap_or_default()
    }

    fn index(self) -> usize {
        Self::ALL.iter().position(|it| *it == self).unwrap_or_default()
    }

    /// How much it counts where the design says nothing: board, price and drilling go with the number of parts, and
    /// together count no more than one of the others twice (own choice).
    #[must_use]
    pub const fn usual_weight(self) -> f64 {
        match self {
            Self::Area | Self::SetUps | Self::Cost => 0.5,
            _ => 1.0,
        }
    }

    /// What a proposal is that is best in it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Dead => "least dead space",
            Self::Open => "most open space",
            Self::Parts => "fewest parts",
            Self::Area => "least board area",
            Self::Fresh => "most parts cut to length only",
            Self::Low => "heavy things lowest",
            Self::Handy => "handiest heights",
            Self::Lines => "fewest panel lines",
            Self::Span => "shortest spans",
            Self::SetUps => "fewest drilling set-ups",
            Self::Cost => "cheapest boards",
        }
    }

    /// A value of it as a person would say it, lengths in the unit of the design.
    #[must_use]
    pub fn say(self, value: f64, unit: Unit) -> String {
        let length = |mm: f64| unit.format_named(Length::from_mm_f64(mm).rounded_to(unit.step()), DecimalMark::Point);
        match self {
            Self::Dead => format!("{value:.0} l dead space"),
            Self::Open => format!("{:.0} l open space", -value + 0.0),
            Self::Parts => format!("{value:.0} parts"),
            Self::Area => format!("{value:.2} m² of board"),
            Self::Fresh => format!("{:.0} parts cut to length only", -value + 0.0),
            Self::Low => format!("weight centred at {}", length(value)),
            Self::Handy => format!("{} off a handy height", length(value)),
            Self::Lines => format!("{value:.0} panel lines"),
            Self::Span => format!("spans of {}", length(value)),
            Self::SetUps => format!("{value:.0} drilling set-ups"),
            Self::Cost => format!("boards at {value:.0}"),
        }
    }
}

/// The values of all criteria, in the order of [`Criterion::ALL`].
pub type Values = [f64; 11];

/// The criteria with their values, without those that are nothing.
pub fn figures(values: &Values) -> impl Iterator<Item = (Criterion, f64)> {
    let values = Criterion::ALL.into_iter().zip(*values);
    values.filter(|(it, value)| *value != 0.0 || *it == Criterion::Open)
}

/// Judges what was built.
#[must_use]
pub fn judge(derived: &Derived) -> Values {
    let Derived { design, layout, assembly, .. } = derived;
    let leaves = || layout.bays.iter().enumerate().filter(|(_, it)| it.is_leaf);
    let litres = |bay: &casewright_core::layout::LaidBay| bay.clear.volume_m3() * 1e3;
    let holds = |index: usize| layout.things.iter().any(|it| it.bay == index);
    let (held, open): (Vec<_>, Vec<_>) = leaves().partition(|(index, _)| holds(*index));
    let of_things: f64 = layout.things.iter().map(|it| it.with_air.volume_m3() * 1e3).sum();
    let in_use =
        |name: &str| design.carcass.bay.named(name).is_some_and(|it| !matches!(it.inside, Inside::Boxed { .. }));
    let spans = leaves().map(|(_, it)| it.clear.size(Axis::X).mm());
    let area = |part: &casewright_core::assembly::Part| part.cut.length.mm() * part.cut.width.mm() / 1e6;
    let settings: BTreeSet<String> = derived
        .jigs
        .set_ups
        .iter()
        .map(|it| format!("{:?} {:?} {:?} {}", it.block, it.fence, it.end, it.second_side))
        .collect();
    [
        held.iter().map(|(_, it)| litres(it)).sum::<f64>() - of_things,
        -open.iter().filter(|(_, it)| in_use(&it.name)).map(|(_, it)| litres(it)).sum::<f64>(),
        assembly.parts.len() as f64,
        assembly.parts.iter().map(area).sum(),
        -(assembly.parts.iter().filter(|it| only_to_length(design, it)).count() as f64),
        low(derived),
        handy(derived),
        lines(derived),
        spans.fold(0.0, f64::max),
        settings.len() as f64,
        assembly.parts.iter().map(|it| area(it) * price_m2(design, &it.material)).sum(),
    ]
}

/// Whether a kept board is as wide as the part and long enough.
fn only_to_length(design: &Resolved, part: &casewright_core::assembly::Part) -> bool {
    design.boards.iter().filter(|it| it.material == part.material && it.source != BoardSource::New).any(|board| {
        let (length, width) = (board.size.0.max(board.size.1), board.size.0.min(board.size.1));
        width == part.cut.width && length >= part.cut.length
    })
}

/// The price of a square metre of the cheapest board of a material.
fn price_m2(design: &Resolved, material: &str) -> f64 {
    let of = design.boards.iter().filter(|it| it.material == material);
    let prices = of.filter_map(|it| Some(it.price? / (it.size.0.mm() * it.size.1.mm() / 1e6)));
    let cheapest = prices.fold(f64::INFINITY, f64::min);
    if cheapest.is_finite() { cheapest } else { 0.0 }
}

fn middle(it: &casewright_core::layout::LaidThing) -> f64 {
    let (low, high) = it.cuboid.range(Axis::Y);
    (low + high).mm() / 2.0
}

fn low(derived: &Derived) -> f64 {
    let mass = |name: &str| derived.design.things.get(name).map_or(0.0, |it| it.mass_kg + it.load_kg);
    let things = &derived.layout.things;
    let total: f64 = things.iter().map(|it| mass(&it.name)).sum();
    if total <= 0.0 {
        return 0.0;
    }
    things.iter().map(|it| mass(&it.name) * middle(it)).sum::<f64>() / total
}

fn handy(derived: &Derived) -> f64 {
    let design = &derived.design;
    let often = &design.arrange.often;
    let outside = |at: f64, (low, high): (f64, f64)| (low - at).max(at - high).max(0.0);
    let mut off = Vec::new();
    for it in &derived.layout.things {
        let in_bay = derived.layout.bays.get(it.bay).is_some_and(|bay| often.contains(&bay.name));
        let Some(thing) = design.things.get(&it.name) else { continue };
        if often.contains(&it.name) || in_bay {
            off.push(outside(middle(it), HANDY_MM));
        } else if matches!(thing.access, Access::FrontDoor { .. }) {
            off.push(outside(middle(it), HOT_MM));
        }
    }
    if off.is_empty() { 0.0 } else { off.iter().sum::<f64>() / off.len() as f64 }
}

/// Lines of uprights and shelves, those of one line counted once.
fn lines(derived: &Derived) -> f64 {
    let mut lines: BTreeSet<(bool, Length)> = BTreeSet::new();
    for panel in derived.layout.panels.iter().filter(|it| !it.loose) {
        match panel.role {
            Role::Upright => lines.insert((true, panel.cuboid.min.x)),
            Role::Shelf => lines.insert((false, panel.cuboid.min.y)),
            _ => false,
        };
    }
    lines.len() as f64
}
