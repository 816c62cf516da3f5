//! What may explain that a saved answer is not what its request gives now.

use super::Stamp;
use super::compare::Found;
use super::digests::{DigestCheck, DigestStatus};
use super::saved::Saved;
use crate::catalogue::{Catalogues, DEFAULT_CATALOGUE};
use crate::json::Node;
use ramwright_engine::{Text, defaults};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A fixed name of a reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = ReplayReasonCode)]
pub enum ReasonCode {
    /// Another version of the engine computed what was saved, or none is stated.
    OtherEngineVersion,
    /// It was computed with another profile of default values, or none is stated.
    OtherDefaults,
    /// It was computed with a catalogue of another name or with other contents.
    OtherCatalogue,
    /// The catalogue that the request names is not on this service.
    CatalogueNotHere,
    /// The request, or its digest, was changed after the answer was saved.
    EditedRequest,
    /// The result, or its digest, was changed after the answer was saved.
    EditedResult,
    /// Verdict, assumptions or cautions were changed after the answer was saved.
    EditedAnswer,
    /// The saved answer says of itself what the new one does, and yet the result is another.
    NotExplained,
}

/// What may explain a difference.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = ReplayReason)]
pub struct Reason {
    /// A fixed name to branch on. More may appear.
    pub code: ReasonCode,
    /// The reason in words.
    pub text: Text,
}

impl Reason {
    fn new(code: ReasonCode, text: impl Into<Text>) -> Self {
        Self { code, text: text.into() }
    }
}

/// The reasons for what was found.
pub(super) fn of_differences(
    saved: &Stamp,
    now: &Stamp,
    found: &Found,
    [request, result]: [&DigestCheck; 2],
) -> Vec<Reason> {
    let mut why = versions(saved);
    if saved.catalogue != now.catalogue {
        why.push(other_catalogue(saved, now));
    }
    why.extend(edits(request, result));
    let as_computed =
        why.is_empty() && request.status == DigestStatus::Holds && saved.result_digest == now.result_digest;
    if as_computed && ["verdict", "assumptions", "cautions"].iter().any(|field| found.touches(field)) {
        let text = "this version gives another verdict, other assumptions or other cautions with this very result: they were changed after the answer was saved";
        why.push(Reason::new(ReasonCode::EditedAnswer, text));
    }
    if why.is_empty() && (found.touches("result") || found.touches("result_digest") || found.touches("verdict")) {
        let text = "nothing in the saved answer says why: it names this version, these defaults and this catalogue; it was changed in a way that leaves no trace, or computed by a build that has the same version and is another";
        why.push(Reason::new(ReasonCode::NotExplained, text));
    }
    why
}

/// The reasons that the request is refused now, beside its problem.
pub(super) fn of_refusal(
    saved: &Saved<'_>,
    catalogues: &Catalogues,
    [request, result]: [&DigestCheck; 2],
) -> Vec<Reason> {
    let mut why = versions(&saved.stamp);
    why.extend(catalogue_of_refused(saved, catalogues));
    why.extend(edits(request, result));
    why
}

fn versions(saved: &Stamp) -> Vec<Reason> {
    let pairs = [
        (ReasonCode::OtherEngineVersion, "engine version", &saved.engine_version, env!("CARGO_PKG_VERSION")),
        (ReasonCode::OtherDefaults, "defaults", &saved.defaults, defaults::PROFILE),
    ];
    let differing = pairs.into_iter().filter(|(_, _, saved, now)| saved.as_deref() != Some(*now));
    let reason = |(code, what, saved, now): (_, _, &Option<String>, _)| {
        let saved = saved.as_ref().map_or_else(|| "not stated".to_owned(), |saved| short(saved));
        Reason::new(code, format!("{what}: saved {saved}, now {now}"))
    };
    differing.map(reason).collect()
}

fn other_catalogue(saved: &Stamp, now: &Stamp) -> Reason {
    let text = match (&saved.catalogue, &now.catalogue) {
        (Some(saved), Some(now)) if saved.name == now.name => {
            format!("the catalogue {} has other contents than when the answer was saved", short(&saved.name))
        }
        (Some(saved), Some(now)) => {
            format!("computed with the catalogue {}, now with {}", short(&saved.name), short(&now.name))
        }
        (Some(saved), None) => format!("computed with the catalogue {}, now with none", short(&saved.name)),
        (None, Some(now)) => {
            format!("the saved answer names no catalogue with a digest; now it is {}", short(&now.name))
        }
        (None, None) => "no catalogue".to_owned(),
    };
    Reason::new(ReasonCode::OtherCatalogue, text)
}

/// What the catalogue has to do with a refusal, as far as the request and the saved answer name it.
fn catalogue_of_refused(saved: &Saved<'_>, catalogues: &Catalogues) -> Option<Reason> {
    let Node::Object(fields) = saved.request else { return None };
    let field = |name: &str| fields.iter().find(|(own, _)| own == name).map(|(_, value)| value);
    let named = match field("catalogue") {
        Some(Node::Text(name)) => name.as_str(),
        Some(_) => return None,
        None => DEFAULT_CATALOGUE,
    };
    let used = saved.stamp.catalogue.as_ref()?;
    match catalogues.get(named) {
        None => {
            let text = format!("the catalogue {} is not here; load it, and replay again", short(named));
            Some(Reason::new(ReasonCode::CatalogueNotHere, text))
        }
        // With entries of its own in the request the digest is one of both together.
        Some(loaded) if field("inline").is_none() && used.name == named && used.digest != loaded.digest => {
            let text = format!("the catalogue {} has other contents than when the answer was saved", short(named));
            Some(Reason::new(ReasonCode::OtherCatalogue, text))
        }
        Some(_) => None,
    }
}

fn edits(request: &DigestCheck, result: &DigestCheck) -> Vec<Reason> {
    let pairs = [
        (ReasonCode::EditedRequest, "the saved request does not give the saved digest", request),
        (ReasonCode::EditedResult, "the saved result does not give the saved digest", result),
    ];
    let broken = pairs.into_iter().filter(|(_, _, check)| check.status == DigestStatus::DoesNotHold);
    broken.map(|(code, what, check)| Reason::new(code, format!("{what}: {}", check.text.as_str()))).collect()
}

/// A text out of the saved answer, short enough for a sentence.
fn short(text: &str) -> String {
    Node::Text(text.to_owned()).shown()
}
