//! Several views on one sheet: first-angle arrangement after ISO 5456-2, and the choice of scale and format.

use kurbo::{Rect, Vec2};
use thiserror::Error;

use crate::dimension::DimensionStyle;
use crate::scale::Scale;
use crate::sheet::{Format, Sheet};
use crate::title_block::{TitleBlock, block_rect};
use crate::view::{PlacedView, View};

/// What a view shows in relation to the first one, and so where it stands (first angle, ISO 5456-2).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// The main view.
    Front,
    /// Seen from the left: stands to the right.
    FromLeft,
    /// Seen from the right: stands to the left.
    FromRight,
    /// Seen from above: stands below.
    FromAbove,
    /// Seen from below: stands above.
    FromBelow,
    /// Tied to no other view: stands where there is room.
    Free,
}

/// A view on a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedOnSheet {
    /// The id of the view.
    pub id: String,
    /// The view on the paper of the sheet.
    pub placed: PlacedView,
}

/// Why views could not be put on a sheet.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ComposeError {
    /// Nothing to place.
    #[error("there is no view to put on the sheet")]
    NoViews,
    /// Not even the smallest scale of ISO 5455 fits.
    #[error("the views do not fit on {format} even at the smallest scale; use a larger sheet or fewer views on it")]
    TooLarge {
        /// The name of the format.
        format: &'static str,
    },
}

/// Clear space between two views, in millimetres.
const BETWEEN_MM: f64 = 14.0;
/// Clear space between a view and the frame or the title block, in millimetres.
const MARGIN_MM: f64 = 6.0;

/// The views on one sheet at the largest scale of ISO 5455 at which they fit, up to `at_most`.
///
/// The scale goes into the title block. The views that stand in line keep their common coordinates in line.
///
/// # Errors
/// See [`ComposeError`].
pub fn compose(
    views: &[(Place, &View)],
    format: Format,
    at_most: Scale,
    style: &DimensionStyle,
    mut title_block: TitleBlock,
) -> Result<(Sheet, Vec<PlacedOnSheet>), ComposeError> {
    if views.is_empty() {
        return Err(ComposeError::NoViews);
    }
    for scale in Scale::reductions().filter(|scale| scale.factor() <= at_most.factor() + 1e-12) {
        let laid: Vec<(Place, PlacedView)> =
            views.iter().map(|(place, view)| (*place, view.lay_out(scale.factor(), style).titled(None))).collect();
        let Some(shifts) = arrange(&laid, format) else { continue };
        title_block.scale = scale.to_string();
        let mut sheet = Sheet::new(format, title_block);
        let mut placed = Vec::new();
        for (((_, laid), shift), (_, view)) in laid.iter().zip(shifts).zip(views) {
            let on_sheet = laid.shifted(shift);
            sheet.content.items.extend(on_sheet.display.items.iter().cloned());
            placed.push(PlacedOnSheet { id: view.id.clone(), placed: on_sheet });
        }
        return Ok((sheet, placed));
    }
    Err(ComposeError::TooLarge { format: format.name() })
}

/// Where each view goes, or nothing when they do not fit.
fn arrange(laid: &[(Place, PlacedView)], format: Format) -> Option<Vec<Vec2>> {
    let space = format.drawing_space().inflate(-MARGIN_MM, -MARGIN_MM);
    let block = block_rect(format).inflate(MARGIN_MM, MARGIN_MM);
    let shifts = in_line(laid);
    let tied: Vec<usize> = (0..laid.len()).filter(|index| laid[*index].0 != Place::Free).collect();
    let mut boxes: Vec<Option<Rect>> = vec![None; laid.len()];
    if !tied.is_empty() {
        let boxed = |index: usize| laid[index].1.bounds + shifts[index];
        let cluster = tied.iter().map(|index| boxed(*index)).reduce(|all, one| all.union(one))?;
        let slack = Vec2::new(space.width() - cluster.width(), space.height() - cluster.height());
        if slack.x < -1e-9 || slack.y < -1e-9 {
            return None;
        }
        // Corner first: a view that is free or the title block takes what remains at the right or below.
        let free = laid.len() > tied.len();
        let candidates = candidate_shares(free);
        let found = candidates.iter().find_map(|(share_x, share_y)| {
            let to = Vec2::new(space.x0 + slack.x * share_x - cluster.x0, space.y1 - slack.y * share_y - cluster.y1);
            let moved: Vec<Rect> = tied.iter().map(|index| boxed(*index) + to).collect();
            let clear = moved.iter().all(|rect| rect.intersect(block).is_zero_area());
            clear.then_some((to, moved))
        });
        let (to, moved) = found?;
        let mut all = shifts.clone();
        for (index, rect) in tied.iter().zip(moved) {
            boxes[*index] = Some(rect);
            all[*index] += to;
        }
        return place_free(laid, space, block, all, boxes);
    }
    place_free(laid, space, block, shifts, boxes)
}

