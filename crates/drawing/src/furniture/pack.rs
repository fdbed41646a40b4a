//! The whole set of sheets of a piece.

use std::collections::BTreeSet;

use casewright_core::design::Role;
use casewright_core::geometry::Axis;
use casewright_core::layout::LaidBay;
use casewright_core::unit::Unit;
use kurbo::Affine;

use super::chains::drop_repeats_across;
use super::elevation::{carcass_elevation, front_elevation_with_fronts, has_fronts};
use super::isometric::isometric_view;
use super::lists::{banding_list, fittings_list, parts_list};
use super::scene::{Drawn, Scene, point_at_parts};
use super::section;
use crate::compose::{ComposeError, Place, PlacedOnSheet, ScaledView, compose_scaled, fits, largest_scale};
use crate::dimension::DimensionStyle;
use crate::font::HEIGHT_NOTE_MM;
use crate::scale::Scale;
use crate::sheet::{Format, Sheet, number_sheets};
use crate::table::Table;
use crate::title_block::{HEIGHT_MM, TitleBlock};
use crate::view::View;

/// What to draw, and on what.
#[derive(Clone, Debug, PartialEq)]
pub struct PackOptions {
    /// The format of the sheets with views.
    pub format: Format,
    /// The format of the sheets with lists.
    pub list_format: Format,
    /// The largest scale to use.
    pub at_most: Scale,
    /// The bay through which the side section goes; the widest undivided one if none is named.
    pub side_section: Option<String>,
    /// The bay through which the plan section goes; the widest undivided one if none is named.
    pub plan_section: Option<String>,
    /// The measures of dimensioning.
    pub style: DimensionStyle,
}

impl Default for PackOptions {
    fn default() -> Self {
        Self {
            format: Format::A3,
            list_format: Format::A4,
            at_most: Scale::reduced(5),
            side_section: None,
            plan_section: None,
            style: DimensionStyle::default(),
        }
    }
}

/// A set of sheets.
#[derive(Clone, Debug, PartialEq)]
pub struct Pack {
    /// The sheets, numbered.
    pub sheets: Vec<Sheet>,
    /// The views, each with the index of its sheet.
    pub views: Vec<(usize, PlacedOnSheet)>,
    /// Labels and part numbers that found no room on any sheet, with the view that they were meant for.
    pub omitted: Vec<String>,
}

/// The sheets of a piece: the views at one common scale, as large as the format allows for each of them, on as few
/// sheets as they fit (the isometric view smaller if need be); then the lists.
///
/// # Errors
/// See [`ComposeError`].
pub fn pack(scene: &Scene<'_>, options: &PackOptions) -> Result<Pack, ComposeError> {
    let options = &PackOptions { style: best_style(scene, options)?, ..options.clone() };
    let views = numbered_views(scene, options)?;
    let mut pack = Pack { sheets: Vec::new(), views: Vec::new(), omitted: views.without_number };
    for sheet in distribute(&views.all, options, views.scale) {
        let name: Vec<&str> = sheet.iter().map(|(shown, ..)| shown.short.as_str()).collect();
        pack.add_views(scene, options, &scaled(&sheet), &name.join(", "))?;
    }
    pack.add_list(scene, options, &parts_list(scene), "Parts list");
    let banding = banding_list(scene);
    if !banding.rows.is_empty() {
        pack.add_list(scene, options, &banding, "Banding list");
    }
    let fittings = fittings_list(scene);
    if !fittings.rows.is_empty() {
        pack.add_list(scene, options, &fittings, "Fittings list");
    }
    number_sheets(&mut pack.sheets);
    Ok(pack)
}

/// A view of the set, with its name for the title block and what it may be beside the carcass elevation.
struct Shown {
    view: View,
    short: String,
    kind: Kind,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Carcass,
    Side,
    Plan,
    Fronts,
    Free,
}

struct Views {
    all: Vec<Shown>,
    scale: Scale,
    without_number: Vec<String>,
}

/// The style asked for, with smaller values (ISO 3098: 2.5 mm) if that allows a larger scale.
fn best_style(scene: &Scene<'_>, options: &PackOptions) -> Result<DimensionStyle, ComposeError> {
    let drawn = unnumbered_views(scene, options);
    let small = PackOptions { style: DimensionStyle { height_mm: HEIGHT_NOTE_MM, ..options.style }, ..options.clone() };
    let as_asked = common_scale(&drawn, options);
    let with_small = common_scale(&drawn, &small);
    match (as_asked, with_small) {
        (Ok(asked), Ok(other)) if asked.factor() >= other.factor() => Ok(options.style),
        (_, Ok(_)) => Ok(small.style),
        (Ok(_), Err(_)) => Ok(options.style),
        (Err(error), Err(_)) => Err(error),
    }
}

