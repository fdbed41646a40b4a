//! Materials and edge banding, and where each is used.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{BandRule, Banding, Design, Edge, MaterialKind, Role};
use casewright_core::expr::Dim;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::{CollapsingHeader, RichText, Ui};
use serde_json::{Value, json};

use crate::command::field::value_of;
use crate::command::{Command, Name};
use crate::labels;
use crate::notice::Notice;
use crate::panels::{Action, Desk, boards, choice, field};

/// Thickness of a material and of a banding to begin with, mm; to be measured.
const FIRST_MATERIAL: i64 = 18;
const FIRST_BANDING: i64 = 1;

/// The materials, each with what is known of it, and a field for one more.
pub(super) fn materials(ui: &mut Ui, desk: &mut Desk<'_>) {
    let (words, design) = (desk.words, desk.design);
    let root = FieldPath::root().field("materials");
    for (name, material) in &design.materials {
        let at = root.key(name);
        ui.push_id(("material", name), |ui| {
            ui.label(RichText::new(name).strong());
            let option = |kind: MaterialKind| {
                (labels::material_kind(words, kind), serde_json::to_value(kind).unwrap_or_default())
            };
            let now = MaterialKind::ALL.iter().position(|kind| *kind == material.kind).unwrap_or(usize::MAX);
            let options = MaterialKind::ALL.into_iter().map(option).collect();
            choice::field(ui, desk, &words.say("material-kind"), &at.field("kind"), now, options);
            let thick = at.field("thickness");
            field::length(ui, desk, &labels::length(words, &thick), &thick, Sign::AboveZero);
            choice::switch(ui, desk, &words.say("material-grain"), &at.field("grain"), material.grain);
            field::plain_text(ui, desk, "stock-finish", at.field("finish"), &material.finish);
            for (key, name, value, unit) in [
                ("material-density", "density_kg_m3", material.density_kg_m3, "kg/m³"),
                ("material-modulus", "modulus_mpa", material.modulus_mpa, "MPa"),
            ] {
                let (label, path) = (words.say(key), at.field(name));
                field::Number { label: &label, path: &path, value, unit, optional: true, whole: false }.show(ui, desk);
            }
            let without = || {
                let mut rest = design.clone();
                rest.materials.shift_remove(name);
                rest
            };
            remove(ui, desk, name, (&root, without));
        });
    }
    boards::add(ui, desk);
    let taken: Vec<String> = design.materials.keys().cloned().collect();
    let first = boards::first(desk, MaterialKind::Particleboard, FIRST_MATERIAL);
    add(ui, desk, ("material-new", "new material"), &taken, |name| {
        let mut all = design.materials.clone();
        all.insert(name, first);
        (root, serde_json::to_value(all))
    });
}

/// The bandings, and a field for one more.
pub(super) fn bandings(ui: &mut Ui, desk: &mut Desk<'_>) {
    let (words, design) = (desk.words, desk.design);
    let root = FieldPath::root().field("banding");
    for (name, banding) in &design.banding {
        let at = root.key(name);
        ui.push_id(("banding", name), |ui| {
            ui.label(RichText::new(name).strong());
            let thick = at.field("thickness");
            field::length(ui, desk, &labels::length(words, &thick), &thick, Sign::AboveZero);
            for name in ["width", "sold_in"] {
                let at = at.field(name);
                field::optional_length(ui, desk, &labels::length(words, &at), &at, Sign::AboveZero);
            }
            field::plain_text(ui, desk, "stock-finish", at.field("finish"), &banding.finish);
            let without = || {
                let mut rest = design.clone();
                rest.banding.shift_remove(name);
                rest
            };
            remove(ui, desk, name, (&root, without));
        });
    }
    let taken: Vec<String> = design.banding.keys().cloned().collect();
    let first = Banding {
        thickness: Dim::of(Length::from_mm(FIRST_BANDING), design.unit),
        width: None,
        sold_in: None,
        finish: String::new(),
    };
    add(ui, desk, ("banding-new", "new banding"), &taken, |name| {
        let mut all = design.banding.clone();
        all.insert(name, first);
        (root, serde_json::to_value(all))
    });
}

