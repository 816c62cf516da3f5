//! By how much weight, centre of gravity and clearance may change before a check fails, or must change before it passes.
//!
//! The sequence of packing lifts is held as it is: a margin asks what the arrangement bears, not what another one would.

use super::raise::Raise;
use super::rules::{load_rules, room_rules};
use super::station::{Context, Reserve, Rule};
use crate::Text;
use crate::check::{Check, CheckId, NoLines, Phase, Scenario, Status, is_worse};
use crate::load::{LoadCase, LoadShares, Rule as ShareRule, Sharing, Task, envelope_alone};
use ramwright_units::{Force, ForceRange, Length, Range};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// More points than this make margins too long a calculation.
const MOST_POINTS: usize = 24;
/// The same where their levels lie in a band: points that can lift off make shares costly.
const MOST_POINTS_IN_A_BAND: usize = 8;
/// No weight beyond this multiple, and no centre farther than [`FARTHEST`], is looked at.
const HEAVIEST: f64 = 4.0;
/// See [`HEAVIEST`].
const FARTHEST: Length = Length::from_m(5.0);
/// Halvings between what passes and what fails: weights to a thousandth, places to a few millimetres.
const HALVINGS: u32 = 12;

/// A direction in plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Toward {
    /// Towards greater x.
    PlusX,
    /// Towards lesser x.
    MinusX,
    /// Towards greater y.
    PlusY,
    /// Towards lesser y.
    MinusY,
}

impl Toward {
    const ALL: [Self; 4] = [Self::PlusX, Self::MinusX, Self::PlusY, Self::MinusY];

    fn words(self) -> &'static str {
        match self {
            Self::PlusX => "+x",
            Self::MinusX => "-x",
            Self::PlusY => "+y",
            Self::MinusY => "-y",
        }
    }

    fn step(self, by: Length) -> (Length, Length) {
        match self {
            Self::PlusX => (by, Length::ZERO),
            Self::MinusX => (-by, Length::ZERO),
            Self::PlusY => (Length::ZERO, by),
            Self::MinusY => (Length::ZERO, -by),
        }
    }
}

/// How far the centre of gravity may move one way.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CentreMargin {
    /// Which way.
    pub toward: Toward,
    /// The farthest move that was found to pass, beyond the tolerance.
    pub by: Length,
}

/// The margin of one check, at the point where it is worst as planned.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Margin {
    /// Which check.
    pub check: CheckId,
    /// On what.
    pub subject: String,
    /// In which phase.
    pub phase: Phase,
    /// Its status as planned.
    pub status: Status,
    /// The greatest expected weight that passes, its tolerance unchanged; absent if it passes at four times the weight, or
    /// fails at any.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub weight: Option<Force>,
    /// How far the centre of gravity may move, in the directions in which something less than 5 m fails; empty for a check that fails.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub centre: Vec<CentreMargin>,
    /// The least clearance that passes, where the check is one of height.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub clearance: Option<Length>,
    /// The same in words.
    pub words: Text,
}

/// The margins of every check that the forces decide and of those of height, in the order of the checks.
pub(super) fn margins(context: Context<'_>, checks: &[Check], raise: &Raise) -> Vec<Margin> {
    let Some(probe) = Probe::of(context) else { return Vec::new() };
    let of_forces = load_rules::<NoLines>().into_iter().filter_map(|rule| {
        let check = worst_as_planned(checks, rule.id, rule.phase == Phase::Holding)?;
        Some(probe.of_load(&rule, check, raise))
    });
    let of_room = room_rules().into_iter().filter_map(|id| of_height(context, worst_as_planned(checks, id, false)?));
    of_forces.chain(of_room).collect()
}

/// The check of this kind that is worst as planned, of those in which something was compared.
///
/// A check that is made of rams and of holding stacks is two.
fn worst_as_planned(checks: &[Check], id: CheckId, held: bool) -> Option<&Check> {
    let rank = |check: &Check| (check.status, check.utilisation);
    checks
        .iter()
        .filter(|check| check.id == id && (check.phase == Phase::Holding) == held)
        .filter(|check| check.scenario == Scenario::AsPlanned && check.utilisation.is_some())
        .reduce(|worst, check| if is_worse(rank(check), rank(worst)) { check } else { worst })
}

