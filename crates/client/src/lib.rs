//! A typed client of the service.
//!
//! ```no_run
//! # async fn example() -> Result<(), ramwright_client::ClientError> {
//! let client = ramwright_client::Client::new("http://127.0.0.1:8080")?;
//! let request = serde_json::json!({
//!     "load_case": {
//!         "weight": "212 t",
//!         "travel": "420 mm",
//!         "points": [{ "id": "A" }, { "id": "B" }, { "id": "C" }, { "id": "D" }]
//!     }
//! });
//! for point in client.share_load(request).await?.result.points {
//!     println!("{}: {} kN", point.point, point.share.greatest.kn());
//! }
//! # Ok(())
//! # }
//! ```

mod body;
mod client;
mod error;
mod listed;
mod operations;
#[cfg(test)]
mod tests;

pub use body::Body;
pub use client::Client;
pub use error::ClientError;
pub use listed::{BasisList, Health, ListedUnit, MaterialList, Probe, UnitList};
