//! What a written pack consists of: the sheets as one PDF and one SVG each, the worktop in full size, the lists as CSV, and
//! the stock that is left. The subcommand `export` and the window both write what this crate gives them.
//!
//! Pure: files here are names with bytes. Whoever asked writes them, all or none.
//!
//! - [`everything()`] gives all files of a pack, [`sheets_as_pdf()`] its PDF alone.
//! - [`lists`] has each list for itself.
//! - [`safe_stem()`] makes the beginning of all names from the name of a design file.

pub mod lists;
mod stem;

use casewright_core::stock::{CuttingPlan, remains};
use casewright_drawing::furniture::{
    Chapter, Pack, PackOptions, Scene, pack_watched, worktop_full_size, worktop_template,
};
use casewright_drawing::kurbo::Affine;
use casewright_drawing::write_pdf::pdf_pack_watched;
use casewright_drawing::{ComposeError, Display, LineGroup, PdfError, number_sheets, pdf_pack, svg_display, svg_sheet};
use casewright_stock::{TableForm, write_table_as};

pub use stem::safe_stem;

/// A file in memory.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackFile {
    /// Its name, without a folder.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

impl PackFile {
    fn new(stem: &str, end: &str, bytes: Vec<u8>) -> Self {
        Self { name: format!("{stem}{end}"), bytes }
    }
}

/// All files of a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Everything {
    /// The files, the PDF of the sheets first.
    pub files: Vec<PackFile>,
    /// How many sheets there are.
    pub sheets: usize,
    /// Labels that found no room on any sheet; the lists have them.
    pub omitted: Vec<String>,
}

/// How far the work has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Chapters are composed: how many are done, and how many there are.
    Drawing(usize, usize),
    /// Sheets are written: how many are done, and how many there are.
    Writing(usize, usize),
}

/// Why there is no pack.
#[derive(Debug, thiserror::Error)]
pub enum PackError {
    /// The sheets cannot be composed.
    #[error(transparent)]
    Compose(ComposeError),
    /// The PDF cannot be put together.
    #[error(transparent)]
    Pdf(PdfError),
    /// A list cannot be put together.
    #[error(transparent)]
    List(#[from] lists::ListError),
    /// Whoever watches the work had it stopped.
    #[error("the writing of the pack was stopped")]
    Stopped,
}

impl From<ComposeError> for PackError {
    fn from(error: ComposeError) -> Self {
        match error {
            ComposeError::Stopped => Self::Stopped,
            error => Self::Compose(error),
        }
    }
}

impl From<PdfError> for PackError {
    fn from(error: PdfError) -> Self {
        match error {
            PdfError::Stopped => Self::Stopped,
            error => Self::Pdf(error),
        }
    }
}

/// The sheets with the cutting plan among them, and their PDF. `goes_on` is told before each step what is done, and says
/// whether to go on.
///
/// # Errors
/// The sheets cannot be composed or written, or the work was stopped.
pub fn sheets_as_pdf(
    scene: &Scene<'_>,
    options: &PackOptions,
    goes_on: &mut dyn FnMut(Step) -> bool,
) -> Result<(Vec<u8>, Pack), PackError> {
    let chapters = Chapter::ALL.len();
    let pack = pack_watched(scene, options, &mut |done| goes_on(Step::Drawing(done, chapters)))?;
    let count = pack.sheets.len();
    let mut watch = |done| goes_on(Step::Writing(done, count));
    let pdf = pdf_pack_watched(&pack.sheets, &scene.design.title, &mut watch)?;
    Ok((pdf, pack))
}

/// All files of a pack, their names beginning with `stem`: PDF and SVG of the sheets, the worktop in full size where it is
/// more than a rectangle, the lists, and the stock that is left after cutting by `plan`. `goes_on` as in
/// [`sheets_as_pdf()`].
///
/// # Errors
/// The sheets cannot be composed or written, or the work was stopped.
pub fn everything(
    scene: &Scene<'_>,
    plan: &CuttingPlan,
    options: PackOptions,
    stem: &str,
    goes_on: &mut dyn FnMut(Step) -> bool,
) -> Result<Everything, PackError> {
    let options = PackOptions { cutting: Some(plan.clone()), ..options };
    let (pdf, pack) = sheets_as_pdf(scene, &options, goes_on)?;
    let file = |end: &str, bytes: Vec<u8>| PackFile::new(stem, end, bytes);
    let mut files = vec![file(".pdf", pdf)];
    for (sheet, number) in pack.sheets.iter().zip(1..) {
        files.push(file(&format!("-{number:02}.svg"), svg_sheet(sheet).into_bytes()));
    }
    files.extend(template(scene, stem)?);
    files.push(file("-parts.csv", lists::parts(scene)?));
    files.push(file("-banding.csv", lists::banding(scene, plan)?));
    files.push(file("-fittings.csv", lists::fittings(scene)?));
    files.push(file("-cutting.csv", lists::cutting(scene, plan)?));
    files.push(file("-buying.csv", lists::buying(scene, plan)?));
    let form = TableForm::of(lists::mark(scene));
    let left = write_table_as(&remains(scene.design, plan), scene.design.unit, form);
    files.push(file("-stock-after.csv", left.into_bytes()));
    Ok(Everything { files, sheets: pack.sheets.len(), omitted: pack.omitted })
}

/// The worktop in full size, as pages to put together (PDF) and as one drawing for a cutter (SVG); nothing for a plain
/// rectangle.
fn template(scene: &Scene<'_>, stem: &str) -> Result<Vec<PackFile>, PdfError> {
    let Some(display) = worktop_full_size(scene) else { return Ok(Vec::new()) };
    let mut tiles = worktop_template(scene);
    number_sheets(&mut tiles);
    let title = format!("{}, {}", scene.design.title, scene.say("worktop template"));
    let pdf = pdf_pack(&tiles, &title)?;
    let bounds = display.bounds().unwrap_or_default();
    let mut moved = Display::new();
    moved.append_mapped(&display, Affine::translate(-bounds.origin().to_vec2()));
    let svg = svg_display(&moved, bounds.width(), bounds.height(), LineGroup::HALF, &title);
    let files = [("-worktop-template.pdf", pdf), ("-worktop.svg", svg.into_bytes())];
    Ok(files.into_iter().map(|(end, bytes)| PackFile::new(stem, end, bytes)).collect())
}

/// Whether a file with this name is one that [`everything()`] would give with this stem, so that it would be replaced.
#[must_use]
pub fn is_of_pack(name: &str, stem: &str) -> bool {
    let is_other = name.strip_prefix(stem).is_some_and(|end| ENDS.contains(&end));
    is_other || sheet_number(name, stem).is_some()
}

/// What the names of a pack end with, beside the SVG sheets.
const ENDS: [&str; 9] = [
    ".pdf",
    "-worktop-template.pdf",
    "-worktop.svg",
    "-parts.csv",
    "-banding.csv",
    "-fittings.csv",
    "-cutting.csv",
    "-buying.csv",
    "-stock-after.csv",
];

/// The number that the name of an SVG sheet of this stem carries; nothing for other files.
#[must_use]
pub fn sheet_number(name: &str, stem: &str) -> Option<usize> {
    name.strip_prefix(stem)?.strip_prefix('-')?.strip_suffix(".svg")?.parse().ok()
}

#[cfg(test)]
mod tests;
