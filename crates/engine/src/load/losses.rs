//! One point lost, each in turn: what the rest then does by statics alone.

use super::case::{LoadCase, Placed, Rule};
use super::kernel::Stance;
use super::phase::{Solved, solve};
use super::phases::PhasePlan;
use super::result::{PointLost, Tipping};
use super::tipping::tipping;
use crate::Text;
use ramwright_units::{Force, Length};

/// What the loss of each point that carries in this phase leaves.
pub(super) fn losses(case: &LoadCase, placed: &Placed, phase: &Solved<'_>) -> Vec<PointLost> {
    let carrying = |index: &usize| phase.ground.supports.iter().any(|s| s.members.iter().any(|m| m.point == *index));
    (0..case.points.len()).filter(carrying).map(|index| lost(case, placed, phase.plan, index)).collect()
}

fn lost(case: &LoadCase, placed: &Placed, plan: &PhasePlan, index: usize) -> PointLost {
    let id = |index: usize| case.points.get(index).map(|point| point.id.clone()).unwrap_or_default();
    let group = plan.linked.iter().find(|group| group.contains(&index));
    let mates: Vec<usize> = group.into_iter().flatten().copied().filter(|mate| *mate != index).collect();
    let rest = plan.without(index);
    let what = what_is_left(case, placed, &rest);
    PointLost {
        point: id(index),
        phase: plan.phase,
        lost_with: mates.into_iter().map(id).collect(),
        stands: what.stands,
        what: what.words,
        heaviest: what.heaviest.as_ref().map(|(name, _)| name.clone()),
        heaviest_share: what.heaviest.map(|(_, share)| share),
        tipping: what.tipping,
    }
}

struct Left {
    stands: bool,
    words: Text,
    heaviest: Option<(String, Force)>,
    tipping: Option<Tipping>,
}

fn what_is_left(case: &LoadCase, placed: &Placed, rest: &PhasePlan) -> Left {
    // What is left after a loss stands by chance, not on level supports; a girder bends over it.
    let rule = match &placed.rule {
        Rule::Girder(girder) => Rule::Girder(girder.clone()),
        _ => Rule::WorstEquilibrium,
    };
    let girder = matches!(rule, Rule::Girder(_));
    let solved = match solve(case, &Placed { rule, ..placed.clone() }, rest) {
        Ok(solved) => solved,
        Err(error) => return Left { stands: false, words: error.to_string().into(), heaviest: None, tipping: None },
    };
    let tipping = tipping(&solved.ground.stance, &solved.ground.names());
    let across = girder || matches!(solved.ground.stance, Stance::Polygon { .. });
    let stands = across && tipping.as_ref().is_some_and(|tipping| Length::ZERO <= tipping.margin);
    let words = match &tipping {
        _ if stands && girder => Text::fixed(
            "the rest holds the girder within all tolerances; its own strength, the blow and the rams' limits are not looked at here",
        ),
        _ if stands => Text::fixed(
            "the rest holds the load within all tolerances, by statics alone; the blow and the rams' limits are not looked at here",
        ),
        Some(tipping) if across => Text::from(format!(
            "the rest holds the load where it is expected, but within the tolerances it tips over {}",
            edge_in_words(tipping)
        )),
        _ => Text::fixed("the rest holds the load along one line at most"),
    };
    // Bearings of the load's own may carry most, so the name is the support's.
    let heaviest = solved.greatest_shares().reduce(|worst, next| if worst.1 < next.1 { next } else { worst });
    Left { stands, words, heaviest: heaviest.map(|(support, share)| (support.name.clone(), share)), tipping }
}

fn edge_in_words(tipping: &Tipping) -> String {
    if tipping.from == tipping.to {
        format!("its end support {}", tipping.from)
    } else {
        format!("the line from {} to {}", tipping.from, tipping.to)
    }
}
