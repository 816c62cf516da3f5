//! Requests written byte by byte, for what no client library would send.

use std::net::SocketAddr;
use std::time::Duration;

use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;

/// Longer than any answer to a raw request may take.
const PATIENCE: Duration = Duration::from_secs(20);

/// Opens a connection.
pub async fn connect(address: SocketAddr) -> TcpStream {
    TcpStream::connect(address).await.expect("the service listens")
}

/// Writes a request and reads until the service closes; the request must say `Connection: close`.
pub async fn exchange(address: SocketAddr, request: &[u8]) -> String {
    let mut stream = connect(address).await;
    // The service may close before it has read all; what it says until then is the answer.
    let _ = stream.write_all(request).await;
    read_to_end(&mut stream).await
}

/// Reads until the service closes.
pub async fn read_to_end(stream: &mut TcpStream) -> String {
    let mut answer = Vec::new();
    // A reset after the answer is as good as a close.
    let read = tokio::time::timeout(PATIENCE, stream.read_to_end(&mut answer)).await;
    assert!(read.is_ok(), "the connection stays open; so far: {}", String::from_utf8_lossy(&answer));
    String::from_utf8_lossy(&answer).into_owned()
}

/// The status of an answer as it was written.
pub fn status(answer: &str) -> Option<u16> {
    answer.strip_prefix("HTTP/1.1 ")?.get(..3)?.parse().ok()
}
