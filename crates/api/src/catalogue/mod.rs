//! Catalogues: their files, entries that a request carries with it, and what a service answers about them.
//!
//! A catalogue is a folder of five files: `catalogue.toml` and four tables. The unit of a column stands in its head; see
//! [`parse_catalogue`] for the rules. Entries inside a request are read by the same types, with the same bounds and rules.

mod bounds;
mod check;
mod column;
mod entry;
mod flow_curve;
mod head;
mod hoses;
mod inline;
mod loaded;
mod packing;
mod pumps;
mod rams;
mod remarks;
mod sheets;
mod table;
#[cfg(test)]
mod tests;
mod words;

pub use bounds::{CATALOGUE_BOUNDS, HoseBore, PieceThickness, bound};
pub use check::{CatalogueCheck, CatalogueFiles, check_catalogue};
pub use flow_curve::{FlowCurve, FlowPointSent, MOST_FLOW_POINTS};
pub use head::CatalogueHead;
pub use hoses::InlineHose;
pub use inline::{InlineCatalogue, MOST_INLINE};
pub use loaded::{
    CatalogueAnswer, CatalogueList, CatalogueSummary, Catalogues, DEFAULT_CATALOGUE, LoadedCatalogue, catalogue_digest,
};
pub use packing::InlinePacking;
pub use pumps::InlinePump;
pub use rams::InlineRam;
pub use remarks::{CatalogueRemark, catalogue_remarks};
pub use sheets::{Carried, Sheets};
pub use table::{MOST_COLUMNS, MOST_FAULTS, MOST_ROWS};
pub use words::{CsvText, Currency, FILE_TEXT_LENGTH, NO_CURRENCY, WORDS_LENGTH, Words};

use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, Pointer};
use ramwright_engine::catalogue::Catalogue;

/// The files of a catalogue as text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CatalogueText {
    /// The folder's name, which `catalogue.toml` repeats.
    pub name: String,
    /// `catalogue.toml`
    pub toml: String,
    /// `rams.csv`; an empty text is a list without entries, as for the other tables.
    pub rams: String,
    /// `pumps.csv`
    pub pumps: String,
    /// `hoses.csv`
    pub hoses: String,
    /// `packing.csv`
    pub packing: String,
}

/// Reads a catalogue.
///
/// The first line of a table has the column heads, in any order; a quantity's head ends in a unit. It is split at the
/// first underscore behind which a unit symbol stands, `/` being written `_per_` or `_`: `stroke_mm`, `stroke_in`,
/// `rated_pressure_psi`, `flow_fast_L_min`. An empty cell is a value that is not known; required cells are filled.
///
/// # Errors
/// Every fault of all five files, in the order toml, rams, pumps, hoses, packing and there from top to bottom. A place is
/// `#/rams/<row>/<column>`: the first row of data is 1, the heads are 0.
pub fn parse_catalogue(text: &CatalogueText) -> Result<Catalogue, Vec<Fault>> {
    let mut faults = Faults::default();
    let at = Pointer::default();
    let head_at = at.field("catalogue");
    let head = read_head_of_folder(text, &head_at, &mut faults);
    let texts = [&text.rams, &text.pumps, &text.hoses, &text.packing].map(String::as_str);
    let catalogue = read_lists(head.map_or_else(Catalogue::default, Into::into), texts, &at, &mut faults);
    if faults.is_empty() { Ok(catalogue) } else { Err(faults.into_vec()) }
}

fn read_head_of_folder(text: &CatalogueText, at: &Pointer, faults: &mut Faults) -> Option<CatalogueHead> {
    let head = head::read_catalogue_head(&text.toml, at, faults)?;
    agrees_with_folder(&head, &text.name, at, faults);
    Some(head)
}

/// A folder and its `catalogue.toml` must give one name, or a copied folder would hide the one it was copied from.
fn agrees_with_folder(head: &CatalogueHead, folder: &str, at: &Pointer, faults: &mut Faults) {
    if head.name.0 != folder {
        let detail = format!("the name is `{}`, and that of the folder is `{folder}`", head.name.0);
        let fault = at.field("name").fault(FaultCode::Inconsistent, detail);
        faults.push(fault.with_given(head.name.0.clone()).with_limit(folder));
    }
}

/// Fills a catalogue from its tables: rams, pumps, hoses, packing.
fn read_lists(head: Catalogue, texts: [&str; 4], at: &Pointer, faults: &mut Faults) -> Catalogue {
    let [rams, pumps, hoses, packing] = texts;
    Catalogue {
        rams: table::read_table::<InlineRam>(rams, at, faults),
        pumps: table::read_table::<InlinePump>(pumps, at, faults),
        hoses: table::read_table::<InlineHose>(hoses, at, faults),
        packing: table::read_table::<InlinePacking>(packing, at, faults),
        ..head
    }
}

impl From<CatalogueHead> for Catalogue {
    fn from(head: CatalogueHead) -> Self {
        Self {
            name: head.name.0,
            title: head.title.0,
            origin: head.origin.0,
            currency: head.currency.0,
            ..Self::default()
        }
    }
}
