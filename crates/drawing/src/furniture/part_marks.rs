//! What is cut into a part, sorted for its drawing: marks for holes of one kind, and the rows of the hole table.

use std::collections::{BTreeMap, BTreeSet};

use casewright_core::Length;
use casewright_core::assembly::{Groove, Hole, Machining, Part, PartEdge, PartFace, Purpose};
use casewright_core::unit::Unit;

use super::part_words::face_word;
use super::scene::Scene;
use crate::table::{Column, Row, Table};
use crate::tag::Tag;

/// A kind of hole: diameter, and depth unless it goes through.
type Kind = (Length, Option<Length>);

/// The marks of a part: one letter for each kind of hole.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Marks {
    letters: BTreeMap<Kind, String>,
}

/// The holes of a part, in order.
pub(crate) fn holes(part: &Part) -> impl Iterator<Item = &Hole> {
    part.machining.iter().filter_map(|it| match it {
        Machining::Hole(hole) => Some(hole),
        Machining::Groove(_) => None,
    })
}

/// The grooves of a part, in order.
pub(crate) fn grooves(part: &Part) -> impl Iterator<Item = &Groove> {
    part.machining.iter().filter_map(|it| match it {
        Machining::Groove(groove) => Some(groove),
        Machining::Hole(_) => None,
    })
}

impl Marks {
    /// Letters in the order of diameter and depth.
    pub(crate) fn of(part: &Part) -> Self {
        let kinds: BTreeSet<Kind> = holes(part).map(|hole| (hole.diameter, hole.depth)).collect();
        let letters = kinds.into_iter().enumerate().map(|(index, kind)| (kind, letter(index))).collect();
        Self { letters }
    }

    /// The letter of a hole.
    pub(crate) fn of_hole(&self, hole: &Hole) -> &str {
        self.letters.get(&(hole.diameter, hole.depth)).map_or("", String::as_str)
    }
}

/// A, B ... Z, A1, B1 ...; I and O are passed over, as in grid references (ISO 5457).
fn letter(index: usize) -> String {
    const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";
    let letter = LETTERS.get(index % LETTERS.len()).map_or('?', |byte| char::from(*byte));
    match index / LETTERS.len() {
        0 => letter.to_string(),
        round => format!("{letter}{round}"),
    }
}

/// One row of the hole table: holes of one kind on one line of one face, or at one place across.
struct Line<'a> {
    across: BTreeSet<Length>,
    along: BTreeSet<Length>,
    holes: Vec<&'a Hole>,
}

/// The hole table of a part: every hole and groove, counted from the datum corner.
pub(crate) fn hole_table(scene: &Scene<'_>, part: &Part, marks: &Marks) -> Table {
    // In inches it is long, with the millimetres beside it.
    let size = match scene.design.unit {
        Unit::Millimetre { .. } => Column::code("Diameter × depth"),
        Unit::Inch { .. } => Column::words("Diameter × depth"),
    };
    let columns = vec![
        Column::code("Mark"),
        Column::figures("No."),
        size,
        Column::words("In"),
        Column::words("Along, from datum"),
        Column::words("Across, from datum"),
        Column::words("For"),
    ];
    let mut by_kind: BTreeMap<(String, PartFace), Vec<&Hole>> = BTreeMap::new();
    for hole in holes(part) {
        by_kind.entry((marks.of_hole(hole).to_owned(), hole.face)).or_default().push(hole);
    }
    let mut rows = Vec::new();
    for ((mark, face), holes) in by_kind {
        for line in lines(&holes).iter().flat_map(|line| pieces(scene, line)) {
            rows.push(hole_row(scene, part, &mark, face, &line));
        }
    }
    rows.extend(grooves(part).map(|groove| groove_row(scene, part, groove)));
    scene.table(columns, rows)
}

/// Holes in lines along the first coordinate or the second, whichever are fewer.
fn lines<'a>(holes: &[&'a Hole]) -> Vec<Line<'a>> {
    let by = |key: fn(&Hole) -> Length| {
        let mut lines: BTreeMap<Length, Vec<&'a Hole>> = BTreeMap::new();
        for hole in holes {
            lines.entry(key(hole)).or_default().push(hole);
        }
        lines
    };
    let (along, across) = (by(|hole| hole.at.1), by(|hole| hole.at.0));
    let fewer = if across.len() < along.len() { across } else { along };
    let line = |mut holes: Vec<&'a Hole>| {
        holes.sort_by_key(|hole| hole.at);
        line_of(holes)
    };
    fewer.into_values().map(line).collect()
}

