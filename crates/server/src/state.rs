//! What every handler can reach.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use axum::body::Bytes;
use ramwright_api::catalogue::Catalogues;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

use crate::config::Config;
use crate::pool::Pool;

/// The descriptions of the service, as they are sent.
#[derive(Debug)]
pub(crate) struct Documents {
    /// `OpenAPI` 3.1, complete.
    pub(crate) v3_1: Bytes,
    /// `OpenAPI` 3.0.3, JSON only.
    pub(crate) v3_0: Bytes,
}

/// What every handler can reach; cheap to clone.
#[derive(Clone, Debug)]
pub(crate) struct AppState(Arc<Shared>);

#[derive(Debug)]
struct Shared {
    config: Config,
    catalogues: Arc<Catalogues>,
    catalogues_digest: String,
    pool: Pool,
    documents: Documents,
    draining: AtomicBool,
    /// One for each table that may be answered at once: it goes on after its request has left the cap on open requests.
    table_places: Arc<Semaphore>,
}

impl AppState {
    pub(crate) fn new(config: Config, catalogues: Catalogues, pool: Pool, documents: Documents) -> Self {
        let table_places = Arc::new(Semaphore::new(config.calculation_queue.max(1)));
        Self(Arc::new(Shared {
            config,
            catalogues_digest: catalogues.list().catalogues.into_iter().map(|one| one.digest).collect(),
            catalogues: Arc::new(catalogues),
            pool,
            documents,
            draining: AtomicBool::new(false),
            table_places,
        }))
    }

    pub(crate) fn config(&self) -> &Config {
        &self.0.config
    }

    pub(crate) fn catalogues(&self) -> Arc<Catalogues> {
        Arc::clone(&self.0.catalogues)
    }

    /// What all catalogues contain, in one digest.
    pub(crate) fn catalogues_digest(&self) -> &str {
        &self.0.catalogues_digest
    }

    pub(crate) fn pool(&self) -> &Pool {
        &self.0.pool
    }

    /// A place for one more table, if there is one.
    pub(crate) fn table_place(&self) -> Option<OwnedSemaphorePermit> {
        Arc::clone(&self.0.table_places).try_acquire_owned().ok()
    }

    pub(crate) fn documents(&self) -> &Documents {
        &self.0.documents
    }

    /// From now on the service says that it is not ready.
    pub(crate) fn begin_draining(&self) {
        self.0.draining.store(true, Ordering::Relaxed);
    }

    pub(crate) fn is_draining(&self) -> bool {
        self.0.draining.load(Ordering::Relaxed)
    }
}
