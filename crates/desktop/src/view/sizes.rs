//! Sizes on the drawing that are typed over: the dimensions of every straight view, and the two sizes of the selected bay.
//! What is typed fixes the size; an empty text frees it.

use std::collections::BTreeMap;

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Bay, Extent, Want};
use casewright_core::geometry::Axis;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use casewright_core::unit::DecimalMark;
use casewright_drawing::{Layer, Mark, PlacedView, Tag};
use egui::{FontId, Id, Key, Pos2, Rect, RichText, Sense, Stroke, StrokeKind, TextEdit, Ui, Vec2, WidgetInfo};
use kurbo::Point;
use serde_json::{Value, json};

use super::handling::Lens;
use crate::command::{Command, Name, tree};
use crate::notice::Notice;
use crate::panels::{Action, Desk};
use crate::theme::Palette;

/// A size of the design that a dimension shows.
#[derive(Clone, Debug, PartialEq)]
struct Sized {
    /// Where it is asked for.
    path: FieldPath,
    /// What it is called.
    label: String,
    /// The size now.
    size: Length,
    /// Whether it is fixed.
    is_fixed: bool,
    /// Whether it can be freed by an empty text.
    can_be_free: bool,
}

/// A size that is being typed.
#[derive(Clone, Debug)]
pub struct Typing {
    /// Which of the places that show it.
    key: String,
    text: String,
}

fn field_of(axis: Axis) -> &'static str {
    match axis {
        Axis::X => "width",
        Axis::Y => "height",
        Axis::Z => "depth",
    }
}

fn of_bay(desk: &Desk<'_>, bay: &Bay, axis: Axis) -> Option<Sized> {
    let (want, key) = match axis {
        Axis::X => (&bay.width, "size-width"),
        Axis::Y => (&bay.height, "size-height"),
        Axis::Z => return None,
    };
    let size = desk.good?.layout.as_ref()?.bay(&bay.name)?.clear.size(axis);
    Some(Sized {
        path: tree::path_of(desk.design, &bay.name)?.field(field_of(axis)),
        label: desk.words.say_with(key, &[("name", &bay.name)]),
        size,
        is_fixed: matches!(want, Want::Fixed(_)),
        can_be_free: true,
    })
}

fn of_envelope(desk: &Desk<'_>, axis: Axis) -> Option<Sized> {
    let envelope = &desk.design.carcass.envelope;
    let (extent, key) = match axis {
        Axis::X => (&envelope.width, "size-outside-width"),
        Axis::Y => (&envelope.height, "size-outside-height"),
        Axis::Z => (&envelope.depth, "size-outside-depth"),
    };
    Some(Sized {
        path: FieldPath::root().field("carcass").field("envelope").field(field_of(axis)),
        label: desk.words.say(key),
        size: desk.good?.layout.as_ref()?.envelope.size(axis),
        is_fixed: matches!(extent, Extent::Fixed(_)),
        can_be_free: false,
    })
}

/// The size that a dimension shows, if it is one that can be asked for.
fn shown_by(desk: &Desk<'_>, tag: &Tag, text: &str, turned: bool) -> Option<Sized> {
    let says = |sized: &Sized| desk.design.unit.format(sized.size, DecimalMark::Comma) == text;
    match tag {
        Tag::Envelope(axis) => {
            let axis = match axis {
                'X' => Axis::X,
                'Y' => Axis::Y,
                _ => Axis::Z,
            };
            of_envelope(desk, axis).filter(says)
        }
        Tag::Bay(name) => {
            let bay = desk.design.carcass.bay.named(name)?;
            let axes = if turned { [Axis::Y, Axis::X] } else { [Axis::X, Axis::Y] };
            axes.into_iter().filter_map(|axis| of_bay(desk, bay, axis)).find(says)
        }
        _ => None,
    }
}

/// Lets the dimensions of a view be typed over. `to_window` takes paper points.
pub fn dimensions(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    window: Rect,
    placed: &PlacedView,
    to_window: &dyn Fn(Point) -> Pos2,
    typing: &mut Option<Typing>,
) {
    let palette = Palette::here(ui);
    let mut given: BTreeMap<String, usize> = BTreeMap::new();
    for item in placed.display.items.iter().filter(|item| item.layer == Layer::Dimensions) {
        let (Mark::Text(text), Some(tag)) = (&item.mark, &item.tag) else { continue };
        let bounds = text.bounds();
        let corners = [(bounds.x0, bounds.y0), (bounds.x1, bounds.y1)].map(|(x, y)| to_window(Point::new(x, y)));
        let rect = Rect::from_two_pos(corners[0], corners[1]).expand(3.0).intersect(window);
        if !rect.is_positive() {
            continue;
        }
        let Some(sized) = shown_by(desk, tag, &text.content, text.rotation_rad != 0.0) else { continue };
        let key = format!("dimension {}", sized.path);
        if typing.as_ref().is_some_and(|typing| typing.key == key) {
            let place = Rect::from_center_size(rect.center(), Vec2::new(92.0, 28.0));
            write(ui, desk, &sized, place, typing);
            continue;
        }
        // The same size may be given in several views at once, and by two dimensions of one.
        let count = given.entry(key.clone()).and_modify(|count| *count += 1).or_insert(0_usize);
        let response = ui.interact(rect, Id::unique((ui.scope_id(), &key, *count)), Sense::click());
        let label = desk.words.say_with("size-dimension", &[("name", &sized.label)]);
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &label));
        let painter = ui.painter_at(window);
        if sized.is_fixed {
            // What is fixed has a pin, as in the selected bay. A frame or a line under it would mean other things on a
            // drawing (ISO 1101, ISO 129-1).
            let pin = Rect::from_center_size(rect.right_top() + Vec2::new(2.0, 2.0), Vec2::splat(6.0));
            painter.rect_filled(pin, 0.0, palette.dimension);
        }
        if response.hovered() || response.has_focus() {
            painter.rect_stroke(rect, 2.0, Stroke::new(2.0, palette.mark), StrokeKind::Outside);
        }
        let hint = if sized.is_fixed && sized.can_be_free { "size-hint-free" } else { "size-hint" };
        let response = response.on_hover_cursor(egui::CursorIcon::Text);
        if response.on_hover_text(format!("{}\n{}", sized.label, desk.words.say(hint))).clicked() {
            *typing = Some(Typing { key, text: desk.lengths.input(sized.size) });
        }
    }
}

