//! Where the points stand, from the distances of the outer ones.

use super::Given;
use crate::json::Node;
use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, Pointer, Read as _};
use crate::sent::{Sent, bound};
use ramwright_units::Measured;

/// The parameters that count only where points have positions.
pub(super) const OF_POSITIONS: [&str; 7] =
    ["at", "length", "width", "centre_x", "centre_y", "centre_z", "centre_tolerance"];

/// Positions of the points, in their order, and the middle of the outer ones.
pub(super) struct Layout {
    pub(super) points: Vec<(Node, Node)>,
    pub(super) middle: (Node, Node),
}

/// The positions, if distances are given; nothing too if they are at fault.
pub(super) fn layout(given: Given<'_>, points: Option<usize>, faults: &mut Vec<Fault>) -> Option<Layout> {
    let length = distance(given, "length", faults);
    let width = distance(given, "width", faults);
    if let Some(text) = given.text("at") {
        for name in ["length", "width"].into_iter().filter(|name| given.text(name).is_some()) {
            let detail = "`at` says where each point stands, so this is not used";
            faults.push(Fault::in_parameter(name, FaultCode::Inconsistent, detail).with_hint("leave it out"));
        }
        return listed(text, points?, faults);
    }
    if given.text("length").is_none() && given.text("width").is_none() {
        not_used(given, "without length and width, or at, the points have no positions, so this is not used", faults);
        return None;
    }
    let points = points?;
    let places = places(points, faults)?;
    let needs_width = 2 < points;
    for (name, needed) in [("length", true), ("width", needs_width)] {
        match given.text(name) {
            None if needed => faults.push(
                Fault::in_parameter(
                    name,
                    FaultCode::Inconsistent,
                    format!("{points} points need it for their positions"),
                )
                .with_hint("give it, or leave length and width out for equal shares"),
            ),
            Some(_) if !needed => faults.push(
                Fault::in_parameter(name, FaultCode::Inconsistent, "2 points stand on one line, so this is not used")
                    .with_hint("leave it out"),
            ),
            _ => {}
        }
    }
    let length = length?;
    // On one line every y is zero, in any unit.
    let width = if needs_width { width? } else { length };
    let at = |(x, y): (f64, f64)| (part(length, x), part(width, y));
    let middle = at((0.5, if needs_width { 0.5 } else { 0.0 }));
    Some(Layout { points: places.into_iter().map(at).collect(), middle })
}

/// The positions that a list gives, and the middle between the outermost.
fn listed(text: &str, points: usize, faults: &mut Vec<Fault>) -> Option<Layout> {
    let places: Vec<&str> = text.split(';').collect();
    if places.len() != points {
        let detail = format!("{} places are listed for {points} points", places.len());
        let hint = "write x and y of each point, such as 0 m/0 m;4.4 m/0 m for 2 points";
        faults.push(Fault::in_parameter("at", FaultCode::Inconsistent, detail).with_given(text).with_hint(hint));
        return None;
    }
    let mut read = |text: &str| coordinate("at", text, faults);
    let axes: Vec<Option<(Measured, Measured)>> = places
        .iter()
        .map(|place| {
            // Without a slash the second is empty, which is no quantity.
            let (x, y) = place.split_once('/').unwrap_or((place, ""));
            let (x, y) = (read(x.trim()), read(y.trim()));
            x.zip(y)
        })
        .collect();
    let axes: Vec<(Measured, Measured)> = axes.into_iter().collect::<Option<_>>()?;
    let node = |measured: Measured| super::tree::quantity(measured.value, measured.unit.symbol);
    let middle = |of: &dyn Fn(&(Measured, Measured)) -> f64| {
        let least = axes.iter().map(of).fold(f64::INFINITY, f64::min);
        let greatest = axes.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        super::tree::quantity(f64::midpoint(least, greatest), "m")
    };
    let middle = (middle(&|(x, _)| x.si()), middle(&|(_, y)| y.si()));
    Some(Layout { points: axes.iter().map(|(x, y)| (node(*x), node(*y))).collect(), middle })
}

/// Refuses what needs positions where there are none.
pub(super) fn not_used(given: Given<'_>, detail: &str, faults: &mut Vec<Fault>) {
    for name in OF_POSITIONS.into_iter().filter(|name| given.text(name).is_some()) {
        faults.push(Fault::in_parameter(name, FaultCode::Inconsistent, detail).with_hint("leave it out"));
    }
}

/// Where so many points stand, in parts of length and width, going round the load.
fn places(points: usize, faults: &mut Vec<Fault>) -> Option<Vec<(f64, f64)>> {
    match points {
        2 => Some(vec![(0.0, 0.0), (1.0, 0.0)]),
        3 => Some(vec![(0.0, 0.0), (1.0, 0.5), (0.0, 1.0)]),
        4.. if points.is_multiple_of(2) => {
            let row = points / 2;
            #[expect(clippy::cast_precision_loss, reason = "there are few points")]
            let along = |index: usize| index as f64 / (row - 1) as f64;
            let near = (0..row).map(|index| (along(index), 0.0));
            let far = (0..row).rev().map(|index| (along(index), 1.0));
            Some(near.chain(far).collect())
        }
        _ => {
            let detail = format!("length and width do not say where {points} points stand");
            let hint = "take 2, 3 or an even number, leave length and width out for equal shares, or send positions to POST /v1/ram-sets/size";
            faults.push(Fault::in_parameter("points", FaultCode::Inconsistent, detail).with_hint(hint));
            None
        }
    }
}

/// A distance that is above zero.
fn distance(given: Given<'_>, name: &str, faults: &mut Vec<Fault>) -> Option<Measured> {
    let text = given.text(name)?;
    let measured = coordinate(name, text, faults)?;
    if 0.0 < measured.value {
        return Some(measured);
    }
    let fault = Fault::in_parameter(name, FaultCode::OutOfRange, "a distance between points is above zero");
    faults.push(fault.with_given(text).with_limit(format!("0 {}", measured.unit.symbol)));
    None
}

/// A position on one axis.
fn coordinate(name: &str, text: &str, faults: &mut Vec<Fault>) -> Option<Measured> {
    let mut found = Faults::default();
    let read = Sent::<bound::Position>::read(&Node::Text(text.to_owned()), &Pointer::default(), &mut found);
    let faulty = found.into_vec().into_iter();
    faults.extend(faulty.map(|fault| Fault { pointer: None, parameter: Some(name.to_owned()), ..fault }));
    Some(read?.measured())
}

/// A part of a distance, in the sender's unit.
fn part(whole: Measured, share: f64) -> Node {
    super::tree::quantity(whole.value * share, whole.unit.symbol)
}
