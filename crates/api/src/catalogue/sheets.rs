//! Lists of a catalogue that stand in the sheets of a workbook and are sent along with a table of enquiries.

use super::entry::Entry;
use super::table::read_rows;
use super::{InlineCatalogue, InlineHose, InlinePacking, InlinePump, InlineRam};
use crate::json::Node;
use crate::problem::{FaultCode, Problem};
use crate::read::{Faults, Pointer, Read as _};

/// The lists as they stand in their sheets: texts in the form of the files of a catalogue.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheets {
    /// As `rams.csv`.
    pub rams: Option<String>,
    /// As `pumps.csv`.
    pub pumps: Option<String>,
    /// As `hoses.csv`.
    pub hoses: Option<String>,
    /// As `packing.csv`.
    pub packing: Option<String>,
    /// The currency of their rates, by its ISO 4217 code.
    pub currency: Option<String>,
}

/// Lists that have been read, in the form in which a request carries them.
#[derive(Clone, Debug, PartialEq)]
pub struct Carried(Node);

impl Carried {
    /// Reads the lists; nothing if there are none.
    ///
    /// # Errors
    /// Every fault; its place is `#/rams/<row>/<column>`, where the first row of data is 1 and the heads are 0.
    pub fn read(sheets: &Sheets) -> Result<Option<Self>, Problem> {
        let mut faults = Faults::default();
        let mut fields = Vec::new();
        put::<InlineRam>(sheets.rams.as_deref(), &mut fields, &mut faults);
        put::<InlinePump>(sheets.pumps.as_deref(), &mut fields, &mut faults);
        put::<InlineHose>(sheets.hoses.as_deref(), &mut fields, &mut faults);
        put::<InlinePacking>(sheets.packing.as_deref(), &mut fields, &mut faults);
        if let Some(currency) = &sheets.currency {
            fields.push(("currency".to_owned(), Node::Text(currency.trim().to_owned())));
        }
        let node = Node::Object(fields);
        if faults.is_empty() {
            // What concerns the lists as wholes, such as how many entries a request may carry.
            InlineCatalogue::read(&node, &Pointer::default(), &mut faults);
        }
        let faults = faults.into_vec();
        if !faults.is_empty() {
            return Err(Problem::invalid_request(faults));
        }
        Ok((sheets != &Sheets::default()).then_some(Self(node)))
    }

    /// The value of the field `inline` of a request.
    pub(crate) fn node(&self) -> Node {
        self.0.clone()
    }
}

/// Adds a list as the field that a request has for it.
fn put<E: Entry>(text: Option<&str>, fields: &mut Vec<(String, Node)>, faults: &mut Faults) {
    let Some(text) = text else { return };
    if text.trim_start_matches('\u{feff}').trim().is_empty() {
        let detail = "the list is empty: it has not even the heads of its columns";
        faults.push(Pointer::default().field(E::LIST).fault(FaultCode::MissingField, detail));
    }
    let (_, rows) = read_rows::<E>(text, &Pointer::default(), faults);
    fields.push((E::LIST.to_owned(), Node::List(rows)));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::MOST_INLINE;

    const RAMS: &str = "id,action,material,lock_collar,effective_area_cm2,rated_pressure_bar,stroke_mm,closed_height_mm\n\
                        own-1,double_acting,steel,no,120,700,130,260\n\n\
                        own-2,double_acting,steel,yes,44,700,80,150\n";

    fn faults(sheets: &Sheets) -> Vec<(String, FaultCode)> {
        let problem = Carried::read(sheets).unwrap_err();
        problem.errors.into_iter().map(|fault| (fault.pointer.unwrap_or_default(), fault.code)).collect()
    }

    fn rams(text: impl Into<String>) -> Sheets {
        Sheets { rams: Some(text.into()), ..Sheets::default() }
    }

    #[test]
    fn verify_a_sheet_is_carried_as_a_request_would() {
        let carried = Carried::read(&rams(RAMS)).unwrap().unwrap();
        let Node::Object(fields) = carried.node() else { panic!("{carried:?}") };
        let [(list, Node::List(entries))] = fields.as_slice() else { panic!("{fields:?}") };
        assert_eq!((list.as_str(), entries.len()), ("rams", 2));
        let Node::Object(first) = &entries[0] else { panic!("{entries:?}") };
        assert!(first.contains(&("stroke".to_owned(), Node::Text("130 mm".to_owned()))));
        assert!(first.contains(&("lock_collar".to_owned(), Node::Bool(false))));
        assert_eq!(Carried::read(&Sheets::default()).unwrap(), None);
    }

    #[test]
    fn verify_what_is_wrong_with_a_sheet_is_at_its_cell() {
        let wrong = rams(RAMS.replace("44,", "fourty,").replace("double_acting,steel,no", "double_acting,stone,no"));
        assert_eq!(
            faults(&wrong),
            [
                ("#/rams/1/material".to_owned(), FaultCode::UnknownValue),
                ("#/rams/2/effective_area".to_owned(), FaultCode::NotAQuantity),
            ]
        );
        assert_eq!(faults(&rams("\u{feff}\n"))[0], ("#/rams".to_owned(), FaultCode::MissingField));
        // What comes out of a spreadsheet in another form could name another entry.
        for id in ["50.13", "1e5", "-4", "'own", "nan", "007", "1234567890123456"] {
            assert_eq!(faults(&rams(RAMS.replace("own-1", id))), [("#/rams/1/id".to_owned(), FaultCode::WrongType)]);
        }
        assert!(Carried::read(&rams(RAMS.replace("own-1", "5013"))).is_ok());
        let long = format!("{},stroke_{}", RAMS.lines().next().unwrap_or_default(), "m_".repeat(200_000));
        assert_eq!(faults(&rams(long)).len(), 1);
        let wrong = Sheets { currency: Some("pounds".to_owned()), ..rams(RAMS) };
        assert_eq!(faults(&wrong)[0].0, "#/currency");
        let head = RAMS.lines().next().unwrap_or_default().to_owned();
        let many = (0..=MOST_INLINE).map(|n| format!("own-{n},double_acting,steel,no,120,700,130,260"));
        let many: Vec<String> = std::iter::once(head).chain(many).collect();
        assert_eq!(faults(&rams(many.join("\n"))), [("#/rams".to_owned(), FaultCode::TooManyItems)]);
    }
}
