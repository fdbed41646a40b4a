//! Ways of entering many boards at once: a pasted table, and an old cabinet that is taken apart on paper.

use casewright_core::design::resolve::Sign;
use casewright_core::design::{Board, Design};
use casewright_core::length::Length;
use casewright_core::stock::{OldBack, OldBox, OldJoint, dismantle, written};
use casewright_stock::{admitted, read_table};
use egui::{Grid, Modal, RichText, ScrollArea, TextEdit, Ui};

use crate::lengths::Lengths;
use crate::panels::choice;
use crate::panels::field::say_mistake;
use crate::theme::Palette;
use crate::words::Words;

/// A way of entering boards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Rows of a table.
    Table,
    /// The panels of an old cabinet.
    OldBox,
}

/// Boards while they are being entered.
#[derive(Clone, Debug)]
pub enum StockIn {
    /// The text of a table.
    Table(String),
    /// An old cabinet.
    OldBox(Box<Cabinet>),
}

/// What came of it.
#[derive(Clone, Debug)]
pub enum Chosen {
    /// These boards, under names that are free.
    Boards(Vec<Board>),
    /// Nothing.
    Nothing,
}

/// An old cabinet as it is being described: lengths as texts.
#[derive(Clone, Debug)]
pub struct Cabinet {
    name: String,
    /// Width, height, depth.
    size: [String; 3],
    material: usize,
    thickness: String,
    sides_run_through: bool,
    shelves: String,
    set_back: String,
    rows: bool,
    joint: usize,
    /// None, nailed on, in grooves.
    back: usize,
    back_material: usize,
    groove: String,
}

/// The joints to choose from.
const JOINTS: [(OldJoint, &str); 3] = [
    (OldJoint::Dowelled, "old-joint-dowelled"),
    (OldJoint::Screwed, "old-joint-screwed"),
    (OldJoint::Grooved, "old-joint-grooved"),
];

/// What the dialog is shown with: words, the design, and its lengths.
type Given<'a> = (&'a Words, &'a Design, &'a Lengths);

impl StockIn {
    /// Begins with nothing entered.
    #[must_use]
    pub fn new(way: Way) -> Self {
        match way {
            Way::Table => Self::Table(String::new()),
            Way::OldBox => Self::OldBox(Box::new(Cabinet {
                name: String::new(),
                size: [const { String::new() }; 3],
                material: 0,
                thickness: String::new(),
                sides_run_through: true,
                shelves: "0".to_owned(),
                set_back: "0".to_owned(),
                rows: false,
                joint: 0,
                back: 0,
                back_material: 0,
                groove: "0".to_owned(),
            })),
        }
    }

    /// Shows it; gives what came of it once it is over.
    pub fn show(&mut self, ui: &Ui, given: Given<'_>) -> Option<Chosen> {
        let words = given.0;
        let mut chosen = None;
        let modal = Modal::new(egui::Id::unique("stock in")).show(ui.ctx(), |ui| {
            ui.set_width(640.0);
            let (title, text) = match self {
                Self::Table(_) => ("stock-table-title", "stock-table-text"),
                Self::OldBox(_) => ("old-box-title", "old-box-text"),
            };
            ui.label(RichText::new(words.say(title)).heading());
            ui.add(egui::Label::new(words.say(text)).wrap());
            ui.add_space(6.0);
            let height = ui.ctx().content_rect().height() - 220.0;
            let found = ScrollArea::vertical()
                .max_height(height)
                .show(ui, |ui| match self {
                    Self::Table(text) => table(ui, given, text),
                    Self::OldBox(cabinet) => cabinet.show(ui, given),
                })
                .inner;
            ui.add_space(8.0);
            let count = found.as_ref().map_or(0, |boards| pieces(boards));
            ui.horizontal(|ui| {
                let label = words.say_with("stock-in-add", &[("count", &count)]);
                let add = ui.add_enabled(count > 0, egui::Button::new(label));
                if let Some(boards) = found.filter(|_| add.clicked()) {
                    let unit = given.1.unit;
                    chosen = Some(Chosen::Boards(boards.iter().map(|it| written(it, unit)).collect()));
                }
                if ui.button(words.say("ask-cancel")).clicked() {
                    chosen = Some(Chosen::Nothing);
                }
            });
        });
        // A click beside the dialog would lose what was entered.
        let escapes = modal.should_close() && !modal.backdrop_response.clicked();
        chosen.or(escapes.then_some(Chosen::Nothing))
    }
}

