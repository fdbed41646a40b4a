//! The drawing as something to work on: look, pan, zoom, point, select, drop things into bays.

use std::sync::Arc;

use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::layout::{LaidBay, Layout};
use casewright_drawing::{Axes, Tag, View};
use egui::{Color32, Pos2, Rect, RichText, Sense, Shape, Stroke, Ui, WidgetInfo};
use kurbo::Point;

use super::camera::Camera;
use super::ghost;
use super::handling::{self, Drag, Lens};
use super::laying::{self, Job, Key, Laid};
use super::paint::Paint;
use super::polygon;
use super::sizes::{self, Typing};
use crate::background::Latest;
use crate::command::{Command, tree};
use crate::keys::Deed;
use crate::labels;
use crate::panels::room::DraggedThing;
use crate::panels::{self, Action, Desk};
use crate::pipeline::{Derived, ViewKind};
use crate::selection::Selection;
use crate::theme::{Palette, thinned};

/// How near a line counts as hit, paper millimetres.
const REACH_MM: f64 = 1.2;

/// The drawing of one view, and where one looks in it.
#[derive(Debug, Default)]
pub struct Canvas {
    kind: ViewKind,
    camera: Camera,
    worker: Option<Latest<Job, Option<Laid>>>,
    /// What was asked of the worker last.
    asked: Option<Key>,
    /// The view as it is shown.
    laid: Option<Arc<Laid>>,
    window: Option<Rect>,
    drag: Option<Drag>,
    typing: Option<Typing>,
    /// The undivided bay under the pointer, and where.
    under: Option<(String, Point)>,
    /// The same when the menu was opened.
    menu_at: Option<(String, Point)>,
}

impl Canvas {
    /// Brings the whole drawing into view.
    pub fn fit(&mut self) {
        self.camera.fits = true;
        self.asked = None;
    }

    /// Waits for the background work; for tests.
    pub fn wait(&self) {
        if let Some(worker) = &self.worker {
            worker.wait();
        }
    }

    /// Enlarges by a factor about the middle of the window.
    pub fn zoom(&mut self, factor: f64) {
        if let Some(window) = self.window {
            self.camera.zoom_at(window, window.center(), factor);
        }
    }

    /// The bay whose sizes are being changed on the drawing, if any.
    #[must_use]
    pub fn dragging(&self) -> Option<&str> {
        self.drag.as_ref().map(Drag::bay)
    }

    /// The undivided bay under the pointer, with the place, model millimetres of the front view.
    #[must_use]
    pub fn under_pointer(&self) -> Option<(&str, Point)> {
        self.under.as_ref().map(|(bay, at)| (bay.as_str(), *at))
    }

