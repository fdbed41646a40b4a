//! Proposals for the carcass, side by side in the place of the views: each with its elevation, what it is best at and its
//! figures; two of them can be compared, and one taken over.

use std::sync::Arc;

use casewright_arrange::criteria::{Criterion, Values};
use casewright_arrange::{Effort, Proposal, error_words, search_words};
use casewright_core::design::Design;
use casewright_core::unit::Unit;
use casewright_drawing::{DimensionStyle, Display};
use egui::{RichText, ScrollArea, Sense, Ui};
use kurbo::Point;

use super::paint;
use crate::arranging::{Arranging, Card, Found};
use crate::command::{Command, Name};
use crate::panels::{Action, Desk};
use crate::theme::Palette;
use crate::words::Words;

/// Points of the screen for each millimetre of paper: lettering of 3.5 mm is then as high as text.
const POINTS_PER_MM: f64 = 2.9;
/// The least and the largest width of a card, in points; as many as fit stand side by side.
const CARD: (f32, f32) = (270.0, 420.0);
/// What a card takes beside its picture: margins, edges and the space to the next.
const ROUND: f32 = 28.0;
/// Height of a picture as a share of its width.
const PICTURE: f32 = 0.72;

/// The proposals on the screen.
#[derive(Debug, Default)]
pub struct Gallery {
    work: Option<Arranging>,
    /// Shared, so that a frame need not copy what it shows.
    cards: Vec<Arc<Card>>,
    /// Pictures as they were laid out, with the size that they were laid out for.
    pictures: Vec<(egui::Vec2, Display)>,
    /// What is said in the place of proposals.
    said: Vec<String>,
    /// What was searched: the bay, if not the whole carcass.
    area: Option<String>,
    is_complete: bool,
    /// The proposals that are compared.
    marked: Vec<usize>,
}

impl Gallery {
    /// Begins a search for a design, or for one of its bays.
    pub fn begin(
        &mut self,
        design: Arc<Design>,
        area: Option<String>,
        effort: Effort,
        wake: impl Fn() + Send + 'static,
    ) {
        *self = Self { area: area.clone(), ..Self::default() };
        self.work = Some(Arranging::begin(design, area, effort, wake));
    }

    /// Whether it searches.
    #[must_use]
    pub const fn is_busy(&self) -> bool {
        self.work.is_some()
    }

    /// The proposals so far.
    pub fn proposals(&self) -> impl Iterator<Item = &Proposal> {
        self.cards.iter().map(|it| &it.proposal)
    }

    /// Takes in what the search has found.
    pub fn fetch(&mut self) {
        let Some(work) = &self.work else { return };
        let (news, over) = work.fetch();
        for found in news {
            match found {
                Found::SoFar(cards) => self.take(cards),
                Found::Done(cards, is_complete) => {
                    self.take(cards);
                    self.is_complete = is_complete;
                }
                Found::Lacking(sentences) => self.said = sentences,
                Found::Refused(why) => self.said = why.lines().map(str::to_owned).collect(),
            }
        }
        if over {
            self.work = None;
        }
    }

    fn take(&mut self, cards: Vec<Card>) {
        self.cards = cards.into_iter().map(Arc::new).collect();
        self.pictures.clear();
        self.marked.clear();
    }

    /// Shows the proposals.
    pub fn show(&mut self, ui: &mut Ui, desk: &mut Desk<'_>) {
        egui::Frame::new().inner_margin(egui::Margin::symmetric(10, 6)).show(ui, |ui| {
            self.head(ui, desk);
            ScrollArea::vertical().id_salt("gallery").auto_shrink(false).show(ui, |ui| {
                for sentence in &self.said {
                    ui.label(desk.words.sentence(sentence));
                }
                if let [one, other] = self.marked[..] {
                    self.compare(ui, desk, [one, other]);
                } else {
                    self.cards(ui, desk);
                }
            });
        });
    }

    fn head(&mut self, ui: &mut Ui, desk: &mut Desk<'_>) {
        let words = desk.words;
        ui.horizontal_wrapped(|ui| {
            let title = match &self.area {
                Some(bay) => words.say_with("gallery-title-bay", &[("bay", bay)]),
                None => words.say("gallery-title"),
            };
            ui.label(RichText::new(title).heading());
            if let Some(work) = &self.work {
                let bar = egui::ProgressBar::new(work.share()).desired_width(140.0);
                ui.add(bar).accessible_name(words.say("gallery-searching"));
                if ui.button(words.say("gallery-stop")).clicked() {
                    work.stop();
                }
            } else if !self.cards.is_empty() {
                let shown = words.say_with("gallery-shown", &[("count", &self.cards.len())]);
                ui.label(format!("{shown}; {}", words.sentence(search_words(self.is_complete))));
                if !self.is_complete && ui.button(words.say("gallery-longer")).clicked() {
                    desk.actions.push(Action::SearchLonger(self.area.clone()));
                }
            }
            if self.marked.len() == 2 && ui.button(words.say("gallery-all")).clicked() {
                self.marked.clear();
            }
        });
        ui.add_space(4.0);
    }

    fn cards(&mut self, ui: &mut Ui, desk: &mut Desk<'_>) {
        // The scroll bar takes a little.
        let room = ui.available_width() - 12.0;
        let columns = ((room / CARD.0).floor() as usize).max(1);
        let width = (room / columns as f32).min(CARD.1) - ROUND;
        for start in (0..self.cards.len()).step_by(columns) {
            ui.horizontal_top(|ui| {
                for index in start..(start + columns).min(self.cards.len()) {
                    self.card(ui, desk, index, egui::vec2(width, width * PICTURE));
                }
            });
        }
    }

