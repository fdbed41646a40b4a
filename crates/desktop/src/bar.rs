//! The bar at the top: the file, undo and redo, and the way to everything else; and the switches over the drawing.

use egui::{Button, RichText, Ui};

use crate::app::Middle;
use crate::command::Name;
use crate::document::Document;
use crate::files::settings::Settings;
use crate::keys::Deed;
use crate::labels;
use crate::panels::Action;
use crate::pipeline::ViewKind;
use crate::status::shortened;
use crate::theme::Palette;
use crate::words::Words;

/// What the bar shows.
pub(crate) struct Bar<'b> {
    /// The document.
    pub(crate) document: &'b Document,
    /// The settings, for recent files.
    pub(crate) settings: &'b Settings,
    /// The words.
    pub(crate) words: &'b Words,
}

/// What came of the bar, beside actions.
pub(crate) enum Chosen {
    /// Open this recent file.
    Recent(std::path::PathBuf),
}

/// The most characters of a title and of the name of a file that are shown, and how few it may come down to.
const LONGEST: (usize, usize) = (40, 30);
const SHORTEST: usize = 12;

/// What one text is as wide as, in points.
fn width(ui: &Ui, text: &str, style: &egui::TextStyle) -> f32 {
    ui.painter().layout_no_wrap(text.to_owned(), style.resolve(ui.style()), egui::Color32::BLACK).rect.width()
}

fn keys_of(ui: &Ui, deed: Deed) -> String {
    deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default()
}

/// A name shortened in its middle if need be, and whole when pointed at.
fn cut_to(ui: &mut Ui, name: &str, longest: usize, text: impl FnOnce(&str) -> RichText) {
    let shown = shortened(name, longest);
    let response = ui.label(text(&shown));
    if shown != name {
        response.on_hover_text(name);
    }
}

impl Bar<'_> {
    /// Shows the bar.
    pub(crate) fn show(&self, ui: &mut Ui, actions: &mut Vec<Action>) -> Option<Chosen> {
        let mut chosen = None;
        ui.horizontal_wrapped(|ui| {
            self.names(ui);
            ui.separator();
            for deed in [Deed::New, Deed::Open] {
                self.button(ui, deed, true, actions);
            }
            ui.menu_button(self.words.say("bar-recent"), |ui| {
                if self.settings.recent.is_empty() {
                    ui.label(self.words.say("bar-no-recent"));
                }
                for path in &self.settings.recent {
                    if ui.button(path.display().to_string()).clicked() {
                        chosen = Some(Chosen::Recent(path.clone()));
                        ui.close();
                    }
                }
            });
            self.button(ui, Deed::Save, true, actions);
            self.button(ui, Deed::SaveAs, true, actions);
            ui.separator();
            self.history(ui, Deed::Undo, self.document.undo_name(), actions);
            self.history(ui, Deed::Redo, self.document.redo_name(), actions);
            ui.separator();
            self.button(ui, Deed::Arrange, true, actions);
            self.button(ui, Deed::Commands, true, actions);
            ui.menu_button(self.words.say("bar-window"), |ui| {
                for deed in [
                    Deed::Language,
                    Deed::Unit,
                    Deed::Shade,
                    Deed::Numbers,
                    Deed::Larger,
                    Deed::Smaller,
                    Deed::Explain,
                    Deed::Quit,
                ] {
                    let keys = keys_of(ui, deed);
                    let button = Button::new(deed.say(self.words)).right_text(RichText::new(keys).weak());
                    if ui.add(button).clicked() {
                        actions.push(Action::Do(deed));
                        ui.close();
                    }
                }
            });
        });
        chosen
    }

    /// Title, file and whether it is saved, in what the buttons leave of the line: whether there are edits must not make the
    /// bar another line high.
    fn names(&self, ui: &mut Ui) {
        let ink = Palette::here(ui).ink_soft;
        let title = Some(self.document.design().title.clone()).filter(|title| !title.is_empty());
        let title = title.unwrap_or_else(|| self.words.say("bar-untitled"));
        let name =
            self.document.path().and_then(|path| path.file_name()).map(|name| name.to_string_lossy().into_owned());
        let states = ["bar-unsaved", "bar-saved"].map(|key| self.words.say(key));
        let state = match (self.document.file().is_some_and(|file| file.gone), &states) {
            (true, _) => self.words.say("bar-gone"),
            (false, [unsaved, _]) if self.document.is_dirty() => unsaved.clone(),
            (false, [_, saved]) => saved.clone(),
        };
        // Room for what comes and goes with every edit; that a file is gone is rare.
        let widest = states.iter().map(|state| width(ui, state, &egui::TextStyle::Body)).fold(0.0, f32::max);
        let gap = ui.spacing().item_spacing.x;
        let room = ui.max_rect().width() - self.buttons(ui) - 3.0 * gap - if name.is_some() { widest } else { 0.0 };
        let file = name.clone().unwrap_or_else(|| self.words.say("bar-no-file"));
        let (mut of_title, mut of_file) = LONGEST;
        let fits = |ui: &Ui, of_title: usize, of_file: usize| {
            let title = width(ui, &shortened(&title, of_title), &egui::TextStyle::Heading);
            title + width(ui, &shortened(&file, of_file), &egui::TextStyle::Body) <= room
        };
        while !fits(ui, of_title, of_file) && (of_title > SHORTEST || of_file > SHORTEST) {
            if of_file >= of_title { of_file -= 1 } else { of_title -= 1 }
        }
        cut_to(ui, &title, of_title, |it| RichText::new(it).heading());
        cut_to(ui, &file, of_file, |it| RichText::new(it).color(ink));
        if name.is_some() {
            let height = ui.spacing().interact_size.y;
            ui.allocate_ui_with_layout(
                egui::vec2(widest, height),
                egui::Layout::left_to_right(egui::Align::Center),
                |ui| {
                    ui.set_min_width(widest);
                    ui.label(RichText::new(state).color(ink));
                },
            );
        }
    }

    /// How wide all buttons are together with what parts them, in points.
    fn buttons(&self, ui: &Ui) -> f32 {
        /// What a line between groups takes.
        const LINE: f32 = 6.0;
        let deeds =
            [Deed::New, Deed::Open, Deed::Save, Deed::SaveAs, Deed::Undo, Deed::Redo, Deed::Arrange, Deed::Commands];
        let texts = deeds.map(|deed| deed.say(self.words)).into_iter();
        let texts = texts.chain(["bar-recent", "bar-window"].map(|key| self.words.say(key)));
        let (gap, padding) = (ui.spacing().item_spacing.x, ui.spacing().button_padding.x);
        let buttons: f32 = texts.map(|text| width(ui, &text, &egui::TextStyle::Button) + 2.0 * padding + gap).sum();
        buttons + 3.0 * (LINE + gap)
    }

    fn button(&self, ui: &mut Ui, deed: Deed, enabled: bool, actions: &mut Vec<Action>) {
        let keys = deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
        if ui.add_enabled(enabled, Button::new(deed.say(self.words))).on_hover_text(keys).clicked() {
            actions.push(Action::Do(deed));
        }
    }

    /// Undo or redo, with what it would take back or make again.
    fn history(&self, ui: &mut Ui, deed: Deed, name: Option<&Name>, actions: &mut Vec<Action>) {
        let label = deed.say(self.words);
        let hint = name.map_or_else(String::new, |name| name.say(self.words));
        let response = ui.add_enabled(name.is_some(), Button::new(&label));
        let response = if hint.is_empty() { response } else { response.on_hover_text(hint) };
        if response.clicked() {
            actions.push(Action::Do(deed));
        }
    }
}

