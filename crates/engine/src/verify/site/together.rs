//! What the readings of one step say together: how level the load is, and what it weighs.

use super::outcome::StepRead;
use super::reading::{ByGauge, CLASS, COARSE, lies_under};
use super::{Placed, SiteChecks, SiteGauge, full_scale};
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Source, Status};
use crate::line;
use crate::load::{LoadCase, Placed as PlacedLoad, Sharing};
use crate::packing_lift::Step;
use crate::text::Text;
use crate::verify::station::Context;
use ramwright_units::{Force, Length, STANDARD_GRAVITY_M_PER_S2};

/// Enters the checks of one step, of which something was read, and what that was.
pub(super) fn enter(context: Context<'_>, of_step: &[Placed<'_>], gauge: &SiteGauge, made: &mut SiteChecks) {
    let Some(step) = of_step.first().map(|read| read.step) else { return };
    made.checks.extend(levels(context, step, of_step));
    let weighed = weight(context, step, of_step, gauge);
    let (check, weight) = weighed.map_or((None, None), |(check, weight)| (Some(check), weight));
    made.checks.extend(check);
    made.steps.push(StepRead {
        step: step.number,
        points: of_step.iter().map(|read| read.reading.point.clone()).collect(),
        not_read: without(step, of_step, |_| true).map(str::to_owned).collect(),
        weighed: weight,
    });
}

/// Points of a step of which something was not read, in the order of the points.
fn without<'a>(
    step: &'a Step,
    of_step: &'a [Placed<'_>],
    read: impl Fn(&Placed<'_>) -> bool + 'a,
) -> impl Iterator<Item = &'a str> {
    let points = step.at.iter().flat_map(|at| &at.points).map(String::as_str);
    points.filter(move |point| !of_step.iter().any(|one| one.reading.point == **point && read(one)))
}

fn of_set(id: CheckId, phase: Phase) -> Place<'static> {
    Place { id, subject: "set", scenario: Scenario::AsPlanned, phase }
}

/// Level of a point over what is planned there.
struct Deviation<'a> {
    point: &'a str,
    level: Length,
    planned: Length,
}

impl Deviation<'_> {
    fn m(&self) -> f64 {
        (self.level - self.planned).m()
    }
}

/// The spread of the levels against the band on which the shares rest; none where fewer than two levels were read.
fn levels(context: Context<'_>, step: &Step, of_step: &[Placed<'_>]) -> Option<Check> {
    let read = of_step.iter().filter_map(|read| {
        let level = read.reading.level?;
        Some(Deviation { point: &read.reading.point, level, planned: read.at.soffit.expected })
    });
    let all: Vec<Deviation<'_>> = read.collect();
    if all.len() < 2 {
        return None;
    }
    // By more than rounding, so that of equal ones the first is named whatever the units were.
    let higher = |a: &&Deviation<'_>, b: &&Deviation<'_>| b.m() + 1e-9 < a.m();
    let high = all.iter().reduce(|most, next| if higher(&next, &most) { next } else { most })?;
    let low = all.iter().reduce(|least, next| if higher(&least, &next) { next } else { least })?;
    let mut book = Lines::default();
    let finding = spread(context, step, of_step, (high, low), &mut book);
    let phase = if of_step.iter().all(|read| read.at.pressures.is_empty()) { Phase::Holding } else { Phase::Raising };
    Some(Check::new(&of_set(CheckId::SiteLevels, phase), finding, book))
}

/// The band in which levels lie on which the shares rest, or what it takes to state one.
fn band_of(case: &LoadCase) -> Result<Length, &'static str> {
    match &case.sharing {
        Sharing::Placed(PlacedLoad { level_band: Some(band), .. }) => Ok(*band),
        Sharing::Placed(_) if case.points.iter().all(|point| point.stiffness.is_some()) => {
            Err("load_case/level_tolerance")
        }
        Sharing::Placed(_) => Err("load_case/level_tolerance, with load_case/support_stiffness"),
        Sharing::Equal | Sharing::Stated(_) => Err("positions of the points, with load_case/level_tolerance"),
    }
}

