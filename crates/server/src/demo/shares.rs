//! What each point carries.

use super::figures::{quantity, word};
use super::page::Page;
use super::table::Table;
use ramwright_engine::load::{LoadShares, Method};
use ramwright_engine::plan::LiftPlan;
use ramwright_units::Profile;

/// The shares of a plan, with or without rams that fit.
pub(super) fn of(plan: &LiftPlan) -> Option<&LoadShares> {
    let verified = plan.verification.as_ref().map(|verification| &verification.load_shares);
    verified.or_else(|| plan.sizing.as_ref().map(|sizing| &sizing.load_shares))
}

pub(super) fn write(page: &mut Page, shares: &LoadShares, units: Profile) {
    page.heading("WHAT EACH POINT CARRIES");
    page.under(&format!("Method: {}: {}.", word(&shares.method), shares.why));
    let table = Table::new(&shares.points)
        .left("point", |point| point.point.clone())
        .quantities("least", units, "unknown", |point| Some(point.share.least))
        .quantities("expected", units, "unknown", |point| Some(point.share.expected))
        .quantities("greatest", units, "unknown", |point| Some(point.share.greatest));
    // By the worst equilibrium both are the same.
    let beside = shares.method != Method::WorstEquilibrium;
    let bounded = beside && shares.points.iter().any(|point| point.any_equilibrium.is_some());
    let table = if bounded {
        table
            .quantities("any equil. least", units, "unknown", |point| point.any_equilibrium.map(|range| range.least))
            .quantities("any equil. greatest", units, "unknown", |point| {
                point.any_equilibrium.map(|range| range.greatest)
            })
    } else {
        table
    };
    table.write(page);
    if bounded {
        page.under(
            "any equil.: what any equilibrium could bring to the point, were nothing known of levels and stiffness. The \
             rams are sized by the columns least to greatest, which hold only within the level tolerance and stiffness \
             stated.",
        );
    }
    if shares.method == Method::WorstEquilibrium {
        page.under("Least and greatest are those of any equilibrium, whatever the levels and the stiffness.");
    }
    let total = if shares.method == Method::Stated { "Total of the stated reactions" } else { "Weight" };
    let (least, greatest) = (quantity(shares.weight.least, units), quantity(shares.weight.greatest, units));
    let expected = quantity(shares.weight.expected, units);
    page.under(&format!(
        "{total}: {least} / {expected} / {greatest} (least / expected / greatest). Horizontal force: {}.",
        quantity(shares.horizontal_force, units)
    ));
    if let Some(tipping) = &shares.tipping {
        page.under(&format!(
            "Tipping: nearest over the line from {} to {}. The centre of gravity is {} inside it and can come {} nearer: margin {}.",
            tipping.from,
            tipping.to,
            quantity(tipping.distance, units),
            quantity(tipping.reach, units),
            quantity(tipping.margin, units)
        ));
    }
}