/// Shares that several margins need, worked out once.
struct Probe<'a> {
    context: Context<'a>,
    shares: LoadShares,
    /// The shares at the greatest weight looked at; nothing if the load then has no equilibrium.
    heaviest: Option<LoadShares>,
    /// How far the centre of gravity may move each way until the load can tip, at most [`FARTHEST`].
    reach: Vec<Reach>,
}

struct Reach {
    toward: Toward,
    by: f64,
    /// Whether the load can tip beyond.
    tips: bool,
    case: LoadCase,
    shares: LoadShares,
}

impl<'a> Probe<'a> {
    /// Nothing for many points, nor for a load without an equilibrium.
    fn of(context: Context<'a>) -> Option<Self> {
        let banded = match &context.case.sharing {
            Sharing::Placed(placed) => placed.level_band.is_some(),
            Sharing::Equal | Sharing::Stated(_) => false,
        };
        let most = if banded { MOST_POINTS_IN_A_BAND } else { MOST_POINTS };
        if most < context.case.points.len() {
            return None;
        }
        let shares = envelope_alone(context.case).ok()?;
        let heaviest = envelope_alone(&context.case.heavier(HEAVIEST)).ok();
        let reach = Toward::ALL.into_iter().filter_map(|toward| reach(context.case, toward)).collect();
        Some(Self { context, shares, heaviest, reach })
    }

    fn of_load(&self, rule: &Rule<NoLines>, check: &Check, raise: &Raise) -> Margin {
        let failed = check.status == Status::Fail;
        let at = |case: &LoadCase, shares: &LoadShares| self.fails(case, shares, rule, raise);
        let weight = self.weight(failed, &at).map(|factor| self.context.case.weight.expected * factor);
        let centre =
            if failed { Vec::new() } else { self.reach.iter().filter_map(|reach| self.centre(reach, &at)).collect() };
        let words = words_of(self.context.case.task, failed, weight, &centre);
        Margin { weight, centre, words, ..blank(check) }
    }

    /// Whether a rule fails at any point, for a load and its shares.
    fn fails(&self, case: &LoadCase, shares: &LoadShares, rule: &Rule<NoLines>, raise: &Raise) -> bool {
        // Elsewhere another point may be the worst, so all of them are asked.
        let context = Context { case, ..self.context };
        let mut stations = context.stations(shares, Reserve::Ordinary);
        stations.any(|station| (rule.check)(&station, raise, &mut NoLines).status() == Status::Fail)
    }

    /// The greatest factor on the weight that passes; nothing if none does, or if none up to [`HEAVIEST`] fails.
    fn weight(&self, failed: bool, fails: &impl Fn(&LoadCase, &LoadShares) -> bool) -> Option<f64> {
        let case = self.context.case;
        let (low, high) = if failed { (0.0, 1.0) } else { (1.0, HEAVIEST) };
        let heaviest = case.heavier(HEAVIEST);
        if !failed && self.heaviest.as_ref().is_some_and(|shares| !fails(&heaviest, shares)) {
            return None;
        }
        let truly = |factor: f64| {
            let case = case.heavier(factor);
            envelope_alone(&case).map_or(true, |shares| fails(&case, &shares))
        };
        // Most shares grow with the weight alone: that is tried first, and held against the truth on both sides.
        let guess = halve(low, high, |factor| fails(&case.heavier(factor), &scaled(&self.shares, factor)));
        let step = (high - low) / f64::from(1 << HALVINGS) * 2.0;
        let holds = low < guess && !truly(guess) && truly((guess + step).min(high));
        let found = if holds { guess } else { halve(low, high, truly) };
        (0.0 < found).then_some(found)
    }

    fn centre(&self, reach: &Reach, fails: &impl Fn(&LoadCase, &LoadShares) -> bool) -> Option<CentreMargin> {
        if !fails(&reach.case, &reach.shares) {
            // Nothing fails before the load tips.
            return reach.tips.then_some(CentreMargin { toward: reach.toward, by: Length::from_m(reach.by) });
        }
        let failed = |by: f64| match moved(self.context.case, reach.toward, by) {
            Some(case) => envelope_alone(&case).map_or(true, |shares| fails(&case, &shares)),
            None => true,
        };
        Some(CentreMargin { toward: reach.toward, by: Length::from_m(halve(0.0, reach.by, failed)) })
    }
}

fn moved(case: &LoadCase, toward: Toward, by: f64) -> Option<LoadCase> {
    case.with_centre_moved(toward.step(Length::from_m(by)))
}

