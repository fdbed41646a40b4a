//! Planning boards: the reduced problem, the guillotine tree, bounds, and the searches over them.

pub(crate) mod assemble;
pub(crate) mod blocks;
pub(crate) mod choice;
pub(crate) mod crowd;
pub(crate) mod dual;
pub(crate) mod frame;
pub(crate) mod kept;
pub(crate) mod plan;
pub(crate) mod problem;
pub(crate) mod rebuild;
pub(crate) mod seamless;
pub(crate) mod small;
pub(crate) mod solve;
pub(crate) mod strips;
pub(crate) mod tidy;
pub(crate) mod tight;
pub(crate) mod tree;
