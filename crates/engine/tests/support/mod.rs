//! What the tests of whole answers share: an invented yard, load cases made to measure, and ways to look into answers.

#![allow(dead_code, reason = "each test file uses a part of this")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

pub(crate) mod cases;
pub(crate) mod expression;
pub(crate) mod line;
pub(crate) mod parts;
pub(crate) mod yard;

use ramwright_engine::Effort;
use ramwright_engine::check::{Check, CheckId, Phase, Scenario, Status};
use ramwright_engine::load::{
    Actions, Centre, Horizontal, JackingPoint, LoadCase, LoadShares, Method, PhasePlan, Placed, Record, Rule, Sharing,
    Task, point_order,
};
use ramwright_engine::ram::{BaseFixity, Head, Pad, Ram};
use ramwright_engine::settings::{PackingLifts, Settings, StrokeLimit};
use ramwright_engine::verify::{RamSet, Verification, VerifyInput, verify_ram_set};
use ramwright_engine::{EngineError, defaults};
use ramwright_units::{Angle, Force, Length, Range, Stiffness};
use std::sync::atomic::AtomicBool;

static NEVER: AtomicBool = AtomicBool::new(false);

/// Effort enough for the small yard, counted in states so that every run does the same.
pub(crate) fn effort() -> Effort<'static> {
    Effort { states: 200_000, stop: &NEVER }
}

pub(crate) fn kn(value: f64) -> Force {
    Force::from_kn(value)
}

pub(crate) fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

pub(crate) fn m(value: f64) -> Length {
    Length::from_m(value)
}

/// A value without a tolerance.
pub(crate) fn exactly<T: Copy>(value: T) -> Range<T> {
    Range::new(value, value, value)
}

/// Settings as the defaults profile has them.
pub(crate) fn settings() -> Settings {
    Settings {
        capacity_limit: defaults::CAPACITY_LIMIT,
        stroke_limit: StrokeLimit::Share(defaults::STROKE_LIMIT),
        plates: mm(20.0),
        entry_gap: defaults::ENTRY_GAP,
        packing_gap: defaults::PACKING_GAP,
        follow_up_gap: defaults::FOLLOW_UP_GAP,
        over_jack_allowance: defaults::OVER_JACK_ALLOWANCE,
        level_tolerance: defaults::LEVEL_TOLERANCE,
        handling: defaults::HANDLING,
        side_by_side_spacing: defaults::SIDE_BY_SIDE_SPACING,
        stability_factor: defaults::STABILITY_FACTOR,
        heavier_factor: defaults::HEAVIER_FACTOR,
        packing_lifts: PackingLifts::Allowed,
        rams_per_point: 3,
    }
}

/// A point of which everything is known and ample.
pub(crate) fn point(id: &str) -> JackingPoint {
    JackingPoint {
        id: id.into(),
        clearance: Some(mm(420.0)),
        packing_clearance: None,
        limit: Some(kn(5000.0)),
        foundation_limit: Some(kn(5000.0)),
        pad: Some(Pad { length: mm(1500.0), width: mm(900.0) }),
        base: BaseFixity::Fixed,
        head: Head::Free,
        mounting: None,
        from_plumb: Angle::ZERO,
        stiffness: None,
        held_stiffness: None,
        level: Length::ZERO,
        ram_area: None,
        packing_at: None,
        packing_limit: None,
        packing_foundation_limit: None,
    }
}

/// Points `1`, `2` and so on.
pub(crate) fn points(count: usize) -> Vec<JackingPoint> {
    (1..=count).map(|number| point(&number.to_string())).collect()
}

/// A load raised by 30 mm on points at these places in m, without tolerances and horizontal force.
pub(crate) fn placed(weight: Force, places_m: &[(f64, f64)], centre_m: (f64, f64)) -> LoadCase {
    LoadCase {
        task: Task::Raise,
        weight: exactly(weight),
        sharing: Sharing::Placed(Placed {
            centre: centre(m(centre_m.0), m(centre_m.1), Some(m(2.0)), Length::ZERO),
            positions: places_m.iter().map(|(x, y)| (m(*x), m(*y))).collect(),
            rule: Rule::Automatic,
            level_band: None,
            phases: Vec::new(),
            least_tipping_margin: None,
        }),
        actions: Actions::only(Horizontal::ShareOfWeight(0.0)),
        points: points(places_m.len()),
        travel: mm(30.0),
        record: Record::default(),
    }
}

/// A centre of gravity within a tolerance of x and y.
pub(crate) fn centre(x: Length, y: Length, z: Option<Length>, tolerance: Length) -> Centre {
    let about = |at: Length| Range::new(at - tolerance, at, at + tolerance);
    Centre { x: about(x), y: about(y), z }
}

/// Gives the centre of gravity a tolerance of x and y.
pub(crate) fn set_tolerance(case: &mut LoadCase, tolerance: Length) {
    let placed = plan_of(case);
    placed.centre = centre(placed.centre.x.expected, placed.centre.y.expected, placed.centre.z, tolerance);
}

/// Elastic sharing on supports of one stiffness, with their levels in a band.
pub(crate) fn on_springs_within(case: &mut LoadCase, band: Length, stiffness: Stiffness) {
    case.points.iter_mut().for_each(|point| point.stiffness = Some(stiffness));
    let placed = plan_of(case);
    (placed.rule, placed.level_band) = (Rule::Elastic, Some(band));
}

