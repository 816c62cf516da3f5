//! How the load bears on the ram's saddle.

use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::{Angle, Length};

/// The angle between the load's underside and the ram against the tilt limit of the saddle.
///
/// # Source
/// The limit is the catalogue's.
///
/// # Validity
/// The angle is the greatest of the whole lift; an angle or a limit that is not stated is not checked.
pub fn saddle_angle(angle: Option<Angle>, limit: Option<Angle>, names: (&str, &str)) -> Finding {
    match (angle, limit) {
        (Some(angle), Some(limit)) => Finding::compare(angle, limit),
        (angle, limit) => {
            let absent = [(angle.is_none(), names.0), (limit.is_none(), names.1)];
            Finding::missing(absent.iter().filter(|(absent, _)| *absent).map(|(_, name)| (*name).to_owned()))
        }
    }
}

/// How far the load bears off the ram's axis against the kern of the saddle, d / 8, within which all of it stays pressed.
///
/// # Source
/// Kern of a circle, any textbook of strength of materials.
///
/// # Validity
/// A round, plane saddle.
pub fn saddle_off_centre(
    book: &mut impl Ledger,
    off_centre: Option<Length>,
    saddle_diameter: Option<Length>,
    names: (&str, &str),
) -> Finding {
    let (Some(off_centre), Some(diameter)) = (off_centre, saddle_diameter) else {
        let absent = [(off_centre.is_none(), names.0), (saddle_diameter.is_none(), names.1)];
        return Finding::missing(absent.iter().filter(|(absent, _)| *absent).map(|(_, name)| (*name).to_owned()));
    };
    let kern = line!(book, e_lim: Length = d / 8.0; d = diameter; Source::published("kern of a circle, any textbook of strength of materials"));
    Finding::compare(off_centre, kern)
        .with_remedy(|| format!("no more than {:.0} mm off the axis", (kern.mm()).floor()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{NoLines, Status};

    #[test]
    fn verify_saddle_tilt_at_its_limit() {
        let status =
            |deg: f64| saddle_angle(Some(Angle::from_deg(deg)), Some(Angle::from_deg(4.0)), ("a", "b")).status();
        assert_eq!(status(4.0), Status::Pass);
        assert_eq!(status(4.01), Status::Fail);
        assert_eq!(saddle_angle(None, None, ("a", "b")), Finding::missing(["a", "b"]));
        assert_eq!(saddle_angle(Some(Angle::from_deg(1.0)), None, ("a", "b")), Finding::missing(["b"]));
    }

    /// Kern of a circle: d / 8 (any textbook of strength of materials). At that eccentricity the least pressure
    /// P / A - P e / W with W = pi d^3 / 32 is zero.
    #[test]
    fn validate_the_kern_of_a_circle() {
        let d = 0.16;
        let least = |e: f64| 1.0 / (std::f64::consts::PI * d * d / 4.0) - e / (std::f64::consts::PI * d * d * d / 32.0);
        assert!(least(d / 8.0).abs() < 1e-9);
        let status = |mm: f64| {
            let found =
                saddle_off_centre(&mut NoLines, Some(Length::from_mm(mm)), Some(Length::from_mm(160.0)), ("e", "d"));
            found.status()
        };
        assert_eq!(status(20.0), Status::Pass);
        assert_eq!(status(20.1), Status::Fail);
        let absent = saddle_off_centre(&mut NoLines, None, Some(Length::from_mm(160.0)), ("e", "d"));
        assert_eq!(absent, Finding::missing(["e"]));
    }
}
