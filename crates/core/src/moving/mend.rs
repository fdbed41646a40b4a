//! What would free a way that is blocked: single changes of the design, each kept only if the design, solved and built
//! again with it, moves freely there and meets nothing new elsewhere.

use super::clearance::{Clearances, Meeting, clearances};
use super::room::{FixedKind, RoomSide};
use crate::assembly;
use crate::checks::is_in_opening_of;
use crate::design::{Bay, Extent, Fitting, Holding, Inside, Opens, Resolved, Want};
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;
use crate::solve::solve;

/// How many mends are offered.
const MOST: usize = 2;

/// A change of the design that frees a way, tried out.
#[derive(Clone, Debug, PartialEq)]
pub struct WayMend {
    /// The change in words.
    pub words: String,
    /// What is changed.
    pub edit: WayEdit,
}

/// One change of a design.
#[derive(Clone, Debug, PartialEq)]
pub enum WayEdit {
    /// The carcass begins so far from the left end.
    FromLeft(Length),
    /// The carcass is so wide.
    Width(Length),
    /// The bay is so wide.
    BayWidth(String, Length),
    /// The front of the bay opens another way.
    Opens(String, Opens),
    /// The bay's compartment tilts by so many degrees.
    Tilt(String, f64),
    /// The bay's drawer or pull-out runs on other slides.
    Slides(String, String),
}

impl WayEdit {
    /// The design with the change.
    #[must_use]
    pub fn applied(&self, design: &Resolved) -> Resolved {
        let mut changed = design.clone();
        let envelope = &mut changed.carcass.envelope;
        match self {
            Self::FromLeft(to) => envelope.from_left = Some(*to),
            Self::Width(to) => envelope.width = Extent::Fixed(*to),
            Self::BayWidth(name, to) => with_bay(&mut changed.carcass.bay, name, |bay| bay.width = Want::Fixed(*to)),
            Self::Opens(name, to) => with_bay(&mut changed.carcass.bay, name, |bay| {
                if let Some(front) = &mut bay.front {
                    front.opens = *to;
                }
            }),
            Self::Tilt(name, to) => with_bay(&mut changed.carcass.bay, name, |bay| {
                if let Inside::Holds { by: Holding::TiltOut { opens_deg, .. }, .. } = &mut bay.inside {
                    *opens_deg = *to;
                }
            }),
            Self::Slides(name, to) => with_bay(&mut changed.carcass.bay, name, |bay| {
                if let Inside::Holds { by: Holding::Drawer { slide, .. } | Holding::PullOut { slide, .. }, .. } =
                    &mut bay.inside
                {
                    *slide = Some(to.clone());
                }
            }),
        }
        changed
    }
}

/// Changes that free the way of what moves in `bay`, where `before` says what everything meets as it is.
#[must_use]
pub fn mends(design: &Resolved, before: &Clearances, bay: &str, meeting: &Meeting) -> Vec<WayMend> {
    let was = met(before);
    let frees = |mend: &WayMend| {
        let changed = mend.edit.applied(design);
        let Ok(solved) = solve(&changed) else { return false };
        let Ok(built) = assembly::build(&changed, &solved.layout) else { return false };
        let after = met(&clearances(&changed, &built));
        let stands = super::room::site_bodies(&changed, &built);
        // The piece itself must not be pushed into a wall or an obstacle; what stands in an opening of a part does not meet it.
        let free = !built.parts.iter().enumerate().any(|(index, part)| {
            let cuboid = super::Solid::from(&part.cuboid);
            stands.iter().any(|it| {
                it.kind != FixedKind::Room(RoomSide::Floor)
                    && super::sweep::meet_at_rest(&cuboid, &it.solid)
                    && !is_in_opening_of(&changed, &solved.layout, &built, index, &bounds(&it.solid))
            })
        });
        free && after.iter().all(|it| was.contains(it)) && !after.iter().any(|it| it.0 == bay && it.1 == meeting.with)
    };
    candidates(design, bay, meeting).into_iter().filter(frees).take(MOST).collect()
}

/// The box round a body.
fn bounds(solid: &super::Solid) -> Cuboid {
    let [x, y, z] = Axis::ALL.map(|axis| {
        let (low, high) = solid.range(axis);
        (Length::from_mm_f64(low), Length::from_mm_f64(high))
    });
    Cuboid::from_ranges(x, y, z)
}

