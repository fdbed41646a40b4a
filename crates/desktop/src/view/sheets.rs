//! The drawing pack as it will print, page by page, with the choice of paper and scale.

use casewright_drawing::furniture::PackOptions;
use casewright_drawing::{Format, Scale, Sheet};
use egui::{Rect, RichText, Sense, Ui};
use kurbo::Point;

use super::camera::Camera;
use super::cuts::Cuts;
use super::paint::Paint;
use crate::keys::Deed;
use crate::panels::{Action, Desk, choice};
use crate::theme::Palette;
use crate::words::Words;

/// The scales that are offered as the largest.
const SCALES: [Scale; 6] =
    [Scale::FULL, Scale::reduced(2), Scale::reduced(5), Scale::reduced(10), Scale::reduced(20), Scale::reduced(50)];

/// The most room for the name of a sheet, in points.
const WIDEST_NAME: f32 = 330.0;

/// The pack on the screen.
#[derive(Debug)]
pub struct Sheets {
    /// The page, counted from 0.
    page: usize,
    format: Format,
    at_most: Scale,
    camera: Camera,
    seen: Option<(usize, Format)>,
    /// The name of the sheet that is shown, which of that name it is, and how many sheets there were.
    shown: Option<(String, usize, usize)>,
}

impl Default for Sheets {
    fn default() -> Self {
        Self {
            page: 0,
            format: Format::A3,
            at_most: Scale::reduced(5),
            camera: Camera::default(),
            seen: None,
            shown: None,
        }
    }
}

impl Sheets {
    /// What is to be drawn.
    #[must_use]
    pub fn wanted(&self, bay: Option<&str>) -> PackOptions {
        let bay = bay.map(str::to_owned);
        PackOptions {
            format: self.format,
            at_most: self.at_most,
            side_section: bay.clone(),
            plan_section: bay,
            ..PackOptions::default()
        }
    }

    /// Brings the whole page into view.
    pub fn fit(&mut self) {
        self.camera.fits = true;
    }

    /// Enlarges by a factor.
    pub fn zoom(&mut self, factor: f64) {
        let middle = Rect::from_min_size(egui::Pos2::ZERO, egui::Vec2::splat(2.0));
        self.camera.zoom_at(middle, middle.center(), factor);
    }

    /// Keeps the same sheet in view when sheets come in before it, such as those of the cutting plan.
    fn follow(&mut self, sheets: &[Sheet]) {
        let names = || sheets.iter().map(|sheet| sheet.title_block.supplementary_title.as_str()).enumerate();
        if let Some((name, nth, _)) = self.shown.as_ref().filter(|it| it.2 != sheets.len())
            && let Some((page, _)) = names().filter(|it| it.1 == name).nth(*nth)
        {
            self.page = page;
        }
        self.page = self.page.min(sheets.len().saturating_sub(1));
        self.shown = names().nth(self.page).map(|(page, name)| {
            let nth = names().take(page).filter(|it| it.1 == name).count();
            (name.to_owned(), nth, sheets.len())
        });
    }

    /// Shows the page and its choices; `cuts` has the plan that the cutting sheets are of.
    pub fn show(&mut self, ui: &mut Ui, desk: &mut Desk<'_>, cuts: &mut Cuts) {
        let sheets = desk.good.and_then(|good| good.sheets.as_ref());
        if let Some(Ok(sheets)) = sheets {
            self.follow(sheets);
        }
        let count = sheets.map_or(0, |sheets| sheets.as_ref().map_or(0, Vec::len));
        egui::Frame::new().inner_margin(egui::Margin::symmetric(8, 4)).show(ui, |ui| {
            let all = sheets.and_then(|sheets| sheets.as_ref().ok()).map_or(&[][..], Vec::as_slice);
            self.turning(ui, desk.words, all);
            self.choices(ui, desk, count);
            if let Some(key) = cuts.lacking(desk) {
                ui.horizontal_wrapped(|ui| {
                    ui.label(RichText::new(desk.words.say(key)).color(Palette::here(ui).ink_soft));
                    cuts.search_controls(ui, desk);
                });
            }
        });
        match sheets {
            Some(Ok(sheets)) => {
                if let Some(sheet) = sheets.get(self.page) {
                    self.page(ui, sheet);
                }
            }
            Some(Err(error)) => {
                let colour = Palette::here(ui).error;
                ui.label(RichText::new(format!("✖ {}", desk.words.sentence(error))).color(colour));
            }
            None => {
                let key = if desk.latest.is_some_and(|latest| latest.layout.is_none()) {
                    "drawing-trouble"
                } else {
                    "findings-working"
                };
                ui.label(desk.words.say(key));
            }
        }
    }

