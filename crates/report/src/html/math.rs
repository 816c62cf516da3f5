//! Mathematics as presentation MathML (MathML Core).

use super::element::Page;
use crate::formula::Math;

/// Writes an element `<math>` of a class.
pub(super) fn write(page: &mut Page, class: &str, math: &Math) {
    page.open("math", &[("class", class), ("displaystyle", "true")]).open("mrow", &[]);
    piece(page, math);
    page.close("mrow").close("math");
}

fn piece(page: &mut Page, math: &Math) {
    match math {
        Math::Row { items } => {
            page.open("mrow", &[]);
            for item in items {
                piece(page, item);
            }
            page.close("mrow");
        }
        Math::Number { text, power: None } => {
            page.leaf("mn", &[], text);
        }
        Math::Number { text, power: Some(power) } => {
            page.open("mrow", &[]);
            number(page, text, Some(power));
            page.close("mrow");
        }
        Math::Quantity { text, power, unit } => {
            page.open("mrow", &[("class", "q")]);
            number(page, text, power.as_deref());
            let space = if unit == "\u{b0}" { "" } else { "\u{a0}" };
            if !unit.is_empty() {
                page.open("mtext", &[]).text(space).text(unit).close("mtext");
            }
            page.close("mrow");
        }
        Math::Symbol { base, below: None } => {
            letters(page, base);
        }
        Math::Symbol { base, below: Some(below) } => {
            page.open("msub", &[]);
            letters(page, base);
            page.leaf("mi", &[("mathvariant", "normal")], below).close("msub");
        }
        Math::Function { name } => {
            page.leaf("mi", &[], name).leaf("mo", &[], "\u{2061}");
        }
        Math::Sign { sign } => {
            page.leaf("mo", &[], sign);
        }
        Math::Fraction { over, under } => {
            page.open("mfrac", &[]);
            piece(page, over);
            piece(page, under);
            page.close("mfrac");
        }
        Math::Root { of } => {
            page.open("msqrt", &[]);
            piece(page, of);
            page.close("msqrt");
        }
        Math::Power { of, power } => {
            page.open("msup", &[]);
            piece(page, of);
            page.leaf("mn", &[], power).close("msup");
        }
        Math::Parentheses { of } => {
            page.open("mrow", &[]).leaf("mo", &[], "(");
            piece(page, of);
            page.leaf("mo", &[], ")").close("mrow");
        }
    }
}

fn number(page: &mut Page, text: &str, power: Option<&str>) {
    page.leaf("mn", &[], text);
    if let Some(power) = power {
        page.leaf("mo", &[], "\u{d7}").open("msup", &[]).leaf("mn", &[], "10").leaf("mn", &[], power).close("msup");
    }
}

fn letters(page: &mut Page, base: &str) {
    page.leaf("mi", &[], base);
}
