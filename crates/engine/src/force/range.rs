//! Ranges of inputs: held in order, and gone through from least to greatest.

use super::error::ForceError;
use crate::check::{Source, Standing};
use ramwright_units::{Range, Typed};

/// A value above zero and finite.
pub(super) fn positive<T: Typed>(value: T, what: &'static str) -> Result<T, ForceError> {
    let si = value.si();
    if 0.0 < si && si.is_finite() { Ok(value) } else { Err(ForceError::NotPositive { what }) }
}

/// Plain numbers that rise from above zero.
pub(super) fn rising(range: &Range<f64>, what: &'static str) -> Result<(), ForceError> {
    let Range { least, expected, greatest } = *range;
    if !(0.0 < least && greatest.is_finite()) {
        return Err(ForceError::NotPositive { what });
    }
    if least <= expected && expected <= greatest { Ok(()) } else { Err(ForceError::NotInOrder { what }) }
}

/// Quantities that rise from above zero.
pub(super) fn rising_si<T: Typed>(range: &Range<T>, what: &'static str) -> Result<(), ForceError> {
    rising(&Range::new(range.least.si(), range.expected.si(), range.greatest.si()), what)
}

/// The three cases of a range, in the order least, expected, greatest, each with its name.
pub(crate) fn ends<T: Copy>(range: &Range<T>) -> [(&'static str, T); 3] {
    [("least", range.least), ("expected", range.expected), ("greatest", range.greatest)]
}

/// A source that says at which end of a range a line stands.
pub(super) fn at(end: &'static str, text: &str, standing: Standing) -> Source {
    Source { text: format!("{end}: {text}").into(), standing }
}

/// The force, if it is a number above zero that the answer can carry.
pub(super) fn computable<T: Typed>(values: [T; 3]) -> Result<Range<T>, ForceError> {
    let [least, expected, greatest] = values;
    let sound = |value: T| 0.0 <= value.si() && value.si().is_finite();
    let in_order = least.si() <= expected.si() && expected.si() <= greatest.si();
    if sound(least) && sound(greatest) && in_order && 0.0 < expected.si() {
        Ok(Range::new(least, expected, greatest))
    } else {
        Err(ForceError::NotComputable)
    }
}
