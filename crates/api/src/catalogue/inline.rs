//! Catalogue entries that a request carries with it.

use super::entry::{Entry, Gathered};
use super::words::{Currency, NO_CURRENCY};
use super::{InlineHose, InlinePacking, InlinePump, InlineRam};
use crate::problem::FaultCode;
use crate::read::{Faults, List, Pointer};
use crate::wire_struct;
use ramwright_engine::catalogue::Catalogue;
use std::collections::BTreeMap;

/// How many entries a list in a request may have.
pub const MOST_INLINE: usize = 200;

wire_struct! {
    /// Entries that a request brings along, beside those of a catalogue or instead of them.
    InlineCatalogue {
        /// Currency of the rates below; that of the catalogue if left out.
        currency: Option<Currency>,
        /// Rams.
        #[schema(value_type = Option<Vec<InlineRam>>, max_items = 200)]
        rams: Option<List<InlineRam, 0, MOST_INLINE>>,
        /// Pumps.
        #[schema(value_type = Option<Vec<InlinePump>>, max_items = 200)]
        pumps: Option<List<InlinePump, 0, MOST_INLINE>>,
        /// Hoses.
        #[schema(value_type = Option<Vec<InlineHose>>, max_items = 200)]
        hoses: Option<List<InlineHose, 0, MOST_INLINE>>,
        /// Packing pieces.
        #[schema(value_type = Option<Vec<InlinePacking>>, max_items = 200)]
        packing: Option<List<InlinePacking, 0, MOST_INLINE>>,
    }
}

impl InlineCatalogue {
    /// The entries of a catalogue and of the request together; `at` is the place of this object.
    ///
    /// An id that stands twice is a fault, also when the second is the catalogue's: which of the two is meant could not be told.
    pub fn merge(&self, base: Option<&Catalogue>, at: &Pointer, faults: &mut Faults) -> Option<Catalogue> {
        let mut found = Faults::default();
        let base = base.cloned().unwrap_or_else(nothing);
        let currency = self.currency_beside(&base, at, &mut found);
        let place = format!("in the catalogue `{}`", base.name);
        let merged = Catalogue {
            name: base.name,
            title: base.title,
            origin: base.origin,
            currency,
            rams: merge_list(self.rams.as_ref(), base.rams, &place, at, &mut found),
            pumps: merge_list(self.pumps.as_ref(), base.pumps, &place, at, &mut found),
            hoses: merge_list(self.hoses.as_ref(), base.hoses, &place, at, &mut found),
            packing: merge_list(self.packing.as_ref(), base.packing, &place, at, &mut found),
        };
        let sound = found.is_empty();
        found.into_vec().into_iter().for_each(|fault| faults.push(fault));
        sound.then_some(merged)
    }

    /// The one currency of all rates; a fault if there would be two.
    fn currency_beside(&self, base: &Catalogue, at: &Pointer, faults: &mut Faults) -> String {
        match &self.currency {
            None => base.currency.clone(),
            Some(own) if base.currency == own.0 || base.currency == NO_CURRENCY => own.0.clone(),
            Some(own) => {
                let detail = format!("the rates of the catalogue `{}` are in {}", base.name, base.currency);
                let fault = at.field("currency").fault(FaultCode::Inconsistent, detail);
                faults.push(fault.with_given(own.0.clone()).with_limit(base.currency.clone()));
                base.currency.clone()
            }
        }
    }
}

/// What entries of a request are added to where no catalogue is named.
fn nothing() -> Catalogue {
    Catalogue {
        name: "inline".into(),
        title: "Entries of the request".into(),
        origin: "sent with the request".into(),
        currency: NO_CURRENCY.into(),
        ..Catalogue::default()
    }
}

fn merge_list<E: Entry>(
    list: Option<&List<E, 0, 200>>,
    base: BTreeMap<String, E::Item>,
    place: &str,
    at: &Pointer,
    faults: &mut Faults,
) -> BTreeMap<String, E::Item> {
    let Some(list) = list else { return base };
    let mut gathered = Gathered::beginning_with(base, place);
    let list_at = at.field(E::LIST);
    for (index, entry) in list.0.iter().enumerate() {
        let entry_at = list_at.item(index);
        gathered.claim(entry.id(), format!("at `{}`", entry_at.name()), &entry_at, faults);
        if let Some(item) = entry.item(&entry_at, faults) {
            gathered.keep(entry.id(), item);
        }
    }
    gathered.into_items()
}
