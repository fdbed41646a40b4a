//! A plane frame of straight members with springs at their ends, and braces; solved by the direct stiffness method.

use thiserror::Error;

/// Why a frame cannot be solved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum FrameError {
    /// Something can move freely.
    #[error("the frame can move freely: hold it, or brace it")]
    Loose,
    /// A member names a node that is not there, or has no length.
    #[error("a member of the frame has no length or no such node")]
    Member,
}

/// A straight member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Member {
    /// Its first node.
    pub from: usize,
    /// Its second node.
    pub to: usize,
    /// Axial stiffness E·A, N.
    pub axial: f64,
    /// Bending stiffness E·I, N·mm².
    pub bending: f64,
    /// Turning stiffness of the joint at the first node, N·mm per radian; infinite if rigid.
    pub spring_from: f64,
    /// Turning stiffness of the joint at the second node.
    pub spring_to: f64,
}

/// A bar that works along itself only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brace {
    /// Its first node.
    pub from: usize,
    /// Its second node.
    pub to: usize,
    /// Stiffness along itself, N/mm.
    pub stiffness: f64,
}

/// A node that is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// The node.
    pub node: usize,
    /// Sideways.
    pub x: bool,
    /// Up and down.
    pub y: bool,
    /// From turning.
    pub turn: bool,
}

/// A plane frame. Nodes in an order in which neighbours lie close keep the solution cheap: work grows with the number of
/// nodes and the square of the largest distance of joined nodes in the list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Frame {
    /// Places of the nodes, mm.
    pub nodes: Vec<(f64, f64)>,
    /// Members.
    pub members: Vec<Member>,
    /// Braces.
    pub braces: Vec<Brace>,
    /// Held nodes.
    pub held: Vec<Held>,
}

impl Frame {
    /// Movement of each node (sideways, up, turn) under forces (node, sideways, up), mm and radians.
    ///
    /// # Errors
    /// [`FrameError`] if it can move freely or a member makes no sense.
    pub fn solve(&self, forces: &[(usize, f64, f64)]) -> Result<Vec<[f64; 3]>, FrameError> {
        let size = 3 * self.nodes.len();
        let mut matrix = Profile::new(size);
        for member in &self.members {
            let (c, s, length) = self.direction(member.from, member.to)?;
            // Flexibility of the ends about the chord, springs in series; its inverse is the turning stiffness.
            let own = length / (3.0 * member.bending);
            let (a, b, cross) =
                (own + 1.0 / member.spring_from, own + 1.0 / member.spring_to, -length / (6.0 * member.bending));
            let det = a * b - cross * cross;
            let (k1, k2, k12) = (b / det, a / det, -cross / det);
            // Rows: stretch, turn of either end against the chord, by the six movements.
            let stretch = [-c, -s, 0.0, c, s, 0.0];
            let (p, q) = (s / length, c / length);
            let first = [-p, q, 1.0, p, -q, 0.0];
            let second = [-p, q, 0.0, p, -q, 1.0];
            let dofs = dofs(member.from, member.to);
            for (i, &row) in dofs.iter().enumerate() {
                for (j, &column) in dofs.iter().enumerate() {
                    let get = |v: &[f64; 6], k: usize| v.get(k).copied().unwrap_or(0.0);
                    let value = member.axial / length * get(&stretch, i) * get(&stretch, j)
                        + k1 * get(&first, i) * get(&first, j)
                        + k2 * get(&second, i) * get(&second, j)
                        + k12 * (get(&first, i) * get(&second, j) + get(&second, i) * get(&first, j));
                    matrix.add(row, column, value);
                }
            }
        }
        for brace in &self.braces {
            let (c, s, _) = self.direction(brace.from, brace.to)?;
            let rows = [(3 * brace.from, -c), (3 * brace.from + 1, -s), (3 * brace.to, c), (3 * brace.to + 1, s)];
            for &(row, a) in &rows {
                for &(column, b) in &rows {
                    matrix.add(row, column, brace.stiffness * a * b);
                }
            }
        }
        for held in &self.held {
            for (k, flag) in [held.x, held.y, held.turn].into_iter().enumerate() {
                if flag {
                    matrix.hold(3 * held.node + k);
                }
            }
        }
        let mut right = vec![0.0; size];
        for &(node, x, y) in forces {
            for (k, force) in [x, y].into_iter().enumerate() {
                if let Some(it) = right.get_mut(3 * node + k) {
                    *it += force;
                }
            }
        }
        for held in &self.held {
            for (k, flag) in [held.x, held.y, held.turn].into_iter().enumerate() {
                if let (true, Some(it)) = (flag, right.get_mut(3 * held.node + k)) {
                    *it = 0.0;
                }
            }
        }
        matrix.solve(&mut right).ok_or(FrameError::Loose)?;
        Ok(right.chunks_exact(3).map(|it| [it[0], it[1], it[2]]).collect())
    }

