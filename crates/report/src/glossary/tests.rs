//! The sources, read for every formula: nothing in them may be without words, and nothing here without them.

use super::functions::function_definition;
use super::{meaning_in, sections, without_blanks};
use ramwright_engine::check::CheckId;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// A use of one of the two macros.
struct Written {
    place: String,
    gives: String,
    expression: String,
    terms: Vec<String>,
}

impl Written {
    fn symbols(&self) -> impl Iterator<Item = &str> {
        self.terms.iter().chain([&self.gives]).map(String::as_str)
    }
}

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

/// The parts of a text between separators that stand in no bracket and no string, up to the bracket that closes it.
fn parts(text: &str, separator: char) -> Vec<String> {
    let (mut depth, mut quoted, mut escaped) = (0_i32, false, false);
    let mut found = vec![String::new()];
    for letter in text.chars() {
        if quoted {
            quoted = escaped || letter != '"';
            escaped = !escaped && letter == '\\';
        } else {
            match letter {
                '"' => quoted = true,
                '(' | '[' | '{' => depth += 1,
                ')' | ']' | '}' if depth == 0 => break,
                ')' | ']' | '}' => depth -= 1,
                _ if letter == separator && depth == 0 => {
                    found.push(String::new());
                    continue;
                }
                _ => {}
            }
        }
        found.last_mut().unwrap().push(letter);
    }
    found
}

/// `line!(book, F: Force = p * A; p = .., A = ..; SOURCE)` or `root_line!(book, x = root; expression; terms; SOURCE)`.
fn read_macro(place: &str, text: &str, root: bool) -> Written {
    let fields = parts(text, ';');
    let (_, head) = fields[0].split_once(',').unwrap();
    let (gives, rest) = head.split_once('=').unwrap();
    let gives = gives.split(':').next().unwrap().trim().to_owned();
    let (expression, terms) = if root { (fields[1].as_str(), &fields[2]) } else { (rest, &fields[1]) };
    let name = |term: &String| term.split_once('=').unwrap().0.trim().to_owned();
    let terms = parts(terms, ',').iter().map(name).collect();
    Written { place: place.to_owned(), gives, expression: expression.trim().to_owned(), terms }
}

/// Every formula, the few of requests with them; the macros' own folder only shows how they are used.
fn written() -> Vec<Written> {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap();
    let mut paths = Vec::new();
    for name in ["api", "client", "engine", "server", "units"] {
        files(&crates.join(name).join("src"), &mut paths);
    }
    paths.sort();
    let mut found = Vec::new();
    for path in paths.iter().filter(|path| !path.starts_with(crates.join("engine/src/check"))) {
        let text = fs::read_to_string(path).unwrap();
        for (at, mark) in text.match_indices("line!(") {
            let root = text[..at].ends_with("root_");
            let inner = &text[at + mark.len()..];
            found.push(read_macro(&path.display().to_string(), inner, root));
        }
    }
    found
}

fn checks() -> BTreeSet<CheckId> {
    sections().flat_map(|section| section.checks).copied().collect()
}

#[test]
fn verify_the_scanner_reads_both_macros() {
    let found = read_macro("", "book, h: Length = c + f(a, b); c = at(\";)\", 1), a = x[0], b = y; S) more(", false);
    assert_eq!((found.gives.as_str(), found.expression.as_str()), ("h", "c + f(a, b)"));
    assert_eq!(found.terms, ["c", "a", "b"]);
    let found = read_macro("", "book, q = flow; g(q) / p - 1.0; q = flow, p = p; SOURCE);", true);
    assert_eq!((found.gives.as_str(), found.expression.as_str()), ("q", "g(q) / p - 1.0"));
    assert_eq!(found.terms, ["q", "p"]);
}

#[test]
fn verify_every_symbol_that_is_written_has_words() {
    let all = written();
    assert!(190 < all.len(), "only {} formulas were found", all.len());
    let places: Vec<Option<CheckId>> = checks().into_iter().map(Some).chain([None]).collect();
    let mut without = Vec::new();
    for line in &all {
        for symbol in line.symbols() {
            let known = |check: &Option<CheckId>| meaning_in(*check, &line.gives, &line.expression, symbol).is_some();
            if !places.iter().any(known) {
                without.push(format!("{}: `{symbol}` in {} = {}", line.place, line.gives, line.expression));
            }
        }
    }
    assert!(without.is_empty(), "no words for:\n{}", without.join("\n"));
}

