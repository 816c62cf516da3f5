//! Bending a bar or beam back between two supports.

use super::error::ForceError;
use super::range::{at, computable, positive, rising_si};
use crate::check::{HandCheck, Ledger, Standing};
use crate::line;
use ramwright_units::{Area, Force, ForceRange, Length, Moment, Range, Stress};

/// Span over depth below which simple bending is not used. From memory.
pub const LEAST_SPAN_TO_DEPTH: f64 = 4.0;

const PLASTIC: &str = "fully plastic section, any textbook of strength of materials";
const HINGE: &str = "plastic hinge under a force in the middle of a simple span, any textbook of plastic design";

/// The cross-section that is bent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BentSection {
    /// A solid round bar.
    Round {
        /// Its diameter.
        diameter: Length,
    },
    /// A round tube.
    Tube {
        /// Outside diameter.
        outside: Length,
        /// Inside diameter.
        bore: Length,
    },
    /// A solid rectangle.
    Rectangle {
        /// Across the force.
        width: Length,
        /// Along the force.
        height: Length,
    },
    /// Anything else, by its plastic section modulus.
    Stated {
        /// Plastic section modulus, in m3.
        plastic_modulus_m3: f64,
        /// Depth along the force.
        depth: Length,
    },
}

/// A bar that is bent back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Straightening {
    /// Distance of the two supports; the ram pushes in the middle.
    pub span: Length,
    /// The cross-section.
    pub section: BentSection,
    /// The stress at which the section bends fully plastic: yield strength, and at most tensile strength.
    pub strength: Range<Stress>,
}

/// The force at which the bar bends fully plastic: `F = 4 M_p / L`, with `M_p` the plastic section modulus times the strength.
///
/// # Source
/// Plastic hinge in three-point bending, any textbook of plastic design.
///
/// # Validity
/// Simple bending: the span at least 4 times the depth. The greatest force is that of a section hardened to the greatest
/// strength stated. A thin tube may buckle or flatten before.
///
/// # Errors
/// [`ForceError`]: a number that is not above zero, no wall, or too short a span.
pub fn straightening(
    book: &mut impl Ledger,
    bar: &Straightening,
) -> Result<(ForceRange, Option<HandCheck>), ForceError> {
    positive(bar.span, "the span")?;
    rising_si(&bar.strength, "strength")?;
    let depth = depth(&bar.section)?;
    let ratio = bar.span / depth;
    if ratio < LEAST_SPAN_TO_DEPTH {
        return Err(ForceError::TooShort { ratio });
    }
    let mut forces = [Force::ZERO; 3];
    for (slot, (end, strength)) in forces.iter_mut().zip(super::ends(&bar.strength)) {
        let moment = plastic_moment(book, &bar.section, strength, end);
        let source = at(end, HINGE, Standing::Published);
        *slot = line!(book, F: Force = 4.0 * M_p / L; M_p = moment, L = bar.span; source);
    }
    let force = computable(forces)?;
    let hand = shape_factor(&bar.section).map(|shape| {
        let first_yield = force.expected / shape;
        let text = "force at first yield, 4 W f_y / L, which straightens nothing yet";
        HandCheck { text: text.into(), value: first_yield.into(), ratio: 1.0 / shape }
    });
    Ok((force, hand))
}

fn plastic_moment(book: &mut impl Ledger, section: &BentSection, strength: Stress, end: &'static str) -> Moment {
    let source = at(end, PLASTIC, Standing::Published);
    match *section {
        BentSection::Round { diameter } => {
            line!(book, M_p: Moment = f_y * (d * d) * (d / 6.0); f_y = strength, d = diameter; source)
        }
        BentSection::Tube { outside, bore } => {
            line!(book, M_p: Moment = f_y * (d * d) * (d / 6.0) - f_y * (b * b) * (b / 6.0); f_y = strength, d = outside, b = bore; source)
        }
        BentSection::Rectangle { width, height } => {
            line!(book, M_p: Moment = f_y * (w * h) * (h / 4.0); f_y = strength, w = width, h = height; source)
        }
        // A section modulus has no type of its own, so it enters as a ratio to one cubic metre.
        BentSection::Stated { plastic_modulus_m3, .. } => {
            line!(book, M_p: Moment = f_y * (Z_over_m3 * A_1) * l_1; f_y = strength, Z_over_m3 = plastic_modulus_m3, A_1 = Area::from_m2(1.0), l_1 = Length::from_m(1.0); at(end, "plastic section modulus as stated", Standing::Stated))
        }
    }
}

fn depth(section: &BentSection) -> Result<Length, ForceError> {
    match *section {
        BentSection::Round { diameter } => positive(diameter, "the diameter of the bar"),
        BentSection::Tube { outside, bore } => {
            positive(outside, "the outside diameter of the tube")?;
            if Length::ZERO <= bore && bore < outside { Ok(outside) } else { Err(ForceError::NoWall) }
        }
        BentSection::Rectangle { width, height } => {
            positive(width, "the width of the bar")?;
            positive(height, "the height of the bar")
        }
        BentSection::Stated { plastic_modulus_m3, depth } => {
            positive(Length::from_m(plastic_modulus_m3), "the plastic section modulus")?;
            positive(depth, "the depth of the bar")
        }
    }
}

/// Plastic over elastic section modulus, any textbook of strength of materials; not known for a modulus that is stated.
fn shape_factor(section: &BentSection) -> Option<f64> {
    const ROUND: f64 = 16.0 / (3.0 * std::f64::consts::PI);
    match *section {
        BentSection::Round { .. } => Some(ROUND),
        BentSection::Tube { outside, bore } => {
            let k = bore / outside;
            Some(ROUND * (1.0 - k * k * k) / (1.0 - k * k * k * k))
        }
        BentSection::Rectangle { .. } => Some(1.5),
        BentSection::Stated { .. } => None,
    }
}
