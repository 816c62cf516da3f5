//! A line of the engine as it is printed: symbol, formula, numbers put in, result.

mod evaluate;
mod expression;
mod line;
mod math;
mod notation;
mod symbol;
#[cfg(test)]
mod tests;
mod working;

pub use line::WorkedLine;
pub(crate) use line::worked;
pub use math::Math;
pub(crate) use symbol::{plain_symbol, symbol as symbol_of};
