//! One set held against every check, the cheap ones first, and left as soon as it cannot count any more.

use super::descent::Open;
use super::front::Front;
use super::order::place_of;
use super::refusal::Miss;
use super::score::{Merit, Score, UNKNOWN};
use super::search::SizeInput;
use super::tally::{Refused, Tally};
use super::terms::Objective;
use crate::check::{CheckId, Finding, NoLines, Phase, Place, Scenario, Status, is_worse};
use crate::circuit::CircuitAssessment;
use crate::effort::Effort;
use crate::feed::{Chosen, Fed, Feed, choose, duration, stated};
use crate::load::Task;
use crate::packing_lift::{PlanBook, Stopped};
use crate::price::{HireItem, ItemKind, hire_total};
use crate::ram::Ram;
use crate::verify::{
    Context, PlacedRams, Raise, RamSet, Reserve, Rule, Sink, Station, Verdict, Worked, every_check, holding_check,
    plan_raise, rules_of, status_of_case,
};
use ramwright_units::{Length, Time};
use std::sync::Arc;

/// Values that differ by less of themselves are equals, of which the first point counts, whatever rounding makes of them.
const SAME: f64 = 1e-9;

/// A model, by its place in the yard, and how many of it stand at a point.
pub(super) type Choice = (usize, u32);

/// What every set is held against.
pub(super) struct Job<'a> {
    pub(super) input: &'a SizeInput,
    feed: Feed<'a>,
    pub(super) worked: &'a Worked,
    /// The best verdict that any set can have, by what is known of the case.
    pub(super) floor: Status,
    /// Index of the point with the greatest share, and of the one with the least clearance.
    pub(super) heaviest: usize,
    pub(super) lowest: usize,
    /// The rules that need no plan, in the order of refusal.
    rules: Vec<Rule<NoLines>>,
    /// The rules that are asked first once there is one.
    planned: Vec<Rule<NoLines>>,
    pub(super) effort: Effort<'a>,
}

/// A set that no check refuses.
#[derive(Debug)]
pub(super) struct Found {
    pub(super) choices: Vec<Choice>,
    pub(super) tally: Tally,
    pub(super) verdict: Verdict,
    pub(super) packing_lifts: Option<u32>,
    pub(super) circuit: Option<Box<Chosen>>,
    /// What is missing for a circuit, where one was asked for and none could be chosen.
    pub(super) circuit_open: Option<&'static str>,
    /// Hire of the rams, and with pumps and hoses.
    pub(super) hire: Option<f64>,
    pub(super) cost: Option<f64>,
    pub(super) time: Option<Time>,
}

impl PartialEq for Found {
    fn eq(&self, other: &Self) -> bool {
        self.choices == other.choices
    }
}

impl Eq for Found {}

impl PartialOrd for Found {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

/// Rams stand in the yard by id, so that equals are told apart by name.
impl Ord for Found {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.choices.cmp(&other.choices)
    }
}

/// The circuit of a set, none where none is asked for; or what is missing for it.
type Fedness = Result<Option<Box<Chosen>>, &'static str>;

/// What became of a set.
pub(super) enum Tried {
    /// No check refuses it.
    Found(Merit, Box<Found>),
    /// It cannot be listed, whatever the other checks say.
    PassedOver,
    /// The first check that refuses it.
    Refused(Refused),
}

impl<'a> Job<'a> {
    pub(super) fn new(input: &'a SizeInput, feed: Feed<'a>, worked: &'a Worked, effort: Effort<'a>) -> Self {
        let (planless, planned): (Vec<_>, Vec<_>) =
            rules_of::<NoLines>(input.case.task).into_iter().partition(|rule| rule.planless);
        let mut rules = planless;
        rules.sort_by_key(|rule| place_of(rule.id));
        let first = |rule: &Rule<NoLines>| matches!(rule.id, CheckId::Stroke | CheckId::Stability);
        let planned = planned.into_iter().filter(first).collect();
        let floor = status_of_case(&input.case, &input.line, &input.settings, worked);
        let shares = worked.shares.points.iter().map(|point| point.share.greatest.n());
        let heaviest = first_of(shares, |share, most| most + SAME * most.abs() < share);
        let clearances = input.case.points.iter().map(|point| point.clearance.map_or(f64::INFINITY, Length::m));
        let lowest = first_of(clearances, |height, least| height < least * (1.0 - SAME));
        Self { input, feed, worked, floor, heaviest, lowest, rules, planned, effort }
    }

