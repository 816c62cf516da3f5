//! Health checks, answered under any load.

use axum::Json;
use axum::extract::State;
use ramwright_api::problem::{Problem, ProblemCode};
use serde::Serialize;
use utoipa::ToSchema;

use super::problems::HealthProblems;
use crate::problem::Failure;
use crate::state::AppState;

/// How the service is.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct Health {
    status: HealthStatus,
    /// Version of the service.
    version: &'static str,
}

/// How the service is, in one word.
#[derive(Debug, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
enum HealthStatus {
    Alive,
    Ready,
}

impl Health {
    const fn is(status: HealthStatus) -> Json<Self> {
        Json(Self { status, version: env!("CARGO_PKG_VERSION") })
    }
}

/// Whether the process is alive.
///
/// Restart it if this is not answered.
#[utoipa::path(
    get, path = "/health/live", tag = "Service",
    responses((status = 200, description = "The process is alive.", body = Health), HealthProblems)
)]
pub(crate) async fn get_liveness() -> Json<Health> {
    Health::is(HealthStatus::Alive)
}

/// Whether the service should be sent requests.
///
/// It is ready once its catalogues are loaded and known values come out as they must, until it is asked to stop.
#[utoipa::path(
    get, path = "/health/ready", tag = "Service",
    responses((status = 200, description = "The service is ready.", body = Health), HealthProblems)
)]
pub(crate) async fn get_readiness(State(state): State<AppState>) -> Result<Json<Health>, Failure> {
    readiness(state.is_draining(), state.self_test_failures())?;
    Ok(Health::is(HealthStatus::Ready))
}

fn readiness(draining: bool, self_test_failures: &[String]) -> Result<(), Problem> {
    if !self_test_failures.is_empty() {
        let detail = format!("These known values do not come out on this machine: {}.", self_test_failures.join(", "));
        return Err(Problem::new(ProblemCode::SelfTestFailed, detail));
    }
    if draining {
        return Err(Problem::new(ProblemCode::ServiceUnavailable, "The service is stopping."));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_a_machine_that_calculates_otherwise_is_never_ready() {
        assert_eq!(readiness(false, &[]), Ok(()));
        assert_eq!(readiness(true, &[]).unwrap_err().code, ProblemCode::ServiceUnavailable);
        for draining in [false, true] {
            let problem = readiness(draining, &["crib".to_owned(), "warm_oil".to_owned()]).unwrap_err();
            assert_eq!(problem.code, ProblemCode::SelfTestFailed);
            assert!(problem.detail.contains("crib, warm_oil"));
        }
    }
}
