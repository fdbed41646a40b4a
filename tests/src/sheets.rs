//! What a drawing says, read from its display lists: each printed size with the dimension line that it belongs to.

use casewright_core::assembly;
use casewright_core::design::{Design, Resolved};
use casewright_core::pipeline::{Derived, derive};
use casewright_core::solve::solve;
use casewright_drawing::display::segments;
use casewright_drawing::furniture::{Pack, PackOptions, Scene, pack};
use casewright_drawing::kurbo::Point;
use casewright_drawing::{Axes, Item, Layer, LineClass, Mark, PlacedOnSheet, Text};

use crate::program::root;

/// The demos with what is derived from them.
#[must_use]
pub fn demos() -> Vec<(&'static str, Derived)> {
    ["laundry-alcove", "container-trolley", "alcove-bookcase"]
        .into_iter()
        .filter_map(|name| {
            let text = std::fs::read_to_string(root().join("demo").join(format!("{name}.ron"))).ok()?;
            Some((name, derive(&Design::from_ron(&text).ok()?).ok()?))
        })
        .collect()
}

/// What is derived from a resolved design, without its checks; nothing if it contradicts itself.
#[must_use]
pub fn built(design: Resolved) -> Option<Derived> {
    let layout = solve(&design).ok()?.layout;
    let assembly = assembly::build(&design, &layout).ok()?;
    Some(Derived { design, layout, assembly, findings: Vec::new() })
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

/// All sizes printed on a view, each with the dimension line that it stands at.
#[must_use]
pub fn printed_sizes(view: &PlacedOnSheet) -> Vec<PrintedSize> {
    let items = &view.placed.display.items;
    let lines: Vec<(Point, Point, &Item)> = items
        .iter()
        .filter(|item| item.layer == Layer::Dimensions)
        .filter_map(|item| match &item.mark {
            Mark::Stroke { path, class: LineClass::Dimension } => segments(path).first().map(|(a, b)| (*a, *b, item)),
            _ => None,
        })
        .collect();
    let texts = items.iter().filter(|item| item.layer == Layer::Dimensions).filter_map(|item| match &item.mark {
        Mark::Text(text) => Some((text, item)),
        _ => None,
    });
    texts
        .map(|(text, owner)| {
            let printed_mm = value_mm(&text.content).unwrap_or(f64::NAN);
            let measured = dimension_line(view, text, owner, printed_mm, &lines);
            PrintedSize { text: text.content.clone(), printed_mm, measured }
        })
        .collect()
}

/// The nearest line with the same owner that is bounded by two extension lines and as long as is printed.
fn dimension_line(
    view: &PlacedOnSheet,
    text: &Text,
    owner: &Item,
    printed_mm: f64,
    lines: &[(Point, Point, &Item)],
) -> Option<(char, f64, f64)> {
    let Axes::Straight(right, up) = view.placed.axes else { return None };
    let middle = text.bounds().center();
    let mut best: Option<(f64, (char, f64, f64))> = None;
    for (from, to, item) in lines {
        if item.tag != owner.tag {
            continue;
        }
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
        if !is_bounded || ((high - low).abs() - printed_mm).abs() > 1e-6 {
            continue;
        }
        let sign = if direction.negative { -1.0 } else { 1.0 };
        let ends = (low * sign, high * sign);
        let letter = casewright_drawing::view::axis_letter(direction.axis);
        let distance = casewright_drawing::display::distance_to_segment(middle, *from, *to);
        if best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, (letter, ends.0.min(ends.1), ends.0.max(ends.1))));
        }
    }
    best.map(|(_, measured)| measured)
}

fn spans(a: f64, b: f64, value: f64) -> bool {
    a.min(b) - 1e-6 <= value && value <= a.max(b) + 1e-6
}
