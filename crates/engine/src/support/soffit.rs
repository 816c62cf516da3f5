//! What presses on the load's underside, or on steelwork.

use super::basis::{Allowable, DesignBasis};
use super::concrete::{ConcreteBearing, concrete_bearing};
use super::timber::{Contact, Timber, timber_bearing};
use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use ramwright_units::{Area, Force, Length, Stress};

const AISC_BEARING: Source =
    Source::from_memory("AISC 360, J7: 1.8 F_y A_pb with Omega 2.00, for milled or finished surfaces; from memory");
const EN_BEARING: Source = Source::from_memory("EN 1993-1-1: f_y / gamma_M0 with gamma_M0 1.0; from memory");

/// What is said of a force that no part of a face lies about.
pub(super) const BEYOND_THE_EDGE: &str = "the force stands on the edge of the face that it presses on, or beyond it";

/// The underside of the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Soffit {
    /// Steel, with its yield strength.
    Steel(Option<Stress>),
    /// Concrete, with its cylinder strength.
    Concrete(Option<Stress>),
    /// Timber, pressed across the grain.
    Timber(Timber),
}

/// The face that presses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Face {
    /// A disc.
    Round(Length),
    /// A rectangle.
    Rectangle(Length, Length),
}

impl Face {
    /// Its area.
    pub fn area(self) -> Area {
        match self {
            Self::Round(diameter) => diameter * diameter * (std::f64::consts::PI / 4.0),
            Self::Rectangle(a, b) => a * b,
        }
    }

    /// A rectangle of no greater area that lies within it or has its area: a disc counts as a square of its area.
    pub fn sides(self) -> (Length, Length) {
        match self {
            Self::Round(_) => {
                let side = Length::from_m(self.area().m2().sqrt());
                (side, side)
            }
            Self::Rectangle(a, b) => (a, b),
        }
    }
}

/// What steel may bear, and the factor on the force.
///
/// # Source
/// AISC 360, J7 or EN 1993-1-1, both from memory; or the allowable stress of the request.
///
/// # Validity
/// Finished surfaces in full contact.
///
/// # Errors
/// The name of the input that is missing: the yield strength (first) or the allowable stress (second).
pub fn steel_strength(
    yield_strength: Option<Stress>,
    basis: &DesignBasis,
    missing: (&str, &str),
) -> Result<(Stress, f64, Source), String> {
    match basis {
        DesignBasis::NdsAsd(_) => {
            let f_y = yield_strength.ok_or_else(|| missing.0.to_owned())?;
            Ok((f_y * 0.9, 1.0, AISC_BEARING))
        }
        DesignBasis::Eurocode(eurocode) => {
            let f_y = yield_strength.ok_or_else(|| missing.0.to_owned())?;
            Ok((f_y, eurocode.load_factor, EN_BEARING))
        }
        DesignBasis::Custom(Allowable { steel_bearing, .. }) => {
            let stress = steel_bearing.ok_or_else(|| missing.1.to_owned())?;
            Ok((stress, 1.0, Source::stated("allowable bearing stress of the request")))
        }
    }
}

/// A force on steel against what it may bear.
///
/// # Source
/// As for [`steel_strength`].
///
/// # Validity
/// As for [`steel_strength`]; local bending of what lies behind the surface is not looked at.
pub fn steel_bearing(
    book: &mut impl Ledger,
    force: Force,
    face: Face,
    yield_strength: Option<Stress>,
    basis: &DesignBasis,
    missing: (&str, &str),
) -> Finding {
    let (strength, factor, source) = match steel_strength(yield_strength, basis, missing) {
        Ok(found) => found,
        Err(name) => return Finding::missing([name]),
    };
    let area = face.area();
    let bears = Area::ZERO < area;
    if !bears {
        return Finding::judged(Status::Fail, BEYOND_THE_EDGE);
    }
    let demand = line!(book, sigma: Stress = gamma * stress_on(F, A); gamma = factor, F = force, A = area; Source::definition("force over area"));
    let limit = line!(book, sigma_lim: Stress = f; f = strength; source);
    let needed = area.m2() * (demand / limit) * 1e4;
    Finding::compare(demand, limit)
        .with_hand("force over contact area, F / A", area.stress_under(force), demand)
        .with_remedy(|| format!("a contact area of {:.0} cm2", needed.ceil()))
}

/// A force on the load's underside against what that may bear.
///
/// # Source
/// Steel, concrete and timber as their own checks.
///
/// # Validity
/// Full contact; no spread into the load; timber without neighbours or ends.
pub fn soffit_bearing(
    book: &mut impl Ledger,
    force: Force,
    face: Face,
    soffit: Soffit,
    basis: &DesignBasis,
    missing: (&str, &str),
) -> Finding {
    let (field, own) = missing;
    match soffit {
        Soffit::Steel(yield_strength) => {
            let field = format!("{field}/yield_strength");
            steel_bearing(book, force, face, yield_strength, basis, (&field, &format!("{own}/steel_bearing")))
        }
        Soffit::Concrete(Some(strength)) => {
            let bearing = ConcreteBearing { loaded: face.sides(), room: None, depth: None, strength };
            concrete_bearing(book, force, &bearing, basis, &format!("{own}/concrete_bearing"))
        }
        Soffit::Concrete(None) => Finding::missing([format!("{field}/concrete_strength")]),
        Soffit::Timber(timber) => {
            let (length, width) = face.sides();
            let names = (&*format!("{field}/"), &*format!("{own}/timber_across_grain"));
            timber_bearing(book, force, &Contact::bare(length, width), timber, basis, names)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;
    use crate::support::{Nds, NdsSpecies};

    const ASD: DesignBasis = DesignBasis::NdsAsd(Nds { wet: true, concrete_load_factor: 1.6 });

    fn status(kn: f64, soffit: Soffit) -> Status {
        let face = Face::Rectangle(Length::from_mm(200.0), Length::from_mm(100.0));
        soffit_bearing(&mut NoLines, Force::from_kn(kn), face, soffit, &ASD, ("soffit", "own")).status()
    }

    /// 200 x 100 mm: steel of 235 MPa by AISC 360 J7 (from memory) 0.9 x 235 x 20 000 = 4 230 kN; concrete of 30 MPa by ACI 318
    /// 0.65 x 0.85 x 30 x 20 000 / 1.6 = 207.1875 kN; wet Douglas fir-larch 2.88718 MPa: 57.7436 kN.
    #[test]
    fn validate_soffit_rows() {
        let fir = Timber { nds: Some(NdsSpecies::DouglasFirLarch), en338: None };
        let rows = [
            (Soffit::Steel(Some(Stress::from_mpa(235.0))), 4_230.0),
            (Soffit::Concrete(Some(Stress::from_mpa(30.0))), 207.187_5),
            (Soffit::Timber(fir), 57.743_6),
        ];
        for (soffit, most) in rows {
            assert_eq!(status(most * 0.99999, soffit), Status::Pass, "{soffit:?}");
            assert_eq!(status(most * 1.00001, soffit), Status::Fail, "{soffit:?}");
        }
        for soffit in [Soffit::Steel(None), Soffit::Concrete(None), Soffit::Timber(Timber::default())] {
            assert_eq!(status(1.0, soffit), Status::NotChecked);
        }
    }
}
