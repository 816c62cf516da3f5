//! What remains dangerous, and what nobody has checked.

use crate::calculation::Material;
use crate::calculation::parts::{list, paragraph, part};
use crate::document::Block;
use crate::words::{self, given};
use ramwright_engine::check::{Check, Status};

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let mut blocks = vec![part("residual-risks", "Residual risks")];
    blocks.push(list(material.envelope.cautions.iter().map(|caution| caution.text.to_string()).collect()));
    let told = |status: Status, heading: &str, id: &str| {
        let items = once(material.subject.checks().filter(|check| check.status == status).map(said));
        if items.is_empty() {
            Vec::new()
        } else {
            vec![part(id, heading), Block::List { large: status != Status::Caution, items }]
        }
    };
    blocks.extend(told(Status::Fail, "Checks that fail", "fails"));
    blocks.extend(told(Status::NotChecked, "Not checked", "not-checked"));
    blocks.extend(told(Status::Caution, "Checks passed with a caution", "with-caution"));
    blocks.push(part("sign-off", "Release"));
    blocks.push(paragraph("Left blank; whoever signs fills it in."));
    blocks.push(Block::SignOff {
        roles: ["Lift supervisor", "Permit to load", "Permit to remove"].map(str::to_owned).into(),
        fields: ["Name", "Date and time", "Signature"].map(str::to_owned).into(),
    });
    blocks
}

fn said(check: &Check) -> String {
    let missing: Vec<_> = check.missing.iter().map(|missing| given(missing.as_str())).collect();
    let why = match (&check.note, missing.is_empty()) {
        (_, false) => format!("missing {}", missing.join("; ")),
        (Some(note), true) => note.to_string(),
        (None, true) => words::status(check.status).to_owned(),
    };
    format!("{} ({}): {why}", words::check(check.id), words::scenario(check.scenario))
}

/// Each text once, in the order in which they come.
fn once(items: impl Iterator<Item = String>) -> Vec<String> {
    let mut kept: Vec<String> = Vec::new();
    for item in items {
        if !kept.contains(&item) {
            kept.push(item);
        }
    }
    kept
}
