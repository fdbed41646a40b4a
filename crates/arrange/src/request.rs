//! What is to be arranged, and where: units with the ways of holding them, and the clear space.

use std::collections::BTreeSet;

use casewright_core::design::{
    Access, Bay, Carcass, Design, Divider, Envelope, Extent, Fitting, Front, Holding, Inside, Opens, Resolved, Role,
    Thing, ThingKind, TiltHinge, Want,
};
use casewright_core::expr::Dim;
use casewright_core::geometry::Axis;
use casewright_core::slides::settle;
use casewright_core::solve::{SolveError, least_room, solve};
use casewright_core::text::Fault;
use casewright_core::{Length, holding};
use thiserror::Error;

use crate::curve::{Curve, Size};

/// The least clear width of open space that is of use (own choice).
pub(crate) const LEAST_OPEN_WIDTH: Length = Length::from_mm(150);
/// The least clear width of a bay with shelves, and of one for a drawer that holds nothing named (own choice).
pub(crate) const LEAST_SHELVED_WIDTH: Length = Length::from_mm(250);
/// The least clear height of open space, and of the space between its shelves, that is of use (own choice).
pub(crate) const LEAST_OPEN_HEIGHT: Length = Length::from_mm(90);
/// What an envelope is taken to be at most where the design does not say.
const LARGEST: Length = Length::from_mm(3_000);

/// One way of holding what a unit holds: a bay as it would stand in the design, and the least clear sizes it needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// The bay.
    pub bay: Bay,
    /// Width, height and depth, for each way in which its things may stand.
    pub sizes: Vec<[Length; 3]>,
    /// Whether it hangs on slides at the sides, and needs no shelf under it.
    pub is_carried: bool,
}

/// What is arranged as one: a bay that is not divided, or one that stays as it is inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    /// The name of its bay.
    pub name: String,
    /// The things in it.
    pub things: Vec<String>,
    /// The ways of holding them, the one of the design first.
    pub choices: Vec<Choice>,
    /// Whether it may be left out.
    pub is_wished: bool,
    /// Whether all its choices hang on slides.
    pub is_carried: bool,
    /// Whether it is open space, which takes whatever is left.
    pub is_open: bool,
    /// Its least sizes over all choices that are no deeper than the place.
    pub curve: Curve,
    /// Mass of its things with what they hold, kg.
    pub mass_kg: f64,
    /// Whether it is used often.
    pub is_often: bool,
    /// Whether a plugged-in thing stands in it, which keeps its width.
    pub is_appliance: bool,
}

impl Unit {
    /// The least area of its opening, mm2.
    #[must_use]
    pub fn least_area_mm2(&self) -> f64 {
        self.curve.steps().iter().map(|it| it.area_mm2()).fold(f64::INFINITY, f64::min)
    }
}

/// The clear space that is divided.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Clear width and height at the most.
    pub room: Size,
    /// Clear depth at the most.
    pub depth: Length,
    /// Whether width and height may also be less.
    pub may_shrink: [bool; 2],
    /// Thickness of the uprights between bays.
    pub upright: Length,
    /// Thickness of the shelves between bays.
    pub shelf: Length,
}

/// What is to be arranged, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// The design in which it stands.
    pub design: Design,
    /// The bay that is divided anew; the whole carcass if it is the root.
    pub area: String,
    /// What goes in.
    pub units: Vec<Unit>,
    /// Where.
    pub place: Place,
    /// Units that belong together, by index.
    pub together: Vec<Vec<usize>>,
}

/// Why nothing can be arranged.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RequestError {
    /// The design makes no sense.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Faults(Vec<Fault>),
    /// There is no such bay.
    #[error("there is no bay called {0:?}")]
    NoBay(String),
    /// Nothing to put in.
    #[error("there is nothing to arrange: name things in `things`, or divide the carcass into bays")]
    Nothing,
    /// More than the search can take.
    #[error("{0} bays are too many to arrange at once: keep some as they are (`arrange: (keep: [...])`), at most {1}")]
    TooMany(usize, usize),
    /// A bay that stays as it is inside has no size, because the design as it stands cannot be solved.
    #[error("what stays as it is has no size as long as the design cannot be solved: {0}")]
    Unsolved(String),
}

