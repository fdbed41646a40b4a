//! Checks of tiles: what is cut lies where it was, each text stands once, and a printed page measures what it says.

use std::process::Command;

use kurbo::{ParamCurve, ParamCurveArclen};

use super::*;
use crate::place::collisions;
use crate::write_pdf::pdf_pack;

/// Bored circles and a frame over several pages.
fn content(width: f64, height: f64) -> Display {
    let mut display = Display::new();
    let frame = Rect::new(-40.0, 7.0, width - 40.0, height + 7.0);
    display.rectangle(Layer::Outline, LineClass::VisibleOutline, None, frame);
    let mut number = 0;
    let mut y = frame.y0 + 37.0;
    while y < frame.y1 - 5.0 {
        let mut x = frame.x0 + 37.0;
        while x < frame.x1 - 20.0 {
            number += 1;
            let circle = Circle::new(Point::new(x, y), 4.0).to_path(0.001);
            display.stroke(Layer::Outline, LineClass::VisibleOutline, None, circle);
            display.text(Layer::Notes, None, Text::new(Point::new(x + 5.0, y + 3.0), 2.5, format!("hole {number}")));
            x += 96.0;
        }
        y += 96.0;
    }
    display
}

#[test]
fn all_that_is_drawn_is_shown_where_it_belongs() {
    for (width, height) in [(100.0, 100.0), (180.0, 254.0), (181.0, 100.0), (1200.0, 610.0)] {
        let display = content(width, height);
        let tiles = tile_full_size("Rows", "left edge on the front edge", &display, &TitleBlock::default());
        let expected = ((width / 180.0_f64).ceil() as usize, (height / 254.0_f64).ceil() as usize);
        assert_eq!((tiles.columns, tiles.rows), expected);
        // Each text once, on the page of its middle.
        for text in display.texts() {
            let count: usize = tiles
                .tiles
                .iter()
                .map(|tile| tile.sheet.content.texts().filter(|it| it.content == text.content).count())
                .sum();
            assert_eq!(count, 1, "{}", text.content);
        }
        // The length of all lines inside the windows is that of the content.
        let length = |display: &Display, room: Option<Rect>| -> f64 {
            let mut sum = 0.0;
            for item in display.items.iter().filter(|item| item.layer == Layer::Outline) {
                let Mark::Stroke { path, .. } = &item.mark else { continue };
                for (a, b) in segments(path) {
                    let piece = room.map_or(Some((a, b)), |room| clip_segment(room, a, b));
                    sum += piece.map_or(0.0, |(a, b)| a.distance(b));
                }
            }
            sum
        };
        let shown: f64 = tiles.tiles.iter().map(|tile| length(&tile.sheet.content, Some(WINDOW))).sum();
        assert!((shown - length(&display, None)).abs() < 0.02 * tiles.tiles.len() as f64, "{width} x {height}");
        for tile in &tiles.tiles {
            assert_eq!(collisions(&tile.sheet.display()), []);
            let page = Rect::new(4.0, 4.0, 206.0, 293.0);
            assert!(page.contains_rect(tile.sheet.display().bounds().unwrap()));
        }
    }
}

#[test]
fn an_area_is_cut_along_the_window() {
    let mut display = Display::new();
    display.fill(Layer::Outline, Tone::Ink, None, Rect::new(0.0, 0.0, 400.0, 60.0).to_path(0.1));
    let tiles = tile_full_size("Strip", "", &display, &TitleBlock::default());
    let area = |tile: &Tile| -> f64 {
        let fills = tile.sheet.content.items.iter().filter(|item| item.layer == Layer::Outline);
        fills.map(|item| if let Mark::Fill { path, .. } = &item.mark { path.area().abs() } else { 0.0 }).sum()
    };
    // The middle page shows its window and the bleed on both sides: 186 x 60.
    assert!((area(&tiles.tiles[1]) - 186.0 * 60.0).abs() < 1e-6);
    // 400 over three windows of 180 leaves 70 at each end, so 110 and 3 of bleed.
    assert!((area(&tiles.tiles[0]) - 113.0 * 60.0).abs() < 1e-6);
}

