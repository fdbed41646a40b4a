//! Sheets: trimmed sizes after ISO 216, drawing space after ISO 5457.

use kurbo::Rect;

use crate::display::Display;
use crate::frame::draw_frame;
use crate::line::LineGroup;
use crate::title_block::TitleBlock;

/// A trimmed sheet size. A4 stands upright, the others lie (ISO 5457).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Format {
    /// 210 × 297 mm, upright.
    A4,
    /// 420 × 297 mm.
    A3,
    /// 594 × 420 mm.
    A2,
    /// 841 × 594 mm.
    A1,
    /// 1189 × 841 mm.
    A0,
}

/// The filing border at the left, in millimetres (ISO 5457).
pub const BORDER_LEFT_MM: f64 = 20.0;
/// The other borders, in millimetres (ISO 5457).
pub const BORDER_MM: f64 = 10.0;

impl Format {
    /// Every format, from the smallest.
    pub const ALL: [Self; 5] = [Self::A4, Self::A3, Self::A2, Self::A1, Self::A0];

    /// Width and height of the trimmed sheet, in millimetres (ISO 216).
    #[must_use]
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::A3 => (420.0, 297.0),
            Self::A2 => (594.0, 420.0),
            Self::A1 => (841.0, 594.0),
            Self::A0 => (1189.0, 841.0),
        }
    }

    /// The frame of the drawing space (ISO 5457: borders of 20 mm at the left, else 10 mm).
    #[must_use]
    pub fn drawing_space(self) -> Rect {
        let (width, height) = self.size_mm();
        Rect::new(BORDER_LEFT_MM, BORDER_MM, width - BORDER_MM, height - BORDER_MM)
    }

    /// Grid fields along the width and the height (ISO 5457).
    #[must_use]
    pub fn grid_fields(self) -> (usize, usize) {
        match self {
            Self::A4 => (4, 6),
            Self::A3 => (8, 6),
            Self::A2 => (12, 8),
            Self::A1 => (16, 12),
            Self::A0 => (24, 16),
        }
    }

    /// The line group (ISO 128: 0.5 for A4 to A2, 0.7 for larger).
    #[must_use]
    pub fn line_group(self) -> LineGroup {
        match self {
            Self::A4 | Self::A3 | Self::A2 => LineGroup::HALF,
            Self::A1 | Self::A0 => LineGroup::SEVEN,
        }
    }

    /// The name of the format.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::A2 => "A2",
            Self::A1 => "A1",
            Self::A0 => "A0",
        }
    }
}

/// One page of drawings; the list counts millimetres from the lower left corner of the trimmed sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The size of the paper.
    pub format: Format,
    /// The title block.
    pub title_block: TitleBlock,
    /// The drawing without frame and title block.
    pub content: Display,
    /// Areas of the sheet that lead to another sheet, with its number from 1.
    pub links: Vec<(Rect, usize)>,
    /// Without frame and title block: full-size pages that need all of the paper.
    pub is_plain: bool,
}

impl Sheet {
    /// A sheet without content.
    #[must_use]
    pub fn new(format: Format, title_block: TitleBlock) -> Self {
        Self { format, title_block, content: Display::new(), links: Vec::new(), is_plain: false }
    }

    /// Everything on the sheet: frame, title block and content.
    #[must_use]
    pub fn display(&self) -> Display {
        if self.is_plain {
            return self.content.clone();
        }
        let mut display = draw_frame(self.format, &self.content);
        display.items.extend(self.title_block.draw(self.format).items);
        display.items.extend(self.content.items.iter().cloned());
        display
    }

    /// The name under which a viewer lists the sheet.
    #[must_use]
    pub fn bookmark(&self) -> String {
        let block = &self.title_block;
        if block.supplementary_title.is_empty() {
            format!("{} {}", block.sheet_number, block.title)
        } else {
            format!("{} {}", block.sheet_number, block.supplementary_title)
        }
    }
}

/// Numbers the sheets from 1 in their order.
pub fn number_sheets(sheets: &mut [Sheet]) {
    let count = sheets.len();
    for (index, sheet) in sheets.iter_mut().enumerate() {
        sheet.title_block.sheet_number = index + 1;
        sheet.title_block.sheet_count = count;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_those_of_iso_216() {
        // Each size is the next larger one halved, rounded down.
        let sides = |format: Format| {
            let (width, height) = format.size_mm();
            (width.min(height), width.max(height))
        };
        for pair in Format::ALL.windows(2) {
            let (small, large) = (sides(pair[0]), sides(pair[1]));
            assert_eq!(small.1, large.0);
            assert_eq!(small.0, (large.1 / 2.0).floor());
        }
        assert_eq!(sides(Format::A0), (841.0, 1189.0));
        assert!(Format::A4.size_mm().0 < Format::A4.size_mm().1, "A4 is used upright");
    }

    #[test]
    fn drawing_spaces_are_those_of_iso_5457() {
        let check = |format: Format, width: f64, height: f64| {
            let space = format.drawing_space();
            assert_eq!((space.width(), space.height()), (width, height), "{}", format.name());
        };
        check(Format::A4, 180.0, 277.0);
        check(Format::A3, 390.0, 277.0);
        check(Format::A2, 564.0, 400.0);
        check(Format::A1, 811.0, 574.0);
        check(Format::A0, 1159.0, 821.0);
    }
}