/// What is left over from a formula that changed would hide that the new one has no words of its own.
#[test]
fn verify_every_formula_and_word_is_written_somewhere() {
    let all = written();
    let mut stale = Vec::new();
    for section in sections() {
        let mut symbols = BTreeSet::new();
        for formula in section.formulas {
            let of_formula = all.iter().filter(|line| super::is_formula(formula, &line.gives, &line.expression));
            let before = symbols.len();
            let mut seen = 0;
            for line in of_formula {
                symbols.extend(line.symbols());
                seen += 1;
            }
            if seen == 0 {
                stale.push(format!("{formula} (after {before} symbols)"));
            }
        }
        let words = section.words.iter().filter(|(symbol, _)| !symbols.contains(symbol));
        stale.extend(words.map(|(symbol, _)| format!("`{symbol}` beside {:?}", section.formulas)));
    }
    assert!(stale.is_empty(), "written nowhere:\n{}", stale.join("\n"));
}

/// Two sections for the same line of the same check would leave the words to chance.
#[test]
fn verify_no_line_stands_in_two_sections() {
    for line in written() {
        let of_line = |checks: &[CheckId]| {
            let here = sections().filter(|section| {
                (section.checks.is_empty() && checks.is_empty()) || section.checks.iter().any(|id| checks.contains(id))
            });
            here.filter(|section| {
                section.formulas.iter().any(|formula| super::is_formula(formula, &line.gives, &line.expression))
            })
            .count()
        };
        assert!(of_line(&[]) <= 1, "{} = {}", line.gives, line.expression);
        for check in checks() {
            assert!(of_line(&[check]) <= 1, "{check:?}: {} = {}", line.gives, line.expression);
        }
    }
}

#[test]
fn verify_words_are_short() {
    let all = sections().flat_map(|section| section.words);
    let long: Vec<_> = all
        .filter(|(_, words)| {
            let count = words.split_whitespace().count();
            !(2..=8).contains(&count) || words.trim() != *words || words.ends_with('.')
        })
        .collect();
    assert!(long.is_empty(), "{long:#?}");
}

#[test]
fn verify_sums_have_words_by_their_numbers() {
    let parts = "w_1 + w_2";
    assert_eq!(meaning_in(None, "W_max", parts, "w_2"), Some("weight of the part of this number"));
    assert_eq!(meaning_in(None, "W_max", parts, "W_max"), Some("greatest weight of the whole load"));
    let readings = "(R_1 * x_1 + R_2 * x_2) / (R_1 + R_2)";
    assert_eq!(meaning_in(None, "x_g", readings, "R_2"), Some("reaction of the reading of this number"));
    assert_eq!(meaning_in(None, "x_g", readings, "x_1"), Some("x of the reading of this number"));
    for strange in ["w_1", "R_", "R_x", "q_1", "R"] {
        assert_eq!(meaning_in(None, "x_g", readings, strange), None, "{strange}");
    }
}

#[test]
fn verify_one_letter_means_what_its_line_says() {
    let words = |check, gives, expression, symbol| meaning_in(check, gives, expression, symbol).unwrap();
    let viscosity = "log10(log10(v + 0.7)) - (A - B * log10(T))";
    let pump = Some(CheckId::PumpPressure);
    assert_eq!(words(pump, "nu", viscosity, "A"), "intercept of the viscosity line");
    assert_eq!(words(pump, "p_great", "R / (n * A)", "A"), "effective area of one ram; annulus when pulling");
    assert_eq!(words(Some(CheckId::OilVolume), "V_use", "n_p * V_p", "V_p"), "usable oil of one pump");
    assert_eq!(words(Some(CheckId::OilReturn), "V_t", "n_p*V_p", "V_p"), "content of the reservoir of one pump");
    assert_eq!(words(Some(CheckId::Capacity), "F", "R / n", "F"), "force on one ram");
    assert_eq!(words(Some(CheckId::StackBearing), "F", "R / n", "F"), "greatest force on one holding stack");
}

/// The names before an opening bracket in an expression.
fn called(expression: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for (at, _) in expression.match_indices('(') {
        let name = expression[..at].rsplit(|letter: char| !(letter.is_ascii_alphanumeric() || letter == '_')).next();
        found.extend(name.filter(|name| !name.is_empty()).map(str::to_owned));
    }
    found
}

#[test]
fn verify_every_named_function_has_a_definition() {
    const PLAIN: [&str; 6] = ["cos", "max", "min", "sin", "sqrt", "tan"];
    let mut used: BTreeSet<String> = written().iter().flat_map(|line| called(&line.expression)).collect();
    for plain in PLAIN {
        assert!(used.remove(plain) && function_definition(plain).is_none(), "{plain}");
    }
    for name in &used {
        let definition = function_definition(name).unwrap_or_else(|| panic!("no definition of {name}"));
        assert!(definition.starts_with(&format!("{name}(")) && definition.ends_with('.'), "{name}");
    }
    let known: BTreeSet<String> = super::functions::names().map(str::to_owned).collect();
    assert_eq!(used, known);
}

#[test]
fn verify_blanks_do_not_count() {
    assert!(without_blanks("a * ( b )").eq("a*(b)".chars()));
}