/// All views, with each part numbered in the first view that has room for its number.
fn numbered_views(scene: &Scene<'_>, options: &PackOptions) -> Result<Views, ComposeError> {
    let mut drawn = unnumbered_views(scene, options);
    let scale = common_scale(&drawn, options)?;
    let mut done: BTreeSet<String> =
        scene.assembly.parts.iter().filter(|part| part.role == Role::Front).map(|part| part.number.clone()).collect();
    for (drawn, ..) in &mut drawn {
        point_at_parts(&mut drawn.view, &drawn.parts, &done);
        if drawn.view.pointers.is_empty() {
            continue;
        }
        let no_room: BTreeSet<String> =
            drawn.view.lay_out(scale.factor(), &options.style).omitted.into_iter().collect();
        drawn.view.pointers.retain(|pointer| !no_room.contains(&pointer.text));
        done.extend(drawn.view.pointers.iter().map(|pointer| pointer.text.clone()));
    }
    let parts = scene.assembly.parts.iter().filter(|part| !done.contains(&part.number));
    let without_number = parts.map(|part| format!("number of part {}", part.number)).collect();
    let all = drawn.into_iter().map(|(drawn, short, kind)| Shown { view: drawn.view, short, kind }).collect();
    Ok(Views { all, scale, without_number })
}

/// All views, in the order in which they give sizes and numbers.
fn unnumbered_views<'a>(scene: &Scene<'a>, options: &PackOptions) -> Vec<(Drawn<'a>, String, Kind)> {
    let mut carcass = carcass_elevation(scene);
    let side = chosen(scene, options.side_section.as_deref()).map(|bay| section::side(scene, bay, "A"));
    let plan = chosen(scene, options.plan_section.as_deref()).map(|bay| section::plan(scene, bay, "B"));
    for (_, mark) in [&side, &plan].into_iter().flatten() {
        carcass.view.cut_marks.push(mark.clone());
    }
    let mut drawn = vec![(carcass, "Carcass".to_owned(), Kind::Carcass)];
    for (section, kind) in [(side, Kind::Side), (plan, Kind::Plan)] {
        drawn.extend(section.map(|(drawn, _)| {
            let name = drawn.view.title.clone();
            (drawn, name, kind)
        }));
    }
    if has_fronts(scene) {
        let view = front_elevation_with_fronts(scene);
        drawn.push((Drawn { view, parts: Vec::new() }, "Fronts".to_owned(), Kind::Fronts));
    }
    let view = isometric_view(scene, false);
    drawn.push((Drawn { view, parts: Vec::new() }, "Isometric view".to_owned(), Kind::Free));
    drop_repeats_across(drawn.iter_mut().map(|(drawn, ..)| &mut drawn.view));
    drawn
}

/// The largest scale at which the carcass with its side section, and every other straight view alone, fit on a sheet.
fn common_scale(drawn: &[(Drawn<'_>, String, Kind)], options: &PackOptions) -> Result<Scale, ComposeError> {
    let mut units: Vec<Vec<(Place, &View)>> = vec![Vec::new()];
    for (drawn, _, kind) in drawn {
        match (kind, units.first_mut()) {
            (Kind::Carcass, Some(first)) => first.push((Place::Front, &drawn.view)),
            (Kind::Side, Some(first)) => first.push((Place::FromLeft, &drawn.view)),
            (Kind::Free, _) => {}
            _ => units.push(vec![(Place::Front, &drawn.view)]),
        }
    }
    let mut scale = options.at_most;
    for unit in units {
        scale = largest_scale(&unit, options.format, scale, &options.style)
            .ok_or(ComposeError::TooLarge { format: options.format.name() })?;
    }
    Ok(scale)
}

/// A sheet before it is drawn: the views with their places and scales.
type Planned<'a> = Vec<(&'a Shown, Place, Scale)>;

fn scaled<'a>(sheet: &[(&'a Shown, Place, Scale)]) -> Vec<ScaledView<'a>> {
    sheet.iter().map(|(shown, place, scale)| ScaledView { place: *place, view: &shown.view, scale: *scale }).collect()
}

