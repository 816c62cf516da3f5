//! What the tests that call the running service share: starting it, asking it, and counting what it has answered.

#[path = "support/compare.rs"]
pub mod compare;
#[path = "support/description.rs"]
pub mod description;
#[path = "support/edit.rs"]
pub mod edit;
#[path = "support/examples.rs"]
pub mod examples;
#[path = "support/honest.rs"]
pub mod honest;
#[path = "support/places.rs"]
pub mod places;
#[path = "support/record.rs"]
pub mod record;
#[path = "support/service.rs"]
pub mod service;
#[path = "support/socket.rs"]
pub mod socket;
#[path = "support/validate.rs"]
pub mod validate;

pub use service::{Reply, Service};
