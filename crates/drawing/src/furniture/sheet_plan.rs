//! Which views a set has, how large they are, and which stand together on a sheet.

use std::collections::{BTreeMap, BTreeSet};

use casewright_core::design::Role;
use casewright_core::geometry::Axis;
use casewright_core::layout::LaidBay;
use kurbo::Rect;

use super::cautions::Concern;
use super::chains::drop_repeats_across;
use super::elevation::{carcass_elevation, front_elevation_with_fronts, has_fronts};
use super::isometric::isometric_view;
use super::pack::PackOptions;
use super::scene::{Drawn, Scene, point_at_parts};
use super::section;
use crate::compose::{ComposeError, LaidView, Place, bounds_fit, largest_scale_by, titled_bounds};
use crate::dimension::DimensionStyle;
use crate::font::HEIGHT_NOTE_MM;
use crate::scale::Scale;
use crate::view::{PlacedView, View};

/// The sheets with views, still without frames.
pub(crate) struct SheetPlan {
    pub(crate) sheets: Vec<PlannedSheet>,
    /// Numbers of parts that no view shows or has room for.
    pub(crate) without_number: Vec<String>,
}

/// One sheet with its views.
pub(crate) struct PlannedSheet {
    /// What is on it, for the title block, as in the source.
    pub(crate) name: String,
    /// What it shows, for its caution.
    pub(crate) concern: Concern,
    pub(crate) views: Vec<LaidView>,
}

/// What a view may be beside the carcass elevation.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Carcass,
    Side,
    Plan,
    Fronts,
    Free,
}

/// A view of the set.
struct Shown<'a> {
    drawn: Drawn<'a>,
    /// Its name for the title block, as in the source.
    short: String,
    kind: Kind,
    /// The view laid out at the common scale, once that is known.
    placed: Option<PlacedView>,
}

/// The boxes of titled views, each laid out once a scale.
struct Measures {
    style: DimensionStyle,
    known: BTreeMap<(String, Scale, Scale), Rect>,
}

impl Measures {
    fn bounds(&mut self, view: &View, scale: Scale, main: Scale) -> Rect {
        let style = self.style;
        let key = (view.id.clone(), scale, main);
        *self.known.entry(key).or_insert_with(|| titled_bounds(view, scale, main, &style))
    }
}

/// The views of a piece on their sheets.
pub(crate) fn plan_sheets(scene: &Scene<'_>, options: &PackOptions) -> Result<SheetPlan, ComposeError> {
    let Numbered { all, mut measures, scale, without_number } = numbered(scene, options)?;
    let mut left: Vec<Option<Shown<'_>>> = all.into_iter().map(Some).collect();
    let mut sheets = Vec::new();
    for planned in distribute(&left, options, scale, &mut measures) {
        let (mut names, mut kinds) = (Vec::new(), Vec::new());
        let mut views = Vec::new();
        for (index, place, scale) in planned {
            let Some(shown) = left.get_mut(index).and_then(Option::take) else { continue };
            let Shown { drawn, short, kind, placed } = shown;
            // What was laid out for numbering serves again, unless the view is smaller here.
            let placed = placed
                .filter(|placed| placed.scale == scale.factor())
                .unwrap_or_else(|| drawn.view.lay_out(scale.factor(), &measures.style));
            names.push(short);
            kinds.push(kind);
            views.push(LaidView { place, id: drawn.view.id, scale, placed });
        }
        let concern =
            Concern::Assembly { fronts: kinds.contains(&Kind::Fronts), carcass: kinds.contains(&Kind::Carcass) };
        sheets.push(PlannedSheet { name: names.join(", "), concern, views });
    }
    Ok(SheetPlan { sheets, without_number })
}

/// The views at their common scale, their parts numbered.
struct Numbered<'a> {
    all: Vec<Shown<'a>>,
    measures: Measures,
    scale: Scale,
    without_number: Vec<String>,
}

impl Numbered<'_> {
    /// How many texts found no room where they belong.
    fn missing(&self) -> usize {
        let placed = self.all.iter().filter_map(|shown| shown.placed.as_ref());
        self.without_number.len() + placed.map(|it| it.omitted.len() + it.led_out).sum::<usize>()
    }
}

/// The views with the side section beside the carcass; where texts find no room so, and each view alone can be larger,
/// larger.
fn numbered<'a>(scene: &Scene<'a>, options: &PackOptions) -> Result<Numbered<'a>, ComposeError> {
    let with = |together: bool| {
        let mut all = views(scene, options);
        let (measures, scale) = style_and_scale(&all, options, together)?;
        let without_number = number_parts(scene, &mut all, scale, &measures.style);
        Ok(Numbered { all, measures, scale, without_number })
    };
    let beside = with(true)?;
    if beside.missing() == 0 || beside.scale == options.at_most {
        return Ok(beside);
    }
    let alone = with(false)?;
    Ok(if alone.missing() < beside.missing() { alone } else { beside })
}

