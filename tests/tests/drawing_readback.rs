//! The PDF read back by poppler, which had no part in writing it: sizes as text, and the drawn outline measured.

use std::path::Path;
use std::process::Command;

use casewright_core::geometry::{Axis, Cuboid};
use casewright_core::pipeline::Derived;
use casewright_core::unit::DecimalMark;
use casewright_drawing::furniture::Pack;
use casewright_drawing::kurbo::{Point, Rect};
use casewright_drawing::pdf_pack;
use casewright_tests::sheets::{demos, packed};

/// Millimetres in a point.
const MM_PER_PT: f64 = 25.4 / 72.0;

fn poppler(tool: &str, arguments: &[&str]) -> String {
    let output = Command::new(tool).args(arguments).output().expect("poppler is installed (see .ci/setup)");
    assert!(output.status.success(), "{tool}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

fn text_of(pdf: &Path) -> String {
    poppler("pdftotext", &["-raw", pdf.to_str().unwrap(), "-"])
}

#[test]
fn every_outside_size_and_every_size_of_a_part_is_found_as_text() {
    let folder = tempfile::tempdir().unwrap();
    for (name, derived) in demos() {
        let pack = packed(&derived).unwrap();
        let pdf = folder.path().join("sheets.pdf");
        std::fs::write(&pdf, pdf_pack(&pack.sheets, &derived.design.title).unwrap()).unwrap();
        let text = text_of(&pdf);
        // Words may be set apart by any space; a size must stand by itself, not inside a longer number.
        let flat = format!(" {} ", text.split_whitespace().collect::<Vec<_>>().join(" "));
        let format = |length| derived.design.unit.format(length, DecimalMark::Comma);
        let mut sizes = Vec::new();
        for axis in [Axis::X, Axis::Y, Axis::Z] {
            sizes.push(format(derived.assembly.envelope.size(axis)));
        }
        for part in &derived.assembly.parts {
            for size in [part.finished, part.cut] {
                sizes.extend([size.length, size.width, size.thickness].map(format));
            }
        }
        for size in sizes {
            assert!(flat.contains(&format!(" {size} ")), "{name}: {size} is not in the text");
        }
        for part in &derived.assembly.parts {
            assert!(text.contains(&part.number), "{name}: {}", part.number);
        }
        assert!(text.contains(&derived.design.title));
    }
}

/// All points of strokes of one width on a page, in millimetres from the lower left corner, from poppler's SVG.
fn stroked_points(pdf: &Path, page: usize, width_mm: f64) -> Vec<Point> {
    let page = page.to_string();
    let svg = poppler(
        "pdftocairo",
        &["-svg", "-noshrink", "-nocenter", "-f", &page, "-l", &page, pdf.to_str().unwrap(), "-"],
    );
    let attribute = |line: &str, name: &str| -> Option<String> {
        let start = line.find(&format!(" {name}=\""))? + name.len() + 3;
        let rest = &line[start..];
        Some(rest[..rest.find('"')?].to_owned())
    };
    let height: f64 = attribute(&svg, "height").unwrap().trim_end_matches("pt").parse().unwrap();
    let mut points = Vec::new();
    for line in svg.lines().filter(|line| line.contains("<path ")) {
        let property = |name: &str| {
            let start = line.find(&format!("{name}:"))? + name.len() + 1;
            let rest = &line[start..];
            Some(&rest[..rest.find(';')?])
        };
        let Some(width) = property("stroke-width").and_then(|text| text.parse::<f64>().ok()) else { continue };
        let is_dashed = line.contains("stroke-dasharray");
        if (width * MM_PER_PT - width_mm).abs() > 0.005 || is_dashed {
            continue;
        }
        let (data, matrix) = (attribute(line, "d").unwrap(), attribute(line, "transform"));
        let numbers: Vec<f64> = data.split_whitespace().filter_map(|word| word.parse().ok()).collect();
        let matrix: Vec<f64> = matrix
            .map(|text| text.trim_start_matches("matrix(").trim_end_matches(')').to_owned())
            .map(|text| text.split([',', ' ']).filter_map(|word| word.trim().parse().ok()).collect())
            .unwrap_or_else(|| vec![1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
        for pair in numbers.chunks_exact(2) {
            let x = matrix[0] * pair[0] + matrix[2] * pair[1] + matrix[4];
            let y = matrix[1] * pair[0] + matrix[3] * pair[1] + matrix[5];
            points.push(Point::new(x * MM_PER_PT, (height - y) * MM_PER_PT));
        }
    }
    points
}

fn all_parts(derived: &Derived) -> Cuboid {
    derived.assembly.parts.iter().map(|part| part.cuboid).reduce(|all, one| all.union(&one)).unwrap()
}

fn view_area(pack: &Pack, id: &str) -> (usize, Rect, f64) {
    let (sheet, view) = pack.views.iter().find(|(_, view)| view.id == id).unwrap();
    (*sheet, view.placed.bounds, view.placed.scale)
}

#[test]
fn the_drawn_outline_measures_what_the_model_is() {
    let folder = tempfile::tempdir().unwrap();
    for (name, derived) in demos() {
        let pack = packed(&derived).unwrap();
        let pdf = folder.path().join("sheets.pdf");
        std::fs::write(&pdf, pdf_pack(&pack.sheets, "T").unwrap()).unwrap();
        let whole = all_parts(&derived);
        for (id, across, up) in [("front", Axis::X, Axis::Y), ("section-A", Axis::Z, Axis::Y)] {
            let (sheet, area, scale) = view_area(&pack, id);
            // Visible outlines are 0.5 mm wide on A4 to A2 (ISO 128, group 0.5).
            let points = stroked_points(&pdf, sheet + 1, 0.5);
            let inside: Vec<Point> = points.into_iter().filter(|point| area.contains(*point)).collect();
            let drawn = inside.iter().fold(Rect::from_points(inside[0], inside[0]), |all, point| all.union_pt(*point));
            let check = |measured: f64, axis: Axis| {
                let model = whole.size(axis).mm();
                assert!((measured / scale - model).abs() < 0.1, "{name} {id}: {} for {model}", measured / scale);
            };
            check(drawn.height(), up);
            if id == "front" {
                check(drawn.width(), across);
            }
        }
    }
}

#[test]
fn pages_have_their_trimmed_size_and_frame() {
    let folder = tempfile::tempdir().unwrap();
    let (_, derived) = demos().remove(0);
    let pack = packed(&derived).unwrap();
    let pdf = folder.path().join("sheets.pdf");
    std::fs::write(&pdf, pdf_pack(&pack.sheets, "T").unwrap()).unwrap();
    let last = pack.sheets.len().to_string();
    let info = poppler("pdfinfo", &["-f", "1", "-l", &last, pdf.to_str().unwrap()]);
    for (index, sheet) in pack.sheets.iter().enumerate() {
        let line = info.lines().find(|line| line.starts_with(&format!("Page {:>4} size:", index + 1))).unwrap();
        let numbers: Vec<f64> = line.split_whitespace().filter_map(|word| word.parse().ok()).collect();
        // "Page 1 size: W x H pts": the page number comes first. ISO 216 sizes of the trimmed sheets.
        let (width, height) = sheet.format.size_mm();
        assert!(
            (numbers[1] * MM_PER_PT - width).abs() < 0.1 && (numbers[2] * MM_PER_PT - height).abs() < 0.1,
            "{line}"
        );
        if sheet.is_plain {
            continue;
        }
        // ISO 5457: 20 mm at the left, 10 mm elsewhere, drawn 0.7 mm wide.
        let frame = stroked_points(&pdf, index + 1, 0.7);
        for corner in [(20.0, 10.0), (width - 10.0, height - 10.0)] {
            let near = |point: &Point| point.distance(corner.into()) < 0.02;
            assert!(frame.iter().any(near), "sheet {}: no frame corner at {corner:?}", index + 1);
        }
    }
    let outline = poppler("pdfinfo", &["-struct-text", pdf.to_str().unwrap()]);
    assert!(!outline.contains("Error"), "{outline}");
    let fonts = poppler("pdffonts", &[pdf.to_str().unwrap()]);
    let row = fonts.lines().nth(2).unwrap();
    assert!(row.contains("DejaVuSansCondensed") && row.contains("yes yes yes"), "embedded, subset, searchable: {row}");
}
