//! `validate_only=true`: a request is read with all its ids, and nothing is computed.
//!
//! For whoever shows faults and assumptions while somebody types.

use axum::body::Body;
use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use axum::http::{HeaderValue, header};
use axum::response::Response;
use ramwright_api::problem::{Fault, FaultCode, Problem};
use ramwright_api::{Operation, Prepared};
use utoipa::IntoParams;

use crate::body::JsonBody;
use crate::format::{Format, Wanted};
use crate::handlers::respond;
use crate::parameters;
use crate::problem::Failure;
use crate::state::AppState;

/// The parameter, as the description shows it.
#[derive(IntoParams)]
#[into_params(parameter_in = Query)]
#[expect(dead_code, reason = "read by the description only; `ValidateOnly` reads the parameter")]
pub(crate) struct ValidateOnlyParameter {
    /// With `true` the request is read, its ids are looked up, and nothing is computed: the answer is a `Validation`, in
    /// JSON only, with every assumption that would be made. Faults are the same problem as without it; whether the load
    /// stands on its points is not asked.
    #[param(inline, required = false)]
    validate_only: bool,
}

/// Whether a request is to be read only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct ValidateOnly(pub(crate) bool);

impl<S: Sync> FromRequestParts<S> for ValidateOnly {
    type Rejection = Failure;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Failure> {
        let said = parameters::pairs(&parts.uri).into_iter().find(|(name, _)| name == "validate_only");
        match said.as_ref().map(|(_, value)| value.as_str()) {
            None | Some("false") => Ok(Self(false)),
            Some("true") => Ok(Self(true)),
            Some(other) => {
                let detail = "The parameter validate_only takes no such word.";
                let fault = Fault::in_parameter("validate_only", FaultCode::UnknownValue, detail);
                Err(Problem::invalid_request(vec![fault.with_given(other).with_hint("one of true, false")]).into())
            }
        }
    }
}

/// Answers what was understood of a request.
pub(crate) async fn validation<O: Operation + 'static>(
    state: &AppState,
    wanted: &Wanted,
    JsonBody(body): JsonBody,
) -> Result<Response, Failure> {
    let format = wanted.choose(&[Format::Json])?;
    let catalogues = state.catalogues();
    let reading = move |_: &_| Prepared::<O>::from_json(&body, &catalogues)?.validation().to_json();
    let bytes = state.pool().calculate(reading).await?;
    let mut response = respond(format, Body::from(bytes), None);
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    Ok(response)
}
