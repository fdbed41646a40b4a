//! The right column for the room: where the piece stands, what is in the way, and what was measured of walls and floor.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Obstacle, ObstacleKind, SiteWall};
use casewright_core::text::FieldPath;
use egui::{CollapsingHeader, RichText, Ui};
use serde_json::{Value, json};

use super::carcass::lengths_under;
use super::rows::{self, Column};
use super::{Desk, choice, field, heading};
use crate::command::{Command, Name, tree};
use crate::labels;
use crate::theme::Palette;

/// Shows the room.
pub fn show(ui: &mut Ui, desk: &mut Desk<'_>) {
    let at = FieldPath::root().field("site");
    niche(ui, desk, &at.field("niche"));
    obstacles(ui, desk, &at.field("obstacles"));
    neighbour(ui, desk, &at.field("neighbour_worktop"));
    let words = desk.words;
    heading(ui, &words.say("site-survey"));
    ui.label(RichText::new(words.say("site-survey-intro")).small().color(Palette::here(ui).ink_soft));
    walls(ui, desk, &at.field("walls"));
    let columns = [
        Column::named("floor-along", "x", Sign::Any),
        Column::named("floor-out", "z", Sign::Any),
        Column::named("floor-height", "height", Sign::Any),
    ];
    let new = json!({ "x": "0", "z": "0", "height": "0" });
    rows::show(ui, desk, ("site-floor", &at.field("floor")), desk.design.site.floor.len(), &columns, new);
}

fn niche(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let words = desk.words;
    heading(ui, &words.say("site-niche"));
    let options = vec![
        (words.say("site-no-niche"), json!(null)),
        (words.say("site-in-niche"), json!({ "width": desk.mm(1000), "left_wall": true, "right_wall": true })),
    ];
    let niche = desk.design.site.niche.as_ref();
    choice::field(ui, desk, &words.say("site-stands"), at, usize::from(niche.is_some()), options);
    let Some(niche) = niche else { return };
    field::length(ui, desk, &words.say("field-width"), &at.field("width"), Sign::AboveZero);
    field::optional_length(ui, desk, &words.say("field-height"), &at.field("height"), Sign::AboveZero);
    if niche.height.is_some() {
        let (path, label) = (at.field("above"), words.say("site-above"));
        let current = niche.above.clone().unwrap_or_default();
        field::text(ui, desk, (&label, "niche above"), &current, |text| {
            let value = if text.is_empty() { Value::Null } else { Value::String(text) };
            Ok(Command::SetField { path, value, name: Name::about("edit-field", &label) })
        });
    }
    field::optional_length(ui, desk, &words.say("field-depth"), &at.field("depth"), Sign::AboveZero);
    choice::switch(ui, desk, &words.say("site-left-wall"), &at.field("left_wall"), niche.left_wall);
    choice::switch(ui, desk, &words.say("site-right-wall"), &at.field("right_wall"), niche.right_wall);
}

fn obstacles(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let words = desk.words;
    heading(ui, &words.say("site-obstacles"));
    let title = words.say("edit-obstacles-what");
    let all = &desk.design.site.obstacles;
    for (index, it) in all.iter().enumerate() {
        let kind = labels::obstacle_kind(words, it.kind);
        let head = format!("{} · {kind}", it.name);
        CollapsingHeader::new(RichText::new(head).strong()).id_salt(("obstacle", index)).default_open(true).show(
            ui,
            |ui| {
                obstacle(ui, desk, it, &at.index(index));
                if ui.button(words.say_with("site-remove", &[("name", &it.name)])).clicked() {
                    desk.edit(Command::RemoveObstacle(it.name.clone()));
                }
            },
        );
    }
    if ui.button(words.say("site-add-obstacle")).clicked() {
        let taken: Vec<String> = all.iter().map(|obstacle| obstacle.name.clone()).collect();
        let name = tree::fresh_name(&words.say("obstacle-other"), &taken);
        let new =
            json!({ "name": name, "corner": ["0", "0", "0"], "size": [desk.mm(100), desk.mm(100), desk.mm(100)] });
        rows::add(desk, at, new, &title);
    }
}