/// How many boards there are; of those that are bought as needed, one each.
pub(crate) fn pieces<L>(boards: &[Board<L>]) -> usize {
    boards.iter().map(|it| it.quantity.unwrap_or(1) as usize).sum()
}

/// The text of the table, and what is read from it; nothing while it cannot be read.
fn table(ui: &mut Ui, (words, design, _): Given<'_>, text: &mut String) -> Option<Vec<Board<Length>>> {
    let field = ui
        .add(
            TextEdit::multiline(text)
                .desired_rows(9)
                .desired_width(f32::INFINITY)
                .hint_text(words.say("stock-table-hint"))
                .font(egui::TextStyle::Monospace),
        )
        .accessible_name(words.say("stock-table-title"));
    if ui.memory(|memory| memory.focused().is_none()) {
        field.request_focus();
    }
    if text.trim().is_empty() {
        return None;
    }
    let boards = match read_table(text, design.unit) {
        Ok(boards) => boards,
        Err(errors) => {
            for error in &errors {
                let cells = text.split(['\t', ';', ',', '\n', '|']).map(|cell| cell.trim().to_owned());
                wrong(ui, &words.sentence_about(&error.to_string(), cells));
            }
            return None;
        }
    };
    let boards = admit(ui, words, design, boards)?;
    preview(ui, (words, design), &boards);
    Some(boards)
}

/// The boards under free names, if they are of materials that there are; else what is wrong is said.
fn admit(ui: &mut Ui, words: &Words, design: &Design, boards: Vec<Board<Length>>) -> Option<Vec<Board<Length>>> {
    match admitted(boards, &design.boards, |name| design.materials.contains_key(name)) {
        Ok(boards) => Some(boards),
        Err(strange) => {
            let known: Vec<&str> = design.materials.keys().map(String::as_str).collect();
            let values: [(&str, &dyn crate::words::Value); 3] =
                [("board", &strange.board), ("material", &strange.material), ("known", &known.join(", "))];
            wrong(ui, &words.say_with("stock-in-strange", &values));
            None
        }
    }
}

fn wrong(ui: &mut Ui, text: &str) {
    let colour = Palette::here(ui).error;
    ui.add(egui::Label::new(RichText::new(format!("✖ {text}")).color(colour)).wrap());
}

/// What the boards are, a line each: size, what of it is good, how many.
fn preview(ui: &mut Ui, (words, design): (&Words, &Design), boards: &[Board<Length>]) {
    ui.add_space(6.0);
    Grid::new("boards that come in").num_columns(4).striped(true).spacing([18.0, 4.0]).show(ui, |ui| {
        for key in ["stock-name", "stock-in-size", "stock-in-good", "stock-quantity"] {
            ui.label(RichText::new(words.say(key)).strong());
        }
        ui.end_row();
        let show = |length: Length| design.unit.format(length, words.decimal_mark());
        let pair = |(length, width): (Length, Length)| format!("{} × {}", show(length), show(width));
        for board in boards {
            let (start, end, near, far) = board.spoilt.unwrap_or_default();
            ui.label(&board.name);
            ui.label(pair(board.size));
            ui.label(pair((board.size.0 - start - end, board.size.1 - near - far)));
            ui.label(board.quantity.map_or_else(|| words.say("stock-as-needed"), |it| it.to_string()));
            ui.end_row();
        }
    });
}

impl Cabinet {
    /// The fields, and the panels that come of it; nothing while something is missing.
    fn show(&mut self, ui: &mut Ui, (words, design, lengths): Given<'_>) -> Option<Vec<Board<Length>>> {
        let materials: Vec<String> = design.materials.keys().cloned().collect();
        Grid::new("old cabinet").num_columns(2).spacing([16.0, 6.0]).show(ui, |ui| {
            self.outside(ui, words, &materials);
            self.inside(ui, words);
            self.behind(ui, words, &materials);
        });
        let old = match self.read(words, &materials, lengths) {
            Ok(old) => old?,
            Err(mistake) => {
                wrong(ui, &mistake);
                return None;
            }
        };
        let boards = dismantle(&old);
        if boards.is_empty() {
            wrong(ui, &words.say("old-box-nothing"));
            return None;
        }
        let boards = admit(ui, words, design, boards)?;
        preview(ui, (words, design), &boards);
        Some(boards)
    }

