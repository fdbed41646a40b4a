//! How panels are joined: for a shell, for a box in it, and for single joints of a part.

use casewright_core::assembly::{Assembly, JoinedBy, Part};
use casewright_core::design::resolve::Sign;
use casewright_core::design::{JointChoice, JointKind, Role};
use casewright_core::expr::Dim;
use casewright_core::joinery::DIN_68150_1;
use casewright_core::text::FieldPath;
use egui::{RichText, Ui};
use serde_json::{Value, json};

use super::carcass::lengths_under;
use super::{Desk, choice, field, heading};
use crate::command::{Command, Name};
use crate::help;
use crate::theme::Palette;
use crate::words::Words;

/// The kinds of joint to choose from, each with what it is in a design at first.
fn kinds(words: &Words) -> Vec<(String, Value)> {
    vec![
        (words.say("joint-dowelled"), json!({ "Dowelled": "8x40" })),
        (words.say("joint-screwed"), json!("Screwed")),
        (words.say("joint-housed"), json!({ "Housed": { "depth": "6" } })),
        (words.say("joint-angled"), json!("Angled")),
        (words.say("joint-dowelled-screwed"), json!({ "DowelledAndScrewed": "8x40" })),
        (words.say("joint-rebated"), json!({ "Rebated": { "depth": "9" } })),
    ]
}

/// Which of [`kinds`] it is.
const fn index(kind: &JointKind) -> usize {
    match kind {
        JointKind::Dowelled(_) => 0,
        JointKind::Screwed => 1,
        JointKind::Housed { .. } => 2,
        JointKind::Angled => 3,
        JointKind::DowelledAndScrewed(_) => 4,
        JointKind::Rebated { .. } => 5,
    }
}

/// The joints of the carcass: `now`, at `at`.
pub fn of_carcass(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath, now: &JointKind) {
    let label = desk.words.say("construction-joint");
    let options = kinds(desk.words);
    choice::field(ui, desk, &label, at, index(now), options);
    sizes(ui, desk, at, now);
}

/// The joints of a box: `now`, at `at`; as those of the carcass if nothing is said.
pub fn of_box(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath, now: Option<&JointKind>) {
    let label = desk.words.say("construction-joint");
    let mut options = vec![(desk.words.say("joint-as-carcass"), Value::Null)];
    options.extend(kinds(desk.words));
    choice::field(ui, desk, &label, at, now.map_or(0, |it| index(it) + 1), options);
    if let Some(now) = now {
        sizes(ui, desk, at, now);
    }
}

/// The dowel of a joint, or the depth of its groove.
fn sizes(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath, now: &JointKind) {
    if let Some(dowel) = now.dowel() {
        let kind = if matches!(now, JointKind::Dowelled(_)) { "Dowelled" } else { "DowelledAndScrewed" };
        let mut sizes: Vec<String> = DIN_68150_1.iter().map(|(d, l)| format!("{d}x{l}")).collect();
        let chosen = sizes.iter().position(|it| it == dowel).unwrap_or_else(|| {
            sizes.push(dowel.to_owned());
            sizes.len() - 1
        });
        let options = sizes.iter().map(|it| (it.replace('x', " × "), json!({ kind: it }))).collect();
        let label = desk.words.say("joint-dowel");
        choice::field(ui, desk, &label, at, chosen, options);
    }
    lengths_under(ui, desk, at);
}

/// One joint of a part, or several alike: those that one choice speaks of.
#[derive(Clone, Debug, PartialEq)]
struct Row {
    /// What the choice for just these joints is.
    choice: JointChoice,
    /// The parts on the other side.
    others: Vec<String>,
    /// Further joints that the same choice speaks of, as `SR–BO`.
    also: Vec<String>,
}

/// Whether parts that do this may be joined in a way that is chosen.
const fn is_free(role: Role) -> bool {
    matches!(
        role,
        Role::Side
            | Role::Upright
            | Role::Bottom
            | Role::Top
            | Role::Shelf
            | Role::Rail
            | Role::DrawerSide
            | Role::DrawerEnd
            | Role::BinPanel
    )
}

