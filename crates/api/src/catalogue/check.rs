//! Checking lists before a service loads them.

use super::head::read_catalogue_head;
use super::loaded::{CatalogueSummary, LoadedCatalogue};
use super::remarks::{CatalogueRemark, catalogue_remarks};
use super::words::{CsvText, NO_CURRENCY};
use super::{agrees_with_folder, read_lists};
use crate::problem::Fault;
use crate::read::{Faults, Pointer};
use crate::sent::Name;
use crate::wire_struct;
use ramwright_engine::catalogue::Catalogue;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

wire_struct! {
    /// The files of a catalogue as text. A file that is left out counts as empty.
    CatalogueFiles {
        /// Name of the folder; if given, `catalogue.toml` must have the same.
        name: Option<Name>,
        /// `catalogue.toml`
        catalogue_toml: Option<CsvText>,
        /// `rams.csv`
        rams_csv: Option<CsvText>,
        /// `pumps.csv`
        pumps_csv: Option<CsvText>,
        /// `hoses.csv`
        hoses_csv: Option<CsvText>,
        /// `packing.csv`
        packing_csv: Option<CsvText>,
    }
}

/// Whether a service would load these files, and what they leave open.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CatalogueCheck {
    /// Whether there is no fault.
    pub acceptable: bool,
    /// The catalogue in one line, if it is acceptable.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub summary: Option<CatalogueSummary>,
    /// Every fault, in the order of files and rows; a place is `#/rams/<row>/<column>`, where the first row of data is 1 and the heads are 0.
    pub faults: Vec<Fault>,
    /// Values that are missing and what follows, if the catalogue is acceptable.
    pub remarks: Vec<CatalogueRemark>,
}

/// Reads the files as a service would at its start.
///
/// Without `catalogue.toml` the lists alone are checked, as those of a catalogue without title, origin and currency.
pub fn check_catalogue(files: &CatalogueFiles) -> CatalogueCheck {
    let mut faults = Faults::default();
    let at = Pointer::default();
    let head_at = at.field("catalogue");
    let head = match &files.catalogue_toml {
        Some(toml) => read_catalogue_head(&toml.0, &head_at, &mut faults),
        None => None,
    };
    if let (Some(head), Some(folder)) = (&head, &files.name) {
        agrees_with_folder(head, &folder.0, &head_at, &mut faults);
    }
    let empty = || Catalogue {
        name: files.name.as_ref().map_or_else(|| "unnamed".to_owned(), |name| name.0.clone()),
        currency: NO_CURRENCY.to_owned(),
        ..Catalogue::default()
    };
    let texts = [&files.rams_csv, &files.pumps_csv, &files.hoses_csv, &files.packing_csv]
        .map(|file| file.as_ref().map_or("", |file| file.0.as_str()));
    let catalogue = read_lists(head.map_or_else(empty, Into::into), texts, &at, &mut faults);
    let faults = faults.into_vec();
    let acceptable = faults.is_empty();
    CatalogueCheck {
        acceptable,
        remarks: if acceptable { catalogue_remarks(&catalogue) } else { Vec::new() },
        summary: acceptable.then(|| LoadedCatalogue::new(catalogue).summary()),
        faults,
    }
}
