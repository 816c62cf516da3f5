//! Bodies that are answered before they have wholly come.
//!
//! A client that is refused early may still be sending. If nobody read on, the connection would be reset, and many a client
//! would see that instead of the answer. So what is left is read and thrown away, up to bounds.

use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;

use hyper::body::{Body, Bytes, Frame, Incoming, SizeHint};
use hyper::header;
use hyper::{Request, Version};
use tokio::runtime::Handle;
use tokio::time::timeout;

/// A client that sends more than this after its answer is cut off.
const BYTES_MAX: usize = 64 << 20;
/// And one that pauses for longer than this.
const SILENCE_MAX: Duration = Duration::from_secs(1);

/// A body whose rest is read on when it is given up.
#[derive(Debug)]
struct ReadOn {
    body: Option<Incoming>,
    time_max: Duration,
}

/// Sees to it that the body of a request is read on, where that helps: an HTTP/2 stream is ended alone, and a client that
/// waits to be told to send has sent nothing.
pub(crate) fn read_on(request: Request<Incoming>, time_max: Duration) -> Request<axum::body::Body> {
    if Version::HTTP_11 < request.version() || request.headers().contains_key(header::EXPECT) {
        return request.map(axum::body::Body::new);
    }
    request.map(|body| axum::body::Body::new(ReadOn { body: Some(body), time_max }))
}

impl Body for ReadOn {
    type Data = Bytes;
    type Error = hyper::Error;

    fn poll_frame(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Result<Frame<Bytes>, hyper::Error>>> {
        let this = self.get_mut();
        let Some(body) = &mut this.body else { return Poll::Ready(None) };
        let polled = Pin::new(body).poll_frame(context);
        if matches!(polled, Poll::Ready(None | Some(Err(_)))) {
            this.body = None;
        }
        polled
    }

    fn is_end_stream(&self) -> bool {
        self.body.as_ref().is_none_or(Body::is_end_stream)
    }

    fn size_hint(&self) -> SizeHint {
        self.body.as_ref().map_or_else(|| SizeHint::with_exact(0), Body::size_hint)
    }
}

impl Drop for ReadOn {
    fn drop(&mut self) {
        let Some(body) = self.body.take().filter(|body| !body.is_end_stream()) else { return };
        // Without a runtime the service has ended, and the connection with it.
        if let Ok(runtime) = Handle::try_current() {
            let time_max = self.time_max;
            runtime.spawn(async move { timeout(time_max, discard(body)).await });
        }
    }
}

async fn discard(mut body: Incoming) {
    let mut bytes = 0;
    while bytes <= BYTES_MAX {
        let next = std::future::poll_fn(|context| Pin::new(&mut body).poll_frame(context));
        let Ok(Some(Ok(frame))) = timeout(SILENCE_MAX, next).await else { return };
        bytes += frame.data_ref().map_or(0, Bytes::len);
    }
}
