//! How a drawing looks: theme, units, and how numbers and names are written on it.

use super::Theme;
use crate::style::{FIGURES, Style, joined, printed_unit};
use crate::words::harmless;
use ramwright_units::{Kind, Profile, Quantity};

/// For whom and in which units a drawing is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// For what it is looked at.
    pub theme: Theme,
    /// In which units quantities are written.
    pub units: Profile,
    /// Whether a decimal comma is written in place of a point.
    pub decimal_comma: bool,
    /// What every id in the drawing begins with; only ASCII letters, digits, `-` and `_` of it are used.
    pub prefix: String,
}

/// With what an area is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fill {
    /// Nothing.
    Open,
    /// What is moved.
    Load,
    /// A ram's body or a cylinder.
    Body,
    /// A piece of packing or a plate.
    Piece,
    /// Ground, concrete, frame: hatched in every theme.
    Ground,
    /// What failed or governs: hatched densely in every theme.
    Dense,
    /// Solid in the colour of lines.
    Solid,
}

/// The kinds of line, by ISO 128: outlines thick, all else thin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stroke {
    /// No line.
    None,
    /// A visible outline.
    Outline,
    /// A lesser outline, in symbols and small pictures.
    Medium,
    /// Dimensions, leaders, hatching.
    Thin,
    /// What is hidden or not stated.
    Hidden,
    /// Axes and centres.
    Centre,
    /// What governs.
    Accent,
}

impl Stroke {
    /// Width in mm and dashes, if any.
    pub(super) fn width_and_dashes(self) -> (f64, &'static str) {
        match self {
            Self::None => (0.0, ""),
            Self::Outline => (0.5, ""),
            Self::Medium => (0.3, ""),
            Self::Thin => (0.18, ""),
            Self::Hidden => (0.25, "1.6 0.8"),
            Self::Centre => (0.18, "4 0.8 0.6 0.8"),
            Self::Accent => (0.7, ""),
        }
    }
}

impl Look {
    /// The colour of lines and text.
    pub(super) fn line_colour(&self) -> &'static str {
        match self.theme {
            Theme::Light => "currentColor",
            Theme::Dark => "#dde1e6",
            Theme::Print => "#000000",
        }
    }

    /// The one colour beside it.
    pub(super) fn accent(&self) -> &'static str {
        match self.theme {
            Theme::Light => "#36536f",
            Theme::Dark => "#9db9d4",
            Theme::Print => "#000000",
        }
    }

    /// The page, where the drawing has one of its own.
    pub(super) fn background(&self) -> Option<&'static str> {
        match self.theme {
            Theme::Dark => Some("#1b1f24"),
            Theme::Light | Theme::Print => None,
        }
    }

    /// The opacity of a tint; none on paper.
    pub(super) fn tint(&self, fill: Fill) -> Option<f64> {
        let tint = match fill {
            Fill::Load => 0.06,
            Fill::Body => 0.16,
            Fill::Piece => 0.09,
            Fill::Open | Fill::Ground | Fill::Dense | Fill::Solid => return None,
        };
        (self.theme != Theme::Print).then_some(tint)
    }

    /// How numbers are written, as in every document.
    fn style(&self) -> Style {
        Style { units: self.units, decimal_comma: self.decimal_comma }
    }

    /// A number to read, without zeros at its end.
    pub(super) fn number(&self, value: f64) -> String {
        self.style().shortened(value, FIGURES).text()
    }

    /// A quantity in the units of the drawing, without its unit.
    pub(super) fn value(&self, quantity: impl Into<Quantity>) -> String {
        self.number(quantity.into().value_in(self.units))
    }

    /// A quantity with its unit.
    pub(super) fn quantity(&self, quantity: impl Into<Quantity>) -> String {
        let quantity = quantity.into();
        joined(&self.value(quantity), self.unit(quantity.kind))
    }

    /// The unit in which a kind is written.
    pub(super) fn unit(&self, kind: Kind) -> &'static str {
        printed_unit(kind.symbol(self.units))
    }

    /// A ratio to a limit, rounded up, so that nothing over the limit reads as at it.
    pub(super) fn utilisation(&self, ratio: f64) -> String {
        self.style().utilisation(ratio)
    }

    /// What every id begins with.
    pub(super) fn id_prefix(&self) -> String {
        self.prefix.chars().filter(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_')).collect()
    }
}

/// A whole number as a length or a share; more than can be counted is the greatest number.
pub(super) fn count(number: usize) -> f64 {
    u32::try_from(number).map_or(f64::from(u32::MAX), f64::from)
}

/// How wide a text is, in parts of its size: on the wide side of any sans-serif.
pub(super) fn width_in_em(text: &str) -> f64 {
    text.chars()
        .map(|c| {
            if is_mark(c) {
                0.0
            } else if c.is_ascii() || ('\u{a0}'..'\u{500}').contains(&c) {
                0.6
            } else {
                1.1
            }
        })
        .sum()
}

/// The marks that only steer the direction of a text.
fn is_mark(c: char) -> bool {
    matches!(c, '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}')
}

/// A name as it is shown: cut to a width in parts of the text's size, and kept apart from the direction of what stands about it.
pub(super) fn shown(name: &str, most_em: f64) -> String {
    let mut kept = String::new();
    let mut wide = 0.0;
    for c in name.chars().map(|c| if c.is_whitespace() { ' ' } else { harmless(c) }) {
        wide += width_in_em(c.encode_utf8(&mut [0; 4])).max(0.3);
        if most_em < wide {
            kept.pop();
            kept.push('\u{2026}');
            break;
        }
        kept.push(c);
    }
    format!("\u{2068}{kept}\u{2069}")
}