/// What the switches stand on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shown {
    /// What is shown in the middle.
    pub(crate) middle: Middle,
    /// The view, where that is the drawing.
    pub(crate) kind: ViewKind,
    /// Four views at once.
    pub(crate) four: bool,
}

/// The switches over the drawing: which view, and how near.
pub(crate) fn views(ui: &mut Ui, words: &Words, shown: Shown, opened: Option<&mut f32>, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        // Close together, so that a small laptop shows them in one line.
        ui.spacing_mut().item_spacing.x *= 0.5;
        let drawing = shown.middle == Middle::Drawing;
        for kind in ViewKind::ALL {
            let deed = match kind {
                ViewKind::Front => Deed::ShowFront,
                ViewKind::Fronts => Deed::ShowFronts,
                ViewKind::Section => Deed::ShowSection,
                ViewKind::Plan => Deed::ShowPlan,
                ViewKind::Isometric => Deed::ShowIsometric,
            };
            let keys = deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
            if ui
                .selectable_label(kind == shown.kind && !shown.four && drawing, labels::view(words, kind))
                .on_hover_text(keys)
                .clicked()
            {
                actions.push(Action::Do(deed));
            }
        }
        for (deed, key, on) in [
            (Deed::ShowFour, "view-four", shown.four && drawing),
            (Deed::ShowSheets, "view-sheets", shown.middle == Middle::Sheets),
            (Deed::ShowChecks, "view-checks", shown.middle == Middle::Checks),
            (Deed::ShowCuts, "view-cuts", shown.middle == Middle::Cuts),
        ] {
            let keys = deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
            if ui.selectable_label(on, words.say(key)).on_hover_text(keys).clicked() {
                actions.push(Action::Do(deed));
            }
        }
        if let Some(opened) = opened {
            // Words and slider stay together; on a small laptop they take a line of their own.
            const TOGETHER: f32 = 190.0;
            if ui.available_size_before_wrap().x < TOGETHER {
                ui.end_row();
            } else {
                ui.separator();
            }
            let label = ui.label(words.say("view-opened"));
            ui.spacing_mut().slider_width = 90.0;
            ui.add(egui::Slider::new(opened, 0.0..=1.0).show_value(false)).labelled_by(label.id);
        }
    });
}

/// Show all, larger and smaller, in the lower right corner of the drawing.
pub(crate) fn zoom(ui: &mut Ui, words: &Words, room: egui::Rect, actions: &mut Vec<Action>) {
    let size = egui::vec2(34.0, 26.0);
    let mut at = room.right_bottom() - egui::vec2(8.0, 8.0) - size;
    for (deed, sign) in [(Deed::ZoomOut, "−"), (Deed::ZoomIn, "+"), (Deed::Fit, "▣")] {
        let name = deed.say(words);
        let keys = deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
        let rect = egui::Rect::from_min_size(at, size);
        let response = ui.put(rect, Button::new(sign).min_size(size)).accessible_name(&name);
        if response.on_hover_text(format!("{name}  {keys}")).clicked() {
            actions.push(Action::Do(deed));
        }
        at.x -= size.x + 4.0;
    }
}
