//! The return side of a double-acting ram.

use super::model::{Action, Ram};
use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use ramwright_units::OilPressure;

/// How the return side is connected while the ram pushes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReturnLine {
    /// Always open to the tank.
    Open,
    /// Through a relief valve with this setting.
    Relief(OilPressure),
    /// It can be blocked, as by a coupler that is not fully joined.
    Blocked,
}

/// The pressure that the return side of a double-acting ram can reach, against its rated pressure.
///
/// A blocked return holds the plunger up by `p A / A_annulus`, without any load on the ram.
///
/// # Source
/// Equilibrium of the piston.
///
/// # Validity
/// Double-acting rams; the others have no return side under pressure.
pub fn return_pressure(
    book: &mut impl Ledger,
    ram: &Ram,
    supply: OilPressure,
    line: Option<ReturnLine>,
    missing: (&str, &str),
) -> Finding {
    if ram.action != Action::DoubleActing {
        return Finding::judged(Status::Pass, "a single-acting ram has no return side under pressure");
    }
    match (line, ram.annulus_area) {
        (None, _) => Finding::missing([missing.0.to_owned()]),
        (Some(ReturnLine::Open), _) => Finding::judged(Status::Pass, "the return side is stated to be always open"),
        (Some(ReturnLine::Relief(setting)), _) => Finding::compare(setting, ram.rated_pressure)
            .with_remedy(|| format!("a relief valve set to no more than {:.0} bar", ram.rated_pressure.bar().floor())),
        (Some(ReturnLine::Blocked), None) => Finding::missing([missing.1.to_owned()]),
        (Some(ReturnLine::Blocked), Some(annulus)) => {
            let reached = line!(book, p_a: OilPressure = p * A / A_a; p = supply, A = ram.effective_area, A_a = annulus; Source::definition("equilibrium of the piston with its return blocked"));
            Finding::compare(reached, ram.rated_pressure)
                .with_remedy(|| "a relief valve on the return side, or a return that cannot be blocked")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;
    use crate::ram::model::tests::ram;
    use ramwright_units::Area;

    /// Equilibrium of the piston: with areas 100 and 40 cm2 a blocked return multiplies the pressure by 2.5.
    #[test]
    fn verify_a_blocked_return_fails() {
        let double = Ram { action: Action::DoubleActing, annulus_area: Some(Area::from_cm2(40.0)), ..ram() };
        let bar = OilPressure::from_bar;
        let found = |line, supply: f64| return_pressure(&mut NoLines, &double, bar(supply), line, ("r", "a")).status();
        assert_eq!(found(Some(ReturnLine::Blocked), 280.0), Status::Pass);
        assert_eq!(found(Some(ReturnLine::Blocked), 280.1), Status::Fail);
        assert_eq!(found(Some(ReturnLine::Open), 600.0), Status::Pass);
        assert_eq!(found(Some(ReturnLine::Relief(bar(700.0))), 600.0), Status::Pass);
        assert_eq!(found(Some(ReturnLine::Relief(bar(701.0))), 600.0), Status::Fail);
        assert_eq!(found(None, 600.0), Status::NotChecked);
        let unknown = Ram { annulus_area: None, ..double.clone() };
        let found = return_pressure(&mut NoLines, &unknown, bar(600.0), Some(ReturnLine::Blocked), ("r", "a"));
        assert_eq!(found, Finding::missing(["a"]));
        assert_eq!(return_pressure(&mut NoLines, &ram(), bar(600.0), None, ("r", "a")).status(), Status::Pass);
    }
}