/// Shares of the slack to try, from the middle outwards when nothing else is to be placed.
fn candidate_shares(corner_first: bool) -> Vec<(f64, f64)> {
    let order: &[f64] = if corner_first {
        &[0.0, 0.25, 0.5, 0.75, 1.0]
    } else {
        &[0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.0, 1.0]
    };
    let mut shares: Vec<(f64, f64)> = order.iter().flat_map(|y| order.iter().map(move |x| (*x, *y))).collect();
    if !corner_first {
        shares.sort_by(|a, b| off_centre(*a).total_cmp(&off_centre(*b)));
    }
    shares
}

fn off_centre((x, y): (f64, f64)) -> f64 {
    (x - 0.5).powi(2) + (y - 0.5).powi(2)
}

/// Shifts that put the tied views round the main one; the origin of the main view stays.
fn in_line(laid: &[(Place, PlacedView)]) -> Vec<Vec2> {
    let zero = Rect::ZERO;
    let main = laid.iter().find(|(place, _)| *place == Place::Front).map_or(zero, |(_, view)| view.bounds);
    let mut shifts = Vec::new();
    // How far views already reach on each side; a second one on a side stands beyond the first.
    let mut reach = main;
    for (place, view) in laid {
        let own = view.bounds;
        let shift = match place {
            Place::Front | Place::Free => Vec2::ZERO,
            Place::FromLeft => Vec2::new(reach.x1 + BETWEEN_MM - own.x0, 0.0),
            Place::FromRight => Vec2::new(reach.x0 - BETWEEN_MM - own.x1, 0.0),
            Place::FromAbove => Vec2::new(0.0, reach.y0 - BETWEEN_MM - own.y1),
            Place::FromBelow => Vec2::new(0.0, reach.y1 + BETWEEN_MM - own.y0),
        };
        match place {
            Place::FromLeft => reach.x1 = (own + shift).x1,
            Place::FromRight => reach.x0 = (own + shift).x0,
            Place::FromAbove => reach.y0 = (own + shift).y0,
            Place::FromBelow => reach.y1 = (own + shift).y1,
            Place::Front | Place::Free => {}
        }
        shifts.push(shift);
    }
    shifts
}

