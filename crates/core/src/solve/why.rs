//! Why a size is what it is, in words: what decides it, and how far it could move.

use super::conflict::{demand, subject, written};
use super::model::Model;
use super::reason::{Reason, size_word};
use super::{SolveError, Solved};
use crate::axis::{self, MustId, Reach, Span};
use crate::geometry::Axis;
use crate::length::Length;
use crate::text::FieldPath;

/// A size that can be asked about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SizeRef {
    /// A size of the envelope.
    Envelope(Axis),
    /// A size of the clear opening of a bay.
    Bay(String, Axis),
}

/// What decides a size, and how far it could move.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// The size.
    pub size: Length,
    /// What decides it, strongest first.
    pub deciders: Vec<Decider>,
    /// The least that all demands allow, and what stops it there.
    pub least: Option<(Length, Vec<String>)>,
    /// The most that all demands allow, and what stops it there.
    pub most: Option<(Length, Vec<String>)>,
}

/// One thing that decides a size.
#[derive(Clone, Debug, PartialEq)]
pub struct Decider {
    /// What it is, in words.
    pub words: String,
    /// Whether it is a demand; else it is a wish.
    pub is_demand: bool,
    /// By how many millimetres the size would grow if the demand grew by one.
    pub effect: f64,
    /// The field that it comes from.
    pub field: Option<FieldPath>,
}

impl Solved<'_> {
    /// What decides a size; none if there is no such bay.
    ///
    /// # Errors
    /// A fault of the program.
    pub fn why(&self, size: &SizeRef) -> Result<Option<Why>, SolveError> {
        let (axis, span) = match size {
            SizeRef::Envelope(axis) => (*axis, Model::span(self.model.envelope[axis.index()])),
            SizeRef::Bay(name, axis) => match self.model.nodes.iter().find(|node| node.name == name) {
                Some(node) => (*axis, Model::span(node.faces[axis.index()])),
                None => return Ok(None),
            },
        };
        self.why_span(axis, span).map(Some)
    }

    fn why_span(&self, axis: Axis, span: Span) -> Result<Why, SolveError> {
        let problem = &self.model.problems[axis.index()];
        let solution = &self.solutions[axis.index()];
        let found = axis::why(problem, solution, span).map_err(|error| SolveError::Internal(error.to_string()))?;
        let deciders =
            found.deciders.iter().filter_map(|(decider, effect)| self.decider(axis, *decider, *effect)).collect();
        let reach = |reach: Option<Reach>| {
            reach.map(|reach| {
                let stops = reach.stopped_by.iter().filter_map(|must| self.must_in_words(axis, *must)).collect();
                (reach.size, stops)
            })
        };
        Ok(Why { size: found.size, deciders, least: reach(found.play.least), most: reach(found.play.most) })
    }

    fn must_reason(&self, axis: Axis, must: MustId) -> Option<(&Reason, &axis::MustKind)> {
        let must = self.model.problems[axis.index()].musts.get(must.0)?;
        Some((self.model.reason(axis, must.label)?, &must.kind))
    }

    fn must_in_words(&self, axis: Axis, must: MustId) -> Option<String> {
        let (reason, kind) = self.must_reason(axis, must)?;
        Some(demand(self.model.design, axis, reason, kind))
    }

    fn decider(&self, axis: Axis, decider: axis::Decider, effect: f64) -> Option<Decider> {
        match decider {
            axis::Decider::Must(must) => {
                let (reason, kind) = self.must_reason(axis, must)?;
                let words = demand(self.model.design, axis, reason, kind);
                Some(Decider { words, is_demand: true, effect, field: Some(reason.field.clone()) })
            }
            axis::Decider::Wish(wish) => {
                let wish = self.model.problems[axis.index()].wishes.get(wish.0)?;
                let reason = self.model.reason(axis, wish.label)?;
                let first = reason.about.first().map_or("", String::as_str);
                let target = match wish.kind {
                    axis::WishKind::Size { target, .. } => format!(" ({})", written(self.model.design, target)),
                    _ => String::new(),
                };
                let words = format!("{} of {first:?}: {}{target}", size_word(axis), subject(axis, reason));
                Some(Decider { words, is_demand: false, effect, field: Some(reason.field.clone()) })
            }
            axis::Decider::Rest(_) => Some(Decider {
                words: "nothing asks: it rests in the middle".into(),
                is_demand: false,
                effect,
                field: None,
            }),
        }
    }
}
