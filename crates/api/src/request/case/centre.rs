//! Weight and centre of gravity as stated, with the tolerances that were not.

use super::{PRACTICE, Reader};
use crate::problem::FaultCode;
use crate::request::case_wire::CentreSent;
use crate::request::context::Context;
use crate::request::words::DataOrigin;
use crate::sent::Sent;
use ramwright_engine::Text;
use ramwright_engine::check::Source;
use ramwright_engine::load::Centre;
use ramwright_engine::remark::Caution;
use ramwright_units::{Force, Length, Range, Typed};

impl Reader<'_> {
    /// The weight as stated.
    pub(super) fn weight(&self, context: &mut Context<'_>) -> Option<Range<Force>> {
        let Some(weight) = &self.sent.weight else {
            let fault = self
                .at
                .field("weight")
                .fault(FaultCode::Inconsistent, "a load that is raised has a weight, and none is given");
            context
                .faults
                .push(fault.with_hint("give it as a mass or as a force, such as \"212 t\", or give its parts"));
            return None;
        };
        let tolerance = self.weight_tolerance(context);
        Some(within(weight.get().force, tolerance))
    }

    /// By which fraction a weight may be wrong that states no tolerance of its own.
    pub(super) fn weight_tolerance(&self, context: &mut Context<'_>) -> f64 {
        if let Some(tolerance) = &self.sent.weight_tolerance {
            return tolerance.get();
        }
        let (tolerance, text) = match self.sent.origin {
            Some(DataOrigin::Weighed) => (0.03, "the weight may be wrong by this fraction, since it was weighed"),
            Some(DataOrigin::Calculated) => (0.05, "the weight may be wrong by this fraction, since it was calculated"),
            Some(DataOrigin::Nameplate) => {
                (0.10, "the weight may be wrong by this fraction, since it is from a plate or list")
            }
            None => (0.10, "the weight may be wrong by this fraction, since nothing says where it is from"),
        };
        context.assume(&self.at.field("weight_tolerance"), text, tolerance, PRACTICE);
        tolerance
    }

    /// Whether the request says itself that nobody knows where the centre of gravity is.
    pub(super) fn centre_is_guessed(&self) -> bool {
        self.sent.centre_of_gravity.as_ref().is_some_and(|sent| sent.guessed == Some(true))
    }

    /// The centre of gravity as stated.
    pub(super) fn centre(
        &self,
        sent: &CentreSent,
        positions: &[(Length, Length)],
        context: &mut Context<'_>,
    ) -> Centre {
        let here = self.at.field("centre_of_gravity");
        if self.centre_is_guessed() {
            context.assume_choice(
                &here,
                "the place of the centre of gravity is a guess",
                Source::stated("the request"),
            );
            context.cautions.push(Caution::new(
                "guessed_centre",
                "The place of the centre of gravity is a guess. Where it is farther off than its tolerance, a point carries more than is shown here: find it, or weigh the load, before the lift.",
            ));
        }
        let tolerance = sent.tolerance.as_ref().map_or_else(
            || self.place_tolerance(&here.field("tolerance"), "the centre of gravity", positions, context),
            Sent::get,
        );
        let z = sent.z.as_ref().map(|z| {
            let by = sent.z_tolerance.as_ref().map_or_else(
                || {
                    let text = "the centre of gravity may be higher by this much: as much as it may be off in x and y";
                    context.assume(&here.field("z_tolerance"), text, tolerance, PRACTICE);
                    tolerance
                },
                Sent::get,
            );
            farther(z.get(), by)
        });
        if sent.z.is_none() && sent.z_tolerance.is_some() {
            context.inconsistent(
                &here.field("z_tolerance"),
                "there is no z that it belongs to",
                "give z, or leave it out",
            );
        }
        Centre { x: about(sent.x.get(), tolerance), y: about(sent.y.get(), tolerance), z }
    }

    /// By how much a place may be wrong that states no tolerance of its own.
    pub(super) fn place_tolerance(
        &self,
        field: &crate::read::Pointer,
        what: &str,
        positions: &[(Length, Length)],
        context: &mut Context<'_>,
    ) -> Length {
        // However the weight was found, a guess is no better for it.
        let origin = self.sent.origin.filter(|_| !self.centre_is_guessed());
        let (share, percent, reason) = match origin {
            Some(DataOrigin::Weighed) => (0.01, "1 %", "the load was weighed"),
            Some(DataOrigin::Calculated) => (0.025, "2.5 %", "it was calculated"),
            Some(DataOrigin::Nameplate) | None => (0.05, "5 %", "nothing better is known"),
        };
        let tolerance = greatest_distance(positions) * share;
        let text = Text::from(format!(
            "{what} may be wrong by this much in x and y: {percent} of the greatest distance between points, since {reason}"
        ));
        context.assume(field, text, tolerance, PRACTICE);
        tolerance
    }
}

/// A weight within a tolerance.
pub(super) fn within(force: Force, tolerance: f64) -> Range<Force> {
    Range::new(force * (1.0 - tolerance), force, force * (1.0 + tolerance))
}

/// A place within a tolerance.
pub(super) fn about(at: Length, tolerance: Length) -> Range<Length> {
    Range::new(at - tolerance, at, at + tolerance)
}

/// The height farthest from the plane of the supports.
pub(super) fn farther(z: Length, by: Length) -> Length {
    if z < Length::ZERO { z - by } else { z + by }
}

fn greatest_distance(positions: &[(Length, Length)]) -> Length {
    let square = |a: &(Length, Length), b: &(Length, Length)| {
        let (x, y) = ((a.0 - b.0).si(), (a.1 - b.1).si());
        x * x + y * y
    };
    let pairs =
        positions.iter().enumerate().flat_map(|(index, a)| positions.iter().skip(index + 1).map(move |b| square(a, b)));
    Length::from_si(pairs.fold(0.0, f64::max).sqrt())
}
