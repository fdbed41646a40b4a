//! The whole set of sheets of a piece.

use casewright_core::stock::CuttingPlan;
use casewright_core::unit::Unit;
use kurbo::Affine;

use super::buying::{buying_list, spare_list};
use super::cautions::{Concern, caution_for};
use super::chapter::Chapter;
use super::checks::check_pages;
use super::cover::cover_sheet;
use super::cut_boards::cut_sheets;
use super::cut_labels::label_sheets;
use super::installation::{installation_sheets, rolls};
use super::jigs::{block_sheets, block_table, diagonal_table, set_up_table};
use super::lists::{banding_list, fittings_list, parts_list};
use super::marking::marking_sheets;
use super::measure::measure_sheet;
use super::order::order_sheets;
use super::part_sheets::part_sheets;
use super::scene::Scene;
use super::sheet_plan::plan_sheets;
use super::templates::template_sheets;
use super::worktop_sheet::worktop_sheet;
use crate::compose::{ComposeError, LaidView, PlacedOnSheet, compose_laid};
use crate::dimension::DimensionStyle;
use crate::display::{Item, Layer, Mark};
use crate::scale::Scale;
use crate::sheet::{Format, Sheet, number_sheets};
use crate::table::Table;
use crate::tag::Tag;
use crate::title_block::{HEIGHT_MM, TitleBlock};

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
    /// How the parts are cut; without it there are no cutting sheets, labels or buying list.
    pub cutting: Option<CuttingPlan>,
    /// Only these chapters; all of them if none is named.
    pub only: Vec<Chapter>,
}

impl PackOptions {
    fn wants(&self, chapter: Chapter) -> bool {
        self.only.is_empty() || self.only.contains(&chapter)
    }
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
            cutting: None,
            only: Vec::new(),
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
    pack_watched(scene, options, &mut |_| true)
}

/// As [`pack()`]; `goes_on` is told before each of the chapters that there are, and at the end, how many are done, and says
/// whether to go on.
///
/// # Errors
/// As [`pack()`], and [`ComposeError::Stopped`].
pub fn pack_watched(
    scene: &Scene<'_>,
    options: &PackOptions,
    goes_on: &mut dyn FnMut(usize) -> bool,
) -> Result<Pack, ComposeError> {
    let mut pack = Pack { sheets: Vec::new(), views: Vec::new(), omitted: Vec::new() };
    let mut without_number = Vec::new();
    for (done, chapter) in Chapter::ALL.into_iter().enumerate() {
        if !goes_on(done) {
            return Err(ComposeError::Stopped);
        }
        if options.wants(chapter) {
            without_number.extend(pack.add_chapter(scene, options, chapter)?);
        }
    }
    // What stands inside others, as the rear of a drawer, has its number in the pictures of the steps.
    let unnumbered = without_number.into_iter().filter(|number| !pack.points_at(number));
    let unnumbered: Vec<String> = unnumbered.map(|it| scene.say(&format!("number of part {it}"))).collect();
    pack.omitted.splice(0..0, unnumbered);
    pack.add_cover(scene, options);
    number_sheets(&mut pack.sheets);
    if goes_on(Chapter::ALL.len()) { Ok(pack) } else { Err(ComposeError::Stopped) }
}

impl Pack {
    /// Adds a chapter; hands back the numbers of parts that ought to stand in it and have no room there.
    fn add_chapter(
        &mut self,
        scene: &Scene<'_>,
        options: &PackOptions,
        chapter: Chapter,
    ) -> Result<Vec<String>, ComposeError> {
        match chapter {
            Chapter::Views => return self.add_views(scene, options),
            Chapter::Lists => self.add_lists(scene, options),
            Chapter::Parts => {
                let block = |name: &str, kind: &str| title_block(scene, name, kind, Concern::Workshop);
                let (sheets, omitted) = part_sheets(scene, &block);
                self.sheets.extend(sheets);
                self.omitted.extend(omitted);
            }
            Chapter::Joinery => self.add_joinery(scene, options),
            Chapter::Cutting => {
                if let Some(plan) = &options.cutting {
                    self.add_cutting(scene, options, plan);
                }
            }
            Chapter::Checks => self.add_checks(scene, options),
            Chapter::Order => self.sheets.extend(order_sheets(scene, scene.order_of_work(), options.format)),
            Chapter::Site => self.add_site(scene, options)?,
            Chapter::Moving => super::moving_sheets::add(self, scene, options)?,
        }
        Ok(Vec::new())
    }

