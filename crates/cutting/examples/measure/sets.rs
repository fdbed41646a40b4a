//! Readers of the published instance sets. Sources and licences: `tests/data/cutting/README.md`.
#![allow(dead_code, reason = "each user reads some of the sets")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use casewright_cutting::{Axis, Bar, BarPiece, Board, Piece, Quantity, Wanted};

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

/// Scale s and kerf k. With sizes s x - k and kerf k the same patterns are possible as with sizes x and no kerf, so that the
/// optimum stays: the kerf equivalence.
#[derive(Clone, Copy)]
pub(crate) struct Kerf(pub(crate) i64, pub(crate) i64);

/// As published, and with a kerf of 3.
pub(crate) const KERFS: [Kerf; 2] = [Kerf(1, 0), Kerf(5, 3)];

impl Kerf {
    fn size(self, size: i64) -> i64 {
        self.0 * size - self.1
    }
}

fn grain(fixed: bool) -> Option<Axis> {
    fixed.then_some(Axis::X)
}

impl OneBoard {
    /// The question; `fixed`: nothing may be turned.
    pub(crate) fn question(&self, fixed: bool, kerf: Kerf) -> (Board, Vec<Wanted>) {
        let size = |x: i64| kerf.size(x);
        let board = Board { grain: grain(fixed), ..Board::new("board", size(self.board.0), size(self.board.1)) };
        let wanted = self.pieces.iter().map(|&(w, h, copies, value)| Wanted {
            piece: Piece { grain: grain(fixed), ..Piece::new("piece", size(w), size(h)) },
            copies: copies.map_or(Quantity::Unlimited, Quantity::Limited),
            value,
        });
        (board, wanted.collect())
    }
}

impl ManyBoards {
    /// The question; `fixed`: nothing may be turned.
    pub(crate) fn question(&self, fixed: bool) -> (Vec<Board>, Vec<Piece>) {
        let stock = self.boards.iter().map(|&(w, h, n)| Board {
            grain: grain(fixed),
            quantity: n.map_or(Quantity::Unlimited, Quantity::Limited),
            ..Board::new("board", w, h)
        });
        let pieces = self.pieces.iter().map(|&(w, h)| Piece { grain: grain(fixed), ..Piece::new("piece", w, h) });
        (stock.collect(), pieces.collect())
    }
}

