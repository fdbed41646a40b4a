//! The right column for the carcass as a whole: envelope, construction, stand, worktop, named values, fittings.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Back, Divider, Extent, Fitting, FrontStyle, Role, Stand, Tie, Top, Usual};
use casewright_core::expr::Quantity;
use casewright_core::fittings::{library, usual_names};
use casewright_core::geometry::Axis;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::{RichText, Ui};
use serde_json::{Value, json};

use super::{Desk, choice, field, heading, section, trouble};
use crate::command::{Command, Name};
use crate::labels;
use crate::theme::{Palette, figures};

/// Shows the carcass.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>) {
    let words = desk.words;
    let design = desk.design;
    let at = FieldPath::root().field("carcass");
    field::text(ui, desk, (&words.say("carcass-name"), "title"), &design.title, |title| {
        Ok(Command::SetField {
            path: FieldPath::root().field("title"),
            value: Value::String(title),
            name: Name::new("edit-title"),
        })
    });
    let envelope = desk.good.and_then(|good| good.layout.as_ref()).map(|layout| layout.envelope);
    let size = envelope.map(|envelope| Axis::ALL.map(|axis| envelope.size(axis)));
    if let Some([w, h, d]) = size.map(|size| size.map(|size| desk.show(size))) {
        ui.label(RichText::new(format!("{w} × {h} × {d}")).text_style(figures()));
        ui.label(RichText::new(words.say("carcass-outside")).small().color(Palette::here(ui).ink_soft));
    }
    if let Some(mass) = desk.good.and_then(|good| good.assembly.as_ref()).map(|assembly| assembly.mass_kg()) {
        ui.label(words.say_with("carcass-mass", &[("mass", &desk.number(mass, 1))]));
    }
    if let Some(latest) = desk.latest {
        for trouble in trouble::about(&latest.troubles, &at.field("envelope")) {
            trouble::show(ui, desk, trouble, false);
        }
    }
    heading(ui, &words.say("carcass-envelope"));
    let sides = [
        ("field-width", "width", &design.carcass.envelope.width),
        ("field-height", "height", &design.carcass.envelope.height),
        ("field-depth", "depth", &design.carcass.envelope.depth),
    ];
    for (index, (key, name, extent)) in sides.into_iter().enumerate() {
        let now = size.and_then(|size| size.get(index).copied());
        extent_row(ui, desk, &words.say(key), &at.field("envelope").field(name), extent, now);
    }
    for name in ["from_left", "from_wall"] {
        let at = at.field("envelope").field(name);
        field::optional_length(ui, desk, &labels::length(words, &at), &at, Sign::ZeroOrMore);
    }
    section(ui, &words.say("carcass-construction"), true, |ui| construction(ui, desk, &at.field("construction")));
    section(ui, &words.say("carcass-stand"), false, |ui| stand(ui, desk, &at.field("stand")));
    section(ui, &words.say("carcass-worktop"), false, |ui| super::worktop::show(ui, desk, &at.field("worktop")));
    if !design.carcass.ties.is_empty() {
        section(ui, &words.say("carcass-ties"), false, |ui| ties(ui, desk, &at.field("ties")));
    }
    section(ui, &words.say("carcass-values"), false, |ui| parameters(ui, desk));
    section(ui, &words.say("carcass-fittings"), false, |ui| {
        named_lengths(ui, desk, &FieldPath::root().field("fittings"));
        usual_fittings(ui, desk);
    });
}

fn extent_row(ui: &mut Ui, desk: &mut Desk<'_>, label: &str, path: &FieldPath, extent: &Extent, now: Option<Length>) {
    let options = ["extent-fixed", "extent-at-most", "extent-fill", "extent-snug"].map(|key| desk.words.say(key));
    let (index, text) = match extent {
        Extent::Fixed(dim) => (0, Some(dim.text())),
        Extent::AtMost(dim) => (1, Some(dim.text())),
        Extent::FillNiche => (2, None),
        Extent::Snug => (3, None),
    };
    if let Some(chosen) = field::asked(ui, desk, label, (index, &options), (path, text.is_some().then_some(path))) {
        let fallback = now.map_or_else(|| "600".to_owned(), |now| desk.lengths.input(now));
        let text = text.map_or(fallback, str::to_owned);
        let value = match chosen {
            0 => json!({ "Fixed": text }),
            1 => json!({ "AtMost": text }),
            2 => json!("FillNiche"),
            _ => json!("Snug"),
        };
        desk.edit(Command::SetField { path: path.clone(), value, name: Name::about("edit-field", label) });
    }
}