/// The largest common scale; with the values of dimensions as asked for, or smaller ones (ISO 3098: 2.5 mm) where these
/// allow a larger scale.
fn style_and_scale(
    all: &[Shown<'_>],
    options: &PackOptions,
    together: bool,
) -> Result<(Measures, Scale), ComposeError> {
    let with = |style: DimensionStyle| {
        let mut measures = Measures { style, known: BTreeMap::new() };
        let scale = common_scale(all, options, together, &mut measures);
        (measures, scale)
    };
    let (asked, asked_scale) = with(options.style);
    if asked_scale == Some(options.at_most) || options.style.height_mm <= HEIGHT_NOTE_MM {
        return Ok((asked, asked_scale.ok_or(ComposeError::TooLarge { format: options.format.name() })?));
    }
    let (small, small_scale) = with(DimensionStyle { height_mm: HEIGHT_NOTE_MM, ..options.style });
    match (asked_scale, small_scale) {
        (Some(scale), None) => Ok((asked, scale)),
        (Some(scale), Some(other)) if scale.factor() >= other.factor() => Ok((asked, scale)),
        (_, Some(scale)) => Ok((small, scale)),
        (None, None) => Err(ComposeError::TooLarge { format: options.format.name() }),
    }
}

/// Numbers each part in the first view that has room for its number, and says which found none.
fn number_parts(scene: &Scene<'_>, all: &mut [Shown<'_>], scale: Scale, style: &DimensionStyle) -> Vec<String> {
    let fronts = || scene.assembly.parts.iter().filter(|part| part.role == Role::Front);
    // Fronts carry their numbers in their own view.
    let mut done: BTreeSet<String> = fronts().map(|part| part.number.clone()).collect();
    for shown in &mut *all {
        let view = &mut shown.drawn.view;
        point_at_parts(view, &shown.drawn.parts, &done);
        let mut placed = view.lay_out(scale.factor(), style);
        let numbers: BTreeSet<String> = view.pointers.iter().map(|pointer| pointer.text.clone()).collect();
        let no_room: BTreeSet<String> = placed.omitted.iter().cloned().collect();
        if shown.kind != Kind::Fronts {
            // Another view may have room for them.
            placed.omitted.retain(|text| !numbers.contains(text));
            view.pointers.retain(|pointer| !no_room.contains(&pointer.text));
        }
        done.extend(numbers.difference(&no_room).cloned());
        shown.placed = Some(placed);
    }
    lead_numbers_out(all, scale, style, &mut done);
    let parts = scene.assembly.parts.iter().filter(|part| !done.contains(&part.number));
    parts.map(|part| part.number.clone()).collect()
}

/// Numbers what no view had room for within its outline, beside the outline of the first that shows it.
fn lead_numbers_out(all: &mut [Shown<'_>], scale: Scale, style: &DimensionStyle, done: &mut BTreeSet<String>) {
    for shown in all {
        let view = &mut shown.drawn.view;
        let before = view.pointers.len();
        point_at_parts(view, &shown.drawn.parts, done);
        if view.pointers.len() == before {
            continue;
        }
        view.pointers.iter_mut().skip(before).for_each(|pointer| pointer.stays = false);
        let mut placed = view.lay_out(scale.factor(), style);
        let fresh: BTreeSet<String> = view.pointers.iter().skip(before).map(|pointer| pointer.text.clone()).collect();
        let no_room: BTreeSet<String> = placed.omitted.iter().filter(|it| fresh.contains(*it)).cloned().collect();
        view.pointers.retain(|pointer| !no_room.contains(&pointer.text));
        placed.omitted.retain(|text| !no_room.contains(text));
        done.extend(fresh.difference(&no_room).cloned());
        shown.placed = Some(placed);
    }
}

/// All views, in the order in which they give sizes and numbers.
fn views<'a>(scene: &Scene<'a>, options: &PackOptions) -> Vec<Shown<'a>> {
    let mut carcass = carcass_elevation(scene);
    let side = chosen(scene, options.side_section.as_deref()).map(|bay| section::side(scene, bay, "A"));
    let plan = chosen(scene, options.plan_section.as_deref()).map(|bay| section::plan(scene, bay, "B"));
    for (_, mark) in [&side, &plan].into_iter().flatten() {
        carcass.view.cut_marks.push(mark.clone());
    }
    let mut all = Vec::new();
    let mut add = |drawn: Drawn<'a>, short: String, kind: Kind| all.push(Shown { drawn, short, kind, placed: None });
    add(carcass, "Carcass".to_owned(), Kind::Carcass);
    for (section, kind) in [(side, Kind::Side), (plan, Kind::Plan)] {
        if let Some((drawn, mark)) = section {
            add(drawn, section::title(&mark.letter), kind);
        }
    }
    if has_fronts(scene) {
        let view = front_elevation_with_fronts(scene);
        add(Drawn { view, parts: Vec::new() }, "Fronts".to_owned(), Kind::Fronts);
    }
    let view = isometric_view(scene, false);
    add(Drawn { view, parts: Vec::new() }, "Isometric view".to_owned(), Kind::Free);
    drop_repeats_across(all.iter_mut().map(|shown| &mut shown.drawn.view));
    all
}

