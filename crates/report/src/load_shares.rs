//! Load shares as a table, one line a point.

use crate::Tables;
use crate::table::Table;
use ramwright_engine::load::LoadShares;
use ramwright_engine::verify::Verdict;
use ramwright_units::Profile;

/// What holds for the load as a whole (method, tipping margin, verdict) stands on every line, so that none is read without it.
impl Tables for LoadShares {
    fn csv(&self, units: Profile) -> String {
        let verdict = Verdict::of(&self.checks);
        Table::new(&self.points, units)
            .text("point", |point| Some(&point.point))
            .range("", |point| Some(point.share))
            .quantity("any_equilibrium_least", |point| point.any_equilibrium.map(|range| range.least))
            .quantity("any_equilibrium_greatest", |point| point.any_equilibrium.map(|range| range.greatest))
            .word("method", |_| Some(self.method))
            .quantity("tipping_margin", |_| self.tipping.as_ref().map(|tipping| tipping.margin))
            .word("verdict", |_| Some(verdict.status))
            .word("governing_check", |_| verdict.governing.as_ref().map(|governing| governing.check))
            .csv()
    }
}
