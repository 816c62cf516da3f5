//! What happens to every request before and after its handler.

pub(crate) mod access_log;
pub(crate) mod cors;
pub(crate) mod keys;
pub(crate) mod open_requests;
pub(crate) mod request_id;
pub(crate) mod safety;
pub(crate) mod trace_context;
