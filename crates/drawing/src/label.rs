//! Labels inside a view: put where there is room, reported where there is none.

use kurbo::{Point, Rect, Vec2};

use crate::display::{Display, Layer};
use crate::font;
use crate::place::Occupied;
use crate::pointer::Pointer;
use crate::tag::Tag;
use crate::text::{Anchor, Text};

/// Clear space round a label, in millimetres.
const CLEAR_MM: f64 = 0.7;

/// A text that belongs into an area of a view.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The area, in model millimetres.
    pub within: Rect,
    /// The lines, from top to bottom.
    pub lines: Vec<String>,
    /// What is labelled.
    pub tag: Option<Tag>,
}

/// What of a label found no room in its area.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Unplaced {
    /// What is still to be said, and where it belongs.
    pub(crate) label: Label,
    /// Where a leader may point, in model millimetres, the best first.
    pub(crate) spots: Vec<Point>,
    /// What stands in the area in its place: the first line, if that found room.
    pub(crate) mark: Option<String>,
}

impl Unplaced {
    fn new(label: Label, mark: Option<String>) -> Self {
        const SHARES: [f64; 5] = [0.5, 0.3, 0.7, 0.12, 0.88];
        let area = label.within;
        let at = |x: f64, y: f64| Point::new(area.x0 + area.width() * x, area.y0 + area.height() * y);
        let spots = SHARES.into_iter().flat_map(|y| SHARES.map(|x| at(x, y))).collect();
        Self { label, spots, mark }
    }
}

impl From<&Pointer> for Unplaced {
    fn from(pointer: &Pointer) -> Self {
        let spot = pointer.at.first().copied().unwrap_or_default();
        let within = Rect::from_points(spot, spot);
        let label = Label { within, lines: vec![pointer.text.clone()], tag: pointer.tag.clone() };
        Self { label, spots: pointer.at.clone(), mark: None }
    }
}

/// Most lines that one line of a label is broken into.
const MOST_LINES: usize = 4;

/// Places each label in its area where it meets no line and no other text: upright first, then read from the right;
/// in the common lettering, smaller only where that finds no room; then all in one line; then broken into short lines;
/// then the first line alone. Hands back what found no room.
pub(crate) fn place_labels(
    labels: &[Label],
    scale: f64,
    occupied: &mut Occupied,
    display: &mut Display,
) -> Vec<Unplaced> {
    let mut unplaced = Vec::new();
    for label in labels {
        let area = on_paper(label.within, scale);
        let with = |lines: Vec<String>| Label { lines, ..label.clone() };
        // In one line where two have no room.
        let mut tries = vec![label.clone(), with(vec![label.lines.join("  ")])];
        tries.extend((2..=MOST_LINES).filter_map(|count| broken(label, count)).map(with));
        let whole = tries.iter().find_map(|tried| anywhere(tried, area, occupied));
        let short = with(label.lines.iter().take(1).cloned().collect());
        let texts = match whole {
            Some(texts) => texts,
            None => match anywhere(&short, area, occupied).filter(|_| label.lines.len() > 1) {
                Some(texts) => {
                    let rest = with(label.lines.iter().skip(1).cloned().collect());
                    unplaced.push(Unplaced::new(rest, short.lines.into_iter().next()));
                    texts
                }
                None => {
                    unplaced.push(Unplaced::new(label.clone(), None));
                    continue;
                }
            },
        };
        for text in texts {
            occupied.add_box(text.bounds());
            display.text(Layer::Notes, label.tag.clone(), text);
        }
    }
    unplaced
}

/// A rectangle of the model on paper.
pub(crate) fn on_paper(rect: Rect, scale: f64) -> Rect {
    Rect::new(rect.x0 * scale, rect.y0 * scale, rect.x1 * scale, rect.y1 * scale)
}

/// The lines of a label, those after the first (or the only one) broken between words into so many lines as even as words
/// allow; none if there are too few words.
fn broken(label: &Label, count: usize) -> Option<Vec<String>> {
    let (first, rest) = label.lines.split_first()?;
    let (mut lines, text) =
        if rest.is_empty() { (Vec::new(), first.clone()) } else { (vec![first.clone()], rest.join(" ")) };
    let words: Vec<&str> = text.split(' ').collect();
    if words.len() < count {
        return None;
    }
    let width = |words: &[&str]| font::width_mm(&words.join(" "), font::HEIGHT_NOTE_MM);
    // The narrowest width at which so many lines do.
    let fits = |most: f64| {
        let mut broken: Vec<Vec<&str>> = Vec::new();
        for &word in &words {
            match broken.last_mut() {
                Some(line) if width(&[line.as_slice(), &[word]].concat()) <= most => line.push(word),
                _ => broken.push(vec![word]),
            }
        }
        (broken.len() <= count).then_some(broken)
    };
    let whole = width(&words);
    let narrowest = (1..=20).map(|step| whole * f64::from(step) / 20.0).find_map(fits)?;
    lines.extend(narrowest.into_iter().map(|line| line.join(" ")));
    Some(lines)
}

/// A label anywhere in its area, in the common lettering or smaller.
pub(crate) fn anywhere(label: &Label, area: Rect, occupied: &Occupied) -> Option<Vec<Text>> {
    [font::HEIGHT_NOTE_MM, font::HEIGHT_LABEL_MM]
        .into_iter()
        .flat_map(|height| [(height, false), (height, true)])
        .find_map(|(height, turned)| fitted(label, area, height, turned, occupied))
}

/// The lines of a label at the first free spot of its area, spots near the middle first.
fn fitted(label: &Label, area: Rect, height: f64, turned: bool, occupied: &Occupied) -> Option<Vec<Text>> {
    let width = label.lines.iter().map(|line| font::width_mm(line, height)).fold(0.0, f64::max);
    let pitch = height * 1.6;
    let depth = pitch * label.lines.len().saturating_sub(1) as f64 + height;
    let (across, up) = if turned { (depth, width) } else { (width, depth) };
    let (free_x, free_y) = (area.width() - across - 2.0 * CLEAR_MM, area.height() - up - 2.0 * CLEAR_MM);
    if free_x < 0.0 || free_y < 0.0 {
        return None;
    }
    // Offsets from the middle as shares of the slack.
    const SHARES: [f64; 9] = [0.0, 0.125, -0.125, 0.25, -0.25, 0.375, -0.375, 0.5, -0.5];
    let at_origin: Vec<Rect> =
        lines_at(label, Point::ORIGIN, height, pitch, depth, turned).iter().map(Text::bounds).collect();
    for share_y in SHARES {
        for share_x in SHARES {
            let centre = area.center() + Vec2::new(free_x * share_x, free_y * share_y);
            if at_origin.iter().all(|bounds| occupied.is_free(*bounds + centre.to_vec2(), CLEAR_MM)) {
                return Some(lines_at(label, centre, height, pitch, depth, turned));
            }
        }
    }
    None
}

fn lines_at(label: &Label, centre: Point, height: f64, pitch: f64, depth: f64, turned: bool) -> Vec<Text> {
    label
        .lines
        .iter()
        .enumerate()
        .map(|(index, line)| {
            let down = depth / 2.0 - height - pitch * index as f64;
            let (at, turn) = if turned {
                (Point::new(centre.x - down, centre.y), std::f64::consts::FRAC_PI_2)
            } else {
                (Point::new(centre.x, centre.y + down), 0.0)
            };
            Text::new(at, height, line.clone()).anchored(Anchor::Middle).rotated(turn)
        })
        .collect()
}
