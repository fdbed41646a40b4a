//! Readers of the published instance sets. Sources and licences: `tests/data/cutting/README.md`.
#![allow(dead_code, reason = "each user reads some of the sets")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// One board, limited or unlimited copies: find the most valuable guillotine pattern.
pub(crate) struct OneBoard {
    pub(crate) name: String,
    pub(crate) board: (i64, i64),
    /// width, height, copies (`None`: unlimited), value
    pub(crate) pieces: Vec<(i64, i64, Option<u32>, i64)>,
}

/// Many boards, every piece once.
pub(crate) struct ManyBoards {
    pub(crate) name: String,
    /// width, height, stock (`None`: unlimited)
    pub(crate) boards: Vec<(i64, i64, Option<u32>)>,
    pub(crate) pieces: Vec<(i64, i64)>,
}

/// Bars of one length.
pub(crate) struct Bars {
    pub(crate) name: String,
    pub(crate) length: i64,
    /// length, demand
    pub(crate) pieces: Vec<(i64, u32)>,
}

/// Folder of the sets committed with the project.
pub(crate) fn committed() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().find_map(|up| found(up, "tests/data/cutting")).unwrap_or_default()
}

/// Folder of all published sets, beside the repository (or further up), when there.
pub(crate) fn beside() -> Option<PathBuf> {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().find_map(|up| found(up, "shared/reference/cutting"))
}

fn found(up: &Path, what: &str) -> Option<PathBuf> {
    Some(up.join(what)).filter(|p| p.is_dir())
}

fn numbers(text: &str) -> Vec<i64> {
    text.split_whitespace().filter_map(|w| w.parse::<f64>().ok()).map(|x| x.round() as i64).collect()
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut list: Vec<PathBuf> =
        std::fs::read_dir(folder).into_iter().flatten().flatten().map(|e| e.path()).filter(|p| p.is_file()).collect();
    list.sort();
    list
}

fn stem(path: &Path) -> String {
    path.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default()
}

/// gcut: m ; L W ; m lines length width value. Unlimited copies.
pub(crate) fn gcut(root: &Path) -> Vec<OneBoard> {
    let read = |path: &PathBuf| {
        let n = numbers(&std::fs::read_to_string(path).ok()?);
        let pieces = n.get(3..)?.chunks_exact(3).map(|c| (c[0], c[1], None, c[2])).collect();
        Some(OneBoard { name: stem(path), board: (n[1], n[2]), pieces })
    };
    let mut list: Vec<_> = files(&root.join("gcut/data")).iter().filter_map(read).collect();
    list.sort_by_key(|i| i.name.trim_start_matches("gcut").parse::<u32>().unwrap_or(0));
    list
}

/// cgcut: m ; L W ; m lines length width copies value.
pub(crate) fn cgcut(root: &Path) -> Vec<OneBoard> {
    let read = |path: &PathBuf| {
        let n = numbers(&std::fs::read_to_string(path).ok()?);
        let pieces = n.get(3..)?.chunks_exact(4).map(|c| (c[0], c[1], Some(c[2] as u32), c[3])).collect();
        Some(OneBoard { name: stem(path), board: (n[1], n[2]), pieces })
    };
    files(&root.join("cgcut/data")).iter().filter_map(read).collect()
}

/// Classic constrained: n L W ; n lines value length width copies.
pub(crate) fn classic(root: &Path) -> Vec<OneBoard> {
    let read = |path: &PathBuf| {
        let n = numbers(&std::fs::read_to_string(path).ok()?);
        let pieces = n.get(3..)?.chunks_exact(4).map(|c| (c[1], c[2], Some(c[3] as u32), c[0])).collect();
        Some(OneBoard { name: stem(path), board: (n[1], n[2]), pieces })
    };
    files(&root.join("classic_constrained_guillotine/data")).iter().filter_map(read).collect()
}

/// 2BP classes: n ; W H ; n lines index width height.
pub(crate) fn classes(root: &Path) -> Vec<ManyBoards> {
    let read = |path: &PathBuf| {
        let n = numbers(&std::fs::read_to_string(path).ok()?);
        let pieces = n.get(3..)?.chunks_exact(3).map(|c| (c[1], c[2])).collect();
        Some(ManyBoards { name: stem(path), boards: vec![(n[1], n[2], None)], pieces })
    };
    files(&root.join("2bp_class/data")).iter().filter_map(read).collect()
}

/// Variable-sized: kinds items ; kinds x (height width stock x y) ; items x (height width x y).
pub(crate) fn nice(root: &Path) -> Vec<ManyBoards> {
    let read = |path: &PathBuf| {
        let n = numbers(&std::fs::read_to_string(path).ok()?);
        let kinds = n[0] as usize;
        let boards = n.get(2..2 + 5 * kinds)?.chunks_exact(5).map(|c| (c[1], c[0], Some(c[2] as u32))).collect();
        let pieces = n.get(2 + 5 * kinds..)?.chunks_exact(4).map(|c| (c[1], c[0])).collect();
        Some(ManyBoards { name: stem(path), boards, pieces })
    };
    files(&root.join("vsbp_nice/data")).iter().filter_map(read).collect()
}

/// The columns `instance`, `problem`, `value` of a set's best known values.
pub(crate) fn best_known(root: &Path, set: &str) -> Vec<(String, String, i64)> {
    let text = std::fs::read_to_string(root.join(set).join("best_known.csv")).unwrap_or_default();
    text.lines()
        .skip(1)
        .filter_map(|line| {
            let cells = csv(line);
            Some((cells.first()?.clone(), cells.get(1)?.clone(), cells.get(3)?.parse().ok()?))
        })
        .collect()
}

fn csv(line: &str) -> Vec<String> {
    let (mut cells, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(std::mem::take(&mut cell)),
            _ => cell.push(c),
        }
    }
    cells.push(cell);
    cells
}

/// Best known values of bars by instance name.
pub(crate) fn bars_known(root: &Path) -> BTreeMap<String, i64> {
    best_known(root, "1d_esicup_cc0").into_iter().map(|(name, _, value)| (name, value)).collect()
}
