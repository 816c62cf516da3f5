//! Text in lines that fit a terminal.

/// Characters in a line.
pub(super) const WIDTH: usize = 100;
/// Characters before everything that stands under a heading.
pub(super) const INDENT: usize = 2;

/// What is printed, line by line.
#[derive(Debug, Default)]
pub(super) struct Page {
    text: String,
}

impl Page {
    pub(super) fn into_text(self) -> String {
        self.text
    }

    /// A line as it is, whatever its length.
    pub(super) fn whole(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    pub(super) fn blank(&mut self) {
        self.text.push('\n');
    }

    pub(super) fn rule(&mut self) {
        self.blank();
        self.whole(&"=".repeat(WIDTH));
    }

    /// A heading with a blank line before it.
    pub(super) fn heading(&mut self, heading: &str) {
        self.blank();
        for line in wrapped(heading, WIDTH) {
            self.whole(&line);
        }
    }

    /// A paragraph at the left edge.
    pub(super) fn line(&mut self, text: &str) {
        self.hanging("", text);
    }

    /// A paragraph under a heading.
    pub(super) fn under(&mut self, text: &str) {
        self.hanging(&" ".repeat(INDENT), text);
    }

    /// A paragraph whose first line begins with a mark, and whose other lines stand under its text.
    pub(super) fn hanging(&mut self, mark: &str, text: &str) {
        let indent = mark.chars().count();
        for (index, line) in wrapped(text, WIDTH.saturating_sub(indent)).iter().enumerate() {
            if index == 0 {
                self.whole(&format!("{mark}{line}"));
            } else {
                self.whole(&format!("{}{line}", " ".repeat(indent)));
            }
        }
    }
}

/// Breaks a text at blanks into lines of at most `width` characters; a longer word is cut. At least one line.
pub(super) fn wrapped(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = vec![String::new()];
    let mut used = 0;
    for word in text.split_whitespace() {
        let letters: Vec<char> = word.chars().collect();
        for (index, piece) in letters.chunks(width).enumerate() {
            let blank = usize::from(index == 0 && 0 < used);
            if (index == 0 || used == 0) && used + blank + piece.len() <= width {
                append(&mut lines, blank, piece);
                used += blank + piece.len();
            } else {
                lines.push(piece.iter().collect());
                used = piece.len();
            }
        }
    }
    lines
}

fn append(lines: &mut [String], blanks: usize, piece: &[char]) {
    if let Some(last) = lines.last_mut() {
        last.push_str(&" ".repeat(blanks));
        last.extend(piece);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_lines_break_at_blanks_and_long_words_are_cut() {
        assert_eq!(wrapped("one two  three", 7), ["one two", "three"]);
        assert_eq!(wrapped("one two", 6), ["one", "two"]);
        assert_eq!(wrapped("abcdefgh", 3), ["abc", "def", "gh"]);
        assert_eq!(wrapped("a abcdefgh i", 3), ["a", "abc", "def", "gh", "i"]);
        assert_eq!(wrapped("", 5), [""]);
        assert_eq!(wrapped("\u{e4}\u{e4}\u{e4}", 3), ["\u{e4}\u{e4}\u{e4}"]);
        assert_eq!(wrapped("ab", 0), ["a", "b"]);
    }

    #[test]
    fn verify_nothing_is_lost_by_wrapping() {
        let text = "Preload in steps, then lift until the load is free by at most 10 mm; stop and hold.";
        for width in 1..120 {
            let lines = wrapped(text, width);
            assert!(lines.iter().all(|line| line.chars().count() <= width), "{width}");
            let joined: String = lines.concat().split_whitespace().collect();
            assert_eq!(joined, text.split_whitespace().collect::<String>(), "{width}");
        }
    }

    #[test]
    fn verify_a_mark_stands_once_and_the_text_hangs() {
        let mut page = Page::default();
        page.hanging("!! ", &"word ".repeat(25));
        let text = page.into_text();
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len(), 2);
        assert!(lines[0].starts_with("!! word") && lines[1].starts_with("   word"), "{text}");
        assert!(lines.iter().all(|line| line.len() <= WIDTH));
    }
}
