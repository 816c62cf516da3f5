//! What the parts of a page are, for those who do not see it: headings, paragraphs, tables, drawings, formulas.

use krilla::tagging::{Identifier, ListNumbering, Node, TableHeaderScope, Tag as Kind, TagGroup, TagKind, TagTree};
use std::num::NonZeroU16;

/// The part that a mark belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Tag(usize);

impl Tag {
    /// What only looks: rules, frames, the head and foot of a page.
    pub(crate) const ARTIFACT: Self = Self(0);
    /// The document itself.
    pub(crate) const DOCUMENT: Self = Self(1);
}

/// What a part is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Part {
    Document,
    Section,
    Heading { level: u16, text: String },
    Paragraph,
    Table,
    Row,
    Head,
    Cell,
    List,
    Item,
    Figure { description: String },
    Formula { words: String },
}

enum Child {
    Part(usize),
    Ink(Identifier),
}

struct Entry {
    part: Part,
    children: Vec<Child>,
}

/// The parts of a document in the order in which they are read.
pub(crate) struct Tags {
    entries: Vec<Entry>,
}

impl Default for Tags {
    fn default() -> Self {
        let entry = || Entry { part: Part::Document, children: Vec::new() };
        Self { entries: vec![entry(), entry()] }
    }
}

impl Tags {
    /// A new part of another.
    pub(crate) fn add(&mut self, of: Tag, part: Part) -> Tag {
        if of == Tag::ARTIFACT {
            return of;
        }
        let number = self.entries.len();
        self.entries.push(Entry { part, children: Vec::new() });
        if let Some(whole) = self.entries.get_mut(of.0) {
            whole.children.push(Child::Part(number));
        }
        Tag(number)
    }

    /// Says that ink on a page belongs to a part.
    pub(crate) fn hold(&mut self, tag: Tag, ink: Identifier) {
        if let Some(entry) = self.entries.get_mut(tag.0) {
            entry.children.push(Child::Ink(ink));
        }
    }

    pub(crate) fn into_tree(self) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
        // Every part comes after the one that holds it, so that all its own parts are ready when its turn comes.
        let mut ready: Vec<Option<Vec<Node>>> = self.entries.iter().map(|_| None).collect();
        for (number, entry) in self.entries.into_iter().enumerate().rev() {
            let mut nodes = Vec::with_capacity(entry.children.len());
            for child in entry.children {
                match child {
                    Child::Ink(ink) => nodes.push(ink.into()),
                    Child::Part(part) => nodes.extend(ready.get_mut(part).and_then(Option::take).into_iter().flatten()),
                }
            }
            if number == Tag::DOCUMENT.0 {
                tree.children = nodes;
            } else if let Some(slot) = ready.get_mut(number).filter(|_| !nodes.is_empty()) {
                *slot = Some(vec![TagGroup::with_children(kind(entry.part), nodes).into()]);
            }
        }
        tree
    }
}

fn kind(part: Part) -> TagKind {
    match part {
        Part::Document | Part::Section => Kind::Div.into(),
        Part::Heading { level, text } => Kind::Hn(NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN), Some(text)).into(),
        Part::Paragraph => Kind::P.into(),
        Part::Table => Kind::Table.into(),
        Part::Row => Kind::TR.into(),
        Part::Head => Kind::TH(TableHeaderScope::Column).into(),
        Part::Cell => Kind::TD.into(),
        Part::List => Kind::L(ListNumbering::Disc).into(),
        Part::Item => Kind::LI.into(),
        Part::Figure { description } => Kind::Figure(Some(description)).into(),
        Part::Formula { words } => Kind::Formula(Some(words)).into(),
    }
}
