//! Whether a lock collar can be backed off.

use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::Length;

/// The greatest extension, with the stroke that is needed to take the load off a collar, against the stroke.
///
/// # Source
/// Common practice, no source.
///
/// # Validity
/// Rams with lock collars.
pub fn collar_release(book: &mut impl Ledger, extension: Length, stroke: Length, spare: Length) -> Finding {
    let needed = line!(book, s_req: Length = e + s_0; e = extension, s_0 = spare; Source::common_practice("a collar at the end of the stroke cannot be backed off (common practice, no source)"));
    Finding::compare(needed, stroke)
        .with_remedy(|| format!("extend no more than {:.1} mm", ((stroke - spare).mm() * 10.0).floor() / 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{NoLines, Status};

    #[test]
    fn verify_a_collar_at_the_end_of_the_stroke_fails() {
        let mm = Length::from_mm;
        let status = |extension: f64| collar_release(&mut NoLines, mm(extension), mm(150.0), mm(5.0)).status();
        assert_eq!(status(145.0), Status::Pass);
        assert_eq!(status(145.1), Status::Fail);
        assert_eq!(status(150.0), Status::Fail);
        assert_eq!(status(f64::NAN), Status::Fail);
    }
}
