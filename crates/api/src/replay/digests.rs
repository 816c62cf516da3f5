//! Whether the digests of a saved answer are those of what it holds.

use super::Stamp;
use super::literal::Literal;
use super::recompute::Recomputed;
use super::saved::Saved;
use crate::digest::sha256;
use crate::problem::{Problem, ProblemCode};
use ramwright_engine::Text;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What is known of a digest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DigestStatus {
    /// It is the digest of what stands in the saved answer.
    Holds,
    /// It is not: one of the two was changed.
    DoesNotHold,
    /// It cannot be told; the text says why.
    NotChecked,
}

/// A digest of the saved answer held against what it was made of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DigestCheck {
    /// What is known of it.
    pub status: DigestStatus,
    /// How that is known, or why it is not.
    pub text: Text,
}

impl DigestCheck {
    fn new(status: DigestStatus, text: &'static str) -> Self {
        Self { status, text: text.into() }
    }

    fn holds(text: &'static str) -> Self {
        Self::new(DigestStatus::Holds, text)
    }

    fn does_not_hold(text: &'static str) -> Self {
        Self::new(DigestStatus::DoesNotHold, text)
    }

    fn not_checked(text: &'static str) -> Self {
        Self::new(DigestStatus::NotChecked, text)
    }
}

/// What a digest can be made of again.
pub(super) struct Evidence<'a> {
    /// The saved answer as it was sent.
    pub(super) body: &'a [u8],
    /// Its request in compact form, keys sorted.
    pub(super) request_text: &'a str,
    /// The same, read.
    pub(super) saved: &'a Saved<'a>,
}

/// The result of an answer as it is written; nothing if it has none.
#[derive(Deserialize)]
struct Written {
    #[serde(default)]
    result: Option<Literal>,
}

impl Evidence<'_> {
    /// Whether the saved request gives the saved digest, as it is written or as it is understood now.
    pub(super) fn of_request(&self, now: Option<&Stamp>) -> DigestCheck {
        let Some(digest) = &self.saved.stamp.request_digest else {
            return DigestCheck::not_checked("the saved answer has no request_digest");
        };
        if sha256(self.request_text.as_bytes()) == *digest {
            return DigestCheck::holds("made again of the saved request");
        }
        match now {
            Some(now) if now.request_digest.as_ref() == Some(digest) => {
                DigestCheck::holds("made again of the saved request as it is understood, whatever its spelling")
            }
            Some(_) => DigestCheck::does_not_hold("request or digest was changed after the answer was saved"),
            None => DigestCheck::not_checked(
                "as it is written the saved request does not give the digest; whether it does in another spelling cannot be told, since it is refused now",
            ),
        }
    }

    /// Whether the saved result gives the saved digest.
    ///
    /// The digest is one of the result in metric units. A result in other units cannot be put back into them to the last
    /// digit, so that there only the result computed now can speak for it.
    pub(super) fn of_result(&self, now: Option<&Recomputed>, differs: bool) -> Result<DigestCheck, Problem> {
        let stamp = &self.saved.stamp;
        let Some(digest) = &stamp.result_digest else {
            return Ok(DigestCheck::not_checked("the saved answer has no result_digest"));
        };
        let Some(result) = result_of(self.body)? else {
            return Ok(DigestCheck::not_checked("the saved answer has no result"));
        };
        if let Some(now) = now
            && now.stamp.result_digest.as_ref() == Some(digest)
            && now.stamp.units == stamp.units
        {
            return Ok(if differs {
                DigestCheck::does_not_hold(
                    "the result computed now gives the saved digest, and the saved result is another: it was changed after it was saved",
                )
            } else {
                DigestCheck::holds("the result computed now gives the saved digest, and is the saved result")
            });
        }
        if stamp.units.as_deref() != Some("metric") {
            let text =
                "the digest is one of the result in metric units, and the saved result is not said to be in them";
            return Ok(DigestCheck::not_checked(text));
        }
        let model = now.map(|now| result_of(&now.bytes)).transpose()?.flatten();
        let mut ways = vec![result.compact()];
        ways.extend(model.map(|model| result.compact_like(&model)));
        for way in ways {
            if sha256(&way.map_err(|error| impossible(&error))?) == *digest {
                return Ok(DigestCheck::holds("made again of the saved result"));
            }
        }
        Ok(DigestCheck::does_not_hold(
            "result or digest was changed after the answer was saved, or a program wrote the file anew so that it cannot be told",
        ))
    }
}

fn result_of(answer: &[u8]) -> Result<Option<Literal>, Problem> {
    let written: Written = serde_json::from_slice(answer).map_err(|error| impossible(&error))?;
    Ok(written.result)
}

/// What was read once can be read again.
fn impossible(error: &serde_json::Error) -> Problem {
    Problem::new(ProblemCode::InternalError, error.to_string())
}
