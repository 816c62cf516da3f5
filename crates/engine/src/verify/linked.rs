//! Whether linked rams share as their areas have it.

use super::set::RamSet;
use crate::check::{Finding, Status};
use crate::load::{LoadCase, Sharing};
use ramwright_units::Area;

/// Parts of a group that differ by less than this are the same.
const SAME_PART: f64 = 0.01;

/// The areas with which the shares of linked rams were computed against those of the set; `None` if no rams are linked.
///
/// # Source
/// Linked rams have one pressure: `R_i = p A_i`.
///
/// # Validity
/// Rams that push; one entry of the set for each point.
pub(crate) fn linked_areas(case: &LoadCase, set: &RamSet) -> Option<Finding> {
    let Sharing::Placed(placed) = &case.sharing else { return None };
    let mut groups = placed.phases.iter().flat_map(|phase| &phase.linked).peekable();
    groups.peek()?;
    // Equal areas were taken where none are stated.
    let stated = |index: &usize| Some(case.points.get(*index)?.ram_area.map_or(1.0, Area::m2));
    let actual = |index: &usize| {
        let placed = set.at_points.get(*index)?;
        Some(placed.ram.effective_area.m2() * f64::from(placed.count))
    };
    let alike = groups.all(|group| match (parts(group, stated), parts(group, actual)) {
        (Some(stated), Some(actual)) => stated.iter().zip(&actual).all(|(a, b)| (a - b).abs() <= SAME_PART),
        _ => false,
    });
    Some(if alike {
        Finding::judged(Status::Pass, "linked rams share as their areas have it")
    } else {
        Finding::missing([
            "load_case/points/*/ram_area as the rams of the set have it: linked rams share by their areas",
        ])
    })
}

/// What part of a group's area each of its points has.
fn parts(group: &[usize], area: impl Fn(&usize) -> Option<f64>) -> Option<Vec<f64>> {
    let areas: Vec<f64> = group.iter().map(area).collect::<Option<_>>()?;
    let whole: f64 = areas.iter().sum();
    (0.0 < whole).then(|| areas.iter().map(|area| area / whole).collect())
}
