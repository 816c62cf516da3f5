//! Asks the service on this machine whether it is alive, for containers that have no shell.

use std::io::{self, Read, Write};
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, TcpStream};
use std::time::Duration;

const TIMEOUT: Duration = Duration::from_secs(3);

/// Whether the service at the configured address says that it is alive.
///
/// # Errors
/// If there is no connection or no answer in time.
pub fn is_alive(configured: SocketAddr) -> io::Result<bool> {
    let address = reachable(configured);
    let mut stream = TcpStream::connect_timeout(&address, TIMEOUT)?;
    stream.set_read_timeout(Some(TIMEOUT))?;
    stream.set_write_timeout(Some(TIMEOUT))?;
    write!(stream, "GET /health/live HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n")?;
    let mut status_line = [0; b"HTTP/1.1 200 ".len()];
    stream.read_exact(&mut status_line)?;
    Ok(&status_line == b"HTTP/1.1 200 ")
}

/// A service that listens on every address is asked through loopback.
fn reachable(configured: SocketAddr) -> SocketAddr {
    let ip = match configured.ip() {
        IpAddr::V4(ip) if ip.is_unspecified() => IpAddr::V4(Ipv4Addr::LOCALHOST),
        IpAddr::V6(ip) if ip.is_unspecified() => IpAddr::V6(Ipv6Addr::LOCALHOST),
        ip => ip,
    };
    SocketAddr::new(ip, configured.port())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_every_address_is_asked_through_loopback() {
        for (configured, expected) in
            [("0.0.0.0:80", "127.0.0.1:80"), ("[::]:80", "[::1]:80"), ("10.0.0.7:80", "10.0.0.7:80")]
        {
            assert_eq!(reachable(configured.parse().unwrap()), expected.parse().unwrap());
        }
    }
}
