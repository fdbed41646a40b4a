//! Boards on their way into the stock of a design: of materials that it has, and under names of their own.

use casewright_core::Length;
use casewright_core::design::Board;
use casewright_core::stock::bare_name;

/// A board of a material that the design does not have.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the board {board:?} is of {material:?}, which is no material")]
pub struct StrangeMaterial {
    /// The name of the board.
    pub board: String,
    /// What it says that it is of.
    pub material: String,
}

/// The boards under names that neither `present` nor the boards before have; those that need another one get a number.
///
/// # Errors
/// The first board of a material that is not known.
pub fn admitted<L>(
    mut boards: Vec<Board<Length>>,
    present: &[Board<L>],
    is_material: impl Fn(&str) -> bool,
) -> Result<Vec<Board<Length>>, StrangeMaterial> {
    for index in 0..boards.len() {
        let (before, rest) = boards.split_at_mut(index);
        let Some(board) = rest.first_mut() else { continue };
        if !is_material(&board.material) {
            return Err(StrangeMaterial { board: board.name.clone(), material: board.material.clone() });
        }
        board.name = bare_name(&board.name, present, before);
    }
    Ok(boards)
}
