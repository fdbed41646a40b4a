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
    /// Whoever watches the work had it stopped.
    #[error("the drawing of the sheets was stopped")]
    Stopped,
}

/// Clear space between two views, in millimetres.
const BETWEEN_MM: f64 = 14.0;
/// Clear space between a view and the frame or the title block, in millimetres.
const MARGIN_MM: f64 = 6.0;

/// The largest scale of ISO 5455, up to `at_most`, at which the views fit on one sheet.
#[must_use]
pub fn largest_scale(
    views: &[(Place, &View)],
    format: Format,
    at_most: Scale,
    style: &DimensionStyle,
) -> Option<Scale> {
    largest_scale_by(views, format, at_most, &mut |view, scale| titled_bounds(view, scale, scale, style))
}

/// The same with a given way to find the bounds of a titled view at a scale.
pub(crate) fn largest_scale_by(
    views: &[(Place, &View)],
    format: Format,
    at_most: Scale,
    bounds: &mut dyn FnMut(&View, Scale) -> Rect,
) -> Option<Scale> {
    let space = format.drawing_space();
    Scale::reductions().filter(|scale| scale.factor() <= at_most.factor() + 1e-12).find(|scale| {
        let factor = scale.factor();
        // Far too large: no need to lay anything out.
        let fits_bare = views.iter().all(|(_, view)| {
            let outline = view.outline();
            outline.width() * factor <= space.width() && outline.height() * factor <= space.height()
        });
        fits_bare && {
            let all: Vec<(Place, Rect)> = views.iter().map(|(place, view)| (*place, bounds(view, *scale))).collect();
            bounds_fit(&all, format)
        }
    })
}

/// The box of a view with its title, on a sheet whose main scale is `main`.
pub(crate) fn titled_bounds(view: &View, scale: Scale, main: Scale, style: &DimensionStyle) -> Rect {
    view.lay_out_bounds(scale.factor(), style).titled(scale_note(scale, main).as_deref()).bounds
}

/// Whether views with these boxes fit on one sheet.
pub(crate) fn bounds_fit(bounds: &[(Place, Rect)], format: Format) -> bool {
    arrange(bounds, format).is_some()
}

/// What is printed under the title of a view that is not at the scale of the sheet.
fn scale_note(scale: Scale, main: Scale) -> Option<String> {
    (scale != main).then(|| format!("scale {scale}"))
}

/// The views on one sheet at the largest scale of ISO 5455 at which they fit, up to `at_most`.
///
/// # Errors
/// See [`ComposeError`].
pub fn compose(
    views: &[(Place, &View)],
    format: Format,
    at_most: Scale,
    style: &DimensionStyle,
    title_block: TitleBlock,
) -> Result<(Sheet, Vec<PlacedOnSheet>), ComposeError> {
    if views.is_empty() {
        return Err(ComposeError::NoViews);
    }
    let too_large = ComposeError::TooLarge { format: format.name() };
    let scale = largest_scale(views, format, at_most, style).ok_or(too_large)?;
    compose_laid(lay_all(views, scale, style), format, title_block)
}

/// Views laid out at one scale.
pub(crate) fn lay_all(views: &[(Place, &View)], scale: Scale, style: &DimensionStyle) -> Vec<LaidView> {
    let laid = |(place, view): &(Place, &View)| LaidView {
        place: *place,
        id: view.id.clone(),
        scale,
        placed: view.lay_out(scale.factor(), style),
    };
    views.iter().map(laid).collect()
}

/// A view that is laid out already, but not yet titled or put on a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidView {
    /// Where it stands.
    pub place: Place,
    /// The id of the view.
    pub id: String,
    /// The scale that it is laid out at.
    pub scale: Scale,
    /// The view, with the origin of the model at the origin of the paper.
    pub placed: PlacedView,
}

/// The views on one sheet. The scale of the first goes into the title block, any other under the title of its view. The
/// views that stand in line keep their common coordinates in line.
///
/// # Errors
/// See [`ComposeError`].
pub fn compose_laid(
    views: Vec<LaidView>,
    format: Format,
    mut title_block: TitleBlock,
) -> Result<(Sheet, Vec<PlacedOnSheet>), ComposeError> {
    let main = views.first().ok_or(ComposeError::NoViews)?.scale;
    let titled: Vec<(Place, String, PlacedView)> = views
        .into_iter()
        .map(|one| (one.place, one.id, one.placed.titled(scale_note(one.scale, main).as_deref())))
        .collect();
    let bounds: Vec<(Place, Rect)> = titled.iter().map(|(place, _, placed)| (*place, placed.bounds)).collect();
    let shifts = arrange(&bounds, format).ok_or(ComposeError::TooLarge { format: format.name() })?;
    title_block.scale = main.to_string();
    let mut sheet = Sheet::new(format, title_block);
    let mut all = Vec::new();
    for ((_, id, placed), shift) in titled.into_iter().zip(shifts) {
        let placed = placed.shifted(shift);
        sheet.content.items.extend(placed.display.items.iter().cloned());
        all.push(PlacedOnSheet { id, placed });
    }
    Ok((sheet, all))
}

