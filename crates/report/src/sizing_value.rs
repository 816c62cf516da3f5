//! One value of the ram set that a search recommends, as plain text for a cell.

use crate::cell::{number, word};
use crate::cell_value::{CellValue, NONE, Told, UNKNOWN, guesses, rounded_up, spoken};
use ramwright_engine::check::{CheckId, Status};
use ramwright_engine::remark::Caution;
use ramwright_engine::size::{Refusal, Sizing};
use ramwright_engine::verify::Verdict;
use ramwright_units::{PieceMass, Quantity, Time};

/// Which value.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum SizingValue {
    /// The whole in one sentence.
    Answer,
    /// The model; several are joined by `+`.
    Ram,
    /// Rams in all.
    Rams,
    /// Rams side by side at each point.
    RamsPerPoint,
    /// Greatest utilisation, in three decimals, rounded up.
    Utilisation,
    /// One word over all checks.
    Verdict,
    /// Number of packing lifts.
    PackingLifts,
    /// Mass of all rams.
    Mass,
    /// Hire of all rams for the hire period.
    Hire,
    /// Hire of rams, pumps and hoses.
    Cost,
    /// The pumps and hoses that were chosen.
    Circuit,
    /// Time at the lift.
    Time,
    /// Why this set is recommended.
    Reason,
    /// The check that decides.
    GoverningCheck,
    /// The address that computes the search again.
    Permalink,
}

impl CellValue for SizingValue {
    type Result = Sizing;
    const ALL: &'static [Self] = &[
        Self::Answer,
        Self::Ram,
        Self::Rams,
        Self::RamsPerPoint,
        Self::Utilisation,
        Self::Verdict,
        Self::PackingLifts,
        Self::Mass,
        Self::Hire,
        Self::Cost,
        Self::Circuit,
        Self::Time,
        Self::Reason,
        Self::GoverningCheck,
        Self::Permalink,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Answer => "answer",
            Self::Ram => "ram",
            Self::Rams => "rams",
            Self::RamsPerPoint => "rams_per_point",
            Self::Utilisation => "utilisation",
            Self::Verdict => "verdict",
            Self::PackingLifts => "packing_lifts",
            Self::Mass => "mass",
            Self::Hire => "hire",
            Self::Cost => "cost",
            Self::Circuit => "circuit",
            Self::Time => "time",
            Self::Reason => "reason",
            Self::GoverningCheck => "governing_check",
            Self::Permalink => "permalink",
        }
    }

    /// `none` if no set is recommended, `unknown` if the set recommended has none; the sentence says which of its shares are
    /// guesses.
    fn text(self, told: &Told<'_, Sizing>) -> String {
        let (sizing, units) = (told.result, told.units);
        match self {
            Self::Permalink => return told.permalink(),
            Self::Verdict => return word(&verdict(sizing)),
            Self::Answer => return answer(sizing, told.cautions),
            _ => {}
        }
        let Some(set) = Set::recommended(sizing) else { return NONE.to_owned() };
        let known = match self {
            Self::Ram => Some(set.ram.clone()),
            Self::Rams => Some(set.rams.to_string()),
            Self::RamsPerPoint => set.rams_per_point.map(|count| count.to_string()),
            Self::Utilisation => Some(rounded_up(set.utilisation)),
            Self::PackingLifts => set.packing_lifts.map(|lifts| lifts.to_string()),
            Self::Mass => set.mass.map(|mass| number(Quantity::from(mass).value_in(units))),
            Self::Hire => set.hire.map(number),
            Self::Cost => set.cost.map(number),
            Self::Circuit => set.circuit.clone(),
            Self::Time => set.time.map(|time| number(Quantity::from(time).value_in(units))),
            Self::Reason => sizing.reason.as_ref().map(ToString::to_string),
            _ => {
                Some(set.verdict.governing.as_ref().map_or_else(|| NONE.to_owned(), |governing| word(&governing.check)))
            }
        };
        known.unwrap_or_else(|| UNKNOWN.to_owned())
    }
}

/// What is read of the ram set that is recommended; nothing else here looks into an option.
struct Set<'a> {
    ram: String,
    /// Number and model, such as `8 x A`.
    words: &'a str,
    rams: u32,
    rams_per_point: Option<u32>,
    packing_lifts: Option<u32>,
    mass: Option<PieceMass>,
    hire: Option<f64>,
    cost: Option<f64>,
    circuit: Option<String>,
    time: Option<Time>,
    utilisation: f64,
    verdict: &'a Verdict,
    /// Whether a load is raised, where something must hold it.
    raised: bool,
}