impl Request {
    /// What a design asks for: its undivided bays and the things that stand in none of them, in the clear space of the
    /// carcass, or of the bay called `area`.
    ///
    /// # Errors
    /// See [`RequestError`].
    pub fn of(design: &Design, area: Option<&str>) -> Result<Self, RequestError> {
        let resolved = design.resolve().map_err(RequestError::Faults)?;
        let root = &design.carcass.bay;
        let area = area.unwrap_or(&root.name);
        let asked = root.named(area).ok_or_else(|| RequestError::NoBay(area.to_owned()))?;
        let solved = solve(&settle(&resolved).design).map(|it| it.layout);
        let laid = |name: &str| -> Result<[Length; 3], RequestError> {
            let layout = solved.as_ref().map_err(|error| RequestError::Unsolved(error.to_string()))?;
            let bay = layout.bay(name).ok_or_else(|| RequestError::NoBay(name.to_owned()))?;
            Ok(Axis::ALL.map(|axis| bay.clear.size(axis)))
        };
        let whole = area == root.name;
        let place = if whole { whole_place(&resolved)? } else { place_of(&resolved, laid(area)?) };
        let mut found = Vec::new();
        gather(asked, true, &design.arrange.keep, &mut found);
        let housed: BTreeSet<&str> = housed(root);
        let mut units = Vec::new();
        for bay in found {
            let free = is_named(bay, &design.arrange.free);
            let stays = !bay.children().is_empty();
            let mut bays = vec![bay.clone()];
            if let (Inside::Holds { things, .. }, true) = (&bay.inside, free) {
                bays.extend(ways(&resolved, things, &bay.name));
            }
            let sizes = if stays { Some(laid(&bay.name)?) } else { None };
            units.extend(unit(design, &place, bays, sizes)?);
        }
        if whole {
            for name in design.things.keys().filter(|it| !housed.contains(it.as_str())) {
                let things = [name.clone()];
                units.extend(unit(design, &place, ways(&resolved, &things, &fresh(root, name)), None)?);
            }
        }
        if units.is_empty() {
            return Err(RequestError::Nothing);
        }
        if units.len() > crate::search::MOST {
            return Err(RequestError::TooMany(units.len(), crate::search::MOST));
        }
        let index = |name: &String| units.iter().position(|it| it.name == *name || it.things.contains(name));
        let together = design.arrange.together.iter().map(|it| it.iter().filter_map(index).collect()).collect();
        Ok(Self { design: design.clone(), area: area.to_owned(), units, place, together })
    }

    /// Whether a division is one unit that hangs on slides.
    #[must_use]
    pub fn is_carried(&self, division: &crate::Division) -> bool {
        matches!(division, crate::Division::Unit(unit) if self.units.get(*unit).is_some_and(|it| it.is_carried))
    }
}

/// The bays that are arranged: those that are not divided, and those that stay as they are inside.
fn gather<'b>(bay: &'b Bay, is_area: bool, keep: &[String], found: &mut Vec<&'b Bay>) {
    let stays = !is_area && (keep.contains(&bay.name) || matches!(bay.inside, Inside::Boxed { .. }));
    if stays || bay.children().is_empty() {
        // An empty carcass is no bay to keep.
        if !(is_area && matches!(bay.inside, Inside::Open { shelves: 0 })) {
            found.push(bay);
        }
        return;
    }
    for child in bay.children() {
        gather(child, false, keep, found);
    }
}

fn housed(bay: &Bay) -> BTreeSet<&str> {
    let mut all: BTreeSet<&str> = bay.children().iter().flat_map(housed).collect();
    if let Inside::Holds { things, .. } = &bay.inside {
        all.extend(things.iter().map(String::as_str));
    }
    all
}

fn is_named(bay: &Bay, names: &[String]) -> bool {
    let holds = |name: &String| matches!(&bay.inside, Inside::Holds { things, .. } if things.contains(name));
    names.iter().any(|name| *name == bay.name || holds(name))
}

/// A name for the bay of a thing that no bay has.
fn fresh(root: &Bay, thing: &str) -> String {
    let taken = |name: &str| root.named(name).is_some();
    let mut name = format!("{thing} bay");
    let mut count = 2;
    while taken(&name) {
        name = format!("{thing} bay {count}");
        count += 1;
    }
    name
}

/// Whether such a thing usually stands on a pull-out.
const fn pulls_out(kind: ThingKind) -> bool {
    matches!(kind, ThingKind::Crate | ThingKind::Container | ThingKind::Bin)
}