fn obstacle(ui: &mut Ui, desk: &mut Desk<'_>, it: &Obstacle, at: &FieldPath) {
    let words = desk.words;
    let taken: Vec<String> = desk.design.site.obstacles.iter().map(|obstacle| obstacle.name.clone()).collect();
    let path = at.field("name");
    let memory = format!("obstacle {path}");
    field::text(ui, desk, (&words.say("obstacle-name"), &memory), &it.name, |name| {
        let name = field::free_name(words, name, &taken)?;
        Ok(Command::RenameObstacle { from: it.name.clone(), to: name })
    });
    let option =
        |kind: ObstacleKind| (labels::obstacle_kind(words, kind), serde_json::to_value(kind).unwrap_or_default());
    let now = ObstacleKind::ALL.iter().position(|kind| *kind == it.kind).unwrap_or(usize::MAX);
    let options = ObstacleKind::ALL.into_iter().map(option).collect();
    choice::field(ui, desk, &words.say("obstacle-kind"), &at.field("kind"), now, options);
    for name in ["corner", "size"] {
        for index in 0..3 {
            let at = at.field(name).index(index);
            field::length(ui, desk, &labels::length(words, &at), &at, Sign::Any);
        }
    }
    let at_clear = at.field("keep_clear");
    field::optional_length(ui, desk, &labels::length(words, &at_clear), &at_clear, Sign::ZeroOrMore);
    if it.kind != ObstacleKind::Door && it.swing.is_none() {
        return;
    }
    let at_swing = at.field("swing");
    let options = vec![
        (words.say("swing-none"), Value::Null),
        (words.say("swing-has"), json!({ "about": [it.corner.0.text(), it.corner.2.text()], "opens_deg": 90.0 })),
    ];
    choice::field(ui, desk, &words.say("swing"), &at_swing, usize::from(it.swing.is_some()), options);
    let Some(swing) = &it.swing else { return };
    for (key, index) in [("swing-along", 0), ("swing-out", 1)] {
        field::length(ui, desk, &words.say(key), &at_swing.field("about").index(index), Sign::Any);
    }
    // Angles of both signs: the way round is shown by the drawing.
    let (label, path) = (words.say("swing-opens"), at_swing.field("opens_deg"));
    field::text(ui, desk, (&label, &path.to_string()), &swing.opens_deg.to_string(), |text| {
        let angle = text.replace(',', ".").parse::<f64>().ok().filter(|it| it.is_finite());
        let angle = angle.ok_or_else(|| words.say("mistake-no-number"))?;
        Ok(Command::SetField { path, value: Value::from(angle), name: Name::about("edit-field", &label) })
    });
}

fn neighbour(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let words = desk.words;
    heading(ui, &words.say("site-neighbour"));
    let options = vec![
        (words.say("site-no-neighbour"), json!(null)),
        (
            words.say("site-has-neighbour"),
            json!({ "height": desk.mm(900), "thickness": desk.mm(38), "depth": desk.mm(600) }),
        ),
    ];
    let neighbour = desk.design.site.neighbour_worktop.as_ref();
    choice::field(ui, desk, &words.say("site-next-door"), at, usize::from(neighbour.is_some()), options);
    if let Some(neighbour) = neighbour {
        choice::switch(ui, desk, &words.say("site-on-left"), &at.field("on_left"), neighbour.on_left);
        lengths_under(ui, desk, at);
    }
}

/// What was measured of each wall: where its surface is, at points.
fn walls(ui: &mut Ui, desk: &mut Desk<'_>, at: &FieldPath) {
    let walls = [SiteWall::Left, SiteWall::Right, SiteWall::Rear, SiteWall::Above];
    let columns = [
        Column::within("wall-along", "at", 0, Sign::Any),
        Column::within("wall-up", "at", 1, Sign::Any),
        Column::within("wall-out", "at", 2, Sign::Any),
    ];
    let keys = ["wall-left", "wall-right", "wall-rear", "wall-above"];
    for (wall, key) in walls.into_iter().zip(keys) {
        let of_wall = |(index, it): (usize, &casewright_core::design::WallPoint)| (it.wall == wall).then_some(index);
        let places: Vec<usize> = desk.design.site.walls.iter().enumerate().filter_map(of_wall).collect();
        let new = json!({ "wall": wall, "at": ["0", desk.mm(100), "0"] });
        rows::show_some(ui, desk, (key, at), &places, &columns, new);
    }
}