/// Where each view goes, or nothing when they do not fit: of all arrangements tried, the one with the most air.
fn arrange(bounds: &[(Place, Rect)], format: Format) -> Option<Vec<Vec2>> {
    let space = format.drawing_space().inflate(-MARGIN_MM, -MARGIN_MM);
    let block = block_rect(format).inflate(MARGIN_MM, MARGIN_MM);
    let shifts = in_line(bounds);
    let tied = || bounds.iter().zip(&shifts).filter(|((place, _), _)| *place != Place::Free);
    let Some(cluster) = tied().map(|((_, own), shift)| *own + *shift).reduce(|all, one| all.union(one)) else {
        return place_free(bounds, space, block, &shifts, Vec2::ZERO).map(|(_, shifts)| shifts);
    };
    let slack = Vec2::new(space.width() - cluster.width(), space.height() - cluster.height());
    if slack.x < -1e-9 || slack.y < -1e-9 {
        return None;
    }
    let mut best: Option<(f64, Vec<Vec2>)> = None;
    for (share_x, share_y) in candidate_shares() {
        let to = Vec2::new(space.x0 + slack.x * share_x - cluster.x0, space.y1 - slack.y * share_y - cluster.y1);
        let mut air = f64::INFINITY;
        for ((_, own), shift) in tied() {
            let rect = *own + *shift + to;
            air = air.min(gap_between(rect, block) + MARGIN_MM).min(edge_gap(rect, space) + MARGIN_MM);
        }
        // The block is already inflated by the margin: touching it is allowed, overlapping is not.
        if air < MARGIN_MM - 1e-9 {
            continue;
        }
        // The free views can only take air away.
        if best.as_ref().is_some_and(|(top, _)| air <= top + 1e-9) {
            continue;
        }
        let Some((free_air, all)) = place_free(bounds, space, block, &shifts, to) else { continue };
        let score = air.min(free_air);
        if best.as_ref().is_none_or(|(top, _)| score > top + 1e-9) {
            best = Some((score, all));
        }
    }
    best.map(|(_, shifts)| shifts)
}

/// How far a box stays inside the space.
fn edge_gap(rect: Rect, space: Rect) -> f64 {
    (rect.x0 - space.x0).min(space.x1 - rect.x1).min(rect.y0 - space.y0).min(space.y1 - rect.y1)
}

/// Shares of the slack to try, from the middle outwards.
fn candidate_shares() -> Vec<(f64, f64)> {
    const SHARES: [f64; 9] = [0.0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1.0];
    let mut shares: Vec<(f64, f64)> = SHARES.iter().flat_map(|y| SHARES.iter().map(move |x| (*x, *y))).collect();
    shares.sort_by(|a, b| off_centre(*a).total_cmp(&off_centre(*b)));
    shares
}

fn off_centre((x, y): (f64, f64)) -> f64 {
    (x - 0.5).powi(2) + (y - 0.5).powi(2)
}

/// Shifts that put the tied views round the main one; the origin of the main view stays.
fn in_line(bounds: &[(Place, Rect)]) -> Vec<Vec2> {
    let zero = Rect::ZERO;
    let main = bounds.iter().find(|(place, _)| *place == Place::Front).map_or(zero, |(_, own)| *own);
    let mut shifts = Vec::new();
    // How far views already reach on each side; a second one on a side stands beyond the first.
    let mut reach = main;
    for (place, own) in bounds {
        let shift = match place {
            Place::Front | Place::Free => Vec2::ZERO,
            Place::FromLeft => Vec2::new(reach.x1 + BETWEEN_MM - own.x0, 0.0),
            Place::FromRight => Vec2::new(reach.x0 - BETWEEN_MM - own.x1, 0.0),
            Place::FromAbove => Vec2::new(0.0, reach.y0 - BETWEEN_MM - own.y1),
            Place::FromBelow => Vec2::new(0.0, reach.y1 + BETWEEN_MM - own.y0),
        };
        match place {
            Place::FromLeft => reach.x1 = (*own + shift).x1,
            Place::FromRight => reach.x0 = (*own + shift).x0,
            Place::FromAbove => reach.y0 = (*own + shift).y0,
            Place::FromBelow => reach.y1 = (*own + shift).y1,
            Place::Front | Place::Free => {}
        }
        shifts.push(shift);
    }
    shifts
}

/// Shifts the tied views by `to` and puts each free view where it has the most air; with the least air of any of them.
fn place_free(
    bounds: &[(Place, Rect)],
    space: Rect,
    block: Rect,
    shifts: &[Vec2],
    to: Vec2,
) -> Option<(f64, Vec<Vec2>)> {
    const GRID: u32 = 24;
    let mut taken: Vec<Rect> = Vec::new();
    let mut all: Vec<Vec2> = Vec::new();
    for ((place, own), shift) in bounds.iter().zip(shifts) {
        let shift = if *place == Place::Free { Vec2::ZERO } else { *shift + to };
        if *place != Place::Free {
            taken.push(*own + shift);
        }
        all.push(shift);
    }
    let mut least = f64::INFINITY;
    for (index, (_, own)) in bounds.iter().enumerate().filter(|(_, (place, _))| *place == Place::Free) {
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
                let nearest = taken.iter().map(|other| gap_between(rect, *other)).fold(f64::INFINITY, f64::min);
                let to_block = gap_between(rect, block);
                if nearest < BETWEEN_MM * 0.7 || to_block < 0.0 {
                    continue;
                }
                let score = nearest.min(to_block + MARGIN_MM).min(edge_gap(rect, space) + MARGIN_MM);
                if best.is_none_or(|(top, _)| score > top + 1e-9) {
                    best = Some((score, rect));
                }
            }
        }
        let (score, rect) = best?;
        least = least.min(score);
        taken.push(rect);
        if let Some(shift) = all.get_mut(index) {
            *shift = Vec2::new(rect.x0 - own.x0, rect.y0 - own.y0);
        }
    }
    Some((least, all))
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
