//! A load that is raised: by positions, equally, or as stated; or forces in a frame.

use super::stated::by_stated;
use super::{Load, PRACTICE, Reader};
use crate::request::context::Context;
use crate::sent::Sent;
use ramwright_engine::load::{Centre, Placed, Record, Rule, Sharing};
use ramwright_engine::remark::Caution;
use ramwright_units::{Force, Length, Range};

/// What is known of a load as a whole.
pub(super) struct Whole {
    pub(super) weight: Range<Force>,
    pub(super) centre: Centre,
    pub(super) record: Record,
}

impl Reader<'_> {
    /// A load that is raised.
    pub(super) fn raised(&self, context: &mut Context<'_>) -> Option<Load> {
        if self.points.iter().any(|point| point.stated_reaction.is_some()) {
            return self.stated(context);
        }
        let placed = self.points.iter().any(|point| point.x.is_some() || point.y.is_some());
        let known = self.sent.centre_of_gravity.is_some() || self.sent.parts.is_some() || self.sent.girder.is_some();
        match (placed, known) {
            (false, false) => self.equal(context),
            (_, true) => self.on_places(context),
            (true, false) => {
                self.weight(context);
                let here = self.at.field("centre_of_gravity");
                context.inconsistent(
                    &here,
                    "the points have positions, so the centre of gravity is needed",
                    "give x, y and, for the horizontal force, z; or the parts that the load is made of",
                );
                None
            }
        }
    }

    /// Without positions only an equal division is possible.
    fn equal(&self, context: &mut Context<'_>) -> Option<Load> {
        let of_places = [
            (self.sent.sharing.is_some(), "sharing"),
            (self.sent.level_tolerance.is_some(), "level_tolerance"),
            (self.sent.support_stiffness.is_some(), "support_stiffness"),
            (self.sent.phases.is_some(), "phases"),
            (self.sent.wind.is_some(), "wind"),
            (self.sent.slope.is_some(), "slope"),
            (self.sent.least_tipping_margin.is_some(), "least_tipping_margin"),
        ];
        let detail = "without positions and a centre of gravity the load is divided equally, and this cannot be used";
        self.not_used(
            &of_places,
            detail,
            "give the positions of the points and the centre of gravity, or leave it out",
            context,
        );
        self.nothing_of_places("without positions this cannot be used", context);
        let weight = self.weight(context);
        let here = self.at.field("points");
        context.assume_choice(&here, "no positions were given: every point carries an equal share", PRACTICE);
        context.cautions.push(Caution::new(
            "equal_shares",
            "Equal shares are a guess. Under a stiff load on a rectangle of four points two diagonal points can carry it all, which is twice the equal share at each; give positions and the centre of gravity.",
        ));
        Some(Load { weight: weight?, sharing: Sharing::Equal, record: Record::default() })
    }

    fn on_places(&self, context: &mut Context<'_>) -> Option<Load> {
        let positions = self.positions(context);
        let places = positions.as_deref().unwrap_or_default();
        let (whole, rule) = match &self.sent.girder {
            Some(girder) => {
                self.girder(girder, places, context).map_or((None, None), |(whole, rule)| (Some(whole), Some(rule)))
            }
            None if self.sent.parts.is_some() => (self.parts_as_whole(places, context), self.rule(context)),
            None => (self.weight_and_centre(places, context), self.rule(context)),
        };
        let phases = self.phases(context);
        let (whole, positions, rule, phases) = (whole?, positions?, rule?, phases?);
        self.suits(&rule, &phases, context)?;
        let Whole { weight, centre, record } = self.weighed(whole, &positions, context)?;
        let placed = Placed {
            centre,
            positions,
            rule,
            level_band: self.sent.level_tolerance.as_ref().map(Sent::get),
            phases,
            least_tipping_margin: self.sent.least_tipping_margin.as_ref().map(Sent::get),
        };
        Some(Load { weight, sharing: Sharing::Placed(placed), record })
    }

    fn weight_and_centre(&self, places: &[(Length, Length)], context: &mut Context<'_>) -> Option<Whole> {
        let weight = self.weight(context);
        let centre = self.sent.centre_of_gravity.as_ref().map(|sent| self.centre(sent, places, context));
        let record = Record { guessed_centre: self.centre_is_guessed(), ..Record::default() };
        Some(Whole { weight: weight?, centre: centre?, record })
    }

    /// The positions of all points, in their order.
    fn positions(&self, context: &mut Context<'_>) -> Option<Vec<(Length, Length)>> {
        for (index, point) in self.sent.points.0.iter().enumerate() {
            for (name, position) in [("x", &point.x), ("y", &point.y)] {
                if position.is_none() {
                    let here = self.point_at(index).field(name);
                    context.inconsistent(
                        &here,
                        format!("the point `{}` has no {name}", point.id.0),
                        "with a centre of gravity, parts or a girder every point needs x and y",
                    );
                }
            }
        }
        self.points.iter().map(|point| Some((point.x.as_ref()?.get(), point.y.as_ref()?.get()))).collect()
    }

    /// A frame: stated forces, and nothing that belongs to a load on its supports.
    pub(super) fn in_frame(&self, context: &mut Context<'_>) -> Option<Load> {
        let others = [
            (self.sent.weight.is_some(), "weight"),
            (self.sent.horizontal_share.is_some(), "horizontal_share"),
            (self.sent.horizontal_force.is_some(), "horizontal_force"),
        ];
        let hint = "leave it out, or use the task \"raise\"";
        self.not_used(&others, "in a frame nothing is lifted, so this is not used", hint, context);
        self.nothing_beside_stated(context);
        let estimates = self.estimates(context);
        let shares = self.stated_shares(&estimates, context)?;
        let load = by_stated(shares);
        Some(Load { record: Record { estimates, ..Record::default() }, ..load })
    }

    /// Refuses a method that none of the phases has a use for.
    fn suits(
        &self,
        rule: &Rule,
        phases: &[ramwright_engine::load::PhasePlan],
        context: &mut Context<'_>,
    ) -> Option<()> {
        let most =
            phases.iter().map(ramwright_engine::load::PhasePlan::support_count).max().unwrap_or(self.points.len());
        if *rule == Rule::Elastic && self.sent.sharing.is_some() && most <= 3 {
            context.inconsistent(
                &self.at.field("sharing"),
                "up to three supports carry by statics, whatever their stiffness and levels are",
                "leave `sharing` out",
            );
            return None;
        }
        Some(())
    }
}
