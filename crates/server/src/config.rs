//! The settings of the service: each is a flag and an environment variable `RAMWRIGHT_*`.

use std::fmt;
use std::net::{Ipv4Addr, SocketAddr};
use std::num::NonZeroUsize;
use std::path::PathBuf;
use std::time::Duration;

use axum::http::{HeaderValue, Uri};
use clap::{Args, ValueEnum};

/// The start of the name of every variable that belongs to the service.
pub const PREFIX: &str = "RAMWRIGHT_";

/// How log lines are written.
#[derive(Clone, Copy, Debug, Eq, PartialEq, ValueEnum)]
pub enum LogFormat {
    /// One JSON object a line.
    Json,
    /// One line of text, for people.
    Text,
}

/// A web origin that may read answers in a browser, or any.
#[derive(Clone, Debug, Eq, PartialEq)]
pub enum Origin {
    /// Every origin; must be asked for with `*`.
    Any,
    /// One origin, compared letter by letter.
    Exactly(HeaderValue),
}

/// The web origins that may read answers in a browser.
#[derive(Clone, Debug, Default, Eq, PartialEq)]
pub struct Origins(pub Vec<Origin>);

/// Where a collector of traces listens, without the path that OTLP gives it; always `http://`.
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Collector(pub Uri);

/// The settings of the service.
#[derive(Args, Clone, Debug, Eq, PartialEq)]
pub struct Config {
    /// Address and port to listen on.
    #[arg(long, global = true, env = "RAMWRIGHT_ADDRESS", default_value = "127.0.0.1:8080")]
    pub address: SocketAddr,

    /// Address and port of a second listener for `/metrics` and health checks; `/metrics` is then there only.
    #[arg(long, global = true, env = "RAMWRIGHT_ADMIN_ADDRESS")]
    pub admin_address: Option<SocketAddr>,

    /// File with a line `name sha256` for each key that callers may send as `Authorization: Bearer`; without it no key is asked for.
    #[arg(long, global = true, env = "RAMWRIGHT_API_KEYS_FILE", value_parser = folder)]
    pub api_keys_file: Option<PathBuf>,

    /// Requests that each key may make in a minute; one more is answered 429; 0 for no limit.
    #[arg(long, global = true, env = "RAMWRIGHT_KEY_REQUESTS_PER_MINUTE", default_value = "0", value_parser = clap::value_parser!(u32).range(0..=1_000_000))]
    pub key_requests_per_minute: u32,

    /// Folder with one folder for each further catalogue; the built-in one is always there.
    #[arg(long, global = true, env = "RAMWRIGHT_CATALOGUES", value_parser = folder)]
    pub catalogues: Option<PathBuf>,

    /// How log lines are written to standard output.
    #[arg(long, global = true, env = "RAMWRIGHT_LOG_FORMAT", default_value = "json")]
    pub log_format: LogFormat,

    /// Which log lines are written: a level, or a list such as `info,hyper=debug`.
    #[arg(long, global = true, env = "RAMWRIGHT_LOG_FILTER", default_value = "info", value_parser = log_filter)]
    pub log_filter: String,

    /// Collector of traces (OTLP over HTTP) that is told of every request, such as `http://127.0.0.1:4318`; none by default.
    #[arg(long, global = true, env = "RAMWRIGHT_OTLP_ENDPOINT", value_parser = collector)]
    pub otlp_endpoint: Option<Collector>,

    /// Calculation threads; by default one for each processor.
    #[arg(long, global = true, env = "RAMWRIGHT_CALCULATION_THREADS", default_value_t = processors(), value_parser = whole::<1, 256>)]
    pub calculation_threads: usize,

    /// Calculations that may wait for a thread; one more is answered 503.
    #[arg(long, global = true, env = "RAMWRIGHT_CALCULATION_QUEUE", default_value = "64", value_parser = whole::<1, 100_000>)]
    pub calculation_queue: usize,

