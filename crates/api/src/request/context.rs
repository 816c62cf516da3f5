//! What the parsing of a request needs beside the request, and what it collects.

use super::search_wire::OnHire;
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
        let yard = match &sections.inline {
            Section::Faulty => None,
            Section::Absent => named,
            Section::Sent(inline) => {
                let base = named.as_ref().map(|yard| &yard.catalogue);
                let merged = inline.merge(base, &at.field("inline"), &mut self.faults)?;
                Some(Arc::new(LoadedCatalogue::new(merged)))
            }
        }?;
        match &sections.on_hire {
            Section::Faulty => None,
            Section::Absent => Some(yard),
            Section::Sent(on_hire) => self.without(&yard, on_hire, &at.field("on_hire")),
        }
    }

    /// The yard without the rams that are out on hire. Its digest stays that of the catalogue: what is out is in the request.
    fn without(&mut self, yard: &Yard, on_hire: &OnHire, at: &Pointer) -> Option<Yard> {
        let mut left = LoadedCatalogue::clone(yard);
        let before = self.faults.count();
        for (index, out) in on_hire.0.iter().enumerate() {
            let here = at.item(index);
            if on_hire.0.iter().take(index).any(|earlier| earlier.ram == out.ram) {
                let detail = format!("the ram `{}` is named twice", out.ram.0);
                self.faults.push(here.field("ram").fault(FaultCode::DuplicateId, detail));
                continue;
            }
            entry(&yard.catalogue.rams, &out.ram.0, "ram", &here.field("ram"), &mut self.faults);
            let Some(ram) = left.catalogue.rams.get_mut(&out.ram.0) else { continue };
            let stock = ram.stock.and_then(|stock| stock.checked_sub(out.count.count()));
            match (ram.stock, stock) {
                (_, Some(rest)) => ram.stock = Some(rest),
                (Some(stock), None) => {
                    let detail = format!("more are out on hire than the yard has: {stock}");
                    self.inconsistent(&here.field("count"), detail, "state no more than there are");
                }
                (None, None) => {
                    let detail = "the catalogue does not say how many of these rams there are";
                    self.inconsistent(
                        &here.field("ram"),
                        detail,
                        "state their stock in the catalogue, or leave this out",
                    );
                }
            }
        }
        (self.faults.count() == before).then(|| Arc::new(left))
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
