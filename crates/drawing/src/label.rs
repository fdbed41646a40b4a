//! Labels inside a view: put where there is room, reported where there is none.

use kurbo::{Point, Rect, Vec2};

use crate::display::{Display, Layer};
use crate::font;
use crate::place::Occupied;
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

/// Places each label in its area where it meets no line and no other text: upright first, then read from the right;
/// in the common lettering, smaller only where that finds no room; then all in one line; then the first line alone. Hands
/// back what found no room.
pub(crate) fn place_labels(
    labels: &[Label],
    scale: f64,
    occupied: &mut Occupied,
    display: &mut Display,
) -> Vec<String> {
    let mut omitted = Vec::new();
    for label in labels {
        let area = Rect::new(
            label.within.x0 * scale,
            label.within.y0 * scale,
            label.within.x1 * scale,
            label.within.y1 * scale,
        );
        let short = Label { lines: label.lines.iter().take(1).cloned().collect(), ..label.clone() };
        // In one line where two have no room.
        let joined = Label { lines: vec![label.lines.join("  ")], ..label.clone() };
        let found = [label, &joined, &short].into_iter().enumerate().find_map(|(rank, tried)| {
            [font::HEIGHT_NOTE_MM, font::HEIGHT_LABEL_MM]
                .into_iter()
                .flat_map(|height| [(height, false), (height, true)])
                .find_map(|(height, turned)| fitted(tried, area, height, turned, occupied))
                .map(|texts| (rank, texts))
        });
        match found {
            Some((rank, texts)) => {
                if rank == 2 {
                    omitted.push(label.lines.iter().skip(1).cloned().collect::<Vec<_>>().join(" "));
                }
                for text in texts {
                    occupied.add_box(text.bounds());
                    display.text(Layer::Notes, label.tag.clone(), text);
                }
            }
            None => omitted.push(label.lines.join(" ")),
        }
    }
    omitted
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