/// What meets what: bay and body of the site.
fn met(all: &Clearances) -> Vec<(String, String)> {
    all.each
        .iter()
        .filter_map(|it| Some((all.moving.get(it.moving)?.bay.clone(), it)))
        .flat_map(|(bay, it)| {
            it.meets
                .iter()
                .filter(|it| it.kind.is_some_and(FixedKind::is_of_site))
                .map(move |it| (bay.clone(), it.with.clone()))
        })
        .collect()
}

fn candidates(design: &Resolved, name: &str, meeting: &Meeting) -> Vec<WayMend> {
    let mut all = Vec::new();
    let unit = design.unit;
    let show = |length: Length| unit.format(length, crate::unit::DecimalMark::Point);
    let mut add = |words: String, edit: WayEdit| all.push(WayMend { words, edit });
    let bay = design.carcass.bay.named(name);
    let step = unit.step();
    // Up to the next whole step, so that the solver has no need to round it away.
    let needed = Length::from_mm_f64(meeting.touch.by);
    let by = Length::from_nm(needed.nm().div_euclid(step.nm().max(1)) * step.nm().max(1));
    let by = if by < needed { by + step } else { by };
    if let Some(side) = meeting.touch.side.filter(|it| it.axis == Axis::X) {
        let envelope = &design.carcass.envelope;
        let from_left = envelope.from_left.unwrap_or_default();
        if let Extent::Fixed(width) = envelope.width
            && !side.negative
            && width > by
        {
            let to = width - by;
            add(format!("a carcass narrower by {} (envelope width {})", show(by), show(to)), WayEdit::Width(to));
        }
        let to = if side.negative { from_left + by } else { from_left - by };
        if to >= Length::ZERO {
            let way = if side.negative { "right" } else { "left" };
            add(
                format!("the carcass {} further to the {way} (from_left {})", show(by), show(to)),
                WayEdit::FromLeft(to),
            );
        }
        if let Some(Want::Fixed(width)) = bay.map(|it| &it.width)
            && *width > by
        {
            let to = *width - by;
            add(
                format!("bay \"{name}\" narrower by {} (width {})", show(by), show(to)),
                WayEdit::BayWidth(name.to_owned(), to),
            );
        }
    }
    if let Some(front) = bay.and_then(|it| it.front.as_ref()) {
        let other = match front.opens {
            Opens::HingedLeft => vec![(Opens::HingedRight, "hinges at the right"), (Opens::Pair, "a pair of doors")],
            Opens::HingedRight => vec![(Opens::HingedLeft, "hinges at the left"), (Opens::Pair, "a pair of doors")],
            Opens::Pair => vec![(Opens::HingedLeft, "hinges at the left"), (Opens::HingedRight, "hinges at the right")],
            Opens::HingedBelow => vec![(Opens::HingedAbove, "hinges above")],
            Opens::HingedAbove => vec![(Opens::HingedBelow, "hinges below")],
            Opens::WithHolding | Opens::Fixed => Vec::new(),
        };
        for (opens, words) in other {
            add(words.to_owned(), WayEdit::Opens(name.to_owned(), opens));
        }
    }
    match bay.map(|it| &it.inside) {
        Some(Inside::Holds { by: Holding::TiltOut { .. }, .. }) => {
            let to = (meeting.touch.at - 0.25).floor();
            if to >= 15.0 {
                add(format!("a stop at {to:.0} degrees"), WayEdit::Tilt(name.to_owned(), to));
            }
        }
        Some(Inside::Holds { by: Holding::Drawer { slide, .. } | Holding::PullOut { slide, .. }, .. }) => {
            let own = slide.as_ref().and_then(|it| design.fittings.get(it));
            for (other, fitting) in &design.fittings {
                if let (Fitting::Slide(it), Some(Fitting::Slide(own))) = (fitting, own)
                    && it.mount == own.mount
                    && it.length < own.length
                {
                    add(format!("slides \"{other}\""), WayEdit::Slides(name.to_owned(), other.clone()));
                }
            }
        }
        _ => {}
    }
    all
}

fn with_bay(root: &mut Bay<Length>, name: &str, change: impl FnOnce(&mut Bay<Length>)) {
    if let Some(found) = root.named_mut(name) {
        change(found);
    }
}
