//! Laying out a view in the background: where dimensions and labels go at a scale takes longer than a frame may.

use std::sync::Arc;

use casewright_drawing::{DimensionStyle, PlacedView, View};
use egui::Rect;

use super::camera::Camera;

/// A view to be laid out.
#[derive(Clone, Debug)]
pub struct Job {
    /// What it is for.
    pub key: Key,
    /// The view.
    pub view: Arc<View>,
    /// Where one looks; with the scale that belongs to it, unless the whole drawing is to be fitted in.
    pub camera: Camera,
}

/// What a laid out view was made for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Key {
    /// The number of the request that the view came from.
    pub serial: u64,
    /// Whether parts are numbered.
    pub numbers: bool,
    /// The window, if the drawing was fitted into it.
    pub window: Option<Rect>,
    /// The scale, if it was not.
    pub scale: Option<f64>,
}

/// A view that is laid out.
#[derive(Clone, Debug)]
pub struct Laid {
    /// What it was made for.
    pub key: Key,
    /// The view as it was before.
    pub view: Arc<View>,
    /// Where one looks now.
    pub camera: Camera,
    /// The view laid out.
    pub placed: PlacedView,
}

/// Lays out a view; nothing if the drawing crate fails at it, which is a defect but must not cost the window.
#[must_use]
pub fn lay_out(job: &Job) -> Option<Laid> {
    std::panic::catch_unwind(|| {
        let style = DimensionStyle::default();
        let mut camera = job.camera;
        if let Some(window) = job.key.window {
            // Labels and numbers lie within the outline, or nearly so, and need not be placed to know the room.
            let mut bare = (*job.view).clone();
            bare.pointers.clear();
            bare.labels.clear();
            let outline = bare.outline();
            camera.fit(window, outline, &mut |scale| bare.lay_out(scale, &style).bounds);
        }
        let placed = if job.key.numbers {
            job.view.lay_out(camera.scale(), &style)
        } else {
            let mut bare = (*job.view).clone();
            bare.pointers.clear();
            bare.lay_out(camera.scale(), &style)
        };
        Laid { key: job.key, view: job.view.clone(), camera, placed }
    })
    .ok()
}
