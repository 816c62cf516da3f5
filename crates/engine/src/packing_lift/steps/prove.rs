//! The load comes free of what it stands on, and is lifted a little for the first time.

use super::StepKind;
use super::words::{OPERATOR, READINGS};
use super::writer::{Said, Writer};
use crate::packing_lift::sequence::{in_words_of, length};

/// Greatest rise of a prove lift, in tenths of a millimetre (10 mm; common practice, no source).
pub(super) const PROVE_LIFT_MOST: i64 = 100;

/// The load is preloaded in steps where it stands, its rams already on oil.
pub(super) fn free_load(writer: &mut Writer<'_>, groups: &[usize]) {
    let text = format!(
        "At {}: preload in steps of a quarter of the expected pressure of each point, no point beyond its own stop pressure, until the load is free everywhere. If it is not free then, stop: it is caught, or heavier than stated.",
        writer.points(groups)
    );
    writer.push(Said {
        kind: StepKind::FreeLoad,
        who: OPERATOR,
        text: text.into(),
        groups: groups.to_vec(),
        drop: Some(0),
        check: READINGS,
        hold_point: true,
    });
}

/// The load is lifted by so many tenths of a millimetre, to where its rams already are.
pub(super) fn prove_lift(writer: &mut Writer<'_>, groups: &[usize], by: i64) {
    let text = format!(
        "At {}: lift by {}, stop and hold. Read every pressure, level and the ground; look for leaks.",
        writer.points(groups),
        in_words_of(length(by))
    );
    writer.push(Said {
        kind: StepKind::ProveLift,
        who: OPERATOR,
        text: text.into(),
        groups: groups.to_vec(),
        drop: writer.greatest_drop(groups).map(|drop| drop.max(0)),
        check: READINGS,
        hold_point: true,
    });
}
