//! How cells and tables are written for the reader's spreadsheet: which mark stands before decimals, and how plain it must be.

use crate::cell;
use ramwright_units::parse_quantity;

/// How a text goes out. The default is that of every table: decimal point, commas between cells, RFC 4180, UTF-8.
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq)]
pub struct Dialect {
    /// A comma before the decimals, and semicolons between cells.
    pub decimal_comma: bool,
    /// No quotes, no commas or line ends within a cell, ASCII only.
    pub plain: bool,
}

/// What is written for a sign that ASCII lacks; any other becomes a question mark.
const PLAIN_WORDS: [(char, &str); 12] = [
    ('\u{b0}', "deg"),
    ('\u{b2}', "2"),
    ('\u{b3}', "3"),
    ('\u{d7}', "x"),
    ('\u{b7}', "."),
    ('\u{b1}', "+/-"),
    ('\u{b5}', "u"),
    ('\u{3bc}', "u"),
    ('\u{2013}', "-"),
    ('\u{2212}', "-"),
    ('\u{2019}', "'"),
    ('\u{a0}', " "),
];

impl Dialect {
    /// The mark between two cells.
    pub const fn separator(self) -> char {
        if self.decimal_comma { ';' } else { ',' }
    }

    /// One value of an answer, a number or words.
    pub fn value(self, text: &str) -> String {
        if is_number(text) {
            return if self.decimal_comma { text.replace('.', ",") } else { text.to_owned() };
        }
        if self.plain { self.plainly(text) } else { text.to_owned() }
    }

    /// A table that was written in the default dialect.
    pub fn table(self, csv: &str) -> String {
        if self == Self::default() {
            return csv.to_owned();
        }
        let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(csv.as_bytes());
        // What the writer of tables wrote is well formed.
        reader.records().flatten().map(|record| self.line(record.iter().map(|cell| self.value(cell)))).collect()
    }

    /// One line of a table with its line end; a text that a spreadsheet would take for a formula is guarded.
    ///
    /// Numbers and quantities stay as they are, in whichever convention they were sent.
    pub fn line(self, cells: impl Iterator<Item = String>) -> String {
        let cells: Vec<String> = cells.map(|text| self.cell(&text)).collect();
        let mut line = cells.join(&self.separator().to_string());
        line.push_str("\r\n");
        line
    }

    fn cell(self, text: &str) -> String {
        let plain = if self.plain && !self.is_measure(text) { self.plainly(text) } else { text.to_owned() };
        let safe = if self.is_measure(&plain) { plain } else { cell::text(&plain) };
        if !self.plain && safe.contains([self.separator(), '"', '\r', '\n']) {
            return format!("\"{}\"", safe.replace('"', "\"\""));
        }
        safe
    }

    /// Whether a text is a number or a quantity, which is no formula however it begins.
    fn is_measure(self, text: &str) -> bool {
        let pointed = if self.decimal_comma { text.replace(',', ".") } else { text.to_owned() };
        is_number(&pointed) || (!pointed.contains(char::is_control) && parse_quantity(&pointed).is_ok())
    }

    fn plainly(self, text: &str) -> String {
        let mut plain = String::with_capacity(text.len());
        for one in text.chars() {
            if one == ',' || one == '"' || one == self.separator() || one.is_control() {
                plain.push(' ');
            } else if one.is_ascii() {
                plain.push(one);
            } else {
                let words = PLAIN_WORDS.iter().find(|(sign, _)| *sign == one);
                plain.push_str(words.map_or("?", |(_, words)| words));
            }
        }
        plain
    }
}

/// Whether a text is a number as answers write it.
fn is_number(text: &str) -> bool {
    let marks = |one: char| one.is_ascii_digit() || matches!(one, '.' | '-' | '+' | 'e' | 'E');
    text.chars().any(|one| one.is_ascii_digit()) && text.chars().all(marks) && text.parse::<f64>().is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    const COMMA: Dialect = Dialect { decimal_comma: true, plain: false };
    const PLAIN: Dialect = Dialect { decimal_comma: false, plain: true };

    fn line(dialect: Dialect, cells: &[&str]) -> String {
        dialect.line(cells.iter().map(|cell| (*cell).to_owned()))
    }

    #[test]
    fn verify_a_value_has_the_mark_asked_for() {
        for (dialect, text, wanted) in [
            (Dialect::default(), "0.871", "0.871"),
            (COMMA, "0.871", "0,871"),
            (COMMA, "-1.5e-7", "-1,5e-7"),
            (COMMA, "4 x oak-01, 1 at each, utilisation 0.871", "4 x oak-01, 1 at each, utilisation 0.871"),
            (PLAIN, "4 x oak-01, 20 \u{b0}C \"so\"", "4 x oak-01  20 degC  so "),
            (PLAIN, "\u{e9}", "?"),
        ] {
            assert_eq!(dialect.value(text), wanted);
        }
    }

    #[test]
    fn verify_a_table_is_written_again_cell_by_cell() {
        let csv = "name,n_mm\r\n\"a,b \"\"c\"\"\",1.5\r\n'=1+1,-2\r\n";
        assert_eq!(Dialect::default().table(csv), csv);
        assert_eq!(COMMA.table(csv), "name;n_mm\r\n\"a,b \"\"c\"\"\";1,5\r\n'=1+1;-2\r\n");
        assert_eq!(PLAIN.table(csv), "name,n_mm\r\na b  c ,1.5\r\n'=1+1,-2\r\n");
    }

    #[test]
    fn verify_formulas_are_guarded_and_measures_are_not() {
        assert_eq!(
            line(Dialect::default(), &["=1", "-0.5 m", "-3", "-A1", "@x", "a;b"]),
            "'=1,-0.5 m,-3,'-A1,'@x,a;b\r\n"
        );
        assert_eq!(line(COMMA, &["-0,5 m", "-0,5", "=1", "a,b"]), "-0,5 m;-0,5;'=1;a,b\r\n");
        // A minus sign that ASCII lacks becomes one that begins a formula.
        assert_eq!(line(PLAIN, &["\u{2212}A1", "x\r\ny"]), "'-A1,x  y\r\n");
    }
}
