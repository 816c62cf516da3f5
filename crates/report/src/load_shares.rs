//! Load shares as a table: one line for each support of each phase, or for each point where shares were stated.

use crate::Tables;
use crate::table::Table;
use ramwright_engine::check::Phase;
use ramwright_engine::load::{
    Exactness, GoverningEnds, LoadShares, Method, PhaseShares, PointLost, PointShare, Sensitivity, SupportKind,
    SupportShare, Tipping,
};
use ramwright_engine::verify::Verdict;
use ramwright_units::{ForceRange, Profile};

/// One line of the table.
struct Row<'a> {
    point: &'a str,
    phase: Option<Phase>,
    phase_name: Option<&'a str>,
    support: Option<SupportKind>,
    share: ForceRange,
    any_equilibrium: Option<ForceRange>,
    method: Method,
    exactness: Option<Exactness>,
    governing: Option<&'a GoverningEnds>,
    sensitivity: Option<Sensitivity>,
    tipping: Option<&'a Tipping>,
    loss: Option<&'a PointLost>,
}

impl<'a> Row<'a> {
    fn of_support(shares: &'a LoadShares, phase: &'a PhaseShares, support: &'a SupportShare) -> Self {
        let first = shares.phases.first().is_some_and(|first| std::ptr::eq(first, phase));
        let lost = |loss: &&PointLost| first && support.points.contains(&loss.point);
        Self {
            point: &support.support,
            phase: Some(phase.phase),
            phase_name: phase.name.as_deref(),
            support: Some(support.kind),
            share: support.share,
            any_equilibrium: support.any_equilibrium,
            method: phase.method,
            exactness: Some(support.exactness),
            governing: support.governing.as_ref(),
            sensitivity: support.sensitivity,
            tipping: phase.tipping.as_ref(),
            loss: shares.losses.iter().find(lost),
        }
    }

    fn of_point(shares: &'a LoadShares, point: &'a PointShare) -> Self {
        Self {
            point: &point.point,
            phase: None,
            phase_name: None,
            support: None,
            share: point.share,
            any_equilibrium: point.any_equilibrium,
            method: shares.method,
            exactness: None,
            governing: None,
            sensitivity: None,
            tipping: shares.tipping.as_ref(),
            loss: None,
        }
    }

    fn all(shares: &'a LoadShares) -> Vec<Self> {
        if shares.phases.is_empty() {
            return shares.points.iter().map(|point| Self::of_point(shares, point)).collect();
        }
        let of_phase =
            |phase: &'a PhaseShares| phase.supports.iter().map(move |support| Self::of_support(shares, phase, support));
        shares.phases.iter().flat_map(of_phase).collect()
    }
}

/// What holds for the load as a whole (verdict) stands on every line, so that none is read without it.
impl Tables for LoadShares {
    fn csv(&self, units: Profile) -> String {
        let verdict = Verdict::of(&self.checks);
        let rows = Row::all(self);
        Table::new(&rows, units)
            .text("point", |row| Some(row.point))
            .range("", |row| Some(row.share))
            .quantity("any_equilibrium_least", |row| row.any_equilibrium.map(|range| range.least))
            .quantity("any_equilibrium_greatest", |row| row.any_equilibrium.map(|range| range.greatest))
            .word("method", |row| Some(row.method))
            .quantity("tipping_margin", |row| row.tipping.map(|tipping| tipping.margin))
            .number("tipping_ratio", |row| row.tipping.map(|tipping| tipping.ratio))
            .word("verdict", |_| Some(verdict.status))
            .word("governing_check", |_| verdict.governing.as_ref().map(|governing| governing.check))
            .word("phase", |row| row.phase)
            .text("phase_name", |row| row.phase_name)
            .word("support", |row| row.support)
            .word("exactness", |row| row.exactness)
            .text("governs_least", |row| row.governing.map(|governing| governing.least.words.as_str()))
            .text("governs_greatest", |row| row.governing.map(|governing| governing.greatest.words.as_str()))
            .quantity("cost_of_centre", |row| row.sensitivity.map(|costs| costs.centre_10_mm))
            .quantity("cost_of_weight", |row| row.sensitivity.map(|costs| costs.weight_1_percent))
            .quantity("cost_of_level", |row| row.sensitivity.and_then(|costs| costs.level_1_mm))
            .word("lost_rest_stands", |row| row.loss.map(|loss| loss.stands))
            .text("lost_heaviest", |row| row.loss.and_then(|loss| loss.heaviest.as_deref()))
            .quantity("lost_heaviest_share", |row| row.loss.and_then(|loss| loss.heaviest_share))
            .csv()
    }
}
