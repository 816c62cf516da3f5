//! Distance from tipping, as an answer and as a check.

use super::case::{LoadCase, Placed, Rule};
use super::kernel::{Stance, TippingEdge};
use super::result::Tipping;
use crate::check::{Finding, Lines, Source, Status};
use crate::line;
use ramwright_units::Length;

fn governing_edge(stance: &Stance) -> Option<TippingEdge> {
    match stance {
        Stance::Polygon { governing, .. } => Some(*governing),
        Stance::Line { end, .. } => Some(*end),
        Stance::NoSupport | Stance::Point { .. } => None,
    }
}

/// The edge with the least margin, by the names of its supports.
pub(super) fn tipping(stance: &Stance, names: &[&str]) -> Option<Tipping> {
    let edge = governing_edge(stance)?;
    let name = |index: usize| names.get(index).copied().unwrap_or_default().to_owned();
    let (first, second) = (edge.from.min(edge.to), edge.from.max(edge.to));
    let ratio = edge.margin_m() / edge.distance_m;
    Some(Tipping {
        from: name(first),
        to: name(second),
        distance: Length::from_m(edge.distance_m),
        reach: Length::from_m(edge.reach_m),
        margin: Length::from_m(edge.margin_m()),
        // On the edge itself there is nothing to compare with: none is left.
        ratio: if ratio.is_finite() { ratio } else { 0.0 },
    })
}

/// The check of tipping.
pub(super) fn finding(
    case: &LoadCase,
    placed: &Placed,
    stance: &Stance,
    reach_to: &Reach,
    lines: &mut Lines,
) -> Finding {
    let girder = matches!(placed.rule, Rule::Girder(_));
    let edge = match stance {
        Stance::Polygon { governing, .. } => *governing,
        Stance::Line { end, .. } if girder => *end,
        Stance::Line { .. } | Stance::Point { .. } | Stance::NoSupport => {
            return Finding::judged(
                Status::Fail,
                "the supports hold the load along one line at most: any error of the centre of gravity tips it over that line unless guides hold it",
            );
        }
    };
    let (t_c, t_a) = (Length::from_m(reach_to.centre_m), Length::from_m(reach_to.actions_m));
    let reach = line!(lines, s: Length = t + a; t = t_c, a = t_a;
        Source::definition("towards the edge: reach of the centre's tolerance (t) and of the horizontal forces (a = sum H z / least vertical load)"));
    let distance = Length::from_m(edge.distance_m);
    let finding = Finding::compare(reach, distance)
        .with_remedy(|| format!("the edge of the supports {:.0} mm farther from the centre of gravity, or so much less tolerance and horizontal force", (reach - distance).mm().ceil()));
    if finding.status() == Status::Fail {
        return finding;
    }
    // What the horizontal force adds is not known, and it can only make this worse.
    if case.lacks_height(&placed.centre) {
        return Finding::missing(["load_case/centre_of_gravity/z"]);
    }
    let margin = Length::from_m(edge.margin_m());
    match placed.least_tipping_margin {
        Some(wanted) if margin < wanted => {
            finding.with_caution("what is left is less than the margin that the request wants")
        }
        _ if girder => finding.with_caution(
            "along the girder only: the points do not hold it against rolling over sideways; guides, bracing or a second line must",
        ),
        _ => finding,
    }
}

/// What reaches towards the governing edge, in m.
pub(super) struct Reach {
    /// The centre's tolerance.
    pub(super) centre_m: f64,
    /// The horizontal forces.
    pub(super) actions_m: f64,
}

impl Reach {
    /// Towards the edge that governs.
    pub(super) fn of(stance: &Stance, domain: &super::kernel::LoadDomain) -> Self {
        let Some(edge) = governing_edge(stance) else { return Self { centre_m: 0.0, actions_m: 0.0 } };
        let centre_m = domain.box_reach_m(edge.outward);
        Self { centre_m, actions_m: edge.reach_m - centre_m }
    }
}