/// How far the centre may move one way while the load cannot tip; nothing where places do not count, or where it can as planned.
fn reach(case: &LoadCase, toward: Toward) -> Option<Reach> {
    let at = |by: f64| {
        let case = moved(case, toward, by)?;
        let shares = envelope_alone(&case).ok()?;
        let tips = shares.checks.iter().any(|check| check.id == CheckId::Tipping && check.status == Status::Fail);
        (!tips).then_some((case, shares))
    };
    let far = FARTHEST.m();
    if let Some((case, shares)) = at(far) {
        return Some(Reach { toward, by: far, tips: false, case, shares });
    }
    let by = halve(0.0, far, |by| at(by).is_none());
    let (case, shares) = at(by)?;
    Some(Reach { toward, by, tips: true, case, shares })
}

/// The shares of the points, all greater by a factor.
fn scaled(shares: &LoadShares, factor: f64) -> LoadShares {
    let range = |share: ForceRange| Range::new(share.least * factor, share.expected * factor, share.greatest * factor);
    let mut scaled = shares.clone();
    for point in &mut scaled.points {
        point.share = range(point.share);
        point.held = point.held.map(range);
    }
    scaled
}

/// The greatest value found that passes, between one that passes and one that fails.
fn halve(passes: f64, fails: f64, failed: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (passes, fails);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if failed(middle) { high = middle } else { low = middle }
    }
    low
}

fn words_of(task: Task, failed: bool, weight: Option<Force>, centre: &[CentreMargin]) -> Text {
    // In a frame there is no weight: what was asked for is a force.
    let (what, unit, of_unit) = match task {
        Task::Raise => ("weight", "t", ramwright_units::STANDARD_GRAVITY_M_PER_S2),
        Task::Press | Task::Pull => ("force", "kN", 1.0),
    };
    let printed = |force: Force| floor_to(force.kn() / of_unit, 10.0);
    match (failed, weight) {
        (true, Some(weight)) => {
            return format!("passes if the {what} is no more than {:.1} {unit}", printed(weight)).into();
        }
        (true, None) => return format!("fails whatever the {what} is").into(),
        (false, _) => {}
    }
    let mut parts: Vec<String> =
        weight.map(|weight| format!("the {what} exceeds {:.1} {unit}", printed(weight))).into_iter().collect();
    let moves: Vec<String> = centre
        .iter()
        .map(|margin| format!("{:.0} mm towards {}", floor_to(margin.by.mm(), 1.0), margin.toward.words()))
        .collect();
    if !moves.is_empty() {
        parts.push(format!("the centre of gravity moves more than {}", moves.join(", ")));
    }
    if parts.is_empty() {
        return format!("passes up to four times the {what}, and wherever the centre of gravity moves within 5 m")
            .into();
    }
    format!("may fail if {}", parts.join(", or if ")).into()
}

/// Rounded down, so that what is printed passes.
fn floor_to(value: f64, parts: f64) -> f64 {
    (value * parts).floor() / parts
}

/// The least clearance: demand and clearance differ by what is left.
fn of_height(context: Context<'_>, check: &Check) -> Option<Margin> {
    let clearance = context.case.points.iter().find(|point| point.id == check.subject)?.clearance?;
    let (demand, limit) = (check.demand?, check.limit?);
    let least = clearance + Length::from_m(demand.value_si - limit.value_si);
    let failed = check.status == Status::Fail;
    let verb = if failed { "passes from a clearance of" } else { "fails if the clearance is under" };
    let words = format!("{verb} {:.1} mm", (least.mm() * 10.0).ceil() / 10.0);
    Some(Margin { clearance: Some(least), words: words.into(), ..blank(check) })
}

fn blank(check: &Check) -> Margin {
    Margin {
        check: check.id,
        subject: check.subject.clone(),
        phase: check.phase,
        status: check.status,
        weight: None,
        centre: Vec::new(),
        clearance: None,
        words: Text::fixed(""),
    }
}

impl LoadCase {
    /// The same load with its centre of gravity elsewhere; nothing where no place decides how it is shared.
    fn with_centre_moved(&self, (dx, dy): (Length, Length)) -> Option<Self> {
        let Sharing::Placed(placed) = &self.sharing else { return None };
        if matches!(placed.rule, ShareRule::Girder(_)) {
            return None;
        }
        let mut moved = placed.clone();
        moved.centre.x = moved.centre.x.shifted(dx);
        moved.centre.y = moved.centre.y.shifted(dy);
        Some(Self { sharing: Sharing::Placed(moved), ..self.clone() })
    }
}
