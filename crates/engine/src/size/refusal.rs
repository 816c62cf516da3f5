//! What was refused, and how near it came.

use super::order::place_of;
use super::tally::Refused;
use super::trial::{Choice, Job};
use crate::Text;
use crate::check::{CheckId, Finding, NoLines, Scenario, Status};
use crate::effort::Effort;
use crate::load::LoadCase;
use crate::packing_lift::{Cures, PlanBook, Stopped};
use crate::verify::{Raise, Reserve, capacity_otherwise, holding_check, plan_raise};
use ramwright_units::{Force, Length};
use serde::{Deserialize, Serialize};
use std::cmp::Ordering;
use utoipa::ToSchema;

/// Models that each check lists by name.
const LISTED: usize = 20;

/// A model that was refused, at the number of rams at a point that came farthest.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NearestMiss {
    /// The model.
    pub ram: String,
    /// Rams side by side at each point.
    pub rams_per_point: u32,
    /// The point where it fails, or `set`; of a circuit `pump`, `hose` or `ram`.
    pub subject: String,
    /// In which case.
    pub scenario: Scenario,
    /// Demand / limit, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub utilisation: Option<f64>,
    /// What would make it pass this check.
    pub would_pass: Text,
}

/// The models that one check refused first.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Refusal {
    /// The first check that they fail.
    pub check: CheckId,
    /// How many models.
    pub models: u32,
    /// The nearest of them.
    pub nearest: NearestMiss,
    /// The others, the nearest first; at most 19.
    pub others: Vec<NearestMiss>,
}

/// Parts of a circuit, as its checks name them.
const PARTS: [&str; 3] = ["ram", "pump", "hose"];

/// A refusal of a model at one number of rams.
#[derive(Clone, Debug)]
pub(super) struct Miss {
    pub(super) check: CheckId,
    pub(super) ram: usize,
    pub(super) count: u32,
    /// Index of the point where it fails.
    at: Option<usize>,
    /// What it fails on where that is no point: the set, or a part of its circuit.
    on: &'static str,
    scenario: Scenario,
    pub(super) utilisation: Option<f64>,
    change: Option<Text>,
}

impl Miss {
    /// By a check at a point, of which more can be found out later.
    pub(super) fn at_point(check: CheckId, at: usize, utilisation: Option<f64>) -> Self {
        let scenario = Scenario::AsPlanned;
        Self { check, ram: 0, count: 0, at: Some(at), on: "set", scenario, utilisation, change: None }
    }

    /// The same, told of a model at a number of rams.
    pub(super) fn of_model(self, ram: usize, count: u32) -> Self {
        Self { ram, count, ..self }
    }

    /// What refused a set that is the same everywhere.
    pub(super) fn of(ram: usize, count: u32, refused: &Refused, case: &LoadCase) -> Self {
        let Refused { summary, change } = refused;
        Self {
            check: summary.id,
            ram,
            count,
            at: case.points.iter().position(|point| point.id == summary.subject),
            on: PARTS.into_iter().find(|part| *part == summary.subject).unwrap_or("set"),
            scenario: summary.scenario,
            utilisation: summary.utilisation,
            change: change.clone(),
        }
    }

    /// Its place in the order of refusal: whatever a circuit lacks comes last.
    fn place(&self) -> usize {
        if self.at.is_none() && PARTS.contains(&self.on) { usize::MAX } else { place_of(self.check) }
    }

    /// Whether another number of the same model came farther: past more checks, or nearer to passing, or with fewer rams.
    fn is_behind(&self, other: &Self) -> bool {
        let farther = self.place().cmp(&other.place());
        farther.then_with(|| nearness(other, self)).then_with(|| other.count.cmp(&self.count)) == Ordering::Less
    }
}

/// The nearer first, by more than rounding; what has no utilisation last.
fn nearness(a: &Miss, b: &Miss) -> Ordering {
    match (a.utilisation, b.utilisation) {
        (Some(a), Some(b)) if (a - b).abs() <= 1e-9 * b.max(1.0) => Ordering::Equal,
        (Some(a), Some(b)) => a.total_cmp(&b),
        (Some(_), None) => Ordering::Less,
        (None, Some(_)) => Ordering::Greater,
        (None, None) => Ordering::Equal,
    }
}

/// For each model the refusal that came farthest, unless a set of it was found or passed over.
pub(super) struct Misses(Vec<Fate>);

enum Fate {
    Open,
    InPlay,
    Refused(Box<Miss>),
}

impl Misses {
    pub(super) fn new(models: usize) -> Self {
        Self((0..models).map(|_| Fate::Open).collect())
    }

    pub(super) fn note(&mut self, miss: Miss) {
        match self.0.get_mut(miss.ram) {
            Some(Fate::Refused(so_far)) if so_far.is_behind(&miss) => **so_far = miss,
            Some(open @ Fate::Open) => *open = Fate::Refused(Box::new(miss)),
            _ => {}
        }
    }

    /// Models of a set that was not refused.
    pub(super) fn keep(&mut self, choices: &[Choice]) {
        for (ram, _) in choices {
            if let Some(fate) = self.0.get_mut(*ram) {
                *fate = Fate::InPlay;
            }
        }
    }

    /// Grouped by check, in the order in which checks refuse, and told in words.
    pub(super) fn told(self, job: &Job<'_>) -> Result<Vec<Refusal>, Stopped> {
        let mut misses: Vec<Miss> = self
            .0
            .into_iter()
            .filter_map(|fate| match fate {
                Fate::Refused(miss) => Some(*miss),
                Fate::Open | Fate::InPlay => None,
            })
            .collect();
        misses.sort_by(|a, b| {
            (a.place(), a.check).cmp(&(b.place(), b.check)).then_with(|| nearness(a, b)).then_with(|| a.ram.cmp(&b.ram))
        });
        let groups = misses.chunk_by(|a, b| (a.place(), a.check) == (b.place(), b.check));
        groups.filter_map(|group| told(group, job).transpose()).collect()
    }
}

