//! How much height a stack loses under load, and the blow of a load that falls on it.

use super::model::{Stack, sides};
use crate::catalogue::{Packing, PackingMaterial};
use crate::check::{Finding, Ledger, Source};
use crate::defaults::STEEL_MODULUS;
use crate::line;
use ramwright_units::{Area, Force, Length, Stress};

const HOOKE: Source = Source::published("elastic shortening, any textbook of strength of materials");

/// Elastic shortening of a stack: the sum of `sigma h / E` of its pieces, each on the least of its areas and its neighbours'.
///
/// # Source
/// Any textbook; E across the grain from EN 338 (second hand), of steel as in the defaults.
///
/// # Validity
/// Elastic, bedded in; the stress of a piece is taken as the greatest in it, so the shortening is never too small.
///
/// # Errors
/// The name of the input that is missing.
pub fn shortening(book: &mut impl Ledger, stack: &Stack<'_>, force: Force) -> Result<Length, String> {
    let mut total = Length::ZERO;
    for (index, piece) in stack.layers.iter().enumerate() {
        let modulus = modulus(piece)?;
        let neighbours = [index.checked_sub(1), Some(index + 1)].into_iter().flatten();
        let area = neighbours
            .filter_map(|at| stack.layers.get(at))
            .map(|other| overlap(piece, other))
            .fold(area(piece), Area::min);
        let height = piece.thickness;
        total = total
            + line!(book, delta_i: Length = h * (stress_on(F, A) / E); h = height, F = force, A = area, E = modulus; HOOKE);
    }
    Ok(total)
}

fn modulus(piece: &Packing) -> Result<Stress, String> {
    match piece.material {
        PackingMaterial::Steel => Ok(STEEL_MODULUS),
        PackingMaterial::Hardwood | PackingMaterial::Softwood => {
            let class = piece.en338_class.ok_or_else(|| format!("packing/{}/en338_class", piece.id))?;
            Ok(class.modulus_across_grain().value)
        }
    }
}

/// The area on which a piece carries by itself: of a crib layer, that of its members where they are known.
fn area(piece: &Packing) -> Area {
    let (long, short) = sides(piece);
    match (piece.members, piece.member_width) {
        (Some(count), Some(width)) => long * short.min(width * f64::from(count)),
        _ => long * short,
    }
}

fn overlap(piece: &Packing, other: &Packing) -> Area {
    let (a, b) = (sides(piece), sides(other));
    a.0.min(b.0) * a.1.min(b.1)
}

/// The elastic shortening of a stack against the loss of height that its pieces state, on which the sequence relies.
///
/// # Source
/// As for [`shortening`]; the settlements are those of the packing list.
///
/// # Validity
/// As for [`shortening`]; a stack that loses more than its pieces state stands lower than the sequence has it.
pub fn settlement_check(book: &mut impl Ledger, stack: &Stack<'_>, force: Force) -> Finding {
    let found = match shortening(book, stack, force) {
        Ok(found) => found,
        Err(missing) => return Finding::missing([missing]),
    };
    let sum: Length = stack.layers.iter().map(|piece| piece.settlement_greatest).sum();
    let found = line!(book, delta: Length = s; s = found; HOOKE);
    let stated = line!(book, delta_lim: Length = s; s = sum; Source::stated("sum of the greatest settlements of the pieces, on which the sequence relies"));
    let tallest =
        stack.layers.iter().map(|piece| (piece.thickness, piece.material)).reduce(|a, b| if a.0 < b.0 { b } else { a });
    let finding = Finding::compare(found, stated).with_remedy(|| {
        format!("settlements of {:.1} mm in all, or stiffer pieces", (found.mm() * 10.0).ceil() / 10.0)
    });
    match (stack.layers.first(), tallest) {
        (Some(bottom), Some(_)) => {
            let simple = modulus(bottom).map(|e| stack.height() * (area(bottom).stress_under(force) / e));
            match simple {
                Ok(simple) => finding.with_hand(
                    "height of the stack x stress on its lowest piece / modulus of that piece",
                    simple,
                    found,
                ),
                Err(_) => finding,
            }
        }
        _ => finding,
    }
}

/// By how much a fall multiplies a force: `1 + sqrt(1 + 2 h / d)`.
///
/// # Source
/// Energy of a falling mass on a spring, any textbook of dynamics; a load applied suddenly without a fall counts twice.
///
/// # Validity
/// A rigid mass, an elastic support without mass; a deflection above zero.
pub fn impact_factor(drop: Length, static_deflection: Length) -> f64 {
    1.0 + (1.0 + 2.0 * (drop / static_deflection)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{NoLines, Status};
    use crate::support::En338Class;
    use crate::support::stack::bearing::tests::{block, stack};
    use proptest::prelude::*;

    /// 1.5 m of C24 at 1.0 MPa everywhere, E 370 MPa: 4.0541 mm (computed, plain arithmetic).
    #[test]
    fn validate_shortening_row() {
        let timber = Packing {
            en338_class: Some(En338Class::C24),
            ..block("t", 300.0, 400.0, 400.0, PackingMaterial::Softwood)
        };
        let pieces = [timber];
        let found = shortening(&mut NoLines, &stack(&[("t", 5)], &pieces), Force::from_kn(160.0)).unwrap();
        assert!((found.mm() - 4.054_1).abs() < 5e-5, "{found:?}");
    }

    #[test]
    fn verify_a_stack_that_loses_more_than_it_states_fails() {
        let timber = |settles: f64| {
            let settlement_greatest = Length::from_mm(settles);
            Packing {
                en338_class: Some(En338Class::C24),
                settlement_greatest,
                ..block("t", 300.0, 400.0, 400.0, PackingMaterial::Softwood)
            }
        };
        let status = |settles: f64| {
            let pieces = [timber(settles)];
            settlement_check(&mut NoLines, &stack(&[("t", 5)], &pieces), Force::from_kn(160.0)).status()
        };
        assert_eq!(status(0.811), Status::Pass);
        assert_eq!(status(0.810), Status::Fail);
        let unknown = [Packing { en338_class: None, ..timber(1.0) }];
        assert_eq!(
            settlement_check(&mut NoLines, &stack(&[("t", 1)], &unknown), Force::from_kn(1.0)).status(),
            Status::NotChecked
        );
    }

    proptest! {
        /// What falls gives up the energy that the spring takes: F (h + x) = k x^2 / 2 with x = n F / k.
        #[test]
        fn verify_a_fall_keeps_its_energy(drop in 0.0..0.1_f64, deflection in 1e-6..0.05_f64) {
            let n = impact_factor(Length::from_m(drop), Length::from_m(deflection));
            let reached = n * deflection;
            prop_assert!((drop + reached - reached * reached / (2.0 * deflection)).abs() <= 1e-9 * (1.0 + reached * n));
            prop_assert!(2.0 <= n);
        }
    }
}
