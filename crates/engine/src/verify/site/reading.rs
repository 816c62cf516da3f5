//! One value that was read against what the sequence expects of it.

use super::{Placed, Quantity, SiteGauge, at_point, full_scale, phase_of};
use crate::check::{Check, Finding, Lines, Source, Status, UTILISATION_TOLERANCE};
use crate::defaults::{SITE_GAUGE_EXPLAINS, SITE_GAUGE_EXPLAINS_OF_RATED};
use crate::line;
use crate::packing_lift::StepPressure;
use crate::settings::Settings;
use ramwright_units::{Length, LengthRange, OilPressure, Typed};

/// The source of a gauge's error.
pub(super) const CLASS: Source = Source::definition("the error of a gauge is its class times its full scale");

/// A check for every value of a reading.
pub(super) fn checks(read: &Placed<'_>, settings: &Settings, gauge: &SiteGauge) -> Vec<Check> {
    let place = at_point(&read.reading.point, phase_of(read.at));
    let mut checks = Vec::new();
    if let Some(value) = read.reading.pressure {
        let mut book = Lines::default();
        let finding = pressure(&mut book, read, value, gauge);
        checks.push(Check::new(&place, finding, book));
    }
    if let Some(value) = read.reading.extension {
        let mut book = Lines::default();
        let finding = extension(&mut book, read, value, settings);
        checks.push(Check::new(&place, finding, book));
    }
    if let Some(value) = read.reading.level {
        let mut book = Lines::default();
        let finding = level(&mut book, read, value, settings);
        checks.push(Check::new(&place, finding, book));
    }
    checks
}

/// What a finding says of a value.
struct Said<'a> {
    step: u32,
    quantity: Quantity,
    /// If it is out of what is allowed.
    fails: &'a str,
    /// Whether it is out of what is expected, and allowed by the error of the gauge alone.
    by_gauge: Option<ByGauge>,
}

/// What the error of a gauge may explain.
#[derive(Clone, Copy)]
pub(super) enum ByGauge {
    /// So little that a person can look at it.
    Little,
    /// So much that the reading tells nothing.
    TooMuch,
}

impl ByGauge {
    /// How far a value may be out of its expected range: by [`SITE_GAUGE_EXPLAINS`] of it.
    pub(super) fn of<T: Typed>(value: T, least: T, greatest: T) -> Self {
        let near = least.si() * (1.0 - SITE_GAUGE_EXPLAINS)..=greatest.si() * (1.0 + SITE_GAUGE_EXPLAINS);
        if near.contains(&value.si()) { Self::Little } else { Self::TooMuch }
    }
}

impl Said<'_> {
    fn of(self, finding: Finding) -> Finding {
        let place = format!("step {}, {}", self.step, self.quantity.words());
        match (finding.status(), self.by_gauge) {
            (Status::Fail, _) => finding.with_note(format!("{place}: {}", self.fails)),
            (_, Some(ByGauge::Little)) => finding.with_caution(format!("{place}: {BY_THE_GAUGE}")),
            (_, Some(ByGauge::TooMuch)) => Finding::missing([format!("{place}: {COARSE}")]),
            (_, None) => finding.with_note(format!("{place}: within its limits")),
        }
    }
}

/// Whether a value lies under another by more than the rounding of units.
pub(super) fn lies_under<T: Typed>(value: T, expected: T) -> bool {
    value.si() < expected.si() * (1.0 - UTILISATION_TOLERANCE)
}

const BY_THE_GAUGE: &str =
    "outside of what is expected, by no more than the error of the gauge; read it again with another gauge";

/// What is missing where only so great an error explains a reading.
pub(super) const COARSE: &str = "far outside of what is expected, and the gauge is too coarse to tell; stop, and read it again with a finer one (site_gauge)";

