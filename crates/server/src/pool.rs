//! The calculation pool: a fixed number of threads behind a bounded queue.
//!
//! Calculations never run on the threads that answer requests, so that health checks are answered under any load.
//! A calculation is stopped by its flag when its time is up or nobody waits for it any more; if it had not begun by
//! then it is never begun.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use ramwright_api::problem::{Problem, ProblemCode};
use tokio::sync::{Semaphore, oneshot};

use crate::audit::{self, Audit};

type Job = Box<dyn FnOnce() + Send>;

/// A fixed number of calculation threads with a bounded queue before them.
#[derive(Debug)]
pub(crate) struct Pool {
    queue: Sender<Job>,
    /// One for each calculation that may run or wait.
    places: Arc<Semaphore>,
    /// One for each of them that may be of a batch or a table: enough to keep every thread at work, and never all, so that
    /// these alone leave no other request without a place.
    turns: Arc<Semaphore>,
    threads: usize,
    /// How many places there are in all.
    most: usize,
    timeout: Duration,
}

impl Pool {
    /// Starts the threads.
    ///
    /// # Errors
    /// If the system gives no thread.
    pub(crate) fn start(threads: usize, queue: usize, timeout: Duration) -> std::io::Result<Self> {
        let (sender, receiver) = channel::<Job>();
        let receiver = Arc::new(Mutex::new(receiver));
        for number in 0..threads {
            let receiver = Arc::clone(&receiver);
            std::thread::Builder::new().name(format!("calculation-{number}")).spawn(move || work(&receiver))?;
        }
        let turns = (threads + queue / 2).min(threads * 2);
        Ok(Self {
            queue: sender,
            places: Arc::new(Semaphore::new(threads + queue)),
            turns: Arc::new(Semaphore::new(turns)),
            threads,
            most: threads + queue,
            timeout,
        })
    }

    /// How many calculations wait for a thread.
    pub(crate) fn waiting(&self) -> usize {
        self.most.saturating_sub(self.places.available_permits()).saturating_sub(self.threads)
    }

    /// Runs a calculation on the pool and waits for it.
    ///
    /// # Errors
    /// The calculation's own problem; `overloaded` if the queue is full; `calculation_timeout` if its time is up;
    /// `internal_error` if it panicked.
    pub(crate) async fn calculate<T, F>(&self, calculation: F) -> Result<T, Problem>
    where
        T: Send + 'static,
        F: FnOnce(&AtomicBool) -> Result<T, Problem> + Send + 'static,
    {
        let place = Arc::clone(&self.places).try_acquire_owned().map_err(|_| overloaded())?;
        self.placed(place, calculation).await
    }

    /// Runs one calculation of a batch or a table, which waits for its place however long that takes; its time runs from then.
    ///
    /// # Errors
    /// As [`Self::calculate`], and never `overloaded`.
    pub(crate) async fn calculate_in_turn<T, F>(&self, calculation: F) -> Result<T, Problem>
    where
        T: Send + 'static,
        F: FnOnce(&AtomicBool) -> Result<T, Problem> + Send + 'static,
    {
        // The semaphores are never closed.
        let turn = Arc::clone(&self.turns).acquire_owned().await.map_err(|_| internal_error())?;
        let place = Arc::clone(&self.places).acquire_owned().await.map_err(|_| internal_error())?;
        // Dropped in this order, so that no other takes the turn while the place is still held.
        self.placed((place, turn), calculation).await
    }

    /// Runs a calculation that has its place, which is given back when it has ended.
    async fn placed<P, T, F>(&self, place: P, calculation: F) -> Result<T, Problem>
    where
        P: Send + 'static,
        T: Send + 'static,
        F: FnOnce(&AtomicBool) -> Result<T, Problem> + Send + 'static,
    {
        let stop = StopOnDrop(Arc::new(AtomicBool::new(false)));
        let (sender, receiver) = oneshot::channel();
        let (flag, audit) = (Arc::clone(&stop.0), Audit::current());
        let job: Job = Box::new(move || {
            if !flag.load(Ordering::Relaxed) {
                let outcome = audit::on_thread(audit, || run(calculation, &flag));
                drop(place);
                // Nobody may be left to receive the outcome; then there is nothing to do with it.
                let _ = sender.send(outcome);
            }
        });
        self.queue.send(job).map_err(|_| internal_error())?;
        match tokio::time::timeout(self.timeout, receiver).await {
            Ok(outcome) => outcome.unwrap_or_else(|_| Err(internal_error())),
            Err(_) => Err(Problem::new(
                ProblemCode::CalculationTimeout,
                format!("The calculation did not end within {} s and was stopped.", self.timeout.as_secs_f64()),
            )),
        }
    }
}

