//! Pressures at the points: least to greatest, where to stop, and which point lifts first.

use super::input::{CircuitInput, PointLoad};
use super::model::{Part, PointPressure, Throttle, UnequalPressures};
use crate::check::{Lines, Source};
use crate::defaults::STOP_PRESSURE_FACTOR;
use crate::line;
use crate::remark::Caution;
use ramwright_units::{OilPressure, Range};

/// Expected pressures that differ by more than this share of the lowest are worth a caution. Common practice, no source.
const UNEQUAL: f64 = 0.05;

const SHARED: Source =
    Source::definition("pressure = force / area; rams of equal area on one linked circuit share equally");
const STOP: Source = Source::common_practice(
    "stop at 1.10 x the greatest expected pressure (common practice, no source), never above a rated pressure of the circuit",
);

/// Pressure and stop pressure of one point.
pub(super) fn point_pressure(input: &CircuitInput, load: &PointLoad) -> PointPressure {
    let mut lines = Lines::default();
    let book = &mut lines;
    let (rams, area, share) = (f64::from(load.rams), input.area(), load.share);
    let least = line!(book, p_least: OilPressure = R / (n * A); R = share.least, n = rams, A = area; SHARED);
    let expected = line!(book, p_exp: OilPressure = R / (n * A); R = share.expected, n = rams, A = area; SHARED);
    let greatest = line!(book, p_great: OilPressure = R / (n * A); R = share.greatest, n = rams, A = area; SHARED);
    let (weakest, rated) = weakest_part(input);
    let stop_pressure = line!(book, p_stop: OilPressure = min(k * p_great, p_rated); k = STOP_PRESSURE_FACTOR, p_great = greatest, p_rated = rated; STOP);
    let limited = rated < greatest * STOP_PRESSURE_FACTOR;
    PointPressure {
        point: load.point.clone(),
        rams: load.rams,
        pressure: Range::new(least, expected, greatest),
        stop_pressure,
        stop_pressure_limited_by: limited.then_some(weakest),
        lines: lines.0,
    }
}

/// The part with the least rated pressure; the ram where parts are equal.
fn weakest_part(input: &CircuitInput) -> (Part, OilPressure) {
    let hose = input.hose.as_ref().map(|hose| (Part::Hose, hose.rated_pressure));
    [Some((Part::Pump, input.pump.rated_pressure)), hose]
        .into_iter()
        .flatten()
        .fold((Part::Ram, input.ram.rated_pressure), |least, part| if part.1 < least.1 { part } else { least })
}

/// The greatest pressure at any ram, and the first point that has it; none without points.
pub(super) fn governing(points: &[PointPressure]) -> Option<&PointPressure> {
    points.iter().reduce(|most, point| {
        // A total order, so that a pressure that is no number is not passed over.
        if most.pressure.greatest.pa().total_cmp(&point.pressure.greatest.pa()).is_lt() { point } else { most }
    })
}

/// The points by expected pressure, lowest first; equal ones in the order given.
pub(super) fn lift_order(points: &[PointPressure]) -> Vec<String> {
    let mut order: Vec<_> = points.iter().collect();
    // To whole pascals: pressures that differ by rounding only keep the order of the points.
    order.sort_by(|a, b| a.pressure.expected.pa().round().total_cmp(&b.pressure.expected.pa().round()));
    order.into_iter().map(|point| point.point.clone()).collect()
}

/// Which point rises first on one open manifold, and what valves must take; none where pressures are equal.
///
/// # Source
/// Definition, at the expected shares.
///
/// # Validity
/// One model of ram; equal ones are those within 5 % of the lowest (common practice, no source).
pub(super) fn unequal_pressures(points: &[PointPressure]) -> Option<UnequalPressures> {
    if !unequal(points) {
        return None;
    }
    let order = lift_order(points);
    let of = |id: &String| points.iter().find(|point| point.point == *id);
    let (first, heaviest) = (of(order.first()?)?, of(order.last()?)?);
    let lacking = |point: &PointPressure| heaviest.pressure.expected - point.pressure.expected;
    let lighter = points.iter().filter(|point| OilPressure::ZERO < lacking(point));
    Some(UnequalPressures {
        first: first.point.clone(),
        heaviest: heaviest.point.clone(),
        difference: lacking(first),
        throttles: lighter.map(|point| Throttle { point: point.point.clone(), pressure: lacking(point) }).collect(),
    })
}

/// Cautions about pressures: unequal ones, and stop pressures held down by a rating.
pub(super) fn cautions(points: &[PointPressure]) -> Vec<Caution> {
    let mut cautions = Vec::new();
    if unequal(points) {
        cautions.push(Caution::new(
            "unequal_pressures",
            "Unequal pressures on one open manifold lift unevenly, lightest first; lower heaviest first. Give each point a valve of its own. While fewer rams move, more oil flows through their hoses and more pressure is lost there than computed.",
        ));
    }
    for part in [Part::Ram, Part::Pump, Part::Hose] {
        let names: Vec<_> = points
            .iter()
            .filter(|point| point.stop_pressure_limited_by == Some(part))
            .map(|point| point.point.as_str())
            .collect();
        if !names.is_empty() {
            cautions.push(Caution::new(
                "stop_pressure_limited",
                format!(
                    "At {} the stop pressure is the rated pressure of the {}: 1.10 x the greatest expected pressure would exceed it.",
                    names.join(", "),
                    part.name()
                ),
            ));
        }
    }
    cautions
}

fn unequal(points: &[PointPressure]) -> bool {
    let expected = || points.iter().map(|point| point.pressure.expected);
    match (expected().reduce(OilPressure::min), expected().reduce(OilPressure::max)) {
        (Some(lowest), Some(highest)) => lowest * (1.0 + UNEQUAL) < highest,
        _ => false,
    }
}
