//! Horizontal force on the ram.

use super::model::Ram;
use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::Force;

/// The horizontal force on one ram against its own side load limit.
///
/// # Source
/// The limit is the catalogue's; the equal sharing is an assumption for rams of one model at one extension.
///
/// # Validity
/// Upright rams; tilt of saddle or base adds to this and is not included.
pub fn side_load(book: &mut impl Ledger, ram: &Ram, rams: u32, horizontal: Force) -> Finding {
    let Some(ratio) = ram.side_load_limit_ratio else {
        return Finding::missing([format!("rams/{}/side_load_limit_ratio", ram.id)]);
    };
    let each = line!(book, H_1: Force = H / n; H = horizontal, n = f64::from(rams); Source::definition("shared equally by rams of one model"));
    let limit = line!(book, H_lim: Force = eta * p * A; eta = ratio, p = ram.rated_pressure, A = ram.effective_area; Source::stated("side load limit as a share of capacity, from the catalogue"));
    Finding::compare(each, limit)
}
