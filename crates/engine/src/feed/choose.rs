//! Which pump, how many of them, and which hoses: the cheapest out of the yard that no check of the circuit refuses.

use super::job::{CircuitChoice, circuit_of};
use crate::catalogue::{Hose, Pump};
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Status};
use crate::circuit::{
    CircuitAssessment, CircuitConditions, CircuitInput, Oil, assess_circuit, hoses_needed, stock_checks,
};
use crate::load::LoadShares;
use crate::packing_lift::PackingSequence;
use crate::price::{HireItem, ItemKind, PriceTerms, hire_total};
use crate::verify::{Context, Verdict};
use ramwright_units::HoseLength;

/// Pumps of one model that are tried together at most.
const MOST_PUMPS: u32 = 4;
/// Hoses that are joined end to end at most.
const MOST_HOSES_IN_SERIES: u32 = 12;

/// What a circuit may be chosen from.
#[derive(Clone, Debug, PartialEq)]
pub struct Supply {
    /// The pumps of the yard, in the order of their ids.
    pub pumps: Vec<Pump>,
    /// The hoses of the yard, in the order of their ids.
    pub hoses: Vec<Hose>,
    /// How far the farthest ram is from the pumps, along the hoses.
    pub run: HoseLength,
    /// The oil.
    pub oil: Oil,
    /// What else is known of the circuit.
    pub conditions: CircuitConditions,
}

/// How a set is fed.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Feed<'a> {
    /// That is not asked.
    NotAsked,
    /// By the cheapest circuit of a yard that does it.
    Chosen(&'a Supply),
    /// As it is stated.
    Stated(&'a CircuitChoice),
}

/// A circuit that was chosen.
#[derive(Clone, Debug)]
pub(crate) struct Chosen {
    pub(crate) choice: CircuitChoice,
    pub(crate) assessment: CircuitAssessment,
    /// How many hoses it takes.
    pub(crate) hoses: u32,
    /// Hire of pumps and hoses; nothing where a rate is not known.
    pub(crate) hire: Option<f64>,
    pub(crate) verdict: Verdict,
}

/// Whether the yard can feed a set.
#[derive(Clone, Debug)]
pub(crate) enum Fed {
    /// By this circuit.
    By(Box<Chosen>),
    /// By none: the check that stands against the nearest of them.
    ByNone(Box<Check>),
    /// That is not known, since this is missing.
    Unknown(&'static str),
}

/// Pumps and hoses of the yard that go together, and what they cost.
struct Pair<'a> {
    pump: &'a Pump,
    pumps: u32,
    hose: &'a Hose,
    in_series: u32,
    hoses: u32,
    hire: Option<f64>,
}

/// Chooses by hire, then by fewest pumps, then by name; of those that no check refuses the first.
pub(crate) fn choose(
    context: Context<'_>,
    shares: &LoadShares,
    sequence: Option<&PackingSequence>,
    supply: &Supply,
    terms: &PriceTerms,
) -> Fed {
    let (Some(pump), Some(hose)) = (supply.pumps.first(), supply.hoses.first()) else {
        return Fed::Unknown("pumps and hoses in the catalogue");
    };
    let any = CircuitChoice {
        pump: pump.clone(),
        pumps: 1,
        hose: Some(hose.clone()),
        hose_count_in_series: 1,
        oil: supply.oil,
        conditions: supply.conditions,
    };
    let job = match circuit_of(context, shares, sequence, &any) {
        Ok(job) => job,
        Err(missing) => return Fed::Unknown(missing),
    };
    let fitted = |pair: &Pair<'_>| CircuitInput {
        pump: pair.pump.clone(),
        pumps: pair.pumps,
        hose: Some(pair.hose.clone()),
        hose_count_in_series: pair.in_series,
        ..job.clone()
    };
    let mut nearest: Option<Check> = None;
    let mut lacking: Vec<(Pair<'_>, Check)> = Vec::new();
    for pair in pairs(&job, supply, terms) {
        let input = fitted(&pair);
        // What the yard does not have need not be assessed as long as it may have others.
        if let Some(short) = stock_checks(&input).into_iter().find(|check| check.status == Status::Fail) {
            lacking.push((pair, short));
            continue;
        }
        let assessment = assess_circuit(&input);
        match assessment.checks.iter().find(|check| check.status == Status::Fail) {
            Some(failing) => nearest = Some(nearer(nearest, pair.told(failing.clone()))),
            None => return Fed::By(Box::new(pair.chosen(supply, assessment))),
        }
    }
    // More of what would do is the least change; more of what would not do is none.
    let would_do = |pair: &Pair<'_>| {
        let checks = assess_circuit(&fitted(pair)).checks;
        checks.iter().all(|check| check.id == CheckId::Stock || check.status != Status::Fail)
    };
    let least = |short: &mut dyn Iterator<Item = &(Pair<'_>, Check)>| {
        short.fold(None, |so_far, (pair, check)| Some(nearer(so_far, pair.told(check.clone()))))
    };
    let short = least(&mut lacking.iter().filter(|(pair, _)| would_do(pair)));
    let refused = short.or(nearest).or_else(|| least(&mut lacking.iter()));
    Fed::ByNone(Box::new(refused.unwrap_or_else(|| out_of_reach(supply))))
}

