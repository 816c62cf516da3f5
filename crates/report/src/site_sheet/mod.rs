//! The sheet for the crew: positions, what the ground must bear, limits, the sequence step by step, residual risks.

mod limits;
mod risks;
mod steps;

use crate::calculation::Material;
use crate::calculation::parts::{figure, paragraph, part};
use crate::document::{Block, Document};
use crate::words;
use ramwright_engine::check::Status;

/// The site sheet of a lift plan or a verification.
pub fn site_sheet(material: &Material<'_>) -> Document {
    let mut blocks = vec![banner(material)];
    blocks.push(part("positions", "Positions"));
    blocks.extend(figure(material, "plan"));
    blocks.extend(limits::blocks(material));
    blocks.push(Block::PageBreak);
    blocks.extend(steps::blocks(material));
    blocks.push(Block::PageBreak);
    blocks.extend(risks::blocks(material));
    material.document("site_sheet", "Site sheet", blocks)
}

fn banner(material: &Material<'_>) -> Block {
    let status = material.subject.verdict.status;
    let (word, text) = match status {
        Status::Fail => (
            "Do not lift",
            "The arrangement fails a check. This sheet is no permit; go back to whoever planned the lift.",
        ),
        Status::NotChecked => (
            "Do not lift yet",
            "Something essential was not checked. It is listed at the end; have it settled before anything is loaded.",
        ),
        Status::Caution | Status::Pass => (
            "Lift only with a permit",
            "The calculation is a document of its own and must have been checked. Stop at every hold point.",
        ),
    };
    Block::Banner { status: words::status_class(status), word: word.to_owned(), text: text.to_owned() }
}

/// What is said where a lift has no steps.
fn no_steps() -> Block {
    paragraph(
        "There are no steps: the work is in a machine frame, or no sequence was found or could be worked out. Where a load is \
         raised nothing may be lifted until there is a sequence.",
    )
}
