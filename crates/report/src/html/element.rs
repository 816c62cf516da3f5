//! Writes elements and texts, so that no text can be taken for markup.

use crate::markup::escape_into;

/// A page that is being written.
pub(super) struct Page {
    text: String,
}

impl Page {
    pub(super) fn with_capacity(capacity: usize) -> Self {
        Self { text: String::with_capacity(capacity) }
    }

    /// Markup that is written here and never comes from a user.
    pub(super) fn raw(&mut self, markup: &str) -> &mut Self {
        self.text.push_str(markup);
        self
    }

    /// Opens an element.
    pub(super) fn open(&mut self, name: &str, attributes: &[(&str, &str)]) -> &mut Self {
        self.text.push('<');
        self.text.push_str(name);
        for (attribute, value) in attributes {
            self.text.push(' ');
            self.text.push_str(attribute);
            self.text.push_str("=\"");
            escape_into(&mut self.text, value);
            self.text.push('"');
        }
        self.text.push('>');
        self
    }

    /// Closes an element.
    pub(super) fn close(&mut self, name: &str) -> &mut Self {
        self.text.push_str("</");
        self.text.push_str(name);
        self.text.push('>');
        self
    }

    /// An element that holds a text.
    pub(super) fn leaf(&mut self, name: &str, attributes: &[(&str, &str)], text: &str) -> &mut Self {
        self.open(name, attributes).text(text).close(name)
    }

    /// A text.
    pub(super) fn text(&mut self, text: &str) -> &mut Self {
        escape_into(&mut self.text, text);
        self
    }

    pub(super) fn finish(self) -> String {
        self.text
    }
}
