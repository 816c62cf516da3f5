//! From a document to the bytes of its PDF.

mod blocks;
mod checks;
mod columns;
mod desk;
mod drawing;
mod fonts;
mod forms;
mod formulas;
mod frames;
mod ink;
mod lines;
mod maths;
mod outline;
mod pages;
mod picture;
mod shape;
mod steps;
mod tables;
mod tags;
mod turned;
mod typeset;
mod words;
mod write;

pub(crate) use typeset::typeset;