/// The largest scale at which every straight view fits on a sheet: the carcass `together` with its side section, or
/// each alone.
fn common_scale(all: &[Shown<'_>], options: &PackOptions, together: bool, measures: &mut Measures) -> Option<Scale> {
    let mut units: Vec<Vec<(Place, &View)>> = vec![Vec::new()];
    for shown in all {
        let view = &shown.drawn.view;
        match (shown.kind, units.first_mut()) {
            (Kind::Carcass, Some(first)) => first.push((Place::Front, view)),
            (Kind::Side, Some(first)) if together => first.push((Place::FromLeft, view)),
            (Kind::Free, _) => {}
            _ => units.push(vec![(Place::Front, view)]),
        }
    }
    let mut scale = options.at_most;
    for unit in units {
        scale = largest_scale_by(&unit, options.format, scale, &mut |view, scale| measures.bounds(view, scale, scale))?;
    }
    Some(scale)
}

/// A sheet before it is drawn: the indices of its views, with their places and scales.
type Planned = Vec<(usize, Place, Scale)>;

/// Which views stand together on a sheet: each sheet begins with the first view that is left and takes what fits.
fn distribute(all: &[Option<Shown<'_>>], options: &PackOptions, scale: Scale, measures: &mut Measures) -> Vec<Planned> {
    let mut left: Vec<(usize, &Shown<'_>)> =
        all.iter().enumerate().filter_map(|(index, shown)| Some((index, shown.as_ref()?))).collect();
    let mut sheets = Vec::new();
    while !left.is_empty() {
        // A plan is kept for a sheet that begins with an elevation, as long as there is one.
        let elevation = left.iter().position(|(_, shown)| matches!(shown.kind, Kind::Carcass | Kind::Fronts));
        let (index, first) = left.remove(elevation.unwrap_or(0));
        let main = first_scale(first, options, scale, measures);
        let mut sheet: Planned = vec![(index, Place::Front, main)];
        let mut bounds = vec![(Place::Front, measures.bounds(&first.drawn.view, main, main))];
        let mut next = 0;
        while let Some((index, shown)) = left.get(next).copied() {
            let fit = offers(shown.kind, elevation.is_some(), scale).into_iter().find_map(|(place, scale)| {
                let mut trial = bounds.clone();
                trial.push((place, measures.bounds(&shown.drawn.view, scale, main)));
                bounds_fit(&trial, options.format).then_some((place, scale, trial))
            });
            match fit {
                Some((place, scale, trial)) => {
                    sheet.push((index, place, scale));
                    bounds = trial;
                    left.remove(next);
                }
                None => next += 1,
            }
        }
        sheets.push(sheet);
    }
    sheets
}

/// The scale of the first view of a sheet: the common one, or for an isometric view on its own whatever fits.
fn first_scale(first: &Shown<'_>, options: &PackOptions, scale: Scale, measures: &mut Measures) -> Scale {
    if first.kind != Kind::Free {
        return scale;
    }
    let alone = [(Place::Front, &first.drawn.view)];
    let bounds = &mut |view: &View, scale: Scale| measures.bounds(view, scale, scale);
    largest_scale_by(&alone, options.format, options.at_most, bounds).unwrap_or(scale)
}

/// Where a view may stand on a sheet that is begun, and how large, the best first.
fn offers(kind: Kind, after_elevation: bool, scale: Scale) -> Vec<(Place, Scale)> {
    match kind {
        Kind::Side if after_elevation => vec![(Place::FromLeft, scale)],
        Kind::Plan if after_elevation => vec![(Place::FromAbove, scale)],
        Kind::Carcass | Kind::Fronts => Vec::new(),
        Kind::Side | Kind::Plan => vec![(Place::Free, scale)],
        Kind::Free => {
            let smaller = Scale::reductions().filter(|other| other.factor() < scale.factor()).take(1);
            std::iter::once(scale).chain(smaller).map(|scale| (Place::Free, scale)).collect()
        }
    }
}

/// The bay of this name; else the undivided bay with the largest opening.
fn chosen<'a>(scene: &Scene<'a>, name: Option<&str>) -> Option<&'a LaidBay> {
    let layout = scene.layout;
    let opening = |bay: &LaidBay| {
        let (width, height) = (bay.clear.size(Axis::X).mm(), bay.clear.size(Axis::Y).mm());
        width * height
    };
    let largest = || {
        let leaves = layout.bays.iter().filter(|bay| bay.is_leaf);
        // The first of equals, whatever the order of comparison.
        leaves.fold(None::<&LaidBay>, |best, bay| match best {
            Some(best) if opening(best) >= opening(bay) => Some(best),
            _ => Some(bay),
        })
    };
    name.and_then(|name| layout.bay(name)).or_else(largest)
}
