//! Measures the crate on the published sets and prints tables: `cargo run --release -p casewright-cutting --example
//! measure -- SET [SECONDS]`, with SET one of gcut, cgcut, classic, bars (each also with -kerf), class-fixed, class-turned, nice, growth. SECONDS below 0: so many hundred million units of work.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a tool for the developers: it prints and stops"
)]

mod sets;

use std::collections::BTreeMap;

use casewright_cutting::{
    Axis, Board, Effort, Goal, Objective, Piece, Plan, RawEdges, Saw, Status, Unwatched, check_bars, check_plan, cut,
    cut_bars, fill,
};

/// One result for `tests/scripts/compare_rectpack.py`, when rows are asked for.
fn row(set: &str, instance: &str, value: i128, seconds: f64) {
    if std::env::var_os("MEASURE_ROWS").is_some() {
        println!("row,{set},{instance},{value},{seconds:.3}");
    }
}

/// Processor time of this program: the clock would also count what other programs do. The clock where that is not known.
fn seconds_used() -> f64 {
    let text = std::fs::read_to_string("/proc/self/schedstat").unwrap_or_default();
    text.split_whitespace().next().and_then(|w| w.parse::<f64>().ok()).map_or_else(
        || std::time::UNIX_EPOCH.elapsed().map_or(0.0, |t| t.as_secs_f64()),
        |nanoseconds| nanoseconds * 1e-9,
    )
}

/// Seconds, or when below 0 as many hundred million units of work.
fn effort(seconds: f64) -> Effort {
    if seconds < 0.0 { Effort::work((-seconds * 1e8) as u64) } else { Effort::seconds(seconds) }
}

fn many(instance: &sets::ManyBoards, fixed: bool, least: Objective, seconds: f64) -> (Plan, f64) {
    let (stock, pieces) = instance.question(fixed);
    let goal = Goal { least, ..Goal::default() };
    let effort = effort(seconds);
    let start = seconds_used();
    let plan = cut(&stock, &pieces, &Saw::default(), &goal, &effort, &Unwatched).expect("sound question");
    let time = seconds_used() - start;
    if let Err(flaws) = check_plan(&stock, &pieces, &Saw::default(), &goal, &plan) {
        panic!("{}: {flaws:?}", instance.name);
    }
    (plan, time)
}

fn classes(fixed: bool, seconds: f64, filter: &str) {
    let root = sets::beside().expect("the published sets beside the repository");
    let tag = if fixed { "2BP|O|G" } else { "2BP|R|G" };
    let known: BTreeMap<String, i64> = sets::best_known(&root, "2bp_class")
        .into_iter()
        .filter(|(_, problem, _)| problem.starts_with(tag))
        .map(|(name, _, value)| (name.chars().take(11).collect(), value))
        .collect();
    let mut rows: BTreeMap<String, (i128, i128, i64, f64)> = BTreeMap::new();
    for instance in sets::classes(&root).iter().filter(|i| i.name.contains(filter)) {
        let (plan, time) = many(instance, fixed, Objective::FewestBoards, seconds);
        row(if fixed { "class-fixed" } else { "class-turned" }, &instance.name, plan.value, time);
        let row = rows.entry(instance.name.chars().take(11).collect()).or_default();
        row.0 += plan.value;
        row.1 += plan.bound;
        row.2 += i64::from(plan.status == Status::ProvenBest);
        row.3 = row.3.max(time);
    }
    println!("set          boards  published  bound  proven  longest s");
    let mut sum = (0, 0, 0, 0, 0f64);
    for (name, (value, bound, proven, time)) in rows {
        let best = known.get(&name).copied().unwrap_or(0);
        println!("{name}  {value:6}  {best:9}  {bound:5}  {proven:6}  {time:.2}");
        sum = (sum.0 + value, sum.1 + best, sum.2 + bound, sum.3 + proven, sum.4.max(time));
    }
    let over = (sum.0 as f64 / sum.1 as f64 - 1.0) * 100.0;
    println!("all          {:6}  {:9}  {:5}  {:6}  {:.2}   {over:+.3} %", sum.0, sum.1, sum.2, sum.3, sum.4);
}

