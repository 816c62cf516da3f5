//! Readings on site: held to values worked out by hand, and to what must hold of any of them.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use proptest::prelude::*;
use ramwright_engine::check::{Check, CheckId, Status};
use ramwright_engine::load::{Sharing, Task};
use ramwright_engine::packing_lift::{Step, StepKind};
use ramwright_engine::ram::Ram;
use ramwright_engine::verify::{SiteGauge, SiteReading, SiteReadings, Stands, Verification, VerifyInput};
use ramwright_units::{Length, OilPressure};
use support::cases::proposals;
use support::{close, kn, mm, placed, plan_of, proposal, verify, yard};

fn bar(value: f64) -> OilPressure {
    OilPressure::from_bar(value)
}

/// Class 1.6 on a full scale of 1000 bar: 16 bar.
const GAUGE: SiteGauge = SiteGauge { class: 0.016, full_scale: Some(OilPressure::from_bar(1000.0)) };

/// 1500 kN on three points: moments about the axes give 420 kN at 3 (1500 x 1.4 / 5), 600 kN at 2
/// ((1500 x 3.24 - 420 x 3) / 6) and 480 kN at 1. One ram of 100 cm2 at each: 480, 600 and 420 bar.
fn triangle() -> VerifyInput {
    let case = placed(kn(1500.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.24, 1.4));
    let ram = Ram { rated_pressure: bar(900.0), ..yard::ram("elm-100", 100.0, 200.0, 330.0) };
    proposal(case, &ram, 1)
}

