//! Pressures, oil and times.

use super::figures::{counted, figures, quantity, word};
use super::page::Page;
use super::table::Table;
use ramwright_engine::circuit::{CircuitAssessment, RaiseTimes, StageFlow};
use ramwright_engine::plan::CircuitUsed;
use ramwright_units::{Profile, Time};

pub(super) fn write(page: &mut Page, circuit: &CircuitAssessment, used: Option<&CircuitUsed>, units: Profile) {
    page.heading("CIRCUIT");
    if let Some(used) = used {
        page.under(&parts(used));
    }
    Table::new(&circuit.points)
        .left("point", |point| point.point.clone())
        .right("rams", |point| point.rams.to_string())
        .quantities("least", units, "", |point| Some(point.pressure.least))
        .quantities("expected", units, "", |point| Some(point.pressure.expected))
        .quantities("greatest", units, "", |point| Some(point.pressure.greatest))
        .quantities("stop at", units, "", |point| Some(point.stop_pressure))
        .left("stop pressure held down by", |point| {
            point
                .stop_pressure_limited_by
                .map_or_else(|| "-".to_owned(), |part| format!("rating of the {}", word(&part)))
        })
        .write(page);
    if 1 < circuit.lift_order.len() {
        page.under(&format!(
            "On one open manifold the points would lift in this order: {}.",
            circuit.lift_order.join(", ")
        ));
    }
    pump(page, circuit, units);
    retract(page, circuit, units);
    let rows: Vec<String> = circuit.bill.iter().map(|row| format!("{} x {}", row.total, word(&row.item))).collect();
    page.under(&format!("Needed beside the rams: {}.", rows.join(", ")));
}

fn pump(page: &mut Page, circuit: &CircuitAssessment, units: Profile) {
    let pressure = circuit.pump_pressure.map_or_else(|| "NOT KNOWN".to_owned(), |pressure| quantity(pressure, units));
    let power = circuit.mechanical_power.map_or_else(|| "NOT KNOWN".to_owned(), |power| quantity(power, units));
    page.under(&format!("Greatest pressure at the pump {pressure}; power into the oil of one pump {power}."));
    if let Some(run) = &circuit.hose_run {
        page.under(&format!(
            "Hose run of {} to each ram: {} at {} and {}, loss {} ({} flow, Reynolds number {}).",
            quantity(run.length, units),
            quantity(run.flow, units),
            quantity(run.temperature, units),
            quantity(run.viscosity, units),
            quantity(run.loss, units),
            word(&run.region),
            figures(run.reynolds)
        ));
    }
    if let Some(window) = &circuit.relief_window {
        page.under(&format!(
            "Relief valve: set it to {}, between {} and {}.",
            quantity(window.recommended, units),
            quantity(window.from, units),
            quantity(window.to, units)
        ));
    }
    page.under(&format!(
        "Oil of the greatest raise {} of {} that may be drawn, {} of it in the rams. {}",
        quantity(circuit.oil.needed, units),
        quantity(circuit.usable_oil, units),
        quantity(circuit.oil_per_raise, units),
        circuit.oil.not_included
    ));
    times(page, &circuit.times, units);
}

/// How the rams come back, and what would be quicker.
fn retract(page: &mut Page, circuit: &CircuitAssessment, units: Profile) {
    let found = &circuit.retract;
    page.under(&format!("Retracting, oil at {}: {}", quantity(found.temperature, units), found.text));
    if let Some(sequence) = &circuit.sequence_times {
        let retract = sequence.retract.map_or_else(
            || "time to retract not known or by hand".to_owned(),
            |time| format!("{} to retract", quantity(time, units)),
        );
        page.under(&format!(
            "Over {}: {} through the pumps, {} to raise, {retract}.",
            counted(sequence.cycles.len(), "packing lift", "packing lifts"),
            quantity(sequence.oil, units),
            quantity(sequence.raise, units)
        ));
    }
    if let Some(strokes) = &circuit.pump_strokes {
        page.under(&format!("Strokes of each hand pump in the greatest raise: {}.", figures(strokes.total)));
    }
    for advice in &circuit.advice {
        page.under(advice.text.as_str());
    }
}

fn times(page: &mut Page, times: &RaiseTimes, units: Profile) {
    let stage = |flow: &StageFlow| format!("{} ({} stage)", quantity(flow.flow, units), word(&flow.stage));
    let approach = if Time::ZERO < times.approach {
        format!("approach {} at {}, then ", quantity(times.approach, units), stage(&times.approach_flow))
    } else {
        String::new()
    };
    page.under(&format!(
        "Time of the greatest raise without pauses {}: {approach}under load {} at {}.",
        quantity(times.total, units),
        quantity(times.under_load, units),
        stage(&times.load_flow)
    ));
}

/// Pumps and hoses, stated or chosen.
fn parts(used: &CircuitUsed) -> String {
    let count = |count: u32| usize::try_from(count).unwrap_or(usize::MAX);
    let pumps = counted(count(used.pumps), "pump", "pumps");
    let hoses = counted(count(used.hoses_in_series), "hose", "hoses in series");
    format!("{pumps} {}; {hoses} {} to each ram.", used.pump, used.hose.as_deref().unwrap_or("not stated"))
}