fn spread(
    context: Context<'_>,
    step: &Step,
    of_step: &[Placed<'_>],
    (high, low): (&Deviation<'_>, &Deviation<'_>),
    book: &mut Lines,
) -> Finding {
    let band = match band_of(context.case) {
        Ok(band) => band,
        Err(missing) => return Finding::missing([format!("step {}: {missing}", step.number)]),
    };
    let over = Source::definition("level over what is planned at the point");
    let above = line!(book, d_high: Length = h - h_plan; h = high.level, h_plan = high.planned; over.clone());
    let below = line!(book, d_low: Length = h - h_plan; h = low.level, h_plan = low.planned; over);
    let spread = line!(book, d: Length = d_high - d_low; d_high = above, d_low = below; Source::definition("difference of the levels that are farthest apart"));
    let finding = Finding::compare(spread, band);
    let place = format!(
        "step {}: point {} stands highest over its planned level, point {} lowest",
        step.number, high.point, low.point
    );
    let missing: Vec<&str> = without(step, of_step, |read| read.reading.level.is_some()).collect();
    match finding.status() {
        Status::Fail => {
            finding.with_note(format!("{place}; stop, and level the load: the shares were worked out within this band"))
        }
        _ if missing.is_empty() => finding.with_note(place),
        _ => finding.with_caution(format!("{place}; not read at {}", missing.join(", "))),
    }
}

/// The weight by all pressures of a step against that of the load case, and the weight; none where the load is not on its rams
/// alone.
fn weight(
    context: Context<'_>,
    step: &Step,
    of_step: &[Placed<'_>],
    gauge: &SiteGauge,
) -> Option<(Check, Option<Force>)> {
    if step.at.iter().any(|at| at.pressures.len() != at.points.len()) {
        return None;
    }
    let place = of_set(CheckId::SiteWeight, Phase::Raising);
    let missing: Vec<&str> = without(step, of_step, |read| read.reading.pressure.is_some()).collect();
    if !missing.is_empty() {
        let missing = format!("site_readings: the pressure at {} in step {}", missing.join(", "), step.number);
        return Some((Check::new(&place, Finding::missing([missing]), Lines::default()), None));
    }
    let mut book = Lines::default();
    let weighed = sum(of_step, &mut book);
    let finding = against_case(context, step, of_step, (weighed, gauge), &mut book)?;
    Some((Check::new(&place, finding, book), Some(weighed)))
}

/// The force of all rams together.
fn sum(of_step: &[Placed<'_>], book: &mut Lines) -> Force {
    let pressed = of_step.iter().filter_map(|read| Some((read, read.reading.pressure?)));
    pressed.fold(Force::ZERO, |before, (read, pressure)| {
        let source = Source {
            text: Text::from(format!("pressure x effective area x rams at point {}, added to the points before", read.reading.point)),
            ..Source::definition("")
        };
        line!(book, W: Force = W_0 + p * A * n; W_0 = before, p = pressure, A = read.ram.effective_area, n = f64::from(read.rams); source)
    })
}

fn against_case(
    context: Context<'_>,
    step: &Step,
    of_step: &[Placed<'_>],
    (weighed, gauge): (Force, &SiteGauge),
    book: &mut Lines,
) -> Option<Finding> {
    let ram = of_step.first()?.ram;
    let rams = f64::from(of_step.iter().fold(0_u32, |sum, read| sum.saturating_add(read.rams)));
    let pressure =
        line!(book, e: ramwright_units::OilPressure = S * c; S = full_scale(gauge, ram), c = gauge.class; CLASS);
    let error = line!(book, E: Force = e * A * n; e = pressure, A = ram.effective_area, n = rams; Source::definition("error of the gauges x effective area x rams, all off the same way"));
    let expected = context.case.weight;
    let (finding, out, fails) = if lies_under(weighed, expected.expected) {
        let limit = line!(book, W_low: Force = W_least - E; W_least = expected.least, E = error; Source::definition("least weight, less the error of the gauges"));
        let fails = "it is lighter than stated, or something else still carries a part of it; stop, and find out what";
        (Finding::compare(limit, weighed), Finding::compare(expected.least, weighed), fails)
    } else {
        let limit = line!(book, W_max: Force = W_great + E; W_great = expected.greatest, E = error; Source::definition("greatest weight, with the error of the gauges"));
        let fails = "it is heavier than stated, or caught; stop, and do not go on before it is known why";
        (Finding::compare(weighed, limit), Finding::compare(weighed, expected.greatest), fails)
    };
    let said = format!("step {}: the load weighs {}", step.number, in_words(weighed, expected.expected));
    Some(match (finding.status(), out.status()) {
        (Status::Fail, _) => finding.with_note(format!("{said}; {fails}")),
        (_, Status::Fail) if matches!(ByGauge::of(weighed, expected.least, expected.greatest), ByGauge::TooMuch) => {
            Finding::missing([format!("{said}: {COARSE}")])
        }
        (_, Status::Fail) => {
            finding.with_caution(format!("{said}; outside of its tolerance, by no more than the error of the gauges"))
        }
        _ => finding.with_note(said),
    })
}

/// A weight beside the expected one; seals take a part of the pressure while the load goes up, so that it reads high.
pub(super) fn in_words(weighed: Force, expected: Force) -> String {
    let tonnes = weighed.kn() / STANDARD_GRAVITY_M_PER_S2;
    let percent = ((weighed / expected - 1.0) * 1000.0).round() / 10.0;
    let beside = if percent > 0.0 {
        format!("{percent:.1} % more than expected")
    } else if percent < 0.0 {
        format!("{:.1} % less than expected", -percent)
    } else {
        "as much as expected".to_owned()
    };
    format!("{:.1} kN ({tonnes:.1} t), {beside}", weighed.kn())
}
