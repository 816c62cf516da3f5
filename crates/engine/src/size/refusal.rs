//! What was refused, and how near it came.

use super::option::CheckSummary;
use crate::Text;
use crate::check::CheckId;
use crate::ram::Ram;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The candidate that came nearest to passing a check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NearestMiss {
    /// The model.
    pub ram: String,
    /// Rams side by side at each point.
    pub rams_per_point: u32,
    /// The point where it fails.
    pub subject: String,
    /// Demand / limit, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub utilisation: Option<f64>,
    /// What would make it pass this check.
    pub would_pass: Text,
}

/// How many candidates one check refused first, and the nearest of them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Refusal {
    /// The first check that they fail.
    pub check: CheckId,
    /// How many candidates.
    pub candidates: u32,
    /// The nearest of them.
    pub nearest: NearestMiss,
}

/// Collects refusals by check, in the order in which checks refuse.
#[derive(Default)]
pub(super) struct Refusals(Vec<Refusal>);

/// The order in which candidates are refused: what needs the packing-lift sequence comes last.
const ORDER: [CheckId; 11] = [
    CheckId::Capacity,
    CheckId::ClosedHeight,
    CheckId::Footprint,
    CheckId::Stock,
    CheckId::SideLoad,
    CheckId::JackingPointLimit,
    CheckId::FoundationLimit,
    CheckId::Action,
    CheckId::Stroke,
    CheckId::Stability,
    CheckId::Holding,
];

impl Refusals {
    pub(super) fn add(&mut self, ram: &Ram, count: u32, check: &CheckSummary, reason: Option<String>) {
        let miss = NearestMiss {
            ram: ram.id.clone(),
            rams_per_point: count,
            subject: check.subject.clone(),
            utilisation: check.utilisation,
            would_pass: would_pass(check, reason),
        };
        match self.0.iter_mut().find(|refusal| refusal.check == check.id) {
            Some(refusal) => {
                refusal.candidates += 1;
                if nearer(&miss, &refusal.nearest) {
                    refusal.nearest = miss;
                }
            }
            None => self.0.push(Refusal { check: check.id, candidates: 1, nearest: miss }),
        }
    }

    pub(super) fn into_sorted(mut self) -> Vec<Refusal> {
        let place = |id: CheckId| ORDER.iter().position(|known| *known == id).unwrap_or(ORDER.len());
        self.0.sort_by_key(|refusal| place(refusal.check));
        self.0
    }
}

/// Nearer by more than rounding, so that of equals the first stays; without a utilisation there is no nearer.
fn nearer(miss: &NearestMiss, so_far: &NearestMiss) -> bool {
    match (miss.utilisation, so_far.utilisation) {
        (Some(new), Some(old)) => new < old - 1e-9 * old.max(1.0),
        (Some(_), None) => true,
        _ => false,
    }
}

fn would_pass(check: &CheckSummary, reason: Option<String>) -> Text {
    let over = |what: &str| match check.utilisation {
        Some(utilisation) if utilisation < 1e6 => format!("{:.1} % {what}", (utilisation - 1.0) * 100.0),
        _ => format!("more than can be said {what}"),
    };
    Text::from(match check.id {
        CheckId::Capacity => over("more capacity, more rams at the point, or as much less share"),
        CheckId::ClosedHeight => over("more clearance, or a lower ram"),
        CheckId::Stroke => reason.unwrap_or_else(|| over("more stroke, or packing lifts")),
        CheckId::Footprint => over("more pad"),
        CheckId::Stock => over("more rams in stock"),
        CheckId::Stability => {
            over("more elastic critical load: less extension, a stiffer base, or a head that is held")
        }
        CheckId::SideLoad => over("more side load limit, or guides that take the horizontal force"),
        CheckId::JackingPointLimit => over("more limit of the jacking point"),
        CheckId::FoundationLimit => over("more limit of the foundation"),
        _ => reason.unwrap_or_else(|| "a ram of another kind".into()),
    })
}
