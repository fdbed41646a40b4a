//! What is lacking where not everything fits: the smallest sets to leave out, and by how much the place is too small.

use casewright_core::Length;
use casewright_core::design::{Design, Extent};
use casewright_core::expr::Dim;
use casewright_core::geometry::Axis;
use casewright_core::pipeline::derive;
use casewright_core::unit::DecimalMark;

use crate::curve::Size;
use crate::order::{Order, ordered};
use crate::propose::{Watch, bits};
use crate::realise;
use crate::request::{Request, Unit};
use crate::search::{Search, search};

/// How many smallest sets are named.
const NAMED: usize = 6;
/// Beyond this no envelope is tried, mm.
const BEYOND_MM: i64 = 6_000;
/// Divisions kept for each set while looking for sizes to give.
const BEAM: usize = 8;

/// By how much the envelope would have to be larger along one axis, everything else as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Shortage {
    /// Along which axis.
    pub axis: Axis,
    /// By how much.
    pub by: Length,
    /// The design with that envelope and everything in it, solved.
    pub design: Design,
}

/// What is lacking. Every way out was solved.
#[derive(Clone, Debug, PartialEq)]
pub struct Lack {
    /// The smallest sets of units without which the rest fits; all of one size.
    pub leave_out: Vec<Vec<String>>,
    /// Sizes to give.
    pub shortages: Vec<Shortage>,
    /// Whether every division was looked at; else there may be a way that was not found.
    pub is_proven: bool,
}

impl Lack {
    /// What is lacking, in sentences.
    #[must_use]
    pub fn sentences(&self, request: &Request) -> Vec<String> {
        let unit = request.design.unit;
        let mut all = vec![match self.leave_out.first().map(Vec::len) {
            _ if !self.is_proven => "No way was found to fit everything in. What was solved:".to_owned(),
            None => "The things do not fit, whatever is left out.".to_owned(),
            Some(1) => "The things do not all fit; they do without one of these:".to_owned(),
            Some(count) => format!("The things do not all fit; {count} must stay out:"),
        }];
        all.extend(self.leave_out.iter().map(|it| format!("without {}", it.join(" and "))));
        all.extend(self.shortages.iter().map(|it| {
            let way = match it.axis {
                Axis::X => "wider",
                Axis::Y => "higher",
                Axis::Z => "deeper",
            };
            format!("or {} {way}", unit.format_named(it.by, DecimalMark::Point))
        }));
        all
    }
}

/// Why one unit does not even fit alone.
pub(crate) fn too_large(request: &Request, unit: &Unit) -> String {
    let say = |length: Length| request.design.unit.format_named(length, DecimalMark::Point);
    let place = &request.place;
    let sizes = || unit.choices.iter().flat_map(|it| &it.sizes);
    let room = format!("{} x {} x {}", say(place.room.width), say(place.room.height), say(place.depth));
    match sizes().min_by_key(|it| (it[0] + it[1], it[2])) {
        Some([width, height, depth]) => format!(
            "{} does not fit even alone: it needs {} x {} x {} (width, height, depth) and there is {room}; house it in \
             another way or make the carcass larger",
            unit.name,
            say(*width),
            say(*height),
            say(*depth)
        ),
        None => {
            format!("nothing can hold {} in {room}: name a slide that is no longer than the carcass is deep", unit.name)
        }
    }
}

/// What is lacking, after a search in the given place that found no division of all that is required.
pub(crate) fn lack(request: &Request, found: &Search, watch: &dyn Watch) -> Lack {
    let all = (1_usize << request.units.len()) - 1;
    let required = bits(request.units.iter().map(|it| !it.is_wished));
    let mut sets: Vec<usize> = (1..=all).filter(|&set| found.fits(set & required) || set & required == 0).collect();
    // Wished units stay out first: what counts is how many required ones do.
    let missing = |set: usize| (required & !set).count_ones();
    sets.sort_by_key(|&set| (missing(set), std::cmp::Reverse(set.count_ones()), set));
    let mut leave_out: Vec<Vec<String>> = Vec::new();
    let mut size = None;
    for set in sets.into_iter().filter(|set| set & !required == 0) {
        if size.is_some_and(|size| missing(set) > size) || leave_out.len() == NAMED || watch.cancelled() {
            break;
        }
        let divisions = found.divisions(set);
        if divisions.iter().take(12).any(|it| solved(request, it)) {
            size = Some(missing(set));
            let names = request.units.iter().enumerate().filter(|(i, it)| set >> i & 1 == 0 && !it.is_wished);
            leave_out.push(names.map(|(_, it)| it.name.clone()).collect());
        }
    }
    let shortages =
        [Axis::X, Axis::Y].into_iter().filter_map(|axis| shortage(request, required, axis, watch)).collect();
    Lack { leave_out, shortages, is_proven: found.is_complete }
}

fn solved(request: &Request, division: &crate::Division) -> bool {
    let made = realise::design(request, &ordered(division, request, Order::HeavyLow));
    made.is_some_and(|(design, _)| derive(&design).is_ok())
}

/// By how much the envelope is too small along an axis, if a larger one can be asked for.
fn shortage(request: &Request, required: usize, axis: Axis, watch: &dyn Watch) -> Option<Shortage> {
    if request.area != request.design.carcass.bay.name {
        return None;
    }
    let resolved = request.design.resolve().ok()?;
    let envelope = &resolved.carcass.envelope;
    let extent = if axis == Axis::X { &envelope.width } else { &envelope.height };
    let (Extent::Fixed(now) | Extent::AtMost(now)) = extent else { return None };
    let beyond = Length::from_mm(BEYOND_MM);
    let room = request.place.room;
    let open = match axis {
        Axis::X => Size { width: beyond, ..room },
        _ => Size { height: beyond, ..room },
    };
    let larger = search(request, open, BEAM, Some(required), watch);
    let curve = larger.curve(required);
    let step = if axis == Axis::X { curve.narrowest(room.height)? } else { curve.lowest(room.width)? };
    let by = if axis == Axis::X { step.width - room.width } else { step.height - room.height };
    // Up to the next whole step of the unit, so that rounding takes nothing away.
    let unit = resolved.unit.step();
    let by = Length::from_nm((by.nm() + unit.nm() - 1).div_euclid(unit.nm().max(1)) * unit.nm().max(1));
    let mut wider = request.clone();
    let Request { design, place, .. } = &mut wider;
    let asked = if axis == Axis::X { &mut design.carcass.envelope.width } else { &mut design.carcass.envelope.height };
    let size = Dim::of(*now + by, design.unit);
    *asked = if matches!(extent, Extent::Fixed(_)) { Extent::Fixed(size) } else { Extent::AtMost(size) };
    let room = &mut place.room;
    let grown = if axis == Axis::X { &mut room.width } else { &mut room.height };
    *grown += by;
    larger.divisions(required).iter().filter(|it| it.size_in(&wider, wider.place.room).is_some()).take(12).find_map(
        |it| {
            let (design, _) = realise::design(&wider, &ordered(it, &wider, Order::HeavyLow))?;
            derive(&design).ok()?;
            Some(Shortage { axis, by, design })
        },
    )
}
