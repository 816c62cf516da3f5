//! The calculation for the checker: what was found first, then everything it rests on.

mod checks;
mod closing;
mod first_page;
mod inputs;
pub(crate) mod parts;
mod set;
mod shares;
mod statement;
mod working;

use crate::document::{Block, Document, Paper};
use crate::drawing::{Look, Theme};
use crate::envelope::Envelope;
use crate::style::Style;
use crate::subject::Subject;
use crate::words::given;

/// What a document is made from.
#[derive(Clone, Copy, Debug)]
pub struct Material<'a> {
    /// The lift.
    pub subject: &'a Subject<'a>,
    /// What goes with the result.
    pub envelope: Envelope<'a>,
    /// Units and decimal mark.
    pub style: Style,
    /// The size of the pages.
    pub paper: Paper,
}

/// The calculation of a lift plan or a verification.
pub fn calculation(material: &Material<'_>) -> Document {
    let mut blocks = first_page::blocks(material);
    blocks.push(Block::PageBreak);
    blocks.extend(statement::blocks(material));
    blocks.extend(inputs::blocks(material));
    blocks.extend(shares::blocks(material));
    blocks.extend(set::blocks(material));
    blocks.extend(checks::blocks(material));
    blocks.extend(closing::blocks(material));
    material.document("calculation", "Lift calculation", blocks)
}

impl Material<'_> {
    /// A document with its head and foot.
    pub(crate) fn document(&self, kind: &'static str, heading: &'static str, blocks: Vec<Block>) -> Document {
        let Envelope { engine_version, request_digest, result_digest, .. } = self.envelope;
        let title = self.envelope.said("/title").map_or_else(|| "Lift without a title".to_owned(), given);
        Document {
            kind,
            heading,
            running_head: self.running_head(),
            running_foot: vec![
                format!("Ramwright engine {engine_version}, defaults {}", self.envelope.defaults),
                format!("Request {request_digest}"),
                format!("Result {result_digest}"),
            ],
            paper: self.paper,
            title,
            blocks,
        }
    }

    /// Number, revision and date, as the request gives them.
    fn running_head(&self) -> String {
        let part = |name: &str, words: &str| {
            self.envelope.said(&format!("/papers/{name}")).map(|text| format!("{words} {}", given(text)))
        };
        let parts = [part("number", "No."), part("revision", "rev."), part("date", "dated")];
        let said: Vec<_> = parts.into_iter().flatten().collect();
        if said.is_empty() { "number, revision and date not stated".to_owned() } else { said.join(", ") }
    }

    /// How drawings in the document look.
    pub(crate) fn look(&self, prefix: &str) -> Look {
        Look {
            theme: Theme::Light,
            units: self.style.units,
            decimal_comma: self.style.decimal_comma,
            prefix: prefix.to_owned(),
        }
    }
}