    fn outside(&mut self, ui: &mut Ui, words: &Words, materials: &[String]) {
        let name = row(ui, words, "stock-name", &mut self.name, 260.0);
        if ui.memory(|memory| memory.focused().is_none()) && self.name.is_empty() {
            name.request_focus();
        }
        for (key, text) in ["field-width", "field-height", "field-depth"].into_iter().zip(&mut self.size) {
            row(ui, words, key, text, 90.0);
        }
        pick(ui, &words.say("stock-material"), &mut self.material, materials);
        row(ui, words, "field-thickness", &mut self.thickness, 90.0);
    }

    fn inside(&mut self, ui: &mut Ui, words: &Words) {
        let ways = ["old-sides-through", "old-sides-between"].map(|key| words.say(key));
        let mut between = usize::from(!self.sides_run_through);
        pick(ui, &words.say("old-sides"), &mut between, &ways);
        self.sides_run_through = between == 0;
        pick(ui, &words.say("old-joint"), &mut self.joint, &JOINTS.map(|(_, key)| words.say(key)));
        row(ui, words, "bay-shelves", &mut self.shelves, 90.0);
        row(ui, words, "field-shelf-set-back", &mut self.set_back, 90.0);
        ui.label("");
        ui.checkbox(&mut self.rows, words.say("old-rows"));
        ui.end_row();
    }

    fn behind(&mut self, ui: &mut Ui, words: &Words, materials: &[String]) {
        let backs = ["old-back-none", "old-back-applied", "old-back-grooved"].map(|key| words.say(key));
        pick(ui, &words.say("construction-back"), &mut self.back, &backs);
        if self.back > 0 {
            pick(ui, &words.say("old-back-material"), &mut self.back_material, materials);
        }
        if self.back == 2 {
            row(ui, words, "old-groove", &mut self.groove, 90.0);
        }
    }

    /// The cabinet, or what is wrong with it; nothing while what is needed is not entered yet.
    fn read(&self, words: &Words, materials: &[String], lengths: &Lengths) -> Result<Option<OldBox>, String> {
        let needed = self.size.iter().chain([&self.name, &self.thickness]);
        if needed.clone().any(|text| text.trim().is_empty()) {
            return Ok(None);
        }
        let length = |text: &str, sign| {
            lengths.check(text.trim(), sign).map_err(|mistake| format!("{text}: {}", say_mistake(words, &mistake)))
        };
        let [width, height, depth] = &self.size;
        let above = |text: &str| length(text, Sign::AboveZero);
        let back_material = || materials.get(self.back_material).cloned().unwrap_or_default();
        let count = self.shelves.trim().parse::<u32>().ok().filter(|count| *count <= MOST_SHELVES);
        let old = OldBox {
            name: self.name.trim().to_owned(),
            size: (above(width)?, above(height)?, above(depth)?),
            material: materials.get(self.material).cloned().unwrap_or_default(),
            thickness: above(&self.thickness)?,
            sides_run_through: self.sides_run_through,
            shelves: count.ok_or_else(|| format!("{}: {}", self.shelves, words.say("mistake-no-number")))?,
            shelf_set_back: length(&self.set_back, Sign::ZeroOrMore)?,
            rows: self.rows,
            joint: JOINTS.get(self.joint).map_or(OldJoint::Dowelled, |it| it.0),
            back: match self.back {
                0 => OldBack::None,
                1 => OldBack::Applied(back_material()),
                _ => OldBack::Grooved(back_material(), length(&self.groove, Sign::ZeroOrMore)?),
            },
        };
        Ok(Some(old))
    }
}

/// The most shelves of an old cabinet.
const MOST_SHELVES: u32 = 100;

fn row(ui: &mut Ui, words: &Words, key: &str, text: &mut String, width: f32) -> egui::Response {
    let label = words.say(key);
    ui.label(&label);
    // The same words stand behind the dialog.
    let name = words.say_with("old-box-field", &[("label", &label)]);
    let response = ui.add(TextEdit::singleline(text).desired_width(width)).accessible_name(name);
    ui.end_row();
    response
}

fn pick(ui: &mut Ui, label: &str, now: &mut usize, options: &[String]) {
    ui.label(label);
    if let Some(chosen) = choice::choose_box(ui, None, label, *now, options, 260.0) {
        *now = chosen;
    }
    ui.end_row();
}
