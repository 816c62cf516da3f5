//! Timber pressed across the grain.

use super::basis::{DesignBasis, Duration, Eurocode, Nds, ServiceClass};
use super::materials::{En338Class, NdsSpecies};
use crate::check::{Finding, Ledger, Source, Standing, Status};
use crate::line;
use ramwright_units::{Area, Force, Length, Stress};

const WET: Source =
    Source::published("NDS Supplement, table 4A: wet service factor 0.67 across the grain, second hand");
const NDS_CB: Source = Source::published(
    "NDS 3.10.4: C_b = (l_b + 0.375 in) / l_b for l_b below 6 in and 3 in or more from the end, second hand",
);
const EC5: Source = Source::published("EN 1995-1-1, 6.1.5 with 2.4.1 and table 3.1; gamma_M 1.3, second hand");

/// What timber it is; what is absent is not known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Timber {
    /// Species group of the NDS.
    pub nds: Option<NdsSpecies>,
    /// Strength class of EN 338.
    pub en338: Option<En338Class>,
}

/// How a member is supported where it is pressed, for the factor of EN 1995-1-1, 6.1.5.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Support {
    /// Along its whole length.
    Continuous,
    /// In places.
    Discrete,
}

/// A place where a member is pressed; what is absent gives no gain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Length along the grain.
    pub length: Length,
    /// Width across it.
    pub width: Length,
    /// Distance to the member's end.
    pub to_end: Option<Length>,
    /// Clear distance to the next place where it is pressed.
    pub to_next: Option<Length>,
    /// Height of the member and how it is supported.
    pub support: Option<(Length, Support)>,
}

impl Contact {
    /// A contact of which nothing but its size is known.
    pub const fn bare(length: Length, width: Length) -> Self {
        Self { length, width, to_end: None, to_next: None, support: None }
    }
}

/// What timber may bear, by which factor the force counts, and on which area.
#[derive(Clone, Debug, PartialEq)]
pub struct Resistance {
    /// Stress that may be reached.
    pub strength: Stress,
    /// Factor on the force.
    pub force_factor: f64,
    /// Area that counts.
    pub area: Area,
    /// Where the strength comes from.
    pub source: Source,
}

/// Factor of NDS 3.10.4 for a short contact away from the end; 1 where the place is not known.
///
/// # Source
/// NDS 3.10.4, second hand.
///
/// # Validity
/// Contacts shorter than 6 in along the grain, 3 in or more from the end; 1 elsewhere.
pub fn bearing_factor(length: Length, to_end: Option<Length>) -> f64 {
    const INCH_M: f64 = 0.025_4;
    let far = to_end.is_some_and(|end| 3.0 * INCH_M * (1.0 - 1e-12) <= end.m());
    let short = Length::ZERO < length && length.m() < 6.0 * INCH_M * (1.0 - 1e-12);
    if far && short { (length.m() + 0.375 * INCH_M) / length.m() } else { 1.0 }
}

/// Effective length of EN 1995-1-1, 6.1.5: up to 30 mm more at each side where the member goes on.
///
/// # Source
/// EN 1995-1-1:2004+A1:2008, 6.1.5(1), second hand.
///
/// # Validity
/// An end or a neighbour that is not known gives no addition.
pub fn effective_length(contact: &Contact) -> Length {
    let most = Length::from_mm(30.0).min(contact.length);
    let at_end = contact.to_end.map_or(Length::ZERO, |end| most.min(end).max(Length::ZERO));
    let at_next = contact.to_next.map_or(Length::ZERO, |next| most.min(next / 2.0).max(Length::ZERO));
    contact.length + at_end + at_next
}

/// Factor `k_c,90` of EN 1995-1-1, 6.1.5: more than 1 for softwood alone, with neighbours at least twice the height away.
///
/// # Source
/// EN 1995-1-1, 6.1.5(3) and (4), second hand.
///
/// # Validity
/// Solid timber.
pub fn bearing_coefficient(class: En338Class, contact: &Contact) -> f64 {
    let (Some((height, support)), Some(next)) = (contact.support, contact.to_next) else { return 1.0 };
    if !class.is_softwood() || next < 2.0 * height {
        return 1.0;
    }
    match support {
        Support::Continuous => 1.25,
        Support::Discrete => 1.5,
    }
}

/// Modification factor of EN 1995-1-1, table 3.1, for solid timber.
///
/// # Source
/// EN 1995-1-1, table 3.1, second hand.
///
/// # Validity
/// Solid timber.
pub fn modification_factor(duration: Duration, class: ServiceClass) -> f64 {
    let column = match duration {
        Duration::Permanent => (0.60, 0.50),
        Duration::Long => (0.70, 0.55),
        Duration::Medium => (0.80, 0.65),
        Duration::Short => (0.90, 0.70),
        Duration::Instantaneous => (1.10, 0.90),
    };
    match class {
        ServiceClass::One | ServiceClass::Two => column.0,
        ServiceClass::Three => column.1,
    }
}