fn told(group: &[Miss], job: &Job<'_>) -> Result<Option<Refusal>, Stopped> {
    let Some((nearest, others)) = group.split_first() else { return Ok(None) };
    Ok(Some(Refusal {
        check: nearest.check,
        models: u32::try_from(group.len()).unwrap_or(u32::MAX),
        nearest: named(nearest, job, with_cures(nearest, job)?),
        others: others.iter().take(LISTED - 1).map(|miss| named(miss, job, None)).collect(),
    }))
}

fn named(miss: &Miss, job: &Job<'_>, change: Option<Text>) -> NearestMiss {
    let ram = job.input.rams.get(miss.ram).map_or_else(String::new, |ram| ram.id.clone());
    let point = miss.at.and_then(|at| job.input.case.points.get(at));
    NearestMiss {
        ram,
        rams_per_point: miss.count,
        subject: point.map_or_else(|| miss.on.to_owned(), |point| point.id.clone()),
        scenario: miss.scenario,
        utilisation: miss.utilisation,
        would_pass: change.unwrap_or_else(|| would_pass(miss, job)),
    }
}

/// The reason why there is no sequence, with the least change that would cure it, which the search itself does not ask for.
fn with_cures(miss: &Miss, job: &Job<'_>) -> Result<Option<Text>, Stopped> {
    if !matches!(miss.check, CheckId::Stroke | CheckId::Holding) {
        return Ok(None);
    }
    let set = job.set(&vec![(miss.ram, miss.count); job.input.case.points.len()]);
    let effort = Effort { ..job.effort };
    let raise = plan_raise(job.context(&set), &job.worked.shares, &mut PlanBook::new(Cures::Sought), effort)?;
    let finding = holding_check(&raise, miss.count);
    Ok(if finding.status() == Status::Fail { finding.change() } else { None })
}

/// The least change that would pass: in the request's own terms where there are such.
fn would_pass(miss: &Miss, job: &Job<'_>) -> Text {
    let finding = finding_again(miss, job);
    let room = finding.as_ref().and_then(lacking);
    match (miss.check, room, miss.utilisation) {
        (CheckId::ClosedHeight, Some(lacking_m), _) => {
            let lacking = (Length::from_m(lacking_m).mm() * 10.0 - 1e-6).ceil() / 10.0;
            Text::from(format!("needs {lacking:.1} mm ({:.3} in) more clearance", inches_above(lacking)))
        }
        (CheckId::Capacity, Some(lacking_n), Some(utilisation)) => {
            let limit = (job.input.settings.capacity_limit * utilisation * 1000.0 - 1e-6).ceil() / 1000.0;
            let otherwise = lacking_otherwise(miss, job);
            if otherwise.is_none() && limit <= 1.0 {
                return Text::from(format!(
                    "passes at a capacity limit of {limit:.3}, which somebody must answer for; or with so much more capacity"
                ));
            }
            let lacking_n = otherwise.map_or(lacking_n, |otherwise| otherwise.max(lacking_n));
            let lacking = (Force::from_n(lacking_n).kn() * 10.0 - 1e-6).ceil() / 10.0;
            let pounds = (lacking * 1000.0 / NEWTONS_IN_A_POUND).ceil();
            Text::from(format!(
                "needs {lacking:.1} kN ({pounds:.0} lbf) less on each ram, or so much more that each may carry"
            ))
        }
        (_, _, utilisation) => {
            let change = miss.change.clone().or_else(|| finding.and_then(Finding::change));
            change.unwrap_or_else(|| match utilisation {
                Some(used) if used < 1e6 => Text::from(format!("{:.1} % over its limit", (used - 1.0) * 100.0)),
                _ => Text::fixed("a ram of another kind"),
            })
        }
    }
}

/// A pound of force: 0.45359237 kg x 9.80665 m/s2.
const NEWTONS_IN_A_POUND: f64 = 4.448_221_615_260_5;

/// In inches to three digits, rounded up: what is printed suffices.
fn inches_above(millimetres: f64) -> f64 {
    (millimetres / 25.4 * 1000.0 - 1e-6).ceil() / 1000.0
}

/// By how much a demand is over its limit.
fn lacking(finding: &Finding) -> Option<f64> {
    match finding {
        Finding::Compared { demand, limit, .. } => Some(demand.value_si - limit.value_si),
        _ => None,
    }
}

/// By how much the whole capacity falls short of a load that acts otherwise than planned; nothing where it does not.
fn lacking_otherwise(miss: &Miss, job: &Job<'_>) -> Option<f64> {
    let set = job.set(&vec![(miss.ram, miss.count); job.input.case.points.len()]);
    let finding = capacity_otherwise(job.context(&set), job.worked)?;
    lacking(&finding).filter(|_| finding.status() == Status::Fail)
}

/// What a check that needs no plan found at the point.
fn finding_again(miss: &Miss, job: &Job<'_>) -> Option<Finding> {
    let (rule, at) = (job.rule(miss.check)?, miss.at?);
    let set = job.set(&vec![(miss.ram, miss.count); job.input.case.points.len()]);
    let station = job.context(&set).stations(&job.worked.shares, Reserve::Ordinary).nth(at)?;
    Some((rule.check)(&station, &Raise::Unknown(Vec::new()), &mut NoLines))
}
