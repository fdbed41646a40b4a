//! One board being filled: a guillotine tree that pieces are put into and taken out of.
//!
//! Nodes alternate between divisions along x and along y; every free rectangle is a leaf. Taking a piece out merges
//! the room with its free neighbours, since parallel strips may change places.

use crate::size::Axis;

const NONE: u32 = u32::MAX;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum State {
    Dead,
    Free,
    Item,
    Split(Axis),
}

#[derive(Debug, Clone, Copy)]
pub(crate) struct Node {
    pub(crate) width: i64,
    pub(crate) height: i64,
    parent: u32,
    first: u32,
    next: u32,
    prev: u32,
    item: u32,
    state: State,
}

/// A tree handed out: extents are reduced units.
#[derive(Debug, Clone)]
pub(crate) enum Slice {
    Free,
    Item(usize),
    Split(Axis, Vec<(i64, Slice)>),
}

/// One board being filled.
#[derive(Debug)]
pub(crate) struct Tree {
    pub(crate) kind: usize,
    nodes: Vec<Node>,
    dead: Vec<u32>,
    leaves: Vec<u32>,
    roots: u32,
    /// Number of pieces in it.
    pub(crate) count: usize,
}

impl Clone for Tree {
    fn clone(&self) -> Self {
        Self {
            kind: self.kind,
            nodes: self.nodes.clone(),
            dead: self.dead.clone(),
            leaves: self.leaves.clone(),
            roots: self.roots,
            count: self.count,
        }
    }

    fn clone_from(&mut self, source: &Self) {
        self.kind = source.kind;
        self.nodes.clone_from(&source.nodes);
        self.dead.clone_from(&source.dead);
        self.leaves.clone_from(&source.leaves);
        self.roots = source.roots;
        self.count = source.count;
    }
}

#[allow(clippy::indexing_slicing, reason = "node numbers are made and kept valid by this file alone")]
impl Tree {
    /// An empty board of so many zones.
    pub(crate) fn new(kind: usize, zones: &[(i64, i64)]) -> Self {
        let mut tree =
            Self { kind, nodes: Vec::new(), dead: Vec::new(), leaves: Vec::new(), roots: zones.len() as u32, count: 0 };
        for &(width, height) in zones {
            tree.fresh(Node {
                width,
                height,
                parent: NONE,
                first: NONE,
                next: NONE,
                prev: NONE,
                item: 0,
                state: State::Free,
            });
        }
        tree
    }

    fn fresh(&mut self, node: Node) -> u32 {
        let id = if let Some(id) = self.dead.pop() {
            self.nodes[id as usize] = node;
            id
        } else {
            self.nodes.push(node);
            self.nodes.len() as u32 - 1
        };
        if node.state == State::Free {
            self.leaves.push(id);
        }
        id
    }

    fn unleaf(&mut self, id: u32) {
        if let Some(at) = self.leaves.iter().position(|&l| l == id) {
            self.leaves.swap_remove(at);
        }
    }

    fn at(&mut self, id: u32) -> &mut Node {
        &mut self.nodes[id as usize]
    }

    /// The free rectangles, by node number.
    pub(crate) fn leaves(&self) -> &[u32] {
        &self.leaves
    }

    pub(crate) fn node(&self, id: u32) -> &Node {
        &self.nodes[id as usize]
    }

    /// Puts a piece of the given extents into the lower left of free leaf `leaf`; the first cut divides along `first`.
    pub(crate) fn insert(&mut self, leaf: u32, item: usize, width: i64, height: i64, first: Axis) {
        self.count += 1;
        let node = self.nodes[leaf as usize];
        let (along, across) = match first {
            Axis::X => (node.width - width, node.height - height),
            Axis::Y => (node.height - height, node.width - width),
        };
        let item_node = Node {
            width,
            height,
            parent: NONE,
            first: NONE,
            next: NONE,
            prev: NONE,
            item: item as u32,
            state: State::Item,
        };
        if along == 0 && across == 0 {
            self.unleaf(leaf);
            let n = self.at(leaf);
            n.state = State::Item;
            n.item = item as u32;
            return;
        }
        if along == 0 {
            self.divide(leaf, first.other(), item_node);
            return;
        }
        if across == 0 {
            self.divide(leaf, first, item_node);
            return;
        }
        let strip = match first {
            Axis::X => Node { height: node.height, state: State::Free, ..item_node },
            Axis::Y => Node { width: node.width, state: State::Free, ..item_node },
        };
        let strip = self.divide(leaf, first, strip);
        self.divide(strip, first.other(), item_node);
    }

    /// Cuts strips of these extents off the (empty, only) zone one after the other.
    pub(crate) fn stack(&mut self, strips: &[(Axis, i64, Slice)]) {
        let mut rest = 0;
        for (axis, extent, slice) in strips {
            let whole = self.nodes[rest as usize];
            let node = Node { state: State::Free, first: NONE, next: NONE, prev: NONE, ..whole };
            let (node, room) = match axis {
                Axis::X => (Node { width: *extent, ..node }, whole.width),
                Axis::Y => (Node { height: *extent, ..node }, whole.height),
            };
            if *extent == room {
                self.fill(rest, slice);
                return;
            }
            let new = self.divide(rest, *axis, node);
            rest = self.nodes[new as usize].next;
            self.fill(new, slice);
        }
    }

