//! What a field is, with a small drawing: shown beside it while it is pointed at or written in.

mod paint;
mod sketches;

use casewright_core::text::{FieldPath, Segment};
use egui::{RectAlign, Response, RichText, Tooltip};

use crate::theme::Palette;
use crate::words::Words;

/// The size of a sketch, points.
const SIZE: egui::Vec2 = egui::vec2(200.0, 144.0);

/// The most that labels and choices before a field take, points.
const BEFORE: f32 = 178.0;

/// Every sketch by name; the word key of the sentence under it is the same with `help-` before.
pub fn names() -> impl Iterator<Item = &'static str> {
    sketches::SKETCHES.iter().map(|(name, _)| *name)
}

fn axis_of(index: Option<usize>, name: &str) -> &'static str {
    match (index, name) {
        (Some(0), _) | (_, "width") => "width",
        (Some(1), _) | (_, "height") => "height",
        _ => "depth",
    }
}

/// The name of the sketch for the field at a place; nothing for a field that no sketch is made for.
#[must_use]
pub fn sketch_of(path: &FieldPath) -> Option<&'static str> {
    let mut fields: Vec<&str> = Vec::new();
    for segment in path.segments() {
        if let Segment::Field(name) = segment {
            fields.push(name);
        }
    }
    let index = match path.segments().last() {
        Some(Segment::Index(index)) => Some(*index),
        _ => None,
    };
    let first = fields.first().copied().unwrap_or_default();
    let name = fields.last().copied().unwrap_or_default();
    let within = |outer: &str| fields.iter().rev().nth(1).is_some_and(|field| *field == outer);
    let wanted = match (first, name) {
        ("title", _) => "title".to_owned(),
        ("parameters", _) => "value".to_owned(),
        ("things", "corner") if within("pull_outs") => {
            if index == Some(0) { "pull-out-left" } else { "pull-out-lower" }.to_owned()
        }
        ("things", "size") if within("pull_outs") => format!("pull-out-{}", axis_of(index, "")),
        ("things", _) if within("pull_outs") => format!("pull-out-{name}"),
        ("things", "size") => format!("thing-{}", axis_of(index, "")),
        ("things", _) if within("air") => format!("air-{name}"),
        ("things", _) if within("lead") => format!("lead-{}", name.replace('_', "-")),
        ("things", "may_turn") => "thing-turn".to_owned(),
        ("things", "mass_kg") => "thing-mass".to_owned(),
        ("things", "load_kg") => "thing-load".to_owned(),
        ("things", "opens") => "thing-door".to_owned(),
        ("things", other) => format!("thing-{other}"),
        ("site", "niche") => "niche-stands".to_owned(),
        ("site", _) if within("niche") && name.ends_with("_wall") => name.replace('_', "-"),
        ("site", _) if within("niche") => format!("niche-{}", axis_of(None, name)),
        ("site", "at") => {
            format!("wall-{}", ["along", "up", "out"].get(index.unwrap_or(0)).unwrap_or(&"out"))
        }
        ("site", "about") => if index == Some(1) { "swing-out" } else { "swing-along" }.to_owned(),
        ("site", "corner") => {
            format!("obstacle-corner-{}", ["left", "lower", "rear"].get(index.unwrap_or(0)).unwrap_or(&"rear"))
        }
        ("site", "size") => format!("obstacle-{}", axis_of(index, "")),
        ("site", "kind") => "obstacle-kind".to_owned(),
        ("site", "neighbour_worktop") => "neighbour".to_owned(),
        ("site", "on_left") => "on-left".to_owned(),
        ("site", _) if within("neighbour_worktop") => format!("neighbour-{name}"),
        ("site", _) if within("floor") => format!("floor-{name}"),
        ("boards", "size") => if index == Some(0) { "board-length" } else { "board-width" }.to_owned(),
        ("boards", "spoilt") => {
            format!("spoilt-{}", ["start", "end", "near", "far"].get(index.unwrap_or(0)).unwrap_or(&"far"))
        }
        ("boards", "good") => {
            format!("good-{}", ["start", "near", "length", "width"].get(index.unwrap_or(0)).unwrap_or(&"width"))
        }
        ("saw", "useful") => if index == Some(1) { "useful-width" } else { "useful-length" }.to_owned(),
        ("banding", "thickness") => "band".to_owned(),
        ("banding", "width") => "band-width".to_owned(),
        ("banding", "sold_in") => "band-bar".to_owned(),
        ("fittings", "length") => "slide-length".to_owned(),
        ("fittings", "height") => "slide-height".to_owned(),
        ("carcass", _) if within("envelope") && matches!(name, "width" | "height" | "depth") => {
            format!("envelope-{name}")
        }
        ("carcass", _) if within("overhang") => format!("overhang-{name}"),
        ("carcass", _) if fields.contains(&"shape") => of_outline(&fields, name, index),
        ("carcass", "size") if within("openings") => {
            if index == Some(1) { "opening-second" } else { "opening-first" }.to_owned()
        }
        ("carcass", "at") if within("openings") => {
            if index == Some(1) { "opening-from-second" } else { "opening-from-first" }.to_owned()
        }
        ("carcass", "sides_run_through") => "sides-through".to_owned(),
        ("carcass", "width") if within("top") => "rail-width".to_owned(),
        ("carcass", "set_back") if within("stand") => "plinth-set-back".to_owned(),
        ("carcass", "set_back") => "back-set-back".to_owned(),
        ("carcass", "depth") if within("back") => "groove-depth".to_owned(),
        ("carcass", "depth") if within("joint") => "joint-depth".to_owned(),
        ("carcass", "height") if within("stand") => "stand-height".to_owned(),
        ("carcass", "width") => "bay-width".to_owned(),
        ("carcass", "height") => "bay-height".to_owned(),
        ("carcass", "share") => "bay-share".to_owned(),
        ("carcass", "by") if within("inside") => "holding".to_owned(),
        ("carcass", "hinge") => "tilt-hinge".to_owned(),
        ("carcass", "style") => "front-sits".to_owned(),
        (_, other) => other.replace('_', "-"),
    };
    names().find(|name| *name == wanted)
}