/// Which views stand together on a sheet: each sheet begins with the first view that is left and takes what fits.
fn distribute<'a>(all: &'a [Shown], options: &PackOptions, scale: Scale) -> Vec<Planned<'a>> {
    let mut left: Vec<&Shown> = all.iter().collect();
    let mut sheets = Vec::new();
    while !left.is_empty() {
        // A plan is kept for a sheet that begins with an elevation, as long as there is one.
        let elevation = left.iter().position(|shown| matches!(shown.kind, Kind::Carcass | Kind::Fronts));
        let first = left.remove(elevation.unwrap_or(0));
        let mut sheet: Planned<'a> = vec![(first, Place::Front, first_scale(first, options, scale))];
        let mut index = 0;
        while let Some(shown) = left.get(index).copied() {
            let fit = offers(shown, elevation.is_some(), scale).into_iter().find_map(|(place, scale)| {
                let mut trial = sheet.clone();
                trial.push((shown, place, scale));
                fits(&scaled(&trial), options.format, &options.style).then_some(trial)
            });
            match fit {
                Some(trial) => {
                    sheet = trial;
                    left.remove(index);
                }
                None => index += 1,
            }
        }
        sheets.push(sheet);
    }
    sheets
}

/// The scale of the first view of a sheet: the common one, or for an isometric view on its own whatever fits.
fn first_scale(first: &Shown, options: &PackOptions, scale: Scale) -> Scale {
    match first.kind {
        Kind::Free => {
            let alone = [(Place::Front, &first.view)];
            largest_scale(&alone, options.format, options.at_most, &options.style).unwrap_or(scale)
        }
        _ => scale,
    }
}

/// Where a view may stand on a sheet that is begun, and how large, the best first.
fn offers(shown: &Shown, after_elevation: bool, scale: Scale) -> Vec<(Place, Scale)> {
    match shown.kind {
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

impl Pack {
    fn add_views(
        &mut self,
        scene: &Scene<'_>,
        options: &PackOptions,
        views: &[ScaledView<'_>],
        name: &str,
    ) -> Result<(), ComposeError> {
        let block = title_block(scene, name, "Assembly drawing");
        let (sheet, on_sheet) = compose_scaled(views, options.format, &options.style, block)?;
        let index = self.sheets.len();
        for view in &on_sheet {
            self.omitted.extend(view.placed.omitted.iter().map(|text| format!("{}: {text}", view.id)));
        }
        self.sheets.push(sheet);
        self.views.extend(on_sheet.into_iter().map(|view| (index, view)));
        Ok(())
    }

    fn add_list(&mut self, scene: &Scene<'_>, options: &PackOptions, table: &Table, name: &str) {
        const MARGIN_MM: f64 = 4.0;
        // The smallest format from the one asked for that breaks no word.
        let room = |format: Format| format.drawing_space().width() - 2.0 * MARGIN_MM;
        let mut larger = Format::ALL.into_iter().filter(|format| *format >= options.list_format);
        let format = larger.find(|format| table.least_width_mm() <= room(*format)).unwrap_or(options.list_format);
        let space = format.drawing_space();
        let height = space.height() - HEIGHT_MM - 2.0 * MARGIN_MM;
        let pieces = table.lay_out(room(format), height, height);
        for piece in pieces {
            let mut sheet = Sheet::new(format, title_block(scene, name, name));
            let corner = Affine::translate((space.x0 + MARGIN_MM, space.y1 - MARGIN_MM));
            sheet.content.append_mapped(&piece, corner);
            self.sheets.push(sheet);
        }
    }
}

fn title_block(scene: &Scene<'_>, name: &str, document_type: &str) -> TitleBlock {
    let notes = &scene.design.sheet;
    let unit = match scene.design.unit {
        Unit::Inch { .. } => "in",
        Unit::Millimetre { .. } => "mm",
    };
    TitleBlock {
        legal_owner: notes.owner.clone(),
        title: scene.design.title.clone(),
        supplementary_title: name.to_owned(),
        identification_number: notes.number.clone(),
        revision: notes.revision.clone(),
        date_of_issue: notes.date.clone(),
        creator: notes.drawn_by.clone(),
        approval: notes.approved_by.clone(),
        document_type: document_type.to_owned(),
        language: "en".to_owned(),
        unit: unit.to_owned(),
        ..TitleBlock::default()
    }
}
