//! Texts in markup: HTML and SVG alike.

use crate::words::printable;

/// Writes a text so that it cannot be taken for markup, in an element or in an attribute; characters that XML 1.0 forbids are
/// replaced.
pub(crate) fn escape_into(written: &mut String, text: &str) {
    // Most texts are plain.
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~') && !matches!(byte, b'&' | b'<' | b'>' | b'"' | b'\'')) {
        written.push_str(text);
        return;
    }
    for mark in text.chars() {
        match mark {
            '&' => written.push_str("&amp;"),
            '<' => written.push_str("&lt;"),
            '>' => written.push_str("&gt;"),
            '"' => written.push_str("&quot;"),
            '\'' => written.push_str("&#39;"),
            '\t' | '\n' => written.push(mark),
            mark => written.push(printable(mark)),
        }
    }
}

/// A text as HTML shows it, between tags and in quoted attributes; what cannot be printed is replaced.
pub fn escaped(text: &str) -> String {
    let mut written = String::with_capacity(text.len());
    escape_into(&mut written, text);
    written
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_no_text_is_markup() {
        assert_eq!(escaped("plain text 1"), "plain text 1");
        assert_eq!(escaped("<a b=\"c\" d='e'>&\n"), "&lt;a b=&quot;c&quot; d=&#39;e&#39;&gt;&amp;\n");
        assert_eq!(escaped("a\0b\u{202e}c\u{ffff}"), "a\u{fffd}b\u{fffd}c\u{fffd}");
    }
}