    /// Taking measure, installation, leads, the worktop.
    fn add_site(&mut self, scene: &Scene<'_>, options: &PackOptions) -> Result<(), ComposeError> {
        if !rolls(scene) {
            self.sheets.push(measure_sheet(scene));
        }
        self.sheets.extend(installation_sheets(scene));
        super::lead_sheet::add(self, scene, options)?;
        self.sheets.extend(worktop_sheet(scene, options.format));
        Ok(())
    }

    /// Adds the views; hands back the numbers of parts that none of them has.
    fn add_views(&mut self, scene: &Scene<'_>, options: &PackOptions) -> Result<Vec<String>, ComposeError> {
        let plan = plan_sheets(scene, options)?;
        for sheet in plan.sheets {
            let block = title_block(scene, &sheet.name, "Assembly drawing", sheet.concern);
            self.add_drawn(sheet.views, options.format, block)?;
        }
        Ok(plan.without_number)
    }

    /// Whether the number of a part stands beside its picture on some sheet.
    fn points_at(&self, number: &str) -> bool {
        let is_it = |item: &Item| {
            item.tag == Some(Tag::Part(number.to_owned()))
                && item.layer == Layer::Notes
                && matches!(&item.mark, Mark::Text(text) if text.content == number)
        };
        self.sheets.iter().any(|sheet| sheet.content.items.iter().any(is_it))
    }

    /// One sheet of views that are laid out.
    pub(super) fn add_drawn(
        &mut self,
        views: Vec<LaidView>,
        format: Format,
        title_block: TitleBlock,
    ) -> Result<(), ComposeError> {
        let (sheet, views) = compose_laid(views, format, title_block)?;
        let index = self.sheets.len();
        for view in &views {
            self.omitted.extend(view.placed.omitted.iter().map(|text| format!("{}: {text}", view.id)));
        }
        self.sheets.push(sheet);
        self.views.extend(views.into_iter().map(|view| (index, view)));
        Ok(())
    }

    fn add_lists(&mut self, scene: &Scene<'_>, options: &PackOptions) {
        self.add_list(scene, options, &parts_list(scene), ("Parts list", Concern::Workshop));
        let banding = banding_list(scene, options.cutting.as_ref());
        if !banding.rows.is_empty() {
            self.add_list(scene, options, &banding, ("Banding list", Concern::Workshop));
        }
        let fittings = fittings_list(scene);
        if !fittings.rows.is_empty() {
            self.add_list(scene, options, &fittings, ("Fittings list", Concern::Fittings));
        }
    }

    /// The marking sheet, diagonals, drilling blocks with their set-ups, the blocks full size, and templates for shelf pins
    /// and hinge cups.
    fn add_joinery(&mut self, scene: &Scene<'_>, options: &PackOptions) {
        let block = title_block(scene, "Marking sheet", "Marking sheet", Concern::Nothing);
        let (sheets, omitted) = marking_sheets(scene, options.format, &block);
        self.sheets.extend(sheets);
        self.omitted.extend(omitted);
        self.add_list(scene, options, &diagonal_table(scene), ("Diagonals", Concern::Nothing));
        if !scene.jigs.blocks.is_empty() {
            self.add_list(scene, options, &block_table(scene, scene.jigs), ("Drilling blocks", Concern::Workshop));
            self.add_list(scene, options, &set_up_table(scene, scene.jigs), ("Drilling set-ups", Concern::Workshop));
            self.sheets.extend(block_sheets(scene, scene.jigs, &title_block(scene, "", "", Concern::Nothing)));
        }
        self.sheets.extend(template_sheets(scene, &title_block(scene, "", "", Concern::Nothing)));
    }

