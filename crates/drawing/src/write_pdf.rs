//! Sheets as PDF: real text in an embedded subset of the font, one bookmark a sheet, one optional layer a drawing layer.
//!
//! The bytes depend on the sheets only: dates are the epoch, and the document id is a digest of the content.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{BezPath, PathEl, Point, Rect};
use printpdf::{
    Actions, BorderArray, Color, Destination, FontId, FontMetrics, Greyscale, Layer as PdfLayer, LayerInternalId, Line,
    LineDashPattern, LinePoint, LinkAnnotation, Mm, Op, PageAnnotId, PageAnnotation, PaintMode, ParsedFont,
    PdfDocument, PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions, Polygon, PolygonRing, Pt, TextItem, TextMatrix,
    WindingOrder,
};
use subsetter::GlyphRemapper;
use thiserror::Error;

use crate::display::{Item, Layer, Mark, Tone};
use crate::font;
use crate::language::Language;
use crate::line::{LineClass, LineGroup};
use crate::sheet::Sheet;
use crate::text::Text;

/// Why a PDF could not be written.
#[derive(Debug, Error)]
pub enum PdfError {
    /// The font in the program is damaged.
    #[error("internal error, please report: the embedded font cannot be read ({0})")]
    Font(String),
    /// The document could not be put together.
    #[error("the PDF could not be written: {0}; free some memory or disk and try again")]
    Write(#[from] std::io::Error),
    /// Whoever watches the work had it stopped.
    #[error("the writing of the PDF was stopped")]
    Stopped,
}

/// Points in a millimetre.
const PT_PER_MM: f64 = 72.0 / 25.4;
/// The resource name of the font.
const FONT_NAME: &str = "Lettering";

/// A PDF of all sheets, in order.
///
/// # Errors
/// [`PdfError::Font`] if the program's own font is damaged.
pub fn pdf_pack(sheets: &[Sheet], title: &str) -> Result<Vec<u8>, PdfError> {
    pdf_pack_watched(sheets, title, &mut |_| true)
}

/// As [`pdf_pack`]; `goes_on` is told before each page, and at the end, how many are done, and says whether to go on.
///
/// # Errors
/// As [`pdf_pack`], and [`PdfError::Stopped`].
pub fn pdf_pack_watched(
    sheets: &[Sheet],
    title: &str,
    goes_on: &mut dyn FnMut(usize) -> bool,
) -> Result<Vec<u8>, PdfError> {
    let displays: Vec<_> = sheets.iter().map(Sheet::display).collect();
    let mut used = BTreeSet::new();
    for display in &displays {
        for text in display.texts() {
            used.extend(text.content.chars());
        }
    }
    let mut document = PdfDocument::new(title);
    document.metadata.info.producer = "Casewright".to_owned();
    document.metadata.info.creator = "Casewright".to_owned();
    let font_id = FontId(FONT_NAME.to_owned());
    document.resources.fonts.map.insert(font_id.clone(), PdfFont::new(subset(&used)?));
    let language = sheets.first().and_then(|sheet| Language::of_code(&sheet.title_block.language)).unwrap_or_default();
    for layer in Layer::ALL.into_iter().filter(|layer| *layer != Layer::Areas) {
        document.resources.layers.map.insert(layer_id(layer), PdfLayer::new(&language.say(layer.name())));
    }
    for (index, (sheet, display)) in sheets.iter().zip(&displays).enumerate() {
        if !goes_on(index) {
            return Err(PdfError::Stopped);
        }
        let (width, height) = sheet.format.size_mm();
        let mut ops = page_ops(&display.painted(), sheet.format.line_group(), &font_id);
        ops.extend(sheet.links.iter().map(|(area, number)| link_to(*area, *number)));
        document.pages.push(PdfPage::new(Mm(width as f32), Mm(height as f32), ops));
        // Bookmarks are sorted by page when written.
        let id = PageAnnotId(format!("sheet-{index:05}"));
        document.bookmarks.map.insert(id, PageAnnotation { name: sheet.bookmark(), page: index + 1 });
    }
    if !goes_on(sheets.len()) {
        return Err(PdfError::Stopped);
    }
    save(&document)
}

/// A link without a border to the sheet of this number, from 1.
fn link_to(area: Rect, number: usize) -> Op {
    let size = |mm: f64| pt(mm);
    let rect = printpdf::Rect {
        x: size(area.x0),
        y: size(area.y0),
        width: size(area.width()),
        height: size(area.height()),
        mode: None,
        winding_order: None,
    };
    // The library counts pages of destinations from 1, as those of bookmarks.
    let page = Destination::Xyz { page: number, left: None, top: None, zoom: None };
    let none = BorderArray::Solid([0.0; 3]);
    Op::LinkAnnotation { link: LinkAnnotation::new(rect, Actions::Goto(page), Some(none), None, None) }
}

/// Serialises with a document id from the content in place of a random one.
fn save(document: &PdfDocument) -> Result<Vec<u8>, PdfError> {
    let mut raw = document.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
    let mut digest = Digest::new();
    for object in raw.objects.values() {
        if let Ok(stream) = object.as_stream() {
            digest.add(&stream.content);
        }
    }
    digest.add(document.metadata.info.document_title.as_bytes());
    let id = lopdf::Object::String(digest.bytes().to_vec(), lopdf::StringFormat::Hexadecimal);
    raw.trailer.set("ID", lopdf::Object::Array(vec![id.clone(), id]));
    if let Ok(catalog) = raw.catalog_mut() {
        // The library writes this entry as a string; the standard asks for a name.
        catalog.set("PageMode", lopdf::Object::Name(b"UseOutlines".to_vec()));
    }
    compress(&mut raw);
    let mut bytes = Vec::new();
    raw.save_to(&mut bytes)?;
    Ok(bytes)
}

/// Packs the contents of all pages, on all processors: the bytes of each do not depend on which one did it.
fn compress(document: &mut lopdf::Document) {
    let mut streams: Vec<&mut lopdf::Stream> = document
        .objects
        .values_mut()
        .filter_map(|object| object.as_stream_mut().ok())
        .filter(|stream| stream.allows_compression)
        .collect();
    // The largest first, dealt out in turn, so that all have about as much to do.
    streams.sort_by_key(|stream| std::cmp::Reverse(stream.content.len()));
    let workers = std::thread::available_parallelism().map_or(1, usize::from).min(streams.len()).max(1);
    let mut hands: Vec<Vec<&mut lopdf::Stream>> = (0..workers).map(|_| Vec::new()).collect();
    for (at, stream) in streams.into_iter().enumerate() {
        hands[at % workers].push(stream);
    }
    std::thread::scope(|scope| {
        for hand in hands {
            scope.spawn(move || {
                for stream in hand {
                    // What cannot be packed stays as it is, which is as right, only larger.
                    let _unpacked = stream.compress();
                }
            });
        }
    });
}

/// Two FNV-1a digests side by side: an identity of content, not a protection.
struct Digest([u64; 2]);

impl Digest {
    fn new() -> Self {
        Self([0xcbf2_9ce4_8422_2325, 0x9ae1_6a3b_2f90_404f])
    }

