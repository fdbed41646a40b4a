//! Several carcasses for the same things, side by side: each with its elevation, what it is best at and its figures.

use kurbo::{Point, Rect};

use super::cautions::Concern;
use super::checklist::Column;
use super::elevation::carcass_elevation;
use super::order::place_unscaled;
use super::pack::title_block;
use super::scene::Scene;
use crate::display::Layer;
use crate::line::LineClass;
use crate::sheet::{Format, Sheet, number_sheets};
use crate::title_block::HEIGHT_MM;
use crate::view::View;

/// The name of these sheets.
const PROPOSALS: &str = "Proposals";
/// Fields of a sheet: across and up.
const FIELDS: (usize, usize) = (2, 2);
/// The share of a field that words beside a picture take.
const BESIDE: f64 = 0.45;
/// Clear space within a field, in millimetres.
const MARGIN_MM: f64 = 5.0;

/// One carcass among several.
pub struct ProposalCard<'a> {
    /// What is drawn.
    pub scene: Scene<'a>,
    /// Such as `Proposal 1`.
    pub heading: String,
    /// What it is best at, its figures; each wraps.
    pub lines: Vec<String>,
}

/// Sheets with four cards each, in their order.
#[must_use]
pub fn proposal_sheets(cards: &[ProposalCard<'_>], format: Format) -> Vec<Sheet> {
    let (across, up) = FIELDS;
    let mut sheets: Vec<Sheet> = Vec::new();
    for group in cards.chunks(across * up) {
        let Some(first) = group.first() else { continue };
        let mut sheet = Sheet::new(format, title_block(&first.scene, PROPOSALS, PROPOSALS, Concern::Nothing));
        let whole = format.drawing_space();
        let space = Rect::new(whole.x0, whole.y0 + HEIGHT_MM, whole.x1, whole.y1);
        let (width, height) = (space.width() / across as f64, space.height() / up as f64);
        for (index, card) in group.iter().enumerate() {
            let (column, row) = (index % across, index / across);
            let corner = Point::new(space.x0 + column as f64 * width, space.y1 - (row + 1) as f64 * height);
            let field = Rect::from_origin_size(corner, (width, height));
            draw(&mut sheet, card, field);
        }
        sheets.push(sheet);
    }
    number_sheets(&mut sheets);
    sheets
}

fn draw(sheet: &mut Sheet, card: &ProposalCard<'_>, field: Rect) {
    let inner = field.inset(-MARGIN_MM);
    let mut head = Column::new(&card.scene, inner);
    head.heading(&card.heading);
    let under_heading = Rect::new(inner.x0, inner.y0, inner.x1, inner.y0 + head.room());
    let view = plain_elevation(&card.scene);
    let (picture, words) = divide(under_heading, view.outline(), |width| {
        let column = Column::new(&card.scene, Rect::new(0.0, 0.0, width, under_heading.height()));
        card.lines.iter().map(|line| column.height_of(line)).sum()
    });
    let mut text = Column::new(&card.scene, words);
    for line in &card.lines {
        text.line(line);
    }
    if let Some(display) = place_unscaled(&view, picture) {
        sheet.content.items.extend(display.items);
    }
    for column in [head.display, text.display] {
        sheet.content.items.extend(column.items);
    }
    sheet.content.rectangle(Layer::Notes, LineClass::Dimension, None, field.inset(-1.0));
}

/// Room for the picture and for the words: what is broad has its words below, what is high beside it.
fn divide(room: Rect, outline: Rect, height_of_words: impl Fn(f64) -> f64) -> (Rect, Rect) {
    let of_picture = room.width() * (1.0 - BESIDE);
    if outline.height() > outline.width() && height_of_words(room.width() - of_picture) <= room.height() {
        let x = room.x0 + of_picture;
        return (Rect::new(room.x0, room.y0, x, room.y1), Rect::new(x, room.y0, room.x1, room.y1));
    }
    let y = room.y0 + height_of_words(room.width());
    (Rect::new(room.x0, y, room.x1, room.y1), Rect::new(room.x0, room.y0, room.x1, y))
}

/// The carcass without its fronts and without the place, with its outside sizes and the names of its bays.
#[must_use]
pub fn plain_elevation(scene: &Scene<'_>) -> View {
    let mut view = carcass_elevation(scene).view;
    view.geometry.items.retain(|item| !matches!(item.layer, Layer::Site | Layer::Movement));
    let outermost = view.chains.iter().map(|chain| chain.rank).max().unwrap_or_default();
    view.chains.retain(|chain| chain.rank == outermost);
    view
}