/// The names of the materials as choices of a field.
fn materials(desk: &Desk<'_>) -> Vec<String> {
    desk.design.materials.keys().cloned().collect()
}

pub(super) fn material_choice(ui: &mut Ui, desk: &mut Desk<'_>, label: &str, path: &FieldPath, now: &str) {
    let names = materials(desk);
    let index = names.iter().position(|name| name == now).unwrap_or(usize::MAX);
    let options = names.into_iter().map(|name| (name.clone(), Value::String(name))).collect();
    choice::field(ui, desk, label, path, index, options);
}

fn construction(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let words = desk.words;
    let it = &desk.design.carcass.construction;
    material_choice(ui, desk, &words.say("construction-board"), &at.field("board"), &it.board);
    choice::switch(ui, desk, &words.say("construction-sides"), &at.field("sides_run_through"), it.sides_run_through);

    let options = vec![
        (words.say("top-panel"), json!("Panel")),
        (words.say("top-rails"), json!({ "Rails": { "width": "100" } })),
        (words.say("top-none"), json!("None")),
    ];
    let now = match it.top {
        Top::Panel => 0,
        Top::Rails { .. } => 1,
        Top::None => 2,
    };
    choice::field(ui, desk, &words.say("construction-top"), &at.field("top"), now, options);
    if matches!(it.top, Top::Rails { .. }) {
        let path = at.field("top").field("width");
        field::length(ui, desk, &words.say("top-rail-width"), &path, Sign::AboveZero);
    }

    let options = vec![
        (words.say("back-none"), json!("None")),
        (words.say("back-applied"), json!("Applied")),
        (words.say("back-inset"), json!({ "Inset": { "set_back": "0" } })),
        (words.say("back-grooved"), json!({ "Grooved": { "set_back": "10", "depth": "8" } })),
        (words.say("back-rebated"), json!({ "Rebated": { "depth": "9" } })),
    ];
    let now = match it.back {
        Back::None => 0,
        Back::Applied => 1,
        Back::Inset { .. } => 2,
        Back::Grooved { .. } => 3,
        Back::Rebated { .. } => 4,
    };
    choice::field(ui, desk, &words.say("construction-back"), &at.field("back"), now, options);
    lengths_under(ui, desk, &at.field("back"));
    if it.back != Back::None {
        super::boards::of_role(ui, desk, &words.say("board-of-back"), &at.field("boards"), Role::Back);
    }

    super::joints::of_carcass(ui, desk, &at.field("joint"), &it.joint);

    let options = vec![(words.say("front-overlay"), json!("Overlay")), (words.say("front-inset"), json!("Inset"))];
    let now = usize::from(it.fronts == FrontStyle::Inset);
    choice::field(ui, desk, &words.say("construction-fronts"), &at.field("fronts"), now, options);
    super::boards::of_role(ui, desk, &words.say("board-of-fronts"), &at.field("boards"), Role::Front);
    for name in ["reveal", "shelf_set_back"] {
        let at = at.field(name);
        field::optional_length(ui, desk, &labels::length(words, &at), &at, Sign::ZeroOrMore);
    }
}

fn stand(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let words = desk.words;
    let options = vec![
        (words.say("stand-floor"), json!("Floor")),
        (words.say("stand-plinth"), json!({ "Plinth": { "height": "100", "set_back": "50" } })),
        (words.say("stand-feet"), json!({ "Feet": { "height": "100" } })),
        (words.say("stand-castors"), json!({ "Castors": { "height": "100" } })),
    ];
    let now = match desk.design.carcass.stand {
        Stand::Floor => 0,
        Stand::Plinth { .. } => 1,
        Stand::Feet { .. } => 2,
        Stand::Castors { .. } => 3,
    };
    choice::field(ui, desk, &words.say("carcass-stands-on"), at, now, options);
    lengths_under(ui, desk, at);
    if now > 0 {
        let (label, path) = (words.say("stand-load"), at.field("load_kg"));
        let value = desk.design.carcass.stand.load_kg();
        field::Number { label: &label, path: &path, value, unit: "kg", optional: true, whole: false }.show(ui, desk);
    }
}

