//! A set that was found, written down as an option.

use super::option::{CircuitOption, ModelUsed, RamOption};
use super::trial::{Choice, Found, Job};
use crate::Text;
use crate::catalogue::Money;
use crate::circuit::RetractOutcome;
use crate::feed::Chosen;
use crate::ram::Ram;
use ramwright_units::PieceMass;

/// The option; its rank is still to be given.
pub(super) fn option(job: &Job<'_>, pareto: bool, found: Found) -> RamOption {
    let models = models(job, &found.choices);
    let money = |amount: f64| Money { amount, currency: job.input.currency.clone() };
    let rams = models.iter().fold(0, |sum: u32, model| sum.saturating_add(model.rams));
    let words: Vec<String> = models.iter().map(|model| format!("{} x {}", model.rams, model.ram)).collect();
    RamOption {
        rank: 0,
        recommended: false,
        pareto,
        set: words.join(" + "),
        at_points: job.set(&found.choices).named(&job.input.case),
        rams,
        packing_lifts: found.packing_lifts,
        mass: job.mass(&found.choices).map(PieceMass::from_kg),
        day_rate: day_rate(job, &found.choices).map(money),
        hire: found.hire.map(money),
        cost: found.cost.map(money),
        circuit: found.circuit.as_deref().map(|chosen| circuit(job, chosen)),
        circuit_missing: found.circuit_open.map(Text::fixed),
        time: found.time,
        utilisation: found.tally.utilisation(),
        checks: found.tally.worst(),
        verdict: found.verdict,
        models,
    }
}

fn models(job: &Job<'_>, choices: &[Choice]) -> Vec<ModelUsed> {
    let mut counts: std::collections::BTreeMap<usize, u32> = std::collections::BTreeMap::new();
    for (ram, count) in choices {
        let so_far = counts.entry(*ram).or_insert(0);
        *so_far = so_far.saturating_add(*count);
    }
    let used = |(ram, rams): (usize, u32)| job.input.rams.get(ram).map(|ram| model(ram, rams));
    counts.into_iter().filter_map(used).collect()
}

fn model(ram: &Ram, rams: u32) -> ModelUsed {
    ModelUsed {
        ram: ram.id.clone(),
        rams,
        family: ram.family.clone(),
        action: ram.action,
        lock_collar: ram.lock_collar,
        capacity: ram.rated_pressure * ram.effective_area,
        stroke: ram.stroke,
        closed_height: ram.closed_height,
    }
}

fn day_rate(job: &Job<'_>, choices: &[Choice]) -> Option<f64> {
    choices.iter().map(|(ram, count)| Some(job.input.rams.get(*ram)?.day_rate? * f64::from(*count))).sum()
}

fn circuit(job: &Job<'_>, chosen: &Chosen) -> CircuitOption {
    let Chosen { choice, assessment, hoses, hire, verdict } = chosen;
    let retract = &assessment.retract;
    let hose = choice.hose.as_ref();
    CircuitOption {
        pump: choice.pump.id.clone(),
        pumps: choice.pumps,
        hose: hose.map_or_else(String::new, |hose| hose.id.clone()),
        hoses_in_series: choice.hose_count_in_series,
        hoses: *hoses,
        run: hose
            .map_or(job.input.supply.as_ref().map_or(ramwright_units::HoseLength::ZERO, |supply| supply.run), |hose| {
                hose.length * f64::from(choice.hose_count_in_series)
            }),
        pump_pressure: assessment.pump_pressure,
        raise: assessment.times.total,
        retract: retract.time.filter(|_| retract.outcome == RetractOutcome::Retracts),
        hire: hire.map(|amount| Money { amount, currency: job.input.currency.clone() }),
        verdict: verdict.clone(),
    }
}
