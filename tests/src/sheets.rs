//! What a drawing says, read from its display lists: each printed size with the dimension line that it belongs to.

use std::sync::OnceLock;

use casewright_core::assembly;
use casewright_core::design::{Design, Resolved};
use casewright_core::pipeline::{Derived, derive};
use casewright_core::routes::routes;
use casewright_core::slides::settle;
use casewright_core::solve::solve;
use casewright_drawing::display::{distance_to_segment, segments};
use casewright_drawing::furniture::{Pack, PackOptions, Scene, pack};
use casewright_drawing::kurbo::Point;
use casewright_drawing::view::axis_letter;
use casewright_drawing::{Axes, Item, Layer, LineClass, Mark, PlacedOnSheet, Text};

use crate::program::root;

/// The demos from new boards with what is derived from them.
///
/// # Panics
/// Where one cannot be read or built.
#[must_use]
pub fn demos() -> Vec<(&'static str, Derived)> {
    ["laundry-alcove", "container-trolley", "alcove-bookcase"]
        .into_iter()
        .map(|name| {
            let text = std::fs::read_to_string(root().join("demo").join(format!("{name}.ron")));
            let text = text.unwrap_or_else(|error| panic!("{name}: {error}"));
            let design = Design::from_ron(&text).unwrap_or_else(|faults| panic!("{name}: {faults:?}"));
            (name, derive(&design).unwrap_or_else(|error| panic!("{name}: {error}")))
        })
        .collect()
}

/// What is derived from a resolved design, without its checks; nothing if it contradicts itself.
#[must_use]
pub fn built(design: &Resolved) -> Option<Derived> {
    let design = settle(design).design;
    let layout = solve(&design).ok()?.layout;
    let assembly = assembly::build(&design, &layout).ok()?;
    let jigs = casewright_core::jigs::plan(&assembly);
    let leads = routes(&design, &layout, &assembly);
    Some(Derived { design, layout, assembly, leads, order: OnceLock::new(), jigs, findings: Vec::new() })
}

/// The pack of a derived design with the usual options.
#[must_use]
pub fn packed(derived: &Derived) -> Option<Pack> {
    pack(&Scene::from(derived), &PackOptions::default()).ok()
}

/// One printed size.
#[derive(Clone, Debug)]
pub struct PrintedSize {
    /// As printed.
    pub text: String,
    /// The printed value in millimetres.
    pub printed_mm: f64,
    /// The axis along which it is measured, and both ends, in model millimetres, from the smaller to the larger.
    pub measured: Option<(char, f64, f64)>,
}

/// The printed value in millimetres: decimals with a comma, inches with fractions, or the exact millimetres in brackets
/// after an approximation in inches.
#[must_use]
pub fn value_mm(text: &str) -> Option<f64> {
    if let Some((_, exact)) = text.split_once('(') {
        return value_mm(exact.strip_suffix(" mm)")?);
    }
    let Some(inches) = text.strip_suffix('"') else {
        return text.replace(',', ".").parse().ok();
    };
    let mut sum = 0.0;
    for word in inches.split_whitespace() {
        sum += match word.split_once('/') {
            Some((above, below)) => above.parse::<f64>().ok()? / below.parse::<f64>().ok()?,
            None => word.parse::<f64>().ok()?,
        };
    }
    Some(sum * 25.4)
}

/// How near a printed size is to what it measures: exact, but for the way through the page and back; to half the last of two
/// decimals where it says that it is near.
fn exact_to_mm(text: &str) -> f64 {
    if text.starts_with('~') { 0.005 + 1e-6 } else { 1e-6 }
}

/// A straight line of a drawing, and the item that it belongs to.
type Line<'a> = (Point, Point, &'a Item);

/// All sizes printed on a view, each with the dimension line that it stands at: a line of the same owner, bounded by two
/// extension lines, and as long as is printed. No line serves two values; of several, the nearest.
#[must_use]
pub fn printed_sizes(view: &PlacedOnSheet) -> Vec<PrintedSize> {
    let items = || view.placed.display.items.iter().filter(|item| item.layer == Layer::Dimensions);
    let lines: Vec<Line<'_>> = items()
        .filter_map(|item| match &item.mark {
            Mark::Stroke { path, class: LineClass::Dimension } => segments(path).first().map(|(a, b)| (*a, *b, item)),
            _ => None,
        })
        .collect();
    let bounded: Vec<(Line<'_>, (char, f64, f64))> =
        lines.iter().filter_map(|line| Some((*line, measured(view, line, &lines)?))).collect();
    let texts: Vec<(&Text, &Item)> = items()
        .filter_map(|item| match &item.mark {
            Mark::Text(text) => Some((text, item)),
            _ => None,
        })
        .collect();
    let mut sizes: Vec<PrintedSize> = texts
        .iter()
        .map(|(text, _)| PrintedSize {
            text: text.content.clone(),
            printed_mm: value_mm(&text.content).unwrap_or(f64::NAN),
            measured: None,
        })
        .collect();
    let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
    for (text_index, ((text, owner), size)) in texts.iter().zip(&sizes).enumerate() {
        for (line_index, ((from, to, item), (_, low, high))) in bounded.iter().enumerate() {
            if item.tag == owner.tag && ((high - low) - size.printed_mm).abs() < exact_to_mm(&size.text) {
                let distance = distance_to_segment(text.bounds().center(), *from, *to);
                pairs.push((distance, text_index, line_index));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut used = std::collections::BTreeSet::new();
    for (_, text, line) in pairs {
        if let (Some(size), Some((_, ends))) = (sizes.get_mut(text), bounded.get(line))
            && size.measured.is_none()
            && used.insert(line)
        {
            size.measured = Some(*ends);
        }
    }
    sizes
}

/// What a line measures, if it ends at two extension lines: the axis and both ends in model millimetres.
fn measured(view: &PlacedOnSheet, (from, to, _): &Line<'_>, lines: &[Line<'_>]) -> Option<(char, f64, f64)> {
    let Axes::Straight(right, up) = view.placed.axes else { return None };
    let is_level = (from.y - to.y).abs() < 1e-9;
    let is_bounded = [from, to].into_iter().all(|end| {
        lines.iter().any(|(a, b, other)| {
            other.tag.is_none()
                && if is_level {
                    (a.x - end.x).abs() < 1e-6 && (b.x - end.x).abs() < 1e-6 && spans(a.y, b.y, end.y)
                } else {
                    (a.y - end.y).abs() < 1e-6 && (b.y - end.y).abs() < 1e-6 && spans(a.x, b.x, end.x)
                }
        })
    });
    let (a, b) = (view.placed.model_from_page(*from), view.placed.model_from_page(*to));
    let (direction, low, high) = if is_level { (right, a.x, b.x) } else { (up, a.y, b.y) };
    let sign = if direction.negative { -1.0 } else { 1.0 };
    let ends = (low * sign, high * sign);
    is_bounded.then_some((axis_letter(direction.axis), ends.0.min(ends.1), ends.0.max(ends.1)))
}

fn spans(a: f64, b: f64, value: f64) -> bool {
    a.min(b) - 1e-6 <= value && value <= a.max(b) + 1e-6
}
