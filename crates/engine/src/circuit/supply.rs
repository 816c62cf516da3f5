//! Oil: what a raise takes from the pumps, and what comes back.

use super::input::CircuitInput;
use super::kernel::compression::compression_m3;
use super::model::OilBudget;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Source};
use crate::defaults::BULK_MODULUS_FOR_VOLUMES;
use crate::line;
use crate::load::Task;
use crate::ram::Action;
use crate::remark::Caution;
use crate::text::Text;
use ramwright_units::{Area, HoseLength, OilPressure, OilVolume, VolumePerLength};
use std::f64::consts::PI;

/// Above this share of the usable oil a pass is only a caution. Common practice, no source.
const OIL_OF_PRACTICE: f64 = 0.90;

const OIL: Source = Source::definition("oil = number of rams x effective area x extension");
const OIL_OF_A_PULL: Source = Source::definition(
    "out on the full bore before the pull, or the annulus over the whole way if that is more; what the annulus gives back meanwhile is not counted",
);
const IN_HOSES: Source = Source::definition("oil in the runs to the rams: pi d^2 / 4 x length, one run to each ram");
const COMPRESSION: Source = Source::definition(
    "oil that is needed because oil gives way: V (exp(p / K) - 1), the bulk modulus K taken as constant; K is 1.4 GPa where none is stated, the soft end of what is found for mineral oil (from memory)",
);
const SWELLING: Source = Source::stated(
    "swelling of the hoses at their rated pressure as the catalogue states it, in proportion to the pressure",
);
const SUM: Source = Source::definition("rams, compression and swelling together");
const USABLE: Source = Source::stated("usable oil of one pump as the catalogue states it; the pumps feed one manifold");
const RETURN: Source = Source::definition(
    "oil that flows back when the rams retract: what they took in, less what the other side of double-acting rams takes in",
);
const RESERVOIR: Source =
    Source::stated("content of the reservoir of one pump as the catalogue states it; the pumps feed one manifold");

const NOT_INCLUDED: &str = "Not included: oil to fill empty hoses and rams";
const NO_SWELLING: &str = ", and swelling of the hoses, which the catalogue does not state";
const LITTLE_LEFT: &str =
    "More than 0.90 of the usable oil is needed, and this does not include oil to fill empty hoses and rams.";
const FILL_RETRACTED: &str = "Filled up while the rams are out, the reservoir overflows when they retract: fill it only with the rams retracted.";

/// Oil that all rams take in the greatest raise, what may be drawn, and what comes back.
#[derive(Debug)]
pub(super) struct Supply {
    /// Where it goes.
    pub(super) budget: OilBudget,
    /// Oil that may be drawn.
    pub(super) usable: OilVolume,
    /// The one against the other, and what comes back against the reservoir.
    pub(super) checks: [Check; 2],
}

/// Oil of the greatest raise against the usable oil of all pumps, and what comes back against their reservoirs.
///
/// # Source
/// Definition; usable oil and reservoir as the catalogue states them.
///
/// # Validity
/// All pumps feed one manifold. Hoses and rams are full of oil without air; swelling is included where the hose states
/// it. A pass above 0.90 is a caution (common practice, no source). The oil goes out once in a raise and comes back when
/// the rams retract, so that a sequence needs no more than its greatest raise.
pub(super) fn oil(input: &CircuitInput, pressure: OilPressure) -> Supply {
    let mut lines = Lines::default();
    let book = &mut lines;
    let rams = in_rams(book, input);
    let hoses = in_hoses(book, input);
    let modulus = input.oil.bulk_modulus.unwrap_or(BULK_MODULUS_FOR_VOLUMES);
    let compression = line!(book, V_c: OilVolume = compression(V + V_h, p, K); V = rams, V_h = hoses, p = pressure, K = modulus; COMPRESSION);
    let swelling = swelling(book, input, pressure);
    let needed = line!(book, V_n: OilVolume = V + V_c + V_s; V = rams, V_c = compression, V_s = swelling.unwrap_or(OilVolume::ZERO); SUM);
    let usable =
        line!(book, V_use: OilVolume = n_p * V_p; n_p = f64::from(input.pumps), V_p = input.pump.usable_oil; USABLE);
    let not_included: Text = match swelling {
        Some(_) => format!("{NOT_INCLUDED}."),
        None => format!("{NOT_INCLUDED}{NO_SWELLING}."),
    }
    .into();
    let finding = if input.points.is_empty() {
        Finding::missing(["circuit/points"])
    } else {
        let compared = Finding::compare(needed, usable)
            .with_remedy(|| format!("{:.1} L of usable oil", (needed.l() * 10.0).ceil() / 10.0));
        let little_left = compared.utilisation().is_some_and(|utilisation| OIL_OF_PRACTICE < utilisation);
        if little_left { compared.with_caution(LITTLE_LEFT) } else { compared }
    };
    let place = Place { id: CheckId::OilVolume, subject: "set", scenario: Scenario::AsPlanned, phase: Phase::Raising };
    let mut check = Check::new(&place, finding, lines);
    check.note.get_or_insert(not_included.clone());
    let (returns, back) = oil_return(input, needed, usable);
    let budget = OilBudget { rams, compression, swelling, needed, returns, not_included };
    Supply { budget, usable, checks: [check, back] }
}