    /// Shows the drawing in all the room there is, and takes what the user does on it; what moves is shown `opened`, from
    /// 0 to 1, and parts are numbered if asked for.
    pub fn show(&mut self, ui: &mut Ui, desk: &mut Desk<'_>, kind: ViewKind, (opened, numbers): (f32, bool)) {
        self.kind = kind;
        let palette = Palette::here(ui);
        let (window, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
        self.window = Some(window);
        response
            .widget_info(|| WidgetInfo::labeled(egui::accesskit::Role::Canvas, true, labels::view(desk.words, kind)));
        let painter = ui.painter_at(window);
        painter.rect_filled(window, 0.0, palette.paper);
        let Some((good, view)) = desk.good.and_then(|good| Some((good, good.views.get(&self.kind)?))) else {
            let text = match desk.latest {
                Some(latest) if !latest.troubles.is_empty() => desk.words.say("drawing-trouble"),
                Some(_) => desk.words.say("drawing-none"),
                None => desk.words.say("findings-working"),
            };
            let font = egui::TextStyle::Body.resolve(ui.style());
            painter.text(window.center(), egui::Align2::CENTER_CENTER, text, font, palette.ink_soft);
            return;
        };
        self.look(ui, &response, window);
        self.lay_out(ui, good.serial, view, window, numbers);
        let camera = self.camera;
        let Some(laid) = self.laid.clone() else { return };
        let placed = &laid.placed;
        let to_window = |paper: Point| camera.to_window(window, (paper.to_vec2() / placed.scale).to_point());

        let spots = Spots::of(good, view.axes, self.kind);
        paint_grounds(&painter, desk, &spots, &|model| camera.to_window(window, model), palette);
        let selection = desk.selection;
        let stands_out = |tag: &Tag| match (tag, selection) {
            (Tag::Part(number), Selection::Part(selected)) => number == selected,
            (Tag::Thing(name), Selection::Thing(selected)) => name == selected,
            _ => false,
        };
        Paint {
            painter: &painter,
            palette,
            to_window: &to_window,
            stands_out: &stands_out,
            points_per_mm: camera.paper,
        }
        .list(&placed.display);
        if let Some(assembly) = &good.assembly {
            let bay = desk.selection.one_bay().filter(|bay| assembly.movers.iter().any(|mover| mover.bay == *bay));
            let opened = (view.axes, f64::from(opened), camera.paper);
            ghost::paint(&painter, palette, assembly, opened, bay, &|model| camera.to_window(window, model));
        }
        paint_outlines(&painter, desk, &spots, &|model| camera.to_window(window, model), palette);

        let dropped = spots.interact(ui, desk, window, &|model| camera.to_window(window, model));
        if response.clicked() && !dropped {
            self.click(ui, desk, &response, window, &spots);
        }
        if let Axes::Straight(..) = view.axes {
            sizes::dimensions(ui, desk, window, placed, &to_window, &mut self.typing);
        }
        self.under = None;
        if self.is_elevation() {
            let lens = Lens {
                window,
                zoom: camera.zoom,
                to_window: &|model| camera.to_window(window, model),
                to_model: &|at| camera.to_model(window, at),
            };
            handling::dividers(ui, desk, &lens, &mut self.drag);
            sizes::selected(ui, desk, &lens, &mut self.typing);
            if let Some(at) = response.hover_pos() {
                let model = camera.to_model(window, at);
                self.under = spots.bay_at(model).map(|bay| (bay.to_owned(), model));
            }
            self.menu(desk, &response);
        }
        if self.drag.is_none() {
            self.hint(&response, desk, window, &spots);
        }
    }

    const fn is_elevation(&self) -> bool {
        matches!(self.kind, ViewKind::Front | ViewKind::Fronts)
    }

    /// What can be done with the bay under the pointer, at that place.
    fn menu(&mut self, desk: &mut Desk<'_>, response: &egui::Response) {
        if response.secondary_clicked() {
            self.menu_at.clone_from(&self.under);
            if let Some((bay, _)) = &self.menu_at
                && !desk.selection.has_bay(bay)
            {
                desk.select(Selection::bay(bay));
            }
        }
        let Some((bay, at)) = self.menu_at.clone() else { return };
        response.context_menu(|ui| {
            ui.label(RichText::new(&bay).strong());
            for (across, key) in [(true, "menu-divide-across"), (false, "menu-divide-up")] {
                if ui.button(desk.words.say(key)).clicked() {
                    let clear = desk.good.and_then(|good| good.layout.as_ref()?.bay(&bay)).map(|bay| bay.clear);
                    let unit = desk.design.unit;
                    let size = clear.and_then(|clear| handling::division(&clear, unit, across, at));
                    desk.edit(Command::Divide { bay: bay.clone(), across, at: size });
                    ui.close();
                }
            }
            let root = &desk.design.carcass.bay;
            let Some(found) = root.named(&bay) else { return };
            let parent = tree::parent(root, &bay);
            ui.separator();
            for deed in [
                Deed::Merge,
                Deed::Wrap,
                Deed::Unwrap,
                Deed::Duplicate,
                Deed::Swap,
                Deed::CopyBay,
                Deed::PasteBay,
                Deed::Delete,
            ] {
                let possible = panels::bay::is_possible(found, parent, deed)
                    && (deed != Deed::Swap || desk.selection.bays().len() == 2);
                let keys = deed.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
                let button = egui::Button::new(deed.say(desk.words)).right_text(RichText::new(keys).weak());
                if possible && ui.add(button).clicked() {
                    desk.actions.push(Action::Do(deed));
                    ui.close();
                }
            }
        });
    }

    fn look(&mut self, ui: &Ui, response: &egui::Response, window: Rect) {
        let camera = &mut self.camera;
        camera.suit(window);
        if response.dragged() {
            camera.pan(response.drag_delta());
        }
        if let Some(at) = response.hover_pos().filter(|_| response.contains_pointer()) {
            let (wheel, pinch) = ui.input(|input| (input.smooth_scroll_delta.y, input.zoom_delta()));
            camera.zoom_at(window, at, f64::from(pinch) * (f64::from(wheel) / 240.0).exp());
        }
    }

    /// Has the view laid out for what the camera sees now. Until that is done, what was laid out before is shown at the
    /// new scale.
    fn lay_out(&mut self, ui: &Ui, serial: u64, view: &Arc<View>, window: Rect, numbers: bool) {
        let wake = ui.ctx().clone();
        let worker = self
            .worker
            .get_or_insert_with(|| Latest::start("lay out", laying::lay_out, move || wake.request_repaint()));
        if let Some(Some(laid)) = worker.fetch() {
            if laid.key.window.is_some() && self.camera.fits {
                self.camera = laid.camera;
            }
            self.laid = Some(Arc::new(laid));
        }
        // While a divider is dragged the drawing must stay where it is under the pointer.
        let fits = self.camera.fits && self.drag.is_none();
        let key = Key { serial, numbers, window: fits.then_some(window), scale: (!fits).then(|| self.camera.scale()) };
        if self.asked != Some(key) {
            worker.ask(Job { key, view: view.clone(), camera: self.camera });
            self.asked = Some(key);
        }
    }

    fn click(&self, ui: &Ui, desk: &mut Desk<'_>, response: &egui::Response, window: Rect, spots: &Spots) {
        let Some(at) = response.interact_pointer_pos() else { return };
        let model = self.camera.to_model(window, at);
        let tag = self
            .laid
            .as_ref()
            .map(|laid| &laid.placed)
            .and_then(|placed| placed.hit((model.to_vec2() * placed.scale).to_point(), REACH_MM).cloned());
        let adds = ui.input(|input| input.modifiers.command || input.modifiers.shift);
        let bay = spots.bay_at(model);
        match (tag, bay) {
            (Some(Tag::Part(number)), _) => desk.select(Selection::Part(number)),
            // A thing fills most of its bay, so the first click takes the bay and the next one the thing.
            (Some(Tag::Thing(name)), bay) if bay.is_none_or(|bay| desk.selection.has_bay(bay) && !adds) => {
                desk.select(Selection::Thing(name));
            }
            (_, Some(bay)) if adds => desk.select(desk.selection.with_toggled(bay)),
            (_, Some(bay)) => desk.select(Selection::bay(bay)),
            _ => desk.select(Selection::Carcass),
        }
    }

    /// What is under the pointer: part and size, or bay and size.
    fn hint(&self, response: &egui::Response, desk: &Desk<'_>, window: Rect, spots: &Spots) {
        let Some(at) = response.hover_pos() else { return };
        let Some((good, placed)) = desk.good.zip(self.laid.as_ref().map(|laid| &laid.placed)) else { return };
        let model = self.camera.to_model(window, at);
        let hit = placed.hit((model.to_vec2() * placed.scale).to_point(), REACH_MM);
        let text = match hit {
            Some(Tag::Part(number)) => {
                let Some(part) = good.assembly.as_ref().and_then(|assembly| assembly.part(number)) else { return };
                let size =
                    [part.finished.length, part.finished.width, part.finished.thickness].map(|size| desk.show(size));
                format!("{} {}\n{}", part.number, desk.words.sentence(&part.name), size.join(" × "))
            }
            Some(Tag::Thing(name)) => name.clone(),
            Some(Tag::Site(name)) => name.clone(),
            _ => {
                let Some(bay) = spots.bay_at(model) else { return };
                bay_words(desk, good.layout.as_ref(), bay)
            }
        };
        response.clone().on_hover_ui_at_pointer(|ui| {
            ui.label(RichText::new(text));
        });
    }
}

fn bay_words(desk: &Desk<'_>, layout: Option<&Layout>, name: &str) -> String {
    let size = layout.and_then(|layout| layout.bay(name)).map(|bay| {
        let size = Axis::ALL.map(|axis| desk.show(bay.clear.size(axis)));
        size.join(" × ")
    });
    format!("{name}\n{}", size.unwrap_or_default())
}

/// The places of bays and things in a view, model millimetres of the view.
struct Spots {
    /// Undivided bays, with their outlines.
    leaves: Vec<(String, Vec<Point>)>,
    /// How the view looks at the model.
    axes: Axes,
    /// Which view it is.
    kind: ViewKind,
}

impl Spots {
    fn of(good: &Derived, axes: Axes, kind: ViewKind) -> Self {
        let leaf = |bay: &LaidBay| (bay.name.clone(), polygon::outline(axes, &bay.clear));
        let bays = good.layout.iter().flat_map(|layout| &layout.bays);
        let leaves = bays.filter(|bay| bay.is_leaf).map(leaf).collect();
        Self { leaves, axes, kind }
    }

