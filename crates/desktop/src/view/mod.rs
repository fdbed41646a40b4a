//! The drawing in the middle: the same display lists as on paper, with pan, zoom, hit test and selection.

pub mod board;
pub mod camera;
pub mod canvas;
pub mod checks;
pub mod cuts;
pub mod dividers;
pub mod gallery;
pub mod ghost;
pub mod handling;
pub mod laying;
pub mod paint;
pub mod plain;
pub mod polygon;
pub mod sheets;
pub mod sizes;

pub use camera::Camera;