    pub(super) fn context<'s>(&self, set: &'s RamSet) -> Context<'s>
    where
        'a: 's,
    {
        let SizeInput { case, settings, packing, line, .. } = self.input;
        Context { case, set, settings, packing, line, stacks: &[] }
    }

    /// The rams of a set.
    pub(super) fn set(&self, choices: &[Choice]) -> RamSet {
        let placed =
            |(ram, count): &Choice| Some(PlacedRams { ram: Arc::clone(self.input.rams.get(*ram)?), count: *count });
        RamSet { at_points: choices.iter().filter_map(placed).collect() }
    }

    /// One of the rules that need no plan.
    pub(super) fn rule(&self, id: CheckId) -> Option<&Rule<NoLines>> {
        self.rules.iter().find(|rule| rule.id == id)
    }

    /// The utilisation of a rule that needs no plan at one point, or its refusal; a rule of another task refuses nothing.
    pub(super) fn at_one_point(&self, set: &RamSet, id: CheckId, at: usize) -> Result<f64, Miss> {
        let Some(rule) = self.rule(id) else { return Ok(0.0) };
        let mut stations = self.context(set).stations(&self.worked.shares, Reserve::Ordinary);
        let Some(station) = stations.nth(at) else { return Ok(0.0) };
        let finding = (rule.check)(&station, &Raise::Unknown(Vec::new()), &mut NoLines);
        match finding.status() {
            Status::Fail => Err(Miss::at_point(id, at, finding.utilisation())),
            _ => Ok(finding.utilisation().unwrap_or(0.0)),
        }
    }

    /// The merit of the best that a set of these rams can be, of which so much is known.
    pub(super) fn bound(&self, choices: &[Choice], status: Status, (utilisation, lifts): (f64, f64)) -> Merit {
        self.merit_of(status, |objective| match objective {
            Objective::Rams => rams_in(choices),
            Objective::Mass => self.mass(choices).unwrap_or(UNKNOWN),
            Objective::Cost => self.hire(choices).unwrap_or(UNKNOWN),
            Objective::Utilisation => utilisation,
            Objective::PackingLifts => lifts,
            Objective::Time => 0.0,
        })
    }

    /// The same where other points are still open.
    pub(super) fn bound_with(&self, choices: &[Choice], open: Open, (utilisation, lifts): (f64, f64)) -> Merit {
        self.merit_of(self.floor, |objective| match objective {
            Objective::Rams => rams_in(choices) + open.rams,
            Objective::Mass => self.mass(choices).map_or(UNKNOWN, |mass| mass + open.mass),
            Objective::Cost => self.hire(choices).map_or(UNKNOWN, |hire| hire + open.cost),
            Objective::Utilisation => utilisation,
            Objective::PackingLifts => lifts,
            Objective::Time => 0.0,
        })
    }

    fn merit_of(&self, status: Status, figure: impl Fn(Objective) -> f64) -> Merit {
        Merit::new(status, &Score::of(figure), &self.input.search.objectives)
    }

    pub(super) fn mass(&self, choices: &[Choice]) -> Option<f64> {
        let mass = |(ram, count): &Choice| Some(self.input.rams.get(*ram)?.mass?.kg() * f64::from(*count));
        choices.iter().map(mass).sum()
    }

    /// Hire of all rams, each model once.
    pub(super) fn hire(&self, choices: &[Choice]) -> Option<f64> {
        let mut items: Vec<HireItem<'_>> = Vec::with_capacity(1);
        for (ram, count) in choices {
            let Ram { id, day_rate, week_rate, .. } = &**self.input.rams.get(*ram)?;
            match items.iter_mut().find(|item| item.id == id) {
                Some(item) => item.count = item.count.saturating_add(*count),
                None => items.push(HireItem {
                    what: ItemKind::Ram,
                    id,
                    count: *count,
                    day_rate: *day_rate,
                    week_rate: *week_rate,
                }),
            }
        }
        hire_total(&self.input.price, &items)
    }

    /// The fewest packing lifts that any plan of these rams can have: none raises farther than the usable stroke.
    pub(super) fn fewest_lifts(&self, choices: &[Choice]) -> f64 {
        let fewest = |(ram, _): &Choice| self.input.rams.get(*ram).map_or(0.0, |ram| self.fewest_lifts_of(ram));
        choices.iter().map(fewest).fold(0.0, f64::max)
    }

    fn fewest_lifts_of(&self, ram: &Ram) -> f64 {
        if self.input.case.task != Task::Raise {
            return 0.0;
        }
        let usable = self.input.settings.stroke_limit.usable(ram.stroke);
        let lifts = (self.input.case.travel.m() / usable.m() - 1e-6).ceil();
        if lifts.is_finite() { lifts.max(0.0) } else { UNKNOWN }
    }

    /// Holds a set against every check, until one refuses it or it cannot count among those found.
    pub(super) fn attempt(
        &self,
        choices: &[Choice],
        front: &Front<Box<Found>>,
        book: &mut PlanBook,
    ) -> Result<Tried, Stopped> {
        let set = self.set(choices);
        let context = self.context(&set);
        let stations: Vec<Station<'_>> = context.stations(&self.worked.shares, Reserve::Ordinary).collect();
        let mut early = Tally::default();
        apply(&self.rules, &stations, &Raise::Unknown(Vec::new()), &mut early);
        // A lower bound of the verdict: what the request allows is asked below, and counts in it once all is known.
        let status = self.floor.max(early.verdict().status);
        self.within_budget(choices, (self.hire(choices), Included::RamsOnly), &mut early);
        if let Some(refused) = early.refused {
            return Ok(Tried::Refused(refused));
        }
        let known = |lifts| (early.utilisation(), lifts);
        if front.rules_out(&self.bound(choices, status, known(self.fewest_lifts(choices)))) {
            return Ok(Tried::PassedOver);
        }
        let raise = plan_raise(context, &self.worked.shares, book, self.effort)?;
        let mut planned = Tally::default();
        apply(&self.planned, &stations, &raise, &mut planned);
        if self.input.case.task == Task::Raise && planned.refused.is_none() {
            planned.take(&of_set(CheckId::Holding), holding_check(&raise, set.most_at_a_point()), NoLines);
        }
        if let Some(refused) = planned.refused {
            return Ok(Tried::Refused(refused));
        }
        if front.rules_out(&self.bound(choices, status, known(lifts_of(&raise, self.input.case.task)))) {
            return Ok(Tried::PassedOver);
        }
        let stacks = context.stacks_of(&raise);
        Ok(self.finish(choices, Context { stacks: &stacks, ..context }, &raise))
    }

    /// Every check of a verification, then the circuit and what the set may cost with it.
    fn finish(&self, choices: &[Choice], context: Context<'_>, raise: &Raise) -> Tried {
        let mut tally = Tally::default();
        every_check(context, self.worked, raise, &mut tally);
        if let Some(refused) = tally.refused {
            return Tried::Refused(self.where_worst(refused, context, raise));
        }
        let hire = self.hire(choices);
        let (circuit, circuit_open) = match self.fed(context, raise) {
            Ok(Ok(circuit)) => (circuit, None),
            Ok(Err(missing)) => (None, Some(missing)),
            Err(refused) => return Tried::Refused(refused),
        };
        // What a circuit costs that could not be chosen is not known, and so is not the whole.
        let cost = match &circuit {
            Some(chosen) => hire.zip(chosen.hire).map(|(rams, rest)| rams + rest),
            None => hire.filter(|_| circuit_open.is_none()),
        };
        self.within_budget(choices, (cost, Included::Everything), &mut tally);
        if let Some(refused) = tally.refused {
            return Tried::Refused(refused);
        }
        let verdict = tally.verdict();
        let time = time_of(raise, circuit.as_ref().map(|chosen| &chosen.assessment));
        let task = self.input.case.task;
        let score = Score::of(|objective| match objective {
            Objective::Rams => rams_in(choices),
            Objective::Mass => self.mass(choices).unwrap_or(UNKNOWN),
            Objective::Cost => cost.unwrap_or(UNKNOWN),
            Objective::Utilisation => tally.utilisation(),
            Objective::PackingLifts => lifts_of(raise, task),
            Objective::Time => time.map_or(UNKNOWN, Time::s),
        });
        let merit = Merit::new(verdict.status, &score, &self.input.search.objectives);
        let packing_lifts = raise.sequence().and_then(|sequence| sequence.cycles);
        Tried::Found(
            merit,
            Box::new(Found {
                choices: choices.to_vec(),
                tally,
                verdict,
                packing_lifts,
                circuit,
                circuit_open,
                hire,
                cost,
                time,
            }),
        )
    }

    /// The circuit, if one is asked for; the check that stands against every one of a yard is a refusal, one that is stated
    /// refuses nothing: it is the request's own.
    fn fed(&self, context: Context<'_>, raise: &Raise) -> Result<Fedness, Refused> {
        let (shares, terms) = (&self.worked.shares, &self.input.price);
        let supply = match self.feed {
            Feed::NotAsked => return Ok(Ok(None)),
            Feed::Stated(choice) => {
                let found = stated(context, shares, raise.found(), choice, terms);
                return Ok(found.map(|chosen| Some(Box::new(chosen))));
            }
            Feed::Chosen(supply) => supply,
        };
        match choose(context, shares, raise.found(), supply, terms) {
            Fed::By(chosen) => Ok(Ok(Some(chosen))),
            Fed::Unknown(missing) => Ok(Err(missing)),
            Fed::ByNone(check) => Err(Refused::by(*check)),
        }
    }

    /// What the request allows, as far as it limits anything.
    fn within_budget(&self, choices: &[Choice], (cost, included): (Option<f64>, Included), tally: &mut Tally) {
        let budget = &self.input.search.budget;
        if let Some(most) = budget.rams {
            let finding = Finding::compare(rams_in(choices), f64::from(most))
                .with_remedy(|| format!("a budget of {:.0} rams", rams_in(choices)));
            tally.take(&of_set(CheckId::Budget), finding, NoLines);
        }
        if let Some(most) = budget.ram_mass {
            let rams = || choices.iter().filter_map(|(ram, _)| self.input.rams.get(*ram));
            let heaviest = rams().map(|ram| ram.mass).try_fold(most * 0.0, |so_far, mass| Some(mass?.max(so_far)));
            let finding = match heaviest {
                Some(mass) => Finding::compare(mass, most)
                    .with_remedy(|| format!("rams of {:.1} kg allowed", (mass.kg() * 10.0).ceil() / 10.0)),
                None => Finding::missing(["rams/*/mass"]),
            };
            tally.take(&of_set(CheckId::Budget), finding, NoLines);
        }
        if let Some(most) = budget.hire {
            let finding = match cost {
                Some(cost) => Finding::compare(cost, most).with_remedy(|| {
                    format!("a budget of {cost:.2} {} or more: {}", self.input.currency, included.words())
                }),
                None => Finding::missing(["day or week rates of rams, pumps and hoses"]),
            };
            tally.take(&of_set(CheckId::Budget), finding, NoLines);
        }
    }

    /// A refusal by a rule of points, told of the point where it is worst.
    fn where_worst(&self, refused: Refused, context: Context<'_>, raise: &Raise) -> Refused {
        if refused.summary.scenario != Scenario::AsPlanned {
            return refused;
        }
        let of_id: Vec<Rule<NoLines>> = rules_of::<NoLines>(self.input.case.task)
            .into_iter()
            .filter(|rule| rule.id == refused.summary.id)
            .collect();
        let stations: Vec<Station<'_>> = context.stations(&self.worked.shares, Reserve::Ordinary).collect();
        let mut again = Tally::default();
        apply(&of_id, &stations, raise, &mut again);
        again.refused.unwrap_or(refused)
    }
}

