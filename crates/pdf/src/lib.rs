//! Documents as PDF: a small layout of our own, written by `krilla`.
//!
//! Fonts are megabytes of the binary, so all of it stands behind the feature `writer`. Without it this crate says that PDF is
//! not built in.
//!
//! What a document says is text, never markup. No file, network or clock is read, so that the same document gives the same
//! bytes.

#[cfg(feature = "writer")]
mod layout;

#[cfg(feature = "writer")]
use layout::typeset;
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
pub fn pdf(document: &Document) -> Result<Vec<u8>, PdfError> {
    typeset(document)
}

#[cfg(not(feature = "writer"))]
fn typeset(_: &Document) -> Result<Vec<u8>, PdfError> {
    Err(PdfError::NotBuiltIn)
}
