//! The oil of a request, by its grade or by two viscosities.

use super::context::Context;
use super::wire::OilSent;
use super::words::OilGrade;
use crate::read::Pointer;
use crate::sent::{Number, Sent};
use ramwright_engine::check::Source;
use ramwright_engine::circuit::Oil;
use ramwright_engine::defaults;
use ramwright_units::{KinematicViscosity, Temperature};

/// Density of mineral oil in kg/m3, from memory.
const DENSITY: f64 = 870.0;

/// Viscosities of a grade in mm2/s: at 40 degC the midpoint of ISO 3448, at 100 degC from memory.
fn of_grade(grade: OilGrade) -> (f64, f64) {
    match grade {
        OilGrade::Vg15 => (15.0, 3.4),
        OilGrade::Vg22 => (22.0, 4.3),
        OilGrade::Vg32 => (32.0, 5.4),
        OilGrade::Vg46 => (46.0, 6.8),
        OilGrade::Vg68 => (68.0, 8.7),
    }
}

/// The oil that a request states, or the usual one.
pub(super) fn parse_oil(sent: Option<&OilSent>, at: &Pointer, context: &mut Context<'_>) -> Option<Oil> {
    let modulus = sent.and_then(|sent| sent.bulk_modulus.as_ref()).map(Sent::get);
    if modulus.is_none() {
        assume_modulus(&at.field("bulk_modulus"), context);
    }
    let Some(sent) = sent else {
        let text = "mineral oil of ISO VG 32 (32 mm2/s at 40 degC, 5.4 mm2/s at 100 degC, 870 kg/m3) at 20 degC";
        context.assume_choice(
            at,
            text,
            Source::from_memory("ISO 3448 gives the grade; the value at 100 degC and the density are from memory"),
        );
        let (at_40, at_100) = of_grade(OilGrade::Vg32);
        return Some(Oil {
            viscosity_40: KinematicViscosity::from_mm2_per_s(at_40),
            viscosity_100: KinematicViscosity::from_mm2_per_s(at_100),
            temperature: Temperature::from_k(293.15),
            coldest: None,
            density_kg_per_m3: DENSITY,
            bulk_modulus: None,
        });
    };
    let viscosities = viscosities(sent, at, context);
    let coldest = sent.coldest.as_ref().map(Sent::get);
    if coldest.is_some_and(|coldest| sent.temperature.get() < coldest) {
        let hint = "the coldest is at or below the temperature";
        context.inconsistent(&at.field("coldest"), "this is warmer than `temperature`", hint);
        return None;
    }
    let density = context.or_assumed(
        sent.density_kg_per_m3.as_ref().map(Number::get),
        &at.field("density_kg_per_m3"),
        "density of mineral oil in kg/m3",
        DENSITY,
        Source::from_memory("870 kg/m3 is typical"),
    );
    let (viscosity_40, viscosity_100) = viscosities?;
    Some(Oil {
        viscosity_40,
        viscosity_100,
        temperature: sent.temperature.get(),
        coldest,
        density_kg_per_m3: density,
        bulk_modulus: modulus,
    })
}

fn assume_modulus(at: &Pointer, context: &mut Context<'_>) {
    let range = "mineral oil is found between 1.4 and 2.0 GPa, from memory";
    let text = "bulk modulus of the oil, for how much oil compression takes: the soft end";
    context.assume(at, text, defaults::BULK_MODULUS_FOR_VOLUMES, Source::from_memory(range));
    let text = "bulk modulus of the oil, for oil that warms up while it is shut in: the stiff end";
    context.assume(at, text, defaults::BULK_MODULUS, Source::from_memory(range));
}

/// Viscosities at 40 and 100 degC.
fn viscosities(
    sent: &OilSent,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<(KinematicViscosity, KinematicViscosity)> {
    match (sent.grade, &sent.viscosity_40, &sent.viscosity_100) {
        (Some(grade), None, None) => {
            let (at_40, at_100) = of_grade(grade);
            let text = format!("an oil of this grade has {at_40} mm2/s at 40 degC and {at_100} mm2/s at 100 degC");
            let source = "ISO 3448 gives the middle of the grade at 40 degC; the value at 100 degC is from memory";
            context.assume_choice(&at.field("grade"), text, Source::from_memory(source));
            Some((KinematicViscosity::from_mm2_per_s(at_40), KinematicViscosity::from_mm2_per_s(at_100)))
        }
        (None, Some(at_40), Some(at_100)) if at_100.get() < at_40.get() => Some((at_40.get(), at_100.get())),
        (None, Some(_), Some(_)) => {
            context.inconsistent(
                &at.field("viscosity_100"),
                "oil is thinner when it is warmer, so this must be below viscosity_40",
                "check the two values",
            );
            None
        }
        _ => {
            let detail = "an oil is given by its grade, or by both viscosities";
            context.inconsistent(&at.field("grade"), detail, "give the one or the other");
            None
        }
    }
}
