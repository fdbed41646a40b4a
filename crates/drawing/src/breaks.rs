//! Where rows and cards are broken over sheets: as many on each as go in, but so that a few do not stand alone on the last.

/// A last sheet that is filled less than this is too empty to stand so: the sheets before it give it some of theirs.
const LEAST_SHARE: f64 = 0.3;
/// So many items are few where the height of a sheet is not known.
const FEW: usize = 5;
/// In how fine steps the height of the sheets is lowered to share out evenly.
const STEPS: u32 = 60;

/// What is to be broken over sheets.
pub(crate) struct Run<'r> {
    /// The heights of the items, in millimetres.
    pub(crate) heights: &'r [f64],
    /// What stands at the head of each sheet, in millimetres.
    pub(crate) head: f64,
    /// Between two items, in millimetres.
    pub(crate) gap: f64,
    /// Whether an item must not be the last on its sheet: a heading.
    pub(crate) stays_with_next: &'r dyn Fn(usize) -> bool,
}

impl Run<'_> {
    /// How many items go on each sheet, as many as go in: into each of `first` in turn, then `height` each. There is one
    /// sheet at least, and an item on each, however high.
    pub(crate) fn filled(&self, first: &[f64], height: f64) -> Vec<usize> {
        let mut counts = Vec::new();
        let (mut count, mut depth) = (0, self.head);
        for (index, item) in self.heights.iter().enumerate() {
            let next = self.heights.get(index + 1).filter(|_| (self.stays_with_next)(index));
            let wanted = item + next.map_or(0.0, |next| next + self.gap);
            let room = first.get(counts.len()).copied().unwrap_or(height);
            if depth + wanted > room && count > 0 {
                counts.push(count);
                (count, depth) = (0, self.head);
            }
            count += 1;
            depth += item + self.gap;
        }
        counts.push(count);
        counts
    }

    /// Whether the last of several sheets of that height is nearly empty.
    pub(crate) fn ends_with_few(&self, counts: &[usize], height: f64) -> bool {
        let last = counts.last().copied().unwrap_or_default();
        let on_last: f64 = self.heights.iter().rev().take(last).map(|it| it + self.gap).sum();
        let few = if height.is_finite() { on_last <= height * LEAST_SHARE } else { last <= FEW };
        few && counts.len() > 1
    }

    /// As [`Self::filled`], but shared out over the same number of sheets where the last of several alike would be nearly empty.
    pub(crate) fn shared(&self, first: &[f64], height: f64) -> Vec<usize> {
        let filled = self.filled(first, height);
        if filled.len() < first.len() + 2 || !height.is_finite() || !self.ends_with_few(&filled, height) {
            return filled;
        }
        let lowered = (1..STEPS).map(|step| height * f64::from(step) / f64::from(STEPS));
        lowered.map(|lower| self.filled(first, lower)).find(|it| it.len() == filled.len()).unwrap_or(filled)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(heights: &[f64], first: &[f64], filled: &[usize], shared: &[usize]) {
        let run = Run { heights, head: 10.0, gap: 0.0, stays_with_next: &|_| false };
        assert_eq!(run.filled(first, 110.0), filled);
        assert_eq!(run.shared(first, 110.0), shared);
    }

    #[test]
    fn a_last_sheet_gets_its_share() {
        // Ten go on a sheet.
        check(&[10.0; 0], &[], &[0], &[0]);
        check(&[10.0; 9], &[], &[9], &[9]);
        check(&[10.0; 11], &[], &[10, 1], &[6, 5]);
        check(&[10.0; 14], &[], &[10, 4], &[10, 4]);
        check(&[10.0; 22], &[], &[10, 10, 2], &[8, 8, 6]);
        // What stands in rooms of its own first stays there.
        check(&[10.0; 15], &[50.0], &[4, 10, 1], &[4, 6, 5]);
        check(&[10.0; 6], &[50.0], &[4, 2], &[4, 2]);
        // An item that is too high stands alone.
        check(&[300.0, 10.0], &[], &[1, 1], &[1, 1]);
    }

    #[test]
    fn a_heading_stays_with_what_it_heads() {
        let run = Run { heights: &[10.0; 11], head: 0.0, gap: 0.0, stays_with_next: &|it| it == 9 };
        assert_eq!(run.filled(&[], 100.0), [9, 2]);
    }
}
