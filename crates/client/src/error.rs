//! Why there is no answer.

use ramwright_api::problem::Problem;

/// What made an answer unreadable.
pub(crate) type Cause = Box<dyn std::error::Error + Send + Sync>;

/// Why there is no answer, by its cause.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ClientError {
    /// The address given is not one at which a service can be.
    #[error("`{address}` is no address of a service: it must be like http://host:port")]
    Address {
        /// The address given.
        address: String,
    },
    /// The permalink is not one of the operation asked for.
    #[error("`{permalink}` is no permalink of {operation}")]
    Permalink {
        /// The permalink given.
        permalink: String,
        /// The operation asked for.
        operation: &'static str,
    },
    /// The service could not be reached, or the connection broke.
    #[error("no answer came")]
    Transport(#[from] reqwest::Error),
    /// The service answered with a problem: it says what is wrong and how to put it right.
    #[error(transparent)]
    Problem(#[from] Box<Problem>),
    /// What was answered is neither the answer nor a problem, as when something else listens at the address.
    #[error("the answer with status {status} cannot be read: {excerpt}")]
    Unreadable {
        /// The HTTP status.
        status: u16,
        /// The beginning of what was answered.
        excerpt: String,
        /// What is wrong with it, where it was read as JSON or as text.
        #[source]
        source: Option<Cause>,
    },
}
