//! The demonstration: three invented lifts, sent by the service's own client and shown as a person reads them.
//!
//! Nothing is computed here: every number is a value of an answer, rounded for people.

mod checks;
mod circuit;
mod figures;
mod page;
mod rams;
mod sequence;
mod shares;
mod sheet;
mod table;
#[cfg(test)]
mod tests;

use std::io::Write;
use std::time::Instant;

use page::Page;
use ramwright_client::{Client, ClientError};
use serde_json::Value;

/// Why the demonstration did not reach its end.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum DemoError {
    /// An example is not JSON.
    #[error("the example {name} is not JSON")]
    Example {
        /// Its name.
        name: &'static str,
        /// What is wrong with it.
        #[source]
        source: serde_json::Error,
    },
    /// There is no client, or the service did not answer one of the lifts.
    #[error("the service gave no answer")]
    Service(#[from] ClientError),
    /// Standard output took no more.
    #[error("the demonstration could not be printed")]
    Output(#[from] std::io::Error),
}

/// Name of each lift, and its request.
const LIFTS: [(&str, &str); 3] = [
    ("transformer", include_str!("../../../../openapi/examples/transformer.json")),
    ("bedplate", include_str!("../../../../openapi/examples/bedplate.json")),
    ("link_press", include_str!("../../../../openapi/examples/link_press.json")),
];

/// Shows the service at this address at work.
///
/// # Errors
/// [`DemoError`] if a step fails.
pub async fn run(base_url: &str) -> Result<(), DemoError> {
    let client = Client::new(base_url)?;
    print(&introduction(base_url))?;
    let begun = Instant::now();
    for (index, (name, text)) in LIFTS.iter().enumerate() {
        let request: Value = serde_json::from_str(text).map_err(|source| DemoError::Example { name, source })?;
        let answer = client.plan_lift(&request).await?;
        print(&sheet::sheet(&answer, &format!("LIFT {} OF {}", index + 1, LIFTS.len())))?;
    }
    print(&closing(begun.elapsed().as_secs_f64()))
}

fn introduction(base_url: &str) -> String {
    let mut page = Page::default();
    page.line("RAMWRIGHT DEMONSTRATION");
    page.line(&format!(
        "Three invented lifts with invented rams, sent to {base_url}/v1/lift-plans as any program would send them. \
         Never plan a real lift with these figures."
    ));
    page.line(
        "Figures are rounded to four digits, utilisations (1.00 = at the limit) upwards. What is not checked has not \
         passed.",
    );
    page.into_text()
}

fn closing(seconds: f64) -> String {
    let mut page = Page::default();
    page.rule();
    page.line(&format!(
        "{} lifts asked, computed, answered and printed in {} s. The requests are the examples of POST /v1/lift-plans \
         in the service's description at /docs.",
        LIFTS.len(),
        figures::figures(seconds)
    ));
    page.into_text()
}

/// Prints all of it or fails.
fn print(text: &str) -> Result<(), DemoError> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()?;
    Ok(())
}