/// What single roles are made of, and from which family of the stock.
pub(super) fn by_role(ui: &mut Ui, desk: &mut Desk<'_>) {
    let (words, design) = (desk.words, desk.design);
    let construction = &design.carcass.construction;
    let at = FieldPath::root().field("carcass").field("construction");
    let mut families: Vec<String> = design.boards.iter().map(|it| it.family.clone()).collect();
    families.retain(|it| !it.is_empty());
    families.sort();
    families.dedup();
    ui.label(RichText::new(words.say("stock-by-role-intro")).small());
    for role in Role::ALL {
        let label = labels::role(words, role);
        boards::of_role(ui, desk, &label, &at.field("boards"), role);
        let bound = construction.from_stock.get(&role);
        if families.is_empty() && bound.is_none() {
            continue;
        }
        let label = words.say_with("role-from-family", &[("role", &label)]);
        if let Some(chosen) = choice::one_or_none(ui, &label, words.say("role-any-board"), bound, &families) {
            let mut all = construction.from_stock.clone();
            match chosen {
                Some(family) => all.insert(role, family),
                None => all.remove(&role),
            };
            desk.set(at.field("from_stock"), &all, Name::about("edit-field", &label));
        }
    }
}

/// The rules that say which edges are banded: each with its roles, edges and banding.
pub(super) fn banded_edges(ui: &mut Ui, desk: &mut Desk<'_>) {
    let (words, design) = (desk.words, desk.design);
    let at = FieldPath::root().field("carcass").field("construction").field("banding");
    let rules = &design.carcass.construction.banding;
    let bands: Vec<String> = design.banding.keys().cloned().collect();
    let name = || Name::new("edit-banded-edges");
    for (index, rule) in rules.iter().enumerate() {
        let edges: Vec<String> = rule.edges.iter().map(|it| labels::edge(words, *it)).collect();
        let of: Vec<String> = rule.roles.iter().map(|it| labels::role(words, *it)).collect();
        let title = format!("{}: {} ({})", rule.band, of.join(", "), edges.join(", "));
        CollapsingHeader::new(title).id_salt(("banded edges", index)).show(ui, |ui| {
            let options = bands.iter().map(|it| (it.clone(), Value::String(it.clone()))).collect();
            let now = bands.iter().position(|it| *it == rule.band).unwrap_or(usize::MAX);
            choice::field(ui, desk, &words.say("band-rule-band"), &at.index(index).field("band"), now, options);
            ui.label(RichText::new(words.say("band-rule-edges")).strong());
            if let Some(all) = choice::some_of(ui, &Edge::ALL, &rule.edges, |edge| labels::edge(words, edge)) {
                desk.set(at.index(index).field("edges"), &all, name());
            }
            ui.label(RichText::new(words.say("band-rule-roles")).strong());
            if let Some(all) = choice::some_of(ui, &Role::ALL, &rule.roles, |role| labels::role(words, role)) {
                desk.set(at.index(index).field("roles"), &all, name());
            }
            if ui.button(words.say("band-rule-remove")).clicked() {
                let mut left = rules.clone();
                left.remove(index);
                desk.set(at.clone(), &left, name());
            }
        });
    }
    if bands.is_empty() {
        ui.label(words.say("band-rule-no-banding"));
        return;
    }
    let chosen = choice::one_more(ui, words, &words.say("band-rule-add"), &bands);
    if let Some(band) = chosen.and_then(|it| bands.get(it)) {
        let mut all = rules.clone();
        all.push(BandRule { roles: vec![Role::Shelf], edges: vec![Edge::Front], band: band.clone() });
        desk.set(at, &all, name());
    }
}

/// The button that takes an entry away, which stays while something in the design needs it: `without` is the design then.
fn remove(ui: &mut Ui, desk: &mut Desk<'_>, name: &str, (at, without): (&FieldPath, impl FnOnce() -> Design)) {
    let pressed = ui.button(desk.words.say_with("stock-remove-named", &[("name", &name)])).clicked();
    ui.add_space(6.0);
    if !pressed {
        return;
    }
    let faults = |design: &Design| design.resolve().err().map_or(0, |faults| faults.len());
    let without = without();
    if faults(&without) > faults(desk.design) {
        desk.actions.push(Action::Say(Notice::with("notice-in-use", "name", name)));
        return;
    }
    // A design need not say an empty list.
    let value = Some(value_of(&without, at)).filter(|it| !it.is_null()).unwrap_or_else(|| json!({}));
    desk.edit(Command::SetField { path: at.clone(), value, name: Name::about("edit-delete", name) });
}

/// The field that adds an entry under a name.
fn add(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    (key, memory): (&str, &str),
    taken: &[String],
    make: impl FnOnce(String) -> (FieldPath, Result<Value, serde_json::Error>),
) {
    let words = desk.words;
    field::text(ui, desk, (&words.say(key), memory), "", |name| {
        let name = field::free_name(words, name, taken)?;
        let about = Name::about("edit-add-thing", &name);
        match make(name) {
            (path, Ok(value)) => Ok(Command::SetField { path, value, name: about }),
            (_, Err(error)) => Err(error.to_string()),
        }
    });
}
