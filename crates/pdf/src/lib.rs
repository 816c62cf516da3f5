//! Documents as PDF: a small layout of our own, written by `krilla`.
//!
//! Fonts are megabytes of the binary, so all of it stands behind the feature `writer`. Without it this crate says that PDF is
//! not built in.
//!
//! What a document says is text, never markup. No file, network or clock is read, so that the same document gives the same
//! bytes.

#[cfg(feature = "writer")]
mod blocks;
#[cfg(feature = "writer")]
mod checks;
#[cfg(feature = "writer")]
mod columns;
#[cfg(feature = "writer")]
mod desk;
#[cfg(feature = "writer")]
mod drawing;
#[cfg(feature = "writer")]
mod fonts;
#[cfg(feature = "writer")]
mod forms;
#[cfg(feature = "writer")]
mod formulas;
#[cfg(feature = "writer")]
mod frames;
#[cfg(feature = "writer")]
mod ink;
#[cfg(feature = "writer")]
mod lines;
#[cfg(feature = "writer")]
mod maths;
#[cfg(feature = "writer")]
mod outline;
#[cfg(feature = "writer")]
mod pages;
#[cfg(feature = "writer")]
mod picture;
#[cfg(feature = "writer")]
mod shape;
#[cfg(feature = "writer")]
mod steps;
#[cfg(feature = "writer")]
mod tables;
#[cfg(feature = "writer")]
mod tags;
#[cfg(feature = "writer")]
mod turned;
#[cfg(feature = "writer")]
mod typeset;
#[cfg(feature = "writer")]
mod words;
#[cfg(feature = "writer")]
mod write;

use ramwright_report::document::Document;

/// Whether PDF is built in.
pub const AVAILABLE: bool = cfg!(feature = "writer");

/// Why there is no PDF.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PdfError {
    /// The binary was built without the feature `writer`.
    #[error("PDF is not built in")]
    NotBuiltIn,
    /// The document is beyond what can be set.
    #[error("the document could not be set: {0}")]
    Typesetting(String),
}

/// Writes a document as PDF.
///
/// # Errors
/// PDF is not built in, or the document is beyond what can be set, such as mathematics nested too deeply.
#[cfg(feature = "writer")]
pub fn pdf(document: &Document) -> Result<Vec<u8>, PdfError> {
    typeset::typeset(document)
}

/// Writes a document as PDF.
///
/// # Errors
/// Always: PDF is not built in.
#[cfg(not(feature = "writer"))]
pub fn pdf(_document: &Document) -> Result<Vec<u8>, PdfError> {
    Err(PdfError::NotBuiltIn)
}
