//! Catalogues that a service has loaded, and how it answers with them.

use super::{CatalogueText, parse_catalogue};
use crate::problem::Fault;
use crate::read::nearest;
use ramwright_engine::catalogue::Catalogue;
use ramwright_units::{In, Profile};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::Arc;
use utoipa::ToSchema;

/// The name of the catalogue that is used where a request names none.
pub const DEFAULT_CATALOGUE: &str = "demo_yard";

/// A catalogue with its digest.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadedCatalogue {
    /// Its lists.
    pub catalogue: Catalogue,
    /// Its digest, see [`catalogue_digest`].
    pub digest: String,
}

/// The digest of a catalogue: `sha256:` and the SHA-256 of its compact JSON in metric units, in hexadecimal digits.
///
/// A catalogue with a number that is not finite has no JSON and so no digest; the text then says so. None that was read
/// by this crate has such a number.
pub fn catalogue_digest(catalogue: &Catalogue) -> String {
    let Ok(json) = serde_json::to_vec(&In(Profile::Metric, catalogue)) else {
        return "none: a value is not finite".to_owned();
    };
    digest_text(&json)
}

/// `sha256:` and the digest of some bytes in hexadecimal digits.
fn digest_text(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold("sha256:".to_owned(), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

impl LoadedCatalogue {
    /// A catalogue with the digest that belongs to it.
    pub fn new(catalogue: Catalogue) -> Self {
        let digest = catalogue_digest(&catalogue);
        Self { catalogue, digest }
    }

    /// Its line in the list of catalogues.
    pub fn summary(&self) -> CatalogueSummary {
        let catalogue = &self.catalogue;
        CatalogueSummary {
            name: catalogue.name.clone(),
            title: catalogue.title.clone(),
            origin: catalogue.origin.clone(),
            currency: catalogue.currency.clone(),
            digest: self.digest.clone(),
            rams: catalogue.rams.len(),
            pumps: catalogue.pumps.len(),
            hoses: catalogue.hoses.len(),
            packing: catalogue.packing.len(),
        }
    }

    /// The whole of it as an answer.
    pub fn answer(&self) -> CatalogueAnswer {
        CatalogueAnswer { digest: self.digest.clone(), catalogue: self.catalogue.clone() }
    }
}

/// Every catalogue that a service has, by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogues(BTreeMap<String, Arc<LoadedCatalogue>>);

impl Catalogues {
    /// The one catalogue that is part of the program: [`DEFAULT_CATALOGUE`], all of it invented.
    ///
    /// # Errors
    /// The faults of its files; a test shows that there are none.
    pub fn embedded() -> Result<Self, Vec<Fault>> {
        let text = CatalogueText {
            name: DEFAULT_CATALOGUE.into(),
            toml: include_str!("../../catalogues/demo_yard/catalogue.toml").into(),
            rams: include_str!("../../catalogues/demo_yard/rams.csv").into(),
            pumps: include_str!("../../catalogues/demo_yard/pumps.csv").into(),
            hoses: include_str!("../../catalogues/demo_yard/hoses.csv").into(),
            packing: include_str!("../../catalogues/demo_yard/packing.csv").into(),
        };
        let mut all = Self::default();
        all.insert(parse_catalogue(&text)?);
        Ok(all)
    }

    /// Adds a catalogue under its name, and gives the one that had the name before.
    pub fn insert(&mut self, catalogue: Catalogue) -> Option<Arc<LoadedCatalogue>> {
        self.0.insert(catalogue.name.clone(), Arc::new(LoadedCatalogue::new(catalogue)))
    }

    /// The catalogue of this name.
    pub fn get(&self, name: &str) -> Option<&Arc<LoadedCatalogue>> {
        self.0.get(name)
    }

    /// All names, in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }

    /// The name most like one that is not there.
    pub fn nearest(&self, name: &str) -> Option<String> {
        nearest(name, self.names())
    }

    /// The list of all catalogues as an answer.
    pub fn list(&self) -> CatalogueList {
        CatalogueList { catalogues: self.0.values().map(|loaded| loaded.summary()).collect() }
    }
}

/// A catalogue in one line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CatalogueSummary {
    /// Name by which requests choose it.
    pub name: String,
    /// A line for people.
    pub title: String,
    /// Where the data come from.
    pub origin: String,
    /// Currency of its rates, by its ISO 4217 code; `XXX` if none is known.
    pub currency: String,
    /// Digest of its contents.
    pub digest: String,
    /// How many kinds of ram it lists.
    pub rams: usize,
    /// How many kinds of pump it lists.
    pub pumps: usize,
    /// How many kinds of hose it lists.
    pub hoses: usize,
    /// How many kinds of packing piece it lists.
    pub packing: usize,
}

/// Every catalogue that the service has, by name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CatalogueList {
    /// One line for each.
    pub catalogues: Vec<CatalogueSummary>,
}

/// A whole catalogue.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CatalogueAnswer {
    /// Digest of its contents.
    pub digest: String,
    /// Its lists.
    pub catalogue: Catalogue,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-2, appendix B.1: the digest of `abc`.
    #[test]
    fn validate_digest_of_abc() {
        let expected = "sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(digest_text(b"abc"), expected);
    }
}
