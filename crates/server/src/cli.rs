//! The command line: commands, settings from flags and environment, and what is said about bad ones.

use std::ffi::OsString;
use std::path::PathBuf;

use clap::error::{ContextKind, ContextValue};
use clap::{CommandFactory, Parser, Subcommand, ValueEnum};

use crate::config::{Config, PREFIX};

/// Sizes, verifies and sequences hydraulic lifts: an HTTP service.
#[derive(Debug, Parser)]
#[command(name = "ramwright", version, about, after_help = SAFETY)]
pub struct Cli {
    /// What to do; to serve if nothing is said.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// The settings.
    #[command(flatten)]
    pub config: Config,
}

/// What the program can do.
#[derive(Clone, Debug, Eq, PartialEq, Subcommand)]
pub enum Command {
    /// Serve until told to stop.
    Serve,
    /// Print the OpenAPI document.
    Openapi {
        /// Version of the description: 3.1 is complete, 3.0 is JSON only, for client generators.
        #[arg(long, default_value = "3.1")]
        version: OpenApiVersion,
    },
    /// Compute a saved JSON answer again, without a server, and compare; exit with 0 if it is the same, 1 if not, and 2 if
    /// the file cannot be read.
    Replay {
        /// The file; - for standard input.
        file: PathBuf,
    },
    /// Print every check with what it rests on, as a table in Markdown.
    Basis,
    /// Ask the service on this machine whether it is alive; exit with 0 if it is and 1 if not.
    Healthcheck,
    /// Read a caller's key from standard input and print what stands for it in the file of keys.
    HashKey,
    /// Start the service on a free port of this machine, show it at work, and stop.
    Demo,
}

/// Version of the OpenAPI document.
#[derive(Clone, Copy, Debug, Eq, PartialEq, ValueEnum)]
pub enum OpenApiVersion {
    /// 3.1.0.
    #[value(name = "3.1")]
    V3_1,
    /// 3.0.3.
    #[value(name = "3.0")]
    V3_0,
}

const SAFETY: &str = "Results do not replace local codes, the maker's data for the rams in use, or a competent \
engineer. Never work under a load held by oil alone.";

/// Reads the command line and the environment.
///
/// # Errors
/// What to print, for a flag or variable that is unknown or has a bad value, and for `--help` and `--version`.
pub fn parse(
    arguments: impl IntoIterator<Item = OsString>,
    variables: impl IntoIterator<Item = OsString>,
) -> Result<Cli, clap::Error> {
    let cli = Cli::try_parse_from(arguments).map_err(name_the_variable)?;
    match unknown_variable(variables) {
        Some(fault) => Err(Cli::command().error(clap::error::ErrorKind::UnknownArgument, fault)),
        None => Ok(cli),
    }
}

/// Adds the variable's name to a complaint about a value: clap names the flag only, wherever the value came from.
fn name_the_variable(fault: clap::Error) -> clap::Error {
    let Some(ContextValue::String(argument)) = fault.get(ContextKind::InvalidArg) else {
        return fault;
    };
    let Some(flag) = argument.split([' ', '=']).next().and_then(|word| word.strip_prefix("--")) else {
        return fault;
    };
    let Some(variable) = variable_of(flag) else {
        return fault;
    };
    let value = match fault.get(ContextKind::InvalidValue) {
        Some(ContextValue::String(value)) => value.clone(),
        _ => String::new(),
    };
    let reason = std::error::Error::source(&fault).map(|source| format!(": {source}")).unwrap_or_default();
    let choices = match fault.get(ContextKind::ValidValue) {
        Some(ContextValue::Strings(choices)) => format!(": must be one of {}", choices.join(", ")),
        _ => String::new(),
    };
    let message = format!("{variable} (flag --{flag}) has the bad value \"{value}\"{reason}{choices}");
    Cli::command().error(fault.kind(), message)
}

fn variable_of(flag: &str) -> Option<String> {
    let command = Cli::command();
    let argument = command.get_arguments().find(|argument| argument.get_long() == Some(flag))?;
    argument.get_env().map(|name| name.to_string_lossy().into_owned())
}

/// A variable that starts like ours and is none of ours would be a setting lost without a word.
fn unknown_variable(variables: impl IntoIterator<Item = OsString>) -> Option<String> {
    let command = Cli::command();
    let known: Vec<String> = command
        .get_arguments()
        .filter_map(|argument| argument.get_env())
        .map(|name| name.to_string_lossy().into_owned())
        .collect();
    let mut unknown: Vec<String> = variables
        .into_iter()
        .map(|name| name.to_string_lossy().into_owned())
        .filter(|name| name.starts_with(PREFIX) && !known.contains(name))
        .collect();
    unknown.sort();
    let first = unknown.first()?;
    let nearest = ramwright_api::read::nearest(first, known.iter().map(String::as_str));
    let hint = nearest.map(|name| format!("; the nearest is {name}")).unwrap_or_default();
    Some(format!("{first} is not a setting{hint}. Settings are listed by --help."))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(arguments: &[&str], variables: &[&str]) -> Result<Cli, String> {
        let arguments = std::iter::once("ramwright").chain(arguments.iter().copied()).map(OsString::from);
        parse(arguments, variables.iter().map(OsString::from)).map_err(|fault| fault.to_string())
    }

    #[test]
    fn verify_defaults_on_the_command_line_are_those_in_code() {
        let mut expected = Config::on_loopback();
        expected.address = "127.0.0.1:8080".parse().unwrap();
        expected.drain_settle_s = std::time::Duration::from_secs(3);
        assert_eq!(parsed(&[], &[]).unwrap().config, expected);
    }

    #[test]
    fn verify_flags_are_read_before_and_after_the_command() {
        for arguments in [["--address", "127.0.0.1:9", "serve"], ["serve", "--address", "127.0.0.1:9"]] {
            let cli = parsed(&arguments, &[]).unwrap();
            assert_eq!(cli.command, Some(Command::Serve));
            assert_eq!(cli.config.address.port(), 9);
        }
    }

    #[test]
    fn verify_a_bad_value_is_named_with_its_variable() {
        for (flag, variable) in [
            ("--address", "RAMWRIGHT_ADDRESS"),
            ("--log-format", "RAMWRIGHT_LOG_FORMAT"),
            ("--cors-origins", "RAMWRIGHT_CORS_ORIGINS"),
            ("--body-limit-bytes", "RAMWRIGHT_BODY_LIMIT_BYTES"),
        ] {
            let message = parsed(&[flag, "nonsense"], &[]).unwrap_err();
            assert!(message.contains(variable) && message.contains("nonsense"), "{message}");
        }
    }

    #[test]
    fn verify_an_unknown_variable_is_refused_with_the_nearest_name() {
        let message = parsed(&[], &["PATH", "RAMWRIGHT_ADRESS"]).unwrap_err();
        assert!(message.contains("RAMWRIGHT_ADRESS is not a setting"), "{message}");
        assert!(message.contains("the nearest is RAMWRIGHT_ADDRESS"), "{message}");
        assert!(parsed(&[], &["PATH", "RAMWRIGHT_ADDRESS"]).is_ok());
    }

    #[test]
    fn verify_the_settings_shown_at_the_start_are_all_there() {
        let shown = Config::on_loopback().to_string();
        for argument in Cli::command().get_arguments() {
            if let Some(variable) = argument.get_env().and_then(|name| name.to_str()) {
                let name = variable.strip_prefix(PREFIX).unwrap();
                assert!(shown.split(' ').any(|setting| setting.starts_with(&format!("{name}="))), "{name}");
            }
        }
    }

    #[test]
    fn verify_the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }
}
