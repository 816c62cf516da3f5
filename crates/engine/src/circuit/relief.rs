//! Where the relief valve may be set, and what warming does to oil that is shut in.

use super::input::CircuitInput;
use super::losses::Unknown;
use super::model::{PointPressure, ReliefWindow, ShutInOil};
use super::rating::Loaded;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Source};
use crate::defaults::{BULK_MODULUS, STOP_PRESSURE_FACTOR};
use crate::line;
use crate::ram::shut_in_gain;
use ramwright_units::OilPressure;

const LOWEST: Source = Source::common_practice(
    "1.10 x the greatest expected pressure (common practice, no source) + the losses: set lower, the valve opens before the crew stops",
);
const HIGHEST: Source = Source::stated("least rated pressure of pump, hose and ram, as the catalogue states them");
const ROUND: f64 = 5.0;
const EXPANSION: Source = Source::from_memory(
    "thermal expansion of oil in an unrestrained steel vessel; 7e-4 and 12e-6 per K from memory; K is 2.0 GPa where none is stated, the stiff end of what is found for mineral oil (from memory)",
);
const TO_RATING: Source =
    Source::definition("rise at which the pressure gained fills what is left below the least rated pressure");

const NARROW: &str = "The stop pressure with the losses is above the least rating: set the relief valve to that rating, and it opens before the stop pressure is reached.";

/// The window for the relief valve of the pumps, and whether there is one.
///
/// # Source
/// Definition; the stop pressure is common practice, no source.
///
/// # Validity
/// One relief valve for each pump, before the hoses. Where only the stop pressure does not fit under the least rating
/// the check is a caution; where the pressure of the lift does not, it fails.
pub(super) fn relief(
    input: &CircuitInput,
    governing: Option<&PointPressure>,
    loaded: Option<&Result<Loaded, Unknown>>,
) -> (Option<ReliefWindow>, Check) {
    let place =
        Place { id: CheckId::ReliefSetting, subject: "set", scenario: Scenario::AsPlanned, phase: Phase::Raising };
    let (Some(governing), Some(loaded)) = (governing, loaded) else {
        return (None, Check::new(&place, Finding::missing(["circuit/points"]), Lines::default()));
    };
    let loaded = match loaded {
        Ok(loaded) => loaded,
        Err(unknown) => {
            return (None, Check::new(&place, Finding::missing([unknown.missing.clone()]), Lines::default()));
        }
    };
    let mut lines = Lines::default();
    let book = &mut lines;
    let losses = loaded.pressure - governing.pressure.greatest;
    let from = line!(book, p_low: OilPressure = k * p_great + dp; k = STOP_PRESSURE_FACTOR, p_great = governing.pressure.greatest, dp = losses; LOWEST);
    let hose = input.hose.as_ref().map_or(input.ram.rated_pressure, |hose| hose.rated_pressure);
    let to = line!(book, p_high: OilPressure = min(p_r, min(p_p, p_h)); p_r = input.ram.rated_pressure, p_p = input.pump.rated_pressure, p_h = hose; HIGHEST);
    let lift = line!(book, p_pump: OilPressure = p_great + dp; p_great = governing.pressure.greatest, dp = losses; Source::definition("greatest pressure at the pump, with the losses"));
    let compared = Finding::compare(lift, to);
    let fits = from <= to;
    let finding = if fits { compared } else { compared.with_caution(NARROW) };
    let window = fits.then(|| ReliefWindow { from, to, recommended: rounded_up(from).min(to) });
    (window, Check::new(&place, finding, lines))
}

fn rounded_up(pressure: OilPressure) -> OilPressure {
    OilPressure::from_bar((pressure.bar() / ROUND).ceil() * ROUND)
}

/// What warming does to oil that is shut in at the greatest pressure of the rams.
///
/// # Source
/// Thermal expansion, as for the check of warm oil; the constants are from memory.
///
/// # Validity
/// The vessel does not give way otherwise: hoses that swell, or a load that rises, gain less.
pub(super) fn shut_in(input: &CircuitInput, governing: Option<&PointPressure>) -> ShutInOil {
    let mut lines = Lines::default();
    let book = &mut lines;
    let modulus = input.oil.bulk_modulus.unwrap_or(BULK_MODULUS);
    let gain = shut_in_gain(book, modulus, 10.0, EXPANSION);
    let pressure = governing.map_or(OilPressure::ZERO, |governing| governing.pressure.greatest);
    let rise = line!(book, dT_r: f64 = 10.0 * (max(p_r - p, p_0) / dp); p_r = input.least_rating(), p = pressure, p_0 = OilPressure::ZERO, dp = gain; TO_RATING);
    ShutInOil { gain_per_10_k: gain, rise_to_rating_k: rise, lines: lines.0 }
}
