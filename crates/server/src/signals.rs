//! SIGTERM and SIGINT: the first asks the service to drain, the second to end at once. SIGHUP: to read its catalogues again.

use tokio::signal::unix::{Signal, SignalKind, signal};
use tokio::sync::oneshot;

/// Ends when the first, and when the second signal has come.
#[derive(Debug)]
pub struct Stops {
    /// The first signal.
    pub drain: oneshot::Receiver<()>,
    /// The second signal.
    pub now: oneshot::Receiver<()>,
}

/// Begins to listen for signals.
///
/// # Errors
/// If the system refuses.
pub fn listen() -> std::io::Result<Stops> {
    let mut terminate = signal(SignalKind::terminate())?;
    let mut interrupt = signal(SignalKind::interrupt())?;
    let (first, drain) = oneshot::channel();
    let (second, now) = oneshot::channel();
    tokio::spawn(async move {
        either(&mut terminate, &mut interrupt).await;
        let _ = first.send(());
        either(&mut terminate, &mut interrupt).await;
        let _ = second.send(());
    });
    Ok(Stops { drain, now })
}

/// Begins to listen for SIGHUP.
///
/// # Errors
/// If the system refuses.
pub fn hang_ups() -> std::io::Result<Signal> {
    signal(SignalKind::hangup())
}

async fn either(terminate: &mut Signal, interrupt: &mut Signal) {
    tokio::select! {
        _ = terminate.recv() => {}
        _ = interrupt.recv() => {}
    }
}
