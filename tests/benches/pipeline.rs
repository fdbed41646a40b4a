//! The whole way through, measured: solving at 12 to 1000 bays beside the bare call of the numeric library on the same
//! demands, file to display lists, and the PDF pack. Run with `cargo bench -p casewright-tests --bench pipeline`.

use casewright_core::axis::{AxisProblem, Face, MustKind, Span, WishKind};
use casewright_core::design::{Design, Resolved};
use casewright_core::{pipeline, solve};
use casewright_drawing::furniture::{
    PackOptions, Scene, front_elevation, front_elevation_with_fronts, isometric_view, pack, plan_section, side_section,
};
use casewright_drawing::{DimensionStyle, pdf_pack};
use casewright_tests::program;
use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, SupportedConeT};

fn main() {
    divan::main();
}

/// Open bays in columns of at least six, so that both axes have work.
fn cabinet(bays: usize) -> Resolved {
    let columns = bays.div_ceil(6).min(24);
    let rows = bays.div_ceil(columns);
    let column = |i: usize| {
        let rows: Vec<String> = (0..rows)
            .map(|j| {
                let height = if j == 1 { "height: AtLeast(120), " } else { "" };
                format!("(name: \"b{i}-{j}\", {height}inside: Open())")
            })
            .collect();
        format!("(name: \"c{i}\", inside: Up(bays: [{}]))", rows.join(", "))
    };
    let text = format!(
        "(schema: 1, title: \"t\", unit: Millimetre(step: 0.5), materials: {{\"ply\": (thickness: 18, kind: Plywood)}},
          carcass: (envelope: (width: Fixed({}), height: Fixed({}), depth: Fixed(400)), construction: (board: \"ply\"),
          bay: (name: \"all\", inside: Across(bays: [{}]))))",
        columns * 400 + 18,
        rows * 220 + 18,
        (0..columns).map(column).collect::<Vec<_>>().join(", ")
    );
    let design = Design::from_ron(&text).unwrap_or_else(|faults| panic!("{faults:?}"));
    design.resolve().unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// One row of a matrix: coefficients by unknown, and the right-hand side.
struct Line {
    terms: Vec<(usize, f64)>,
    right: f64,
}

fn span_terms(span: Span, factor: f64, line: &mut Line) {
    let mut add = |face: Face, factor: f64| {
        if let Some(var) = face.var {
            line.terms.push((var.0, factor));
        }
        line.right -= factor * face.offset.mm();
    };
    add(span.hi, factor);
    add(span.lo, -factor);
    line.right -= factor * span.constant.mm();
}

fn line(parts: &[(Span, f64)], right: f64) -> Line {
    let mut line = Line { terms: Vec::new(), right };
    for (span, factor) in parts {
        span_terms(*span, *factor, &mut line);
    }
    line
}

/// The demands of an axis as the matrices of a quadratic program, just as they stand.
struct Raw {
    p: CscMatrix<f64>,
    q: Vec<f64>,
    a: CscMatrix<f64>,
    b: Vec<f64>,
    cones: Vec<SupportedConeT<f64>>,
}

fn raw(problem: &AxisProblem) -> Raw {
    let (mut equal, mut below) = (Vec::new(), Vec::new());
    for must in &problem.musts {
        match must.kind {
            MustKind::Exactly(span, length) => equal.push(line(&[(span, 1.0)], length.mm())),
            MustKind::Equal(a, b) => equal.push(line(&[(a, 1.0), (b, -1.0)], 0.0)),
            MustKind::InLine(a, b) => equal.push(line(&[(Span::between(a, b), 1.0)], 0.0)),
            MustKind::AtMost(span, length) => below.push(line(&[(span, 1.0)], length.mm())),
            MustKind::AtLeast(span, length) => below.push(line(&[(span, -1.0)], -length.mm())),
        }
    }
    let cones = vec![SupportedConeT::ZeroConeT(equal.len()), SupportedConeT::NonnegativeConeT(below.len())];
    let rows: Vec<Line> = equal.into_iter().chain(below).collect();
    let (mut i, mut j, mut v) = (Vec::new(), Vec::new(), Vec::new());
    for (row, line) in rows.iter().enumerate() {
        for (var, factor) in &line.terms {
            i.push(row);
            j.push(*var);
            v.push(*factor);
        }
    }
    let a = CscMatrix::new_from_triplets(rows.len(), problem.vars, i, j, v);
    let b = rows.iter().map(|line| line.right).collect();

    let mut q = vec![0.0; problem.vars];
    let (mut i, mut j, mut v) = (Vec::new(), Vec::new(), Vec::new());
    for wish in &problem.wishes {
        let residual = match wish.kind {
            WishKind::Size { span, target } => line(&[(span, 1.0)], target.mm()),
            WishKind::Proportion { a, share_a, b, share_b } => {
                let sum = share_a + share_b;
                line(&[(a, share_b / sum), (b, -share_a / sum)], 0.0)
            }
            WishKind::Position { face, position } => {
                line(&[(Span::between(Face::fixed(Default::default()), face), 1.0)], position.mm())
            }
        };
        for (var, factor) in &residual.terms {
            q[*var] -= wish.weight * factor * residual.right;
            for (other, second) in &residual.terms {
                if var <= other {
                    i.push(*var);
                    j.push(*other);
                    v.push(wish.weight * factor * second);
                }
            }
        }
    }
    Raw { p: CscMatrix::new_from_triplets(problem.vars, problem.vars, i, j, v), q, a, b, cones }
}

const BAYS: [usize; 4] = [12, 60, 300, 1000];

#[divan::bench(args = BAYS)]
fn solve_design(bencher: divan::Bencher<'_, '_>, bays: usize) {
    let design = cabinet(bays);
    bencher.bench(|| solve::solve(divan::black_box(&design)).map(|solved| solved.layout.bays.len()));
}

#[divan::bench(args = BAYS)]
fn solve_axes_only(bencher: divan::Bencher<'_, '_>, bays: usize) {
    let problems = solve::axis_problems(&cabinet(bays)).unwrap_or_else(|error| panic!("{error}"));
    bencher.bench(|| divan::black_box(&problems).iter().all(|it| casewright_core::axis::solve(it).is_ok()));
}

#[divan::bench(args = BAYS)]
fn raw_quadratic_programs(bencher: divan::Bencher<'_, '_>, bays: usize) {
    let problems = solve::axis_problems(&cabinet(bays)).unwrap_or_else(|error| panic!("{error}"));
    let raws: Vec<Raw> = problems.iter().map(raw).collect();
    let settings = DefaultSettings { verbose: false, ..DefaultSettings::default() };
    bencher.bench(|| {
        for raw in &raws {
            let mut solver = DefaultSolver::new(&raw.p, &raw.q, &raw.a, &raw.b, &raw.cones, settings.clone())
                .unwrap_or_else(|error| panic!("{error}"));
            solver.solve();
            divan::black_box(&solver.solution.x);
        }
    });
}

fn laundry() -> String {
    let file = program::root().join("demo/laundry-alcove.ron");
    std::fs::read_to_string(&file).unwrap_or_else(|error| panic!("{}: {error}", file.display()))
}

/// Read, solve, build, check, and lay out the five views as the window shows them.
#[divan::bench]
fn laundry_file_to_display_lists(bencher: divan::Bencher<'_, '_>) {
    let text = laundry();
    let style = DimensionStyle::default();
    bencher.bench(|| {
        let design = Design::from_ron(divan::black_box(&text)).unwrap_or_else(|faults| panic!("{faults:?}"));
        let derived = pipeline::derive(&design).unwrap_or_else(|error| panic!("{error}"));
        let scene = Scene::from(&derived);
        let bay = derived.layout.bay("wash").unwrap_or_else(|| panic!("the demo has such a bay"));
        let views = [
            front_elevation(&scene),
            front_elevation_with_fronts(&scene),
            side_section(&scene, bay, "A").0,
            plan_section(&scene, bay, "B").0,
            isometric_view(&scene, false),
        ];
        views.map(|view| view.lay_out(0.1, &style).display.items.len())
    });
}

/// The same, and the whole pack of sheets composed: scales tried, views placed, parts numbered, lists set.
#[divan::bench]
fn laundry_file_to_composed_sheets(bencher: divan::Bencher<'_, '_>) {
    let text = laundry();
    bencher.bench(|| {
        let design = Design::from_ron(divan::black_box(&text)).unwrap_or_else(|faults| panic!("{faults:?}"));
        let derived = pipeline::derive(&design).unwrap_or_else(|error| panic!("{error}"));
        pack(&Scene::from(&derived), &PackOptions::default()).map(|pack| pack.sheets.len())
    });
}

#[divan::bench]
fn laundry_derive(bencher: divan::Bencher<'_, '_>) {
    let design = Design::from_ron(&laundry()).unwrap_or_else(|faults| panic!("{faults:?}"));
    bencher.bench(|| pipeline::derive(divan::black_box(&design)).map(|derived| derived.assembly.parts.len()));
}

#[divan::bench]
fn pdf_of_thirty_sheets(bencher: divan::Bencher<'_, '_>) {
    let design = Design::from_ron(&laundry()).unwrap_or_else(|faults| panic!("{faults:?}"));
    let derived = pipeline::derive(&design).unwrap_or_else(|error| panic!("{error}"));
    let sheets = pack(&Scene::from(&derived), &PackOptions::default()).unwrap_or_else(|error| panic!("{error}")).sheets;
    let thirty: Vec<_> = sheets.iter().cycle().take(30).cloned().collect();
    bencher.bench(|| pdf_pack(divan::black_box(&thirty), "thirty").map(|pdf| pdf.len()));
}
