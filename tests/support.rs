//! support