fn line_of(holes: Vec<&Hole>) -> Line<'_> {
    Line {
        along: holes.iter().map(|hole| hole.at.0).collect(),
        across: holes.iter().map(|hole| hole.at.1).collect(),
        holes,
    }
}

/// A line in pieces whose places are not too long a text for one cell.
fn pieces<'a>(scene: &Scene<'_>, line: &Line<'a>) -> Vec<Line<'a>> {
    const CHARACTERS: usize = 56;
    let mut pieces: Vec<(usize, Line<'a>)> = Vec::new();
    for &hole in &line.holes {
        let long =
            [hole.at.0, hole.at.1].map(|at| scene.dimension(at).chars().count() + 2).into_iter().max().unwrap_or(0);
        if pieces.last().is_none_or(|(characters, _)| characters + long > CHARACTERS) {
            pieces.push((0, Line { across: BTreeSet::new(), along: BTreeSet::new(), holes: Vec::new() }));
        }
        if let Some((characters, piece)) = pieces.last_mut() {
            *characters += long;
            piece.along.insert(hole.at.0);
            piece.across.insert(hole.at.1);
            piece.holes.push(hole);
        }
    }
    pieces.into_iter().map(|(_, piece)| piece).collect()
}

fn hole_row(scene: &Scene<'_>, part: &Part, mark: &str, face: PartFace, line: &Line<'_>) -> Row {
    let list =
        |places: &BTreeSet<Length>| places.iter().map(|place| scene.dimension(*place)).collect::<Vec<_>>().join("; ");
    let kind = line.holes.first().map_or_else(String::new, |hole| match hole.depth {
        Some(depth) => format!("{} × {}", scene.dimension(hole.diameter), scene.dimension(depth)),
        None => format!("{} through", scene.dimension(hole.diameter)),
    });
    let where_ = face_word(part, face);
    let from_under = || format!("{where_}, {} from {}", list(&line.across), face_word(part, PartFace::Under));
    // Along an edge only one of the two runs; the other is how far from the under face.
    let (where_, along, across) = match face {
        PartFace::Under | PartFace::Over => (where_, list(&line.along), list(&line.across)),
        PartFace::Edge(PartEdge::Near | PartEdge::Far) => (from_under(), list(&line.along), "–".to_owned()),
        PartFace::Edge(PartEdge::Start | PartEdge::End) => (from_under(), "–".to_owned(), list(&line.along)),
    };
    let cells = vec![
        mark.to_owned(),
        line.holes.len().to_string(),
        scene.say(&kind),
        scene.say(&where_),
        along,
        across,
        scene.say(&together(line.holes.iter().map(|hole| &hole.purpose))),
    ];
    Row { cells, tag: Some(Tag::Part(part.number.clone())), is_section: false }
}

/// Purposes in order, each once; those that lead to parts with the numbers together: `dowel to BO, TO`.
fn together<'a>(purposes: impl Iterator<Item = &'a Purpose>) -> String {
    let mut numbers_of: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
    for purpose in purposes {
        match purpose.part_number() {
            Some(number) => numbers_of.entry(purpose.words().to_owned()).or_default().insert(number),
            None => numbers_of.entry(purpose.to_string()).or_default().insert(""),
        };
    }
    let joined = numbers_of.into_iter().map(|(words, numbers)| {
        let numbers: Vec<&str> = numbers.into_iter().collect();
        format!("{words} {}", numbers.join(", ")).trim_end().to_owned()
    });
    joined.collect::<Vec<_>>().join("; ")
}

fn groove_row(scene: &Scene<'_>, part: &Part, groove: &Groove) -> Row {
    let range = |from, to| scene.say(&format!("{} to {}", scene.dimension(from), scene.dimension(to)));
    let (u, v) = ((groove.from.0, groove.to.0), (groove.from.1, groove.to.1));
    let width = if u.1 - u.0 < v.1 - v.0 { u.1 - u.0 } else { v.1 - v.0 };
    let cells = vec![
        "–".to_owned(),
        "1".to_owned(),
        if groove.depth >= part.finished.thickness {
            scene.say("through")
        } else {
            format!("{} × {}", scene.dimension(width), scene.dimension(groove.depth))
        },
        scene.say(&face_word(part, groove.face)),
        range(u.0, u.1),
        range(v.0, v.1),
        scene.say(&groove.purpose.to_string()),
    ];
    Row { cells, tag: Some(Tag::Part(part.number.clone())), is_section: false }
}