    /// The undivided bay at a place. In space the nearest bay hides those behind it.
    fn bay_at(&self, model: Point) -> Option<&str> {
        self.leaves.iter().rev().find(|(_, outline)| polygon::contains(outline, model)).map(|(name, _)| name.as_str())
    }

    /// Makes each bay something that the keyboard, a screen reader and the pointer can take hold of; true if a thing
    /// was dropped.
    fn interact(&self, ui: &Ui, desk: &mut Desk<'_>, window: Rect, to_window: &dyn Fn(Point) -> Pos2) -> bool {
        if !matches!(self.kind, ViewKind::Front | ViewKind::Fronts) {
            return false;
        }
        let mut dropped = false;
        for (name, outline) in &self.leaves {
            let mut rect = Rect::NOTHING;
            for point in outline {
                rect.extend_with(to_window(*point));
            }
            let rect = rect.intersect(window);
            if !rect.is_positive() {
                continue;
            }
            let response = ui.interact(
                rect,
                egui::Id::unique(("bay", self.kind, name)),
                Sense::focusable_noninteractive() | Sense::HOVER,
            );
            let selected = desk.selection.has_bay(name);
            response.widget_info(|| {
                let label = desk.words.say_with("drawing-bay", &[("name", name)]);
                WidgetInfo::selected(egui::Role::Button, true, selected, label)
            });
            let pressed = response.has_focus()
                && ui.input(|input| input.key_pressed(egui::Key::Enter) || input.key_pressed(egui::Key::Space));
            let asked =
                ui.input(|input| input.has_accesskit_action_request(response.id, egui::accesskit::Action::Click));
            if pressed || asked {
                desk.select(Selection::bay(name));
            }
            if response.dnd_hover_payload::<DraggedThing>().is_some() {
                ui.painter_at(window).rect_stroke(
                    rect,
                    2.0,
                    Stroke::new(3.0, Palette::here(ui).mark),
                    egui::StrokeKind::Inside,
                );
            }
            if let Some(thing) = response.dnd_release_payload::<DraggedThing>() {
                desk.actions.push(Action::Edit(Command::PutThing { thing: thing.0.clone(), bay: name.clone() }));
                dropped = true;
            }
        }
        dropped
    }
}

/// The boxes of what is selected.
fn selected_boxes(desk: &Desk<'_>) -> Vec<Cuboid> {
    let Some(good) = desk.good else { return Vec::new() };
    let layout = good.layout.as_ref();
    match desk.selection {
        Selection::Bays(bays) => {
            let found = bays.iter().filter_map(|name| Some(layout?.bay(name)?.clear));
            found.collect()
        }
        Selection::Thing(name) => {
            let things = layout.iter().flat_map(|layout| &layout.things);
            things.filter(|thing| thing.name == *name).map(|thing| thing.cuboid).collect()
        }
        Selection::Part(number) => {
            let part = good.assembly.as_ref().and_then(|assembly| assembly.part(number));
            part.map(|part| part.cuboid).into_iter().collect()
        }
        Selection::Carcass | Selection::Site | Selection::Stock => Vec::new(),
    }
}

fn paint_grounds(
    painter: &egui::Painter,
    desk: &Desk<'_>,
    spots: &Spots,
    to_window: &dyn Fn(Point) -> Pos2,
    palette: &Palette,
) {
    let fill = |cuboid: &Cuboid, colour: Color32| {
        let outline: Vec<Pos2> = polygon::outline(spots.axes, cuboid).into_iter().map(to_window).collect();
        painter.add(Shape::convex_polygon(outline, colour, Stroke::NONE));
    };
    for cuboid in selected_boxes(desk) {
        fill(&cuboid, palette.mark_ground);
    }
    // Problem places are tinted under the drawing and named in the list.
    let findings = desk.good.iter().flat_map(|good| &good.findings);
    for finding in findings.filter(|finding| finding.severity == casewright_core::finding::Severity::Error) {
        if let Some(place) = &finding.place {
            fill(place, thinned(palette.error_ground, 0.8));
        }
    }
}

fn paint_outlines(
    painter: &egui::Painter,
    desk: &Desk<'_>,
    spots: &Spots,
    to_window: &dyn Fn(Point) -> Pos2,
    palette: &Palette,
) {
    for cuboid in selected_boxes(desk) {
        let outline: Vec<Pos2> = polygon::outline(spots.axes, &cuboid).into_iter().map(to_window).collect();
        painter.add(Shape::closed_line(outline, Stroke::new(2.5, palette.mark)));
    }
    let findings = desk.good.iter().flat_map(|good| &good.findings);
    for finding in findings {
        let Some(place) = &finding.place else { continue };
        if finding.severity == casewright_core::finding::Severity::Note {
            continue;
        }
        let outline = polygon::outline(spots.axes, place);
        let Some(top) = outline.iter().copied().max_by(|a, b| a.y.total_cmp(&b.y)) else { continue };
        let (sign, _) = labels::severity(desk.words, finding.severity);
        let at = to_window(top) + egui::vec2(-8.0, -8.0);
        let font = egui::FontId::proportional(14.0);
        painter.text(at, egui::Align2::CENTER_CENTER, sign, font, palette.severity(finding.severity));
    }
}