/// What an amount of hire includes.
#[derive(Clone, Copy)]
enum Included {
    RamsOnly,
    Everything,
}

impl Included {
    fn words(self) -> &'static str {
        match self {
            Self::RamsOnly => "the rams alone come to that",
            Self::Everything => "rams, pumps and hoses come to that",
        }
    }
}

fn rams_in(choices: &[Choice]) -> f64 {
    choices.iter().map(|(_, count)| f64::from(*count)).sum()
}

/// Index of the value that goes before all others; the first of equals.
fn first_of(values: impl Iterator<Item = f64>, before: impl Fn(f64, f64) -> bool) -> usize {
    let best = values.enumerate().reduce(|best, one| if before(one.1, best.1) { one } else { best });
    best.map_or(0, |(index, _)| index)
}

/// Applies rules one after the other, each at every station; keeps the worst of each and ends at the first that refuses.
fn apply(rules: &[Rule<NoLines>], stations: &[Station<'_>], raise: &Raise, tally: &mut Tally) {
    for rule in rules {
        let findings = stations.iter().map(|station| (station, (rule.check)(station, raise, &mut NoLines)));
        let figures = |finding: &Finding| (finding.status(), finding.utilisation());
        let worst =
            findings.reduce(|worst, one| if is_worse(figures(&one.1), figures(&worst.1)) { one } else { worst });
        let Some((station, finding)) = worst else { continue };
        let place = Place {
            id: rule.id,
            subject: &station.point.id,
            scenario: Scenario::AsPlanned,
            phase: rule.phase_at(station),
        };
        tally.take(&place, finding, NoLines);
        if tally.is_full() {
            return;
        }
    }
}

fn of_set(id: CheckId) -> Place<'static> {
    Place { id, subject: "set", scenario: Scenario::AsPlanned, phase: Phase::SettingUp }
}

/// Packing lifts of a plan; none in a frame, and no number where there is no plan.
fn lifts_of(raise: &Raise, task: Task) -> f64 {
    match task {
        Task::Raise => raise.sequence().and_then(|sequence| sequence.cycles).map_or(UNKNOWN, f64::from),
        Task::Press | Task::Pull => 0.0,
    }
}

fn time_of(raise: &Raise, circuit: Option<&CircuitAssessment>) -> Option<Time> {
    match raise.found() {
        Some(sequence) => duration(sequence, circuit),
        None => circuit.filter(|_| matches!(raise, Raise::InFrame)).map(|circuit| circuit.times.total),
    }
}
