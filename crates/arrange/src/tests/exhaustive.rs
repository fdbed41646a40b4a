//! The search against an enumeration that shares nothing with it: it lays units one by one into every place of every tree,
//! with every choice of size, and reckons in whole millimetres.

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::{boxes, size};
use crate::{COMPLETE, Size, Unwatched, search};

/// A tree of the enumeration; order matters, so that it has each division many times.
#[derive(Clone, Debug)]
enum Tree {
    Unit(usize),
    Divided { row: bool, parts: Vec<Tree> },
}

/// Every tree of some units.
fn trees(units: &[usize]) -> Vec<Tree> {
    if let [unit] = units {
        return vec![Tree::Unit(*unit)];
    }
    let mut all = Vec::new();
    for row in [true, false] {
        for partition in partitions(units).into_iter().filter(|it| it.len() > 1) {
            let mut combined: Vec<Vec<Tree>> = vec![Vec::new()];
            for block in partition {
                // A part of a row is no row, and a part of a stack no stack.
                let own: Vec<Tree> = trees(&block)
                    .into_iter()
                    .filter(|it| !matches!(it, Tree::Divided { row: inner, .. } if *inner == row))
                    .collect();
                combined = combined
                    .into_iter()
                    .flat_map(|parts| own.iter().map(move |tree| parts.iter().cloned().chain([tree.clone()]).collect()))
                    .collect();
            }
            all.extend(combined.into_iter().map(|parts| Tree::Divided { row, parts }));
        }
    }
    all
}

/// Every way of putting units into blocks.
fn partitions(units: &[usize]) -> Vec<Vec<Vec<usize>>> {
    let Some((first, rest)) = units.split_first() else { return vec![Vec::new()] };
    partitions(rest)
        .into_iter()
        .flat_map(|blocks| {
            let with = |at: usize| {
                let mut blocks = blocks.clone();
                match blocks.get_mut(at) {
                    Some(block) => block.push(*first),
                    None => blocks.push(vec![*first]),
                }
                blocks
            };
            (0..=blocks.len()).map(with).collect::<Vec<_>>()
        })
        .collect()
}

/// The size of a tree when each unit takes the size with the chosen number.
fn measure(tree: &Tree, units: &[Vec<(i64, i64)>], chosen: &[usize], panel: i64, carried: &[bool]) -> (i64, i64) {
    match tree {
        Tree::Unit(unit) => units[*unit][chosen[*unit]],
        Tree::Divided { row, parts } => {
            let sizes: Vec<(i64, i64)> = parts.iter().map(|it| measure(it, units, chosen, panel, carried)).collect();
            let panels = panel * (parts.len() as i64 - 1);
            if *row {
                (sizes.iter().map(|it| it.0).sum::<i64>() + panels, sizes.iter().map(|it| it.1).max().unwrap())
            } else {
                let slides = parts.iter().filter(|it| matches!(it, Tree::Unit(unit) if carried[*unit])).count() as i64;
                let saved = panel * (slides - 1).max(0);
                (sizes.iter().map(|it| it.0).max().unwrap(), sizes.iter().map(|it| it.1).sum::<i64>() + panels - saved)
            }
        }
    }
}

/// All least sizes of all trees within a room, and how many trees fit.
fn enumerate(
    units: &[Vec<(i64, i64)>],
    room: (i64, i64),
    panel: i64,
    carried: &[bool],
) -> (BTreeSet<(i64, i64)>, usize) {
    let all = trees(&(0..units.len()).collect::<Vec<_>>());
    let mut choices: Vec<Vec<usize>> = vec![Vec::new()];
    for unit in units {
        let longer =
            |it: &Vec<usize>| (0..unit.len()).map(|i| it.iter().copied().chain([i]).collect()).collect::<Vec<_>>();
        choices = choices.iter().flat_map(longer).collect();
    }
    let (mut sizes, mut fitting) = (BTreeSet::new(), 0);
    for tree in &all {
        let of: Vec<(i64, i64)> = choices
            .iter()
            .map(|chosen| measure(tree, units, chosen, panel, carried))
            .filter(|it| it.0 <= room.0 && it.1 <= room.1)
            .collect();
        fitting += usize::from(!of.is_empty());
        sizes.extend(of);
    }
    let dominated = |it: &(i64, i64)| sizes.iter().any(|other| other != it && other.0 <= it.0 && other.1 <= it.1);
    (sizes.iter().filter(|it| !dominated(it)).copied().collect(), fitting)
}

fn agrees(units: &[Vec<(i64, i64)>], room: (i64, i64), panel: i64, carried: &[bool]) -> Result<(), TestCaseError> {
    let request = boxes(units, room, panel, carried);
    let all = (1 << units.len()) - 1;
    let (least, fitting) = enumerate(units, room, panel, carried);
    let least: Vec<Size> = least.into_iter().map(|it| size(it.0, it.1)).collect();
    for goal in [None, Some(all)] {
        let found = search(&request, request.place.room, 1, goal, &Unwatched);
        prop_assert!(found.is_complete);
        let curve = found.curve(all);
        prop_assert_eq!(curve.steps(), least.as_slice());
        let divisions = found.divisions(all);
        prop_assert_eq!(divisions.len(), fitting);
        let shapes: BTreeSet<_> = divisions.iter().collect();
        prop_assert_eq!(shapes.len(), fitting, "each division once");
        for division in divisions {
            prop_assert!(division.curve(&request).steps().iter().any(|it| request.place.room.holds(*it)));
        }
    }
    Ok(())
}

fn units(count: impl Into<prop::collection::SizeRange>) -> impl Strategy<Value = Vec<Vec<(i64, i64)>>> {
    prop::collection::vec(prop::collection::vec((1..60_i64, 1..60_i64), 1..3), count)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn up_to_five_units_agree_with_an_enumeration(
        units in units(1..=5), room in (20..200_i64, 20..200_i64), panel in 0..9_i64,
        carried in prop::collection::vec(any::<bool>(), 5),
    ) {
        agrees(&units, room, panel, &carried)?;
    }
}

#[test]
fn six_units_agree_with_an_enumeration() {
    let units: Vec<Vec<(i64, i64)>> = vec![
        vec![(40, 27), (60, 27)],
        vec![(40, 22)],
        vec![(38, 44)],
        vec![(60, 85)],
        vec![(15, 9)],
        vec![(15, 20), (20, 15)],
    ];
    agrees(&units, (163, 88), 2, &[true, true, false, false, false, false]).unwrap();
    // The number of unordered divisions of six: series-parallel networks with labelled edges, 5504 (OEIS A006351).
    let request = boxes(&units, (1_000, 1_000), 2, &[]);
    assert_eq!(search(&request, request.place.room, 1, None, &Unwatched).divisions(63).len(), 5504);
    const { assert!(COMPLETE >= 6) };
}
