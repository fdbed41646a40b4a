//! Boards of the carcass: which there are to build of, and which of them back and fronts are of.

use casewright_core::design::{Material, MaterialKind, Role};
use casewright_core::expr::Dim;
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use egui::Ui;

use super::{Desk, choice};
use crate::command::Name;

/// Boards that are offered: the key of the word for the kind, and thicknesses in mm (common practice; every board is to be
/// measured, which its field is there for).
const OFFERED: [(&str, MaterialKind, &[i64]); 5] = [
    ("board-plywood", MaterialKind::Plywood, &[18, 15, 12, 9, 6]),
    ("board-particleboard", MaterialKind::Particleboard, &[19, 16, 8]),
    ("board-mdf", MaterialKind::Mdf, &[19, 16, 6]),
    ("board-hardboard", MaterialKind::Hardboard, &[3]),
    ("board-hardwood", MaterialKind::Hardwood, &[27, 20]),
];

/// Adds one of the usual boards to those that can be built of.
pub(super) fn add(ui: &mut Ui, desk: &mut Desk<'_>) {
    let known = &desk.design.materials;
    let offered: Vec<(String, MaterialKind, i64)> = OFFERED
        .iter()
        .flat_map(|(key, kind, sizes)| sizes.iter().map(move |mm| (*key, *kind, *mm)))
        .map(|(key, kind, mm)| (format!("{} {mm}", desk.words.say(key)), kind, mm))
        .filter(|(name, ..)| !known.contains_key(name))
        .collect();
    let names: Vec<String> = offered.iter().map(|(name, ..)| name.clone()).collect();
    let label = desk.words.say("board-add");
    let chosen = choice::one_more(ui, desk.words, &label, &names).and_then(|it| offered.into_iter().nth(it));
    let Some((name, kind, mm)) = chosen else { return };
    let mut all = known.clone();
    all.insert(name, Material { grain: kind == MaterialKind::Hardwood, ..first(desk, kind, mm) });
    desk.set(FieldPath::root().field("materials"), &all, Name::about("edit-field", &label));
}

/// A material so thick (mm) of which nothing else is known yet.
pub(super) fn first(desk: &Desk<'_>, kind: MaterialKind, mm: i64) -> Material {
    Material {
        thickness: Dim::of(Length::from_mm(mm), desk.design.unit),
        kind,
        grain: false,
        density_kg_m3: None,
        modulus_mpa: None,
        finish: String::new(),
    }
}

/// The board that parts of a role are of; `at` is the field of the boards by role.
pub(super) fn of_role(ui: &mut Ui, desk: &mut Desk<'_>, label: &str, at: &FieldPath, role: Role) {
    let construction = &desk.design.carcass.construction;
    let names: Vec<String> = desk.design.materials.keys().cloned().collect();
    let none = desk.words.say("board-as-carcass");
    let Some(chosen) = choice::one_or_none(ui, label, none, construction.boards.get(&role), &names) else { return };
    let mut boards = construction.boards.clone();
    match chosen {
        Some(name) => boards.insert(role, name),
        None => boards.remove(&role),
    };
    desk.set(at.clone(), &boards, Name::about("edit-field", label));
}
