//! Points whose heights are alike, for the planner of packing lifts.

use super::set::RamSet;
use crate::load::{LoadCase, LoadShares};
use crate::packing_lift::PointsAlike;
use ramwright_units::{Force, Length, Range};

/// Lengths nearer than this are one.
const ALIKE_M: f64 = 1e-9;

/// The points in groups of one clearance and one packing clearance, in the order in which these first occur; what they carry
/// is still to be entered.
///
/// # Source
/// None: only sorts.
///
/// # Validity
/// Any load case.
///
/// # Errors
/// The input that is missing.
pub fn points_alike(case: &LoadCase, set: &RamSet) -> Result<Vec<PointsAlike>, &'static str> {
    let mut groups: Vec<PointsAlike> = Vec::new();
    for index in 0..case.points.len() {
        let one = point(case, set, index)?;
        match groups.iter_mut().find(|group| alike(group, &one)) {
            Some(group) => join(group, one),
            None => groups.push(one),
        }
    }
    Ok(groups)
}

/// The points of each end, which must be alike; what they carry is still to be entered.
///
/// # Source
/// None: only sorts.
///
/// # Validity
/// Any load case.
///
/// # Errors
/// What is missing, or what differs within an end.
pub fn points_of_ends(case: &LoadCase, set: &RamSet, ends: &[Vec<String>]) -> Result<Vec<PointsAlike>, &'static str> {
    let mut groups = Vec::new();
    for end in ends {
        let mut group: Option<PointsAlike> = None;
        for index in case.points.iter().enumerate().filter(|(_, point)| end.contains(&point.id)).map(|(index, _)| index)
        {
            let one = point(case, set, index)?;
            match &mut group {
                None => group = Some(one),
                Some(group) if alike(group, &one) => join(group, one),
                Some(_) => return Err("one clearance at all points of an end"),
            }
        }
        groups.push(group.ok_or("at least one point at every end")?);
    }
    Ok(groups)
}

fn alike(one: &PointsAlike, other: &PointsAlike) -> bool {
    let near = |a: Length, b: Length| (a - b).m().abs() <= ALIKE_M;
    near(one.clearance, other.clearance) && near(one.packing_clearance, other.packing_clearance)
}

fn join(group: &mut PointsAlike, one: PointsAlike) {
    group.points.extend(one.points);
    group.on_one_ram.extend(one.on_one_ram);
    group.rams = group.rams.saturating_add(one.rams);
}

/// Enters what one ram carries in each group, and widens what was entered before.
pub(crate) fn enter_shares(groups: &mut [PointsAlike], set: &RamSet, shares: &LoadShares) {
    for (placed, share) in set.at_points.iter().zip(&shares.points) {
        let count = f64::from(placed.count);
        let one = Range::new(share.share.least / count, share.share.expected / count, share.share.greatest / count);
        let pairs = groups.iter_mut().flat_map(|group| group.points.iter().zip(&mut group.on_one_ram));
        for (_, on) in pairs.filter(|(point, _)| **point == share.point) {
            *on = match *on {
                nothing if nothing.greatest <= Force::ZERO => one,
                a => Range::new(a.least.min(one.least), a.expected.max(one.expected), a.greatest.max(one.greatest)),
            };
        }
    }
}

fn point(case: &LoadCase, set: &RamSet, index: usize) -> Result<PointsAlike, &'static str> {
    let (Some(point), Some(placed)) = (case.points.get(index), set.at_points.get(index)) else {
        return Err("ram_set/at_points");
    };
    let clearance = point.clearance.ok_or("load_case/points/*/clearance")?;
    Ok(PointsAlike {
        points: vec![point.id.clone()],
        rams: placed.count,
        clearance,
        packing_clearance: point.packing_clearance.unwrap_or(clearance),
        on_one_ram: vec![Range::new(Force::ZERO, Force::ZERO, Force::ZERO)],
    })
}
