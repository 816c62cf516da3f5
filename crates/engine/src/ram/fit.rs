//! Whether the closed ram goes under the load.

use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::Length;

/// Closed height, plates and entry gap against the clearance.
///
/// # Source
/// Geometry.
///
/// # Validity
/// The clearance is measured where the ram is slid in.
pub fn closed_height(
    book: &mut impl Ledger,
    closed_height: Length,
    plates: Length,
    entry_gap: Length,
    clearance: Option<Length>,
    missing: &str,
) -> Finding {
    let Some(clearance) = clearance else {
        return Finding::missing([missing.to_owned()]);
    };
    let needed = line!(book, h: Length = c + t_p + g_r; c = closed_height, t_p = plates, g_r = entry_gap; Source::definition("heights add up"));
    Finding::compare(needed, clearance)
        .with_remedy(|| format!("a clearance of {:.1} mm", (needed.mm() * 10.0).ceil() / 10.0))
}
