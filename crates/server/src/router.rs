//! Every address of the service, and what happens around each.

use std::sync::Arc;

use axum::Router;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::routing::get;
use ramwright_api::catalogue::Catalogues;
use tokio::sync::Semaphore;
use tower::ServiceBuilder;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{DefaultPredicate, NotForContentType, Predicate};
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;

use crate::config::Config;
use crate::handlers::{
    batches, calculations, catalogues, documents, health, pages, portal, quick, reference, replays, spreadsheet,
    verification,
};
use crate::keys::Gate;
use crate::metrics;
use crate::middleware::trace_context::Beginning;
use crate::middleware::{access_log, cors, keys, open_requests, request_id, safety, trace_context};
use crate::parameters::{self, Known};
use crate::pool::Pool;
use crate::spans::Spans;
use crate::state::{AppState, Documents};
use crate::{openapi, problem};

/// Where the metrics are, which are no part of the description.
const METRICS: &str = "/metrics";

/// The operations of the service, each with its description.
fn operations() -> OpenApiRouter<AppState> {
    OpenApiRouter::with_openapi(openapi::base())
        .routes(routes!(calculations::share_load))
        .routes(routes!(calculations::get_load_shares))
        .routes(routes!(calculations::size_ram_set))
        .routes(routes!(calculations::get_ram_set_size))
        .routes(routes!(calculations::verify_ram_set))
        .routes(routes!(calculations::get_ram_set_verification))
        .routes(routes!(calculations::sequence_packing_lifts))
        .routes(routes!(calculations::get_packing_lift_sequence))
        .routes(routes!(calculations::assess_circuit))
        .routes(routes!(calculations::get_circuit_assessment))
        .routes(routes!(calculations::plan_lift))
        .routes(routes!(calculations::get_lift_plan))
        .routes(routes!(quick::quick_load_share, quick::load_share_table))
        .routes(routes!(quick::quick_ram_set, quick::ram_set_table))
        .routes(routes!(quick::quick_verification, quick::verification_table))
        .routes(routes!(quick::quick_packing_lifts, quick::packing_lifts_table))
        .routes(routes!(batches::answer_batch))
        .routes(routes!(replays::replay_answer))
        .routes(routes!(catalogues::list_catalogues))
        .routes(routes!(catalogues::get_catalogue))
        .routes(routes!(catalogues::check_catalogue))
        .routes(routes!(reference::list_units))
        .routes(routes!(reference::list_limits))
        .routes(routes!(reference::list_basis))
        .routes(routes!(verification::verify_basis))
        .routes(routes!(reference::list_materials))
        .routes(routes!(documents::get_openapi))
        .routes(routes!(documents::get_openapi_3_0))
        .routes(routes!(health::get_liveness))
        .routes(routes!(health::get_readiness))
}

/// The description of all operations, before the pass over it.
pub(crate) fn description() -> utoipa::openapi::OpenApi {
    operations().into_openapi()
}

/// Pages for people; they are no part of the description.
fn pages() -> Router<AppState> {
    Router::new()
        .route("/", get(pages::index))
        .route("/docs", get(pages::docs))
        .route("/problems", get(pages::problems))
        .route("/problems/{code}", get(pages::problem))
        .route("/assets/{name}", get(pages::asset))
        .route("/portal.js", get(portal::script))
        .route("/examples/{file}", get(portal::example))
        .route("/spreadsheet", get(spreadsheet::index))
        .route("/spreadsheet/{name}", get(spreadsheet::file))
}

/// What the operator asks, apart from callers.
fn admin() -> Router<AppState> {
    Router::new()
        .route(METRICS, get(metrics::show))
        .route("/health/live", get(health::get_liveness))
        .route("/health/ready", get(health::get_readiness))
        .fallback(problem::not_found)
        .method_not_allowed_fallback(problem::method_not_allowed)
}

/// The service, ready to be served.
#[derive(Debug)]
pub(crate) struct Built {
    /// What callers reach.
    pub(crate) app: Router,
    /// What the operator reaches at the second address.
    pub(crate) admin: Router,
    pub(crate) state: AppState,
}

/// The whole service.
pub(crate) fn build(
    config: Config,
    catalogues: Catalogues,
    pool: Pool,
    gate: Gate,
    spans: Option<Arc<Spans>>,
) -> Result<Built, serde_json::Error> {
    let (api, description) = operations().split_for_parts();
    let known = Known::from_description(&description);
    let documents = Documents { v3_1: openapi::v3_1(&description)?.into(), v3_0: openapi::v3_0(&description)?.into() };
    let places = Arc::new(Semaphore::new(config.requests_max));
    let cors = cors::layer(&config.cors_origins.0);
    let frames = safety::Frames::of(&config.frame_ancestors);
    let metrics_here = config.admin_address.is_none();
    let state = AppState::new(config, catalogues, pool, documents);
    let beginning = if spans.is_some() { Beginning::Recorded } else { Beginning::Unrecorded };
    let told = access_log::Told { metrics: Arc::clone(state.metrics()), spans };
    // In each group the first is the outermost.
    let inner = ServiceBuilder::new()
        .layer(
            CompressionLayer::new()
                .compress_when(DefaultPredicate::new().and(NotForContentType::const_new("application/x-ndjson"))),
        )
        .layer(from_fn(problem::render))
        .layer(from_fn_with_state(Arc::new(gate), keys::require))
        .layer(from_fn_with_state(places, open_requests::cap))
        .layer(CatchPanicLayer::custom(problem::panicked))
        .layer(from_fn_with_state(known, parameters::check));
    let outer = ServiceBuilder::new()
        .layer(from_fn(request_id::identify))
        .layer(from_fn_with_state(beginning, trace_context::follow))
        .layer(from_fn_with_state(told, access_log::log))
        .layer(from_fn_with_state(frames, safety::guard));
    let mut app = api.merge(pages());
    if metrics_here {
        app = app.route(METRICS, get(metrics::show));
    }
    let mut app =
        app.fallback(problem::not_found).method_not_allowed_fallback(problem::method_not_allowed).layer(inner);
    if let Some(cors) = cors {
        app = app.layer(cors);
    }
    let app = app.layer(outer.clone()).with_state(state.clone());
    let admin = admin().layer(from_fn(problem::render)).layer(outer).with_state(state.clone());
    Ok(Built { app, admin, state })
}
