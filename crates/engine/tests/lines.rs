//! Every printed line is computed again from what it prints, by a reader that shares no code with the engine.
//!
//! No source is needed: an answer that another engineer can follow must say what was computed.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use proptest::prelude::*;
use ramwright_engine::check::{Check, CheckId, Line, Lines, Scenario, Status};
use ramwright_engine::force::{
    AirBending, BentSection, DieKind, InterferenceFit, Member, Straightening, Work, estimate, hub_bore,
};
use ramwright_engine::load::Sharing;
use ramwright_engine::plan::{PlanInput, plan_lift};
use ramwright_engine::size::SizeInput;
use ramwright_engine::verify::{SiteGauge, SiteReading, SiteReadings, Verification, VerifyInput};
use ramwright_units::{OilPressure, Range, Stress, Typed};
use std::collections::BTreeMap;
use support::cases::proposals;
use support::expression::{evaluate, names};
use support::{close, effort, settings, verify, yard};

const SAME: f64 = 1e-12;
/// A root is as good as its digits: its residual against the terms of the sum.
const ROOT: f64 = 1e-10;

fn terms_of(line: &Line, factor: impl Fn(&str) -> f64) -> BTreeMap<String, f64> {
    let pairs =
        line.terms.iter().map(|term| (term.symbol.to_string(), term.value.value_si * factor(term.symbol.as_str())));
    let terms: BTreeMap<String, f64> = pairs.collect();
    assert_eq!(terms.len(), line.terms.len(), "a symbol stands for two things in {line:?}");
    terms
}

#[track_caller]
fn recompute(line: &Line) {
    let terms = terms_of(line, |_| 1.0);
    let expression = line.expression.as_str();
    let used = names(expression);
    for symbol in terms.keys() {
        assert!(used.contains(symbol), "{symbol} is not in {expression}");
    }
    let found = evaluate(expression, &terms).unwrap_or_else(|fault| panic!("{fault} in {line:?}"));
    match line.residual {
        None => {
            assert!(close(found.value, line.value.value_si, SAME, 0.0), "{} is not the value of {line:?}", found.value);
        }
        Some(residual) => {
            let slack = SAME * found.magnitude;
            assert!((found.value - residual).abs() <= slack, "{} is not the residual of {line:?}", found.value);
            assert!(residual.abs() <= ROOT * found.magnitude, "no root: {line:?}");
            if expression.contains("u_1") {
                first_root(line);
            }
        }
    }
}

/// The arguments of a column's equation grow with the root of the load, so a smaller root would change its sign.
fn first_root(line: &Line) {
    const STEPS: u32 = 400;
    let sign = |step: u32| {
        let part = f64::from(step) / f64::from(STEPS);
        let grows = |symbol: &str| if symbol == "n" { 1.0 } else { part };
        evaluate(line.expression.as_str(), &terms_of(line, grows)).unwrap().value.signum()
    };
    for step in 2..STEPS {
        assert!(close(sign(step), sign(1), 0.0, 0.0), "a root below the one printed, at {step} of {STEPS}: {line:?}");
    }
}

#[track_caller]
fn recompute_check(check: &Check) {
    check.lines.iter().for_each(recompute);
    match (check.demand, check.limit, check.utilisation) {
        (Some(demand), Some(limit), Some(utilisation)) => {
            assert_eq!(demand.kind, limit.kind, "{check:?}");
            if 0.0 < demand.value_si && 0.0 < limit.value_si {
                assert!(close(demand.value_si / limit.value_si, utilisation, SAME, 0.0), "{check:?}");
            } else {
                assert!(demand.value_si <= 0.0 || check.status == Status::Fail, "{check:?}");
            }
            assert_eq!(check.status == Status::Fail, 1.0 + 1e-9 < utilisation, "{check:?}");
        }
        (None, None, None) => assert_ne!(check.status == Status::NotChecked, check.missing.is_empty(), "{check:?}"),
        _ => panic!("demand, limit and utilisation go together: {check:?}"),
    }
}

/// What a check compares and no line computes, since it is an input or stands elsewhere in the answer.
fn given(check: &Check, input: &VerifyInput, answer: &Verification) -> Vec<f64> {
    let at = input.case.points.iter().position(|point| point.id == check.subject);
    let mut given = given_on_site(check, input);
    let phases = &answer.load_shares.phases;
    given.extend(phases.iter().filter_map(|phase| phase.tipping.as_ref()).map(|tipping| tipping.distance.m()));
    if matches!(check.id, CheckId::RamLost | CheckId::PointLost) {
        given.extend(given_after_a_loss(input, answer));
    }
    if let Some(sequence) = &answer.sequence {
        given.push(sequence.greatest_extension.m());
    }
    if let Some(at) = at {
        let (point, placed) = (&input.case.points[at], &input.set.at_points[at]);
        let share = answer.load_shares.points[at].share.greatest.n() / f64::from(placed.count);
        given.extend(match check.id {
            CheckId::ClosedHeight => point.clearance.map(Typed::si),
            CheckId::JackingPointLimit => point.limit.map(Typed::si),
            CheckId::FoundationLimit => point.foundation_limit.map(Typed::si),
            CheckId::Stability => Some(share),
            _ => None,
        });
        let links = &input.line.at_points[at];
        given.extend(match check.id {
            CheckId::SaddleOffCentre => links.off_centre.map(Typed::si),
            CheckId::HeadPlate => links.head_plate.map(|plate| plate.thickness.m()),
            CheckId::CollarRelease => Some(placed.ram.stroke.m()),
            CheckId::WarmOil => Some(placed.ram.rated_pressure.pa()),
            CheckId::GroundPressure => Some(350e3),
            CheckId::Sideways => input.line.restraint.and_then(|restraint| restraint.capacity).map(Typed::si),
            _ => None,
        });
        given.extend(input.line.thermal_relief.filter(|_| check.id == CheckId::WarmOil).map(Typed::si));
        if let (CheckId::Footprint, Some(pad)) = (check.id, point.pad) {
            given.extend([pad.length.m(), pad.width.m()]);
        }
    }
    given
}