/// The usual ways of holding things, by what kind they are and which slides the design has.
fn ways(design: &Resolved, things: &[String], name: &str) -> Vec<Bay> {
    let of: Vec<&Thing<Length>> = things.iter().filter_map(|it| design.things.get(it)).collect();
    let bay = |by: Holding, opens: Option<Opens>| Bay {
        front: opens.map(Front::plain),
        ..Bay::plain(name, Inside::Holds { things: things.to_vec(), by })
    };
    let is = |kind: ThingKind| of.iter().any(|it| it.kind == kind);
    let mut all = Vec::new();
    if is(ThingKind::Appliance) || of.iter().any(|it| matches!(it.access, Access::FrontDoor { .. })) {
        all.push(bay(Holding::Standing, None));
        return all;
    }
    // Those of the design, and then what the program chooses by depth and load.
    let slides = || {
        let slide = |(name, it): (&String, &Fitting<Length>)| it.is_slide().then(|| Some(name.clone()));
        design.fittings.iter().filter_map(slide).chain([None])
    };
    let has_slides = design.fittings.values().any(Fitting::is_slide);
    if is(ThingKind::Bin) {
        let tilts = Holding::TiltOut { hinge: TiltHinge::Below, opens_deg: 35.0, lid: false, board: None, stay: None };
        all.push(bay(tilts, Some(Opens::WithHolding)));
    }
    if of.iter().any(|it| pulls_out(it.kind)) {
        all.extend(slides().map(|slide| {
            bay(Holding::PullOut { slide, board: None, strips: Some(Dim::new("40 mm")) }, Some(Opens::WithHolding))
        }));
    }
    if has_slides && of.iter().all(|it| it.kind == ThingKind::Other) {
        all.extend(
            slides().map(|slide| bay(Holding::Drawer { slide, board: None, bottom: None }, Some(Opens::WithHolding))),
        );
    }
    all.push(bay(Holding::Standing, None));
    if design.fittings.values().any(Fitting::is_hinge) {
        all.push(bay(Holding::Standing, Some(Opens::HingedLeft)));
    }
    all
}

/// A unit with those of its choices that can be made and are not too deep; none if there is none.
fn unit(
    design: &Design,
    place: &Place,
    bays: Vec<Bay>,
    stays: Option<[Length; 3]>,
) -> Result<Option<Unit>, RequestError> {
    let Some(first) = bays.first().cloned() else { return Ok(None) };
    let things = match &first.inside {
        Inside::Holds { things, .. } => things.clone(),
        _ => Vec::new(),
    };
    let mut choices = Vec::new();
    for bay in bays {
        // Each is evaluated in a design of its own, so that names and parameters mean what they mean in the file.
        let alone = alone(design, &bay);
        let Ok(resolved) = alone.resolve() else { continue };
        let sizes = match stays {
            Some(sizes) => vec![sizes],
            None => sizes_of(&settle(&resolved).design),
        };
        let is_carried =
            matches!(&bay.inside, Inside::Holds { by: Holding::PullOut { .. } | Holding::Drawer { .. }, .. });
        choices.push(Choice { bay, sizes, is_carried });
    }
    let fitting = |it: &[Length; 3]| it[2] <= place.depth;
    let sizes = choices.iter().flat_map(|it| it.sizes.iter().filter(|it| fitting(it)));
    let curve = Curve::of(sizes.map(|it| Size { width: it[0], height: it[1] }));
    let of: Vec<&Thing> = things.iter().filter_map(|it| design.things.get(it)).collect();
    let named = |names: &[String]| names.contains(&first.name) || things.iter().any(|it| names.contains(it));
    Ok(Some(Unit {
        is_wished: named(&design.arrange.wished),
        is_often: named(&design.arrange.often),
        is_carried: choices.iter().all(|it| it.is_carried) && !choices.is_empty(),
        is_open: matches!(first.inside, Inside::Open { .. }),
        is_appliance: of.iter().any(|it| it.kind == ThingKind::Appliance),
        mass_kg: of.iter().map(|it| it.mass_kg + it.load_kg).sum(),
        name: first.name,
        things,
        choices,
        curve,
    }))
}

/// The design with nothing in its carcass but this bay.
pub(crate) fn alone(design: &Design, bay: &Bay) -> Design {
    let mut alone = design.clone();
    alone.carcass.bay = bay.clone();
    without_dangling(&mut alone);
    alone
}

/// Takes out what names bays that are no more.
pub(crate) fn without_dangling(design: &mut Design) {
    let Design { carcass: Carcass { bay, ties, openings, .. }, as_built, arrange, things, .. } = design;
    let there = |name: &String| bay.named(name).is_some();
    ties.retain(|tie| tie.bays().iter().all(there));
    openings.retain(|it| there(&it.bay));
    as_built.openings.retain(|name, _| there(name));
    as_built.diagonals.retain(|name, _| there(name));
    let known = |name: &String| there(name) || things.contains_key(name);
    arrange.wished.retain(known);
    arrange.free.retain(known);
    arrange.often.retain(known);
    arrange.together.iter_mut().for_each(|it| it.retain(known));
    arrange.keep.retain(there);
}

