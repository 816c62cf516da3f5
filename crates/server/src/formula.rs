//! Formulas of spreadsheets that ask this service.

/// The longest text that Excel takes within quotes in a formula, in characters, with some to spare.
const LONGEST_LITERAL: usize = 240;

/// A part of an address in a formula.
#[derive(Clone, Debug, Eq, PartialEq)]
pub(crate) enum Piece {
    /// Text of the address, encoded already.
    Fixed(String),
    /// What a cell holds, and perhaps a unit after it.
    Cell { cell: String, unit: String },
}

/// What a reader wrote for a parameter: a cell, a cell and a unit, or a value.
pub(crate) fn piece(text: &str) -> Piece {
    let (first, rest) = text.split_once(' ').unwrap_or((text, ""));
    if is_cell(first) && rest.chars().all(|one| one.is_ascii_alphanumeric() || matches!(one, '/' | '_' | ' ' | '%')) {
        return Piece::Cell { cell: first.to_owned(), unit: rest.trim().to_owned() };
    }
    Piece::Fixed(encoded(text))
}

/// Whether a text is the place of a cell, such as `A2` or `$B$17`.
fn is_cell(text: &str) -> bool {
    let text = text.strip_prefix('$').unwrap_or(text);
    let letters = text.chars().take_while(char::is_ascii_uppercase).count();
    let row = text.get(letters..).map(|row| row.strip_prefix('$').unwrap_or(row)).unwrap_or_default();
    (1..=3).contains(&letters) && (1..=7).contains(&row.len()) && row.chars().all(|one| one.is_ascii_digit())
}

/// The call of the function that asks an address.
pub(crate) fn webservice(pieces: &[Piece]) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut fixed = String::new();
    for piece in pieces {
        match piece {
            Piece::Fixed(text) => fixed.push_str(text),
            Piece::Cell { cell, unit } => {
                parts.extend(literals(&fixed));
                fixed.clear();
                let unit = if unit.is_empty() { String::new() } else { format!(" & \" {unit}\"") };
                parts.push(format!("ENCODEURL({cell}{unit})"));
            }
        }
    }
    parts.extend(literals(&fixed));
    format!("WEBSERVICE({})", parts.join(" & "))
}

/// A text within quotes, in as many parts as Excel needs.
fn literals(text: &str) -> Vec<String> {
    let letters: Vec<char> = text.chars().collect();
    let quoted = |part: &[char]| format!("\"{}\"", part.iter().collect::<String>().replace('"', "\"\""));
    letters.chunks(LONGEST_LITERAL).map(quoted).collect()
}

/// A text as it stands in an address.
pub(crate) fn encoded(text: &str) -> String {
    let mut address = String::new();
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.' | b'~') {
            address.push(char::from(byte));
        } else {
            address.push('%');
            address.push_str(&crate::hex(&[byte]).to_ascii_uppercase());
        }
    }
    address
}

/// Whether a text is the address of a service and nothing else, so that it may stand in a formula or a macro.
pub(crate) fn is_address(text: &str) -> bool {
    let Some(rest) = text.strip_prefix("http://").or_else(|| text.strip_prefix("https://")) else { return false };
    let (host, path) = rest.split_once('/').unwrap_or((rest, ""));
    let of_host = |one: char| one.is_ascii_alphanumeric() || matches!(one, '.' | '-' | ':' | '[' | ']');
    let of_path = |one: char| one.is_ascii_alphanumeric() || matches!(one, '.' | '-' | '_' | '~' | '/');
    !host.is_empty() && rest.len() < LONGEST_LITERAL && host.chars().all(of_host) && path.chars().all(of_path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_cells_are_told_from_values() {
        let cell = |cell: &str, unit: &str| Piece::Cell { cell: cell.into(), unit: unit.into() };
        assert_eq!(piece("A2"), cell("A2", ""));
        assert_eq!(piece("$AB$17 kN/mm"), cell("$AB$17", "kN/mm"));
        for value in ["212 t", "4", "A", "ABCD1", "A2)&CALL(", "A2 \"&X", "willow-01", "A0x"] {
            assert_eq!(piece(value), Piece::Fixed(encoded(value)), "{value}");
        }
    }

    #[test]
    fn verify_a_formula_joins_its_parts() {
        let pieces = [Piece::Fixed("http://a/b?load=".into()), piece("A2 t"), Piece::Fixed("&points=4".into())];
        assert_eq!(webservice(&pieces), "WEBSERVICE(\"http://a/b?load=\" & ENCODEURL(A2 & \" t\") & \"&points=4\")");
        let long = webservice(&[Piece::Fixed("x".repeat(500))]);
        assert!(long.split(" & ").all(|part| part.len() < 256), "{long}");
        assert_eq!(long.matches('x').count(), 500);
    }

    #[test]
    fn verify_texts_are_encoded_for_addresses() {
        assert_eq!(encoded("96 t & 50 %/mm\u{e9}\""), "96%20t%20%26%2050%20%25%2Fmm%C3%A9%22");
    }
}
