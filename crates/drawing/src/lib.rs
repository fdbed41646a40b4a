//! Views, hidden lines, dimension chains and sheets as display lists, with writers for PDF and SVG.
//!
//! Conventions: a display list counts millimetres, x to the right and y up. A [`View`] holds model millimetres; laid out
//! at a scale it becomes paper millimetres, in which texts, arrow heads and line widths always are. Angles are radians
//! here, counter-clockwise. The same lists are painted on the screen and written to PDF and SVG.

mod areas;
mod breaks;
pub mod compose;
pub mod cut_mark;
pub mod dimension;
pub mod dimension_layout;
pub mod display;
pub mod font;
pub mod frame;
pub mod furniture;
pub mod hatch;
mod hidden;
pub mod label;
pub mod language;
mod led_out;
pub mod line;
pub mod place;
pub mod pointer;
mod prism;
mod region;
pub mod scale;
pub mod sheet;
pub mod table;
pub mod tag;
pub mod text;
pub mod tiles;
pub mod title_block;
pub mod view;
pub mod write_pdf;
pub mod write_svg;

pub use compose::{ComposeError, LaidView, Place, PlacedOnSheet, compose, compose_laid};
pub use dimension::{Chain, DimensionStyle, Side, Span};
pub use display::{Arrow, Display, Item, Layer, Mark, Tone};
pub use kurbo;
pub use language::{Language, Speech};
pub use line::{LineClass, LineGroup};
pub use scale::Scale;
pub use sheet::{Format, Sheet, number_sheets};
pub use table::{Column, Row, Table};
pub use tag::Tag;
pub use text::{Anchor, Text};
pub use title_block::TitleBlock;
pub use view::{Axes, PlacedView, View};
pub use write_pdf::{PdfError, pdf_pack};
pub use write_svg::{svg_display, svg_sheet};
