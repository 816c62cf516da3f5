//! Pumps and hoses of a request, with their ids resolved, and what else it says of the circuit.

use super::context::{Context, Yard, entry};
use super::oil::parse_oil;
use super::wire::{CircuitSent, FlowDivisionSent};
use super::words::FlowDivisionWord;
use crate::read::Pointer;
use crate::sent::{FittingsCoefficient, Number, PressureOrZero, PumpEfficiency, Sent};
use ramwright_engine::check::Source;
use ramwright_engine::circuit::{CircuitConditions, FlowDivision};
use ramwright_engine::defaults;
use ramwright_engine::feed::CircuitChoice;
use ramwright_units::OilPressure;

/// The circuit that a request names.
pub(crate) fn parse_circuit(sent: &CircuitSent, yard: &Yard, context: &mut Context<'_>) -> Option<CircuitChoice> {
    let at = Pointer::default().field("circuit");
    let pump = entry(&yard.catalogue.pumps, &sent.pump.0, "pump", &at.field("pump"), &mut context.faults);
    let hose = match &sent.hose {
        None => Some(None),
        Some(id) => entry(&yard.catalogue.hoses, &id.0, "hose", &at.field("hose"), &mut context.faults)
            .map(|hose| Some(hose.clone())),
    };
    let oil = parse_oil(sent.oil.as_ref(), &at.field("oil"), context);
    let stated = Conditions {
        fittings_k: sent.fittings_k.as_ref(),
        back_pressure: sent.back_pressure.as_ref(),
        flow_division: sent.flow_division.as_ref(),
        pump_efficiency: sent.pump_efficiency.as_ref(),
    };
    let conditions = conditions(&stated, &at, context);
    Some(CircuitChoice {
        pump: pump?.clone(),
        pumps: sent.pumps.as_ref().map_or(1, Number::count),
        hose: hose?,
        hose_count_in_series: sent.hoses_in_series.as_ref().map_or(1, Number::count),
        oil: oil?,
        conditions: conditions?,
    })
}

/// What was sent of a circuit beside its parts.
pub(super) struct Conditions<'s> {
    pub(super) fittings_k: Option<&'s FittingsCoefficient>,
    pub(super) back_pressure: Option<&'s PressureOrZero>,
    pub(super) flow_division: Option<&'s FlowDivisionSent>,
    pub(super) pump_efficiency: Option<&'s PumpEfficiency>,
}

/// What else is known of a circuit, with every default noted.
pub(super) fn conditions(sent: &Conditions<'_>, at: &Pointer, context: &mut Context<'_>) -> Option<CircuitConditions> {
    let flow_division = match sent.flow_division {
        None => Some(None),
        Some(division) => flow_division(division, &at.field("flow_division"), context).map(Some),
    };
    let fittings_k = sent.fittings_k.map(Number::get);
    if fittings_k.is_none() {
        context.assume_choice(
            &at.field("fittings_k"),
            "loss coefficient 5 for each coupler pair, one pair more than there are hoses in the run; no other valves and bends",
            Source::from_memory("a rough value from memory"),
        );
    }
    let back_pressure = context.or_assumed(
        sent.back_pressure.map(Sent::get),
        &at.field("back_pressure"),
        "pressure against which oil flows back: an open tank at the height of the rams",
        OilPressure::ZERO,
        Source::common_practice("common practice, no source"),
    );
    let pump_efficiency = context.or_assumed(
        sent.pump_efficiency.map(Number::get),
        &at.field("pump_efficiency"),
        "power given to the oil over power taken from the motor of a pump",
        defaults::PUMP_EFFICIENCY,
        Source::from_memory("a usual value, from memory"),
    );
    Some(CircuitConditions { fittings_k, back_pressure, flow_division: flow_division?, pump_efficiency })
}

fn flow_division(sent: &FlowDivisionSent, at: &Pointer, context: &mut Context<'_>) -> Option<FlowDivision> {
    let belongs = [
        ("error", sent.error.is_some(), FlowDivisionWord::SplitFlow),
        ("levelled_every", sent.levelled_every.is_some(), FlowDivisionWord::SplitFlow),
        ("held_within", sent.held_within.is_some(), FlowDivisionWord::ValvePerPoint),
    ];
    let mut sound = true;
    for (name, _, _) in belongs.into_iter().filter(|(_, stated, kind)| *stated && *kind != sent.kind) {
        sound = false;
        context.inconsistent(&at.field(name), "this does not belong to the kind of division", "leave it out");
    }
    let division = match sent.kind {
        FlowDivisionWord::Manifold => FlowDivision::Manifold,
        FlowDivisionWord::ValvePerPoint => {
            FlowDivision::ValvePerPoint { held_within: sent.held_within.as_ref().map(Sent::get) }
        }
        FlowDivisionWord::SplitFlow => {
            let Some(error) = &sent.error else {
                let hint = "give it as a fraction of the mean flow, such as 0.04";
                context.inconsistent(&at.field("error"), "a split flow is as good as its error", hint);
                return None;
            };
            let levelled_every = sent.levelled_every.as_ref().map(Sent::get);
            FlowDivision::SplitFlow { error: error.get(), levelled_every }
        }
    };
    sound.then_some(division)
}