    /// Which sheet, by its neighbours or by its name.
    fn turning(&mut self, ui: &mut Ui, words: &Words, sheets: &[Sheet]) {
        let count = sheets.len();
        ui.horizontal(|ui| {
            let back = ui.add_enabled(self.page > 0, egui::Button::new(words.say("sheets-back")));
            if back.clicked() {
                self.page -= 1;
            }
            ui.label(words.say_with("sheets-page", &[("page", &(self.page + 1).min(count)), ("count", &count)]));
            let on = ui.add_enabled(self.page + 1 < count, egui::Button::new(words.say("sheets-on")));
            if on.clicked() {
                self.page += 1;
            }
            let named =
                |(number, sheet): (usize, &Sheet)| format!("{number}  {}", sheet.title_block.supplementary_title);
            let names: Vec<String> = (1..).zip(sheets).map(named).collect();
            let room = (ui.available_width() - 30.0).clamp(60.0, WIDEST_NAME);
            let chosen = choice::choose_box(ui, None, &words.say("sheets-which"), self.page, &names, room);
            self.page = chosen.unwrap_or(self.page);
        });
    }

    fn choices(&mut self, ui: &mut Ui, desk: &mut Desk<'_>, count: usize) {
        let words = desk.words;
        ui.horizontal_wrapped(|ui| {
            ui.label(words.say("sheets-paper"));
            let formats = Format::ALL.map(|format| format.name().to_owned());
            let now = Format::ALL.iter().position(|format| *format == self.format).unwrap_or(0);
            if let Some(chosen) = choice::choose_box(ui, None, &words.say("sheets-paper"), now, &formats, 60.0) {
                self.format = Format::ALL.get(chosen).copied().unwrap_or(self.format);
            }
            ui.label(words.say("sheets-scale"));
            let scales = SCALES.map(|scale| scale.to_string());
            let now = SCALES.iter().position(|scale| *scale == self.at_most).unwrap_or(0);
            if let Some(chosen) = choice::choose_box(ui, None, &words.say("sheets-scale"), now, &scales, 70.0) {
                self.at_most = SCALES.get(chosen).copied().unwrap_or(self.at_most);
            }
            for (deed, key) in [(Deed::WritePdf, "sheets-write-pdf"), (Deed::WriteFolder, "sheets-write-folder")] {
                let keys = deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
                let hint = format!("{}  {keys}", deed.say(words));
                if ui.add_enabled(count > 0, egui::Button::new(words.say(key))).on_hover_text(hint).clicked() {
                    desk.actions.push(Action::Do(deed));
                }
            }
        });
    }

    fn page(&mut self, ui: &mut Ui, sheet: &Sheet) {
        let palette = Palette::here(ui);
        let (window, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
        let name = sheet.title_block.title.clone();
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, &name));
        let (width, height) = sheet.format.size_mm();
        let page = kurbo::Rect::new(0.0, 0.0, width, height);
        if self.seen != Some((self.page, sheet.format)) {
            self.seen = Some((self.page, sheet.format));
            self.camera.fits = true;
        }
        if response.dragged() {
            self.camera.pan(response.drag_delta());
        }
        if let Some(at) = response.hover_pos() {
            let (wheel, pinch) = ui.input(|input| (input.smooth_scroll_delta.y, input.zoom_delta()));
            self.camera.zoom_at(window, at, f64::from(pinch) * (f64::from(wheel) / 240.0).exp());
        }
        if self.camera.fits {
            let room = (f64::from(window.width()) - 28.0, f64::from(window.height()) - 28.0);
            self.camera.zoom = (room.0 / width).min(room.1 / height).max(0.1);
            self.camera.centre = page.center();
        }
        let camera = self.camera;
        let to_window = |paper: Point| camera.to_window(window, paper);
        let painter = ui.painter_at(window);
        painter.rect_filled(window, 0.0, palette.button);
        let paper = Rect::from_two_pos(to_window(Point::ZERO), to_window(Point::new(width, height)));
        painter.rect_filled(paper, 0.0, palette.paper);
        painter.rect_stroke(paper, 0.0, egui::Stroke::new(1.0, palette.edge), egui::StrokeKind::Outside);
        Paint { painter: &painter, palette, to_window: &to_window, stands_out: &|_| false, points_per_mm: camera.zoom }
            .list(&sheet.display());
    }
}
