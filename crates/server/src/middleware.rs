//! What happens to every request before and after its handler.

pub(crate) mod access_log;
pub(crate) mod cors;
pub(crate) mod open_requests;
pub(crate) mod request_id;
