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
    in_clearance(needed, clearance)
}

/// Closed height, plates and travel against the distance from the ram's foot to what it pulls, before it does: a ram that
/// pulls must still be out by the travel.
///
/// # Source
/// Geometry.
///
/// # Validity
/// The clearance is measured from where the ram's foot bears to where its head grips, at the start of the pull.
pub fn closed_height_of_a_pull(
    book: &mut impl Ledger,
    closed_height: Length,
    plates: Length,
    travel: Length,
    clearance: Option<Length>,
    missing: &str,
) -> Finding {
    let Some(clearance) = clearance else {
        return Finding::missing([missing.to_owned()]);
    };
    let needed = line!(book, h: Length = c + t_p + T; c = closed_height, t_p = plates, T = travel; Source::definition("at the end of the pull the ram is closed at most"));
    in_clearance(needed, clearance)
}

fn in_clearance(needed: Length, clearance: Length) -> Finding {
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

    #[test]
    fn verify_a_ram_that_can_just_pull_its_travel() {
        let mm = Length::from_mm;
        let found = |clearance: Option<f64>| {
            let clearance = clearance.map(mm);
            closed_height_of_a_pull(&mut NoLines, mm(261.0), mm(35.0), mm(120.0), clearance, "clearance").status()
        };
        assert_eq!(found(Some(416.0)), Status::Pass);
        assert_eq!(found(Some(415.9)), Status::Fail);
        assert_eq!(found(None), Status::NotChecked);
    }
}