fn by_hand() -> [(&'static str, f64); 3] {
    [("1", 480.0), ("2", 600.0), ("3", 420.0)]
}

fn steps_of(input: &VerifyInput) -> Vec<Step> {
    verify(input).unwrap().sequence.unwrap().steps
}

/// The step in which the load is raised.
fn raise(input: &VerifyInput) -> Step {
    steps_of(input).into_iter().rev().find(|step| step.kind == StepKind::Raise).unwrap()
}

fn pressed(step: u32, point: &str, pressure: f64) -> SiteReading {
    SiteReading { step, point: point.into(), pressure: Some(bar(pressure)), extension: None, level: None }
}

fn levelled(step: u32, point: &str, level: Length) -> SiteReading {
    SiteReading { step, point: point.into(), pressure: None, extension: None, level: Some(level) }
}

fn read(input: &VerifyInput, gauge: SiteGauge, readings: Vec<SiteReading>) -> Verification {
    verify(&VerifyInput { site: Some(SiteReadings { readings, gauge }), ..input.clone() }).unwrap()
}

fn of_id(answer: &Verification, id: CheckId) -> Vec<&Check> {
    answer.checks.iter().filter(|check| check.id == id).collect()
}

fn on_site(answer: &Verification) -> Vec<&Check> {
    let ids = [CheckId::SiteReading, CheckId::SiteLevels, CheckId::SiteWeight];
    answer.checks.iter().filter(|check| ids.contains(&check.id)).collect()
}

#[track_caller]
fn only(answer: &Verification, id: CheckId) -> &Check {
    let found = of_id(answer, id);
    assert_eq!(found.len(), 1, "{found:?}");
    found[0]
}

#[test]
fn validate_the_pressure_of_a_share_by_hand() {
    let input = triangle();
    let step = raise(&input).number;
    let status = |gauge: SiteGauge, pressure: f64| {
        only(&read(&input, gauge, vec![pressed(step, "1", pressure)]), CheckId::SiteReading).status
    };
    assert_eq!(status(GAUGE, 480.0), Status::Pass);
    // Outside of 480 bar by no more than the gauge's 16 bar, and by more.
    for (pressure, found) in [
        (495.9, Status::Caution),
        (496.1, Status::Fail),
        (464.1, Status::Caution),
        (463.9, Status::Fail),
        (0.0, Status::Fail),
    ] {
        assert_eq!(status(GAUGE, pressure), found, "{pressure}");
    }
    // A gauge of 100 bar error reaches beyond the stop pressure, 528 bar, which is never widened.
    let coarse = SiteGauge { class: 0.1, ..GAUGE };
    assert_eq!((status(coarse, 527.9), status(coarse, 528.1)), (Status::Caution, Status::Fail));
    // What only its error explains is a caution within a tenth of 480 bar; beyond it the gauge tells nothing.
    assert_eq!((status(coarse, 432.1), status(coarse, 431.9)), (Status::Caution, Status::NotChecked));
    assert_eq!((status(coarse, 380.1), status(coarse, 379.9)), (Status::NotChecked, Status::Fail));
}

/// A gauge that is far too coarse explains every reading, and so the plan is not said to stand.
#[test]
fn verify_a_coarse_gauge_hides_no_overload() {
    let input = triangle();
    let coarse = SiteGauge { class: 0.1, full_scale: Some(bar(4000.0)) };
    let stands = |kind: StepKind, factor: f64| {
        let step = steps_of(&input).into_iter().rev().find(|step| step.kind == kind).unwrap().number;
        let readings = by_hand().map(|(point, pressure)| pressed(step, point, factor * pressure));
        read(&input, coarse, readings.to_vec()).site.unwrap().stands
    };
    for factor in [0.0, 0.3, 0.89] {
        assert_ne!(stands(StepKind::Raise, factor), Stands::Yes, "{factor}");
    }
    // Above the stop pressure no gauge explains anything.
    assert_eq!(stands(StepKind::Raise, 1.11), Stands::No);
    // 900 bar x 5 % are 45 bar: rams that should carry nothing do.
    assert_ne!(stands(StepKind::Lower, 0.2), Stands::Yes);
}

#[test]
fn validate_the_weight_by_three_pressures_by_hand() {
    let input = triangle();
    let step = raise(&input).number;
    let weighed = |factor: f64| {
        let readings = by_hand().map(|(point, pressure)| pressed(step, point, factor * pressure));
        read(&input, GAUGE, readings.to_vec())
    };
    let as_stated = weighed(1.0);
    let check = only(&as_stated, CheckId::SiteWeight);
    assert_eq!((check.status, check.subject.as_str()), (Status::Pass, "set"));
    let total = check.lines.iter().rev().find(|line| line.symbol.as_str() == "W").unwrap();
    assert!(close(total.value.value_si, 1500e3, 1e-12, 0.0), "{check:?}");
    assert!(check.note.as_ref().unwrap().as_str().contains("1500.0 kN (153.0 t), as much as expected"), "{check:?}");
    let steps = &as_stated.site.as_ref().unwrap().steps;
    assert!(steps[0].not_read.is_empty() && close(steps[0].weighed.unwrap().kn(), 1500.0, 1e-12, 0.0), "{steps:?}");
    // 16 bar on 300 cm2 are 48 kN, 3.2 % of 1500 kN; the weight itself has no tolerance here.
    let status = |factor: f64| only(&weighed(factor), CheckId::SiteWeight).status;
    assert_eq!((status(1.0319), status(1.0321)), (Status::Caution, Status::Fail));
    assert_eq!((status(0.9681), status(0.9679)), (Status::Caution, Status::Fail));
    assert!(only(&weighed(1.05), CheckId::SiteWeight).note.as_ref().unwrap().as_str().contains("5.0 % more"));
}

#[test]
fn validate_the_spread_of_levels_by_hand() {
    let mut input = triangle();
    let soffit = |step: &Step, point: &str| {
        step.at.iter().find(|at| at.points.iter().any(|id| id == point)).unwrap().soffit.expected
    };
    let spread = |input: &VerifyInput, off: &[(&str, f64)]| {
        let step = raise(input);
        let readings = off.iter().map(|(point, off)| levelled(step.number, point, soffit(&step, point) + mm(*off)));
        read(input, GAUGE, readings.collect())
    };
    let off = [("1", 2.0), ("2", -3.9), ("3", 0.0)];
    let open = spread(&input, &off);
    let check = only(&open, CheckId::SiteLevels);
    assert_eq!(check.status, Status::NotChecked);
    assert!(check.missing[0].as_str().contains("load_case/level_tolerance"), "{check:?}");
    plan_of(&mut input.case).level_band = Some(mm(6.0));
    let status = |off: &[(&str, f64)]| only(&spread(&input, off), CheckId::SiteLevels).status;
    // 2 - (-3.9) = 5.9 mm, and 6.1 mm.
    assert_eq!(status(&off), Status::Pass);
    assert_eq!(status(&[("1", 2.0), ("2", -4.1), ("3", 0.0)]), Status::Fail);
    // A point that was not read could be the worst.
    assert_eq!(status(&off[..2]), Status::Caution);
    assert!(of_id(&spread(&input, &off[..1]), CheckId::SiteLevels).is_empty());
    // 10 mm of level tolerance by the settings, whatever the band.
    let far = spread(&input, &[("1", 10.1)]);
    assert_eq!(only(&far, CheckId::SiteReading).status, Status::Fail);
    assert_eq!(only(&spread(&input, &[("1", -9.9)]), CheckId::SiteReading).status, Status::Pass);
}

#[test]
fn verify_an_extension_never_goes_beyond_the_usable_stroke() {
    let mut input = triangle();
    input.settings.level_tolerance = mm(150.0);
    let step = raise(&input);
    let expected = step.at[0].extension.greatest;
    let status = |extension: Length| {
        let reading = SiteReading {
            extension: Some(extension),
            pressure: None,
            ..pressed(step.number, step.at[0].points[0].as_str(), 0.0)
        };
        only(&read(&input, GAUGE, vec![reading]), CheckId::SiteReading).status
    };
    // 80 % of 200 mm.
    assert!(expected < mm(130.0), "{expected:?}");
    assert_eq!((status(expected), status(mm(159.9)), status(mm(160.1))), (Status::Pass, Status::Pass, Status::Fail));
}

#[test]
fn verify_rams_that_should_carry_nothing_must_read_nothing() {
    let input = triangle();
    let rest = steps_of(&input).into_iter().find(|step| step.kind == StepKind::Lower).unwrap().number;
    let status =
        |pressure: f64| only(&read(&input, GAUGE, vec![pressed(rest, "2", pressure)]), CheckId::SiteReading).status;
    assert_eq!((status(0.0), status(15.9), status(16.1)), (Status::Pass, Status::Caution, Status::Fail));
}

#[test]
fn verify_what_belongs_to_no_step_is_not_checked() {
    let input = triangle();
    let count = steps_of(&input).len();
    let next = u32::try_from(count).unwrap() + 1;
    let answer = read(&input, GAUGE, vec![pressed(next, "1", 480.0)]);
    let check = only(&answer, CheckId::SiteReading);
    assert_eq!(check.status, Status::NotChecked);
    assert!(check.missing[0].as_str().contains(&format!("{next} is no step")), "{check:?}");
    assert!(Status::NotChecked <= answer.verdict.status);
    assert_ne!(answer.site.unwrap().stands, Stands::Yes);
    // In a frame nothing has steps, and without a clearance no sequence is known.
    let mut press = input.clone();
    press.case.task = Task::Press;
    let mut open = input;
    open.case.points[0].clearance = None;
    for input in [press, open] {
        let answer = read(&input, GAUGE, vec![pressed(2, "1", 480.0), levelled(2, "2", mm(420.0))]);
        let found = of_id(&answer, CheckId::SiteReading);
        assert!(found.len() == 2 && found.iter().all(|check| check.status == Status::NotChecked), "{found:?}");
    }
}

#[test]
fn verify_points_that_were_not_read_are_named() {
    let input = triangle();
    let step = raise(&input).number;
    let answer = read(&input, GAUGE, vec![pressed(step, "2", 600.0), levelled(step, "3", mm(450.0))]);
    let check = only(&answer, CheckId::SiteWeight);
    assert_eq!(check.status, Status::NotChecked);
    assert!(check.missing[0].as_str().contains("the pressure at 1, 3 in step"), "{check:?}");
    let site = answer.site.unwrap();
    assert_eq!((site.steps[0].points.len(), site.steps[0].not_read.as_slice()), (2, &["1".to_owned()][..]));
    assert_ne!(site.stands, Stands::Yes);
}

#[test]
fn verify_the_words_follow_the_verdict() {
    let input = triangle();
    let step = raise(&input).number;
    let answer = read(&input, GAUGE, by_hand().map(|(point, p)| pressed(step, point, 1.2 * p)).to_vec());
    let site = answer.site.unwrap();
    assert_eq!((answer.verdict.status, site.stands), (Status::Fail, Stands::No));
    let words = site.words.as_str();
    assert!(words.starts_with("Stop") && words.contains("3 more of what was read fails"), "{words}");
    // The ram at 2 has 600 of 720 bar; a stricter limit fails the plan, whatever is read.
    let mut strict = input;
    strict.settings.capacity_limit = 0.5;
    let answer = read(&strict, GAUGE, by_hand().map(|(point, p)| pressed(step, point, p)).to_vec());
    let site = answer.site.unwrap();
    assert_eq!(site.stands, Stands::No);
    assert!(site.words.as_str().starts_with("No reading speaks against the plan"), "{}", site.words);
}

/// Numbers that no request can carry past its parsing: nothing panics on them, and what is no number does not pass.
#[test]
fn verify_hostile_numbers_never_pass() {
    type Spoil = fn(&mut SiteReadings, &mut VerifyInput, f64);
    let fields: [Spoil; 7] = [
        |site, _, v| site.readings[0].pressure = Some(OilPressure::from_pa(v)),
        |site, _, v| site.readings[0].extension = Some(Length::from_m(v)),
        |site, _, v| site.readings[0].level = Some(Length::from_m(v)),
        |site, _, v| site.gauge.class = v,
        |site, _, v| site.gauge.full_scale = Some(OilPressure::from_pa(v)),
        |_, input, v| input.settings.level_tolerance = Length::from_m(v),
        |_, input, v| plan_of(&mut input.case).level_band = Some(Length::from_m(v)),
    ];
    let sound = triangle();
    let readings = all_readings(&verify(&sound).unwrap(), 1.0);
    let mut seen = 0;
    for spoil in fields {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 1e308, -1e308, 1e-300, 0.0] {
            let (mut site, mut input) = (SiteReadings { readings: readings.clone(), gauge: GAUGE }, sound.clone());
            spoil(&mut site, &mut input, value);
            input.site = Some(site);
            let Ok(answer) = verify(&input) else { continue };
            for check in on_site(&answer) {
                let finite = [check.demand, check.limit].iter().flatten().all(|part| part.value_si.is_finite());
                assert!(finite || check.status == Status::Fail, "{value:e}: {check:?}");
                assert!(check.utilisation.is_none_or(f64::is_finite), "{value:e}: {check:?}");
                seen += 1;
            }
        }
    }
    assert!(1000 < seen, "{seen}");
}