fn nice(seconds: f64, filter: &str) {
    let root = sets::beside().expect("the published sets beside the repository");
    let mut rows: BTreeMap<String, (f64, u32, u32, f64)> = BTreeMap::new();
    for instance in sets::nice(&root).iter().filter(|i| i.name.contains(filter)) {
        let (plan, time) = many(instance, true, Objective::LeastArea, seconds);
        row("nice", &instance.name, plan.value, time);
        let group: String = instance.name.split('b').next().unwrap_or("").to_owned();
        let row = rows.entry(group).or_default();
        row.0 += 1e8 / plan.value as f64;
        row.1 += 1;
        row.2 += u32::from(plan.status == Status::ProvenBest);
        row.3 = row.3.max(time);
    }
    let mut sum = (0.0, 0, 0);
    for (name, (used, count, proven, time)) in rows {
        println!("{name:9}  {:6.2} %  {proven}/{count}  {time:.2}", used / f64::from(count));
        sum = (sum.0 + used, sum.1 + count, sum.2 + proven);
    }
    println!("all        {:6.2} %  {}/{}", sum.0 / f64::from(sum.1), sum.2, sum.1);
}

/// Sets of one board.
fn patterns(
    set: &str,
    list: &[sets::OneBoard],
    known: &BTreeMap<String, i64>,
    fixed: bool,
    kerf: sets::Kerf,
    seconds: f64,
) {
    let (mut best, mut proven, mut all) = (0, 0, 0);
    for instance in list {
        let (board, wanted) = instance.question(fixed, kerf);
        let saw = Saw { kerf: kerf.1, trim: 0 };
        let start = seconds_used();
        let found =
            fill(&board, &wanted, &saw, &Goal::default(), &effort(seconds), &Unwatched).expect("sound question");
        let time = seconds_used() - start;
        row(set, &instance.name, found.value, time);
        let target = known.get(&instance.name.to_lowercase()).copied().unwrap_or(0);
        let hit = found.value == i128::from(target);
        let sure = found.status == Status::ProvenBest;
        println!(
            "{:8} {:9} published {:9} bound {:9} {} {} {time:.2} s, work {}",
            instance.name,
            found.value,
            target,
            found.bound,
            if hit { "=" } else { "DIFFERS" },
            if sure { "proven" } else { "NOT PROVEN" },
            found.work
        );
        best += u32::from(hit);
        proven += u32::from(hit && sure);
        all += 1;
    }
    println!("{best} of {all} at the published optimum, {proven} proven");
}

fn one_board(set: &str, kerf: bool, seconds: f64, filter: &str) {
    let root = sets::beside().unwrap_or_else(sets::committed);
    let kerf = sets::KERFS[usize::from(kerf)];
    for fixed in [true, false] {
        let (mut list, folder) = match set {
            "gcut" => (sets::gcut(&root), "gcut"),
            "cgcut" => (sets::cgcut(&root), "cgcut"),
            _ => (sets::classic(&root), "classic_constrained_guillotine"),
        };
        list.retain(|i| i.name.contains(filter));
        let known = sets::best_known(&root, folder)
            .into_iter()
            .filter(|(_, problem, _)| problem.contains("rotation allowed") != fixed && !problem.starts_with("UN"))
            .map(|(name, _, value)| (name.to_lowercase().split(' ').next().unwrap_or("").to_owned(), value))
            .collect();
        if fixed || set == "gcut" {
            patterns(&format!("{set}-{}", if fixed { "fixed" } else { "turned" }), &list, &known, fixed, kerf, seconds);
        }
    }
}

