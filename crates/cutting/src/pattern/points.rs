//! Where cuts need to be looked for: sums of extents, and the raster points among them.
//!
//! Sources: Herz, IBM J. Res. Dev. 16 (1972) 462-469 (sums of extents); Scheithauer & Terno, Optimization 44 (1998)
//! 81-93 (raster points).

/// Rising positions from 0 to `full` that sums of `(extent, copies)` reach, thinned to raster points. `None` when there
/// would be more than `most`.
pub(crate) fn raster(full: i64, extents: &[(i64, u32)], most: usize) -> Option<Vec<i64>> {
    let sums = sums(full, extents, most * 4)?;
    let floor = |x: i64| sums.get(sums.partition_point(|&s| s <= x).wrapping_sub(1)).copied().unwrap_or(0);
    let mut points: Vec<i64> = sums.iter().map(|&s| floor(full - s)).collect();
    points.push(0);
    points.sort_unstable();
    points.dedup();
    (points.len() <= most).then_some(points)
}

fn sums(full: i64, extents: &[(i64, u32)], most: usize) -> Option<Vec<i64>> {
    let mut sums = vec![0i64];
    for &(extent, copies) in extents {
        if extent <= 0 || extent > full {
            continue;
        }
        // The sums reached with k copies of this extent, k rising, merged into those of the others.
        let mut fresh = sums.clone();
        for _ in 0..copies {
            let next: Vec<i64> = fresh.iter().map(|s| s + extent).filter(|&s| s <= full).collect();
            fresh = next.into_iter().filter(|s| sums.binary_search(s).is_err()).collect();
            if fresh.is_empty() {
                break;
            }
            sums.extend(&fresh);
            sums.sort_unstable();
            if sums.len() > most {
                return None;
            }
        }
    }
    Some(sums)
}

/// A thinner set of positions for boards with too many: multiples of each extent from either end.
pub(crate) fn multiples(full: i64, extents: &[(i64, u32)], most: usize) -> Vec<i64> {
    let mut points = vec![0, full];
    for times in 1..=64i64 {
        for &(extent, copies) in extents {
            let x = extent * times;
            if extent > 0 && times <= i64::from(copies) && x <= full {
                points.push(x);
                points.push(full - x);
            }
        }
        if points.len() > most {
            break;
        }
    }
    points.sort_unstable();
    points.dedup();
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_respect_the_copies() {
        assert_eq!(sums(20, &[(3, 2), (7, 1)], 100).unwrap(), [0, 3, 6, 7, 10, 13]);
        assert_eq!(sums(20, &[(5, 99)], 100).unwrap(), [0, 5, 10, 15, 20]);
    }

    #[test]
    fn raster_points_are_few() {
        // Positions whose rest leads to the same room fall together.
        assert_eq!(raster(20, &[(3, 2), (7, 1)], 100).unwrap(), [0, 7, 10, 13]);
        assert_eq!(raster(11, &[(5, 9)], 100).unwrap(), [0, 5, 10]);
    }
}
