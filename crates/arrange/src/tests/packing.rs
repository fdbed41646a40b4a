//! Published packings without waste: the "Nice" instances of Ortmann, Ntene and van Vuuren (New and improved level heuristics
//! for the rectangular strip packing and variable-sized bin packing problems, European Journal of Operational Research 203,
//! 2010), read from the reference folder beside the repository, and left out where that is not there. Their file gives one
//! perfect guillotine solution with positions: every small group of neighbouring items that fills a rectangle there is a
//! puzzle that has a solution, and the search has to find one.

use std::path::Path;

use super::boxes;
use crate::{Unwatched, search};

/// Width, height, left and lower edge of an item.
type Item = (i64, i64, i64, i64);

fn items(text: &str) -> Vec<Item> {
    let mut lines = text.lines().map(|line| {
        line.split_whitespace()
            .filter_map(|word| word.parse::<f64>().ok())
            .map(|it| it.round() as i64)
            .collect::<Vec<i64>>()
    });
    let head = lines.next().unwrap_or_default();
    let boards = usize::try_from(head.first().copied().unwrap_or_default()).unwrap_or_default();
    lines
        .skip(boards)
        .filter_map(|it| if let [height, width, x, y] = it.as_slice() { Some((*width, *height, *x, *y)) } else { None })
        .collect()
}

/// Groups of 3 to `most` items that fill a rectangle by guillotine cuts.
fn groups(items: &[Item], most: usize) -> Vec<Vec<Item>> {
    let mut found = Vec::new();
    for (i, a) in items.iter().enumerate() {
        for b in items.iter().skip(i) {
            let (x0, y0) = (a.2.min(b.2), a.3.min(b.3));
            let (x1, y1) = ((a.2 + a.0).max(b.2 + b.0), (a.3 + a.1).max(b.3 + b.1));
            let inside = |it: &&Item| it.2 >= x0 && it.3 >= y0 && it.2 + it.0 <= x1 && it.3 + it.1 <= y1;
            let group: Vec<Item> = items.iter().filter(inside).copied().collect();
            let area: i64 = group.iter().map(|it| it.0 * it.1).sum();
            if (3..=most).contains(&group.len()) && area == (x1 - x0) * (y1 - y0) && is_guillotine(&group) {
                found.push(group);
            }
        }
    }
    found.sort();
    found.dedup();
    found
}

/// Whether items that fill a rectangle can be parted by cuts from edge to edge.
fn is_guillotine(group: &[Item]) -> bool {
    if group.len() <= 1 {
        return true;
    }
    let cut = |near: &dyn Fn(&Item) -> i64, far: &dyn Fn(&Item) -> i64| {
        group.iter().map(far).any(|at| {
            let (low, high): (Vec<Item>, Vec<Item>) = group.iter().partition(|it| far(it) <= at);
            !high.is_empty() && high.iter().all(|it| near(it) >= at) && is_guillotine(&low) && is_guillotine(&high)
        })
    };
    cut(&|it| it.2, &|it| it.2 + it.0) || cut(&|it| it.3, &|it| it.3 + it.1)
}

#[test]
fn published_perfect_packings_are_found() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../shared/reference/cutting/vsbp_nice/data");
    let Ok(entries) = std::fs::read_dir(&folder) else {
        eprintln!("{} is not there: nothing was checked", folder.display());
        return;
    };
    let mut files: Vec<_> = entries.filter_map(|it| Some(it.ok()?.path())).collect();
    files.sort();
    let mut checked = [0_usize; 12];
    for file in files.iter().filter(|it| it.to_string_lossy().contains("Nice25i")).take(12) {
        for group in groups(&items(&std::fs::read_to_string(file).unwrap()), 9) {
            let width = group.iter().map(|it| it.2 + it.0).max().unwrap() - group.iter().map(|it| it.2).min().unwrap();
            let height = group.iter().map(|it| it.3 + it.1).max().unwrap() - group.iter().map(|it| it.3).min().unwrap();
            let units: Vec<Vec<(i64, i64)>> = group.iter().map(|it| vec![(it.0, it.1)]).collect();
            let request = boxes(&units, (width, height), 0, &[]);
            let all = (1 << units.len()) - 1;
            let found = search(&request, request.place.room, 60, Some(all), &Unwatched);
            assert!(found.fits(all), "{}: {group:?}", file.display());
            checked[units.len()] += 1;
        }
    }
    assert!(checked.iter().sum::<usize>() >= 30, "{checked:?}: too few groups to prove anything");
    eprintln!("groups found by their number of items: {checked:?}");
}