/// The least sizes of the only bay of a design, for each way in which its things may stand.
fn sizes_of(design: &Resolved) -> Vec<[Length; 3]> {
    let bay = &design.carcass.bay;
    let construction = &design.carcass.construction;
    let is_plain_drawer =
        matches!(&bay.inside, Inside::Holds { things, by: Holding::Drawer { .. } } if things.is_empty());
    let raised = |mut size: [Length; 3]| {
        if is_plain_drawer && bay.width == Want::Free {
            size[0] = size[0].max(LEAST_SHELVED_WIDTH);
        }
        for (size, want) in size.iter_mut().zip([&bay.width, &bay.height]) {
            match want {
                Want::Fixed(fixed) => *size = (*size).max(*fixed),
                Want::AtLeast(low) | Want::Between(low, _) => *size = (*size).max(*low),
                Want::Free | Want::AtMost(_) | Want::Prefer(_) => {}
            }
        }
        size
    };
    if let Inside::Open { shelves } = bay.inside {
        let board = construction.boards.get(&Role::Shelf).unwrap_or(&construction.board);
        let thickness = holding::thickness_of(design, board).unwrap_or_default();
        let gaps = i64::from(shelves) + 1;
        let asked = |want: &Want<Length>| matches!(want, Want::Fixed(_) | Want::AtLeast(_) | Want::Between(..));
        let height = if asked(&bay.height) { Length::ZERO } else { LEAST_OPEN_HEIGHT * gaps + thickness * (gaps - 1) };
        let least = if shelves == 0 { LEAST_OPEN_WIDTH } else { LEAST_SHELVED_WIDTH };
        let width = if asked(&bay.width) { Length::ZERO } else { least };
        return vec![raised([width, height, Length::ZERO])];
    }
    let both = [false, true].map(|turned| least_room(design, construction, bay, &|_| turned));
    let mut sizes: Vec<[Length; 3]> = both.into_iter().filter_map(|it| it.ok().flatten()).map(raised).collect();
    sizes.dedup();
    sizes
}

/// The clear space of a whole carcass: that of one with a single open bay, as large as its envelope may be.
fn whole_place(design: &Resolved) -> Result<Place, RequestError> {
    let mut empty = design.clone();
    let Envelope { width, height, depth, .. } = &mut empty.carcass.envelope;
    let niche = design.site.niche.as_ref();
    let most = [niche.map(|it| it.width), niche.and_then(|it| it.height), niche.and_then(|it| it.depth)];
    let mut may_shrink = [false; 3];
    for ((extent, most), shrinks) in [width, height, depth].into_iter().zip(most).zip(&mut may_shrink) {
        *shrinks = matches!(extent, Extent::AtMost(_) | Extent::Snug);
        // What may be less is solved as large as it can be, which the boards may limit too.
        if *extent == Extent::Snug {
            *extent = Extent::AtMost(most.unwrap_or(LARGEST).min(LARGEST));
        }
    }
    empty.carcass.bay = Bay::plain(design.carcass.bay.name.clone(), Inside::Open { shelves: 0 });
    empty.carcass.ties.clear();
    // The fronts that will stand before it take their depth.
    if has_overlay_fronts(design) {
        empty.carcass.bay.front = Some(Front::plain(Opens::Fixed));
    }
    let layout = solve(&empty).map_err(|error| match error {
        SolveError::Faults(faults) => RequestError::Faults(faults),
        other => RequestError::Unsolved(other.to_string()),
    })?;
    let laid = layout.layout.bay(&empty.carcass.bay.name);
    let size = laid.map(|it| Axis::ALL.map(|axis| it.clear.size(axis))).unwrap_or_default();
    let mut place = place_of(design, size);
    place.may_shrink = [may_shrink[0], may_shrink[1]];
    Ok(place)
}

/// Whether fronts stand before the carcass: those of the design, or those that things on slides will get.
fn has_overlay_fronts(design: &Resolved) -> bool {
    fn any(bay: &Bay<Length>) -> bool {
        bay.front.is_some() || bay.children().iter().any(any)
    }
    let slides = design.fittings.values().any(Fitting::is_slide) || design.things.values().any(|it| pulls_out(it.kind));
    any(&design.carcass.bay) || (slides && design.carcass.bay.children().is_empty())
}

fn place_of(design: &Resolved, size: [Length; 3]) -> Place {
    let construction = &design.carcass.construction;
    let thickness = |role: Role| {
        let board = construction.boards.get(&role).unwrap_or(&construction.board);
        holding::thickness_of(design, board).unwrap_or_default()
    };
    Place {
        room: Size { width: size[0], height: size[1] },
        depth: size[2],
        may_shrink: [false; 2],
        upright: thickness(Role::Upright),
        shelf: thickness(Role::Shelf),
    }
}

/// A bay that is divided into these, with `by` between them.
pub(crate) fn divided(name: String, across: bool, bays: Vec<Bay>, by: Divider) -> Bay {
    let inside = if across { Inside::Across { bays, by } } else { Inside::Up { bays, by } };
    Bay::plain(name, inside)
}
