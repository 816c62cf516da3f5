//! Rams side by side on a pad.

use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use ramwright_units::Length;

const SQUARE: Source =
    Source::definition("circles side by side in a rectangular grid; a closer packing is not sought, which is safe");

/// The plan size of the foundation pad at a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pad {
    /// The longer or either side.
    pub length: Length,
    /// The other side.
    pub width: Length,
}

/// The bases of `count` rams with their spacing, against the pad.
///
/// The rams stand in a rectangular grid; of all grids that hold them the one with the least utilisation counts.
///
/// # Source
/// Geometry.
///
/// # Validity
/// Round bases, upright rams.
pub fn footprint(
    book: &mut impl Ledger,
    base_diameter: Option<Length>,
    count: u32,
    spacing: Length,
    pad: Option<Pad>,
    missing: (&str, &str),
) -> Finding {
    let (Some(base), Some(pad)) = (base_diameter, pad) else {
        let names = [(base_diameter.is_none(), missing.0), (pad.is_none(), missing.1)];
        return Finding::missing(names.iter().filter(|(absent, _)| *absent).map(|(_, name)| (*name).to_owned()));
    };
    let Some((columns, rows)) = best_grid(base, count, spacing, pad) else {
        return Finding::judged(Status::Fail, "no ram stands here");
    };
    let long =
        line!(book, b_1: Length = n_1 * d + (n_1 - 1.0) * s; n_1 = f64::from(columns), d = base, s = spacing; SQUARE);
    let wide =
        line!(book, b_2: Length = n_2 * d + (n_2 - 1.0) * s; n_2 = f64::from(rows), d = base, s = spacing; SQUARE);
    // The side that is nearer to its limit is the check.
    if wide / pad.width <= long / pad.length {
        Finding::compare(long, pad.length).with_remedy(|| format!("a pad {:.0} mm long", long.mm().ceil()))
    } else {
        Finding::compare(wide, pad.width).with_remedy(|| format!("a pad {:.0} mm wide", wide.mm().ceil()))
    }
}

/// The part of the pad that one of several rams side by side has for what it stands on.
pub fn room_of_one(base_diameter: Option<Length>, count: u32, spacing: Length, pad: Pad) -> Option<Pad> {
    if count == 1 {
        return Some(pad);
    }
    let (columns, rows) = best_grid(base_diameter?, count, spacing, pad)?;
    Some(Pad { length: pad.length / f64::from(columns), width: pad.width / f64::from(rows) })
}

/// Columns along the pad's length and rows along its width with the least utilisation; the first of equals.
fn best_grid(base: Length, count: u32, spacing: Length, pad: Pad) -> Option<(u32, u32)> {
    let side = |n: u32| base * f64::from(n) + spacing * f64::from(n.saturating_sub(1));
    let utilisation = |columns: u32, rows: u32| (side(columns) / pad.length).max(side(rows) / pad.width);
    (1..=count)
        .map(|columns| (columns, count.div_ceil(columns)))
        .map(|(columns, rows)| (utilisation(columns, rows), columns, rows))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, columns, rows)| (columns, rows))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;

    #[track_caller]
    fn check(count: u32, length_mm: f64, width_mm: f64, expected: Status) {
        let pad = Pad { length: Length::from_mm(length_mm), width: Length::from_mm(width_mm) };
        let found = footprint(
            &mut NoLines,
            Some(Length::from_mm(200.0)),
            count,
            Length::from_mm(20.0),
            Some(pad),
            ("d", "pad"),
        );
        assert_eq!(found.status(), expected, "{count} on {length_mm} x {width_mm}");
    }

    #[test]
    fn verify_circles_in_a_rectangle() {
        check(1, 200.0, 200.0, Status::Pass);
        check(1, 199.0, 300.0, Status::Fail);
        check(2, 420.0, 200.0, Status::Pass);
        check(2, 200.0, 420.0, Status::Pass);
        check(2, 419.0, 419.0, Status::Fail);
        check(4, 420.0, 420.0, Status::Pass);
        check(4, 860.0, 200.0, Status::Pass);
        check(3, 420.0, 420.0, Status::Pass);
    }

    #[test]
    fn verify_what_is_missing_is_named() {
        let found = footprint(&mut NoLines, None, 1, Length::ZERO, None, ("d", "pad"));
        assert_eq!(found, Finding::missing(["d", "pad"]));
    }
}
