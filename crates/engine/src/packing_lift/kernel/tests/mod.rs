//! Tests of the planner as a whole.

mod oracle;
mod properties;