    fn direction(&self, from: usize, to: usize) -> Result<(f64, f64, f64), FrameError> {
        let (Some(a), Some(b)) = (self.nodes.get(from), self.nodes.get(to)) else { return Err(FrameError::Member) };
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let length = dx.hypot(dy);
        if length > 0.0 { Ok((dx / length, dy / length, length)) } else { Err(FrameError::Member) }
    }
}

const fn dofs(from: usize, to: usize) -> [usize; 6] {
    [3 * from, 3 * from + 1, 3 * from + 2, 3 * to, 3 * to + 1, 3 * to + 2]
}

/// A symmetric matrix by rows, each from its first entry that may be other than zero to the diagonal.
struct Profile {
    rows: Vec<(usize, Vec<f64>)>,
    held: Vec<bool>,
}

impl Profile {
    fn new(size: usize) -> Self {
        Self { rows: (0..size).map(|i| (i, vec![0.0])).collect(), held: vec![false; size] }
    }

    fn add(&mut self, row: usize, column: usize, value: f64) {
        if column > row {
            return;
        }
        if let Some((first, entries)) = self.rows.get_mut(row) {
            if column < *first {
                let more = *first - column;
                entries.splice(0..0, std::iter::repeat_n(0.0, more));
                *first = column;
            }
            if let Some(it) = entries.get_mut(column - *first) {
                *it += value;
            }
        }
    }

    fn hold(&mut self, index: usize) {
        if let Some(it) = self.held.get_mut(index) {
            *it = true;
        }
    }

    /// Cholesky's decomposition within the profile, then both substitutions in place; none if not positive definite.
    fn solve(mut self, right: &mut [f64]) -> Option<()> {
        let n = self.rows.len();
        for i in 0..n {
            let held_i = *self.held.get(i)?;
            let (first, entries) = self.rows.get_mut(i)?;
            let first = *first;
            for (k, value) in entries.iter_mut().enumerate() {
                let j = first + k;
                if j != i && (held_i || *self.held.get(j)?) {
                    *value = 0.0;
                } else if j == i && held_i {
                    *value = 1.0;
                }
            }
        }
        for i in 0..n {
            let (done, rest) = self.rows.split_at_mut(i);
            let (first, row) = rest.first_mut()?;
            let first = *first;
            let original = *row.last()?;
            for j in first..i {
                let (first_j, row_j) = done.get(j)?;
                let start = first.max(*first_j);
                let a = row.get(start - first..j - first)?;
                let b = row_j.get(start - first_j..j - first_j)?;
                let sum: f64 = a.iter().zip(b).map(|(x, y)| x * y).sum();
                let pivot = *row_j.last()?;
                let it = row.get_mut(j - first)?;
                *it = (*it - sum) / pivot;
            }
            let square: f64 = row.get(..i - first)?.iter().map(|x| x * x).sum();
            let pivot = original - square;
            if pivot.is_nan() || pivot <= original.abs() * 1e-12 {
                return None;
            }
            *row.last_mut()? = pivot.sqrt();
        }
        for i in 0..n {
            let (first, row) = self.rows.get(i)?;
            let sum: f64 = row.get(..i - first)?.iter().zip(right.get(*first..i)?).map(|(a, b)| a * b).sum();
            let it = right.get_mut(i)?;
            *it = (*it - sum) / row.last()?;
        }
        for i in (0..n).rev() {
            let (first, row) = self.rows.get(i)?;
            let value = right.get(i)? / row.last()?;
            *right.get_mut(i)? = value;
            for (entry, it) in row.get(..i - first)?.iter().zip(right.get_mut(*first..i)?) {
                *it -= entry * value;
            }
        }
        Some(())
    }
}