    /// Makes the free leaf what the slice says; extents of the slice and the leaf must agree.
    pub(crate) fn fill(&mut self, leaf: u32, slice: &Slice) {
        match slice {
            Slice::Free => {}
            Slice::Item(item) => {
                self.count += 1;
                self.unleaf(leaf);
                let node = self.at(leaf);
                node.state = State::Item;
                node.item = *item as u32;
            }
            Slice::Split(axis, parts) => {
                let mut rest = leaf;
                for (index, (extent, part)) in parts.iter().enumerate() {
                    if index + 1 == parts.len() {
                        self.fill(rest, part);
                        return;
                    }
                    let node =
                        Node { state: State::Free, first: NONE, next: NONE, prev: NONE, ..self.nodes[rest as usize] };
                    let node = match axis {
                        Axis::X => Node { width: *extent, ..node },
                        Axis::Y => Node { height: *extent, ..node },
                    };
                    let new = self.divide(rest, *axis, node);
                    rest = self.nodes[new as usize].next;
                    self.fill(new, part);
                }
            }
        }
    }

    /// Cuts `part` off the free leaf along `axis` and gives its number; the leaf keeps the rest.
    fn divide(&mut self, leaf: u32, axis: Axis, part: Node) -> u32 {
        let node = self.nodes[leaf as usize];
        let parent_splits = node.parent != NONE && self.nodes[node.parent as usize].state == State::Split(axis);
        if parent_splits {
            let new = self.fresh(Node { parent: node.parent, next: leaf, prev: node.prev, ..part });
            if node.prev == NONE {
                self.at(node.parent).first = new;
            } else {
                self.at(node.prev).next = new;
            }
            let rest = self.at(leaf);
            rest.prev = new;
            match axis {
                Axis::X => rest.width -= part.width,
                Axis::Y => rest.height -= part.height,
            }
            return new;
        }
        self.unleaf(leaf);
        let rest = match axis {
            Axis::X => Node { width: node.width - part.width, ..node },
            Axis::Y => Node { height: node.height - part.height, ..node },
        };
        let new = self.fresh(Node { parent: leaf, ..part });
        let rest = self.fresh(Node { parent: leaf, prev: new, next: NONE, first: NONE, state: State::Free, ..rest });
        self.at(new).next = rest;
        let n = self.at(leaf);
        n.state = State::Split(axis);
        n.first = new;
        new
    }

    /// A node that holds a piece, chosen by a number; `None` when the board is empty.
    pub(crate) fn item_node(&self, number: usize) -> Option<u32> {
        if self.count == 0 {
            return None;
        }
        let len = self.nodes.len();
        let start = number % len;
        (start..len).chain(0..start).find(|&i| self.nodes[i].state == State::Item).map(|i| i as u32)
    }

    /// The node that holds this item.
    pub(crate) fn find(&self, item: usize) -> Option<u32> {
        self.nodes.iter().position(|n| n.state == State::Item && n.item == item as u32).map(|i| i as u32)
    }

    /// The node above, unless it is a zone.
    pub(crate) fn parent(&self, id: u32) -> Option<u32> {
        let parent = self.nodes[id as usize].parent;
        (parent != NONE).then_some(parent)
    }

    /// Takes the node with all its pieces out; they are added to `out`.
    pub(crate) fn remove(&mut self, id: u32, out: &mut Vec<usize>) {
        let before = out.len();
        self.clear(id, out);
        self.count -= out.len() - before;
        self.at(id).state = State::Free;
        self.at(id).first = NONE;
        self.leaves.push(id);
        self.merge(id);
    }

    fn clear(&mut self, id: u32, out: &mut Vec<usize>) {
        match self.nodes[id as usize].state {
            State::Item => out.push(self.nodes[id as usize].item as usize),
            State::Free => self.unleaf(id),
            State::Dead => {}
            State::Split(_) => {
                let mut child = self.nodes[id as usize].first;
                while child != NONE {
                    let next = self.nodes[child as usize].next;
                    self.clear(child, out);
                    self.at(child).state = State::Dead;
                    self.dead.push(child);
                    child = next;
                }
            }
        }
    }

    fn merge(&mut self, mut id: u32) {
        loop {
            let node = self.nodes[id as usize];
            if node.parent == NONE {
                return;
            }
            let parent = self.nodes[node.parent as usize];
            let State::Split(axis) = parent.state else {
                return;
            };
            let mut child = parent.first;
            while child != NONE {
                let other = self.nodes[child as usize];
                let next = other.next;
                if child != id && other.state == State::Free {
                    match axis {
                        Axis::X => self.at(id).width += other.width,
                        Axis::Y => self.at(id).height += other.height,
                    }
                    self.unlink(child);
                    self.unleaf(child);
                    self.at(child).state = State::Dead;
                    self.dead.push(child);
                }
                child = next;
            }
            let node = self.nodes[id as usize];
            if node.prev != NONE || node.next != NONE {
                return;
            }
            // The only child left: the parent itself is free.
            self.unleaf(id);
            self.at(id).state = State::Dead;
            self.dead.push(id);
            let parent = node.parent;
            self.at(parent).state = State::Free;
            self.at(parent).first = NONE;
            self.leaves.push(parent);
            id = parent;
        }
    }