#[test]
fn pages_without_anything_are_left_out() {
    let mut display = Display::new();
    for x in [0.0, 900.0] {
        display.rectangle(Layer::Outline, LineClass::VisibleOutline, None, Rect::new(x, 0.0, x + 50.0, 50.0));
    }
    let tiles = tile_full_size("Ends", "", &display, &TitleBlock::default());
    assert_eq!((tiles.columns, tiles.tiles.len()), (6, 2));
    assert!(tile_full_size("None", "", &Display::new(), &TitleBlock::default()).tiles.is_empty());
}

/// A page rendered by poppler, which had no part in writing it: grey values, and pixels in a millimetre.
struct Rendered {
    width: usize,
    height: usize,
    grey: Vec<u8>,
    per_mm: f64,
}

/// All pages, rendered at once.
fn render(sheets: &[Sheet], dpi: u32) -> Vec<Rendered> {
    let folder = tempfile::tempdir().unwrap();
    let pdf = folder.path().join("tiles.pdf");
    std::fs::write(&pdf, pdf_pack(sheets, "T").unwrap()).unwrap();
    let out = folder.path().join("page");
    let status = Command::new("pdftoppm")
        .args(["-gray", "-r", &dpi.to_string()])
        .args([&pdf, &out])
        .status()
        .expect("poppler is installed (see .ci/setup)");
    assert!(status.success());
    let mut pages: Vec<_> = std::fs::read_dir(folder.path()).unwrap().map(|it| it.unwrap().path()).collect();
    pages.retain(|it| it.extension().is_some_and(|it| it == "pgm"));
    // Numbers have as many digits as the last one.
    pages.sort();
    pages.iter().map(|it| read(&std::fs::read(it).unwrap(), dpi)).collect()
}

/// "P5 width height 255" and one byte a pixel.
fn read(bytes: &[u8], dpi: u32) -> Rendered {
    let mut fields = Vec::new();
    let mut at = 0;
    while fields.len() < 4 {
        let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).unwrap();
        fields.push(String::from_utf8(bytes[at..end].to_vec()).unwrap());
        at = end + 1;
    }
    let (width, height) = (fields[1].parse().unwrap(), fields[2].parse().unwrap());
    Rendered { width, height, grey: bytes[at..].to_vec(), per_mm: f64::from(dpi) / 25.4 }
}

impl Rendered {
    /// The middle of all ink in a box of the page, in millimetres from the lower left corner.
    fn ink_centre(&self, room: Rect) -> Point {
        let (mut sum, mut at) = (0.0, Vec2::ZERO);
        let pixel = |mm: f64| (mm * self.per_mm).round() as usize;
        let (top, bottom) = (self.height - pixel(room.y1), self.height - pixel(room.y0));
        for y in top..bottom {
            for x in pixel(room.x0)..pixel(room.x1) {
                let ink = f64::from(255 - self.grey[y * self.width + x]);
                sum += ink;
                at += Vec2::new(x as f64 + 0.5, self.height as f64 - y as f64 - 0.5) * ink;
            }
        }
        assert!(sum > 0.0, "no ink in {room:?}");
        (at / sum / self.per_mm).to_point()
    }

    fn around(&self, at: Point, half: f64) -> Point {
        self.ink_centre(Rect::from_center_size(at, (2.0 * half, 2.0 * half)))
    }
}

