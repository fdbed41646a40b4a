//! `casewright export`: the sheets as PDF and SVG, the lists as CSV.

use std::path::Path;

use casewright_core::finding::Severity;
use casewright_core::stock::{CuttingPlan, remains};
use casewright_drawing::furniture::{Chapter, Pack, PackOptions, Scene, pack, worktop_full_size, worktop_template};
use casewright_drawing::kurbo::Affine;
use casewright_drawing::{Display, Language, LineGroup, number_sheets, pdf_pack, svg_display, svg_sheet};
use casewright_stock::{PlanOptions, write_table};

use crate::failure::{CLEAN, Failure};
use crate::source::Source;
use crate::{files, lists, print, warn};

/// Writes everything into the folder, named after the design file.
///
/// Findings do not keep a design from being drawn; errors among them are told on the standard error.
///
/// # Errors
/// The design cannot be read or cannot be solved; it cannot be drawn; something cannot be written.
pub(crate) fn run(file: &Path, out: &Path, only: Vec<Chapter>, language: Language) -> Result<u8, Failure> {
    let work = Source::read(file)?.said_in(language).derive()?;
    let stem = files::safe_stem(file);
    let plan = casewright_stock::plan(&work.design, &work.assembly, &PlanOptions::default())
        .map_err(|error| Failure::file(file, error.to_string(), "change the part or the board"))?;
    let speech = Scene::from(&work).speech_of(language);
    let scene = Scene::from(&work).in_language(&speech);
    let pack = sheets(file, &scene, &plan, only)?;
    let pdf = pdf_pack(&pack.sheets, &work.design.title).map_err(|error| Failure::cause(file, &error))?;
    let mut written = vec![(format!("{stem}.pdf"), pdf)];
    for (index, sheet) in pack.sheets.iter().enumerate() {
        written.push((format!("{stem}-{:02}.svg", index + 1), svg_sheet(sheet).into_bytes()));
    }
    written.extend(template(file, &stem, &scene)?);
    written.push((format!("{stem}-parts.csv"), lists::parts(&work, &speech)?));
    written.push((format!("{stem}-banding.csv"), lists::banding(&work, &plan, &speech)?));
    written.push((format!("{stem}-fittings.csv"), lists::fittings(&work, &speech)?));
    written.push((format!("{stem}-cutting.csv"), lists::cutting(&work, &plan, &speech)?));
    written.push((format!("{stem}-buying.csv"), lists::buying(&work, &plan, &speech)?));
    let remains = remains(&work.design, &plan);
    written.push((format!("{stem}-stock-after.csv"), write_table(&remains, work.design.unit).into_bytes()));
    files::write_into_folder(out, &written)?;
    for (name, _) in &written {
        print(&format!("{}\n", out.join(name).display()))?;
    }
    for left in leftovers(out, &stem, pack.sheets.len()) {
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

/// The worktop in full size, as pages to put together and as one drawing for a cutter; nothing for a plain rectangle.
fn template(file: &Path, stem: &str, scene: &Scene<'_>) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let Some(display) = worktop_full_size(scene) else { return Ok(Vec::new()) };
    let mut tiles = worktop_template(scene);
    number_sheets(&mut tiles);
    let title = format!("{}, {}", scene.design.title, scene.say("worktop template"));
    let pdf = pdf_pack(&tiles, &title).map_err(|error| Failure::cause(file, &error))?;
    let bounds = display.bounds().unwrap_or_default();
    let mut moved = Display::new();
    moved.append_mapped(&display, Affine::translate(-bounds.origin().to_vec2()));
    let svg = svg_display(&moved, bounds.width(), bounds.height(), LineGroup::HALF, &title);
    Ok(vec![(format!("{stem}-worktop-template.pdf"), pdf), (format!("{stem}-worktop.svg"), svg.into_bytes())])
}

fn sheets(file: &Path, scene: &Scene<'_>, plan: &CuttingPlan, only: Vec<Chapter>) -> Result<Pack, Failure> {
    pack(scene, &PackOptions { cutting: Some(plan.clone()), only, ..PackOptions::default() })
        .map_err(|error| Failure::cause(file, &error))
}

/// Sheets of an older export that had more of them: nobody should build from these by mistake.
fn leftovers(out: &Path, stem: &str, sheets: usize) -> Vec<std::path::PathBuf> {
    let number = |path: &Path| -> Option<usize> {
        path.file_name()?.to_str()?.strip_prefix(stem)?.strip_prefix('-')?.strip_suffix(".svg")?.parse().ok()
    };
    let mut found: Vec<(usize, std::path::PathBuf)> = std::fs::read_dir(out)
        .into_iter()
        .flatten()
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter_map(|path| Some((number(&path).filter(|number| *number > sheets)?, path)))
        .collect();
    found.sort();
    found.into_iter().map(|(_, path)| path).collect()
}
