//! Whether the ram extends far enough.

use crate::check::{Finding, Ledger, Source};
use crate::defaults::LIMIT_OF_PRACTICE;
use crate::line;
use crate::settings::StrokeLimit;
use ramwright_units::Length;

/// The extension that is needed against the usable stroke.
///
/// # Source
/// Geometry; the limit is common practice, no source.
///
/// # Validity
/// A limit that is waived or above 0.80 turns a pass into a caution.
pub fn stroke(book: &mut impl Ledger, needed: Length, stroke: Length, limit: StrokeLimit) -> Finding {
    let share = match limit {
        StrokeLimit::Share(share) => share,
        StrokeLimit::Waived => 1.0,
    };
    let usable = line!(book, U: Length = phi_s * s; phi_s = share, s = stroke; Source::common_practice("only part of the stroke is used (0.80 is common practice, no source)"));
    let finding = Finding::compare(needed, usable)
        .with_remedy(|| format!("a stroke of {:.0} mm at this limit", whole_mm_above(needed / share)));
    match limit {
        StrokeLimit::Waived => finding
            .with_caution("the stroke limit is waived: nothing is left to free a collar or to follow a settlement"),
        StrokeLimit::Share(share) if LIMIT_OF_PRACTICE < share => {
            finding.with_caution("the stroke limit is above 0.80, the share that common practice uses at most")
        }
        StrokeLimit::Share(_) => finding,
    }
}

/// In whole mm, rounded up; what is a whole number but for rounding stays one, so that no unit changes it.
fn whole_mm_above(length: Length) -> f64 {
    (length.mm() - 1e-9).ceil()
}

/// Extension that the ram needs in a frame: the gap in front of it, then the travel.
///
/// # Source
/// Geometry.
///
/// # Validity
/// Nothing is put between ram and work to shorten the approach.
pub fn extension_in_frame(
    book: &mut impl Ledger,
    opening: Length,
    closed_height: Length,
    plates: Length,
    travel: Length,
) -> Length {
    line!(book, e: Length = S_0 - c - t_p + T; S_0 = opening, c = closed_height, t_p = plates, T = travel; Source::definition("approach, then travel"))
}

/// Extension of a ram that pulls, before it does: as far as to what it grips.
///
/// # Source
/// Geometry.
///
/// # Validity
/// The opening is measured from where the ram's foot bears to where its head grips, at the start of the pull.
pub fn extension_before_a_pull(
    book: &mut impl Ledger,
    opening: Length,
    closed_height: Length,
    plates: Length,
) -> Length {
    line!(book, e: Length = S_0 - c - t_p; S_0 = opening, c = closed_height, t_p = plates; Source::definition("out to what is gripped, then back under load"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;

    #[test]
    fn verify_whole_millimetres_stay_whole() {
        for (mm, expected) in [(188.0, 188.0), (188.000_000_000_01, 188.0), (188.001, 189.0), (187.999, 188.0)] {
            assert!((whole_mm_above(Length::from_mm(mm)) - expected).abs() <= 0.0, "{mm}");
        }
    }

    /// Out by 120 mm to the grip: by arithmetic.
    #[test]
    fn verify_a_pull_is_out_before_and_a_press_after() {
        let mm = Length::from_mm;
        let before = extension_before_a_pull(&mut NoLines, mm(440.0), mm(300.0), mm(20.0));
        assert!((before.mm() - 120.0).abs() < 1e-9);
        let after = extension_in_frame(&mut NoLines, mm(440.0), mm(300.0), mm(20.0), mm(50.0));
        assert!((after.mm() - 170.0).abs() < 1e-9);
    }
}