/// The sketch for a field of a worktop's outline.
fn of_outline(fields: &[&str], name: &str, index: Option<usize>) -> String {
    let second = index == Some(1);
    let has = |field: &str| fields.contains(&field);
    match name {
        "wall" => if second { "station-out" } else { "station-along" }.to_owned(),
        "corners" => "top-corner".to_owned(),
        "joints" => "top-joint".to_owned(),
        "corner" => if second { "cut-out-rear" } else { "cut-out-left" }.to_owned(),
        "size" => if second { "cut-out-depth" } else { "cut-out-width" }.to_owned(),
        "at" => if second { "front-out" } else { "front-along" }.to_owned(),
        "radius" if has("cut_outs") => "cut-out-radius".to_owned(),
        _ if has("step") => format!("step-{name}"),
        _ if has("front") => format!("front-{name}"),
        _ => name.replace('_', "-"),
    }
}

/// Explains a field beside it, while it is pointed at or has the focus.
pub fn explain(response: &Response, words: &Words, path: &FieldPath) {
    if let Some(name) = sketch_of(path) {
        explain_as(response, words, name);
    }
}

/// As [`explain`], by the name of the sketch.
pub fn explain_as(response: &Response, words: &Words, name: &str) {
    let Some((name, strokes)) = sketches::SKETCHES.iter().find(|(known, _)| *known == name) else { return };
    let ctx = &response.ctx;
    let is_off = ctx.data(|data| data.get_temp::<bool>(off()).unwrap_or_default());
    if is_off || egui::Popup::is_any_open(ctx) {
        return;
    }
    let mut tooltip = if response.has_focus() {
        Tooltip::always_open(ctx.clone(), response.layer_id, response.id, response.rect)
    } else {
        Tooltip::for_enabled(response)
    };
    // Over the drawing, so that no other field is covered: labels stand before fields.
    let beside = response.rect.with_min_x(response.rect.left() - BEFORE);
    tooltip.popup = tooltip.popup.anchor(beside).align(RectAlign::LEFT_START).align_alternatives(&[
        RectAlign::RIGHT_START,
        RectAlign::BOTTOM_START,
        RectAlign::TOP_START,
    ]);
    tooltip.gap(12.0).width(SIZE.x + 8.0).show(|ui| {
        let (rect, _) = ui.allocate_exact_size(SIZE, egui::Sense::hover());
        paint::strokes(ui.painter(), Palette::here(ui), rect, strokes);
        ui.set_max_width(SIZE.x);
        ui.add(egui::Label::new(RichText::new(words.say(&format!("help-{name}"))).size(13.0)).wrap());
    });
}

fn off() -> egui::Id {
    egui::Id::unique("fields explain themselves no longer")
}

/// Lets fields explain themselves, or no longer; gives whether they do now.
pub fn switch(ctx: &egui::Context) -> bool {
    ctx.data_mut(|data| {
        let is_off = data.get_temp_mut_or_default::<bool>(off());
        *is_off = !*is_off;
        !*is_off
    })
}

#[cfg(test)]
mod tests {
    use casewright_core::design::Design;
    use casewright_core::design::resolve::map_lengths;

    use super::*;
    use crate::words::Language;

    #[test]
    fn every_length_of_every_demo_has_a_sketch() {
        for demo in ["laundry-alcove", "container-trolley", "alcove-bookcase", "salvaged-office"] {
            let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../demo/{demo}.ron"));
            let design = Design::read(&std::fs::read_to_string(file).unwrap()).unwrap().0;
            let mut without = Vec::new();
            let _same = map_lengths(&design, &mut |dim, path, _| {
                if sketch_of(path).is_none() {
                    without.push(path.to_string());
                }
                dim.clone()
            });
            assert_eq!(without, Vec::<String>::new(), "{demo}");
        }
    }

    #[test]
    fn what_comes_out_of_a_thing_has_sketches_of_its_own() {
        let of = |field: &str, index: Option<usize>| {
            let path = FieldPath::root().field("things").key("dryer").field("pull_outs").index(0).field(field);
            sketch_of(&index.map_or(path.clone(), |index| path.index(index)))
        };
        assert_eq!(of("corner", Some(0)), Some("pull-out-left"));
        assert_eq!(of("corner", Some(1)), Some("pull-out-lower"));
        assert_eq!(of("size", Some(0)), Some("pull-out-width"));
        assert_eq!(of("size", Some(1)), Some("pull-out-height"));
        assert_eq!(of("travel", None), Some("pull-out-travel"));
        assert_eq!(of("depth", None), Some("pull-out-depth"));
        assert_eq!(of("towards", None), Some("pull-out-towards"));
        // The thing itself keeps its own.
        let size = FieldPath::root().field("things").key("dryer").field("size");
        assert_eq!(sketch_of(&size.index(0)), Some("thing-width"));
    }

    #[test]
    fn every_sketch_can_be_painted_and_says_what_it_shows() {
        for (name, strokes) in sketches::SKETCHES {
            assert!(paint::read(strokes).is_some_and(|strokes| strokes.len() > 1), "{name}");
            for language in [Language::English, Language::German] {
                let key = format!("help-{name}");
                assert_ne!(Words::new(language).say(&key), key, "{language:?}");
            }
        }
    }
}
