//! Batches: lines in, lines out, in the same order, a few at a time.
//!
//! Three parts, each waiting for the next: [`lines`] reads the body and cuts it into lines, a few of which are
//! calculated at once, and their answers go out as the client takes them. What is read ahead is bounded in bytes and
//! what is calculated ahead in number, so that a batch of any length takes the same memory.

mod lines;

use std::io;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use axum::body::{Body, Bytes};
use futures_util::{Stream, StreamExt, stream};
use ramwright_api::batch::{self, BatchReply, BatchSummary, Reply};
use ramwright_api::catalogue::Catalogues;
use ramwright_api::problem::Problem;
use tokio::sync::{Notify, OwnedSemaphorePermit};

use crate::state::AppState;
use lines::{Cut, Lines};

/// What came of one line, or why no more come.
enum Event {
    Reply(Reply),
    End(Option<Problem>),
}

/// A batch on its way; dropping it gives up what is being calculated.
struct Course {
    events: Pin<Box<dyn Stream<Item = Event> + Send>>,
    summary: BatchSummary,
    /// Told when the client has left.
    gone: Arc<Notify>,
    ended: bool,
    /// Its place among the batches open at once.
    _place: OwnedSemaphorePermit,
}

/// The body of the answer to a batch.
pub(crate) fn answered(state: &AppState, body: Body, instance: String, place: OwnedSemaphorePermit) -> Body {
    let config = state.config();
    let lines = Lines::read(body, config.body_limit_bytes, config.body_timeout_s);
    // Twice as many as threads, so that none waits for the next line to be read.
    let ahead = config.calculation_threads * 2;
    let state = state.clone();
    let Lines { mut cuts, gone } = lines;
    let cuts = stream::poll_fn(move |context| cuts.poll_recv(context));
    // A batch is answered from one reading of the catalogues, whatever is loaded meanwhile.
    let catalogues = state.catalogues();
    let events =
        cuts.map(move |cut| event(state.clone(), Arc::clone(&catalogues), cut, instance.clone())).buffered(ahead);
    let course =
        Course { events: Box::pin(events), summary: BatchSummary::default(), gone, ended: false, _place: place };
    Body::from_stream(stream::unfold(course, next))
}

/// The next line of the answer.
async fn next(mut course: Course) -> Option<(io::Result<Bytes>, Course)> {
    if course.ended {
        return None;
    }
    let event = tokio::select! {
        () = course.gone.notified() => None,
        event = course.events.next() => event,
    };
    let mut line = match event {
        Some(Event::Reply(reply)) => {
            course.summary.lines += 1;
            let counted =
                if reply.outcome.is_ok() { &mut course.summary.results } else { &mut course.summary.problems };
            *counted += 1;
            reply.line
        }
        Some(Event::End(problem)) => course.end(problem),
        None => {
            // The connection is closed by the error, and what is being calculated given up.
            course.ended = true;
            course.events = Box::pin(stream::empty());
            return Some((Err(io::ErrorKind::ConnectionAborted.into()), course));
        }
    };
    line.push(b'\n');
    Some((Ok(line.into()), course))
}

impl Course {
    /// The last line.
    fn end(&mut self, problem: Option<Problem>) -> Vec<u8> {
        self.ended = true;
        let summary = BatchSummary { complete: problem.is_none(), problem, ..self.summary.clone() };
        // Texts and whole numbers only, which are always written.
        serde_json::to_vec(&BatchReply::Summary { summary }).unwrap_or_default()
    }
}

async fn event(state: AppState, catalogues: Arc<Catalogues>, cut: Cut, instance: String) -> Event {
    match cut {
        Cut::Line { index, text, room } => {
            let reply = calculated(&state, catalogues, index, text, &instance).await;
            drop(room);
            Event::Reply(reply)
        }
        Cut::TooLong { index, problem, room } => {
            drop(room);
            state.metrics().problem(problem.code);
            Event::Reply(batch::refused(index, None, problem.with_instance(instance)))
        }
        Cut::End(problem) => Event::End(problem.map(|problem| problem.with_instance(instance))),
    }
}

/// Calculates one line when its turn has come. What the pool refuses is that line's problem alone.
async fn calculated(state: &AppState, catalogues: Arc<Catalogues>, index: u64, text: Vec<u8>, instance: &str) -> Reply {
    let text = Arc::new(text);
    let line = Arc::clone(&text);
    let calculation = move |stop: &AtomicBool| {
        let begun = Instant::now();
        Ok((batch::answer(index, &line, &catalogues, stop), begun.elapsed()))
    };
    let outcome = state.pool().calculate_in_turn(calculation).await;
    let (reply, took) = outcome.unwrap_or_else(|problem| {
        let id = batch::id_of(&text);
        (batch::refused(index, id.as_deref(), problem.with_instance(instance)), Duration::ZERO)
    });
    match reply.outcome {
        Ok((operation, verdict)) => state.metrics().calculated(operation, verdict, took.as_secs_f64()),
        Err(code) => state.metrics().problem(code),
    }
    reply
}
