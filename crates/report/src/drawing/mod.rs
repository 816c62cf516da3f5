//! Drawings as SVG, to scale and dimensioned, by general drawing conventions.
//!
//! Lines by ISO 128 (outlines thick, dimensions thin, centre lines chained), dimensions by ISO 129, scales of the series of
//! ISO 5455, hydraulic symbols by ISO 1219-1, all from general knowledge of these standards. Nothing is computed that an
//! engineer would check: places, heights and forces are those of the input and of the results.
//!
//! A drawing holds no style sheet, no script, no font and no reference to anything outside of it: presentation attributes
//! only, so that it can be put into a page with a strict policy.

mod bars;
mod circuit;
mod circuit_symbols;
mod elevation;
mod free_body;
mod heights_chart;
mod look;
mod places;
mod plan;
mod plan_dimensions;
mod pressure_chart;
mod scale;
mod shares_chart;
mod stacks;
mod station;
mod steps;
mod svg;
mod utilisation_chart;

pub use look::Look;

use crate::Subject;

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

/// Makes one drawing; nothing where the subject has not what it shows.
type Draw = fn(&Subject<'_>, &Look) -> Option<Drawing>;

/// Whether a subject has what a drawing shows.
type Has = fn(&Subject<'_>) -> bool;

/// Every drawing, in the order in which a document shows them.
const ALL: [(&str, Draw, Has); 9] = [
    ("plan", plan::draw, plan::has),
    ("free_body", free_body::draw, free_body::has),
    ("elevation", elevation::draw, elevation::has),
    ("steps", steps::draw, steps::has),
    ("circuit", circuit::draw, circuit::has),
    ("shares_chart", shares_chart::draw, free_body::has),
    ("heights_chart", heights_chart::draw, steps::has),
    ("utilisation_chart", utilisation_chart::draw, utilisation_chart::has),
    ("pressure_chart", pressure_chart::draw, circuit::has),
];

/// The names of all drawings.
pub fn known() -> [&'static str; 9] {
    ALL.map(|(name, ..)| name)
}

/// The names of the drawings that a subject has, in the order of a document.
pub fn names(subject: &Subject<'_>) -> Vec<String> {
    ALL.iter().filter(|(_, _, has)| has(subject)).map(|(name, ..)| (*name).to_owned()).collect()
}

/// The drawing of this name; nothing if the subject has none.
pub fn drawing(subject: &Subject<'_>, name: &str, look: &Look) -> Option<Drawing> {
    let (_, draw, has) = ALL.iter().find(|(other, ..)| *other == name)?;
    if has(subject) { draw(subject, look) } else { None }
}

/// A small picture of how things stand after a step, for one row of a sheet; nothing if there is no such step.
pub fn step_elevation(subject: &Subject<'_>, step: u32, look: &Look) -> Option<Drawing> {
    steps::one(subject, step, look)
}
