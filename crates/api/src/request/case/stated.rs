//! Reactions from somebody's own analysis.

use super::{Load, Reader};
use crate::request::case_wire::{PointSent, StatedReactionSent};
use crate::request::context::Context;
use crate::sent::Sent;
use ramwright_engine::force::ForceEstimate;
use ramwright_engine::load::{Record, Sharing, StatedShare};
use ramwright_units::{Force, Range};

/// By how much a stated weight may differ from the sum of stated reactions.
const MISFIT: f64 = 0.001;

impl Reader<'_> {
    /// Reactions from somebody's own analysis.
    pub(super) fn stated(&self, context: &mut Context<'_>) -> Option<Load> {
        self.nothing_beside_stated(context);
        let shares = self.stated_shares(&[], context)?;
        let load = by_stated(shares);
        if let Some(weight) = &self.sent.weight {
            let expected = load.weight.expected;
            let misfit = (weight.get().force - expected) / expected;
            if MISFIT < misfit.abs() {
                let detail =
                    format!("the stated reactions add up to {:.4} of this weight", expected / weight.get().force);
                context.inconsistent(
                    &self.at.field("weight"),
                    detail,
                    "leave the weight out, or put the reactions right",
                );
            }
        }
        Some(load)
    }

    pub(super) fn nothing_beside_stated(&self, context: &mut Context<'_>) {
        let others = [
            (self.sent.centre_of_gravity.is_some(), "centre_of_gravity"),
            (self.sent.parts.is_some(), "parts"),
            (self.sent.girder.is_some(), "girder"),
            (self.sent.phases.is_some(), "phases"),
            (self.sent.least_tipping_margin.is_some(), "least_tipping_margin"),
            (self.sent.wind.is_some(), "wind"),
            (self.sent.slope.is_some(), "slope"),
            (self.sent.dynamic_factor.is_some(), "dynamic_factor"),
            (self.sent.sharing.is_some(), "sharing"),
            (self.sent.level_tolerance.is_some(), "level_tolerance"),
            (self.sent.support_stiffness.is_some(), "support_stiffness"),
        ];
        let hint = "leave it out, or leave the stated reactions out";
        self.not_used(&others, "with stated reactions this is not used", hint, context);
        self.nothing_of_places("with stated reactions this is not used", context);
    }

    /// The reactions in the order of the points, each stated or, in a frame, estimated.
    pub(super) fn stated_shares(
        &self,
        estimates: &[ForceEstimate],
        context: &mut Context<'_>,
    ) -> Option<Vec<StatedShare>> {
        let needs_tolerance = self.points.iter().any(|point| {
            point.stated_reaction.as_ref().is_some_and(|stated| stated.least.is_none() || stated.greatest.is_none())
        });
        if !needs_tolerance && self.sent.weight_tolerance.is_some() {
            context.inconsistent(
                &self.at.field("weight_tolerance"),
                "every reaction states its least and greatest, so this is not used",
                "leave it out",
            );
        }
        let tolerance = if needs_tolerance { self.weight_tolerance(context) } else { 0.0 };
        let mut complete = true;
        for (index, point) in self.sent.points.0.iter().enumerate() {
            let here = self.point_at(index).field("stated_reaction");
            match &point.stated_reaction {
                // An estimate that failed has a fault of its own.
                None if point.estimated_reaction.is_some() => {}
                None => {
                    complete = false;
                    context.inconsistent(
                        &here,
                        format!("the point `{}` has no stated reaction", point.id.0),
                        "state it for every point or for none",
                    );
                }
                Some(stated) => {
                    let range = in_range(stated, tolerance);
                    if range.expected < range.least || range.greatest < range.expected {
                        complete = false;
                        context.inconsistent(&here, "least, expected and greatest must not fall", "put them in order");
                    }
                }
            }
        }
        let share = |point: &&PointSent| {
            let estimate = estimates.iter().find(|estimate| estimate.point == point.id.0).map(|found| found.force);
            point.stated_reaction.as_ref().map(|stated| in_range(stated, tolerance)).or(estimate)
        };
        let shares: Option<Vec<StatedShare>> = self.points.iter().map(share).collect();
        shares.filter(|_| complete)
    }
}

/// The load that these reactions hold.
pub(super) fn by_stated(shares: Vec<StatedShare>) -> Load {
    let sum = |part: fn(&StatedShare) -> Force| shares.iter().map(part).sum::<Force>();
    let weight = Range::new(sum(|share| share.least), sum(|share| share.expected), sum(|share| share.greatest));
    Load { weight, sharing: Sharing::Stated(shares), record: Record::default() }
}

fn in_range(stated: &StatedReactionSent, tolerance: f64) -> Range<Force> {
    let expected = stated.expected.get();
    Range::new(
        stated.least.as_ref().map_or(expected * (1.0 - tolerance), Sent::get),
        expected,
        stated.greatest.as_ref().map_or(expected * (1.0 + tolerance), Sent::get),
    )
}