    /// Seconds from the request to its answer, waiting included; after that 503.
    #[arg(long, global = true, env = "RAMWRIGHT_CALCULATION_TIMEOUT_S", default_value = "25", value_parser = seconds)]
    pub calculation_timeout_s: Duration,

    /// Seconds in which the head of a request must have come; an idle HTTP/1 connection is closed after as many.
    #[arg(long, global = true, env = "RAMWRIGHT_HEADER_TIMEOUT_S", default_value = "10", value_parser = seconds)]
    pub header_timeout_s: Duration,

    /// Seconds in which the body of a request must have come; after that 408.
    #[arg(long, global = true, env = "RAMWRIGHT_BODY_TIMEOUT_S", default_value = "20", value_parser = seconds)]
    pub body_timeout_s: Duration,

    /// Seconds after which a connection on which nothing moves is closed.
    #[arg(long, global = true, env = "RAMWRIGHT_IDLE_TIMEOUT_S", default_value = "75", value_parser = seconds)]
    pub idle_timeout_s: Duration,

    /// Greatest size of a request's body in bytes; more is answered 413.
    #[arg(long, global = true, env = "RAMWRIGHT_BODY_LIMIT_BYTES", default_value = "1048576", value_parser = whole::<1024, 67_108_864>)]
    pub body_limit_bytes: usize,

    /// Connections open at once; further ones wait.
    #[arg(long, global = true, env = "RAMWRIGHT_CONNECTIONS_MAX", default_value = "1024", value_parser = whole::<1, 100_000>)]
    pub connections_max: usize,

    /// Requests open at once; one more is answered 503. Health checks do not count.
    #[arg(long, global = true, env = "RAMWRIGHT_REQUESTS_MAX", default_value = "256", value_parser = whole::<1, 100_000>)]
    pub requests_max: usize,

    /// Batches open at once; one more is answered 503.
    #[arg(long, global = true, env = "RAMWRIGHT_BATCHES_MAX", default_value = "8", value_parser = whole::<1, 10_000>)]
    pub batches_max: usize,

    /// Web origins that may read answers in a browser, separated by commas; `*` for all; none by default.
    #[arg(long, global = true, env = "RAMWRIGHT_CORS_ORIGINS", default_value = "", value_parser = origins)]
    pub cors_origins: Origins,

    /// Web origins that may show the service in a frame, separated by commas; none by default.
    #[arg(long, global = true, env = "RAMWRIGHT_FRAME_ANCESTORS", default_value = "", value_parser = origins)]
    pub frame_ancestors: Origins,

    /// Seconds between saying "not ready" and closing the listener, when asked to stop.
    #[arg(long, global = true, env = "RAMWRIGHT_DRAIN_SETTLE_S", default_value = "3", value_parser = seconds_or_none)]
    pub drain_settle_s: Duration,

    /// Seconds that open requests have to end, once the listener is closed.
    #[arg(long, global = true, env = "RAMWRIGHT_DRAIN_TIMEOUT_S", default_value = "25", value_parser = seconds_or_none)]
    pub drain_timeout_s: Duration,
}

impl Config {
    /// The default settings on a free loopback port, stopping without delay: for tests and the demonstration.
    pub fn on_loopback() -> Self {
        Self {
            address: SocketAddr::from((Ipv4Addr::LOCALHOST, 0)),
            admin_address: None,
            api_keys_file: None,
            key_requests_per_minute: 0,
            catalogues: None,
            log_format: LogFormat::Json,
            log_filter: "info".to_owned(),
            otlp_endpoint: None,
            calculation_threads: processors(),
            calculation_queue: 64,
            calculation_timeout_s: Duration::from_secs(25),
            header_timeout_s: Duration::from_secs(10),
            body_timeout_s: Duration::from_secs(20),
            idle_timeout_s: Duration::from_secs(75),
            body_limit_bytes: 1_048_576,
            connections_max: 1024,
            requests_max: 256,
            batches_max: 8,
            cors_origins: Origins::default(),
            frame_ancestors: Origins::default(),
            drain_settle_s: Duration::ZERO,
            drain_timeout_s: Duration::from_secs(25),
        }
    }
}

