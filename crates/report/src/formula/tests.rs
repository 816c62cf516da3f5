use super::math::Math;
use super::worked;
use crate::style::Style;
use ramwright_engine::check::{Line, Lines, Source};
use ramwright_engine::line;
use ramwright_units::{Area, Force, Length, OilPressure, Profile};

const METRIC: Style = Style { units: Profile::Metric, decimal_comma: false };
const US: Style = Style { units: Profile::Us, decimal_comma: true };

/// Mathematics as one line of text, for comparing.
fn text(math: &Math) -> String {
    match math {
        Math::Row { items } => items.iter().map(text).collect(),
        Math::Number { text, power } => with_power(text, power.as_deref()),
        Math::Quantity { text, power, unit } => format!("{} {unit}", with_power(text, power.as_deref())),
        Math::Symbol { base, below: None } => base.clone(),
        Math::Symbol { base, below: Some(below) } => format!("{base}_{below}"),
        Math::Function { name } => name.clone(),
        Math::Sign { sign } => format!(" {sign} "),
        Math::Fraction { over, under } => format!("[{} / {}]", text(over), text(under)),
        Math::Root { of } => format!("root[{}]", text(of)),
        Math::Power { of, power } => format!("{}^{power}", text(of)),
        Math::Parentheses { of } => format!("({})", text(of)),
    }
}

fn with_power(text: &str, power: Option<&str>) -> String {
    power.map_or_else(|| text.to_owned(), |power| format!("{text}e{power}"))
}

fn parts(line: &Line, style: Style) -> [String; 3] {
    let worked = worked(line, style);
    [text(&worked.formula), text(&worked.substitution), text(&worked.result)]
}

fn only(book: Lines) -> Line {
    book.0.into_iter().next().unwrap()
}

#[test]
fn verify_a_line_is_worked_in_the_units_of_the_trade() {
    let mut book = Lines::default();
    line!(&mut book, F_1: Force = 0.50 * (p - p_0) * A; p = OilPressure::from_bar(680.0), p_0 = OilPressure::from_bar(0.4), A = Area::from_cm2(35.0); Source::definition("test"));
    let line = only(book);
    let [formula, numbers, result] = parts(&line, METRIC);
    assert_eq!(formula, "F_1 = 0.50 · (p − p_0) · A");
    assert_eq!(numbers, " = 0.50 × (68 MPa − 0.04 MPa) × 3500 mm²");
    assert_eq!(result, " = 118\u{202f}930 N = 118.9 kN");
    let [_, numbers, result] = parts(&line, US);
    assert_eq!(numbers, " = 0,50 × (9862,6 psi − 5,8015 psi) × 5,425 in²");
    assert_eq!(result, " = 26\u{202f}737 lbf");
}

#[test]
fn verify_a_function_has_its_argument_in_parentheses() {
    let mut book = Lines::default();
    line!(&mut book, H: Force = P * tan(a); P = Force::from_kn(100.0), a = 0.01_f64; Source::definition("test"));
    let [formula, numbers, _] = parts(&only(book), METRIC);
    assert_eq!(formula, "H = P · tan(a)");
    assert_eq!(numbers, " = 100\u{202f}000 N × tan(0.01 )");
}

#[test]
fn verify_what_is_negative_stands_in_parentheses() {
    let mut book = Lines::default();
    line!(&mut book, x: Length = a - b; a = Length::from_mm(-2.0), b = Length::from_mm(-3.5); Source::definition("test"));
    let [_, numbers, result] = parts(&only(book), METRIC);
    assert_eq!((numbers.as_str(), result.as_str()), (" = (−2 mm) − (−3.5 mm)", " = 1.500 mm"));
}

/// A difference of great numbers needs more digits than either has to itself.
#[test]
fn verify_terms_have_the_digits_that_their_result_needs() {
    let mut book = Lines::default();
    line!(&mut book, m: f64 = a / b - 1.0; a = 1.000_012_34_f64, b = 1.0_f64; Source::definition("test"));
    let [_, numbers, result] = parts(&only(book), METRIC);
    assert_eq!((numbers.as_str(), result.as_str()), (" = [1.00001234  / 1 ] − 1", " = 1.234e−5 "));
}

#[test]
fn verify_a_text_that_is_no_expression_is_printed_as_it_is() {
    let mut book = Lines::default();
    line!(&mut book, x: Length = a; a = Length::from_mm(2.0); Source::definition("test"));
    let line = Line { expression: "a <b> c".to_owned().into(), ..only(book) };
    let [formula, numbers, result] = parts(&line, METRIC);
    assert_eq!((formula.as_str(), numbers.as_str(), result.as_str()), ("x = a <b> c", "", " = 2.000 mm"));
}