/// Oil pressure of the rams at a point.
///
/// Too much says that the load is heavier than stated or its centre elsewhere; too little, that another point carries what this
/// one does not.
pub(super) fn pressure(book: &mut Lines, read: &Placed<'_>, value: OilPressure, gauge: &SiteGauge) -> Finding {
    let error = line!(book, e: OilPressure = S * c; S = full_scale(gauge, read.ram), c = gauge.class; CLASS);
    let said = |fails, by_gauge: Option<ByGauge>| Said {
        step: read.step.number,
        quantity: Quantity::Pressure,
        fails,
        by_gauge,
    };
    let Some(StepPressure { expected, stop, .. }) = read.at.pressures.iter().find(|on| on.point == read.reading.point)
    else {
        let fails = "the rams carry where something else is to hold the load; stop, and find out what it stands on";
        let nothing = read.ram.rated_pressure * SITE_GAUGE_EXPLAINS_OF_RATED;
        let by_gauge = if value <= nothing { ByGauge::Little } else { ByGauge::TooMuch };
        return said(fails, (OilPressure::ZERO < value).then_some(by_gauge)).of(Finding::compare(value, error));
    };
    let explained = |outside: bool| outside.then(|| ByGauge::of(value, expected.least, expected.greatest));
    if lies_under(value, expected.expected) {
        let limit = line!(book, p_low: OilPressure = p_least - e; p_least = expected.least, e = error; Source::definition("least pressure expected, less the error of the gauge"));
        let fails = "under all that is expected: other points carry more than they should; stop, and do not go on before it is known why";
        let outside = Finding::compare(expected.least, value).status() == Status::Fail;
        return said(fails, explained(outside)).of(Finding::compare(limit, value));
    }
    let limit = line!(book, p_max: OilPressure = min(p_great + e, p_stop); p_great = expected.greatest, e = error, p_stop = *stop; Source::common_practice("greatest pressure expected, with the error of the gauge, and never above the stop pressure (common practice, no source)"));
    let fails = if Finding::compare(value, *stop).status() == Status::Fail {
        "above the stop pressure: the load is heavier, is caught, or has its centre of gravity elsewhere; stop, and do not go on before it is known why"
    } else {
        "above all that is expected: the load is heavier, or its centre of gravity is not where it was taken; stop, and do not go on before it is known why"
    };
    let outside = Finding::compare(value, expected.greatest).status() == Status::Fail;
    said(fails, explained(outside)).of(Finding::compare(value, limit))
}

/// Extension of the rams at a point, which never takes more of the stroke than may be used.
pub(super) fn extension(book: &mut Lines, read: &Placed<'_>, value: Length, settings: &Settings) -> Finding {
    let LengthRange { least, expected, greatest } = read.at.extension;
    let said = |fails| Said { step: read.step.number, quantity: Quantity::Extension, fails, by_gauge: None };
    let tolerance = settings.level_tolerance;
    if lies_under(value, expected) {
        let limit = line!(book, x_low: Length = x_least - t; x_least = least, t = tolerance; Source::definition("least extension expected, less the level tolerance of the settings"));
        return said("the ram is not as far out as it should be; stop, and level the load")
            .of(Finding::compare(limit, value));
    }
    let usable = settings.stroke_limit.usable(read.ram.stroke).max(greatest);
    let limit = line!(book, x_max: Length = min(x_great + t, s_use); x_great = greatest, t = tolerance, s_use = usable; Source::definition("greatest extension expected, with the level tolerance of the settings, and never beyond the usable stroke"));
    said("the ram is farther out than it should be; stop, and level the load").of(Finding::compare(value, limit))
}

/// Height of the load's underside at a point.
pub(super) fn level(book: &mut Lines, read: &Placed<'_>, value: Length, settings: &Settings) -> Finding {
    let LengthRange { least, expected, greatest } = read.at.soffit;
    let said = |fails| Said { step: read.step.number, quantity: Quantity::Level, fails, by_gauge: None };
    let tolerance = settings.level_tolerance;
    if lies_under(value, expected) {
        let limit = line!(book, h_low: Length = h_least - t; h_least = least, t = tolerance; Source::definition("least height expected, less the level tolerance of the settings"));
        return said("the load hangs lower here than planned; stop, and level it").of(Finding::compare(limit, value));
    }
    let limit = line!(book, h_max: Length = h_great + t; h_great = greatest, t = tolerance; Source::definition("greatest height expected, with the level tolerance of the settings"));
    said("the load stands higher here than planned; stop, and level it").of(Finding::compare(value, limit))
}