#[test]
fn a_rendered_page_is_true_to_a_tenth_and_tiles_to_three_tenths() {
    let (dpi, half) = (300, 4.4);
    let display = content(420.0, 300.0);
    let tiles = tile_full_size("Rows", "", &display, &TitleBlock::default());
    let (columns, pages): (usize, Vec<Vec2>) =
        (tiles.columns, tiles.tiles.iter().map(|tile| tile.page_from_content).collect());
    assert_eq!((columns, pages.len()), (3, 6));
    let rendered = render(&tiles.into_sheets(), dpi);
    let true_centres: Vec<Point> = display
        .items
        .iter()
        .filter_map(|item| match &item.mark {
            Mark::Stroke { path, .. } if path.bounding_box().width() < 9.0 => Some(path.bounding_box().center()),
            _ => None,
        })
        .collect();
    // Where a page lies if each is laid with its register marks on those of its left or lower neighbour, as measured.
    let corner = |page: &Rendered, at: Point| page.around(at, 4.0);
    let lower_left = |page: &Rendered| corner(page, WINDOW.origin());
    let mut laid: Vec<Vec2> = Vec::new();
    for (index, page) in rendered.iter().enumerate() {
        let at = if index == 0 {
            Vec2::ZERO
        } else {
            let (neighbour, mark) = if index % columns != 0 {
                (index - 1, Point::new(WINDOW.x1, WINDOW.y0))
            } else {
                (index - columns, Point::new(WINDOW.x0, WINDOW.y1))
            };
            laid[neighbour] + (corner(&rendered[neighbour], mark) - lower_left(page))
        };
        laid.push(at);
    }
    let mut measured: Vec<(usize, Point, Point)> = Vec::new();
    for (index, page) in rendered.iter().enumerate() {
        for centre in &true_centres {
            let on_page = *centre + pages[index];
            if WINDOW.inflate(-6.0, -6.0).contains(on_page) {
                measured.push((index, *centre, page.around(on_page, half)));
            }
        }
    }
    assert!(measured.len() > 8);
    for (i, (page, centre, on_page)) in measured.iter().enumerate() {
        for (other_page, other, other_on_page) in &measured[i + 1..] {
            let expected = centre.distance(*other);
            let found = (*on_page + laid[*page]).distance(*other_on_page + laid[*other_page]);
            let limit = if page == other_page { 0.1 } else { 0.3 };
            assert!((found - expected).abs() < limit, "{found} for {expected} on pages {page} and {other_page}");
        }
    }
    // The test lengths, from the middle of the first tick to the middle of the last.
    for (from, along) in [(TEST_LEVEL, Vec2::new(1.0, 0.0)), (TEST_UPRIGHT, Vec2::new(0.0, 1.0))] {
        // Beside the line only the outer half of a long tick: no other ink lies there.
        let beside = along.turn_90() * 1.6;
        let end = |at: Point| rendered[0].ink_centre(Rect::from_center_size(at + beside, (0.9, 0.9)));
        let length = end(from).distance(end(from + along * TEST_LENGTH_MM));
        assert!((length - 100.0).abs() < 0.1, "{length}");
    }
}

/// The template of a worktop with a bow, roundings, a measured wall and an opening: on each page the ink lies on the curve,
/// page by page from its own register mark, and so within 0.3 mm of it when the pages are put together.
#[test]
fn the_curves_of_a_worktop_lie_where_they_belong_over_all_pages() {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/data/crooked-niche.ron");
    let design = casewright_core::design::Design::from_ron(&std::fs::read_to_string(file).unwrap()).unwrap();
    let derived = casewright_core::pipeline::derive(&design).unwrap();
    let display = crate::furniture::worktop_full_size(&crate::furniture::Scene::from(&derived)).unwrap();
    let tiles = tile_full_size("Worktop", "", &display, &TitleBlock::default());
    let pages: Vec<(Vec2, Display)> =
        tiles.tiles.iter().map(|it| (it.page_from_content, it.sheet.content.clone())).collect();
    let rendered = render(&tiles.into_sheets(), 200);
    assert_eq!(rendered.len(), pages.len());
    // Places along all lines, every 15 mm, where the line is as good as straight over the box that is looked at.
    let half = 1.5;
    let mut places: Vec<Point> = Vec::new();
    for item in &display.items {
        let Mark::Stroke { path, .. } = &item.mark else { continue };
        for segment in path.segments() {
            let length = segment.arclen(1e-3);
            let count = (length / 15.0).floor() as usize;
            places.extend((1..count).map(|i| segment.eval(i as f64 / count as f64)));
        }
    }
    assert!(places.len() > 200, "{}", places.len());
    let mut measured = 0;
    for ((page_from_content, content), page) in pages.iter().zip(&rendered) {
        // Where the page lies, by its own register mark.
        let laid = page.around(WINDOW.origin(), 4.0) - WINDOW.origin();
        for place in &places {
            let at = *place + *page_from_content;
            let room = Rect::from_center_size(at, (2.0 * half, 2.0 * half));
            // Marks and words of the page are no part of the curve.
            let alone = content.items.iter().filter(|it| it.layer != Layer::Outline).all(|it| {
                let bounds = it.bounds();
                bounds.intersect(room.inflate(0.5, 0.5)).area() <= 0.0 && !room.contains(bounds.center())
            });
            if !WINDOW.inflate(-6.0, -6.0).contains(at) || !alone {
                continue;
            }
            measured += 1;
            let off = page.around(at, half) - at - laid;
            assert!(off.hypot() < 0.3, "{off:?} at {place:?}");
        }
    }
    assert!(measured > 150, "{measured} of {}", places.len());
}
