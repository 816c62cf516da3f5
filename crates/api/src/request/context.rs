//! What the parsing of a request needs beside the request, and what it collects.

use super::sections::{Section, Sections};
use crate::catalogue::{Catalogues, DEFAULT_CATALOGUE, LoadedCatalogue};
use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, Pointer};
use ramwright_engine::check::Source;
use ramwright_engine::remark::{Assumption, Caution};
use ramwright_units::Quantity;
use std::sync::Arc;

/// The yard that a request works with: a loaded catalogue, or one merged with what the request brings along.
pub type Yard = Arc<LoadedCatalogue>;

/// Faults, assumptions and cautions of one request, and the catalogues it may name.
pub struct Context<'a> {
    /// Loaded catalogues.
    pub catalogues: &'a Catalogues,
    /// What is wrong.
    pub faults: Faults,
    /// What was assumed.
    pub assumptions: Vec<Assumption>,
    /// What a reader must know.
    pub cautions: Vec<Caution>,
}

impl<'a> Context<'a> {
    /// A context with nothing collected.
    pub fn new(catalogues: &'a Catalogues) -> Self {
        Self { catalogues, faults: Faults::default(), assumptions: Vec::new(), cautions: Vec::new() }
    }

    /// Notes a value that was assumed.
    pub fn assume(
        &mut self,
        field: &Pointer,
        text: impl Into<ramwright_engine::Text>,
        value: impl Into<Quantity>,
        source: Source,
    ) {
        self.assumptions.push(Assumption {
            field: field.name().to_owned(),
            text: text.into(),
            value: Some(value.into()),
            source,
        });
    }

    /// The value that was sent, or else a default, which is noted.
    pub fn or_assumed<T: Copy + Into<Quantity>>(
        &mut self,
        sent: Option<T>,
        field: &Pointer,
        text: impl Into<ramwright_engine::Text>,
        default: T,
        source: Source,
    ) -> T {
        sent.unwrap_or_else(|| {
            self.assume(field, text, default, source);
            default
        })
    }

    /// Notes a choice that was assumed.
    pub fn assume_choice(&mut self, field: &Pointer, text: impl Into<ramwright_engine::Text>, source: Source) {
        self.assumptions.push(Assumption { field: field.name().to_owned(), text: text.into(), value: None, source });
    }

    /// Notes a contradiction.
    pub fn inconsistent(&mut self, at: &Pointer, detail: impl Into<String>, hint: &str) {
        self.faults.push(at.fault(FaultCode::Inconsistent, detail).with_hint(hint));
    }

    /// The yard that a request names or brings along.
    pub fn yard(&mut self, sections: &Sections) -> Option<Yard> {
        let at = Pointer::default();
        let named = match &sections.catalogue {
            Section::Faulty => return None,
            Section::Sent(name) => Some(self.loaded(&name.0, &at.field("catalogue"))?),
            Section::Absent if sections.inline == Section::Absent => {
                let text = format!("the catalogue `{DEFAULT_CATALOGUE}` was used; it is invented");
                self.assume_choice(&at.field("catalogue"), text, Source::definition("default catalogue"));
                Some(self.loaded(DEFAULT_CATALOGUE, &at.field("catalogue"))?)
            }
            Section::Absent => None,
        };
        match &sections.inline {
            Section::Faulty => None,
            Section::Absent => named,
            Section::Sent(inline) => {
                let base = named.as_ref().map(|yard| &yard.catalogue);
                let merged = inline.merge(base, &at.field("inline"), &mut self.faults)?;
                Some(Arc::new(LoadedCatalogue::new(merged)))
            }
        }
    }

    fn loaded(&mut self, name: &str, at: &Pointer) -> Option<Yard> {
        if let Some(loaded) = self.catalogues.get(name) {
            return Some(Arc::clone(loaded));
        }
        let fault = at.fault(FaultCode::UnknownId, format!("no catalogue `{name}` is loaded"));
        self.faults.push(fault.with_given(name).with_nearest(self.catalogues.nearest(name)));
        None
    }
}

/// The entry of a list with this id, or a fault with the nearest id.
pub(super) fn entry<'l, T>(
    list: &'l std::collections::BTreeMap<String, T>,
    id: &str,
    what: &str,
    at: &Pointer,
    faults: &mut Faults,
) -> Option<&'l T> {
    if let Some(entry) = list.get(id) {
        return Some(entry);
    }
    let near = crate::read::nearest(id, list.keys().map(String::as_str));
    let fault: Fault = at.fault(FaultCode::UnknownId, format!("the catalogue has no {what} `{id}`"));
    faults.push(fault.with_given(id).with_nearest(near));
    None
}
