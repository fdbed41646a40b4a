//! The one embedded font: its metrics, and lettering heights after ISO 3098.
//!
//! Lettering height h is the height of a capital (ISO 3098), not the em of the font; [`em_mm`] converts. Text is set
//! without kerning, glyph after glyph at its advance, so that what is measured here is what every writer shows.

use std::sync::OnceLock;

use kurbo::Rect;
use ttf_parser::Face;

/// The font file, DejaVu Sans Condensed 2.37; its licence lies beside it.
pub const FONT_BYTES: &[u8] = include_bytes!("../../../assets/fonts/DejaVuSansCondensed.ttf");
/// The family name by which a viewer may find the font.
pub const FONT_FAMILY: &str = "DejaVu Sans Condensed";
/// The PostScript name of the font.
pub const FONT_POSTSCRIPT_NAME: &str = "DejaVuSansCondensed";

/// The nominal lettering heights of ISO 3098, in millimetres.
#[cfg(test)]
const HEIGHTS_MM: [f64; 8] = [1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0];
/// Field names in the title block, and labels in views that have no room for larger ones.
pub const HEIGHT_LABEL_MM: f64 = 1.8;
/// Tables and notes.
pub const HEIGHT_NOTE_MM: f64 = 2.5;
/// Dimension values; textbooks ask for at least 3.5 mm.
pub const HEIGHT_DIMENSION_MM: f64 = 3.5;
/// Titles of views and of sheets.
pub const HEIGHT_TITLE_MM: f64 = 5.0;
/// The pitch of lines of lettering type B with accents, in lettering heights (ISO 3098: 19 h / 10).
pub const LINE_PITCH: f64 = 1.9;

/// The parsed font, or nothing if the file in the program is damaged.
pub(crate) fn face() -> Option<&'static Face<'static>> {
    static FACE: OnceLock<Option<Face<'static>>> = OnceLock::new();
    FACE.get_or_init(|| Face::parse(FONT_BYTES, 0).ok()).as_ref()
}

/// Units of the font's em square.
pub(crate) fn units_per_em() -> f64 {
    face().map_or(2048.0, |face| f64::from(face.units_per_em()))
}

/// The size of the em, in millimetres, at which capitals are `height_mm` high.
#[must_use]
pub fn em_mm(height_mm: f64) -> f64 {
    static EM_FOR_CAPITAL: OnceLock<f64> = OnceLock::new();
    let ratio = EM_FOR_CAPITAL.get_or_init(|| {
        let capital = face().and_then(Face::capital_height).map_or(1493.0, f64::from);
        units_per_em() / capital
    });
    height_mm * ratio
}

/// What measuring needs of one glyph, in units of the em square.
#[derive(Clone, Copy)]
struct Metrics {
    advance: f64,
    /// Lowest and highest ink; crossed for a glyph without ink.
    low: f64,
    high: f64,
}

fn metrics(character: char) -> Metrics {
    // The glyphs of nearly all drawings, measured once.
    const CACHED: usize = 0x250;
    static CACHE: OnceLock<Vec<Metrics>> = OnceLock::new();
    let cache = CACHE.get_or_init(|| {
        let cached = u32::try_from(CACHED).unwrap_or_default();
        (0..cached).map(|code| measured(char::from_u32(code).unwrap_or(' '))).collect()
    });
    cache.get(character as usize).copied().unwrap_or_else(|| measured(character))
}

fn measured(character: char) -> Metrics {
    let Some(face) = face() else {
        return Metrics { advance: 1493.0, low: 0.0, high: 1493.0 };
    };
    let glyph = face.glyph_index(character).unwrap_or_default();
    let advance = f64::from(face.glyph_hor_advance(glyph).unwrap_or_default());
    match face.glyph_bounding_box(glyph) {
        Some(bounds) => Metrics { advance, low: f64::from(bounds.y_min), high: f64::from(bounds.y_max) },
        None => Metrics { advance, low: f64::INFINITY, high: f64::NEG_INFINITY },
    }
}

/// The width of one line of text with capitals `height_mm` high, in millimetres.
#[must_use]
pub fn width_mm(content: &str, height_mm: f64) -> f64 {
    let units: f64 = content.chars().map(|character| metrics(character).advance).sum();
    units / units_per_em() * em_mm(height_mm)
}

/// The box that the ink of one line of text fills, in millimetres from the start of its base line.
///
/// It spans the advances of the glyphs in width, and the lowest and highest ink in height.
#[must_use]
pub fn ink_mm(content: &str, height_mm: f64) -> Rect {
    let mut low = f64::INFINITY;
    let mut high = f64::NEG_INFINITY;
    let mut advance = 0.0;
    for glyph in content.chars().map(metrics) {
        advance += glyph.advance;
        low = low.min(glyph.low);
        high = high.max(glyph.high);
    }
    let scale = em_mm(height_mm) / units_per_em();
    if low > high {
        return Rect::new(0.0, 0.0, advance * scale, 0.0);
    }
    Rect::new(0.0, low * scale, advance * scale, high * scale)
}

