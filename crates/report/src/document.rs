//! A document as a tree of what stands in it, apart from how HTML or PDF write it down.
//!
//! Every text in it is ready to be read: numbers rounded, units chosen, texts of users made harmless to a layout. A writer
//! escapes and sets; it changes nothing.

use crate::drawing::Drawing;
use crate::formula::{Math, WorkedLine};
use serde::Serialize;

/// The size of the pages.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    /// 210 mm x 297 mm.
    #[default]
    A4,
    /// 8.5 in x 11 in.
    Letter,
}

/// A document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Document {
    /// What kind of document it is: its name in addresses.
    pub kind: &'static str,
    /// Its heading.
    pub heading: &'static str,
    /// The job, as its user calls it.
    pub title: String,
    /// Stands at the head of every page.
    pub running_head: String,
    /// Stands at the foot of every page, beside the page's number.
    pub running_foot: Vec<String>,
    /// The size of the pages.
    pub paper: Paper,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

/// A piece of a document.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "block", rename_all = "snake_case")]
pub enum Block {
    /// A heading.
    Heading {
        /// 2 for a part, 3 for a section of it.
        level: u8,
        /// A name for links, unique in the document.
        id: String,
        /// The heading.
        text: String,
    },
    /// A paragraph.
    Paragraph {
        /// Its text.
        text: String,
    },
    /// A verdict, set large.
    Banner {
        /// The class of its status.
        status: &'static str,
        /// The word.
        word: String,
        /// What it rests on.
        text: String,
    },
    /// Names and values.
    Facts {
        /// Each name with its value.
        rows: Vec<(String, String)>,
    },
    /// A table.
    Table(Table),
    /// A list.
    List {
        /// Whether it is set as large as the results.
        large: bool,
        /// Its items.
        items: Vec<String>,
    },
    /// Lines of a calculation that belong to no check.
    Lines {
        /// The lines.
        lines: Vec<WorkedLine>,
        /// The symbols in them.
        symbols: Vec<Meaning>,
    },
    /// A check.
    Check(Box<CheckBlock>),
    /// A drawing.
    Figure(Figure),
    /// A step for the crew.
    Step(Box<StepRow>),
    /// A long address, set small.
    Address {
        /// The address.
        text: String,
    },
    /// Room for signatures.
    SignOff {
        /// Who signs.
        roles: Vec<String>,
        /// What each fills in.
        fields: Vec<String>,
    },
    /// What follows begins on a new page.
    PageBreak,
}

/// A table whose cells are ready to be read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Table {
    /// What kind of table it is.
    pub kind: &'static str,
    /// What it shows.
    pub caption: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Vec<String>>,
}

/// The head of a column.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Column {
    /// The head.
    pub head: String,
    /// Whether it holds numbers.
    pub numbers: bool,
}

/// A symbol and what it stands for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Meaning {
    /// The symbol.
    pub symbol: Math,
    /// What it stands for.
    pub words: String,
}

/// A check with its working.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CheckBlock {
    /// A name for links, unique in the document.
    pub anchor: String,
    /// The check as it is called on the wire.
    pub id: String,
    /// On what it is worked here.
    pub subject: String,
    /// Its name, case and phase.
    pub title: String,
    /// What it asks.
    pub asks: String,
    /// The class of its status.
    pub status: &'static str,
    /// Its status in words.
    pub status_word: &'static str,
    /// Demand against limit and what that uses; none where nothing was compared.
    pub compared: Option<Compared>,
    /// The rule, and how sure it is.
    pub basis: String,
    /// Its working.
    pub lines: Vec<WorkedLine>,
    /// The symbols in it.
    pub symbols: Vec<Meaning>,
    /// What else is to be said: inputs that are missing, notes, the check by hand, what would pass.
    pub notes: Vec<(String, String)>,
    /// The same for the other points: each line's terms and value.
    pub others: Option<Table>,
}

/// Demand against limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Compared {
    /// What is asked.
    pub demand: String,
    /// What may be asked.
    pub limit: String,
    /// Demand over limit, rounded up.
    pub utilisation: String,
}

/// A drawing in a document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// A name for ids and files.
    pub name: String,
    /// What it shows.
    pub caption: String,
    /// The same for those who do not see it.
    pub description: String,
    /// The picture.
    pub svg: String,
}

impl From<Drawing> for Figure {
    fn from(drawing: Drawing) -> Self {
        let Drawing { name, title, description, svg } = drawing;
        Self { name, caption: title, description, svg }
    }
}

/// A step for the crew.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepRow {
    /// Its number.
    pub number: String,
    /// What it is.
    pub title: String,
    /// What is done.
    pub text: String,
    /// Who does it.
    pub who: String,
    /// What to look at.
    pub check: String,
    /// Whether somebody must release it.
    pub hold_point: bool,
    /// The picture.
    pub figure: Option<Figure>,
    /// What is expected, and where it is recorded.
    pub readings: Table,
    /// What stands under and beside the rams then, and what holds the load.
    pub stands: Vec<String>,
}

impl Table {
    pub(crate) fn new(kind: &'static str, caption: impl Into<String>) -> Self {
        Self { kind, caption: caption.into(), columns: Vec::new(), rows: Vec::new() }
    }

    pub(crate) fn texts(self, heads: &[&str]) -> Self {
        self.columns(heads, false)
    }

    pub(crate) fn numbers(self, heads: &[&str]) -> Self {
        self.columns(heads, true)
    }

    fn columns(mut self, heads: &[&str], numbers: bool) -> Self {
        self.columns.extend(heads.iter().map(|head| Column { head: (*head).to_owned(), numbers }));
        self
    }

    pub(crate) fn rows(mut self, rows: impl IntoIterator<Item = Vec<String>>) -> Self {
        self.rows.extend(rows);
        self
    }
}