/// What was read at a point, and the band of the load case.
fn given_on_site(check: &Check, input: &VerifyInput) -> Vec<f64> {
    let readings = input.site.iter().flat_map(|site| &site.readings).filter(|reading| reading.point == check.subject);
    let read = readings.flat_map(|reading| {
        [reading.pressure.map(Typed::si), reading.extension.map(Typed::si), reading.level.map(Typed::si)]
    });
    let band = match &input.case.sharing {
        Sharing::Placed(placed) => placed.level_band,
        Sharing::Equal | Sharing::Stated(_) => None,
    };
    let band = band.filter(|_| check.id == CheckId::SiteLevels).map(Typed::si);
    read.flatten().filter(|_| check.id == CheckId::SiteReading).chain(band).collect()
}

/// What could be read at every point after every step, each by another factor off what is expected.
fn readings(answer: &Verification, factors: &[f64]) -> SiteReadings {
    let steps = answer.sequence.iter().flat_map(|sequence| &sequence.steps);
    let at =
        steps.flat_map(|step| step.at.iter().flat_map(move |at| at.points.iter().map(move |point| (step, at, point))));
    let off = factors.iter().cycle();
    let readings = at.zip(off).map(|((step, at, point), factor)| {
        let pressed = at.pressures.iter().find(|on| on.point == *point).map(|on| on.expected.expected);
        SiteReading {
            step: step.number,
            point: point.clone(),
            pressure: Some(pressed.unwrap_or(OilPressure::from_bar(20.0)) * *factor),
            extension: Some(at.extension.expected * *factor),
            level: Some(at.soffit.expected * *factor),
        }
    });
    let full_scale =
        factors.first().filter(|factor| 1.0 < **factor).map(|factor| OilPressure::from_bar(900.0 * *factor));
    SiteReadings { readings: readings.collect(), gauge: SiteGauge { class: 0.016, full_scale } }
}

/// The check of a lost ram is that of the point which then bears worst: by a limit of its own, or on its rams.
fn given_after_a_loss(input: &VerifyInput, answer: &Verification) -> Vec<f64> {
    let limits = input.case.points.iter().flat_map(|point| [point.limit, point.foundation_limit]);
    let mut given: Vec<f64> = limits.flatten().map(Typed::si).collect();
    let heaviest = answer.load_shares.losses.iter().filter_map(|lost| lost.heaviest_share);
    for share in heaviest {
        given.extend(input.set.at_points.iter().map(|placed| share.n() / f64::from(placed.count)));
    }
    given
}

#[track_caller]
fn demand_and_limit_are_accounted_for(check: &Check, input: &VerifyInput, answer: &Verification) {
    let (Some(demand), Some(limit)) = (check.demand, check.limit) else { return };
    if check.lines.is_empty() {
        return;
    }
    let given = given(check, input, answer);
    let same = |a: f64, b: f64| close(a, b, SAME, 0.0);
    let of_a_line =
        |value: f64| check.lines.iter().any(|line| line.residual.is_none() && same(line.value.value_si, value));
    let known = |value: f64| of_a_line(value) || given.iter().any(|other| same(*other, value));
    assert!(known(demand.value_si), "nobody says where the demand is from: {check:?}");
    assert!(known(limit.value_si), "nobody says where the limit is from: {check:?}");
    assert!(of_a_line(demand.value_si) || of_a_line(limit.value_si), "lines that lead nowhere: {check:?}");
}

