//! Rectangles kept by where they lie, so that those that meet another one are found without asking all of them.

use kurbo::Rect;

use crate::place::overlap;

/// At most so many cells each way.
const MOST_CELLS: f64 = 64.0;

/// Rectangles, each entered in all cells of a grid that it reaches into.
pub(crate) struct Areas {
    areas: Vec<Rect>,
    whole: Rect,
    cells_a_side: usize,
    cells: Vec<Vec<usize>>,
    /// When each was found last, so that what reaches into several cells is found once.
    found_at: Vec<usize>,
    asked: usize,
}

impl Areas {
    pub(crate) fn of(areas: Vec<Rect>) -> Self {
        let whole = areas.iter().copied().reduce(|all, one| all.union(one)).unwrap_or_default();
        let cells_a_side = (areas.len() as f64).sqrt().ceil().clamp(1.0, MOST_CELLS) as usize;
        let found_at = vec![0; areas.len()];
        let cells = vec![Vec::new(); cells_a_side * cells_a_side];
        let mut it = Self { areas, whole, cells_a_side, cells, found_at, asked: 0 };
        for index in 0..it.areas.len() {
            for cell in it.reached(it.areas[index]).collect::<Vec<_>>() {
                it.cells[cell].push(index);
            }
        }
        it
    }

    /// The cells that a rectangle reaches into; one beyond the edge counts as the last before it.
    fn reached(&self, area: Rect) -> impl Iterator<Item = usize> + use<> {
        let side = self.cells_a_side;
        let place = |at: f64, from: f64, length: f64| {
            // Casts stop at zero and take no number as zero.
            let cell = ((at - from) / length * side as f64).floor() as usize;
            cell.min(side - 1)
        };
        let column = |at: f64| place(at, self.whole.x0, self.whole.width());
        let row = |at: f64| place(at, self.whole.y0, self.whole.height());
        let (columns, rows) = (column(area.x0)..=column(area.x1), row(area.y0)..=row(area.y1));
        rows.flat_map(move |row| columns.clone().map(move |column| row * side + column))
    }

    /// The indices of the rectangles whose insides meet that of another one, each once, in no certain order.
    pub(crate) fn meeting(&mut self, area: Rect) -> impl Iterator<Item = usize> {
        self.asked += 1;
        let reached = self.reached(area);
        let Self { areas, cells, found_at, asked, .. } = self;
        reached.flat_map(|cell| cells[cell].iter().copied()).filter(move |&index| {
            let first = found_at[index] != *asked;
            found_at[index] = *asked;
            first && overlap(areas[index], area)
        })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn rects(most: usize) -> impl Strategy<Value = Vec<Rect>> {
        let one = (-50_i32..50, -50_i32..50, 0_i32..60, 0_i32..60);
        prop::collection::vec(one, 0..most).prop_map(|all| {
            all.into_iter().map(|(x, y, w, h)| Rect::new(x.into(), y.into(), (x + w).into(), (y + h).into())).collect()
        })
    }

    proptest! {
        #[test]
        fn finds_what_asking_all_would_find(areas in rects(60), asked in rects(20)) {
            let mut kept = Areas::of(areas.clone());
            for area in asked {
                let mut found: Vec<usize> = kept.meeting(area).collect();
                found.sort_unstable();
                let all: Vec<usize> = (0..areas.len()).filter(|&it| overlap(areas[it], area)).collect();
                prop_assert_eq!(found, all);
            }
        }
    }
}
