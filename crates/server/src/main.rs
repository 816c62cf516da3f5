//! The program `ramwright`.

use std::io::Write;
use std::process::ExitCode;

use ramwright_server::cli::{self, Cli, Command, OpenApiVersion};
use ramwright_server::config::Config;
use ramwright_server::{Server, demo, healthcheck, keys, logging, replay, signals};

type Outcome = Result<ExitCode, Box<dyn std::error::Error>>;

fn main() -> ExitCode {
    let variables = std::env::vars_os().map(|(name, _)| name);
    let cli = match cli::parse(std::env::args_os(), variables) {
        Ok(cli) => cli,
        Err(message) => message.exit(),
    };
    run(cli).unwrap_or_else(|error| {
        complain(error.as_ref());
        ExitCode::FAILURE
    })
}

fn run(cli: Cli) -> Outcome {
    match cli.command.unwrap_or(Command::Serve) {
        Command::Serve => serve(cli.config),
        Command::Openapi { version } => print_description(version),
        Command::Replay { file } => Ok(replay::run(&file, &cli.config).unwrap_or_else(|error| {
            complain(&error);
            replay::exit_code_of_error()
        })),
        Command::Basis => {
            std::io::stdout().write_all(ramwright_report::basis_in_markdown().as_bytes())?;
            Ok(ExitCode::SUCCESS)
        }
        Command::Healthcheck => {
            Ok(if healthcheck::is_alive(cli.config.address)? { ExitCode::SUCCESS } else { ExitCode::FAILURE })
        }
        Command::HashKey => hash_key(),
        Command::Demo => show(),
    }
}

#[tokio::main]
async fn serve(config: Config) -> Outcome {
    logging::start(config.log_format, &config.log_filter);
    logging::hide_panic_messages();
    let stops = signals::listen()?;
    tracing::info!(version = env!("CARGO_PKG_VERSION"), settings = %config, "starting");
    let mut hang_ups = signals::hang_ups()?;
    let server = Server::bind(config).await?;
    let reloader = server.reloader();
    tokio::spawn(async move {
        while hang_ups.recv().await.is_some() {
            let reloader = reloader.clone();
            // What is wrong has been logged, and the service goes on.
            let _ = tokio::task::spawn_blocking(move || reloader.reload()).await;
        }
    });
    tracing::info!(address = %server.address(), "listening");
    let drain = async {
        // The sender lives as long as the process.
        let _ = stops.drain.await;
    };
    tokio::select! {
        () = server.run(drain) => Ok(ExitCode::SUCCESS),
        _ = stops.now => {
            tracing::warn!("asked twice to stop; open requests are given up");
            Ok(ExitCode::FAILURE)
        }
    }
}

fn print_description(version: OpenApiVersion) -> Outcome {
    let document = match version {
        OpenApiVersion::V3_1 => ramwright_server::description_3_1()?,
        OpenApiVersion::V3_0 => ramwright_server::description_3_0()?,
    };
    std::io::stdout().write_all(&document)?;
    Ok(ExitCode::SUCCESS)
}

/// The key is read from standard input, so that it stands in no list of processes and in no history.
fn hash_key() -> Outcome {
    let mut key = String::new();
    std::io::stdin().read_line(&mut key)?;
    let digest = keys::hash(key.trim_end_matches(['\r', '\n']))?;
    writeln!(std::io::stdout(), "{digest}")?;
    Ok(ExitCode::SUCCESS)
}

#[tokio::main]
async fn show() -> Outcome {
    let running = ramwright_server::spawn(Config::on_loopback()).await?;
    let outcome = demo::run(&running.base_url()).await;
    running.shutdown().await;
    outcome?;
    Ok(ExitCode::SUCCESS)
}

/// Prints an error with its causes.
fn complain(error: &dyn std::error::Error) {
    let mut message = format!("ramwright: {error}");
    let mut cause = error.source();
    while let Some(inner) = cause {
        message = format!("{message}: {inner}");
        cause = inner.source();
    }
    // If standard error is gone there is nowhere left to complain.
    let _ = writeln!(std::io::stderr(), "{message}");
}
