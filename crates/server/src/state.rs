//! What every handler can reach.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, PoisonError, RwLock};

use axum::body::Bytes;
use ramwright_api::catalogue::Catalogues;
use ramwright_api::sha256;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

use crate::config::Config;
use crate::metrics::Metrics;
use crate::pool::Pool;
use crate::self_test;

/// The descriptions of the service, as they are sent.
#[derive(Debug)]
pub(crate) struct Documents {
    /// `OpenAPI` 3.1, complete.
    pub(crate) v3_1: Bytes,
    /// `OpenAPI` 3.0.3, JSON only.
    pub(crate) v3_0: Bytes,
}

/// Catalogues as they were read at one time.
#[derive(Clone, Debug)]
pub(crate) struct Loaded {
    pub(crate) catalogues: Arc<Catalogues>,
    /// What all of them contain, in one digest.
    pub(crate) digest: Arc<str>,
}

impl Loaded {
    fn new(catalogues: Catalogues) -> Self {
        let digests: String = catalogues.list().catalogues.into_iter().map(|one| one.digest).collect();
        Self { digest: sha256(digests.as_bytes()).into(), catalogues: Arc::new(catalogues) }
    }
}

/// What every handler can reach; cheap to clone.
#[derive(Clone, Debug)]
pub(crate) struct AppState(Arc<Shared>);

#[derive(Debug)]
struct Shared {
    config: Config,
    loaded: RwLock<Loaded>,
    metrics: Arc<Metrics>,
    pool: Pool,
    documents: Documents,
    draining: AtomicBool,
    /// One for each table that may be answered at once: it goes on after its request has left the cap on open requests.
    table_places: Arc<Semaphore>,
    self_test_failures: Vec<String>,
    batches: Arc<Semaphore>,
}

impl AppState {
    pub(crate) fn new(config: Config, catalogues: Catalogues, pool: Pool, documents: Documents) -> Self {
        let table_places = Arc::new(Semaphore::new(config.calculation_queue.max(1)));
        Self(Arc::new(Shared {
            batches: Arc::new(Semaphore::new(config.batches_max)),
            config,
            loaded: RwLock::new(Loaded::new(catalogues)),
            metrics: Arc::default(),
            pool,
            documents,
            draining: AtomicBool::new(false),
            table_places,
            self_test_failures: self_test::failures(),
        }))
    }

    pub(crate) fn config(&self) -> &Config {
        &self.0.config
    }

    /// The catalogues and their digest, of one and the same reading.
    pub(crate) fn loaded(&self) -> Loaded {
        self.0.loaded.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    pub(crate) fn catalogues(&self) -> Arc<Catalogues> {
        self.loaded().catalogues
    }

    /// Puts other catalogues in the place of those that are there. Requests that have begun keep theirs.
    pub(crate) fn replace_catalogues(&self, catalogues: Catalogues) {
        *self.0.loaded.write().unwrap_or_else(PoisonError::into_inner) = Loaded::new(catalogues);
    }

    pub(crate) fn metrics(&self) -> &Arc<Metrics> {
        &self.0.metrics
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

    /// A place for one more batch, if there is any.
    pub(crate) fn batch_place(&self) -> Option<OwnedSemaphorePermit> {
        Arc::clone(&self.0.batches).try_acquire_owned().ok()
    }

    /// The known values that do not come out on this machine.
    pub(crate) fn self_test_failures(&self) -> &[String] {
        &self.0.self_test_failures
    }

    /// From now on the service says that it is not ready.
    pub(crate) fn begin_draining(&self) {
        self.0.draining.store(true, Ordering::Relaxed);
    }

    pub(crate) fn is_draining(&self) -> bool {
        self.0.draining.load(Ordering::Relaxed)
    }
}