impl Bars {
    /// The question.
    pub(crate) fn question(&self, kerf: Kerf) -> ([Bar; 1], Vec<BarPiece>) {
        let pieces = self.pieces.iter().map(|&(length, n)| BarPiece::new("length", kerf.size(length), n));
        ([Bar::new("bar", kerf.size(self.length))], pieces.collect())
    }
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

/// All one-dimensional sets, names as in the table of best known values.
pub(crate) fn bars(root: &Path) -> Vec<Bars> {
    let data = root.join("1d_esicup_cc0/data");
    let read = |path: &str| std::fs::read_to_string(data.join(path)).unwrap_or_default();
    let mut list = Vec::new();
    for n in 2..=8 {
        falkenauer(&format!("falkenauer/binpack{n}.txt"), &read(&format!("falkenauer/binpack{n}.txt")), &mut list);
    }
    for zip in ["scholl/bin1data.zip", "scholl/bin2data.zip"] {
        let bytes = std::fs::read(data.join(zip)).unwrap_or_default();
        for (name, text) in unzip(&bytes) {
            list.extend(scholl(&format!("{zip}:{name}"), &text));
        }
    }
    // The committed part of those two archives lies there as plain files.
    for folder in ["scholl/bin1data", "scholl/bin2data", "scholl/bin3data"] {
        for path in files(&data.join(folder)) {
            let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
            let known = if folder.ends_with('3') { format!("{folder}/{name}") } else { format!("{folder}.zip:{name}") };
            let known = known.replace("bin3data.zip:", "bin3data/");
            list.extend(scholl(&known, &std::fs::read_to_string(&path).unwrap_or_default()));
        }
    }
    let many = [
        "schwerin/SCH_WAE1.BPP",
        "schwerin/SCH_WAE2.BPP",
        "waescher/WAE_GAU1.BPP",
        "waescher/WAE_GAU2.BPP",
        "hard28/hard28.txt",
    ];
    for path in many {
        listed(path, &read(path), &mut list);
    }
    list
}

fn grouped(name: String, length: i64, items: &[i64]) -> Bars {
    let mut count: BTreeMap<i64, u32> = BTreeMap::new();
    for &item in items {
        *count.entry(item).or_default() += 1;
    }
    Bars { name, length, pieces: count.into_iter().collect() }
}

/// Number of problems; per problem: name ; capacity, n, best known ; n sizes (with one decimal in some files).
fn falkenauer(file: &str, text: &str, list: &mut Vec<Bars>) {
    let mut words = text.split_whitespace();
    let count = words.next().and_then(|w| w.parse().ok()).unwrap_or(0);
    let tenths = |w: &str| w.parse::<f64>().map_or(0, |x| (x * 10.0).round() as i64);
    for _ in 0..count {
        let Some(name) = words.next() else { return };
        let length = words.next().map_or(0, tenths);
        let items = words.next().and_then(|w| w.parse().ok()).unwrap_or(0);
        words.next();
        let items: Vec<i64> = words.by_ref().take(items).map(tenths).collect();
        list.push(grouped(format!("{file}:{name}"), length, &items));
    }
}

/// n ; capacity ; n sizes.
fn scholl(name: &str, text: &str) -> Option<Bars> {
    let n = numbers(text);
    Some(grouped(name.to_owned(), *n.get(1)?, n.get(2..)?))
}

/// Per problem: 'name' ; m ; capacity ; m lines: size demand.
fn listed(file: &str, text: &str, list: &mut Vec<Bars>) {
    let mut lines = text.lines().map(str::trim).filter(|l| !l.is_empty());
    while let Some(name) = lines.next() {
        let name = name.trim_matches('\'').split_whitespace().collect::<Vec<_>>().join(" ");
        let Some(m) = lines.next().and_then(|l| l.parse::<usize>().ok()) else { return };
        let Some(length) = lines.next().and_then(|l| l.parse().ok()) else { return };
        let pieces = lines.by_ref().take(m).filter_map(|l| {
            let n = numbers(l);
            Some((*n.first()?, *n.get(1)? as u32))
        });
        let pieces = pieces.collect();
        let mut name = format!("{file}:{name}");
        let before = list.iter().filter(|b| b.name.split(" (").next() == Some(&name)).count();
        if before > 0 {
            name = format!("{name} (occurrence {})", before + 1);
        }
        list.push(Bars { name, length, pieces });
    }
}

/// Names and texts of a ZIP archive's files, from its central directory (PKWARE APPNOTE 4.3.12 and 4.3.7).
fn unzip(bytes: &[u8]) -> Vec<(String, String)> {
    let short = |at: usize| bytes.get(at..at + 2).map_or(0, |b| usize::from(b[0]) | usize::from(b[1]) << 8);
    let long = |at: usize| short(at) | short(at + 2) << 16;
    let mut list = Vec::new();
    let end = (0..bytes.len().saturating_sub(21)).rev().find(|&i| bytes[i..].starts_with(b"PK\x05\x06"));
    let Some(end) = end else { return list };
    let mut at = long(end + 16);
    for _ in 0..short(end + 10) {
        let (method, packed, name, extra, comment) =
            (short(at + 10), long(at + 20), short(at + 28), short(at + 30), short(at + 32));
        let local = long(at + 42);
        let title = bytes.get(at + 46..at + 46 + name).map(|b| String::from_utf8_lossy(b).into_owned());
        let from = local + 30 + short(local + 26) + short(local + 28);
        let data = bytes.get(from..from + packed).unwrap_or_default();
        let plain = if method == 8 { miniz_oxide::inflate::decompress_to_vec(data).ok() } else { Some(data.to_vec()) };
        if let (Some(title), Some(plain)) = (title, plain) {
            list.push((title, String::from_utf8_lossy(&plain).into_owned()));
        }
        at += 46 + name + extra + comment;
    }
    list
}

/// The columns `instance`, `problem`, `value` of a set's best known values.
pub(crate) fn best_known(root: &Path, set: &str) -> Vec<(String, String, i64)> {
    let text = std::fs::read_to_string(root.join(set).join("best_known.csv")).unwrap_or_default();
    text.lines()
        .skip(1)
        .filter_map(|line| {
            let cells = csv(line);
            Some((
                cells.first()?.split_whitespace().collect::<Vec<_>>().join(" "),
                cells.get(1)?.clone(),
                cells.get(3)?.parse().ok()?,
            ))
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
