//! Runs the tests in their order and the coverage last.

use std::future::Future;
use std::pin::Pin;
use std::process::ExitCode;
use std::time::Instant;

use ramwright_tests::Service;

use crate::coverage;

type Running = Pin<Box<dyn Future<Output = ()> + Send>>;

/// One test.
pub(crate) struct Case {
    name: &'static str,
    test: fn(&'static Service) -> Running,
}

impl Case {
    pub(crate) fn new(name: &'static str, test: fn(&'static Service) -> Running) -> Self {
        Self { name, test }
    }
}

/// What the command line asks for, in the words of the standard harness.
#[derive(Default)]
struct Asked {
    list: bool,
    exact: bool,
    ignored_only: bool,
    filters: Vec<String>,
    skip: Vec<String>,
}

impl Asked {
    fn from_command_line() -> Self {
        let mut asked = Self::default();
        let mut words = std::env::args().skip(1);
        while let Some(word) = words.next() {
            match word.as_str() {
                "--list" => asked.list = true,
                "--exact" => asked.exact = true,
                "--ignored" => asked.ignored_only = true,
                "--skip" => asked.skip.extend(words.next()),
                // These change how the standard harness runs or prints, and have a value.
                "--test-threads" | "--color" | "--format" | "--logfile" | "-Z" => drop(words.next()),
                flag if flag.starts_with('-') => {}
                _ => asked.filters.push(word),
            }
        }
        asked
    }

    fn wants(&self, name: &str) -> bool {
        let fits = |filter: &String| if self.exact { name == filter } else { name.contains(filter.as_str()) };
        let wanted = self.filters.is_empty() || self.filters.iter().any(fits);
        wanted && !self.skip.iter().any(fits) && !self.ignored_only
    }
}

pub(crate) fn run(cases: &[Case]) -> ExitCode {
    let asked = Asked::from_command_line();
    let wanted: Vec<&Case> = cases.iter().filter(|case| asked.wants(case.name)).collect();
    if asked.list {
        cases.iter().filter(|case| asked.wants(case.name)).for_each(|case| println!("{}: test", case.name));
        return ExitCode::SUCCESS;
    }
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().expect("there is a runtime");
    let failed = runtime.block_on(all(&wanted, wanted.len() == cases.len()));
    println!("\n{} tests of the running service, {failed} failed", wanted.len());
    if failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Runs the tests, and the coverage if none was left out; gives how many failed.
async fn all(wanted: &[&Case], complete: bool) -> usize {
    if wanted.is_empty() {
        return 0;
    }
    // The service lives as long as the process.
    let service: &'static Service = Box::leak(Box::new(Service::start().await));
    let mut failed = 0;
    for case in wanted {
        failed += usize::from(!passes(case.name, (case.test)(service)).await);
    }
    if complete {
        let last = Box::pin(async { coverage::verify_every_operation_has_answered_a_success_and_a_problem(service) });
        failed +=
            usize::from(!passes("coverage::verify_every_operation_has_answered_a_success_and_a_problem", last).await);
    } else {
        println!("coverage is not judged: some tests were left out");
    }
    failed
}

async fn passes(name: &str, test: Running) -> bool {
    let begun = Instant::now();
    // The panic's message has been printed by the time the task has ended.
    let passed = tokio::spawn(test).await.is_ok();
    println!("test {name} ... {} in {:.2} s", if passed { "ok" } else { "FAILED" }, begun.elapsed().as_secs_f64());
    passed
}