    fn add_cutting(&mut self, scene: &Scene<'_>, options: &PackOptions, plan: &CuttingPlan) {
        let block = |concern: Concern| move |name: &str, kind: &str| title_block(scene, name, kind, concern);
        self.sheets.extend(cut_sheets(scene, plan, &block(Concern::Workshop)));
        self.sheets.extend(label_sheets(scene, plan, &block(Concern::Nothing)));
        self.add_list(scene, options, &buying_list(scene, plan), ("Buying list", Concern::Nothing));
        let spare = spare_list(scene, plan);
        if !spare.rows.is_empty() {
            self.add_list(scene, options, &spare, ("Spare parts in the boards", Concern::Workshop));
        }
    }

    fn add_checks(&mut self, scene: &Scene<'_>, options: &PackOptions) {
        const MARGIN_MM: f64 = 4.0;
        let space = options.list_format.drawing_space();
        let (width, height) = (space.width() - 2.0 * MARGIN_MM, space.height() - HEIGHT_MM - 2.0 * MARGIN_MM);
        for page in check_pages(scene, width, height) {
            let mut sheet =
                Sheet::new(options.list_format, title_block(scene, "Checks", "Calculation", Concern::Checks));
            sheet.content.append_mapped(&page, Affine::translate((space.x0 + MARGIN_MM, space.y1 - MARGIN_MM)));
            self.sheets.push(sheet);
        }
    }

    /// Puts the cover before all sheets: its contents list names them all, so it comes last.
    fn add_cover(&mut self, scene: &Scene<'_>, options: &PackOptions) {
        let names: Vec<String> =
            self.sheets.iter().map(|sheet| sheet.title_block.supplementary_title.clone()).collect();
        self.sheets.insert(0, cover_sheet(scene, &names, options.format));
        for (sheet, _) in &mut self.views {
            *sheet += 1;
        }
    }

    /// A list on as many sheets as it needs, by its name and what it is about.
    pub(super) fn add_list(
        &mut self,
        scene: &Scene<'_>,
        options: &PackOptions,
        table: &Table,
        (name, concern): (&str, Concern),
    ) {
        const MARGIN_MM: f64 = 4.0;
        // The smallest format from the one asked for that breaks no word.
        let room = |format: Format| format.drawing_space().width() - 2.0 * MARGIN_MM;
        let mut larger = Format::ALL.into_iter().filter(|format| *format >= options.list_format);
        let format = larger.find(|format| table.least_width_mm() <= room(*format)).unwrap_or(options.list_format);
        let space = format.drawing_space();
        let height = space.height() - HEIGHT_MM - 2.0 * MARGIN_MM;
        let pieces = table.lay_out(room(format), &[], height);
        for piece in pieces {
            let mut sheet = Sheet::new(format, title_block(scene, name, name, concern));
            let corner = Affine::translate((space.x0 + MARGIN_MM, space.y1 - MARGIN_MM));
            sheet.content.append_mapped(&piece, corner);
            self.sheets.push(sheet);
        }
    }
}

/// The title block of a sheet: its name and the type of document as in the source, said here, with the caution for what it
/// is about.
pub(crate) fn title_block(scene: &Scene<'_>, name: &str, document_type: &str, concern: Concern) -> TitleBlock {
    let notes = &scene.design.sheet;
    let unit = match scene.design.unit {
        Unit::Inch { .. } => "in",
        Unit::Millimetre { .. } => "mm",
    };
    TitleBlock {
        legal_owner: notes.owner.clone(),
        title: scene.design.title.clone(),
        supplementary_title: scene.say(name),
        identification_number: notes.number.clone(),
        revision: notes.revision.clone(),
        date_of_issue: notes.date.clone(),
        creator: notes.drawn_by.clone(),
        approval: notes.approved_by.clone(),
        document_type: scene.say(document_type),
        note: caution_for(scene, concern).map(|it| scene.say(&it)).unwrap_or_default(),
        document_status: scene.say(&status(scene)),
        language: scene.language().code().to_owned(),
        unit: unit.to_owned(),
        ..TitleBlock::default()
    }
}

/// How far the piece has come: what is cut and done.
fn status(scene: &Scene<'_>) -> String {
    let (built, progress) = (&scene.design.as_built, &scene.design.progress);
    let cut: std::collections::BTreeSet<&String> = built.cut.keys().chain(&progress.parts).collect();
    match (cut.len(), built.is_empty()) {
        (0, true) => String::new(),
        (0, false) => "as measured".to_owned(),
        (cut, _) => format!("as built, {cut} cut"),
    }
}