/// Oil that all rams take in; one that pulls goes out on its full bore before, and may need more for that than for the pull.
fn in_rams(book: &mut Lines, input: &CircuitInput) -> OilVolume {
    match input.task {
        Task::Raise | Task::Press => {
            line!(book, V: OilVolume = n * A * s; n = input.rams(), A = input.area(), s = input.extension; OIL)
        }
        Task::Pull => {
            line!(book, V: OilVolume = max(n * A_f * a, n * A * s); n = input.rams(), A_f = input.approach_area(), a = input.approach, A = input.area(), s = input.extension; OIL_OF_A_PULL)
        }
    }
}

/// Oil in the runs to all rams; none where no hose is stated.
fn in_hoses(book: &mut Lines, input: &CircuitInput) -> OilVolume {
    input.hose.as_ref().map_or(OilVolume::ZERO, |hose| {
        line!(book, V_h: OilVolume = n * (pi / 4.0) * d * d * (n_h * l); n = input.rams(), pi = PI, d = hose.bore, n_h = f64::from(input.hose_count_in_series), l = hose.length; IN_HOSES)
    })
}

fn swelling(book: &mut Lines, input: &CircuitInput, pressure: OilPressure) -> Option<OilVolume> {
    let hose = input.hose.as_ref()?;
    let swelling: VolumePerLength = hose.swelling?;
    let length: HoseLength = hose.length;
    Some(
        line!(book, V_s: OilVolume = w * l * (n * n_h) * (p / p_h); w = swelling, l = length, n = input.rams(), n_h = f64::from(input.hose_count_in_series), p = pressure, p_h = hose.rated_pressure; SWELLING),
    )
}

fn compression(volume: OilVolume, pressure: OilPressure, modulus: OilPressure) -> OilVolume {
    OilVolume::from_m3(compression_m3(volume.m3(), pressure.pa(), modulus.pa()))
}

/// What flows back, and whether the reservoirs hold it.
///
/// # Source
/// Definition; the reservoir as the catalogue states it.
///
/// # Validity
/// A double-acting ram whose annulus is not known counts as taking nothing in.
fn oil_return(input: &CircuitInput, needed: OilVolume, usable: OilVolume) -> (OilVolume, Check) {
    let mut lines = Lines::default();
    let book = &mut lines;
    let refilled = match (input.ram.action, input.ram.annulus_area) {
        (Action::DoubleActing, Some(annulus)) => input.ram.effective_area.min(annulus),
        _ => Area::ZERO,
    };
    // A ram that pulls goes back no farther than it went out.
    let way = if input.task == Task::Pull { input.approach } else { input.extension };
    let returns = line!(book, V_r: OilVolume = max(V_n - n * A_t * s, V_0); V_n = needed, n = input.rams(), A_t = refilled, s = way, V_0 = OilVolume::ZERO; RETURN);
    let finding = match input.pump.reservoir {
        None => Finding::missing(["pump/reservoir"]),
        Some(reservoir) => {
            let holds =
                line!(book, V_t: OilVolume = n_p * V_p; n_p = f64::from(input.pumps), V_p = reservoir; RESERVOIR);
            let compared = Finding::compare(returns, holds)
                .with_remedy(|| format!("reservoirs of {:.1} L", (returns.l() * 10.0).ceil() / 10.0));
            if holds < usable + returns { compared.with_caution(FILL_RETRACTED) } else { compared }
        }
    };
    let place = Place { id: CheckId::OilReturn, subject: "set", scenario: Scenario::AsPlanned, phase: Phase::Lowering };
    (returns, Check::new(&place, finding, lines))
}

/// A caution where the pumps have too few outlets for one hose run to each ram.
pub(super) fn outlets(input: &CircuitInput) -> Option<Caution> {
    let outlets = f64::from(input.pumps) * f64::from(input.pump.outlets?);
    (outlets < input.rams()).then(|| {
        Caution::new(
            "outlets",
            "The pumps have fewer outlets than there are rams: a manifold is needed, with a valve for each ram. What it and the line from it to the pump lose is in no time and no pressure here.",
        )
    })
}
