//! Small pieces that several parts of a document use.

use super::Material;
use crate::document::Block;
use crate::drawing::drawing;

pub(crate) fn part(id: &str, text: &str) -> Block {
    Block::Heading { level: 2, id: id.to_owned(), text: text.to_owned() }
}

pub(crate) fn section(id: &str, text: &str) -> Block {
    Block::Heading { level: 3, id: id.to_owned(), text: text.to_owned() }
}

pub(crate) fn paragraph(text: impl Into<String>) -> Block {
    Block::Paragraph { text: text.into() }
}

pub(crate) fn list(items: Vec<String>) -> Block {
    Block::List { large: false, items }
}

/// A drawing, if this lift has it.
pub(crate) fn figure(material: &Material<'_>, name: &str) -> Option<Block> {
    let look = material.look(&format!("{name}-"));
    drawing(material.subject, name, &look).map(|drawing| Block::Figure(drawing.into()))
}