/// What timber may bear at a contact.
///
/// # Source
/// NDS 3.10 or EN 1995-1-1, 6.1.5; or the allowable stress of the request.
///
/// # Validity
/// Load duration does not change the value of the NDS: it is a limit of deformation.
///
/// # Errors
/// The name of the input that is missing: of the timber (first name) or of the basis (second).
pub fn resistance(
    book: &mut impl Ledger,
    contact: &Contact,
    timber: Timber,
    basis: &DesignBasis,
    missing: (&str, &str),
) -> Result<Resistance, String> {
    match basis {
        DesignBasis::NdsAsd(nds) => {
            let species = timber.nds.ok_or_else(|| format!("{}nds_species", missing.0))?;
            Ok(by_nds(book, contact, species, *nds))
        }
        DesignBasis::Eurocode(eurocode) => {
            let class = timber.en338.ok_or_else(|| format!("{}en338_class", missing.0))?;
            Ok(by_eurocode(book, contact, class, *eurocode))
        }
        DesignBasis::Custom(allowable) => {
            let strength = allowable.timber_across_grain.ok_or_else(|| missing.1.to_owned())?;
            let area =
                line!(book, A: Area = l * b; l = contact.length, b = contact.width; Source::definition("contact area"));
            Ok(Resistance {
                strength,
                force_factor: 1.0,
                area,
                source: Source::stated("allowable stress of the request"),
            })
        }
    }
}

fn by_nds(book: &mut impl Ledger, contact: &Contact, species: NdsSpecies, nds: Nds) -> Resistance {
    let value = species.across_grain();
    let wet = if nds.wet { 0.67 } else { 1.0 };
    let factor = bearing_factor(contact.length, contact.to_end);
    let adjusted = line!(book, F_w: Stress = C_M * F_c_perp; C_M = wet, F_c_perp = value.value; WET);
    let strength = line!(book, F_allow: Stress = C_b * F_w; C_b = factor, F_w = adjusted; NDS_CB);
    let area =
        line!(book, A: Area = l_b * b; l_b = contact.length, b = contact.width; Source::definition("contact area"));
    Resistance { strength, force_factor: 1.0, area, source: value.source }
}

fn by_eurocode(book: &mut impl Ledger, contact: &Contact, class: En338Class, eurocode: Eurocode) -> Resistance {
    let value = class.across_grain();
    let k_mod = modification_factor(eurocode.duration, eurocode.service_class);
    let design = line!(book, f_c_90_d: Stress = k_mod * f_c_90_k / 1.3; k_mod = k_mod, f_c_90_k = value.value; EC5);
    let strength = line!(book, f_lim: Stress = k_c_90 * f_c_90_d; k_c_90 = bearing_coefficient(class, contact), f_c_90_d = design; EC5);
    let area = line!(book, A_ef: Area = b * l_ef; b = contact.width, l_ef = effective_length(contact); EC5);
    Resistance { strength, force_factor: eurocode.load_factor, area, source: value.source }
}

/// A force across the grain of timber against what it may bear.
///
/// # Source
/// As for [`resistance`].
///
/// # Validity
/// As for [`resistance`].
pub fn timber_bearing(
    book: &mut impl Ledger,
    force: Force,
    contact: &Contact,
    timber: Timber,
    basis: &DesignBasis,
    missing: (&str, &str),
) -> Finding {
    if !(Length::ZERO < contact.length && Length::ZERO < contact.width) {
        return Finding::judged(Status::Fail, super::soffit::BEYOND_THE_EDGE);
    }
    match resistance(book, contact, timber, basis, missing) {
        Ok(resistance) => {
            unconfirmed(against(book, force, &resistance, contact.length * contact.width), &resistance.source)
        }
        Err(name) => Finding::missing([name]),
    }
}

/// A strength that nobody has confirmed is no plain pass.
pub(crate) fn unconfirmed(finding: Finding, source: &Source) -> Finding {
    if source.standing != Standing::FromMemory {
        return finding;
    }
    finding
        .with_caution("the strength of this timber is from memory and not confirmed: look it up before you rely on it")
}

fn against(book: &mut impl Ledger, force: Force, resistance: &Resistance, bare: Area) -> Finding {
    let demand = line!(book, sigma: Stress = gamma * stress_on(F, A); gamma = resistance.force_factor, F = force, A = resistance.area; Source::definition("force over area"));
    let needed = resistance.area.m2() * (demand / resistance.strength) * 1e4;
    Finding::compare(demand, resistance.strength)
        .with_hand("force over contact area, F / A", bare.stress_under(force), demand)
        .with_remedy(|| format!("a contact area of {:.0} cm2", needed.ceil()))
}

#[cfg(test)]
#[path = "timber/tests.rs"]
mod tests;
