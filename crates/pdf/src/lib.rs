//! Documents as PDF, set by typst as a library.
//!
//! typst takes minutes to build and tens of megabytes of the binary, so it stands behind the feature `typst`. Without it this
//! crate says that PDF is not built in.
//!
//! The template is constant: what a document says reaches it as data, never as markup. No file, network or clock is read, so
//! that the same document gives the same bytes.

#[cfg(feature = "typst")]
mod columns;
#[cfg(feature = "typst")]
mod data;
#[cfg(feature = "typst")]
mod typeset;
#[cfg(feature = "typst")]
mod words;
#[cfg(feature = "typst")]
mod world;

use ramwright_report::document::Document;

/// Whether PDF is built in.
pub const AVAILABLE: bool = cfg!(feature = "typst");

/// Why there is no PDF.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PdfError {
    /// The binary was built without the feature `typst`.
    #[error("PDF is not built in")]
    NotBuiltIn,
    /// The document could not be put into data.
    #[error("the document could not be written as data")]
    Data(#[from] serde_json::Error),
    /// typst refused the document.
    #[error("the document could not be set: {0}")]
    Typesetting(String),
}

/// Writes a document as PDF.
///
/// # Errors
/// PDF is not built in, or the document is beyond what can be set, such as mathematics nested too deeply.
#[cfg(feature = "typst")]
pub fn pdf(document: &Document) -> Result<Vec<u8>, PdfError> {
    typeset::typeset(data::Data::of(document)?)
}

/// Writes a document as PDF.
///
/// # Errors
/// Always: PDF is not built in.
#[cfg(not(feature = "typst"))]
pub fn pdf(_document: &Document) -> Result<Vec<u8>, PdfError> {
    Err(PdfError::NotBuiltIn)
}
