//! By which rule the supports share.

use super::Reader;
use crate::request::context::Context;
use crate::request::words::SharingWord;
use ramwright_engine::load::Rule;

impl Reader<'_> {
    /// The rule asked for, or the one that suits what is known.
    pub(super) fn rule(&self, context: &mut Context<'_>) -> Option<Rule> {
        let mut sound = true;
        let some = self.points.iter().any(|point| point.states_stiffness()) || self.sent.support_stiffness.is_some();
        let all = self.points.iter().all(|point| point.states_stiffness()) || self.sent.support_stiffness.is_some();
        let levels = self.sent.level_tolerance.is_some() || self.points.iter().any(|point| point.level.is_some());
        if levels && !all {
            sound = false;
            context.inconsistent(
                &self.at.field("support_stiffness"),
                "levels mean nothing without the stiffness of every support",
                "give it, or `stiffness` or `springs` at every point, or leave the levels out",
            );
        }
        if self.sent.sharing == Some(SharingWord::Elastic) && some && !all {
            sound = false;
            context.inconsistent(
                &self.at.field("support_stiffness"),
                "some points state a stiffness and some do not, so they cannot share by it",
                "give it, or `stiffness` or `springs` at every point or at none",
            );
        }
        if self.sent.sharing == Some(SharingWord::WorstEquilibrium) && levels {
            sound = false;
            context.inconsistent(
                &self.at.field("sharing"),
                "the worst equilibrium does not use levels",
                "use elastic sharing, or leave level_tolerance and levels out",
            );
        }
        sound.then_some(match self.sent.sharing {
            Some(SharingWord::Elastic) => Rule::Elastic,
            Some(SharingWord::WorstEquilibrium) => Rule::WorstEquilibrium,
            None => Rule::Automatic,
        })
    }
}
