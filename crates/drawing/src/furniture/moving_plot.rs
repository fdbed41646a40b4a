//! The moments of a tilting compartment or flap over its angle, as a plot.

use casewright_core::moving::tilt::{Balance, FRICTION_NMM, TiltOut};
use casewright_core::unit::DecimalMark;
use kurbo::{BezPath, Point, Rect};

use super::decimal::trimmed;
use super::moving_balance::fitted;
use crate::display::{Display, Layer};
use crate::font::{HEIGHT_DIMENSION_MM, HEIGHT_NOTE_MM};
use crate::line::LineClass;
use crate::text::{Anchor, Text};

/// Steps of a curve for each degree.
const STEPS_PER_DEG: f64 = 2.0;
/// The most lines of the grid along one axis.
const MOST_LINES: f64 = 8.0;

/// One curve of the plot.
struct Curve {
    class: LineClass,
    /// What it is, in the legend; none if it stands there already.
    words: Option<String>,
    /// Angle in degrees against moment in N m.
    points: Vec<(f64, f64)>,
}

/// The weight, empty and full or that of a flap, and what is fitted: the moment together with what pushes, or the two lines
/// between which it is held.
fn curves(it: &TiltOut) -> Vec<Curve> {
    let curve = |class, words: Option<&str>, moment: &dyn Fn(f64) -> f64| Curve {
        class,
        words: words.map(str::to_owned),
        points: points(it.opens_deg, moment),
    };
    let weight = |balance: Balance| move |angle: f64| balance.moment_nmm(angle);
    let mut all = Vec::new();
    if it.is_flap {
        all.push(curve(LineClass::VisibleOutline, Some("its weight"), &weight(it.full)));
    } else {
        all.push(curve(LineClass::VisibleOutline, Some("full"), &weight(it.full)));
        all.push(curve(LineClass::Hidden, Some("empty"), &weight(it.empty)));
    }
    match &it.holder {
        Some(holder) if holder.pushes() => {
            let words = if it.is_flap { "with the strut" } else { "full, with the strut" };
            all.push(curve(LineClass::Centre, Some(words), &|angle| it.net_nmm(&it.full, angle)));
        }
        Some(holder) => {
            let words = format!("between these the {} holds it", fitted(it));
            let held = |angle: f64| FRICTION_NMM + holder.moment_nmm(&it.stay, angle);
            all.push(curve(LineClass::Centre, Some(&words), &held));
            all.push(curve(LineClass::Centre, None, &|angle| -held(angle)));
        }
        None => {}
    }
    all
}

/// A plot `width` by `height` paper millimetres, its upper left corner at the origin; `say` puts its texts into the
/// language of the reader.
#[must_use]
pub fn tilt_plot(it: &TiltOut, width: f64, height: f64, say: &dyn Fn(&str) -> String) -> Display {
    let mut display = Display::new();
    let curves = curves(it);
    let values = || {
        let all = curves.iter().flat_map(|it| &it.points).map(|point| point.1);
        all.chain([0.0, FRICTION_NMM / 1000.0])
    };
    let (low, high) = (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
    let step = round_step((high - low) / MOST_LINES);
    let (low, high) = ((low / step).floor() * step, (high / step).ceil() * step);
    let below = if it.holder.is_some() { 21.0 } else { 16.0 };
    let area = Rect::new(16.0, -(height - below), width - 4.0, -10.0);
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
            say(&format!("{}: moments about the hinge, N m", it.id)),
        ),
    );
    let lines = ((high - low) / step).round() as u32;
    for i in 0..=lines {
        let value = low + step * f64::from(i);
        let class = if value.abs() < step / 10.0 { LineClass::FrameNarrow } else { LineClass::Dimension };
        line(&mut display, class, Point::new(area.x0, y(value)), Point::new(area.x1, y(value)));
        let text = say(&trimmed(value, 2, DecimalMark::Point));
        note(&mut display, Point::new(area.x0 - 2.0, y(value) - HEIGHT_NOTE_MM / 2.0), Anchor::End, text);
    }
    let across = round_step(it.opens_deg / MOST_LINES).max(5.0);
    let mut deg = 0.0;
    while deg <= it.opens_deg + 1e-9 {
        line(&mut display, LineClass::Dimension, Point::new(x(deg), area.y0), Point::new(x(deg), area.y1));
        note(
            &mut display,
            Point::new(x(deg), area.y0 - 5.0),
            Anchor::Middle,
            say(&format!("{}°", trimmed(deg, 2, DecimalMark::Point))),
        );
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
    for it in &curves {
        draw(&it.points, it.class);
    }
    // The legend stands under the plot: lines cross wherever a label would stand in it.
    let foot = area.y0 - 11.0;
    let places = [(area.x0, foot), (area.x0 + 30.0, foot), (area.x0, foot - 5.0)];
    let places = if it.is_flap { [places[0], places[2], places[1]] } else { places };
    for ((at, foot), (class, words)) in
        places.into_iter().zip(curves.iter().filter_map(|it| Some((it.class, it.words.as_ref()?))))
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
fn points(opens_deg: f64, moment_nmm: &dyn Fn(f64) -> f64) -> Vec<(f64, f64)> {
    let steps = (opens_deg * STEPS_PER_DEG).ceil().max(1.0) as u32;
    (0..=steps)
        .map(|i| opens_deg * f64::from(i) / f64::from(steps))
        .map(|deg| (deg, moment_nmm(deg.to_radians()) / 1000.0))
        .collect()
}

/// The next of 1, 2, 5, 10, 20... above a value.
fn round_step(value: f64) -> f64 {
    let value = value.max(0.01);
    let ten = 10_f64.powf(value.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|it| it * ten).find(|it| *it >= value - 1e-12).unwrap_or(ten * 10.0)
}