    fn add(&mut self, bytes: &[u8]) {
        let [a, b] = &mut self.0;
        for byte in bytes {
            *a = (*a ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
            *b = (*b ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3).rotate_left(1);
        }
    }

    fn bytes(&self) -> [u8; 16] {
        let mut all = [0; 16];
        for (target, byte) in all.iter_mut().zip(self.0.iter().flat_map(|half| half.to_be_bytes())) {
            *target = byte;
        }
        all
    }
}

/// The font with only the glyphs of these characters.
fn subset(used: &BTreeSet<char>) -> Result<ParsedFont, PdfError> {
    let face = font::face().ok_or_else(|| PdfError::Font("not a font".to_owned()))?;
    let mut remapper = GlyphRemapper::new();
    let mut glyphs = BTreeMap::new();
    let mut widths = BTreeMap::new();
    for character in used {
        let old = face.glyph_index(*character).unwrap_or_default();
        let new = remapper.remap(old.0);
        // The glyph for what is missing must not claim to be a certain character.
        if old.0 != 0 {
            glyphs.insert(u32::from(*character), new);
        }
        widths.insert(new, face.glyph_hor_advance(old).unwrap_or_default());
    }
    let bytes = subsetter::subset(font::FONT_BYTES, 0, &remapper).map_err(|e| PdfError::Font(e.to_string()))?;
    let metrics = FontMetrics { ascent: face.ascender(), descent: face.descender() };
    let mut parsed = ParsedFont::with_glyph_data(
        bytes,
        0,
        // Six capitals and a plus sign mark a subset (ISO 32000-1, 9.6.4).
        Some(format!("CWDRAW+{}", font::FONT_POSTSCRIPT_NAME)),
        glyphs,
        widths,
        face.units_per_em(),
        metrics,
    );
    let bounds = face.global_bounding_box();
    parsed.pdf_font_metrics.x_min = bounds.x_min;
    parsed.pdf_font_metrics.y_min = bounds.y_min;
    parsed.pdf_font_metrics.x_max = bounds.x_max;
    parsed.pdf_font_metrics.y_max = bounds.y_max;
    Ok(parsed)
}

fn layer_id(layer: Layer) -> LayerInternalId {
    LayerInternalId(format!("Layer{}", Layer::ALL.iter().position(|other| *other == layer).unwrap_or_default()))
}

fn pt(mm: f64) -> Pt {
    Pt((mm * PT_PER_MM) as f32)
}

fn page_point(point: Point) -> printpdf::Point {
    printpdf::Point { x: pt(point.x), y: pt(point.y) }
}

fn grey(percent: f32) -> Color {
    Color::Greyscale(Greyscale { percent, icc_profile: None })
}

/// The operators of one page; state is set only where it changes.
fn page_ops(items: &[&Item], group: LineGroup, font_id: &FontId) -> Vec<Op> {
    let mut ops = vec![Op::SetOutlineColor { col: grey(0.0) }, Op::SetFillColor { col: grey(0.0) }];
    let mut layer = None;
    let mut class = None;
    for item in items.iter().filter(|item| item.layer != Layer::Areas) {
        if layer != Some(item.layer) {
            if layer.is_some() {
                ops.push(Op::EndLayer);
            }
            ops.push(Op::BeginLayer { layer_id: layer_id(item.layer) });
            layer = Some(item.layer);
        }
        match &item.mark {
            Mark::Stroke { path, class: wanted } => {
                if class != Some(*wanted) {
                    set_line(&mut ops, *wanted, group);
                    class = Some(*wanted);
                }
                for ring in rings(path) {
                    ops.push(Op::DrawLine { line: Line { points: ring.points, is_closed: ring.is_closed } });
                }
            }
            Mark::Fill { path, tone } => match tone {
                Tone::Ink => fill(&mut ops, path, 0.0),
                Tone::Tint => fill(&mut ops, path, 0.9),
                Tone::Clear => {}
            },
            Mark::Arrow(arrow) => fill(&mut ops, &arrow.path(), 0.0),
            Mark::Text(text) => show_text(&mut ops, text, font_id),
        }
    }
    if layer.is_some() {
        ops.push(Op::EndLayer);
    }
    ops
}

fn set_line(ops: &mut Vec<Op>, class: LineClass, group: LineGroup) {
    let width = group.width_mm(class);
    ops.push(Op::SetOutlineThickness { pt: pt(width) });
    let dashes: Vec<f32> = class.dashes_mm(width).into_iter().map(|length| pt(length).0).collect();
    ops.push(Op::SetLineDashPattern { dash: LineDashPattern::new(0.0, &dashes) });
}

fn fill(ops: &mut Vec<Op>, path: &BezPath, level: f32) {
    if level != 0.0 {
        ops.push(Op::SetFillColor { col: grey(level) });
    }
    let rings = rings(path).into_iter().map(|ring| PolygonRing { points: ring.points }).collect();
    let polygon = Polygon { rings, mode: PaintMode::Fill, winding_order: WindingOrder::EvenOdd };
    ops.push(Op::DrawPolygon { polygon });
    if level != 0.0 {
        ops.push(Op::SetFillColor { col: grey(0.0) });
    }
}

fn show_text(ops: &mut Vec<Op>, text: &Text, font_id: &FontId) {
    if text.content.trim().is_empty() {
        return;
    }
    let along = text.along();
    let start = page_point(text.start());
    let (cos, sin) = (along.x as f32, along.y as f32);
    ops.push(Op::StartTextSection);
    let font = PdfFontHandle::External(font_id.clone());
    ops.push(Op::SetFont { font, size: pt(font::em_mm(text.height_mm)) });
    ops.push(Op::SetTextMatrix { matrix: TextMatrix::Raw([cos, sin, -sin, cos, start.x.0, start.y.0]) });
    ops.push(Op::ShowText { items: vec![TextItem::Text(text.content.clone())] });
    ops.push(Op::EndTextSection);
}

/// One connected piece of a path.
struct Ring {
    points: Vec<LinePoint>,
    is_closed: bool,
}

fn rings(path: &BezPath) -> Vec<Ring> {
    let mut rings: Vec<Ring> = Vec::new();
    let mut last = Point::ZERO;
    for element in path.elements() {
        let mut add = |point: Point, bezier: bool| {
            if let Some(ring) = rings.last_mut() {
                ring.points.push(LinePoint { p: page_point(point), bezier });
            }
        };
        match *element {
            PathEl::MoveTo(point) => {
                rings.push(Ring { points: vec![LinePoint { p: page_point(point), bezier: false }], is_closed: false });
                last = point;
            }
            PathEl::LineTo(point) => {
                add(point, false);
                last = point;
            }
            PathEl::QuadTo(control, point) => {
                // The same curve as a cubic: controls two thirds of the way to the quadratic's.
                add(last.lerp(control, 2.0 / 3.0), true);
                add(point.lerp(control, 2.0 / 3.0), true);
                add(point, false);
                last = point;
            }
            PathEl::CurveTo(first, second, point) => {
                add(first, true);
                add(second, true);
                add(point, false);
                last = point;
            }
            PathEl::ClosePath => {
                if let Some(ring) = rings.last_mut() {
                    ring.is_closed = true;
                }
            }
        }
    }
    rings
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{Format, number_sheets};
    use crate::title_block::TitleBlock;

    fn sheets(count: usize) -> Vec<Sheet> {
        let block = TitleBlock { title: "Wäschenische".into(), unit: "mm".into(), ..TitleBlock::default() };
        let mut sheets: Vec<Sheet> = (0..count).map(|_| Sheet::new(Format::A3, block.clone())).collect();
        for sheet in &mut sheets {
            let at = Point::new(100.0, 150.0);
            sheet.content.text(Layer::Notes, None, Text::new(at, 3.5, "600 × 400, ⌀8, ½ äöüß"));
            sheet.content.segment(Layer::Outline, LineClass::VisibleOutline, None, at, Point::new(200.0, 150.0));
        }
        number_sheets(&mut sheets);
        sheets
    }

    #[test]
    fn two_runs_give_the_same_bytes() {
        let first = pdf_pack(&sheets(2), "T").unwrap();
        assert_eq!(first, pdf_pack(&sheets(2), "T").unwrap());
        assert_ne!(first, pdf_pack(&sheets(3), "T").unwrap());
        assert!(first.len() < 60_000, "only the glyphs in use are embedded: {} bytes", first.len());
    }

    #[test]
    fn the_document_reads_back_with_its_pages_and_bookmarks() {
        let bytes = pdf_pack(&sheets(2), "T").unwrap();
        let document = lopdf::Document::load_mem(&bytes).unwrap();
        assert_eq!(document.get_pages().len(), 2);
        let catalog = document.catalog().unwrap();
        assert!(catalog.has(b"Outlines") && catalog.has(b"OCProperties"));
        let text = document.extract_text(&[1]).unwrap();
        assert!(text.contains("600 × 400, ⌀8, ½ äöüß"), "{text}");
        assert!(text.contains("Wäschenische"), "{text}");
    }

    #[test]
    fn links_lead_to_their_sheets() {
        let mut sheets = sheets(3);
        sheets[0].links = vec![(Rect::new(50.0, 60.0, 150.0, 64.0), 3), (Rect::new(50.0, 66.0, 150.0, 70.0), 2)];
        let document = lopdf::Document::load_mem(&pdf_pack(&sheets, "T").unwrap()).unwrap();
        let pages = document.get_pages();
        let page = document.get_dictionary(pages[&1]).unwrap();
        let list = page.get(b"Annots").and_then(|it| document.dereference(it)).unwrap().1.as_array().unwrap();
        // They stand in the list themselves, not as references.
        let annotations: Vec<&lopdf::Dictionary> =
            list.iter().map(|it| document.dereference(it).unwrap().1.as_dict().unwrap()).collect();
        let target = |index: usize| {
            let action = annotations[index].get(b"A").and_then(|it| document.dereference(it)).unwrap().1;
            let to = action.as_dict().and_then(|it| it.get(b"D")).and_then(lopdf::Object::as_array).unwrap();
            to[0].as_reference().unwrap()
        };
        assert_eq!((target(0), target(1)), (pages[&3], pages[&2]));
        let area: Vec<f32> = annotations[0]
            .get(b"Rect")
            .and_then(lopdf::Object::as_array)
            .unwrap()
            .iter()
            .map(|it| it.as_float().unwrap())
            .collect();
        let expected = [50.0, 60.0, 150.0, 64.0].map(|mm: f32| mm * 72.0 / 25.4);
        assert!(area.iter().zip(expected).all(|(a, b)| (a - b).abs() < 0.01), "{area:?}");
    }
}
