//! Whether people can carry the ram.

use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use ramwright_units::PieceMass;

/// What one person is given to carry at most.
const OF_ONE_PERSON: PieceMass = PieceMass::from_kg(25.0);

/// The mass of a ram for each person against 25 kg: more is a caution, never a failure.
///
/// # Source
/// From memory: a guideline value that is commonly quoted for lifting by hand.
///
/// # Validity
/// A good grip, a short way, level ground.
pub fn handling(book: &mut impl Ledger, mass: Option<PieceMass>, persons: u32, missing: &str) -> Finding {
    let Some(mass) = mass else { return Finding::missing([missing.to_owned()]) };
    let each =
        line!(book, m_1: PieceMass = m / n; m = mass, n = f64::from(persons); Source::definition("shared equally"));
    if each <= OF_ONE_PERSON {
        return Finding::compare(each, OF_ONE_PERSON);
    }
    Finding::judged(
        Status::Caution,
        format!("{:.0} kg for each person, where 25 kg is a common guideline: use lifting gear", each.kg().ceil()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;

    #[test]
    fn verify_a_heavy_ram_is_a_caution() {
        let status =
            |kg: f64, persons: u32| handling(&mut NoLines, Some(PieceMass::from_kg(kg)), persons, "m").status();
        assert_eq!(status(50.0, 2), Status::Pass);
        assert_eq!(status(50.1, 2), Status::Caution);
        assert_eq!(status(10.0, 0), Status::Caution);
        assert_eq!(status(f64::NAN, 1), Status::Caution);
        assert_eq!(handling(&mut NoLines, None, 1, "m"), Finding::missing(["m"]));
    }
}