/// The one of two checks that is nearer to passing; the first of equals.
fn nearer(so_far: Option<Check>, other: Check) -> Check {
    let used = |check: &Check| check.utilisation.unwrap_or(f64::MAX);
    match so_far {
        Some(so_far) if used(&so_far) <= used(&other) => so_far,
        _ => other,
    }
}

/// The check that stands for hoses of which none reaches.
fn out_of_reach(supply: &Supply) -> Check {
    let longest = supply.hoses.iter().map(|hose| hose.length.m()).fold(0.0, f64::max);
    let reach = longest * f64::from(MOST_HOSES_IN_SERIES);
    let text = format!(
        "the hoses of the yard reach {reach:.1} m, {MOST_HOSES_IN_SERIES} of the longest joined end to end; the run is {:.1} m",
        supply.run.m()
    );
    let place = Place { id: CheckId::Stock, subject: "hose", scenario: Scenario::AsPlanned, phase: Phase::SettingUp };
    Check::new(&place, Finding::judged(Status::Fail, text), Lines::default())
}

/// A circuit that is stated, whatever its checks say; or what is missing for it.
pub(crate) fn stated(
    context: Context<'_>,
    shares: &LoadShares,
    sequence: Option<&PackingSequence>,
    choice: &CircuitChoice,
    terms: &PriceTerms,
) -> Result<Chosen, &'static str> {
    let job = circuit_of(context, shares, sequence, choice)?;
    let assessment = assess_circuit(&job);
    let verdict = Verdict::of(&assessment.checks);
    let hoses = choice.hose.as_ref().map_or(0, |_| hoses_needed(&job));
    let pumps = hired_pumps(&choice.pump, choice.pumps);
    let items: Vec<HireItem<'_>> =
        std::iter::once(pumps).chain(choice.hose.as_ref().map(|hose| hired_hoses(hose, hoses))).collect();
    Ok(Chosen { choice: choice.clone(), assessment, hoses, hire: hire_total(terms, &items), verdict })
}

/// Every pump, number and hose, the cheapest first; what has no rate comes last.
fn pairs<'a>(job: &CircuitInput, supply: &'a Supply, terms: &PriceTerms) -> Vec<Pair<'a>> {
    let mut pairs: Vec<Pair<'a>> = Vec::new();
    for hose in &supply.hoses {
        let Some(in_series) = joined(supply.run, hose) else { continue };
        let hoses = hoses_needed(&CircuitInput { hose_count_in_series: in_series, ..job.clone() });
        for pump in &supply.pumps {
            for pumps in 1..=MOST_PUMPS {
                let items = [hired_pumps(pump, pumps), hired_hoses(hose, hoses)];
                pairs.push(Pair { pump, pumps, hose, in_series, hoses, hire: hire_total(terms, &items) });
            }
        }
    }
    pairs.sort_by(|a, b| {
        let cost = |pair: &Pair<'_>| pair.hire.unwrap_or(f64::MAX);
        cost(a)
            .total_cmp(&cost(b))
            .then_with(|| (a.pumps, &a.pump.id, &a.hose.id).cmp(&(b.pumps, &b.pump.id, &b.hose.id)))
    });
    pairs
}

/// How many hoses reach that far, if not too many.
fn joined(run: HoseLength, hose: &Hose) -> Option<u32> {
    (1..=MOST_HOSES_IN_SERIES).find(|count| run <= hose.length * f64::from(*count))
}

fn hired_pumps(pump: &Pump, count: u32) -> HireItem<'_> {
    let Pump { id, day_rate, week_rate, .. } = pump;
    HireItem { what: ItemKind::Pump, id, count, day_rate: *day_rate, week_rate: *week_rate }
}

fn hired_hoses(hose: &Hose, count: u32) -> HireItem<'_> {
    let Hose { id, day_rate, week_rate, .. } = hose;
    HireItem { what: ItemKind::Hose, id, count, day_rate: *day_rate, week_rate: *week_rate }
}

impl Pair<'_> {
    /// A check of this pair, its remedy saying of which pumps and hoses it speaks.
    fn told(&self, mut check: Check) -> Check {
        let change = check.would_pass.take().or(check.note.take());
        let change = change.map_or_else(|| "others".to_owned(), |change| change.to_string());
        let Self { pump, pumps, hose, hoses, .. } = self;
        check.would_pass = Some(format!("with {pumps} x {} and {hoses} x {}: {change}", pump.id, hose.id).into());
        check
    }

    fn chosen(&self, supply: &Supply, assessment: CircuitAssessment) -> Chosen {
        let verdict = Verdict::of(&assessment.checks);
        let choice = CircuitChoice {
            pump: self.pump.clone(),
            pumps: self.pumps,
            hose: Some(self.hose.clone()),
            hose_count_in_series: self.in_series,
            oil: supply.oil,
            conditions: supply.conditions,
        };
        Chosen { choice, assessment, hoses: self.hoses, hire: self.hire, verdict }
    }
}