impl fmt::Display for Config {
    /// Every setting by the name of its variable, without the prefix.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = |path: &Option<PathBuf>| path.as_ref().map(|path| path.display().to_string()).unwrap_or_default();
        let catalogues = path(&self.catalogues);
        let admin = self.admin_address.map(|address| address.to_string()).unwrap_or_default();
        let log_format =
            self.log_format.to_possible_value().map(|value| value.get_name().to_owned()).unwrap_or_default();
        write!(f, "ADDRESS={} CATALOGUES={catalogues} LOG_FORMAT={log_format}", self.address)?;
        write!(f, " LOG_FILTER={} CALCULATION_THREADS={}", self.log_filter, self.calculation_threads)?;
        let collector = self.otlp_endpoint.as_ref().map(|collector| collector.0.to_string()).unwrap_or_default();
        write!(f, " OTLP_ENDPOINT={collector}")?;
        write!(f, " CALCULATION_QUEUE={} BODY_LIMIT_BYTES={}", self.calculation_queue, self.body_limit_bytes)?;
        write!(f, " CONNECTIONS_MAX={} REQUESTS_MAX={}", self.connections_max, self.requests_max)?;
        write!(f, " BATCHES_MAX={} CORS_ORIGINS={}", self.batches_max, self.cors_origins)?;
        write!(f, " FRAME_ANCESTORS={} ADMIN_ADDRESS={admin}", self.frame_ancestors)?;
        write!(f, " API_KEYS_FILE={}", path(&self.api_keys_file))?;
        write!(f, " KEY_REQUESTS_PER_MINUTE={}", self.key_requests_per_minute)?;
        for (name, duration) in [
            ("CALCULATION_TIMEOUT_S", self.calculation_timeout_s),
            ("HEADER_TIMEOUT_S", self.header_timeout_s),
            ("BODY_TIMEOUT_S", self.body_timeout_s),
            ("IDLE_TIMEOUT_S", self.idle_timeout_s),
            ("DRAIN_SETTLE_S", self.drain_settle_s),
            ("DRAIN_TIMEOUT_S", self.drain_timeout_s),
        ] {
            write!(f, " {name}={}", duration.as_secs_f64())?;
        }
        Ok(())
    }
}

impl fmt::Display for Origins {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let origins: Vec<String> = self.0.iter().map(ToString::to_string).collect();
        f.write_str(&origins.join(","))
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Any => f.write_str("*"),
            Self::Exactly(value) => f.write_str(value.to_str().unwrap_or_default()),
        }
    }
}

fn processors() -> usize {
    std::thread::available_parallelism().map_or(1, NonZeroUsize::get)
}

fn whole<const LEAST: usize, const GREATEST: usize>(text: &str) -> Result<usize, String> {
    let number: usize = text.trim().parse().map_err(|_| "must be a whole number".to_owned())?;
    if (LEAST..=GREATEST).contains(&number) { Ok(number) } else { Err(format!("must be from {LEAST} to {GREATEST}")) }
}

fn seconds_or_none(text: &str) -> Result<Duration, String> {
    const GREATEST_S: f64 = 3600.0;
    let number: f64 = text.trim().parse().map_err(|_| "must be a number of seconds".to_owned())?;
    if (0.0..=GREATEST_S).contains(&number) {
        Ok(Duration::from_secs_f64(number))
    } else {
        Err(format!("must be from 0 to {GREATEST_S} seconds"))
    }
}

fn seconds(text: &str) -> Result<Duration, String> {
    let duration = seconds_or_none(text)?;
    if duration.is_zero() { Err("must be more than 0 seconds".to_owned()) } else { Ok(duration) }
}

#[expect(clippy::unnecessary_wraps, reason = "the form that a value parser has")]
fn folder(text: &str) -> Result<PathBuf, String> {
    // Nothing is let through here, and is no folder when the catalogues are loaded.
    Ok(PathBuf::from(text))
}

