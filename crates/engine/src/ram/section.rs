//! Area and second moment of a plunger.

use ramwright_units::{Area, Length, SecondMoment};
use std::f64::consts::PI;

/// Area and second moment of a ring.
pub(crate) fn ring_section(outside: Length, inside: Length) -> (Area, SecondMoment) {
    let (outer, inner) = (outside.m(), inside.m());
    let area_m2 = PI / 4.0 * (outer * outer - inner * inner);
    let fourth = |x: f64| x * x * x * x;
    (Area::from_m2(area_m2), SecondMoment::from_m4(PI / 64.0 * (fourth(outer) - fourth(inner))))
}