/// Places the free views where they meet nothing: centred in the largest room, tried on a grid.
fn place_free(
    laid: &[(Place, PlacedView)],
    space: Rect,
    block: Rect,
    mut shifts: Vec<Vec2>,
    mut boxes: Vec<Option<Rect>>,
) -> Option<Vec<Vec2>> {
    const GRID: u32 = 40;
    for (index, (place, view)) in laid.iter().enumerate() {
        if *place != Place::Free {
            continue;
        }
        let own = view.bounds;
        let slack = Vec2::new(space.width() - own.width(), space.height() - own.height());
        if slack.x < 0.0 || slack.y < 0.0 {
            return None;
        }
        let mut best: Option<(f64, Rect)> = None;
        for step_y in 0..=GRID {
            for step_x in 0..=GRID {
                let share = |step: u32| f64::from(step) / f64::from(GRID);
                let left = space.x0 + slack.x * share(step_x);
                let low = space.y0 + slack.y * share(step_y);
                let rect = Rect::new(left, low, left + own.width(), low + own.height());
                let apart = |other: Rect| gap_between(rect, other);
                let nearest = boxes.iter().flatten().map(|other| apart(*other)).fold(f64::INFINITY, f64::min);
                if nearest < BETWEEN_MM * 0.7 || apart(block) <= 0.0 {
                    continue;
                }
                // The emptiest spot: as far as possible from views, title block and frame.
                let edge = (rect.x0 - space.x0).min(space.x1 - rect.x1).min(rect.y0 - space.y0).min(space.y1 - rect.y1);
                let score = nearest.min(apart(block) + MARGIN_MM).min(edge + MARGIN_MM);
                if best.is_none_or(|(top, _)| score > top + 1e-9) {
                    best = Some((score, rect));
                }
            }
        }
        let (_, rect) = best?;
        if let (Some(shift), Some(slot)) = (shifts.get_mut(index), boxes.get_mut(index)) {
            *shift = Vec2::new(rect.x0 - own.x0, rect.y0 - own.y0);
            *slot = Some(rect);
        }
    }
    Some(shifts)
}

/// The gap between two boxes; not above zero when they overlap.
fn gap_between(a: Rect, b: Rect) -> f64 {
    let dx = (b.x0 - a.x1).max(a.x0 - b.x1);
    let dy = (b.y0 - a.y1).max(a.y0 - b.y1);
    if dx > 0.0 && dy > 0.0 { dx.hypot(dy) } else { dx.max(dy) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::display::Layer;
    use crate::line::LineClass;
    use crate::view::Axes;

    fn view(id: &str, axes: Axes, width: f64, height: f64) -> View {
        let mut view = View::new(id, id, axes);
        let rect = Rect::new(0.0, 0.0, width, height);
        view.geometry.rectangle(Layer::Outline, LineClass::VisibleOutline, None, rect);
        view
    }

    #[test]
    fn first_angle_places_from_left_at_the_right_and_from_above_below() {
        let (front, side, plan) = (
            view("front", Axes::FRONT, 1200.0, 900.0),
            view("side", Axes::FROM_LEFT, 580.0, 900.0),
            view("plan", Axes::FROM_ABOVE, 1200.0, 580.0),
        );
        let iso = view("iso", Axes::Isometric, 1400.0, 1500.0);
        let views = [(Place::Front, &front), (Place::FromLeft, &side), (Place::FromAbove, &plan), (Place::Free, &iso)];
        let style = DimensionStyle::default();
        let (sheet, placed) = compose(&views, Format::A3, Scale::FULL, &style, TitleBlock::default()).unwrap();
        let at = |id: &str| &placed.iter().find(|view| view.id == id).unwrap().placed;
        assert!(at("side").origin.x > at("front").origin.x && at("side").origin.y == at("front").origin.y);
        assert!(at("plan").origin.y < at("front").origin.y && at("plan").origin.x == at("front").origin.x);
        assert_eq!(sheet.title_block.scale, "1:10");
        let space = Format::A3.drawing_space();
        let block = block_rect(Format::A3);
        for (index, one) in placed.iter().enumerate() {
            assert!(space.contains_rect(one.placed.bounds), "{}", one.id);
            assert!(one.placed.bounds.intersect(block).is_zero_area(), "{}", one.id);
            for other in &placed[index + 1..] {
                assert!(one.placed.bounds.intersect(other.placed.bounds).is_zero_area(), "{} {}", one.id, other.id);
            }
        }
    }

    #[test]
    fn what_cannot_fit_is_an_error() {
        let huge = view("front", Axes::FRONT, 1e8, 1e8);
        let style = DimensionStyle::default();
        let result = compose(&[(Place::Front, &huge)], Format::A4, Scale::FULL, &style, TitleBlock::default());
        assert_eq!(result, Err(ComposeError::TooLarge { format: "A4" }));
        let none = compose(&[], Format::A4, Scale::FULL, &style, TitleBlock::default());
        assert_eq!(none, Err(ComposeError::NoViews));
    }
}