    fn unlink(&mut self, id: u32) {
        let node = self.nodes[id as usize];
        if node.prev == NONE {
            if node.parent != NONE {
                self.at(node.parent).first = node.next;
            }
        } else {
            self.at(node.prev).next = node.next;
        }
        if node.next != NONE {
            self.at(node.next).prev = node.prev;
        }
    }

    /// Number of different extents that parallel cuts give: about the number of fence settings.
    pub(crate) fn extents(&self) -> usize {
        let mut extents: Vec<i64> = self
            .nodes
            .iter()
            .filter(|n| n.parent != NONE && matches!(n.state, State::Item | State::Split(_)))
            .map(|n| if self.nodes[n.parent as usize].state == State::Split(Axis::X) { n.width } else { n.height })
            .collect();
        extents.sort_unstable();
        extents.dedup();
        extents.len()
    }

    /// All items in it.
    pub(crate) fn items(&self) -> impl Iterator<Item = usize> {
        self.nodes.iter().filter(|n| n.state == State::Item).map(|n| n.item as usize)
    }

    /// The tree of each zone.
    pub(crate) fn slices(&self) -> Vec<Slice> {
        (0..self.roots).map(|root| self.slice(root)).collect()
    }

    fn slice(&self, id: u32) -> Slice {
        let node = &self.nodes[id as usize];
        match node.state {
            State::Item => Slice::Item(node.item as usize),
            State::Free | State::Dead => Slice::Free,
            State::Split(axis) => {
                let mut parts = Vec::new();
                let mut child = node.first;
                while child != NONE {
                    let part = &self.nodes[child as usize];
                    let extent = match axis {
                        Axis::X => part.width,
                        Axis::Y => part.height,
                    };
                    parts.push((extent, self.slice(child)));
                    child = part.next;
                }
                Slice::Split(axis, parts)
            }
        }
    }

    /// Extents of each zone: for checks in tests.
    #[cfg(test)]
    fn check(&self) {
        for root in 0..self.roots {
            self.check_node(root);
        }
        let free = self.nodes.iter().filter(|n| n.state == State::Free).count();
        assert_eq!(free, self.leaves.len());
        assert_eq!(self.count, self.items().count());
    }

    #[cfg(test)]
    fn check_node(&self, id: u32) {
        let node = &self.nodes[id as usize];
        if let State::Split(axis) = node.state {
            let (mut sum, mut child, mut frees) = (0, node.first, 0);
            while child != NONE {
                let part = &self.nodes[child as usize];
                assert_eq!(part.parent, id);
                assert_ne!(part.state, State::Split(axis), "divisions alternate");
                assert_ne!(part.state, State::Dead);
                frees += usize::from(part.state == State::Free);
                assert!(part.width > 0 && part.height > 0);
                match axis {
                    Axis::X => {
                        sum += part.width;
                        assert_eq!(part.height, node.height);
                    }
                    Axis::Y => {
                        sum += part.height;
                        assert_eq!(part.width, node.width);
                    }
                }
                self.check_node(child);
                child = part.next;
            }
            assert!(frees <= 1, "free neighbours are merged");
            assert_eq!(sum, if axis == Axis::X { node.width } else { node.height });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Random;

    #[test]
    fn putting_in_and_taking_out_keeps_the_tree_whole() {
        let mut random = Random::new(7);
        let mut tree = Tree::new(0, &[(100, 60), (40, 40)]);
        for step in 0..3000 {
            if random.below(5) < 3 {
                let (w, h) = (1 + random.below(30) as i64, 1 + random.below(30) as i64);
                let fitting: Vec<u32> = tree
                    .leaves()
                    .iter()
                    .copied()
                    .filter(|&l| tree.node(l).width >= w && tree.node(l).height >= h)
                    .collect();
                if !fitting.is_empty() {
                    let axis = if random.below(2) == 0 { Axis::X } else { Axis::Y };
                    tree.insert(fitting[random.below(fitting.len())], step, w, h, axis);
                }
            } else if let Some(mut id) = tree.item_node(random.below(1000)) {
                if random.below(4) == 0 {
                    id = tree.parent(id).unwrap_or(id);
                }
                let mut out = Vec::new();
                tree.remove(id, &mut out);
                assert!(!out.is_empty());
            }
            tree.check();
        }
        let mut out = Vec::new();
        for root in 0..2 {
            tree.remove(root, &mut out);
        }
        tree.check();
        assert_eq!(tree.leaves().len(), 2);
    }
}
