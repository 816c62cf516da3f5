//! A connection that is given up when nothing moves on it.
//!
//! hyper limits the time for the head of an HTTP/1 request, but not the time until a new connection says which
//! version it speaks, nor the time for a client to take its answer, nor an idle HTTP/2 connection.

use std::io;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::task::{Context, Poll};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio::time::{Instant, Sleep, sleep};

/// How many requests of a connection are being answered; while there are any, silence of the client is no fault.
#[derive(Clone, Debug, Default)]
pub(crate) struct Answering(Arc<Requests>);

#[derive(Debug, Default)]
struct Requests {
    open: AtomicUsize,
    /// Whether there has been any.
    begun: AtomicBool,
}

/// One request being answered.
#[derive(Debug)]
pub(crate) struct Answer(Arc<Requests>);

impl Answering {
    /// Counts one more request until the returned value is dropped.
    pub(crate) fn begin(&self) -> Answer {
        self.0.begun.store(true, Ordering::Relaxed);
        self.0.open.fetch_add(1, Ordering::Relaxed);
        Answer(Arc::clone(&self.0))
    }

    fn any(&self) -> bool {
        self.0.open.load(Ordering::Relaxed) != 0
    }

    fn has_begun(&self) -> bool {
        self.0.begun.load(Ordering::Relaxed)
    }
}

impl Drop for Answer {
    fn drop(&mut self) {
        self.0.open.fetch_sub(1, Ordering::Relaxed);
    }
}

/// How long nothing may move on a connection.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limits {
    /// Until its first request has come: who says nothing holds a place that others wait for.
    pub(crate) first: Duration,
    /// From then on, and for a client to take what is sent.
    pub(crate) idle: Duration,
}

/// A stream whose reads fail after idling and whose writes fail after stalling for the given time.
#[derive(Debug)]
pub(crate) struct TimedStream<S = TcpStream> {
    inner: S,
    limits: Limits,
    answering: Answering,
    read_deadline: Option<Pin<Box<Sleep>>>,
    write_deadline: Option<Pin<Box<Sleep>>>,
}

impl<S> TimedStream<S> {
    /// Limits the time in which nothing moves.
    pub(crate) fn new(inner: S, limits: Limits, answering: Answering) -> Self {
        Self { inner, limits, answering, read_deadline: None, write_deadline: None }
    }

    fn after_write<T>(&mut self, polled: Poll<io::Result<T>>, context: &mut Context<'_>) -> Poll<io::Result<T>> {
        if polled.is_ready() {
            self.write_deadline = None;
            if self.answering.has_begun()
                && let Some(deadline) = &mut self.read_deadline
            {
                // Moved and not taken away: nobody may poll for reading before it passes.
                deadline.as_mut().reset(Instant::now() + self.limits.idle);
            }
            return polled;
        }
        expire(&mut self.write_deadline, self.limits.idle, context)
    }
}

/// Waits on the deadline, which begins at the first call; fails once it has passed.
fn expire<T>(
    deadline: &mut Option<Pin<Box<Sleep>>>,
    limit: Duration,
    context: &mut Context<'_>,
) -> Poll<io::Result<T>> {
    let sleep = deadline.get_or_insert_with(|| Box::pin(sleep(limit)));
    sleep.as_mut().poll(context).map(|()| Err(io::ErrorKind::TimedOut.into()))
}

impl<S: AsyncRead + Unpin> AsyncRead for TimedStream<S> {
    fn poll_read(self: Pin<&mut Self>, context: &mut Context<'_>, buffer: &mut ReadBuf<'_>) -> Poll<io::Result<()>> {
        let this = self.get_mut();
        let polled = Pin::new(&mut this.inner).poll_read(context, buffer);
        if this.answering.any() || polled.is_ready() && this.answering.has_begun() {
            this.read_deadline = None;
            return polled;
        }
        if polled.is_ready() {
            // The time until the first request runs on: bytes that come to none are worth no more than silence.
            return polled;
        }
        let limit = if this.answering.has_begun() { this.limits.idle } else { this.limits.first };
        expire(&mut this.read_deadline, limit, context)
    }
}

