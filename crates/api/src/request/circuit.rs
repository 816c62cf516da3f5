//! Pumps, hoses and oil of a request, with their ids resolved.

use super::context::{Context, Yard, entry};
use super::wire::{CircuitSent, OilSent};
use crate::read::Pointer;
use crate::sent::Number;
use ramwright_engine::check::Source;
use ramwright_engine::circuit::Oil;
use ramwright_engine::plan::CircuitChoice;
use ramwright_units::{KinematicViscosity, Temperature};

/// Density of mineral oil in kg/m3, from memory.
const DENSITY: f64 = 870.0;

/// The circuit that a request names.
pub(crate) fn parse_circuit(sent: &CircuitSent, yard: &Yard, context: &mut Context<'_>) -> Option<CircuitChoice> {
    let at = Pointer::default().field("circuit");
    let pump = entry(&yard.catalogue.pumps, &sent.pump.0, "pump", &at.field("pump"), &mut context.faults);
    let hose = match &sent.hose {
        None => Some(None),
        Some(id) => entry(&yard.catalogue.hoses, &id.0, "hose", &at.field("hose"), &mut context.faults)
            .map(|hose| Some(hose.clone())),
    };
    let oil = oil(sent.oil.as_ref(), &at.field("oil"), context);
    Some(CircuitChoice {
        pump: pump?.clone(),
        pumps: sent.pumps.as_ref().map_or(1, Number::count),
        hose: hose?,
        hose_count_in_series: sent.hoses_in_series.as_ref().map_or(1, Number::count),
        oil: oil?,
    })
}

fn oil(sent: Option<&OilSent>, at: &Pointer, context: &mut Context<'_>) -> Option<Oil> {
    let Some(sent) = sent else {
        let text = "mineral oil of ISO VG 32 (32 mm2/s at 40 degC, 5.4 mm2/s at 100 degC, 870 kg/m3) at 20 degC";
        context.assume_choice(
            at,
            text,
            Source::from_memory("ISO 3448 gives the grade; the value at 100 degC and the density are from memory"),
        );
        return Some(Oil {
            viscosity_40: KinematicViscosity::from_mm2_per_s(32.0),
            viscosity_100: KinematicViscosity::from_mm2_per_s(5.4),
            temperature: Temperature::from_k(293.15),
            density_kg_per_m3: DENSITY,
        });
    };
    let (at_40, at_100) = (sent.viscosity_40.get(), sent.viscosity_100.get());
    if at_40 <= at_100 {
        context.inconsistent(
            &at.field("viscosity_100"),
            "oil is thinner when it is warmer, so this must be below viscosity_40",
            "check the two values",
        );
        return None;
    }
    let density = sent.density_kg_per_m3.as_ref().map_or_else(
        || {
            context.assume(
                &at.field("density_kg_per_m3"),
                "density of mineral oil in kg/m3",
                DENSITY,
                Source::from_memory("870 kg/m3 is typical"),
            );
            DENSITY
        },
        Number::get,
    );
    Some(Oil {
        viscosity_40: at_40,
        viscosity_100: at_100,
        temperature: sent.temperature.get(),
        density_kg_per_m3: density,
    })
}