/// Sets the flag when the waiting ends, however it ends: answered, out of time, or the client gone.
struct StopOnDrop(Arc<AtomicBool>);

impl Drop for StopOnDrop {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

fn work(receiver: &Mutex<Receiver<Job>>) {
    loop {
        let job = receiver.lock().unwrap_or_else(PoisonError::into_inner).recv();
        match job {
            Ok(job) => job(),
            Err(_) => return,
        }
    }
}

fn run<T, F>(calculation: F, stop: &AtomicBool) -> Result<T, Problem>
where
    F: FnOnce(&AtomicBool) -> Result<T, Problem>,
{
    // The calculation owns its input and shares nothing but the flag, so nothing half-changed is left behind.
    catch_unwind(AssertUnwindSafe(|| calculation(stop))).unwrap_or_else(|_| {
        tracing::error!("a calculation panicked");
        Err(internal_error())
    })
}

fn overloaded() -> Problem {
    let detail = "All calculation threads are at work and the queue before them is full.";
    Problem::new(ProblemCode::Overloaded, detail)
}

fn internal_error() -> Problem {
    Problem::new(ProblemCode::InternalError, "The calculation met a state that was held to be impossible.")
}

#[cfg(test)]
mod tests {
    use super::*;

    const LONG: Duration = Duration::from_secs(30);

    #[tokio::test]
    async fn verify_the_outcome_comes_back() {
        let pool = Pool::start(2, 4, LONG).unwrap();
        assert_eq!(pool.calculate(|_| Ok(7)).await, Ok(7));
        let refused = pool.calculate::<(), _>(|_| Err(Problem::no_equilibrium("tips", None))).await.unwrap_err();
        assert_eq!(refused.code, ProblemCode::NoEquilibrium);
    }

    #[tokio::test]
    async fn verify_a_panic_is_a_problem_and_the_thread_lives_on() {
        let pool = Pool::start(1, 4, LONG).unwrap();
        let failed = pool.calculate::<(), _>(|_| panic!("on purpose")).await.unwrap_err();
        assert_eq!(failed.code, ProblemCode::InternalError);
        assert_eq!(pool.calculate(|_| Ok(7)).await, Ok(7));
    }

    #[tokio::test]
    async fn verify_time_is_limited_and_the_flag_is_set() {
        let pool = Pool::start(1, 4, Duration::from_millis(50)).unwrap();
        let (told, heard) = channel();
        let outcome = pool
            .calculate::<(), _>(move |stop| {
                while !stop.load(Ordering::Relaxed) {
                    std::thread::sleep(Duration::from_millis(1));
                }
                told.send(()).unwrap();
                Ok(())
            })
            .await;
        assert_eq!(outcome.unwrap_err().code, ProblemCode::CalculationTimeout);
        heard.recv_timeout(LONG).unwrap();
    }

    #[tokio::test]
    async fn verify_a_full_queue_is_refused_at_once() {
        let pool = Arc::new(Pool::start(1, 1, LONG).unwrap());
        let (begun, has_begun) = channel();
        let (release, released) = channel::<()>();
        let running = tokio::spawn({
            let pool = Arc::clone(&pool);
            async move {
                pool.calculate(move |_| {
                    begun.send(()).unwrap();
                    released.recv().unwrap();
                    Ok(1)
                })
                .await
            }
        });
        tokio::task::spawn_blocking(move || has_begun.recv_timeout(LONG).unwrap()).await.unwrap();
        let mut waiting = Box::pin(pool.calculate(|_| Ok(2)));
        assert!(tokio::time::timeout(Duration::from_millis(20), &mut waiting).await.is_err());
        assert_eq!(pool.calculate(|_| Ok(3)).await.unwrap_err().code, ProblemCode::Overloaded);
        release.send(()).unwrap();
        assert_eq!(running.await.unwrap(), Ok(1));
        assert_eq!(waiting.await, Ok(2));
    }

    #[tokio::test]
    async fn verify_a_calculation_nobody_waits_for_is_stopped() {
        let pool = Pool::start(1, 4, LONG).unwrap();
        let (told, heard) = channel();
        let waiting = pool.calculate::<(), _>(move |stop| {
            while !stop.load(Ordering::Relaxed) {
                std::thread::sleep(Duration::from_millis(1));
            }
            told.send(()).unwrap();
            Ok(())
        });
        assert!(tokio::time::timeout(Duration::from_millis(50), waiting).await.is_err());
        heard.recv_timeout(LONG).unwrap();
    }
}
