//! Engine results as they are handed over: tables for spreadsheets.
//!
//! Nothing is computed here: every cell is a value of a result, put into the units asked for.

mod calculation;
mod cell;
mod cell_value;
mod checks;
mod dialect;
pub mod document;
pub mod drawing;
mod envelope;
mod formula;
mod glossary;
mod html;
mod load_share_value;
mod load_shares;
mod markup;
mod packing_sequence;
mod packing_value;
mod reference;
mod site_sheet;
mod sizing;
mod sizing_value;
mod style;
mod subject;
mod table;
#[cfg(test)]
mod tests;
mod verification_value;
mod words;

use ramwright_engine::check::{CheckId, Line};
use ramwright_units::Profile;

pub use calculation::{Material, calculation};
pub use cell_value::{CellValue, Told};
pub use dialect::Dialect;
pub use envelope::Envelope;
pub use formula::{Math, WorkedLine};
pub use html::{HtmlPage, html};
pub use load_share_value::LoadShareValue;
pub use markup::escaped;
pub use packing_value::PackingValue;
pub use reference::basis_in_markdown;
pub use site_sheet::site_sheet;
pub use sizing_value::SizingValue;
pub use style::Style;
pub use subject::Subject;
pub use verification_value::VerificationValue;
pub use words::printable;

/// A result that has a table.
///
/// The table is CSV (RFC 4180) in UTF-8 without a byte-order mark, its first line the heads of the columns.
/// A column of one kind of quantity has the unit in its head, as in `greatest_kN`; where units vary from row to row, the
/// column after it has them. Numbers have a decimal point and all their digits. What is absent is an empty cell.
///
/// A spreadsheet takes a text that begins with `=`, `+`, `-` or `@` for a formula; such a text gets an apostrophe before it.
pub trait Tables {
    /// The table, its quantities in the units of a profile.
    fn csv(&self, units: Profile) -> String;
}

/// What a symbol stands for in a line of a check, or of none: weighing, estimated force, times.
pub fn meaning_of(check: Option<CheckId>, line: &Line, symbol: &str) -> Option<&'static str> {
    glossary::meaning(check, line, symbol)
}

/// What a named function in an expression computes; nothing for what every calculator has.
pub fn definition_of(function: &str) -> Option<&'static str> {
    glossary::function_definition(function)
}