/// A reading of everything at every point and step, each value by a factor off what is expected.
fn all_readings(answer: &Verification, factor: f64) -> Vec<SiteReading> {
    let steps = answer.sequence.iter().flat_map(|sequence| &sequence.steps);
    let at = steps.flat_map(|step| step.at.iter().map(move |at| (step.number, at)));
    let of_point = |(step, at, point): (u32, &ramwright_engine::packing_lift::StepAt, &String)| SiteReading {
        step,
        point: point.clone(),
        pressure: Some(
            at.pressures.iter().find(|on| on.point == *point).map_or(OilPressure::ZERO, |on| on.expected.expected)
                * factor,
        ),
        extension: Some(at.extension.expected * factor),
        level: Some(at.soffit.expected * factor),
    };
    at.flat_map(|(step, at)| at.points.iter().map(move |point| of_point((step, at, point)))).collect()
}

fn with_readings(input: &VerifyInput, readings: Vec<SiteReading>, class: f64) -> Option<Verification> {
    verify(&VerifyInput {
        site: Some(SiteReadings { readings, gauge: SiteGauge { class, full_scale: None } }),
        ..input.clone()
    })
    .ok()
}

fn is_about(check: &Check, word: &str) -> bool {
    check.note.as_ref().is_some_and(|note| note.as_str().contains(word))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn verify_what_is_expected_passes(input in proposals()) {
        let Ok(plain) = verify(&input) else { return Ok(()) };
        let readings = all_readings(&plain, 1.0);
        prop_assume!(!readings.is_empty());
        let answer = with_readings(&input, readings, 0.016).unwrap();
        for check in on_site(&answer) {
            match check.id {
                // What the shares expect may be above what the ram is rated for, which is never let pass.
                CheckId::SiteReading => prop_assert!(check.status == Status::Pass || is_about(check, "above the stop pressure"), "{check:?}"),
                CheckId::SiteLevels => prop_assert!(matches!(check.status, Status::Pass | Status::NotChecked), "{check:?}"),
                // Where shares are stated they need not add up to the weight.
                _ => prop_assert!(check.status == Status::Pass || matches!(input.case.sharing, Sharing::Stated(_)), "{check:?}"),
            }
        }
        // The plan itself is as it was.
        let of_plan = answer.checks.len() - on_site(&answer).len();
        prop_assert_eq!(&answer.checks[..of_plan], &plain.checks[..]);
        prop_assert_eq!(&answer.margins, &plain.margins);
        prop_assert!(plain.verdict.status <= answer.verdict.status);
    }

    #[test]
    fn verify_the_order_of_readings_changes_nothing(input in proposals(), factor in 0.9f64..1.1, turn in 0usize..50) {
        let Ok(plain) = verify(&input) else { return Ok(()) };
        let readings = all_readings(&plain, factor);
        prop_assume!(!readings.is_empty());
        let mut other = readings.clone();
        other.rotate_left(turn % readings.len());
        other.reverse();
        prop_assert_eq!(with_readings(&input, readings, 0.016), with_readings(&input, other, 0.016));
    }

    #[test]
    fn verify_a_coarser_gauge_or_wider_levels_never_make_a_reading_worse(input in proposals(), factor in 0.9f64..1.1, class in 0.0f64..0.05) {
        let Ok(plain) = verify(&input) else { return Ok(()) };
        let readings = all_readings(&plain, factor);
        let (Some(fine), Some(coarse)) =
            (with_readings(&input, readings.clone(), class), with_readings(&input, readings, 2.0 * class))
        else { return Ok(()) };
        for (fine, coarse) in on_site(&fine).iter().zip(on_site(&coarse)) {
            prop_assert!(coarse.status <= fine.status, "{fine:?} {coarse:?}");
            prop_assert!(coarse.utilisation <= fine.utilisation.map(|used| used + 1e-9), "{fine:?} {coarse:?}");
        }
    }

    #[test]
    fn verify_more_pressure_never_makes_too_much_less(input in proposals(), factor in 1.0f64..1.3, more in 1.0f64..1.2) {
        let Ok(plain) = verify(&input) else { return Ok(()) };
        let failed = |factor: f64| -> Option<Vec<bool>> {
            let answer = with_readings(&input, all_readings(&plain, factor), 0.016)?;
            Some(on_site(&answer).iter().map(|check| check.status == Status::Fail).collect())
        };
        let (Some(less), Some(more)) = (failed(factor), failed(factor * more)) else { return Ok(()) };
        for (less, more) in less.iter().zip(more) {
            prop_assert!(more || !less);
        }
    }
}