/// The sizes of the selected bay inside it: press one to type it, press its pin to free it.
pub fn selected(ui: &mut Ui, desk: &mut Desk<'_>, lens: &Lens<'_>, typing: &mut Option<Typing>) {
    let Some(name) = desk.selection.one_bay().map(str::to_owned) else { return };
    let design = desk.design;
    let Some(bay) = design.carcass.bay.named(&name) else { return };
    let Some(clear) = desk.good.and_then(|good| good.layout.as_ref()?.bay(&name)).map(|bay| bay.clear) else { return };
    let rect = lens.rect(clear.range(Axis::X), clear.range(Axis::Y)).intersect(lens.window);
    if rect.width() < 60.0 || rect.height() < 34.0 {
        return;
    }
    let below = Pos2::new(rect.center().x, rect.bottom() - 17.0);
    let beside = Pos2::new(rect.left() + 48.0, rect.center().y);
    for (axis, middle, arrow) in [(Axis::X, below, "↔"), (Axis::Y, beside, "↕")] {
        if axis == Axis::Y && rect.height() < 76.0 {
            continue;
        }
        if let Some(sized) = of_bay(desk, bay, axis) {
            chip(ui, desk, &sized, (middle, arrow), typing);
        }
    }
}

fn chip(ui: &mut Ui, desk: &mut Desk<'_>, sized: &Sized, (middle, arrow): (Pos2, &str), typing: &mut Option<Typing>) {
    let key = format!("chip {}", sized.path);
    let rect = Rect::from_center_size(middle, Vec2::new(84.0, 26.0));
    if typing.as_ref().is_some_and(|typing| typing.key == key) {
        write(ui, desk, sized, rect, typing);
        return;
    }
    let pin_rect = rect.with_min_x(rect.right() - 26.0);
    let text_rect = rect.with_max_x(rect.right() - if sized.is_fixed { 27.0 } else { 0.0 });
    let shown = format!("{arrow} {}", desk.show(sized.size));
    let button = egui::Button::new(RichText::new(shown).size(15.0)).min_size(text_rect.size());
    if ui.put(text_rect, button).accessible_name(&sized.label).clicked() {
        *typing = Some(Typing { key, text: desk.lengths.input(sized.size) });
    }
    if sized.is_fixed {
        let label = desk.words.say_with("size-free", &[("name", &sized.label)]);
        let response = ui.put(pin_rect, egui::Button::new("■").min_size(pin_rect.size())).accessible_name(&label);
        if response.on_hover_text(&label).clicked() {
            ask(desk, sized, json!("Free"));
        }
    }
}

/// The size as a field over its place on the drawing.
fn write(ui: &mut Ui, desk: &mut Desk<'_>, sized: &Sized, rect: Rect, typing: &mut Option<Typing>) {
    let Some(now) = typing.as_mut() else { return };
    let id = Id::unique("size on the drawing");
    let edit = TextEdit::singleline(&mut now.text).id(id).font(FontId::proportional(16.0)).desired_width(rect.width());
    let response = ui.put(rect, edit).accessible_name(&sized.label);
    if response.gained_focus() {
        crate::panels::field::select_all(ui, id, &now.text);
    }
    if !response.has_focus() && !response.lost_focus() {
        response.request_focus();
    }
    if !response.lost_focus() {
        return;
    }
    let text = now.text.trim().to_owned();
    *typing = None;
    if ui.input(|input| input.key_pressed(Key::Escape)) || text == desk.lengths.input(sized.size) && !is_confirmed(ui) {
        return;
    }
    if text.is_empty() && sized.can_be_free {
        ask(desk, sized, json!("Free"));
        return;
    }
    match desk.lengths.check(&text, Sign::AboveZero) {
        Ok(_) => ask(desk, sized, json!({ "Fixed": text })),
        Err(mistake) => {
            desk.actions.push(Action::Say(Notice::Mistaken { text, mistake }));
        }
    }
}

/// Leaving a field by a click elsewhere does not fix a size that was not changed; Enter does.
fn is_confirmed(ui: &Ui) -> bool {
    ui.input(|input| input.key_pressed(Key::Enter))
}

fn ask(desk: &mut Desk<'_>, sized: &Sized, value: Value) {
    let name = Name::about("edit-field", &sized.label);
    desk.edit(Command::SetField { path: sized.path.clone(), value, name });
}