fn log_filter(text: &str) -> Result<String, String> {
    tracing_subscriber::EnvFilter::try_new(text).map(|_| text.to_owned()).map_err(|fault| fault.to_string())
}

/// The service has no TLS, neither way: what goes further than to this machine or its network goes through a collector here.
fn collector(text: &str) -> Result<Collector, String> {
    const FORM: &str = "must be an address such as http://127.0.0.1:4318, without https, name or query";
    let uri: Uri = text.trim().parse().map_err(|_| FORM.to_owned())?;
    let named = uri.authority().is_some_and(|authority| authority.as_str().contains('@'));
    let plain = uri.scheme_str() == Some("http") && uri.query().is_none() && !named;
    if plain { Ok(Collector(uri)) } else { Err(FORM.to_owned()) }
}

fn origins(text: &str) -> Result<Origins, String> {
    // A variable that is set to nothing is as one that is not set.
    let listed = text.split(',').filter(|_| !text.trim().is_empty());
    listed.map(origin).collect::<Result<_, _>>().map(Origins)
}

fn origin(text: &str) -> Result<Origin, String> {
    const FORM: &str = "must be an origin such as https://portal.example, or *";
    let text = text.trim();
    if text == "*" {
        return Ok(Origin::Any);
    }
    let uri: axum::http::Uri = text.parse().map_err(|_| FORM.to_owned())?;
    let of_the_web = matches!(uri.scheme_str(), Some("http" | "https"));
    // `Uri` reads `https://a` and `https://a/` alike, but a browser never sends the slash.
    if !of_the_web || uri.host().is_none() || uri.path() != "/" || uri.query().is_some() || text.ends_with('/') {
        return Err(FORM.to_owned());
    }
    HeaderValue::from_str(text).map(Origin::Exactly).map_err(|_| FORM.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_numbers_out_of_range_are_refused() {
        assert_eq!(whole::<1, 8>("8"), Ok(8));
        assert!(whole::<1, 8>("0").unwrap_err().contains("from 1 to 8"));
        assert!(whole::<1, 8>("9").is_err());
        assert!(whole::<1, 8>("1.5").is_err());
        assert!(whole::<1, 8>("").is_err());
    }

    #[test]
    fn verify_seconds_are_finite_and_a_timeout_is_never_nothing() {
        assert_eq!(seconds("0.5"), Ok(Duration::from_millis(500)));
        assert_eq!(seconds_or_none("0"), Ok(Duration::ZERO));
        for bad in ["0", "-1", "NaN", "inf", "1e9", "10s", ""] {
            assert!(seconds(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn verify_an_origin_is_scheme_host_and_port_only() {
        assert_eq!(origin("*"), Ok(Origin::Any));
        for good in ["https://portal.example", "http://localhost:3000"] {
            assert_eq!(origin(good), Ok(Origin::Exactly(HeaderValue::from_static(good))));
        }
        for bad in ["portal.example", "https://portal.example/", "https://portal.example/a", "null", "ftp://a", ""] {
            assert!(origin(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn verify_origins_are_a_list_and_nothing_is_none() {
        assert_eq!(origins(""), Ok(Origins::default()));
        assert_eq!(origins("https://a, https://b").unwrap().0.len(), 2);
        assert!(origins("https://a,").is_err());
    }

    #[test]
    fn verify_a_collector_is_reached_without_tls_and_without_a_name() {
        for good in ["http://127.0.0.1:4318", "http://collector:4318/", "http://collector/prefix", "http://[::1]:4318"]
        {
            assert!(collector(good).is_ok(), "{good}");
        }
        for bad in ["https://collector:4318", "collector:4318", "http://", "http://a:b@collector", "http://c?x=1", ""] {
            assert!(collector(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn verify_a_log_filter_is_checked() {
        assert!(log_filter("info,hyper=debug").is_ok());
        assert!(log_filter("hyper=loud").is_err());
    }
}
