//! Log lines on standard output.

use tracing_subscriber::EnvFilter;

use crate::config::LogFormat;

/// Begins to write log lines; later calls change nothing.
pub fn start(format: LogFormat, filter: &str) {
    // The filter was checked when the settings were read.
    let filter = EnvFilter::try_new(filter).unwrap_or_default();
    let builder = tracing_subscriber::fmt().with_env_filter(filter).with_target(false);
    // It fails only where a subscriber is at work already, as in a process that starts the service twice.
    let _ = match format {
        LogFormat::Json => builder.json().flatten_event(true).with_current_span(false).with_span_list(false).try_init(),
        LogFormat::Text => builder.with_ansi(false).try_init(),
    };
}

/// Makes a panic a log line: its place, but not its message, which may hold what a client sent.
pub fn hide_panic_messages() {
    std::panic::set_hook(Box::new(|panic| {
        let place = panic.location().map(ToString::to_string).unwrap_or_default();
        tracing::error!(place, "panic");
    }));
}
