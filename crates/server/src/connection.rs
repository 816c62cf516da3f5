//! A connection that is given up when nothing moves on it.
//!
//! hyper limits the time for the head of an HTTP/1 request, but not the time until a new connection says which
//! version it speaks, nor the time for a client to take its answer, nor an idle HTTP/2 connection.

use std::io;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::task::{Context, Poll};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio::time::{Instant, Sleep, sleep};

/// How many requests of a connection are being answered; while there are any, silence of the client is no fault.
#[derive(Clone, Debug, Default)]
pub(crate) struct Answering(Arc<AtomicUsize>);

/// One request being answered.
#[derive(Debug)]
pub(crate) struct Answer(Arc<AtomicUsize>);

impl Answering {
    /// Counts one more request until the returned value is dropped.
    pub(crate) fn begin(&self) -> Answer {
        self.0.fetch_add(1, Ordering::Relaxed);
        Answer(Arc::clone(&self.0))
    }

    fn any(&self) -> bool {
        self.0.load(Ordering::Relaxed) != 0
    }
}

impl Drop for Answer {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::Relaxed);
    }
}

/// A stream whose reads fail after idling and whose writes fail after stalling for the given time.
#[derive(Debug)]
pub(crate) struct TimedStream<S = TcpStream> {
    inner: S,
    limit: Duration,
    answering: Answering,
    read_deadline: Option<Pin<Box<Sleep>>>,
    write_deadline: Option<Pin<Box<Sleep>>>,
}

impl<S> TimedStream<S> {
    /// Limits the time in which nothing moves.
    pub(crate) fn new(inner: S, limit: Duration, answering: Answering) -> Self {
        Self { inner, limit, answering, read_deadline: None, write_deadline: None }
    }

    fn after_write<T>(&mut self, polled: Poll<io::Result<T>>, context: &mut Context<'_>) -> Poll<io::Result<T>> {
        if polled.is_ready() {
            self.write_deadline = None;
            if let Some(deadline) = &mut self.read_deadline {
                // Moved and not taken away: nobody may poll for reading before it passes.
                deadline.as_mut().reset(Instant::now() + self.limit);
            }
            return polled;
        }
        expire(&mut self.write_deadline, self.limit, context)
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
        if polled.is_ready() || this.answering.any() {
            this.read_deadline = None;
            return polled;
        }
        expire(&mut this.read_deadline, this.limit, context)
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

    #[tokio::test]
    async fn verify_an_idle_read_fails_and_a_lively_one_does_not() {
        let (mut client, server) = duplex(64);
        let mut server = TimedStream::new(server, LIMIT, Answering::default());
        client.write_all(b"x").await.unwrap();
        assert_eq!(server.read_u8().await.unwrap(), b'x');
        assert_eq!(server.read_u8().await.unwrap_err().kind(), io::ErrorKind::TimedOut);
    }

    #[tokio::test]
    async fn verify_silence_is_no_fault_while_an_answer_is_awaited() {
        let (_client, server) = duplex(64);
        let answering = Answering::default();
        let answer = answering.begin();
        let mut server = TimedStream::new(server, LIMIT, answering);
        assert!(tokio::time::timeout(LIMIT * 4, server.read_u8()).await.is_err());
        drop(answer);
        assert_eq!(server.read_u8().await.unwrap_err().kind(), io::ErrorKind::TimedOut);
    }

    #[tokio::test]
    async fn verify_a_write_between_reads_delays_the_end_and_does_not_lose_it() {
        let (_client, server) = duplex(64);
        let mut server = TimedStream::new(server, LIMIT, Answering::default());
        let begun = Instant::now();
        // Polled once, so that its time runs; then dropped.
        assert!(tokio::time::timeout(LIMIT / 2, server.read_u8()).await.is_err());
        server.write_all(b"x").await.unwrap();
        assert_eq!(server.read_u8().await.unwrap_err().kind(), io::ErrorKind::TimedOut);
        assert!(LIMIT + LIMIT / 2 <= begun.elapsed());
    }

    #[tokio::test]
    async fn verify_a_stalled_write_fails() {
        let (_client, server) = duplex(4);
        let mut server = TimedStream::new(server, LIMIT, Answering::default());
        assert_eq!(server.write_all(b"12345678").await.unwrap_err().kind(), io::ErrorKind::TimedOut);
    }
}
