//! Direct work on the elevation: dragging dividers, and where a bay is divided.

use casewright_core::expr::Dim;
use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::length::Length;
use casewright_core::unit::Unit;
use egui::{CursorIcon, FontId, Id, Key, Pos2, Rect, Sense, Ui, Vec2, WidgetInfo};
use kurbo::Point;

use super::dividers::{self, Handle, Stop};
use crate::command::{Command, tree};
use crate::panels::{Action, Desk};
use crate::theme::Palette;

/// How near a soft stop is, points of the window.
const STOP_REACH: f64 = 7.0;
/// The least width of a handle, points of the window.
const HANDLE: f32 = 9.0;

/// A drag of a divider that is going on.
#[derive(Clone, Debug)]
pub struct Drag {
    /// The bay before the divider.
    before: String,
    /// From the pointer to the near face of the divider when the drag began, millimetres.
    grip: f64,
    /// What was asked for last.
    asked: Option<(Length, Option<Stop>)>,
}

impl Drag {
    /// The bay before the divider that is dragged.
    #[must_use]
    pub fn bay(&self) -> &str {
        &self.before
    }
}

/// How the window and the model belong together.
pub struct Lens<'l> {
    /// The window.
    pub window: Rect,
    /// Points of the window for a model millimetre.
    pub zoom: f64,
    /// The place in the window of a model point.
    pub to_window: &'l dyn Fn(Point) -> Pos2,
    /// The model point under a place in the window.
    pub to_model: &'l dyn Fn(Pos2) -> Point,
}

impl Lens<'_> {
    /// The place in the window of a rectangle of the front view.
    #[must_use]
    pub fn rect(&self, x: (Length, Length), y: (Length, Length)) -> Rect {
        let corner = |x: Length, y: Length| (self.to_window)(Point::new(x.mm(), y.mm()));
        Rect::from_two_pos(corner(x.0, y.0), corner(x.1, y.1))
    }
}

/// Lets the dividers of the front view be dragged, with the pointer or, once reached by Tab, with the arrow keys.
pub fn dividers(ui: &Ui, desk: &mut Desk<'_>, lens: &Lens<'_>, drag: &mut Option<Drag>) {
    let Some(layout) = desk.good.and_then(|good| good.layout.as_ref()) else { return };
    for handle in dividers::handles(desk.design, layout) {
        let (x, y) = if handle.upright { (handle.at, handle.along) } else { (handle.along, handle.at) };
        let exact = lens.rect(x, y);
        let grow = |size: f32| ((HANDLE - size) / 2.0).max(0.0);
        let by =
            if handle.upright { Vec2::new(grow(exact.width()), 0.0) } else { Vec2::new(0.0, grow(exact.height())) };
        let rect = exact.expand2(by).intersect(lens.window);
        if !rect.is_positive() {
            continue;
        }
        let response = ui.interact(
            rect,
            Id::unique(("divider", &handle.before)),
            Sense::drag() | Sense::focusable_noninteractive(),
        );
        let label = desk.words.say_with("divider-name", &[("before", &handle.before), ("after", &handle.after)]);
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Splitter, true, &label));
        let cursor = if handle.upright { CursorIcon::ResizeHorizontal } else { CursorIcon::ResizeVertical };
        let response = response.on_hover_and_drag_cursor(cursor);
        let palette = Palette::here(ui);
        if response.hovered() || response.dragged() || response.has_focus() {
            ui.painter_at(lens.window).rect_filled(exact.expand(1.0), 1.0, palette.mark);
        }
        let across = |at: Pos2| {
            let model = (lens.to_model)(at);
            if handle.upright { model.x } else { model.y }
        };
        if let Some(at) = response.interact_pointer_pos().filter(|_| response.drag_started()) {
            let grip = across(at) - handle.at.0.mm();
            *drag = Some(Drag { before: handle.before.clone(), grip, asked: None });
        }
        if let (Some(at), Some(drag)) = (response.interact_pointer_pos(), drag.as_mut())
            && response.dragged()
            && drag.before == handle.before
        {
            move_to(ui, desk, lens, &handle, drag, across(at));
            say(ui, desk, lens, &handle, drag, at);
        }
        if response.drag_stopped() {
            *drag = None;
            desk.actions.push(Action::EndGesture);
        }
        nudge(ui, desk, &handle, response.has_focus());
    }
}

fn drag_to(desk: &mut Desk<'_>, handle: &Handle, size: Length) {
    let Some(layout) = desk.good.and_then(|good| good.layout.as_ref()) else { return };
    let axis = if handle.upright { Axis::X } else { Axis::Y };
    let both = handle.end - handle.start - (handle.at.1 - handle.at.0);
    let row = tree::parent(&desk.design.carcass.bay, &handle.before).map(|(above, _)| above.children());
    let sizes = row.unwrap_or_default().iter().filter_map(|bay| {
        let size = match &bay.name {
            name if *name == handle.before => size,
            name if *name == handle.after => both - size,
            name => layout.bay(name)?.clear.size(axis),
        };
        Some((bay.name.clone(), Dim::new(desk.lengths.input(size))))
    });
    let sizes = sizes.collect();
    let command = Command::DragDivider { bay: handle.before.clone(), width: handle.upright, sizes };
    desk.actions.push(Action::Edit(command));
}

