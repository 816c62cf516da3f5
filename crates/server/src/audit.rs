//! What is noted of a request while it is answered, for its log line and the metrics.
//!
//! A calculation runs on a thread of the pool and knows nothing of its request. So the note travels beside it: it
//! belongs to the task that answers, the pool takes it along to its thread, and [`computed`] writes into it.
//! It holds digests, names of calculations and verdicts, and nothing of what a client sent.

use std::cell::RefCell;
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;

use ramwright_api::problem::Problem;
use ramwright_api::{Answer, Operation, Prepared};
use ramwright_engine::check::Status;

tokio::task_local! {
    static OF_TASK: Audit;
}

thread_local! {
    static OF_THREAD: RefCell<Option<Audit>> = const { RefCell::new(None) };
}

/// What is noted of one request; cheap to clone.
#[derive(Clone, Debug, Default)]
pub(crate) struct Audit(Arc<Mutex<Noted>>);

/// What has been noted so far.
#[derive(Clone, Debug, Default)]
pub(crate) struct Noted {
    /// The calculation that was made.
    pub(crate) calculation: Option<Calculation>,
    /// The name of the key that the request came with.
    pub(crate) key: Option<Arc<str>>,
}

/// A calculation that was made.
#[derive(Clone, Debug)]
pub(crate) struct Calculation {
    pub(crate) operation: &'static str,
    pub(crate) verdict: Status,
    pub(crate) request_digest: String,
    pub(crate) result_digest: String,
    pub(crate) seconds: f64,
}

impl Audit {
    /// Answers a request whose notes are to go here.
    pub(crate) async fn of<T>(&self, answering: impl Future<Output = T>) -> T {
        OF_TASK.scope(self.clone(), answering).await
    }

    /// The notes of the request that this task answers, if it answers one.
    pub(crate) fn current() -> Option<Self> {
        OF_TASK.try_with(Clone::clone).ok()
    }

    /// What has been noted so far.
    pub(crate) fn noted(&self) -> Noted {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn note(&self, write: impl FnOnce(&mut Noted)) {
        write(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner));
    }
}

/// Notes with which key the request of this task came.
pub(crate) fn name_key(name: Arc<str>) {
    if let Some(audit) = Audit::current() {
        audit.note(|noted| noted.key = Some(name));
    }
}

/// Runs a part of an answer on this thread; what is computed there is noted.
pub(crate) fn on_thread<T>(audit: Option<Audit>, part: impl FnOnce() -> T) -> T {
    OF_THREAD.set(audit);
    let outcome = part();
    OF_THREAD.set(None);
    outcome
}

/// Computes, and notes what came of it.
///
/// # Errors
/// As [`Prepared::compute`].
pub(crate) fn computed<O: Operation>(prepared: &Prepared<O>, stop: &AtomicBool) -> Result<Answer<O::Result>, Problem> {
    let begun = Instant::now();
    let answer = prepared.compute(stop)?;
    let calculation = Calculation {
        operation: O::NAME,
        verdict: answer.verdict.status,
        request_digest: answer.request_digest.clone(),
        result_digest: answer.result_digest.clone(),
        seconds: begun.elapsed().as_secs_f64(),
    };
    OF_THREAD.with_borrow(|audit| {
        if let Some(audit) = audit {
            audit.note(|noted| noted.calculation = Some(calculation));
        }
    });
    Ok(answer)
}

/// The word for a status, as on the wire.
pub(crate) const fn word(status: Status) -> &'static str {
    match status {
        Status::Pass => "pass",
        Status::Caution => "caution",
        Status::NotChecked => "not_checked",
        Status::Fail => "fail",
    }
}
