//! The moments of a tilting compartment over its angle, as a plot.

use casewright_core::moving::tilt::{Balance, TiltOut};
use kurbo::{BezPath, Point, Rect};

use super::moving::FRICTION_NMM;
use crate::display::{Display, Layer};
use crate::font::{HEIGHT_DIMENSION_MM, HEIGHT_NOTE_MM};
use crate::line::LineClass;
use crate::text::{Anchor, Text};

/// Steps of a curve for each degree.
const STEPS_PER_DEG: f64 = 2.0;
/// The most lines of the grid along one axis.
const MOST_LINES: f64 = 8.0;

/// A plot `width` by `height` paper millimetres, its upper left corner at the origin; `say` puts its texts into the
/// language of the reader.
#[must_use]
pub fn tilt_plot(it: &TiltOut, width: f64, height: f64, say: &dyn Fn(&str) -> String) -> Display {
    let mut display = Display::new();
    let (empty, full) = (curve(&it.empty, it.opens_deg), curve(&it.full, it.opens_deg));
    let values = || empty.iter().chain(&full).map(|point| point.1).chain([0.0, FRICTION_NMM / 1000.0]);
    let (low, high) = (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
    let step = round_step((high - low) / MOST_LINES);
    let (low, high) = ((low / step).floor() * step, (high / step).ceil() * step);
    let area = Rect::new(16.0, -(height - 16.0), width - 4.0, -10.0);
    let x = |deg: f64| area.x0 + area.width() * deg / it.opens_deg;
    let y = |value: f64| area.y0 + area.height() * (value - low) / (high - low);
    let note = |display: &mut Display, at: Point, anchor: Anchor, text: String| {
        display.text(Layer::Notes, None, Text::new(at, HEIGHT_NOTE_MM, text).anchored(anchor));
    };
    let line = |display: &mut Display, class: LineClass, a: Point, b: Point| {
        display.segment(Layer::Tables, class, None, a, b);
    };
    display.text(
        Layer::Notes,
        None,
        Text::new(
            Point::new(0.0, -HEIGHT_DIMENSION_MM),
            HEIGHT_DIMENSION_MM,
            say(&format!("{}: moment of its weight about the hinge, N m", it.id)),
        ),
    );
    let lines = ((high - low) / step).round() as u32;
    for i in 0..=lines {
        let value = low + step * f64::from(i);
        let class = if value.abs() < step / 10.0 { LineClass::FrameNarrow } else { LineClass::Dimension };
        line(&mut display, class, Point::new(area.x0, y(value)), Point::new(area.x1, y(value)));
        let text = trimmed(value);
        note(&mut display, Point::new(area.x0 - 2.0, y(value) - HEIGHT_NOTE_MM / 2.0), Anchor::End, text);
    }
    let across = round_step(it.opens_deg / MOST_LINES).max(5.0);
    let mut deg = 0.0;
    while deg <= it.opens_deg + 1e-9 {
        line(&mut display, LineClass::Dimension, Point::new(x(deg), area.y0), Point::new(x(deg), area.y1));
        note(&mut display, Point::new(x(deg), area.y0 - 5.0), Anchor::Middle, format!("{}°", trimmed(deg)));
        deg += across;
    }
    let mut draw = |points: &[(f64, f64)], class: LineClass| {
        let mut path = BezPath::new();
        for (index, &(deg, value)) in points.iter().enumerate() {
            let point = Point::new(x(deg), y(value));
            if index == 0 {
                path.move_to(point);
            } else {
                path.line_to(point);
            }
        }
        display.stroke(Layer::Outline, class, None, path);
    };
    draw(&full, LineClass::VisibleOutline);
    draw(&empty, LineClass::Hidden);
    // The legend stands under the plot: lines cross wherever a label would stand in it.
    let foot = area.y0 - 11.0;
    for (at, class, words) in
        [(area.x0, LineClass::VisibleOutline, "full"), (area.x0 + 30.0, LineClass::Hidden, "empty")]
    {
        line(&mut display, class, Point::new(at, foot + 1.2), Point::new(at + 12.0, foot + 1.2));
        note(&mut display, Point::new(at + 14.0, foot), Anchor::Start, say(words));
    }
    note(
        &mut display,
        Point::new(area.x1, foot),
        Anchor::End,
        say("above zero it falls open, below zero it falls shut"),
    );
    display
}

/// Angle in degrees against moment in N m.
fn curve(balance: &Balance, opens_deg: f64) -> Vec<(f64, f64)> {
    let steps = (opens_deg * STEPS_PER_DEG).ceil().max(1.0) as u32;
    (0..=steps)
        .map(|i| opens_deg * f64::from(i) / f64::from(steps))
        .map(|deg| (deg, balance.moment_nmm(deg.to_radians()) / 1000.0))
        .collect()
}

/// The next of 1, 2, 5, 10, 20... above a value.
fn round_step(value: f64) -> f64 {
    let value = value.max(0.01);
    let ten = 10_f64.powf(value.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|it| it * ten).find(|it| *it >= value - 1e-12).unwrap_or(ten * 10.0)
}

fn trimmed(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.').replace('.', ",");
    if text == "-0" { "0".to_owned() } else { text }
}