fn move_to(ui: &Ui, desk: &mut Desk<'_>, lens: &Lens<'_>, handle: &Handle, drag: &mut Drag, pointer: f64) {
    let Some(layout) = desk.good.and_then(|good| good.layout.as_ref()) else { return };
    let asked = Length::from_mm_f64(pointer - drag.grip) - handle.start;
    let most = handle.end - handle.start - (handle.at.1 - handle.at.0);
    let step = desk.lengths.unit().step();
    let asked = asked.max(step).min(most - step);
    let free = ui.input(|input| input.modifiers.alt);
    let stops = if free { Vec::new() } else { dividers::stops(handle, layout) };
    let (size, stop) = dividers::meant(asked, &stops, Length::from_mm_f64(STOP_REACH / lens.zoom), step);
    if drag.asked.as_ref().map(|(before, _)| *before) != Some(size) {
        drag_to(desk, handle, size);
    }
    drag.asked = Some((size, stop));
}

/// While a divider is dragged: both sizes, the soft stop, and what holds it back if it does not follow.
fn say(ui: &Ui, desk: &Desk<'_>, lens: &Lens<'_>, handle: &Handle, drag: &Drag, at: Pos2) {
    let axis = if handle.upright { Axis::X } else { Axis::Y };
    let layout = desk.good.and_then(|good| good.layout.as_ref());
    let size = |name: &str| layout.and_then(|layout| layout.bay(name)).map(|bay| bay.clear.size(axis));
    let (Some(before), Some(after)) = (size(&handle.before), size(&handle.after)) else { return };
    let mut lines = vec![format!("{}  |  {}", desk.show(before), desk.show(after))];
    if let Some((asked, stop)) = &drag.asked {
        lines.extend(stop.as_ref().map(|stop| match stop {
            Stop::Equal => desk.words.say("stop-equal"),
            Stop::InLine(name) => desk.words.say_with("stop-in-line", &[("name", name)]),
            Stop::Touches(name) => desk.words.say_with("stop-touches", &[("name", name)]),
        }));
        let is_current = desk.latest.is_some_and(|latest| latest.design.as_ref() == desk.design);
        if is_current && (before - *asked).abs() > desk.lengths.unit().step() {
            let why = desk.latest.map(|latest| &latest.why);
            let held = why.into_iter().flat_map(|why| &why.lines).find(|line| line.axis == axis);
            let reasons = held.map(|line| line.reasons.as_slice()).unwrap_or_default();
            lines.push(desk.words.say("stop-held"));
            lines.extend(reasons.iter().take(4).map(|reason| format!("· {}", desk.words.sentence(reason))));
        }
    }
    let palette = Palette::here(ui);
    let painter = ui.ctx().layer_painter(egui::LayerId::new(egui::Order::Tooltip, Id::unique("divider sizes")));
    let galley = painter.layout(lines.join("\n"), FontId::proportional(16.0), palette.ink, 360.0);
    let mut rect = Rect::from_min_size(at + Vec2::new(18.0, 12.0), galley.size()).expand(6.0);
    let over = rect.max - lens.window.max;
    rect = rect.translate(-over.max(Vec2::ZERO));
    painter.rect(rect, 3.0, palette.panel, egui::Stroke::new(1.0, palette.edge), egui::StrokeKind::Outside);
    painter.galley(rect.shrink(6.0).min, galley, palette.ink);
}

/// Arrow keys move a divider that has the focus by a step, with Shift by ten whole units.
fn nudge(ui: &Ui, desk: &mut Desk<'_>, handle: &Handle, has_focus: bool) {
    if !has_focus {
        return;
    }
    let (less, more) = if handle.upright { (Key::ArrowLeft, Key::ArrowRight) } else { (Key::ArrowDown, Key::ArrowUp) };
    let unit = desk.lengths.unit();
    let by = ui.input_mut(|input| {
        let far = input.modifiers.shift;
        let step = if far { unit.whole() * 10 } else { unit.whole() };
        let modifiers = if far { egui::Modifiers::SHIFT } else { egui::Modifiers::NONE };
        let back = input.consume_key(modifiers, less);
        let forth = input.consume_key(modifiers, more);
        step * (i64::from(forth) - i64::from(back))
    });
    if by != Length::ZERO {
        drag_to(desk, handle, (handle.at.0 - handle.start + by).max(unit.step()));
    }
}

/// Where a bay would be divided: the size of the left or lower one, for a place of the pointer; nothing for halves.
#[must_use]
pub fn division(clear: &Cuboid, unit: Unit, across: bool, model: Point) -> Option<Dim> {
    let (low, high) = clear.range(if across { Axis::X } else { Axis::Y });
    let at = Length::from_mm_f64(if across { model.x } else { model.y }) - low;
    let step = unit.step();
    // Near the middle, halves are meant, and halves need no number.
    let is_middle = (at - (high - low).half()).abs() < Length::from_nm((high - low).nm() / 24);
    (!is_middle).then(|| Dim::of(at.rounded_to(step).max(step).min(high - low - step), unit))
}
