//! How the whole way grows with the piece: a made-up wall of 10 to 1000 bays, from the design to everything derived, to the
//! front elevation as the window shows it, to composed sheets and to the PDF, with the peak memory of each size in a
//! process of its own. `cargo bench --workspace --bench growth` prints the table of docs/benchmarks.md.
#![allow(clippy::print_stdout, reason = "a benchmark that tells its figures")]

#[path = "../../crates/core/tests/wall_of_bays/mod.rs"]
mod wall_of_bays;

use std::process::Command;
use std::time::{Duration, Instant};

use casewright_core::checks::{self, CheckOptions};
use casewright_core::design::Design;
use casewright_core::{build_plan, jigs, joinery, pipeline, solve};
use casewright_drawing::furniture::{PackOptions, Scene, front_elevation, pack};
use casewright_drawing::{DimensionStyle, Format, pdf_pack};

/// Columns, and bays in each. A piece of more than 10 m is refused, so that a thousand bays must also be stacked high.
const WALLS: [(usize, usize); 5] = [(1, 10), (3, 10), (10, 10), (30, 10), (28, 36)];
/// Which of them a process is asked for.
const ASKED: &str = "CASEWRIGHT_WALL";

fn main() {
    let asked = std::env::var(ASKED).ok().and_then(|it| it.parse::<usize>().ok());
    if let Some((columns, rows)) = asked.and_then(|it| WALLS.get(it)) {
        println!("{}", row(*columns, *rows));
        return;
    }
    println!(
        "| bays | solve | joints checked | blocks | order of work | checks | all derived | front view | sheets | PDF | sheets, number | peak memory |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|---|---|");
    let program = std::env::current_exe().unwrap_or_else(|error| panic!("{error}"));
    for wall in 0..WALLS.len() {
        let out =
            Command::new(&program).env(ASKED, wall.to_string()).output().unwrap_or_else(|error| panic!("{error}"));
        print!("{}{}", String::from_utf8_lossy(&out.stdout), String::from_utf8_lossy(&out.stderr));
    }
}

/// The median of several runs, fewer of what takes long; and what came of it.
fn timed<T>(run: impl Fn() -> T) -> (Duration, T) {
    let once = || {
        let begun = Instant::now();
        let it = std::hint::black_box(run());
        (begun.elapsed(), it)
    };
    let (first, mut it) = once();
    let runs = if first > Duration::from_secs(2) {
        0
    } else if first > Duration::from_millis(200) {
        2
    } else {
        10
    };
    let mut times = vec![first];
    for _ in 0..runs {
        let (time, again) = once();
        times.push(time);
        it = again;
    }
    times.sort();
    (times[times.len() / 2], it)
}

fn row(columns: usize, rows: usize) -> String {
    let design =
        Design::from_ron(&wall_of_bays::wall_of_bays(columns, rows)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let resolved = design.resolve().unwrap_or_else(|faults| panic!("{faults:?}"));
    let (solving, _) = timed(|| solve::solve(&resolved).map(|it| it.layout.bays.len()));
    let (deriving, derived) = timed(|| pipeline::derive(&design).unwrap_or_else(|error| panic!("{error}")));
    let pipeline::Derived { design: resolved, layout, assembly, leads, .. } = &derived;
    let (joints, _) = timed(|| joinery::check_and_mend(resolved, layout, assembly).len());
    let (blocks, _) = timed(|| jigs::plan(assembly));
    let (order, _) =
        timed(|| build_plan::on_every_edit(resolved, layout, assembly, leads).map_or(0, |it| it.steps.len()));
    let (checking, _) = timed(|| checks::all(resolved, layout, assembly, &CheckOptions::of(resolved)).len());
    let scene = Scene::from(&derived);
    let style = DimensionStyle::default();
    let (viewing, _) = timed(|| front_elevation(&scene).lay_out(0.1, &style).display.items.len());
    // A wall of ten metres each way has no room on the usual A3.
    let format = if rows > 10 { Format::A0 } else { Format::A3 };
    let options = PackOptions { format, ..PackOptions::default() };
    let (composing, pack) = timed(|| pack(&scene, &options).unwrap_or_else(|error| panic!("{error}")));
    let (printing, _) = timed(|| pdf_pack(&pack.sheets, "wall").map(|it| it.len()).unwrap_or_default());
    let ms = |it: Duration| {
        let ms = it.as_secs_f64() * 1000.0;
        if ms < 10.0 { format!("{ms:.2} ms") } else { format!("{ms:.0} ms") }
    };
    let times = [solving, joints, blocks, order, checking, deriving, viewing, composing, printing].map(ms).join(" | ");
    format!("| {} | {times} | {} | {} |", columns * rows, pack.sheets.len(), peak_memory())
}

/// The most memory that this process has had, as Linux tells it.
fn peak_memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let kib = status.lines().find_map(|it| it.strip_prefix("VmHWM:")).and_then(|it| it.trim().strip_suffix(" kB"));
    kib.and_then(|it| it.trim().parse::<u64>().ok())
        .map_or_else(|| "not known".to_owned(), |it| format!("{} MB", it / 1024))
}