/// What belongs together, each with a button that lets it go.
fn ties(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let words = desk.words;
    let title = words.say("carcass-ties");
    for (index, tie) in desk.design.carcass.ties.iter().enumerate() {
        let key = match tie {
            Tie::SameWidth(_) => "tie-same-width",
            Tie::SameHeight(_) => "tie-same-height",
            Tie::InLine { .. } => "tie-in-line",
            Tie::GrainMatch(_) => "tie-grain",
        };
        let what = words.say_with(key, &[("bays", &tie.bays().join(", "))]);
        ui.horizontal_wrapped(|ui| {
            ui.label(&what);
            let label = words.say_with("tie-remove", &[("what", &what)]);
            if ui.small_button("✖").accessible_name(&label).on_hover_text(&label).clicked() {
                super::rows::remove(desk, at, index, &title);
            }
        });
    }
}

/// What stands between bays.
pub(super) fn divider(ui: &mut Ui, desk: &mut Desk<'_>, by: &Divider, at: &FieldPath) {
    let mut options =
        vec![(desk.words.say("divider-panel"), json!("Panel")), (desk.words.say("divider-nothing"), json!("Nothing"))];
    options.extend(materials(desk).into_iter().map(|name| (name.clone(), json!({ "Of": name }))));
    let now = match by {
        Divider::Panel => Some(0),
        Divider::Nothing => Some(1),
        Divider::Of(material) => options.iter().position(|(name, _)| name == material),
    };
    choice::field(ui, desk, &desk.words.say("bay-divider"), at, now.unwrap_or(usize::MAX), options);
}

/// Every length at and under a place, each with its own words.
pub(super) fn lengths_under(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let paths: Vec<_> = desk.lengths.under(at).map(|(path, written)| (path.clone(), written.sign)).collect();
    for (path, sign) in paths {
        field::length(ui, desk, &labels::length(desk.words, &path), &path, sign);
    }
}

/// Every length under a place, in groups by the name that stands next in it.
fn named_lengths(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    use casewright_core::text::Segment;
    let depth = at.segments().len();
    let mut last = None;
    let paths: Vec<_> = desk.lengths.under(at).map(|(path, written)| (path.clone(), written.sign)).collect();
    for (path, sign) in paths {
        if let Some(Segment::Key(name)) = path.segments().get(depth) {
            if last.as_ref() != Some(name) {
                ui.label(RichText::new(name).strong());
            }
            last = Some(name.clone());
        }
        field::length(ui, desk, &labels::length(desk.words, &path), &path, sign);
    }
}

/// Puts usual hardware of the library among the fittings, under the library's name.
fn usual_fittings(ui: &mut Ui, desk: &mut Desk<'_>) {
    let Ok(library) = library() else { return };
    let fittings = &desk.design.fittings;
    for (name, fitting) in fittings {
        if let Fitting::Usual(usual) = fitting {
            ui.label(format!("{name}: {}", usual.of));
        }
    }
    let names: Vec<String> = usual_names(library).into_iter().filter(|name| !fittings.contains_key(name)).collect();
    let label = desk.words.say("fitting-add");
    let Some(name) = choice::one_more(ui, desk.words, &label, &names).and_then(|it| names.into_iter().nth(it)) else {
        return;
    };
    let mut all = desk.design.fittings.clone();
    all.insert(name.clone(), Fitting::Usual(Usual::plain(name)));
    desk.set(FieldPath::root().field("fittings"), &all, Name::about("edit-field", &label));
}

/// The named values: each a number or an expression, with what it works out to.
fn parameters(ui: &mut Ui, desk: &mut Desk<'_>) {
    let words = desk.words;
    for (name, text) in &desk.design.parameters {
        let shown = match desk.lengths.parameter(name) {
            Some(Quantity::Length(length)) => desk.show(Length::from_nm(length.rounded().try_into().unwrap_or(0))),
            Some(Quantity::Number(number)) => number.to_f64().to_string(),
            None => "✖".to_owned(),
        };
        let key = format!("parameter {name}");
        field::text(ui, desk, (name, &key), text, |text| {
            let text = Some(text).filter(|text| !text.is_empty());
            Ok(Command::SetParameter { name: name.clone(), text })
        });
        if shown != *text {
            ui.label(RichText::new(format!("= {shown}")).weak());
        }
    }
    let taken: Vec<String> = desk.design.parameters.keys().cloned().collect();
    field::text(ui, desk, (&words.say("value-new"), "new parameter"), "", |name| {
        if !casewright_core::expr::is_parameter_name(&name) {
            return Err(words.say("value-bad-name"));
        }
        if taken.contains(&name) {
            return Err(crate::command::Refusal::NameTaken(name).say(words));
        }
        Ok(Command::SetParameter { name, text: Some("0".to_owned()) })
    });
}
