//! Writes the sheets of a design file, to look at: `cargo run -p casewright-drawing --example design_sheets FILE [DIR [de]]`.

use std::error::Error;
use std::time::Instant;

use casewright_core::design::Design;
use casewright_core::pipeline::derive;
use casewright_drawing::furniture::{PackOptions, Scene, pack};
use casewright_drawing::place::collisions;
use casewright_drawing::{Language, pdf_pack, svg_sheet};

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let file = arguments.next().ok_or("which design file?")?;
    let dir = std::path::PathBuf::from(arguments.next().unwrap_or_else(|| "target/design_sheets".to_owned()));
    std::fs::create_dir_all(&dir)?;
    let text = std::fs::read_to_string(file)?;
    let design = Design::from_ron(&text).map_err(|faults| format!("{faults:?}"))?;
    let derived = derive(&design).map_err(|error| error.to_string())?;
    let language = arguments.next().and_then(|code| Language::of_code(&code)).unwrap_or_default();
    let speech = Scene::from(&derived).speech_of(language);
    let scene = Scene::from(&derived).in_language(&speech);
    let start = Instant::now();
    let plan = casewright_stock::plan(&derived.design, &derived.assembly, &casewright_stock::PlanOptions::default())?;
    let pack = pack(&scene, &PackOptions { cutting: Some(plan), ..PackOptions::default() })?;
    let displays: Vec<_> = pack.sheets.iter().map(|sheet| sheet.display()).collect();
    eprintln!(
        "{} parts, {} sheets to display lists in {:?}",
        derived.assembly.parts.len(),
        displays.len(),
        start.elapsed()
    );
    let start = Instant::now();
    let bytes = pdf_pack(&pack.sheets, &derived.design.title)?;
    eprintln!("PDF: {} bytes in {:?}", bytes.len(), start.elapsed());
    std::fs::write(dir.join("sheets.pdf"), bytes)?;
    for sheet in &pack.sheets {
        let number = sheet.title_block.sheet_number;
        std::fs::write(dir.join(format!("sheet-{number}.svg")), svg_sheet(sheet))?;
        for collision in collisions(&sheet.display()) {
            eprintln!("sheet {number}: {collision:?}");
        }
    }
    for omitted in &pack.omitted {
        eprintln!("no room: {omitted}");
    }
    Ok(())
}
