//! Drawings as SVG, to scale and dimensioned, by general drawing conventions.

/// A drawing, ready to stand by itself or in a page.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// A name for addresses and ids, such as `plan`.
    pub name: String,
    /// What it shows, in one line.
    pub title: String,
    /// What it shows, for those who do not see it.
    pub description: String,
    /// The picture, an `<svg>` element with `width` and `height` in mm.
    pub svg: String,
}

/// For what the drawing is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Theme {
    /// A light page on a screen.
    Light,
    /// A dark page on a screen.
    Dark,
    /// Paper: black lines, hatching in place of tints.
    Print,
}

/// How a drawing is written.
#[derive(Clone, Debug)]
pub struct Look {
    pub theme: Theme,
    pub units: ramwright_units::Profile,
    pub decimal_comma: bool,
    pub prefix: String,
}
pub fn drawing(_: &crate::Subject<'_>, _: &str, _: &Look) -> Option<Drawing> {
    None
}
pub fn step_elevation(_: &crate::Subject<'_>, _: u32, _: &Look) -> Option<Drawing> {
    None
}

pub const NAMES: &[&str] = &[
    "plan",
    "free_body",
    "elevation",
    "steps",
    "circuit",
    "shares_chart",
    "heights_chart",
    "utilisation_chart",
    "pressure_chart",
];
pub fn names(_: &crate::Subject<'_>) -> Vec<&'static str> {
    Vec::new()
}
