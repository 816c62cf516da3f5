//! Handlers: each reads what it was asked, calls one function, and picks a format.

pub(crate) mod batches;
mod calculation;
pub(crate) mod calculations;
pub(crate) mod catalogues;
pub(crate) mod documents;
pub(crate) mod health;
pub(crate) mod pages;
pub(crate) mod portal;
pub(crate) mod problems;
pub(crate) mod quick;
pub(crate) mod reference;
pub(crate) mod replays;
pub(crate) mod sheets;
pub(crate) mod spreadsheet;
pub(crate) mod verification;

pub(crate) use calculation::respond;