/// The joints of a part that a design may choose.
fn rows(assembly: &Assembly, part: &Part) -> Vec<Row> {
    let pairs = || {
        let joints = assembly.joints.iter().filter(|joint| joint.kind != JoinedBy::Loose);
        let pair = |a: usize, b: usize| Some((assembly.parts.get(a)?, assembly.parts.get(b)?));
        let pairs = joints.filter_map(move |joint| pair(joint.face_part, joint.edge_part));
        pairs.filter(|(a, b)| is_free(a.role) && is_free(b.role))
    };
    let mut rows: Vec<Row> = Vec::new();
    for (a, b) in pairs() {
        let other = match (a.number == part.number, b.number == part.number) {
            (true, _) => b,
            (_, true) => a,
            _ => continue,
        };
        let bay = |it: &Part| Some(it.bay.clone());
        let choice = JointChoice {
            of: part.role,
            bay: bay(part),
            to: Some(other.role),
            to_bay: bay(other),
            by: None,
            shift: None,
        };
        match rows.iter_mut().find(|row| row.choice == choice) {
            Some(row) => row.others.push(other.number.clone()),
            None => rows.push(Row { choice, others: vec![other.number.clone()], also: Vec::new() }),
        }
    }
    for row in &mut rows {
        let elsewhere = pairs().filter(|(a, b)| a.number != part.number && b.number != part.number);
        let spoken = elsewhere.filter(|(a, b)| row.choice.speaks_of((a.role, &a.bay), (b.role, &b.bay)));
        row.also = spoken.map(|(a, b)| format!("{}–{}", b.number, a.number)).collect();
    }
    rows
}

/// The joints of a part, each with how it is made.
pub fn of_part(ui: &mut Ui, desk: &mut Desk<'_>, part: &Part) {
    let Some(assembly) = desk.good.and_then(|good| good.assembly.as_ref()) else { return };
    let rows = rows(assembly, part);
    if rows.is_empty() {
        return;
    }
    heading(ui, &desk.words.say("part-joints"));
    for row in rows {
        one_row(ui, desk, part, &row);
    }
}

fn one_row(ui: &mut Ui, desk: &mut Desk<'_>, part: &Part, row: &Row) {
    let words = desk.words;
    let list = FieldPath::root().field("carcass").field("joints");
    let choices = &desk.design.carcass.joints;
    let is_this = |it: &JointChoice| JointChoice { by: None, shift: None, ..it.clone() } == row.choice;
    let (of, to) = ((part.role, part.bay.as_str()), (row.choice.to, row.choice.to_bay.as_deref()));
    let speaks = |it: &JointChoice| to.0.is_some_and(|role| it.speaks_of(of, (role, to.1.unwrap_or_default())));
    let own = choices.iter().rposition(is_this);
    let ruling = choices.iter().rev().filter(|it| speaks(it)).find_map(|it| it.by.as_ref());
    let others = row.others.join(", ");
    let label = words.say_with("part-joint-to", &[("parts", &others)]);
    let mut options = vec![(words.say("joint-as-built"), Value::Null)];
    options.extend(kinds(words));
    let (names, kinds): (Vec<String>, Vec<Value>) = options.into_iter().unzip();
    let sketch = help::sketch_of(&FieldPath::root().field("carcass").field("construction").field("joint"));
    let now = ruling.map_or(0, |it| index(it) + 1);
    let chosen = choice::choose(ui, sketch.map(|it| (words, it)), &label, now, &names);
    if let Some(kind) = chosen.and_then(|it| kinds.get(it)) {
        let after = with_choice(choices, own, &row.choice, kind);
        let name = Name::about("edit-field", &label);
        desk.edit(Command::SetField { path: list.clone(), value: after, name });
    }
    if let Some(own) = own {
        let at = list.index(own);
        if let Some(by) = choices.get(own).and_then(|it| it.by.as_ref()) {
            sizes(ui, desk, &at.field("by"), by);
        }
        let label = words.say_with("part-joint-shift", &[("parts", &others)]);
        field::optional_length(ui, desk, &label, &at.field("shift"), Sign::Any);
    }
    if !row.also.is_empty() {
        let text = words.say_with("part-joint-also", &[("joints", &row.also.join(", "))]);
        ui.add(egui::Label::new(RichText::new(text).small().color(Palette::here(ui).ink_soft)).wrap());
    }
}

/// The choices with another kind for one of them, which comes last so that it holds; without it if nothing is then chosen.
fn with_choice(choices: &[JointChoice], own: Option<usize>, wanted: &JointChoice, kind: &Value) -> Value {
    let mut after: Vec<JointChoice> = choices.to_vec();
    let shift: Option<Dim> = own.and_then(|own| (own < after.len()).then(|| after.remove(own).shift)).flatten();
    let by = serde_json::from_value(kind.clone()).ok();
    if by.is_some() || shift.is_some() {
        after.push(JointChoice { by, shift, ..wanted.clone() });
    }
    json!(after)
}
