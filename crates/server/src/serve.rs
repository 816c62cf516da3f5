//! The life of the service: bind, accept, say "not ready", close the listener, finish what is open, end.

use std::convert::Infallible;
use std::error::Error;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper::Request;
use hyper::body::Incoming;
use hyper::service::service_fn;
use hyper_util::rt::{TokioExecutor, TokioIo, TokioTimer};
use hyper_util::server::conn::auto::Builder;
use hyper_util::server::graceful::GracefulShutdown;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, oneshot};
use tokio::task::{JoinHandle, JoinSet};
use tower::ServiceExt;

use crate::config::Config;
use crate::connection::{Answering, Limits, TimedStream};
use crate::keys::{Gate, Keys, KeysError};
use crate::pool::Pool;
use crate::spans::Spans;
use crate::state::AppState;
use crate::unread::read_on;
use crate::{catalogues, router};

/// How long to wait after the system refused a connection, for want of descriptors for instance.
const AFTER_REFUSAL: Duration = Duration::from_millis(50);

/// Why the service does not start.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum StartError {
    /// The address cannot be listened on.
    #[error("cannot listen on {address}")]
    Listen {
        /// The address asked for.
        address: SocketAddr,
        /// The system's reason.
        source: std::io::Error,
    },
    /// The system gives no calculation threads.
    #[error("cannot start the calculation threads")]
    Threads(#[source] std::io::Error),
    /// A catalogue cannot be read.
    #[error(transparent)]
    Catalogue(#[from] catalogues::CatalogueError),
    /// The keys of callers cannot be read.
    #[error(transparent)]
    Keys(#[from] KeysError),
    /// Nothing can be told to the collector of traces.
    #[error("cannot make the client that sends spans")]
    Collector(#[source] Box<dyn Error + Send + Sync>),
    /// The description cannot be written.
    #[error("cannot write the description of the service")]
    Description(#[from] serde_json::Error),
}

/// A service that listens and does not answer yet.
#[derive(Debug)]
pub struct Server {
    listener: TcpListener,
    address: SocketAddr,
    app: Router,
    /// The operator's own listener, if there is one.
    admin: Option<(TcpListener, Router)>,
    state: AppState,
    spans: Option<Arc<Spans>>,
}

impl Server {
    /// Reads catalogues and keys, starts the calculation threads and listens.
    ///
    /// # Errors
    /// [`StartError`] says which of these failed.
    pub async fn bind(config: Config) -> Result<Self, StartError> {
        let catalogues = catalogues::load(config.catalogues.as_deref())?;
        let pool = Pool::start(config.calculation_threads, config.calculation_queue, config.calculation_timeout_s)
            .map_err(StartError::Threads)?;
        let keys = config.api_keys_file.as_deref().filter(|path| !path.as_os_str().is_empty());
        let gate = Gate::new(keys.map(Keys::load).transpose()?, config.key_requests_per_minute);
        let collector = config.otlp_endpoint.as_ref().map(|collector| Spans::to(&collector.0));
        let spans = collector.transpose().map_err(StartError::Collector)?.map(Arc::new);
        let (wanted, admin_wanted) = (config.address, config.admin_address);
        let built = router::build(config, catalogues, pool, gate, spans.clone())?;
        let (listener, address) = listen(wanted).await?;
        let admin = match admin_wanted {
            Some(wanted) => {
                let (listener, address) = listen(wanted).await?;
                tracing::info!(%address, "listening for the operator");
                Some((listener, built.admin))
            }
            None => None,
        };
        Ok(Self { listener, address, app: built.app, admin, state: built.state, spans })
    }

    /// Where the service listens.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// What reads the catalogues again while the service runs.
    pub fn reloader(&self) -> Reloader {
        Reloader(self.state.clone())
    }

    /// Serves until `stop` ends, then drains.
    pub async fn run(self, stop: impl Future<Output = ()>) {
        let config = self.state.config().clone();
        let places = Arc::new(Semaphore::new(config.connections_max));
        // Dropped at the end, and the operator's connections with it.
        let mut operator = JoinSet::new();
        if let Some((listener, app)) = self.admin {
            operator.spawn(serve_operator(listener, app, config.clone()));
        }
        let open = GracefulShutdown::new();
        let mut connections = JoinSet::new();
        let mut begin = |stream, place| {
            while connections.try_join_next().is_some() {}
            connections.spawn(converse(stream, place, self.app.clone(), config.clone(), open.watcher()));
        };
        let mut settled = std::pin::pin!(settle(stop, &self.state));
        loop {
            tokio::select! {
                () = &mut settled => break,
                (stream, place) = accept(&self.listener, &places) => begin(stream, place),
            }
        }
        // Who has connected by now waits in the system's queue and is answered too.
        for _ in 0..config.connections_max {
            match tokio::time::timeout(Duration::ZERO, accept(&self.listener, &places)).await {
                Ok((stream, place)) => begin(stream, place),
                Err(_) => break,
            }
        }
        drop(self.listener);
        tracing::info!(connections = open.count(), "listener closed; finishing open requests");
        let finished = tokio::time::timeout(config.drain_timeout_s, open.shutdown()).await;
        // Dropping the connections gives up their calculations.
        drop(connections);
        if let Some(spans) = self.spans {
            // It never panics, and what it could not deliver it logs.
            let _ = tokio::task::spawn_blocking(move || spans.end()).await;
        }
        match finished {
            Ok(()) => tracing::info!("stopped; every request was finished"),
            Err(late) => tracing::warn!(%late, "stopped; requests still open were given up"),
        }
    }
}

/// Binds an address.
async fn listen(wanted: SocketAddr) -> Result<(TcpListener, SocketAddr), StartError> {
    let not_listening = |source| StartError::Listen { address: wanted, source };
    let listener = TcpListener::bind(wanted).await.map_err(not_listening)?;
    let address = listener.local_addr().map_err(not_listening)?;
    Ok((listener, address))
}

/// Connections of the operator open at once: scrapers and probes are few.
const OPERATOR_CONNECTIONS: usize = 64;

/// Serves the operator until it is dropped, so that health is answered while the service drains.
async fn serve_operator(listener: TcpListener, app: Router, config: Config) {
    let places = Arc::new(Semaphore::new(OPERATOR_CONNECTIONS));
    let open = GracefulShutdown::new();
    let mut connections = JoinSet::new();
    loop {
        let (stream, place) = accept(&listener, &places).await;
        while connections.try_join_next().is_some() {}
        connections.spawn(converse(stream, place, app.clone(), config.clone(), open.watcher()));
    }
}

/// Reads the catalogues again while the service runs.
#[derive(Clone, Debug)]
pub struct Reloader(AppState);

impl Reloader {
    /// Reads the folder of catalogues again. What is being answered keeps the catalogues it began with; where the new ones
    /// have a fault, the old ones stay and the log names every fault.
    ///
    /// # Errors
    /// Why they could not be read.
    pub fn reload(&self) -> Result<(), catalogues::CatalogueError> {
        match catalogues::load(self.0.config().catalogues.as_deref()) {
            Ok(loaded) => {
                self.0.replace_catalogues(loaded);
                let digest = self.0.loaded().digest;
                tracing::info!(%digest, "the catalogues have been read again");
                Ok(())
            }
            Err(error) => {
                tracing::error!(%error, cause = error.source().map(tracing::field::display), "the catalogues could not be read again; those before stay in use");
                Err(error)
            }
        }
    }
}

/// Waits to be stopped, then says "not ready" for as long as a balancer needs to notice.
async fn settle(stop: impl Future<Output = ()>, state: &AppState) {
    stop.await;
    state.begin_draining();
    tracing::info!("asked to stop; not ready any more");
    tokio::time::sleep(state.config().drain_settle_s).await;
}

/// The next connection. Waits for a free place first, so that connections above the cap wait in the system's queue; what the
/// system refuses is tried again.
async fn accept(listener: &TcpListener, places: &Arc<Semaphore>) -> (TcpStream, Option<OwnedSemaphorePermit>) {
    // The semaphore is never closed; without a permit the connection would only go uncounted.
    let place = Arc::clone(places).acquire_owned().await.ok();
    loop {
        match listener.accept().await {
            Ok((stream, _)) => return (stream, place),
            Err(error) => {
                tracing::warn!(%error, "a connection was refused by the system");
                tokio::time::sleep(AFTER_REFUSAL).await;
            }
        }
    }
}

/// Serves one connection to its end.
async fn converse(
    stream: TcpStream,
    place: Option<OwnedSemaphorePermit>,
    app: Router,
    config: Config,
    watcher: hyper_util::server::graceful::Watcher,
) {
    // Answers are written whole, so waiting to fill a packet gains nothing.
    let _ = stream.set_nodelay(true);
    let answering = Answering::default();
    let limits = Limits { first: config.header_timeout_s.min(config.idle_timeout_s), idle: config.idle_timeout_s };
    let stream = TimedStream::new(stream, limits, answering.clone());
    let service = service_fn(move |request: Request<Incoming>| {
        let answer = answering.begin();
        let response = app.clone().oneshot(read_on(request, config.body_timeout_s));
        async move {
            let response = response.await;
            drop(answer);
            Ok::<_, Infallible>(response.unwrap_or_else(|never| match never {}))
        }
    });
    let mut builder = Builder::new(TokioExecutor::new());
    builder.http1().timer(TokioTimer::new()).header_read_timeout(config.header_timeout_s);
    builder.http2().timer(TokioTimer::new());
    let connection = builder.serve_connection(TokioIo::new(stream), service);
    if let Err(error) = watcher.watch(connection).await {
        tracing::debug!(%error, "a connection ended early");
    }
    drop(place);
}

/// A service running in the background.
#[derive(Debug)]
pub struct Running {
    /// Where the service listens.
    pub address: SocketAddr,
    stop: oneshot::Sender<()>,
    task: JoinHandle<()>,
}

impl Running {
    /// The address as a URL without a slash at its end.
    pub fn base_url(&self) -> String {
        format!("http://{}", self.address)
    }

    /// Drains the service and waits until it has ended.
    pub async fn shutdown(self) {
        // If the service has ended by itself there is nothing left to stop.
        let _ = self.stop.send(());
        let _ = self.task.await;
    }
}

/// Starts the service in the background on a free port of the configured address.
///
/// # Errors
/// [`StartError`] if it cannot start.
pub async fn spawn(mut config: Config) -> Result<Running, StartError> {
    config.address.set_port(0);
    let server = Server::bind(config).await?;
    let address = server.address();
    let (stop, stopped) = oneshot::channel::<()>();
    let task = tokio::spawn(server.run(async move {
        // A dropped handle stops the service as well.
        let _ = stopped.await;
    }));
    Ok(Running { address, stop, task })
}
