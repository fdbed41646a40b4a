//! How long the steps from a design to a painted view take, for the files that are named.

use std::sync::Arc;
use std::time::Instant;

use casewright_desktop::pipeline::{Request, run};

fn main() {
    for file in std::env::args().skip(1) {
        let Ok(text) = std::fs::read_to_string(&file) else { continue };
        let Ok((design, _)) = casewright_core::design::Design::read(&text) else { continue };
        let language = casewright_drawing::Language::English;
        let design = Arc::new(design);
        let request = Request { serial: 0, revision: 0, design, focus: None, sheets: None, steps: false, language };
        let began = Instant::now();
        let derived = run(&request);
        eprintln!("{file}: derived in {:?}", began.elapsed());
        let began = Instant::now();
        let _lengths = casewright_desktop::lengths::Lengths::of(&request.design);
        eprintln!("  lengths in {:?}", began.elapsed());
        for (kind, view) in &derived.views {
            let began = Instant::now();
            let _placed = view.lay_out(0.1, &casewright_drawing::DimensionStyle::default());
            let all = began.elapsed();
            let mut bare = (**view).clone();
            bare.pointers.clear();
            let began = Instant::now();
            let placed = bare.lay_out(0.1, &casewright_drawing::DimensionStyle::default());
            eprintln!(
                "  {kind:?} laid out in {all:?}, without numbers {:?}, {} items",
                began.elapsed(),
                placed.display.items.len()
            );
        }
    }
}
