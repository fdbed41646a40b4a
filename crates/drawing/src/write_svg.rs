//! Sheets as SVG, in millimetres.

use std::fmt::Write as _;

use kurbo::{BezPath, PathEl};

use crate::display::{Display, Layer, Mark, Tone};
use crate::font;
use crate::line::{LineClass, LineGroup};
use crate::sheet::Sheet;
use crate::text::{Anchor, Text};

/// A sheet as an SVG document. One user unit is one millimetre. Text stays text; its length is given, so that another
/// font than the drawing's cannot make it run into its neighbours.
#[must_use]
pub fn svg_sheet(sheet: &Sheet) -> String {
    let (width, height) = sheet.format.size_mm();
    let title = format!("{} – {}", sheet.title_block.title, sheet.bookmark());
    svg_display(&sheet.display(), width, height, sheet.format.line_group(), &title)
}

/// A display list as an SVG document of this size.
#[must_use]
pub fn svg_display(display: &Display, width_mm: f64, height_mm: f64, group: LineGroup, title: &str) -> String {
    let mut out = String::new();
    let (w, h) = (number(width_mm), number(height_mm));
    // Writing to a string cannot fail, so the results are dropped.
    let _ = writeln!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}" fill="none" stroke-linecap="butt" stroke-linejoin="miter">"#
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(title));
    let _ = writeln!(out, r#"<rect width="{w}" height="{h}" fill="white"/>"#);
    let mut open = None;
    for item in display.painted().into_iter().filter(|item| item.layer != Layer::Areas) {
        if open != Some(item.layer) {
            if open.is_some() {
                out.push_str("</g>\n");
            }
            let id = item.layer.name().to_lowercase().replace(' ', "-");
            let _ = writeln!(out, r#"<g id="{id}">"#);
            open = Some(item.layer);
        }
        match &item.mark {
            Mark::Stroke { path, class } => stroke(&mut out, path, *class, group, height_mm),
            Mark::Fill { path, tone } => {
                let data = path_data(path, height_mm);
                let _ = writeln!(out, r#"<path d="{data}" fill="{}" fill-rule="evenodd"/>"#, tone_colour(*tone));
            }
            Mark::Text(text) => write_text(&mut out, text, height_mm),
            Mark::Arrow(arrow) => {
                let _ = writeln!(out, r#"<path d="{}" fill="black"/>"#, path_data(&arrow.path(), height_mm));
            }
        }
    }
    if open.is_some() {
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn tone_colour(tone: Tone) -> &'static str {
    match tone {
        Tone::Ink => "black",
        Tone::Tint => "#e6e6e6",
        Tone::Clear => "none",
    }
}

fn stroke(out: &mut String, path: &BezPath, class: LineClass, group: LineGroup, height_mm: f64) {
    let width = group.width_mm(class);
    let dashes: Vec<String> = class.dashes_mm(width).into_iter().map(number).collect();
    let _ = write!(out, r#"<path d="{}" stroke="black" stroke-width="{}""#, path_data(path, height_mm), number(width));
    if !dashes.is_empty() {
        let _ = write!(out, r#" stroke-dasharray="{}""#, dashes.join(" "));
    }
    out.push_str("/>\n");
}

fn write_text(out: &mut String, text: &Text, height_mm: f64) {
    let (x, y) = (text.at.x, height_mm - text.at.y);
    let anchor = match text.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let _ = write!(
        out,
        r#"<text x="{}" y="{}" font-family="'{}', 'DejaVu Sans', sans-serif" font-size="{}" text-anchor="{anchor}" textLength="{}" lengthAdjust="spacingAndGlyphs" fill="black""#,
        number(x),
        number(y),
        font::FONT_FAMILY,
        number(font::em_mm(text.height_mm)),
        number(text.width_mm()),
    );
    if text.rotation_rad != 0.0 {
        let degrees = number(-text.rotation_rad.to_degrees());
        let _ = write!(out, r#" transform="rotate({degrees} {} {})""#, number(x), number(y));
    }
    let _ = writeln!(out, ">{}</text>", escaped(&text.content));
}

fn path_data(path: &BezPath, height_mm: f64) -> String {
    let mut data = String::new();
    let point = |p: kurbo::Point| format!("{} {}", number(p.x), number(height_mm - p.y));
    for element in path.elements() {
        let piece = match element {
            PathEl::MoveTo(p) => format!("M{}", point(*p)),
            PathEl::LineTo(p) => format!("L{}", point(*p)),
            PathEl::QuadTo(a, p) => format!("Q{} {}", point(*a), point(*p)),
            PathEl::CurveTo(a, b, p) => format!("C{} {} {}", point(*a), point(*b), point(*p)),
            PathEl::ClosePath => "Z".to_owned(),
        };
        data.push_str(&piece);
    }
    data
}

/// A number with at most four decimals, without trailing zeros.
fn number(value: f64) -> String {
    let mut text = format!("{value:.4}");
    text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    if text == "-0" { "0".to_owned() } else { text }
}

fn escaped(text: &str) -> String {
    // Characters that XML 1.0 does not allow at all are shown as the replacement character.
    text.chars()
        .map(|character| match character {
            '&' => "&amp;".to_owned(),
            '<' => "&lt;".to_owned(),
            '>' => "&gt;".to_owned(),
            '"' => "&quot;".to_owned(),
            '\t' | '\n' | '\r' => " ".to_owned(),
            c if (c as u32) < 0x20 || (c as u32) & 0xFFFE == 0xFFFE => "\u{FFFD}".to_owned(),
            c => c.to_string(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    #[test]
    fn a_display_becomes_millimetres_with_y_downwards() {
        let mut display = Display::new();
        let (from, to) = (Point::new(10.0, 20.0), Point::new(30.5, 20.0));
        display.segment(Layer::Hidden, LineClass::Hidden, None, from, to);
        let text = Text::new(from, 3.5, "a<b & ⌀8").rotated(std::f64::consts::FRAC_PI_2);
        display.text(Layer::Notes, None, text);
        let svg = svg_display(&display, 210.0, 297.0, LineGroup::HALF, "T");
        assert!(svg.contains(r#"width="210mm" height="297mm" viewBox="0 0 210 297""#), "{svg}");
        assert!(svg.contains(r#"d="M10 277L30.5 277" stroke="black" stroke-width="0.25" stroke-dasharray="3 0.75""#));
        assert!(svg.contains("a&lt;b &amp; ⌀8</text>") && svg.contains(r#"rotate(-90 10 277)"#), "{svg}");
    }

    #[test]
    fn numbers_are_short() {
        for (value, expected) in [(0.0, "0"), (-0.00001, "0"), (1.5, "1.5"), (100.0, "100"), (0.123_456, "0.1235")] {
            assert_eq!(number(value), expected);
        }
    }
}