impl<S: AsyncWrite + Unpin> AsyncWrite for TimedStream<S> {
    fn poll_write(self: Pin<&mut Self>, context: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        let this = self.get_mut();
        let polled = Pin::new(&mut this.inner).poll_write(context, bytes);
        this.after_write(polled, context)
    }

    fn poll_write_vectored(
        self: Pin<&mut Self>,
        context: &mut Context<'_>,
        slices: &[io::IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        let this = self.get_mut();
        let polled = Pin::new(&mut this.inner).poll_write_vectored(context, slices);
        this.after_write(polled, context)
    }

    fn is_write_vectored(&self) -> bool {
        self.inner.is_write_vectored()
    }

    fn poll_flush(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.get_mut().inner).poll_flush(context)
    }

    fn poll_shutdown(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.get_mut().inner).poll_shutdown(context)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tokio::io::{AsyncReadExt, AsyncWriteExt, duplex};

    const LIMIT: Duration = Duration::from_millis(40);
    const LIMITS: Limits = Limits { first: LIMIT, idle: LIMIT };

    #[tokio::test]
    async fn verify_an_idle_read_fails_and_a_lively_one_does_not() {
        let (mut client, server) = duplex(64);
        let mut server = TimedStream::new(server, LIMITS, Answering::default());
        client.write_all(b"x").await.unwrap();
        assert_eq!(server.read_u8().await.unwrap(), b'x');
        assert_eq!(server.read_u8().await.unwrap_err().kind(), io::ErrorKind::TimedOut);
    }

    #[tokio::test]
    async fn verify_silence_is_no_fault_while_an_answer_is_awaited() {
        let (_client, server) = duplex(64);
        let answering = Answering::default();
        let answer = answering.begin();
        let mut server = TimedStream::new(server, LIMITS, answering);
        assert!(tokio::time::timeout(LIMIT * 4, server.read_u8()).await.is_err());
        drop(answer);
        assert_eq!(server.read_u8().await.unwrap_err().kind(), io::ErrorKind::TimedOut);
    }

    #[tokio::test]
    async fn verify_a_write_between_reads_delays_the_end_and_does_not_lose_it() {
        let (_client, server) = duplex(64);
        let answering = Answering::default();
        drop(answering.begin());
        let mut server = TimedStream::new(server, LIMITS, answering);
        let begun = Instant::now();
        // Polled once, so that its time runs; then dropped.
        assert!(tokio::time::timeout(LIMIT / 2, server.read_u8()).await.is_err());
        server.write_all(b"x").await.unwrap();
        assert_eq!(server.read_u8().await.unwrap_err().kind(), io::ErrorKind::TimedOut);
        assert!(LIMIT + LIMIT / 2 <= begun.elapsed());
    }

    #[tokio::test]
    async fn verify_who_never_asks_is_cut_off_sooner_than_who_pauses() {
        let (mut client, server) = duplex(64);
        let answering = Answering::default();
        let limits = Limits { first: LIMIT, idle: LIMIT * 100 };
        let mut server = TimedStream::new(server, limits, answering.clone());
        // Bytes that make no request gain nothing.
        client.write_all(b"PRI").await.unwrap();
        for _ in 0..3 {
            server.read_u8().await.unwrap();
        }
        assert_eq!(server.read_u8().await.unwrap_err().kind(), io::ErrorKind::TimedOut);
        drop(answering.begin());
        let mut server = TimedStream::new(client, limits, answering);
        assert!(tokio::time::timeout(LIMIT * 4, server.read_u8()).await.is_err());
    }

    #[tokio::test]
    async fn verify_a_stalled_write_fails() {
        let (_client, server) = duplex(4);
        let mut server = TimedStream::new(server, LIMITS, Answering::default());
        assert_eq!(server.write_all(b"12345678").await.unwrap_err().kind(), io::ErrorKind::TimedOut);
    }
}