/// Whether some support is known to stand higher than another, or may.
pub(crate) fn is_uneven(case: &LoadCase) -> bool {
    let band = match &case.sharing {
        Sharing::Placed(placed) => placed.level_band.unwrap_or(Length::ZERO),
        _ => Length::ZERO,
    };
    Length::ZERO < band || case.points.iter().any(|point| 0.0 < point.level.m().abs())
}

/// Whether a support can lose some of what it carries when the load gets heavier: on springs, where more weight presses gaps
/// shut, or outweighs a force that does not grow with it.
pub(crate) fn can_be_relieved(case: &LoadCase, shares: &LoadShares) -> bool {
    let actions = &case.actions;
    let constant = matches!(actions.horizontal, Horizontal::Stated(_)) || actions.wind.is_some();
    shares.phases.iter().any(|phase| phase.method == Method::Elastic) && (is_uneven(case) || constant)
}

/// The greatest share of any point.
pub(crate) fn heaviest(shares: &LoadShares) -> Force {
    shares.points.iter().map(|point| point.share.greatest).fold(Force::ZERO, Force::max)
}

/// The positions of a case and its centre, for changes.
pub(crate) fn plan_of(case: &mut LoadCase) -> &mut Placed {
    match &mut case.sharing {
        Sharing::Placed(placed) => placed,
        other => panic!("not placed: {other:?}"),
    }
}

/// The case with its points and rams in the engine's order, as a request is put before the engine sees it.
pub(crate) fn in_order(input: &VerifyInput) -> VerifyInput {
    let case = &input.case;
    let mut order: Vec<usize> = (0..case.points.len()).collect();
    order.sort_by(|a, b| point_order(&case.points[*a].id, &case.points[*b].id));
    reordered(input, &order)
}

fn pick<T: Clone>(items: &[T], order: &[usize]) -> Vec<T> {
    order.iter().map(|index| items[*index].clone()).collect()
}

/// The phase with its points listed in another order.
fn phase_reordered(plan: &PhasePlan, order: &[usize]) -> PhasePlan {
    let now_at = |index: &usize| order.iter().position(|old| old == index).unwrap();
    PhasePlan {
        carriers: pick(&plan.carriers, order),
        linked: plan.linked.iter().map(|group| group.iter().map(now_at).collect()).collect(),
        ..plan.clone()
    }
}

/// The input with its points listed in another order.
pub(crate) fn reordered(input: &VerifyInput, order: &[usize]) -> VerifyInput {
    let mut out = input.clone();
    out.case.points = pick(&input.case.points, order);
    out.set.at_points = pick(&input.set.at_points, order);
    out.line.at_points = pick(&input.line.at_points, order);
    out.case.sharing = match &input.case.sharing {
        Sharing::Placed(placed) => Sharing::Placed(Placed {
            positions: pick(&placed.positions, order),
            phases: placed.phases.iter().map(|plan| phase_reordered(plan, order)).collect(),
            ..placed.clone()
        }),
        Sharing::Stated(shares) => Sharing::Stated(pick(shares, order)),
        Sharing::Equal => Sharing::Equal,
    };
    out
}

/// One model everywhere against a case.
pub(crate) fn proposal(case: LoadCase, ram: &Ram, count: u32) -> VerifyInput {
    let set = RamSet::everywhere(ram, count, case.points.len());
    let line = line::line(case.points.len());
    VerifyInput { case, set, line, settings: settings(), packing: yard::pieces(), site: None }
}

pub(crate) fn verify(input: &VerifyInput) -> Result<Verification, EngineError> {
    verify_ram_set(input, effort())
}

/// The one check with this name, subject and scenario.
#[track_caller]
pub(crate) fn check<'a>(checks: &'a [Check], id: CheckId, subject: &str, scenario: Scenario) -> &'a Check {
    let mut found = checks.iter().filter(|c| c.id == id && c.subject == subject && c.scenario == scenario);
    let first = found.next().unwrap_or_else(|| panic!("no check {id:?} of {subject}"));
    assert!(found.next().is_none(), "two checks {id:?} of {subject}");
    first
}

/// The same where a check is made in several phases.
#[track_caller]
pub(crate) fn check_in<'a>(
    checks: &'a [Check],
    id: CheckId,
    subject: &str,
    scenario: Scenario,
    phase: Phase,
) -> &'a Check {
    let this = |c: &&Check| (c.id, c.scenario, c.phase) == (id, scenario, phase) && c.subject == subject;
    let mut found = checks.iter().filter(this);
    let first = found.next().unwrap_or_else(|| panic!("no check {id:?} of {subject} in {phase:?}"));
    assert!(found.next().is_none(), "two checks {id:?} of {subject} in {phase:?}");
    first
}

/// Status of a check as planned.
#[track_caller]
pub(crate) fn status(checks: &[Check], id: CheckId, subject: &str) -> Status {
    check(checks, id, subject, Scenario::AsPlanned).status
}

/// Whether two numbers agree to a part of the greater of both, or of `scale` where they are near zero.
pub(crate) fn close(a: f64, b: f64, relative: f64, scale: f64) -> bool {
    (a - b).abs() <= relative * a.abs().max(b.abs()).max(scale)
}

/// A search that lists every set it finds.
pub(crate) fn every_set() -> ramwright_engine::size::SearchTerms {
    use ramwright_engine::size::{Assignment, Budget, SearchTerms};
    SearchTerms {
        assignment: Assignment::Uniform,
        objectives: ramwright_engine::defaults::OBJECTIVES.to_vec(),
        options: usize::MAX,
        budget: Budget::default(),
    }
}
