//! Greatest sagging and hogging moment of a girder whose moments at the nodes are known.
//!
//! Between neighbouring nodes and places where a load stands, begins or ends the moment is a parabola, whose extreme is
//! known. In an element it is the line between its end moments and the moments of its loads in a simple span; beyond
//! the end supports it is that of a cantilever.

use super::beam::Model;
use super::polynomial;
use super::{BeamLoad, Girder, PlacedMoment};

/// The least (hogging) and the greatest (sagging) moment.
pub(super) fn extremes(girder: &Girder, model: &Model, moments: &[f64]) -> [PlacedMoment; 2] {
    let units = &model.units;
    let unit_nm = units.force_n * units.span_m;
    let (start, end) = (units.place(girder.from_m), units.place(girder.to_m));
    let breaks = breaks(girder, model, start, end);
    let mut found = [(0.0, start), (0.0, start)];
    for pair in breaks.windows(2) {
        let &[left, right] = pair else { continue };
        let middle = 0.5 * (left + right);
        // The element is chosen by the middle: at a node its neighbours agree.
        let span = span(model, moments, middle);
        let at = |place: f64| span.moment(girder, model, place) / unit_nm;
        let (a, m, b) = (at(left), at(middle), at(right));
        let parabola = [a, 4.0 * m - 3.0 * a - b, 2.0 * (a + b) - 4.0 * m];
        let [least, greatest] = polynomial::extremes(&parabola, 0.0, 1.0);
        let place = |t: f64| left + t * (right - left);
        if least.0 < found[0].0 {
            found[0] = (least.0, place(least.1));
        }
        if found[1].0 < greatest.0 {
            found[1] = (greatest.0, place(greatest.1));
        }
    }
    found
        .map(|(moment, place)| PlacedMoment { moment_nm: moment * unit_nm, at_m: units.first_m + place * units.span_m })
}

/// All places where the parabola may change, in order.
fn breaks(girder: &Girder, model: &Model, start: f64, end: f64) -> Vec<f64> {
    let mut list: Vec<f64> = model.places.clone();
    list.extend([start, end]);
    for load in &girder.loads {
        match *load {
            BeamLoad::Point { at_m, .. } => list.push(model.units.place(at_m)),
            BeamLoad::Uniform { from_m, to_m, .. } => list.extend([from_m, to_m].map(|p| model.units.place(p))),
        }
    }
    list.sort_by(f64::total_cmp);
    list
}

/// An element with its end moments, or a cantilever.
enum Span {
    Element { left: f64, right: f64, moments: [f64; 2] },
    Before,
    Beyond,
}

fn span(model: &Model, moments: &[f64], place: f64) -> Span {
    let after = model.places.partition_point(|p| *p < place);
    let pair = |list: &[f64]| match after.checked_sub(1).and_then(|from| list.get(from..=after)) {
        Some(&[left, right]) => Some([left, right]),
        _ => None,
    };
    match (pair(&model.places), pair(moments)) {
        (Some([left, right]), Some(moments)) => Span::Element { left, right, moments },
        _ if after == 0 => Span::Before,
        _ => Span::Beyond,
    }
}

impl Span {
    /// Moment at a scaled place, in N m.
    fn moment(&self, girder: &Girder, model: &Model, place: f64) -> f64 {
        let units = &model.units;
        let at_m = place * units.span_m;
        let part = |load: &BeamLoad| match *load {
            BeamLoad::Point { at_m, force_n } => (at_m - units.first_m, 0.0, force_n),
            BeamLoad::Uniform { from_m, to_m, force_per_m } => (from_m - units.first_m, to_m - from_m, force_per_m),
        };
        let loads = girder.loads.iter().map(part);
        match *self {
            Self::Element { left, right, moments } => {
                let own = (moments[0] * (right - place) + moments[1] * (place - left)) / (right - left);
                let (left, right) = (left * units.span_m, right * units.span_m);
                let simple: f64 = loads.map(|load| simple_span(load, left, right, at_m)).sum();
                own * units.force_n * units.span_m + simple
            }
            // The same load towards the free end only.
            Self::Before => -loads.map(|load| turning(load, f64::NEG_INFINITY, at_m, at_m)).sum::<f64>(),
            Self::Beyond => -loads.map(|load| turning(load, at_m, f64::INFINITY, at_m)).sum::<f64>(),
        }
    }
}

/// A load: begin, length (zero for a single force), force or force per length.
type Load = (f64, f64, f64);

/// The part of a load between two places: its centre and its force. A single force on an end counts as within.
fn within((from, length, intensity): Load, left: f64, right: f64) -> Option<(f64, f64)> {
    if length <= 0.0 {
        return (left <= from && from <= right).then_some((from, intensity));
    }
    let (a, b) = (from.max(left), (from + length).min(right));
    (a < b).then_some((0.5 * (a + b), (b - a) * intensity))
}

/// Moment of the part of a load between two places about a place, without sign of the side.
fn turning(load: Load, left: f64, right: f64, about: f64) -> f64 {
    within(load, left, right).map_or(0.0, |(centre, force)| force * (centre - about).abs())
}

/// Moment of a load in the simple span between two places.
fn simple_span(load: Load, left: f64, right: f64, at: f64) -> f64 {
    let length = right - left;
    let before = within(load, left, at).map_or(0.0, |(c, force)| force * (c - left) * (right - at) / length);
    // A single force at the very place must not count twice.
    let counted = load.1 <= 0.0 && left <= load.0 && load.0 <= at;
    let after = if counted { None } else { within(load, at, right) };
    before + after.map_or(0.0, |(c, force)| force * (right - c) * (at - left) / length)
}
