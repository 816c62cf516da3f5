//! From the data to the bytes of a PDF.

use crate::PdfError;
use crate::data::Data;
use crate::world::Papers;
use typst::comemo;
use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

pub(crate) fn typeset(data: Data) -> Result<Vec<u8>, PdfError> {
    let papers = Papers::new(data).ok_or_else(|| PdfError::Typesetting("a file has no name".to_owned()))?;
    let document = typst::compile::<PagedDocument>(&papers).output.map_err(|errors| refused(&errors));
    let options = PdfOptions { creator: Smart::Custom(Some("Ramwright".to_owned())), ..PdfOptions::default() };
    let bytes = document.and_then(|document| typst_pdf::pdf(&document, &options).map_err(|errors| refused(&errors)));
    // What typst remembers of a document is of no use for the next one.
    comemo::evict(0);
    bytes
}

fn refused(errors: &[SourceDiagnostic]) -> PdfError {
    let messages: Vec<_> = errors.iter().map(|error| error.message.as_str()).collect();
    PdfError::Typesetting(messages.join("; "))
}