    /// Two proposals with all their figures, what is better in each marked.
    fn compare(&mut self, ui: &mut Ui, desk: &mut Desk<'_>, pair: [usize; 2]) {
        let width = ((ui.available_width() - 12.0) / 2.0 - ROUND).clamp(200.0, 560.0);
        ui.horizontal_top(|ui| {
            for index in pair {
                self.card(ui, desk, index, egui::vec2(width, width * PICTURE));
            }
        });
        let values: Vec<Values> = pair.iter().filter_map(|&it| Some(self.cards.get(it)?.proposal.values)).collect();
        let [one, other] = values.as_slice() else { return };
        let unit = desk.design.unit;
        egui::Grid::new("compared").num_columns(3).striped(true).spacing([18.0, 4.0]).show(ui, |ui| {
            for criterion in Criterion::ALL {
                let (a, b) = (criterion.of(one), criterion.of(other));
                ui.label(desk.words.sentence(criterion.words()));
                for (own, rival) in [(a, b), (b, a)] {
                    let sign = if own < rival { "✔ " } else { "" };
                    ui.label(format!("{sign}{}", desk.words.sentence(&criterion.say(own, unit))));
                }
                ui.end_row();
            }
        });
    }

    fn card(&mut self, ui: &mut Ui, desk: &mut Desk<'_>, index: usize, picture: egui::Vec2) {
        let words = desk.words;
        let Some(card) = self.cards.get(index).cloned() else { return };
        let name = words.say_with("gallery-proposal", &[("number", &(index + 1))]);
        let palette = Palette::here(ui);
        let frame = egui::Frame::new().stroke(egui::Stroke::new(1.0, palette.edge)).inner_margin(8.0);
        frame.show(ui, |ui| {
            ui.vertical(|ui| {
                ui.set_width(picture.x);
                ui.horizontal_wrapped(|ui| {
                    ui.label(RichText::new(&name).strong());
                    let take = words.say("gallery-take");
                    if ui.button(&take).accessible_name(format!("{take}: {name}")).clicked() {
                        let named = self
                            .area
                            .clone()
                            .map_or(Name::new("edit-arrange"), |it| Name::about("edit-arrange-bay", it));
                        let design = Box::new(card.proposal.design.clone());
                        desk.edit(Command::Replace { design, name: named });
                        desk.actions.push(Action::Do(crate::keys::Deed::ShowFront));
                    }
                    let mut marked = self.marked.contains(&index);
                    let compare = words.say("gallery-compare");
                    if ui.checkbox(&mut marked, &compare).accessible_name(format!("{compare}: {name}")).changed() {
                        self.mark(index, marked);
                    }
                });
                self.picture(ui, index, &card, picture, &name);
                ui.label(words.sentence(&card.proposal.line()));
                ui.label(RichText::new(figures(words, &card.proposal, desk.design.unit)).color(palette.ink_soft));
                if let Some(text) = error_words(card.proposal.errors) {
                    ui.label(RichText::new(format!("✖ {}", words.sentence(&text))).color(palette.error));
                }
                if !card.proposal.left_out.is_empty() {
                    ui.label(words.sentence(&format!("without {}", card.proposal.left_out.join(", "))));
                }
            });
        });
    }

    fn mark(&mut self, index: usize, marked: bool) {
        self.marked.retain(|it| *it != index);
        if marked {
            self.marked.push(index);
            // The third takes the place of the first.
            if self.marked.len() > 2 {
                self.marked.remove(0);
            }
        }
    }

    fn picture(&mut self, ui: &mut Ui, index: usize, card: &Card, size: egui::Vec2, name: &str) {
        let (room, response) = ui.allocate_exact_size(size, Sense::hover());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, name));
        if !ui.is_rect_visible(room) {
            return;
        }
        let empty = || (egui::Vec2::ZERO, Display::new());
        if self.pictures.len() <= index {
            self.pictures.resize_with(index + 1, empty);
        }
        let Some(laid) = self.pictures.get_mut(index) else { return };
        if laid.0 != size {
            *laid = (size, laid_out(card, size));
        }
        let bounds = laid.1.bounds().unwrap_or_default();
        let centre = bounds.center();
        let to_window = |paper: Point| {
            let off = (paper - centre) * POINTS_PER_MM;
            room.center() + egui::vec2(off.x as f32, -off.y as f32)
        };
        paint::picture(ui, room, &laid.1, POINTS_PER_MM, &to_window);
    }
}

/// The elevation as large as it goes into a picture.
fn laid_out(card: &Card, size: egui::Vec2) -> Display {
    let room = (f64::from(size.x) / POINTS_PER_MM, f64::from(size.y) / POINTS_PER_MM);
    let outline = card.view.outline();
    let style = DimensionStyle::default();
    let mut scale = (room.0 / outline.width().max(1.0)).min(room.1 / outline.height().max(1.0));
    // Dimensions stand outside and keep their size: a few steps find the scale at which all of it fits.
    for _ in 0..6 {
        let bounds = card.view.lay_out_bounds(scale, &style).bounds;
        let over = (bounds.width() / room.0).max(bounds.height() / room.1);
        if over <= 1.0 {
            break;
        }
        scale *= (1.0 / over).min(0.97);
    }
    card.view.lay_out(scale, &style).display
}

/// The figures of a proposal in a line; those that are nothing are left out.
fn figures(words: &Words, proposal: &Proposal, unit: Unit) -> String {
    proposal.figures().map(|(it, figure)| words.sentence(&it.say(figure, unit))).collect::<Vec<_>>().join(" · ")
}