fn bars(seconds: f64, filter: &str, kerf: bool) {
    let root = sets::beside().unwrap_or_else(sets::committed);
    let known = sets::bars_known(&root);
    let kerf = sets::KERFS[usize::from(kerf)];
    let saw = Saw { kerf: kerf.1, trim: 0 };
    let mut rows: BTreeMap<String, (u32, u32, u32, u32, f64)> = BTreeMap::new();
    for instance in sets::bars(&root).iter().filter(|i| i.name.contains(filter)) {
        let Some(&target) = known.get(&instance.name) else {
            println!("{}: no published value", instance.name);
            continue;
        };
        let (stock, pieces) = instance.question(kerf);
        let start = seconds_used();
        let plan =
            cut_bars(&stock, &pieces, &saw, &Goal::default(), &effort(seconds), &Unwatched).expect("sound question");
        let time = seconds_used() - start;
        if let Err(flaws) = check_bars(&stock, &pieces, &saw, &Goal::default(), &plan) {
            panic!("{}: {flaws:?}", instance.name);
        }
        assert!(plan.bound <= i128::from(target), "{}: bound {} above {target}", instance.name, plan.bound);
        let hit = plan.value == i128::from(target);
        if !hit {
            println!(
                "{}: {} bars, published {target}, bound {}, work {}",
                instance.name, plan.value, plan.bound, plan.work
            );
        }
        row("bars", &instance.name, plan.value, time);
        let group = instance.name.split([':', '/']).take(2).collect::<Vec<_>>().join("/");
        let group = if group.contains("bin1data") || group.contains("bin2data") {
            format!(
                "{group} {}",
                instance.name.split(':').next_back().unwrap_or("").chars().take(2).collect::<String>()
            )
        } else {
            group
        };
        let row = rows.entry(group).or_default();
        row.0 += 1;
        row.1 += u32::from(hit);
        row.2 += u32::from(plan.status == Status::ProvenBest);
        row.3 += u32::from(time > 1.0);
        row.4 = row.4.max(time);
    }
    let mut sum = (0, 0, 0, 0);
    println!("set: instances, optimum, proven, over 1 s, longest s");
    for (name, (all, hit, proven, slow, time)) in rows {
        println!("{name:32} {all:4} {hit:4} {proven:4} {slow:3} {time:.2}");
        sum = (sum.0 + all, sum.1 + hit, sum.2 + proven, sum.3 + slow);
    }
    println!(
        "{:32} {:4} {:4} {:4} {:3}   {:.2} %",
        "all",
        sum.0,
        sum.1,
        sum.2,
        sum.3,
        f64::from(sum.1) * 100.0 / f64::from(sum.0)
    );
}

/// Our own random orders: how time, quality and memory grow with the number of pieces. Sheets 2800 x 2070 mm, saw 3.2 mm,
/// sides between 80 and 900 mm in steps of 1 mm, half of the pieces with grain.
fn growth(seconds: f64) {
    println!("pieces  boards  bound  above bound %  time s  peak memory MB");
    for count in [20u32, 50, 100, 200, 500, 1000, 2000] {
        let mut state = u64::from(count);
        let mut number = |from: i64, to: i64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            from + ((state >> 33) as i64) % (to - from + 1)
        };
        let mm = 1_000_000;
        let sheet = Board { grain: Some(Axis::X), raw: RawEdges::ALL, ..Board::new("sheet", 2800 * mm, 2070 * mm) };
        let pieces: Vec<Piece> = (0..count)
            .map(|i| Piece {
                grain: (i % 2 == 0).then_some(Axis::X),
                ..Piece::new("piece", number(80, 900) * mm, number(80, 900) * mm)
            })
            .collect();
        let saw = Saw { kerf: 3_200_000, trim: 10 * mm };
        let stock = [sheet];
        let start = seconds_used();
        let plan = cut(&stock, &pieces, &saw, &Goal::default(), &effort(seconds), &Unwatched).expect("sound question");
        let time = seconds_used() - start;
        check_plan(&stock, &pieces, &saw, &Goal::default(), &plan).expect("a plan without flaws");
        let peak = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
        let peak = peak.lines().find_map(|l| l.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.parse::<f64>().ok());
        let above = (plan.value as f64 / plan.bound as f64 - 1.0) * 100.0;
        let peak = peak.unwrap_or(0.0) / 1024.0;
        println!("{count:6}  {:6}  {:5}  {above:13.1}  {time:6.2}  {peak:.0}", plan.value, plan.bound);
    }
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let seconds = words.get(2).and_then(|w| w.parse().ok()).unwrap_or(1.0);
    let filter = words.get(3).map_or("", String::as_str);
    match words.get(1).map(String::as_str) {
        Some("class-fixed") => classes(true, seconds, filter),
        Some("class-turned") => classes(false, seconds, filter),
        Some(set @ ("gcut" | "cgcut" | "classic")) => one_board(set, false, seconds, filter),
        Some(set @ ("gcut-kerf" | "cgcut-kerf" | "classic-kerf")) => {
            one_board(set.trim_end_matches("-kerf"), true, seconds, filter);
        }
        Some("bars") => bars(seconds, filter, false),
        Some("bars-kerf") => bars(seconds, filter, true),
        Some("growth") => growth(seconds),
        Some("nice") => nice(seconds, filter),
        _ => println!(
            "measure gcut|cgcut|classic|bars[-kerf]|class-fixed|class-turned|nice|growth [SECONDS] [PART OF NAME]"
        ),
    }
}
