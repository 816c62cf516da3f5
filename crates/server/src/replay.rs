//! The command `replay`: a saved answer computed again without a server, told to a person.

use std::fmt::Write as _;
use std::fs::File;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::atomic::AtomicBool;

use ramwright_api::problem::Problem;
use ramwright_api::replay::{Difference, DigestStatus, Outcome, Replay, Stamp, replay};
use serde_json::Value;

use crate::body::greatest_answer;
use crate::catalogues::{self, CatalogueError};
use crate::config::Config;

/// The exit code for a file that cannot be replayed.
const CANNOT: u8 = 2;

/// Why a file cannot be replayed.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ReplayError {
    /// A catalogue cannot be read.
    #[error(transparent)]
    Catalogue(#[from] CatalogueError),
    /// The file cannot be read.
    #[error("cannot read {path}")]
    Read {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        source: io::Error,
    },
    /// The file is larger than any answer.
    #[error("{path} is larger than {most} bytes, four times --body-limit-bytes")]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// The greatest size in bytes.
        most: usize,
    },
    /// The file is no saved answer.
    #[error("{}", problem_in_words(.0))]
    Problem(Problem),
    /// What came of it cannot be printed.
    #[error("cannot print")]
    Print(#[source] io::Error),
}

/// Replays a file, `-` for standard input, with the catalogues that the service would load, and prints what came of it.
///
/// The exit code is 0 for `same`, 1 for anything else that was computed or refused.
///
/// # Errors
/// [`ReplayError`] says why the file cannot be replayed; its exit code is [`exit_code_of_error`].
pub fn run(path: &Path, config: &Config) -> Result<ExitCode, ReplayError> {
    let body = read(path, greatest_answer(config.body_limit_bytes))?;
    let catalogues = catalogues::load(config.catalogues.as_deref())?;
    let replayed = replay(&body, &catalogues, config.body_limit_bytes, &AtomicBool::new(false));
    let replayed = replayed.map_err(ReplayError::Problem)?;
    io::stdout().write_all(in_words(&replayed).as_bytes()).map_err(ReplayError::Print)?;
    Ok(if replayed.outcome == Outcome::Same { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// The exit code of a replay that could not be made, other than that of one that found a difference.
pub fn exit_code_of_error() -> ExitCode {
    ExitCode::from(CANNOT)
}

fn read(path: &Path, most: usize) -> Result<Vec<u8>, ReplayError> {
    let unreadable = |source| ReplayError::Read { path: path.to_owned(), source };
    let source: Box<dyn Read> =
        if path == Path::new("-") { Box::new(io::stdin()) } else { Box::new(File::open(path).map_err(unreadable)?) };
    let mut body = Vec::new();
    // One byte more than is taken, so that too much is told from just enough.
    let limit = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    source.take(limit).read_to_end(&mut body).map_err(unreadable)?;
    if most < body.len() { Err(ReplayError::TooLarge { path: path.to_owned(), most }) } else { Ok(body) }
}

/// What came of a replay, a line each.
fn in_words(replayed: &Replay) -> String {
    let mut text = format!("{}\n", head(replayed));
    for (name, saved, now) in stamps(&replayed.saved, replayed.now.as_ref()) {
        let line = match (saved, now) {
            (saved, Some(now)) if saved == now => saved,
            (saved, Some(now)) => format!("saved {saved}, now {now}"),
            (saved, None) => format!("saved {saved}"),
        };
        line_of(&mut text, name, &line);
    }
    for (name, check) in
        [("request digest", &replayed.saved_request_digest), ("result digest", &replayed.saved_result_digest)]
    {
        let status = match check.status {
            DigestStatus::Holds => "holds",
            DigestStatus::DoesNotHold => "DOES NOT HOLD",
            DigestStatus::NotChecked => "not checked",
        };
        line_of(&mut text, name, &format!("{status}: {}", check.text.as_str()));
    }
    for reason in &replayed.why {
        line_of(&mut text, "why", reason.text.as_str());
    }
    if let Some(problem) = &replayed.problem {
        text.push_str(&problem_in_words(problem));
        text.push('\n');
    }
    replayed.differences.iter().for_each(|difference| difference_in_words(&mut text, difference));
    if 0 < replayed.left_off {
        line_of(&mut text, "and", &format!("{} more differences, not listed", replayed.left_off));
    }
    text
}

fn head(replayed: &Replay) -> String {
    let operation = &replayed.operation;
    match (replayed.outcome, replayed.result_same) {
        (Outcome::Same, _) => format!("same: {operation}"),
        (Outcome::Refused, _) => format!("refused: the request of this {operation} is refused now"),
        (Outcome::Differs, Some(true)) => format!("differs: {operation}, but result and verdict are the same"),
        (Outcome::Differs, _) => format!("differs: {operation}, in result or verdict"),
    }
}

/// Name, saved and now of all by which an answer tells which it is.
fn stamps(saved: &Stamp, now: Option<&Stamp>) -> Vec<(&'static str, String, Option<String>)> {
    let catalogue = |stamp: &Stamp| stamp.catalogue.as_ref().map(|used| format!("{} {}", used.name, used.digest));
    let line = |name, of: &dyn Fn(&Stamp) -> Option<String>| {
        let said = |stamp| of(stamp).unwrap_or_else(|| "none".to_owned());
        (name, said(saved), now.map(said))
    };
    vec![
        line("engine", &|stamp| stamp.engine_version.clone()),
        line("defaults", &|stamp| stamp.defaults.clone()),
        line("catalogue", &catalogue),
        line("request", &|stamp| stamp.request_digest.clone()),
        line("result", &|stamp| stamp.result_digest.clone()),
    ]
}

fn line_of(text: &mut String, name: &str, what: &str) {
    // Writing to a string cannot fail.
    let _ = writeln!(text, "  {name:<15}{}", printable(what));
}

fn difference_in_words(text: &mut String, difference: &Difference) {
    let side = |value: &Option<Value>| value.as_ref().map_or_else(|| "(not there)".to_owned(), Value::to_string);
    let _ = writeln!(text, "{}", printable(&difference.pointer));
    line_of(text, "saved", &side(&difference.saved));
    line_of(text, "now", &side(&difference.now));
}

/// A problem with each fault on a line of its own.
fn problem_in_words(problem: &Problem) -> String {
    let mut text = printable(&problem.to_string());
    for fault in &problem.errors {
        let place = fault.pointer.as_deref().or(fault.parameter.as_deref()).unwrap_or("#");
        let hint = fault.hint.as_ref().map(|hint| format!(" ({hint})")).unwrap_or_default();
        let _ = write!(text, "\n  {}", printable(&format!("{place}: {}{hint}", fault.detail)));
    }
    text
}

/// A text that a file brought along, with nothing in it that a terminal would take for an order.
fn printable(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for one in text.chars() {
        if one.is_control() { shown.extend(one.escape_unicode()) } else { shown.push(one) }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_a_terminal_is_given_no_orders() {
        assert_eq!(printable("a\u{1b}[2J\u{9b}b\n"), "a\\u{1b}[2J\\u{9b}b\\u{a}");
        assert_eq!(printable("12 t \u{e4}"), "12 t \u{e4}");
    }

    #[test]
    fn verify_a_file_is_read_up_to_its_limit() {
        let path = std::env::temp_dir().join(format!("ramwright-replay-{}", std::process::id()));
        std::fs::write(&path, "12345").unwrap();
        let (just, more) = (read(&path, 5), read(&path, 4));
        std::fs::remove_file(&path).unwrap();
        assert_eq!(just.unwrap(), b"12345");
        assert!(matches!(more, Err(ReplayError::TooLarge { most: 4, .. })));
        assert!(matches!(read(&path, 5), Err(ReplayError::Read { .. })));
    }
}
