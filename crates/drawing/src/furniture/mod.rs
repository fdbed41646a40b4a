//! Views and lists of furniture, from a layout and an assembly.
//!
//! Nothing here computes a size: every position is read from the assembly or the layout, every printed value is
//! formatted by the core from the exact difference of two positions.

mod buying;
mod cautions;
mod chains;
mod chapter;
mod checklist;
mod checks;
mod checks_diagram;
mod cover;
mod curves;
mod cut_boards;
mod cut_labels;
mod decimal;
mod elevation;
mod handles;
mod installation;
mod isometric;
mod jigs;
mod joint_labels;
mod lead_sheet;
mod lists;
mod marking;
mod measure;
mod movement;
mod moving;
mod moving_balance;
mod moving_plot;
mod moving_sheets;
mod moving_views;
mod order;
mod pack;
mod part_group;
mod part_marks;
mod part_net;
mod part_ordinates;
mod part_sheets;
mod part_words;
mod proposal_sheet;
mod scene;
mod section;
mod shape;
mod sheet_plan;
mod site;
mod stand;
mod templates;
mod worktop_sheet;

pub use buying::{buying_list, spare_list};
pub use chapter::Chapter;
pub use checks::{check_pages, finding_diagrams};
pub use cut_boards::{board_notes, board_picture};
pub use elevation::{front_elevation, front_elevation_with_fronts};
pub use isometric::isometric_view;
pub use lists::{banding_list, fittings_list, parts_list};
pub use moving::clearance_list;
pub use moving_balance::tilt_list;
pub use moving_plot::tilt_plot;
pub use order::{StepCard, step_cards};
pub use pack::{Pack, PackOptions, pack, pack_watched};
pub use part_group::{PartGroup, part_groups};
pub use proposal_sheet::{ProposalCard, plain_elevation, proposal_sheets};
pub use scene::Scene;
pub use section::{plan_section, side_section};
pub use worktop_sheet::{worktop_full_size, worktop_template};