fn plan_input(input: &VerifyInput, proposed: bool) -> PlanInput {
    PlanInput {
        search: SizeInput {
            case: input.case.clone(),
            line: input.line.clone(),
            settings: input.settings.clone(),
            rams: yard::rams().into_iter().map(std::sync::Arc::new).collect(),
            packing: input.packing.clone(),
            currency: "EUR".into(),
            price: ramwright_engine::defaults::PRICE_TERMS,
            search: support::every_set(),
            supply: None,
        },
        proposed: proposed.then(|| input.set.clone()),
        circuit: Some(yard::circuit()),
        site: input.site.clone(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn verify_every_line_of_a_verification(input in proposals()) {
        let Ok(answer) = verify(&input) else { return Ok(()) };
        for check in &answer.checks {
            recompute_check(check);
            demand_and_limit_are_accounted_for(check, &input, &answer);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn verify_every_line_of_readings_on_site(input in proposals(), factors in prop::collection::vec(0.9f64..1.1, 1..7)) {
        let Ok(plain) = verify(&input) else { return Ok(()) };
        let input = VerifyInput { site: Some(readings(&plain, &factors)), ..input };
        let answer = verify(&input).unwrap();
        for check in answer.checks.iter().skip(plain.checks.len()) {
            recompute_check(check);
            demand_and_limit_are_accounted_for(check, &input, &answer);
        }
    }

    #[test]
    fn verify_every_line_of_a_plan_and_its_circuit(input in proposals(), proposed in prop::bool::weighted(0.8)) {
        let Ok(plan) = plan_lift(&plan_input(&input, proposed), effort()) else { return Ok(()) };
        plan.open_checks.iter().for_each(recompute_check);
        plan.cycle.iter().flat_map(|cycle| &cycle.lines).for_each(recompute);
        let Some(circuit) = plan.circuit else { return Ok(()) };
        circuit.checks.iter().for_each(recompute_check);
        circuit.times.lines.iter().for_each(recompute);
        circuit.points.iter().flat_map(|point| &point.lines).for_each(recompute);
        circuit.retract.lines.iter().for_each(recompute);
        circuit.shut_in_oil.lines.iter().for_each(recompute);
    }
}

/// Work of every kind, and how many lines its estimate has.
fn works() -> Vec<(Work, usize)> {
    let steel = Member { modulus: Stress::from_mpa(207e3), poisson: 0.29 };
    let mm = support::mm;
    let fit = InterferenceFit {
        joint_diameter: mm(50.0),
        joint_length: mm(60.0),
        hub_outside: mm(100.0),
        shaft_bore: mm(20.0),
        hub: steel,
        shaft: Member { poisson: 0.33, ..steel },
        hub_yield: Some(Stress::from_mpa(355.0)),
        radial_interference: Range::new(mm(0.0), mm(0.01), mm(0.02)),
        friction: Range::new(0.1, 0.12, 0.15),
        after_service: 1.5,
    };
    let strength = Range::new(Stress::from_mpa(300.0), Stress::from_mpa(400.0), Stress::from_mpa(500.0));
    let bend = AirBending {
        die: DieKind::EdgeDie,
        die_opening: mm(40.0),
        width: mm(900.0),
        thickness: mm(5.0),
        tensile_strength: strength,
    };
    let sections = [
        BentSection::Round { diameter: mm(60.0) },
        BentSection::Tube { outside: mm(60.0), bore: mm(40.0) },
        BentSection::Rectangle { width: mm(40.0), height: mm(60.0) },
        BentSection::Stated { plastic_modulus_m3: 36e-6, depth: mm(60.0) },
    ];
    let bars = sections.map(|section| (Work::Straightening(Straightening { span: mm(900.0), section, strength }), 6));
    let mut works = vec![(Work::InterferenceFit(fit), 12), (Work::AirBending(bend), 3)];
    works.extend(bars);
    works
}

#[test]
fn verify_every_line_of_an_estimate() {
    for (work, count) in works() {
        let found = estimate("1", &work).unwrap();
        assert_eq!(found.lines.len(), count, "{work:?}");
        found.lines.iter().for_each(recompute);
        if let Some(fit) = &found.fit {
            let mut lines = Lines::default();
            hub_bore(&mut lines, fit, "hub_yield");
            lines.0.iter().for_each(recompute);
        }
    }
}

/// The properties above would hold of empty answers too: a full one has all its kinds of lines.
#[test]
fn verify_a_full_answer_has_lines_of_every_kind() {
    let case = support::placed(support::kn(600.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7));
    let input = VerifyInput { settings: settings(), ..support::proposal(case, &yard::rams()[3], 1) };
    let answer = verify(&input).unwrap();
    let lines = |id| support::check(&answer.checks, id, "1", Scenario::AsPlanned).lines.len();
    assert_eq!(lines(CheckId::Capacity), 3);
    assert_eq!(lines(CheckId::ClosedHeight), 1);
    assert_eq!(lines(CheckId::Stroke), 1);
    assert_eq!(lines(CheckId::Footprint), 2);
    assert_eq!(lines(CheckId::Stability), 6);
    assert_eq!(lines(CheckId::SideLoad), 2);
    assert_eq!(lines(CheckId::JackingPointLimit), 1);
    let plan = plan_lift(&plan_input(&input, true), effort()).unwrap();
    let circuit = plan.circuit.unwrap();
    assert!(circuit.hose_run.is_some(), "{:?}", circuit.cautions);
    let kept: Vec<&str> =
        circuit.checks.iter().flat_map(|check| &check.lines).map(|line| line.symbol.as_str()).collect();
    for symbol in ["nu", "Re", "f", "dp_f", "dp_k", "dp", "p_pump", "P", "P_m", "V", "V_c", "V_use", "p_low"] {
        assert!(kept.contains(&symbol), "no line for {symbol} in {kept:?}");
    }
}
