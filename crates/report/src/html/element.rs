//! Writes elements and texts, so that no text can be taken for markup.

use crate::words::printable;

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
            self.escaped(value);
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
        self.escaped(text);
        self
    }

    pub(super) fn finish(self) -> String {
        self.text
    }

    fn escaped(&mut self, text: &str) {
        // Most texts are plain.
        if text.bytes().all(|byte| matches!(byte, b' '..=b'~') && !matches!(byte, b'&' | b'<' | b'>' | b'"' | b'\'')) {
            self.text.push_str(text);
            return;
        }
        for mark in text.chars() {
            match mark {
                '&' => self.text.push_str("&amp;"),
                '<' => self.text.push_str("&lt;"),
                '>' => self.text.push_str("&gt;"),
                '"' => self.text.push_str("&quot;"),
                '\'' => self.text.push_str("&#39;"),
                '\t' | '\n' => self.text.push(mark),
                mark => self.text.push(printable(mark)),
            }
        }
    }
}
