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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{NoLines, Status};

    #[test]
    fn verify_a_ram_that_just_goes_in() {
        let mm = Length::from_mm;
        let found = |clearance: Option<f64>| {
            closed_height(&mut NoLines, mm(261.0), mm(35.0), mm(3.0), clearance.map(mm), "clearance").status()
        };
        assert_eq!(found(Some(299.0)), Status::Pass);
        assert_eq!(found(Some(298.9)), Status::Fail);
        assert_eq!(found(None), Status::NotChecked);
    }
}
