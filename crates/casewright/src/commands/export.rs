//! `casewright export`: the whole pack into a folder, sheets as PDF and SVG, lists as CSV.

use std::path::Path;

use casewright_core::finding::Severity;
use casewright_desktop::files::folder::older_sheets;
use casewright_drawing::Language;
use casewright_drawing::furniture::{Chapter, PackOptions, Scene};
use casewright_pack::{everything, safe_stem};
use casewright_stock::PlanOptions;

use crate::failure::{CLEAN, Failure};
use crate::source::Source;
use crate::{files, print, warn};

/// Writes everything into the folder, named after the design file.
///
/// Findings do not keep a design from being drawn; errors among them are told on the standard error.
///
/// # Errors
/// The design cannot be read or cannot be solved; it cannot be drawn; something cannot be written.
pub(crate) fn run(file: &Path, out: &Path, only: Vec<Chapter>, language: Language) -> Result<u8, Failure> {
    let work = Source::read(file)?.said_in(language).derive()?;
    let stem = safe_stem(file);
    let plan = casewright_stock::plan(&work.design, &work.assembly, &PlanOptions::default())
        .map_err(|error| Failure::file(file, error.to_string(), "change the part or the board"))?;
    let speech = Scene::from(&work).speech_of(language);
    let scene = Scene::from(&work).in_language(&speech);
    let options = PackOptions { only, ..PackOptions::default() };
    let pack =
        everything(&scene, &plan, options, &stem, &mut |_| true).map_err(|error| Failure::cause(file, &error))?;
    let written: Vec<_> = pack.files.into_iter().map(|it| (it.name, it.bytes)).collect();
    files::write_into_folder(out, &written)?;
    for (name, _) in &written {
        print(&format!("{}\n", out.join(name).display()))?;
    }
    for left in older_sheets(out, &stem, pack.sheets) {
        warn(&format!(
            "{}: comes from an older export and was left alone; delete it if it is not wanted",
            left.display()
        ));
    }
    if !pack.omitted.is_empty() {
        let (name, labels) = (file.display(), pack.omitted.join("; "));
        warn(&format!("{name}: the sheets have no room for these labels, the lists have them: {labels}"));
    }
    let errors = work.findings.iter().filter(|finding| finding.severity == Severity::Error).count();
    if errors > 0 {
        let (name, some) = (file.display(), if errors == 1 { "finding is an error" } else { "findings are errors" });
        warn(&format!("{name}: {errors} {some}; run `casewright check {name}` before anything is cut"));
    }
    Ok(CLEAN)
}