impl<'a> Set<'a> {
    fn recommended(sizing: &'a Sizing) -> Option<Self> {
        let option = sizing.options.iter().find(|option| option.recommended)?;
        Some(Self {
            ram: option.models.iter().map(|model| model.ram.as_str()).collect::<Vec<_>>().join(" + "),
            words: &option.set,
            rams: option.rams,
            rams_per_point: option.rams_per_point(),
            packing_lifts: option.packing_lifts,
            mass: option.mass,
            hire: option.hire.as_ref().map(|hire| hire.amount),
            cost: option.cost.as_ref().map(|cost| cost.amount),
            circuit: option
                .circuit
                .as_ref()
                .map(|circuit| format!("{} x {}, {} x {}", circuit.pumps, circuit.pump, circuit.hoses, circuit.hose)),
            time: option.time,
            utilisation: option.utilisation,
            verdict: &option.verdict,
            raised: option.checks.iter().any(|check| check.id == CheckId::Holding),
        })
    }
}

/// The verdict over the set that is recommended; where none is, it fails.
fn verdict(sizing: &Sizing) -> Status {
    Set::recommended(sizing).map_or(Status::Fail, |set| set.verdict.status)
}

fn answer(sizing: &Sizing, cautions: &[Caution]) -> String {
    let Some(set) = Set::recommended(sizing) else { return format!("{NONE}: {}", why_none(sizing)) };
    let points = sizing.load_shares.points.len();
    let mut parts = vec![
        set.words.to_owned(),
        match (points, set.rams_per_point) {
            (1, _) => "all at the one point".to_owned(),
            (_, Some(count)) => format!("{count} at each of {points} points"),
            (_, None) => format!("at {points} points"),
        },
    ];
    match set.packing_lifts {
        Some(1) => parts.push("1 packing lift".to_owned()),
        Some(lifts) => parts.push(format!("{lifts} packing lifts")),
        None if set.raised => parts.push("packing lifts unknown".to_owned()),
        None => {}
    }
    parts.push(format!("utilisation {}", rounded_up(set.utilisation)));
    if 1 < points {
        parts.extend(guesses(cautions));
    }
    let governing = set.verdict.governing.as_ref().filter(|_| set.verdict.status != Status::Pass);
    let by = governing.map(|governing| format!(" ({})", spoken(&word(&governing.check)))).unwrap_or_default();
    parts.push(format!("{}{by}", spoken(&word(&set.verdict.status))));
    parts.join(", ")
}

/// Why no set is recommended: the load itself fails, or every set was refused.
fn why_none(sizing: &Sizing) -> String {
    let best = sizing.options.first().and_then(|option| option.verdict.governing.as_ref());
    // What refuses most models says most; of equals the one that is asked first.
    let mostly = sizing.refusals.iter().reduce(|most, one| if most.models < one.models { one } else { most });
    match (best, mostly) {
        (Some(governing), _) => {
            format!("the load fails the check of {} whatever the rams are", spoken(&word(&governing.check)))
        }
        (None, Some(Refusal { check, models, nearest, .. })) => format!(
            "no ram set fits; {} refuses {models} of {} models; the nearest of them is {}, {} at each point: {}",
            spoken(&word(check)),
            sizing.models,
            nearest.ram,
            nearest.rams_per_point,
            nearest.would_pass
        ),
        (None, None) => "the catalogue has no rams".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{LoadShareValue, PackingValue, VerificationValue};

    fn names<V: CellValue>() -> Vec<&'static str> {
        let mut names: Vec<_> = V::ALL.iter().map(|value| value.name()).collect();
        names.sort_unstable();
        names
    }

    #[test]
    fn verify_names_are_unique_and_the_sentence_is_first() {
        for (names, first) in [
            (names::<SizingValue>(), SizingValue::ALL[0].name()),
            (names::<LoadShareValue>(), LoadShareValue::ALL[0].name()),
            (names::<VerificationValue>(), VerificationValue::ALL[0].name()),
            (names::<PackingValue>(), PackingValue::ALL[0].name()),
        ] {
            assert_eq!(first, "answer");
            let mut once = names.clone();
            once.dedup();
            assert_eq!(once, names);
        }
    }
}