/// Whether the font can show this character.
#[must_use]
#[cfg(test)]
fn has_glyph(character: char) -> bool {
    face().is_some_and(|face| face.glyph_index(character).is_some())
}

/// `content` cut to `width_mm` with an ellipsis where it is too long.
#[must_use]
pub fn shortened(content: &str, height_mm: f64, limit_mm: f64) -> String {
    if width_mm(content, height_mm) <= limit_mm {
        return content.to_owned();
    }
    let mut kept = String::new();
    for character in content.chars() {
        let candidate = format!("{kept}{character}…");
        if width_mm(&candidate, height_mm) > limit_mm {
            break;
        }
        kept.push(character);
    }
    kept.truncate(kept.trim_end().len());
    kept.push('…');
    kept
}

/// A space at which no line is broken; it is set as any other.
pub const NO_BREAK: char = '\u{a0}';

/// The words of a text: what stands between spaces that may break a line.
pub fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|it: char| it.is_whitespace() && it != NO_BREAK).filter(|it| !it.is_empty())
}

/// `content` broken into lines no wider than `limit_mm`, at spaces where possible and inside words where not.
#[must_use]
pub fn wrapped(content: &str, height_mm: f64, limit_mm: f64) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in content.split('\n') {
        let mut line = String::new();
        for word in words(paragraph) {
            let candidate = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if width_mm(&candidate, height_mm) <= limit_mm {
                line = candidate;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for character in word.chars() {
                let grown = format!("{line}{character}");
                if !line.is_empty() && width_mm(&grown, height_mm) > limit_mm {
                    lines.push(std::mem::take(&mut line));
                }
                line.push(character);
            }
        }
        lines.push(line);
    }
    lines.into_iter().map(|line| line.replace(NO_BREAK, " ")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_are_those_of_iso_3098() {
        // DIN EN ISO 3098 table: nominal heights rise by the root of two; type B pitch with accents is 19 h / 10,
        // its worked row h = 2.5 gives 4.75.
        for pair in HEIGHTS_MM.windows(2) {
            assert!((pair[1] / pair[0] - 2f64.sqrt()).abs() < 0.03, "{pair:?}");
        }
        for height in [HEIGHT_LABEL_MM, HEIGHT_NOTE_MM, HEIGHT_DIMENSION_MM, HEIGHT_TITLE_MM] {
            assert!(HEIGHTS_MM.contains(&height));
        }
        assert_eq!(2.5 * LINE_PITCH, 4.75);
    }

    #[test]
    fn capitals_have_the_lettering_height() {
        // The flat capital H of the font file itself must come out h high.
        for height in HEIGHTS_MM {
            let ink = ink_mm("H", height);
            assert!((ink.height() - height).abs() < 0.01 * height, "{height}: {ink:?}");
            assert!(ink.y0.abs() < 1e-9);
        }
    }

    #[test]
    fn every_sign_of_the_trade_has_a_glyph() {
        for character in "AÄÖÜäöüßé0123456789×⌀½¼¾⅛⅜⅝⅞⁄±°²³µ–—…“”‘’≤≥→↑↓□ ".chars()
        {
            assert!(has_glyph(character), "{character}");
        }
    }

    #[test]
    fn width_is_the_sum_of_the_advances() {
        // hmtx table of the font: figures are 1172 of 2048 units wide, nine tenths of the uncondensed 1303.
        let em = em_mm(3.5);
        assert!((width_mm("0", 3.5) - em * 1172.0 / 2048.0).abs() < 0.01);
        assert!((width_mm("564,5", 3.5) - (4.0 * width_mm("0", 3.5) + width_mm(",", 3.5))).abs() < 1e-9);
        assert_eq!(width_mm("", 3.5), 0.0);
    }

    #[test]
    fn long_text_is_cut_or_broken_to_fit() {
        let text = "Laundry alcove with Überschrift";
        let cut = shortened(text, 3.5, 30.0);
        assert!(cut.ends_with('…') && width_mm(&cut, 3.5) <= 30.0);
        assert_eq!(shortened("ab", 3.5, 30.0), "ab");
        let lines = wrapped("one two Donaudampfschifffahrt x\n\ny", 2.5, 20.0);
        assert!(lines.iter().all(|line| width_mm(line, 2.5) <= 20.0), "{lines:?}");
        assert_eq!(lines.concat().replace(' ', ""), "onetwoDonaudampfschifffahrtxy");
        assert_eq!(wrapped("Full, N\u{a0}m here", 3.5, width_mm("Full, N m", 3.5)), ["Full, N m", "here"]);
        assert_eq!(wrapped("Full, N\u{a0}m here", 3.5, width_mm("Full, N", 3.5)), ["Full,", "N m", "here"]);
    }
}
